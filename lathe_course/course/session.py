"""The design a notebook works on: the learner's file, or a demo where there is none."""
from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from pathlib import Path
from typing import Any

from IPython import get_ipython

from ..design.demos import demo
from ..design.design import Design
from ..design.evaluation import Evaluation, evaluate
from ..design.lathe import LATHE
from ..design.starting import settle
from ..units import InputProblem
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
        self.file = None
        self.design: Design = demo(demo_name)
        if self.path is not None:
            self._open()
        self.opened: Design = self.design          # as it was when the chapter was opened
        self._evaluation: Evaluation | None = None
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
            self.design = self.file.save_change(change)
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
