"""Chapter 17: how the tests are set up, what came out before and after, and the lathe in front of whoever works at it."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from matplotlib.axes import Axes

from ... import units
from ...design.evaluation import Evaluation
from ...design.measured.acceptance import TESTS, Allowed, Test, allowed, in_order
from ...design.measured.readings_judged import Tested, judged
from ...nearest import nearest_or_stop
from ...units import Length
from .axes import bare, middle, parted, shown, wrapped
from .drawing import METAL, box, dimension, disc, shape, to_scale
from .register import NothingToDraw, picture
from .style import INK, MUTED, PALETTE, STATUS, filled

_MM = Length("mm")

# --- how a test is set up ---------------------------------------------------------------------------------
# a sheet of 100 by 44: the axis of the spindle at _AXIS, from the front or from above
_AXIS, _NOSE = 27.0, 34.0
_FRONT, _ABOVE, _END = (
    "seen from the tool's side",
    "seen from above, the tool's side below",
    "seen from the tailstock end, the tool's side left",
)


def _bed(axes: Axes, view: str) -> None:
    if view == _ABOVE:
        for low in (15.0, 35.0):
            box(axes, 4, low, 97, low + 4, facecolor="white", edgecolor=MUTED)
    else:
        box(axes, 4, 10, 97, 16, facecolor="white", edgecolor=MUTED)


def _headstock(axes: Axes, view: str) -> None:
    low, high = (13, 41) if view == _ABOVE else (16, 38)
    box(axes, 6, low, 30, high, facecolor="white")
    box(axes, 30, _AXIS - 4, _NOSE, _AXIS + 4)
    axes.plot([4, 72], [_AXIS, _AXIS], color=MUTED, lw=1, ls=(0, (12, 3, 2, 3)), zorder=1)


def _tailstock(axes: Axes, view: str) -> None:
    low, high = (13, 41) if view == _ABOVE else (16, 36)
    box(axes, 80, low, 94, high, facecolor="white")
    box(axes, 68, _AXIS - 2.5, 80, _AXIS + 2.5)


def _dial(axes: Axes, x: float, y: float, number: str, way: tuple[float, float] = (0.0, 1.0)) -> None:
    """An indicator that touches (x, y) and comes from the direction ``way``, with its place as a number."""
    axes.plot([x, x + 4 * way[0]], [y, y + 4 * way[1]], color=PALETTE["red"], lw=2.5, solid_capstyle="butt", zorder=6)
    disc(axes, x + 6.5 * way[0], y + 6.5 * way[1], 5.4, facecolor="white", edgecolor=PALETTE["red"], linewidth=2, zorder=6)
    axes.text(x + 6.5 * way[0], y + 6.5 * way[1] - 0.15, number, ha="center", va="center", size=11, zorder=7)


def _level(axes: Axes, x: float, y: float, number: str, upright: bool) -> None:
    wide, tall = (4, 17) if upright else (16, 4)
    box(
        axes,
        x - wide / 2,
        y - tall / 2,
        x + wide / 2,
        y + tall / 2,
        facecolor="white",
        edgecolor=PALETTE["red"],
        linewidth=2,
        zorder=6,
    )
    axes.text(x, y, number, ha="center", va="center", size=11, zorder=7)


def _bar(axes: Axes, length: float = 30.0) -> None:
    box(axes, _NOSE, _AXIS - 2, _NOSE + length, _AXIS + 2)


def _dials(axes: Axes, places: tuple[float, ...], view: str, y: float = 2.0, names: str = "12") -> None:
    """Indicators at ``places`` along the bar: on top seen from the front, on the tool's side seen from above."""
    way = (0.0, 1.0) if view == _FRONT else (0.0, -1.0)
    for x, name in zip(places, names):
        _dial(axes, x, _AXIS + y * way[1], name, way)


def _on_bar(view: str, *places: float, tail: bool = False) -> tuple[str, Callable[[Axes], None]]:
    def draw(axes: Axes) -> None:
        _headstock(axes, view)
        if tail:
            _centred(axes, view)
        else:
            _bar(axes)
        _dials(axes, places, view)

    return view, draw


def _on_barrel(view: str) -> tuple[str, Callable[[Axes], None]]:
    def draw(axes: Axes) -> None:
        _tailstock(axes, view)
        box(axes, 52, _AXIS - 2.5, 68, _AXIS + 2.5)
        _dials(axes, (77.0, 54.0), view, 2.5)

    return view, draw


def _across(axes: Axes) -> None:
    _headstock(axes, _ABOVE)
    _level(axes, 40, _AXIS, "1", True)
    _level(axes, 90, _AXIS, "2", True)


def _along(axes: Axes) -> None:
    _headstock(axes, _FRONT)
    for number, x in enumerate((44, 62, 80), 1):
        _level(axes, x, 18.2, str(number), False)


def _way(axes: Axes) -> None:
    _headstock(axes, _ABOVE)
    _tailstock(axes, _ABOVE)
    _dial(axes, 84, 13, "2", (0.0, -1.0))
    _dial(axes, 52, 13, "1", (0.0, -1.0))
    axes.annotate("", (58, 8), (78, 8), arrowprops={"arrowstyle": "<->", "color": MUTED})


def _run_out(places: tuple[float, ...], length: float, y: float) -> tuple[str, Callable[[Axes], None]]:
    def draw(axes: Axes) -> None:
        _headstock(axes, _FRONT)
        if length:
            _bar(axes, length)
        _dials(axes, places, _FRONT, y, "↻↻")

    return _FRONT, draw


def _axial(axes: Axes) -> None:
    _headstock(axes, _FRONT)
    disc(axes, _NOSE + 0.8, _AXIS, 2.2, facecolor=METAL)
    _dial(axes, _NOSE + 2, _AXIS, "↻", (1.0, 0.0))
    axes.annotate(
        "", (6, _AXIS - 8), (-1, _AXIS - 8), arrowprops={"arrowstyle": "-|>", "color": MUTED, "lw": 2}, annotation_clip=False
    )


def _face(axes: Axes) -> None:
    _headstock(axes, _ABOVE)
    box(axes, _NOSE, _AXIS - 12, _NOSE + 4, _AXIS + 12)
    _dial(axes, _NOSE + 4, _AXIS - 10.5, "1", (1.0, 0.0))
    _dial(axes, _NOSE + 4, _AXIS, "2", (1.0, 0.0))


def _on_plate(axes: Axes) -> None:
    box(axes, 12, 10, 88, 16, hatch="////", facecolor="white", edgecolor=MUTED)
    shape(axes, [(26, 16), (74, 16), (74, 24), (50, 22.6), (26, 24)])
    _dial(axes, 29, 23.8, "1")
    _dial(axes, 50, 22.6, "2")


def _collars(axes: Axes) -> None:
    _headstock(axes, _FRONT)
    _bar(axes, 34)
    for number, x in enumerate((40, 63), 1):
        box(axes, x - 2.5, _AXIS - 4, x + 2.5, _AXIS + 4)
        axes.text(x, _AXIS + 6.5, str(number), ha="center", va="center", size=11)


def _round(axes: Axes) -> None:
    disc(axes, 50, _AXIS + 1, 20)
    for number in range(8):
        angle = np.pi / 4 * number
        axes.text(50 + 13.5 * np.sin(angle), _AXIS + 1 + 13.5 * np.cos(angle), str(number + 1), ha="center", va="center", size=11)
    shape(axes, [(34, 10), (50, 17), (66, 10)], facecolor="white", edgecolor=MUTED, zorder=0)


def _centred(axes: Axes, view: str) -> None:
    """A bar between centres."""
    _tailstock(axes, view)
    for point, back in ((38, 34), (64, 68)):
        shape(axes, [(point, _AXIS), (back, _AXIS - 2), (back, _AXIS + 2)])
    box(axes, 36.5, _AXIS - 2, 65.5, _AXIS + 2)


def _between(axes: Axes) -> None:
    _headstock(axes, _ABOVE)
    _centred(axes, _ABOVE)
    for number, x in enumerate((41, 61), 1):
        axes.text(x, _AXIS + 6, str(number), ha="center", va="center", size=11)


def _screw(axes: Axes) -> None:
    box(axes, 8, 19, 90, 22, hatch="////", facecolor="white")
    box(axes, 46, 16, 60, 30, facecolor="white")
    axes.text(53, 26, "saddle", ha="center", va="center", size=11, color=MUTED)
    axes.annotate("", (40, 33), (66, 33), arrowprops={"arrowstyle": "<->", "color": MUTED})


def _slip(axes: Axes) -> None:
    box(axes, 8, 19, 84, 22, hatch="////", facecolor="white")
    box(axes, 12, 15, 20, 26, facecolor="white")
    _dial(axes, 84, 20.5, "↻", (1.0, 0.0))


_SET_UPS: dict[str, tuple[str, Callable[[Axes], None]]] = {
    "level across": (_ABOVE, _across),
    "bed straight": (_FRONT, _along),
    "tailstock way": (_ABOVE, _way),
    "nose run-out": _run_out((32.0,), 0.0, 4.0),
    "axial slip": (_FRONT, _axial),
    "taper run-out": _run_out((38.0,), 30.0, 2.0),
    "taper run-out at the end": _run_out((38.0, 62.0), 30.0, 2.0),
    "axis rises": _on_bar(_FRONT, 39.0, 61.0),
    "axis sideways": _on_bar(_ABOVE, 39.0, 61.0),
    "cross-slide square": (_ABOVE, _face),
    "topslide level": _on_bar(_FRONT, 42.0, 56.0),
    "barrel rises": _on_barrel(_FRONT),
    "barrel sideways": _on_barrel(_ABOVE),
    "tailstock height": _on_bar(_FRONT, 39.0, 61.0, tail=True),
    "lead of the screw": (_FRONT, _screw),
    "slip of the screw": (_FRONT, _slip),
    "collars": (_FRONT, _collars),
    "roundness": ("the work seen from its end", _round),
    "bar between centres": (_ABOVE, _between),
    "faced disc": ("on a flat plate, its hollow drawn too large", _on_plate),
}


def _wanted(test: str) -> Test:
    if test not in TESTS:
        raise NothingToDraw(f"There is no test called {test!r}{nearest_or_stop(test, TESTS, most=3)}")
    return TESTS[test]


def _allowed(e: Evaluation, test: Test) -> Allowed:
    return allowed(test, e.central.values_si)


def allowed_words(e: Evaluation, test: Test) -> str:
    """How far a test may be out and who asks it, with the length it holds for."""
    may = _allowed(e, test)
    whose = "your own work" if may.from_work else f"class {e['acceptance_class']}"
    over = f" over {shown(e, test.over, _MM)}" if test.over and test.reading != "level ends" else ""
    way = {"either": "either way", "plus": "one way only", "total": "in all"}[test.sense]
    return f"{units.shown(may.limit, test.kind, e.design.system)}{over}, {way} ({whose})"


def _set_up_words(e: Evaluation, test: str = "axis sideways") -> str:
    one = _wanted(test)
    first = one.set_up_in(e.design.system)
    return (
        f"Test {one.number}, {one.name}, {_SET_UPS[test][0]}. Instrument: {one.instrument}. {first[0].upper()}{first[1:]}. "
        f"Allowed: {allowed_words(e, one)}."
    )


@picture("How a test is set up", _set_up_words, height=4.9, panels=((0.0, 0.28, 1.0, 0.72), (0.03, 0.0, 0.94, 0.28)))
def test_set_up(e: Evaluation, axes: tuple[Axes, Axes], test: str = "axis sideways") -> None:
    """Headstock, bed and what is read, in the order of the numbers."""
    one = _wanted(test)
    drawing, words = axes
    view, draw = _SET_UPS[test]
    bare(drawing, equal=True)
    drawing.set_xlim(-2, 102)
    drawing.set_ylim(2, 47)
    if view in (_FRONT, _ABOVE):
        _bed(drawing, view)
    draw(drawing)
    drawing.text(0, 46, f"{one.number} {one.name}: {view}", ha="left", va="top", weight="bold")
    bare(words)
    words.set_xlim(0, 1)
    words.set_ylim(0, 1)
    width = words.bbox.width
    first = one.set_up_in(e.design.system)
    lines = [wrapped(f"{first[0].upper()}{first[1:]}.", width), wrapped(f"Allowed: {allowed_words(e, one)}.", width)]
    words.text(0, 0.97, "\n".join(lines), ha="left", va="top", linespacing=1.25)


# --- what came out -------------------------------------------------------------------------------------------
#: bars end here, in limits; what is longer says so
_LONGEST = 3.0


def _made(e: Evaluation) -> list[str]:
    sheet = judged(e)
    made = [name for name in in_order() if sheet.last(name)]
    if not made:
        raise NothingToDraw("There are no readings yet. Fill in the test sheet, and the errors stand here, before and after.")
    return made


def _figure(e: Evaluation, found: Tested) -> str:
    return units.shown(found.value, found.test.kind, e.design.system)


def _both(e: Evaluation, found: list[Tested]) -> str:
    """'24 → 4 µm', the unit once."""
    kind, system = found[0].test.kind, e.design.system
    figures = " → ".join(units.number(units.in_unit(one.value, kind, system), 2) for one in found)
    return f"{figures} {units.unit_text(kind, system)}"


def _read_out_words(e: Evaluation) -> str:
    sheet, said = judged(e), []
    for name in _made(e):
        both = [(when, found) for when in ("before", "after") if (found := sheet.tested.get((name, when)))]
        said.append(f"{name} " + ", ".join(f"{_figure(e, found)} {when} ({found.mark} {found.status})" for when, found in both))
    return f"Errors read, each against what is allowed: {'; '.join(said)}."


@picture("Errors before and after, each against its limit", _read_out_words, height=6.2, panels=((0.27, 0.10, 0.45, 0.84),))
def errors_read_out(e: Evaluation, axes: Axes) -> None:
    """A pair of bars for each test: found before, found after, as a share of what is allowed."""
    sheet, made = judged(e), _made(e)
    rows = np.arange(len(made))[::-1]
    axes.set_xlim(0, _LONGEST)
    axes.set_ylim(-0.6, len(made) - 0.4)
    axes.axvline(1.0, color=INK, ls="--", lw=1.5)
    axes.text(1.0, 1.005, "allowed", transform=axes.get_xaxis_transform(), ha="center", va="bottom")
    for row, name in zip(rows, made):
        whens = [when for when in ("before", "after") if (name, when) in sheet.tested]
        for when in whens:
            found = sheet.tested[name, when]
            share = abs(found.value) / found.allowed.limit
            _, colour, hatch = STATUS[found.status]
            # two bars share a row, one has it alone
            tall, at = (0.7, row) if len(whens) == 1 else (0.36, row + (0.2 if when == "before" else -0.2))
            axes.barh(at, min(share, _LONGEST), tall, **filled(colour, hatch))
    for row, name in zip(rows, made):
        axes.annotate(
            f"{sheet.last(name).mark} {_both(e, [sheet.tested[name, when] for when in ('before', 'after') if (name, when) in sheet.tested])}",
            (1.0, row),
            xycoords=("axes fraction", "data"),
            xytext=(6, 0),
            textcoords="offset points",
            ha="left",
            va="center",
            annotation_clip=False,
        )
    axes.set_yticks(rows, made)
    axes.tick_params(axis="y", length=0)
    axes.set_xticks(np.arange(0, _LONGEST + 0.5), [*map(str, range(int(_LONGEST))), f"{_LONGEST:.0f} or more"])
    axes.set_xlabel("share of the limit; upper bar before, lower bar after", labelpad=3)


# --- in front of the lathe --------------------------------------------------------------------------------------
def _elbow_words(e: Evaluation) -> str:
    off = middle(e, "elbow_above_spindle")
    where = "below" if off >= 0 else "above"
    return (
        f"The bench is {e.shown('bench_height')} high; with riser, bed and centre height the spindle stands {e.shown('spindle_height')} above the floor, "
        f"{shown(e, abs(off), _MM)} {where} an elbow at {e.shown('elbow_height')}."
    )


@picture("The spindle against the elbow", _elbow_words, height=5.0, panels=((0.02, 0.02, 0.96, 0.96),))
def at_the_lathe(e: Evaluation, axes: Axes) -> None:
    """Whoever works there beside bench, riser, bed and spindle, to one scale."""
    bench, riser, elbow = (middle(e, name) for name in ("bench_height", "riser_height", "elbow_height"))
    bed, centre, spindle = middle(e, "bed_depth"), middle(e, "centre_height"), middle(e, "spindle_height")
    width = max(middle(e, "bed_width"), 0.05)
    stature = elbow / 0.645
    high = max(stature, spindle + 0.1)
    per_point = to_scale(axes, (-0.65, 0.0), (0.75, high), (20, 14, 170, 16))
    axes.plot(axes.get_xlim(), [0, 0], color=MUTED, lw=2)
    _person(axes, -0.32, stature, elbow)
    box(axes, -0.12, bench - 0.04, 0.55, bench, facecolor="white")
    for x in (-0.06, 0.45):
        box(axes, x, 0, x + 0.05, bench - 0.04, facecolor="white", edgecolor=MUTED)
    middle_of_bed = 0.14
    if riser > 0:
        box(
            axes,
            middle_of_bed - width / 2,
            bench,
            middle_of_bed + width / 2,
            bench + riser,
            facecolor="white",
            hatch="//",
            edgecolor=MUTED,
        )
    box(axes, middle_of_bed - width / 2, bench + riser, middle_of_bed + width / 2, bench + riser + bed)
    disc(axes, middle_of_bed, spindle, max(centre * 0.9, 0.02), facecolor="white")
    disc(axes, middle_of_bed, spindle, 0.012, facecolor=INK)
    right = 0.62
    axes.plot([-0.30, right], [elbow, elbow], color=PALETTE["blue"], ls="--", lw=2)
    axes.plot([middle_of_bed, right], [spindle, spindle], color=PALETTE["red"], lw=2)
    _beside(axes, e, right, elbow, spindle, bench, per_point)


def _person(axes: Axes, x: float, stature: float, elbow: float) -> None:
    """An outline that stands at x, the upper arm hanging, the forearm level: what an elbow height is measured on."""
    grey = {"color": MUTED, "lw": 3, "solid_capstyle": "round", "zorder": 3}
    shoulder, hip = 0.82 * stature, 0.53 * stature
    disc(axes, x, 0.93 * stature, 0.13 * stature, facecolor="white", edgecolor=MUTED, linewidth=3)
    axes.plot([x, x], [0.865 * stature, hip], **grey)
    axes.plot([x, x - 0.05], [hip, 0.02], **grey)
    axes.plot([x, x + 0.07], [hip, 0.02], **grey)
    axes.plot([x, x + 0.02, x + 0.28], [shoulder, elbow, elbow], **{**grey, "color": PALETTE["blue"]})


def _beside(axes: Axes, e: Evaluation, x: float, elbow: float, spindle: float, bench: float, per_point: float) -> None:
    lines = [
        (elbow, f"elbow {e.shown('elbow_height')}", PALETTE["blue"]),
        (spindle, f"spindle {e.shown('spindle_height')}", PALETTE["red"]),
        (bench, f"bench {e.shown('bench_height')}", MUTED),
    ]
    places = parted([one[0] for one in lines], 17 * per_point)
    for (_, words, colour), at in zip(lines, places):
        axes.text(x + 8 * per_point, at, words, ha="left", va="center", color=colour if colour != MUTED else INK)
    off = middle(e, "elbow_above_spindle")
    if abs(elbow - spindle) / per_point > 24:
        dimension(axes, (-0.06, spindle), (-0.06, elbow), "", per_point)
    verdict = e.findings["spindle_at_elbow"]
    axes.text(
        x + 8 * per_point,
        min(places) - 30 * per_point,
        f"{verdict.mark} {verdict.status}: {shown(e, abs(float(np.median(off))), _MM)} off",
        ha="left",
        va="center",
        weight="bold",
    )
