"""The lists of pages and panels that chapters show by name.

A *page* is a function ``(evaluation, **asked) -> Page``: written anew whenever the design
changes.  A *panel* is a function ``(session, **asked) -> Panel``: it has controls, and may keep
what the learner enters.  Both are called by their own names.
"""

from __future__ import annotations

import functools
import inspect
from collections.abc import Callable
from typing import Any

from ...nearest import nearest_or_stop
from ...units import InputProblem
from ..session import Session
from ..shown.panels import Live, Page, Panel

#: every page by name
PAGES: dict[str, Callable[..., Page]] = {}
#: names of the pages that show workings
WORKED: set[str] = set()
#: every panel by name
PANELS: dict[str, Callable[..., Panel]] = {}


def page(write: Callable[..., Page] | None = None, *, worked: bool = False) -> Callable[..., Any]:
    """Put a function into the list of pages, under its own name; what it shows as ``worked`` has formulas to typeset."""
    if write is None:
        return functools.partial(page, worked=worked)
    if worked:
        WORKED.add(write.__name__)
    return _added(PAGES, write)


def panel(make: Callable[..., Panel]) -> Callable[..., Panel]:
    """Put a function into the list of panels, under its own name."""
    return _added(PANELS, make)


def _added(known: dict[str, Callable], function: Callable) -> Callable:
    name = function.__name__
    if name in PAGES or name in PANELS:
        raise ValueError(f"there are two pages or panels called {name}")
    known[name] = function
    return function


def show(session: Session, name: str, asked: dict[str, Any]) -> Live | Panel:
    """The page or panel ``name`` for the design of a session.

    Raises InputProblem for an unknown name or an unknown thing asked for.
    """
    function = PAGES.get(name) or PANELS.get(name)
    if function is None:
        raise InputProblem.about(
            name, f"there is nothing called {name!r} to show{nearest_or_stop(name, [*PAGES, *PANELS], most=3)}"
        )
    takes = list(inspect.signature(function).parameters)[1:]
    strange = [key for key in asked if key not in takes]
    if strange:
        raise InputProblem([(key, f"{name!r} knows no {key!r}{nearest_or_stop(key, takes, most=3)}") for key in strange])
    if name in PANELS:
        return function(session, **asked)
    return Live(lambda: function(session.evaluation, **asked), session.when_changed, typeset=name in WORKED)
