// Bundles the tests of the core and of the package for Node.js, and runs them.
//
//   node core.mjs [OUT]      OUT: what src/web/build.sh made, build/web without it
import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { dirname, join, resolve } from "node:path";
import { fileURLToPath } from "node:url";

const here = dirname(fileURLToPath(import.meta.url));
const root = resolve(here, "../..");
const out = resolve(process.argv[2] ?? join(root, "build/web"));
const { buildSync } = createRequire(join(root, "src/web/package.json"))("esbuild");

const common = { bundle: true, platform: "node", target: "node18", charset: "utf8",
                 alias: { "yubifu-module": join(out, "core/yubifu.mjs") } };
const worker = buildSync({ ...common, entryPoints: [join(here, "core_worker.ts")], format: "cjs",
                           write: false }).outputFiles[0].text;
const folder = mkdtempSync(join(tmpdir(), "yubifu-core-"));
const define = { BUILD: out, ROOT: root, WORKER: worker };
for (const [name, value] of Object.entries(define)) define[name] = JSON.stringify(value);
const tests = ["core_test", "files_test"];
buildSync({ ...common, entryPoints: tests.map((name) => join(here, `${name}.ts`)), format: "esm",
            outdir: folder, outExtension: { ".js": ".mjs" }, define });
try {
  const bundles = tests.map((name) => join(folder, `${name}.mjs`));
  execFileSync(process.execPath, ["--test", ...bundles], { stdio: "inherit" });
} catch {
  process.exitCode = 1;
} finally {
  rmSync(folder, { recursive: true });
}
