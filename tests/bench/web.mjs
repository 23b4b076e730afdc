// How fast the page is, in Chromium: from opening to the first sheet, from a key to the new sheet, and how
// large its pieces are.
//
//   YUBIFU_WEB_PACKAGES=build/release/web-packages node tests/bench/web.mjs
//
// tests/web/run.sh installs these packages.
import { readFile } from "node:fs/promises";
import { cpus, loadavg } from "node:os";
import { join } from "node:path";
import { gzipSync } from "node:zlib";

import { built, host, launch, open, settled, sheet_stands, single_file } from "../web/support.mjs";

const sorted = (values) => [...values].sort((a, b) => a - b);
const at = (values, part) => sorted(values)[Math.min(values.length - 1, Math.floor(values.length * part))];
const ms = (value) => `${value.toFixed(0)} ms`;

/** The time from opening at which the sheet stands, in a browser that has never seen the page. */
async function first_sheet(address) {
  const browser = await launch();
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
  await context.addInitScript(() => {
    const look = () => {
      if (document.querySelector("#sheet .page")?.shadowRoot?.querySelector("svg")) globalThis.first = performance.now();
      else requestAnimationFrame(look);
    };
    requestAnimationFrame(look);
  });
  const page = await context.newPage();
  await page.goto(address);
  await page.waitForFunction(() => globalThis.first);
  const time = await page.evaluate(() => globalThis.first);
  await browser.close();
  return time;
}

/** A tune of so many notes, four a bar. */
function tune(notes) {
  const signs = "一 二 三 四 五 六 七 1 2 3 4 5 6 7".split(" ");
  let text = "title: Speed\nflute: 6\nmeter: 4/4\n\n";
  for (let i = 0; i < notes; ++i) {
    // A walk over the signs, as tunes go.
    text += signs[Math.abs(((i * 5) % 27) - 13)] + (i % 4 === 3 ? (i % 16 === 15 ? " |\n" : " | ") : " ");
  }
  return text.trimEnd();
}

/** From each key pressed to the picture of the sheet that it makes. */
async function keys(notes, presses) {
  const browser = await launch();
  const server = await host();
  const { page } = await open(browser, server.address);
  await page.click("#text .cm-content");
  await page.keyboard.press("ControlOrMeta+a");
  await page.keyboard.insertText(tune(notes));
  await settled(page);
  await sheet_stands(page);
  // The first line of music, on the page that is seen: of a long text only what is near is in the document.
  await page.keyboard.press("ControlOrMeta+Home");
  for (let line = 1; line < 6; ++line) await page.keyboard.press("ArrowDown");
  await page.keyboard.press("Home");
  await page.keyboard.press("ArrowRight");
  await page.evaluate(() => {
    globalThis.times = [];
    let pressed;
    addEventListener("keydown", (event) => (pressed ??= event.timeStamp), { capture: true });
    const seen = () => {
      if (pressed === undefined) return;
      const since = pressed;
      pressed = undefined;
      // After the next frame the picture is on the screen.
      requestAnimationFrame(() => {
        const channel = new MessageChannel();
        channel.port1.onmessage = () => globalThis.times.push(performance.now() - since);
        channel.port2.postMessage(0);
      });
    };
    for (const one of document.querySelectorAll("#sheet .page")) {
      new MutationObserver((changes) => changes.some((change) => change.type === "childList") && seen()).observe(one.shadowRoot, { childList: true });
    }
  });
  for (let i = 0; i < presses; ++i) {
    // メ and back: each changes the sheet.
    await page.keyboard.press(i % 2 ? "Backspace" : "m");
    await page.waitForFunction((count) => globalThis.times.length > count, i);
    await settled(page);
    await page.waitForTimeout(30);
  }
  const times = await page.evaluate(() => globalThis.times);
  await browser.close();
  await server.close();
  return times;
}

// What else the machine had to do, without which the times say little.
const load = () => `load ${loadavg()[0].toFixed(1)} on ${cpus().length} processors`;

const kilobytes = (bytes) => `${(bytes / 1000).toFixed(0)} KB`;
for (const name of ["yubifu.wasm", "page.js", "core_worker.js", "staff_worker.js", "index.html", "yubifu.html"]) {
  const bytes = await readFile(join(built, name));
  console.log(`${name}: ${kilobytes(bytes.length)}, compressed ${kilobytes(gzipSync(bytes, { level: 9 }).length)}`);
}
const server = await host();
for (const [name, address] of [["the folder on loopback", server.address], ["the single file from the disk", single_file]]) {
  const times = [];
  for (let i = 0; i < 5; ++i) times.push(await first_sheet(address));
  console.log(`opening to first sheet, ${name}: ${ms(at(times, 0.5))} (median of 5, ${ms(at(times, 1))} at most; ${load()})`);
}
await server.close();
for (const notes of [200, 2000]) {
  const times = await keys(notes, 60);
  console.log(`key to new sheet, ${notes} notes: median ${ms(at(times, 0.5))}, 95th percentile ${ms(at(times, 0.95))} (${load()})`);
}
