"""Reads keys, onsets and lengths from MusicXML on its own: the standard library, sums of durations."""
from fractions import Fraction
import xml.etree.ElementTree as ET

STEPS = dict(C=0, D=2, E=4, F=5, G=7, A=9, B=11)


def key_of(note, moved):
    pitch = note.find("pitch")
    alter = round(float(pitch.findtext("alter", "0")))
    return 12 * (int(pitch.findtext("octave")) + 1) + STEPS[pitch.findtext("step")] + alter + moved


def notes_of(path):
    """[key, onset, length, kind] in the order of the file; tied notes are one."""
    now, divisions, moved, notes, held = Fraction(0), 1, 0, [], None
    for measure in ET.parse(path).getroot().find("part").findall("measure"):
        for element in measure:
            if element.tag == "attributes":
                divisions = int(element.findtext("divisions", str(divisions)))
                change = element.find("transpose")
                if change is not None:
                    octaves = int(change.findtext("octave-change", "0"))
                    moved = int(change.findtext("chromatic")) + 12 * octaves
            if element.tag != "note":
                continue
            length = Fraction(int(element.findtext("duration", "0")), divisions)
            if element.find("rest") is None:
                ties = [tie.get("type") for tie in element.findall("tie")]
                kind = "grace" if element.find("grace") is not None else "note"
                if "stop" in ties:
                    assert held is not None and held[0] == key_of(element, moved), "tie"
                    held[2] += length
                else:
                    notes.append([key_of(element, moved), now, length, kind])
                    held = notes[-1] if kind == "note" else held
                held = None if kind == "note" and "start" not in ties else held
            now += length
    return notes
