"""The three demo designs, invented for the course: design files like a learner's own."""

from __future__ import annotations

import functools
import tomllib
from importlib.resources import files

from ...nearest import nearest_or_all
from ...units import InputProblem
from ..design import Design
from ..lathe import LATHE

#: name -> one line on it
DEMOS = {
    "boat_shed": "75 mm centre height, 300 mm between centres, filled box bed, for a shed that restores launches",
    "cabin": "50 mm centre height, 150 mm between centres, two round bars, aboard a canal boat",
    "shared_barn": "110 mm centre height, 500 mm between centres, three partners with a full machine shop",
}


def demo_text(name: str) -> str:
    """The design file of a demo as text; InputProblem for an unknown name."""
    if name not in DEMOS:
        raise InputProblem.about("demo", f"There is no demo called {name!r}; {nearest_or_all(name, DEMOS, cutoff=0.5)}")
    return files(__name__).joinpath(f"{name}.toml").read_text("utf-8")


@functools.cache
def demo(name: str = "boat_shed") -> Design:
    """A demo design: one value, read once."""
    return Design.from_written(LATHE, tomllib.loads(demo_text(name)))
