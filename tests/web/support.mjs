// What the tests of the page share: a host of files on loopback, a browser, and the page in it, from
// that host and as the single file from the disk.
import assert from "node:assert/strict";
import { execFile } from "node:child_process";
import { createServer } from "node:http";
import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { after, before } from "node:test";
import { tmpdir } from "node:os";
import { dirname, extname, join, resolve } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";

export const root = resolve(dirname(fileURLToPath(import.meta.url)), "../..");
/** Where the page was built. */
export const built = process.env.YUBIFU_PAGE ?? join(root, "build/web");
const packages = createRequire(`${resolve(process.env.YUBIFU_WEB_PACKAGES ?? ".")}/`);
export const { chromium } = packages("playwright-core");
export const WebSocket = packages("ws");
export const axe_source = await readFile(packages.resolve("axe-core/axe.min.js"), "utf8");

const kTypes = {
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript; charset=utf-8",
  ".wasm": "application/wasm",
  ".txt": "text/plain; charset=utf-8",
};

/** Serves a folder; `asked` gathers the paths, and `files` stand before what the folder has. */
export async function host(folder = built) {
  const asked = [];
  const files = new Map();
  const server = createServer(async (request, response) => {
    const path = request.url.split("?")[0].replace(/\/$/, "/index.html");
    asked.push(path);
    try {
      const bytes = files.get(path) ?? (await readFile(join(folder, path)));
      response.writeHead(200, { "Content-Type": kTypes[extname(path)] ?? "application/octet-stream" });
      response.end(bytes);
    } catch {
      response.writeHead(404).end();
    }
  });
  await new Promise((listening) => server.listen(0, "127.0.0.1", listening));
  return {
    address: `http://127.0.0.1:${server.address().port}/`,
    asked,
    files,
    close: () => new Promise((closed) => (server.closeAllConnections(), server.close(closed))),
  };
}

export const single_file = pathToFileURL(join(built, "yubifu.html")).href;

export function launch(flags = []) {
  return chromium.launch({
    executablePath: process.env.YUBIFU_CHROMIUM ?? "/usr/bin/chromium",
    args: ["--no-sandbox", "--autoplay-policy=user-gesture-required", ...flags],
  });
}

/**
 * A window with the page, which must say nothing to the console; `options` are those of the browser
 * context. What it asks for after it has loaded is gathered in `late`.
 */
export async function open(browser, address, options = {}, context = undefined) {
  context ??= await browser.newContext({ locale: "en-US", viewport: { width: 1280, height: 800 }, ...options });
  const page = await context.newPage();
  page.setDefaultTimeout(15_000);
  const said = [];
  const late = [];
  page.on("console", (message) => {
    if (["error", "warning"].includes(message.type())) said.push(message.text());
  });
  page.on("pageerror", (error) => said.push(error.stack));
  await page.goto(address);
  await sheet_stands(page);
  page.on("request", (request) => {
    if (!request.url().startsWith("blob:") && !request.url().startsWith("data:")) late.push(request.url());
  });
  return { page, context, said, late };
}

/** The sheet of the text that stands in the editor now is drawn, and its notes are known. */
export async function sheet_stands(page) {
  await page.waitForFunction(
    () =>
      document.querySelector("#sheet .page")?.shadowRoot.querySelector("svg") &&
      document.querySelector("#play") && document.body.dataset.made === "now",
  );
}

/** Waits until the program has answered to the text of the editor, readable or not. */
export async function settled(page) {
  await page.waitForFunction(() => document.body.dataset.made !== "working");
}

/** The text of the tune, which is short enough to be in the document as a whole. */
export function text_of(page) {
  return page.evaluate(() =>
    [...document.querySelectorAll("#text .cm-line")].map((line) => line.textContent).join("\n"),
  );
}

/** Puts a text in the place of the tune's, by the keyboard. */
export async function type_over(page, text) {
  await page.click("#text .cm-content");
  await page.keyboard.press("ControlOrMeta+a");
  await page.keyboard.insertText(text);
  await page.waitForTimeout(20);
  await settled(page);
}

/** The numbers of the notes that the sheet shows, in order. */
export function notes_of_sheet(page) {
  return page.evaluate(() => {
    const numbers = new Set();
    for (const one of document.querySelectorAll("#sheet .page")) {
      for (const note of one.shadowRoot.querySelectorAll("[data-note]")) numbers.add(Number(note.dataset.note));
    }
    return [...numbers].sort((a, b) => a - b);
  });
}

/** The bytes of the file that `act` lets the page hand over. */
export async function taken(page, act) {
  const [download] = await Promise.all([page.waitForEvent("download"), act()]);
  return { name: download.suggestedFilename(), bytes: await readFile(await download.path()) };
}

/** What the native program makes: `words` in a folder with `files`, the bytes of `output`. */
export async function native(words, files, output) {
  const folder = await mkdtemp(join(tmpdir(), "yubifu-web-"));
  try {
    for (const [name, bytes] of Object.entries(files)) await writeFile(join(folder, name), bytes);
    await new Promise((done) =>
      execFile(process.env.YUBIFU_PROGRAM, [...words, "--no-settings"], { cwd: folder }, done),
    );
    return await readFile(join(folder, output));
  } finally {
    await rm(folder, { recursive: true });
  }
}

/** A browser and the page on loopback for the tests of a file: there once the first of them runs. */
export function staged() {
  const stage = {};
  before(async () => {
    stage.browser = await launch();
    stage.server = await host();
  });
  after(async () => {
    await stage.browser.close();
    await stage.server.close();
  });
  return stage;
}

/** What a checker of accessibility finds, as lines. */
export async function accessibility(page) {
  // The page's own policy lets no script in but its own; the checker comes through the debugger.
  await page.evaluate(axe_source);
  return page.evaluate(async () => {
    const { violations } = await globalThis.axe.run(document, { resultTypes: ["violations"] });
    return violations.flatMap(({ id, nodes }) => nodes.map((node) => `${id}: ${node.target} ${node.failureSummary}`));
  });
}

export { assert };
