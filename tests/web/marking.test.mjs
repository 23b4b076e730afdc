// One note in the text, on the sheet and on the staff, clicked in each.
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { check, converted, finish, listing_of, package_file, root, same, with_page } from "./played_page.mjs";

const kTune = `title: 港 𝄞 & lanterns
flute: 6

# 五 - : no music
三{pre 六 七} 四 - - | - 六{post 五} ・ (三メ 8) | % | 五~ (六 －) 1 2 |=
> ne 港 ta-
`;

async function text(page) {
  const listing = listing_of(kTune);
  const places = await page.evaluate(([written, text]) => page.text_places(written, text), [listing.written, kTune]);
  same("each tone has its word", places.map(({ from, to }) => kTune.slice(from, to)),
    ["三{pre 六 七}", "三{pre 六 七}", "三{pre 六 七}", "四", "六{post 五}", "六{post 五}", "三メ", "8",
      "%", "%", "%", "%", "五~", "六", "1", "2"]);
  const music = kTune.indexOf("三{");
  const at = (word, from = music) => kTune.indexOf(word, from);
  const wanted = [
    ["the note of a word with grace notes", at("三{"), 2],
    ["also on its grace notes", at("七}"), 2],
    ["behind its word", at("} 四") + 1, 2],
    ["a hold", at("- -"), 3],
    ["a hold in the next bar", at("- 六{post"), 3],
    ["a word with a grace note after it", at("post"), 4],
    ["no rest", at("・"), null],
    ["no bar sign", at("| %"), null],
    ["in a group", at("8)"), 7],
    ["the first of a bar that is as the one before", at("%"), 8],
    ["a full-width hold in a group", at("－"), 13],
    ["no song text", at("港", music), null],
    ["no dash in song text", at("-\n"), null],
    ["no dash in a comment", kTune.indexOf("- : no"), null],
    ["no header", 2, null],
  ];
  const found = await page.evaluate(
    ([written, text, offsets]) => {
      const places = page.text_places(written, text);
      return offsets.map((offset) => page.note_at(written, places, text, offset) ?? null);
    },
    [listing.written, kTune, wanted.map(([, offset]) => offset)],
  );
  wanted.forEach(([what, , note], i) => same(what, found[i], note));
}

// Every tune of the repository: the staff has as many notes as the listing has tones, ties taken as
// one, and each engraved note sounds what its tone is written as.
async function engraver() {
  const createVerovioModule = (await import(package_file("verovio/wasm"))).default;
  const { VerovioToolkit } = await import(package_file("verovio/esm"));
  const toolkit = new VerovioToolkit(await createVerovioModule());
  toolkit.setOptions({ breaks: "auto", header: "none", footer: "none", pageWidth: 1400, adjustPageHeight: true });
  return (musicxml) => {
    check("Verovio reads it", toolkit.loadData(musicxml));
    return [...Array(toolkit.getPageCount()).keys()].map((i) => toolkit.renderToSVG(i + 1));
  };
}

async function staffs(page, engraved) {
  const tunes = ["examples/scores", "tests/golden/page"].flatMap((folder) =>
    readdirSync(join(root, folder)).filter((name) => name.endsWith(".yubifu")).map((name) => join(folder, name)));
  check("there are tunes", tunes.length >= 5, String(tunes.length));
  const held = kTune.replace("% | ", "");
  for (const [name, tune] of [...tunes.map((name) => [name, readFileSync(join(root, name), "utf8")]), ["held", held]]) {
    const flutes = readdirSync(join(root, "examples/flutes")).map((one) => `examples/flutes/${one}`);
    const local = tune.replace(/^(flute: *)(?:[^\s]*\/)/mu, "$1");
    const listing = listing_of(local, flutes);
    const systems = engraved(converted(local, "tune.musicxml", flutes));
    const [numbered, order] = await page.evaluate(
      ([musicxml, systems]) => {
        const drawn = systems.map((svg) => new DOMParser().parseFromString(svg, "image/svg+xml"));
        const order = page.staff_order(musicxml);
        return [page.number_staff(drawn, order), order];
      },
      [converted(local, "tune.musicxml", flutes), systems],
    );
    check(`${name}: the staff has the notes of the order`, numbered, `${order.length} in order`);
    same(`${name}: every tone has a note`, [...new Set(order)], listing.written.map((_, i) => i));
  }
  same("a hold over the bar line is the same tone", await page.evaluate((xml) => page.staff_order(xml), converted(held, "tune.musicxml")),
    [0, 1, 2, 3, 3, 4, 5, 6, 7, 8, 9, 10, 11]);
}

async function views(page, engraved) {
  const tune = kTune.replace("% | ", "");
  const listing = listing_of(tune);
  const musicxml = converted(tune, "tune.musicxml");
  await page.evaluate(
    ([sheet, systems, musicxml]) => {
      const put = (svg) => {
        const view = document.createElement("div");
        view.innerHTML = svg.slice(svg.indexOf("<svg"));
        document.body.append(view);
        return view;
      };
      window.views = [put(sheet), ...systems.map(put)];
      page.number_staff(views.slice(1), page.staff_order(musicxml));
      document.body.addEventListener("click", (event) => (window.clicked =
        page.note_of(event.target) ?? page.note_near(views, event.clientX, event.clientY) ?? null));
    },
    [converted(tune, "tune.svg"), engraved(musicxml), musicxml],
  );
  const pieces = await page.evaluate((notes) => notes.map((note) => [0, 1].map((view) =>
    window.views.slice(view, view === 0 ? 1 : undefined).flatMap((one) => [...one.querySelectorAll(`[data-note="${note}"]`)]).length)),
    listing.written.map((_, i) => i));
  pieces.forEach(([sheet, staff], note) => check(`tone ${note} is on sheet and staff`, sheet > 0 && staff > 0, `${sheet}, ${staff}`));
  same("a tie has both its notes", pieces[3][1], 2);
  // In the middle of a sign or a note, also where it has no ink.
  for (const note of [0, 2, 3, 6, 8]) {
    for (const view of [0, 1]) {
      const where = await page.evaluate(([note, view]) => {
        const piece = window.views[view].querySelector(`g[data-note="${note}"] use, g[data-note="${note}"].note .notehead`);
        piece.scrollIntoView({ block: "center" });
        const { x, y, width, height } = piece.getBoundingClientRect();
        return { x: x + width / 2, y: y + height / 2 };
      }, [note, view]);
      await page.evaluate(() => (window.clicked = undefined));
      await page.mouse.click(where.x, where.y);
      same(`a click on tone ${note} of view ${view}`, await page.evaluate(() => window.clicked ?? null), note);
    }
  }
  await page.evaluate(() => window.scrollTo(0, 0));
  await page.mouse.click(12, 12);
  same("a click beside the sheet", await page.evaluate(() => window.clicked ?? null), null);
  const marked = await page.evaluate(() => {
    const first = page.mark_note(window.views, "at-sound", 3).length;
    page.mark_note(window.views, "at-mark", 4);
    page.mark_note(window.views, "at-sound", 4);
    const both = document.querySelectorAll(".at-sound").length === document.querySelectorAll('[data-note="4"]').length;
    page.mark_note(window.views, "at-sound", null);
    return [first === document.querySelectorAll('[data-note="3"]').length, both,
      document.querySelectorAll(".at-sound").length, document.querySelectorAll(".at-mark").length > 0];
  });
  same("a mark moves in all views and leaves the other", marked, [true, true, 0, true]);
}

await with_page(["marking"], async (page) => {
  const engraved = await engraver();
  await text(page);
  await staffs(page, engraved);
  await views(page, engraved);
});
finish();
