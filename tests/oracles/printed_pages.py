#!/usr/bin/env python3
"""Looks at printed pages for page_print.sh.

same PAGE.html OWN.txt OWN.html
    Every sign of the bars of a page stands in the raw text of our PDF, in order; and where it is one
    word there, it stands where the page has it, to half a millimetre.
alike OWN.pgm PRINTED.pgm
    All ink of one picture lies within half a millimetre of ink of the other, and the reverse.
tunes FOLDER COUNT
    Writes tunes with every form, mark and song text, for several flutes.
book BOOK.txt COUNT
    The page numbers of the contents and the index are those of the pages with the titles.
"""
import html
import pathlib
import re
import sys

HALF_MILLIMETRE = 0.5
DOTS_PER_INCH = 100  # of the pictures


def fail(message):
    sys.exit("printed_pages: " + message)


def words_of(path):
    """For each page its words with the middle of their boxes, in millimetres."""
    pages = []
    word = r'<word xMin="(.*?)" yMin="(.*?)" xMax="(.*?)" yMax="(.*?)">(.*?)</word>'
    for page in path.read_text(encoding="utf-8").split("<page ")[1:]:
        found = []
        for left, top, right, bottom, text in re.findall(word, page):
            x, y = (float(left) + float(right)) / 2, (float(top) + float(bottom)) / 2
            found.append((html.unescape(text), (x * 25.4 / 72, y * 25.4 / 72)))
        pages.append(found)
    return pages


def signs_of(page):
    """For each sheet the texts under its signs, with their middles."""
    text = r'<tspan[^>]* x="(.*?)" y="(.*?)" font-size="(.*?)" textLength="(.*?)"[^>]*>(.*?)</tspan>'
    sheets = []
    for sheet in page.split('<section class="sheet')[1:]:
        sheets.append([(html.unescape(sign), float(x) + float(length) / 2, float(y), float(size))
                       for x, y, size, length, sign in re.findall(text, sheet)])
    return sheets


def same(page, text, own):
    page = pathlib.Path(page).read_text("utf-8")
    bars = re.findall(r'aria-label="[^"]*?: ([^"]*)"', page)
    raw = "".join(pathlib.Path(text).read_text("utf-8").split())
    at = 0
    for bar in bars:
        for sign in html.unescape(bar).split():
            found = raw.find(sign, at)
            if found < 0:
                fail(f"{sign} of the bar {bar} is not found in order")
            at = found + len(sign)
    compared = 0
    signs = signs_of(page)
    for sheet, words in zip(signs, words_of(pathlib.Path(own))):
        for sign, x, y, size in sheet:
            aside = [abs(x - x2) for word, (x2, y2) in words
                     if word == sign and abs(x - x2) < size and abs(y - y2) < size]
            if not aside:
                continue
            compared += 1
            if min(aside) > HALF_MILLIMETRE:
                fail(f"{sign} at {x:.1f} {y:.1f} is {min(aside):.2f} mm off")
    if compared < sum(map(len, signs)) / 2:
        fail(f"only {compared} signs could be compared")


def rows_of(path, least):
    """The rows of a grey picture as bits, set where it is at least so dark (0 to 255)."""
    data = pathlib.Path(path).read_bytes()
    width, height = map(int, re.match(rb"P5\s+(\d+)\s+(\d+)\s+255\s", data).groups())
    pixels = data[-width * height:]
    dark = bytes(49 if 255 - grey >= least else 48 for grey in range(256))
    bits = pixels.translate(dark)
    return [int(bits[at:at + width], 2) for at in range(0, width * height, width)]


def spread(rows, by):
    """The ink and all within a square of it."""
    wide = []
    for row in rows:
        for _ in range(by):
            row |= row << 1 | row >> 1
        wide.append(row)
    spread_rows = []
    for at in range(len(wide)):
        row = 0
        for other in wide[max(0, at - by):at + by + 1]:
            row |= other
        spread_rows.append(row)
    return spread_rows


def alike(own, printed):
    by = round(HALF_MILLIMETRE / 25.4 * DOTS_PER_INCH)
    if not any(rows_of(own, 160)):
        fail(f"{own} is empty")
    for here, there in ((own, printed), (printed, own)):
        near = spread(rows_of(there, 48), by)
        for at, row in enumerate(rows_of(here, 160)):
            if row & ~near[at]:
                top = at * 25.4 / DOTS_PER_INCH
                fail(f"{here}: ink {top:.1f} mm from the top that {there} has not there")


FORMS = [
    "三 四 五 六 | 七 六 五 - | 三 - - - |=",
    "|: 三メ 四 (五 六) - :| 七↓20 ?F#4 五 三 |=",
    "三 (四 五 六) - - | {ending 1} 五 - 六 - :| {ending 2} 七{fermata} - - - |=",
    "{section \"A\"} 5{pre 六} 6{uchi} 7{suri} 8 || {meter 6/8} 5 6 7 5 - - | {flute 7} 3 - - - - - |=",
    "筒 一 二 三{breath} | {segno} 4~ 5 ・ 6 | {tempo 90} 2̇ 5̇ 0 1{trill} {dc} |=",
]


def tunes(folder, count):
    pathlib.Path(folder).mkdir()
    for i in range(count):
        form = FORMS[i % len(FORMS)]
        head = f"title: Tune {i:03}\nflute: {6 + i % 3}\nsource: book {i}\n"
        if i % 4 == 1:
            head += "subtitle: a second line\ncomposer: A. Writer\n"
        music = "\n".join(["三 四 五 六 |"] * (7 * (i % 5)) + [form])
        song = "\n> い ろ は に" if i % len(FORMS) == 0 else ""
        name = pathlib.Path(folder) / f"{i:03}.yubifu"
        name.write_text(f"{head}\n{music}{song}\n", encoding="utf-8")


def book(text, count):
    pages = pathlib.Path(text).read_text("utf-8").split("\f")
    checked = 0
    for number, page in enumerate(pages):
        if not re.search(r"(^| )(Contents|Index of first words)$", page, re.MULTILINE):
            continue
        # A number may be torn into its digits, and a title that runs down into its words.
        for title, told in re.findall(r"(Tune \d{3})\)?\s+(\d+(?:\n\d+(?=\n))?)$", page, re.M):
            checked += 1
            on = pages[int("".join(told.split())) - 1]
            if "".join(title.split()) not in "".join(on.split()):
                fail(f"{title} is not on page {told}, as page {number + 1} says")
    if checked < count:
        fail(f"only {checked} page numbers were found")


if __name__ == "__main__":
    task, *words = sys.argv[1:]
    tasks = {"same": same, "alike": alike,
             "tunes": lambda folder, count: tunes(folder, int(count)),
             "book": lambda text, count: book(text, int(count))}
    tasks[task](*words)
