#!/usr/bin/env python3
"""Runs what README.md and DEVELOPERS.md show, and compares.

    check_docs.py SOURCE_FOLDER WORTFIT [--record]

In a block that is fenced as ```console, a line "$ COMMAND" is run with wortfit in the PATH, in a folder
that looks like the source folder and may be written to (examples are copies, the rest are links), and
the lines below it must be what it prints; "..." stands for any lines left out. An exit status other than 0 is written "(exit status N)" as the last line. Links to files of the project must
lead somewhere, and every command and option that the text names must be one that wortfit knows.
--record writes what is printed now in place of what is shown; where one "..." stands, as many lines
before and after it as there are.
"""
import os
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile

DOCUMENTS = ["README.md", "DEVELOPERS.md", "examples/README.md"]
# Pages whose commands change files: they are run one after the other in a copy of the page's folder.
IN_COPY = ["examples/README.md"]
BLOCK = re.compile(r"^```console\n(.*?)^```$", re.M | re.S)


def run(command, root, program, folder):
    """What the command prints on both streams, and its exit status where that is not 0."""
    link = pathlib.Path(folder) / "wortfit"
    if not link.exists():
        link.symlink_to(program)
    env = dict(os.environ, PATH=f"{folder}:{os.environ['PATH']}", LC_ALL="C", TZ="UTC", NO_COLOR="1")
    done = subprocess.run(["sh", "-c", command], cwd=root, env=env, text=True, timeout=120,
                          stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.STDOUT)
    lines = done.stdout.splitlines()
    return lines + ([f"(exit status {done.returncode})"] if done.returncode else [])


def place_for(name, root, folder):
    """Where a page's commands are run: what looks like the source folder, or a copy of the page's own."""
    if name not in IN_COPY:
        return scratch(root, folder)
    copy = pathlib.Path(tempfile.mkdtemp(dir=folder)) / "copy"
    shutil.copytree((root / name).parent, copy)
    return copy


def examples(block):
    """Pairs of a command and the lines shown below it."""
    pairs = []
    for line in block.splitlines():
        if line.startswith("$ "):
            pairs.append((line[2:], []))
        elif pairs:
            pairs[-1][1].append(line)
    return pairs


def matches(shown, got):
    """Whether the lines shown are those got, "..." standing for any."""
    pattern = "".join("(?:.*\n)*?" if line.strip() == "..." else re.escape(line.rstrip()) + "\n"
                      for line in shown)
    return re.fullmatch(pattern, "".join(line.rstrip() + "\n" for line in got)) is not None


def check_examples(name, text, root, program, folder, problems):
    count = 0
    for block in BLOCK.findall(text):
        for command, shown in examples(block):
            count += 1
            got = run(command, root, program, folder)
            if not matches(shown, got):
                problems.append(f"{name}: $ {command}\n--- shown\n" + "\n".join(shown)
                                + "\n--- got\n" + "\n".join(got))
    return count


def cut_like(shown, got):
    """As many of the lines got as are shown before and after a "..."."""
    if shown.count("...") != 1:
        return got
    at = shown.index("...")
    return got[:at] + ["..."] + got[len(got) - (len(shown) - at - 1):]


def record(text, root, program, folder):
    def renew(match):
        out = ""
        for command, shown in examples(match.group(1)):
            lines = cut_like(shown, run(command, root, program, folder))
            out += f"$ {command}\n" + "".join(line.rstrip() + "\n" for line in lines)
        return f"```console\n{out}```"
    return BLOCK.sub(renew, text)


def check_links(name, text, root, problems):
    for link in re.findall(r"\]\(([^)#:]+)\)", text):
        if not (root / link).exists():
            problems.append(f"{name}: the link {link} leads nowhere")


def check_names(name, text, root, program, folder, problems):
    """`wortfit COMMAND --option` in running text: both must exist."""
    for words in re.findall(r"`wortfit ([a-z]+[^`]*)`", BLOCK.sub("", text)):
        command, *rest = words.split()
        page = "\n".join(run(f"wortfit help {command} --all", root, program, folder))
        if "exit status" in page:
            problems.append(f"{name}: there is no command 'wortfit {command}'")
        for option in (w.split("=")[0] for w in rest if w.startswith("--")):
            if f"  {option} " not in page:
                problems.append(f"{name}: 'wortfit {command}' has no option {option}")


def scratch(root, folder):
    """A folder for the commands of one document."""
    work = pathlib.Path(tempfile.mkdtemp(dir=folder))
    for entry in root.iterdir():
        if entry.name == "examples":
            shutil.copytree(entry, work / entry.name)
        else:
            (work / entry.name).symlink_to(entry)
    return work


def main():
    root, program = pathlib.Path(sys.argv[1]).resolve(), pathlib.Path(sys.argv[2]).resolve()
    problems, count = [], 0
    with tempfile.TemporaryDirectory() as folder:
        for name in DOCUMENTS:
            text = (root / name).read_text(encoding="utf-8")
            if "--record" in sys.argv:
                text = record(text, place_for(name, root, folder), program, folder)
                (root / name).write_text(text, encoding="utf-8")
            place = place_for(name, root, folder)
            count += check_examples(name, text, place, program, folder, problems)
            check_links(name, text, (root / name).parent, problems)
            check_names(name, text, root, program, folder, problems)
    if count == 0:
        problems.append("no example was found")
    print("\n".join(problems))
    print(f"{count} examples, {len(problems)} problems")
    return 1 if problems else 0


if __name__ == "__main__":
    sys.exit(main())
