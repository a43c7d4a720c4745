"""The bibliography: formulas, table rows and checks cite its keys.

``sources.toml`` holds one entry a source: ``kind`` (standard, handbook, textbook, paper,
definition, common practice, own work), ``title`` and ``seen`` (true where the text itself
was before us, false where the value was recalled from memory).  A citation is written
``"key"`` or ``"key, place"``, for example ``"shigley, Table A-9"``; several are parted by
semicolons.
"""

from __future__ import annotations

import functools
import tomllib
from dataclasses import dataclass
from importlib.resources import files

KINDS = ("standard", "handbook", "textbook", "paper", "definition", "common practice", "own work")


@dataclass(frozen=True)
class Source:
    """One entry of the bibliography."""

    key: str
    kind: str
    title: str
    seen: bool

    @property
    def standing(self) -> str:
        """How far the entry can be leaned on, in plain words."""
        if self.kind == "common practice":
            return "common practice, no source"
        if self.kind in ("definition", "own work"):
            return self.kind
        return self.kind if self.seen else f"{self.kind}, recalled from memory"


@functools.cache
def bibliography() -> dict[str, Source]:
    """Every source by key."""
    raw = tomllib.loads(files("lathe_course").joinpath("sources.toml").read_text("utf-8"))
    return {key: Source(key, entry["kind"], entry["title"], entry.get("seen", False)) for key, entry in raw.items()}


def source_of(citation: str) -> Source:
    """The source a citation points to; KeyError names a key that is not in the bibliography."""
    key = citation.split(",", 1)[0].strip()
    try:
        return bibliography()[key]
    except KeyError:
        raise KeyError(
            f"source {key!r} is not in sources.toml; add it there, or cite one of: {', '.join(sorted(bibliography()))}"
        ) from None


def citations(text: str) -> tuple[str, ...]:
    """The single citations of a text that may hold several, parted by semicolons."""
    return tuple(one.strip() for one in text.split(";"))


def cite(citation: str | tuple[str, ...]) -> str:
    """A citation, or several in a tuple or parted by semicolons, as people read it."""
    parts = citation if isinstance(citation, tuple) else citations(citation)
    return "; ".join(_cite_one(one) for one in parts)


def _cite_one(citation: str) -> str:
    source = source_of(citation)
    place = citation.partition(",")[2].strip()
    where = f", {place}" if place else ""
    if source.kind == "common practice":
        return source.standing + (f" ({place})" if place else "")
    return f"{source.title}{where} ({source.standing})"
