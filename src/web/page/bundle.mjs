// Makes the page: build/web/ for any host of files, and build/web/yubifu.html, the same in one file.
//
//   node bundle.mjs [OUT]
//
// OUT (default build/web) holds in its folder core the program as emscripten made it: yubifu.wasm
// and yubifu.mjs. The texts of the GNU licences come from Debian.
import { createHash } from "node:crypto";
import { mkdir, readFile, writeFile } from "node:fs/promises";
import { dirname, join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { gzipSync } from "node:zlib";

import { build } from "esbuild";

import { licences_of_core } from "../core/licences.mjs";

const here = dirname(fileURLToPath(import.meta.url));
const packages = resolve(here, "..");
const root = resolve(here, "../../..");
const out = resolve(process.argv[2] ?? join(root, "build/web"));
const core = join(out, "core");

/** One script of the page, with everything it needs. */
async function script(entry, define = {}) {
  const result = await build({
    entryPoints: [join(here, entry)],
    bundle: true,
    write: false,
    minify: true,
    format: "iife",
    target: ["chrome100", "firefox105", "safari16.4"],
    legalComments: "none",
    charset: "utf8",
    loader: { ".yubifu": "text" },
    define,
    // What emscripten writes beside the core is made by the build, not kept in the repository.
    plugins: [
      {
        name: "core",
        setup(made) {
          made.onResolve({ filter: /^yubifu-module$/ }, () => ({ path: join(core, "yubifu.mjs") }));
          // For Node.js alone; browsers never ask.
          made.onResolve({ filter: /^(?:node:.*|module|fs|path|crypto|url|worker_threads)$/ }, ({ path }) => ({
            path,
            external: true,
          }));
        },
      },
    ],
    logOverride: { "empty-import-meta": "silent" },
  });
  return result.outputFiles[0].text;
}

function policy(parts) {
  return Object.entries(parts).map(([name, value]) => `${name} ${value}`).join("; ");
}

function page(template, style, csp, scripts) {
  const parts = { POLICY: policy(csp), STYLE: style, SCRIPT: scripts };
  return template.replace(/%(POLICY|STYLE|SCRIPT)%/g, (_, name) => parts[name]);
}

const digest = (text, form) => createHash("sha256").update(text).digest(form);
const size = (bytes) => `${(bytes.length / 1e6).toFixed(2)} MB, ${(gzipSync(bytes).length / 1e3).toFixed(0)} KB compressed`;

const kBoth = {
  "default-src": "'none'",
  "script-src": "",
  "worker-src": "'self' blob:",
  "connect-src": "",
  "img-src": "data: blob:",
  "font-src": "data:",
  "style-src": "'unsafe-inline'",
};

const template = await readFile(join(here, "index.html"), "utf8");
const style = (await readFile(join(here, "page.css"), "utf8")).trim();
const wasm = await readFile(join(core, "yubifu.wasm"));
const [main, single, core_worker, staff_worker] = await Promise.all([
  script("main.ts", { SINGLE: "false" }),
  script("main.ts", { SINGLE: "true" }),
  script("core_worker.ts"),
  script("staff_worker.ts"),
]);

await mkdir(out, { recursive: true });
const files = {
  "index.html": page(
    template,
    style,
    { ...kBoth, "script-src": "'self' blob: 'wasm-unsafe-eval'", "connect-src": "'self'" },
    '<script src="page.js" defer></script>',
  ),
  "page.js": main,
  "core_worker.js": core_worker,
  "staff_worker.js": staff_worker,
  "yubifu.wasm": wasm,
  "notices.txt": await notices(),
};
const build_name = digest(Object.values(files).map((one) => digest(one, "hex")).join(), "hex").slice(0, 16);
const offline = ["./", ...Object.keys(files).filter((name) => name !== "index.html")];
files["service_worker.js"] = await script("service_worker.ts", {
  BUILD: JSON.stringify(build_name),
  FILES: JSON.stringify(offline),
});
for (const [name, bytes] of Object.entries(files)) await writeFile(join(out, name), bytes);

// In the single file the big pieces are text that no browser runs, until the page unpacks them.
const packed = (name, bytes) =>
  `<script type="application/octet-stream" id="packed-${name}">${gzipSync(bytes, { level: 9 }).toString("base64")}</script>`;
const inside = [
  packed("yubifu.wasm", wasm),
  packed("core_worker.js", core_worker),
  packed("staff_worker.js", staff_worker),
  packed("notices.txt", files["notices.txt"]),
];
const run = single.replaceAll("</script", "<\\/script");
const whole = page(
  template,
  style,
  {
    ...kBoth,
    "script-src": `'sha256-${digest(run, "base64")}' blob: 'wasm-unsafe-eval'`,
    "connect-src": "'none'",
  },
  `${inside.join("\n")}\n<script>${run}</script>`,
);
await writeFile(join(out, "yubifu.html"), whole);

for (const name of ["page.js", "core_worker.js", "staff_worker.js", "yubifu.wasm"]) {
  console.log(`${name}: ${size(Buffer.from(files[name]))}`);
}
console.log(`yubifu.html: ${(Buffer.byteLength(whole) / 1e6).toFixed(2)} MB`);

/** Every library in the page with its licence, and where its source is. */
async function notices() {
  const lock = JSON.parse(await readFile(join(packages, "package-lock.json"), "utf8"));
  const parts = [
    await readFile(join(here, "notices.txt"), "utf8"),
  ];
  for (const [path, { version, license, dev }] of Object.entries(lock.packages)) {
    if (path === "" || dev) continue;
    const folder = join(packages, path);
    const about = JSON.parse(await readFile(join(folder, "package.json"), "utf8"));
    const source = (about.repository?.url ?? about.repository ?? about.homepage ?? "").replace(/^git\+/, "");
    const text = await first_of(folder, ["LICENSE", "LICENSE.md", "LICENSE.txt", "COPYING", "COPYING.LESSER"]);
    parts.push(`${about.name} ${version}\nLicence: ${license}\nSource: ${source}\n\n${text.trim()}\n`);
  }
  for (const { name, text } of licences_of_core(out)) parts.push(`${name}, in yubifu.wasm\n\n${text.trim()}\n`);
  for (const name of ["LGPL-3", "GPL-3"]) {
    parts.push(await readFile(`/usr/share/common-licenses/${name}`, "utf8"));
  }
  return parts.join(`\n${"-".repeat(78)}\n\n`);
}

async function first_of(folder, names) {
  for (const name of names) {
    try {
      return await readFile(join(folder, name), "utf8");
    } catch {
      // The next name.
    }
  }
  return "";
}
