// The worker in which the program runs.
import { serve } from "../core/worker.ts";

serve(self as unknown as Parameters<typeof serve>[0]);
