"""The sizes a first draft begins with: the jobs fix size, length and slide height, the table ``sizing`` the rest in proportion.

Nothing here is a verdict: the chain works out what these sizes come to, and the draft mends and
trims them from there.  All sizes are values one can have: steps of the decision, or preferred ones.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from ...machine import belts
from ...machine.holding import CENTRES, CHUCK, CHUCK_AND_CENTRE, FACEPLATE
from ...ranges import middling
from ...tables import table
from ..chain.entries import Decision
from ..chapters.collets import IN_CHUCK, held_in_collets
from ..chapters.cutting_speeds import TOOLS
from ..chapters.forces import MATERIALS
from ..chapters.hand_rest import NONE as NO_REST
from ..chapters.hand_rest import ON_BED, over_bed
from ..chapters.purpose import job_speeds
from ..jobs import Job, Jobs
from ..lathe import LATHE

#: room kept round the largest disc, and over the longest job and the thickest shaft, as shares: what the findings call comfortable
_DISC_ROOM, _SHAFT_ROOM, _LENGTH_ROOM = 1.05, 1.1, 1.05
_CLEARANCE = 3e-3
#: free length in diameters that a chuck alone, and a centre or steady beside it, bear: common practice
_CHUCK_BEARS, _CENTRE_BEARS = 4.0, 10.0
#: carriage speed that a hand stops at a shoulder, with comfort [m/s]
_SHOULDER = 3e-3 / 1.2
#: rim speed of cast chucks, with comfort [m/s]
_RIM = 1200 / 60 / 1.2
#: centre height up to which a taper of this number is the usual one in the nose: common practice
_TAPERS = (("MT1", 0.055), ("MT2", 0.065), ("MT3", 0.095), ("MT4", math.inf))
#: nearest coarse bolt to a seat: one bolt diameter for each 7.5 mm of centre height
_BOLTS = {"M5": 0.045, "M6": 0.055, "M8": 0.07, "M10": 0.09, "M12": 0.12, "M16": math.inf}


#: pitch of trapezoidal bar up to a diameter, the usual one of ISO 2904 (recalled from memory); thinner than the first is not sold
_BARS = ((9e-3, 1.5e-3), (11e-3, 2e-3))
_THINNEST_BAR = 8e-3
#: a lathe that leaves a hundredth, three tenths of this, makes the closest of its own parts: the table of ways asks for it
_OWN_PARTS, _OWN_METAL = 33e-6, "grey cast iron"
CARBIDE = TOOLS[1]
#: share of the hours in round work that a collet holds, from which collets are drafted
_COLLETS_FROM = 0.5
#: what feed and nose add to the roughness that stays however fine the feed
_FINISH_ROOM = 1.1
#: pitch of the cross screw [m] and lines of its dial, the coarsest first; each reads in round steps
_DIALS = ((2e-3, 100), (1e-3, 100), (1e-3, 200), (1e-3, 250), (0.75e-3, 150))
#: how far apart lines stand that are read with ease [m], and the largest dial there is room for, of the centre height: common practice
_LINES_APART, _LARGEST_DIAL = 0.9e-3, 1.1


@dataclass
class Sizes:
    """Decisions with their written values and reasons, in the order in which they were settled."""

    fixed: Mapping[str, Any]  # SI values of what is not to be drafted
    si: dict[str, Any] = field(default_factory=dict)
    reasons: dict[str, str] = field(default_factory=dict)

    def __getitem__(self, name: str) -> Any:
        return self.fixed[name] if name in self.fixed else self.si[name]

    def settle(self, name: str, value: Any, why: str, up: bool = False) -> None:
        if name in self.fixed:
            return
        part = LATHE.decisions[name]
        self.si[name] = rounded(part, value, up) if part.numeric else value
        self.reasons[name] = why

    def exact(self, name: str, value: float, why: str) -> None:
        """A figure as it is, not the nearest one can have."""
        if name not in self.fixed:
            self.si[name], self.reasons[name] = value, why

    @property
    def written(self) -> dict[str, str]:
        return {name: written(LATHE.decisions[name], value) for name, value in self.si.items()}


def rounded(part: Decision, si: float, up: bool = False) -> float:
    """The nearest value one can have, or the next above; the last one where there is none beyond."""
    values = part.values()
    if up:
        above = values[values >= si * (1 - 1e-9)]
        return float(above[0] if above.size else values[-1])
    return float(values[np.argmin(np.abs(values - si))])


def written(part: Decision, si: Any) -> str:
    """A value as a learner would write it."""
    if not part.numeric:
        return str(si)
    return f"{float(f'{si / part.kind.factor:.9g}'):.9g} {part.kind.unit}".strip()


# --- what the jobs ask -----------------------------------------------------------------------------------
def beyond(jobs: Iterable[Job]) -> dict[str, str]:
    """Jobs that no lathe of this sort can do, by name: what stands against each, and what else would do it."""
    highest, longest = (LATHE.decisions[name] for name in ("centre_height", "between_centres"))
    swing = 2 * highest.high * highest.kind.factor
    shaft = swing * (1 - table("sizing")["slide_height"]["share"])
    bar = table("tapers")["MT4"]["small_diameter"] - 1e-3
    found = {}

    def mm(si: float) -> str:
        return f"{si * 1000:.4g} mm"

    for job in jobs:
        clears_bed = over_bed(job, ON_BED)  # as it would be drafted
        if clears_bed and job.diameter > swing / _DISC_ROOM - 2 * _CLEARANCE:
            found[job.name] = (
                f"“{job.name}” is a disc of {mm(job.diameter)}, and the largest lathe drafted here turns {mm(swing)} over its bed. "
                "A lathe of a club or a workshop, or a wood lathe with an outboard face if it is of wood, would do it; or order that one part."
            )
        elif not clears_bed and job.diameter > shaft / _SHAFT_ROOM:
            found[job.name] = (
                f"“{job.name}” is {mm(job.diameter)} thick, and the largest lathe drafted here turns {mm(shaft)} over its cross-slide. "
                "A larger lathe of a club or a workshop would do it; or build it up of a tube and two ends."
            )
        elif job.length > longest.high * longest.kind.factor / _LENGTH_ROOM:
            found[job.name] = (
                f"“{job.name}” is {mm(job.length)} long, and the longest lathe drafted here takes {mm(longest.high * longest.kind.factor)}. "
                "A longer lathe of a club or a workshop would do it; or make it of two pieces that are joined."
            )
        elif job.bar > bar:
            found[job.name] = (
                f"“{job.name}” asks for a bar of {mm(job.bar)} through the spindle, and no spindle drafted here passes more than {mm(bar)}. "
                "Saw it to length first and hold it in chuck and steady; then no bar need pass."
            )
        elif job.length / job.smallest > 2 * _CENTRE_BEARS and job.holding in (CHUCK_AND_CENTRE, CENTRES):
            found[job.name] = (
                f"“{job.name}” is {job.length / job.smallest:.0f} times as long as thick; even with a steady in its middle that is more than "
                "a plain cut bears. A ground bar that is bought to size, or a travelling steady and patience, would do it."
            )
    return found


def slimmest(jobs: Iterable[Job]) -> tuple[Job, float, str, str]:
    """The precise job that gives most: the job, its free length, how it is held, and a word on a steady.

    Precise are jobs whose tolerance is within twice the tightest.
    """
    jobs = list(jobs)
    tightest = min(job.tolerance for job in jobs)

    def slender(job: Job) -> tuple[float, float, str, str]:
        if job.holding in (CHUCK, FACEPLATE):
            if job.length <= _CHUCK_BEARS * job.smallest:
                return job.length / job.smallest / _CHUCK_BEARS, job.length, job.holding, ""
            return (
                min(job.length / job.smallest / _CENTRE_BEARS, 1.0),
                min(job.length, _CENTRE_BEARS * job.smallest),
                CHUCK_AND_CENTRE,
                "",
            )
        if job.length <= _CENTRE_BEARS * job.smallest / 1.1:
            return job.length / job.smallest / _CENTRE_BEARS, job.length, job.holding, ""
        return (
            job.length / 2 / job.smallest / _CENTRE_BEARS,
            job.length / 2,
            job.holding,
            "; a steady stands in its middle, so half its length is free",
        )

    precise = [job for job in jobs if job.tolerance <= 2 * tightest * (1 + 1e-9)]
    job = max(precise, key=lambda one: (round(slender(one)[0], 9), -one.smallest))
    return job, *slender(job)[1:]


# --- all of it --------------------------------------------------------------------------------------------
def sized(jobs: Jobs, fixed: Mapping[str, Any]) -> Sizes:
    """All decisions of chapters 02 to 09, of the test sheet and of the mains, by the jobs and the table; ``fixed`` are SI values that stay."""
    sizes = Sizes(fixed)
    _by_the_jobs(sizes, jobs)
    rows = table("sizing")
    waiting = [name for name in rows if name not in sizes.si and name not in fixed]
    while waiting:
        for name in list(waiting):
            row, part = rows[name], LATHE.decisions[name]
            if name == "belt_tension":
                sizes.si[name], sizes.reasons[name] = rounded(part, row["share"] * sizes["centre_height"] * 1e3), row["why"]
            elif row["choice"]:
                sizes.settle(name, part.read(row["choice"]), row["why"])
            elif row["of"] in sizes.si or row["of"] in fixed:
                sizes.settle(name, row["share"] * sizes[row["of"]] + (row["plus"] or 0.0), row["why"])
            else:
                continue
            waiting.remove(name)
    _what_hangs_together(sizes, jobs)
    return sizes


def _by_the_jobs(sizes: Sizes, jobs: Jobs) -> None:
    decisions, settle = LATHE.decisions, sizes.settle

    def largest(having: Callable[[Job], float]) -> Job:
        return max(jobs, key=having)

    wood = next((job for job in jobs if job.is_wood), None)
    if wood:
        settle(
            "hand_rest", ON_BED, f"your {wood.name} is turned with a tool held by hand, and then need not clear the cross-slide"
        )
    else:
        settle("hand_rest", NO_REST, table("sizing")["hand_rest"]["why"])
    discs = [job for job in jobs if over_bed(job, sizes["hand_rest"])]
    shafts = [job for job in jobs if job not in discs]
    disc, shaft = max(jobs, key=lambda job: job.diameter), max(shafts, key=lambda job: job.diameter, default=None)
    share = table("sizing")["slide_height"]["share"]
    by_disc = (disc.diameter + 2 * _CLEARANCE) * _DISC_ROOM / 2
    by_shaft = shaft.diameter * _SHAFT_ROOM / 2 / (1 - share) if shaft else 0.0
    decides = shaft if by_shaft >= by_disc or not discs else disc
    settle(
        "centre_height",
        max(by_disc, by_shaft),
        f"the smallest step over which your {decides.name} still turns, over the {'cross-slide' if decides is shaft and by_shaft >= by_disc else 'bed'}, with a little room",
        up=True,
    )
    long = largest(lambda job: job.length)
    settle(
        "between_centres",
        long.length * _LENGTH_ROOM,
        f"the smallest step that takes your {long.name}, with a little room",
        up=True,
    )
    h = sizes["centre_height"]
    most = h - (shaft.diameter * _SHAFT_ROOM / 2 if shaft else 0.0)
    slide = decisions["slide_height"]
    settle(
        "slide_height",
        min(share * h, math.floor(most / 1e-3 + 1e-9) * 1e-3),
        table("sizing")["slide_height"]["why"]
        + ("" if share * h <= most or not shaft else f", less what your {shaft.name} needs above it"),
    )
    del slide

    bar = largest(lambda job: job.bar)
    usual = next(taper for taper, up_to in _TAPERS if h <= up_to)
    wanted = bar.bar + 1e-3 if bar.bar > 0 else 0.0
    tapers = list(table("tapers"))
    taper = next(
        (one for one in tapers if table("tapers")[one]["small_diameter"] >= wanted and tapers.index(one) >= tapers.index(usual)),
        tapers[-1],
    )
    settle(
        "spindle_taper",
        taper,
        "the usual one at this centre height"
        if taper == usual
        else f"the smallest whose small end lets the bar of your {bar.name} through",
    )
    small = table("tapers")[sizes["spindle_taper"]]["small_diameter"]
    settle(
        "spindle_bore",
        wanted if wanted else math.floor(small / 1e-3) * 1e-3,
        f"the bar of your {bar.name} passes, with a millimetre to slide"
        if wanted
        else "as wide as the taper allows: no bar on your list asks for it, and it costs nothing",
        up=bool(wanted),
    )
    settle(
        "tailstock_taper",
        tapers[max(tapers.index(usual) - 1, tapers.index("MT1"))],
        "one number below that of the spindle, so that a sleeve fits both; never below MT1, in which drill chucks are common",
    )

    metals = [job for job in jobs if job.material in MATERIALS]
    hardest = max(metals, key=lambda job: table("materials")[job.material]["kc11"].likely, default=None)
    settle(
        "work_material",
        hardest.material if hardest else _OWN_METAL,
        f"your {hardest.name} is made of it, and nothing on the list cuts harder"
        if hardest
        else "no metal is on your list, but the lathe turns the backplate of its own chuck, of cast iron",
    )
    tight = min(jobs, key=lambda job: job.tolerance)
    if tight.tolerance <= _OWN_PARTS:
        sizes.exact("tolerance", tight.tolerance, f"your {tight.name} asks for it")
    else:
        sizes.exact(
            "tolerance",
            _OWN_PARTS,
            "your parts ask for less, but the lathe turns the backplate of its own chuck: it must leave no more than a hundredth, three tenths of this",
        )
    job, length, support, steady = slimmest(jobs)
    # exact, for these are the job's own and nobody buys them by steps
    sizes.exact("work_diameter", job.smallest, f"your {job.name} is the slimmest for its length among what must come out true")
    sizes.exact("work_length", length, f"the free length of your {job.name}{steady}")
    settle("work_support", support, f"so your {job.name} is held")

    # speeds: wheels of a rim, and what a hand can stop
    _tool(sizes, jobs)
    tool = sizes["tool_material"]
    slow, fast = job_speeds(jobs, tool, "diameter"), job_speeds(jobs, tool, "smallest")
    rpm = decisions["slowest_speed"].kind.factor
    pitch = largest(lambda job: job.pitch)
    wish = float(slow.min())
    by_thread = 2 * math.pi * _SHOULDER / pitch.pitch if pitch.pitch > 0 else math.inf
    step = decisions["slowest_speed"].step * rpm
    settle(
        "slowest_speed",
        max(math.floor(min(wish, by_thread) / step + 1e-9) * step, step),
        f"your {pitch.name} has a thread that a hand must stop at its shoulder"
        if by_thread < wish
        else f"your {jobs[int(np.argmin(slow))].name} asks for no more at its largest diameter",
    )
    quick = decisions["fastest_speed"]
    settle(
        "fastest_speed",
        max(float(fast.max()), 4 * sizes["slowest_speed"]),
        f"your {jobs[int(np.argmax(fast))].name} asks for it at its smallest diameter",
        up=True,
    )
    del quick
    threads = [job for job in jobs if job.pitch > 0]
    settle(
        "threading",
        "yes" if threads else "no",
        f"your {threads[0].name} has a thread cut with the leadscrew"
        if threads
        else "no thread on your list needs a leadscrew; taps and dies cut the rest",
    )
    settle(
        "cross_slide_travel",
        disc.diameter / 2 * 1.1,
        f"from the rim of your {disc.name} to its middle, and a little to spare",
        up=True,
    )


def _tool(sizes: Sizes, jobs: Jobs) -> None:
    """High-speed steel, unless a job asks for a finish it does not leave, and the lathe still turns fast enough for carbide."""
    finishes, row, quick = table("finishes"), table("sizing")["tool_material"], LATHE.decisions["fastest_speed"]
    rough = [
        job for job in jobs if job.material in finishes and middling(finishes[job.material]["hss"]) > job.roughness / _FINISH_ROOM
    ]
    mended = [job for job in rough if middling(finishes[job.material]["carbide"]) <= job.roughness / _FINISH_ROOM]
    if mended and job_speeds(jobs, CARBIDE, "smallest").max() <= quick.high * quick.kind.factor:
        sizes.settle(
            "tool_material",
            CARBIDE,
            f"your {mended[0].name} asks for a finish that high-speed steel does not leave in {mended[0].material}",
        )
    else:
        sizes.settle("tool_material", row["choice"], row["why"])


def _collets(sizes: Sizes, jobs: Jobs) -> None:
    """Where half of the hours go to round work that a collet in the place of the chuck would hold."""
    kind, row = IN_CHUCK, table("collets")[IN_CHUCK]
    room = row["share"] * sizes["chuck_diameter"]
    small = [job for job, fits in zip(jobs, held_in_collets(jobs, room, min(room, sizes["spindle_bore"]))) if fits]
    if sum(job.share for job in small) >= _COLLETS_FROM * sum(job.share for job in jobs):
        settle_for = max(small, key=lambda job: job.share)
        sizes.settle(
            "collets",
            kind,
            f"half of your hours or more go to round work up to {room * 1000:.3g} mm, such as your {settle_for.name}, and a collet takes it back true",
        )


def _what_hangs_together(sizes: Sizes, jobs: Jobs) -> None:
    """Sizes that follow from several others at once."""
    settle, h = sizes.settle, sizes["centre_height"]
    tapers = table("tapers")
    spindle = max(
        sizes["spindle_diameter"], sizes["spindle_bore"] / 0.63, tapers[sizes["spindle_taper"]]["large_diameter"] + 2 * 4.5e-3
    )
    settle(
        "spindle_diameter",
        spindle,
        "thick enough for taper and bore, and for stiffness"
        if spindle > sizes["spindle_diameter"]
        else sizes.reasons.get("spindle_diameter", ""),
        up=True,
    )
    settle("bearing_span", max(sizes["bearing_span"], 2 * sizes["spindle_diameter"]), sizes.reasons.get("bearing_span", ""))
    settle(
        "barrel_diameter",
        max(sizes["barrel_diameter"], tapers[sizes["tailstock_taper"]]["large_diameter"] + 9e-3),
        "thick enough for its taper",
        up=True,
    )
    settle(
        "cross_slide_length",
        max(sizes["cross_slide_length"], sizes["cross_slide_travel"] / 0.8),
        "long enough to stay guided over its travel",
        up=True,
    )
    settle("leadscrew_diameter", max(sizes["leadscrew_diameter"], _THINNEST_BAR), sizes.reasons.get("leadscrew_diameter", ""))
    if pitch := next((pitch for up_to, pitch in _BARS if sizes["leadscrew_diameter"] <= up_to + 1e-9), None):
        settle("leadscrew_pitch", pitch, "trapezoidal bar so thin is sold with it")
    settle("joint_bolt", next(bolt for bolt, up_to in _BOLTS.items() if h <= up_to), "a screw in proportion to the headstock")
    # chuck and speed go together: the rim must not run too fast
    chuck = LATHE.decisions["chuck_diameter"]
    fits = [float(one) for one in chuck.values() if one <= 2 * _RIM / sizes["fastest_speed"] * 1.0001]
    if fits and sizes["chuck_diameter"] > fits[-1]:
        settle("chuck_diameter", fits[-1], "the largest whose rim bears your fastest speed")
    _collets(sizes, jobs)
    settle("cut_reach", 0.613 * sizes["chuck_diameter"] + 2e-3, sizes.reasons.get("cut_reach", ""), up=True)
    settle(
        "chuck_top_speed",
        max(sizes["fastest_speed"] * 1.1, LATHE.decisions["chuck_top_speed"].values()[22]),
        "what a chuck of this size is made for; the figure on its face decides",
        up=True,
    )
    # the stack under the tool ends a hair below the centre line
    rest = h - sizes["slide_height"] - (1 + table("toolposts")[sizes["toolpost_kind"]]["floor"]) * sizes["tool_shank"]
    settle(
        "top_height",
        max(math.floor(rest / 1e-3 + 1e-9) * 1e-3, 5e-3),
        "fills what cross-slide, toolpost and tool leave below the centre line",
    )
    # a dial that sets half of the tolerance by half a division, in steps one reads without sums
    pitch, lines = next(
        (
            row
            for row in _DIALS
            if row[0] / row[1] <= 0.5 * sizes["tolerance"] * (1 + 1e-9) and math.pi * _LARGEST_DIAL * h / row[1] >= _LINES_APART
        ),
        _DIALS[-1],
    )
    settle("cross_screw_pitch", pitch, "so that half a division of the dial sets your tolerance")
    settle("dial_divisions", float(lines), "round steps, and fine enough for your tolerance")
    # elbow, bench and feet
    settle(
        "bench_height",
        sizes["elbow_height"] - 0.05 - h - sizes["riser_height"],
        "so that the spindle stands a hand's breadth below the elbow",
    )
    _drive(sizes)


def _drive(sizes: Sizes) -> None:
    """Pulleys that reach from the slowest to the fastest speed with two steps of one belt."""
    settle, motor = sizes.settle, sizes["motor_speed"]
    low, high = sizes["slowest_share"], sizes["fastest_share"]
    slow, fast = sizes["slowest_speed"], sizes["fastest_speed"]
    smallest = table("belts")[sizes["belt_kind"]]["smallest_pulley"]
    large = sizes["driven_pulley_1"]
    one = motor * low / slow  # reduction that reaches down to the slowest
    two = motor * high / (fast * 1.04)  # and the one that reaches up
    before = 1.0
    least = max(smallest, 0.02) * 1.02
    if one * least > large or two * 1.0 > 4:
        before = max(one * least / large, 1.0)
        before = math.ceil(before * 10 - 1e-9) / 10
        if before > 1:
            settle(
                "countershaft_ratio",
                before,
                "a countershaft first, for one pair of pulleys does not reach down to the slowest speed",
            )
        before = sizes["countershaft_ratio"]
    first = max(large / (one / before), least)
    first = math.floor(first / 1e-3 + 1e-9) * 1e-3
    settle("driving_pulley_1", first, "with the spindle pulley beside it the lowest setting reaches your slowest speed")
    apart = abs(large - sizes["driving_pulley_1"])
    settle(
        "belt_centres",
        max(sizes["belt_centres"], (sizes["driving_pulley_1"] + large) / 2 + 0.012, apart * 60 / 44),
        "far enough for the belt to lie well round the small pulley",
        up=True,
    )
    length = belts.belt_length.si(large, sizes["driving_pulley_1"], sizes["belt_centres"])
    driving = np.arange(math.ceil(least / 1e-3), 201) * 1e-3
    driven = belts.mating_diameter.si(driving, length, sizes["belt_centres"])
    top = motor * high / before * driving / driven
    room = sizes["belt_centres"] - (driving + driven) / 2
    good = np.isfinite(top) & (driven >= least) & (room >= 0.011)
    aim = min(fast * 1.05, sizes["chuck_top_speed"] * 0.99)
    miss = np.where(good, np.abs(np.log(np.where(good, top, 1.0) / aim)), np.inf)
    settle("driving_pulley_2", float(driving[int(np.argmin(miss))]), "on the same belt, for your fastest speed")
