"""What the chain says of cuts, finishes and belts that others have measured and published.

``predicted.toml`` holds our figures, as they stood before the measured ones were looked up here; none
of them is ever changed.  ``measured.toml`` holds theirs, each with its place.  What the chain says today is worked out
by ``design/asked/predictions.py``; a figure that has moved since says why in ``since``.
"""

from __future__ import annotations

import functools
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field
from importlib.resources import files
from typing import Any

#: what is held beside each other, and how the axis of its picture is called
GROUPS = {
    "cutting force": "force of the cut",
    "shares of the force": "push over the cutting force",
    "wear": "cutting force, worn edge over sharp",
    "finish": "roughness Ra",
    "belt": "friction that counts in the groove",
}


@dataclass(frozen=True)
class Prediction:
    """What the chain says of something that was measured: a result under decisions, with its range.

    With ``over`` it is the result over that of the same decisions changed so, two tools with luck of their own.
    ``first`` is low, middling and high as first told, texts with units; low and high leave a tenth of the draws outside
    on either side.  ``assumed`` is what the source does not tell and we put in.
    """

    id: str
    group: str
    what: str
    result: str
    decisions: Mapping[str, str]
    first: tuple[str, str, str]
    over: Mapping[str, str] = field(default_factory=dict)
    material: str = ""
    assumed: str = ""
    since: str = ""


@dataclass(frozen=True)
class Measured:
    """A published measurement, its figure as printed or worked from printed ones as ``worked`` says."""

    id: str
    figure: str
    source: str
    why: str = ""
    worked: str = ""


def _read(name: str, key: str, made: type[Any]) -> dict[str, Any]:
    path = files(__package__).joinpath(name)
    entries = tomllib.loads(path.read_text("utf-8"))[key] if path.is_file() else ()
    return {entry["id"]: made(**entry) for entry in entries}


@functools.cache
def predictions() -> dict[str, Prediction]:
    """Every figure of ours by its id, group by group."""
    return _read("predicted.toml", "prediction", Prediction)


@functools.cache
def measured() -> dict[str, Measured]:
    """Every figure of theirs by the id of the prediction it stands beside."""
    return _read("measured.toml", "measured", Measured)
