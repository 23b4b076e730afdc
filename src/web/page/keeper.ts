// The tunes of this computer and the one that is open: keeps each change at once, and sees to it that
// two windows with one tune do not overwrite each other.
import type { Editor } from "./editor.ts";
import type { Notices } from "./notices.ts";
import { fresh, type Kept, type Storage } from "./storage.ts";
import type { Store, Tune } from "./store.ts";
import { say } from "./words.ts";

const kRest = 250;

export class Keeper {
  // What this window knows to be kept of each tune.
  readonly #known = new Map<string, { revision: string; text: string }>();
  // Tunes that are only here, where nothing can be kept.
  readonly #here = new Map<string, { name: string; text: string }>();
  #wait: number | undefined;
  /** The open tune is being removed, and must not be written down again. */
  #removed = false;

  constructor(
    private readonly store: Store,
    private readonly storage: Storage,
    private readonly editor: Editor,
    private readonly notices: Notices,
  ) {
    storage.on_other_window((id) => this.#other_window(id));
    addEventListener("pagehide", () => this.keep());
    document.addEventListener("visibilitychange", () => this.keep());
    addEventListener("beforeunload", (event) => {
      if (this.#unkept()) event.preventDefault();
    });
    if (!storage.works) this.#tell("forbidden");
    // A tune is called by its title as soon as the program has read it.
    store.show(["made"], ({ made, text }) => {
      if (made && made.text === text) this.#rename(made.title);
    });
  }

  /** The text of the open tune has changed. */
  changed(text: string): void {
    this.store.set({ text });
    clearTimeout(this.#wait);
    this.#wait = setTimeout(() => this.keep(), kRest);
  }

  /** Opens a tune of the list, or `text` under a new name. */
  open(id: string): void {
    this.keep();
    const kept = this.storage.tune(id);
    const here = this.#here.get(id);
    const text = kept?.text ?? here?.text;
    if (text === undefined) return;
    if (kept) this.#known.set(id, { revision: kept.revision, text: kept.text });
    this.#show(id, text);
  }

  add(text: string, name: string): string {
    this.keep();
    const id = fresh();
    const tunes: Tune[] = [{ id, name, changed: Date.now() }, ...this.store.state.tunes];
    this.store.set({ tunes });
    this.#here.set(id, { name, text });
    this.#show(id, text);
    this.keep();
    return id;
  }

  remove(tune: Tune): void {
    const text = tune.id === this.store.state.tune ? this.store.state.text : this.#text_of(tune.id);
    const origin = this.store.state.origins.get(tune.id);
    this.storage.forget(tune.id);
    this.#here.delete(tune.id);
    this.#known.delete(tune.id);
    const tunes = this.store.state.tunes.filter(({ id }) => id !== tune.id);
    this.store.set({ tunes });
    if (tune.id === this.store.state.tune) {
      clearTimeout(this.#wait);
      this.#removed = true;
      if (tunes[0]) this.open(tunes[0].id);
      else this.add("", say(this.store.state.language, "untitled"));
    }
    this.notices.tell({
      about: "removed",
      word: "removed",
      values: { name: tune.name },
      actions: [
        {
          word: "put_back",
          act: () => {
            const id = this.add(text ?? "", tune.name);
            if (origin) this.store.set({ origins: new Map(this.store.state.origins).set(id, origin) });
          },
        },
      ],
    });
  }

  /** The text of a tune of the list. */
  #text_of(id: string): string | undefined {
    return this.storage.tune(id)?.text ?? this.#here.get(id)?.text;
  }

  texts(): { tune: Tune; text: string }[] {
    this.keep();
    return this.store.state.tunes.map((tune) => ({
      tune,
      text: tune.id === this.store.state.tune ? this.store.state.text : (this.#text_of(tune.id) ?? ""),
    }));
  }

  /** Writes the open tune down, when it is another than what is kept. */
  keep(): void {
    clearTimeout(this.#wait);
    const { tune: id, text, tunes } = this.store.state;
    if (!id || this.#removed) return;
    const name = tunes.find((tune) => tune.id === id)?.name ?? "";
    this.#here.set(id, { name, text });
    const known = this.#known.get(id);
    if (known?.text === text) return;
    const tune = { id, name, text, changed: Date.now(), revision: fresh() };
    const result = this.storage.keep(tune, known?.revision);
    if (result === "kept") {
      this.#known.set(id, { revision: tune.revision, text });
      this.notices.done("keeping");
      this.store.set({ tunes: tunes.map((one) => (one.id === id ? { ...one, changed: tune.changed } : one)) });
    } else {
      this.#tell(result);
    }
  }

  #show(id: string, text: string): void {
    const before = this.store.state.tune;
    this.#removed = false;
    this.store.set({ tune: id, text, mark: undefined, sounding: undefined });
    this.editor.open(id, text, before || undefined);
    this.storage.keep_choices({ ...this.storage.choices(), tune: id });
    this.notices.done("elsewhere");
  }

  #rename(title: string): void {
    const { tune: id, tunes } = this.store.state;
    const tune = tunes.find((one) => one.id === id);
    if (!tune || !title || tune.name === title) return;
    this.store.set({ tunes: tunes.map((one) => (one === tune ? { ...one, name: title } : one)) });
    // The name is written with the text.
    const known = this.#known.get(id);
    if (known) this.#known.set(id, { ...known, text: `${known.text}\0` });
    this.#wait = setTimeout(() => this.keep(), kRest);
  }

  #unkept(): boolean {
    this.keep();
    const { tunes } = this.store.state;
    return tunes.some(({ id }) => {
      const here = this.#here.get(id);
      return here !== undefined && here.text.trim() !== "" && this.storage.tune(id)?.text !== here.text;
    });
  }

  #tell(result: Exclude<Kept, "kept">): void {
    if (result !== "changed-elsewhere") {
      this.notices.tell({ about: "keeping", word: result === "full" ? "not_kept_full" : "not_kept_forbidden" });
      return;
    }
    // Until somebody decides, neither is overwritten, and each try to keep it asks again.
    if (this.notices.has("elsewhere")) return;
    const { tune: id } = this.store.state;
    this.notices.tell({
      about: "elsewhere",
      word: "changed_elsewhere",
      actions: [
        { word: "keep_both", act: () => this.#keep_both(id) },
        { word: "take_theirs", act: () => this.#take_theirs(id) },
      ],
    });
  }

  // What is in this window becomes a tune of its own; the other keeps its place.
  #keep_both(id: string): void {
    const { text, tunes } = this.store.state;
    const theirs = this.storage.tune(id);
    const name = tunes.find((tune) => tune.id === id)?.name ?? "";
    const mine = `${name} (2)`;
    if (theirs) this.#here.set(id, { name: theirs.name, text: theirs.text });
    this.add(text, mine);
    this.notices.tell({ about: "followed", word: "copy_of", values: { name: theirs?.name ?? name } });
  }

  #take_theirs(id: string): void {
    const kept = this.storage.tune(id);
    if (!kept) return;
    this.#known.set(id, { revision: kept.revision, text: kept.text });
    this.editor.replace(kept.text);
  }

  #other_window(id: string): void {
    const { tune, text } = this.store.state;
    const kept = this.storage.tune(id);
    const known = this.#known.get(id);
    const names = this.storage.tunes();
    const only_here = this.store.state.tunes.filter(
      (one) => !names.some((other) => other.id === one.id) && (one.id === tune || !this.storage.works),
    );
    this.store.set({ tunes: [...only_here, ...names] });
    if (id !== tune) {
      this.#known.delete(id);
      return;
    }
    if (!kept) {
      this.#known.delete(id);
      this.notices.tell({ about: "followed", word: "gone_elsewhere" });
      this.keep();
    } else if (kept.text === text) {
      this.#known.set(id, { revision: kept.revision, text });
    } else if (known?.text === text) {
      // Nothing was typed here since: this window follows the other.
      this.#known.set(id, { revision: kept.revision, text: kept.text });
      this.editor.replace(kept.text);
      this.notices.tell({ about: "followed", word: "followed" });
    } else {
      this.#tell("changed-elsewhere");
    }
  }
}
