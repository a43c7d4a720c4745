"""Chapter 04: what the cut asks of motor and spindle, and where its force comes from."""
from __future__ import annotations

import numpy as np
from matplotlib.axes import Axes

from ... import units
from ...design.evaluation import Evaluation
from ...units import Area, Force, Length, Power, RotationalSpeed, Torque
from ..style import HATCH, INK, LINES, MUTED, PALETTE, filled, pale
from .axes import Places, bare, inside, label, likely, log_axis, middle, shown, text_box, whiskers
from .drawing import dimension, shape, to_scale
from .register import NothingToDraw, picture

_MM, _RPM, _W, _NM, _N, _AREA = Length("mm"), RotationalSpeed(), Power(), Torque(), Force(), Area()


# --- power over speed ---------------------------------------------------------------------------------
def _diameters(e: Evaluation) -> list[tuple[float, str]]:
    """Diameters of the hardest material worth a line, m, with words: the slimmest precise work, and what stands for the job that asks for most torque."""
    slim, most = middle(e, "work_diameter"), middle(e, "torque_diameter")
    if most <= 0:
        return [(slim, shown(e, slim, _MM))]
    words = f"{shown(e, most, _MM)}: most torque"
    return [(most, words)] if abs(slim / most - 1) < 0.15 else sorted([(slim, shown(e, slim, _MM)), (most, words)])


def available(e: Evaluation, speed: np.ndarray) -> np.ndarray:
    """Power at the spindle, W: all of it from the slowest speed at full power upward, in proportion below."""
    return middle(e, "spindle_power") * np.minimum(speed / middle(e, "full_power_speed"), 1.0)


def _range(e: Evaluation) -> tuple[float, float]:
    slowest, fastest = middle(e, "slowest_speed"), middle(e, "fastest_speed")
    if not 0 < slowest < fastest:
        raise NothingToDraw(f"The slowest speed, {e.shown('slowest_speed')}, must be less than the fastest, {e.shown('fastest_speed')}.")
    return slowest, fastest


def _torque_limit(e: Evaluation) -> float:
    """Largest diameter the roughing cut turns at the slowest speed without stalling, m."""
    slowest, _ = _range(e)
    return float(2 * available(e, np.array([slowest]))[0] / slowest / middle(e, "cutting_force"))


def _power_words(e: Evaluation) -> str:
    force, speed = middle(e, "cutting_force"), middle(e, "cutting_speed")
    limit = _torque_limit(e)
    most = middle(e, "torque_diameter")
    tail = (f"the job that asks for most counts as {shown(e, most, _MM)} of {e['work_material']} and {'stalls it' if most > limit else 'does not stall it'}"
            if most > 0 else "no metal is on the list")
    return (f"Power and torque over spindle speed. The spindle gives {e.shown('spindle_power')} from {e.shown('full_power_speed')} upward and less in proportion "
            f"below. The roughing cut, {shown(e, force, _N)}, asks for {shown(e, force * speed, _W)} at {e.shown('cutting_speed')} on any diameter. "
            f"At the slowest speed the torque turns up to {shown(e, limit, _MM)}; {tail}.")


@picture("Where the cut would stall the spindle", _power_words, height=5.2,
         panels=((0.115, 0.43, 0.72, 0.545), (0.115, 0.13, 0.72, 0.235)))
def power_over_speed(e: Evaluation, axes: tuple[Axes, Axes]) -> None:
    """Power available and needed, and below it the torque."""
    slowest, fastest = _range(e)
    force, surface = middle(e, "cutting_force"), middle(e, "cutting_speed")
    speeds = np.unique(np.append(np.geomspace(slowest, fastest, 40), np.clip(middle(e, "full_power_speed"), slowest, fastest)))
    given = available(e, speeds)
    diameters = _diameters(e)
    torques = [force * d / 2 for d, _ in diameters]
    low, high = inside(e, slowest, _RPM), inside(e, fastest, _RPM)
    power, turn = axes
    for one in axes:
        log_axis(one, "x", low, high)
    top = inside(e, 3.0 * max(given.max(), force * surface, *(torque * slowest for torque in torques)), _W)
    log_axis(power, "y", inside(e, min(given.min(), *(torque * slowest for torque in torques)) / 1.6, _W), top)
    rpm, watt = inside(e, speeds, _RPM), inside(e, given, _W)
    power.fill_between(rpm, watt, top, facecolor="#f6f1ee", edgecolor=pale(PALETTE["red"], 0.4), hatch=HATCH["no"], lw=0, zorder=0)
    power.plot(rpm, watt, color=INK, lw=3)
    white = {"facecolor": "white", "edgecolor": "none", "pad": 1.2}
    power.text(0.015, 0.97, "stalls: the cut asks for more than there is", transform=power.transAxes, ha="left", va="top", bbox=white)
    torque_top = 1.2 * inside(e, max(*torques, (given / speeds).max()), _NM)
    turn.set_ylim(0, torque_top)
    turn.plot(rpm, inside(e, given / speeds, _NM), color=INK, lw=3)
    turn.fill_between(rpm, inside(e, given / speeds, _NM), torque_top, facecolor="#f6f1ee", edgecolor=pale(PALETTE["red"], 0.4), hatch=HATCH["no"], lw=0, zorder=0)
    for one, end in ((power, watt[-1]), (turn, inside(e, given[-1] / speeds[-1], _NM))):
        one.annotate("available", (high, end), xytext=(7, 0), textcoords="offset points", ha="left", va="center", annotation_clip=False, weight="bold")
    places = [Places(one, [text_box(power.bbox.x0 + 8, power.bbox.y1 - 15, "stalls: the cut asks for more than there is")] if one is power else []) for one in axes]
    ends = np.array([np.clip(2 * surface / diameter, slowest, fastest) for diameter, _ in diameters])
    for index, values in enumerate((inside(e, ends * torques, _W), inside(e, np.array(torques), _NM))):
        places[index].keep_off(inside(e, ends, _RPM), values, 7)
        places[index].keep_off(rpm, inside(e, given / speeds, _NM) if index else watt, 3)
        for last, torque in zip(ends, torques):
            along = np.geomspace(slowest, last, 15)
            places[index].keep_off(inside(e, along, _RPM), inside(e, 0 * along + torque, _NM) if index else inside(e, along * torque, _W), 3)
    for (colour, style), (_, words), torque, last in zip(LINES, diameters, torques, ends):
        needed = np.array([slowest, last])
        ends_at = inside(e, last, _RPM), inside(e, last * torque, _W), inside(e, torque, _NM)
        power.plot(inside(e, needed, _RPM), inside(e, needed * torque, _W), color=colour, ls=style)
        power.plot([ends_at[0]], [ends_at[1]], "o", color=colour, markeredgecolor="white", zorder=5, clip_on=False)
        turn.plot([low, ends_at[0]], [ends_at[2]] * 2, color=colour, ls=style)
        turn.plot([ends_at[0]], [ends_at[2]], "o", color=colour, markeredgecolor="white", zorder=5, clip_on=False)
        for place, y in zip(places, ends_at[1:]):
            place.put(ends_at[0], y, words, bbox=white, zorder=6)
    power.tick_params(labelbottom=False)
    power.set_ylabel(label("power", _W, e))
    turn.set_ylabel(label("torque", _NM, e))
    turn.set_xlabel(label("spindle speed", _RPM, e))
    turn.locator_params(axis="y", nbins=3)


# --- force ----------------------------------------------------------------------------------------------
def _force_words(e: Evaluation) -> str:
    low, _, high = whiskers(e, "cutting_force")
    spread = f", {shown(e, low, _N, 2)} to {shown(e, high, _N, 2)} in four fifths of the draws" if high > low else ""
    sure = likely(e)
    return (f"The chip before it is cut: {sure.shown('depth_of_cut')} deep at {sure.shown('feed')}, under an entering angle of {sure.shown('entering_angle')} "
            f"{sure.shown('chip_thickness')} thick and {sure.shown('chip_width')} wide. Times {sure.shown('specific_cutting_force')} and a condition of "
            f"{sure.shown('cut_condition')} this makes {sure.shown('cutting_force')}{spread}.")


@picture("From the chip to the force", _force_words, height=5.0, panels=((0.01, 0.36, 0.55, 0.63), (0.57, 0.36, 0.42, 0.63), (0.15, 0.13, 0.82, 0.19)))
def force_build_up(e: Evaluation, axes: tuple[Axes, Axes, Axes]) -> None:
    """The chip magnified, the sum beside it, and the force as an arrow."""
    sure = likely(e)                  # medians of draws do not multiply to each other, likely figures do
    _chip(sure, axes[0])
    _sum(sure, axes[1])
    _arrows(e, sure, axes[2])


def _chip(e: Evaluation, axes: Axes) -> None:
    """Seen from above: the edge slopes by the entering angle, the work is below."""
    feed, depth, angle = middle(e, "feed") / units.si_factor("mm/rev", "feed") * 1e-3, middle(e, "depth_of_cut"), middle(e, "entering_angle")
    lean = depth / np.tan(angle)
    chip = np.array([(0, 0), (feed, 0), (feed + lean, depth), (lean, depth)])
    wide = max(feed + lean, 0.45 * depth)
    per_point = to_scale(axes, (-0.15 * wide, -0.32 * depth), (max(feed + lean, wide) * 1.05, depth * 1.12), (96, 58, 84, 26))
    left, right = axes.get_xlim()
    times = 1 / (per_point * 72 / 0.0254)
    floor = axes.get_ylim()[0] + 18 * per_point
    # the work: cut surface to the left of the chip, uncut to its right
    shape(axes, [(left + 90 * per_point, floor), (right - 6 * per_point, floor), (right - 6 * per_point, depth), (lean, depth), (0, 0), (left + 90 * per_point, 0)],
          facecolor="#eceff2", edgecolor=MUTED, linewidth=1)
    shape(axes, chip, **filled(PALETTE["blue"], "//"), zorder=3)
    axes.plot([0, lean], [0, depth], color=PALETTE["red"], lw=3.5, zorder=4)
    x = left + 82 * per_point
    axes.plot([x - 5 * per_point, 0], [0, 0], color=MUTED, lw=0.8)
    axes.plot([x - 5 * per_point, lean], [depth, depth], color=MUTED, lw=0.8)
    dimension(axes, (x, 0), (x, depth), f"depth\n{e.shown('depth_of_cut')}", per_point, "left")
    low = -8 * per_point
    axes.annotate("", (0, low), (feed, low), arrowprops={"arrowstyle": "|-|,widthA=0.25,widthB=0.25", "lw": 1.2, "shrinkA": 0, "shrinkB": 0}, zorder=5)
    axes.text(feed / 2, low - 8 * per_point, f"feed {shown(e, feed, _MM)}", ha="left" if feed / per_point < 90 else "center", va="top", zorder=5)
    side = np.array([feed + lean / 2, depth / 2])
    axes.annotate(f"width\n{e.shown('chip_width')}\nthickness\n{e.shown('chip_thickness')}", side, xytext=(18, 0), textcoords="offset points", ha="left", va="center",
                  bbox={"facecolor": "#eceff2", "edgecolor": "none", "pad": 1}, zorder=6)
    axes.text(left + 4 * per_point, axes.get_ylim()[1] - 4 * per_point, f"from above, {units.number(times, 2)} times as large; thick: the edge", ha="left", va="top")
    axes.text((left + right) / 2 + 40 * per_point, axes.get_ylim()[0] + 2 * per_point, "the work, turning", ha="center", va="bottom", color=MUTED)


def _sum(e: Evaluation, axes: Axes) -> None:
    bare(axes)
    area = middle(e, "chip_thickness") * middle(e, "chip_width")
    rows = (("thickness × width", shown(e, area, _AREA)), ("× force per area", e.shown("specific_cutting_force")), ("× condition of tool", e.shown("cut_condition", 2)),
            ("= cutting force", e.shown("cutting_force")))
    for index, (words, figure) in enumerate(rows):
        y = 0.80 - 0.17 * index
        last = index == len(rows) - 1
        axes.text(0.0, y, words, transform=axes.transAxes, ha="left", va="center", weight="bold" if last else "normal")
        axes.text(1.0, y, figure, transform=axes.transAxes, ha="right", va="center", weight="bold" if last else "normal")
    axes.plot([0, 1], [0.375, 0.375], transform=axes.transAxes, color=INK, lw=1)
    axes.text(0.0, 0.96, e["work_material"], transform=axes.transAxes, ha="left", va="center", color=MUTED)


def _arrows(e: Evaluation, sure: Evaluation, axes: Axes) -> None:
    forces = {"downwards": ("cutting_force", PALETTE["red"]), "outwards": ("rough_radial_force", PALETTE["blue"])}
    ends = {words: whiskers(e, name) for words, (name, _) in forces.items()}
    top = 1.22 * max(max(sure[name], high) for (name, _), (*_, high) in zip(forces.values(), ends.values()))
    axes.set_xlim(0, inside(e, top, _N))
    axes.set_ylim(-0.6, 1.6)
    for y, (words, (name, colour)) in zip((1, 0), forces.items()):
        low, _, high = (inside(e, end, _N) for end in ends[words])
        force = sure[name]
        mid = inside(e, force, _N)
        axes.annotate("", (mid, y), (0, y), arrowprops={"arrowstyle": "-|>,head_width=0.5,head_length=0.8", "color": colour, "lw": 5, "shrinkA": 0, "shrinkB": 0})
        if high > low:
            axes.plot([low, high], [y - 0.33] * 2, "|-", color=INK, lw=1.5, ms=8)
        axes.annotate(shown(e, force, _N), (max(mid, high), y), xytext=(8, 0), textcoords="offset points", ha="left", va="center", weight="bold")
    axes.set_yticks([1, 0], list(forces))
    axes.tick_params(axis="y", length=0)
    axes.set_xlabel(label("force", _N, e) + ("; thin line: four fifths of the draws" if e.draws else ""), labelpad=1)
    axes.locator_params(axis="x", nbins=7)
