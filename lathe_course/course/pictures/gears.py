"""Chapter 09: a train of change gears to scale, and how an error of pitch runs away along a thread."""

from __future__ import annotations

import numpy as np
from matplotlib.axes import Axes
from matplotlib.patches import Circle, Polygon

from ... import units
from ...design.chain.wheel_set import Drive
from ...design.evaluation import Evaluation
from ...machine.change_gears import Place, Train, best_train
from ...units import Length, Pitch, Ratio
from .axes import bare, middle, parted, shown, wrapped
from .register import NothingToDraw, picture
from .style import INK, LINES, MUTED, pale, text_size

_MM, _UM, _PITCH, _SHARE = Length("mm"), Length("µm"), Pitch("mm", "P", above=0, at_most=25), Ratio("%")
_INCH = 25.4e-3
#: share of the width that the words beside a train need
_WORDS = 0.47


# --- pitches -----------------------------------------------------------------------------------------
def pitch_said(e: Evaluation, si: float, digits: int = 4, both: bool = False) -> str:
    """A pitch as its reader knows it: '1.25 mm', '3.175 mm (8 per inch)', or '8 per inch' where inches are read.

    With ``both`` a reader of inches is told as well what a metric pitch is called.
    """
    count, hundredths = _INCH / si, si * 1e5
    metric = abs(hundredths - 5 * round(hundredths / 5)) < 1e-6
    neat = abs(count * 2 - round(count * 2)) < 1e-6 and not metric
    said = shown(e, si, _PITCH, digits)
    if e.design.system == "inch":
        return f"{units.number(count)} per inch" if neat else f"{said} ({units.shown(si, _PITCH)})" if both and metric else said
    return f"{said} ({units.number(count)} per inch)" if neat else said


def wanted_pitch(e: Evaluation, pitch: str) -> float:
    """The pitch asked for in SI; without one that of the first thread."""
    return float(units.read(pitch, _PITCH, "pitch")) if pitch else middle(e, "practice_pitch")


def _train(e: Evaluation, pitch: str) -> tuple[Drive, float, Train]:
    drive, wanted = Drive.of(e.middle), wanted_pitch(e, pitch)
    train = best_train(drive.teeth, drive.place, drive.ratio(wanted))
    if train is None:
        raise NothingToDraw(
            f"No train of your wheels spans from shaft to shaft: the leadscrew is {e.shown('gear_centres')} away, "
            f"and the stud reaches {e.shown('banjo_reach')} from it."
        )
    return drive, wanted, train


def _verdict(e: Evaluation, drive: Drive, wanted: float, train: Train, pitch: str) -> str:
    """What the train cuts, under the name of the first thread where no other pitch is asked for."""
    said = _cuts(e, drive, wanted, train)
    return said if pitch else f"{e['practice_thread']}: {said[0].lower()}{said[1:]}"


def _cuts(e: Evaluation, drive: Drive, wanted: float, train: Train) -> str:
    cut = pitch_said(e, drive.pitch_of(train), 5)
    if train.error == 0:
        return f"Cuts {cut}, exactly"
    return f"{pitch_said(e, wanted)} wanted, cuts {cut}: {units.number(100 * abs(train.error), 2)} % too {'coarse' if train.error > 0 else 'fine'}"


def _shafts(train: Train) -> list[str]:
    """What sits on each shaft, from the first driver to the leadscrew."""
    if train.idler:
        return [
            f"first driver, {train.wheels[0]} teeth",
            f"idler on the banjo's stud, {train.idler} teeth",
            f"on the leadscrew, {train.wheels[1]} teeth",
        ]
    a, b, c, d = train.wheels
    return [
        f"first driver, {a} teeth",
        f"on the stud, fast to each other: driven {b}, driver {c}",
        f"on the leadscrew, {d} teeth",
    ]


# --- train -------------------------------------------------------------------------------------------
def _train_words(e: Evaluation, pitch: str = "") -> str:
    drive, wanted, train = _train(e, pitch)
    return (
        f"Change wheels seen from the end of the lathe, drawn to scale, {e.design['wheel_size']}: {train.written}. From the top: "
        f"{'; '.join(_shafts(train))}. Leadscrew of {pitch_said(e, drive.leadscrew_pitch)}, "
        f"the stud at most {e.shown('banjo_reach')} from it (a dotted arc). {_verdict(e, drive, wanted, train, pitch)}."
    )


@picture("A train of change gears", _train_words, panels=((0.02, 0.03, 0.96, 0.94),))
def gear_train(e: Evaluation, axes: Axes, pitch: str = "") -> None:
    """Spindle side above, leadscrew below, stud on the banjo between; wheels in front filled, those behind open."""
    drive, wanted, train = _train(e, pitch)
    place = drive.place
    stud = train.stud(place)
    spots = [(0.0, place.centres), stud, (0.0, 0.0)]
    if train.idler:
        wheels = [(spots[0], train.wheels[0], 1), (spots[1], train.idler, 1), (spots[2], train.wheels[1], 1)]
    else:
        a, b, c, d = train.wheels
        wheels = [(spots[0], a, 0), (spots[1], b, 0), (spots[1], c, 1), (spots[2], d, 1)]
    _frame(axes, wheels, place)
    phases = _phases(wheels, bool(train.idler))
    for (spot, teeth, front), phase, (colour, _) in zip(wheels, phases, LINES):
        axes.add_patch(
            Polygon(
                _outline(spot, teeth, place.module, phase),
                closed=True,
                facecolor=pale(colour, 0.25) if front else "none",
                edgecolor=colour,
                lw=1.3 if front else 0.9,
                zorder=3 if front else 4,
            )
        )
    for spot in spots:
        axes.add_patch(Circle(spot, place.shaft / 2, facecolor="none", edgecolor=INK, lw=1.2, ls=":", zorder=6))
        axes.add_patch(Circle(spot, 0.3 * place.shaft, facecolor="white", edgecolor=INK, lw=1.3, zorder=6))
        axes.plot(*spot, "+", color=INK, markersize=7, zorder=7)
    axes.plot(*zip(spots[2], spots[1]), color=MUTED, lw=5, alpha=0.35, solid_capstyle="round", zorder=2)
    _reach(axes, place)
    _write(e, axes, spots, _shafts(train), _verdict(e, drive, wanted, train, pitch), not train.idler)


def _frame(axes: Axes, wheels: list, place: Place) -> None:
    """Limits in the shape of the axes, which keep the drawing to scale, and leave the right of it to words."""
    bare(axes)
    tips = [(x, y, place.module * (z + 2) / 2) for (x, y), z, _ in wheels]
    left, right = min(x - r for x, _, r in tips), max(x + r for x, _, r in tips)
    low, high = min(y - r for _, y, r in tips), max(y + r for _, y, r in tips)
    box = axes.bbox
    width = max((high - low) * 1.02 * box.width / box.height, (right - left) * 1.02 / (1 - _WORDS))
    height = width * box.height / box.width
    axes.set_xlim(left - 0.005 * width, left - 0.005 * width + width)
    axes.set_ylim((low + high - height) / 2, (low + high + height) / 2)


def _reach(axes: Axes, place: Place) -> None:
    """An arc round the leadscrew: no farther can the stud be set.  It stops short of the words."""
    (left, right), (low, high) = axes.get_xlim(), axes.get_ylim()
    angle = np.radians(np.linspace(-90, 90, 361))
    x, y = place.reach * np.cos(angle), place.reach * np.sin(angle)
    inside_drawing = (x < right - _WORDS * (right - left)) & (y > low) & (y < high)
    axes.plot(np.where(inside_drawing, x, np.nan), y, color=MUTED, lw=1.2, ls=(0, (1, 2)), zorder=1)


def _outline(spot: tuple[float, float], teeth: int, module: float, phase: float) -> np.ndarray:
    """Plain teeth: as wide as their gaps at the pitch circle, a module up and a module and a quarter down."""
    step = 2 * np.pi / teeth
    corner = np.array([-0.36, -0.14, 0.14, 0.36]) * step
    radius = module * np.array([teeth / 2 - 1.25, teeth / 2 + 1, teeth / 2 + 1, teeth / 2 - 1.25])
    angle = (phase + step * np.arange(teeth)[:, None] + corner).ravel()
    radius = np.tile(radius, teeth)
    return np.column_stack([spot[0] + radius * np.cos(angle), spot[1] + radius * np.sin(angle)])


def _phases(wheels: list, three: bool) -> list[float]:
    """Turn of each wheel, so that a tooth stands in a gap where two mesh."""
    meshes = [(0, 1), (1, 2)] if three else [(0, 1), (2, 3)]
    phases = [0.0] * len(wheels)
    for one, other in meshes:
        (x1, y1), z1, _ = wheels[one]
        (x2, y2), z2, _ = wheels[other]
        towards = np.arctan2(y2 - y1, x2 - x1)
        off = (towards - phases[one]) * z1 / (2 * np.pi)
        phases[other] = towards + np.pi - (0.5 - off) * 2 * np.pi / z2
    return phases


def _write(e: Evaluation, axes: Axes, spots: list, shafts: list[str], verdict: str, two: bool) -> None:
    """Words beside the drawing; ``two`` where wheels stand in two planes."""
    box = axes.bbox
    left = box.width * (1 - _WORDS) + 10
    room = box.width - left
    texts = [wrapped(text, room) for text in shafts]
    heights = [text_size(text)[1] + 10 for text in texts]
    head = wrapped(verdict, room, weight="bold")
    teeth = Drive.of(e.middle).teeth
    foot = wrapped(
        f"Leadscrew {pitch_said(e, middle(e, 'leadscrew_pitch'))}; a set of {len(teeth)} wheels, {min(teeth)} to {max(teeth)} teeth. "
        "Dotted arc: the reach of the banjo." + (" Open wheels stand behind the filled ones." if two else ""),
        room,
    )
    top, bottom = box.height - text_size(head, weight="bold")[1] - 14, text_size(foot)[1] + 8
    points = [axes.transData.transform(spot) - (box.x0, box.y0) for spot in spots]
    places = parted([-y for _, y in points], heights, low=-top, high=-bottom)
    axes.annotate(
        head,
        (0, 1),
        xycoords="axes fraction",
        xytext=(left, box.height - 2),
        textcoords="axes points",
        va="top",
        weight="bold",
        linespacing=1.1,
    )
    for spot, text, y in zip(spots, texts, -places):
        axes.annotate(
            text,
            spot,
            xytext=(left, y),
            textcoords="axes points",
            va="center",
            linespacing=1.1,
            zorder=8,
            arrowprops={"arrowstyle": "-", "color": MUTED, "lw": 1.0, "shrinkA": 2, "shrinkB": 3, "relpos": (0, 0.5)},
        )
    axes.annotate(foot, (0, 0), xycoords="axes fraction", xytext=(left, 2), textcoords="axes points", va="bottom", color=MUTED)
