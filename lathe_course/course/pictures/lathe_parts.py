"""The lathe from the front and from above, with the parts a chapter is about standing out by number and name."""

from __future__ import annotations

import numpy as np
from matplotlib.axes import Axes
from matplotlib.patches import Circle

from ...design.drawn.arrangement import Arrangement, arrange
from ...design.drawn.named import Named, named, seen_places
from ...design.drawn.views import VIEWS, Face, faces
from ...design.evaluation import Evaluation
from ...design.lathe import CHAPTERS
from .axes import parted
from .drawing import to_scale
from .lathe import bounds, paint_faces
from .register import picture
from .style import FONT_SIZE, INK

_NOT_DRAWN = ("bench",)
_ROW = 15.0  # points from one name to the next
_MOST = 18  # numbers that find room in a row
#: height of the picture in inches, and its panels: front, plan, names; where no number stands in the plan it is left out
_BOTH = 5.4, ((0.0, 0.53, 0.70, 0.47), (0.0, 0.0, 0.70, 0.52), (0.71, 0.0, 0.29, 1.0))
_FRONT = 2.7, ((0.0, 0.0, 0.70, 1.0), (0.0, 0.0, 0.70, 0.01), (0.71, 0.0, 0.29, 1.0))


def told_of(parts: list[str], about: str) -> list[Named]:
    """Parts that are drawn and that a chapter is about, or all of them, with the numbers they have on the sheet."""
    return [one for one in named(parts) if not about or about in one.chapters]


def _laid(
    arrangement: Arrangement, about: str
) -> tuple[list[Named], dict[str, list[Face]], dict[str, list[tuple[int, np.ndarray]]]]:
    """The parts told of, what each view shows, and the numbers in it with their places; a view without one is left out."""
    told = told_of(list(arrangement.parts), about)
    painted = {
        "front": faces(arrangement, VIEWS["front"], (*_NOT_DRAWN, "controller")),
        "from above": faces(arrangement, VIEWS["from above"], _NOT_DRAWN),
    }
    places = {view: seen_places(shown) for view, shown in painted.items()}
    mine: dict[str, list[tuple[int, np.ndarray]]] = {view: [] for view in painted}
    seen = {one: [view for view in painted if one.part in places[view]] for one in told}
    # those that one view alone shows take their places first; the others go where more of them shows, unless that row is full
    for one in sorted((one for one in told if seen[one]), key=lambda one: len(seen[one])):
        view = max(seen[one], key=lambda view: places[view][one.part][1] - 100 * (len(mine[view]) >= _MOST))
        mine[view].append((one.number, places[view][one.part][0]))
    return told, painted, mine


def _words(e: Evaluation, about: str = "") -> str:
    arrangement = arrange(e)
    parts, _, mine = _laid(arrangement, about)
    told = [f"{one.number} {one.part}" for one in parts]
    whose = f", those of chapter {about}, {CHAPTERS[about].lower()}," if about in CHAPTERS else ""
    said = (
        f"The lathe from the front{' and from above' if mine['from above'] else ''}, centre height {e.shown('centre_height')}: bed of the form {e['bed_form']}, {e['bearing_kind']} bearings, {e['slide_kind']}, {e['drive_kind']}, {e['belt_kind']}. "
        f"Parts{whose} that stand out: {', '.join(told)}."
    )
    return " ".join([said, *arrangement.remarks])


@picture("Your lathe and the names of its parts", _words, height=_BOTH[0], panels=_BOTH[1])
def lathe_parts(e: Evaluation, axes: tuple[Axes, Axes, Axes], about: str = "") -> None:
    """Front, and plan if it is needed; each part told of has its number on the view that shows more of it, and its name beside."""
    told, painted, mine = _laid(arrange(e), about)
    names = {one.part for one in told} if about else set()
    axes[1].set_visible(bool(mine["from above"]))
    height, panels = _BOTH if axes[1].get_visible() else _FRONT
    axes[0].figure.set_figheight(height)
    for one, panel in zip(axes, panels):
        one.set_position(panel)
    for (view, shown), where in zip(painted.items(), axes):
        if where.get_visible():
            _view(where, shown, names, mine[view])
    _list(axes[2], told, {number for row in mine.values() for number, _ in row})


def _view(axes: Axes, shown: list[Face], names: set[str], numbers: list[tuple[int, np.ndarray]]) -> None:
    low, high = bounds(shown)
    per_point = to_scale(axes, tuple(low), tuple(high), (10, 6, 10, 34))
    paint_faces(axes, shown, names)
    left, right = axes.get_xlim()
    row = axes.get_ylim()[1] - 12 * per_point
    radius = 0.85 * FONT_SIZE * per_point
    for (number, at), x in zip(numbers, parted([at[0] for _, at in numbers], 2.1 * radius, left, right)):
        axes.plot([x, at[0]], [row - radius, at[1]], color=INK, lw=0.8, zorder=6)
        axes.add_patch(Circle(at, 1.6 * per_point, color=INK, lw=0, zorder=6))
        axes.add_patch(Circle((x, row), radius, facecolor="white", edgecolor=INK, lw=0.8, zorder=6))
        axes.text(x, row, str(number), ha="center", va="center", zorder=7)


def _list(axes: Axes, told: list[Named], seen: set[int]) -> None:
    axes.set_axis_off()
    _, _, wide, tall = axes.bbox.bounds
    axes.set_xlim(0, wide)
    axes.set_ylim(0, tall)
    step = min(_ROW, (tall - 8) / max(len(told), 1))
    size = FONT_SIZE if step >= 1.15 * FONT_SIZE else step / 1.15
    for place, one in enumerate(told):
        y = tall - 4 - step * (place + 0.5)
        axes.text(22, y, str(one.number), ha="right", va="center", size=size)
        axes.text(28, y, one.part if one.number in seen else f"{one.part} (hidden)", ha="left", va="center", size=size)
