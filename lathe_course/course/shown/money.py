"""Sums of money on pages: in the learner's own money, at one place."""

from __future__ import annotations

import math

import numpy as np

from ... import units
from ...design.evaluation import Evaluation
from ...planning.shops import Item
from ...units import Money

_MONEY = Money()
#: sorts of things to buy, as they are told
_SORTS = {
    "tool": "tools",
    "used up": "what is used up",
    "spoiled": "spoiled stock",
    "accessory": "accessories for first use",
    "later accessory": "later accessories",
    "stand": "stand",
    "machine": "machines bought for the build",
}


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


def split_of(e: Evaluation) -> dict[str, np.ndarray | float]:
    """What the money goes to, in the order in which it is told; the sum is the money to be paid."""
    found = {
        "material and bought parts": e["material_money"],
        "other people's work": e["outside_money"],
        "delivery": e["carriage_money"],
    }
    if np.any(np.asarray(e["fees_money"]) > 0):
        found["fees of borrowed machines"] = e["fees_money"]
    money, things = np.asarray(e["item_money"]["money"]), e["item_money"]["things"]
    for sort, words in _SORTS.items():
        places = [place for place, item in enumerate(things) if _sort(item) == sort]
        if places:
            found[words] = money[..., places].sum(axis=-1)
    return found


def _sort(item: Item) -> str:
    """The sort under which a thing is told; spoiled stock stands by itself, for a first build has most of it."""
    return "spoiled" if item.sort == "used up" and item.name.startswith("spoiled") else item.sort
