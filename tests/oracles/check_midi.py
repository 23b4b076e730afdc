#!/usr/bin/python3
"""Compares MIDI files, as three independent readers see them, with what follows from the scores.

    check_midi.py FOLDER NODE_MODULES

FOLDER holds, of each score, NNN.mid, the played-out score NNN.json and what was asked for,
NNN.options.json (see oracle_scores.cpp). Needs the Debian packages midicsv and python3-mido.
"""
import json
import pathlib
import sys

from midi_expected import Expected
from midi_readings import read_by_midi_file, read_by_midicsv, read_by_mido


def any_order(track):
    """The events of one tick in one order, for a track where theirs says nothing."""
    return sorted(track[:-1], key=lambda event: (event[0], str(event))) + track[-1:]


def first_difference(found, wanted):
    if len(found) != len(wanted):
        return f"{len(found)} tracks, expected {len(wanted)}"
    found = [any_order(found[0]), *found[1:]]
    wanted = [any_order(wanted[0]), *wanted[1:]]
    for number, (has, should) in enumerate(zip(found, wanted)):
        for index, (a, b) in enumerate(zip(has, should)):
            if a != b:
                return f"track {number}, event {index}: found {a}, expected {b}"
        if len(has) != len(should):
            return f"track {number}: {len(has)} events, expected {len(should)}"
    return None


def main(folder, packages):
    failures = 0
    expected = {}
    for reader, readings in (("mido", read_by_mido(folder)),
                             ("midicsv", read_by_midicsv(folder)),
                             ("midi-file", read_by_midi_file(folder, packages))):
        count = events = 0
        for name, kind, ppq, tracks in readings:
            base = pathlib.Path(folder) / name
            if (name, ppq) not in expected:
                score = json.loads(base.with_suffix(".json").read_text("utf-8"))
                options = json.loads(base.with_suffix(".options.json").read_text("utf-8"))
                expected[name, ppq] = Expected(score, options, ppq).tracks()
            difference = first_difference(tracks, expected[name, ppq])
            if kind != 1:
                difference = f"format {kind}"
            count += 1
            events += sum(map(len, tracks))
            if difference:
                failures += 1
                print(f"{name} by {reader}: {difference}")
        print(f"{reader}: {count} files, {events} events")
        failures += count == 0
    print(f"{failures} that differ")
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
