"""Chapter 14: builds of others by size, and what they planned against what came of it."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from matplotlib.axes import Axes

from ... import units
from ...design.evaluation import Evaluation
from ...design.files.survey import ENDS, FIGURES, FINISHED, Build, demo_builds, summary
from ...nearest import nearest_or_all
from ...units import InputProblem, Kind, Length
from .axes import inside, label, log_axis, middle, shown
from .register import picture
from .style import FONT_SIZE, INK, MUTED, PALETTE

_HEIGHT = Length("mm")
#: what the design itself says to each figure of the survey
OWN_PLAN = {"months": "months_to_finish", "hours": "own_hours", "money": "cash_total"}
_SAID = {"months": "it took", "hours": "own work it took", "money": "it cost"}
_SHAPES = dict(zip(ENDS, ("o", "X", "^")))
_YOURS = "*"


def _kind(of: str) -> Kind:
    if of not in FIGURES:
        raise InputProblem.about("of", f"the picture shows no {of!r}; {nearest_or_all(of, FIGURES)}")
    return FIGURES[of]


def _plan(e: Evaluation, of: str) -> float:
    return middle(e, OWN_PLAN[of])


def _builds_words(e: Evaluation, of: str = "months", builds: Sequence[Build] = ()) -> str:
    kind, e = _kind(of), e.central
    said = []
    for who, some in (("invented for this course", demo_builds()), ("of your own survey", builds)):
        found = summary((one for one in some if one.ended == FINISHED), lambda one: one.came_to(of))
        if found:
            low, mid, high = (shown(e, value, kind, 2) for value in (found.low, found.middle, found.high))
            said.append(f"{found.count} finished builds {who} took {low} to {high}, the middle one {mid}")
    plan = _plan(e, of)
    yours = "your plan never ends" if np.isinf(plan) else f"your plan says {shown(e, plan, kind)}"
    return f"Builds of others by centre height, and planned against what came of it. {'; '.join(said)}; {yours} at {e.shown('centre_height')}."


@picture(
    "Builds of others (the open marks are invented), and yours",
    _builds_words,
    height=5.2,
    panels=((0.095, 0.26, 0.39, 0.70), (0.60, 0.26, 0.37, 0.70), (0.03, 0.0, 0.95, 0.13)),
)
def builds_of_others(e: Evaluation, axes: tuple[Axes, Axes, Axes], of: str = "months", builds: Sequence[Build] = ()) -> None:
    """Each build as a point: how it ended by the shape, invented ones open, those of your survey filled; your plan as a star."""
    kind, e = _kind(of), e.central
    by_size, by_plan, key = axes
    every = [(one, False) for one in demo_builds()] + [(one, True) for one in builds]
    plan = _plan(e, of)
    known = [value for one, _ in every for value in (one.came_to(of), one.planned(of)) if value] + (
        [plan] if np.isfinite(plan) and plan > 0 else []
    )
    low, high = (units.in_unit(end, kind, e.design.system) for end in (min(known) / 1.3, max(known) * 1.3))
    for one, own in every:
        if one.came_to(of):
            came = inside(e, one.came_to(of), kind)
            _mark(by_size, inside(e, one.centre_height, _HEIGHT), came, one.ended, own)
            if one.planned(of):
                _mark(by_plan, inside(e, one.planned(of), kind), came, one.ended, own)
    by_plan.plot([low, high], [low, high], color=MUTED, lw=1.2, ls="--", zorder=1)
    if np.isfinite(plan) and plan > 0:
        yours = inside(e, plan, kind)
        for axis, across in ((by_size, inside(e, middle(e, "centre_height"), _HEIGHT)), (by_plan, yours)):
            axis.plot(across, yours, _YOURS, ms=17, mfc=PALETTE["orange"], mec=INK, mew=1.2, zorder=4)
    for axis in (by_size, by_plan):
        log_axis(axis, "y", low, high, most=8)
        axis.set_ylabel(label(_SAID[of], kind, e))
    log_axis(by_plan, "x", low, high, most=5)
    by_plan.set_xlabel(label("planned", kind, e))
    heights = [inside(e, one.centre_height, _HEIGHT) for one, _ in every] + [inside(e, middle(e, "centre_height"), _HEIGHT)]
    room = (max(heights) - min(heights)) * 0.06
    by_size.set_xlim(min(heights) - room, max(heights) + room)
    by_size.set_xlabel(label("centre height", _HEIGHT, e))
    _key(key, bool(builds), np.isfinite(plan))


def _mark(axes: Axes, x: float, y: float, ended: str, own: bool) -> None:
    axes.plot(
        x,
        y,
        _SHAPES[ended],
        ms=9,
        mfc=PALETTE["blue"] if own else "none",
        mec=PALETTE["blue"] if own else INK,
        mew=1.4,
        zorder=3 if own else 2,
    )


def _key(axes: Axes, own: bool, ends: bool) -> None:
    """What the marks mean, in two lines."""
    axes.set_axis_off()
    axes.set_xlim(0, 100)
    axes.set_ylim(0, 2)
    for place, (ended, shape) in zip((1, 17, 33), _SHAPES.items()):
        axes.plot(place, 1.5, shape, ms=9, mfc="none", mec=INK, mew=1.4)
        axes.text(place + 2, 1.5, ended, va="center", size=FONT_SIZE)
    axes.plot([52, 57], [1.5, 1.5], color=MUTED, lw=1.2, ls="--")
    axes.text(58.5, 1.5, "as planned", va="center", size=FONT_SIZE)
    axes.plot(78, 1.5, _YOURS, ms=15, mfc=PALETTE["orange"], mec=INK)
    axes.text(80.5, 1.5, "your plan" if ends else "yours: never", va="center", size=FONT_SIZE)
    told = "Open marks: invented for this course." + (
        " Filled marks: your own survey." if own else " Your own survey would stand there as filled marks."
    )
    axes.text(1, 0.4, told, va="center", size=FONT_SIZE, color=MUTED)
