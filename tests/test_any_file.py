"""Any file in the place of one of the learner's ends in a design, a list or a sentence: never in a traceback, a hang or a full memory.

Run as a program it tries files in a process of its own, whose memory may grow by 300 MB with each:
``python tests/test_any_file.py 20000 1`` prints how many, the slowest and the largest.
"""

import random
import re
import resource
import signal
import subprocess
import sys
import tempfile
import time
import warnings
from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

import pytest
from cases import every
from mutated import mutated
from tiers import many, short_of

from lathe_course.course.folder.workspace import material
from lathe_course.course.teaching.questions.trial import template, trial
from lathe_course.course.teaching.questions.tries import read_tries
from lathe_course.design.demos import demo
from lathe_course.design.evaluation import evaluate
from lathe_course.design.files.build_files import SHEETS
from lathe_course.design.files.design_file import DEMOS, DesignFile
from lathe_course.design.files.lists import lay_lists, read_lists
from lathe_course.design.files.progress_log import LogBook
from lathe_course.design.files.survey import read_survey
from lathe_course.design.lathe import LATHE
from lathe_course.tables import __file__ as TABLES
from lathe_course.units import InputProblem

MEMORY = 300_000_000
STUCK = 20.0  # seconds of processor time for one file; ten times what the slowest may take
TODAY = date(2026, 5, 1)
_TRIES = (
    b"date,name,question,round,stands,slip,given\n2026-01-02,Ada,05.1,0,slip,the ratio upside down,400 rpm\n2026-01-03,Ada,05.1,0,right,,\n"
    b'2026-01-03,"B, C",05.2,1,wrong,a | b,"3,5"\n'
)
#: words of the language the course is written in, and of its parts, that nobody should meet
_PYTHON = re.compile(
    r"Traceback|object has no|NoneType|<class|datetime\.|unhashable|subscriptable|\(at line|codec|[a-z]Error\b|not iterable|positional|operand|base 10"
)
_OBEYED = re.compile(r"[\x00-\x08\x0b-\x1f\x7f-\x9f\u202a-\u202e]")
_BROKEN = re.compile(r"\b(nan|inf|None)\b")


@dataclass(frozen=True)
class Sort:
    """A sort of file: sound ones to begin with, its name, and what the course does with it, giving the sentences it says."""

    name: str
    sound: Sequence[bytes]
    use: Callable[[Path], Iterable[str]]


def sorts(folder: Path) -> dict[str, Sort]:
    """Every sort of file a learner has, with sound ones laid in ``folder``."""
    design = demo()
    beside = folder / "design.toml"
    beside.write_bytes((DEMOS / "boat_shed.toml").read_bytes())
    laid = {path.name.split(".")[1]: path for path in lay_lists(beside, design)}
    names = design.building.names

    def a_design(path: Path) -> Iterable[str]:
        file = DesignFile(path, LATHE)
        found = file.read()
        if not file.read_only_because:
            file.save_change(lambda now: now.with_(centre_height="81 mm"))
        return [*file.remarks, *(one.sentence for one in evaluate(found).findings.values())]

    def a_log(path: Path) -> Iterable[str]:
        book = LogBook(path, names)
        log = book.read(TODAY)
        try:
            book.append("2026-04-30", "hours", "2", "spindle")
        except InputProblem as problem:
            return [*log.problems, *log.remarks, *(sentence for _, sentence in problem.problems)]
        return [*log.problems, *log.remarks, *(one.sentence for one in evaluate(design.with_log(log)).findings.values())]

    def a_table(path: Path) -> Iterable[str]:
        lists = read_lists(beside, design)
        return [*lists.remarks, *(one.sentence for one in evaluate(replace(design, sheets=lists.building)).findings.values())]

    found = {
        "design": Sort(
            "design.toml", [(DEMOS / f"{name}.toml").read_bytes() for name in ("boat_shed", "cabin", "shared_barn")], a_design
        ),
        "log": Sort("design.log.csv", [(DEMOS / f"{name}.log.csv").read_bytes() for name in ("boat_shed", "cabin")], a_log),
        "survey": Sort(
            "design.builds.csv", [(Path(TABLES).parent / "builds.csv").read_bytes()], lambda path: read_survey(beside)[1]
        ),
        "tries": Sort("design.exercises.csv", [_TRIES], lambda path: read_tries(path)[1]),
        "questions": Sort(
            "my_questions.toml",
            [template().encode(), *(path.read_bytes() for path in sorted(material("exercises").glob("*.toml")))],
            trial,
        ),
    }
    found |= {f"table of {name}": Sort(laid[name].name, [laid[name].read_bytes()], a_table) for name in SHEETS}
    for path in laid.values():
        path.unlink()
    return found


def told(sort: Sort, folder: Path, raw: bytes) -> list[str]:
    """What the course says of a file with these bytes; the folder is as it was afterwards."""
    path = folder / sort.name
    before = path.read_bytes() if path.exists() else None
    path.write_bytes(raw)
    try:
        return list(sort.use(path))
    except InputProblem as problem:
        return str(problem).split("\n")
    finally:
        path.unlink() if before is None else path.write_bytes(before)
        path.with_name("design.backup.toml").unlink(missing_ok=True)


def fault(said: Iterable[str]) -> str:
    """What is wrong with the first sentence that is not fit for a person, or nothing."""
    for sentence in said:
        if not sentence.strip() or len(sentence) > 4500:
            return f"{len(sentence)} signs: {sentence[:200]}"
        # what was put in may be told again, in quotes or beside its line
        ours = "" if re.search(r"\bline \d+", sentence) else re.sub(r"'[^']*'|\"[^\"]*\"|“[^”]*”", "…", sentence)
        if (
            not sentence.rstrip().endswith((".", "?", "!", ":", "…", ")"))
            or _PYTHON.search(sentence)
            or _OBEYED.search(sentence)
            or _BROKEN.search(ours)
        ):
            return sentence[:600]
    return ""


# --- files made on purpose ------------------------------------------------------------------------------
_FAMILIES = {
    "a whole number of 5000 digits": b"format = 6\n[decisions]\ncentre_height = " + b"9" * 5000,
    "a whole number of 400 digits": b"format = 6\n[decisions.centre_height]\nvalue = " + b"9" * 400,
    "a hexadecimal number of 5000 digits": b"format = 0x" + b"f" * 5000,
    "3000 dotted keys": b"a." * 3000 + b"a = 1",
    "lists in lists": b"a = " + b"[" * 3000 + b"]" * 3000,
    "60 tables in tables": b"[" + b"a." * 60 + b"a]\nb = 1",
    "a heading of 140,000 letters": b"a" * 140_000 + b",b\n1,2\n",
    "a cell of 140,000 letters": b"date,what,amount,part,words\n2026-01-01,note,,," + b"a" * 140_000 + b"\n",
    "a quotation mark over 140,000 letters": b'date,what\n2026-01-01,"' + b"a" * 140_000,
    "100,000 empty lines": b"\n" * 100_000,
    "100,000 commas": b"," * 100_000,
    "nothing": b"",
    "zeros": b"\0" * 4096,
    "a picture": b"\x89PNG\r\n\x1a\n" + bytes(range(256)) * 40,
    "16-bit letters": "part,way\nspindle,make\n".encode("utf-16"),
}


@every("name", _FAMILIES)
def test_files_made_to_break_a_reader_are_told_in_a_sentence(tmp_path_factory, name):
    folder = tmp_path_factory.mktemp("made")
    for kind, sort in sorts(folder).items():
        said = told(sort, folder, _FAMILIES[name])
        assert not fault(said), (kind, fault(said))
        assert said or kind in ("log", "tries"), f"{kind}: nothing is said"


def test_a_long_cell_is_told_as_one_and_an_open_quotation_mark_as_one(tmp_path):
    log = sorts(tmp_path)["log"]
    assert (
        "line 2: a cell of this row holds more than 131072 signs"
        in told(log, tmp_path, _FAMILIES["a cell of 140,000 letters"])[0]
    )
    assert (
        "line 2: a quotation mark of this row is never closed"
        in told(log, tmp_path, _FAMILIES["a quotation mark over 140,000 letters"])[0]
    )


def test_figures_beyond_reason_are_refused_and_not_worked_out(tmp_path):
    """1e300 mm, and its cube: a sum would leave the range of a float long before anybody is told why."""
    sort = sorts(tmp_path)["design"]
    for figure in ("1e300 mm", "1e-300 mm"):
        said = told(
            sort,
            tmp_path,
            re.sub(rb'(?s)(\[decisions.spindle_overhang\]\s*value = )"[^"]*"', rb'\1"' + figure.encode() + b'"', sort.sound[0]),
        )
        assert (
            "spindle_overhang" in said[0]
            and "than anything a lathe is reckoned with; is a power of ten or the unit wrong?" in said[0]
        ), said


def test_a_lathe_without_a_milestone_has_one_long_stretch_to_its_end(tmp_path):
    """A table of tasks in which nobody named one."""
    kinds = sorts(tmp_path)
    tasks = kinds["table of tasks"]
    header, *rows = (line for line in tasks.sound[0].decode().splitlines() if not line.startswith("#"))
    place = header.split(",").index("milestone")
    import csv
    import io

    cells = list(csv.reader(rows))
    for row in cells:
        row[place] = ""
    text = io.StringIO()
    csv.writer(text).writerows([header.split(","), *cells])
    (tmp_path / tasks.name).write_bytes(text.getvalue().encode())
    worked = evaluate(replace(demo(), sheets=read_lists(tmp_path / "design.toml", demo()).building))
    assert worked["longest_stretch"] == worked["build_schedule"].end[0]


# --- files changed by chance ------------------------------------------------------------------------------
@pytest.mark.parametrize("files", short_of([many(150, 20_000), 360], many(150, 20_000)))
def test_changed_files_are_told_in_a_sentence(files, tmp_path):
    """In a process of its own; how many stands in tiers, the numbers in what it prints."""
    run = subprocess.run(
        [sys.executable, __file__, str(files), "1", str(tmp_path)],
        capture_output=True,
        text=True,
        check=False,
        cwd=Path(__file__).parent,
    )
    assert run.returncode == 0, run.stdout[-3000:] + run.stderr[-3000:]
    print(run.stdout)
    assert int(run.stdout.split()[0]) == files
    # enough of them pass the reader, so that what comes after it is tried as well
    assert int(run.stdout.split()[2]) > files // 8


def main(files: int, seed: str, folder: Path) -> None:
    """Try so many changed files; stop with the first that is answered badly, which is kept in the folder."""
    warnings.simplefilter("error")
    kinds = sorts(folder)

    def stuck(*_):
        raise TimeoutError(f"stuck for {STUCK:g} s")

    signal.signal(signal.SIGVTALRM, stuck)
    rng, clean, slowest, counted = random.Random(seed), 0, (0.0, ""), Counter()
    for number in range(files):
        kind = rng.choice([*kinds, "design", "design", "design", "log"])
        sort = kinds[kind]
        raw = mutated(rng.choice(sort.sound), rng, sort.sound)
        size = int(Path("/proc/self/statm").read_text().split()[0]) * resource.getpagesize()
        resource.setrlimit(resource.RLIMIT_AS, (size + MEMORY, resource.RLIM_INFINITY))
        began = time.process_time()
        signal.setitimer(signal.ITIMER_VIRTUAL, STUCK)
        try:
            said = told(sort, folder, raw)
            wrong = fault(said)
        except Exception:
            (folder / f"bad.{sort.name}").write_bytes(raw)
            print(f"file {number} of seed {seed}, {kind}, kept as bad.{sort.name}")
            raise
        finally:
            signal.setitimer(signal.ITIMER_VIRTUAL, 0)
        if wrong:
            (folder / f"bad.{sort.name}").write_bytes(raw)
            sys.exit(f"file {number} of seed {seed}, {kind}, kept as bad.{sort.name}: {wrong}")
        clean += not said or not said[0].startswith(("The design file", "The sheet", "The tables"))
        slowest = max(slowest, (time.process_time() - began, kind))
        counted[kind] += 1
    grown = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024
    print(f"{files} files, {clean} read; slowest {slowest[0]:.2f} s ({slowest[1]}); largest {grown} MB; {dict(counted)}")


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as made:
        main(int(sys.argv[1]), sys.argv[2], Path(sys.argv[3] if len(sys.argv) > 3 else made))
