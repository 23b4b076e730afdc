// Every job of the page by clicking and typing, in Chromium: on the folder over loopback, and on the
// single file from the disk.
import { after, before, describe, it } from "node:test";
import { readFile } from "node:fs/promises";
import { join } from "node:path";

import {
  assert, native, notes_of_sheet, open, root, settled, sheet_stands, single_file, staged, taken, text_of, type_over,
} from "./support.mjs";

const mill_stream = join(root, "examples/scores/mill-stream.musicxml");
const ferry = await readFile(join(root, "examples/scores/ferry-lanterns.yubifu"), "utf8");

const stage = staged();

// The three views and the text mark the same note.
async function marked(page, name) {
  return page.evaluate((name) => {
    const text = [...document.querySelectorAll(`#text .${name}`)].map((one) => one.textContent).join("");
    const sheet = [...document.querySelectorAll("#sheet .page")].flatMap((one) =>
      [...one.shadowRoot.querySelectorAll(`.${name}`)].map((note) => Number(note.dataset.note)),
    );
    const staff = [...document.querySelectorAll(`#staff .${name}`)].map((note) => Number(note.dataset.note));
    const fingers = [...document.querySelectorAll(`#fingers .${name}`)].map((note) => Number(note.dataset.note));
    return { text, sheet: [...new Set(sheet)], staff: [...new Set(staff)], fingers };
  }, name);
}

for (const [home, address] of [
  ["the folder", () => stage.server.address],
  ["the single file", () => single_file],
]) {
  describe(`The page from ${home}`, () => {
    let window;
    before(async () => {
      window = await open(stage.browser, address());
    });
    after(async () => {
      await window.context.close();
    });

    it("opens with a tune, its sheet and its fingers, under a policy that lets nothing in", async () => {
      const { page } = window;
      assert.equal(await text_of(page), ferry);
      assert.deepEqual(await notes_of_sheet(page), [...Array(14).keys()]);
      assert.match(await page.textContent("#strip .sign"), /三/);
      const policy = await page.getAttribute('meta[http-equiv="Content-Security-Policy"]', "content");
      assert.match(policy, /^default-src 'none'; script-src ('self'|'sha256-[^']+') blob: 'wasm-unsafe-eval'; /);
      assert.match(policy, /; worker-src 'self' blob:; connect-src '(self|none)'; /);
      assert.match(policy, /; img-src data: blob:; font-src data:; style-src 'unsafe-inline'$/);
    });

    it("shows what is typed at once, and says what cannot be read", async () => {
      const { page } = window;
      await page.click("#text .cm-line:nth-child(6)");
      await page.keyboard.press("End");
      for (let i = 0; i < 2; ++i) await page.keyboard.press("Backspace");
      await page.keyboard.type("| 五 五 七 - |=");
      await settled(page);
      assert.deepEqual(await notes_of_sheet(page), [...Array(17).keys()]);
      await page.keyboard.type(" 二三");
      await page.waitForSelector("#faults b.error");
      assert.match(await page.textContent("#faults"), /`二三` is two words in one/);
      assert.equal(await page.textContent(".cm-lintRange-error"), "二三");
      assert.equal(await page.textContent("#stale"), "before the fault");
      await page.click("#undo");
      await sheet_stands(page);
      await page.waitForFunction(() => !document.querySelector("#faults b.error"));
      assert.equal(await page.textContent("#stale"), "");
    });

    it("completes what stands in braces", async () => {
      const { page } = window;
      await type_over(page, ferry);
      await page.click("#text .cm-line:nth-child(6)");
      await page.keyboard.press("Home");
      await page.keyboard.press("ArrowRight");
      await page.keyboard.type("{yu");
      await page.waitForSelector(".cm-tooltip-autocomplete li[aria-selected]");
      assert.match(await page.textContent(".cm-tooltip-autocomplete li"), /yuri.*vibrato/);
      await page.waitForTimeout(100);
      await page.keyboard.press("Enter");
      await settled(page);
      assert.match(await text_of(page), /\n三\{yuri\} 三 五/);
      await sheet_stands(page);
    });

    it("types with the keys of the flute alone", async () => {
      const { page } = window;
      await type_over(page, "flute: 6\nmeter: 4/4\n\n");
      const key = (sign) => page.click(`#pad button:text-is("${sign}")`);
      for (const sign of ["一", "二", "三メ", "(", "五", "六", ")", "|", "7", "-", "8", "・", "|="]) await key(sign);
      await settled(page);
      assert.equal(await text_of(page), "flute: 6\nmeter: 4/4\n\n一 二 三メ (五 六) | 7 - 8 ・ |=");
      assert.deepEqual(await notes_of_sheet(page), [...Array(7).keys()]);
      // Each is taken back as it was typed, with the space before it.
      await key("⌫");
      await key("⌫");
      assert.match(await text_of(page), /\| 7 - 8$/);
    });

    it("marks one note in the text, the sheet, the staff and the fingers", async () => {
      const { page } = window;
      await type_over(page, ferry);
      await page.click('#sheet tspan[data-note="5"]');
      assert.deepEqual(await marked(page, "at-mark"), { text: "六", sheet: [5], staff: [], fingers: [] });
      await page.click("#tab-staff");
      await page.waitForSelector("#staff g.note[data-note]");
      // Thirteen struck notes and the one held over from the bar before are fourteen; 六 - and 三 - are
      // halves, so that nothing is tied but 1 (- 七).
      await page.click('#staff g.note[data-note="8"] >> nth=0');
      assert.deepEqual((await marked(page, "at-mark")).sheet, [8]);
      assert.equal((await marked(page, "at-mark")).text, "1");
      await page.click("#tab-fingers");
      await page.click('#fingers [data-note="12"]');
      const at = await marked(page, "at-mark");
      assert.deepEqual([at.text, at.sheet, at.fingers], ["三メ", [12], [12]]);
      assert.match(await page.textContent("#fingers .now"), /三メ.*from the mouth end closed closed closed closed half open open/s);
      await page.keyboard.press("ArrowRight");
      assert.deepEqual((await marked(page, "at-mark")).fingers, [13]);
      await page.click("#tab-sheet");
    });

    it("shows the note of the cursor on a page far down", async () => {
      const { page } = window;
      const bars = 240;
      await type_over(page, `flute: 6\nmeter: 4/4\n\n${"一 二 三 四 |\n".repeat(bars)}`);
      await settled(page);
      await page.keyboard.press("ControlOrMeta+Home");
      await page.keyboard.press("ControlOrMeta+End");
      for (let step = 0; step < 4; ++step) await page.keyboard.press("ArrowLeft");
      await page.waitForFunction((last) => {
        const seen = document.querySelector("#sheet").getBoundingClientRect();
        return [...document.querySelectorAll("#sheet .page")].some((one) => {
          const note = one.shadowRoot.querySelector(".at-mark");
          const place = note?.getBoundingClientRect();
          return note?.getAttribute("data-note") === String(last) && place.bottom <= seen.bottom && place.top >= seen.top;
        });
      }, bars * 4 - 1);
      await type_over(page, ferry);
      await settled(page);
    });

    it("plays, and marks what sounds", async () => {
      const { page } = window;
      await page.selectOption("#tempo", "120");
      await page.click("#play");
      await page.waitForFunction(() => document.querySelector("#text .at-sound"));
      const first = await marked(page, "at-sound");
      assert.deepEqual([first.text, first.sheet], ["三", [0]]);
      await page.waitForFunction(() =>
        document.querySelector("#sheet .page").shadowRoot.querySelector('.at-sound[data-note="2"]'),
      );
      await page.click("#play");
      assert.deepEqual((await marked(page, "at-sound")).sheet, []);
      // Bars 2 to 2.
      await page.fill("#from-bar", "2");
      await page.fill("#to-bar", "2");
      await page.press("#to-bar", "Tab");
      await page.keyboard.press("Control+Enter");
      await page.waitForFunction(() => document.querySelector("#text .at-sound")?.textContent === "七");
      await page.keyboard.press("Control+Enter");
      assert.match(await page.textContent("#play"), /Listen/);
      await page.fill("#from-bar", "");
      await page.fill("#to-bar", "");
    });

    it("takes another flute: the fingers stay, or the pitch", async () => {
      const { page } = window;
      await type_over(page, ferry);
      await page.selectOption("#flute", "8");
      await settled(page);
      assert.match(await text_of(page), /^flute: 8$/m);
      assert.match(await text_of(page), /三 三 五 六/);
      await page.click('.notice button:text-is("Keep the pitch instead")');
      await page.waitForFunction(() => document.querySelector("#text").textContent.includes("二 二 四"));
      await settled(page);
      assert.match(await text_of(page), /^flute: 8$/m);
      await page.click("#undo");
      await page.click("#undo");
      assert.equal(await text_of(page), ferry);
    });

    it("takes every format away, byte for byte as the program writes it", async () => {
      const { page } = window;
      await type_over(page, ferry);
      const name = "Ferry Lanterns";
      const given = { [`${name}.yubifu`]: ferry };
      for (const ending of ["musicxml", "mxl", "mid", "svg", "html", "json"]) {
        await page.click("#take-open");
        const file = await taken(page, () => page.click(`#take-${ending}`));
        assert.equal(file.name, `${name}.${ending}`);
        const words = ["convert", `${name}.yubifu`, "-o", file.name];
        assert.deepEqual(file.bytes, await native(words, given, file.name), ending);
      }
      await page.click("#take-open");
      assert.equal(String((await taken(page, () => page.click("#take-yubifu"))).bytes), ferry);
      await page.click("#take-open");
      const chart = await taken(page, () => page.click("#take-chart"));
      assert.deepEqual(chart.bytes, await native(["chart", "--flute", "6", "-o", "c.svg"], {}, "c.svg"));
    });

    it("brings a staff in, for the flute that suits it, and lets another one be taken", async () => {
      const { page } = window;
      await page.click("#bring-open");
      await page.setInputFiles("#bring-list input[type=file]", mill_stream);
      await page.waitForSelector("#origin table");
      await settled(page);
      assert.match(await text_of(page), /^title: Mill Stream\nflute: 7\n/);
      assert.match(await page.textContent("#origin tr.taken"), /^7takenB4/);
      assert.match(await page.textContent("#origin"), /Nothing was left out/);
      await page.click('#origin button[aria-label="Take the flute 8"]');
      await page.waitForFunction(() => document.querySelector("#origin tr.taken th")?.textContent === "8");
      await settled(page);
      const staff = await readFile(mill_stream);
      const words = ["--flute", "8", "--octave", "1"];
      const converted = await native(
        ["convert", "mill-stream.musicxml", "-o", "m.yubifu", ...words],
        { "mill-stream.musicxml": staff },
        "m.yubifu",
      );
      assert.equal((await text_of(page)).trimEnd(), String(converted).trimEnd());
      const annotated = await taken(page, () => page.click("#annotated"));
      assert.equal(annotated.name, "mill-stream-fingered.musicxml");
      assert.deepEqual(
        annotated.bytes,
        await native(
          ["annotate", "mill-stream.musicxml", "-o", "a.musicxml", ...words],
          { "mill-stream.musicxml": staff },
          "a.musicxml",
        ),
      );
      // The choices are the program's: an octave lower than this flute goes leaves gaps, which are told.
      await page.click("#origin .more summary");
      await page.fill('#origin label:has-text("Octaves") input', "-1");
      await page.press('#origin label:has-text("Octaves") input', "Tab");
      await page.waitForFunction(() => document.querySelector("#text").textContent.includes("?"));
    });

    it("drops several files at once, a MIDI file and a flute among them", async () => {
      const { page } = window;
      const midi = await native(["convert", "f.yubifu", "-o", "f.mid"], { "f.yubifu": ferry }, "f.mid");
      const flute = await readFile(join(root, "examples/flutes/harvest-six.json"), "utf8");
      await page.evaluate(
        ([midi, flute]) => {
          const data = new DataTransfer();
          data.items.add(new File([Uint8Array.from(midi)], "ferry.mid"));
          data.items.add(new File([flute], "harvest-six.json"));
          data.items.add(new File(["flute: ../flutes/harvest-six.json\nmeter: 2/4\n\n二 (三 五) | 六 五 |=\n"], "own.yubifu"));
          document.body.dispatchEvent(new DragEvent("drop", { dataTransfer: data, bubbles: true, cancelable: true }));
        },
        [[...midi], flute],
      );
      await page.waitForFunction(() => document.querySelector("#tune-name").textContent === "own");
      await sheet_stands(page);
      assert.match(await page.textContent("#notices"), /ferry\.mid is here/);
      assert.match(await page.textContent("#notices"), /tunes call it harvest-six\.json/);
      assert.deepEqual(await notes_of_sheet(page), [0, 1, 2, 3, 4]);
      // Six holes, as the file says, and its signs on the keys.
      assert.equal(await page.locator("#strip .flute circle.open, #strip .flute circle.closed").count(), 6);
    });

    it("says of broken, empty and foreign files what the program says, and goes on", async () => {
      const { page } = window;
      const before = await text_of(page);
      const wrong = [
        ["empty.mid", [], "a MIDI file begins with the letters MThd"],
        ["holiday.pdf", [37, 80, 68, 70, 255, 254, 0], "this is pdf, which is only written, never read"],
        ["broken.mxl", [80, 75, 3, 4, 1, 2, 3], "the container is damaged or cut short"],
        ["letter.txt", [...Buffer.from("Dear Ann,\nsee you soon.\n")], "cannot tell the format of this file"],
        ["half.musicxml", [...Buffer.from('<?xml version="1.0"?><score-partwise><part')], ""],
      ];
      for (const [name, bytes, sentence] of wrong) {
        await page.setInputFiles("#bring-list input[type=file]", {
          name, mimeType: "application/octet-stream", buffer: Buffer.from(bytes),
        });
        const notice = page.locator(`.notice[data-about="${name}"]`);
        await notice.waitFor();
        assert.match(await notice.textContent(), new RegExp(`^${name} could not be brought in: .{10}`));
        assert.ok((await notice.textContent()).includes(sentence), await notice.textContent());
        await notice.locator("button").click();
      }
      assert.equal(await text_of(page), before);
    });

    it("keeps several tunes, takes one out and puts it back", async () => {
      const { page } = window;
      const names = () => page.locator("#tunes-list .tunes .name").allTextContents();
      await page.click("#tunes-open");
      const before = await names();
      assert.ok(before.includes("Ferry Lanterns") && before.includes("Mill Stream"), String(before));
      await page.click("#tune-new");
      await page.waitForFunction(() => document.querySelector("#text").textContent.includes("la la la"));
      await sheet_stands(page);
      assert.equal(await page.textContent("#tune-name"), "Untitled");
      await type_over(page, "title: Own tune\n\n一 二 三 四 |=\n");
      await page.waitForFunction(() => document.querySelector("#tune-name").textContent === "Own tune");
      await page.click("#tunes-open");
      await page.click('#tunes-list button[aria-label="Remove Own tune"]');
      await page.keyboard.press("Escape");
      await page.click('.notice button:text-is("Put it back")');
      await page.waitForFunction(() => document.querySelector("#text").textContent.includes("Own tune"));
      await page.waitForTimeout(400);
      await page.reload();
      await sheet_stands(page);
      assert.match(await text_of(page), /^title: Own tune/);
      await page.click("#tunes-open");
      // "own" has no title, so that it keeps the name of its file.
      assert.ok(before.includes("own"), String(before));
      assert.deepEqual((await names()).sort(), ["Own tune", ...before].sort());
      await page.keyboard.press("Escape");
    });

    it("takes all tunes away as one archive", async () => {
      const { page } = window;
      await page.click("#take-open");
      const archive = await taken(page, () => page.click("#take-all"));
      assert.equal(archive.name, "tunes.zip");
      const listed = archive.bytes.toString("latin1");
      for (const name of ["Mill Stream/Mill Stream.musicxml", "Own tune/Own tune.mid", "own/own.svg", "harvest-six.json"]) {
        assert.ok(listed.includes(name), name);
      }
    });

    it("prints the sheet and nothing else", async () => {
      const { page } = window;
      await page.evaluate(() => {
        window.printed = 0;
        window.print = () => ++window.printed;
      });
      await page.click("#take-open");
      await page.click("#take-print");
      assert.equal(await page.evaluate(() => window.printed), 1);
      await page.emulateMedia({ media: "print" });
      assert.equal(await page.isVisible("#sheet .page"), true);
      for (const other of ["#head", "#tune", "#listen", "#pad", "#notices"]) {
        assert.equal(await page.isVisible(other), false, other);
      }
      await page.emulateMedia({ media: "screen" });
    });

    it("speaks Japanese as well, the program too", async () => {
      const { page } = window;
      await page.click("#language");
      await settled(page);
      assert.equal(await page.getAttribute("html", "lang"), "ja");
      assert.equal(await page.textContent("#take-open"), "持ち出す");
      await type_over(page, "flute: 6\n\n二三 四 五 六 |=\n");
      await page.waitForSelector("#faults b.error");
      assert.match(await page.textContent("#faults"), /誤り、|誤り, 3 行目.*`二三`/s);
      await page.click("#language");
      await settled(page);
      assert.match(await page.textContent("#faults"), /fault, line 3/);
    });

    it("said nothing to the console and asked the network for nothing", async () => {
      assert.deepEqual(window.said, []);
      const allowed = home === "the folder" ? /\/(staff_worker|core_worker|service_worker|page)\.js$|\/yubifu\.wasm$|\/$/ : /yubifu\.html$/;
      assert.deepEqual(window.late.filter((one) => !allowed.test(one)), []);
    });
  });
}
