"""Chapter 03: spindle speed against diameter, and the sawtooth that steps leave."""

from __future__ import annotations

import numpy as np
from matplotlib.axes import Axes

from ...design.evaluation import Evaluation
from ...machine.cutting_speeds import speed_series, spindle_speed, surface_speed
from ...ranges import Range
from ...tables import table
from ...units import Length, RotationalSpeed, Speed
from .axes import Places, inside, label, log_axis, middle, parted, shown, wrapped
from .register import NothingToDraw, picture
from .style import INK, LINES, MARKERS, MUTED, PALETTE, filled, on_white, text_size

_MM, _RPM, _SPEED = Length("mm"), RotationalSpeed(), Speed()
_COLUMN = {"high-speed steel": "speed_hss", "carbide": "speed_carbide"}


def cutting_speeds(material: str, tool: str) -> Range:
    """Cutting speeds of a material in m/s; wood is turned with steel tools whatever the others are."""
    row = table("materials")[material]
    return row.get(_COLUMN[tool]) or row["speed_hss"]


def _steps(e: Evaluation) -> np.ndarray:
    """The speeds of the series, rad/s."""
    slowest, fastest = middle(e, "slowest_speed"), middle(e, "fastest_speed")
    if not 0 < slowest < fastest:
        raise NothingToDraw(
            f"The slowest speed, {e.shown('slowest_speed')}, must be less than the fastest, {e.shown('fastest_speed')}."
        )
    return speed_series(slowest, fastest, round(middle(e, "speed_steps")))


def _diameters(e: Evaluation) -> tuple[float, float]:
    """Smallest and largest diameter worth drawing, m."""
    jobs = e["jobs"]
    return 0.5 * min(job.smallest for job in jobs), 1.5 * max(middle(e, "swing_over_bed"), max(job.diameter for job in jobs))


# --- speed chart -----------------------------------------------------------------------------------
def _chart_words(e: Evaluation) -> str:
    _steps(e)
    tool = e["tool_material"]
    wished = {job.name: spindle_speed.si(cutting_speeds(job.material, tool).likely, job.diameter) for job in e["jobs"]}
    outside = [
        name
        for name, speed in wished.items()
        if not middle(e, "slowest_speed") * 0.999 <= speed <= middle(e, "fastest_speed") * 1.001
    ]
    tail = (
        f"Outside the range at full diameter: {', '.join(outside)}."
        if outside
        else "Every job finds a speed at its full diameter."
    )
    each = ", ".join(f"{name} {shown(e, speed, _RPM, 2)}" for name, speed in wished.items())
    return (
        f"Spindle speed over diameter for {tool} tools, both scales logarithmic, one falling band for each material. The spindle turns "
        f"from {e.shown('slowest_speed')} to {e.shown('fastest_speed')} in {e.shown('speed_steps')} speeds. Wished at full diameter: {each}. {tail}"
    )


@picture("Which spindle speed which diameter asks for", _chart_words, panels=((0.115, 0.15, 0.67, 0.83),))
def speed_chart(e: Evaluation, axes: Axes) -> None:
    """A band for each material, a level line for each speed, a point for each job."""
    steps, tool, jobs = _steps(e), e["tool_material"], e["jobs"]
    low, high = (inside(e, d, _MM) for d in _diameters(e))
    wished = np.array([spindle_speed.si(cutting_speeds(job.material, tool).likely, job.diameter) for job in jobs])
    finest = np.array([spindle_speed.si(cutting_speeds(job.material, tool).likely, job.smallest) for job in jobs])
    widest = _diameters(e)[1]
    bottom = inside(
        e, 0.8 * min(0.7 * steps[0], min(spindle_speed.si(cutting_speeds(m, tool).likely, widest) for m in jobs.materials)), _RPM
    )
    top = inside(e, 2.0 * max(steps[-1], finest.max()), _RPM)
    log_axis(axes, "x", low, high)
    log_axis(axes, "y", bottom, top)
    axes.set_xlabel(label("diameter of the work", _MM, e))
    axes.set_ylabel(label("spindle speed", _RPM, e))
    slowest, fastest = (inside(e, steps[end], _RPM) for end in (0, -1))
    for start, stop in ((bottom, slowest), (fastest, top)):
        axes.axhspan(start, stop, facecolor="#f1f1f1", edgecolor="#cfcfcf", hatch="xx", lw=0, zorder=0)
    axes.hlines(inside(e, steps, _RPM), low, high, color=MUTED, lw=0.9, zorder=1)
    _bands(e, axes, low, high)
    places = Places(axes)
    x, y = inside(e, jobs.column("diameter"), _MM), inside(e, wished, _RPM)
    places.keep_off(x, y, 8)
    for job, px, py in zip(jobs, x, y):
        ends = inside(e, np.array([job.smallest, job.diameter]), _MM)
        line = 2 * cutting_speeds(job.material, tool).likely
        if job.smallest < job.diameter:
            axes.plot(
                ends,
                inside(e, line / np.array([job.smallest, job.diameter]), _RPM),
                color=INK,
                lw=4,
                alpha=0.55,
                zorder=4,
                solid_capstyle="round",
            )
        axes.plot([px], [py], MARKERS[1] if job.is_disc else MARKERS[0], color=INK, markeredgecolor="white", zorder=6)
    white = on_white(0.6, 0.85)
    for speed, words, va in (
        (fastest, f"nothing above {e.shown('fastest_speed')}", "bottom"),
        (slowest, f"nothing below {e.shown('slowest_speed')}", "top"),
    ):
        at = places.points(low, speed)[0]
        box = (
            at[0] + 4,
            at[1] - (16 if va == "top" else 0),
            at[0] + 8 + text_size(words, weight="bold")[0],
            at[1] + (16 if va == "bottom" else 0),
        )
        places.taken.append(box)
        axes.annotate(
            words,
            (low, speed),
            xytext=(5, 1 if va == "bottom" else -2),
            textcoords="offset points",
            ha="left",
            va=va,
            weight="bold",
            bbox=white,
        )
    for job, px, py in sorted(zip(jobs, x, y), key=lambda one: -one[0].share):
        places.put(px, py, job.name, zorder=7, bbox=white)


def _bands(e: Evaluation, axes: Axes, low: float, high: float) -> None:
    """The band of each material, named at its right or lower end."""
    materials, tool = e["jobs"].materials, e["tool_material"]
    ends = np.array([low, high])
    si = ends / inside(e, 1.0, _MM)
    bottom, top = axes.get_ylim()
    room = axes.bbox.height / np.log(top / bottom)
    names, wanted = [], []
    for index, material in enumerate(materials):
        speeds = cutting_speeds(material, tool)
        colour, style = LINES[index % len(LINES)]
        lowest, likely, highest = (inside(e, spindle_speed.si(v, si), _RPM) for v in speeds)
        if len(materials) <= 4:
            axes.fill_between(ends, lowest, highest, facecolor=colour, alpha=0.13, lw=0, zorder=2)
        axes.plot(ends, likely, color=colour, ls=style, zorder=3)
        names.append(wrapped(material, 105))
        wanted.append(np.log(likely[1] / bottom) * room)
    heights = [text_size(name)[1] + 2 for name in names]
    for name, y, place, (colour, _) in zip(names, wanted, parted(wanted, heights, 0, axes.bbox.height), LINES * 3):
        axes.annotate(
            name,
            (1, y / axes.bbox.height),
            xycoords="axes fraction",
            xytext=(axes.bbox.width + 14, place),
            textcoords="axes points",
            ha="left",
            va="center",
            color=INK,
            linespacing=1.05,
            annotation_clip=False,
            arrowprops={"arrowstyle": "-", "color": colour, "lw": 2, "shrinkA": 2, "shrinkB": 0, "relpos": (0, 0.5)},
        )


# --- sawtooth ----------------------------------------------------------------------------------------
def _reached(e: Evaluation, material: str, diameter: np.ndarray) -> np.ndarray:
    """Cutting speed reached with the fastest step that does not go above the likely cutting speed, m/s; the slowest step if all do."""
    steps = _steps(e)
    wished = spindle_speed.si(cutting_speeds(material, e["tool_material"]).likely, diameter)
    index = np.clip(np.searchsorted(steps, wished * (1 + 1e-12), side="right") - 1, 0, None)
    return surface_speed.si(steps[index], diameter)


def _material(e: Evaluation, material: str | None) -> str:
    return material or e["work_material"]


def _steps_words(e: Evaluation, material: str | None = None) -> str:
    name = _material(e, material)
    steps = _steps(e)
    wished = cutting_speeds(name, e["tool_material"]).likely
    return (
        f"Cutting speed reached over diameter in {name} with {e['tool_material']}, a sawtooth under the wished {shown(e, wished, _SPEED)}. "
        f"With {len(steps)} speeds a step is a factor of {e.shown('step_ratio')}, so just before the next step up to "
        f"{middle(e, 'speed_loss'):.0%} of the cutting speed is lost. Above {shown(e, 2 * wished / steps[0], _MM)} even the slowest speed is too fast, "
        f"below {shown(e, 2 * wished / steps[-1], _MM)} the fastest is too slow."
    )


@picture("What the steps between the speeds cost", _steps_words, panels=((0.115, 0.15, 0.86, 0.80),))
def speed_steps(e: Evaluation, axes: Axes, material: str | None = None) -> None:
    """The cutting speed each diameter really gets, with the loss marked."""
    name = _material(e, material)
    steps = _steps(e)
    wished = cutting_speeds(name, e["tool_material"]).likely
    turning = 2 * wished / steps[::-1]  # diameters at which the next step comes
    low, high = min(0.6 * turning[0], _diameters(e)[0]), max(1.25 * turning[-1], middle(e, "swing_over_bed"))
    diameter = np.unique(np.concatenate([np.geomspace(low, high, 60), turning, turning * (1 - 1e-9), turning * (1 + 1e-9)]))
    reached = _reached(e, name, diameter)
    log_axis(axes, "x", inside(e, low, _MM), inside(e, high, _MM))
    top = 1.45 * inside(e, max(wished, min(reached[-1], 1.6 * wished)), _SPEED)
    axes.set_ylim(0, top)
    axes.set_xlabel(label("diameter of the work", _MM, e))
    axes.set_ylabel(label("cutting speed", _SPEED, e))
    x, wish = inside(e, diameter, _MM), inside(e, wished, _SPEED)
    y = inside(e, reached, _SPEED)
    axes.axhline(wish, color=PALETTE["green"], ls="--", zorder=2)
    axes.fill_between(x, y, wish, where=y < wish, lw=0, zorder=1, **filled(PALETTE["orange"], "//"))
    axes.plot(x, y, color=PALETTE["blue"], zorder=3)
    axes.annotate(
        f"wished in {name}: {shown(e, wished, _SPEED)}",
        (0.01, wish),
        xycoords=("axes fraction", "data"),
        xytext=(0, 5),
        textcoords="offset points",
        ha="left",
        va="bottom",
    )
    if len(steps) > 1:
        at = inside(e, turning[len(turning) // 2] * (1 - 1e-6), _MM)
        lost = wish * (1 - middle(e, "speed_loss"))
        axes.annotate(
            "",
            (at, lost),
            (at, wish),
            arrowprops={"arrowstyle": "<->", "color": INK, "lw": 1.6, "shrinkA": 0, "shrinkB": 0},
            zorder=5,
        )
        right = axes.transData.transform((at, 0))[0] < axes.bbox.x1 - 120
        axes.annotate(
            f"up to {middle(e, 'speed_loss'):.0%} lost",
            (at, (lost + wish) / 2),
            xytext=(8 if right else -8, 0),
            textcoords="offset points",
            ha="left" if right else "right",
            va="center",
            weight="bold",
            bbox=on_white(1.5),
            zorder=6,
        )
    for limit in (turning[0], turning[-1]):
        axes.axvline(inside(e, limit, _MM), ymax=0.84, color=MUTED, lw=1, ls=":")  # below the words that belong to it
    for words, x_at, ha in (
        (f"below {shown(e, turning[0], _MM)} the\nfastest speed is too slow", 0.01, "left"),
        (f"above {shown(e, turning[-1], _MM)} the\nslowest speed is too fast", 0.99, "right"),
    ):
        axes.text(x_at, 0.99, words, transform=axes.transAxes, ha=ha, va="top", color=MUTED, zorder=4, bbox=on_white(1))
