"""The plate on the headstock: the speeds there are, and where each job of the list would run; and the table of cutting speeds."""

from __future__ import annotations

import numpy as np

from ... import units
from ...design.asked.first_cuts import on_the_plate
from ...design.evaluation import Evaluation
from ...machine.cutting_speeds import preferred, speed_series
from ...ranges import Range
from ...sources import cite
from ...tables import table
from ...units import Duration, Length, RotationalSpeed, Speed
from ..pictures.axes import shown as _shown
from ..text.values import Paragraph
from .few import with_rest
from .panels import Page, paragraphs, tabled

_RPM, _MM, _MIN, _SPEED = RotationalSpeed(), Length("mm"), Duration("min"), Speed()
#: of the columns of cutting speeds; the table of materials has them row by row
_SPEED_SOURCES = (
    "machinerys_handbook, cutting speed tables",
    "kalpakjian, turning recommendations",
    "tm_43_0106",
    "common_practice, where books say nothing",
)
_SPEEDS_HEAD = ("", "speed", "nearest preferred number")
_JOBS_SAID = "Your jobs, each on the nearest speed below its wish, at the feed of the roughing cut:"
_JOBS_HEAD = ("job", "at", "would like", "runs at", "of its wish", "one pass takes")


def speed_plate(evaluation: Evaluation) -> Page:
    """Two tables: the series with the preferred numbers (ISO 3, R20) beside it, and a line for each job; and what the drive gives.

    A job runs at the fastest speed that is not above what it would like at its full
    diameter; below the slowest speed it has to take that.  Its pass goes along its whole
    length at the feed of the roughing cut.
    """
    slowest, fastest = evaluation.middle("slowest_speed"), evaluation.middle("fastest_speed")
    if not slowest < fastest:
        said = f"The slowest speed, {evaluation.shown('slowest_speed')}, must be less than the fastest, {evaluation.shown('fastest_speed')}."
        return paragraphs(said)
    steps = speed_series(slowest, fastest, round(evaluation.middle("speed_steps")))
    rpm = steps / _RPM.factor
    speeds = [
        (str(number), _shown(evaluation, step, _RPM), f"{units.number(preferred(plain, 'R20'), 4)} rpm")
        for number, (step, plain) in enumerate(zip(steps, rpm), 1)
    ]
    jobs, drive = _jobs(evaluation, steps), _drive_said(evaluation.central)
    return tabled(speeds, _SPEEDS_HEAD, (0, 1, 2), after=[_JOBS_SAID]) + tabled(jobs, _JOBS_HEAD, (1, 2, 3, 4, 5), after=[drive])


def _drive_said(e: Evaluation) -> str:
    """What the drive as decided gives in place of the even series."""
    settings = e["drive_settings"]
    pairs = sorted((float(slow), float(fast)) for slow, fast in zip(settings["slow"], settings["fast"]) if np.isfinite(slow))
    ranges: list[list[float]] = []
    for slow, fast in pairs:
        if ranges and slow <= ranges[-1][1] * (1 + 1e-9):
            ranges[-1][1] = max(ranges[-1][1], fast)
        else:
            ranges.append([slow, fast])
    told = [
        units.shown(slow, _RPM, e.design.system)
        if fast <= slow * (1 + 1e-9)
        else f"any speed from {units.shown(slow, _RPM, e.design.system)} to {units.shown(fast, _RPM, e.design.system)}"
        for slow, fast in ranges
    ]
    given = (
        f"{', '.join(told[:-1])} and {told[-1]}" if len(told) > 1 else "".join(told) or "no speed, for no pulleys share the belt"
    )
    return f"This is the even series that is wished for. The drive, as chapter 05 has it, gives {given}; later chapters and the charts for the wall go by the drive."


def _jobs(evaluation: Evaluation, steps: np.ndarray) -> list[tuple[str, ...]]:
    jobs = evaluation["jobs"]
    wished, taken, times = on_the_plate(evaluation, steps)
    return [
        (
            job.name,
            _shown(evaluation, job.diameter, _MM),
            _shown(evaluation, wish, _RPM),
            _shown(evaluation, speed, _RPM),
            f"{speed / wish:.0%}",
            units.shown(time, _MIN, evaluation.design.system, 2),
        )
        for job, wish, speed, time in zip(jobs, wished, taken, times)
    ]


def cutting_speeds_page(evaluation: Evaluation) -> Page:
    """The table of cutting speeds, from low to high, the likely one in brackets; open for the materials of the jobs, the others folded."""
    unit = units.unit_text(_SPEED, evaluation.design.system)
    head = ("material", f"high-speed steel, {unit}", f"carbide, {unit}")

    def said(speeds: Range | None) -> str:
        if speeds is None:
            return "-"
        low, likely, high = (units.number(units.in_unit(end, _SPEED, evaluation.design.system)) for end in speeds)
        return f"{low} to {high} ({likely})"

    rows = {name: (name, said(row["speed_hss"]), said(row["speed_carbide"])) for name, row in table("materials").items()}
    mine = [row for name, row in rows.items() if name in {job.material for job in evaluation.design.jobs}]
    others = [row for row in rows.values() if row not in mine]
    about = f"Rough to fine turning, edges that last an hour or so, uncoated carbide. Source: {cite(_SPEED_SOURCES)}."
    rest = tabled(others, head, (1, 2)) if others else Page()
    told = with_rest(
        tabled(mine, head, (1, 2)), f"and {len(others)} more materials, of which your list has no job", rest, told=True
    )
    return told + Page(Paragraph(about, "dim"))
