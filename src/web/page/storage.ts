// What stays on this computer: tunes by name, flute files, choices. Local storage is written at once,
// even while a window closes, and tells the other windows of the page.
import type { OwnFlute, Tune } from "./store.ts";

export interface KeptTune extends Tune {
  text: string;
  /** Changes with each writing; a window that knows another one has not seen the last. */
  revision: string;
}

export type Kept = "kept" | "changed-elsewhere" | "full" | "forbidden";

const kPrefix = "yubifu/";

export class Storage {
  #area: globalThis.Storage | undefined;

  constructor() {
    try {
      this.#area = window.localStorage;
      // Some browsers hand it out and then refuse to write.
      this.#area.setItem(`${kPrefix}try`, "");
      this.#area.removeItem(`${kPrefix}try`);
    } catch (error) {
      if (!this.#area || !is_full(error)) this.#area = undefined;
    }
  }

  /** Whether this browser keeps anything at all for the page. */
  get works(): boolean {
    return this.#area !== undefined;
  }

  tunes(): Tune[] {
    return this.#all<KeptTune>("tune/")
      .map(({ id, name, changed }) => ({ id, name, changed }))
      .sort((a, b) => b.changed - a.changed);
  }

  tune(id: string): KeptTune | undefined {
    return this.#read(`tune/${id}`);
  }

  /**
   * Keeps a tune, unless what is kept under its id is not the revision that this window knows
   * (undefined: none). On success `tune.revision` is the new one.
   */
  keep(tune: KeptTune, known: string | undefined): Kept {
    const there = this.tune(tune.id);
    if (there && there.revision !== known && there.text !== tune.text) return "changed-elsewhere";
    return this.#write(`tune/${tune.id}`, tune);
  }

  forget(id: string): void {
    this.#area?.removeItem(`${kPrefix}tune/${id}`);
  }

  flutes(): OwnFlute[] {
    return this.#all<OwnFlute>("flute/");
  }

  keep_flute(flute: OwnFlute): Kept {
    return this.#write(`flute/${flute.file}`, flute);
  }

  forget_flute(file: string): void {
    this.#area?.removeItem(`${kPrefix}flute/${file}`);
  }

  choices<T>(): Partial<T> {
    return this.#read<Partial<T>>("choices") ?? {};
  }

  keep_choices(choices: object): void {
    this.#write("choices", choices);
  }

  /** Calls back with the id of each tune that another window wrote or removed. */
  on_other_window(tell: (id: string) => void): void {
    window.addEventListener("storage", ({ key }) => {
      if (key?.startsWith(`${kPrefix}tune/`)) tell(key.slice(kPrefix.length + 5));
    });
  }

  #read<T>(key: string): T | undefined {
    try {
      const text = this.#area?.getItem(kPrefix + key);
      return text ? (JSON.parse(text) as T) : undefined;
    } catch {
      return undefined;
    }
  }

  #write(key: string, value: object): Kept {
    if (!this.#area) return "forbidden";
    try {
      this.#area.setItem(kPrefix + key, JSON.stringify(value));
      return "kept";
    } catch (error) {
      return is_full(error) ? "full" : "forbidden";
    }
  }

  #all<T>(folder: string): T[] {
    const found: T[] = [];
    for (let i = 0; i < (this.#area?.length ?? 0); ++i) {
      const key = this.#area?.key(i);
      if (!key?.startsWith(kPrefix + folder)) continue;
      const value = this.#read<T>(key.slice(kPrefix.length));
      if (value) found.push(value);
    }
    return found;
  }
}

function is_full(error: unknown): boolean {
  return error instanceof DOMException && /quota/iu.test(error.name);
}

/** A name for a new tune or writing of one that no window has given before. */
export function fresh(): string {
  const random = crypto.getRandomValues(new Uint32Array(2));
  return Date.now().toString(36) + random[0]!.toString(36) + random[1]!.toString(36);
}
