"""Chapter 08: the work in its holding, pushed away by the last cut."""

from __future__ import annotations

import numpy as np
from matplotlib.axes import Axes

from ... import units
from ...design.chapters.rigidity import PLACES
from ...design.evaluation import Evaluation
from ...machine import rigidity
from ...units import Force, Length
from .axes import inside, label, middle, shown
from .drawing import METAL, box, round_down, shape, to_scale
from .register import NothingToDraw, picture
from .style import INK, MUTED, PALETTE, filled, on_white

_MM, _UM, _N = Length("mm"), Length("µm"), Force()
#: ways of holding that leave the far end free
ONE_END = ("chuck alone", "faceplate")
#: where lengths along the work begin
_FROM = {"between centres": "headstock centre", "faceplate": "faceplate"}


def _force(e: Evaluation) -> float:
    """Steady push of the finishing cut along the radius, N."""
    return middle(e, "finish_radial_force")


def too_thick(e: Evaluation, position: np.ndarray) -> np.ndarray:
    """How much thicker the work comes out at ``position`` than at its thinnest, m: work and what holds it give together."""
    give = np.asarray(e["give_along"], float)
    give = np.median(give.reshape(len(PLACES), -1), axis=1)
    if not np.all(np.isfinite(give)):
        raise NothingToDraw("As it stands there can be no spindle like this; look at its bore.")
    return 2 * _force(e) * (np.interp(position, PLACES * middle(e, "work_length"), give) - give.min())


def bent(e: Evaluation, tool: float, x: np.ndarray) -> np.ndarray:
    """How far the axis of the work moves at ``x`` with the tool at ``tool``, m."""
    return rigidity.bent_work(
        e["work_support"], x, _force(e), tool, middle(e, "work_length"), middle(e, "work_diameter"), middle(e, "work_modulus")
    )


def _worst(e: Evaluation) -> float:
    """Where the tool moves the work most, m."""
    return middle(e, "work_length") * {"chuck and centre": 2 - np.sqrt(2), "between centres": 0.5}.get(e["work_support"], 1.0)


def _words(e: Evaluation) -> str:
    x = np.linspace(0, middle(e, "work_length"), 101)
    error = too_thick(e, x)
    place = int(error.argmax())
    return (
        f"A bar of {e.shown('work_diameter')}, {e.shown('work_length')} long, held: {e['work_support']}. The steady push of the last cut, "
        f"{shown(e, _force(e), _N)}, leaves it up to {shown(e, float(error[place]), _UM)} thicker in one place than in another, most at "
        f"{shown(e, float(x[place]), _MM)} from the {_FROM.get(e['work_support'], 'chuck')}. "
        f"The machine may leave {e.shown('allowed_error')}."
    )


@picture(
    "The work bent by the last cut, and the error along it",
    _words,
    height=4.8,
    panels=((0.01, 0.50, 0.98, 0.49), (0.13, 0.14, 0.83, 0.33)),
)
def work_bend(e: Evaluation, axes: tuple[Axes, Axes]) -> None:
    """The bar bent, and how much too thick it comes out along its length."""
    _bar(e, axes[0])
    _error(e, axes[1])


def _bar(e: Evaluation, axes: Axes) -> None:
    length, diameter, tool = middle(e, "work_length"), middle(e, "work_diameter"), _worst(e)
    support = e["work_support"]
    x = np.linspace(0, length, 60)
    away = bent(e, tool, x)
    most = float(away.max())
    # a very slim bar is drawn thicker than it is, so that it can be seen; the words below say so
    thick = max(diameter, 0.045 * length)
    bow = round_down(max(0.9 * thick, 0.07 * length) / most)
    high = 1.5 * thick
    per_point = to_scale(axes, (-0.22 * length, -high), (1.14 * length, high + bow * most * 0.5), (20, 34, 20, 26))
    for side in (1, -1):
        if support != "between centres":
            box(axes, -0.16 * length, side * thick / 2, 0, side * 1.35 * thick, hatch="xx", facecolor="white", edgecolor=MUTED)
    for place, held, way in ((0.0, support == "between centres", -1), (length, support not in ONE_END, 1)):
        if held:
            shape(
                axes,
                [
                    (place, 0),
                    (place + way * 0.07 * length, 0.55 * thick),
                    (place + way * 0.14 * length, 0.55 * thick),
                    (place + way * 0.14 * length, -0.55 * thick),
                    (place + way * 0.07 * length, -0.55 * thick),
                ],
            )
    start = -0.16 * length if support != "between centres" else 0.0
    axes.plot([start, length], [0, 0], color=MUTED, lw=1, ls=(0, (12, 3, 2, 3)))
    shape(
        axes,
        [(start, -thick / 2), (start, thick / 2), (length, thick / 2), (length, -thick / 2)],
        facecolor="none",
        edgecolor=MUTED,
        linestyle="--",
        zorder=2,
    )
    outline = np.concatenate(
        [np.column_stack([x, bow * away + thick / 2]), np.column_stack([x[::-1], bow * away[::-1] - thick / 2])]
    )
    shape(axes, outline, facecolor=METAL, alpha=0.9, zorder=3)
    axes.plot(x, bow * away, color=PALETTE["blue"], zorder=4)
    tip = bow * float(np.interp(tool, x, away)) - thick / 2
    axes.annotate(
        "",
        (tool, tip),
        (tool, tip - 34 * per_point),
        arrowprops={"arrowstyle": "-|>", "color": PALETTE["red"], "lw": 3, "shrinkA": 0, "shrinkB": 0},
        zorder=6,
    )
    left = tool > 0.6 * length
    axes.text(
        tool + (6 if left else -6) * per_point,
        min(tip - 34 * per_point, -0.5 * thick) - 3 * per_point,
        f"last cut {shown(e, _force(e), _N)}",
        ha="right" if left else "left",
        va="top",
        zorder=6,
    )
    note = "" if thick == diameter else "; bar drawn thicker than it is"
    axes.text(
        axes.get_xlim()[0] + 6 * per_point,
        axes.get_ylim()[1] - 4 * per_point,
        f"{support}: bow drawn {units.number(bow) if bow < 1000 else f'{bow:,.0f}'.replace(',', ' ')} times too large{note}",
        ha="left",
        va="top",
    )


def _error(e: Evaluation, axes: Axes) -> None:
    length = middle(e, "work_length")
    x = np.linspace(0, length, 81)
    error = inside(e, too_thick(e, x), _UM)
    allowed = inside(e, middle(e, "allowed_error"), _UM)
    at = inside(e, x, _MM)
    axes.set_xlim(0, inside(e, length, _MM))
    axes.set_ylim(0, 1.3 * max(error.max(), allowed))
    axes.fill_between(at, 0, error, lw=0, **filled(PALETTE["blue"]))
    axes.plot(at, error, color=PALETTE["blue"])
    over = error > allowed
    if over.any():
        axes.fill_between(at, allowed, error, where=over, lw=0, **filled(PALETTE["red"], "xx"))
    axes.axhline(allowed, color=INK, ls="--", lw=1.5)
    axes.annotate(
        f"the machine may leave {e.shown('allowed_error')}",
        (0.01, allowed),
        xycoords=("axes fraction", "data"),
        xytext=(0, 3),
        textcoords="offset points",
        ha="left",
        va="bottom",
        bbox=on_white(1, 0.85),
    )
    peak = int(error.argmax())
    right, left, within = peak > 0.75 * len(x), peak < 0.1 * len(x), error[peak] > 0.35 * axes.get_ylim()[1]
    axes.annotate(
        f"{units.number(error[peak], 2)}{' ✗' if error[peak] > allowed else ''}",
        (at[peak], error[peak]),
        xytext=(-8 if right else 8 if left else 0, -14 if within else 3),
        textcoords="offset points",
        ha="right" if right else "left" if left else "center",
        va="top" if within else "bottom",
        weight="bold",
        bbox=on_white(1, 0.8),
    )
    axes.set_xlabel(label(f"from the {_FROM.get(e['work_support'], 'chuck')}", _MM, e), labelpad=1)
    axes.set_ylabel(label("too thick", _UM, e))
    axes.locator_params(axis="y", nbins=5)
