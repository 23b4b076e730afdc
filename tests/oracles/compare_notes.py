"""Compares what a player made of the files in a folder with the notes expected there.

use: verovio_notes.mjs FOLDER/*.musicxml | compare_notes.py FOLDER

Keys must be equal. Verovio ends every note a tick (1/120 quarter) early and rounds fifths and
sevenths of a quarter by a tick or two, so onsets may differ by 1/100 and lengths by 1/50 quarter.
"""
import json
import pathlib
import sys
from fractions import Fraction

ONSET = Fraction(1, 100)
LENGTH = Fraction(1, 50)


def expected(path):
    return [(key, Fraction(onset), Fraction(length))
            for key, onset, length, _ in json.loads(path.read_text())]


def first_difference(found, wanted):
    for index, (a, b) in enumerate(zip(found, wanted)):
        close = a[0] == b[0] and abs(a[1] - b[1]) <= ONSET and abs(a[2] - b[2]) <= LENGTH
        if not close:
            return f"note {index}: played {a}, expected {b[0]} at {b[1]} for {b[2]}"
    return f"{len(found)} notes, expected {len(wanted)}" if len(found) != len(wanted) else None


def main(folder):
    count = failures = 0
    for line in sys.stdin:
        played = json.loads(line)
        count += 1
        notes = pathlib.Path(folder, played["file"]).with_suffix(".notes.json")
        difference = first_difference(played["notes"], expected(notes))
        if difference:
            failures += 1
            print(f"{played['file']}: {difference}")
    print(f"{count} files played, {failures} that differ")
    return 1 if failures or not count else 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
