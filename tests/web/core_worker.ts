// The worker of the tests: a worker of Node.js that serves as one of a browser does.
import { parentPort } from "node:worker_threads";

import { serve, type Reply } from "../../src/web/core/worker.ts";

const port = {
  onmessage: null as ((event: { data: never }) => void) | null,
  postMessage: (reply: Reply) => parentPort!.postMessage(reply),
};
serve(port as Parameters<typeof serve>[0]);
parentPort!.on("message", (data) => port.onmessage?.({ data: data as never }));
