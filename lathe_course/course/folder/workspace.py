"""The learner's working folder: copies of the course and one design file.

A copy the learner has not touched is renewed when the course has a newer one.  What
the learner changed is never overwritten.  A notebook counts as changed when the text
of its cells changed: running it rewrites outputs and counters, which is not the
learner's writing.

Beside the copies lies a hidden record of every copy that was ever laid there, so that
an untouched copy of an older course is told apart from a changed one.
"""

from __future__ import annotations

import errno
import functools
import hashlib
import json
import os
import re
import sys
from dataclasses import dataclass, field
from pathlib import Path

from lathe_course.design.files import design_file
from lathe_course.design.files.build_files import SHEETS, sheet_path
from lathe_course.design.files.whole_file import in_words, write_whole
from lathe_course.nearest import nearest_or_stop
from lathe_course.units import InputProblem

SHELVES = ("notebooks", "exercises")
RECORD = ".lathe-course.json"
DESIGN_FILE = "design.toml"
FIRST_DEMO = "boat_shed"
_OLD_SETTINGS = ".lathe-course-lab"  # settings of JupyterLab, laid here by older courses

_PACKAGE = Path(__file__).resolve().parents[2]


# --- what the course ships --------------------------------------------------------------------------
def material(shelf: str) -> Path:
    """Folder of the course's own notebooks or exercises: inside an installed package, or the checkout's."""
    if shelf not in SHELVES:
        raise ValueError(f"{shelf!r} is not one of {', '.join(SHELVES)}")
    packed = _PACKAGE / "_material" / shelf
    return packed if os.path.isdir(packed) else _PACKAGE.parent / shelf


def shipped() -> dict[str, Path]:
    """Every file that belongs in a working folder, by its path there, such as ``notebooks/00_start_here.ipynb``."""
    found = {}
    for shelf in SHELVES:
        root = material(shelf)
        for path in sorted(root.rglob("*")):
            inside = path.relative_to(root)
            # an exercise's data stay with the course: they name the slips
            if path.suffix == ".ipynb" and not any(part.startswith((".", "__")) for part in inside.parts):
                found[f"{shelf}/{inside.as_posix()}"] = path
    return found


def fingerprint(content: bytes, name: str) -> str:
    """Hash of what a person wrote in a file.

    Of a notebook that is the kind and text of each cell that is not empty, with pasted
    pictures; outputs, counters and cell ids are left out.  Of any other file it is the
    text, whatever its line endings.
    """
    if name.endswith(".ipynb"):
        try:
            cells = [
                [cell["cell_type"], _text(cell["source"]), cell.get("attachments") or {}] for cell in json.loads(content)["cells"]
            ]
            content = json.dumps([c for c in cells if c[1].strip() or c[2]], sort_keys=True).encode()
        except (ValueError, KeyError, TypeError, AttributeError):
            pass  # not a readable notebook: its bytes decide, so it counts as changed and is left alone
    return hashlib.sha256(content.replace(b"\r\n", b"\n")).hexdigest()


def _clean(content: bytes) -> bytes:
    """A notebook without outputs, its code folded: outputs the course stores are of the demo, and its sliders live only once run."""
    notebook = json.loads(content)
    for cell in notebook["cells"]:
        if cell["cell_type"] == "code":
            cell["outputs"], cell["execution_count"] = [], None
            cell["metadata"]["jupyter"] = {"source_hidden": True}
    return (json.dumps(notebook, ensure_ascii=False, indent=1) + "\n").encode()


def known_cells() -> list[str]:
    """Hashes of the text of every cell of code in the course: those, and no others, a page runs by itself when it is opened."""
    texts = {
        _text(cell["source"])
        for path in shipped().values()
        for cell in json.loads(path.read_bytes())["cells"]
        if cell["cell_type"] == "code"
    }
    return sorted(hashlib.sha256(text.encode()).hexdigest()[:32] for text in texts)


def _text(source: str | list[str]) -> str:
    return source if isinstance(source, str) else "".join(source)


# --- what happened ----------------------------------------------------------------------------------
@dataclass
class Report:
    """What a start did in a working folder, file by file; ``sentences()`` says it in words."""

    folder: Path
    first: bool = False  # nothing of the course was there before
    added: list[str] = field(default_factory=list)
    put_back: list[str] = field(default_factory=list)  # deleted by the learner, laid there again
    renewed: list[str] = field(default_factory=list)
    kept: list[str] = field(default_factory=list)  # changed by the learner, course has nothing newer
    kept_older: list[str] = field(default_factory=list)  # changed by the learner, course has a newer one
    retired: list[str] = field(default_factory=list)  # no longer in the course, still in the folder
    notes: list[str] = field(default_factory=list)

    def sentences(self) -> list[str]:
        """Plain sentences, most important first."""
        where = "Made your working folder" if self.first else "Your working folder"
        said = [f"{where}: {self.folder}"]
        if self.first:
            said.append(
                f"It holds {_count(self.added, 'notebooks')} to read and do, {_count(self.added, 'exercises')} "
                f"of exercises, and your design file, {DESIGN_FILE}."
            )
            said.append(
                "Begin with chapter 00, which opens first; it leads to the first round, 00b, and that to a draft of your own lathe."
            )
        elif self.added:
            said.append(f"New in the course, added: {_listed(self.added)}.")
        if self.renewed:
            said.append(f"Renewed, because you had not changed them: {_listed(self.renewed)}.")
        if self.put_back:
            said.append(f"Missing, so put back: {_listed(self.put_back)}.")
        if self.kept_older:
            said.append(
                f"The course has a newer version of these, but you changed yours, so yours was left alone: "
                f"{_listed(self.kept_older)}. To get the newer one beside yours, start again with "
                f"--fresh-copy {self.kept_older[0]}"
            )
        if self.kept:
            said.append(f"Left as you changed them: {_listed(self.kept)}.")
        if self.retired:
            said.append(f"No longer part of the course, left where they are: {_listed(self.retired)}.")
        return said + self.notes


def _count(names: list[str], shelf: str) -> str:
    number = sum(name.startswith(shelf + "/") for name in names)
    return f"{number} {'file' if shelf == 'exercises' else 'notebook'}{'' if number == 1 else 's'}"


def _listed(names: list[str]) -> str:
    return ", ".join(names)


# --- laying out the folder --------------------------------------------------------------------------
def prepare(folder: str | os.PathLike[str]) -> Report:
    """Make ``folder`` a working folder, or bring an existing one up to date.

    Raises InputProblem, with a sentence that says what to do, if the folder cannot serve.
    """
    folder = usable(folder)
    try:
        folder.mkdir(parents=True, exist_ok=True)
        return _lay(folder)
    except OSError as problem:
        raise _refused(folder, problem) from problem


def _lay(folder: Path) -> Report:
    record = _Record(folder)
    report = Report(folder, first=not os.path.exists(record.path))
    work: dict[str, bytes] = {}
    course = shipped()
    for name, source in course.items():
        content = _clean(source.read_bytes())
        new = fingerprint(content, name)
        before = record.known.get(name, [])
        target = folder / name
        if not os.path.exists(target):
            (report.put_back if before else report.added).append(name)
            work[name] = content
            continue
        there = fingerprint(target.read_bytes(), name)
        if there == new:
            record.note(name, new)
        elif there in before:
            report.renewed.append(name)
            work[name] = content
        elif before and before[-1] != new:
            report.kept_older.append(name)
        else:
            report.kept.append(name)
    for name, content in work.items():
        record.note(name, fingerprint(content, name))
    report.retired = [name for name in record.known if name not in course and os.path.exists(folder / name)]
    # The record goes first: cut off half way, the next start still knows every copy as its own.
    record.save()
    for name, content in work.items():
        _write(folder / name, content)
    _lay_design(folder / DESIGN_FILE, report)
    own = [path.name for path in map(functools.partial(sheet_path, folder / DESIGN_FILE), SHEETS) if os.path.isfile(path)]
    if own:
        report.notes.append(f"Your own tables are used: {_listed(own)}.")
    if os.path.lexists(folder / _OLD_SETTINGS):
        report.notes.append(
            f"{_OLD_SETTINGS} is not used any more: settings of JupyterLab are kept in your account now. You may delete it."
        )
    return report


def _lay_design(path: Path, report: Report) -> None:
    """See that there is a design file: the learner's, their last good copy, or a new one from the demo."""
    if os.path.lexists(path):
        return
    if os.path.isfile(design_file.backup_of(path)):
        try:
            report.notes.append(f"{path.name} was missing. {design_file.restore_last_good(path)}")
            return
        except InputProblem as problem:
            report.notes.append(str(problem))
    design_file.new(path, demo=FIRST_DEMO)
    if not report.first:
        report.notes.append(f"{path.name} was missing, so a new one was made from the demo {FIRST_DEMO}.")


def fresh_copy(folder: str | os.PathLike[str], name: str) -> Path:
    """Lay the course's own copy of one file beside the learner's, under a name of its own, and return its path.

    ``name`` may be its path in the folder, a file name with or without its ending, or a
    beginning that fits one chapter only, such as ``03``.
    """
    folder = usable(folder)
    chosen = _chosen(name)
    source = shipped()[chosen]
    target = folder / chosen
    beside = target.with_name(f"{target.stem}-fresh{target.suffix}")
    number = 2
    while os.path.exists(beside):
        beside = target.with_name(f"{target.stem}-fresh-{number}{target.suffix}")
        number += 1
    try:
        _write(beside, _clean(source.read_bytes()))
    except OSError as problem:
        raise _refused(folder, problem) from problem
    return beside


def _chosen(name: str) -> str:
    names = list(shipped())
    wanted = name.replace("\\", "/").removeprefix("./")
    for fits in (
        lambda n: n == wanted,
        lambda n: wanted in (Path(n).name, Path(n).stem),
        lambda n: Path(n).name.partition("_")[0] == wanted,  # chapter 00, where there is a 00b as well
        lambda n: bool(wanted) and Path(n).name.startswith(wanted),
    ):
        found = [n for n in names if fits(n)]
        found = [n for n in found if n.startswith("notebooks/")] or found  # a chapter before its exercises
        if len(found) == 1:
            return found[0]
        if found:
            raise InputProblem.about(
                "fresh copy", f"{name!r} fits more than one file of the course: {_listed(found)}. Write one of them in full."
            )
    hint = nearest_or_stop(wanted, [Path(n).stem for n in names], most=3, cutoff=0.4)
    raise InputProblem.about("fresh copy", f"The course has no file {name!r}{hint}")


# --- finding the folder again -----------------------------------------------------------------------
def find(start: str | os.PathLike[str] = ".") -> Path | None:
    """The working folder that ``start`` lies in, or None outside of any."""
    here = Path(start).absolute()
    return next((folder for folder in (here, *here.parents) if os.path.isfile(folder / RECORD)), None)


def design_path(start: str | os.PathLike[str] = ".") -> Path | None:
    """The design file of the working folder that ``start`` lies in, or None outside of any."""
    folder = find(start)
    return folder / DESIGN_FILE if folder else None


# --- folders that cannot serve ----------------------------------------------------------------------
_OUTSIDE = "Choose a folder of your own outside it, for example: lathe-course start ~/my-lathe"
_PROJECT = re.compile(r'^name\s*=\s*"lathe-course"', re.MULTILINE)


def usable(folder: str | os.PathLike[str]) -> Path:
    """``folder`` as a full path with ``~`` filled in, or InputProblem if it cannot be a working folder."""
    try:
        path = Path(folder).expanduser().resolve()
    except (OSError, RuntimeError, ValueError) as problem:  # no home known, a loop of links, a zero byte
        raise InputProblem.about(
            "folder", f"{str(folder)!r} cannot be used as a folder: {problem}. Write the full path of the folder instead."
        ) from problem
    if os.path.exists(path) and not os.path.isdir(path):
        raise InputProblem.about("folder", f"{path} is a file, not a folder. Choose another name for your working folder.")
    if path.is_relative_to(_PACKAGE):
        raise InputProblem.about("folder", f"{path} lies inside the installed course. {_OUTSIDE}")
    if sys.prefix != sys.base_prefix and path.is_relative_to(Path(sys.prefix).resolve()):
        raise InputProblem.about("folder", f"{path} lies inside the Python environment that runs the course. {_OUTSIDE}")
    if any(_is_checkout(parent) for parent in (path, *path.parents)):
        raise InputProblem.about(
            "folder",
            f"{path} lies inside the source of the course, where your work and the course's own files would mix. {_OUTSIDE}",
        )
    return path


def _is_checkout(folder: Path) -> bool:
    try:
        return bool(_PROJECT.search((folder / "pyproject.toml").read_text(encoding="utf-8")))
    except (OSError, ValueError):
        return False


_FULL = (errno.ENOSPC, errno.EDQUOT)


def _refused(folder: Path, problem: OSError) -> InputProblem:
    """An error of the disk as a sentence with a way out."""
    cure = (
        "Make room and start again; nothing you wrote was touched."
        if problem.errno in _FULL
        else "Choose another folder: lathe-course start FOLDER"
    )
    culprit = problem.filename2 or problem.filename or folder
    return InputProblem.about(
        "folder", f"The working folder {folder} cannot be made ready: {in_words(problem)} ({culprit}). {cure}"
    )


# --- reading and writing ----------------------------------------------------------------------------
class _Record:
    """Fingerprints of every copy of the course laid in a folder, newest last, by path."""

    def __init__(self, folder: Path):
        self.path = folder / RECORD
        self.known: dict[str, list[str]] = {}
        try:
            laid = json.loads(self.path.read_text(encoding="utf-8"))["laid"]
            self.known = {str(name): [str(mark) for mark in marks] for name, marks in laid.items()}
        except FileNotFoundError:
            pass
        except (ValueError, KeyError, TypeError, AttributeError):
            pass  # a damaged record only makes the course more careful: what it does not know, it leaves alone

    def note(self, name: str, mark: str) -> None:
        marks = self.known.setdefault(name, [])
        if mark in marks:
            marks.remove(mark)
        marks.append(mark)

    def save(self) -> None:
        text = (
            json.dumps(
                {"about": "What the course laid in this folder. Made by lathe-course; leave it here.", "laid": self.known},
                indent=1,
                sort_keys=True,
            )
            + "\n"
        )
        if not os.path.exists(self.path) or self.path.read_text(encoding="utf-8", errors="replace") != text:
            _write(self.path, text.encode())


def _write(path: Path, content: bytes) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    write_whole(path, content)
