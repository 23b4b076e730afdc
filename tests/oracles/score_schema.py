#!/usr/bin/python3
"""Validates score JSON files against the schema, all in one process.

Use: score_schema.py SCHEMA FOLDER

Files named bad-*.json in the folder must be invalid, all others valid. Needs the Debian package
python3-jsonschema, which only /usr/bin/python3 sees.
"""
import json
import pathlib
import sys

import jsonschema


def main() -> int:
    schema = json.loads(pathlib.Path(sys.argv[1]).read_text(encoding="utf-8"))
    jsonschema.Draft202012Validator.check_schema(schema)
    validator = jsonschema.Draft202012Validator(schema)
    faults = 0
    files = sorted(pathlib.Path(sys.argv[2]).glob("*.json"))
    for path in files:
        errors = list(validator.iter_errors(json.loads(path.read_text(encoding="utf-8"))))
        if path.name.startswith("bad-") != bool(errors):
            faults += 1
            what = errors[0].message[:300] if errors else "is valid, and should not be"
            print(f"{path}: {what}")
    print(f"{len(files)} files, {faults} faults")
    return 1 if faults or not files else 0


sys.exit(main())
