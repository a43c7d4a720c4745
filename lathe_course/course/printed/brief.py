"""The brief: a design on one web page that needs nothing else, reads on a phone and prints on A4.

No script, nothing fetched, no date of today: the same design always gives the same bytes.
"""
from __future__ import annotations

import os
from collections.abc import Callable, Iterable
from importlib.resources import files
from pathlib import Path

from ...design.design import Design
from ...design.evaluation import Evaluation, evaluate
from ...design.files import whole_file
from ...units import InputProblem
from ..shown.essentials import DRAWS
from .brief_sections import SECTIONS, text, title_of

__all__ = ["board_html", "brief_html", "write_board", "write_brief"]

_ENDINGS = (".html", ".htm")


def write_brief(design: Design, path: str | os.PathLike[str]) -> Path:
    """Write the brief of a design; an older brief of that name gives way.  Returns the path.

    Raises InputProblem with a sentence if it cannot be written there.
    """
    path = Path(path).expanduser()
    if path.suffix.lower() not in _ENDINGS:
        raise InputProblem([("brief", f"The brief is a web page, so {path.name or path} must end in .html, for example brief.html.")])
    return _write(brief_html(design), path, "brief")


def write_board(design: Design, path: Path) -> Path:
    """Write the board of a design as one page to print.  Returns the path; InputProblem with a sentence if it cannot be written there."""
    return _write(board_html(design), path, "board")


def _write(page: str, path: Path, what: str) -> Path:
    try:
        # a link gives way as well: in a folder that was handed round it may lead to what another program runs
        whole_file.write_whole(path, page.encode("utf-8"))
    except OSError as problem:
        raise InputProblem([(what, f"The {what} was not written to {path}: {whole_file.in_words(problem)}. "
                                      "Choose another place for it.")]) from None
    return path


def brief_html(design: Design) -> str:
    """The brief as one HTML document; its first page is the board."""
    return _document(design, SECTIONS, "design brief")


def board_html(design: Design) -> str:
    """The board alone, as one HTML document that prints on one sheet."""
    return _document(design, SECTIONS[:1], "the whole plan on one page")


def _document(design: Design, of: Iterable[Callable[[Evaluation], str]], what: str) -> str:
    cloud = evaluate(design, DRAWS)
    style = files(__package__).joinpath("brief.css").read_text("utf-8")
    sections = "\n".join(section(cloud) for section in of)
    return ('<!DOCTYPE html>\n<html lang="en-GB">\n<head>\n<meta charset="utf-8">\n'
            '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
            f"<title>{text(title_of(design))}: {what}</title>\n<style>\n{style}</style>\n</head>\n<body>\n{sections}\n</body>\n</html>\n")
