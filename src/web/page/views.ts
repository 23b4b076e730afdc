// Sheet, staff and fingers as three leaves of which one is seen.
import { part } from "./dom.ts";
import type { Store, View } from "./store.ts";
import { say } from "./words.ts";

const kViews: readonly View[] = ["sheet", "staff", "fingers"];

export class Views {
  constructor(store: Store) {
    const tabs = kViews.map((view) => part(`tab-${view}`));
    tabs.forEach((tab, index) => {
      tab.addEventListener("click", () => store.set({ view: kViews[index]! }));
      tab.addEventListener("keydown", (event) => {
        const step = { ArrowLeft: -1, ArrowRight: 1 }[event.key];
        if (!step) return;
        const next = (index + step + kViews.length) % kViews.length;
        store.set({ view: kViews[next]! });
        tabs[next]!.focus();
      });
    });
    const turn = part("sheet-turn");
    turn.addEventListener("click", () => {
      const { sheet } = store.state;
      store.set({ sheet: { ...sheet, direction: sheet.direction === "down" ? "across" : "down" } });
    });
    store.show(["view", "sheet", "language"], ({ view, sheet, language }) => {
      kViews.forEach((one, index) => {
        tabs[index]!.setAttribute("aria-selected", String(one === view));
        tabs[index]!.tabIndex = one === view ? 0 : -1;
        part(one).hidden = one !== view;
      });
      turn.hidden = view !== "sheet" || part("views").classList.contains("stale");
      turn.textContent = say(language, sheet.direction === "down" ? "sheet_across" : "sheet_down");
    });
    // A drawing that is older than the text says so.
    store.show(["unreadable", "made", "language"], ({ unreadable, made, language }) => {
      const stale = unreadable.length > 0 && made !== undefined;
      part("views").classList.toggle("stale", stale);
      part("stale").textContent = stale ? say(language, "stale") : "";
      turn.hidden = stale || store.state.view !== "sheet";
    });
  }
}
