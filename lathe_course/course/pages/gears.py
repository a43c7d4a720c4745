"""Chapter 09: what the change gears cut: trains for a pitch, the threads of the list, and whole rows of threads."""

from __future__ import annotations

import functools

import numpy as np

from ... import units
from ...design.asked.thread_misfit import FLANKS, depths_of, drift, misfit, turns_lost
from ...design.chain.wheel_set import Drive
from ...design.chapters.threads import FEED_DRIVES
from ...design.evaluation import Evaluation
from ...machine.change_gears import Train, best_train, cut_pitch, helpful_wheels, train_ratio, trains_for, wheel_distance
from ...sources import cite
from ...tables import table
from ...units import Length
from ...working import Working, plain_equation
from ..pictures import gears as drawn
from ..pictures.axes import middle, shown
from ..pictures.gears import wanted_pitch
from ..shown.panels import Page, paragraphs, tabled
from ..text.values import Fold
from .register import page

_MM, _UM = Length("mm"), Length("µm")
#: errors of pitch up to here go into any usual nut, and up to here into a short one
GOOD, SHORT_NUTS = 0.0005, 0.002
#: from here on a pitch is missed by so much that another thread is cut
ANOTHER_THREAD = 0.05
_LINES = "common_practice, one part in two thousand for any nut, one in five hundred for a short one"
#: the length on which an error is told, for readers of mm and of inches
_TOLD_ON = {"mm": 0.025, "inch": 0.0254}
_HAND = (
    "One idler or one pair on the stud: the leadscrew turns the same way as the spindle, and a right-hand leadscrew cuts a right-hand thread. "
    "For a left-hand thread the gears before the first driver are reversed, or one more idler stands in the train."
)


# --- sentences ---------------------------------------------------------------------------------------
def _error_said(error: float) -> str:
    """'exact', '0.012 % coarse', '0.34 % fine'."""
    return "exact" if error == 0 else f"{units.number(100 * abs(error), 2)} % {'coarse' if error > 0 else 'fine'}"


def pitch_said(e: Evaluation, si: float, digits: int = 4) -> str:
    """A pitch in the reader's unit, and by its own name where it has one in the other."""
    return drawn.pitch_said(e, si, digits, both=True)


def _drift_said(e: Evaluation, error: float, length: float) -> str:
    return "0" if error == 0 else shown(e, drift(error, length), _UM, 2)


def _serves(error: float) -> str:
    return "any nut" if abs(error) <= GOOD else "short nuts only" if abs(error) <= SHORT_NUTS else "no"


def _on(e: Evaluation) -> str:
    return "25 mm" if e.design.system == "mm" else "an inch"


# --- one pitch ---------------------------------------------------------------------------------------
@page
def trains(evaluation: Evaluation, pitch: str = "", most: int = 8) -> Page:
    """All trains of the set for one pitch, metric or inch, the best first; without a pitch that of the first thread."""
    e = evaluation.central
    drive, wanted = Drive.of(e.middle), wanted_pitch(e, pitch)
    ratio = float(drive.ratio(wanted))
    found = trains_for(drive.teeth, drive.place, ratio, most)
    head = (
        f"{pitch_said(e, wanted)} wanted on a leadscrew of {pitch_said(e, drive.leadscrew_pitch)}: "
        f"the wheels must make {units.number(ratio, 5)} turns of it for one of the spindle."
    )
    rows = [
        (
            train.written,
            pitch_said(e, drive.pitch_of(train), 5),
            _error_said(train.error),
            _drift_said(e, train.error, _TOLD_ON[e.design.system]),
            "yes" if train.mounts else f"no: {train.obstacle}",
        )
        for train in found
    ]
    best = best_train(drive.teeth, drive.place, ratio)
    return (
        paragraphs(head)
        + tabled(rows, ("drivers over driven", "cuts", "error", f"over {_on(e)}", "can be put on"), (1, 2, 3))
        + _worked(e, drive, best)
        + paragraphs(_judged(e, drive, wanted, best), _HAND)
    )


def _worked(e: Evaluation, drive: Drive, train: Train | None) -> Page:
    """The sums of one train, folded: its ratio, the pitch it cuts, and how far apart the shafts of each mesh stand."""
    if train is None:
        return Page()
    first, second = (train.wheels * 2)[:2], train.wheels[-2:]
    wheels = dict(zip(train_ratio.inputs, (*first, *(second if len(train.wheels) == 4 else (1, 1)))))
    meshes = [(train.wheels[0], train.idler), (train.idler, train.wheels[1])] if train.idler else [first, second]
    sums = [
        Working.of(train_ratio, wheels, e.design.system),
        Working.of(
            cut_pitch,
            {"train_ratio": train.ratio, "spindle_ratio": drive.spindle_ratio, "leadscrew_pitch": drive.leadscrew_pitch},
            e.design.system,
        ),
        *(
            Working.of(wheel_distance, {"module": drive.place.module, "first_wheel": a, "second_wheel": b}, e.design.system)
            for a, b in meshes
        ),
    ]
    lines = [f"{one.formula.title}: {plain_equation(one.numbers)} = {plain_equation(one.answer).split(' = ')[1]}" for one in sums]
    return Page(Fold(f"The sums of {train.written}", paragraphs("\n".join(lines)).blocks, told=True))


def _judged(e: Evaluation, drive: Drive, wanted: float, best: Train | None) -> str:
    """What the best train that can be put on comes to in a nut."""
    if best is None:
        return (
            f"No train can be put on: the leadscrew is {e.shown('gear_centres')} from the first driver, and the stud reaches {e.shown('banjo_reach')} from it. "
            "Larger wheels, or a shorter distance, would span it."
        )
    if best.error == 0:
        return f"{best.written} cuts it exactly; what is left is the error of the leadscrew itself."
    nut = middle(e, "nut_length")
    if abs(best.error) > ANOTHER_THREAD:
        turns, lost = (units.number(one, 2) for one in turns_lost(best.error, wanted, nut))
        help_ = (
            "smaller drivers or larger driven wheels, or a leadscrew of finer pitch"
            if best.error > 0
            else "larger drivers or smaller driven wheels, or a leadscrew of coarser pitch"
        )
        return (
            f"No train of this set cuts this pitch. The nearest that can be put on, {best.written}, cuts {pitch_said(e, drive.pitch_of(best))}, which is another thread: "
            f"over a nut of {e.shown('nut_length')} with its {turns} turns it drifts by {lost} turns of the thread. It takes {help_}."
        )
    found = misfit(best.error, wanted, nut)
    fits = (
        f"a usual fit has {shown(e, found.play, _UM, 2)} of it, so the nut goes on"
        if found.used <= found.play
        else f"a usual fit has only {shown(e, found.play, _UM, 2)}, so the thread must be cut thinner by the rest, or the nut must be shorter"
    )
    told = _TOLD_ON[e.design.system]
    return (
        f"The nearest that can be put on is {best.written}, {_error_said(best.error)}. Over a nut of {e.shown('nut_length')} it drifts by {shown(e, found.drift, _UM, 2)}; "
        f"on flanks of 60 deg that uses up {shown(e, found.used, _UM, 2)} of the play: {fits}. The play alone serves a nut of up to {shown(e, found.longest_nut, _MM, 2)}. "
        f"As a feed screw it would be off by {shown(e, drift(best.error, 4 * told), _UM, 2)} in {shown(e, 4 * told, _MM)}."
    )


# --- the list ----------------------------------------------------------------------------------------
@page
def job_threads(evaluation: Evaluation) -> Page:
    """Each thread on the list: its train, its error over nut and part, which wheel would help; and the sheet of the first thread."""
    e = evaluation.central
    drive = Drive.of(e.middle)
    jobs = [job for job in e["jobs"] if job.pitch > 0]
    none = (
        []
        if e["threads_cut"]
        else [
            "As chapter 10 has it, the lathe cuts no threads with a leadscrew; this is what the set of wheels would do if it did."
        ]
    )
    if not jobs:
        return paragraphs(*none, "No thread on your list is cut with a single point.", _at_the_machine(e)) + _sheet(e)
    rows, errors = [], []
    for job in jobs:
        best = best_train(drive.teeth, drive.place, float(drive.ratio(job.pitch)))
        errors.append(best.error if best else -1.0)
        rows.append(
            (
                job.name,
                pitch_said(e, job.pitch),
                best.written if best else "none can be put on",
                _error_said(errors[-1]) if best else "-",
                *(
                    _drift_said(e, errors[-1], length) if best else "-"
                    for length in (_TOLD_ON[e.design.system], middle(e, "nut_length"), job.length)
                ),
                _serves(errors[-1]),
            )
        )
    head = (
        "job",
        "pitch",
        "train",
        "error",
        f"over {_on(e)}",
        f"over {e.shown('nut_length')}",
        "along the whole part",
        "good for",
    )
    return (
        tabled(rows, head, (1, 3, 4, 5, 6))
        + paragraphs(
            *none,
            _one_more(e, drive, np.array([job.pitch for job in jobs]), np.array(errors)),
            f"Good for: {cite(_LINES)}.",
            _at_a_shoulder(e),
            _at_the_machine(e),
        )
        + _sheet(e)
    )


def _at_a_shoulder(e: Evaluation) -> str:
    """How fast the tool comes, and how far it runs on."""
    return (
        f"At {e.shown('slowest_speed')}, the slowest speed, the coarsest of them draws the carriage along at {e.shown('shoulder_speed')}, "
        f"and {e.shown('shoulder_overrun')} further while a hand sees the mark and opens the nut: a groove to run out into is at least so wide."
    )


def _at_the_machine(e: Evaluation) -> str:
    """What else the wheels give, and how much room they take."""
    by_hand, wheels, second_stud, own = FEED_DRIVES
    feed = {
        by_hand: f"As a feed the slowest train would give {e.shown('finest_gear_feed')}; yours is wound by hand.",
        wheels: f"As a feed the slowest train gives {e.shown('finest_gear_feed')}; a finer finish is wound by hand.",
        second_stud: f"As a feed the slowest train gives {e.shown('finest_gear_feed')}, with the second stud {e.shown('finest_feed')}; a finer finish is wound by hand.",
        own: "The wheels cut threads alone; the feed has a shaft or motor of its own.",
    }[e["feed_drive"]]
    return (
        f"{feed} "
        f"The largest wheel, of {e.shown('largest_wheel')} teeth, is {e.shown('tip_diameter')} over its teeth: the cover must clear it."
    )


def _one_more(e: Evaluation, drive: Drive, pitches: np.ndarray, errors: np.ndarray) -> str:
    """Which single wheel more would mend most of what misses."""
    missing = np.abs(errors) > GOOD
    if not missing.any():
        return "No wheel more is needed."
    (wheel, after), *_ = _helpful(drive, tuple(pitches[missing]))
    left = int((np.abs(after) > GOOD).sum())
    mended = int(missing.sum()) - left
    if not mended:
        return (
            f"No single wheel of 20 to 127 teeth brings {'the one that misses' if missing.sum() == 1 else f'any of the {int(missing.sum())} that miss'} within {units.number(100 * GOOD)} %; "
            f"one of {wheel} teeth comes nearest, {_error_said(float(after[np.abs(after).argmax()]))} at worst."
        )
    rest = "" if not left else f", and leaves {left}"
    which = "the one that misses" if missing.sum() == 1 else f"{mended} of the {int(missing.sum())} that miss"
    return (
        f"One wheel more would help most if it had {wheel} teeth: it brings {which} "
        f"within {units.number(100 * GOOD)} %{rest}. Tried were all wheels of 20 to 127 teeth, each with every train it makes with yours."
    )


@functools.lru_cache(maxsize=16)
def _helpful(drive: Drive, pitches: tuple[float, ...]) -> list[tuple[int, np.ndarray]]:
    return helpful_wheels(drive.teeth, drive.place, drive.ratio(np.array(pitches)), GOOD)


# --- whole rows of threads -----------------------------------------------------------------------------
@page
def wheels_cut(evaluation: Evaluation, series: str = "inch") -> Page:
    """Every pitch of the metric or of the inch threads, with the train that comes nearest and the depth to cut."""
    e = evaluation.central
    drive = Drive.of(e.middle)
    rows, pitches, errors = [], [], []
    metric = series != "inch"
    for pitch, names, steep in _metric(e) if metric else _inch():
        best = best_train(drive.teeth, drive.place, float(drive.ratio(pitch)))
        error = best.error if best else -1.0
        depth, steep_depth = depths_of(pitch)
        depths = [shown(e, depth, _MM)]
        if not metric:
            depths.append(shown(e, steep_depth, _MM) if steep else "-")
        rows.append(
            (
                pitch_said(e, pitch),
                names,
                *depths,
                best.written if best else "none can be put on",
                _error_said(error) if best else "-",
                _serves(error),
            )
        )
        pitches.append(pitch)
        errors.append(error)
    head = (
        "pitch",
        "threads",
        *(("depth",) if metric else ("depth, 60 deg", "depth, 55 deg")),
        "nearest train",
        "error",
        "good for",
    )
    good = sum(abs(error) <= GOOD for error in errors)
    said = f"{good} of {len(rows)} come within {units.number(100 * GOOD)} %."
    sources = ("iso_261",) if metric else ("asme_b1_1", "bs_84", "iso_228_1")
    return tabled(rows, head, (0, 5 if metric else 6)) + paragraphs(
        said, _one_more(e, drive, np.array(pitches), np.array(errors)), f"Threads: {cite(sources)}. Good for: {cite(_LINES)}."
    )


def _metric(e: Evaluation) -> list[tuple[float, str, bool]]:
    """Pitches of the metric threads, fine to coarse, with their names."""
    by_pitch: dict[float, list[str]] = {}
    for name, row in table("threads").items():
        by_pitch.setdefault(row["pitch"], []).append(name.split(" ")[0])
    return [(pitch, _listed(names), False) for pitch, names in sorted(by_pitch.items())]


def _inch() -> list[tuple[float, str, bool]]:
    """Pitches of the inch threads, fine to coarse, with names of the threads, and whether some stand at 55 deg."""
    by_count: dict[float, list[tuple[str, float]]] = {}
    for name, row in table("inch_threads").items():
        by_count.setdefault(row["per_inch"], []).append((name, row["flank_angle"]))
    return [
        (
            0.0254 / count,
            _listed([name.replace(" in ", " ") for name, _ in found]),
            any(angle < FLANKS - 0.01 for _, angle in found),
        )
        for count, found in sorted(by_count.items(), reverse=True)
    ]


def _listed(names: list[str], most: int = 3) -> str:
    return ", ".join(names[:most]) + (" …" if len(names) > most else "")


# --- a thread sheet ------------------------------------------------------------------------------------
def _sheet(e: Evaluation) -> Page:
    lines = (
        ("triangle_height", 4),
        ("pitch_diameter", 5),
        ("root_diameter", 4),
        ("minor_diameter", 4),
        ("external_depth", 4),
        ("internal_depth", 4),
        ("flank_infeed", 4),
        ("measuring_wire", 4),
        ("over_wires", 5),
        ("play_allowance", 3),
        ("pitch_tolerance", 3),
        ("stress_area", 3),
    )
    swung = e["top_of_slide"] == "topslide"
    rows = [(e.chain.part(name).label, e.shown(name, digits)) for name, digits in lines if swung or name != "flank_infeed"]
    low = middle(e, "over_wires") - middle(e, "play_allowance") - middle(e, "pitch_tolerance")
    high = middle(e, "over_wires") - middle(e, "play_allowance")
    fit = (
        f"For a usual fit, 6g, the micrometer over the wires reads between {shown(e, low, _MM, 5)} and {shown(e, high, _MM, 5)}. "
        f"{'The topslide stands half a degree short of the flank, at 29.5 deg.' if swung else 'With no topslide to swing, the tool goes straight in: take light cuts, for it cuts on both flanks.'} Sources: {cite(('iso_965_1', 'iso_68_1'))}."
    )
    name = e["practice_thread"]
    title = f"Your first thread, {name}, of pitch {pitch_said(e, middle(e, 'practice_pitch'))}: {len(rows)} figures for the bench"
    return Page(Fold(title, (tabled(rows, (), (1,)) + paragraphs(fit)).blocks, told=True))
