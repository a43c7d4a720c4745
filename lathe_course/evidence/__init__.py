"""Published cases that hold the formulas: what a book prints beside what we work out.

One TOML file for each module of formulas; ``second_programs.toml`` lists the tests that reach
the same figures by another program, and what the two stay within.  Each piece carries the
kind of evidence it is, so that nobody takes a recalled figure for one that was read.  The tests
hold every piece, and the course shows them to whoever asks what vouches for a figure.
"""

from __future__ import annotations

import dataclasses
import functools
import tomllib
from importlib.resources import files
from typing import Any

import numpy as np

from .. import units
from ..formula import FORMULAS

_PROGRAMS = "second_programs.toml"
#: from the strongest to the weakest
EVIDENCE = ("published and seen", "second program", "recalled from memory", "common practice")


@dataclasses.dataclass(frozen=True)
class Check:
    """One published case: inputs and expected figure as printed, tolerance with its reason."""

    file: str
    id: str
    formula: str
    inputs: dict[str, Any]
    expected: Any
    because: str
    evidence: str
    source: str
    tolerance: float | None = None
    tolerance_absolute: str | None = None

    def __str__(self) -> str:
        return f"{self.file}: {self.id}"

    def compare(self) -> tuple[Any, Any, Any]:
        """Expected figure, found figure and allowed difference, in SI."""
        made = FORMULAS[self.formula]
        bound = made.bind(**{name: _given(value, made.inputs[name], name) for name, value in self.inputs.items()})
        anything = dataclasses.replace(made.output, above=None, at_least=None, below=None, at_most=None, whole=False)
        expected = units.read(self.expected, anything, "expected")
        if self.tolerance_absolute is not None:
            allowed = units.read(self.tolerance_absolute, anything, "tolerance")
        else:
            allowed = self.tolerance * np.abs(expected)
        return expected, made.si(**bound), allowed


@dataclasses.dataclass(frozen=True)
class SecondProgram:
    """A test that reaches the figures of some formulas by an independent route.

    ``within`` is a round ceiling of what it found, on any machine, ``allowed`` the largest it lets
    pass, both as shares of the other program's figure and 0 where the test compares in another way.
    """

    test: str
    says: str
    formulas: tuple[str, ...]
    evidence: str
    source: str
    because: str = ""
    within: float = 0.0
    allowed: float = 0.0

    def __str__(self) -> str:
        return f"{self.test} for {', '.join(self.formulas)}"


def _given(value: Any, kind: units.Kind, name: str) -> Any:
    """TOML figures go through the formula's own door; a plain number is only right for a plain figure."""
    return [units.quantity(units.read(one, kind, name), kind) for one in value] if isinstance(value, list) else value


@functools.cache
def checks() -> tuple[Check, ...]:
    """Every published case, file by file; read once.

    Raises TypeError, with file and case, for a case that is not written as one.
    """
    found = []
    for path in sorted(files(__name__).iterdir(), key=lambda path: path.name):
        if path.name.endswith(".toml") and path.name != _PROGRAMS:
            for entry in tomllib.loads(path.read_text("utf-8")).get("check", ()):
                try:
                    found.append(Check(file=path.name, **entry))
                except TypeError as problem:
                    raise TypeError(f"{path.name}, check {entry.get('id', '?')!r}: {problem}") from None
    return tuple(found)


@functools.cache
def second_programs() -> tuple[SecondProgram, ...]:
    """Every test that runs a second program, as the tests themselves stored them."""
    path = files(__name__).joinpath(_PROGRAMS)
    entries = tomllib.loads(path.read_text("utf-8")).get("second_program", ()) if path.is_file() else ()
    return tuple(SecondProgram(**entry | {"formulas": tuple(entry["formulas"])}) for entry in entries)
