"""Figures that somebody wrote into a file or a form: read as all are, and not taken if they cannot be meant."""

from __future__ import annotations

from typing import Any

import numpy as np

from .problems import InputProblem
from .units import Kind, read

#: SI figures beyond these are slips of the pen, and their powers would leave the range of a float
_LARGEST, _SMALLEST = 1e15, 1e-25


def read_written(value: Any, kind: Kind, name: str = "value") -> Any:
    """As ``units.read``; InputProblem also for a figure that is beyond reason."""
    found = read(value, kind, name)
    if slip := beyond_reason(found):
        raise InputProblem.about(name, f"{name.replace('_', ' ')} {value!r} {slip}")
    return found


def beyond_reason(si: Any) -> str:
    """'' for figures that can be meant, in SI; else the rest of a sentence, with its end."""
    for beyond, what in ((np.abs(si) > _LARGEST, "larger"), ((np.abs(si) < _SMALLEST) & (np.asarray(si) != 0), "smaller")):
        if np.any(beyond):
            return f"is {what} than anything a lathe is reckoned with; is a power of ten or the unit wrong?"
    return ""
