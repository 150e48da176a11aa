#!/usr/bin/env python3
"""What wortfit does on a terminal: emphasis, progress, and a clean stop.

    test_terminal.py SOURCE_FOLDER WORTFIT
"""
import os
import pty
import resource
import select
import signal
import subprocess
import sys
import time

ROOT, PROGRAM = map(os.path.abspath, sys.argv[1:])
# Searches that take long; the first that does is used.
LONG = [["solve", beer, "--goal", goal, "--alternatives", "50", "--time", "60 s"]
        for goal in ("closest", "fewest") for beer in ("double-ipa", "american-ipa")]
PROGRESS = b"\rworking, "
problems = []


def check(what, right):
    if not right:
        problems.append(what)


def start(args, stdout_is_terminal, stderr_is_terminal, **env):
    """The process and the terminal that the named streams lead to."""
    master, slave = pty.openpty()
    environment = {k: v for k, v in os.environ.items() if k != "NO_COLOR"}
    environment.update({"TERM": "xterm", "LC_ALL": "C"}, **env)
    process = subprocess.Popen([PROGRAM, *args], cwd=ROOT, env=environment, stdin=subprocess.DEVNULL,
                               stdout=slave if stdout_is_terminal else subprocess.PIPE,
                               stderr=slave if stderr_is_terminal else subprocess.PIPE)
    os.close(slave)
    return process, master


def read(master, seconds, process=None, until=lambda shown: False):
    """What the terminal shows until it closes, shows enough, the time is over or the process has ended."""
    shown, end = b"", time.monotonic() + seconds
    while time.monotonic() < end and not until(shown):
        if select.select([master], [], [], 0.05)[0]:
            try:
                piece = os.read(master, 65536)
            except OSError: # the other side is closed
                break
            if not piece:
                break
            shown += piece
        elif process and process.poll() is not None:
            break
    return shown


def on_screen(args, **env):
    process, master = start(args, True, False, **env)
    shown = read(master, 20)
    process.wait()
    os.close(master)
    return shown


def test_emphasis():
    check("titles are emphasised on a terminal", b"\033[1m" in on_screen(["words"]))
    check("NO_COLOR is obeyed", b"\033" not in on_screen(["words"], NO_COLOR="1"))
    check("a dumb terminal gets no escapes", b"\033" not in on_screen(["words"], TERM="dumb"))
    piped = subprocess.run([PROGRAM, "words"], capture_output=True, check=True)
    check("a pipe gets no escapes", b"\033" not in piped.stdout)


def test_short_work_shows_no_progress():
    process, master = start(["words"], False, True)
    process.communicate()
    check("nothing is shown of short work", read(master, 0.2) == b"")
    os.close(master)


def has_ended(process):
    """A process closes the terminal a moment before it has ended."""
    try:
        process.wait(0.3)
        return True
    except subprocess.TimeoutExpired:
        return False


def work_of(process):
    """Seconds of processor time that a running process has had: a busy machine does not add to them."""
    with open(f"/proc/{process.pid}/stat", encoding="ascii", errors="replace") as stat:
        fields = stat.read().rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def work_of_ended():
    usage = resource.getrusage(resource.RUSAGE_CHILDREN)
    return usage.ru_utime + usage.ru_stime


def is_renewed(shown):
    return shown.count(PROGRESS) > 1


def interrupt_a_long_search():
    """What stood on the terminal, the exit status, seconds of work from the signal to the end, and what was
    written. The signal is sent once progress was shown and renewed; where it is not, after 20 s."""
    for args in LONG:
        process, master = start(args, False, True)
        shown = read(master, 20, process, is_renewed)
        if not has_ended(process):
            before = work_of(process) + work_of_ended()
            process.send_signal(signal.SIGINT)
            results, _ = process.communicate(timeout=50)
            worked = work_of_ended() - before
            shown += read(master, 0.2)
            os.close(master)
            return shown, process.returncode, worked, results
        process.communicate()
        os.close(master)
    return None


def test_long_work():
    outcome = interrupt_a_long_search()
    check("a search is known in which progress is shown twice: choose harder ones", outcome is not None)
    if outcome is None:
        return
    shown, status, worked, results = outcome
    check(f"progress is shown, and renewed: {shown!r}", is_renewed(shown))
    check("the line of progress is cleared", b"\r" + b" " * 78 + b"\r" in shown[shown.rfind(b"working"):])
    check("no escape is used for it", b"\033" not in shown)
    # Stopped before there was a recipe: an error. Else the best so far, whole, and no claim for it.
    whole = b"\nGoal" in results and b"proved: no recipe" not in results
    check(f"an interrupted search tells nothing or what it has: status {status}, {results!r}",
          (status, results) == (4, b"") or (status == 0 and whole))
    check(f"it ends soon, not after {worked:.1f} s of work", worked < 2)


for test in (test_emphasis, test_short_work_shows_no_progress, test_long_work):
    test()
print("\n".join(problems) or "the terminal is treated well")
sys.exit(1 if problems else 0)
