"""Checks that no finding has words that the catalogues cannot translate: a sentence that is given
to a report must go through message() or a table of the catalogue.

    check_findings.py FOLDER
"""
import pathlib
import re
import sys

CALL = re.compile(r"\b(?:report|at_note|at_change|add|error|warn|warning)\(")
# A string, a character, or a comment, none of which brackets count in.
OPAQUE = re.compile(r'R"\((?:.|\n)*?\)"|"(?:\\.|[^"\\])*"|\'(?:\\.|[^\'\\])+\'|//[^\n]*')
SENTENCE = re.compile(r'"[^"]*[A-Za-z]{2,} [A-Za-z]')


def arguments(text, at):
    """The arguments of the call whose bracket has just been opened."""
    depth, begin, found = 0, at, []
    while at < len(text):
        opaque = OPAQUE.match(text, at)
        if opaque:
            at = opaque.end()
            continue
        if text[at] in "([{":
            depth += 1
        elif text[at] in ")]}":
            if depth == 0:
                return found + [text[begin:at]]
            depth -= 1
        elif text[at] == "," and depth == 0:
            found.append(text[begin:at])
            begin = at + 1
        at += 1
    return found


def bare_sentences(argument):
    """The literals of an argument that no call takes, as those of a choice between two."""
    depth, at = 0, 0
    while at < len(argument):
        opaque = OPAQUE.match(argument, at)
        if opaque:
            if depth == 0 and SENTENCE.match(opaque.group()):
                yield opaque.group()
            at = opaque.end()
            continue
        depth += {"(": 1, ")": -1}.get(argument[at], 0)
        at += 1


def main():
    faults = 0
    for path in sorted(pathlib.Path(sys.argv[1]).rglob("*.cpp")):
        text = path.read_text(encoding="utf-8")
        for call in CALL.finditer(text):
            for argument in arguments(text, call.end()):
                for sentence in bare_sentences(argument):
                    line = text.count("\n", 0, call.start()) + 1
                    print(f"{path}:{line}: not translated: {sentence}")
                    faults += 1
    print(f"{faults} findings that cannot be translated")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
