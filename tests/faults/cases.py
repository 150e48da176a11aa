"""The commands that the checks of faults run: each of wortfit's, and each way in which one writes a file.

A case is a name, its arguments, and what its folder holds besides examples/ and targets/: copies of example
files under names of their own. `writes` are the files that may be changed or made.
"""
import pathlib
import re
import shutil
import typing

CELLAR, SMALL = "examples/alder-lane-cellar.json", "examples/small-cellar.json"
AMBER, HOUSE = "examples/last-autumn-amber.json", "examples/brewhouse-20l.json"
LOG, ORDER = "examples/alder-lane.brews.jsonl", "examples/spring-order.csv"
ON = "--on 2026-11-25"


class Case(typing.NamedTuple):
    name: str
    arguments: str
    holds: dict = {}    # a file: the example that it is a copy of
    writes: tuple = ()  # files that are changed or made

    @property
    def argv(self):
        return [a.replace("_", " ") for a in self.arguments.split()]

    @property
    def command(self):
        return self.arguments.split()[0]


READERS = [
    Case("solve", f"solve amber-ale --store {SMALL} {ON}"),
    Case("solve_none", f"solve amber-ale --store {SMALL} {ON} --colour 90_SRM"),
    Case("check", f"check {AMBER} --store {CELLAR} {ON}"),
    Case("check_json", f"check {AMBER} --target amber-ale --json {ON}"),
    Case("compare", f"compare {AMBER} examples/spring-bitter.json {ON}"),
    Case("scale", f"scale {AMBER} --batch 40_L"),
    Case("adjust", f"adjust {AMBER} --more toast {ON}"),
    Case("substitute", f"substitute {AMBER} --without munich-malt-light --recipes 1 {ON}"),
    Case("survey", f"survey --store {CELLAR} --group wheat {ON}"),
    Case("plan", f"plan amber-ale best-bitter --store {CELLAR} {ON}"),
    Case("sheet", f"sheet {AMBER}"),
    Case("learn", f"learn {LOG} --brewhouse {HOUSE}"),
    Case("stock", f"stock {CELLAR} {ON}"),
    Case("beers", "beers"),
    Case("malts", "malts --json"),
    Case("hops", "hops"),
    Case("hops_refit", f"hops {AMBER} --alpha cascade=5.2%"),
    Case("yeasts", "yeasts"),
    Case("words", "words"),
    Case("help", "help solve"),
]

WRITERS = [
    Case("solve_model", f"solve amber-ale --store {SMALL} --write-model m.lp {ON}", {"m.lp": ORDER}, ("m.lp",)),
    Case("plan_model", f"plan amber-ale --store {SMALL} --write-model m.lp {ON}", {"m.lp": ORDER}, ("m.lp",)),
    Case("sheet_html", f"sheet {AMBER} --html s.html", {"s.html": ORDER}, ("s.html",)),
    Case("sheet_new", f"sheet {AMBER} --html s.html", {}, ("s.html",)),
    Case("brewed", f"brewed {AMBER} --store c.json --og 1.052 --volume 19.5_L {ON}",
         {"c.json": CELLAR, "c.brews.jsonl": LOG}, ("c.json", "c.brews.jsonl")),
    Case("brewed_first", f"brewed {AMBER} --store c.json --og 1.052 --volume 19.5_L {ON}",
         {"c.json": CELLAR}, ("c.json", "c.brews.jsonl")),
    Case("learn_write", f"learn {LOG} --brewhouse b.json --write", {"b.json": HOUSE}, ("b.json",)),
    Case("stock_add", f"stock c.json add own-malt --is crystal-60 --have 900_g {ON}", {"c.json": SMALL}, ("c.json",)),
    Case("stock_set", f"stock c.json set cascade --have 85_g {ON}", {"c.json": SMALL}, ("c.json",)),
    Case("stock_use", f"stock c.json use cascade --take 3_g {ON}", {"c.json": CELLAR}, ("c.json",)),
    Case("stock_use_recipe", f"stock c.json use --recipe {AMBER} {ON}", {"c.json": CELLAR}, ("c.json",)),
    Case("stock_remove", f"stock c.json remove willamette {ON}", {"c.json": SMALL}, ("c.json",)),
    Case("stock_import", f"stock c.json import {ORDER} {ON}", {"c.json": SMALL}, ("c.json",)),
]


def commands(root):
    """The names of all commands, from the table of the command line."""
    text = (root / "src/cli/command.c").read_text(encoding="utf-8")
    return re.findall(r"&wf_command_(\w+),", text)


class Folder:
    """A folder for a case, which begins each run as it was."""

    def __init__(self, root, path):
        self.root, self.path = root, pathlib.Path(path)
        self.path.mkdir()
        for name in ("examples", "targets"):
            (self.path / name).symlink_to(root / name)

    def reset(self, case):
        for name in self.listing():
            (self.path / name).unlink()
        for name, example in case.holds.items():
            shutil.copyfile(self.root / example, self.path / name)

    def listing(self):
        return sorted(p.name for p in self.path.iterdir() if p.name not in ("examples", "targets"))

    def files(self):
        """Every file's bytes."""
        return {name: (self.path / name).read_bytes() for name in self.listing()}
