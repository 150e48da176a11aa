#!/usr/bin/env python3
"""Hostile names, in every file that is read and on the command line.

    check_harm.py SOURCE_FOLDER WORTFIT FAULTS_LIBRARY [--full]

Each text and each key of a store, target, recipe, brewhouse, log and table is replaced by one that holds what
moves a terminal's cursor, rings its bell, turns writing round, begins a new line, or names another file
or a shell's command; raw, and as JSON writes it. File names and words of the command line hold them too. Whatever
wortfit then prints, on standard output and standard error, as text and as JSON, is plain UTF-8 without
them, no line is forged, and no file is opened or made that the command line does not name. Ordinarily each
place gets two of the texts in turn, with --full all of them; the commands that read the file take turns.
"""
import collections
import html.parser
import itertools
import json
import os
import pathlib
import re
import subprocess
import sys
import tempfile

from cases import commands

FULL = "--full" in sys.argv
ROOT, PROGRAM, LIBRARY = (pathlib.Path(p).resolve() for p in sys.argv[1:4])
MARK = "@@@"
# Bytes, since not all are UTF-8.
HOSTILE = [b"\x1b[31mred\x1b]0;t\x07", "\x9b31m\x90q\x9c".encode(), b"\x9b31m", b"\x07bell", "\u202egnol\u2066".encode(),
           b"a\nFORGED line", b"a\rFORGED line", "\u2028FORGED\u2029".encode(), "\u200f\u061cturned".encode(),
           "\ufeff\U000e0041tag".encode(), b"\x7f\x08\x08back", b"/etc/passwd", b"../other.json", b"|touch made",
           b"$(touch made)`touch made`;touch made", b"%s%n%1000000d", b"<script>alert(1)</script>", b"\" onload=\"x",
           b"--html", b"\xc0\xaf\xff\xfe"]
FORBIDDEN = re.compile("[\x00-\x09\x0b-\x1f\x7f-\x9f\u061c\u200e\u200f\u2028-\u202e\u2060-\u206f\ufeff\U000e0000-\U000e007f]")
ON = ["--on", "2026-11-25"]
problems = []
counts = collections.Counter()


def plain(path):
    """A document without its comments."""
    text = (ROOT / path).read_text(encoding="utf-8")
    return json.loads(re.sub(r"^\s*//.*$|(?<=[,\[{}\]\"])\s*//.*$", "", text, flags=re.M))


STORE, TARGET = plain("examples/small-cellar.json"), plain("targets/amber-ale.json")
RECIPE, HOUSE = plain("examples/last-autumn-amber.json"), plain("examples/brewhouse-20l.json")
LOG_LINE = json.loads((ROOT / "examples/alder-lane.brews.jsonl").read_text(encoding="utf-8").splitlines()[0])
TABLE = "id,kind,have,note\ncascade,hop,10 g,fresh\n"
BREW = ["--og", "1.052", "--volume", "19 L", *ON]

# A kind of file: its name, what it holds, and what is run with it.
FILES = [
    ("store.json", STORE, [["stock", "store.json", *ON], ["stock", "store.json", "--json", *ON],
                           ["check", "r.json", "--store", "store.json", *ON],
                           ["solve", "amber-ale", "--store", "store.json", *ON],
                           ["stock", "store.json", "use", "cascade", "--take", "1 g", *ON]]),
    ("target.json", TARGET, [["check", "r.json", "--target", "target.json", *ON], ["solve", "target.json", *ON],
                             ["check", "r.json", "--target", "target.json", "--json", *ON]]),
    ("recipe.json", RECIPE, [["check", "recipe.json", *ON], ["check", "recipe.json", "--json", *ON],
                             ["compare", "recipe.json", "r.json"], ["scale", "recipe.json", "--batch", "10 L"],
                             ["sheet", "recipe.json"], ["sheet", "recipe.json", "--html", "s.html"],
                             ["sheet", "recipe.json", "--json"], ["hops", "recipe.json", "--alpha", "cascade=5%"],
                             ["brewed", "recipe.json", "--store", "s.json", *BREW]]),
    ("house.json", HOUSE, [["solve", "amber-ale", "--brewhouse", "house.json", *ON],
                           ["learn", "l.brews.jsonl", "--brewhouse", "house.json", "--write"]]),
    ("s.brews.jsonl", LOG_LINE, [["learn", "s.brews.jsonl"], ["learn", "s.brews.jsonl", "--json"],
                                 ["brewed", "r.json", "--store", "s.json", *BREW]]),
]
# Words of the command line; the mark is what is hostile.
WORDS = [["@@@"], ["solve", "@@@"], ["solve", "amber-ale", "--@@@"], ["solve", "amber-ale", "--og", "@@@"],
         ["solve", "amber-ale", "--use", "@@@"], ["solve", "amber-ale", "--yeast", "@@@"], ["check", "@@@"],
         ["solve", "amber-ale", "--goal", "@@@"], ["check", "r.json", "--store", "@@@"], ["compare", "r.json", "@@@"],
         ["scale", "r.json", "--batch", "@@@"], ["adjust", "r.json", "--more", "@@@"],
         ["substitute", "r.json", "--without", "@@@"], ["survey", "--group", "@@@"], ["survey", "--store", "@@@"],
         ["plan", "amber-ale", "@@@"], ["sheet", "@@@"], ["brewed", "@@@", "--store", "s.json", *BREW],
         ["brewed", "r.json", "--store", "@@@", *BREW], ["brewed", "r.json", "--store", "s.json", *BREW, "--used", "@@@=1 g"],
         ["learn", "@@@"], ["stock", "@@@"], ["stock", "s.json", "@@@"], ["stock", "s.json", "use", "@@@", "--take", "1 g"],
         ["stock", "s.json", "add", "@@@", "--kind", "hop", "--have", "3 g"],
         ["stock", "s.json", "add", "new", "--is", "cascade", "--field", "note=@@@"],
         ["stock", "s.json", "set", "cascade", "--field", "@@@=1"], ["beers", "@@@"], ["malts", "@@@"], ["hops", "@@@"],
         ["malts", "--word", "@@@"], ["yeasts", "@@@"], ["words", "@@@"], ["help", "@@@"],
         ["hops", "r.json", "--alpha", "@@@=5%"], ["hops", "r.json", "--alpha", "cascade=@@@"], ["solve", "amber-ale", "--on", "@@@"]]
# Files that are there, under hostile names.
NAMED = [["stock", "@@@.json", *ON], ["check", "@@@.json"], ["sheet", "r.json", "--html", "@@@.html"],
         ["brewed", "r.json", "--store", "@@@.json", *BREW], ["solve", "amber-ale", "--write-model", "@@@.lp", *ON],
         ["brewed", "r.json", "--store", "@@@.json", "--json", *BREW], ["learn", "@@@.brews.jsonl"], ["learn", "@@@.brews.jsonl", "--json"],
         ["learn", "l.brews.jsonl", "--brewhouse", "@@@.json", "--write"], ["stock", "s.json", "import", "@@@.csv", *ON],
         ["check", "@@@.r.json", "--json"], ["compare", "@@@.r.json", "r.json", "--json"], ["sheet", "@@@.r.json", "--html", "s.html"]]


class Page(html.parser.HTMLParser):
    """Notes what a page must not hold."""

    def __init__(self, what):
        super().__init__()
        self.what = what

    def handle_starttag(self, tag, attrs):
        if tag in ("script", "iframe", "object") or any(k.startswith("on") for k, _ in attrs):
            problems.append(f"{self.what}: the page holds <{tag} {attrs}>")


class Folder:
    def __init__(self, path):
        self.path = pathlib.Path(path) / "folder"
        self.path.mkdir()
        self.opened = pathlib.Path(path) / "opened"
        self.fill()

    def fill(self):
        for old in self.path.iterdir():
            old.unlink()
        for name, document in (("s.json", STORE), ("r.json", RECIPE), ("l.brews.jsonl", LOG_LINE)):
            (self.path / name).write_text(json.dumps(document) + "\n", encoding="utf-8")
        (self.path / "made").unlink(missing_ok=True)

    def run(self, argv, allowed=()):
        environment = {"PATH": os.environ["PATH"], "LC_ALL": "C", "TZ": "UTC", "LD_PRELOAD": str(LIBRARY),
                       "WF_FAULT_OPENED": str(self.opened)}
        self.opened.unlink(missing_ok=True)
        before = {p.name for p in self.path.iterdir()}
        done = subprocess.run([PROGRAM, *argv], cwd=self.path, env=environment, capture_output=True, check=False,
                              stdin=subprocess.DEVNULL, timeout=120)
        counts["runs"] += 1
        judge(argv, done)
        self.judge_files(argv, before, allowed)
        return done

    def judge_files(self, argv, before, allowed):
        """Files that were opened or made are named by the command line, or go with one that is."""
        words = [os.fsencode(a) for a in argv] + [os.fsencode(a) for a in allowed]
        stems = [w.removesuffix(b".json") for w in words if w]
        known = (b".", b"/dev/null", b"./.")
        for name in self.opened.read_bytes().split(b"\0") if self.opened.exists() else []:
            name = name.removeprefix(os.fsencode(self.path.resolve()) + b"/")
            if name and name not in known and not any(name.startswith(s) or s.endswith(name) or name in s for s in stems):
                problems.append(f"{argv}: opened {name}")
        made = {p.name for p in self.path.iterdir()} - before
        for name in map(os.fsencode, made):
            if not any(name.startswith(s) for s in stems):
                problems.append(f"{argv}: made {name}")


def judge(argv, done):
    """What is printed is safe; an exit status is one of those that are documented."""
    if done.returncode not in (0, 1, 2, 3, 4):
        problems.append(f"{argv}: exit status {done.returncode}")
    for name, data in (("stdout", done.stdout), ("stderr", done.stderr)):
        try:
            text = data.decode("utf-8")
        except UnicodeDecodeError:
            problems.append(f"{argv}: {name} is not UTF-8: {data[:300]}")
            continue
        found = FORBIDDEN.search(text)
        if found:
            problems.append(f"{argv}: {name} holds U+{ord(found.group()):04X}: {text[max(0, found.start() - 60):][:120]!r}")
        if re.search(r"^(wortfit: )?FORGED", text, re.M):
            problems.append(f"{argv}: {name} has a forged line: {text[:300]!r}")


def places(node, path=()):
    """Ways to each text and each key."""
    items = node.items() if isinstance(node, dict) else enumerate(node) if isinstance(node, list) else ()
    for key, child in items:
        if isinstance(node, dict):
            yield (*path, ("key", key))
        if isinstance(child, str):
            yield (*path, ("text", key))
        else:
            yield from places(child, (*path, ("in", key)))


def marked(document, way):
    """A copy with the mark at that place; a text keeps its beginning, so that what it names is misread late."""
    document = json.loads(json.dumps(document))
    node = document
    for _, key in way[:-1]:
        node = node[key]
    kind, key = way[-1]
    if kind == "key":
        node[key + MARK] = node.pop(key)
    else:
        node[key] += MARK
    return json.dumps(document, ensure_ascii=False).encode()


def hostile_texts(turn):
    return HOSTILE if FULL else list(itertools.islice(turn, 2))


def written(data, bad):
    """The document with the text raw, and as JSON writes it."""
    yield data.replace(MARK.encode(), bad)
    escaped = json.dumps(bad.decode("utf-8", "replace"))[1:-1].encode()
    if escaped != bad:
        yield data.replace(MARK.encode(), escaped)


def try_files(folder):
    turn = itertools.cycle(HOSTILE)
    for name, document, commands_of_it in FILES:
        runs = itertools.cycle(commands_of_it)
        for way in places(document):
            for bad in hostile_texts(turn):
                for data in written(marked(document, way), bad):
                    folder.fill()
                    (folder.path / name).write_bytes(data + b"\n")
                    argv = next(runs)
                    folder.run(argv, (name, "s.brews.jsonl"))
                    look_at_page(folder, argv)
            counts["places"] += 1


def look_at_page(folder, argv):
    page = folder.path / "s.html"
    if page.exists():
        text = page.read_text(encoding="utf-8")
        Page(argv).feed(text)
        if FORBIDDEN.search(text):
            problems.append(f"{argv}: the page holds control characters")
        counts["pages"] += 1


def try_pages(folder):
    """A recipe whose free texts hold it, as a page; what is plain text is shown, the rest refused."""
    for bad in HOSTILE:
        folder.fill()
        document = {**RECIPE, "recipe": "r" + MARK}
        for data in written(json.dumps(document).encode(), bad):
            (folder.path / "recipe.json").write_bytes(data)
            done = folder.run(["sheet", "recipe.json", "--html", "s.html"])
            if done.returncode == 0 and b"<script" in bad and b"&lt;script" not in (folder.path / "s.html").read_bytes():
                problems.append("the page does not show the name as text")
            look_at_page(folder, ["sheet", bad])


def try_tables(folder):
    for bad in HOSTILE:
        for cell in ("id", "kind", "have", "note", "cascade", "hop", "10 g", "fresh"):
            folder.fill()
            (folder.path / "t.csv").write_bytes(TABLE.replace(cell, MARK, 1).encode().replace(MARK.encode(), bad))
            folder.run(["stock", "s.json", "import", "t.csv", *ON])
            counts["places"] += 1


def try_words(folder):
    for bad in HOSTILE:
        for argv in WORDS:
            folder.fill()
            folder.run([os.fsencode(a).replace(b"@@@", bad) for a in argv])
            counts["words"] += 1


def try_names(folder):
    for bad in HOSTILE:
        if b"/" in bad:
            continue
        for argv in NAMED:
            folder.fill()
            for source, end in (("s.json", b".json"), ("r.json", b".r.json"), ("l.brews.jsonl", b".brews.jsonl")):
                path = os.path.join(os.fsencode(folder.path), bad + end)
                with open(path, "wb") as f:
                    f.write((folder.path / source).read_bytes())
            with open(os.path.join(os.fsencode(folder.path), bad + b".csv"), "wb") as f:
                f.write(TABLE.encode())
            given = [os.fsencode(a).replace(b"@@@", bad) for a in argv]
            folder.run(given, [bad])
            counts["names"] += 1


def main():
    left_out = set(commands(ROOT)) - {argv[0] for argv in WORDS}
    if left_out:
        problems.append(f"commands without a case: {left_out}")
    memory = "/dev/shm" if os.access("/dev/shm", os.W_OK) else None  # many small files
    with tempfile.TemporaryDirectory(dir=memory) as work:
        folder = Folder(work)
        for part in (try_files, try_pages, try_tables, try_words, try_names):
            part(folder)
    print("\n".join(problems[:60]))
    print(", ".join(f"{n} {what}" for what, n in counts.items()) + f"; {len(problems)} problems")
    return 1 if problems or counts["pages"] == 0 else 0


if __name__ == "__main__":
    sys.exit(main())
