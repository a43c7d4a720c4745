"""The lists a design is built from: the course's, or the learner's own tables beside the design file."""

from __future__ import annotations

import os
from dataclasses import dataclass, replace
from datetime import date as Date
from pathlib import Path

from ...planning.scaling import scaled
from ...units import InputProblem
from ..building import Building
from ..chain.graph import Chain
from ..chapters.part_sizes import told_sizes
from ..design import Design
from ..evaluation import evaluate
from .build_files import SHEETS, BuildTables, lay_tables, read_tables, sheet_path
from .design_file import load
from .progress_log import logged
from .sheets import SheetProblem


@dataclass(frozen=True)
class Lists:
    """What was found beside a design file.  ``building`` is None where no table of one's own lies there."""

    building: Building | None = None
    own: tuple[str, ...] = ()  # names of the tables that were read
    remarks: tuple[str, ...] = ()


def read_lists(path: str | os.PathLike[str], design: Design) -> Lists:
    """The tables beside a design file, tried out on the design.

    Raises InputProblem with everything that is wrong, by table and line; and if the lists read well but this design
    cannot be worked out with them.
    """
    if not any(os.path.lexists(sheet_path(path, name)) for name in SHEETS):
        return Lists()
    tables = read_tables(path, machines=design.course_building.machines)
    building = Building(tables.parts, tables.machines, tables.equipment, tables.tasks, tables.prices, bars=tables.bars)
    try:
        evaluate(replace(design, sheets=building))
    except InputProblem as problem:
        raise InputProblem(
            problem.problems, heading="Your tables read well, but your design cannot be worked out with them:"
        ) from None
    return Lists(building, tables.own, tables.remarks)


def load_with_lists(path: str | os.PathLike[str], chain: Chain, today: Date) -> Design:
    """A design with all that lies beside its file: tables of one's own, and the log as it is read on that day.

    Raises InputProblem with everything that keeps it from being read.
    """
    design = load(Path(path), chain)
    return logged(replace(design, sheets=read_lists(path, design).building), path, today)


def lay_lists(path: str | os.PathLike[str], design: Design, names: tuple[str, ...] = ()) -> tuple[Path, ...]:
    """Lay tables to edit beside a design file, with what is in force now, parts and ways together at the size of the design.

    Without names all that do not lie there yet.  Nothing is ever overwritten: SheetProblem if a table
    asked for by name lies there already, or if all do.
    Raises InputProblem for a name that is no table.
    """
    strange = [name for name in names if name not in SHEETS]
    if strange:
        raise InputProblem([(name, f"there is no table called {name!r}; choose from {', '.join(SHEETS)}.") for name in strange])
    wanted = names or tuple(name for name in SHEETS if not os.path.lexists(sheet_path(path, name)))
    if not wanted:
        raise SheetProblem(
            Path(path),
            [
                (
                    "tables",
                    f"all of them lie beside {Path(path).name} already, and none is ever overwritten; change "
                    "what is there, or rename a file to begin it anew.",
                )
            ],
            "needs no more tables",
        )
    lists, at = design.building, evaluate(design)
    # one table without the other stays at the sizes of the list: its figures are taken from there to the design as before
    sized = scaled(lists.parts, told_sizes(at), at["powers"]) if {"parts", "ways"} <= set(wanted) else lists.parts
    return lay_tables(path, BuildTables(sized, lists.machines, lists.items, lists.tasks, lists.prices, lists.bars), wanted)
