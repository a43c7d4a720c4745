"""The design a notebook works on: the learner's file, or a demo where there is none."""

from __future__ import annotations

import asyncio
import collections
import datetime
import os
import time
from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from IPython import get_ipython

from ..design.chain.luck import DRAWS
from ..design.demos import demo
from ..design.design import Design
from ..design.draft.starting import settle
from ..design.evaluation import Evaluation, evaluate
from ..design.files.lists import Lists, lay_lists, read_lists
from ..design.files.progress_log import LogBook, log_path
from ..design.lathe import LATHE
from ..planning.log import NO_LOG
from ..units import InputProblem
from .folder.workspace import design_path
from .turns import in_turn


class Session:
    """Holds the design as it stands, and keeps what the learner settles.

    ``trouble`` is a sentence if the file cannot be read or must not be written; the chapter
    then runs on the last good copy, or on the demo, and nothing is kept until it is mended.  ``start`` is a folder, or a design file by itself;
    ``alone`` leaves every file alone and works on the demo.  ``today`` is given in tests.
    """

    def __init__(
        self, start: Path | None = None, demo_name: str = "boat_shed", today: datetime.date | None = None, alone: bool = False
    ):
        self.path = None if alone else start if start and os.path.isfile(start) else design_path(start or ".")
        self.given_today = today
        self.trouble = ""
        self.stand_in = ""  # what the chapter runs on while the file cannot be read
        self.remarks: tuple[str, ...] = ()
        self.lists = Lists()  # the learner's own tables of the build
        self.lists_trouble = ""  # why they could not be read, and what is used meanwhile
        self.book = LogBook(None)  # the log of the build
        self.log, self.log_trouble = NO_LOG, ""
        self.file = None
        self.design: Design = demo(demo_name)
        if self.path is not None:
            self.book = LogBook(log_path(self.path))
            self._open()
        self.opened: Design = self.design  # as it was when the chapter was opened
        self.before: Design = self.design  # as it was when the last change was made: what another notebook kept is in it already
        self.noticed = ""  # what another notebook has kept since this one looked last
        self._mark = self._marked()
        self._evaluation: Evaluation | None = None
        self._waiting: collections.deque[Callable[[], None]] = collections.deque()
        self._took: dict[Callable[[], None], float] = {}  # seconds each listener took last
        self._meanwhile: dict[Callable[[], None], Callable[[], None]] = {}
        self._writing = False  # is what waits being written, one after the other?
        self._listeners: list[tuple[tuple[str, int] | None, Callable[[], None]]] = []

    def _open(self) -> None:
        from ..design.files.design_file import DesignFile, backup_of

        self.file = DesignFile(self.path, LATHE)
        self.trouble, self.stand_in, self.remarks = "", "", ()
        try:
            self.design = self.file.read()
            self.trouble = self.file.read_only_because
            self.remarks = tuple(self.file.remarks)
        except InputProblem as problem:
            try:
                self.design = DesignFile(backup_of(self.path.resolve()), LATHE).read()
                self.stand_in = "your last good copy"
            except InputProblem:
                self.stand_in = "the demo"
            self.trouble = f"{problem}\nUntil that is mended the chapter runs on {self.stand_in}, and nothing is kept."
        self._read_lists()
        self._read_log()

    def _read_lists(self) -> None:
        """Take the tables beside the design file, as they are now; where they are broken, the last good ones or the course's serve."""
        self.lists_trouble = ""
        try:
            self.lists = read_lists(self.path, self.design)
        except InputProblem as problem:
            meanwhile = "as they were last read" if self.lists.building else "the course's own"
            self.lists_trouble = f"{problem}\nUntil that is mended the lists are {meanwhile}."
        self.design = self._with_lists(self.design)

    def _with_lists(self, design: Design) -> Design:
        return replace(design, sheets=self.lists.building, log=self.log)

    def _read_log(self) -> None:
        """Take the log beside the design file, as it is now; where it is broken as a whole, as it was last read."""
        self.book.known = self.design.building.names
        self.log_trouble = ""
        try:
            self.log = self.book.read(self.today if self.path else self.given_today)
        except InputProblem as problem:
            self.log_trouble = f"{problem}\nUntil that is mended the log is {'as it was last read' if self.log else 'left out'}."
        self.design = self.design.with_log(self.log)

    @property
    def today(self) -> datetime.date:
        """The day it is.  A log beside a design is read as it stands on it; one that lives in a notebook alone goes by its last line."""
        return self.given_today or datetime.date.today()

    @property
    def where(self) -> str:
        """In words, what this notebook works on."""
        if self.path is None:
            return f"the demo “{self.design.name}” (no working folder: what you keep lives in this notebook only)"
        if self.stand_in:
            return f"{self.stand_in} “{self.design.name}”, because {self.path.name} cannot be read"
        return f"“{self.design.name}”, in {self.path.name}" if self.design.name else f"your design, in {self.path.name}"

    @property
    def kept_where(self) -> str:
        """Where something was kept, without a full stop."""
        return f"Kept in {self.path.name}" if self.path else "Kept in this notebook only: there is no working folder"

    @property
    def evaluation(self) -> Evaluation:
        """The design as it stands, worked out."""
        if self._evaluation is None or self._evaluation.design is not self.design:
            self._evaluation = evaluate(self.design, earlier=self._evaluation)
        return self._evaluation

    @property
    def drawn(self) -> Evaluation:
        """The same with draws, worked out when it is first asked for."""
        return self.evaluation.drawn(DRAWS)

    @in_turn
    def change(self, change: Callable[[Design], Design], near: Callable[[], None] | None = None) -> Design:
        """Apply a change to what is in the file now, save it, and make it the design as it stands.

        What stands nearest to the listener ``near`` is written anew first.
        Raises InputProblem with a sentence if it cannot be saved; nothing is lost then.
        """
        if self.file is None:
            self.before, self.noticed = self.design, ""
            self.design = change(self.design)
        else:
            if self.trouble:
                self._open_again()
            here, shop = self.design, self.design.started_from

            def changed(design: Design) -> Design:
                self.before = self._with_lists(design)
                return change(self.before)

            self.design = self._with_lists(self.file.save_change(changed))
            self.noticed = _kept_elsewhere(here, self.before, self.design)
            if self.design.started_from != shop and self.lists.own:
                self._read_lists()  # other machines stand in where there is no table of them
        self._tell(near)
        return self.design

    # --- another notebook on the same file ------------------------------------------------------------
    @in_turn
    def look(self) -> str:
        """At a touch: take what another notebook has kept meanwhile; a sentence on it, or nothing."""
        if self.file is None or self.trouble or (mark := self._marked()) == self._mark:
            return ""
        before, self._mark = self._mark, mark
        said = []
        if mark[0] != before[0]:
            try:
                found = self._with_lists(self.file.read())
            except InputProblem:
                return ""  # half written, or broken: the next change says so
            if elsewhere := _kept_elsewhere(self.design, found):
                self.design = found
                said.append(elsewhere)
        if mark[1] != before[1]:
            lines = len(self.log)
            self._read_log()
            if more := len(self.log) - lines:
                said.append(
                    f"The log has {more} line{'' if more == 1 else 's'} more than when this page looked last."
                    if more > 0
                    else "The log has been changed by hand."
                )
        if said:
            self.noticed = " ".join(said)
            self._tell()
        return " ".join(said)

    def _marked(self) -> tuple[tuple[int, int] | None, ...]:
        """When design file and log were written last, and how long they are."""
        return tuple(_mark_of(path) for path in (self.path, self.book.path))

    def _open_again(self) -> None:
        """The file may have been mended meanwhile; InputProblem if it was not."""
        self._open()
        if self.trouble:
            raise InputProblem([("file", self.trouble)], heading="Nothing was kept.")
        self._tell()

    def _tell(self, near: Callable[[], None] | None = None) -> None:
        """Have all that shows the design written anew, what stands nearest to ``near`` first.

        Where a loop runs each is written by itself, so that the answer to a press is out before all of
        them, and whoever touches another control meanwhile waits for one of them at most.
        """
        told = [listener for _, listener in self._listeners]
        here = told.index(near) if near in told else 0
        slow = [self._took.get(listener, 0.0) > _SLOW for listener in told]
        told = [
            told[place] for place in sorted(range(len(told)), key=lambda place: (slow[place], abs(place - here), place < here))
        ]
        try:
            loop = asyncio.get_running_loop()
        except RuntimeError:  # no loop runs: a test, or a plain program
            for listener in told:
                listener()
            return
        self._waiting = collections.deque(told)
        for listener in told[len(told) - sum(slow) :]:
            if listener in self._meanwhile:
                self._meanwhile[listener]()
        if not self._writing:
            self._writing = True
            loop.call_soon(self._write_next, loop)

    @in_turn
    def _write_next(self, loop: asyncio.AbstractEventLoop) -> None:
        if not self._waiting:
            self._writing = False
            return
        listener, begun = self._waiting.popleft(), time.monotonic()
        try:
            listener()
        finally:
            self._took[listener] = time.monotonic() - begun
            loop.call_soon(self._write_next, loop)

    def keep(
        self, because: str = "", left_alone: Iterable[str] = (), near: Callable[[], None] | None = None, **changes: Any
    ) -> Design:
        """Keep decisions (or figures of the learner's own) with a reason; ``left_alone`` as the file has them now."""
        return self.change(lambda design: settle(design, because, changes, left_alone), near)

    @property
    def evaluation_before(self) -> Evaluation:
        """The design just before the last change, worked out: a ripple from there tells that change and no other."""
        return evaluate(self.before, earlier=self._evaluation)

    def keep_readings(
        self, sheet: str, rows: Iterable[Mapping[str, Any]], shown: Iterable[Mapping[str, Any]] | None = None
    ) -> Design:
        """Keep the rows of a sheet of readings, as texts.

        ``shown`` are the rows the learner had before them; without, those of the design as it stood here.
        """
        rows, shown = (
            list(rows),
            list(self.design.readings[sheet].written if shown is None and sheet in self.design.readings else shown or ()),
        )
        return self.change(lambda design: design.with_readings(sheet, rows, shown))

    # --- tables of one's own ----------------------------------------------------------------------
    @in_turn
    def read_lists_again(self) -> None:
        """After an edit in a spreadsheet: read the tables anew, and tell everything that shows the design."""
        self._in_a_folder()
        self._read_lists()
        self._tell()

    @in_turn
    def lay_lists(self, *names: str) -> tuple[Path, ...]:
        """Lay tables to edit beside the design file; InputProblem if nothing could be laid."""
        self._in_a_folder()
        laid = lay_lists(self.path, self.design, names)
        self.read_lists_again()
        return laid

    # --- the log ----------------------------------------------------------------------------------
    @in_turn
    def read_log_again(self) -> None:
        """After an edit in a spreadsheet: read the log anew, and tell everything that shows the build."""
        self._read_log()
        self._mark = (self._mark[0], _mark_of(self.book.path))
        self._tell()

    @in_turn
    def add_to_log(self, date: str, what: str, amount: str = "", part: str = "", words: str = "", **of_an_order: str) -> None:
        """Add a line to the log; InputProblem says what is wrong with it, and then nothing is written.  ``of_an_order``: vendor, due, receipt."""
        self.book.known = self.design.building.names
        self.book.append(date, what, amount, part, words, latest=self.today, **of_an_order)
        self.read_log_again()

    def _in_a_folder(self) -> None:
        if self.path is None:
            raise InputProblem.about(
                "folder", "there is no working folder to lay tables in; make one with: lathe-course start my-lathe"
            )

    def when_changed(self, listener: Callable[[], None], meanwhile: Callable[[], None] | None = None) -> None:
        """Call ``listener`` after every kept change, until the cell that asks for it is run again.

        One that takes long is called last, and ``meanwhile`` at once, to say that its page is yet to come.
        """
        run = _cell_run()
        if run is not None:
            self._listeners = [
                (other, old) for other, old in self._listeners if other is None or other[0] != run[0] or other[1] == run[1]
            ]
        self._listeners.append((run, listener))
        if meanwhile is not None:
            self._meanwhile[listener] = meanwhile


#: seconds after which a page is written last, behind those that are quick
_SLOW = 0.7
_NAMED = 3


def _mark_of(path: Path | None) -> tuple[int, int] | None:
    try:
        found = path.stat() if path is not None else None
    except OSError:
        return None
    return (found.st_mtime_ns, found.st_size) if found else None


def _kept_elsewhere(here: Design, there: Design, now: Design | None = None) -> str:
    """What differs in a design that another notebook has kept since, in a sentence; nothing if nothing does.

    ``now`` is the design after a change made on top: what both settled at once is told by both values.
    """
    differs = there.changed_from(here)
    moved = [name for name in there.chain.decisions if name in differs]
    others = differs - {*moved, "making", "log"}  # how parts are made follows from the rest; the log is read by itself
    if not moved and not others:
        return ""
    told = [f"{there.chain.decisions[name].label}: {there.choices[name].written}" for name in moved[:_NAMED]]
    if len(moved) > _NAMED:
        told.append(f"and {len(moved) - _NAMED} more decisions")
    if others:
        told.append("and what is not a decision, such as jobs or ways" if moved else "jobs, ways or readings")
    said = f"Kept elsewhere meanwhile, in another notebook or by hand: {'; '.join(told)}. This page follows."
    both = [name for name in moved if now is not None and now.choices[name].written != there.choices[name].written]
    return said + "".join(
        f" But {there.chain.decisions[name].label} you have kept at once with the other: yours, {now.choices[name].written}, stands now in place of "
        f"{there.choices[name].written}. Agree on one."
        for name in both
    )


def _cell_run() -> tuple[str, int] | None:
    """Which cell of the notebook is being run, and for the how manyth time; None outside of a notebook."""
    shell = get_ipython()
    message = getattr(shell, "parent_header", None) or {}
    cell = message.get("metadata", {}).get("cellId")
    return (cell, shell.execution_count) if cell else None
