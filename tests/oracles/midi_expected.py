"""The events of a MIDI file as they follow from the score, in exact fractions.

Knows nothing of the program's own events: only the played-out score (score JSON), the pitches of
the signs and what the user asked for. An event is a tuple of tick, kind and values; a file is a
list of tracks.
"""
from fractions import Fraction
from math import floor, lcm, log2

MOST_TICKS = 32767
# Semitones from 一; the other registers and the half holes follow from these.
SIGNS = {"筒": -3, "一": 0, "二": 2, "三": 4, "四": 5, "五": 7, "六": 9, "七": 11,
         "0": 10, "1": 12, "2": 14, "3": 16, "4": 17, "5": 19, "6": 21, "7": 23,
         "8": 24, "2̇": 26, "3̇": 28, "4̇": 29, "5̇": 31}
STEPS = dict(C=0, D=2, E=4, F=5, G=7, A=9, B=11)
LEVELS = {"mp": -1, "mf": 0} | {"p" * n: -1 - n for n in range(1, 7)} | \
    {"f" * n: n for n in range(1, 7)}
FORCED = {"sf": None, "sfz": None, "sffz": None, "fz": None, "rf": None, "rfz": None,
          "fp": "p", "sfp": "p", "sfzp": "p", "sfpp": "pp"}
DYNAMIC_STEP, ACCENT = 12, 16
TITLE_FIELDS = ("title", "rights", "meter", "tempo", "key")
TONICS = {letter: fifths for fifths, letter in enumerate("FCGDAEB", start=-1)}


def fifths_of(text):
    """("Bb", "F# minor") → sharps or flats, and whether it is minor."""
    name, _, mode = text.partition(" ")
    fifths = TONICS[name[0]] + 7 * name.count("#") - 7 * name[1:].count("b")
    minor = mode == "minor"
    return fifths - 3 * minor, minor


def quarters_a_minute(text):
    unit, _, number = text.partition("=")
    return Fraction(number) * Fraction(unit) * 4


def printed(tone):
    """Sign, half hole and bend; nothing for a gap."""
    if tone["sign"] is None:
        return ""
    half = {"": "", "under": "メ", "over": "カ"}[tone.get("half", "")]
    bend = tone.get("bend", 0)
    return tone["sign"] + half + (f"↑{bend}" if bend > 0 else f"↓{-bend}" if bend else "")


class Expected:
    def __init__(self, score, options, ppq):
        self.score, self.options, self.ppq = score, options, ppq
        self.measures, self.notes = score["measures"], score["notes"]
        for measure in self.measures:
            measure["begin"] = Fraction(measure["onset"])
            measure["end"] = measure["begin"] + Fraction(measure["length"])
        self.directions = [(Fraction(direction["onset"]), direction["kind"],
                            direction.get("value", ""))
                           for measure in self.measures
                           for direction in measure.get("directions", [])]
        self.end = self.measures[-1]["end"]

    # -- time

    def grid(self):
        """The least grid from 480 on that holds every time, grace notes too if they fit; None if
        there is none, and whether `ppq` is exact."""
        times = [Fraction(m["length"]) for m in self.measures]
        graces = []
        for note in self.notes:
            begin = Fraction(note["onset"]) - self.measures[note["measure"]]["begin"]
            times += [begin, Fraction(note["duration"])]
            if any(self.graces(note)):
                graces.append(self.grace_length(note))
        written = lcm(*(time.denominator for time in times))
        exact = self.ppq % written == 0
        if "ppq" in self.options:
            return self.options["ppq"], exact
        if written > MOST_TICKS:
            return None, False
        both = lcm(written, *(time.denominator for time in graces))
        least = both if both <= MOST_TICKS else written
        return least * max(1, -(-480 // least)), True

    def tick(self, time):
        return floor(time * self.ppq + Fraction(1, 2))

    # -- pitch

    def cents_of(self, tone, measure):
        """From key 0 of a player with A4 = 440 Hz: from the flute in use and the sign; a gap by its
        spelling."""
        bend = tone.get("bend", 0)
        if "tuning" in self.score["header"]:
            bend += Fraction(1200 * log2(float(self.score["header"]["tuning"]) / 440))
        if tone["sign"] is None:
            key = 12 * (tone["octave"] + 1) + STEPS[tone["step"]] + tone.get("alter", 0)
            return 100 * key + bend
        flute = [f for f in self.score["flutes"] if f["measure"] <= measure][-1]
        semitones = SIGNS[tone["sign"]] + {"": 0, "under": -1, "over": 1}[tone.get("half", "")]
        return 100 * (flute["midi"] + semitones) + Fraction(str(flute.get("cents", 0))) + bend

    # -- notes

    @staticmethod
    def graces(note):
        found = {mark["name"]: mark["tones"] for mark in note.get("marks", []) if "tones" in mark}
        return found.get("pre", []), found.get("post", [])

    def grace_length(self, note):
        before, after = self.graces(note)
        return min(Fraction(1, 8), Fraction(note["duration"]) / (2 * (len(before) + len(after))))

    def tones(self, note):
        """(tone, begin, end) of the note with its grace notes."""
        before, after = self.graces(note)
        begin, end = Fraction(note["onset"]), Fraction(note["onset"]) + Fraction(note["duration"])
        length = self.grace_length(note) if before or after else 0
        main, stop = begin + length * len(before), end - length * len(after)
        for i, tone in enumerate(before):
            yield tone, begin + i * length, begin + (i + 1) * length
        yield note, main, stop
        for i, tone in enumerate(after):
            yield tone, stop + i * length, stop + (i + 1) * length

    def velocities(self):
        """Of each note: the level in force; one forced note at the level before it."""
        level, dynamics = 0, [(onset, value) for onset, kind, value in self.directions
                              if kind == "dyn" and value in {**LEVELS, **FORCED}]
        for note in self.notes:
            here, forced = level, False
            while dynamics and dynamics[0][0] <= Fraction(note["onset"]):
                word = dynamics.pop(0)[1]
                forced = word in FORCED
                after = LEVELS.get(FORCED.get(word, word))
                level = level if after is None else after
                here = here if forced else level
            here = here if forced else level
            accent = forced or any(mark["name"] == "accent" for mark in note.get("marks", []))
            loud = self.options["velocity"] + DYNAMIC_STEP * here + ACCENT * accent
            yield max(1, min(127, loud))

    def lyric(self, note, tone, times_played):
        what = self.options["lyrics"]
        if what == "fingering":
            return printed(tone)
        if what == "none" or tone is not note:
            return ""
        found = None
        for syllable in note.get("verses", []):
            shoga = syllable["verse"] == "shoga"
            if shoga != (what == "shoga"):
                continue
            if found is None or shoga or int(syllable["verse"]) <= times_played:
                found = syllable
        if found is None or found.get("extend", False):
            return ""
        text = found.get("text", "")
        if found.get("kind", "single") in ("begin", "middle"):
            return text + "-"
        return text + " " if text.endswith("-") else text

    def sounding(self):
        """(begin, end, key, bend of the wheel, velocity, lyric) in ticks."""
        played, free = {}, 0
        for note, velocity in zip(self.notes, self.velocities()):
            times = played[note["source"]] = played.get(note["source"], 0) + 1
            for tone, begin, end in self.tones(note):
                cents = self.cents_of(tone, note["measure"])
                key = -((50 - Fraction(cents)) // 100)  # the nearest; of two the lower
                if not 0 <= key <= 127:
                    continue
                wheel = 8192 + round_half_away((Fraction(cents) - 100 * key) * 8192 / 200)
                first = max(free, self.tick(begin))
                free = max(first + 1, self.tick(end))
                yield first, free, int(key), wheel, velocity, self.lyric(note, tone, times)

    def flute_track(self):
        notes = list(self.sounding())
        flutes = self.score["flutes"]
        title = flutes[0].get("title", "") if flutes else ""
        events = [(0, "name", f"Shinobue {title}" if title else "Shinobue"),
                  (0, "program", 0, self.options["program"] - 1)]
        if any(note[3] != 8192 for note in notes):
            events += [(0, "control", 0, *pair)
                       for pair in ((101, 0), (100, 0), (6, 2), (38, 0), (101, 127), (100, 127))]
            events.append((0, "bend", 0, 8192))
        wheel = 8192
        for begin, end, key, bend, velocity, lyric in notes:
            if bend != wheel:
                events.append((begin, "bend", 0, bend))
            wheel = bend
            if lyric:
                events.append((begin, "lyric", lyric))
            events += [(begin, "on", 0, key, velocity), (end, "off", 0, key, 64)]
        if wheel != 8192:
            events.append((notes[-1][1], "bend", 0, 8192))
        return events + [(self.tick(self.end), "end")]

    # -- tempo

    def base_tempos(self):
        """(time, quarters a minute), without fermatas."""
        start = self.score["header"].get("tempo")
        cues = [(Fraction(0), "tempo", quarters_a_minute(start) if start else Fraction(120))]
        for onset, kind, value in self.directions:
            if kind == "tempo":
                cues.append((onset, kind, quarters_a_minute(value)))
            elif kind in ("rit", "accel", "a-tempo"):
                cues.append((onset, kind, None))
        line, now, steady = {}, None, None
        for i, (onset, kind, value) in enumerate(cues):
            tick = self.tick(onset)
            if kind == "tempo":
                steady = value
            if kind in ("tempo", "a-tempo"):
                now = line[tick] = steady
                continue
            slower = kind == "rit"
            target = now * (Fraction(3, 4) if slower else Fraction(4, 3))
            after = cues[i + 1] if i + 1 < len(cues) else (self.end, "end", None)
            if after[1] == "tempo" and after[2] != now and (after[2] < now) == slower:
                target = after[2]
            length = min(self.tick(after[0]) - tick, 8 * self.ppq)
            steps = min(length, -(-2 * length // self.ppq))
            begun = now
            for step in range(steps):
                now = line[tick + length * step // steps] = \
                    begun + (target - begun) * Fraction(step + 1, steps)
        return line

    def fermatas(self):
        """Spans of ticks."""
        def held(entry):
            return any(mark["name"] == "fermata" for mark in entry.get("marks", []))

        spans = [(Fraction(n["onset"]), Fraction(n["onset"]) + Fraction(n["duration"]))
                 for n in self.notes if held(n)]
        for rest in filter(held, self.score.get("rests", [])):
            begin = Fraction(rest["onset"])
            ends = [self.measures[rest["measure"]]["end"]]
            ends += [Fraction(n["onset"]) for n in self.notes]
            ends += [onset for onset, _, _ in self.directions]
            ends += [Fraction(r["onset"]) for r in self.score["rests"]]
            spans.append((begin, min(end for end in ends if end > begin)))
        return [(self.tick(begin), self.tick(end)) for begin, end in spans]

    def tempos(self):
        line, spans = self.base_tempos(), self.fermatas()
        before = None
        for tick in sorted({*line, *(t for span in spans for t in span)}):
            tempo = line[max(t for t in line if t <= tick)]
            if any(begin <= tick < end for begin, end in spans):
                tempo /= 2
            tempo *= Fraction(self.options.get("tempo", 100), 100)
            if tempo != before:
                yield tick, "tempo", max(1, min(0xFFFFFF, round(60_000_000 / tempo)))
            before = tempo

    # -- bars

    def signature(self, measure):
        """The same for a measure that is played again at once."""
        sources = [n["source"] for n in self.notes if n["measure"] == measure["index"]]
        return measure["number"], measure["length"], sources

    def bars(self):
        """(begin, length, meter) with the two parts of a divided bar as one."""
        bars, taken = [], False
        for measure, after in zip(self.measures, self.measures[1:] + [None]):
            if taken:
                taken = False
                continue
            length, meter = measure["end"] - measure["begin"], measure["meter"]
            again = after and self.signature(measure) == self.signature(after)
            if after and not again and meter == after["meter"] and meter != "free":
                both = length + after["end"] - after["begin"]
                taken = both == meter_length(meter)
                length = both if taken else length
            bars.append((measure["begin"], length, meter))
        return bars

    def meters(self):
        now = None
        for begin, length, meter in self.bars():
            if meter != "free" and length != meter_length(meter):
                meter = meter_of(length, meter)
            since = None if now is None else begin - now[0]
            if now and now[1] == meter and (meter == "free" or since % meter_length(meter) == 0):
                continue
            now = begin, meter
            yield self.tick(begin), meter

    def meter_event(self, tick, meter):
        if meter == "free":
            return tick, "text", "yubifu.meter: free"
        beats, unit = map(int, meter.split("/"))
        felt = Fraction(3, 2) if meter in ("6/8", "9/8", "12/8") else Fraction(4, unit)
        return tick, "meter", beats, unit, max(1, floor(24 * felt)), 8

    def tempo_track(self, exact):
        header = self.score["header"]
        events = []
        if header.get("title"):
            events.append((0, "name", header["title"]))
        if header.get("rights"):
            events.append((0, "copyright", header["rights"]))
        events += [(0, "text", f"yubifu.{key}: {value}") for key, value in header.items()
                   if key not in TITLE_FIELDS and (key, value) != ("zero", "cross")]
        if exact:
            events.append((0, "text", f"yubifu.ticks: {self.ppq}"))
        # What the lyrics are is said where there are any; all notes have fingering.
        what = self.options["lyrics"]
        if what == "fingering" or any(note[-1] for note in self.sounding()):
            events.append((0, "text", f"yubifu.lyrics: {what}"))
        events += [self.meter_event(*meter) for meter in self.meters()]
        keys = [(Fraction(0), header["key"])] if "key" in header else []
        keys += [(onset, value) for onset, kind, value in self.directions if kind == "key"]
        events += [(self.tick(onset), "key", *fifths_of(key)) for onset, key in keys]
        events += self.tempos()
        kinds = {"section": "marker", "text": "text"}
        for onset, kind, value in self.directions:
            if kind in kinds:
                events.append((self.tick(onset), kinds[kind], value))
            if kind == "flute":
                events.append((self.tick(onset), "text", f"yubifu.flute: {value}"))
        return events + [(self.tick(self.end), "end")]

    def tracks(self):
        """The tempo track with the events of one tick in any order, and the flute's track."""
        ppq, exact = self.grid()
        assert ppq in (None, self.ppq), f"{self.ppq} ticks a quarter, expected {ppq}"
        return [self.tempo_track(exact), self.flute_track()]


def round_half_away(value):
    return floor(value + Fraction(1, 2)) if value >= 0 else -floor(-value + Fraction(1, 2))


def meter_length(meter):
    beats, unit = map(int, meter.split("/"))
    return Fraction(4 * beats, unit)


def meter_of(length, meter):
    """The meter of a bar of this length, in units no longer than those of `meter`."""
    unit = int(meter.split("/")[1])
    while unit <= 128:
        beats = length * unit / 4
        if beats.denominator == 1:
            return f"{beats}/{unit}" if beats <= 64 else meter
        unit *= 2
    return meter
