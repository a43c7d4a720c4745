"""Whatever stops a save, at any moment: the old file or the new one is there, whole, and so is the backup."""

import errno
import os
import subprocess
import sys
from pathlib import Path

import pytest
from small_chain import SMALL, TEXT

from lathe_course.design.files import whole_file
from lathe_course.design.files.design_file import DesignFile, DesignFileProblem, backup_of, load, restore_last_good

CALLS = ("open", "fdopen", "fsync", "chmod", "replace", "unlink", "close")  # what whole_file asks of the system


def save(path: Path, reason: str) -> None:
    DesignFile(path, SMALL).save_change(lambda design: design.with_(centre_height="85 mm", because=reason, decided="2026-02-03"))


class Interrupted:
    """Stands before the calls to the system and does something at the n-th of them."""

    def __init__(self, monkeypatch, at: int, what):
        self.count, self.at, self.what = 0, at, what
        for name in CALLS:
            monkeypatch.setattr(whole_file.os, name, self.before(name, getattr(os, name)))

    def before(self, name, call):
        def interrupted(*args, **kwargs):
            self.count += 1
            if self.count == self.at:
                self.what(name)
            return call(*args, **kwargs)

        return interrupted


def refuse(code: int):
    def what(name: str) -> None:
        raise OSError(code, os.strerror(code), name)

    return what


@pytest.mark.parametrize(
    "code, words",
    [(errno.ENOSPC, "the disk is full"), (errno.EIO, "the disk reports a fault"), (errno.EROFS, "the disk can only be read")],
)
def test_each_call_to_the_system_fails_in_turn(path, code, words):
    """A save either comes through, or says why not and leaves the file as it was; nothing unfinished stays."""
    save(path, "first")
    before, said = path.read_bytes(), []
    for at in range(1, 40):
        with pytest.MonkeyPatch.context() as monkeypatch:
            interrupted = Interrupted(monkeypatch, at, refuse(code))
            try:
                save(path, f"try {at}")
            except DesignFileProblem as problem:
                assert words in str(problem) and "was not changed" in str(problem)
                said.append(at)
        if at in said:
            assert path.read_bytes() == before
        else:
            assert load(path, SMALL).choices["centre_height"].reason == f"try {at}"
            before = path.read_bytes()
        load(backup_of(path), SMALL)
        # a call that fails while cleaning up may leave a part behind; the next save sweeps it
        if interrupted.count < at:
            break
    assert len(said) >= 6 and interrupted.count < at
    assert {n for n in os.listdir(path.parent) if not n.endswith(".lock")} == {"design.toml", "design.backup.toml"}


@pytest.mark.skipif(not hasattr(os, "fork"), reason="kills a forked child")
def test_killed_before_each_call_and_at_random_moments(path):
    """In a process of its own that forks one child after the other, each killed while saving."""
    from tiers import many  # here, as the children import this file by itself

    random = many(20, 300)
    run = subprocess.run(
        [sys.executable, __file__, str(path), str(random)],
        capture_output=True,
        text=True,
        timeout=300,
        check=False,
        cwd=Path(__file__).parent,
    )
    assert run.returncode == 0, run.stderr
    killed, saves = map(int, run.stdout.split())
    assert killed == 30 + random and saves > random
    # nothing is stuck: the lock is free, the leftovers are swept
    save(path, "last")
    assert load(path, SMALL).choices["centre_height"].reason == "last"
    assert not [name for name in os.listdir(path.parent) if name.endswith(".part")]


@pytest.mark.skipif(not hasattr(os, "fork"), reason="kills a forked child")
def test_a_disk_that_is_full_in_earnest(path):
    """The system itself refuses to let a file grow, in a child whose files may not pass 200 bytes."""
    code = (
        "import resource, signal, sys; from pathlib import Path; import test_design_file_cut_off as t\n"
        "signal.signal(signal.SIGXFSZ, signal.SIG_IGN)\n"
        "resource.setrlimit(resource.RLIMIT_FSIZE, (200, 200))\n"
        "t.save(Path(sys.argv[1]), 'x')"
    )
    run = subprocess.run(
        [sys.executable, "-c", code, str(path)],
        capture_output=True,
        text=True,
        timeout=300,
        cwd=Path(__file__).parent,
        check=False,
    )
    assert run.returncode == 1 and "the file would be larger than is allowed" in run.stderr
    assert path.read_text(encoding="utf-8") == TEXT
    assert {n for n in os.listdir(path.parent) if not n.endswith(".lock")} == {"design.toml"}


def test_putting_back_fails_at_each_call_in_turn(path):
    save(path, "first")
    damaged = path.read_bytes()[:200]
    for at in range(1, 40):
        path.write_bytes(damaged)
        with pytest.MonkeyPatch.context() as monkeypatch:
            interrupted = Interrupted(monkeypatch, at, refuse(errno.ENOSPC))
            try:
                restore_last_good(path)
            except DesignFileProblem:
                assert path.read_bytes() == damaged
            else:
                assert path.read_text(encoding="utf-8") == TEXT
        assert backup_of(path).read_text(encoding="utf-8") == TEXT
        if interrupted.count < at:
            return
    raise AssertionError("never came through")


# --- run as a program: kill saving children -----------------------------------------------------------
def kill_children(path: Path, random_moments: int) -> None:
    """Fork children that save over and over; print how many were killed and how many saves came through.

    A random moment is counted from the child's first save, so that some come through on any machine.
    """
    import random
    import signal
    import time

    rng, killed, saves = random.Random(7), 0, set()

    def child(at: int) -> None:
        if at:
            Interrupted(pytest.MonkeyPatch(), at, lambda name: os.kill(os.getpid(), signal.SIGKILL))
        turn = 0
        while True:
            save(path, f"{os.getpid()} {turn}")
            turn += 1

    rounds = [(at, None) for at in range(1, 31)] + [(0, rng.uniform(0.0, 0.06)) for _ in range(random_moments)]
    for at, wait in rounds:
        pid = os.fork()
        if pid == 0:
            try:
                child(at)
            finally:
                os._exit(3)
        if wait is not None:
            while not load(path, SMALL).choices["centre_height"].reason.startswith(f"{pid} "):
                time.sleep(0.002)
            time.sleep(wait)
            os.kill(pid, signal.SIGKILL)
        _, status = os.waitpid(pid, 0)
        assert os.WIFSIGNALED(status) and os.WTERMSIG(status) == signal.SIGKILL, status
        killed += 1
        saves.add(load(path, SMALL).choices["centre_height"].reason)  # raises if it is not whole
        if backup_of(path).exists():
            load(backup_of(path), SMALL)
    print(killed, len(saves))


if __name__ == "__main__":
    kill_children(Path(sys.argv[1]), int(sys.argv[2]))
