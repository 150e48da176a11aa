#!/usr/bin/env python3
"""Every command that writes, with a system call that fails and with its end at any moment.

    check_writes.py SOURCE_FOLDER WORTFIT FAULTS_LIBRARY [--full] [NAME...]

Each open, read, write, rename, fsync, change of mode, lock and removal of each writing command fails in turn, with
each error that it may have, alone and with all that follow; at each of them the process is killed, before, after and
half-way, and gets a signal that ends it, with --full each. Files are old or new, never a part; a signal leaves nothing
else behind, and what a kill leaves is gone after the next write. Then folders and files that may not be written,
limits, and every command's results written to a full disk, a closed descriptor and a broken pipe.
"""
import collections
import errno
import os
import pathlib
import resource
import signal
import subprocess
import sys
import tempfile

from cases import READERS, WRITERS, Folder

FULL = "--full" in sys.argv
ROOT, PROGRAM, LIBRARY, *NAMES = (a for a in sys.argv[1:] if a != "--full")
ROOT, PROGRAM, LIBRARY = (pathlib.Path(p).resolve() for p in (ROOT, PROGRAM, LIBRARY))
# What a call may fail with. An interrupted one is done again.
ERRORS = {"open": "EACCES ENOSPC EROFS", "read": "EIO EINTR", "write": "ENOSPC EIO EINTR", "rename": "EIO EACCES",
          "fsync": "EIO", "fchmod": "EPERM", "flock": "ENOLCK EINTR", "unlink": "EACCES"}
LASTING = {"open": "ENOSPC", "write": "ENOSPC EROFS", "rename": "EROFS", "fsync": "EIO"}
SIGNALS = (signal.SIGHUP, signal.SIGINT, signal.SIGPIPE, signal.SIGTERM)
LEFT = ".wortfit-new"
problems = []
counts = collections.Counter()


def run(folder, case, **more):
    environment = {"PATH": os.environ["PATH"], "LC_ALL": "C", "TZ": "UTC"} | more.pop("env", {})
    more = {"stdout": subprocess.PIPE, "stderr": subprocess.PIPE, "stdin": subprocess.DEVNULL} | more
    return subprocess.run([PROGRAM, *case.argv], cwd=folder.path, env=environment, timeout=120, check=False, **more)


def told_by(path):
    words = (line.split() for line in path.read_text().splitlines())
    return {w[0]: int(w[1]) for w in words if w[1].isdigit()}


def read_files(folder):
    """Files as a reader takes them: a brew that was begun counts once its store is there (DEVELOPERS.md)."""
    files = folder.files()
    new = {name.removesuffix(".brewing"): text for name, text in files.items() if name.endswith(".brewing")}
    whole = {name: text for name, text in files.items() if not name.endswith((".brewing", LEFT))}
    return whole | new if "c.json" in new else whole


class Check:
    """One case: what it does when all is well, and trials of it."""

    def __init__(self, folder, case, told):
        self.folder, self.case, self.told = folder, case, told
        folder.reset(case)
        self.before = read_files(folder)
        self.good = self.run_with()
        self.after = read_files(folder)
        self.calls = told_by(told)
        if self.good.returncode != 0 or self.before == self.after or self.extra():
            self.problem("the good run", self.good)

    def run_with(self, **wish):
        environment = {"LD_PRELOAD": str(LIBRARY), "WF_FAULT_TOLD": str(self.told), **wish}
        return run(self.folder, self.case, env=environment)

    def extra(self):
        """Names of files that do not belong there."""
        return [n for n in self.folder.listing() if n not in self.case.holds and n not in self.case.writes]

    def problem(self, what, done):
        problems.append(f"{self.case.name}: {what}: exit status {done.returncode}, {self.extra()}: "
                        f"{(done.stderr or b'').decode()[:200].strip()}")

    def try_one(self, wish, judge):
        self.folder.reset(self.case)
        counts["runs"] += 1
        done = self.run_with(WF_FAULT_CALL=wish)
        if read_files(self.folder) not in (self.before, self.after) or not judge(done):
            self.problem(wish, done)

    def failed_well(self, done):
        """A clean error, or all is done. A brew that is begun may be left for the next to end."""
        now = read_files(self.folder)
        left = [n for n in self.extra() if not n.endswith(".brewing")]
        if done.returncode == 0:
            return now == self.after and not left and done.stdout == self.good.stdout
        return done.returncode == 4 and done.stderr.startswith(b"wortfit: ") and not left

    def ended_well(self, done):
        """By the signal, or in spite of it."""
        left = [n for n in self.extra() if not n.endswith(".brewing")]
        return done.returncode in (0, 4) or -done.returncode in SIGNALS and not left

    def was_killed(self, done):
        """And the next writer finds its way, and takes away what was left."""
        was_new = read_files(self.folder) == self.after
        again = run(self.folder, self.case)
        if self.extra() or (again.returncode != 0 and not was_new):
            return False
        return done.returncode == -signal.SIGKILL

    def all_calls(self):
        for call, errors in ERRORS.items():
            for n in range(self.calls[call]):
                for name in errors.split():
                    self.try_one(f"{call}:{n}:{getattr(errno, name)}", self.failed_well)
                for name in LASTING.get(call, "").split():
                    self.try_one(f"{call}:{n}+:{getattr(errno, name)}", self.failed_well)
                for s in SIGNALS if FULL else (SIGNALS[n % len(SIGNALS)],):
                    self.try_one(f"{call}:{n}:sig{s}", self.ended_well)
                for how in ("kill", "after") + (("half",) if call == "write" else ()):
                    self.try_one(f"{call}:{n}:{how}", self.was_killed)


# ---- Places that may not be written ---------------------------------------------------------------

def limit_size():
    resource.setrlimit(resource.RLIMIT_FSIZE, (100, 100))


def refused(check, what, words, **more):
    """A clean error that says why, and nothing has changed."""
    files = {p.name: p.read_bytes() for p in check.folder.path.iterdir() if p.is_file()}
    done = run(check.folder, check.case, **more)
    counts["places"] += 1
    now = {p.name: p.read_bytes() for p in check.folder.path.iterdir() if p.is_file()}
    error = done.stderr.decode()
    if done.returncode != 4 or not any(w in error for w in words) or now != files or check.extra():
        check.problem(what, done)


def forbidden(check):
    """By the folder, by a limit, and by a folder in the file's place."""
    case, path = check.case, check.folder.path
    nobody = {"user": 65534, "group": 65534} if os.geteuid() == 0 else {}
    check.folder.reset(case)
    path.chmod(0o555)
    refused(check, "read-only folder", ["permission", "read-only"], **nobody)
    path.chmod(0o755)
    refused(check, "limit of size", ["larger than the system allows"], preexec_fn=limit_size)
    for name in case.writes:
        check.folder.reset(case)
        (path / name).unlink(missing_ok=True)
        (path / name).mkdir()
        done = run(check.folder, case)
        if done.returncode != 4 or b"folder" not in done.stderr or any((path / name).iterdir()):
            check.problem(f"{name} is a folder", done)
        (path / name).rmdir()


# ---- Results that cannot be written ---------------------------------------------------------------

def close_output():
    os.close(1)


def close_all():
    for fd in range(3):
        os.close(fd)


def die_of_pipes():
    signal.signal(signal.SIGPIPE, signal.SIG_DFL)


def unheard(folder, case):
    """The results go where nothing takes them; files are whole all the same."""
    folder.reset(case)
    before = read_files(folder)
    run(folder, case)
    after = read_files(folder)
    read_end, write_end = os.pipe()
    os.close(read_end)
    with open("/dev/full", "wb") as full:
        ways = {"full disk": ({"stdout": full}, 4), "closed": ({"stdout": None, "preexec_fn": close_output}, 4),
                "all closed": ({"stdout": None, "preexec_fn": close_all}, 4),
                "broken pipe": ({"stdout": write_end, "preexec_fn": die_of_pipes}, -signal.SIGPIPE),
                "broken pipe, no signal": ({"stdout": write_end, "restore_signals": False}, 4)}
        for what, (more, wanted) in ways.items():
            folder.reset(case)
            done = run(folder, case, **more)
            counts["outputs"] += 1
            silent = what == "all closed" or wanted < 0
            if done.returncode != wanted or read_files(folder) not in (before, after) or \
                    not silent and b"cannot write the result" not in done.stderr:
                problems.append(f"{case.name}: output to a {what}: {done.returncode} {done.stderr}")
    os.close(write_end)


def main():
    memory = "/dev/shm" if os.access("/dev/shm", os.W_OK) else None  # many small files
    with tempfile.TemporaryDirectory(dir=memory) as work:
        os.chmod(work, 0o755)
        folder = Folder(ROOT, pathlib.Path(work) / "folder")
        for case in WRITERS:
            if NAMES and case.name not in NAMES:
                continue
            check = Check(folder, case, pathlib.Path(work) / "told")
            check.all_calls()
            forbidden(check)
        for case in READERS + WRITERS:
            if not NAMES or case.name in NAMES:
                unheard(folder, case)
    print("\n".join(problems[:60]))
    print(", ".join(f"{n} {what}" for what, n in counts.items()) + f"; {len(problems)} problems")
    return 1 if problems or not counts["outputs"] else 0


if __name__ == "__main__":
    sys.exit(main())
