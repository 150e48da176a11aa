#!/usr/bin/env python3
"""Completes command lines in bash, zsh and fish, as a person who presses Tab would.

    check_completion.py SOURCE_FOLDER WORTFIT FOLDER_OF_COMPLETION

A shell that is not installed is told and left out; bash must be there.
"""
import os
import pathlib
import shutil
import subprocess
import sys
import tempfile

# What is typed ("|" stands before the word that is completed), some words that must be offered, some
# that must not.
ROWS = [
    ("|", ["solve", "check", "stock", "help"], ["--json", "amber-ale"]),
    ("|so", ["solve"], ["beers"]),
    ("|--", ["--help", "--version"], ["--json"]),
    ("solve |amb", ["amber-ale"], ["american-ipa", "saison"]),
    ("solve |cel", ["cellar.json"], ["cascade"]),
    ("solve --json |amb", ["amber-ale"], []),
    ("solve amber-ale |--", ["--og", "--store", "--json", "--help"], ["--take"]),
    ("solve amber-ale --store |cel", ["cellar.json"], ["amber-ale"]),
    ("solve amber-ale --goal |f", ["fewest"], ["cost"]),
    ("solve amber-ale --goal |cost,f", ["cost,fewest"], ["cost,closest"]),
    ("solve amber-ale --goal=|f", ["fewest"], ["cost"]),
    ("solve amber-ale --units |", ["metric", "us"], ["amber-ale"]),
    ("solve amber-ale --batch |", ["largest"], []),
    ("solve amber-ale --og |1", [], ["amber-ale", "cellar.json"]),
    ("solve amber-ale --og 1.055 --use |cas", ["cascade"], ["amber-ale"]),
    ("solve amber-ale --store cellar.json --use |old-", ["old-sack"], []),
    ("solve amber-ale --avoid |old-", [], ["old-sack"]),
    ("solve amber-ale --yeast |lag", ["lager"], ["cascade"]),
    ("stock |cel", ["cellar.json"], ["amber-ale"]),
    ("stock cellar.json |", ["add", "set", "use", "remove", "import"], ["cascade"]),
    ("stock cellar.json use |old-", ["old-sack"], ["cascade"]),
    ("stock cellar.json --kind |malt,", ["malt,hop"], []),
    ("stock cellar.json import |cel", ["cellar.json"], ["cascade"]),
    ("stock cellar.json add --is |cas", ["cascade"], []),
    ("malts |crystal-4", ["crystal-40"], ["cascade"]),
    ("hops |cas", ["cascade"], ["crystal-40"]),
    ("beers |bel", ["belgian-dubbel"], []),
    ("survey |amb", ["amber-ale"], ["cellar.json"]),
    ("malts --class |car", ["caramel"], ["base"]),
    ("help |so", ["solve"], []),
    ("brew |x", [], ["x", "solve"]),
]
STORE = """{ "store": "s", // a comment
  "malts": [ { "id": "old-sack", "is": "pale-ale-malt-british" } ], "hops": [ { "id": "cascade" } ] }
"""

# The shell's own part is played by stubs that print what is offered.
ZSH = r"""
compadd() { local w; [[ $1 == -a ]] && for w in "${(@P)2}"; [[ $w == ${PREFIX}* ]] && print -r -- $w }
_describe() { local w; for w in "${(@P)2}"; [[ ${w%%:*} == ${PREFIX}* ]] && print -r -- ${w%%:*} }
_files() { print -rl -- ${PREFIX}*(N) }
_values() { local done=; [[ $PREFIX == *,* ]] && done=${PREFIX%,*},; shift 3
    local w; for w in "$@"; [[ $done$w == ${PREFIX}* ]] && print -r -- $done$w }
compset() { PREFIX=${PREFIX#*=} }
words=("$@"); CURRENT=$#words; PREFIX=$words[CURRENT]
source "$COMPLETION"
"""
BASH = r"""
source "$COMPLETION"
compopt() { :; }
COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1))
_wortfit
printf '%s\n' "${COMPREPLY[@]}"
"""
FISH = 'source "$COMPLETION"; complete -C "$argv[1]"'


def split(typed):
    before, word = typed.split("|")
    return ["wortfit", *before.split()], word


def bash(typed):
    before, word = split(typed)
    if before[-1].endswith("="):  # bash breaks words there
        before[-1:] = [before[-1][:-1], "="]
    return ["bash", "--norc", "-c", BASH, "bash", *before, word]


def zsh(typed):
    before, word = split(typed)
    if before[-1].endswith("="):
        word = before.pop() + word
    return ["zsh", "-f", "-c", ZSH, "zsh", *before, word]


def fish(typed):
    return ["fish", "--no-config", "-c", FISH, "wortfit " + typed.replace("|", "")]


SHELLS = [("bash", bash, "wortfit"), ("zsh", zsh, "_wortfit"), ("fish", fish, "wortfit.fish")]


def offered(command, folder, env):
    done = subprocess.run(command, cwd=folder, env=env, text=True, capture_output=True, timeout=60,
                          stdin=subprocess.DEVNULL)
    words = [line.split("\t")[0] for line in done.stdout.splitlines() if line]
    return words, done.stderr


def check(shell, make, folder, env):
    problems = []
    for typed, some, none in ROWS:
        words, complaint = offered(make(typed), folder, env)
        words = [w.split("=", 1)[-1] if "=|" in typed else w for w in words]
        for word in some:
            if word not in words:
                problems.append(f"{shell}: wortfit {typed}: does not offer {word}, but {words[:9]}")
        for word in none:
            if word in words:
                problems.append(f"{shell}: wortfit {typed}: offers {word}")
        if complaint:
            problems.append(f"{shell}: wortfit {typed}: {complaint}")
    return problems


def main():
    program, completion = pathlib.Path(sys.argv[2]).resolve(), pathlib.Path(sys.argv[3]).resolve()
    problems = []
    with tempfile.TemporaryDirectory() as top:
        folder = pathlib.Path(top) / "here"
        (folder / "cellar-old").mkdir(parents=True)
        (folder / "cellar.json").write_text(STORE, encoding="utf-8")
        (pathlib.Path(top) / "bin").mkdir()
        (pathlib.Path(top) / "bin/wortfit").symlink_to(program)
        env = dict(os.environ, PATH=f"{top}/bin:{os.environ['PATH']}", LC_ALL="C.UTF-8", HOME=top)
        for shell, make, file in SHELLS:
            if not shutil.which(shell) and shell != "bash":
                print(f"{shell} is not installed, its completion was not tried")
                continue
            env["COMPLETION"] = str(completion / file)
            syntax = subprocess.run([shell, "-n", env["COMPLETION"]], capture_output=True, text=True)
            if syntax.returncode != 0:
                problems.append(f"{shell}: {syntax.stderr}")
            problems += check(shell, make, folder, env)
            print(f"{shell}: {len(ROWS)} lines completed")
    print("\n".join(problems))
    return 1 if problems else 0


if __name__ == "__main__":
    sys.exit(main())
