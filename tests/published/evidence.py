"""What vouches for a formula from outside the project.

Published cases stand as data in ``lathe_course/evidence``. Second programs are test functions
marked with ``vouches``. Both carry the kind of evidence they are.
"""
from __future__ import annotations

import dataclasses
import importlib
from collections.abc import Callable
from pathlib import Path

import lathe_course.build
import lathe_course.machine  # noqa: F401
from lathe_course.evidence import EVIDENCE, Check, checks
from lathe_course.formula import FORMULAS

HERE = Path(__file__).parent
CHECKS: tuple[Check, ...] = checks()


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
