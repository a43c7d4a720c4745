"""The set of change gears as a learner writes it: '20, 25, 30, 40, 2 x 60'."""

from __future__ import annotations

import functools
import re
from collections.abc import Callable
from typing import Any, NamedTuple

from ...machine.change_gears import MOST_WHEELS, TEETH, Place, Train, cut_pitch, wanted_ratio
from ...units import InputProblem

#: two wheels that mesh with one between them are the least train there is
FEWEST_WHEELS = 3
EXAMPLE = "20, 30, 40, 50, 60"
_WHEEL = re.compile(r"(?:(?P<times>\d+)\s*[x×*]\s*)?(?P<teeth>\d+)")
_BETWEEN = re.compile(r"[,;\s]+|\band\b")
_WORDS = re.compile(r"\b(?:teeth|tooth|(?:wheel|gear)s?)\b|[()\[\]\"']", re.IGNORECASE)


def read_wheels(given: Any) -> str:
    """The set in order and written evenly, '20, 25, 30, 40, 60, 60'; InputProblem with all that is wrong."""
    teeth, problems = _counted(str(given))
    low, high = TEETH
    problems += [
        f"a change gear of {z} teeth is hardly to be had; gears have {low} to {high} teeth."
        for z in dict.fromkeys(teeth)
        if not low <= z <= high
    ]
    if not problems and len(teeth) < FEWEST_WHEELS:
        problems.append(
            f"the set of change gears has {len(teeth) or 'none'}; {FEWEST_WHEELS} are the least, two and one to stand between them. "
            f"Write the teeth of each, for example '{EXAMPLE}'."
        )
    if len(teeth) > MOST_WHEELS:
        problems.append(
            f"the set has {len(teeth)} gears; with more than {MOST_WHEELS} the search grows long. Leave out those you would not use."
        )
    if problems:
        raise InputProblem([("change_wheels", problem) for problem in problems])
    return ", ".join(map(str, sorted(teeth)))


def _counted(text: str) -> tuple[list[int], list[str]]:
    """Teeth of every wheel in a text, and sentences on what could not be read."""
    rest = re.sub(r"(\d)\s*([x×*])\s*(\d)", r"\1\2\3", _WORDS.sub(" ", text))
    teeth, problems = [], []
    for piece in filter(None, _BETWEEN.split(rest)):
        found = _WHEEL.fullmatch(piece)
        if found is None:
            problems.append(
                f"{piece!r} in the set of change gears is no number of teeth; write whole numbers with commas between, "
                f"for example '{EXAMPLE}', and a gear you have twice as '2 x 40'."
            )
        else:
            teeth += [int(found["teeth"])] * min(int(found["times"] or 1), MOST_WHEELS + 1)
    return teeth, problems


@functools.lru_cache(maxsize=256)
def wheels_of(text: str) -> tuple[int, ...]:
    """Teeth of every wheel of a set, in order; what cannot be a wheel is passed over, for here nothing is refused."""
    return tuple(sorted(z for z in _counted(text)[0] if TEETH[0] <= z <= TEETH[1]))[:MOST_WHEELS]


class Drive(NamedTuple):
    """All that drives the leadscrew of a design: the set, the place it goes, gear before it and leadscrew after it, in SI."""

    teeth: tuple[int, ...]
    place: Place
    spindle_ratio: float
    leadscrew_pitch: float

    @classmethod
    def of(cls, likely: Callable[[str], Any]) -> Drive:
        """From a design worked out; ``likely`` gives a value by its name."""
        place = Place(*(float(likely(name)) for name in ("wheel_module", "gear_centres", "banjo_reach", "gear_shaft")))
        return cls(
            wheels_of(likely("change_wheels")), place, float(likely("spindle_gear_ratio")), float(likely("leadscrew_pitch"))
        )

    def ratio(self, pitch: Any) -> Any:
        """The ratio a train must have for a pitch."""
        return wanted_ratio.si(pitch, self.spindle_ratio, self.leadscrew_pitch)

    def pitch_of(self, train: Train) -> float:
        """The pitch a train cuts [m]."""
        return float(cut_pitch.si(train.ratio, self.spindle_ratio, self.leadscrew_pitch))
