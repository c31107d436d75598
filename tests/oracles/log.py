"""Follows the hashes of a log of releases from its first line with hashlib and rfc8785; prints how many lines hold."""

import hashlib
import json
import sys

import rfc8785

before, lines = "none", 0
for line in sys.stdin:
    entry = json.loads(line)
    sealed = entry.pop("hash")
    assert entry["before"] == before, f"line {lines + 1} does not follow the line before it"
    assert hashlib.sha256(rfc8785.dumps(entry)).hexdigest() == sealed, f"line {lines + 1} has another hash"
    before, lines = sealed, lines + 1
print(lines)
