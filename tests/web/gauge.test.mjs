// A flute measured on the page: from dropped files and from Chromium's fake microphone, which plays a
// recording made here. What is true is what the recording was made from.
import { after, before, describe, it } from "node:test";
import { execFileSync } from "node:child_process";
import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";

import {
  accessibility, assert, host, launch, native, open, root, sheet_stands, single_file, staged, taken, text_of, type_over,
} from "./support.mjs";

const kRate = 48_000;
// A pipe with equal holes, as a maker published it.
const kPipe = [["筒", 464], ["一", 539], ["二", 588.5], ["三", 643], ["四", 707], ["五", 787], ["六", 886], ["七", 1012]];
const kSigns = kPipe.map(([sign]) => sign).join(" ");

/** Tones [Hz, seconds, silence after them] over a little noise, as samples from -1 to 1. */
function played(tones, loud = 0.2) {
  const samples = silence(0.5);
  for (const [hz, seconds, rest] of tones) {
    for (let i = 0; i < seconds * kRate; ++i) {
      const at = i / kRate;
      const edge = Math.min(1, at / 0.03, (seconds - at) / 0.05);
      const wave = [1, 0.45, 0.28, 0.12].reduce((sum, size, k) => sum + size * Math.sin(2 * Math.PI * hz * (k + 1) * at + k), 0);
      samples.push(loud * edge * wave + noise());
    }
    for (const quiet of silence(rest)) samples.push(quiet);
  }
  return samples;
}

let seed = 1;
const noise = () => {
  seed = (seed * 48271) % 2147483647;
  return (seed / 2147483647 - 0.5) * 0.002;
};
const silence = (seconds) => Array.from({ length: seconds * kRate }, noise);

function wav_of(samples) {
  const wav = Buffer.alloc(44 + samples.length * 2);
  wav.write("RIFF", 0);
  wav.writeUInt32LE(wav.length - 8, 4);
  wav.write("WAVEfmt ", 8);
  wav.writeUInt32LE(16, 16);
  wav.writeUInt16LE(1, 20);
  wav.writeUInt16LE(1, 22);
  wav.writeUInt32LE(kRate, 24);
  wav.writeUInt32LE(kRate * 2, 28);
  wav.writeUInt16LE(2, 32);
  wav.writeUInt16LE(16, 34);
  wav.write("data", 36);
  wav.writeUInt32LE(samples.length * 2, 40);
  samples.forEach((sample, i) => wav.writeInt16LE(Math.round(sample * 32767), 44 + i * 2));
  return wav;
}

const kTake = wav_of(played(kPipe.map(([, hz]) => [hz, 0.8, 0.3])));
const cents = (from, to) => 1200 * Math.log2(to / from);

async function dropped(page, name, bytes) {
  await page.evaluate(
    ([name, letters]) => {
      const data = new DataTransfer();
      data.items.add(new File([Uint8Array.from(atob(letters), (letter) => letter.charCodeAt(0))], name));
      document.body.dispatchEvent(new DragEvent("drop", { dataTransfer: data, bubbles: true, cancelable: true }));
    },
    [name, bytes.toString("base64")],
  );
}

/** Signs and hertz of the table. */
function table(page) {
  return page.evaluate(() =>
    [...document.querySelectorAll("#gauge-body tbody tr")].map((row) => [
      row.cells[0].textContent, Number(row.cells[1].textContent),
    ]),
  );
}

function assert_near(rows, wanted, most) {
  assert.deepEqual(rows.map(([sign]) => sign), wanted.map(([sign]) => sign));
  rows.forEach(([sign, hz], i) => assert.ok(Math.abs(cents(wanted[i][1], hz)) <= most, `${sign}: ${hz} Hz`));
}

const stage = staged();
const homes = [["the folder", () => stage.server.address], ["the single file", () => single_file]];

describe("What counts as an attempt", () => {
  let Attempts;
  before(async () => {
    const { build } = createRequire(`${process.env.YUBIFU_WEB_PACKAGES}/`)("esbuild");
    const made = await build({
      entryPoints: [join(root, "src/web/page/microphone.ts")], bundle: true, write: false, format: "esm", platform: "node",
    });
    const file = join(tmpdir(), `yubifu-ear-${process.pid}.mjs`);
    await writeFile(file, made.outputFiles[0].text);
    ({ Attempts } = await import(pathToFileURL(file)));
    await rm(file);
  });

  function attempts(samples) {
    const ear = new Attempts(kRate);
    const found = [];
    for (let at = 0; at + 1024 <= samples.length; at += 1024) {
      const attempt = ear.take(Float32Array.from(samples.slice(at, at + 1024)));
      if (attempt) found.push(attempt.length / kRate);
    }
    return found;
  }

  it("is a sound between silences, with a little of them", () => {
    const found = attempts(played([[600, 1, 0.6], [700, 0.5, 0.6]]));
    assert.equal(found.length, 2);
    // Half a second before it, three tenths behind it.
    assert.ok(Math.abs(found[0] - 1.8) < 0.06 && Math.abs(found[1] - 1.3) < 0.25, String(found));
  });

  it("is no click and no hum, and ends after ten seconds", () => {
    const clicks = silence(3);
    for (const at of [30_000, 80_000]) for (let i = 0; i < 40; ++i) clicks[at + i] = 0.7;
    assert.deepEqual(attempts(clicks), []);
    const hum = silence(4).map((sample, i) => sample + 0.02 * Math.sin((2 * Math.PI * 50 * i) / kRate));
    assert.deepEqual(attempts(hum), []);
    const found = attempts(played([[600, 12, 1], [700, 0.8, 0.6]]));
    assert.equal(found.length, 2);
    assert.ok(Math.abs(found[0] - 10) < 0.03 && found[1] < 2, String(found));
  });

  it("stands out of a loud room", () => {
    const samples = played([[600, 1, 0.6], [700, 1, 0.6]], 0.05).map((sample) => sample + 8 * noise());
    assert.equal(attempts(samples).length, 2);
  });
});

for (const [home, address] of homes) {
  describe(`A recording, on the page from ${home}`, () => {
    let window;
    before(async () => {
      window = await open(stage.browser, address());
    });
    after(() => window.context.close());

    it("is measured where it is dropped, as the program on a terminal does", async () => {
      const { page } = window;
      await dropped(page, "take.wav", kTake);
      await page.waitForSelector("#gauge-body h3");
      await page.click("#gauge-more summary");
      // Eight of all the signs of a flute: nothing is guessed.
      await page.selectOption("#gauge-like", "6");
      await page.fill("#gauge-signs", kSigns);
      await page.press("#gauge-signs", "Tab");
      await page.waitForSelector("#gauge-body tbody tr:nth-child(8)");
      assert_near(await table(page), kPipe, 1);
      assert.match(await page.textContent("#gauge-body"), /not in the flute file: 二メ/);
      const file = await taken(page, () => page.click("#gauge-take"));
      assert.equal(file.name, "my-flute.json");
      const words = ["gauge", "take.wav", "--like", "6", "--signs", kSigns, "-o", "my-flute.json"];
      assert.deepEqual(file.bytes, await native(words, { "take.wav": kTake }, "my-flute.json"));
    });

    it("is measured anew for other air, another tuning and another name", async () => {
      const { page } = window;
      await page.fill("#gauge-celsius", "28");
      await page.press("#gauge-celsius", "Tab");
      await page.waitForSelector('#gauge-body caption:text-is("What each sign sounds, brought to 20 °C")');
      // 2.95 cents a degree.
      assert_near(await table(page), kPipe.map(([sign, hz]) => [sign, hz * 2 ** ((-8 * 2.95) / 1200)]), 1.5);
      await page.fill("#gauge-name", "Lantern Row");
      await page.press("#gauge-name", "Tab");
      await page.waitForSelector('#gauge-body h3:text-is("8 signs measured: Lantern Row.json")');
      assert.equal(await page.evaluate(() => document.activeElement.id), "gauge-like");
    });

    it("is used at once, and kept", async () => {
      const { page } = window;
      await page.click("#gauge-use");
      await page.waitForSelector('#flute option[value="Lantern Row.json"]', { state: "attached" });
      assert.equal(await page.isVisible("#gauge-list"), false);
      assert.match(await text_of(page), /^flute: Lantern Row\.json$/m);
      // The tune that stood there has a sign that was not played.
      await page.waitForSelector("#faults b.error");
      await type_over(page, "flute: Lantern Row.json\nmeter: 4/4\n\n一 二 三 四 |=\n");
      await sheet_stands(page);
      assert.equal(await page.inputValue("#flute"), "Lantern Row.json");
      await page.reload();
      await sheet_stands(page);
      assert.equal(await page.inputValue("#flute"), "Lantern Row.json");
      // A second one of that name takes no place of the first.
      await dropped(page, "take.wav", kTake);
      await page.waitForSelector("#gauge-body h3");
      await page.click("#gauge-more summary");
      await page.fill("#gauge-signs", kSigns);
      await page.press("#gauge-signs", "Tab");
      await page.waitForSelector("#gauge-body tbody tr:nth-child(8)");
      // Who types a name and presses the button at once means it.
      await page.fill("#gauge-name", "Lantern Row");
      await page.click("#gauge-use");
      await page.waitForSelector('#flute option[value="Lantern Row-2.json"]', { state: "attached" });
    });

    it("may be a table of readings, or a sound that the browser can decode", async () => {
      const { page } = window;
      await page.reload();
      await sheet_stands(page);
      await dropped(page, "readings.csv", Buffer.from("sign,Hz\n一,539\n二,588.5\n"));
      await page.waitForSelector("#gauge-body tbody tr:nth-child(2)");
      assert.deepEqual(await table(page), [["一", 539], ["二", 588.5]]);
      assert.doesNotMatch(await page.textContent("#gauge-body thead"), /seconds|steadiness/);
      await page.setInputFiles("#gauge-list input[type=file]", {
        name: "wrong.csv", mimeType: "text/csv", buffer: Buffer.from("sign,Hz\n一,539\n二,what\n"),
      });
      await page.waitForSelector('#gauge-body h3:text-is("No flute could be made of it")');
      assert.match(await page.textContent("#gauge-body"), /fault, line 3.*"what" is no pitch/);
      await page.click("#gauge-more summary");
      const folder = await mkdtemp(join(tmpdir(), "yubifu-gauge-"));
      await writeFile(join(folder, "take.wav"), kTake);
      for (const kind of ["flac", "ogg"]) {
        execFileSync("sox", ["take.wav", "-r", "44100", `take.${kind}`], { cwd: folder });
        await page.setInputFiles("#gauge-list input[type=file]", join(folder, `take.${kind}`));
        await page.waitForSelector("#gauge-body h3");
        await page.fill("#gauge-signs", kSigns);
        await page.press("#gauge-signs", "Tab");
        await page.waitForSelector("#gauge-body tbody tr:nth-child(8)");
        assert_near(await table(page), kPipe, 1);
      }
      await rm(folder, { recursive: true });
    });

    it("that cannot be read is told, as is one that is too large", async () => {
      const { page } = window;
      const told = async (file, sentence) => {
        await page.setInputFiles("#gauge-list input[type=file]", file);
        await page.waitForFunction((text) => document.querySelector("#gauge-list").textContent.includes(text), sentence);
      };
      const file = (name, bytes) => ({ name, mimeType: "audio/mpeg", buffer: Buffer.from(bytes) });
      await told(file("photo.mp3", "no sound"), "This browser cannot read the sound of this file");
      await told(file("silent.wav", wav_of(silence(2))), "no tone is heard in 2.0 s of recording");
      await told(file("empty.wav", ""), "the recording is empty");
      await told(file("half.wav", kTake.subarray(0, 30)), "this is no recording that can be read");
      const folder = await mkdtemp(join(tmpdir(), "yubifu-gauge-"));
      await writeFile(join(folder, "long.mp3"), Buffer.alloc(16_000_001));
      await told(join(folder, "long.mp3"), "This file is too large: up to 250 MB of WAV or 16 MB");
      await rm(folder, { recursive: true });
      await page.keyboard.press("Escape");
    });

    it("said nothing to the console and asked the network for nothing", () => {
      assert.deepEqual(window.said, []);
      assert.deepEqual(window.late.filter((one) => !/worker\.js$|page\.js$|\.wasm$|\/$|yubifu\.html$/.test(one)), []);
    });
  });
}

describe("The microphone", () => {
  let folder;
  let browser;
  let server;
  const low = kPipe.slice(0, 4);
  before(async () => {
    folder = await mkdtemp(join(tmpdir(), "yubifu-gauge-"));
    // One tone too short, the first two signs, the second in the wrong octave for the third, then the
    // third and fourth; after a while the third once more, a little higher.
    const [tube, first, second, third] = low.map(([, hz]) => hz);
    const tones = [
      [tube, 0.25, 0.8], [tube, 0.9, 0.8], [first, 0.9, 0.8], [2 * first, 0.9, 0.8], [second, 0.9, 0.8],
      [third, 0.9, 4], [second * 1.01, 1.2, 2],
    ];
    await writeFile(join(folder, "played.wav"), wav_of(played(tones)));
    server = await host();
    browser = await launch([
      "--use-fake-device-for-media-stream",
      "--use-fake-ui-for-media-stream",
      `--use-file-for-fake-audio-capture=${join(folder, "played.wav")}%noloop`,
    ]);
  });
  after(async () => {
    await browser.close();
    await server.close();
    await rm(folder, { recursive: true });
  });

  for (const [home, address] of [["the folder", () => server.address], ["the single file", () => single_file]]) {
    it(`hears sign after sign on the page from ${home}, and one of them again`, async () => {
      const { page, context, said } = await open(browser, address());
      let asked = 0;
      await page.exposeFunction("asked_for_sound", () => ++asked);
      await page.evaluate(() => {
        const ask = navigator.mediaDevices.getUserMedia.bind(navigator.mediaDevices);
        navigator.mediaDevices.getUserMedia = async (wanted) => {
          globalThis.wanted = wanted;
          globalThis.asked_for_sound();
          return (globalThis.stream = await ask(wanted));
        };
      });
      const sign = () => page.textContent("#by-ear .now .sign");
      const next = (wanted) =>
        page.waitForFunction((wanted) => document.querySelector("#by-ear .now .sign")?.textContent === wanted, wanted);
      await page.click("#gauge-open");
      await page.selectOption("#gauge-like", "6");
      assert.equal(asked, 0);
      await page.click("#gauge-play");
      await page.waitForSelector("#by-ear");
      assert.equal(asked, 1);
      // What browsers do to make speech clear would spoil a flute.
      assert.deepEqual(await page.evaluate(() => globalThis.wanted.audio), {
        echoCancellation: false, noiseSuppression: false, autoGainControl: false, channelCount: 1,
      });
      assert.equal(await sign(), "筒");
      assert.match(await page.textContent("#by-ear .now [role=status]"), /Play 筒\. From the mouth end: closed closed/);
      await page.waitForFunction(() => document.querySelector("#by-ear meter").value > -30);
      await page.waitForFunction(() => document.querySelector("#by-ear .hint").textContent.includes("hold each sign for a second"));
      await next("一");
      await next("二");
      await page.waitForFunction(() => document.querySelector("#by-ear .hint").textContent.startsWith("It is not sure that this was 二"));
      assert.equal(await sign(), "二");
      await next("三");
      await next("四");
      assert.match(await page.getAttribute('#by-ear [data-sign="三"]', "aria-label"), /^三, 64[23]\.\d hertz: play it again$/);
      assert.deepEqual(await accessibility(page), []);
      await page.click('#by-ear [data-sign="二"]');
      assert.equal(await sign(), "二");
      await next("四");
      await page.click("#ear-done");
      await page.waitForSelector("#gauge-body tbody tr:nth-child(4)");
      assert.equal(await page.evaluate(() => globalThis.stream.getTracks()[0].readyState), "ended");
      assert_near(await table(page), low.map(([name, hz]) => [name, name === "二" ? hz * 1.01 : hz]), 2);
      assert.deepEqual(await accessibility(page), []);
      // What was heard goes with it, and a terminal measures the same in it.
      const sound = await taken(page, () => page.click("#gauge-sound"));
      const flute = await taken(page, () => page.click("#gauge-take"));
      const words = ["gauge", sound.name, "--like", "6", "--signs", "筒 一 二 三", "-o", flute.name];
      assert.deepEqual(flute.bytes, await native(words, { [sound.name]: sound.bytes }, flute.name));
      // The signs wait for more of them.
      assert.equal(await page.textContent("#gauge-back"), "Back to the signs (4 played)");
      await page.click("#gauge-back");
      await page.waitForSelector("#by-ear");
      await page.click("#ear-leave");
      assert.equal(await sign(), "五");
      await page.keyboard.press("Escape");
      assert.equal(await page.evaluate(() => globalThis.stream.getTracks()[0].readyState), "ended");
      // A page from the disk hears by an older way, of which Chromium says so.
      assert.deepEqual(said.filter((line) => home === "the folder" || !/^The ScriptProcessorNode/.test(line)), []);
      await context.close();
    });
  }

  it("fits on a phone, in Japanese", async () => {
    const { page, context } = await open(browser, server.address, {
      viewport: { width: 360, height: 640 }, hasTouch: true, isMobile: true, locale: "ja-JP", colorScheme: "dark",
    });
    await page.tap("#bring-open");
    await page.tap("#bring-gauge");
    const inside = async () => {
      const wide = await page.evaluate(() => {
        const dialog = document.querySelector("#gauge-list");
        return [document.documentElement.scrollWidth, dialog.scrollWidth - dialog.clientWidth];
      });
      assert.deepEqual(wide, [360, 0]);
    };
    await inside();
    await page.tap("#gauge-play");
    await page.waitForSelector("#by-ear");
    assert.match(await page.textContent("#by-ear .now [role=status]"), /^筒 を吹いてください。歌口の側から 閉/);
    await inside();
    const small = await page.evaluate(() =>
      [...document.querySelectorAll("#by-ear button")].filter((one) => one.offsetWidth < 24 || one.offsetHeight < 24).length,
    );
    assert.equal(small, 0);
    await page.waitForSelector("#ear-done:not(:disabled)");
    await page.tap("#ear-done");
    await page.waitForSelector("#gauge-body tbody tr");
    await inside();
    assert.deepEqual(await accessibility(page), []);
    await context.close();
  });

  it("that is denied or absent is told", async () => {
    for (const [flags, sentence] of [
      [["--use-fake-device-for-media-stream", "--deny-permission-prompts"], /may not use the microphone/],
      [["--use-fake-ui-for-media-stream"], /No microphone is to be had/],
    ]) {
      const deaf = await launch(flags);
      const { page, said } = await open(deaf, server.address);
      await page.click("#gauge-open");
      await page.click("#gauge-play");
      await page.waitForFunction(() => /microphone/i.test(document.querySelector("#gauge-list .told").textContent) &&
        !/asks/.test(document.querySelector("#gauge-list .told").textContent));
      assert.match(await page.textContent("#gauge-list .told"), sentence);
      assert.deepEqual(said, []);
      await deaf.close();
    }
  });
});
