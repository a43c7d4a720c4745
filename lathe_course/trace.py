"""Which formulas are really called: noted while somebody asks, and free while nobody does.

The interpreter itself is asked (``sys.setprofile``), for this thread and only inside the ``with``.
A wrapper round every body would be paid in every pass of a slider, where nobody asks; debuggers
and coverage listen elsewhere (``sys.settrace``), and a profiler that was on goes on afterwards.
Two threads of a page do not see each other's calls.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from types import FrameType
from typing import Any

from .formula import FORMULAS, Formula


@dataclass(frozen=True)
class Call:
    """One call of one formula: what it was fed by its inputs' names, and what came out; SI, numbers or arrays."""

    formula: Formula
    fed: dict[str, Any]
    result: Any
    within: Formula | None = None  # the formula that called it


@contextmanager
def traced() -> Iterator[list[Call]]:
    """A list that fills with the calls of formulas made in this thread, in the order in which they came to an end.

    So a formula used inside another stands before it.  One that raises is not in it.
    """
    bodies = {one.si.__code__: one for one in FORMULAS.values()}
    calls: list[Call] = []
    open_ones: list[tuple[Formula, dict[str, Any]]] = []

    def note(frame: FrameType, event: str, came: Any) -> None:
        if frame.f_code not in bodies:
            return
        if event == "call":  # noted here, since a body may use the names of its inputs for something else
            open_ones.append((bodies[frame.f_code], dict(frame.f_locals)))
        elif event == "return":
            formula, fed = open_ones.pop()
            if came is not None:  # nothing comes of one that raises
                calls.append(Call(formula, fed, came, open_ones[-1][0] if open_ones else None))

    before = sys.getprofile()
    sys.setprofile(note)
    try:
        yield calls
    finally:
        _put_back(before)


def _put_back(profiler: Any) -> None:
    """Hand the thread back to the profiler that had it; that of the standard library is no function and starts by itself."""
    if profiler is None or callable(profiler):
        sys.setprofile(profiler)
    else:
        sys.setprofile(None)
        profiler.enable()
