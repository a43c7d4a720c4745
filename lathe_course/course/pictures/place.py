"""Chapter 13: the way in round its tightest corner, the place itself, and what is lifted against what may be."""

from __future__ import annotations

import numpy as np
from matplotlib.axes import Axes

from ... import units
from ...design.chapters.place import APART, ASSEMBLED, LIFTERS, WHOLE
from ...design.evaluation import Evaluation
from ...units import Length, Mass
from .axes import demand, inside, label, middle, parted, shortened, shown, wrapped
from .drawing import METAL, box, shape, to_scale
from .register import picture
from .style import FONT_SIZE, HATCH, INK, MUTED, PALE, PALETTE, filled, on_white, pale, text_size

_MM, _KG = Length("mm"), Mass("kg")
#: points kept free above and below a plan for its words
_WORDS_ABOVE, _WORDS_BELOW = 26, 58


# --- the way in, and the place -----------------------------------------------------------------------------------
def _way_words(e: Evaluation) -> str:
    e = e.central
    goes = "goes round" if e.findings["goes_round_corner"].status != "fails" else "does not go round"
    fits = "fits" if not _too_large(e) else "does not fit"
    return (
        f"Seen from above: a piece {e.shown('carried_length')} long and {e.shown('carried_width')} wide {goes} the corner from a passage of {e.shown('passage_width')} "
        f"into one of {e.shown('landing_width')}, where {e.shown('corner_length')} would. The machine, {e.shown('machine_length')} by {e.shown('machine_depth')}, "
        f"{fits} the free {e.shown('space_length')} by {e.shown('space_depth')}."
    )


def _too_large(e: Evaluation) -> bool:
    return any(e.findings[name].status == "fails" for name in ("length_is_there", "place_is_deep_enough"))


@picture(
    "The way in round its tightest corner, and the place, seen from above",
    _way_words,
    height=4.6,
    panels=((0.01, 0.01, 0.47, 0.97), (0.52, 0.01, 0.47, 0.97)),
)
def way_in_and_place(e: Evaluation, panels: tuple[Axes, Axes]) -> None:
    """Two plans to scale: the piece in the corner at its tightest angle, dotted the longest that goes; machine and worker on the free stretch."""
    e = e.central
    _corner(e, panels[0])
    _place(e, panels[1])


def _tightest(a: float, b: float, width: float) -> float:
    """Angle of the piece where it has least room."""
    turn = np.arange(1, 360) / 720 * np.pi
    room = a / np.cos(turn) + b / np.sin(turn) - width / (np.sin(turn) * np.cos(turn))
    return float(turn[np.argmin(room)])


def _corner(e: Evaluation, axes: Axes) -> None:
    a, b, long, wide, most = (
        middle(e, name) for name in ("passage_width", "landing_width", "carried_length", "carried_width", "corner_length")
    )
    turn = _tightest(a, b, wide)
    along, inward = np.array([np.cos(turn), np.sin(turn)]), np.array([np.sin(turn), -np.cos(turn)])
    strip = most or long
    across, down = (
        1.08 * max(strip * np.cos(turn) + wide * np.sin(turn), 1.3 * a),
        1.08 * max(strip * np.sin(turn) + wide * np.cos(turn), 1.3 * b),
    )
    point = to_scale(axes, (0.0, b - down), (across, b), (8, _WORDS_BELOW, 8, _WORDS_ABOVE))
    box(axes, a, b - down, across, 0.0, facecolor=pale(PALETTE["orange"], 0.25), edgecolor=INK, hatch=HATCH["judged"])
    axes.plot([0, 0, across], [b - down, b, b], color=INK, lw=4, solid_capstyle="butt")
    foot = np.array([0.0, b - strip * np.sin(turn)])

    def piece(start: float, length: float) -> list[np.ndarray]:
        near, far = foot + start * along, foot + (start + length) * along
        return [near, far, far + wide * inward, near + wide * inward]

    if most:
        shape(axes, piece(0.0, most), facecolor="none", edgecolor=MUTED, linestyle=":", zorder=3)
    goes = e.findings["goes_round_corner"].status != "fails"
    shape(
        axes,
        piece((strip - long) / 2, long),
        facecolor=METAL if goes else pale(PALETTE["red"]),
        linewidth=1.2 if goes else 2.5,
        linestyle="-" if goes else "--",
        zorder=4,
    )
    verdict = "goes round" if goes else "does not go round"
    _words(
        axes,
        point,
        "The tightest corner",
        [
            f"passage {shown(e, a, _MM)}, then {shown(e, b, _MM)}",
            f"piece {shown(e, long, _MM)} by {shown(e, wide, _MM)}: {verdict}",
        ],
    )


def _place(e: Evaluation, axes: Axes) -> None:
    free_long, free_deep, long, deep, standing = (
        middle(e, name) for name in ("space_length", "space_depth", "machine_length", "machine_depth", "standing_depth")
    )
    width, back = max(free_long, long), max(free_deep, deep)
    point = to_scale(axes, (0.0, -standing - max(deep - free_deep, 0.0)), (width, back), (8, _WORDS_BELOW, 8, _WORDS_ABOVE))
    box(axes, 0.0, back - free_deep, free_long, back, facecolor=PALE, edgecolor=MUTED, linestyle="--")
    start = max((free_long - long) / 2, 0.0)
    fits = not _too_large(e)
    box(
        axes,
        start,
        back - deep,
        start + long,
        back,
        facecolor=METAL if fits else pale(PALETTE["red"]),
        linewidth=1.2 if fits else 2.5,
        linestyle="-" if fits else "--",
        zorder=3,
    )
    front = back - max(free_deep, deep)
    box(
        axes,
        start + 0.15 * long,
        front - standing,
        start + 0.85 * long,
        front,
        **filled(PALETTE["sky"], HATCH["judged"]),
        zorder=2,
    )
    _words(
        axes,
        point,
        "The place, with whoever stands there",
        [
            f"free {shown(e, free_long, _MM)} by {shown(e, free_deep, _MM)}",
            f"machine {shown(e, long, _MM)} by {shown(e, deep, _MM)}: {'fits' if fits else 'too large'}",
        ],
    )


def _words(axes: Axes, point: float, title: str, below: list[str]) -> None:
    left, right = axes.get_xlim()
    low, high = axes.get_ylim()
    axes.text(left + 6 * point, high - 4 * point, title, ha="left", va="top", weight="bold")
    lines = "\n".join(wrapped(line, (right - left) / point - 12) for line in below)
    axes.text(left + 6 * point, low + 3 * point, lines, ha="left", va="bottom")


# --- what is lifted -----------------------------------------------------------------------------------------------
def _rows(e: Evaluation) -> list[tuple[str, float, bool]]:
    """Name, mass and whether it is the heaviest of what you carry; the heaviest pieces first."""
    assemblies = sorted(((name, float(mass)) for name, mass in e["carried_masses"][ASSEMBLED].items()), key=lambda row: -row[1])
    part = max(e["carried_masses"][APART].items(), key=lambda row: float(row[1]))
    rows = [
        ("the whole machine", float(e["parts_mass"]), WHOLE),
        *((name, mass, ASSEMBLED if place == 0 else "") for place, (name, mass) in enumerate(assemblies)),
        (f"part: {part[0]}", float(part[1]), APART),
    ]
    return [(name, mass, how == e["moved_as"]) for name, mass, how in rows]


def _may(e: Evaluation) -> dict[str, float]:
    """What one, two and three people may lift so."""
    one = float(e["one_may_lift"])
    return {words: one * 2 * count / (count + 1) for words, count in LIFTERS.items() if count}


def _lift_words(e: Evaluation) -> str:
    e = e.central
    heaviest = next(row for row in _rows(e) if row[2])
    limits = ", ".join(f"{words} {shown(e, most, _KG)}" for words, most in _may(e).items())
    return (
        f"The heaviest of what you carry is {heaviest[0]} with {shown(e, heaviest[1], _KG)}. Lifted so, guidance lets {limits}."
    )


@picture("What is lifted, against what may be", _lift_words, height=4.4, panels=((0.30, 0.16, 0.67, 0.70),))
def lifts(e: Evaluation, axes: Axes) -> None:
    """Masses of the whole, of assemblies and of the heaviest part as bars; lines where guidance ends for one, two and three people."""
    e = e.central
    rows, limits = _rows(e), _may(e)
    masses = [inside(e, mass, _KG) for _, mass, _ in rows]
    lines = [inside(e, most, _KG) for most in limits.values()]
    demand(e, masses, lines)
    most = 1.15 * max(*masses, *lines)
    axes.set_xlim(0, most)
    axes.set_ylim(len(rows) - 0.4, -0.6)
    margin = axes.bbox.x0 - 12
    for place, ((name, _, yours), mass) in enumerate(zip(rows, masses)):
        axes.barh(
            place,
            mass,
            height=0.6,
            **filled(PALETTE["red"] if yours and mass > _line(e, limits) else PALETTE["blue"], HATCH["metal"] if yours else ""),
        )
        axes.text(
            -0.012,
            place,
            shortened(name, margin, "bold" if yours else "normal"),
            transform=axes.get_yaxis_transform(),
            ha="right",
            va="center",
            weight="bold" if yours else "normal",
        )
        _at_end(axes, place, mass, most)
    axes.set_yticks([])
    axes.set_xlabel(label("mass; hatched: the heaviest of what you carry", _KG, e))
    point = most / axes.bbox.width
    places = parted([line / point for line in lines], [text_size(str(n + 1))[0] + 8 for n in range(len(lines))], low=8)
    for (words, _), line, place in zip(limits.items(), lines, places):
        axes.axvline(line, color=INK, lw=2.4 if words == e["lifted_by"] else 1.2, ls="-" if words == e["lifted_by"] else ":")
        axes.text(
            place * point,
            1.02,
            words.split()[0].replace("one", "1").replace("two", "2").replace("three", "3"),
            transform=axes.get_xaxis_transform(),
            ha="center",
            va="bottom",
            weight="bold" if words == e["lifted_by"] else "normal",
        )
    axes.text(-0.012, 1.02, "people who lift", transform=axes.transAxes, ha="right", va="bottom", color=MUTED)


def _line(e: Evaluation, limits: dict[str, float]) -> float:
    """What may be lifted as you do, in the learner's unit; no end where a hoist lifts."""
    return inside(e, limits[e["lifted_by"]], _KG) if e["lifted_by"] in limits else np.inf


def _at_end(axes: Axes, place: int, mass: float, most: float) -> None:
    """The figure behind its bar, on white so that a line does not strike it through."""
    axes.text(mass + 0.01 * most, place, units.number(mass, 3), ha="left", va="center", size=FONT_SIZE, bbox=on_white(1.0))
