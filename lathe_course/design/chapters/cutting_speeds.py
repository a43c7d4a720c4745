"""Chapter 03: how fast it must turn."""

from ...machine import cutting_speeds as speeds
from ...tables import table
from ...units import Count, Length, RotationalSpeed, Speed
from ..chain.entries import Decision, Figure, Limit, node, result

CHAPTER = "03"
TOOLS = ("high-speed steel", "carbide")
_SPEED_COLUMN = {"high-speed steel": "speed_hss", "carbide": "speed_carbide"}


def _table_speed(work_material, tool_material):
    return table("materials")[work_material][_SPEED_COLUMN[tool_material]]


DECISIONS = [
    Decision("tool_material", "tool material", "Which tools will you mostly use?", CHAPTER, options=TOOLS, movable=False),
    Decision(
        "slowest_speed",
        "slowest spindle speed",
        "How slowly must the spindle turn?",
        CHAPTER,
        RotationalSpeed("rpm", above=0),
        20,
        400,
        10,
    ),
    Decision(
        "fastest_speed",
        "fastest spindle speed",
        "How fast must the spindle turn?",
        CHAPTER,
        RotationalSpeed("rpm", above=0),
        200,
        4000,
        50,
    ),
    Decision(
        "speed_steps",
        "number of spindle speeds",
        "In how many steps does the speed rise from slowest to fastest?",
        CHAPTER,
        Count("", "z", at_least=2, at_most=40, whole=True),
        2,
        18,
        1,
    ),
]

FIGURES = [
    Figure(
        "cutting_speed",
        "cutting speed for the hardest work",
        Speed("m/min"),
        CHAPTER,
        lookup=_table_speed,
        source="common_practice, table of materials",
    ),
    Figure("shoulder_reaction", "carriage speed a hand can stop at a shoulder", Speed("mm/s"), CHAPTER, value=3.0),
]


@result(Length("mm"), "largest work at full cutting speed at the slowest spindle speed", CHAPTER)
def largest_at_speed(cutting_speed, slowest_speed):
    """The diameter at which the hardest work runs at its cutting speed at the slowest step."""
    return 2 * cutting_speed / slowest_speed


RESULTS = [
    node(speeds.step_ratio, CHAPTER, label="ratio from one speed to the next", steps="speed_steps"),
    node(speeds.speed_loss, CHAPTER, label="largest loss of cutting speed between two steps", ratio="step_ratio"),
    node(
        speeds.screw_travel_speed,
        CHAPTER,
        name="shoulder_speed",
        label="carriage speed while the coarsest thread is cut",
        pitch="coarsest_pitch",
        spindle_speed="slowest_speed",
    ),
    largest_at_speed,
]

LIMITS = [
    Limit(
        "slow_enough",
        "slowest speed slow enough",
        CHAPTER,
        "slowest_speed",
        "at most",
        "slowest_wanted",
        "The slowest speed is {value}; the slowest job on the list asks for {limit}.",
        comfort=0.0,
    ),
    Limit(
        "fast_enough",
        "fastest speed fast enough",
        CHAPTER,
        "fastest_speed",
        "at least",
        "fastest_wanted",
        "The fastest speed is {value}; the fastest job on the list asks for {limit}.",
        comfort=0.0,
        caution="Before the top speed is used, know the lowest rated item in the train: chuck, faceplate, wood. Glasses on, guard shut.",
    ),
    Limit(
        "steps_close_enough",
        "speed steps close enough",
        CHAPTER,
        "speed_loss",
        "at most",
        50.0,
        "Between two steps up to {value} of the cutting speed is lost; at {limit} half of the pace is gone.",
        comfort=0.33,
    ),
    Limit(
        "thread_can_stop",
        "a thread can stop at a shoulder",
        CHAPTER,
        "shoulder_speed",
        "at most",
        "shoulder_reaction",
        "Cutting the coarsest thread the carriage runs at {value}; a hand stops at about {limit}.",
        comfort=0.2,
        unasked="No thread on the list is cut with a single point.",
        opened_by="a thread on the list of jobs",
        caution="Cut away from the chuck or leave a run-out groove: a missed stop drives tool and carriage into the chuck.",
    ),
]
