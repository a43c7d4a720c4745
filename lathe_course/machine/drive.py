"""The settings a drive offers: belt steps, with and without the back gear, each a speed or a range of speeds.

A *setting* is a belt step with the back gear out or in.  With a motor of one speed it is one
spindle speed; with a motor whose speed is set it is a range.  Steps and settings lie along the
last axis, behind the shape s of the figures they are made from, so (*s, steps) and
(*s, settings); one that is not there is NaN.  All in SI.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from .motors import cooling_share, motor_torque

#: the most steps a pulley of the course has
STEPS = 4
_HAIR = 1 + 1e-9


def beside(value: Any) -> np.ndarray:
    """Figures of shape s ready to meet steps or settings: shape (*s, 1)."""
    return np.asarray(value)[..., None]


def stacked(parts: Sequence[Any], steps: int) -> np.ndarray:
    """Figures of each step side by side, shape (*s, steps); NaN from the step on that is not there."""
    return np.stack(np.broadcast_arrays(*parts[:steps], *(np.nan,) * (len(parts) - steps)), axis=-1)


def settings(
    driving: np.ndarray,
    driven: np.ndarray,
    countershaft: Any,
    back_gear: Any,
    motor_speed: Any,
    slow_share: Any,
    fast_share: Any,
    efficiency: Any,
    geared_efficiency: Any,
) -> dict[str, np.ndarray]:
    """``reduction`` of each setting (motor turns for one of the spindle), its ``slow`` and ``fast`` end, rad/s, and its ``efficiency``.

    ``driving`` and ``driven`` are pulley diameters (*s, steps); the settings with the back gear
    stand behind those without.  A back gear of 1 or less is none.
    """
    belts = driven / driving * beside(countershaft)
    geared = np.where(beside(back_gear) > 1, belts * beside(back_gear), np.nan)
    reduction = np.concatenate(np.broadcast_arrays(belts, geared), axis=-1)
    turns = beside(motor_speed) / reduction
    one, other = np.broadcast_arrays(beside(efficiency), beside(geared_efficiency))
    return {
        "reduction": reduction,
        "slow": turns * beside(slow_share),
        "fast": turns * beside(fast_share),
        "efficiency": np.concatenate([np.repeat(one, STEPS, axis=-1), np.repeat(other, STEPS, axis=-1)], axis=-1),
    }


def widest_gap(slow: np.ndarray, fast: np.ndarray) -> np.ndarray:
    """Largest ratio between a speed and the next slower one that can be had, 1 where all run into each other; shape s."""
    slow, fast = np.broadcast_arrays(slow, fast)
    order = np.argsort(slow, axis=-1)  # NaN last
    slow, fast = (np.take_along_axis(ends, order, axis=-1) for ends in (slow, fast))
    reached = np.fmax.accumulate(fast, axis=-1)
    one = slow[..., :1] / slow[..., :1]  # NaN where there is no speed at all
    return np.fmax.reduce(np.concatenate([one, slow[..., 1:] / reached[..., :-1]], axis=-1), axis=-1)


def at_speed(
    wish: Any, drive: Mapping[str, np.ndarray], rated_power: Any, motor_speed: Any, full_share: Any, still_share: Any
) -> tuple[np.ndarray, np.ndarray]:
    """Spindle speed that is run for each ``wish`` (*s, wishes), and the torque that lasts there; shape (*s, wishes).

    It is the fastest that can be had and is not above the wish, on the setting that gives most
    torque there; the slowest of all where every one is above it.
    """

    def twice(value: Any) -> np.ndarray:
        return beside(beside(value))

    slow, fast, reduction, efficiency = (drive[name][..., None, :] for name in ("slow", "fast", "reduction", "efficiency"))
    goal = np.maximum(beside(wish), np.fmin.reduce(slow, axis=-1, keepdims=True))
    run = np.where(slow <= goal * _HAIR, np.minimum(goal, fast), np.nan)
    best = np.fmax.reduce(run, axis=-1)
    share = np.where(run * _HAIR >= beside(best), run * reduction / twice(motor_speed), np.nan)
    turning = motor_torque.si(twice(rated_power), twice(motor_speed), share) * cooling_share.si(
        share, twice(full_share), twice(still_share)
    )
    return best, np.fmax.reduce(turning * reduction * efficiency, axis=-1)
