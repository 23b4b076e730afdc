// The worker of a `Core`: one instance of the program, one question at a time.
import { startProgram, type Answer, type Program } from "./core.ts";

/** The first message to a worker. */
export interface Beginning {
  wasm: WebAssembly.Module;
  environment: Readonly<Record<string, string>>;
}

/** Each further one. */
export interface Question {
  words: readonly string[];
  files: ReadonlyMap<string, Uint8Array>;
}

/** What a worker says: first an empty message once the program is ready, then one for each
 * question. After a crash it answers no more. */
export interface Reply {
  answer?: Answer;
  crash?: string;
}

interface Port {
  onmessage: ((event: { data: Beginning | Question }) => void) | null;
  postMessage(reply: Reply, transfer?: Transferable[]): void;
}

/** Serves at a port: in a browser the global scope of the worker. */
export function serve(port: Port): void {
  let program: Promise<Program> | undefined;
  const reply = async (message: Beginning | Question): Promise<void> => {
    try {
      if ("wasm" in message) {
        program = startProgram(message.wasm, message.environment);
        await program;
        port.postMessage({});
        return;
      }
      const answer = (await program!).run(message.words, message.files);
      const bytes = [answer.output, ...answer.files.values()].map((each) => each.buffer);
      port.postMessage({ answer }, [...new Set(bytes)] as ArrayBuffer[]);
    } catch (fault) {
      port.postMessage({ crash: String(fault) });
    }
  };
  port.onmessage = ({ data }) => void reply(data);
}
