#!/usr/bin/python3
"""Validates reports of the program against our schema, SARIF against its official one.

Use: report_schemas.py PROGRAM SCHEMAS SARIF_SCHEMA

The files to report about are made here: good ones, faults of every kind of place, names that need
escaping. Needs the Debian package python3-jsonschema, which only /usr/bin/python3 sees.
"""
import json
import pathlib
import subprocess
import sys
import tempfile
import xml.etree.ElementTree

import jsonschema

FILES = {
    "good.yubifu": "flute: 6\nmeter: 4/4\n\n五 六 七 六 |=\n",
    "short.yubifu": "flute: 6\n\n五 六 七 六 | 五 六 七 | 五 - - - |=\n",
    "loud.yubifu": "flute: 6\n\n7 8 7 - | 2̇ - - 五{pre 8} |=\n",
    "空 #1%.yubifu": "flute: 6\nmood: calm\n\n五五 ×三 @ 四メ |=\n> ka\n",
    "noise.mid": "MThd no more than that",
    "broken.musicxml": "<score-partwise><part>",
    "flute.json": '{"yubifu-flute": 1, "title": "x", "holes": 2, "entries": []}',
    "control.yubifu": "title: \x01\x7f\n\n五\x02 |\n",
}


def reports(program, folder, kind):
    """What each verb says about the files."""
    runs = [["check", "."], ["check", "missing.yubifu", "good.yubifu"],
            ["compare", "good.yubifu", "loud.yubifu"], ["compare", "good.yubifu", "noise.mid"],
            ["convert", "loud.yubifu", "-o", "loud.mid"],
            ["convert", "short.yubifu", "-o", "short.mid"]]
    for words in runs:
        run = subprocess.run([program, *words, "--report", kind], cwd=folder, capture_output=True,
                             check=False)
        yield " ".join(words), run.returncode, run.stdout.decode("utf-8")


def validator_of(path):
    schema = json.loads(pathlib.Path(path).read_text(encoding="utf-8"))
    kind = jsonschema.validators.validator_for(schema)
    kind.check_schema(schema)
    return kind(schema)


def main():
    program, schemas, sarif_schema = sys.argv[1:]
    faults = 0
    count = 0

    def complain(name, what):
        nonlocal faults
        faults += 1
        print(f"{name}: {what}")

    with tempfile.TemporaryDirectory() as work:
        for name, text in FILES.items():
            (pathlib.Path(work) / name).write_text(text, encoding="utf-8")
        for kind, schema in (("json", f"{schemas}/report.schema.json"), ("sarif", sarif_schema)):
            validator = validator_of(schema)
            for name, status, text in reports(program, work, kind):
                count += 1
                report = json.loads(text)
                for error in list(validator.iter_errors(report))[:3]:
                    complain(f"{kind} of {name}", f"{list(error.absolute_path)}: {error.message[:200]}")
                if kind == "json" and report["status"] != status:
                    complain(name, f"the report says status {report['status']}, the program {status}")
                if kind == "sarif" and report["runs"][0]["columnKind"] != "unicodeCodePoints":
                    complain(name, "columns of another kind")
        for name, status, text in reports(program, work, "junit"):
            count += 1
            root = xml.etree.ElementTree.fromstring(text)
            failures = sum(case.find("failure") is not None for case in root.iter("testcase"))
            if int(root.get("failures")) != failures or (status == 0) != (failures == 0):
                complain(f"junit of {name}", f"{failures} failures with status {status}")
    print(f"{count} reports, {faults} faults")
    return 1 if faults else 0


sys.exit(main())
