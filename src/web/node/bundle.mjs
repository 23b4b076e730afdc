// Makes the package for Node.js: the folder OUT/node, and OUT/yubifu-VERSION.tgz of it.
//
//   node bundle.mjs OUT
//
// OUT holds in its folder core the program as emscripten made it: yubifu.wasm and yubifu.mjs.
import { execFileSync } from "node:child_process";
import { chmodSync, copyFileSync, mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { dirname, join, resolve } from "node:path";
import { fileURLToPath } from "node:url";

import { buildSync } from "esbuild";

import { licences_of_core } from "../core/licences.mjs";

const here = dirname(fileURLToPath(import.meta.url));
const root = resolve(here, "../../..");
const out = resolve(process.argv[2]);
const folder = join(out, "node");
const version = /project\(yubifu VERSION (\S+)/.exec(
  readFileSync(join(root, "CMakeLists.txt"), "utf8"))[1];

/** The licences of the libraries in yubifu.wasm. */
function notices() {
  const head = "yubifu.wasm is compiled from the program and these libraries of Debian, whose sources are at\n"
    + "https://sources.debian.org/. Their licences follow.\n";
  return head + licences_of_core(out).map(({ name, text }) => `\n${"=".repeat(72)}\n${name}\n\n${text}`).join("");
}

rmSync(folder, { recursive: true, force: true });
mkdirSync(folder, { recursive: true });
const alias = { "yubifu-module": join(out, "core/yubifu.mjs") };
const common = { bundle: true, minify: true, platform: "node", format: "esm", target: "node18",
                 charset: "utf8", alias };
buildSync({ ...common, entryPoints: [join(here, "index.ts")], outfile: join(folder, "index.mjs") });
buildSync({ ...common, entryPoints: [join(here, "yubifu.ts")], outfile: join(folder, "yubifu.mjs"),
            banner: { js: "#!/usr/bin/env node" } });
chmodSync(join(folder, "yubifu.mjs"), 0o755);
copyFileSync(join(out, "core/yubifu.wasm"), join(folder, "yubifu.wasm"));
copyFileSync(join(here, "index.d.ts"), join(folder, "index.d.ts"));
copyFileSync(join(here, "README.md"), join(folder, "README.md"));
copyFileSync(join(root, "LICENSE"), join(folder, "LICENSE"));
writeFileSync(join(folder, "NOTICES"), notices());
writeFileSync(join(folder, "package.json"), JSON.stringify({
  name: "yubifu",
  version,
  description: "Fingering notation of the Japanese bamboo flute, to and from staff and MIDI",
  license: "MIT",
  type: "module",
  engines: { node: ">=18" },
  bin: { yubifu: "yubifu.mjs" },
  exports: { types: "./index.d.ts", default: "./index.mjs" },
  files: ["NOTICES", "index.mjs", "index.d.ts", "yubifu.mjs", "yubifu.wasm"],
}, null, 2) + "\n");
execFileSync("npm", ["pack", "--silent", "--pack-destination", out], { cwd: folder });
