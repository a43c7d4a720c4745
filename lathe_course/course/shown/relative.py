"""Changes told from where the reader's own design stands: "10 mm less", "1 more", "1.5 times"."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from typing import Any

import numpy as np

from ... import units
from ...design.chain.entries import Decision
from ...design.design import Design
from ...ranges import likely
from ...units import InputProblem

_BY = re.compile(r"(.+) (more|less)")
_TIMES = re.compile(r"([\d.]+) times")


def from_here(design: Design, changes: Mapping[str, Any]) -> dict[str, Any]:
    """Changes of a design with each that is told from where it stands put as a figure, on a value that can be had.

    The next value in that direction is the least; what is no such text stays as it is.
    Raises InputProblem for a figure that cannot be read, or is of another kind.
    """
    return {
        name: _figure(design, design.chain.decisions[name], given) if name in design.chain.decisions else given
        for name, given in changes.items()
    }


def _figure(design: Design, decision: Decision, given: Any) -> Any:
    if not decision.numeric or not isinstance(given, str):
        return given
    here = float(likely(design[decision.name]))
    if by := _BY.fullmatch(given):
        change = units.read(by[1], decision.kind, decision.name)
        wanted = here + (change if by[2] == "more" else -change)
    elif times := _TIMES.fullmatch(given):
        wanted = here * float(times[1])
    else:
        return given
    if wanted == here:
        raise InputProblem.about(decision.name, f"{decision.label}: {given!r} changes nothing.")
    if wanted <= 0 < here and decision.low > 0:  # less than all there is: half of it, so that a task suits the smallest lathe too
        wanted = here / 2
    above, least, below, most = decision.kind.limits_si
    si = _had(decision, here, wanted)
    si = si if most is None else min(si, most)
    si = si if least is None else max(si, least)
    si = si if below is None or si < below else (here + below) / 2  # half of the way that is left
    si = si if above is None or si > above else (here + above) / 2
    return f"{units.number(units.in_unit(si, decision.kind), 6)} {decision.kind.unit}".strip()


def _had(decision: Decision, here: float, wanted: float) -> float:
    """The value nearest to the one wanted that can be had, and at least the next one from here; beyond the sensible range as it is wanted."""
    if decision.preferred:
        values = np.asarray(decision.preferred, float) * decision.kind.factor
    else:
        low, step = decision.low * decision.kind.factor, decision.step * decision.kind.factor
        values = low + step * np.arange(
            math.floor((min(here, wanted) - low) / step) - 1, math.ceil((max(here, wanted) - low) / step) + 2
        )
    if decision.low > 0:
        values = values[values > 0]
    slack = 1e-9 * max(abs(here), abs(wanted))
    beyond = values[values > here + slack] if wanted > here else values[values < here - slack]
    if not len(beyond) or (decision.preferred and not values.min() <= wanted <= values.max()):
        return wanted
    return float(beyond[np.argmin(abs(beyond - wanted))])
