"""The brief: a design on one web page that needs nothing else, reads on a phone and prints on A4.

No script, nothing fetched, no date of today: the same design always gives the same bytes.  In its usual form it prints on
eight sheets at the most; the whole brief has as many as it takes.
"""

from __future__ import annotations

import math
import os
from pathlib import Path

from ...design.chain.luck import DRAWS
from ...design.design import Design
from ...design.evaluation import Evaluation, evaluate
from ..text.markup import markup
from .brief_drawing import drawing_sheet
from .brief_front import front, title_of
from .brief_sections import REST, ROOMS, SHEETS, decisions
from .document import document, style_sheet, web_page, write_document
from .paper import Piece, joined, sheets


def write_brief(design: Design, path: str | os.PathLike[str], whole: bool = False) -> Path:
    """Write the brief of a design; an older brief of that name gives way.  Returns the path.

    Raises InputProblem with a sentence if it cannot be written there.
    """
    return write_document(brief_html(design, whole), web_page(path, "brief", "brief", "brief"), "brief", "The brief was")


def brief_html(design: Design, whole: bool = False) -> str:
    """The brief as one HTML document; its first page is the board.  ``whole`` leaves nothing out."""
    cloud = evaluate(design, DRAWS)
    parts = front(cloud), markup((drawing_sheet(cloud),)), joined(sections_of(cloud, whole)).markup
    return document(f"{title_of(design)}: design brief", style_sheet("brief"), "\n".join(parts), "brief")


def sections_of(e: Evaluation, whole: bool = False) -> list[Piece]:
    """The sections after the first page, each in its room, or ``whole`` with all they have to say; needs draws."""
    if whole:
        return [write(e, math.inf) for write in (*ROOMS, *REST)]
    pieces, left = {}, 0.0
    for write, room in ROOMS.items():
        pieces[write] = write(e, left + room)
        left += room - pieces[write].height
    while (
        sheets(pieces.values()) > SHEETS - 2 and pieces[decisions].markup
    ):  # what stays whole may leave some sheets white at their foot
        pieces[decisions] = decisions(e, pieces[decisions].height - 15.0)
    return list(pieces.values())
