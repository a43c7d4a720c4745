"""What a figure may be: the physical limits of its kind, and the rest of a sentence for one beyond them."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

#: a limit written in one unit and met in another may be missed by rounding
SLACK = 1e-9


def out_of_range(si: Any, kind: Any) -> str:
    """'' if ``si`` is inside the physical range of ``kind``; else the rest of a sentence."""
    lowest, highest = (si, si) if isinstance(si, float) else (np.min(si, initial=np.inf), np.max(si, initial=-np.inf))
    if not (math.isfinite(lowest) and math.isfinite(highest)):
        return "" if np.size(si) == 0 else "is not a finite number"
    if kind.whole and np.any(np.asarray(si) % 1):
        return "must be a whole number"
    above, at_least, below, at_most = kind.limits_si
    if above is not None and lowest <= above:
        return f"must be more than {bound(kind.above, kind)}"
    if at_least is not None and lowest < at_least - SLACK * abs(at_least):
        return f"must be at least {bound(kind.at_least, kind)}"
    if below is not None and highest >= below:
        return f"must be less than {bound(kind.below, kind)}"
    if at_most is not None and highest > at_most + SLACK * abs(at_most):
        return f"must be at most {bound(kind.at_most, kind)}"
    return ""


def bound(value: float | None, kind: Any) -> str:
    """A limit of a kind as it is told, in its unit."""
    return f"{value:g} {kind.unit}".rstrip() if value else "zero"
