"""Runs the commands that a page shows and compares what they print with what the page says.

    check_tour.py [--write] PROGRAM PAGE...

A block marked `console` holds commands behind `$ ` and under each what it prints. All blocks of a
page run in one copy of examples/, in the order of the page, in the language that its name ends in
(README.ja.md). With --write the page is given what the program prints now.
"""
import os
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile

ROOT = pathlib.Path(__file__).resolve().parents[2]
BLOCK = re.compile(r"(?<=```console\n).*?(?=^```)", re.MULTILINE | re.DOTALL)


def printed_by(command, folder, environment):
    run = subprocess.run(["bash", "-c", command], cwd=folder, env=environment,
                         stdin=subprocess.DEVNULL, stdout=subprocess.PIPE,
                         stderr=subprocess.STDOUT, timeout=60, check=False)
    text = run.stdout.decode("utf-8")
    return text if text.endswith("\n") or not text else text + "\n"


def replayed(block, folder, environment):
    """The block with the outputs of today."""
    commands = [line for line in block.splitlines() if line.startswith("$ ")]
    return "".join(f"{command}\n{printed_by(command[2:], folder, environment)}"
                   for command in commands)


def replay(page, program, home):
    folder = pathlib.Path(home) / "examples"
    shutil.copytree(ROOT / "examples", folder)
    language = page.stem.partition(".")[2] or "en"
    environment = {
        "PATH": f"{program.parent}:{os.environ['PATH']}",
        "HOME": home,
        "LANG": "C.UTF-8",
        "LC_MESSAGES": "C.UTF-8" if language == "en" else f"{language}.UTF-8",
    }
    text = page.read_text(encoding="utf-8")
    return text, BLOCK.sub(lambda m: replayed(m.group(0), folder / "scores", environment), text)


def main():
    words = sys.argv[1:]
    write = words[0] == "--write"
    program, *pages = words[1:] if write else words
    bad = 0
    for page in map(pathlib.Path, pages):
        with tempfile.TemporaryDirectory() as home:
            before, now = replay(page, pathlib.Path(program).resolve(), home)
        commands = sum(block.count("\n$ ") + block.startswith("$ ") for block in BLOCK.findall(before))
        if write:
            page.write_text(now, encoding="utf-8")
        elif before != now:
            bad += 1
            for old, new in zip(before.splitlines(), now.splitlines()):
                if old != new:
                    print(f"{page}: the page says\n  {old}\nand the program\n  {new}")
                    break
            else:
                print(f"{page}: the program prints more or fewer lines than the page has")
        print(f"{page.name}: {commands} commands")
        if commands == 0:
            bad += 1
    sys.exit(1 if bad else 0)


main()
