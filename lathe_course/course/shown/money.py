"""Sums of money on pages: in the learner's own money, at one place."""
from __future__ import annotations

import math

from ... import units
from ...design.evaluation import Evaluation
from ...units import Money

__all__ = ["amount", "euros", "money_name", "whole"]

_MONEY = Money()


def money_name(e: Evaluation) -> str:
    """What the learner's money is called."""
    return units.unit_text(_MONEY, e.design.system)


def amount(e: Evaluation, si: float) -> float:
    """A sum of the lists as a bare figure in the learner's money; arrays as well."""
    return units.in_unit(si, _MONEY, e.design.system)


def whole(e: Evaluation, si: float, digits: int = 3) -> str:
    """A sum to a whole unit at the finest: cents say nothing about a plan."""
    value = amount(e, si)
    return units.number(round(value) if math.isfinite(value) else value, digits).replace("-", "−")


def euros(e: Evaluation, si: float, digits: int = 3) -> str:
    """A sum with the name of the money."""
    told = whole(e, si, digits)
    return told if told == units.NO_FIGURE else f"{told} {money_name(e)}"
