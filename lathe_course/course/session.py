"""The design a notebook works on: the learner's file, or a demo where there is none."""
from __future__ import annotations

import datetime
from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from IPython import get_ipython

from ..build.log import NO_LOG
from ..design.demos import demo
from ..design.design import Design
from ..design.evaluation import Evaluation, evaluate
from ..design.lathe import LATHE
from ..design.lists import Lists, lay_lists, read_lists
from ..design.progress_log import LogBook, log_path
from ..design.starting import settle
from ..units import InputProblem
from .essentials import DRAWS
from .turns import in_turn
from .workspace import design_path

__all__ = ["Session"]


class Session:
    """Holds the design as it stands, and keeps what the learner settles.

    ``trouble`` is a sentence if the file cannot be read or must not be written; the chapter
    then runs on the last good copy, or on the demo, and nothing is kept until it is mended.
    """

    def __init__(self, start: Path | None = None, demo_name: str = "boat_shed"):
        self.path = design_path(start or ".")
        self.trouble = ""
        self.stand_in = ""                         # what the chapter runs on while the file cannot be read
        self.remarks: tuple[str, ...] = ()
        self.lists = Lists()                       # the learner's own tables of the build
        self.lists_trouble = ""                    # why they could not be read, and what is used meanwhile
        self.book = LogBook(None)                  # the log of the build
        self.log, self.log_trouble = NO_LOG, ""
        self.file = None
        self.design: Design = demo(demo_name)
        if self.path is not None:
            self.book = LogBook(log_path(self.path))
            self._open()
        self.opened: Design = self.design          # as it was when the chapter was opened
        self._evaluation: Evaluation | None = None
        self._drawn: Evaluation | None = None
        self._listeners: list[tuple[tuple[str, int] | None, Callable[[], None]]] = []

    def _open(self) -> None:
        from ..design.design_file import DesignFile, backup_of
        self.file = DesignFile(self.path, LATHE)
        self.trouble, self.stand_in, self.remarks = "", "", ()
        try:
            self.design = self.file.read()
            self.trouble = self.file.read_only_because
            self.remarks = tuple(self.file.remarks)
        except InputProblem as problem:
            try:
                self.design = DesignFile(backup_of(self.path), LATHE).read()
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
            self.log = self.book.read()
        except InputProblem as problem:
            self.log_trouble = f"{problem}\nUntil that is mended the log is {'as it was last read' if self.log else 'left out'}."
        self.design = self.design.with_log(self.log)

    @property
    def where(self) -> str:
        """In words, what this notebook works on."""
        if self.path is None:
            return f"the demo “{self.design.name}” (no working folder: what you keep lives in this notebook only)"
        if self.stand_in:
            return f"{self.stand_in} “{self.design.name}”, because {self.path.name} cannot be read"
        return f"“{self.design.name}”, in {self.path.name}"

    @property
    def evaluation(self) -> Evaluation:
        """The design as it stands, worked out."""
        if self._evaluation is None or self._evaluation.design is not self.design:
            self._evaluation = evaluate(self.design, earlier=self._evaluation)
        return self._evaluation

    @property
    def drawn(self) -> Evaluation:
        """The same with draws, worked out when it is first asked for."""
        if self._drawn is None or self._drawn.design is not self.design:
            self._drawn = evaluate(self.design, DRAWS)
        return self._drawn

    @in_turn
    def change(self, change: Callable[[Design], Design]) -> Design:
        """Apply a change to what is in the file now, save it, and make it the design as it stands.

        Raises InputProblem with a sentence if it cannot be saved; nothing is lost then.
        """
        if self.file is None:
            self.design = change(self.design)
        else:
            if self.trouble:
                self._open_again()
            shop = self.design.started_from
            self.design = self._with_lists(self.file.save_change(lambda design: change(self._with_lists(design))))
            if self.design.started_from != shop and self.lists.own:
                self._read_lists()                 # other machines stand in where there is no table of them
        self._tell()
        return self.design

    def _open_again(self) -> None:
        """The file may have been mended meanwhile; InputProblem if it was not."""
        self._open()
        if self.trouble:
            raise InputProblem([("file", self.trouble)], heading="Nothing was kept.")
        self._tell()

    def _tell(self) -> None:
        for _, listener in list(self._listeners):
            listener()

    def keep(self, because: str = "", left_alone: Iterable[str] = (), **changes: Any) -> Design:
        """Keep decisions (or figures of the learner's own) with a reason; ``left_alone`` as the file has them now."""
        return self.change(lambda design: settle(design, because, changes, left_alone))

    def keep_readings(self, sheet: str, rows: Iterable[Mapping[str, Any]], shown: Iterable[Mapping[str, Any]] | None = None) -> Design:
        """Keep the rows of a sheet of readings, as texts.

        ``shown`` are the rows the learner had before them; without, those of the design as it stood here.
        """
        rows, shown = list(rows), list(self.design.readings[sheet].written if shown is None and sheet in self.design.readings else shown or ())
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
        self._tell()

    @in_turn
    def add_to_log(self, date: str, what: str, amount: str = "", part: str = "", words: str = "") -> None:
        """Add a line to the log; InputProblem says what is wrong with it, and then nothing is written."""
        self.book.known = self.design.building.names
        self.book.append(date, what, amount, part, words, latest=datetime.date.today())
        self.read_log_again()

    def _in_a_folder(self) -> None:
        if self.path is None:
            raise InputProblem([("folder", "there is no working folder to lay tables in; make one with: lathe-course start my-lathe")])

    def when_changed(self, listener: Callable[[], None]) -> None:
        """Call ``listener`` after every kept change, until the cell that asks for it is run again."""
        run = _cell_run()
        if run is not None:
            self._listeners = [(other, old) for other, old in self._listeners if other is None or other[0] != run[0] or other[1] == run[1]]
        self._listeners.append((run, listener))


def _cell_run() -> tuple[str, int] | None:
    """Which cell of the notebook is being run, and for the how manyth time; None outside of a notebook."""
    shell = get_ipython()
    message = getattr(shell, "parent_header", None) or {}
    cell = message.get("metadata", {}).get("cellId")
    return (cell, shell.execution_count) if cell else None
