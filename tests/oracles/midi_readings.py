"""MIDI files as three independent readers see them, in the form of midi_expected.py.

Each reader gives (name, format, ticks a quarter note, tracks) of every file in a folder.
"""
import csv
import json
import pathlib
import re
import subprocess

from midi_expected import fifths_of

TEXTS = {"track_name": "name", "copyright": "copyright", "text": "text", "lyrics": "lyric",
         "marker": "marker", "trackName": "name", "copyrightNotice": "copyright",
         "Title_t": "name", "Copyright_t": "copyright", "Text_t": "text", "Lyric_t": "lyric",
         "Marker_t": "marker"}


def utf8(text):
    """All three give the bytes of a text as characters of Latin-1."""
    return text.encode("latin-1").decode("utf-8")


def read_by_mido(folder):
    import mido  # the Debian package, which only /usr/bin/python3 sees
    for path in files(folder):
        file = mido.MidiFile(path)
        yield path.name, file.type, file.ticks_per_beat, [mido_track(t) for t in file.tracks]


def mido_track(messages):
    tick = 0
    events = []
    for message in messages:
        tick += message.time
        events.append((tick, *mido_event(message)))
    return events


def mido_event(m):
    if m.type in TEXTS:
        return TEXTS[m.type], utf8(m.name if m.type == "track_name" else m.text)
    return {
        "set_tempo": lambda: ("tempo", m.tempo),
        "time_signature": lambda: ("meter", m.numerator, m.denominator, m.clocks_per_click,
                                   m.notated_32nd_notes_per_beat),
        "key_signature": lambda: ("key", *fifths_of(re.sub("m$", " minor", m.key))),
        "note_on": lambda: ("on", m.channel, m.note, m.velocity),
        "note_off": lambda: ("off", m.channel, m.note, m.velocity),
        "pitchwheel": lambda: ("bend", m.channel, m.pitch + 8192),
        "control_change": lambda: ("control", m.channel, m.control, m.value),
        "program_change": lambda: ("program", m.channel, m.program),
        "end_of_track": lambda: ("end",),
    }[m.type]()


def read_by_midi_file(folder, packages):
    script = pathlib.Path(__file__).with_name("midi_file_events.mjs")
    output = subprocess.run(["node", script, packages, folder], check=True, capture_output=True)
    for line in output.stdout.decode("utf-8").rstrip("\n").split("\n"):
        name, kind, ppq, tracks = json.loads(line)
        yield name, kind, ppq, [midi_file_track(track) for track in tracks]


def midi_file_track(track):
    tick = 0
    events = []
    for event in track:
        tick += event["deltaTime"]
        events.append((tick, *midi_file_event(event)))
    return events


def midi_file_event(e):
    kind = e["type"]
    if kind in TEXTS:
        return TEXTS[kind], utf8(e["text"])
    return {
        "setTempo": lambda: ("tempo", e["microsecondsPerBeat"]),
        "timeSignature": lambda: ("meter", e["numerator"], e["denominator"], e["metronome"],
                                  e["thirtyseconds"]),
        "keySignature": lambda: ("key", e["key"], e["scale"] == 1),
        "noteOn": lambda: ("on", e["channel"], e["noteNumber"], e["velocity"]),
        "noteOff": lambda: ("off", e["channel"], e["noteNumber"], e["velocity"]),
        "pitchBend": lambda: ("bend", e["channel"], e["value"] + 8192),
        "controller": lambda: ("control", e["channel"], e["controllerType"], e["value"]),
        "programChange": lambda: ("program", e["channel"], e["programNumber"]),
        "endOfTrack": lambda: ("end",),
    }[kind]()


def read_by_midicsv(folder):
    for path in files(folder):
        text = subprocess.run(["midicsv", path], check=True, capture_output=True).stdout
        rows = list(csv.reader(text.decode("latin-1").split("\n"), skipinitialspace=True))
        header = next(row for row in rows if row[2:3] == ["Header"])
        tracks = [[] for _ in range(int(header[4]))]
        for row in rows:
            if len(row) > 2 and row[0] != "0" and row[2] != "Start_track":
                tracks[int(row[0]) - 1].append((int(row[1]), *midicsv_event(row[2], row[3:])))
        yield path.name, int(header[3]), int(header[5]), tracks


def midicsv_event(kind, values):
    if kind in TEXTS:
        # Control characters, some of them bytes of UTF-8, stand as octal numbers.
        plain = re.sub(r"\\(\d{3}|\\)", lambda found: "\\" if found[1] == "\\" else
                       chr(int(found[1], 8)), values[0])
        return TEXTS[kind], utf8(plain)
    if kind == "Key_signature":
        return "key", int(values[0]), values[1] == "minor"
    numbers = [int(value) for value in values]
    if kind == "Time_signature":
        numbers[1] = 2 ** numbers[1]
    names = {"Tempo": "tempo", "Time_signature": "meter", "Note_on_c": "on", "Note_off_c": "off",
             "Pitch_bend_c": "bend", "Control_c": "control", "Program_c": "program",
             "End_track": "end"}
    return (names[kind], *numbers)


def files(folder):
    return sorted(pathlib.Path(folder).glob("*.mid"))
