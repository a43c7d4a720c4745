"""Cutting speed, spindle speed, time of a cut, and the steps of a speed series.

Inside, a rotational speed n is in rad/s and a feed in metres per revolution, so
revolutions per second are n / 2π.
"""

import math
from typing import Annotated

import numpy as np

from ..formula import SI, formula, possible
from ..tables import table
from ..units import Count, Duration, FeedPerTurn, InputProblem, Length, Ratio, RemovalRate, RotationalSpeed, Speed

TURN = 2 * math.pi
_RISING = "the slowest speed must be less than the fastest."
#: every how many numbers of R40 a coarser series takes
PREFERRED_SERIES = {"R5": 8, "R10": 4, "R20": 2, "R40": 1}


# --- speed at the tool -----------------------------------------------------------------------------
@formula(
    r"v_c = \pi\, d\, n",
    source=("definition", "machinerys_handbook, cutting speed formulas"),
    limits="the surface that stands still on the turning work; the diameter is the one at the tool",
    rises_with=("spindle_speed", "diameter"),
)
def surface_speed(
    spindle_speed: Annotated[SI, RotationalSpeed("rpm", "n", at_least=0, at_most=100_000)],
    diameter: Annotated[SI, Length("mm", "d", above=0, at_most=5_000)],
) -> Annotated[SI, Speed("m/min", "v_c")]:
    """Speed of the work's surface past the tool.

    Quote it at the largest diameter that is cut: there it is highest and the tool warmest.
    """
    return spindle_speed * diameter / 2


@formula(
    r"n = \frac{v_c}{\pi\, d}",
    source=("definition", "machinerys_handbook, cutting speed formulas"),
    limits="the surface that stands still on the turning work; the diameter is the one at the tool",
    rises_with=("cutting_speed",),
    falls_with=("diameter",),
)
def spindle_speed(
    cutting_speed: Annotated[SI, Speed("m/min", "v_c", at_least=0, at_most=10_000)],
    diameter: Annotated[SI, Length("mm", "d", above=0, at_most=5_000)],
) -> Annotated[SI, RotationalSpeed("rpm", "n")]:
    """Spindle speed that gives a wanted cutting speed at a diameter.

    It is what the cut would like. What the machine may do comes first: never faster than the
    chuck, the faceplate or the work out of balance allows.
    """
    return 2 * cutting_speed / diameter


@formula(
    r"Q = v_c\, f\, a_p",
    source=("definition", "kalpakjian, material removal rate in turning"),
    limits="rigid work and a shallow cut; with a deep cut take the cutting speed at the mean of the diameters before and after",
    rises_with=("cutting_speed", "feed", "depth_of_cut"),
)
def removal_rate(
    cutting_speed: Annotated[SI, Speed("m/min", "v_c", at_least=0, at_most=10_000)],
    feed: Annotated[SI, FeedPerTurn("mm/rev", "f", at_least=0, at_most=50)],
    depth_of_cut: Annotated[SI, Length("mm", "a_p", at_least=0, at_most=200)],
) -> Annotated[SI, RemovalRate("cm³/min", "Q")]:
    """Volume of metal turned to chips per time.

    Cutting speed is usually quoted at the outer diameter. The ring that is removed has a
    smaller mean diameter, so the true figure is lower by about depth over diameter.
    """
    return cutting_speed * feed * depth_of_cut


# --- travel and time -------------------------------------------------------------------------------
@formula(
    r"v_f = f\, n",
    source=("definition", "kalpakjian, feed rate in turning"),
    limits="feed taken from the spindle, without slip",
    rises_with=("feed", "spindle_speed"),
)
def feed_rate(
    feed: Annotated[SI, FeedPerTurn("mm/rev", "f", at_least=0, at_most=50)],
    spindle_speed: Annotated[SI, RotationalSpeed("rpm", "n", at_least=0, at_most=100_000)],
) -> Annotated[SI, Speed("mm/min", "v_f")]:
    """How fast the tool travels along the work."""
    return feed * spindle_speed / TURN


@formula(
    r"t = \frac{i\, l}{f\, n}",
    source=("definition", "kalpakjian, time for turning"),
    limits="cutting time only: running in and out belong to the length; setting, measuring and winding back come on top",
    rises_with=("length", "passes"),
    falls_with=("feed", "spindle_speed"),
)
def turning_time(
    length: Annotated[SI, Length("mm", "l", at_least=0, at_most=20_000)],
    feed: Annotated[SI, FeedPerTurn("mm/rev", "f", above=0, at_most=50)],
    spindle_speed: Annotated[SI, RotationalSpeed("rpm", "n", above=0, at_most=100_000)],
    passes: Annotated[SI, Count("", "i", at_least=1, at_most=1_000, whole=True)] = 1,
) -> Annotated[SI, Duration("min", "t")]:
    """Time for turning a length along the work."""
    return passes * length * TURN / (feed * spindle_speed)


@formula(
    r"t = \frac{\pi\,(D^2 - d^2)}{4\, f\, v_c}",
    source=("definition", "kalpakjian, time for facing"),
    limits="cutting speed held constant, so the spindle runs faster towards the middle; at one spindle speed "
    "the time is the radius over the feed rate. Near the centre no machine can follow: stop at the "
    "diameter where its highest speed is reached",
    rises_with=("outer_diameter",),
    falls_with=("inner_diameter", "feed", "cutting_speed"),
    requires={
        "the inner diameter must be less than the outer diameter.": lambda inner_diameter, outer_diameter: (
            inner_diameter < outer_diameter
        )
    },
)
def facing_time(
    outer_diameter: Annotated[SI, Length("mm", "D", above=0, at_most=5_000)],
    inner_diameter: Annotated[SI, Length("mm", "d", at_least=0, at_most=5_000)],
    feed: Annotated[SI, FeedPerTurn("mm/rev", "f", above=0, at_most=50)],
    cutting_speed: Annotated[SI, Speed("m/min", "v_c", above=0, at_most=10_000)],
) -> Annotated[SI, Duration("min", "t")]:
    """Time for one facing cut at constant cutting speed."""
    return possible(
        inner_diameter < outer_diameter, math.pi * (outer_diameter**2 - inner_diameter**2) / (4 * feed * cutting_speed)
    )


@formula(
    r"v_s = P_h\, n",
    source="definition",
    limits="nut closed on the leadscrew; the lead of the thread being cut, not of the leadscrew",
    rises_with=("pitch", "spindle_speed"),
)
def screw_travel_speed(
    pitch: Annotated[SI, Length("mm", "P_h", above=0, at_most=50)],
    spindle_speed: Annotated[SI, RotationalSpeed("rpm", "n", at_least=0, at_most=100_000)],
) -> Annotated[SI, Speed("mm/s", "v_s")]:
    """How fast the carriage runs towards a shoulder while a thread is cut.

    A hand needs about half a second to open the nut. With several starts take the lead,
    which is pitch times starts. Caution: practise the run with the tool clear of the work.
    """
    return pitch * spindle_speed / TURN


# --- steps -----------------------------------------------------------------------------------------
@formula(
    r"\varphi = \left(\frac{n_2}{n_1}\right)^{1/(z - 1)}",
    source=("koenigsberger, speed series", "mehta, speed series"),
    limits="all steps equally spaced in ratio",
    rises_with=("fastest_speed",),
    falls_with=("slowest_speed", "steps"),
    requires={_RISING: lambda slowest_speed, fastest_speed: slowest_speed < fastest_speed},
)
def step_ratio(
    slowest_speed: Annotated[SI, RotationalSpeed("rpm", "n_1", above=0, at_most=100_000)],
    fastest_speed: Annotated[SI, RotationalSpeed("rpm", "n_2", above=0, at_most=100_000)],
    steps: Annotated[SI, Count("", "z", at_least=2, at_most=200, whole=True)],
) -> Annotated[SI, Ratio("", r"\varphi")]:
    """Ratio from one speed to the next when a range is divided into equal steps."""
    return possible(slowest_speed < fastest_speed, (fastest_speed / slowest_speed) ** (1 / (steps - 1)))


@formula(
    r"z = 1 + \frac{\ln (n_2 / n_1)}{\ln \varphi}",
    source=("koenigsberger, speed series", "mehta, speed series"),
    limits="all steps equally spaced in ratio; round up to whole steps",
    rises_with=("fastest_speed",),
    falls_with=("slowest_speed", "ratio"),
    requires={_RISING: lambda slowest_speed, fastest_speed: slowest_speed < fastest_speed},
)
def steps_needed(
    slowest_speed: Annotated[SI, RotationalSpeed("rpm", "n_1", above=0, at_most=100_000)],
    fastest_speed: Annotated[SI, RotationalSpeed("rpm", "n_2", above=0, at_most=100_000)],
    ratio: Annotated[SI, Ratio("", r"\varphi", at_least=1.001, at_most=100)],
) -> Annotated[SI, Ratio("", "z")]:
    """Number of steps a range needs at a given ratio, not yet rounded."""
    return possible(slowest_speed < fastest_speed, 1 + np.log(fastest_speed / slowest_speed) / np.log(ratio))


@formula(
    r"A = 1 - \frac{1}{\varphi}",
    source=("koenigsberger, speed series", "mehta, speed series"),
    limits="the worst diameter, just short of the next step",
    rises_with=("ratio",),
)
def speed_loss(ratio: Annotated[SI, Ratio("", r"\varphi", at_least=1, at_most=100)]) -> Annotated[SI, Ratio("%", "A")]:
    """Share of the wanted cutting speed that is lost at worst between two steps.

    Work that would like a speed just below a step has to run on the step under it.
    """
    return 1 - 1 / ratio


def speed_series(slowest: SI, fastest: SI, steps: int) -> np.ndarray:
    """Speeds equally spaced in ratio from ``slowest`` to ``fastest``, both included.

    Speeds in rad/s; with arrays of shape s the result has the shape (steps, *s).
    Raises InputProblem for less than two steps.
    """
    if int(steps) != steps or steps < 2:
        raise InputProblem.about("steps", f"A speed series needs a whole number of at least 2 steps, not {steps}.")
    exponent = np.linspace(0, 1, int(steps)).reshape(-1, *(1,) * np.ndim(np.asarray(slowest) * np.asarray(fastest)))
    return np.asarray(slowest) * (np.asarray(fastest) / np.asarray(slowest)) ** exponent


def _basic(series: str) -> np.ndarray:
    """The preferred numbers of one decade, 1 to below 10."""
    if series not in PREFERRED_SERIES:
        raise InputProblem.about(
            "series", f"{series!r} is not a basic series of preferred numbers; choose one of {', '.join(PREFERRED_SERIES)}."
        )
    finest = np.array(list(table("preferred_numbers").column("value").values()))
    return finest[:: PREFERRED_SERIES[series]]


def _decades(low: float, high: float, series: str) -> np.ndarray:
    """All preferred numbers from a little below ``low`` to a little above ``high``."""
    powers = np.arange(math.floor(math.log10(low)) - 1, math.floor(math.log10(high)) + 2)
    # through text, so that 3.15 a hundred times is 315 and not 315.00000000000006
    return np.array([float(f"{number:g}e{power}") for power in powers for number in _basic(series)])


def preferred(value: SI, series: str = "R20") -> SI:
    """The preferred number nearest in ratio to a plain number, or to each of an array.

    Source: ISO 3 (preferred numbers). Raises InputProblem for figures of zero or less.
    """
    values = np.asarray(value, float)
    if values.size == 0 or not np.all(np.isfinite(values)) or np.any(values <= 0):
        raise InputProblem.about("value", "Preferred numbers exist for figures above zero only.")
    numbers = _decades(values.min(), values.max(), series)
    nearest = numbers[np.abs(np.log(numbers / values[..., None])).argmin(axis=-1)]
    return float(nearest) if values.ndim == 0 else nearest
