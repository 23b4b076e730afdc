#!/usr/bin/env python3
"""Looks at printed pages for page_print.sh.

same PAGE.html OWN.txt OWN.html PRINTED.html
    Every sign of the bars of a page stands in the raw text of our PDF, in order; and each word
    stands where it does in the browser's print, to half a millimetre.
tunes FOLDER COUNT
    Writes tunes with every form, mark and song text, for several flutes.
book BOOK.txt COUNT
    The page numbers of the contents and the index are those of the pages with the titles.
"""
import html
import pathlib
import re
import sys

HALF_MILLIMETRE = 0.5 * 72 / 25.4


def fail(message):
    sys.exit("printed_pages: " + message)


def words_of(path):
    """For each page its words with the middle of their boxes."""
    pages = []
    word = r'<word xMin="(.*?)" yMin="(.*?)" xMax="(.*?)" yMax="(.*?)">(.*?)</word>'
    for page in path.read_text(encoding="utf-8").split("<page ")[1:]:
        found = []
        for left, top, right, bottom, text in re.findall(word, page):
            middle = ((float(left) + float(right)) / 2, (float(top) + float(bottom)) / 2)
            found.append((html.unescape(text), middle))
        pages.append(found)
    return pages


def same(page, text, own, printed):
    bars = re.findall(r'aria-label="[^"]*?: ([^"]*)"', pathlib.Path(page).read_text("utf-8"))
    raw = "".join(pathlib.Path(text).read_text("utf-8").split())
    at = 0
    for bar in bars:
        for sign in html.unescape(bar).split():
            found = raw.find(sign, at)
            if found < 0:
                fail(f"{sign} of the bar {bar} is not found in order")
            at = found + len(sign)
    compared = 0
    for ours, theirs in zip(words_of(pathlib.Path(own)), words_of(pathlib.Path(printed))):
        for word, (x, y) in ours:
            places = [place for other, place in theirs if other == word]
            if not places:
                continue
            compared += 1
            apart = min(max(abs(x - x2), abs(y - y2)) for x2, y2 in places)
            if apart > HALF_MILLIMETRE:
                fail(f"{word} at {x:.1f} {y:.1f} is {apart / 72 * 25.4:.2f} mm off")
    if compared < len(bars):
        fail(f"only {compared} words of {len(bars)} bars could be compared")


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
    {"same": same, "tunes": lambda f, n: tunes(f, int(n)), "book": lambda t, n: book(t, int(n))}[task](*words)
