"""Many cases in one test: a loop that lets every case run and names those that fail."""

import functools
import inspect
from collections.abc import Callable, Iterable
from typing import Any

import pytest

#: failing cases told in full; of the others only the number
TOLD = 12
_LINES = 6


def every(
    names: str, values: Iterable[Any] | Callable[[], Iterable[Any]], ids: Callable[[Any], str] | None = None
) -> Callable[..., Any]:
    """Stands where ``pytest.mark.parametrize`` would make a test of each case: one test runs them all and names the failing ones.

    ``values`` may be a function that gives them, which is asked when the test runs and not when
    tests are collected.  One above the other, two of them give every pair.  Fixtures are shared
    by all cases of a test, so a case that changes one puts it back itself.
    """
    keys = [name.strip() for name in names.split(",")]
    values = values if callable(values) else list(values)

    def decorate(test: Callable[..., None]) -> Callable[..., None]:
        body, loops = getattr(test, "looped", (test, ()))
        loops = ((keys, values, ids), *loops)

        @functools.wraps(body)
        def run(**fixtures: Any) -> None:
            failing, seen = [], 0
            for name, case in _together(loops):
                seen += 1
                try:
                    body(**fixtures, **case)
                except (Exception, pytest.fail.Exception) as error:  # noqa: BLE001  told below
                    failing.append((name, error))
            assert seen, f"{body.__name__} has no case"
            if failing:
                raise AssertionError(_said(failing, seen)) from failing[0][1]

        taken = {key for these, *_ in loops for key in these}
        asked = inspect.signature(body)
        run.__signature__ = asked.replace(parameters=[one for one in asked.parameters.values() if one.name not in taken])
        run.__dict__.update({key: value for key, value in test.__dict__.items() if key != "__signature__"})
        run.looped = body, loops
        return run

    return decorate


def _together(loops: Iterable[tuple]) -> Iterable[tuple[str, dict[str, Any]]]:
    """Every case of the loops, one within the other, with its name."""
    (keys, values, ids), *inner = loops
    for value in values() if callable(values) else values:
        held = dict(zip(keys, value, strict=True)) if len(keys) > 1 else {keys[0]: value}
        name = ids(value) if ids else "-".join(map(_name, held.values()))
        if not inner:
            yield name, held
        else:
            for further, more in _together(inner):
                yield f"{name}-{further}", held | more


def _name(value: Any) -> str:
    found = next((getattr(value, key) for key in ("name", "id", "stem") if isinstance(getattr(value, key, None), str)), None)
    return found or (value if isinstance(value, str) else repr(value))[:80]


def _said(failing: list[tuple[str, BaseException]], seen: int) -> str:
    lines = [f"{len(failing)} of {seen} cases fail; the first is traced above"]
    for name, error in failing[:TOLD]:
        told = f"{type(error).__name__}: {error}".splitlines()
        lines += [f"[{name}] {told[0]}", *(f"    {line}" for line in told[1:_LINES])]
    if len(failing) > TOLD:
        lines.append("and also " + ", ".join(name for name, _ in failing[TOLD:]))
    return "\n".join(lines)
