"""Chapter 15: two decisions against each other, and what fails first where."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from matplotlib.axes import Axes

from ...design.asked.sweeps import margins_kept
from ...design.chain.entries import Decision
from ...design.evaluation import Evaluation
from .axes import Places, inside, label, middle, wrapped
from .register import NothingToDraw, picture
from .style import HATCH, INK, MUTED, PALETTE, on_white, pale

_COUNT = 41
#: values of a decision for which the design must be worked out one by one,
_SINGLES, _FEW = 13, 9  # where one of the two is such, and where both are
#: of each, where both open other ways for the parts
_GROUPED = 17


@dataclass(frozen=True)
class _Field:
    """Margins of the findings that two decisions move, over a grid; x and y in SI, margins of shape (findings, ny, nx)."""

    x: np.ndarray
    y: np.ndarray
    names: list[str]
    margins: np.ndarray
    elsewhere: list[str]  # labels of findings that fail whatever these two are

    @property
    def worst(self) -> np.ndarray:
        return self.margins.min(axis=0)

    @property
    def first(self) -> np.ndarray:
        """Index of the finding with the least room."""
        return self.margins.argmin(axis=0)


def _axis(e: Evaluation, decision: Decision, count: int) -> np.ndarray:
    """About so many values to try, own value inside; whole numbers stay whole."""
    values, own = decision.values(count), middle(e, decision.name)
    ends = min(values[0], own), max(values[-1], own)
    return np.linspace(*ends, count) if not decision.kind.whole else np.unique(np.append(values, own))


def _counts(e: Evaluation, two: tuple[str, str], names: Sequence[str]) -> list[int]:
    """How many values of each to try: fewer where each takes an evaluation of its own."""
    alone = [any(e.chain.alone(one, name) for name in names) for one in two]
    if any(alone):
        return [(_FEW if all(alone) else _SINGLES) if one else _COUNT for one in alone]
    return [_GROUPED if all(any(e.chain.picked_by(one, name) for name in names) for one in two) else _COUNT] * 2


def _field(e: Evaluation, x: str, y: str, only: Sequence[str] = ()) -> _Field:
    decisions = e.chain.decisions
    for name in (x, y):
        if name not in decisions or not decisions[name].numeric:
            raise NothingToDraw(f"{name!r} is not a decision with a number; choose another.")
    if x == y:
        raise NothingToDraw("Choose two different decisions, one for each direction.")
    moved = e.chain.downstream(x) | e.chain.downstream(y)
    for name in only:
        if name not in e.chain.limits:
            raise NothingToDraw(f"There is no finding called {name!r}; choose another.")
    names = [name for name in only or e.chain.limits if name in moved]
    if not names:
        raise NothingToDraw("No finding hangs on these two decisions.")
    xs, ys = (_axis(e, decisions[name], count) for name, count in zip((x, y), _counts(e, (x, y), names)))
    across, up = (grid.ravel() for grid in np.meshgrid(xs, ys))
    found = margins_kept(e.central, {x: across, y: up}, names)
    margins = np.array([found[name].reshape(len(ys), len(xs)) for name in names])
    elsewhere = [f.label for f in e.central.findings.values() if f.status == "fails" and f.name not in moved and not only]
    return _Field(xs, ys, names, np.nan_to_num(margins, nan=-1.0), elsewhere)


def _words(e: Evaluation, x: str = "spindle_diameter", y: str = "cut_reach", only: Sequence[str] = ()) -> str:
    field = _field(e, x, y, only)
    names = [e.chain.decisions[name].label for name in (x, y)]
    share = np.mean(field.worst >= -1e-9)
    failing = field.worst < -1e-9
    counts = np.bincount(field.first[failing], minlength=len(field.names))
    first = [e.chain.limits[field.names[index]].label for index in np.argsort(-counts) if counts[index]]
    tail = f" Elsewhere these fail first: {', '.join(first[:4])}." if first else ""
    return (
        f"{names[0][0].upper()}{names[0][1:]} across and {names[1]} upward; in {share:.0%} of the field no finding that hangs on them fails.{tail} "
        f"Your design stands at {e.shown(x)} and {e.shown(y)}."
    )


@picture("Two decisions against each other", _words, height=5.0, panels=((0.115, 0.135, 0.86, 0.785),))
def tradeoff(e: Evaluation, axes: Axes, x: str = "spindle_diameter", y: str = "cut_reach", only: Sequence[str] = ()) -> None:
    """White where nothing fails; elsewhere hatched, with the finding that fails first.  ``only`` names the findings looked at, if not all."""
    field = _field(e, x, y, only)
    kinds = [e.chain.decisions[name].kind for name in (x, y)]
    across, up = inside(e, field.x, kinds[0]), inside(e, field.y, kinds[1])
    axes.set_xlim(across[0], across[-1])
    axes.set_ylim(up[0], up[-1])
    for name, kind, put in zip((x, y), kinds, (axes.set_xlabel, axes.set_ylabel)):
        put(label(e.chain.decisions[name].label, kind, e))
    failing = field.worst < -1e-9
    if failing.any() and not failing.all():
        area = axes.contourf(
            across,
            up,
            np.clip(field.worst, -1, 1),
            levels=[-2, -1e-9],
            colors=[pale(PALETTE["red"], 0.12)],
            hatches=[HATCH["judged"]],
        )
        area.set(edgecolor=pale(PALETTE["red"], 0.4), linewidth=0)
        axes.contour(across, up, np.clip(field.worst, -1, 1), levels=[-1e-9], colors=[INK], linewidths=2.5, linestyles="solid")
    elif failing.all():
        axes.patch.set(facecolor=pale(PALETTE["red"], 0.12), hatch=HATCH["judged"], edgecolor=pale(PALETTE["red"], 0.4))
    order = np.argsort(-np.bincount(field.first[failing], minlength=len(field.names)))
    places = Places(axes)
    own = inside(e, middle(e, x), kinds[0]), inside(e, middle(e, y), kinds[1])
    places.keep_off(*own, radius=12)
    white = on_white(2)
    for index in order[:5]:
        where = failing & (field.first == index)
        if where.mean() < 0.012:
            continue
        if len(field.names) > 1:
            # where this finding and the next worst have the same room: the border of what fails first
            lead = field.margins[index] - np.delete(field.margins, index, axis=0).min(axis=0)
            border = np.where(failing, np.clip(lead, -1, 1), np.nan)
            if np.nanmin(border) < 0 < np.nanmax(border):
                axes.contour(across, up, border, levels=[0], colors=[MUTED], linestyles="dotted", linewidths=1.6)
        rows, columns = np.nonzero(where)
        middle_of = np.argmin((rows - rows.mean()) ** 2 + (columns - columns.mean()) ** 2)
        spot = across[columns[middle_of]], up[rows[middle_of]]
        places.put(
            *spot, "✗ " + wrapped(e.chain.limits[field.names[index]].label, 150), gap=1, centred=True, bbox=white, zorder=5
        )
    axes.plot(
        *[[v] for v in own],
        "D",
        ms=12,
        color=PALETTE["blue"],
        markeredgecolor="white",
        markeredgewidth=2,
        zorder=6,
        clip_on=False,
    )
    places.put(*own, "your design", gap=12, weight="bold", bbox=white, zorder=6)
    if not failing.any():
        axes.text(0.5, 0.5, "nothing fails here", transform=axes.transAxes, ha="center", va="center")
    elif not failing.all():
        rows, columns = np.nonzero(~failing)
        middle_of = np.argmin((rows - rows.mean()) ** 2 + (columns - columns.mean()) ** 2)
        places.put(across[columns[middle_of]], up[rows[middle_of]], "✓ nothing fails", gap=1, centred=True, bbox=white, zorder=5)
    if field.elsewhere:
        words = field.elsewhere[0] + (f" and {len(field.elsewhere) - 1} more" if len(field.elsewhere) > 1 else "")
        axes.text(
            1.0, 1.02, f"fails whatever these two are: {words}", transform=axes.transAxes, ha="right", va="bottom", color=MUTED
        )
