// The page: makes its pieces and connects them.
import { Core, NoAnswer, type WorkerLike } from "../core/client.ts";
import { Bring } from "./bring.ts";
import { kBraceWords } from "./completion.ts";
import { part } from "./dom.ts";
import { Editor } from "./editor.ts";
import { Faults } from "./faults.ts";
import { Fingers, Strip } from "./fingers.ts";
import { Gauge } from "./gauge.ts";
import { Header } from "./header.ts";
import { Keeper } from "./keeper.ts";
import { Listen } from "./listen.ts";
import { LongWork } from "./long_work.ts";
import { Notices } from "./notices.ts";
import { Pad } from "./pad.ts";
import { compiled_program, keep_offline, worker_of } from "./parts.ts";
import { Program, text_of } from "./program.ts";
import { Sheet } from "./sheet.ts";
import { Staff } from "./staff.ts";
import { Storage } from "./storage.ts";
import { Store, type State } from "./store.ts";
import { Take } from "./take.ts";
import { kFirst, Tunes } from "./tunes.ts";
import { Views } from "./views.ts";
import { language_of_browser, say_all } from "./words.ts";
import { Workshop } from "./workshop.ts";

const storage = new Storage();
type Choices = Pick<State, "language" | "sheet" | "view" | "pad_open" | "tune">;
const chosen = storage.choices<Choices>();
const wide = matchMedia("(min-width: 60em)").matches;

const store = new Store({
  language: chosen.language ?? language_of_browser(),
  view: chosen.view ?? "sheet",
  sheet: chosen.sheet ?? { direction: "down", size: "a4", with_chart: false },
  pad_open: chosen.pad_open ?? wide,
  tunes: storage.tunes(),
  tune: "",
  text: "",
  flutes: storage.flutes(),
  origins: new Map(),
  made: undefined,
  findings: [],
  unreadable: [],
  working: false,
  chart: undefined,
  mark: undefined,
  sounding: undefined,
});
const notices = new Notices(part("notices"), () => store.state.language);

const compiled = compiled_program();
const new_core = async (): Promise<Core> =>
  new Core(() => worker_of("core_worker") as unknown as WorkerLike, { wasm: await compiled, environment: {} });
const core = new_core();
// Who asks first is told why there is none.
core.catch(() => {});
const program = new Program(async (words, files) => (await core).run(words, files), () => store.state);

const editor = new Editor(part("text"), store, (text) => keeper.changed(text));
const keeper: Keeper = new Keeper(store, storage, editor, notices);

const go_to_note = (note: number): void => {
  store.set({ mark: note });
  editor.go_to_note(note);
};
const go_to_bar = (bar: string): void => {
  const note = store.state.made?.notes.findIndex((one) => one.bar === bar) ?? -1;
  if (note >= 0) go_to_note(note);
};

store.show(["language"], ({ language }) => {
  document.documentElement.lang = language;
  say_all(document, language);
  notices.show();
});
store.show(["language", "sheet", "view", "pad_open"], ({ language, sheet, view, pad_open }) =>
  storage.keep_choices({ ...storage.choices(), language, sheet, view, pad_open }),
);

store.show(["pad_open"], ({ pad_open }) => {
  document.body.dataset["pad"] = pad_open ? "open" : "closed";
});
store.show(["working", "made", "unreadable", "text"], ({ working, made, text }) => {
  document.body.dataset["made"] = working ? "working" : made?.text === text ? "now" : "before";
});

new Faults(part("faults"), store, (finding) => editor.go_to(finding));
new Strip(part("strip"), store);
new Pad(part("pad"), store, editor, (brace, language) => kBraceWords[brace]?.[language] ?? "");
new Views(store);
new Sheet(part("sheet"), store, go_to_note);
new Staff(part("staff"), store, program, go_to_note);
new Fingers(part("fingers"), store, go_to_note);
const listen = new Listen(store);
const long_work = new LongWork(store, new_core);
const gauge = new Gauge(
  part("gauge-list"), store, program, storage, notices, long_work,
  (file) => header.take_flute(file),
  () => listen.stop(),
);
const bring = new Bring(
  part("bring-list"), part("origin"), store, storage, keeper, editor, notices, long_work,
  (file) => gauge.open(file), go_to_bar,
);
const take = new Take(part("take-list"), store, program, keeper, notices);
const tunes = new Tunes(part("tunes-list"), store, storage, keeper, async (title) => {
  const answer = await program.plain(["new", title, "-o", "new.yubifu"], undefined);
  return text_of(answer.files.get("new.yubifu"));
});
const header: Header = new Header(store, program, editor, notices, { bring, take, tunes, gauge });

// The tune that was open last; on the first visit one that is already there.
const last = chosen.tune && storage.tune(chosen.tune) ? chosen.tune : store.state.tunes[0]?.id;
if (last) keeper.open(last);
else keeper.add(kFirst.text, kFirst.name);

const told = (error: unknown): void => {
  if (error instanceof NoAnswer && error.reason === "cancelled") return;
  notices.tell({
    about: "core",
    word: error instanceof NoAnswer ? "crashed" : "failed_to_load",
    values: { why: error instanceof Error ? error.message : String(error) },
  });
};
new Workshop(store, program, told);
// What a press of a button began, and the program could not end.
addEventListener("unhandledrejection", (event) => {
  if (!(event.reason instanceof NoAnswer)) return;
  event.preventDefault();
  told(event.reason);
});

keep_offline((change) =>
  notices.tell({ about: "update", word: "update", actions: [{ word: "update_take", act: change }] }),
).catch(() => {
  // Without it everything works but the visit without a network.
});
