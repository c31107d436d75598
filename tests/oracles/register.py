"""Reads a table of comma-separated values with Python's own csv module, strictly; writes its rows as JSON."""

import csv
import io
import json
import sys

text = sys.stdin.buffer.read().decode("utf-8-sig")
rows = list(csv.reader(io.StringIO(text, newline=""), strict=True))
json.dump(rows, sys.stdout)
