"""Checks that a translation can be formatted wherever its English text can.

    check_catalogue.py COMPILED CATALOGUE TEMPLATE
"""
import gettext
import re
import sys

FIELD = re.compile(r"\{\{|\}\}|\{([0-9]*)(:[^{}]*)?\}")


def fields(text):
    """The number and format of each field, in the order of the text."""
    found = []
    for match in FIELD.finditer(text):
        if match.group(0) in ("{{", "}}"):
            continue
        number = match.group(1)
        found.append((int(number) if number else len(found), match.group(2) or "", number != ""))
    return found


def faults(english, translation):
    wanted, given = fields(english), fields(translation)
    if len({numbered for _, _, numbered in given}) > 1:
        yield "some fields are numbered and some are not"
    if {(n, form) for n, form, _ in wanted} != {(n, form) for n, form, _ in given}:
        yield "its fields are not those of the English text"
    left_over = FIELD.sub("", translation)
    if FIELD.sub("", english).count("{") == 0 and ("{" in left_over or "}" in left_over):
        yield "a brace stands alone"
    for end in (str.lstrip, str.rstrip):
        edge = len(english) - len(end(english)), len(translation) - len(end(translation))
        if (edge[0] == 0) != (edge[1] == 0):
            yield "a space or line end at its begin or end differs"
    if not translation.strip():
        yield "it is empty"


def main():
    compiled, catalogue, template = sys.argv[1:]
    with open(compiled, "rb") as file:
        texts = gettext.GNUTranslations(file)._catalog
    texts = {english: text for english, text in texts.items() if english}
    bad = [(english, fault) for english, text in texts.items() for fault in faults(english, text)]
    for english, fault in bad:
        print(f"{catalogue}: {english!r}: {fault}")
    with open(template, encoding="utf-8") as file:
        known = sum(line.startswith("msgid ") for line in file) - 1
    print(f"{len(texts)} texts translated of {known}, {len(bad)} faults")
    sys.exit(1 if bad or len(texts) < known else 0)


main()
