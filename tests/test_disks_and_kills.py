"""Full disks, killed writers, links that lead nowhere, a folder that moves: all a learner has stays whole, and what is refused is told.

Run as a program it is the child that is killed, or whose files may not grow.
"""

import contextlib
import csv
import datetime
import os
import random
import resource
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest
from tiers import many

from lathe_course.course.printed.document import document, write_document
from lathe_course.course.session import Session
from lathe_course.course.teaching.questions.data import own_trouble
from lathe_course.course.teaching.questions.tries import Try, due, keep, read_tries, tries_path
from lathe_course.design.demos import demo
from lathe_course.design.files.build_files import SHEETS, sheet_path
from lathe_course.design.files.design_file import DesignFile, backup_of, load, new
from lathe_course.design.files.lists import lay_lists, read_lists
from lathe_course.design.files.progress_log import LogBook, log_path
from lathe_course.design.files.survey import lay_survey, read_survey, survey_path
from lathe_course.design.lathe import LATHE
from lathe_course.units import InputProblem

DAY = datetime.date(2026, 5, 1)
#: longer than a page of the disk, across which a line could be torn
LONG = "word " * 1500


@pytest.fixture
def path(tmp_path) -> Path:
    return new(tmp_path / "design.toml")


# --- every kind of write, and whether what it wrote is whole ------------------------------------------------
@dataclass(frozen=True)
class Write:
    """``once`` writes for the n-th time beside a design file; ``whole`` fails where what lies there is not."""

    once: Callable[[Path, int], object]
    whole: Callable[[Path], object]


def _save(path: Path, turn: int) -> None:
    DesignFile(path, LATHE).save_change(
        lambda design: design.with_(centre_height="81 mm" if turn % 2 else "82 mm", because=f"turn {turn}", decided="2026-01-01")
    )


def _saved(path: Path) -> None:
    load(path, LATHE)
    if backup_of(path).exists():
        load(backup_of(path), LATHE)


def _log(path: Path, turn: int) -> None:
    LogBook(log_path(path)).append("2026-03-01", "note", words=f"{turn} {LONG}end")


def _lines_of(path: Path, cell: int) -> None:
    """Each line is there to its last word, and all lines before the last one stand in their order."""
    if not path.exists():
        return
    raw = path.read_bytes()
    assert raw.endswith(b"\n"), "a line is torn"
    rows = [row for row in csv.reader(raw.decode().splitlines()) if row and not row[0].startswith("#")][1:]
    assert all(row[cell].endswith("end") for row in rows), "a line is torn"
    turns = [int(row[cell].split()[0]) for row in rows]
    assert turns == sorted(turns)


def _try(path: Path, turn: int) -> None:
    keep(tries_path(path), Try(DAY, "Ada", "05.1", 0, "slip", (f"{turn} {LONG}end",)))


def _tables(path: Path, turn: int) -> None:
    for name in SHEETS:
        sheet_path(path, name).unlink(missing_ok=True)
    lay_lists(path, demo())


def _page(path: Path, turn: int) -> None:
    write_document(document("a page", "", "<p>" + LONG * 20 + "</p>"), path.with_name("brief.html"), "brief", "The brief was")


def _page_whole(path: Path) -> None:
    page = path.with_name("brief.html")
    assert not page.exists() or page.read_text().endswith("</html>\n")


def _survey(path: Path, turn: int) -> None:
    survey_path(path).unlink(missing_ok=True)
    lay_survey(path)


def _tables_whole(path: Path) -> None:
    for name in SHEETS:
        assert not sheet_path(path, name).exists() or sheet_path(path, name).read_bytes().endswith(b"\n")
    if all(sheet_path(path, name).exists() for name in SHEETS):
        read_lists(path, demo())


WRITES = {
    "design": Write(_save, _saved),
    "log": Write(_log, lambda path: _lines_of(log_path(path), 4)),
    "tries": Write(_try, lambda path: _lines_of(tries_path(path), 5)),
    "tables": Write(_tables, _tables_whole),
    "survey": Write(_survey, read_survey),
    "page": Write(_page, _page_whole),
}


# --- kills ------------------------------------------------------------------------------------------------
@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="kills a process")
def test_a_writer_that_is_killed_leaves_all_whole_and_the_next_one_sweeps(path):
    """Real processes killed at random moments, all kinds of write in turn: a parent that forks, as starting Python takes longer than the writing."""
    kills = many(24, 300)
    run = subprocess.run(
        [sys.executable, __file__, "kill", str(path), str(kills)],
        capture_output=True,
        text=True,
        check=False,
        cwd=Path(__file__).parent,
    )
    assert run.returncode == 0, run.stderr[-3000:]
    print(run.stdout)
    killed, written = map(int, run.stdout.split()[:2])
    assert killed == kills and written > 0
    left = [one for one in path.parent.iterdir() if one.name.endswith(".part")]
    for one in left:  # long ago, by the clock of the disk
        os.utime(one, (one.stat().st_atime - 3600, one.stat().st_mtime - 3600))
    for turn, write in enumerate(WRITES.values()):
        write.once(path, 10**9 + turn)
        write.whole(path)
    assert not [one.name for one in path.parent.iterdir() if one.name.endswith(".part")]


def kill(path: Path, kills: int) -> None:
    """Fork children that write, and kill each; print how many, and how many turns they came to."""
    rng, turns = random.Random(3), 0
    for write in WRITES.values():
        write.once(path, 0)  # what is loaded once is loaded before the forks
    for number in range(kills):
        kind, write = list(WRITES.items())[number % len(WRITES)]
        told, say = os.pipe()
        pid = os.fork()
        if pid == 0:
            try:
                turn = number * 10**4 + 1
                os.write(say, b".")
                while True:
                    write.once(path, turn)
                    os.write(say, b".")
                    turn += 1
            finally:
                os._exit(3)
        os.close(say)
        os.read(told, 1)
        time.sleep(rng.uniform(0, 0.08 if kind == "tables" else 0.02))
        os.kill(pid, signal.SIGKILL)
        _, status = os.waitpid(pid, 0)
        assert os.WIFSIGNALED(status), (kind, status)
        os.set_blocking(told, False)
        with contextlib.suppress(BlockingIOError):
            turns += len(os.read(told, 10**6))
        os.close(told)
        write.whole(path)
        if log_path(path).stat().st_size > 10**6:
            log_path(path).unlink()
            tries_path(path).unlink(missing_ok=True)
    print(kills, turns, "killed, and turns they came to")


# --- full disks --------------------------------------------------------------------------------------------
@pytest.mark.skipif(os.name == "nt", reason="limits the size of files as POSIX does")
def test_a_disk_that_is_full_leaves_what_was_there_and_says_so(path):
    """The system itself refuses to let a file grow, in a child; what was there is there, byte for byte, and nothing half."""
    run = subprocess.run(
        [sys.executable, __file__, "full", str(path)], capture_output=True, text=True, check=False, cwd=Path(__file__).parent
    )
    assert run.returncode == 0 and run.stdout.split() == [*WRITES], run.stdout + run.stderr


def full(path: Path) -> None:
    """Each kind of write once where no file may pass a size: 100 bytes more than what is there, or so few that some of the tables are larger."""
    signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    _, most = resource.getrlimit(resource.RLIMIT_FSIZE)
    for kind, write in WRITES.items():
        grows = {"log": log_path(path), "tries": tries_path(path)}.get(kind)
        if grows or kind == "page":
            write.once(path, 1)
        before = _held(path)
        size = grows.stat().st_size + 100 if grows else 5000 if kind == "tables" else 200
        resource.setrlimit(resource.RLIMIT_FSIZE, (size, most))
        try:
            write.once(path, 2)
        except InputProblem as problem:
            assert "the file would be larger than is allowed" in str(problem), problem
        else:
            raise AssertionError(f"{kind} was written")
        finally:
            resource.setrlimit(resource.RLIMIT_FSIZE, (most, most))
        assert _held(path) == before, kind
        print(kind)


def _held(path: Path) -> dict[str, bytes]:
    return {one.name: one.read_bytes() for one in path.parent.iterdir() if not one.name.endswith(".lock")}


# --- two writers -------------------------------------------------------------------------------------------
@pytest.mark.skipif(not hasattr(os, "fork"), reason="forks the writers")
def test_lines_of_several_writers_are_all_there_once_each(path):
    run = subprocess.run(
        [sys.executable, __file__, "lines", str(path)], capture_output=True, text=True, check=False, cwd=Path(__file__).parent
    )
    assert run.returncode == 0, run.stderr
    words = [entry.words for entry in LogBook(log_path(path)).read().entries]
    assert sorted(words) == sorted(f"{which} {turn}" for which in range(3) for turn in range(5))


def lines(path: Path) -> None:
    """Three processes at once, five lines each."""
    children = []
    for which in range(3):
        if (pid := os.fork()) == 0:
            for turn in range(5):
                LogBook(log_path(path)).append("2026-03-01", "note", words=f"{which} {turn}")
            os._exit(0)
        children.append(pid)
    assert [os.waitpid(pid, 0)[1] for pid in children] == [0, 0, 0]


# --- links, rights, a folder that moves, a clock -----------------------------------------------------------
def test_a_link_to_nothing_is_told_and_not_taken_for_no_file(path):
    for name, said in (
        ("parts", lambda: read_lists(path, demo())),
        ("builds", lambda: read_survey(path)),
        ("log", lambda: LogBook(log_path(path)).read()),
    ):
        link = path.with_name(f"design.{name}.csv")
        link.symlink_to(path.with_name("gone.csv"))
        with pytest.raises(InputProblem, match="the file or its folder is gone"):
            said()
        link.unlink()
        link.symlink_to(link)
        with pytest.raises(InputProblem, match="links lead in a circle"):
            said()
        link.unlink()
    link = tries_path(path)
    link.symlink_to(link)
    assert "its links lead in a circle" in read_tries(link)[1][0]
    (path.parent / ".lathe-course.toml").write_text("")
    own = path.with_name("my_questions.toml")
    own.symlink_to(own)
    assert not own_trouble(path.parent) or "its links lead in a circle" in own_trouble(path.parent)[0]


def test_a_damaged_design_behind_a_link_runs_on_the_last_good_copy_beside_the_file_itself(path, tmp_path):
    _save(path, 1)
    path.write_bytes(path.read_bytes()[:300])
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    link = elsewhere / "design.toml"
    link.symlink_to(path)
    session = Session(link, today=DAY)
    assert session.stand_in == "your last good copy" and "cannot be read" in session.trouble


@pytest.mark.skipif(
    os.name == "nt" or os.geteuid() != 0, reason="takes the rights of a stranger, which only the administrator can"
)
def test_a_folder_that_may_not_be_entered_is_told():
    with tempfile.TemporaryDirectory() as place:
        os.chmod(place, 0o755)
        folder = Path(place) / "my-lathe"
        folder.mkdir()
        path = new(folder / "design.toml")
        os.chmod(folder, 0o600)
        design = demo()
        os.seteuid(65534)
        try:
            for read in (
                lambda: load(path, LATHE),
                lambda: LogBook(log_path(path)).read(),
                lambda: lay_survey(path),
                lambda: lay_lists(path, design),
            ):
                try:
                    read()
                except InputProblem as problem:
                    assert "you may not" in str(problem)
            assert Session(path, today=DAY).path is None or Session(path, today=DAY).trouble
        finally:
            os.seteuid(0)


def test_a_folder_that_moved_is_told_and_what_was_kept_moved_with_it(path, tmp_path):
    session = Session(path, today=DAY)
    session.change(lambda design: design.with_(centre_height="82 mm", because="before", decided="2026-01-01"))
    moved = tmp_path / "moved"
    moved.mkdir()
    shutil.move(path, moved)
    with pytest.raises(InputProblem, match="there is no such file"):
        session.change(lambda design: design.with_(centre_height="83 mm", because="after", decided="2026-01-01"))
    assert not path.exists()
    assert load(moved / "design.toml", LATHE).choices["centre_height"].reason == "before"
    assert Session(moved / "design.toml", today=DAY).design.choices["centre_height"].reason == "before"


def test_a_clock_that_was_set_back_loses_nothing(path):
    _log(path, 1)
    _try(path, 1)
    keep(tries_path(path), Try(DAY, "Ada", "05.1", 0, "right"))
    long_ago = datetime.date(2001, 1, 1)
    session = Session(path, today=long_ago)
    assert (
        not session.log.entries
        and "is still to come" in session.log.problems[0]
        and "the clock of this computer" in session.log.problems[0]
    )
    assert due(read_tries(tries_path(path))[0], "Ada", long_ago) == []
    assert len(Session(path, today=DAY).log) == 1


def main(what: str, path: Path, *more: str) -> None:
    if what == "kill":
        kill(path, int(more[0]))
    elif what == "full":
        full(path)
    elif what == "lines":
        lines(path)


if __name__ == "__main__":
    main(sys.argv[1], Path(sys.argv[2]), *sys.argv[3:])
