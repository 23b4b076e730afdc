#!/usr/bin/env python3
"""Prints the results of yubifu_bench (JSON on standard input) as one table.

A benchmark is set beside those whose names begin with its own: reading/2000 beside
reading_bare_parse/2000.
"""
import json
import sys


def medians(results):
    """{name: {notes: seconds}}"""
    found = {}
    for entry in results["benchmarks"]:
        if entry.get("aggregate_name") != "median":
            continue
        name, _, notes = entry["run_name"].rpartition("/")
        unit = {"ns": 1e-9, "us": 1e-6, "ms": 1e-3, "s": 1}[entry["time_unit"]]
        found.setdefault(name, {})[notes] = entry["cpu_time"] * unit
    return found


def main():
    times = medians(json.load(sys.stdin))
    bare = {name: other for name in times for other in times
            if name != other and name.startswith(other + "_")}
    print(f"{'':24} {'notes':>7} {'time':>11} {'a note':>9}   beside")
    for name, sizes in times.items():
        if name in bare:
            continue
        for notes, seconds in sizes.items():
            each = f"{1e9 * seconds / int(notes):6.0f} ns" if notes.isdigit() else ""
            beside = [f"{seconds / times[other][notes]:.2f} x {other[len(name) + 1:]}"
                      f" ({1000 * times[other][notes]:.2f} ms)"
                      for other in bare if bare[other] == name and notes in times[other]]
            print(f"{name:24} {notes:>7} {1000 * seconds:8.2f} ms {each:>9}   {', '.join(beside)}")


if __name__ == "__main__":
    main()
