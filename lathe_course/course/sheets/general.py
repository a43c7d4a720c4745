"""The general arrangement: three views of the lathe at a usual scale, with the sizes the chain knows, numbers and a title block."""

from __future__ import annotations

import functools
from dataclasses import dataclass

import numpy as np
from matplotlib.figure import Figure
from matplotlib.patches import Circle

from ...design.drawn.arrangement import Arrangement, arrange
from ...design.drawn.drive import driving_axis
from ...design.drawn.named import Named, named, seen_places
from ...design.drawn.views import VIEWS, Face, View, faces, layers
from ...design.evaluation import Evaluation
from ...units import InputProblem, Length, in_unit, number
from ..pictures.axes import parted
from .paper import PAPERS, Paper, scale_for
from .section import spindle_section
from .title_block import HEIGHT, PROJECTIONS, note_lines, title_block, usual_projection

#: said on every sheet, since what can hurt is drawn bare
GUARDS = (
    "Guards over belts and wheels and the shield of the chuck are left out here to show what is behind them: nothing runs without. "
    "Mains and motor by licensed hands, to the rules where you live. Not a workshop drawing: nothing is to be made from it."
)
_LINES = "Sizes in {unit}. Wide lines: sizes decided or worked out. Narrow lines: drawn to give an idea, decided by nobody."
#: parts whose hidden outline is drawn dashed from the front
_HIDDEN = ("spindle", "bearings", "barrel")
#: kept free around each view for dimensions and numbers, in heights of its letters: left, bottom, right, top
_FREE = {"front": (4.5, 11.0, 10.0, 12.2), "from the tailstock": (3.5, 6.0, 3.5, 5.0), "from above": (4.5, 8.0, 5.0, 4.0)}
_MM = Length("mm")
#: left, bottom, right and top on paper, mm
_Room = tuple[float, float, float, float]
_GREY = "#d9d9d9"


@dataclass
class Sheet:
    """A sheet that is drawn, what it shows in words, and its scale, one to so many."""

    figure: Figure
    words: str
    scale: int
    parts: list[Named]


class _Placed:
    """A view on paper: from places in the room, m, to places on paper, mm."""

    def __init__(self, view: View, arrangement: Arrangement, scale: int, painted: list[Face]):
        self.view, self.scale, self.painted = view, scale, painted
        self.low = np.min([face.outline.min(axis=0) for face in painted], axis=0)
        self.high = np.max([face.outline.max(axis=0) for face in painted], axis=0)
        if view.up[0] == 2:  # down to the bench on which it stands
            self.low[1] = min(self.low[1], arrangement.sizes.bench)
        self.shift = np.zeros(2)

    @property
    def size(self) -> np.ndarray:
        """Width and height on paper, mm."""
        return (self.high - self.low) * 1000 / self.scale

    def flat(self, outline: np.ndarray) -> np.ndarray:
        """From the view, m, to paper, mm."""
        return np.asarray(outline) * 1000 / self.scale + self.shift

    def at(self, x: float = 0.0, y: float = 0.0, z: float = 0.0) -> np.ndarray:
        """A place in the room, on paper."""
        return self.flat(self.view.flat(np.array([[x, y, z]])))[0]

    def put(self, corner: tuple[float, float]) -> None:
        """Set its lower left corner at a place on paper."""
        self.shift = np.asarray(corner) - self.low * 1000 / self.scale


def general_arrangement(e: Evaluation, paper: str = "A4", projection: str = "", about: str = "") -> Sheet:
    """Draw it on ``paper``, in ``projection`` (first or third angle; by the learner's units if empty).

    The parts a chapter, ``about``, tells of are filled in grey.  Raises InputProblem for a paper or projection that is not known.
    """
    projection = projection or usual_projection(e.design)
    for what, given, known in (("paper", paper, tuple(PAPERS)), ("projection", projection, PROJECTIONS)):
        if given not in known:
            raise InputProblem.about(what, f"the {what} cannot be {given!r}; choose {' or '.join(known)}.")
    e = e.central
    arrangement = arrange(e)
    sheet = Paper.blank(paper)
    views, scale = _placed(arrangement, sheet, projection)
    told = {one.part for one in named(list(arrangement.parts)) if about in one.chapters} if about else set()
    for one in views.values():
        _paint(sheet, one, told)
        _bench(sheet, one, arrangement)
    _lines(sheet, views, arrangement)
    _dimensions(sheet, views, e, arrangement)
    places = {name: seen_places(placed.painted) for name, placed in views.items()}
    for part in _HIDDEN:  # drawn dashed, so its number points there
        for solid in arrangement.parts[part]:
            places["front"].setdefault(part, (views["front"].view.outline(solid).mean(axis=0), 1))
    parts = named([name for name in arrangement.parts if any(name in seen for seen in places.values())])
    _numbers(sheet, views, places, parts)
    block = title_block(sheet, e.design, "the lathe in three views", f"1 : {scale}", projection)
    _notes(sheet, block, arrangement)
    for room in _list(sheet, views, parts, block):
        if spindle_section(sheet, arrangement, functools.partial(_figure, e), room):
            break
    sheet.done()
    return Sheet(sheet.figure, _words(e, arrangement, scale, projection), scale, parts)


# --- places ---------------------------------------------------------------------------------------------
def _placed(arrangement: Arrangement, sheet: Paper, projection: str) -> tuple[dict[str, _Placed], int]:
    """The three views, aligned with each other, at the largest usual scale that leaves room for dimensions and the title."""
    painted = {name: faces(arrangement, VIEWS[name], ("bench",)) for name in _FREE}
    left, bottom, right, top = sheet.frame
    bottom += HEIGHT
    trial = {name: _Placed(VIEWS[name], arrangement, 1000, painted[name]) for name in _FREE}
    front, end, plan = (trial[name].size for name in _FREE)
    across = max(front[0], plan[0]) + end[0]
    up = max(front[1], end[1]) + plan[1]
    (beside, _, right_of, over), (left_of, _, end_right, _), (_, below, _, above) = (
        np.array(_FREE[name]) * sheet.capitals for name in _FREE
    )
    under = _FREE["front"][1] * sheet.capitals
    free = beside + right_of + left_of + end_right, over + under + above + below
    scale = scale_for(across, up, (right - left - free[0], top - bottom - free[1]))
    views = {name: _Placed(VIEWS[name], arrangement, scale, painted[name]) for name in _FREE}
    front, end, plan = (views[name] for name in _FREE)
    first = projection == PROJECTIONS[0]
    # front and plan share x, front and end view share z
    x = left + (left_of + end.size[0] + end_right if first else 0.0) + beside
    tall = max(front.high[1], end.high[1]) * 1000 / scale - front.low[1] * 1000 / scale
    y = top - over - tall - (0.0 if first else above + plan.size[1] + below)
    least = min(front.low[0], plan.low[0]) * 1000 / scale
    front.shift = np.array([x - least, y - front.low[1] * 1000 / scale])
    plan.put((0.0, (y - under if first else top) - above - plan.size[1]))
    plan.shift[0] = x - least
    end.put((left + left_of if first else x + max(front.high[0], plan.high[0]) * 1000 / scale - least + right_of + left_of, 0.0))
    end.shift[1] = front.shift[1]
    return views, scale


def _paint(sheet: Paper, placed: _Placed, told: set[str]) -> None:
    """All faces, furthest first, with the edges seen on them."""
    outlines, widths, fills = [], [], []
    for face, outline, times, filled in layers(placed.painted):
        outlines.append(placed.flat(outline))
        widths.append(times * (sheet.wide if face.known and filled else sheet.narrow))
        fills.append("none" if not filled else _GREY if face.part in told else "white")
    sheet.areas(outlines, widths, fills, "view-" + placed.view.name.replace(" ", "-"))


def _bench(sheet: Paper, placed: _Placed, arrangement: Arrangement) -> None:
    """The top of the bench, as a line with strokes below."""
    if placed.view.up[0] != 2:
        return
    y = placed.flat(np.array([[0.0, arrangement.sizes.bench]]))[0, 1]
    low, high = placed.flat(np.array([placed.low, placed.high]))[:, 0]
    sheet.line([(low - 3, y), (high + 3, y)])
    for x in np.arange(low, high + 3, 6.0):
        sheet.line([(x - 1.5, y - 1.5), (x, y)])


def _lines(sheet: Paper, views: dict[str, _Placed], arrangement: Arrangement) -> None:
    """Centre lines, what is hidden, swings, and how far barrel and cross-slide move."""
    s = arrangement.sizes
    front, end, plan = (views[name] for name in _FREE)
    low, high = arrangement.extent("spindle")[:, 0].min(), arrangement.extent("tailstock", "tailstock screw")[1, 0]
    over = 3 * front.scale / 1000
    for placed, place in ((front, {"z": s.centre_height}), (plan, {"y": 0.0})):
        sheet.line([placed.at(x=low - over, **place), placed.at(x=high + over, **place)], "centre")
    middle = end.at(z=s.centre_height)
    radius = (s.swing_over_bed / 2) * 1000 / end.scale
    for way in np.array([(1.0, 0.0), (0.0, 1.0)]):
        sheet.line([middle - way * (radius + 2), middle + way * (radius + 2)], "centre")
    y, z = driving_axis(s)
    across = 4.0
    for way in np.array([(1.0, 0.0), (0.0, 1.0)]):
        sheet.line([end.at(y=y, z=z) - way * across, end.at(y=y, z=z) + way * across], "centre")
    for name in ("swing_over_bed", "swing_over_slide"):
        if getattr(s, name) > 0:
            sheet.circle(middle, getattr(s, name) * 1000 / end.scale, "phantom", name=f"circle-{name}")
    for part in _HIDDEN:
        for solid in arrangement.parts[part]:
            outline = front.view.outline(solid)
            sheet.line(front.flat(np.vstack([outline, outline[:1]])), "hidden")
    # the barrel as far out as it works; the centre in the spindle, in place of the chuck; the cross-slide drawn back
    half, face = s.barrel_diameter / 2, s.tail_front - s.barrel_overhang
    sheet.line(
        [
            front.at(x=s.tail_front, z=s.centre_height + half),
            front.at(x=face, z=s.centre_height + half),
            front.at(x=face, z=s.centre_height - half),
            front.at(x=s.tail_front, z=s.centre_height - half),
        ],
        "phantom",
    )
    nose = s.taper_diameter / 2
    sheet.line(
        [
            front.at(x=0.0, z=s.centre_height + nose),
            front.at(x=s.point, z=s.centre_height),
            front.at(x=0.0, z=s.centre_height - nose),
        ],
        "phantom",
    )
    slide = arrangement.parts["cross-slide"][0].bounds
    back = slide[0, 1] - s.cross_slide_travel
    sheet.line(
        [
            plan.at(x=slide[0, 0], y=slide[0, 1]),
            plan.at(x=slide[0, 0], y=back),
            plan.at(x=slide[1, 0], y=back),
            plan.at(x=slide[1, 0], y=slide[0, 1]),
        ],
        "phantom",
    )
    # bolts of the headstock, under it
    middle_x = (s.head_rear + s.head_front) / 2
    for end_of, x in (("rear", middle_x - s.fixing_spacing / 2), ("front", middle_x + s.fixing_spacing / 2)):
        for side, y in (("far", -0.6 * s.head_half), ("near", 0.6 * s.head_half)):
            at = plan.at(x=x, y=y)
            sheet.circle(at, s.bolt_diameter * 1000 / plan.scale, "hidden", name=f"circle-bolt-{end_of}-{side}")
            for way in np.array([(1.0, 0.0), (0.0, 1.0)]):
                sheet.line([at - 1.8 * way, at + 1.8 * way])


def _figure(e: Evaluation, name: str) -> str:
    """A size in the learner's unit, which is told once for the whole sheet."""
    return number(in_unit(e[name], _MM, e.design.system))


# --- sizes ----------------------------------------------------------------------------------------------
def _dimensions(sheet: Paper, views: dict[str, _Placed], e: Evaluation, arrangement: Arrangement) -> None:
    """The sizes that matter, each between the places where the arrangement has it."""
    s = arrangement.sizes
    front, end, plan = (views[name] for name in _FREE)
    step = 2.9 * sheet.capitals
    bottom, top = front.at(z=s.bench)[1] - 2, front.flat(front.high[None])[0, 1]

    def level(placed: _Placed, name: str, start: float, stop: float, z: float, row: float) -> None:
        here, there = (placed.at(x=x, y=z, z=z) for x in (start, stop))
        sheet.dimension(here, there, _figure(e, name), (0.0, row - here[1]), f"size-{name}")

    level(front, "between_centres", s.point, s.tail_point, s.centre_height, bottom - step)
    middle, half = (s.bed_start + s.bed_end) / 2, s.foot_spacing / 2
    level(front, "foot_spacing", middle - half, middle + half, s.under, bottom - 2 * step)
    level(front, "bed_length", s.bed_start, s.bed_end, s.under, bottom - 3 * step)
    level(front, "bearing_span", s.rear_bearing, s.front_bearing, s.centre_height, top + 0.5 * step)
    level(front, "spindle_overhang", s.front_bearing, 0.0, s.centre_height, top + 1.5 * step)
    level(
        plan,
        "fixing_spacing",
        (s.head_rear + s.head_front - s.fixing_spacing) / 2,
        (s.head_rear + s.head_front + s.fixing_spacing) / 2,
        0.6 * s.head_half,
        plan.flat(plan.high[None])[0, 1] + 0.4 * step,
    )
    low = plan.flat(plan.low[None])[0, 1]
    level(
        plan,
        "saddle_length",
        s.saddle_middle - s.saddle_length / 2,
        s.saddle_middle + s.saddle_length / 2,
        -s.half,
        low - 0.9 * step,
    )
    level(plan, "tailstock_base", s.tail_front, s.tail_end, -s.half, low - 0.9 * step)
    side = front.flat(front.high[None])[0, 0] + 0.9 * step
    for name, below, above in (
        ("centre_height", 0.0, s.centre_height),
        ("bed_depth", s.under, 0.0),
        ("riser_height", s.bench, s.under),
    ):
        if above > below:
            here, there = front.at(x=s.bed_end, z=below), front.at(x=s.bed_end, z=above)
            sheet.dimension(here, there, _figure(e, name), (side - here[0], 0.0), f"size-{name}")
    here, there = plan.at(x=s.bed_end, y=-s.half), plan.at(x=s.bed_end, y=s.half)
    sheet.dimension(
        here, there, _figure(e, "bed_width"), (plan.flat(plan.high[None])[0, 0] + 0.6 * step - here[0], 0.0), "size-bed_width"
    )
    y, z = driving_axis(s)
    sheet.dimension(end.at(z=s.centre_height), end.at(y=y, z=z), _figure(e, "belt_centres"), (0.0, 0.0), "size-belt_centres")
    for name, turn in (("swing_over_bed", 125.0), ("swing_over_slide", 145.0)):
        if getattr(s, name) > 0:
            way = np.array([np.cos(np.radians(turn)), np.sin(np.radians(turn))])
            place = end.at(z=s.centre_height) + way * getattr(s, name) / 2 * 1000 / end.scale
            edge = np.array(
                [
                    end.flat(end.low[None])[0, 0],
                    end.flat(end.high[None])[0, 1] + 1 + (0.0 if name == "swing_over_slide" else sheet.row),
                ]
            )
            words = "Ø " + _figure(e, name)
            sheet.line([place, (edge[0] + sheet.width_of(words), edge[1]), edge])
            sheet.text(edge[0], edge[1] + 0.5, words, va="bottom")


# --- numbers and words --------------------------------------------------------------------------------------
def _numbers(
    sheet: Paper, views: dict[str, _Placed], places: dict[str, dict[str, tuple[np.ndarray, int]]], parts: list[Named]
) -> None:
    """A number on each part, in the view that shows most of it."""
    shared = _shared_out(sheet, views, places, parts)
    for name, put in (("front", 1), ("from above", -1), ("from the tailstock", -1)):
        placed, mine = views[name], []
        for one in parts:
            if shared.get(one.part) == name:
                mine.append((one.number, placed.flat(places[name][one.part][0][None])[0]))
        if not mine:
            continue
        left, right = placed.flat(placed.low[None])[0, 0], placed.flat(placed.high[None])[0, 0]
        row = (
            placed.flat(placed.high[None])[0, 1] + 9.8 * sheet.capitals
            if put > 0
            else placed.at(z=placed.low[1], y=placed.low[1])[1] - (4.5 if name == "from the tailstock" else 6.4) * sheet.capitals
        )
        room = 3.0 * sheet.capitals
        for (figure, at), x in zip(
            mine, parted([at[0] for _, at in mine], room, left - 4, max(right + 4, left - 4 + room * len(mine)))
        ):
            sheet.line([(x, row - put * 1.1 * sheet.capitals), at], colour="#404040")
            sheet.axes.add_patch(Circle(at, 0.25, color="black", lw=0, zorder=5))
            sheet.circle((x, row), 2.3 * sheet.capitals)
            sheet.text(x, row, str(figure), ha="center", va="center_baseline", size=0.9)


def _shared_out(
    sheet: Paper, views: dict[str, _Placed], places: dict[str, dict[str, tuple[np.ndarray, int]]], parts: list[Named]
) -> dict[str, str]:
    """In which view each part has its number: where most of it is seen, as long as the row of numbers there has room."""
    room = {name: int((placed.size[0] + 12) // (3.0 * sheet.capitals)) for name, placed in views.items()}
    found = {}
    for one in sorted(parts, key=lambda one: sum(one.part in seen for seen in places.values())):
        seen = sorted((name for name in places if one.part in places[name]), key=lambda name: -places[name][one.part][1])
        if seen:
            name = next((name for name in seen if room[name] > 0), seen[0])
            found[one.part] = name
            room[name] -= 1
    return found


def _notes(sheet: Paper, block: _Room, arrangement: Arrangement) -> None:
    """What is in the way of what, and what is to be minded, beside the title."""
    left, bottom, *_ = sheet.frame
    y = bottom + HEIGHT - 3
    for words in (
        *arrangement.remarks,
        _LINES.format(unit={"mm": "mm", "inch": "inches"}[arrangement.sizes.figures.design.system]),
        GUARDS,
    ):
        size = 0.8
        for line in _most(note_lines(sheet, words, block[0] - left - 3, size)):
            sheet.text(left + 2, y, line, size=size, weight="bold" if words in arrangement.remarks else "normal")
            y -= sheet.row * size


def _most(lines: list[str], most: int = 4) -> list[str]:
    """No more lines than there is room for: a design with so much in the way is told the rest in its chapters."""
    return lines if len(lines) <= most else [*lines[: most - 1], "and more."]


def _list(sheet: Paper, views: dict[str, _Placed], parts: list[Named], block: _Room) -> list[_Room]:
    """The names, beside the views or in the corner they leave; gives what room is left, the largest first."""
    _, _, right, top = sheet.frame
    edges = {name: (placed.flat(placed.low[None])[0], placed.flat(placed.high[None])[0]) for name, placed in views.items()}
    furthest = max(high[0] for _, high in edges.values()) + _FREE["front"][2] * sheet.capitals
    size, row = 0.9, sheet.row * 0.9
    wide = max(sheet.width_of(f"{one.number}  {one.part}", size) for one in parts) + 3
    high = edges["front"][1][1] if edges["from above"][0][1] < edges["front"][0][1] else edges["from above"][1][1]
    rooms = [(furthest, min(top - 5, high), right, block[3] + 2)]  # beside everything, below the row of numbers
    low = edges["from above"][0]
    corner = (edges["from the tailstock"][0][0], edges["from the tailstock"][1][0])
    if low[1] < edges["front"][0][1]:  # the plan below: the corner under the end view
        rooms.append((corner[0], edges["from the tailstock"][0][1] - 14, max(corner[1], corner[0] + wide), block[3] + 2))
    else:
        rooms.append((corner[0], top - 5, right, edges["from the tailstock"][1][1] + 14))
    best = max(rooms, key=lambda room: int((room[2] - room[0]) // wide) * max(int((room[1] - room[3]) // row), 0))
    rows = max(int((best[1] - best[3]) // row), 1)
    columns = max(int((best[2] - best[0]) // wide), 1)
    rows = max(-(-len(parts) // columns), min(rows, 12))
    for place, one in enumerate(parts):
        x, y = best[0] + wide * (place // rows), best[1] - row * (place % rows)
        sheet.text(x + 5, y, str(one.number), ha="right", size=size)
        sheet.text(x + 6.5, y, one.part, size=size)
    left_over = [room if room is not best else (best[0], best[3], best[2], best[1] - row * rows - 1) for room in rooms]
    return sorted(left_over, key=lambda room: -min(room[2] - room[0], 2.5 * (room[3] - room[1])))


def _words(e: Evaluation, arrangement: Arrangement, scale: int, projection: str) -> str:
    told = (
        f"General arrangement of the lathe at 1 : {scale}, {projection}-angle projection: from the front, from the tailstock end and from above. "
        f"Centre height {e.shown('centre_height')}, {e.shown('between_centres')} between centres, swing {e.shown('swing_over_bed')} over the bed and "
        f"{e.shown('swing_over_slide')} over the cross-slide; bed: {e['bed_form']}, {e.shown('bed_length')} long and {e.shown('bed_width')} wide, on {e['feet']}; "
        f"bearings: {e['bearing_kind']}, {e.shown('bearing_span')} apart; drive: {e['drive_kind']}, {e['belt_kind']} of {e['belt_steps']} steps; slides: {e['slide_kind']}."
    )
    return " ".join([told, *arrangement.remarks])
