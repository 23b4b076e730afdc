#!/usr/bin/env python3
"""Validates staff files against the grammar that exports promise, and damages them.

Use: export_grammar.py GRAMMAR FOLDER

Every *.musicxml of the folder must be valid. Then each kind of damage below is done to a file that
has what it needs, and must be caught. Needs xmllint.
"""
import pathlib
import re
import subprocess
import sys
import tempfile


def replaced(pattern, by, count=1):
    """A damage: the first match of a pattern becomes something else."""
    return lambda text: re.sub(pattern, by, text, count=count, flags=re.S)


DAMAGES = {
    "another version": replaced(r'version="4\.0">', 'version="2.0">'),
    "an unknown element": replaced(r"<voice>1</voice>", "<voice>1</voice><stem>up</stem>"),
    "an unknown attribute": replaced(r"<pitch>", '<pitch colour="red">'),
    "no divisions": replaced(r"\s*<divisions>\d+</divisions>", ""),
    "divisions of zero": replaced(r"<divisions>\d+<", "<divisions>0<"),
    "divisions in words": replaced(r"<divisions>\d+<", "<divisions>four<"),
    "a second set of divisions": replaced(
        r"(<measure number=\"2\"[^>]*>)", r"\1<attributes><divisions>1</divisions></attributes>"),
    "no meter": replaced(r"\s*<time>.*?</time>", ""),
    "a meter over three": replaced(r"<beat-type>\d+<", "<beat-type>3<"),
    "no key": replaced(r"\s*<key>.*?</key>", ""),
    "a key of its own kind": replaced(r"<fifths>-?\d+</fifths>", "<key-step>F</key-step>"),
    "no clef": replaced(r"\s*<clef>.*?</clef>", ""),
    "an alto clef": replaced(r"<sign>G</sign>", "<sign>C</sign>"),
    "an octave less in a transposition": replaced(
        r"</chromatic>\s*</transpose>", "</chromatic><octave-change>0</octave-change></transpose>"),
    "a transposition without its letters": replaced(r"<diatonic>\d</diatonic>\s*", ""),
    "no instrument": replaced(r"\s*<score-instrument.*?</score-instrument>", ""),
    "another instrument sound": replaced(r"wind\.flutes\.shinobue", "wind.flutes.flute"),
    "a second part": replaced(r"</part>", '</part><part id="P2"><measure number="1"/></part>'),
    "a part without measures": replaced(r'(<part id="P1">).*(</part>)', r"\1\2"),
    "a measure without a number": replaced(r'<measure number="[^"]*"', "<measure"),
    "a note without a voice": replaced(r"\s*<voice>1</voice>", ""),
    "a second voice": replaced(r"<voice>1</voice>", "<voice>2</voice>"),
    "a chord": replaced(r"<note>\s*<pitch>", "<note><chord/><pitch>"),
    "a backup": replaced(r"</note>", "</note><backup><duration>1</duration></backup>"),
    "a note without a duration": replaced(r"(</pitch>)\s*<duration>\d+</duration>", r"\1"),
    "a duration of zero": replaced(r"<duration>\d+<", "<duration>0<"),
    "a negative duration": replaced(r"<duration>", "<duration>-"),
    "a duration with a fraction": replaced(r"<duration>(\d+)<", r"<duration>\1.5<"),
    "a duration before its pitch": replaced(
        r"(<pitch>(?:(?!</pitch>).)*</pitch>)\s*(<duration>\d+</duration>)", r"\2\1"),
    "a letter that is no note": replaced(r"<step>[A-G]<", "<step>H<"),
    "no octave": replaced(r"\s*<octave>\d</octave>", ""),
    "an octave in words": replaced(r"<octave>\d<", "<octave>two<"),
    "an alteration in words": replaced(r"<alter>-?\d<", "<alter>sharp<"),
    "an unknown note type": replaced(r"<type>[^<]+<", "<type>crotchet<"),
    "three dots": replaced(r"<dot/>", "<dot/><dot/><dot/>"),
    "a type after its dot": replaced(r"(<type>[^<]+</type>)\s*(<dot/>)", r"\2\1"),
    "an unknown accidental": replaced(r"<accidental>\w+<", "<accidental>koron<"),
    "a tie that starts twice": replaced(r'<tie type="start"/>',
                                        '<tie type="start"/><tie type="start"/>'),
    "a tie that starts before it stops": replaced(
        r'<tie type="stop"/>\s*<tie type="start"/>', '<tie type="start"/><tie type="stop"/>'),
    "a tie of an unknown kind": replaced(r'<tie type="start"', '<tie type="let-ring"'),
    "half a time modification": replaced(r"\s*<normal-notes>\d+</normal-notes>", ""),
    "a tuplet of nothing": replaced(r"<actual-notes>\d+<", "<actual-notes>0<"),
    "a tuplet without a number": replaced(r'<tuplet type="start" number="\d+"',
                                          '<tuplet type="start"'),
    "an unknown beam": replaced(r'(<beam number="1">)begin<', r"\1start<"),
    "a ninth beam": replaced(r'<beam number="1">', '<beam number="9">'),
    "a slur without an end": replaced(r'<slur type="start"', '<slur type="begin"'),
    "an unknown breath mark": replaced(r"<breath-mark>\w+<", "<breath-mark>salzedo<"),
    "a half-open hole of another name": replaced(r"<hole-closed>\w+<", "<hole-closed>maybe<"),
    "a lyric without text": replaced(r"(<lyric[^>]*>\s*<syllabic>single</syllabic>)\s*<text>[^<]*</text>",
                                     r"\1"),
    "a lyric without a number": replaced(r'<lyric number="\d+"', "<lyric"),
    "a lyric of another name": replaced(r'name="fingering"', 'name="doigté"'),
    "an unknown syllable kind": replaced(r"<syllabic>\w+<", "<syllabic>last<"),
    "a dynamic of another name": replaced(r"<mf/>", "<loud/>"),
    "a tempo of zero": replaced(r'<sound tempo="[^"]*"', '<sound tempo="0"'),
    "a tempo in words": replaced(r"<per-minute>[^<]*<", "<per-minute>fast<"),
    "an empty direction": replaced(r"(<direction[^>]*>).*?(</direction>)", r"\1\2"),
    "a bar line on neither side": replaced(r'<barline location="\w+"', '<barline location="middle"'),
    "a bar line of another style": replaced(r"<bar-style>[\w-]+<", "<bar-style>dashed<"),
    "a repeat to nowhere": replaced(r'<repeat direction="\w+"', '<repeat direction="up"'),
    "a repeat that is played once": replaced(r'<repeat direction="backward"( times="\d+")?',
                                             '<repeat direction="backward" times="1"'),
    "an ending without a number": replaced(r'<ending number="[^"]*"', "<ending"),
    "an ending with words": replaced(r'<ending number="[^"]*"', '<ending number="first"'),
    "a field of another program": replaced(r'<miscellaneous-field name="yubifu\.', '<miscellaneous-field name="other.'),
    "no fields of our own": replaced(r"\s*<miscellaneous>.*?</miscellaneous>", ""),
}


def invalid_files(grammar, files):
    """Names of those that the grammar refuses."""
    refused = set()
    for start in range(0, len(files), 200):
        run = subprocess.run(
            ["xmllint", "--nonet", "--noout", "--relaxng", grammar,
             *map(str, files[start:start + 200])],
            capture_output=True, text=True, check=False)
        refused.update(line[:-len(" fails to validate")] for line in run.stderr.splitlines()
                       if line.endswith(" fails to validate"))
        valid = run.stderr.count(" validates\n")
        if valid + len(refused & set(map(str, files[start:start + 200]))) != len(files[start:start + 200]):
            sys.exit(run.stderr[-2000:])
    return refused


def damaged_files(files, folder):
    """One damaged file of each kind, by the name of the damage."""
    made = {}
    waiting = dict(DAMAGES)
    for path in files:
        text = path.read_text(encoding="utf-8")
        for name in list(waiting):
            damaged = waiting[name](text)
            if damaged == text:
                continue
            made[name] = folder / f"{len(made):03}.musicxml"
            made[name].write_text(damaged, encoding="utf-8")
            del waiting[name]
        if not waiting:
            break
    for name in waiting:
        print(f"nothing to damage: {name}")
    return made, len(waiting)


def main():
    grammar, folder = sys.argv[1], pathlib.Path(sys.argv[2])
    files = sorted(folder.glob("*.musicxml"))
    refused = invalid_files(grammar, files)
    for name in sorted(refused)[:10]:
        print(f"{name}: not what exports promise")
    with tempfile.TemporaryDirectory() as work:
        made, missing = damaged_files(files, pathlib.Path(work))
        caught = invalid_files(grammar, list(made.values()))
        missed = [name for name, path in made.items() if str(path) not in caught]
    for name in missed:
        print(f"not caught: {name}")
    print(f"{len(files)} exports, {len(refused)} refused; {len(made)} kinds of damage, "
          f"{len(missed)} not caught")
    return 1 if refused or missed or missing or not files else 0


sys.exit(main())
