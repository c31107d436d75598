"""Validates the JSON on standard input against the JSON Schema 2020-12 in the file named, with the reference
implementation jsonschema. Prints `valid`, or each fault."""

import json
import sys

import jsonschema

with open(sys.argv[1], encoding="utf-8") as file:
    schema = json.load(file)
validator = jsonschema.Draft202012Validator
validator.check_schema(schema)
faults = list(validator(schema, format_checker=validator.FORMAT_CHECKER).iter_errors(json.load(sys.stdin)))
for fault in faults:
    print(f"{fault.json_path}: {fault.message}")
if not faults:
    print("valid")
