// What the tests of sound and marking share: a browser page with modules of src/web/page in it, and
// the program's listings of tunes typed in a test.
//
// YUBIFU_PROGRAM is the native program; npm packages are those of YUBIFU_WEB_PACKAGES and of the page.
import { execFileSync } from "node:child_process";
import { copyFileSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { basename, join, resolve } from "node:path";
import { fileURLToPath } from "node:url";

export const root = resolve(fileURLToPath(import.meta.url), "../../..");
const program = process.env.YUBIFU_PROGRAM ?? "";
const packages = [process.env.YUBIFU_WEB_PACKAGES ?? root, join(root, "src/web")];
if (!program) throw new Error("YUBIFU_PROGRAM names no program");

/** The file of an npm package. */
export function package_file(name) {
  for (const folder of packages) {
    try {
      return createRequire(join(resolve(folder), "package.json")).resolve(name);
    } catch {
      // The other folder may have it.
    }
  }
  throw new Error(`npm package ${name} is not there`);
}

const package_of = (name) => createRequire(import.meta.url)(package_file(name));

/** What the program makes of a tune, with flute files of the repository beside it. */
export function converted(tune, output, flutes = []) {
  const folder = mkdtempSync(join(tmpdir(), "yubifu-web-"));
  try {
    for (const flute of flutes) copyFileSync(join(root, flute), join(folder, basename(flute)));
    writeFileSync(join(folder, "tune.yubifu"), tune);
    const words = ["convert", "tune.yubifu", "-o", output, "--no-settings"];
    execFileSync(resolve(program), words, { cwd: folder, stdio: "pipe" });
    return readFileSync(join(folder, output), "utf8");
  } finally {
    rmSync(folder, { recursive: true });
  }
}

export const listing_of = (tune, flutes) => JSON.parse(converted(tune, "tune.sound.json", flutes));

/** One or more modules of the page as a script that leaves them in the global `page`. */
export async function bundled(...names) {
  const { build } = package_of("esbuild");
  const folder = join(root, "src/web/page");
  const made = await build({
    stdin: {
      contents: names.map((name) => `export * from "./${name}.ts";`).join("\n"),
      resolveDir: folder,
      loader: "ts",
    },
    bundle: true,
    format: "iife",
    globalName: "page",
    target: "es2022",
    write: false,
  });
  return made.outputFiles[0].text;
}

/** Runs `body` with a page of Chromium that has the modules. */
export async function with_page(names, body) {
  const { chromium } = package_of("playwright-core");
  const browser = await chromium.launch({
    executablePath: process.env.YUBIFU_CHROMIUM ?? "/usr/bin/chromium",
    args: ["--no-sandbox", "--autoplay-policy=no-user-gesture-required"],
  });
  try {
    const page = await browser.newPage();
    const faults = [];
    page.on("pageerror", (error) => faults.push(String(error)));
    page.on("console", (line) => {
      if (line.type() === "error") faults.push(line.text());
    });
    // Some of a browser works only in pages that came safely; nothing leaves the computer.
    await page.route("https://page.test/", (route) =>
      route.fulfill({ contentType: "text/html", body: "<!doctype html><title>test</title>" }));
    await page.goto("https://page.test/");
    await page.addScriptTag({ content: await bundled(...names) });
    await body(page);
    check("the console has no errors", faults.join("; ") === "", faults.join("; "));
  } finally {
    await browser.close();
  }
}

let checks = 0;
let failures = 0;

export function check(what, holds, found = "") {
  checks += 1;
  if (holds) return;
  failures += 1;
  console.log(`FAILED: ${what}${found === "" ? "" : `: ${found}`}`);
}

export function same(what, found, wanted) {
  check(what, JSON.stringify(found) === JSON.stringify(wanted), `${JSON.stringify(found)}, not ${JSON.stringify(wanted)}`);
}

export function finish() {
  console.log(`${checks} checks, ${failures} failed`);
  process.exitCode = failures === 0 ? 0 : 1;
}
