"""The purse beside the bills: when it is empty, and what would keep it from being so.

Arrays have shape (builds, bills) or (builds,); money in EUR, times in months from the start.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .schedule import Schedule


def as_wanted(hands: Schedule, lead: np.ndarray) -> np.ndarray:
    """When each thing must be ordered to be there the moment the hands want it.

    ``hands`` is a schedule in which money keeps nobody waiting.  What can never be had is never ordered.
    """
    had = np.isfinite(lead)
    return np.where(had, np.maximum(hands.begun - np.where(had, lead, 0.0), 0.0), np.inf)


@dataclass(frozen=True)
class Purse:
    """How the purse fares; infinite where it never comes to that, place -1 where there is none."""

    empty: np.ndarray  # month of the first bill that cannot be paid
    bill: np.ndarray  # place of that bill
    lacking: np.ndarray  # money that is missing for it then
    deepest: np.ndarray  # the most that is ever missing
    a_month: np.ndarray  # money a month that would pay every bill; infinite if only savings would


def purse(when: np.ndarray, money: np.ndarray, saved: np.ndarray | float, income: np.ndarray | float) -> Purse:
    """Pay bills in the order in which they come, out of what was saved and what a month brings."""
    when, money = np.broadcast_arrays(np.asarray(when, float), np.asarray(money, float))
    saved, income = (np.broadcast_to(np.asarray(one, float), when.shape[:-1])[..., None] for one in (saved, income))
    order = np.argsort(np.where(money > 0, when, np.inf), axis=-1, kind="stable")
    month, bill = np.take_along_axis(when, order, -1), np.take_along_axis(money, order, -1)
    paid = np.cumsum(bill, axis=-1)
    missing = np.where(bill > 0, paid - saved - income * month, -np.inf)
    first = (missing > 1e-9).argmax(axis=-1)[..., None]
    fails = np.take_along_axis(missing, first, -1)[..., 0] > 1e-9
    worst = missing.argmax(axis=-1)[..., None]
    short = paid - saved
    with np.errstate(divide="ignore", invalid="ignore"):
        rate = np.where((bill > 0) & (short > 1e-9), short / month, 0.0).max(axis=-1)

    def there(values: np.ndarray, place: np.ndarray, otherwise: float) -> np.ndarray:
        return np.where(fails, np.take_along_axis(values, place, -1)[..., 0], otherwise)

    return Purse(
        there(month, first, np.inf),
        there(order, first, -1).astype(int),
        there(missing, first, 0.0),
        there(missing, worst, 0.0),
        rate,
    )
