"""How much is tried: a little in every run, a lot where LATHE_COURSE_LONG is set."""

import os
from collections.abc import Iterable
from typing import Any

import pytest

LONG = os.environ.get("LATHE_COURSE_LONG", "") not in ("", "0")


def many(default: int, long: int) -> int:
    """How many examples, draws, kills or random designs to try: ``default``, or ``long`` in the long run."""
    return long if LONG else default


def short_of(cases: Iterable[Any], *short: Any) -> list[Any]:
    """The cases of ``parametrize``: those that are ``short`` in every run, the others where long walks are run as well."""
    cases = list(cases)
    unknown = [case for case in short if case not in cases]
    assert not unknown, f"no such case: {unknown}"
    return [case if case in short else pytest.param(case, marks=pytest.mark.walk) for case in cases]
