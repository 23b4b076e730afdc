// Where the big pieces come from: files beside the page, or inert script elements inside the single
// file, compressed and unpacked when first wanted.
import { gunzipSync } from "fflate";

/** Whether this is the single file; set by the bundler. */
declare const SINGLE: boolean;

function unpacked(name: string): Uint8Array {
  const packed = document.getElementById(`packed-${name}`)?.textContent ?? "";
  const letters = atob(packed.trim());
  const bytes = new Uint8Array(letters.length);
  for (let i = 0; i < letters.length; ++i) bytes[i] = letters.charCodeAt(i);
  return gunzipSync(bytes);
}

/** A worker that runs the script of this name. */
export function worker_of(name: string): Worker {
  if (!SINGLE) return new Worker(`${name}.js`);
  const address = URL.createObjectURL(
    new Blob([unpacked(`${name}.js`) as BlobPart], { type: "text/javascript" }),
  );
  return new Worker(address);
}

/** The program, compiled once for every worker that will run it. */
export async function compiled_program(): Promise<WebAssembly.Module> {
  if (SINGLE) return WebAssembly.compile(unpacked("yubifu.wasm") as BufferSource);
  const response = await fetch("yubifu.wasm");
  if (!response.ok) throw new Error(`yubifu.wasm: ${response.status} ${response.statusText}`);
  // Some simple hosts do not know the type that compiling while loading asks for.
  const typed = response.headers.get("Content-Type")?.startsWith("application/wasm");
  return typed && "compileStreaming" in WebAssembly
    ? WebAssembly.compileStreaming(response)
    : WebAssembly.compile(await response.arrayBuffer());
}

/** What is inside the page, with its licences. */
export async function notices_text(): Promise<string> {
  if (SINGLE) return new TextDecoder().decode(unpacked("notices.txt"));
  return (await fetch("notices.txt")).text();
}

/** Makes the page work without a network, where its host allows it; tells of a newer version. */
export async function keep_offline(newer: (change: () => void) => void): Promise<void> {
  if (SINGLE || !("serviceWorker" in navigator) || location.protocol === "file:") return;
  const registration = await navigator.serviceWorker.register("service_worker.js");
  const offer = (): void => {
    const waiting = registration.waiting;
    if (!waiting || !navigator.serviceWorker.controller) return;
    newer(() => {
      navigator.serviceWorker.addEventListener("controllerchange", () => location.reload());
      waiting.postMessage("change");
    });
  };
  offer();
  registration.addEventListener("updatefound", () => {
    const coming = registration.installing;
    coming?.addEventListener("statechange", () => {
      if (coming.state === "installed") offer();
    });
  });
}
