"""Chapter 03, last part: cut dry, with a brush of oil, or with coolant that runs."""

from ...ranges import Range
from ...units import Ratio, Speed, TemperatureRise
from ..chain.entries import Decision, Figure, result

CHAPTER = "03"
DRY, BRUSH, RUNNING = COOLING = ("dry", "oil by brush", "running coolant")
#: how warm the work is when it is measured, and how much faster than by the table an edge may cut; common practice
_WARM = {DRY: Range(5, 15, 35), BRUSH: Range(3, 10, 25), RUNNING: Range(1, 3, 8)}
_FASTER = {DRY: Range(0.8, 0.9, 1.0), BRUSH: Range(0.95, 1.0, 1.05), RUNNING: Range(1.1, 1.25, 1.5)}

DECISIONS = [Decision("coolant", "coolant or dry", "How is the cut cooled?", CHAPTER, options=COOLING)]

FIGURES = [
    Figure(
        "work_rise",
        "how warm the work is above the room when measured",
        TemperatureRise(),
        CHAPTER,
        lookup=lambda coolant: _WARM[coolant],
    ),
    Figure(
        "cooling_gain",
        "cutting speed with this cooling over that of the table",
        Ratio(),
        CHAPTER,
        lookup=lambda coolant: _FASTER[coolant],
    ),
]


@result(
    Speed("m/min"),
    "cutting speed that the edge bears as it is cooled",
    CHAPTER,
    source="common_practice, books allow a quarter more with coolant",
)
def cooled_speed(cutting_speed, cooling_gain):
    """For the hardest work; the course goes on with the speed of the table, which holds for a brush of oil."""
    return cutting_speed * cooling_gain


RESULTS = [cooled_speed]
