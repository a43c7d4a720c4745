"""The build's own tables beside a design file: parts, ways, machines, equipment, tasks, prices.

Beside ``lathe.toml`` lie ``lathe.parts.csv`` and the like.  Each that is there takes the place
of the course's own table; each that is not leaves the course's in force.  Figures in a row
hold for the size the row names, so a list laid for one design can follow it to another.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from ...planning.capabilities import BORROWED, FOR_SALE, OWN, Shop, written
from ...planning.costs import Prices
from ...planning.drivers import written_references
from ...planning.network import order
from ...planning.parts import CHOICES, HOWS, STAGES, Part, PartsList, Way, applies, course_parts, part_of, way_of
from ...planning.shops import SORTS, Item, Machine, course_equipment, demo_machines, item_of, machine_of, shop_of
from ...planning.stock import Bars, bars_of, course_bars
from ...planning.tasks import Task, course_tasks, in_order, parts_of_tasks, task_of
from ...ranges import Range
from ...units import Count, HoursRate, InputProblem, LabourTime, Length, Mass, Money, MoneyRate, Ratio
from .sheets import Column, Row, Rows, Sheet, SheetProblem, lay_sheets, read_sheet

_MONEY, _HOURS, _SHARE, _WEEKS = Money(at_least=0), LabourTime(at_least=0), Ratio(at_least=0, at_most=1), Ratio(at_least=0)
_SOURCE = Column("source", default="your own figure")


def _text(name: str, **more: Any) -> Column:
    return Column(name, **more)


_PARTS = Sheet(
    "parts",
    (
        "The parts of your lathe, one a row. Add, change or take out rows as you like; every part needs a row in the table of ways.",
        "after: parts or groups that must exist first, with + between. first needed: the stage of the lathe that needs it, or nothing.",
        "only if: leave empty, or a choice of the design, such as: bed_form = filled box|closed box.",
        "judged at: the sizes of what drives the part; what is left out does not drive it. Figures hold for these and for the size of the lathe beside it,",
        "and the course takes them to your design from there.",
    ),
    (
        _text("part", needed=True),
        _text("group", needed=True),
        _text("task", needed=True),
        Column("count", Count(at_least=1), default=1.0),
        _text("material"),
        _text("stock"),
        Column("stock_mass", Mass(at_least=0), default=0.0),
        Column("finished_mass", Mass(at_least=0), default=0.0),
        _text("watch"),
        _text("after", kept=True),
        _text("first_needed", kept=True, options=STAGES),
        _text("stand_in"),
        _text("only_if", kept=True),
        Column("length_share", _SHARE, default=0.0),
        Column("centre_height", Length("mm", above=0), needed=True),
        Column("between_centres", Length("mm", above=0), needed=True),
        _SOURCE,
        _text("judged_at", figures_in_text=True),
    ),
    ("part",),
)

_WAYS = Sheet(
    "ways",
    (
        f"The ways to get each part, one a row. The ways are: {'; '.join(HOWS)}.",
        "hours: your own. material, outside (other people's work) and carriage (delivery) together are the money. weeks: from asking to having it.",
        "An empty price is one you do not know, and the way waits until you do; where something costs nothing, write 0.",
        "needs: what must be done here, as in: milling 140 x 120 mm to 0.05 mm + drilling 11 mm. rework: the chance of doing it again, 0 to 1.",
        "Second-hand, weeks are those of an average search, and rework is the chance that the find is of no use.",
        "A figure you know well may stand under likely alone.",
    ),
    (
        _text("part", needed=True),
        _text("way", needed=True, options=HOWS),
        Column("hours", _HOURS, ranged=True, needed=True),
        *(Column(name, _MONEY, ranged=True, default=None) for name in ("material", "outside", "carriage")),
        Column("weeks", _WEEKS, ranged=True, default=Range(1.0, 1.0, 1.0)),
        _text("needs", kept=True, figures_in_text=True),
        Column("rework", _SHARE, default=0.0),
        _text("remark"),
        _SOURCE,
    ),
    ("part", "way"),
)

_MACHINES = Sheet(
    "machines",
    (
        "What can be used: your own machines and tools, and borrowed ones with the hours a month they are to be had and what that costs.",
        "can: operations with size, as in: turning 200 x 400 mm + threading 3 mm + dividing. brings: equipment that need not be bought.",
        "fee: a month; it is paid for the months of use. Empty is not known, and what leans on the machine waits; where it costs nothing, write 0.",
        "A machine for sale may be bought for the build, and sold again or kept: price, hours until it works (order), weeks until one turns up on average,",
        "the chance that it is no good, and the share of its price that other uses may carry. Without a price nobody buys it.",
    ),
    (
        _text("machine", needed=True),
        _text("whose", needed=True, options=(OWN, BORROWED, FOR_SALE)),
        _text("can", needed=True, figures_in_text=True),
        _text("brings"),
        Column("hours", HoursRate(at_least=0), ranged=True, default=None),
        Column("fee", MoneyRate(at_least=0), default=None),
        Column("price", _MONEY, ranged=True, default=None),
        Column("order", _HOURS, default=0.0),
        Column("weeks", _WEEKS, default=0.0),
        Column("no_good", _SHARE, default=0.0),
        Column("other_uses", _SHARE, default=0.0),
        _text("remark"),
        _SOURCE,
    ),
    ("machine",),
)

_EQUIPMENT = Sheet(
    "equipment",
    (
        "What is bought beside the parts. other uses: the share of the money that other work may carry, 0 to 1.",
        "second hand: the sort under which it may be found used, or empty where it should be new.",
        "serves: an operation, or one way of one part, without which nobody buys it; empty if it is needed in any case.",
    ),
    (
        _text("item", needed=True),
        _text("sort", needed=True, options=SORTS),
        Column("money", _MONEY, ranged=True, needed=True),
        Column("other_uses", _SHARE, default=0.0),
        Column("hours", _HOURS, default=0.0),
        _text("second_hand"),
        _text("serves"),
        _text("remark"),
        _SOURCE,
    ),
    ("item",),
)

_TASKS = Sheet(
    "tasks",
    (
        "The work, task by task. after: the tasks that come first, with + between.",
        "hours: empty where the task takes the hours of its parts. opens: the stage of the half-built lathe it leads to.",
        "milestone: what one has in hand when it is done.",
    ),
    (
        _text("task", needed=True),
        _text("after", kept=True),
        Column("hours", _HOURS, ranged=True, default=None),
        _text("opens", kept=True, options=STAGES),
        _text("milestone"),
        _SOURCE,
    ),
    ("task",),
)

_PRICES = Sheet(
    "prices",
    ("Local prices against those of the table of ways: 1.2 is a fifth dearer.",),
    (
        _text("what", needed=True, options=("material", "outside", "carriage")),
        Column("factor", Ratio(above=0, at_most=20), ranged=True, needed=True),
        _text("remark"),
        _SOURCE,
    ),
    ("what",),
)

_BARS = Sheet(
    "bars",
    (
        "Bars you can buy to saw parts from: lengths and, if you like, the diameters, sides or thicknesses that are stocked, with + between; a size between goes up to the next.",
        "kerf: what a cut takes. allowance: what each piece is longer for facing its ends. A form without a row is ordered sawn to size.",
    ),
    (
        _text("stock", needed=True),
        _text("lengths", needed=True, figures_in_text=True),
        _text("sizes", figures_in_text=True),
        Column("kerf", Length("mm", at_least=0), needed=True),
        Column("allowance", Length("mm", at_least=0), needed=True),
        _SOURCE,
    ),
    ("stock",),
)

SHEETS: dict[str, Sheet] = {sheet.name: sheet for sheet in (_PARTS, _WAYS, _MACHINES, _EQUIPMENT, _TASKS, _PRICES, _BARS)}


@dataclass(frozen=True)
class BuildTables:
    """All a build is reckoned from.  ``own`` names the sheets of the learner's that were read."""

    parts: PartsList
    machines: tuple[Machine, ...]
    equipment: tuple[Item, ...]
    tasks: tuple[Task, ...]
    prices: Prices
    bars: tuple[Bars, ...] = field(default_factory=course_bars)
    own: tuple[str, ...] = ()
    remarks: tuple[str, ...] = ()

    @property
    def shop(self) -> Shop:
        return shop_of(self.machines)


def sheet_path(design: str | os.PathLike[str], sheet: str) -> Path:
    """Where a sheet of a design lies: lathe.parts.csv beside lathe.toml."""
    design = Path(design).expanduser()
    return design.with_name(f"{design.stem}.{sheet}.csv")


_HEADING = "The tables of the build cannot be used:"


# --- reading ------------------------------------------------------------------------------------------
def read_tables(
    design: str | os.PathLike[str] | None = None, demo: str = "boat_shed", machines: tuple[Machine, ...] | None = None
) -> BuildTables:
    """The tables of a design: its own sheets where they lie beside it, the course's where they do not.

    ``machines``, or those of the shop of ``demo``, stand in where no sheet of machines lies.  InputProblem tells
    everything that is wrong in all sheets together, with file and line.
    """
    found: dict[str, Rows] = {}
    problems: list[tuple[str, str]] = []
    for name, sheet in SHEETS.items():
        path = sheet_path(design, name) if design is not None else None
        if path is not None and os.path.lexists(path):
            try:
                found[name] = read_sheet(path, sheet)
            except SheetProblem as problem:
                problems += [(key, f"{path.name}, {sentence}") for key, sentence in problem.problems]
    if problems:
        raise InputProblem(problems, heading=_HEADING)

    def rows_of(name: str) -> tuple[Row, ...]:
        return found[name].rows if name in found else ()

    def made(name: str, key: str, make: Callable[[Mapping[str, Any], str], Any]) -> list[Any]:
        results = []
        for row in rows_of(name):
            try:
                results.append(make(row.values, row.values[key]))
            except InputProblem as problem:
                problems.extend((which, f"{found[name].at(row.line)}: {sentence}") for which, sentence in problem.problems)
        return results

    ways = (
        made("ways", "part", lambda values, part: way_of(values, part, values["way"]))
        if "ways" in found
        else list(course_parts().ways)
    )
    drafts = made("parts", "part", lambda values, name: part_of(values, name)) if "parts" in found else list(course_parts())
    if "machines" in found:
        machines = tuple(made("machines", "machine", machine_of))
    elif machines is None:
        machines = demo_machines(demo)
    items = tuple(made("equipment", "item", item_of)) if "equipment" in found else course_equipment()
    tasks = tuple(made("tasks", "task", task_of)) if "tasks" in found else course_tasks()
    bars = tuple(made("bars", "stock", bars_of)) if "bars" in found else course_bars()
    prices = Prices(**{row.values["what"]: row.values["factor"] for row in rows_of("prices")})
    problems += [
        ("rows", f"{found[name].where} holds no row below its headings; fill it, or take the file away to have the course's own.")
        for name in ("parts", "ways", "tasks")
        if name in found and not rows_of(name)
    ]
    problems += _conditions(found)
    parts = None if problems else _joined(drafts, ways, found, problems)
    if parts is not None and not problems:
        for named, fits in (
            ("tasks", lambda: in_order(tasks)),
            ("parts", lambda: order(parts.after)),
            ("parts", lambda: parts_of_tasks(tasks, parts)),
        ):
            try:
                fits()
            except InputProblem as problem:
                where = f"{found[named].where}: " if named in found else ""
                problems += [(name, where + sentence) for name, sentence in problem.problems]
    if parts is None or problems:
        raise InputProblem(problems, heading=_HEADING)
    remarks = tuple(remark for rows in found.values() for remark in rows.remarks)
    return BuildTables(parts, machines, items, in_order(tasks), prices, bars, tuple(found), remarks)


def _conditions(found: Mapping[str, Rows]) -> list[tuple[str, str]]:
    """What is wrong with the choices that rows of parts ask for."""
    problems = []
    for row in found["parts"].rows if "parts" in found else ():
        try:
            applies(row.values["only_if"], dict.fromkeys(CHOICES, ""))
        except InputProblem as problem:
            problems += [(which, f"{found['parts'].at(row.line)}: {sentence}") for which, sentence in problem.problems]
    return problems


def _joined(drafts: list[Any], ways: list[Way], found: dict[str, Rows], problems: list[tuple[str, str]]) -> PartsList | None:
    """Parts with their ways; what does not fit goes to ``problems`` with its line."""
    if not {"parts", "ways"} & found.keys():
        return course_parts()
    names = [draft.name for draft in drafts]
    lines = {row.values["part"]: found["parts"].at(row.line) for row in (found["parts"].rows if "parts" in found else ())}
    if "ways" in found:
        strange = [
            (
                row.values["part"],
                f"{found['ways'].at(row.line)}: there is no part called {row.values['part']!r} in the table of parts.",
            )
            for row in found["ways"].rows
            if row.values["part"] not in names
        ]
        problems += strange
    by_part: dict[str, list[Way]] = {}
    for way in ways:
        by_part.setdefault(way.part, []).append(way)
    try:
        return PartsList(replace(draft, ways=tuple(by_part.get(draft.name, ()))) for draft in drafts)
    except InputProblem as problem:
        problems += [(name, f"{lines[name]}: {sentence}" if name in lines else sentence) for name, sentence in problem.problems]
        return None


# --- laying -------------------------------------------------------------------------------------------
def lay_tables(design: str | os.PathLike[str], tables: BuildTables, names: Iterable[str] = tuple(SHEETS)) -> tuple[Path, ...]:
    """Lay sheets beside a design file, with what ``tables`` hold; SheetProblem where one lies there already.

    Nothing is laid if any of them would overwrite, or the disk refuses one.  The parts may be those of one design at
    its own size (``scaled(parts.for_design(...), ...)``): the rows then say that size.
    """
    rows = {
        "parts": [_part_row(part, tables.parts) for part in tables.parts],
        "ways": [_way_row(way) for way in tables.parts.ways],
        "machines": [_machine_row(machine) for machine in tables.machines],
        "equipment": [vars(item) | {"item": item.name, "serves": " + ".join(item.serves)} for item in tables.equipment],
        "tasks": [vars(task) | {"task": task.name, "after": " + ".join(task.after)} for task in tables.tasks],
        "bars": [_bars_row(one) for one in tables.bars],
        "prices": [{"what": what, "factor": factor} for what, factor in vars(tables.prices).items()],
    }
    return lay_sheets({sheet_path(design, name): (SHEETS[name], rows[name]) for name in names})


def _part_row(part: Part, parts: PartsList) -> dict[str, Any]:
    known = [name for name in part.after if name not in parts.left_out]  # a list cut down to one design leaves nothing hanging
    return vars(part) | {
        "part": part.name,
        "after": " + ".join(known),
        "judged_at": written_references(part.name, part.references),
    }


def _way_row(way: Way) -> dict[str, Any]:
    return (
        {name: getattr(way, name) for name in ("part", "hours", "weeks", "rework", "remark", "source")}
        | {name: None if name in way.unpriced else getattr(way, name) for name in ("material", "outside", "carriage")}
        | {"way": way.how, "needs": written(way.needs)}
    )


def _bars_row(bars: Bars) -> dict[str, Any]:
    return (
        vars(bars)
        | {"stock": bars.form}
        | {name: " + ".join(f"{one * 1e3:g} mm" for one in getattr(bars, name)) for name in ("lengths", "sizes")}
    )


def _machine_row(machine: Machine) -> dict[str, Any]:
    return vars(machine) | {"machine": machine.name, "brings": " + ".join(machine.brings)}
