"""The board of a design as one page to print; the brief has the same in front."""

from __future__ import annotations

from pathlib import Path

from ...design.chain.luck import DRAWS
from ...design.design import Design
from ...design.evaluation import evaluate
from .brief_front import front, title_of
from .document import document, style_sheet, write_document


def write_board(design: Design, path: Path) -> Path:
    """Write the board of a design as one page to print.  Returns the path; InputProblem with a sentence if it cannot be written there."""
    return write_document(board_html(design), path, "board", "The board was")


def board_html(design: Design) -> str:
    """The board alone, as one HTML document that prints on one sheet."""
    return document(f"{title_of(design)}: the whole plan on one page", style_sheet("brief"), front(evaluate(design, DRAWS)))
