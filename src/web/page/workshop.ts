// Makes everything of the tune anew as it changes: the sheet first, then its notes, then its faults.
// Of texts that come faster than they can be made, only the newest counts.
import { NoAnswer } from "../core/client.ts";
import { listing_of } from "./listing.ts";
import { bytes_of, text_of, type Flute, type Program } from "./program.ts";
import type { Made, Store } from "./store.ts";

/** What `convert --to json` writes of a score (`schemas/score.schema.json`), as far as it is used. */
interface Score {
  header: { title?: string };
  flutes: { measure: number; name: string; title: string }[];
}

/** Waits until what was changed is drawn. Where nobody looks nothing is, and it does not wait long. */
function on_the_screen(): Promise<void> {
  return new Promise((done) => {
    const end = setTimeout(done, 100);
    requestAnimationFrame(() => {
      clearTimeout(end);
      setTimeout(done);
    });
  });
}

/** The name under which the program reads the tune that is open. */
export const kName = "tune.yubifu";

export class Workshop {
  #running = false;
  #again = false;

  constructor(
    private readonly store: Store,
    private readonly program: Program,
    private readonly told: (error: unknown) => void,
  ) {
    store.show(["text", "sheet", "language", "flutes"], () => void this.#run());
  }

  async #run(): Promise<void> {
    this.#again = true;
    if (this.#running) return;
    this.#running = true;
    this.store.set({ working: true });
    while (this.#again) {
      this.#again = false;
      try {
        await this.#make();
      } catch (error) {
        // The text that stopped the program is not tried again until it changes.
        this.told(error);
        if (!(error instanceof NoAnswer)) break;
      }
    }
    this.#running = false;
    this.store.set({ working: false });
  }

  async #make(): Promise<void> {
    const { text, sheet: choices } = this.store.state;
    const tune = { name: kName, bytes: bytes_of(text) };
    const { pages, result } = await this.program.sheet(tune, choices);
    if (pages.length === 0) {
      const errors = result.findings.filter((one) => one.severity === "error");
      if (!this.#again) this.store.set({ unreadable: errors, findings: result.findings });
      return;
    }
    const before = this.store.state.made;
    const made: Made = {
      text,
      pages,
      title: before?.text === text ? before.title : "",
      flutes: before?.flutes ?? [],
      notes: before?.text === text ? before.notes : [],
      listing: undefined,
    };
    if (before?.text !== text) {
      // The sheet need not wait for the rest: marks come with the notes.
      this.store.set({ made, unreadable: [] });
      await on_the_screen();
    }
    if (this.#again) return;
    const notes = await this.#notes(tune);
    this.store.set({ made: { ...made, ...notes }, unreadable: [] });
    if (this.#again) return;
    const findings = await this.program.check(tune);
    if (!this.#again) this.store.set({ findings });
  }

  async #notes(tune: { name: string; bytes: Uint8Array }): Promise<Partial<Made>> {
    const result = await this.program.ask(["convert", tune.name, "-o", "score.json"], tune);
    const score = JSON.parse(text_of(result.files.get("score.json"))) as Score;
    const sound = await this.program.listing(tune);
    const listing = sound && listing_of(text_of(sound));
    return {
      title: score.header.title ?? "",
      flutes: score.flutes.map(({ name, title, measure }): Flute => ({ name, title, measure })),
      notes: listing?.written ?? [],
      listing,
    };
  }
}
