"""Chapter 04: how hard the work pushes back, and whether motor and supply hold it."""

import numpy as np

from ...machine import cutting_speeds, forces, motors
from ...ranges import Range
from ...tables import table
from ...units import Angle, Current, FeedPerTurn, Length, Power, Ratio, Stress, Voltage
from ..chain.entries import Column, Decision, Figure, Limit, node, result

CHAPTER = "04"
MATERIALS = tuple(name for name, row in table("materials").items() if row.get("kc11") is not None)
#: how far the edge is gone: between which rows of the table of tool conditions it lies
EDGES = ("freshly sharpened", "in use", "worn")
#: rows of the table of tool conditions: sharp and worn
_CONDITIONS = {
    "carbide": ("carbide, sharp, about 100 m/min", "carbide, worn"),
    "high-speed steel": ("high-speed steel, sharp, 15 to 50 m/min", "high-speed steel, worn, 15 to 50 m/min"),
}
#: rated outputs of small motors, W
MOTORS = (60, 90, 120, 180, 250, 370, 550, 750, 1100, 1500)
#: half the point angle of a twist drill as it is sold, rad
DRILL_POINT = np.deg2rad(118 / 2)


def _condition(column, tool_material, edge_state):
    """Sharp or worn as the table has it; in use from one to the other, likely midway."""
    rows = table("tool_conditions")
    sharp, worn = (rows[name][column] for name in _CONDITIONS[tool_material])
    if edge_state == "in use":
        return Range(sharp.low, (sharp.likely + worn.likely) / 2, worn.high)
    return worn if edge_state == "worn" else sharp


def of_edge(column):
    """Lookup of a column of the table of tool conditions, by material and state of the tool."""
    return lambda tool_material, edge_state: _condition(column, tool_material, edge_state)


DECISIONS = [
    Decision(
        "work_material",
        "hardest work material",
        "Which is the hardest material it must cut as a matter of course?",
        CHAPTER,
        options=MATERIALS,
        movable=False,
    ),
    Decision(
        "depth_of_cut",
        "depth of the roughing cut",
        "How deep a roughing cut do you want to take?",
        CHAPTER,
        Length("mm", above=0),
        0.1,
        3,
        0.05,
    ),
    Decision(
        "feed",
        "feed of the roughing cut",
        "At which feed is the roughing cut taken?",
        CHAPTER,
        FeedPerTurn("mm/rev", above=0),
        0.02,
        0.4,
        0.01,
    ),
    Decision(
        "entering_angle",
        "entering angle",
        "At which angle does the cutting edge meet the work? (90 deg cuts a square shoulder)",
        CHAPTER,
        Angle("deg", above=0, at_most=90),
        45,
        90,
        5,
    ),
    Decision(
        "edge_state",
        "state of the cutting edges",
        "With which edges, of tools and drills, do you reckon: just off the stone, in use, or worn?",
        CHAPTER,
        options=EDGES,
    ),
    Decision(
        "largest_drill",
        "largest drill",
        "Which is the largest drill you will push from the tailstock into solid metal?",
        CHAPTER,
        Length("mm", above=0, at_most=100),
        3,
        25,
        0.5,
    ),
    Decision(
        "motor_power",
        "motor power",
        "Which rated output has the motor?",
        CHAPTER,
        Power("W", above=0),
        60,
        1500,
        10,
        preferred=MOTORS,
    ),
    Decision(
        "supply_voltage",
        "supply voltage",
        "Which voltage has the supply?",
        CHAPTER,
        Voltage("V", above=0),
        100,
        400,
        10,
        movable=False,
    ),
    Decision(
        "supply_limit",
        "largest current of the supply",
        "What current may be drawn there for long?",
        CHAPTER,
        Current("A", above=0),
        4,
        32,
        1,
        movable=False,
    ),
]

FIGURES = [
    Figure(
        "kc11",
        "specific cutting force at a chip 1 mm thick (kc1.1)",
        Stress("N/mm²"),
        CHAPTER,
        "kienzle, table and later additions",
        lookup=Column("materials", "work_material", "kc11"),
    ),
    Figure(
        "exponent",
        "exponent of the chip thickness",
        Ratio(),
        CHAPTER,
        "kienzle, table and later additions",
        lookup=Column("materials", "work_material", "exponent"),
    ),
    Figure(
        "cut_condition",
        "rise of force by rake, wear and slowness of the tool",
        Ratio(),
        CHAPTER,
        "dietrich_tschaetsch, speed, wear and rake factors",
        lookup=of_edge("factor"),
    ),
    Figure(
        "thrust_share",
        "push square to the edge over the cutting force",
        Ratio("%"),
        CHAPTER,
        ("groover, thrust of an orthogonal cut", "common_practice, forces as five to two to one"),
        lookup=of_edge("thrust"),
    ),
    Figure("drill_feed_share", "feed of a drill as a share of its diameter", Ratio("%"), CHAPTER, value=Range(0.6, 1.0, 1.4)),
    Figure(
        "drill_condition",
        "rise of force by the state of the drill",
        Ratio(),
        CHAPTER,
        "dietrich_tschaetsch, speed and wear factors",
        lookup=lambda edge_state: _condition("drill", "high-speed steel", edge_state),
    ),
    Figure(
        "thrust_ratio",
        "thrust of a drill over its torque and diameter",
        Ratio(),
        CHAPTER,
        "machinerys_handbook_drilling, split point to standard point",
        value=Range(2.2, 3.2, 3.8),
    ),
]


@result(Power("W"), "power at the spindle", CHAPTER)
def spindle_power(motor_power, drive_efficiency):
    """What the motor gives, less belts and bearings."""
    return motor_power * drive_efficiency


def job_shares(jobs, work_material):
    """What each job's material asks of a cut against the hardest one, shape (jobs,): in proportion to the main value of the cutting force."""
    rows = table("materials")
    hardest = rows[work_material]["kc11"].likely
    forces_of = [rows[job.material].get("kc11") for job in jobs]  # wood and plastics have none, and ask next to nothing
    return np.array([kc11.likely / hardest if kc11 else 0.0 for kc11 in forces_of])


@result(
    Length("mm"),
    "diameter of the largest work, as if of the hardest material",
    CHAPTER,
    source="kienzle, table and later additions",
)
def torque_diameter(jobs, work_material):
    """The diameter that asks most torque; work of another material counts in proportion to its main value of the cutting force."""
    return float((jobs.column("diameter") * job_shares(jobs, work_material)).max())


@result(FeedPerTurn("mm/rev"), "feed of the largest drill", CHAPTER, source="common_practice, about a hundredth of the diameter")
def drill_feed(largest_drill, drill_feed_share):
    """How far a drill is pushed on with each turn, by a hand that feels it cut."""
    return largest_drill * drill_feed_share


@result(Length("mm"), "chip thickness of the largest drill", CHAPTER, source="koenig, drilling")
def drill_chip_thickness(drill_feed):
    """Each of two lips takes half the feed, thinned by half the point angle of 118 degrees."""
    return forces.chip_thickness.si(drill_feed / 2, DRILL_POINT)


RESULTS = [
    # the angles have a default in the formulas: without these words they would stay there
    node(
        forces.effective_entering_angle,
        CHAPTER,
        label="entering angle of edge and nose together",
        entering_angle="entering_angle",
    ),
    node(forces.chip_thickness, CHAPTER, label="chip thickness of the roughing cut", entering_angle="effective_entering_angle"),
    node(forces.chip_width, CHAPTER, label="chip width of the roughing cut", entering_angle="effective_entering_angle"),
    node(forces.specific_cutting_force, CHAPTER, label="specific cutting force of the roughing cut"),
    node(forces.speed_factor, CHAPTER, name="speed_effect", label="effect of your cutting speed on the force in steel"),
    node(
        forces.cutting_force,
        CHAPTER,
        label="cutting force of the roughing cut",
        specific_force="specific_cutting_force",
        condition="cut_condition",
    ),
    node(forces.radial_share, CHAPTER, label="radial force over the cutting force", entering_angle="effective_entering_angle"),
    node(forces.feed_share, CHAPTER, label="feed force over the cutting force", entering_angle="effective_entering_angle"),
    node(forces.cutting_power, CHAPTER, label="power at the roughing cut"),
    node(cutting_speeds.removal_rate, CHAPTER, label="metal taken off in the roughing cut"),
    node(
        forces.motor_power, CHAPTER, name="motor_power_needed", label="motor power the cut needs", efficiency="drive_efficiency"
    ),
    spindle_power,
    torque_diameter,
    node(
        forces.cutting_torque,
        CHAPTER,
        name="torque_needed",
        label="torque the cut needs on the largest work",
        diameter="torque_diameter",
    ),
    drill_feed,
    drill_chip_thickness,
    node(
        forces.specific_cutting_force,
        CHAPTER,
        name="drill_specific_force",
        label="specific cutting force of the largest drill",
        chip_thickness="drill_chip_thickness",
    ),
    node(
        forces.drilling_torque,
        CHAPTER,
        label="torque of the largest drill",
        specific_force="drill_specific_force",
        feed="drill_feed",
        drill_diameter="largest_drill",
        condition="drill_condition",
    ),
    node(forces.drilling_thrust, CHAPTER, label="thrust of the largest drill", drill_diameter="largest_drill"),
    node(
        motors.supply_power,
        CHAPTER,
        label="largest motor the supply can feed",
        voltage="supply_voltage",
        current="supply_limit",
        efficiency="motor_efficiency",
    ),
    node(
        forces.supply_current,
        CHAPTER,
        label="current from the supply",
        output_power="motor_power",
        voltage="supply_voltage",
        efficiency="motor_efficiency",
    ),
]

LIMITS = [
    Limit(
        "power_suffices",
        "motor power suffices for the roughing cut",
        CHAPTER,
        "motor_power",
        "at least",
        "motor_power_needed",
        "The motor gives {value}; the roughing cut needs {limit}.",
        comfort=0.3,
        caution="A stalled spindle starts again when the tool is freed: switch off before you clear it.",
    ),
    Limit(
        "supply_suffices",
        "the supply suffices",
        CHAPTER,
        "supply_current",
        "at most",
        "supply_limit",
        "Motor and controller draw about {value}; the supply gives {limit}. A motor that asks for more than it gives trips the fuse, or warms the cable.",
        comfort=0.25,
        caution="Mains work is for a licensed electrician where the law says so; fuse, earth and stop switch follow local codes.",
    ),
]
