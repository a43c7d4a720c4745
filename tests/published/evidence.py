"""What vouches for a formula from outside the project.

Published cases stand as data in the TOML files beside this module, one file for each module
of formulas. Second programs are test functions marked with ``vouches``. Both carry the kind
of evidence they are, so that nobody takes a recalled figure for one that was read.
"""
from __future__ import annotations

import dataclasses
import importlib
import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np

import lathe_course.build
import lathe_course.machine  # noqa: F401
from lathe_course import units
from lathe_course.formula import FORMULAS

HERE = Path(__file__).parent
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
    """A test function that reaches the figure by an independent route."""

    formula: str
    test: str
    evidence: str
    source: str
    because: str = ""

    def __str__(self) -> str:
        return f"{self.test} for {self.formula}"


def _given(value: Any, kind: units.Kind, name: str) -> Any:
    """TOML figures go through the formula's own door; a plain number is only right for a plain figure."""
    return [units.quantity(units.read(one, kind, name), kind) for one in value] if isinstance(value, list) else value


def _load() -> list[Check]:
    checks = []
    for path in sorted(HERE.glob("*.toml")):
        with path.open("rb") as file:
            for entry in tomllib.load(file).get("check", ()):
                try:
                    checks.append(Check(file=path.name, **entry))
                except TypeError as problem:
                    raise TypeError(f"{path.name}, check {entry.get('id', '?')!r}: {problem}") from None
    return checks


CHECKS: list[Check] = _load()
SECOND_PROGRAMS: list[SecondProgram] = []


def vouches(*formulas: str, evidence: str, source: str, because: str = "") -> Callable[[Callable], Callable]:
    """Mark a test function as evidence for one formula or several.

    ``evidence`` is one of EVIDENCE, ``source`` cites the bibliography for the method or the
    figures, ``because`` gives the reason of the tolerance where it is not plain from the test.
    """
    if evidence not in EVIDENCE:
        raise ValueError(f"{evidence!r} is no kind of evidence; take one of {', '.join(EVIDENCE)}")

    def mark(test: Callable) -> Callable:
        SECOND_PROGRAMS.extend(SecondProgram(name, test.__name__, evidence, source, because) for name in formulas)
        return test
    return mark


def all_evidence() -> dict[str, list[Check | SecondProgram]]:
    """Evidence by name of formula, with the second programs of all test files beside this one."""
    for path in sorted(HERE.glob("test_*.py")):
        importlib.import_module(path.stem)
    held: dict[str, list[Check | SecondProgram]] = {name: [] for name in FORMULAS}
    for piece in (*CHECKS, *SECOND_PROGRAMS):
        held.setdefault(piece.formula, []).append(piece)
    return held
