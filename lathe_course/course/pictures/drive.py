"""Chapter 05: the speeds a drive gives and the gaps it leaves, and torque and power over spindle speed."""

from __future__ import annotations

import numpy as np
from matplotlib.axes import Axes

from ...design.evaluation import Evaluation
from ...machine import drive
from ...units import Length, Power, RotationalSpeed, Speed, Torque
from .axes import Places, inside, label, log_axis, middle, shown, text_box
from .register import NothingToDraw, picture
from .speeds import cutting_speeds
from .style import HATCH, INK, MARKERS, MUTED, PALETTE, filled, on_white, pale

_MM, _RPM, _SPEED, _NM, _W = Length("mm"), RotationalSpeed(), Speed(), Torque(), Power()


def offered(e: Evaluation) -> list[tuple[str, float, float, float]]:
    """Every setting there is, from the slowest: words, slow and fast end (rad/s), reduction."""
    found = e["drive_settings"]
    names = [f"step {n}" for n in range(1, drive.STEPS + 1)]
    names += [f"{name}, back gear" for name in names]
    rows = [
        (name, *map(float, ends))
        for name, *ends in zip(names, found["slow"], found["fast"], found["reduction"])
        if np.isfinite(ends).all()
    ]
    if not rows:
        raise NothingToDraw("No pair of pulleys fits the belt: set the shafts further apart, or make the pulleys smaller.")
    return sorted(rows, key=lambda row: row[1])


def _lasting(e: Evaluation, wish: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Speed run for a wish and torque there."""
    return drive.at_speed(
        wish, e["drive_settings"], e["motor_power"], e["motor_speed"], e["fan_full_share"], e["fan_still_share"]
    )


# --- speeds and gaps ---------------------------------------------------------------------------------
def _gap(rows: list[tuple[str, float, float, float]]) -> tuple[float, float] | None:
    """The widest gap, from the speed below it to the one above; None where there is none."""
    reached, widest = rows[0][2], None
    for _, slow, fast, _ in rows[1:]:
        if slow > reached * (1 + 1e-9) and (widest is None or slow / reached > widest[1] / widest[0]):
            widest = reached, slow
        reached = max(reached, fast)
    return widest


def _diagram_words(evaluation: Evaluation, material: str | None = None) -> str:
    e = evaluation.central
    rows = offered(e)
    each = "; ".join(
        f"{name} {shown(e, slow, _RPM)}" + (f" to {shown(e, fast, _RPM)}" if fast > slow * 1.001 else "")
        for name, slow, fast, _ in rows
    )
    gap = _gap(rows)
    tail = (
        f"The widest gap lies between {shown(e, gap[0], _RPM)} and {shown(e, gap[1], _RPM)}, a factor of {e.shown('widest_gap')}."
        if gap
        else "No gap is left between them."
    )
    return (
        f"Spindle speeds of the drive, a bar for each setting, slowest first: {each}. Decided on: {e.shown('slowest_speed')} to {e.shown('fastest_speed')}. "
        f"{tail} Below, the cutting speed this leaves at each diameter in {material or e['work_material']}."
    )


@picture(
    "Speeds the drive gives, and what its gaps cost",
    _diagram_words,
    height=6.0,
    panels=((0.21, 0.575, 0.76, 0.405), (0.115, 0.115, 0.855, 0.315)),
)
def speed_diagram(evaluation: Evaluation, axes: tuple[Axes, Axes], material: str | None = None) -> None:
    """A bar for each setting over spindle speed; below it the sawtooth over the diameter."""
    e = evaluation.central
    rows = offered(e)
    _bars(e, axes[0], rows)
    _sawtooth(e, axes[1], rows, material or e["work_material"])


def _bars(e: Evaluation, axes: Axes, rows: list[tuple[str, float, float, float]]) -> None:
    wanted = middle(e, "slowest_speed"), middle(e, "fastest_speed")
    low, high = min(rows[0][1], *wanted) / 1.3, max(*(row[2] for row in rows), *wanted) * 1.3
    log_axis(axes, "x", inside(e, low, _RPM), inside(e, high, _RPM))
    axes.set_ylim(-0.7, len(rows) + 0.55)
    gap = _gap(rows)
    if gap:
        axes.axvspan(
            *(inside(e, end, _RPM) for end in gap),
            facecolor=pale(PALETTE["orange"], 0.25),
            edgecolor=pale(PALETTE["orange"], 0.8),
            hatch="//",
            lw=0,
            zorder=0,
        )
    for y, (_, slow, fast, _) in enumerate(rows):
        ends = inside(e, slow, _RPM), inside(e, fast, _RPM)
        if ends[1] > ends[0] * 1.001:
            axes.barh(y, ends[1] - ends[0], left=ends[0], height=0.5, zorder=3, **filled(PALETTE["blue"]))
        else:
            axes.plot([ends[0]], [y], "D", color=PALETTE["blue"], zorder=3)
    axes.set_yticks(range(len(rows)), [row[0] for row in rows])
    axes.tick_params(axis="y", length=0)
    for si, ha, gap_x in ((wanted[0], "left", 5), (wanted[1], "right", -5)):
        axes.axvline(inside(e, si, _RPM), color=PALETTE["green"], ls="--", lw=1.8, zorder=2)
        axes.annotate(
            f"decided: {shown(e, si, _RPM)}",
            (inside(e, si, _RPM), 1),
            xycoords=("data", "axes fraction"),
            xytext=(gap_x, 0),
            textcoords="offset points",
            ha=ha,
            va="top",
            zorder=5,
            bbox=on_white(1.2),
        )
    axes.set_xlabel(label("spindle speed", _RPM, e), labelpad=1)


def _sawtooth(e: Evaluation, axes: Axes, rows: list[tuple[str, float, float, float]], material: str) -> None:
    wished = cutting_speeds(material, e["tool_material"]).likely
    jobs = e["jobs"]
    low, high = 0.5 * min(job.smallest for job in jobs), 1.2 * max(middle(e, "swing_over_bed"), max(job.diameter for job in jobs))
    turning = np.array([2 * wished / end for _, slow, fast, _ in rows for end in (slow, fast)])
    turning = turning[(turning > low) & (turning < high)]
    diameter = np.unique(np.concatenate([np.geomspace(low, high, 60), turning, turning * (1 - 1e-7), turning * (1 + 1e-7)]))
    run, _ = _lasting(e, 2 * wished / diameter)
    reached = run * diameter / 2
    log_axis(axes, "x", inside(e, low, _MM), inside(e, high, _MM))
    top = 1.5 * inside(e, max(wished, min(reached.max(), 1.5 * wished)), _SPEED)
    axes.set_ylim(0, top)
    x, y, wish = inside(e, diameter, _MM), inside(e, reached, _SPEED), inside(e, wished, _SPEED)
    axes.axhline(wish, color=PALETTE["green"], ls="--", zorder=2)
    axes.fill_between(x, y, wish, where=y < wish * (1 - 1e-9), lw=0, zorder=1, **filled(PALETTE["orange"], "//"))
    axes.plot(x, np.minimum(y, top), color=PALETTE["blue"], zorder=3)
    axes.text(
        0.01,
        0.98,
        f"wished in {material}: {shown(e, wished, _SPEED)} (dashed); hatched: lost",
        transform=axes.transAxes,
        ha="left",
        va="top",
        bbox=on_white(1.2),
        zorder=4,
    )
    axes.set_xlabel(label("diameter of the work", _MM, e), labelpad=1)
    axes.set_ylabel(label("cutting speed", _SPEED, e))


# --- torque and power --------------------------------------------------------------------------------
def asked(e: Evaluation) -> list[tuple[str, float, float]]:
    """What asks for torque: words, the speed it would turn at (rad/s), torque; the hardest few of the jobs, and the drill."""
    turning = e["job_turning"]
    jobs = sorted(
        (
            (job.name, float(speed), float(torque))
            for job, speed, torque in zip(e["jobs"], np.ravel(turning["speed"]), np.ravel(turning["asked"]))
            if torque > 0
        ),
        key=lambda one: -one[2],
    )[:3]
    drilled, _ = _lasting(e, np.array([2 * middle(e, "cutting_speed") / middle(e, "largest_drill")]))
    return [*jobs, ("largest drill", float(drilled[0]), middle(e, "drilling_torque"))]


def _torque_words(evaluation: Evaluation) -> str:
    e = evaluation.central
    offered(e)
    each = "; ".join(f"{name} {shown(e, torque, _NM)} at {shown(e, speed, _RPM)}" for name, speed, torque in asked(e))
    return (
        f"Torque and power at the spindle over its speed. The slowest setting gives full power from {e.shown('full_power_speed')} upward; at the slowest speed "
        f"{e.shown('low_speed_torque')} lasts. Roughing cuts at the speed they want, and the largest drill: {each}."
    )


@picture(
    "Torque and power that last, and what asks for them",
    _torque_words,
    height=6.0,
    panels=((0.115, 0.46, 0.83, 0.52), (0.115, 0.115, 0.83, 0.265)),
)
def torque_over_speed(evaluation: Evaluation, axes: tuple[Axes, Axes]) -> None:
    """What each setting gives as a line or a point; what is asked as marked points, each to be had slower along its level line."""
    e = evaluation.central
    rows = offered(e)
    wants = asked(e)
    first, last = rows[0][1], max(row[2] for row in rows)
    low, high = first / 1.25, last * 1.25
    speeds = np.unique(
        np.concatenate(
            [
                np.geomspace(first, last, 80),
                [end * near for _, slow, fast, _ in rows for end in (slow, fast) for near in (1, 1 - 1e-7, 1 + 1e-7)],
            ]
        )
    )
    speeds = speeds[(speeds >= first) & (speeds <= last)]
    _, given = _lasting(e, speeds)
    torque, power = axes
    bottom = min(given.min(), *(want for *_, want in wants)) / 2
    top = 3.2 * max(given.max(), *(want for *_, want in wants))
    for one in axes:
        log_axis(one, "x", inside(e, low, _RPM), inside(e, high, _RPM))
    log_axis(torque, "y", inside(e, bottom, _NM), inside(e, top, _NM))
    rpm, level = inside(e, speeds, _RPM), inside(e, given, _NM)
    torque.fill_between(
        rpm,
        level,
        inside(e, top, _NM),
        facecolor="#f6f1ee",
        edgecolor=pale(PALETTE["red"], 0.4),
        hatch=HATCH["no"],
        lw=0,
        zorder=0,
    )
    words = "stalls: more is asked than there is"
    torque.text(0.985, 0.97, words, transform=torque.transAxes, ha="right", va="top", bbox=on_white(1.2))
    places = Places(torque, [text_box(torque.bbox.x1 - 4, torque.bbox.y1 - 12, words, "right")])
    watts = []
    for name, slow, fast, reduction in rows:
        along = np.geomspace(slow, max(fast, slow * (1 + 1e-9)), 30)
        share = along * reduction / e["motor_speed"]
        turning = drive.motor_torque.si(e["motor_power"], e["motor_speed"], share) * drive.cooling_share.si(
            share, e["fan_full_share"], e["fan_still_share"]
        )
        turning = turning * reduction * e["geared_efficiency" if "back gear" in name else "drive_efficiency"]
        style = {"color": INK, "lw": 3} if fast > slow * 1.001 else {"color": INK, "marker": "D", "ls": "none", "markevery": [0]}
        torque.plot(inside(e, along, _RPM), inside(e, turning, _NM), **style, zorder=3)
        power.plot(inside(e, along, _RPM), inside(e, turning * along, _W), **style, zorder=3)
        places.keep_off(inside(e, along, _RPM), inside(e, turning, _NM), 5)
        watts += list(turning * along)
    for index, (_, speed, want) in enumerate(wants):
        colour = (PALETTE["blue"], PALETTE["red"], PALETTE["green"], PALETTE["purple"])[index]
        y = inside(e, want, _NM)
        torque.plot([inside(e, low, _RPM), inside(e, speed, _RPM)], [y, y], color=colour, ls=":", lw=1.5, zorder=2)
        torque.plot([inside(e, speed, _RPM)], [y], MARKERS[index], color=colour, markeredgecolor="white", zorder=5)
        power.plot(
            [inside(e, speed, _RPM)],
            [inside(e, want * speed, _W)],
            MARKERS[index],
            color=colour,
            markeredgecolor="white",
            zorder=5,
        )
        places.keep_off(inside(e, speed, _RPM), y, 7)
        watts.append(want * speed)
    for name, speed, want in wants:
        places.put(inside(e, speed, _RPM), inside(e, want, _NM), name, bbox=on_white(1.2), zorder=6)
    power.set_ylim(0, 1.15 * inside(e, max(watts), _W))
    power.locator_params(axis="y", nbins=4)
    torque.tick_params(labelbottom=False)
    torque.set_ylabel(label("torque", _NM, e))
    power.set_ylabel(label("power", _W, e))
    power.set_xlabel(label("spindle speed", _RPM, e), labelpad=1)
    power.text(
        0.01,
        0.97,
        f"full power from {e.shown('full_power_speed')}",
        transform=power.transAxes,
        ha="left",
        va="top",
        color=MUTED,
        bbox=on_white(1.2),
        zorder=4,
    )
