#!/usr/bin/env python3
"""Prepares a folder of staff files for verovio_notes.mjs: copies each file as UTF-8, and beside it
writes the notes that the program reads from it, repeats played out, as it expects them to sound.

    sweep_notes.py FOLDER PROGRAM OUT
    node verovio_notes.mjs NODE_MODULES OUT

Verovio plays all parts, voices and chords, so files of several lines differ; so do grace notes,
tremolos, nested tuplets and quarter tones, which it plays in its own way.
"""
import json
import pathlib
import subprocess
import sys
import zipfile

MARKS = {b'\xff\xfe': 'utf-16', b'\xfe\xff': 'utf-16'}


def score_text(path):
    data = path.read_bytes()
    if data[:2] == b'PK':
        with zipfile.ZipFile(path) as archive:
            names = [name for name in archive.namelist()
                     if name != 'mimetype' and not name.startswith('META-INF/')]
            data = archive.read(names[0])
    return data.decode(MARKS.get(data[:2], 'utf-8-sig'))


def main():
    folder, program, out = sys.argv[1:]
    for path in sorted(pathlib.Path(folder).iterdir()):
        if path.suffix not in ('.xml', '.musicxml', '.mxl'):
            continue
        run = subprocess.run([program, 'convert', '--play-out', '--octave', '0', '--to', 'json',
                              str(path)], capture_output=True, check=False)
        if run.returncode == 2:
            continue
        notes = json.loads(run.stdout)['notes']
        target = pathlib.Path(out) / path.stem
        target.with_name(path.stem + '.musicxml').write_text(score_text(path), encoding='utf-8')
        target.with_name(path.stem + '.notes.json').write_text(
            json.dumps([[note['midi'], note['onset'], note['duration']] for note in notes]))


if __name__ == '__main__':
    main()
