"""The first answer and its spread: what a design comes to in money, hours, months and mass while much of it is only drafted.

What is only drafted, or still a demo's, counts as unsettled: beside the spread of the draws stands what its alternatives
would make of each figure.  Sizes go up and down together, since who builds larger builds all of it larger; other
decisions are taken to err independently, so their shares add as squares.  Each decision of one's own takes its share away.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from ...units import InputProblem
from ..asked.mixes import BY_SUMS, PROVEN, mixes_here
from ..chain.luck import DRAWS
from ..evaluation import Evaluation, evaluate
from ..lathe import LATHE
from ..origins import YOURS
from .settling import NAMED_SIZES
from .sizing import rounded

#: what the first answer tells: money to be paid, own hours, months until it is done, mass
FIGURES = ("cash_total", "own_hours", "months_forecast", "parts_mass")
#: what moves the whole machine, and grows together
_SIZES = ("centre_height", "between_centres", *NAMED_SIZES)
#: what is as likely to come out otherwise, each by itself
_EACH = (
    "bed_form",
    "bearing_kind",
    "drive_kind",
    "top_of_slide",
    "threading",
    "accessories",
    "hours_can",
    "money_can",
    "savings",
    "builders",
    "skill",
    "material_prices",
    "labour_prices",
)
#: how far a size that nobody has settled lies from where it ends: the shares of the table of sizing are told within a fifth
_LESS, _MORE = 0.8, 1.25


def unsettled(evaluation: Evaluation) -> tuple[str, ...]:
    """Decisions that the first answer hangs on and that are not the learner's yet."""
    return tuple(name for name in (*_SIZES, *_EACH) if evaluation.design.origin(name) != YOURS)


def first_answer(evaluation: Evaluation) -> dict[str, tuple[float, float, float]]:
    """Low, middle and high of each of ``FIGURES`` in SI: the middle four fifths of the draws, widened by what is not settled."""
    e = evaluation.central
    drawn = evaluation if evaluation.draws else evaluate(e.design, DRAWS)
    together, single = np.zeros((2, len(FIGURES))), np.zeros((2, len(FIGURES)))
    for name in unsettled(e):
        shifts = _shifts(e, (evaluate(e.design.trying(**{name: other}), earlier=e) for other in _others(e, name)))
        if name in _SIZES:
            together += shifts
        else:
            single += shifts**2
    single += _by_ways(e) ** 2
    wide = np.sqrt(together**2 + single)
    found = {}
    for at, name in enumerate(FIGURES):
        low, middle, high = drawn.spread(name, (0.1, 0.5, 0.9))
        found[name] = (low * float(np.exp(-wide[0, at])), middle, high * float(np.exp(wide[1, at])))
    return found


def _others(e: Evaluation, name: str) -> Iterator[float | str]:
    """The alternatives of one decision: a fifth less and more, or every other option."""
    part, here = LATHE.decisions[name], e.design[name]
    if not part.numeric:
        yield from (option for option in part.options if option != here)
        return
    middle = float(getattr(here, "likely", here))
    yield from {value for share in (_LESS, _MORE) if not np.isclose(value := rounded(part, share * middle), middle)}


def _shifts(e: Evaluation, others: Iterator[Evaluation]) -> np.ndarray:
    """How far each figure falls and rises at most, as logarithms; shape (2, figures).  What cannot be told moves nothing."""
    found = np.zeros((2, len(FIGURES)))
    for other in others:
        with np.errstate(all="ignore"):
            ratio = np.log([float(np.squeeze(other[name])) / float(np.squeeze(e[name])) for name in FIGURES])
        ratio = np.where(np.isfinite(ratio), ratio, 0.0)
        found = np.maximum(found, [-ratio, ratio])
    return found


def _by_ways(e: Evaluation) -> np.ndarray:
    """What other ways would make of the figures, from the cheapest to the soonest, by the share of the parts whose way nobody has chosen yet."""
    parts = [one.way.part for one in e["ways_chosen"]]
    share = sum(e.design.origin_of_way(part) != YOURS for part in parts) / len(parts)
    if not share:
        return np.zeros((2, len(FIGURES)))
    try:
        mixes = mixes_here(e)
    except InputProblem:  # a part that cannot be had leaves nothing to compare
        return np.zeros((2, len(FIGURES)))
    return share * _shifts(e, (evaluate(e.design.with_ways(**mixes[name].hows), earlier=e) for name in (PROVEN[0], BY_SUMS)))
