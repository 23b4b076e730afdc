#!/usr/bin/python3
"""Records invented flutes and compares what `gauge` hears with what they were made from.

Use: heard_flutes.py PROGRAM MEASURED_FLUTES [FLUTES]

The true pitch of each tone is that of which it was made. Beside it stand a windowed spectrum (numpy)
and aubio's command line tool, which know nothing of the program. sox adds rooms and makes the files
(WAV, FLAC and Ogg at many rates, one channel and two). Needs the Debian packages python3-numpy,
python3-jsonschema, sox and aubio-tools; only /usr/bin/python3 sees the first two.
"""
import json
import pathlib
import subprocess
import sys
import tempfile
import wave

import jsonschema
import numpy as np

SCHEMAS = {name: json.loads((pathlib.Path(__file__).resolve().parents[2] / "schemas"
                             / f"{name}.schema.json").read_text(encoding="utf-8"))
           for name in ("flute", "gauge", "report")}
REFERENCES = jsonschema.RefResolver("", {}, {f"{name}.schema.json": schema
                                             for name, schema in SCHEMAS.items()})
RATES = (8000, 16000, 22050, 44100, 48000, 96000, 192000)
PARTIALS = np.array([1, 0.45, 0.28, 0.12, 0.07, 0.04])
MOST_KIB = 200 * 1024
OWN_SIGNS = "いろはにほへとちりぬるをわかよたれそつね"
# The conditions under which tones are recorded, noise in decibels under the tone.
GOOD = ({"noise": 40}, {"noise": 30, "hum": 0.1}, {"noise": 20}, {"noise": 20, "vibrato": 30},
        {"noise": 30, "drift": 12}, {"noise": 25, "room": 40}, {"noise": 25, "room": 70, "vibrato": 30},
        {"noise": 25, "breath": 0.1}, {"noise": 25, "clicks": 30})
POOR = ({"noise": 10}, {"noise": 10, "vibrato": 30}, {"noise": 10, "hum": 0.1, "breath": 0.05})


def cents(from_hz, to_hz):
    return 1200 * np.log2(to_hz / from_hz)


def tone(rate, hz, seconds, random, weak, condition):
    """A blown tone: partials, a start from below, edges."""
    at = np.arange(int(rate * seconds)) / rate
    course = condition.get("vibrato", 0) * np.sin(2 * np.pi * (5 * at + random.random()))
    course += condition.get("drift", 0) * (at / seconds - 0.5) - 60 * np.exp(-at / 0.02)
    turns = 2 * np.pi * np.cumsum(hz * 2 ** (course / 1200)) / rate
    partials = PARTIALS.copy()
    if weak:
        partials[0] = partials[1] * 10 ** -0.5
    sound = sum(size * np.sin((k + 1) * turns + random.uniform(0, 6.28))
                for k, size in enumerate(partials) if (k + 1) * hz * 1.05 < rate / 2)
    sound = sound / np.sqrt(np.mean(sound ** 2))
    breath = condition.get("breath", 0)
    if breath:
        sound += breath * np.convolve(random.standard_normal(len(at)), [0.25, 0.5, 0.25], "same")
    return sound * np.clip(np.minimum(at / 0.03, (seconds - at) / 0.05), 0, 1)


def dry(rate, pitches, random, condition):
    """Samples of all tones with breaths between, and when each sounds."""
    pieces, times, at = [np.zeros(rate // 2)], [], 0.5
    for i, hz in enumerate(pitches):
        seconds, gap = random.uniform(0.7, 1.3), random.uniform(0.2, 0.5)
        pieces += [tone(rate, hz, seconds, random, i % 2 == 1, condition)
                   * 0.15 * 10 ** (random.uniform(-3, 3) / 20), np.zeros(int(rate * gap))]
        times.append((at, at + seconds))
        at += (len(pieces[-2]) + len(pieces[-1])) / rate
    return np.concatenate(pieces), times


def noisy(rate, sound, random, condition):
    at = np.arange(len(sound)) / rate
    sound = sound + 0.15 * 10 ** (-condition["noise"] / 20) * random.standard_normal(len(sound))
    for order, size in ((1, 1), (2, 0.5), (3, 0.3), (5, 0.1)):
        sound += condition.get("hum", 0) * size * np.sin(2 * np.pi * 50 * order * at + order)
    for _ in range(condition.get("clicks", 0)):
        start = random.integers(0, len(sound) - 20)
        sound[start:start + 20] += 0.6 * np.sin(np.arange(20))
    return np.clip(sound, -1, 1)


def save(path, sound, rate):
    with wave.open(str(path), "wb") as out:
        out.setnchannels(1)
        out.setsampwidth(2)
        out.setframerate(rate)
        out.writeframes((sound * 32767).astype("<i2").tobytes())


def record(folder, pitches, random, condition):
    """A sound file in one of many kinds; the tones' true pitches and times come back with it."""
    rate = int(random.choice(RATES))
    sound, times = dry(rate, pitches, random, condition)
    raw, wet, path = folder / "raw.wav", folder / "wet.wav", folder / "take.wav"
    save(raw, sound, rate)
    if "room" in condition:
        subprocess.run(["sox", raw, wet, "gain", "-3", "reverb", str(condition["room"])],
                       check=True, capture_output=True)
        with wave.open(str(wet)) as made:
            shape = (-1, made.getnchannels())
            sound = np.frombuffer(made.readframes(made.getnframes()), "<i2").reshape(shape)
        sound = sound.mean(axis=1) / 32767
    save(raw, noisy(rate, sound, random, condition), rate)
    kind = random.choice(["wav", "flac", "ogg"] if rate <= 48000 else ["wav", "flac"])
    path = folder / f"take.{kind}"
    channels = ["remix", "1", "1"] if random.random() < 0.5 else []
    subprocess.run(["sox", raw, path, *channels], check=True, capture_output=True)
    return path, times


def flute_file(holes, pitches, title):
    """A flute of so many holes: low and second register, signs of its own."""
    entries = []
    for i, hz in enumerate(pitches):
        opened = i % (holes + 1)
        register = "tube" if i == 0 else "low" if i <= holes else "second"
        entries.append({"sign": OWN_SIGNS[i], "register": register, "hz": round(hz, 2),
                        "pattern": "●" * (holes - opened) + "○" * opened})
    return {"yubifu-flute": 1, "title": title, "holes": holes, "ichi": round(pitches[1], 2),
            "entries": entries}


def random_pitches(holes, random, most=3200):
    low = [random.uniform(380, 560)]
    for _ in range(holes):
        low.append(low[-1] * 2 ** (random.uniform(110, 260) / 1200))
    second = [hz * random.uniform(1.93, 2.02) for hz in low]
    second = [hz for i, hz in enumerate(second) if hz > max(low[-1:] + second[:i]) * 1.03]
    return [hz for hz in low + second if hz <= most]


def random_flutes(count, random):
    for number in range(count):
        holes = 5 + number % 4
        pitches = random_pitches(holes, random)
        other = [480 * 2 ** (min(i, len(pitches)) * 175 / 1200) for i in range(len(pitches))]
        yield f"random {number}", pitches, flute_file(holes, other, "another"), None


def measured_flutes(folder):
    """The two pipes whose readings tests hold; they are like themselves in another key."""
    for path in sorted(pathlib.Path(folder).glob("*.json")):
        flute = json.loads(path.read_text(encoding="utf-8"))
        entries = sorted((entry for entry in flute["entries"] if "hz" in entry), key=lambda e: e["hz"])
        like = json.loads(json.dumps(flute))
        for entry in like["entries"]:
            entry["hz"] = round(entry["hz"] * 1.06, 2)
        if isinstance(like.get("ichi"), (int, float)):
            like["ichi"] = round(like["ichi"] * 1.06, 2)
        yield path.stem, [entry["hz"] for entry in entries], like, [e["sign"] for e in entries]


class Tally:
    """What was heard of one kind of recording."""

    def __init__(self):
        self.errors, self.asked, self.octaves = [], 0, 0

    def line(self):
        errors = np.array(self.errors)
        return (f"{len(errors)} of {self.asked} tones found, median {np.median(errors):.3f}, "
                f"99 of 100 under {np.quantile(errors, 0.99):.2f}, worst {errors.max():.2f} cents, "
                f"{self.octaves} in a wrong octave")


def heard(program, folder, path, like, signs):
    (folder / "like.json").write_text(json.dumps(like), encoding="utf-8")
    words = [program, "gauge", path.name, "--like", "like.json", "--report", "json", "-o", "own.json"]
    if signs:
        words += ["--signs", " ".join(signs)]
    # No more memory than this, libraries and all; a recording may be much larger.
    limited = ["sh", "-c", f'ulimit -v {MOST_KIB} && exec "$@"', "sh", *words]
    run = subprocess.run(limited, cwd=folder, capture_output=True, check=False, text=True)
    if not run.stdout:
        return [], run.stderr
    report = json.loads(run.stdout)
    jsonschema.validate(report, SCHEMAS["gauge"], resolver=REFERENCES)
    said = [finding["message"] for file in report["files"] for finding in file["findings"]]
    said = "\n".join(said) + run.stderr
    if run.returncode != 0:
        return [], said
    jsonschema.validate(json.loads((folder / "own.json").read_text(encoding="utf-8")),
                        SCHEMAS["flute"])
    return report["signs"], said


def spectrum_hz(sound, rate, about):
    """The top of the peak in a spectrum of one second."""
    piece = sound[:rate] * np.blackman(len(sound[:rate]))
    size = 1 << 21
    power = np.log(np.abs(np.fft.rfft(piece, size)) + 1e-12)
    near = int(about * size / rate)
    span = max(4, near // 50)
    top = near - span + int(np.argmax(power[near - span:near + span]))
    left, middle, right = power[top - 1:top + 2]
    return (top + 0.5 * (left - right) / (left - 2 * middle + right)) * rate / size


def aubio_hz(path, begin, end):
    run = subprocess.run(["aubiopitch", "-i", path, "-p", "yin", "-B", "2048", "-H", "256"],
                         capture_output=True, text=True, check=True)
    rows = [line.split() for line in run.stdout.splitlines()]
    values = [float(hz) for at, hz in rows if begin + 0.2 < float(at) < end - 0.1 and float(hz) > 0]
    return float(np.median(values))


def against_others(program, folder, random):
    """numpy and aubio on the same files; the largest differences from the program in cents."""
    worst_spectrum = worst_aubio = 0
    rate = 44100
    for low in (300, 430, 610):
        pitches = [low * 2 ** (i * 5.1 / 12) for i in range(7)]
        sound, times = dry(rate, pitches, random, {"noise": 40})
        sound = noisy(rate, sound, random, {"noise": 40})
        path = folder / "take.wav"
        save(path, sound, rate)
        like = flute_file(6, pitches, "the same")
        for row, hz, (begin, end) in zip(heard(program, folder, path, like, None)[0], pitches, times):
            piece = sound[int((begin + 0.1) * rate):int((end - 0.06) * rate)]
            spectrum = spectrum_hz(piece, rate, hz)
            worst_spectrum = max(worst_spectrum, abs(cents(spectrum, row["hz"])))
            worst_aubio = max(worst_aubio, abs(cents(aubio_hz(path, begin, end), row["hz"])))
    return worst_spectrum, worst_aubio


def synthesised_by_sox(program, folder):
    """Tones of which not even the samples are ours; the largest error in cents."""
    pitches = [350, 440, 523.25, 700, 1046.5, 2093]
    parts = []
    for i, hz in enumerate(pitches):
        part = folder / f"part{i}.wav"
        subprocess.run(["sox", "-n", "-r", "48000", "-b", "16", part, "synth", "1", "sine", str(hz),
                        "synth", "1", "sine", "mix", str(2 * hz), "fade", "t", "0.03", "1", "0.05",
                        "gain", "-8", "pad", "0.1", "0.3"], check=True, capture_output=True)
        parts.append(part)
    path = folder / "take.flac"
    subprocess.run(["sox", *parts, path], check=True, capture_output=True)
    rows, said = heard(program, folder, path, flute_file(5, pitches, "the same"), None)
    if len(rows) != len(pitches):
        return 1e9, said
    return max(abs(cents(hz, row["hz"])) for hz, row in zip(pitches, rows)), ""


def sparse_wav(path, rate, channels, data_bytes, starts, piece):
    """A WAV file of any length that is silence but for `piece` at some places."""
    piece = (np.repeat(piece, channels) * 32767).astype("<i2").tobytes()
    block = 2 * channels
    header = (b"RIFF" + min(2 ** 32 - 1, 36 + data_bytes).to_bytes(4, "little") + b"WAVEfmt "
              + (16).to_bytes(4, "little") + (1).to_bytes(2, "little")
              + channels.to_bytes(2, "little") + rate.to_bytes(4, "little")
              + (rate * block).to_bytes(4, "little") + block.to_bytes(2, "little")
              + (16).to_bytes(2, "little") + b"data" + data_bytes.to_bytes(4, "little"))
    with open(path, "wb") as out:
        out.write(header)
        for start in starts:
            out.seek(44 + int(start * rate) * block)
            out.write(piece)
        out.truncate(44 + data_bytes)


def long_recording(program, folder, rate, channels, data_bytes, random):
    """Whether two tones far apart are found, and what was said."""
    seconds = data_bytes / (rate * channels * 2)
    pitches = [500, 600]
    path = folder / "take.wav"
    for i, hz in enumerate(pitches):
        piece = 0.2 * tone(rate, hz, 1, random, False, {})
        if i == 0:
            sparse_wav(path, rate, channels, data_bytes, [1], piece)
        else:
            with open(path, "r+b") as out:
                out.seek(44 + int((seconds - 3) * rate) * channels * 2)
                out.write((np.repeat(piece, channels) * 32767).astype("<i2").tobytes())
    like = flute_file(1, pitches, "two")
    rows, said = heard(program, folder, path, like, None)
    path.unlink()
    right = len(rows) == 2 and all(abs(cents(hz, row["hz"])) < 1 for hz, row in zip(pitches, rows))
    return right, said


def main():
    program = str(pathlib.Path(sys.argv[1]).resolve())
    count = int(sys.argv[3]) if len(sys.argv) > 3 else 20
    random = np.random.default_rng(20)
    faults = []

    def expect(holds, what):
        if not holds:
            faults.append(what)
            print("WRONG:", what)

    good, poor, octaves = Tally(), Tally(), Tally()
    with tempfile.TemporaryDirectory() as work:
        folder = pathlib.Path(work)

        def run(tally, name, pitches, like, signs, condition):
            path, times = record(folder, pitches, random, condition)
            names = signs or [entry["sign"] for entry in like["entries"]]
            rows, said = heard(program, folder, path, like, signs)
            tally.asked += len(pitches)
            for row in rows:
                hz = pitches[names.index(row["sign"])]
                error = abs(cents(hz, row["hz"]))
                tally.octaves += error > 600
                tally.errors.append(error)
                expect(error <= 4, f"{name} {condition}: {row} instead of {hz:.2f} Hz")
            if len(rows) < len(pitches):
                print(f"{name} {condition} {path.name}: {len(rows)} of {len(pitches)}\n{said}")

        # Of those in a room the tail of one tone sounds into the next.
        flutes = list(measured_flutes(sys.argv[2])) + list(random_flutes(count, random))
        for number, (name, pitches, like, signs) in enumerate(flutes):
            for k in range(3):
                run(good, name, pitches, like, signs, GOOD[(number * 3 + k) % len(GOOD)])
            run(poor, name, pitches, like, signs, POOR[number % len(POOR)])
        print("at 20 dB and better:", good.line())
        print("at 10 dB:", poor.line())
        expect(np.median(good.errors) <= 1, "the median at 20 dB and better")
        expect(len(good.errors) >= 0.98 * good.asked, "98 of 100 tones are found")
        expect(len(poor.errors) >= 0.8 * poor.asked, "80 of 100 tones are found at 10 dB")

        # Each file as it comes out, tone for tone, without a scale that could help.
        for _ in range(50 * count // 20):
            pitches = sorted(300 * 2 ** (random.uniform(0, 3.41, 20)))
            pitches = [hz for i, hz in enumerate(pitches) if i == 0 or cents(pitches[i - 1], hz) > 70]
            like = flute_file(19, pitches, "the same")
            run(octaves, "octaves", pitches, like, None, GOOD[int(random.integers(len(GOOD)))])
        print("tones of any height:", octaves.line())
        expect(octaves.octaves + good.octaves + poor.octaves == 0, "no octave is wrong")

        spectrum, aubio = against_others(program, folder, random)
        print(f"largest difference from a spectrum {spectrum:.3f}, from aubio {aubio:.2f} cents")
        expect(spectrum <= 1, "a windowed spectrum agrees within 1 cent")
        expect(aubio <= 10, "aubio agrees within 10 cents")
        error, said = synthesised_by_sox(program, folder)
        print(f"tones made by sox: worst {error:.3f} cents {said}")
        expect(error <= 1, "tones made by sox")

        # These take minutes: for the whole run of 20.
        long_ones = (("an hour", 22050, 1, 3600 * 22050 * 2), ("2 GB", 48000, 2, 2 ** 31))
        for name, rate, channels, size in long_ones if count >= 20 else ():
            right, said = long_recording(program, folder, rate, channels, size, random)
            print(f"{name}: {'both tones are found' if right else said}")
            expect(right, f"the tones of {name} are found")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
