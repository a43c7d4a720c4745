"""What one begins with at the lathe: the speed for each material and diameter, and the depth of a first cut."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ...machine import drive
from ...machine.cutting_speeds import spindle_speed, turning_time
from ...units import InputProblem
from ..chapters.cut_limits import WAYS, cutting_speed_of, listed_materials
from ..chapters.purpose import job_speeds
from ..evaluation import Evaluation

#: round diameters a chart is read at, mm and inch
_ROUND = {
    "mm": [d * 1e-3 for d in (3, 5, 8, 10, 12, 16, 20, 25, 32, 40, 50, 63, 80, 100, 125, 160, 200)],
    "inch": [d * 0.0254 for d in (0.125, 0.25, 0.375, 0.5, 0.75, 1, 1.5, 2, 3, 4, 6, 8)],
}
_MOST_DIAMETERS = 13
#: depths are told in steps of a dial
_STEP = 0.05e-3
#: slim work that leaves more than this is as good as stout
_AS_STOUT = 0.95


# --- speeds ---------------------------------------------------------------------------------------------
def diameters(e: Evaluation) -> list[float]:
    """Round diameters from the smallest job to the largest that turns over the bed, m."""
    jobs = e["jobs"]
    low = min(jobs.column("smallest").min(), 0.02) if len(jobs) else 0.005
    high = min(e.middle("swing_over_bed"), 1.1 * jobs.column("diameter").max()) if len(jobs) else e.middle("swing_over_bed")
    found = [d for d in _ROUND[e.design.system] if low * 0.75 <= d <= high]
    return found[-_MOST_DIAMETERS:]


def _run(e: Evaluation, wish: np.ndarray) -> np.ndarray:
    """The speed the drive of the design gives for each wish, rad/s: the fastest not above it, no faster than what turns is good for."""
    settings = e["drive_settings"]
    if not e["rim_gap"] > 0:
        raise InputProblem.about(
            "driven_pulley_1",
            "Not every step of the pulleys fits the belt, so nobody knows the speeds of the drive: "
            "set the shafts further apart, or make the pulleys smaller, before a chart of speeds can be made.",
        )
    return drive.at_speed(
        np.minimum(wish, e["overrun_limit"]),
        settings,
        e["motor_power"],
        e["motor_speed"],
        e["fan_full_share"],
        e["fan_still_share"],
    )[0]


def speed_rows(e: Evaluation) -> list[tuple[str, float, list[float | None]]]:
    """Material, its cutting speed, and for each diameter the speed of the drive as decided: the fastest that is not above the wish.

    Where the motor's speed is set that is the wish itself, as far as it can be had.  None stands where even the slowest is too fast.
    """
    e, rows = e.central, []
    for material in listed_materials(e["jobs"], e["work_material"]):
        speed = cutting_speed_of(material, e["tool_material"]).likely
        wished = np.array([float(spindle_speed.si(speed, diameter)) for diameter in diameters(e)])
        rows.append(
            (material, speed, [float(run) if run <= wish * (1 + 1e-9) else None for run, wish in zip(_run(e, wished), wished)])
        )
    return rows


def on_the_plate(e: Evaluation, steps: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """For each job the speed it would like at its full diameter, the fastest of ``steps`` not above it or else the slowest [rad/s], and the time of one pass [s]."""
    jobs = e["jobs"]
    wished = job_speeds(jobs, e["tool_material"], "diameter")
    taken = steps[np.clip(np.searchsorted(steps, wished * (1 + 1e-9), side="right") - 1, 0, None)]
    return wished, taken, turning_time.si(jobs.column("length"), e.middle("feed"), taken)


# --- first cuts -----------------------------------------------------------------------------------------
#: how the end of each way is told
_ENDS = {"power": "power of the motor", "torque": "torque at the spindle", "quiet running": "chatter"}


@dataclass(frozen=True)
class FirstCut:
    """Where to begin with one material, m, and the depth at which each of the three limits stands; None where no cutting force is known."""

    material: str
    feed: float
    start: float | None
    #: way the cut ends -> depth, m, in the order power, torque, quiet running; empty where no cutting force is known, without those that cannot be told
    ends: dict[str, float]

    @property
    def held_back_by(self) -> str:
        if not self.ends:
            return "no force known; begin with a scratch"
        return (
            _ENDS[min(self.ends, key=self.ends.get)]
            if len(self.ends) == len(WAYS)
            else "not known: a shape of the design cannot be, see its findings"
        )


def first_cuts(e: Evaluation) -> list[FirstCut]:
    """Where to begin with each material: half of the least depth that power, torque and quiet running allow, no more than you decided on."""
    e, cuts = e.central, []
    limits, feed = e["cuts_by_material"], float(e["rough_feed_had"] or e["feed"])
    for at, material in enumerate(limits["materials"]):
        ends = {way: float(limits[way][at]) for way in WAYS if np.isfinite(limits[way][at])}
        if len(ends) < len(WAYS):
            cuts.append(FirstCut(material, feed, None, ends))
            continue
        start = max(np.floor(limits["begin"][at] / _STEP + 1e-9) * _STEP, _STEP)
        cuts.append(FirstCut(material, feed, float(start), ends))
    return cuts


def quiet_on_slim_work(e: Evaluation) -> float | None:
    """Share of the depth at which quiet running ends that the slimmest precise work leaves; None where that is nearly all, or cannot be told."""
    share = e["chatter_free_width"] / e["stout_work_width"]
    return float(share) if share < _AS_STOUT else None
