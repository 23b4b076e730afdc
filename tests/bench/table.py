#!/usr/bin/env python3
"""Prints the results of yubifu_bench (JSON on standard input) as one table.

What a job costs at least is measured beside it: midi_writing_libsmf_save stands beside all whose
names begin with midi_writing.
"""
import json
import sys

BARE = ("_libsmf_load", "_libsmf_save", "_pugixml_parse", "_pugixml_save", "_bare_pass")
# The ends of names of runs that measured parts of their work, or that work on several cores.
OWN_CLOCKS = ("/manual_time", "/real_time")
SECONDS = {"ns": 1e-9, "us": 1e-6, "ms": 1e-3, "s": 1}


def medians(results):
    """{name: {notes: seconds}}"""
    found = {}
    for entry in results["benchmarks"]:
        if entry.get("aggregate_name") == "median":
            run = entry["run_name"]
            clock = "real_time" if run.endswith(OWN_CLOCKS) else "cpu_time"
            for end in OWN_CLOCKS:
                run = run.removesuffix(end)
            name, _, notes = run.rpartition("/")
            found.setdefault(name, {})[notes] = entry[clock] * SECONDS[entry["time_unit"]]
    return found


def bare_of(name, times):
    """(what it is, its seconds by notes) of each bare job that belongs to this one."""
    for suffix in BARE:
        for other, seconds in times.items():
            if other.endswith(suffix) and name.startswith(other.removesuffix(suffix)):
                yield suffix[1:].replace("_", " "), seconds


def main():
    times = medians(json.load(sys.stdin))
    print(f"{'':26} {'notes':>7} {'time':>11} {'a note':>9}   beside")
    for name, sizes in times.items():
        if name.endswith(BARE):
            continue
        for notes, seconds in sizes.items():
            beside = [f"{seconds / bare[notes]:.2f} x {what} ({1000 * bare[notes]:.2f} ms)"
                      for what, bare in bare_of(name, times) if notes in bare]
            each = f"{1e9 * seconds / int(notes):.0f} ns"
            print(f"{name:26} {notes:>7} {1000 * seconds:8.2f} ms {each:>9}   {', '.join(beside)}")


if __name__ == "__main__":
    main()
