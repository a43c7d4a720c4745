"""The design file: one readable text file that holds a learner's design.

It is TOML, made to be read and changed in any editor::

    format = 6
    name = "Lathe for the boat shed"
    system = "mm"                       # or "inch": how figures are shown
    started_from = "boat_shed"          # the demo it began as

    [decisions.centre_height]
    value = "75 mm"                     # a figure with its unit, or one of the choices
    reason = "the largest disc is 120 mm"
    decided = "2026-01-31"              # text or TOML date
    origin = "yours"                    # or "draft of 75 mm"; without the line the demo's while it stands as there, else yours
    earlier = [ { value = "80 mm", reason = "to be safe", decided = "2026-01-10" } ]

    [decisions.motor_power]             # a figure known only roughly is a range
    value = { low = "0.3 kW", likely = "0.37 kW", high = "0.4 kW" }

    [figures.damping]                   # a figure of the learner's in place of the course's
    value = "0.04"

    [[jobs]]                            # one for each part; the fields are those of jobs.py
    name = "bronze bush"

    [[remarks]]                         # what a mentor said of a decision: who, when as given, the words
    decision = "centre_height"

    [[readings.stiffness]]              # measured at a machine, one for each row of a sheet
    force = "40 N"

    [ways]                              # part = the way chosen for it
    [wish]                              # answers that are no decision: machines = "hand tools + bench drill 13 mm"
    [guesses.03]                        # by chapter, question = "answer"
    [notes]                             # name = "text"

Only ``value`` is needed; ``[decisions]`` with lines ``centre_height = "75 mm"`` is read too.
The file is data: nothing in it is ever run.  Comments, order and keys nobody knows survive
every save.  Beside ``design.toml`` lies ``design.backup.toml``, the file as it was before the
last change.
"""

from __future__ import annotations

import copy
import os
import tomllib
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError

from ...nearest import nearest_or_all
from ...problems import tellable
from ...units import InputProblem
from ..chain.graph import Chain
from ..design import Design
from ..origins import NOT_OF_A_DEMO, opened
from . import whole_file
from .file_format import FORMAT, bring_forward, format_of, sift
from .toml_edit import PlainWriter, TomlWriter, merge, same
from .toml_text import Damaged, TomlText, decode

DEMOS = Path(__file__).parents[1] / "demos"
_FIRST_DEMO = "boat_shed"
_TRIES = 5  # how often a change starts again because the file was changed in an editor meanwhile


class DesignFileProblem(InputProblem):
    """A design file cannot be read or written; the sentences name file, line and key."""

    def __init__(self, path: Path, problems: list[tuple[str, str]], what: str = "cannot be read"):
        self.path = path
        super().__init__(problems, heading=f"The design file {path} {what}:")


def load(path: str | os.PathLike[str], chain: Chain) -> Design:
    """The design in a file; DesignFileProblem names everything that is wrong with it."""
    return DesignFile(path, chain).read()


@dataclass(frozen=True)
class _Reading:
    """A file as it was at one moment."""

    raw: bytes
    text: TomlText
    design: Design
    remarks: tuple[str, ...]
    newer: str  # why nothing may be saved, if a newer course wrote it


class DesignFile:
    """A design file on disk.  It is read anew before every change, so nothing here goes stale."""

    def __init__(self, path: str | os.PathLike[str], chain: Chain):
        self.path, self.chain = Path(path).expanduser(), chain
        self._reading: _Reading | None = None

    # --- reading ----------------------------------------------------------------------------------
    def read(self) -> Design:
        """The design as the file has it now."""
        self._reading = self._read(_bytes(self.path, self.chain))
        return self._reading.design

    @property
    def remarks(self) -> tuple[str, ...]:
        """Sentences on what was ignored at the last reading, such as a key that is not known."""
        return self._last().remarks

    @property
    def read_only_because(self) -> str:
        """Why nothing can be saved, in one sentence; "" if changes are welcome."""
        return self._last().newer or _no_writing(self.path)

    def _last(self) -> _Reading:
        if self._reading is None:
            self._reading = self._read(_bytes(self.path, self.chain))
        return self._reading

    def _read(self, raw: bytes) -> _Reading:
        try:
            text = decode(raw)
        except Damaged as damage:
            where = _where(self.path, damage.line, damage.key)
            raise self._problem([(damage.key or "file", f"{where}: {damage.sentence}.")]) from None
        found = format_of(text.plain)
        if found is None:
            where = _where(self.path, text.line_of(("format",)), "format")
            raise self._problem([("format", f"{where}: the format is a whole number; write format = {FORMAT}.")])
        newer = (
            ""
            if found <= FORMAT
            else (
                f"{self.path} was written by a newer version of the course (format {found}, this version knows {FORMAT}), so it can be "
                "looked at here but nothing will be saved, lest something be lost. Install the newer version to change it."
            )
        )
        plain = copy.deepcopy(text.plain)
        added = bring_forward(plain, PlainWriter(), self.chain, _demo_decisions(text.plain))
        design, remarks = self._design(plain, text, newer)
        remarks += [f"{self.path.name}: {said}" for said in _added(added)]
        if not text.ends_well:
            last = text.text.count("\n") + 1
            remarks.append(f"{_where(self.path, last, '')}: the last line is not ended; look whether the file was cut off there.")
        return _Reading(raw, text, design, tuple(remarks), newer)

    def _design(self, plain: Mapping[str, Any], text: TomlText, newer: str) -> tuple[Design, list[str]]:
        """The design in plain values, and remarks; all that is wrong with it is raised together."""
        sifted = sift(plain, self.chain)
        problems = list(sifted.problems)
        design = None
        try:
            design = Design.from_written(self.chain, sifted.known)
        except InputProblem as wrong:
            problems += [
                (place, sentence)
                for place, sentence in ((self._place(name), sentence) for name, sentence in wrong.problems)
                if not any(sifted.spoilt(place[:length]) for length in (1, 2, 3))
            ]
        remarks = [
            tellable(f"{_where(self.path, text.line_of(place), _key(place))}: {sentence}") for place, sentence in sifted.remarks
        ]
        if problems or design is None:
            said = [
                (_key(place), f"{_where(self.path, text.line_of(place), _key(place))}: {sentence}")
                for place, sentence in problems
            ]
            said += [(_key(place), remark) for (place, _), remark in zip(sifted.remarks, remarks)]
            raise self._problem(said + [("format", newer)] * bool(newer))
        return design, remarks

    def _place(self, name: str) -> tuple[str | int, ...]:
        """Where in the file the thing stands that a Design complains of by ``name``."""
        if name.startswith("jobs."):
            _, index, field = name.split(".", 2)
            return ("jobs", int(index), field)
        if name.startswith("readings."):
            _, sheet, *where = name.split(".", 3)
            return ("readings", sheet, *(int(part) if part.isdecimal() else part for part in where))
        group = "decisions" if name in self.chain.decisions else "figures" if name in self.chain.figures else None
        return (group, name, "value") if group else (name,)

    def _problem(self, problems: list[tuple[str, str]]) -> DesignFileProblem:
        return DesignFileProblem(self.path, problems + _good_copy(self.path, self.chain))

    # --- changing ---------------------------------------------------------------------------------
    def save_change(self, change: Callable[[Design], Design]) -> Design:
        """Apply ``change`` to the design as the file has it now, write it, and return it.

        ``change`` makes a new design of the one it is given and has no other effect: it is
        called again if the file is changed meanwhile.  What it raises leaves the file as it
        was.  Raises DesignFileProblem, with the file untouched, if it cannot be read or written.
        """
        real = _real(self.path)
        _bytes(self.path, self.chain)  # a file that is not there is told as such, not as a lock that failed
        closed = _no_writing(self.path)
        if closed:
            raise DesignFileProblem(self.path, [("file", closed)], _UNTOUCHED)
        with _writing(self.path, real):
            for _ in range(_TRIES):
                now = self._reading = self._read(_bytes(self.path, self.chain))
                if now.newer:
                    raise DesignFileProblem(self.path, [("format", now.newer)], _UNTOUCHED)
                made = self._changed(now, change(now.design))
                if made.raw == now.raw:
                    return now.design
                try:
                    self._write(real, now, made.raw)
                except whole_file.ChangedMeanwhile:
                    continue
                self._reading = made
                return made.design
        raise DesignFileProblem(self.path, [("file", "somebody else keeps changing it; try again in a moment.")], _UNTOUCHED)

    def _changed(self, now: _Reading, after: Design) -> _Reading:
        """What the file must hold for ``after``, read back to be sure of it."""
        old, new = now.design.written(), _plain(after.written())
        new["guesses"] = {chapter: answers for chapter, answers in new["guesses"].items() if answers}
        Design.from_written(self.chain, new)  # raises InputProblem, if a change took out what must be there
        demo = _demo_decisions(now.text.plain)
        wanted = copy.deepcopy(now.text.plain)
        bring_forward(wanted, PlainWriter(), self.chain, demo)
        merge(wanted, old, new, PlainWriter())
        if same(wanted, now.text.plain):
            return now
        try:
            document = tomlkit.parse(now.text.text)
            bring_forward(document, TomlWriter(), self.chain, demo)
            merge(document, old, new, TomlWriter())
            raw = now.text.encode(tomlkit.dumps(document))
            understood = same(decode(raw).plain, wanted)
        except UnicodeEncodeError:
            raise DesignFileProblem(
                self.path,
                [("text", "a text holds a character that no file can hold; take it out and keep it again.")],
                _UNTOUCHED,
            ) from None
        except (TOMLKitError, Damaged):
            understood = False
        if not understood:
            raise DesignFileProblem(
                self.path,
                [
                    (
                        "file",
                        "it is laid out in a way that cannot be changed without harming what you wrote; "
                        "give each decision a table of its own, under a line such as [decisions.centre_height].",
                    )
                ],
                _UNTOUCHED,
            )
        made = self._read(raw)
        if made.design.written() != new:
            raise ValueError("the changed design would not come back from its file; nothing was written")
        return made

    @staticmethod
    def _write(real: Path, now: _Reading, raw: bytes) -> None:
        backup = backup_of(real)
        if now.text.ends_well or not os.path.exists(backup):  # a file that looks cut off never takes the place of a whole one
            whole_file.write_whole(backup, now.raw)
        whole_file.write_whole(real, raw, instead_of=now.raw)


# --- beginning, and beginning again -----------------------------------------------------------------
def demos() -> tuple[str, ...]:
    """Names of the demo designs that come with the course."""
    return tuple(sorted(path.stem for path in DEMOS.glob("*.toml")))


def new(path: str | os.PathLike[str], chain: Chain | None = None, demo: str = _FIRST_DEMO) -> Path:
    """Lay a new design file, made from a demo but for what is ``NOT_OF_A_DEMO``; never in the place of another file.

    With ``chain`` the demo is held against it first.  Returns the path.
    Raises DesignFileProblem if a file of that name is there or the disk refuses, InputProblem for a demo that there is not.
    """
    path = Path(path).expanduser()
    if demo not in demos():
        raise InputProblem.about("demo", f"there is no demo called {demo!r}; {nearest_or_all(demo, demos())}")
    if chain is not None:
        load(DEMOS / f"{demo}.toml", chain)
    real = _real(path)
    if not os.path.isdir(real.parent):
        raise DesignFileProblem(path, [("file", f"there is no folder {real.parent}; make it first.")], "was not made")
    with _writing(path, real, "was not made"):
        if os.path.lexists(real):
            raise DesignFileProblem(
                path,
                [("file", "there is something of that name already, and it is never overwritten; choose another name.")],
                "was not made",
            )
        whole_file.write_whole(real, _begun_from((DEMOS / f"{demo}.toml").read_text(encoding="utf-8")).encode("utf-8"))
    return path


def _begun_from(demo: str) -> str:
    """The text of a demo as a learner begins with it: what was said of the demo's own place alone is open."""
    document = tomlkit.parse(demo)
    decisions = document.get("decisions", {})
    for name in NOT_OF_A_DEMO:
        if name in decisions:
            for key, text in opened(name).items():
                decisions[name][key] = text
    return tomlkit.dumps(document)


def backup_of(path: str | os.PathLike[str]) -> Path:
    """Where the last good copy of a design file lies: design.backup.toml for design.toml."""
    path = Path(path)
    return path.with_name(f"{path.stem}.backup{path.suffix}")


def restore_last_good(path: str | os.PathLike[str]) -> str:
    """Put the last good copy in the place of a damaged design file, which is kept under another name.

    Returns a sentence on what was done.
    Raises DesignFileProblem if there is no good copy, or the disk refuses.
    """
    path = Path(path).expanduser()
    real, what = _real(path), "was not put back"
    backup = backup_of(real)
    try:
        good = backup.read_bytes()
        decode(good)
    except OSError as problem:
        raise DesignFileProblem(
            path,
            [
                (
                    "backup",
                    f"there is no last good copy to put back ({backup.name}: {whole_file.in_words(problem, reading=True)}).",
                )
            ],
            what,
        ) from None
    except Damaged as damage:
        raise DesignFileProblem(
            path,
            [
                (
                    "backup",
                    f"{_where(backup, damage.line, damage.key)}: the last good copy is damaged too: "
                    f"{damage.sentence}. Nothing was changed.",
                )
            ],
            what,
        ) from None
    if os.path.isdir(real):
        raise DesignFileProblem(path, [("file", "there is a folder of that name; give it another name first.")], what)
    with _writing(path, real, what):
        aside = None
        if os.path.exists(real):
            aside = _free_name(real)
            whole_file.write_whole(aside, real.read_bytes())
        whole_file.write_whole(real, good)
    kept = f" What was there is kept as {aside.name}." if aside else ""
    return f"{path.name} is again as it was before its last change, from {backup.name}.{kept}"


def _free_name(path: Path) -> Path:
    number = 1
    while True:
        free = path.with_name(f"{path.stem}.set-aside-{number}{path.suffix}")
        if not os.path.lexists(free):
            return free
        number += 1


# --- shared -----------------------------------------------------------------------------------------
_UNTOUCHED = "was not changed"


def _real(path: Path) -> Path:
    """The file itself where ``path`` is a link, so that saving does not replace the link."""
    return Path(os.path.realpath(path))


def _no_writing(path: Path) -> str:
    """Why the system would not let the file be changed, in one sentence; "" if it would."""
    real = _real(path)
    if not os.access(real, os.W_OK):
        return f"{path} is marked as read-only, so nothing will be saved."
    if not os.access(real.parent, os.W_OK):
        return (
            f"You may not write in the folder {real.parent}, so nothing will be saved. Copy the design file to a folder "
            "of your own to change it."
        )
    return ""


def _bytes(path: Path, chain: Chain) -> bytes:
    try:
        return path.read_bytes()
    except FileNotFoundError:
        sentence = "there is no such file; lay a new one, or put it back where it was."
    except IsADirectoryError:
        sentence = "this is a folder; give the path of the file inside it."
    except OSError as problem:
        folder = os.path.isdir(path)  # Windows says 'permission denied' of a folder
        sentence = (
            "this is a folder; give the path of the file inside it."
            if folder
            else f"{whole_file.in_words(problem, reading=True)}."
        )
    raise DesignFileProblem(path, [("file", sentence)] + _good_copy(path, chain))


@contextmanager
def _writing(path: Path, real: Path, what: str = _UNTOUCHED) -> Iterator[None]:
    """Hold the file for writing; what the disk refuses becomes a sentence."""
    try:
        with whole_file.one_writer(real):
            whole_file.sweep(real)
            whole_file.sweep(backup_of(real))
            yield
    except whole_file.Busy:
        raise DesignFileProblem(
            path, [("file", "another notebook has been writing it for a while; try again in a moment.")], what
        ) from None
    except OSError as problem:
        raise DesignFileProblem(
            path,
            [
                (
                    "file",
                    f"{whole_file.in_words(problem)} ({problem.filename or real}). What was there before is still there, whole.",
                )
            ],
            what,
        ) from problem


def _good_copy(path: Path, chain: Chain) -> list[tuple[str, str]]:
    """A sentence on where the last good copy is, if there is one and it is good."""
    backup = backup_of(_real(path))
    if not os.path.isfile(backup) or path.name == backup.name:
        return []
    try:
        load(backup, chain)
    except InputProblem:
        return []
    return [
        (
            "backup",
            f"The last good copy is {backup}. Mend the file, or put that copy in its place with restore_last_good; "
            "the damaged file is then kept under another name.",
        )
    ]


def _added(names: Sequence[str]) -> list[str]:
    """What an older file lacked, and where each of it stands now."""
    taken = [name for name in names if name not in NOT_OF_A_DEMO]
    said = [
        f"{name} stands at {NOT_OF_A_DEMO[name][0]!r}: what was said of the demo's own place is no answer for yours."
        for name in names
        if name in NOT_OF_A_DEMO
    ]
    if taken:
        one = len(taken) == 1
        said.insert(
            0,
            f"{', '.join(taken)} {'was' if one else 'were'} taken from the demo, because the course asks {'this' if one else 'these'} only since a newer version.",
        )
    return said


def _demo_decisions(plain: Mapping[str, Any]) -> Mapping[str, Any]:
    """Decisions of the demo a design of an older format began as; of the first demo if it does not say which."""
    found = format_of(plain)
    if found is None or found >= FORMAT:
        return {}
    began_as = plain.get("started_from")
    for name in (began_as, _FIRST_DEMO):
        if name in demos():
            return tomllib.loads((DEMOS / f"{name}.toml").read_text(encoding="utf-8")).get("decisions", {})
    return {}


def _where(path: Path, line: int | None, key: str) -> str:
    """'design.toml, line 12, centre_height'."""
    parts = [path.name, *([f"line {line}"] if line else []), *([key] if key else [])]
    return ", ".join(parts)


def _key(place: tuple[str | int, ...]) -> str:
    """The key a reader looks for: the decision or figure, the field of a job, or the key itself."""
    if place[0] in ("decisions", "figures") and len(place) > 1:
        return ".".join(map(str, place[1:])).removesuffix(".value")
    return str(place[-1] + 1 if isinstance(place[-1], int) else place[-1])


def _plain(value: Any) -> Any:
    """Plain Python with plain line ends, as a file gives it back."""
    if isinstance(value, Mapping):
        return {str(key): _plain(part) for key, part in value.items()}
    if isinstance(value, (list, tuple)):
        return [_plain(part) for part in value]
    return value.replace("\r\n", "\n").replace("\r", "\n") if isinstance(value, str) else value
