"""Where a decision comes from: the course's draft, the demo the design began as, or the learner.

In the design file a decision of the draft carries ``origin = "draft of 75 mm"``; its value is named so that a figure changed by
hand in an editor is the learner's from then on, whatever the line still says.  Without a line a decision is the demo's as
long as it stands as the demo has it, and else the learner's; one of the learner's that could be taken for the demo's carries ``origin = "yours"``.
"""

from __future__ import annotations

import functools
import tomllib
from collections.abc import Mapping
from importlib.resources import files
from types import MappingProxyType
from typing import Any

DRAFT, DEMO, YOURS = "draft", "demo", "yours"
#: the reason of a decision that an older file lacked
ADDED = "taken from the demo, because the course asks this only since a newer version"
#: what somebody said of the demo's own place is no answer for the learner's: where such a decision stands in its stead, and why
NOT_OF_A_DEMO = {"leakage_device": ("not asked yet", "only a licensed electrician can say")}
_OF = "draft of "
_FILES = ("boat_shed", "cabin", "shared_barn")


@functools.cache
def demo_written(name: str) -> Mapping[str, Any]:
    """The file of a demo as plain values; empty for a name that is no demo."""
    if name not in _FILES:
        return MappingProxyType({})
    return MappingProxyType(tomllib.loads(files(__package__).joinpath("demos", f"{name}.toml").read_text("utf-8")))


def origin_of(entry: Mapping[str, Any], demo: Mapping[str, Any] | None) -> str:
    """Where a written decision comes from; ``demo`` is the same decision of the demo the design began as, if it has one."""
    said = str(entry.get("origin", "")).strip()
    if said == YOURS or entry.get("decided"):
        return YOURS
    if said == DRAFT or said.startswith(_OF):
        return DRAFT if said in (DRAFT, _OF + str(entry["value"])) else YOURS
    if demo is None and said == DEMO:
        return DEMO
    if demo is None or str(entry["value"]) != str(demo["value"]):
        return YOURS
    return DEMO if entry.get("reason", "") in ("", ADDED, demo.get("reason", "")) else YOURS


def line_of(origin: str, entry: Mapping[str, Any], demo: Mapping[str, Any] | None) -> str:
    """What the line of a decision says in a design file; nothing where that is told without it."""
    if origin == DRAFT:
        return _OF + str(entry["value"])
    return "" if origin_of(entry, demo) == origin else origin


def begun_with(name: str, origin: str) -> bool:
    """Does a decision stand as a design of the learner's begins with it: as the demo has it, or open in its place?"""
    return origin == DEMO or (origin == DRAFT and name in NOT_OF_A_DEMO)


def drafted_of(choices: Mapping[str, Any]) -> list[str]:
    """Names of the decisions that a draft made; none where all that reads as drafted is open from the beginning."""
    drafted = [name for name, choice in choices.items() if choice.origin == DRAFT]
    return drafted if set(drafted) - NOT_OF_A_DEMO.keys() else []


def opened(name: str) -> dict[str, str]:
    """The entry with which a decision that is ``NOT_OF_A_DEMO`` begins in a design of the learner's."""
    value, reason = NOT_OF_A_DEMO[name]
    entry = {"value": value, "reason": reason}
    return entry | {"origin": line_of(DRAFT, entry, None)}
