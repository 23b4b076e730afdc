// The text of the tune: an editor with the colours of the grammar, faults underlined, completion of
// what stands in braces, and the note that is marked or sounds.
import { autocompletion, completionKeymap, type CompletionContext } from "@codemirror/autocomplete";
import { defaultKeymap, history, historyKeymap, isolateHistory, redo, undo, undoDepth, redoDepth } from "@codemirror/commands";
import { lintKeymap, setDiagnostics, type Diagnostic } from "@codemirror/lint";
import {
  EditorState,
  RangeSetBuilder,
  StateEffect,
  StateField,
  Transaction,
  type Extension,
  type Text,
} from "@codemirror/state";
import {
  Decoration,
  drawSelection,
  EditorView,
  keymap,
  ViewPlugin,
  type DecorationSet,
  type ViewUpdate,
} from "@codemirror/view";

import { completions } from "./completion.ts";
import { pieces } from "./grammar.ts";
import type { WrittenTone } from "./listing.ts";
import { note_at, text_places, type TextPlace } from "./marking.ts";
import type { Finding } from "./program.ts";
import type { Store } from "./store.ts";
import { say } from "./words.ts";

// The longest beginning of a scope that has a colour (page.css).
const kColours: readonly (readonly [string, string])[] = [
  ["comment", "remark"],
  ["entity.name.tag", "key"],
  ["entity.other.attribute-name", "brace"],
  ["keyword.other.direction", "brace"],
  ["punctuation.section.brace", "brace"],
  ["variable.other.sign", "low"],
  ["variable.language.sign", "low"],
  ["variable.parameter.sign", "low"],
  ["constant.numeric.sign", "second"],
  ["entity.name.function.sign", "third"],
  ["storage.modifier.half-hole", "half"],
  ["keyword.operator.bend", "half"],
  ["constant.numeric.bend", "half"],
  ["keyword.control", "bar"],
  ["punctuation.separator.bar", "bar"],
  ["punctuation.section.group", "time"],
  ["keyword.operator.hold", "time"],
  ["constant.language.rest", "time"],
  ["string.unquoted.syllable", "song"],
  ["punctuation.definition.song", "song"],
  ["invalid", "wrong"],
];
const decorations = new Map<string, Decoration | undefined>();
function colour_of(scope: string): Decoration | undefined {
  if (!decorations.has(scope)) {
    const found = kColours.find(([beginning]) => scope.startsWith(beginning));
    decorations.set(scope, found && Decoration.mark({ class: `c-${found[1]}` }));
  }
  return decorations.get(scope);
}

function coloured(view: EditorView): DecorationSet {
  const ranges = [];
  for (const { from, to } of view.visibleRanges) {
    for (let at = from; at <= to; ) {
      const line = view.state.doc.lineAt(at);
      for (const piece of pieces(line.text)) {
        const colour = colour_of(piece.scope);
        if (colour) ranges.push(colour.range(line.from + piece.from, line.from + piece.to));
      }
      at = line.to + 1;
    }
  }
  return Decoration.set(ranges, true);
}

const colours = ViewPlugin.fromClass(
  class {
    decorations: DecorationSet;
    constructor(view: EditorView) {
      this.decorations = coloured(view);
    }
    update(update: ViewUpdate): void {
      if (update.docChanged || update.viewportChanged) this.decorations = coloured(update.view);
    }
  },
  { decorations: (plugin) => plugin.decorations },
);

interface Places {
  mark: TextPlace | undefined;
  sounding: TextPlace | undefined;
}
const places_changed = StateEffect.define<Places>();
const places = StateField.define<DecorationSet>({
  create: () => Decoration.none,
  update(shown, transaction) {
    for (const effect of transaction.effects) {
      if (!effect.is(places_changed)) continue;
      const builder = new RangeSetBuilder<Decoration>();
      const end = transaction.state.doc.length;
      const both = [
        { place: effect.value.mark, name: "at-mark" },
        { place: effect.value.sounding, name: "at-sound" },
      ].sort((a, b) => (a.place?.from ?? 0) - (b.place?.from ?? 0));
      for (const { place, name } of both) {
        if (place && place.to <= end && place.from < place.to) {
          builder.add(place.from, place.to, Decoration.mark({ class: name }));
        }
      }
      return builder.finish();
    }
    return shown.map(transaction.changes);
  },
  provide: (field) => EditorView.decorations.from(field),
});

/** The offset of a place that a finding names: columns count code points from 1. */
function offset(doc: Text, line: number, column: number): number {
  const found = doc.line(Math.min(Math.max(line, 1), doc.lines));
  let at = 0;
  for (let passed = 1; passed < column && at < found.length; ++passed) {
    at += found.text.codePointAt(at)! > 0xffff ? 2 : 1;
  }
  return found.from + at;
}

export class Editor {
  readonly #view: EditorView;
  readonly #states = new Map<string, EditorState>();
  #found: { notes: readonly WrittenTone[]; places: readonly (TextPlace | undefined)[] } = {
    notes: [],
    places: [],
  };

  constructor(
    parent: HTMLElement,
    private readonly store: Store,
    changed: (text: string) => void,
  ) {
    this.#view = new EditorView({ parent });
    this.#extensions = [
      history(),
      drawSelection(),
      colours,
      places,
      EditorView.lineWrapping,
      autocompletion({ override: [(context: CompletionContext) => completions(context, store.state.language)], icons: false }),
      keymap.of([...completionKeymap, ...lintKeymap, ...defaultKeymap, ...historyKeymap]),
      EditorView.contentAttributes.of(() => ({
        "aria-label": say(store.state.language, "text_label"),
        // While the signs are on the screen a tap into the text sets the cursor and no more.
        inputmode: store.state.pad_open && touched() ? "none" : "text",
        autocapitalize: "off",
        autocorrect: "off",
        spellcheck: "false",
        lang: "ja",
        tabindex: "0",
      })),
      EditorView.updateListener.of((update) => {
        if (update.docChanged) changed(update.state.doc.toString());
        if (update.selectionSet || update.docChanged) this.#mark_here();
      }),
    ];
    store.show(["findings", "unreadable", "language"], () => this.#underline());
    store.show(["mark", "sounding", "made"], () => this.#show_places());
    store.show(["made"], () => this.#begin());
    store.show(["language", "pad_open"], () => {
      this.#view.dispatch({});
      // The keys take room from the text: its cursor stays in sight.
      requestAnimationFrame(() => this.#select(this.#view.state.selection.main.head));
    });
  }

  readonly #extensions: Extension;

  get can_undo(): boolean {
    return undoDepth(this.#view.state) > 0;
  }
  get can_redo(): boolean {
    return redoDepth(this.#view.state) > 0;
  }
  undo(): void {
    undo(this.#view);
  }
  redo(): void {
    redo(this.#view);
  }

  /** Shows a tune; each keeps its own steps of undo while the window is open. */
  open(id: string, text: string, before: string | undefined): void {
    if (before !== undefined) this.#states.set(before, this.#view.state);
    const known = this.#states.get(id);
    this.#view.setState(
      known?.doc.toString() === text
        ? known
        : EditorState.create({ doc: text, extensions: this.#extensions }),
    );
    this.#underline();
  }

  /** Makes the whole text another one, as one step of undo. */
  replace(text: string): void {
    // A step of its own for undo, however soon it follows what was typed.
    this.#view.dispatch({ changes: difference(this.#view.state.doc.toString(), text), annotations: isolateHistory.of("full") });
  }

  /** Types at the cursor without taking the focus: a phone's keyboard stays as it is. */
  type(edit: (before: string, after: string) => string): void {
    const { state } = this.#view;
    const { from, to } = state.selection.main;
    const line = state.doc.lineAt(from);
    const before = state.sliceDoc(line.from, from);
    const insert = edit(before, state.sliceDoc(to, state.doc.lineAt(to).to));
    this.#view.dispatch({
      changes: { from, to, insert },
      selection: { anchor: from + insert.length },
      userEvent: "input.type",
      scrollIntoView: true,
    });
  }

  /** Erases what is selected, or the word before the cursor as a key typed it, with its space. */
  erase(): void {
    const { state } = this.#view;
    const { from, to } = state.selection.main;
    const line = state.doc.lineAt(from);
    const before = state.sliceDoc(line.from, from);
    const rest = before.replace(/(?:\s+|\s*(?:\{[^{}]*\}|\|[:=|]?|:\||[^\s(){}|:]+|.))$/u, "");
    const start = from < to ? from : from === line.from ? from - 1 : line.from + rest.length;
    if (start < 0) return;
    this.#view.dispatch({
      changes: { from: start, to },
      userEvent: "delete.backward",
      scrollIntoView: true,
    });
  }

  /** Goes to the place of a finding. */
  go_to(finding: Finding): void {
    const { doc } = this.#view.state;
    if (!finding.line) return;
    const at = offset(doc, finding.line, finding.column ?? 1);
    this.#select(at);
    this.#view.focus();
  }

  /** Goes to a note, without opening a phone's keyboard. */
  go_to_note(note: number): void {
    const place = this.#places()?.[note];
    if (place) this.#select(place.from);
  }

  focus(): void {
    this.#view.focus();
  }

  #select(at: number): void {
    this.#view.dispatch({
      selection: { anchor: at },
      effects: EditorView.scrollIntoView(at, { y: "center" }),
    });
  }

  // Where nobody has been in the text yet, the cursor stands at its first note.
  #begin(): void {
    const { selection } = this.#view.state;
    const first = this.#places()?.[0];
    if (first && selection.main.head === 0 && !this.#view.hasFocus) this.#select(first.from);
    else this.#mark_here();
  }

  // The note in whose word the cursor stands.
  #mark_here(): void {
    const { made } = this.store.state;
    const places = this.#places();
    if (!made?.listing || !places) return;
    const at = this.#view.state.selection.main.head;
    this.store.set({ mark: note_at(made.notes, places, made.text, at) });
  }

  /** Where each note stands in the text, as long as this is the text that was made last. */
  #places(): readonly (TextPlace | undefined)[] | undefined {
    const { made } = this.store.state;
    if (!made || made.text !== this.#view.state.doc.toString()) return undefined;
    if (this.#found.notes !== made.notes) {
      this.#found = { notes: made.notes, places: text_places(made.notes, made.text) };
    }
    return this.#found.places;
  }

  #show_places(): void {
    const { mark, sounding } = this.store.state;
    const found = this.#places();
    const mark_place = mark === undefined ? undefined : found?.[mark];
    const sounding_place = sounding === undefined ? undefined : found?.[sounding];
    const { state } = this.#view;
    if (!mark_place && !sounding_place && !state.field(places, false)?.size) return;
    this.#view.dispatch({
      effects: places_changed.of({ mark: mark_place, sounding: sounding_place }),
      annotations: Transaction.addToHistory.of(false),
    });
  }

  #underline(): void {
    const { findings, language } = this.store.state;
    const { doc } = this.#view.state;
    const shown: Diagnostic[] = [];
    for (const one of findings) {
      if (!one.line || !one.column) continue;
      const from = offset(doc, one.line, one.column);
      const to = offset(doc, one.endLine ?? one.line, one.endColumn ?? one.column + 1);
      shown.push({
        from,
        to: Math.max(from, to),
        severity: one.severity === "note" ? "info" : one.severity,
        source: say(language, one.severity),
        message: one.hint ? `${one.message}\n${one.hint}` : one.message,
      });
    }
    this.#view.dispatch(setDiagnostics(this.#view.state, shown));
  }
}

/** The one stretch in which two texts differ. */
function difference(before: string, after: string): { from: number; to: number; insert: string } {
  let from = 0;
  const shorter = Math.min(before.length, after.length);
  while (from < shorter && before[from] === after[from]) ++from;
  let end = 0;
  while (end < shorter - from && before.at(-1 - end) === after.at(-1 - end)) ++end;
  return { from, to: before.length - end, insert: after.slice(from, after.length - end) };
}

/** Whether fingers are what this device is used with, so that text means a keyboard on the screen. */
function touched(): boolean {
  return matchMedia("(pointer: coarse)").matches;
}
