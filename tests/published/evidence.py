"""What vouches for a formula from outside the project.

Published cases stand as data in ``lathe_course/evidence``. Second programs are test functions
marked with ``vouches``. Both carry the kind of evidence they are.
"""

from __future__ import annotations

import functools
import importlib
import inspect
import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from lathe_course.evidence import EVIDENCE, Check, SecondProgram, checks, second_programs
from lathe_course.formula import FORMULAS

HERE = Path(__file__).parent
CHECKS: tuple[Check, ...] = checks()
SECOND_PROGRAMS: dict[str, SecondProgram] = {}
#: test -> largest difference found in this run, as a share of the other program's figure, and the one allowed
MEASURED: dict[str, tuple[float, float]] = {}
#: what a difference is told to stay within, as a share: round-off, powers of ten, and then what people say in per cent
RUNGS = (1e-6, 1e-5, 1e-4, 1e-3, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0)
_STORED = {one.test: one for one in second_programs()}
_STORING = bool(os.environ.get("STORE_EVIDENCE"))
_running: list[str] = []


def ceiling(difference: float, held: float | None = None) -> float:
    """What a difference found in one run is told to stay within: the lowest rung that leaves it room to double.

    The last digits of a difference belong to the processor and to the versions of packages, and
    one of round-off size is made of nothing else.  A rung that is ``held`` already stays as long as
    it holds and lies no more than one too high, so that another machine stores the same.
    """
    place = next(place for place, rung in enumerate(RUNGS) if rung >= min(2 * difference, 1.0))
    return held if held in RUNGS and difference <= held <= RUNGS[min(place + 1, len(RUNGS) - 1)] else RUNGS[place]


def vouches(*formulas: str, evidence: str, source: str, because: str = "") -> Callable[[Callable], Callable]:
    """Mark a test function as evidence for one formula or several.

    ``evidence`` is one of EVIDENCE, ``source`` cites the bibliography for the method or the
    figures, ``because`` gives the reason of the tolerance where it is not plain from the test.
    The first sentence of the docstring tells a reader what is compared.  Figures are compared
    with ``agrees``, so that the course can show how far the two are apart.
    """
    if evidence not in EVIDENCE:
        raise ValueError(f"{evidence!r} is no kind of evidence; take one of {', '.join(EVIDENCE)}")

    def mark(test: Callable) -> Callable:
        name = test.__name__
        if name in SECOND_PROGRAMS:
            raise ValueError(f"two tests are called {name}")
        says = (
            (inspect.getdoc(test) or name.removeprefix("test_").replace("_", " ").capitalize() + ".")
            .split("\n\n")[0]
            .replace("\n", " ")
        )
        SECOND_PROGRAMS[name] = SecondProgram(name, says, formulas, evidence, source, because)

        @functools.wraps(test)
        def run(*args: Any, **kwargs: Any) -> None:
            _running.append(name)
            try:
                test(*args, **kwargs)
            finally:
                _running.pop()
            if not _STORING and name in MEASURED:
                said = _STORED[name].within if name in _STORED else 0.0
                assert MEASURED[name][0] <= said, (
                    f"{name} differs by {MEASURED[name][0]:.2g}, and the stored evidence says within {said:.2g}: run tests/store_evidence.py"
                )

        return run

    return mark


def agrees(ours: Any, theirs: Any, rel: float | None = None, abs: float | None = None) -> None:
    """Hold our figure against that of another program, and remember how far they are apart.

    The tolerances are those of ``pytest.approx``.
    """
    expected = pytest.approx(theirs, rel=rel, abs=abs)
    assert ours == expected
    if not _running:
        return
    other = np.asarray(theirs, float)
    # a single figure near zero says nothing about a share: the largest of a row is the measure
    size = np.max(np.abs(other), initial=0.0)
    if size == 0:
        return
    difference = float(np.max(np.abs(np.asarray(ours, float) - other))) / size
    allowed = max(1e-6 if rel is None and abs is None else rel or 0.0, (abs or 0.0) / size)
    before = MEASURED.get(_running[-1], (0.0, 0.0))
    MEASURED[_running[-1]] = max(before[0], difference), max(before[1], allowed)


def marked() -> dict[str, SecondProgram]:
    """Every second program of the test files beside this one."""
    for path in sorted(HERE.glob("test_second_*.py")):
        importlib.import_module(path.stem)
    return SECOND_PROGRAMS


def all_evidence() -> dict[str, list[Check | SecondProgram]]:
    """Evidence by name of formula."""
    held: dict[str, list[Check | SecondProgram]] = {name: [] for name in FORMULAS}
    for check in CHECKS:
        held.setdefault(check.formula, []).append(check)
    for program in marked().values():
        for name in program.formulas:
            held.setdefault(name, []).append(program)
    return held
