"""Puts each of a JSON list of values into the form of RFC 8785 with the library rfc8785; a JSON list of texts."""

import json
import sys

import rfc8785

json.dump([rfc8785.dumps(value).decode() for value in json.load(sys.stdin)], sys.stdout)
