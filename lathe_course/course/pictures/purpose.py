"""Chapters 01 and 02: what the jobs ask of the machine, and whether they fit."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from matplotlib.axes import Axes
from matplotlib.patches import Rectangle

from ... import units
from ...design.chapters.hand_rest import over_bed
from ...design.evaluation import Evaluation
from ...design.jobs import Job
from ...machine.cutting_speeds import spindle_speed
from ...units import Length, RotationalSpeed
from .axes import Places, bare, inside, label, middle, wrapped
from .register import picture
from .speeds import cutting_speeds
from .style import INK, MUTED, PALETTE, on_white, text_size

_MM, _UM, _RPM = Length("mm"), Length("µm"), RotationalSpeed()
_MOST_ROWS = 11


# --- jobs against size ----------------------------------------------------------------------------------
def misfit(e: Evaluation, job: Job) -> str:
    """Why a job does not fit, in two or three words; '' if it does."""
    swing = (
        middle(e, "swing_over_bed") - 2 * middle(e, "disc_clearance")
        if over_bed(job, e["hand_rest"])
        else middle(e, "swing_over_slide")
    )
    if job.length > middle(e, "between_centres") + 1e-9:
        return "too long"
    if job.diameter > swing + 1e-9:
        return "too large"
    if job.bar and not job.bar < middle(e, "spindle_bore"):
        return "bar too thick"
    return ""


def _jobs_words(e: Evaluation) -> str:
    out = [f"{job.name} ({why})" for job in e["jobs"] if (why := misfit(e, job))]
    tail = f"These do not fit: {', '.join(out)}." if out else "All jobs fit."
    return (
        f"Each job as a point, diameter over length, against what the lathe takes: {e.shown('swing_over_slide')} over the cross-slide, "
        f"{e.shown('swing_over_bed')} over the bed, {e.shown('between_centres')} between centres. {tail} "
        f"{middle(e, 'share_that_fits'):.0%} of the turning hours fit."
    )


@picture("The jobs against the size of the lathe", _jobs_words, panels=((0.115, 0.15, 0.86, 0.83),))
def jobs_against_size(e: Evaluation, axes: Axes) -> None:
    """Jobs as points, the reach of the machine as lines."""
    jobs = e["jobs"]
    between, slide, bed = (inside(e, middle(e, name), _MM) for name in ("between_centres", "swing_over_slide", "swing_over_bed"))
    x, y = inside(e, jobs.column("length"), _MM), inside(e, jobs.column("diameter"), _MM)
    axes.set_xlim(0, 1.28 * max(between, x.max()))
    axes.set_ylim(0, 1.22 * max(bed, y.max()))
    axes.set_xlabel(label("length of the work", _MM, e))
    axes.set_ylabel(label("diameter", _MM, e))
    axes.fill_between([0, between], 0, slide, facecolor="#e3eef6", lw=0, zorder=0)
    axes.plot([between, between], [0, bed], color=INK, lw=1.8, zorder=1)
    axes.plot([0, between], [bed, bed], color=INK, lw=1.8, zorder=1)
    axes.plot([0, between], [slide, slide], color=PALETTE["blue"], lw=1.8, ls="--", zorder=1)
    white = on_white(0.6, 0.85)
    places = Places(axes)
    places.keep_off(x, y, 9)
    apart = bed - slide > 0.1 * axes.get_ylim()[1]
    for swing, words, dy, colour in (
        (bed, f"over the bed {e.shown('swing_over_bed')}", 4, MUTED),
        (slide, f"over the cross-slide {e.shown('swing_over_slide')}", 4 if apart else -17, PALETTE["blue"]),
    ):
        room = between / axes.get_xlim()[1] * axes.bbox.width > text_size(words)[0] + 12
        places.tell((between if room else 0, swing), words, -6 if room else 6, dy, "right" if room else "left", color=colour)
    places.tell((between, 0), f"between centres\n{e.shown('between_centres')}", 5, 4, color=MUTED)
    for job, px, py in sorted(zip(jobs, x, y), key=lambda one: -one[0].share):
        why = misfit(e, job)
        colour = PALETTE["red"] if why else INK
        size = 7 + 26 * np.sqrt(job.share)
        axes.plot(
            [px],
            [py],
            "s" if job.is_disc else "o",
            ms=size,
            color="white" if why else INK,
            markeredgecolor=colour,
            markeredgewidth=1.8,
            alpha=0.9,
            zorder=4,
        )
        if why:
            axes.plot([px], [py], "x", ms=size + 6, color=colour, markeredgewidth=3, zorder=5)
        places.put(px, py, f"{job.name}: ✗ {why}" if why else job.name, gap=size / 2 + 4, zorder=6, bbox=white, color=INK)
    axes.text(
        1.0,
        1.0,
        "round: shafts, square: discs; larger: more of the hours",
        transform=axes.transAxes,
        ha="right",
        va="top",
        color=MUTED,
    )


# --- demands ---------------------------------------------------------------------------------------------
def _columns(e: Evaluation) -> list[tuple[str, units.Kind, Callable[[Job], float], Callable]]:
    """Heading, kind, what a job asks (NaN for nothing), and whether the most or the least drives."""
    tool, rest = e["tool_material"], e["hand_rest"]

    def speed(job: Job, diameter: float) -> float:
        return spindle_speed.si(cutting_speeds(job.material, tool).likely, diameter)

    def some(value: float) -> float:
        return value if value > 0 else np.nan

    return [
        ("over\nthe bed", _MM, lambda job: job.diameter if over_bed(job, rest) else np.nan, np.nanargmax),
        ("over the\nslide", _MM, lambda job: np.nan if over_bed(job, rest) else job.diameter, np.nanargmax),
        ("length\n", _MM, lambda job: job.length, np.nanargmax),
        ("bar\n", _MM, lambda job: some(job.bar), np.nanargmax),
        ("slowest\n", _RPM, lambda job: speed(job, job.diameter), np.nanargmin),
        ("fastest\n", _RPM, lambda job: speed(job, job.smallest), np.nanargmax),
        ("toler-\nance", _UM, lambda job: job.tolerance, np.nanargmin),
        ("thread\npitch", _MM, lambda job: some(job.pitch), np.nanargmax),
    ]


def drivers(e: Evaluation) -> dict[str, tuple[Job, str]]:
    """For each demand the job that drives it, and the figure as shown."""
    found = {}
    for heading, kind, ask, most in _columns(e):
        asked = np.array([ask(job) for job in e["jobs"]])
        if not np.all(np.isnan(asked)):
            index = int(most(asked))
            found[heading.replace("toler-\n", "toler").replace("\n", " ").strip()] = (
                e["jobs"][index],
                units.shown(asked[index], kind, e.design.system),
            )
    return found


def _demand_words(e: Evaluation) -> str:
    told = "; ".join(f"{what}: {job.name}, {figure}" for what, (job, figure) in drivers(e).items())
    return f"What each job asks of the machine, in a table; the job that drives a column is framed. Driving: {told}."


@picture("Which job drives which demand", _demand_words, height=4.5, panels=((0.0, 0.0, 1.0, 1.0),))
def demands(e: Evaluation, axes: Axes) -> None:
    """A row for each job, a column for each demand, the driving figure framed."""
    jobs, columns = list(e["jobs"]), _columns(e)
    asked = np.array([[ask(job) for job in jobs] for _, _, ask, _ in columns])
    driving = [int(most(row)) if not np.all(np.isnan(row)) else -1 for row, (*_, most) in zip(asked, columns)]
    kept = sorted(range(len(jobs)), key=lambda index: (index not in driving, -jobs[index].share))[:_MOST_ROWS]
    kept.sort()
    bare(axes)
    wide, tall = axes.bbox.width, axes.bbox.height
    axes.set_xlim(0, wide)
    axes.set_ylim(0, tall)
    left, head = 142.0, 62.0
    step, row_high = (wide - left - 4) / len(columns), min(40.0, (tall - head - 24) / max(len(kept), 1))
    for column, (heading, kind, *_) in enumerate(columns):
        x = left + (column + 0.5) * step
        unit = units.unit_text(kind, e.design.system)
        axes.text(
            x,
            tall - 4,
            f"{heading}\n({unit})" if heading[-1] != "\n" else f"\n{heading}({unit})",
            ha="center",
            va="top",
            linespacing=1.1,
        )
    axes.plot([4, wide - 4], [tall - head + 8] * 2, color=INK, lw=1.2)
    for row, index in enumerate(kept):
        y = tall - head - (row + 0.45) * row_high
        if row % 2:
            axes.add_patch(Rectangle((4, y - row_high / 2), wide - 8, row_high, facecolor="#f4f4f4", edgecolor="none", zorder=0))
        axes.text(8, y, wrapped(jobs[index].name, left - 14), ha="left", va="center", linespacing=1.0)
        for column, (_, kind, *_) in enumerate(columns):
            value, drives = asked[column, index], driving[column] == index
            x = left + (column + 0.5) * step
            axes.text(
                x,
                y,
                units.number(inside(e, value, kind)),
                ha="center",
                va="center",
                weight="bold" if drives else "normal",
                color=INK if drives else MUTED,
            )
            if drives:
                axes.add_patch(
                    Rectangle(
                        (x - step / 2 + 3, y - row_high * 0.42),
                        step - 6,
                        row_high * 0.84,
                        facecolor="none",
                        edgecolor=PALETTE["blue"],
                        lw=2.4,
                    )
                )
    more = f"; {len(jobs) - len(kept)} more jobs drive nothing" if len(kept) < len(jobs) else ""
    axes.text(8, 8, f"framed and bold: this job drives the demand{more}", ha="left", va="center", color=MUTED)
