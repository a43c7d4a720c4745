"""A first draft: from the wish to all decisions, machine and build, each with its reason.

The jobs fix the size (``sizing``), the chain mends what fails and trims what is stouter than it needs to be
(``settling``).  Nothing is estimated twice: a draft is a design like any other, and the same wish gives the same draft.
"""

from __future__ import annotations

import functools
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from types import MappingProxyType
from typing import Any

import numpy as np

from ...planning.mix import Mix
from ...units import InputProblem
from ..asked.mixes import BY_SUMS, PROVEN, choose_ways, mixes_here
from ..building import note_of, ways_of_demo
from ..chain.luck import DRAWS
from ..chapters.purpose import job_speeds
from ..demos import DEMOS, demo
from ..design import Design
from ..evaluation import Evaluation, evaluate
from ..jobs import Job, Jobs
from ..lathe import LATHE
from ..origins import YOURS
from .settling import MACHINE, PLACE, Settled, settled, trim
from .sizing import beyond, sized, slimmest, written
from .wish import ANSWERS, Wish, answered, taken, wish_of

#: findings that only time, money, place or company can mend
ENVELOPE = (
    "length_is_there",
    "hours_in_balance",
    "money_in_balance",
    "finished_in_time",
    "finished_in_balance",
    "place_bears_parts",
    "place_is_deep_enough",
    "goes_through_door",
    "goes_round_corner",
    "lift_within_guidance",
    "floor_carries_it",
    "moves_leave_time",
    "every_part_can_be_had",
)


#: most rounds of trimming and mending
_ROUNDS = 5
_MOST_BESIDE = 3


@dataclass(frozen=True)
class Beside:
    """Another draft beside the first, or another way than building: what it brings and what it gives up."""

    name: str
    design: Design | None
    brings: str
    gives_up: str


@dataclass(frozen=True)
class Draft:
    """A whole design drafted from a wish."""

    wish: Wish
    design: Design
    reasons: Mapping[str, str]
    unmet: tuple[str, ...]
    costs: tuple[str, ...]  # names of jobs that cannot be met, the one that costs most first
    before: Design | None = field(default=None, repr=False)

    @functools.cached_property
    def evaluation(self) -> Evaluation:
        return evaluate(self.design)

    @functools.cached_property
    def would_change(self) -> tuple[tuple[str, str, str, str], ...]:
        """What the draft changes in the design it was made for: decision, before, after, why."""
        if self.before is None:
            return ()
        return tuple(
            (name, str(self.before.choices[name].written), str(choice.written), choice.reason)
            for name, choice in self.design.choices.items()
            if choice.origin != YOURS and str(choice.written) != str(self.before.choices[name].written)
        )

    @functools.cached_property
    def beside(self) -> tuple[Beside, ...]:
        """Two or three drafts, and buying used or waiting, where something is not met; nothing where all is."""
        found = [one for one in _beside(self) if one.brings] if self.unmet else []
        drafts = [one for one in found if one.design is not None][:_MOST_BESIDE]
        return (*drafts, *(one for one in found if one.design is None))


def draft(wish: Wish, design: Design | None = None) -> Draft:
    """All decisions from a wish; what is the learner's own in ``design`` stays.

    Raises InputProblem where there is nothing to draft from: no job, or only jobs that no such lathe can do.
    """
    if not wish.jobs:
        raise InputProblem.about(
            "jobs",
            "there is no job yet, and a lathe is drawn round the parts it must make; pick one of the common parts and give its size, "
            "such as a bush of 40 mm.",
        )
    out = beyond(wish.jobs)
    able = Jobs(job for job in wish.jobs if job.name not in out)
    if not able:
        raise InputProblem([("jobs", sentence) for sentence in out.values()])
    base = _base(wish, design)
    values, reasons, free = _begun(base, able, wish)
    start = replace(base.drafted(values, reasons), jobs=able)
    state = settled(start, free)
    now = _written(state, free, reasons)
    for _ in range(_ROUNDS):
        e, stopped = trim(evaluate(now), free)
        trimmed = {name: e.design[name] for name in free if e.design[name] != now[name]}
        now = _in_words(now, trimmed, reasons, stopped, "stopped")
        # kept, the parts may come by other ways than while they were tried
        state = settled(now, free)
        now = _written(state, free, reasons)
        if not state.because and not trimmed:
            break
    now = _written(settled(now, free, PLACE), free, reasons)
    done = replace(now, jobs=wish.jobs)
    costs, unmet = _unmet(done, able, wish, out)
    return Draft(wish, done, MappingProxyType({name: done.choices[name].reason for name in free}), unmet, costs, design)


# --- where it begins ------------------------------------------------------------------------------------------
def _base(wish: Wish, design: Design | None) -> Design:
    """The design that is drafted on: answers kept, and nothing in it that was a demo's and is invented."""
    base = design if design is not None else replace(demo(), name="")
    asked = {
        name: text
        for name, text in wish.answers.items()
        if not (design is not None and name in wish_of(design).answers and wish_of(design).answers[name] == text)
    }
    base = replace(answered(base, asked), jobs=wish.jobs)
    theirs = ways_of_demo(base.started_from)
    ways = {part: how for part, how in base.ways.items() if theirs.get(part) != how or note_of(part) in base.notes}
    if base.started_from in DEMOS:
        invented = demo(base.started_from)
        readings = {
            sheet: base.chain.sheets[sheet].empty if rows == invented.readings.get(sheet) else rows
            for sheet, rows in base.readings.items()
        }
        base = replace(base, readings=MappingProxyType(readings), name="" if base.name == invented.name else base.name)
    return replace(base, ways=MappingProxyType(ways), held=None)


def _begun(base: Design, jobs: Jobs, wish: Wish) -> tuple[dict[str, str], dict[str, str], frozenset[str]]:
    """Values and reasons to begin with, and the decisions that are free."""
    free = frozenset(name for name in base.choices if base.origin(name) != YOURS)
    fixed = {name: _middle(base[name]) for name in base.choices if name not in free}
    sizes = sized(jobs, fixed)
    values, reasons = sizes.written, dict(sizes.reasons)
    for name, (value, why) in taken(wish).items():
        values[name], reasons[name] = value, why
    values |= {"at_hand": wish.answers.get("machines", ANSWERS["machines"].stands_for)}
    reasons["at_hand"] = "as you ticked it" if wish.known("machines") else f"not known yet. {ANSWERS['machines'].unknown}"
    home = fixed.get("home", values.get("home"))
    values["moved_as"], reasons["moved_as"] = _PIECES[home]
    builders = float(fixed.get("builders", 1.0))
    values |= {
        "company_share": "80 %" if builders > 1 else "10 %",
        "lifted_by": {1: "two people", 2: "two people"}.get(int(builders), "three people"),
    }
    reasons |= {
        "company_share": "you build together" if builders > 1 else "you build alone, and somebody drops in now and then",
        "lifted_by": "a neighbour can be asked for an hour" if builders == 1 else "those who build lift together",
    }
    return values, {name: why for name, why in reasons.items() if name in values}, free


#: pieces in which it is carried, by how often it moves house, and why
_PIECES = {
    "settled": ("part by part", "it is carried in once, and the lightest pieces make the lightest lifts"),
    "renting": ("in assemblies", "it may move with you, and assemblies need not be trued anew one by one"),
    "moving about": ("whole", "it moves often, and what stays together stays true"),
}


def _middle(value: Any) -> Any:
    return getattr(value, "likely", value)


# --- in words ---------------------------------------------------------------------------------------------------
def _written(state: Settled, free: Iterable[str], reasons: dict[str, str]) -> Design:
    """The settled design as a learner would write it, so that parts are made as they will be when it is kept."""
    return _in_words(state.design, {name: state.design[name] for name in state.because}, reasons, state.because, "moved")


def _in_words(
    design: Design, values: Mapping[str, Any], reasons: dict[str, str], findings: Mapping[str, str], how: str
) -> Design:
    limits = LATHE.limits
    for name in {*values, *findings}:
        finding = findings.get(name)
        if how == "moved" and finding:
            reasons[name] = f"chosen together with the rest so that “{limits[finding].label}” does not fail"
        elif how == "stopped" and finding:
            first = "less than in proportion; " if name in values else _first(reasons.get(name, ""))
            reasons[name] = f"{first}one step smaller and “{limits[finding].label}” would be told worse"
        elif how == "stopped":
            reasons[name] = "less than in proportion, as far as other builds go, while every finding stays as it is"
    texts = {name: written(LATHE.decisions[name], value) for name, value in values.items()}
    clean = dict(design.choices.items())
    for name, choice in clean.items():
        if choice.written is None:
            clean[name] = replace(choice, written=written(LATHE.decisions[name], choice.value), origin="draft")
    made = replace(design, choices=MappingProxyType(clean), held=None)
    return made.drafted(
        texts | {name: made.choices[name].written for name in reasons if name not in texts and made.origin(name) != YOURS},
        reasons,
    )


def _first(reason: str) -> str:
    """What a reason said before the trimming was told, to be gone on with."""
    said = reason.split("; one step smaller")[0].removesuffix(".")
    return "" if said.startswith("one step smaller") or not said else f"{said}; "


# --- what cannot be met -------------------------------------------------------------------------------------------
def _unmet(design: Design, able: Jobs, wish: Wish, out: Mapping[str, str]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Jobs that cannot be met, and sentences on all that is not."""
    names, said = list(out), list(out.values())
    e = evaluate(replace(design, jobs=able), DRAWS)
    for finding in (name for name in MACHINE.findings if e.findings[name].status == "fails"):
        if own := _own_behind(design, finding):
            said.append(f"{e.findings[finding].sentence} You settled {own} yourself; taken back, it would be drafted otherwise.")
            continue
        job = _culprit(finding, e.central, able)
        if job.name not in names:
            names.append(job.name)
        if finding == "threads_can_be_cut" and wish.answers.get("threading") == "no":
            continue  # said below, with what to do instead
        said.append(
            f"{e.findings[finding].sentence} It is “{job.name}” that asks for it; without that job, or with less asked of it, the draft holds."
        )
    said += [e.findings[name].sentence for name in ENVELOPE if e.findings[name].status == "fails"]
    if wish.answers.get("threading") == "no" and (threads := [job.name for job in wish.jobs if job.pitch > 0]):
        said.append(
            f"You want no leadscrew for threads, and “{threads[0]}” has a thread cut with a single point: cut it with a die, or ask for the leadscrew."
        )
    if not e["building"].shop.capabilities and not wish.known("near"):
        said.append(
            "There is no machine and nobody to ask: then everything must be bought or made by a shop. Begin with hand tools and a drill, or look for a club."
        )
    return tuple(names), tuple(dict.fromkeys(said))


def _own_behind(design: Design, finding: str) -> str:
    """Labels of the learner's own decisions that a draft would have moved for a finding, at most three."""
    own = [
        LATHE.decisions[name].label for name in MACHINE.moved if name in LATHE.upstream(finding) and design.origin(name) == YOURS
    ]
    return ", ".join(own[:3]) + (f" and {len(own) - 3} more" if len(own) > 3 else "")


def _culprit(finding: str, e: Evaluation, jobs: Jobs) -> Job:
    """The job that a finding of the machine hangs on."""
    if finding in (
        "fast_enough",
        "bearings_fast_enough",
        "chuck_not_overrun",
        "drive_fast_enough",
        "drive_within_bounds",
        "rim_slow_enough",
        "grip_survives_speed",
        "bearings_spare_motor",
        "spindle_does_not_whirl",
        "leadscrew_quiet",
    ):
        return jobs[int(np.argmax(job_speeds(jobs, e["tool_material"], "smallest")))]
    if finding in (
        "slow_enough",
        "torque_suffices",
        "pace_held",
        "drive_slow_enough",
        "drill_turns",
        "starts_soon",
        "stops_soon",
        "thread_can_stop",
        "gaps_small_enough",
        "belt_holds",
        "belt_lies_round",
        "belt_bends",
        "pulleys_share_belt",
        "disc_clears_bed",
        "shaft_clears_slide",
        "cross_slide_reaches",
    ):
        return max(jobs, key=lambda job: job.pitch) if finding == "thread_can_stop" else max(jobs, key=lambda job: job.diameter)
    if finding == "jobs_keep_shape":
        return jobs[int(np.argmax(e["job_shapes"] / jobs.column("tolerance")))]
    if finding == "bed_stays_true":
        return jobs[int(np.argmax(e["job_twists"] / jobs.column("tolerance")))]
    if finding == "finish_fine_enough":
        return min(jobs, key=lambda job: job.roughness)
    if finding in ("bar_passes", "bore_spares_taper", "wall_left", "taper_fits"):
        return max(jobs, key=lambda job: job.bar)
    if finding in ("length_suffices", "leadscrew_straight"):
        return max(jobs, key=lambda job: job.length)
    if finding in ("threads_can_be_cut", "thread_enters_nut"):
        return max(jobs, key=lambda job: job.pitch)
    return slimmest(jobs)[0]


def _able(design: Design) -> Jobs:
    """The jobs of a design that a lathe of this sort can do."""
    out = beyond(design.jobs)
    return Jobs(job for job in design.jobs if job.name not in out)


def _fails(e: Evaluation, *names: str) -> bool:
    return any(e.findings[name].status == "fails" for name in names)


def _beside(made: Draft) -> Iterable[Beside]:
    """Smaller, sooner, cheaper, buying used, waiting: those of them that lead out of what is not met."""
    e = made.evaluation
    if made.costs and len(made.wish.jobs) > 1:
        left = [job for job in made.wish.jobs if job.name != made.costs[0]]
        yield _other("easier", made, Jobs(left), f"“{made.costs[0]}”, which would be ordered or made elsewhere")
    envelope = _fails(
        e,
        "length_is_there",
        "place_bears_parts",
        "place_is_deep_enough",
        "finished_in_time",
        "finished_in_balance",
        "lift_within_guidance",
    )
    if envelope and len(made.wish.jobs) > 1 and (largest := _deciding(made)).name not in made.costs[:1]:
        yield _other(
            "smaller",
            made,
            Jobs(job for job in made.wish.jobs if job.name != largest.name),
            f"“{largest.name}”, which would be ordered or made elsewhere",
        )
    if _fails(e, "finished_in_time", "finished_in_balance"):
        if not _fails(e, "every_part_can_be_had"):
            mixes = mixes_here(e)
            yield _by_mix("sooner", made, mixes[BY_SUMS])
            if mixes[PROVEN[0]].hows != mixes[BY_SUMS].hows:
                yield _by_mix("cheaper", made, mixes[PROVEN[0]])
        months = np.ceil(max(e.middle("used_price") - float(e["savings"]), 0.0) / float(e["money_can"]))
        saved = (
            f", {months:.0f} month{'' if months == 1 else 's'} of what you can spend beyond what lies ready"
            if months
            else ", which lies ready"
        )
        yield Beside(
            "buy used",
            None,
            f"A used lathe of the size costs about {e.shown('used_price')}{saved}, and takes {e.shown('used_hours')} to put in order.",
            "the building itself, and the choice of every size",
        )
    if _fails(e, "finished_in_time") and np.isfinite(e["months_forecast"]):
        yield Beside(
            "wait",
            None,
            f"With a patience of {e.shown('months_forecast')} in the place of {e.shown('patience')} the draft as it is would be finished.",
            "the lathe until then",
        )


def _deciding(made: Draft) -> Job:
    """The job that decides the size: without it the centres would stand lowest."""
    jobs = [job for job in made.wish.jobs if job.name not in made.costs]
    if len(jobs) < 2:
        return jobs[0] if jobs else made.wish.jobs[0]
    return min(jobs, key=lambda job: (sized(Jobs(one for one in jobs if one is not job), {})["centre_height"], -job.diameter))


def _other(name: str, made: Draft, jobs: Jobs, gives_up: str) -> Beside:
    other = draft(replace(made.wish, jobs=jobs), made.before)
    brings = _told(made.evaluation, other.evaluation)[0] if _worth_it(made.evaluation, other.evaluation) else ""
    return Beside(name, other.design, brings, gives_up)


def _worth_it(e: Evaluation, other: Evaluation) -> bool:
    """Does another draft mend something, or save a twentieth of money, hours or months?"""
    mended = sum(one.status == "fails" for one in e.findings.values()) - sum(
        one.status == "fails" for one in other.findings.values()
    )
    return mended > 0 or any(float(other[name]) < _WORTH * float(e[name]) for name in _PLAN[2:])


#: what another draft must come down to in one of the figures to be worth a look
_WORTH = 0.95
#: figures of the whole plan, all of which one would rather have less of
_PLAN = ("centre_height", "parts_mass", "cash_total", "own_hours", "months_forecast")


def _told(e: Evaluation, other: Evaluation) -> tuple[str, str]:
    """What another draft brings and what it gives up, in the figures of the whole plan."""

    def said(names: Iterable[str]) -> str:
        return "; ".join(f"{LATHE.part(name).label} {other.shown(name)} in the place of {e.shown(name)}" for name in names)

    moved = [name for name in _PLAN if other.shown(name) != e.shown(name)]
    less, more = ([name for name in moved if bool(other[name] < e[name]) is wanted] for wanted in (True, False))
    return (f"{said(less)}." if less else "Nothing in the figures of the plan grows less."), (
        f"{said(more)}." if more else "nothing that the figures of the plan tell"
    )


def _by_mix(name: str, made: Draft, mix: Mix) -> Beside:
    """The same machine with its parts by other ways, and mended where these move its sizes or give."""
    design = choose_ways(made.design, mix.hows, f"drafted for {_MIX_FOR[name]}")
    free = frozenset(name for name in design.choices if design.origin(name) != YOURS)
    state = settled(replace(design, jobs=_able(design)), free)
    design = replace(_written(state, free, {name: design.choices[name].reason for name in free}), jobs=design.jobs)
    other = evaluate(design)
    brings, gives_up = _told(made.evaluation, other)
    fails = [
        one.label
        for one in other.findings.values()
        if one.status == "fails" and made.evaluation.findings[one.name].status != "fails"
    ]
    also = f" Then fails: {'; '.join(fails)}." if fails else ""
    return Beside(name, design, brings, f"{gives_up}{also}")


#: what a mix of ways is drafted for
_MIX_FOR = {"sooner": "the soonest end", "cheaper": "the least money"}
