// The list of the tunes that are kept, with new ones, examples, and the player's flute files.
import procession_flute from "../../../examples/flutes/lantern-procession.json";
import ferry from "../../../examples/scores/ferry-lanterns.yubifu";
import procession from "../../../examples/scores/lantern-procession.yubifu";
import { element } from "./dom.ts";
import type { Keeper } from "./keeper.ts";
import { notices_text } from "./parts.ts";
import type { Storage } from "./storage.ts";
import type { Store } from "./store.ts";
import { say } from "./words.ts";

/** What the page opens with where nothing is kept yet. */
export const kFirst = { name: "Ferry Lanterns", text: ferry };

const kProcession = "lantern-procession.json";

export class Tunes {
  constructor(
    private readonly dialog: HTMLDialogElement,
    private readonly store: Store,
    private readonly storage: Storage,
    private readonly keeper: Keeper,
    private readonly fresh_text: (title: string) => Promise<string>,
  ) {
    store.show(["tunes", "tune", "language", "flutes"], () => this.#show());
  }

  open(): void {
    this.#show();
    this.dialog.showModal();
  }

  #show(): void {
    const { tunes, tune, flutes, language } = this.store.state;
    const close = (): void => this.dialog.close();
    const then = (act: () => void) => () => {
      close();
      act();
    };
    this.dialog.replaceChildren(
      element("h2", { id: "tunes-title" }, say(language, "tunes")),
      element(
        "ul",
        { class: "tunes" },
        ...tunes.map((one) =>
          element(
            "li",
            {},
            element(
              "button",
              {
                class: "name",
                ...(one.id === tune ? { "aria-current": "true" } : {}),
                click: then(() => this.keeper.open(one.id)),
              },
              one.name || say(language, "untitled"),
            ),
            element("time", {}, new Date(one.changed).toLocaleString(language)),
            element(
              "button",
              {
                class: "plain",
                "aria-label": say(language, "remove_tune", { name: one.name }),
                click: () => this.keeper.remove(one),
              },
              say(language, "remove"),
            ),
          ),
        ),
      ),
      element(
        "div",
        { class: "row" },
        element("button", { id: "tune-new", click: then(() => void this.#new()) }, say(language, "new_tune")),
        element(
          "button",
          { click: then(() => this.keeper.add(kFirst.text, kFirst.name)) },
          say(language, "example", { name: kFirst.name }),
        ),
        element(
          "button",
          { click: then(() => this.#procession()) },
          say(language, "example", { name: "Lantern Procession" }),
        ),
      ),
      ...(flutes.length === 0
        ? []
        : [
            element("h3", {}, say(language, "own_flutes")),
            element(
              "ul",
              { class: "tunes" },
              ...flutes.map((flute) =>
                element(
                  "li",
                  {},
                  element("span", {}, `${flute.title} (${flute.file})`),
                  element(
                    "button",
                    {
                      class: "plain",
                      "aria-label": say(language, "remove_tune", { name: flute.title }),
                      click: () => {
                        this.storage.forget_flute(flute.file);
                        this.store.set({ flutes: this.store.state.flutes.filter((one) => one !== flute) });
                      },
                    },
                    say(language, "remove"),
                  ),
                ),
              ),
            ),
          ]),
      element("p", { class: "remark" }, say(language, "kept_how")),
      this.#notices(),
      element("form", { method: "dialog" }, element("button", {}, say(language, "close"))),
    );
  }

  #notices(): HTMLElement {
    const text = element("pre", { tabindex: "0" });
    return element(
      "details",
      {
        toggle: () => {
          if (!text.textContent) void notices_text().then((notices) => (text.textContent = notices));
        },
      },
      element("summary", {}, say(this.store.state.language, "about")),
      text,
    );
  }

  async #new(): Promise<void> {
    const title = say(this.store.state.language, "untitled");
    this.keeper.add(await this.fresh_text(title), title);
  }

  // A festival flute with signs of its own, so that its file comes along.
  #procession(): void {
    const flute = {
      file: kProcession,
      title: procession_flute.title,
      text: JSON.stringify(procession_flute, undefined, 2),
    };
    this.storage.keep_flute(flute);
    const others = this.store.state.flutes.filter(({ file }) => file !== kProcession);
    this.store.set({ flutes: [...others, flute] });
    this.keeper.add(procession.replace("../flutes/", ""), "Lantern Procession");
  }
}
