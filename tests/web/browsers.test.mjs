// The main job (open, type, see, hear, take away) in the other engines: Firefox through WebDriver BiDi,
// WebKitGTK through its own driver. Where one of them is not installed this is said and passed over.
import { after, before, describe, it } from "node:test";
import { spawn } from "node:child_process";
import { existsSync } from "node:fs";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";

import { assert, host, single_file, WebSocket } from "./support.mjs";

/** Waits for a line of a program that it starts, as what it listens on. */
function started(command, words, environment, pattern) {
  const child = spawn(command, words, { env: { ...process.env, ...environment } });
  const line = new Promise((found, failed) => {
    let said = "";
    const look = (piece) => {
      said += piece;
      const match = pattern.exec(said);
      if (match) found(match);
    };
    child.stderr.on("data", look);
    child.stdout.on("data", look);
    child.on("error", failed);
    child.on("exit", (status) => failed(new Error(`${command} ended with ${status}: ${said}`)));
  });
  return { child, line };
}

/** Firefox: `run` evaluates a function in the page, `press` clicks, `type` types. */
async function firefox() {
  const profile = await mkdtemp(join(tmpdir(), "yubifu-firefox-"));
  const { child, line } = started(
    "firefox-esr",
    ["--headless", "--no-remote", "--profile", profile, "--remote-debugging-port=0", "about:blank"],
    { MOZ_DISABLE_CONTENT_SANDBOX: "1", HOME: profile },
    /WebDriver BiDi listening on (ws:\S+)/,
  );
  const [, address] = await line;
  const socket = new WebSocket(`${address}/session`);
  await new Promise((opened, failed) => socket.on("open", opened).on("error", failed));
  const waiting = new Map();
  const said = [];
  socket.on("message", (text) => {
    const message = JSON.parse(text);
    if (message.type === "event" && message.params.level === "error") said.push(message.params.text);
    waiting.get(message.id)?.(message);
  });
  let id = 0;
  const send = async (method, params) => {
    const mine = ++id;
    const answer = new Promise((done) => waiting.set(mine, done));
    socket.send(JSON.stringify({ id: mine, method, params }));
    const message = await answer;
    if (message.type === "error") throw new Error(`${method}: ${message.message}`);
    return message.result;
  };
  await send("session.new", { capabilities: {} });
  await send("session.subscribe", { events: ["log.entryAdded"] });
  const { contexts } = await send("browsingContext.getTree", {});
  const context = contexts[0].context;
  await send("browsingContext.setViewport", { context, viewport: { width: 1200, height: 800 } });
  return {
    said,
    open: (url) => send("browsingContext.navigate", { context, url, wait: "complete" }),
    async run(work) {
      const { result, exceptionDetails } = await send("script.evaluate", {
        expression: `JSON.stringify((${work})() ?? null)`,
        target: { context },
        awaitPromise: true,
      });
      if (exceptionDetails) throw new Error(exceptionDetails.text);
      return JSON.parse(result.value);
    },
    press: async (x, y) =>
      send("input.performActions", {
        context,
        actions: [
          {
            type: "pointer", id: "mouse",
            actions: [
              { type: "pointerMove", x: Math.round(x), y: Math.round(y) },
              { type: "pointerDown", button: 0 },
              { type: "pointerUp", button: 0 },
            ],
          },
        ],
      }),
    type: async (text) =>
      send("input.performActions", {
        context,
        actions: [
          {
            type: "key", id: "keys",
            actions: [...text].flatMap((value) => [{ type: "keyDown", value }, { type: "keyUp", value }]),
          },
        ],
      }),
    async close() {
      socket.close();
      child.kill();
      await new Promise((ended) => child.on("exit", ended));
      await rm(profile, { recursive: true, force: true });
    },
  };
}

const kMiniBrowser = ["4.1", "4.0"]
  .map((version) => `/usr/lib/x86_64-linux-gnu/webkit2gtk-${version}/MiniBrowser`)
  .find((path) => existsSync(path));

async function webkit() {
  const home = await mkdtemp(join(tmpdir(), "yubifu-webkit-"));
  const display = started("Xvfb", ["-displayfd", "1", "-screen", "0", "1280x900x24", "-nolisten", "tcp"], {}, /(\d+)\n/);
  const [, screen] = await display.line;
  const port = 20_000 + Math.floor(Math.random() * 20_000);
  const driver = spawn("WebKitWebDriver", [`--port=${port}`], {
    env: { ...process.env, HOME: home, DISPLAY: `:${screen}`, WEBKIT_DISABLE_COMPOSITING_MODE: "1", LIBGL_ALWAYS_SOFTWARE: "1", GTK_A11Y: "none", NO_AT_BRIDGE: "1" },
    stdio: "ignore",
  });
  const send = async (method, path, body) => {
    const response = await fetch(`http://127.0.0.1:${port}${path}`, {
      method,
      ...(body ? { body: JSON.stringify(body) } : {}),
    });
    const { value } = await response.json();
    if (!response.ok) throw new Error(`${path}: ${value.message}`);
    return value;
  };
  for (let i = 0; ; ++i) {
    try {
      await send("GET", "/status");
      break;
    } catch (error) {
      if (i > 50) throw error;
      await new Promise((later) => setTimeout(later, 100));
    }
  }
  const { sessionId } = await send("POST", "/session", {
    capabilities: {
      alwaysMatch: { "webkitgtk:browserOptions": { binary: kMiniBrowser, args: ["--automation"] } },
    },
  });
  const base = `/session/${sessionId}`;
  const actions = (list) => send("POST", `${base}/actions`, { actions: list });
  return {
    said: [],
    open: (url) => send("POST", `${base}/url`, { url }),
    run: async (work) => JSON.parse(await send("POST", `${base}/execute/sync`, { script: `return JSON.stringify((${work})() ?? null)`, args: [] })),
    press: (x, y) =>
      actions([
        {
          type: "pointer", id: "mouse",
          actions: [
            { type: "pointerMove", x: Math.round(x), y: Math.round(y), origin: "viewport", duration: 0 },
            { type: "pointerDown", button: 0 },
            { type: "pointerUp", button: 0 },
          ],
        },
      ]),
    type: (text) =>
      actions([
        {
          type: "key", id: "keys",
          actions: [...text].flatMap((value) => [{ type: "keyDown", value }, { type: "keyUp", value }]),
        },
      ]),
    async close() {
      await send("DELETE", base).catch(() => {});
      driver.kill();
      display.child.kill();
      await rm(home, { recursive: true, force: true });
    },
  };
}

const has = (program) => (process.env.PATH ?? "").split(":").some((folder) => existsSync(join(folder, program)));

for (const [name, there, start] of [
  ["Firefox", has("firefox-esr"), firefox],
  ["WebKitGTK", has("WebKitWebDriver") && has("Xvfb") && kMiniBrowser !== undefined, webkit],
]) {
  describe(`In ${name}`, { skip: there ? false : `${name} is not installed here` }, () => {
    let browser;
    let server;
    before(async () => {
      browser = await start();
      server = await host();
    });
    after(async () => {
      await browser?.close();
      await server?.close();
    });

    const until = async (work, what, seconds = 15) => {
      for (const end = Date.now() + seconds * 1000; Date.now() < end; ) {
        if (await browser.run(work)) return;
        await new Promise((later) => setTimeout(later, 100));
      }
      const staff = await browser.run(() => document.querySelector("#staff").textContent.slice(0, 200));
      assert.fail(`${name} waited in vain for ${what}; the staff says "${staff}"`);
    };
    const click = async (selector) => {
      const [x, y] = await browser.run(`() => {
        const box = document.querySelector(${JSON.stringify(selector)}).getBoundingClientRect();
        return [box.x + box.width / 2, box.y + box.height / 2];
      }`);
      await browser.press(x, y);
    };

    const key = async (sign) => {
      const [x, y] = await browser.run(`() => {
        const key = [...document.querySelectorAll("#pad button")].find((one) => one.textContent === ${JSON.stringify(sign)});
        const box = key.getBoundingClientRect();
        return [box.x + box.width / 2, box.y + box.height / 2];
      }`);
      await browser.press(x, y);
    };

    for (const [home, address] of [["the folder", () => server.address], ["the single file", () => single_file]]) {
      it(`a tune is typed, seen, heard and taken away, on ${home}`, async () => {
        await browser.open(address());
        await until(() => document.body.dataset.made === "now", "the first sheet");
        const count = () => document.querySelector("#sheet .page").shadowRoot.querySelectorAll('[data-note="14"]').length > 0;
        assert.equal(await browser.run(count), false);
        // By the keys on the screen, and by the keyboard.
        const [x, y] = await browser.run(() => {
          const range = document.createRange();
          range.selectNodeContents(document.querySelector("#text .cm-line:nth-child(6)"));
          const { right, top, height } = [...range.getClientRects()].at(-1);
          return [right + 3, top + height / 2];
        });
        await browser.press(x, y);
        for (const sign of ["⌫", "|", "一", "-", "-", "-"]) await key(sign);
        await until(count, "the note of the key");
        await browser.type(" | 5 5 5 5");
        await until(() => document.querySelector("#sheet .page").shadowRoot.querySelector('[data-note="18"]') !== null, "what was typed");
        await click("#tab-staff");
        await until(() => document.querySelector("#staff g.note") !== null, "the staff", 45);
        await click("#tab-fingers");
        await until(() => document.querySelector("#fingers [data-note]") !== null, "the fingers");
        await click("#tab-sheet");
        await click("#play");
        await until(() => document.querySelector("#play.playing") !== null, "the sound");
        await click("#play");
        await browser.run(() => {
          const click = HTMLAnchorElement.prototype.click;
          HTMLAnchorElement.prototype.click = function () {
            globalThis.taken = this.download;
            HTMLAnchorElement.prototype.click = click;
          };
        });
        await click("#take-open");
        await click("#take-mid");
        await until(() => globalThis.taken === "Ferry Lanterns.mid", "the file");
        assert.deepEqual(browser.said, []);
      });
    }
  });
}
