"""Figures of the machine as the parts behind them are made: ranges for the chapters, of the table of making."""

from __future__ import annotations

import functools
from collections.abc import Iterable

from ...planning.making import LEFT, Making, error, factor, factors, practice, spread
from ...ranges import Range
from .luck import Fitted, made_by

#: what a bolted joint gives more once it was taken apart and put together with clean faces; common practice
REFITTED = Range(1.0, 1.05, 1.25)


def by_way(
    figure: str,
    base: Range,
    making: Making,
    moves: str,
    skill: str,
    more: Iterable[Range] = (),
    spread_stays: bool = False,
    most: float = float("inf"),
    turned: bool = False,
    **choices: str,
) -> Range:
    """A figure of a table as the parts behind it are made, within ``FURTHEST`` of its likely value and never above ``most``.

    Of its own spread, which was meant for any fitting, only ``LEFT`` stays once a way is told, unless it means something else.  ``more``
    are factors that no way tells; ``turned``, the figure falls where what is moved rises.  Where no way tells anything the
    table's range stays, times ``more``.
    """
    return _by_way(figure, base, making, moves, skill, tuple(more), spread_stays, most, turned, tuple(choices.items()))


@functools.lru_cache(maxsize=4096)
def _by_way(
    figure: str,
    base: Range,
    making: Making,
    moves: str,
    skill: str,
    more: tuple[Range, ...],
    spread_stays: bool,
    most: float,
    turned: bool,
    choices: tuple[tuple[str, str], ...],
) -> Range:
    causes, behind = factors(making, moves, skill, dict(choices))
    if not causes and not more:
        return base
    narrow = causes and not spread_stays
    own = Range(*(base.likely * end for end in LEFT)) if narrow else base
    times = factor((*causes, *more))
    low, likely, high = (min(end, most) for end in spread(own, Range(*(1 / end for end in reversed(times))) if turned else times))
    return Fitted(low, likely, high, made_by(figure, behind)) if causes else Range(low, likely, high)


def error_by_way(
    figure: str,
    usual: Range | float,
    making: Making,
    moves: str,
    skill: str,
    acts: tuple[str, ...] = ("instead", "adds"),
    **choices: str,
) -> Range | float:
    """An error by the ways of the parts that cause it, SI; ``usual`` where no row tells of them."""
    ends, behind = _error(making, moves, skill, acts, tuple(choices.items()))
    return usual if ends is None else Fitted(ends.low, ends.likely, ends.high, made_by(figure, behind))


@functools.lru_cache(maxsize=1024)
def _error(making: Making, moves: str, skill: str, acts: tuple[str, ...], choices: tuple[tuple[str, str], ...]):
    return error(making, moves, skill, dict(choices), acts)


def set_by_hand(ends: Range, skill: str) -> Range:
    """An error that setting and fitting leaves, in these hands."""
    return spread(ends, practice("fitting", skill))
