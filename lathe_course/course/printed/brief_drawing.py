"""The drawing on the first page of the brief, at a true scale on paper, and the sheet of the general arrangement behind it."""

from __future__ import annotations

from ...design.evaluation import Evaluation
from ..pictures import PICTURES
from ..pictures.style import POINTS, WIDTH, Canvas
from ..sheets.written import drawing_svg
from ..text.values import Drawn, Heading, Part

#: one to so many, as ISO 5455 has them (recalled from memory); the largest drawing that fits the page is taken
SCALES = (1, 2, 5, 10, 20, 50, 100)
_PAGE = 0.105  # width there is for it on the first page, m
_POINTS_WIDE = WIDTH * POINTS


def drawing_to_scale(evaluation: Evaluation) -> tuple[str, float, str]:
    """Side and end view drawn, the width in mm that makes the side view come out at a round scale on paper, and what is said of the scale."""
    canvas, picture = Canvas(key="brief drawing"), PICTURES["lathe_to_scale"]
    side, *_ = canvas.figure(picture, evaluation).axes
    per_point = (side.get_xlim()[1] - side.get_xlim()[0]) / side.bbox.width  # metres of lathe to one point of the drawing
    scale = next((n for n in SCALES if _POINTS_WIDE * per_point / n <= _PAGE), SCALES[-1])
    paper = per_point / scale
    said = (
        f"Printed at full size (100 %) the side view is at a scale of 1 : {scale}; the end view is larger, "
        "and the bar in a view tells its scale anywhere. Decided sizes are true; what nobody decided is drawn in proportion to the "
        "centre height, to show where things stand and not how they are made."
    )
    return canvas.draw(picture, evaluation), _POINTS_WIDE * paper * 1000, said


def drawing_sheet(evaluation: Evaluation) -> Part:
    """The general arrangement as a sheet of its own, lying on its long side."""
    drawn = Drawn(drawing_svg(evaluation, key="brief sheet")[0])
    return Part("drawing", (Heading("The lathe drawn"), drawn))
