// The licences of the libraries in yubifu.wasm, as they stand beside the sources that
// src/web/sources.sh has unpacked, and as Debian keeps them for those that are headers alone.
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";

const kHeadersAlone = ["libcxxopts-dev", "nlohmann-json3-dev", "emscripten"];

/** Each library's name and the text of its licence; `out` is the folder of the build. */
export function licences_of_core(out) {
  const sources = join(out, "sources");
  const unpacked = readdirSync(sources, { withFileTypes: true })
    .filter((entry) => entry.isDirectory())
    .map(({ name }) => {
      const file = readdirSync(join(sources, name)).find((each) => /^(LICENSE|COPYING)(\.|$)/.test(each));
      return { name, text: readFileSync(join(sources, name, file), "utf8") };
    });
  return [
    ...unpacked,
    ...kHeadersAlone.map((name) => ({ name, text: readFileSync(`/usr/share/doc/${name}/copyright`, "utf8") })),
  ];
}
