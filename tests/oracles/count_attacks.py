#!/usr/bin/env python3
"""Counts the attacks of the melody in plain MusicXML files, with nothing but the standard library.

    count_attacks.py FILE...        prints "COUNT PART VOICE FILE" for each

The line is chosen by what the reader documents for files whose names and texts say nothing: the
higher part by the median of its keys (within a whole tone they are equal, and the first counts),
then the upper staff, then the higher voice. An attack is an onset of the voice that is no continuation of a tie;
chords count once, cue and grace notes not at all. Partwise files only.
"""
import sys
import xml.etree.ElementTree as ET
from collections import Counter
from fractions import Fraction
from statistics import median

WHOLE_TONE = 2
SEMITONES = dict(C=0, D=2, E=4, F=5, G=7, A=9, B=11)


def number(node, path, default=0):
    text = node.findtext(path)
    return Fraction(text.strip()) if text and text.strip() else Fraction(default)


def notes_of(part):
    """(measure, onset, length, (staff, voice), key, tie starts, tie stops) of every note."""
    divisions, moved, found = Fraction(1), Fraction(0), []
    for measure, bar in enumerate(part.findall('measure')):
        place = onset = Fraction(0)
        for item in bar:
            if item.tag == 'attributes':
                divisions = number(item, 'divisions', divisions) or divisions
                turn = item.find('transpose')
                if turn is not None:
                    moved = number(turn, 'chromatic') + 12 * number(turn, 'octave-change')
            elif item.tag == 'backup':
                place = max(Fraction(0), place - number(item, 'duration') / divisions)
            elif item.tag == 'forward':
                place += number(item, 'duration') / divisions
            elif item.tag == 'note' and item.find('grace') is None:
                length = number(item, 'duration') / divisions
                if item.find('chord') is None:
                    onset = place
                    place += length
                pitch = item.find('pitch')
                if pitch is None or item.find('cue') is not None:
                    continue
                key = (SEMITONES[pitch.findtext('step').strip()] + number(pitch, 'alter') + moved
                       + 12 * (number(pitch, 'octave') + 1))
                ties = {tie.get('type') for tie in item.iter() if tie.tag in ('tie', 'tied')}
                voice = (int(number(item, 'staff', 1)), (item.findtext('voice') or '1').strip())
                found.append((measure, onset, length, voice, key, 'start' in ties, 'stop' in ties))
    return found


def attacks(notes):
    """How many onsets are struck, keeping the highest note of each."""
    tops = {}
    for note in notes:
        if note[:2] not in tops or note[4] > tops[note[:2]][4]:
            tops[note[:2]] = note
    count, before = 0, None
    for place in sorted(tops):
        note = tops[place]
        held = before is not None and before[5] and note[6] and before[4] == note[4]
        count += not held
        before = note
    return count


def height(notes):
    return median(note[4] for note in notes)


def higher(lines):
    """The highest of (name, notes); the first of those within a whole tone of each other."""
    best = lines[0]
    for line in lines[1:]:
        if height(line[1]) - height(best[1]) > WHOLE_TONE:
            best = line
    return best


def melody(root):
    parts = [(part.get('id') or '', notes_of(part)) for part in root.findall('part')]
    pitched = [part for part in parts if part[1]]
    if not pitched:
        return 0, parts[0][0] if parts else '', '-'
    name, notes = higher(pitched)
    upper = min(note[3][0] for note in notes)
    voices = dict.fromkeys(note[3] for note in notes if note[3][0] == upper)
    lines = [(voice, [note for note in notes if note[3][1] == voice[1]]) for voice in voices]
    voice, line = higher(lines)
    return attacks(line), name, voice[1]


def main():
    for path in sys.argv[1:]:
        count, part, voice = melody(ET.parse(path).getroot())
        print(count, part or '-', voice, path)


if __name__ == '__main__':
    main()
