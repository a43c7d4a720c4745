"""What each key of a question holds: a text, a figure, a table or a list; what is not of its shape is told by its place."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from ....nearest import nearest_or_stop

_TEXT_TABLE = {"*": str}
_STEP = {"*": (str, float, [str])}
_SLIPS = [{"name": str, "help": str, "picks": str, "steps": [_STEP], **_STEP}]
#: key -> a text, a figure, a table of ..., a list of ..., or one of several
_SHAPES = {
    **dict.fromkeys(
        (
            "id",
            "level",
            "text",
            "hint",
            "after",
            "asks",
            "unit",
            "reason",
            "case",
            "picks",
            "design",
            "finding",
            "result",
            "read",
            "own_text",
            "formula",
        ),
        str,
    ),
    "tolerance": (str, float),
    "cases": float,
    "replies": _TEXT_TABLE,
    "kinds": _TEXT_TABLE,
    "options": [str],
    "ascending": [[str]],
    "changes": [_TEXT_TABLE],
    "own": (_TEXT_TABLE, [_TEXT_TABLE]),
    "work": [{"name": str, "formula": str, "takes": _TEXT_TABLE}],
    "draws": {
        "*": (
            str,
            [(str, float)],
            {
                "from": (str, float),
                "to": (str, float),
                "step": (str, float),
                "one_of": [(str, float)],
                "table": str,
                "rows": ([str], [{"*": (str, float)}]),
                "gives": _TEXT_TABLE,
            },
        )
    },
    "slips": _SLIPS,
    "also": _SLIPS,
}
_NEEDED = {"work": ("name", "formula")}


def misshapen(question: Mapping[str, Any]) -> list[str]:
    """Sentences on every value of a question, all of whose keys are known, that is not of the shape that belongs there."""
    said = [fault for key, value in question.items() for fault in _misshapen(key, value, _SHAPES[key])]
    return said or [
        f"an entry of {key!r} has no {part!r}."
        for key, parts in _NEEDED.items()
        for row in question.get(key, ())
        for part in parts
        if part not in row
    ]


def _misshapen(place: str, value: Any, shape: Any) -> list[str]:
    """What is not of the shape that belongs there."""
    if isinstance(shape, tuple):
        tried = [_misshapen(place, value, one) for one in shape]
        return (
            []
            if not all(tried)
            else min(
                (faults for faults, one in zip(tried, shape) if isinstance(value, type(one)) and not isinstance(one, type)),
                key=len,
                default=[f"{place!r} must be {' or '.join(map(_shape_name, shape))}."],
            )
        )
    if isinstance(shape, list) and isinstance(value, list):
        return [fault for number, part in enumerate(value, 1) for fault in _misshapen(f"{place}, entry {number}", part, shape[0])]
    if isinstance(shape, dict) and isinstance(value, dict):
        strange = [
            f"{key!r} is not known in {place!r}{nearest_or_stop(key, shape)}"
            for key in value
            if key not in shape and "*" not in shape
        ]
        return strange + [
            fault
            for key, part in value.items()
            if key in shape or "*" in shape
            for fault in _misshapen(f"{place}, {key}", part, shape.get(key, shape.get("*")))
        ]
    fits = isinstance(shape, type) and (
        isinstance(value, str)
        if shape is str
        else isinstance(value, (int, float)) and not isinstance(value, bool) and math.isfinite(value)
    )
    return [] if fits else [f"{place!r} must be {_shape_name(shape)}."]


def _shape_name(shape: Any) -> str:
    return (
        {str: "a text in quotes", float: "a figure"}[shape]
        if isinstance(shape, type)
        else "a list"
        if isinstance(shape, list)
        else "a table"
    )
