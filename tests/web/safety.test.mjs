// Nothing typed or brought in becomes markup, nothing is lost where the browser keeps nothing or another
// window has the same tune, and a visit without a network works.
import { describe, it } from "node:test";
import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";

import {
  assert, built, host, notes_of_sheet, open, root, settled, sheet_stands, single_file, staged, taken, text_of,
  type_over,
} from "./support.mjs";

const stage = staged();

const kEvil = '<img src=x onerror="globalThis.hit=1"><script>globalThis.hit=1</script><svg onload="globalThis.hit=1">';

async function untouched(page) {
  assert.equal(await page.evaluate(() => globalThis.hit), undefined);
  const found = await page.evaluate(() => {
    const roots = [document, ...[...document.querySelectorAll(".page")].map((one) => one.shadowRoot)];
    return roots.flatMap((one) => [...one.querySelectorAll("img, script:not([src]):not([id]), foreignObject, iframe, [onerror], [onload]")])
      .filter((one) => one.localName !== "script" || !one.textContent.startsWith('"use strict"'))
      .map((one) => one.outerHTML.slice(0, 80));
  });
  assert.deepEqual(found, []);
}

describe("No text becomes markup", () => {
  for (const [home, address] of [["the folder", () => stage.server.address], ["the single file", () => single_file]]) {
    it(`in ${home}: header, song, section, remark, names of files, faults`, async () => {
      const { page, context, said } = await open(stage.browser, address());
      const quoted = kEvil.replaceAll('"', '\\"');
      const song = kEvil.replaceAll(" ", "_").replaceAll("|", "");
      for (const key of ["title", "subtitle", "composer", "lyricist", "source", "rights"]) {
        await type_over(page, `${key}: ${kEvil}\nflute: 6\nmeter: 4/4\n\n三 四 五 六 |=\n`);
        await sheet_stands(page);
      }
      await type_over(
        page,
        `title: ${kEvil}\nflute: 6\nmeter: 4/4\n\n{section "${quoted}"} 三{pre 六} {text "${quoted}"} 四 五 六 |= # ${kEvil}\n> ${song} la la la\n`,
      );
      await sheet_stands(page);
      assert.ok((await notes_of_sheet(page)).length >= 4);
      await page.click("#tab-staff");
      await page.waitForSelector("#staff g.note");
      await page.click("#tab-fingers");
      await page.click("#tunes-open");
      await page.keyboard.press("Escape");
      await untouched(page);
      // Faults quote what was typed.
      await type_over(page, `flute: 6\n\n${kEvil} {${kEvil.replaceAll(/[{}]/g, "")}} 三 |=\n`);
      await page.waitForSelector("#faults b.error");
      await page.hover(".cm-lintRange-error");
      await page.waitForSelector(".cm-tooltip-lint");
      await untouched(page);
      // A flute file with an evil title, and files with evil names, good and bad.
      const name = '<img src=x onerror="globalThis.hit=1">';
      const file = (suffix, text) => ({ name: name + suffix, mimeType: "text/plain", buffer: Buffer.from(text) });
      const staff = await readFile(join(root, "examples/scores/mill-stream.musicxml"), "utf8");
      const evil_staff = staff.replace("Mill Stream", kEvil.replaceAll("<", "&lt;"));
      await page.setInputFiles("#bring-list input[type=file]", [
        file(".json", JSON.stringify({ "yubifu-flute": 1, title: kEvil, like: "6" })),
        file(".pdf", "no"),
        file(".musicxml", evil_staff),
      ]);
      await page.waitForSelector("#origin table");
      await settled(page);
      await page.click("#tunes-open");
      await page.keyboard.press("Escape");
      await page.click("#take-open");
      const taken_away = await taken(page, () => page.click("#take-musicxml"));
      assert.ok(!/[<>"/]/.test(taken_away.name), taken_away.name);
      await untouched(page);
      assert.deepEqual(said, []);
      await context.close();
    });
  }
});

describe("What is kept", () => {
  it("is told to be only in this window where the browser keeps nothing", async () => {
    const context = await stage.browser.newContext({ locale: "en-US" });
    await context.addInitScript(() => {
      Object.defineProperty(window, "localStorage", {
        get() {
          throw new DOMException("no", "SecurityError");
        },
      });
    });
    const { page, said } = await open(stage.browser, stage.server.address, {}, context);
    assert.match(await page.textContent("#notices"), /keeps nothing for this page/);
    await type_over(page, "title: Here\n\n一 二 三 四 |=\n");
    await page.click("#tunes-open");
    await page.click("#tunes-list #tune-new");
    await page.waitForFunction(() => document.querySelector("#text").textContent.includes("la la la"));
    await page.click("#tunes-open");
    await page.click('#tunes-list .name:text-is("Here")');
    assert.match(await text_of(page), /^title: Here/);
    assert.deepEqual(said, []);
    await context.close();
  });

  it("is told where its space is full, loses nothing, and is kept as soon as there is space", async () => {
    const { page, context } = await open(stage.browser, stage.server.address);
    await page.evaluate(() => {
      const set = Storage.prototype.setItem;
      Storage.prototype.setItem = function (...given) {
        if (globalThis.full) throw new DOMException("full", "QuotaExceededError");
        return set.apply(this, given);
      };
      globalThis.full = true;
    });
    await type_over(page, "title: Full\n\n一 二 三 四 |=\n");
    await page.waitForSelector('.notice[data-about="keeping"]');
    assert.match(await page.textContent("#notices"), /space of this browser is full/);
    assert.match(await text_of(page), /^title: Full/);
    await page.evaluate(() => (globalThis.full = false));
    await page.keyboard.type("# kept");
    await page.waitForFunction(() => !document.querySelector('.notice[data-about="keeping"]'));
    await page.reload();
    await sheet_stands(page);
    assert.match(await text_of(page), /# kept$/);
    await context.close();
  });

  it("outlives a window that closes at once", async () => {
    const { page, context } = await open(stage.browser, stage.server.address);
    await type_over(page, "title: Quick\n\n一 二 三 四 |=\n");
    await page.close();
    const again = await open(stage.browser, stage.server.address, {}, context);
    assert.match(await text_of(again.page), /^title: Quick/);
    await context.close();
  });

  it("follows another window, and where both changed overwrites neither", async () => {
    const context = await stage.browser.newContext({ locale: "en-US" });
    // A window that sleeps hears nothing of what another one writes.
    await context.addInitScript(() => {
      const listen = window.addEventListener;
      window.addEventListener = (name, tell, ...more) =>
        listen.call(window, name, name === "storage" ? (event) => globalThis.asleep || tell(event) : tell, ...more);
    });
    const { page: one } = await open(stage.browser, stage.server.address, {}, context);
    const { page: two } = await open(stage.browser, stage.server.address, {}, context);
    await type_over(one, "title: Both\n\n一 二 三 四 |=\n");
    await two.waitForFunction(() => document.querySelector("#text").textContent.includes("Both"));
    assert.match(await two.textContent("#notices"), /Changed in another window/);
    await two.evaluate(() => (globalThis.asleep = true));
    await type_over(one, "title: From one\n\n一 二 三 四 |=\n");
    await one.waitForTimeout(400);
    await two.click("#text .cm-content");
    await two.keyboard.press("ControlOrMeta+End");
    await two.keyboard.type("# from two");
    await two.waitForSelector('.notice[data-about="elsewhere"] button:text-is("Keep both")');
    await one.waitForTimeout(400);
    assert.match(await text_of(one), /From one/);
    assert.match(await text_of(two), /# from two$/);
    await two.click('.notice button:text-is("Keep both")');
    await two.waitForTimeout(400);
    const kept = await two.evaluate(() =>
      Object.keys(localStorage).filter((key) => key.startsWith("yubifu/tune/")).map((key) => JSON.parse(localStorage[key]).text),
    );
    assert.ok(kept.some((text) => text.includes("From one")) && kept.some((text) => text.includes("# from two")), String(kept));
    await context.close();
  });
});

describe("Without a network", () => {
  it("the folder works after the first visit, the staff too", async () => {
    const own = await host();
    const { page, context } = await open(stage.browser, own.address);
    await page.evaluate(() => navigator.serviceWorker.ready);
    await own.close();
    await page.reload();
    await sheet_stands(page);
    assert.deepEqual((await notes_of_sheet(page)).length, 14);
    await page.click("#tab-staff");
    await page.waitForSelector("#staff g.note");
    await context.close();
  });

  it("a newer version is offered, and taken when asked for", async () => {
    const own = await host();
    const { page, context } = await open(stage.browser, own.address);
    await page.evaluate(() => navigator.serviceWorker.ready);
    await page.reload();
    await sheet_stands(page);
    const worker = await readFile(join(built, "service_worker.js"), "utf8");
    const name = /yubifu-/.exec(worker) && /"([0-9a-f]{16})"/.exec(worker)[1];
    own.files.set("/service_worker.js", worker.replace(name, "0123456789abcdef"));
    own.files.set("/index.html", (await readFile(join(built, "index.html"), "utf8")).replace("<body>", '<body class="newer">'));
    await page.reload();
    await sheet_stands(page);
    await page.waitForSelector('.notice[data-about="update"]');
    assert.equal(await page.getAttribute("body", "class"), null);
    await Promise.all([page.waitForEvent("load"), page.click('.notice button:text-is("Change to it now")')]);
    await sheet_stands(page);
    assert.equal(await page.getAttribute("body", "class"), "newer");
    assert.deepEqual(await page.evaluate(() => caches.keys()), ["yubifu-0123456789abcdef"]);
    await context.close();
    await own.close();
  });
});

describe("Long work", () => {
  it("shows that it goes on and can be cancelled; ten megabytes of staff work", async () => {
    const { page, context } = await open(stage.browser, stage.server.address);
    const bar = (number) =>
      `<measure number="${number}">${number === 1 ? "<attributes><divisions>2</divisions><time><beats>4</beats><beat-type>4</beat-type></time></attributes>" : ""}${'<note>\n        <pitch>\n          <step>D</step>\n          <octave>5</octave>\n        </pitch>\n        <duration>2</duration>\n        <voice>1</voice>\n        <type>quarter</type>\n        <stem>up</stem>\n      </note>\n      '.repeat(4)}</measure>\n`;
    let text = '<?xml version="1.0" encoding="UTF-8"?>\n<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Flute</part-name></score-part></part-list><part id="P1">\n';
    for (let number = 1; text.length < 10_000_000; ++number) text += bar(number);
    text += "</part></score-partwise>";
    const folder = await mkdtemp(join(tmpdir(), "yubifu-safety-"));
    const file = join(folder, "long.musicxml");
    await writeFile(file, text);
    const before = await text_of(page);
    await page.setInputFiles("#bring-list input[type=file]", file);
    await page.waitForSelector("#progress progress");
    await page.click('#progress button:text-is("Cancel")');
    await page.waitForSelector('.notice[data-about="long.musicxml"]');
    assert.match(await page.textContent("#notices"), /long\.musicxml was not brought in/);
    assert.equal(await text_of(page), before);
    await page.setInputFiles("#bring-list input[type=file]", file);
    await page.waitForSelector("#progress progress");
    await page.waitForSelector("#origin table", { timeout: 60_000 });
    await context.close();
    await rm(folder, { recursive: true });
  });
});
