"""Runs the commands that a page shows and compares what they print with what the page says.

    check_tour.py [--write] PROGRAM PAGE...

A block marked `console` holds commands behind `$ ` and under each what it prints. They run in the
order of the page, as somebody would type them in one window: in a clone that holds examples/, where
a `cd` counts for what follows, in the language that the page's name ends in (README.ja.md). Nothing
of the clone may change by it. With --write the page is given what the program prints now.
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


class Window:
    """A shell window of somebody whose home is `home`."""

    def __init__(self, home, program, language):
        self.folder = home / "clone"
        self.end = home / "last-folder"
        self.environment = {
            "PATH": f"{program.parent}:{os.environ['PATH']}",
            "HOME": str(home),
            "LANG": "C.UTF-8",
            "LC_MESSAGES": "C.UTF-8" if language == "en" else f"{language}.UTF-8",
        }

    def type(self, command):
        """What the command prints."""
        run = subprocess.run(["sh", "-c", f"{command}\npwd >'{self.end}'"], cwd=self.folder,
                             env=self.environment, stdin=subprocess.DEVNULL,
                             stdout=subprocess.PIPE, stderr=subprocess.STDOUT, timeout=60,
                             check=False)
        self.folder = pathlib.Path(self.end.read_text(encoding="utf-8").rstrip("\n"))
        text = run.stdout.decode("utf-8")
        return text if text.endswith("\n") or not text else text + "\n"

    def replayed(self, block):
        """The block with the outputs of today."""
        commands = [line for line in block.splitlines() if line.startswith("$ ")]
        return "".join(f"{command}\n{self.type(command[2:])}" for command in commands)


def files_of(folder):
    return {path.relative_to(folder): path.read_bytes()
            for path in folder.rglob("*") if path.is_file()}


def replay(page, program, home):
    clone = home / "clone"
    shutil.copytree(ROOT / "examples", clone / "examples")
    before = files_of(clone)
    window = Window(home, program, page.stem.partition(".")[2] or "en")
    text = page.read_text(encoding="utf-8")
    now = BLOCK.sub(lambda match: window.replayed(match.group(0)), text)
    after = files_of(clone)
    changed = [str(path) for path in {**before, **after} if before.get(path) != after.get(path)]
    return text, now, changed


def main():
    words = sys.argv[1:]
    write = words[0] == "--write"
    program, *pages = words[1:] if write else words
    bad = 0
    for page in map(pathlib.Path, pages):
        with tempfile.TemporaryDirectory() as home:
            before, now, changed = replay(page, pathlib.Path(program).resolve(),
                                          pathlib.Path(home).resolve())
        commands = sum(block.count("\n$ ") + block.startswith("$ ") for block in BLOCK.findall(before))
        if changed:
            bad += 1
            print(f"{page}: the tour changes the clone: {', '.join(sorted(changed))}")
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
