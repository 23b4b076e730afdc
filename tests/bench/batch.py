"""Converts 5,000 small files in one call, with one job and with as many as there are cores.

    batch.py PROGRAM TUNE
"""
import os
import pathlib
import shutil
import statistics
import sys
import tempfile

import processes

FILES = 5000
RUNS = 5


def main():
    program, tune = sys.argv[1:]
    with tempfile.TemporaryDirectory() as home:
        tunes = pathlib.Path(home) / "tunes"
        tunes.mkdir()
        for number in range(FILES):
            shutil.copy(tune, tunes / f"tune-{number:04}.yubifu")
        print(f"{FILES} small files to MusicXML, medians of {RUNS} runs")
        for jobs in range(1, os.cpu_count() + 1):
            command = [program, "convert", str(tunes), "--out-dir", str(pathlib.Path(home) / "out"),
                       "--to", "musicxml", "--jobs", str(jobs)]
            seconds = statistics.median(processes.run(command)[0] for _ in range(RUNS))
            print(f"{jobs} jobs: {seconds:.2f} s, {FILES / seconds:.0f} files a second")


main()
