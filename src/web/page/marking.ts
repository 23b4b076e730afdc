// One note in three views: which words of the text, shapes of the sheet and notes of the staff are
// the tone of a number (`Listing.written`). Nothing here knows what is marked.

import type { WrittenTone } from "./listing.ts";

/** Offsets in a string as JavaScript and editors count them, `to` behind the last. */
export interface TextPlace {
  from: number;
  to: number;
}

/**
 * Where each written tone stands in the text that the listing was made of; undefined for a tone
 * without a place. A grace note has the word of its note.
 */
export function text_places(
  written: readonly WrittenTone[],
  text: string,
): (TextPlace | undefined)[] {
  const wanted = new Set<number>();
  for (const { from, to } of written) {
    if (from !== undefined) wanted.add(from);
    if (to !== undefined) wanted.add(to);
  }
  // The program counts bytes of UTF-8.
  const offsets = new Map<number, number>();
  let bytes = 0;
  let offset = 0;
  for (const character of text) {
    if (wanted.has(bytes)) offsets.set(bytes, offset);
    const code = character.codePointAt(0) ?? 0;
    bytes += code < 0x80 ? 1 : code < 0x800 ? 2 : code < 0x10000 ? 3 : 4;
    offset += character.length;
  }
  if (wanted.has(bytes)) offsets.set(bytes, offset);
  return written.map(({ from, to }) => {
    const begin = from === undefined ? undefined : offsets.get(from);
    const end = to === undefined ? undefined : offsets.get(to);
    return begin === undefined || end === undefined ? undefined : { from: begin, to: end };
  });
}

// Every dash that the notation reads as a hold.
const kHold = /^[-－ー―—−‐–]/u;
const kBetween = /[\s()|:（）｜　]/u;

/**
 * The tone in whose word an offset lies: the note itself where it has grace notes, and for a hold
 * the note that is held. Undefined in rests, bar signs, song text and whatever else is no note.
 */
export function note_at(
  written: readonly WrittenTone[],
  places: readonly (TextPlace | undefined)[],
  text: string,
  offset: number,
): number | undefined {
  const line = text.slice(text.lastIndexOf("\n", offset - 1) + 1, offset);
  if (/^\s*[>#]|\s#/u.test(line)) return undefined;
  let before: number | undefined;
  for (const [note, place] of places.entries()) {
    if (!place || written[note]?.grace || place.from > offset) continue;
    if (offset < place.to) return note;
    // A bar that repeats the one before is one word for all of its notes.
    if (before === undefined || place.from > (places[before]?.from ?? 0)) before = note;
  }
  if (before === undefined) return undefined;
  let word = offset;
  while (word > 0 && !kBetween.test(text[word - 1] ?? " ")) word -= 1;
  if (kHold.test(text.slice(word))) return before;
  // A cursor behind the last sign of a word is still in it.
  return places[before]?.to === offset ? before : undefined;
}

/**
 * For each note of a staff in the order in which an engraver draws them, the number of its tone:
 * of MusicXML as the program writes it, one part and one voice. What is tied on is the same tone.
 */
export function staff_order(musicxml: string): number[] {
  const order: number[] = [];
  let next = 0;
  let main = 0;
  for (const [note] of musicxml.matchAll(/<note[\s>].*?<\/note>/gsu)) {
    if (/<rest[\s/>]/u.test(note)) continue;
    if (/<grace[\s/>]/u.test(note)) order.push(next++);
    else if (/<tie type="stop"/u.test(note)) order.push(main);
    else order.push((main = next++));
  }
  return order;
}

/**
 * Writes the numbers of the tones (`data-note`) on the notes of staff drawings, as the sheet has
 * them. `drawings` are all systems or pages in order; false where the drawings have not as many
 * notes as the order, and then nothing is written.
 */
export function number_staff(drawings: readonly ParentNode[], order: readonly number[]): boolean {
  const notes = drawings.flatMap((drawing) => [...drawing.querySelectorAll("g.note")]);
  if (notes.length !== order.length) return false;
  for (const [place, note] of notes.entries()) note.setAttribute("data-note", String(order[place]));
  return true;
}

/** The number of the tone to which a clicked piece of a drawing belongs. */
export function note_of(target: EventTarget | null | undefined): number | undefined {
  const piece = target instanceof Element ? target.closest("[data-note]") : null;
  return piece ? Number(piece.getAttribute("data-note")) : undefined;
}

/**
 * The number of the tone whose piece is nearest to a point of the window, at most so many pixels
 * away: signs and hollow notes have holes in them, and fingers are wide. Of boxes that hold the
 * point the smallest counts.
 */
export function note_near(
  drawings: readonly ParentNode[],
  x: number,
  y: number,
  within = 12,
): number | undefined {
  let best: { note: number; distance: number; size: number } | undefined;
  for (const piece of drawings.flatMap((one) => [...one.querySelectorAll("[data-note]")])) {
    const { left, right, top, bottom } = piece.getBoundingClientRect();
    const distance = Math.hypot(
      Math.max(left - x, 0, x - right),
      Math.max(top - y, 0, y - bottom),
    );
    const size = (right - left) * (bottom - top);
    const nearer =
      !best || distance < best.distance || (distance === best.distance && size < best.size);
    if (distance > within || !nearer) continue;
    best = { note: Number(piece.getAttribute("data-note")), distance, size };
  }
  return best?.note;
}

/** Moves a class to the pieces of one tone in all of these drawings; gives these pieces. */
export function mark_note(
  drawings: readonly ParentNode[],
  name: string,
  note: number | null | undefined,
): Element[] {
  const marked: Element[] = [];
  for (const drawing of drawings) {
    for (const piece of drawing.querySelectorAll(`.${name}`)) piece.classList.remove(name);
    if (note === null || note === undefined) continue;
    for (const piece of drawing.querySelectorAll(`[data-note="${note}"]`)) {
      piece.classList.add(name);
      marked.push(piece);
    }
  }
  return marked;
}
