#!/usr/bin/env python3
"""Times this program and Verovio in turn on one MusicXML file to MIDI, process start included.

    against_verovio.py PROGRAM NODE_MODULES IN.musicxml OUT.mid
"""
import pathlib
import sys

from processes import median_of


def main(program, modules, source, target):
    script = pathlib.Path(__file__).with_name("verovio_midi.mjs")
    ours, theirs = median_of([[program, "convert", source, "-o", target],
                              ["node", script, modules, source, target]])
    print(f"{pathlib.Path(source).name} to MIDI: yubifu {1000 * ours:.1f} ms, "
          f"Verovio {1000 * theirs:.0f} ms: {theirs / ours:.0f} times as fast")


if __name__ == "__main__":
    main(*sys.argv[1:])
