"""The brief: a design on one web page that needs nothing else, reads on a phone and prints on A4.

No script, nothing fetched, no date of today: the same design always gives the same bytes.
"""
from __future__ import annotations

import os
from collections.abc import Callable, Iterable
from pathlib import Path

from ...design.design import Design
from ...design.evaluation import Evaluation, evaluate
from ..shown.essentials import DRAWS
from .brief_sections import SECTIONS, title_of
from .document import document, style_sheet, web_page, write_document

__all__ = ["board_html", "brief_html", "write_board", "write_brief"]

def write_brief(design: Design, path: str | os.PathLike[str]) -> Path:
    """Write the brief of a design; an older brief of that name gives way.  Returns the path.

    Raises InputProblem with a sentence if it cannot be written there.
    """
    return write_document(brief_html(design), web_page(path, "brief", "brief", "brief"), "brief", "The brief was")


def write_board(design: Design, path: Path) -> Path:
    """Write the board of a design as one page to print.  Returns the path; InputProblem with a sentence if it cannot be written there."""
    return write_document(board_html(design), path, "board", "The board was")


def brief_html(design: Design) -> str:
    """The brief as one HTML document; its first page is the board."""
    return _document(design, SECTIONS, "design brief")


def board_html(design: Design) -> str:
    """The board alone, as one HTML document that prints on one sheet."""
    return _document(design, SECTIONS[:1], "the whole plan on one page")


def _document(design: Design, of: Iterable[Callable[[Evaluation], str]], what: str) -> str:
    cloud = evaluate(design, DRAWS)
    sections = "\n".join(section(cloud) for section in of)
    return document(f"{title_of(design)}: {what}", style_sheet("brief"), sections)
