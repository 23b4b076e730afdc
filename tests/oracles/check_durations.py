"""Writes generated scores and reads them back with musicxml_durations.py.

use: check_durations.py ORACLE_SCORES_PROGRAM COUNT
"""
import json
import pathlib
import subprocess
import sys
import tempfile
from fractions import Fraction

from musicxml_durations import notes_of


def expected(path):
    return [[key, Fraction(onset), Fraction(length), kind]
            for key, onset, length, kind in json.loads(path.read_text())]


def first_difference(found, wanted):
    for index, (a, b) in enumerate(zip(found, wanted)):
        if a != b:
            return f"note {index}: found {a}, expected {b}"
    return f"{len(found)} notes, expected {len(wanted)}" if len(found) != len(wanted) else None


def main(program, count):
    failures = 0
    with tempfile.TemporaryDirectory() as folder:
        subprocess.run([program, folder, count, "written"], check=True)
        files = sorted(pathlib.Path(folder).glob("*.musicxml"))
        for file in files:
            difference = first_difference(notes_of(file), expected(file.with_suffix(".notes.json")))
            if difference:
                failures += 1
                print(f"{file.name}: {difference}")
    print(f"{len(files)} scores, {failures} that differ")
    return 1 if failures or not files else 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
