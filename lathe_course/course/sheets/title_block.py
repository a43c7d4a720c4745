"""The block in the corner of a sheet: what is drawn, how large, by which projection.

Its fields are those of ISO 7200, the symbol that of ISO 5456-2; both recalled from memory.
"""

from __future__ import annotations

import numpy as np

from ...design.design import Design
from .paper import MM, Paper

#: height of the block and its greatest width, mm
HEIGHT, _WIDTH = 30.0, 180.0
#: which view stands on which side
PROJECTIONS = ("first", "third")


def usual_projection(design: Design) -> str:
    """First angle where one measures in millimetres, third angle where in inches."""
    return PROJECTIONS[0] if design.system == "mm" else PROJECTIONS[1]


def date_of(design: Design) -> str:
    """The day of the latest decision that tells its day; nothing where none does."""
    return max((choice.decided for choice in design.choices.values() if choice.decided), default="")


def title_block(paper: Paper, design: Design, what: str, scale: str, projection: str) -> tuple[float, float, float, float]:
    """Draw the block in the lower right corner; gives its left, bottom, right and top."""
    _, bottom, right, _ = paper.frame
    left, top = right - _WIDTH, bottom + HEIGHT
    paper.line([(left, bottom), (left, top), (right, top)], width=paper.wide)
    rows = [
        [("owner", "", 62), ("title", design.name or "A lathe without a name", 118)],
        [("kind of document", "general arrangement", 62), ("supplementary title", what, 88), ("sheet", "1 / 1", 30)],
        [
            ("created by", "", 40),
            ("approved by", "", 40),
            ("date of the design", date_of(design), 34),
            ("paper", paper.name, 16),
            ("scale", scale, 24),
            ("projection", "", 26),
        ],
    ]
    y = top
    for row in rows:
        x, low = left, y - HEIGHT / len(rows)
        for label, value, wide in row:
            paper.text(x + 1, y - 1.6, label, size=0.72)
            size = min(1.25, 1.25 * (wide - 2) / max(paper.width_of(value, 1.25), 1e-9)) if value else 1.0
            paper.text(x + 1, low + 3.0, value, size=size, weight="bold" if label == "title" else "normal")
            paper.line([(x + wide, y), (x + wide, low)])
            x += wide
        paper.line([(left, low), (right, low)])
        y = low
    _symbol(paper, right - 13, bottom + 3.6, projection)
    return left, bottom, right, top


def _symbol(paper: Paper, x: float, y: float, projection: str) -> None:
    """A cone cut off, and the two circles of its small end as it is seen from there."""
    tall, short, long = 5.0, 2.5, 5.0
    cone, rings = (x - 5.5, x + 4.5) if projection == PROJECTIONS[0] else (x + 1.0, x - 5.0)
    # the small end to the left: seen from the left both circles show, in first angle to the right of the cone, in third to its left
    paper.line(
        [
            (cone, y - short / 2),
            (cone, y + short / 2),
            (cone + long, y + tall / 2),
            (cone + long, y - tall / 2),
            (cone, y - short / 2),
        ],
        width=paper.wide,
    )
    paper.circle((rings, y), tall, width=paper.wide)
    paper.circle((rings, y), short, width=paper.wide)
    paper.line([(cone - 1, y), (cone + long + 1, y)], "centre")
    for way in np.array([(1.0, 0.0), (0.0, 1.0)]):
        paper.line([np.array([rings, y]) - way * (tall / 2 + 1), np.array([rings, y]) + way * (tall / 2 + 1)], "centre")


def note_lines(paper: Paper, words: str, wide: float, size: float = 1.0) -> list[str]:
    """Words broken into lines no wider than ``wide`` mm."""
    from ..pictures.axes import wrapped

    return wrapped(words, 0.9 * wide * MM, paper.points(size)).split("\n")
