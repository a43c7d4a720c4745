"""Pictures of the brief, and the drawing at a true scale on paper."""
from __future__ import annotations

import html

from ...design.evaluation import Evaluation
from ...units import number
from ..pictures import PICTURES
from ..pictures.style import POINTS, WIDTH, Canvas

__all__ = ["SCALES", "drawing_to_scale", "figure"]

#: one to so many; the largest drawing that fits the page is taken
SCALES = (1, 2, 2.5, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 40, 50, 75, 100)
_PAGE = 0.105                   # width there is for it on the first page, m
_POINTS_WIDE = WIDTH * POINTS


def figure(name: str, evaluation: Evaluation, caption: str) -> str:
    """A picture as it is on screen, with words under it."""
    drawn = Canvas(key=f"brief {name}").draw(PICTURES[name], evaluation)
    return f'<figure><div class="figure" style="width:125mm">{drawn}</div><figcaption>{html.escape(caption)}</figcaption></figure>'


def drawing_to_scale(evaluation: Evaluation) -> tuple[str, str]:
    """Side and end view, as wide as makes the side view come out at a round scale on paper; and what is said of the scale."""
    canvas, picture = Canvas(key="brief drawing"), PICTURES["lathe_to_scale"]
    side, end, *_ = canvas.figure(picture, evaluation).axes
    # metres of lathe to one point of the drawing, and of paper
    per_point = [(axes.get_xlim()[1] - axes.get_xlim()[0]) / axes.bbox.width for axes in (side, end)]
    scale = next((n for n in SCALES if _POINTS_WIDE * per_point[0] / n <= _PAGE), SCALES[-1])
    paper = per_point[0] / scale
    said = (f"Printed at full size (100 %) the side view is at a scale of 1 : {number(scale)} and the end view at 1 : {number(per_point[1] / paper, 2)}; "
            "the bar in a view tells its scale on any screen. Decided sizes are true; what nobody decided is drawn in proportion to the "
            "centre height, to show where things stand and not how they are made.")
    width = _POINTS_WIDE * paper * 1000
    return f'<div class="figure" style="width:{width:.1f}mm">{canvas.draw(picture, evaluation)}</div>', said
