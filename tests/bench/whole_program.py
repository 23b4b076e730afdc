#!/usr/bin/env python3
"""Prints how long whole runs of the program take, process start included, and their peak memory.

    whole_program.py PROGRAM FOLDER SMALL LARGE

FOLDER holds what bench_files wrote for both numbers of notes. Memory a note is what the large tune
takes more than the small one.
"""
import pathlib
import sys

from processes import median_of, run

PATHS = (("text", "yubifu", "mid"), ("text", "yubifu", "musicxml"), ("MusicXML", "musicxml", "mid"),
         ("MusicXML", "musicxml", "yubifu"), ("MIDI", "mid", "yubifu"), ("JSON", "json", "mid"))


def main(program, folder, small, large):
    small, large = int(small), int(large)
    print(f"{'whole program':28} {small:>10} {large:>10} notes   peak memory a note")
    for name, source, target in PATHS:
        commands = [[program, "convert", pathlib.Path(folder) / f"tune-{notes}.{source}",
                     "-o", pathlib.Path(folder) / f"out.{target}"] for notes in (small, large)]
        seconds = median_of(commands)
        memory = [run(command)[1] for command in commands]
        print(f"{name + ' to ' + target:28} {1000 * seconds[0]:7.1f} ms {1000 * seconds[1]:7.1f} ms"
              f"   {(memory[1] - memory[0]) / (large - small):15.0f} bytes")


if __name__ == "__main__":
    main(*sys.argv[1:])
