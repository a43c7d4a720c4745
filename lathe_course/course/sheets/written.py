"""The sheet as a file: SVG for the screen and for others to work on, PDF for paper, both of one figure."""

from __future__ import annotations

import html
import io
import re
from pathlib import Path

from ...design.design import Design
from ...design.evaluation import Evaluation, evaluate
from ...units import InputProblem
from ..pictures.style import STYLE, matplotlib, svg
from ..printed.document import MARK, write_file
from ..turns import in_turn
from .general import Sheet, general_arrangement

ENDINGS = (".svg", ".pdf")
#: nothing of the day goes into a file, so that one design gives one file
_NO_METADATA = {
    ".svg": dict.fromkeys(("Creator", "Date", "Format", "Type")),
    ".pdf": {"Creator": MARK, "Producer": None, "CreationDate": None},
}
_PENS = STYLE | {"hatch.linewidth": 0.5, "pdf.fonttype": 42, "path.simplify": False}


@in_turn
def drawing_svg(
    e: Evaluation, paper: str = "A4", projection: str = "", about: str = "", key: str = "drawing"
) -> tuple[str, Sheet]:
    """The sheet as an SVG element to stand in a page, and what is told of it."""
    with matplotlib.rc_context(_PENS):
        sheet = general_arrangement(e, paper, projection, about)
        return svg(sheet.figure, sheet.words, "General arrangement of the lathe", key), sheet


@in_turn
def drawing_written(e: Evaluation, ending: str, paper: str = "A4", projection: str = "") -> bytes:
    """The sheet as a file of its own, at its true size on paper; the same design always gives the same bytes."""
    with matplotlib.rc_context(_PENS):
        sheet = general_arrangement(e, paper, projection)
        out = io.BytesIO()
        sheet.figure.savefig(out, format=ending.removeprefix("."), metadata=_NO_METADATA[ending])
    if ending == ".pdf":
        return out.getvalue()
    told = f"<title>General arrangement of the lathe</title><desc>{html.escape(sheet.words)}</desc><metadata>{MARK}</metadata>"
    return re.sub(r"(<svg[^>]*)>", lambda found: f'{found[1]} role="img">{told}', out.getvalue().decode("utf-8"), count=1).encode(
        "utf-8"
    )


def write_drawing(design: Design, path: str | Path, paper: str = "A4", projection: str = "") -> Path:
    """Write the sheet as SVG or PDF, by the ending of ``path``; an older one of that name gives way.  InputProblem if it cannot be written there."""
    path = Path(path).expanduser()
    if path.suffix.lower() not in ENDINGS:
        raise InputProblem.about(
            "to", f"The drawing is written as SVG or PDF, so {path.name or path} must end in .svg or .pdf, for example lathe.pdf."
        )
    return write_file(drawing_written(evaluate(design), path.suffix.lower(), paper, projection), path, "to", "The drawing was")
