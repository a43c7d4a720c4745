"""Chapter 05: how speed and torque reach the spindle."""

import numpy as np

from ...machine import belts, drive, forces, motors, transmission
from ...ranges import Range
from ...tables import table
from ...units import Count, Current, Length, Ratio, RotationalSpeed, Torque, Voltage
from ..chain.entries import Column, Decision, Figure, Limit, node, result
from .forces import job_shares
from .purpose import job_speeds

CHAPTER = "05"
DRIVES, BELTS = tuple(table("drives")), tuple(table("belts"))
#: speeds on the plates of small motors, rev/min: induction motors at 50 and 60 Hz, and motors with magnets
PLATES = (700, 930, 1140, 1400, 1720, 2000, 2800, 3000, 3450, 4000, 5000, 6000)
_Pulley = Length("mm", above=0, at_most=1000)


DECISIONS = [
    Decision("drive_kind", "kind of drive", "What turns the spindle, and what sets its speed?", CHAPTER, options=DRIVES),
    Decision(
        "motor_speed",
        "speed on the motor's plate",
        "Which speed stands on the plate of the motor?",
        CHAPTER,
        RotationalSpeed("rpm", above=0, at_most=30_000),
        600,
        6500,
        10,
        preferred=PLATES,
        movable=False,
    ),
    Decision(
        "slowest_share",
        "slowest motor speed",
        "How slowly may the motor run, as a share of the speed on its plate?",
        CHAPTER,
        Ratio("%", above=0, at_most=100),
        8,
        100,
        2,
    ),
    Decision(
        "fastest_share",
        "fastest motor speed",
        "How fast may the motor run, as a share of the speed on its plate?",
        CHAPTER,
        Ratio("%", at_least=100, at_most=300),
        100,
        200,
        5,
    ),
    Decision(
        "countershaft_ratio",
        "reduction of the countershaft",
        "How often does the motor turn for one turn of the shaft with the driving pulleys? (1: they sit on the motor)",
        CHAPTER,
        Ratio("", above=0, at_most=20),
        1,
        6,
        0.1,
    ),
    Decision(
        "back_gear_ratio",
        "reduction of the back gear",
        "How many times slower does the back gear make the spindle? (1: there is none)",
        CHAPTER,
        Ratio("", at_least=1, at_most=30),
        1,
        8,
        0.25,
    ),
    Decision("belt_kind", "kind of belt", "Which belt drives the spindle?", CHAPTER, options=BELTS),
    Decision(
        "belt_steps",
        "number of belt steps",
        "How many steps have the pulleys?",
        CHAPTER,
        options=tuple(str(n) for n in range(1, drive.STEPS + 1)),
    ),
    *(
        Decision(
            f"driving_pulley_{n}",
            f"driving pulley of step {n}",
            f"Which diameter has the driving pulley of step {n}{', the slowest' if n == 1 else ''}?",
            CHAPTER,
            _Pulley,
            15,
            200,
            1,
            asked_if=("belt_steps", tuple(str(m) for m in range(n, drive.STEPS + 1))) if n > 1 else ("", ()),
        )
        for n in range(1, drive.STEPS + 1)
    ),
    Decision(
        "driven_pulley_1",
        "spindle pulley of step 1",
        "Which diameter has the spindle pulley of step 1?",
        CHAPTER,
        _Pulley,
        20,
        250,
        2,
    ),
    Decision(
        "belt_centres",
        "distance between the shafts of the belt",
        "How far apart are spindle and driving shaft?",
        CHAPTER,
        Length("mm", above=0, at_most=5000),
        60,
        600,
        5,
    ),
]

FIGURES = [
    Figure(
        "kind_slowest_share",
        "slowest speed the kind of drive bears",
        Ratio("%"),
        CHAPTER,
        "common_practice, table of drives",
        lookup=Column("drives", "drive_kind", "slowest_share"),
    ),
    Figure(
        "kind_fastest_share",
        "fastest speed the kind of drive bears",
        Ratio("%"),
        CHAPTER,
        "common_practice, table of drives",
        lookup=Column("drives", "drive_kind", "fastest_share"),
    ),
    Figure(
        "motor_efficiency",
        "efficiency of the motor",
        Ratio("%"),
        CHAPTER,
        "common_practice, table of drives",
        lookup=Column("drives", "drive_kind", "efficiency"),
    ),
    Figure(
        "power_factor",
        "power factor of motor and controller",
        Ratio(),
        CHAPTER,
        "common_practice, table of drives",
        lookup=Column("drives", "drive_kind", "power_factor"),
    ),
    Figure("fan_full_share", "motor speed from which its own fan suffices", Ratio("%"), CHAPTER, value=Range(40, 50, 60)),
    Figure(
        "fan_still_share",
        "torque that lasts with the fan at rest",
        Ratio("%"),
        CHAPTER,
        "common_practice, table of drives",
        lookup=Column("drives", "drive_kind", "still"),
    ),
    Figure(
        "unit_voltage",
        "voltage of the supply unit before the controller, zero on the mains",
        Voltage(),
        CHAPTER,
        "common_practice, table of drives",
        lookup=Column("drives", "drive_kind", "voltage"),
    ),
    Figure(
        "belt_efficiency",
        "efficiency of one belt stage",
        Ratio("%"),
        CHAPTER,
        ("shigley, efficiency of belts", "common_practice"),
        lookup=Column("belts", "belt_kind", "efficiency"),
    ),
    Figure(
        "gear_efficiency",
        "efficiency of one pair of gears in the back gear",
        Ratio("%"),
        CHAPTER,
        ("machinerys_handbook, efficiency of gearing", "common_practice, open wheels cut at home"),
        value=Range(92, 95, 98),
    ),
    Figure(
        "bearing_efficiency",
        "what bearings, grease and the idle spindle leave of the power",
        Ratio("%"),
        CHAPTER,
        value=Range(75, 85, 93),
    ),
]


# --- what the motor may do ---------------------------------------------------------------------------
@result(Ratio("%"), "slowest motor speed in use", CHAPTER)
def motor_low(slowest_share, kind_slowest_share, kind_fastest_share):
    """Your choice, within what the kind of drive bears: a motor of one speed has no other."""
    return np.clip(slowest_share, kind_slowest_share, kind_fastest_share)


@result(Ratio("%"), "fastest motor speed in use", CHAPTER)
def motor_high(fastest_share, motor_low, kind_fastest_share):
    """Your choice, within what the kind of drive bears."""
    return np.clip(fastest_share, motor_low, kind_fastest_share)


@result(Current("A"), "current between supply unit and controller", CHAPTER, source="definition")
def unit_current(motor_power, motor_efficiency, unit_voltage):
    """What a supply unit of low voltage gives at full power, its own losses in it, so a little high; nothing on the mains."""
    return motor_power / (motor_efficiency * unit_voltage) if unit_voltage else 0.0 * motor_power


# --- stages ------------------------------------------------------------------------------------------
@result(Count(), "belt stages between motor and spindle", CHAPTER)
def belt_stages(countershaft_ratio):
    """One, and a second where a countershaft reduces the speed before the steps."""
    return np.where(np.abs(countershaft_ratio - 1) > 1e-9, 2.0, 1.0)[()]


@result(Count(), "pairs of gears in the back gear", CHAPTER)
def back_gear_pairs(back_gear_ratio):
    """Down to the back shaft and on to the spindle; none where there is no back gear."""
    return np.where(back_gear_ratio > 1, 2.0, 0.0)[()]


# --- pulleys and speeds ------------------------------------------------------------------------------
@result(None, "pulleys of each step", CHAPTER)
def belt_pulleys(
    driving_pulley_1,
    driving_pulley_2,
    driving_pulley_3,
    driving_pulley_4,
    driven_pulley_1,
    driven_pulley_2,
    driven_pulley_3,
    driven_pulley_4,
    belt_steps,
):
    """Diameters of driving and spindle pulleys, step by step."""
    steps = int(belt_steps)
    return {
        "driving": drive.stacked([driving_pulley_1, driving_pulley_2, driving_pulley_3, driving_pulley_4], steps),
        "driven": drive.stacked([driven_pulley_1, driven_pulley_2, driven_pulley_3, driven_pulley_4], steps),
    }


@result(None, "settings of the drive", CHAPTER)
def drive_settings(
    belt_pulleys, countershaft_ratio, back_gear_ratio, motor_speed, motor_low, motor_high, drive_efficiency, geared_efficiency
):
    """Every belt step, without and with the back gear: reduction, slowest and fastest speed, and what comes through of the power."""
    return drive.settings(
        belt_pulleys["driving"],
        belt_pulleys["driven"],
        countershaft_ratio,
        back_gear_ratio,
        motor_speed,
        motor_low,
        motor_high,
        drive_efficiency,
        geared_efficiency,
    )


@result(Ratio(), "largest reduction from motor to spindle", CHAPTER)
def largest_reduction(drive_settings):
    """How often the motor turns for one turn of the spindle on its slowest setting."""
    return np.fmax.reduce(drive_settings["reduction"], axis=-1)


@result(RotationalSpeed("rpm"), "slowest speed at full power", CHAPTER)
def full_power_speed(motor_speed, largest_reduction):
    """Spindle speed on the slowest setting with the motor at the speed on its plate; below it there is less than full power."""
    return motor_speed / largest_reduction


@result(RotationalSpeed("rpm"), "slowest spindle speed the drive gives", CHAPTER)
def drive_slowest(drive_settings):
    """The lowest spindle speed of all settings."""
    return np.fmin.reduce(drive_settings["slow"], axis=-1)


@result(RotationalSpeed("rpm"), "fastest spindle speed the drive gives", CHAPTER)
def drive_fastest(drive_settings):
    """The highest spindle speed of all settings."""
    return np.fmax.reduce(drive_settings["fast"], axis=-1)


@result(RotationalSpeed("rpm"), "speed the drive should not exceed", CHAPTER)
def overrun_limit(fastest_speed, chuck_top_speed):
    """A tenth above the fastest speed you decided on, for bearings are chosen for that; never more than the chuck is stamped for."""
    return np.minimum(1.1 * fastest_speed, chuck_top_speed)


@result(Ratio(), "widest gap between two speeds", CHAPTER)
def widest_gap(drive_settings):
    """Largest ratio between a speed and the next slower one that can be had; 1 where the ranges run into each other."""
    return drive.widest_gap(drive_settings["slow"], drive_settings["fast"])


# --- torque ------------------------------------------------------------------------------------------
@result(Ratio("%"), "motor speed at the slowest spindle speed", CHAPTER)
def slow_share(slowest_speed, drive_slowest, full_power_speed, motor_low, motor_high):
    """How fast the motor runs, as a share of its plate's speed, when the spindle turns as slowly as you decided, or as slowly as it can."""
    return np.clip(np.maximum(slowest_speed, drive_slowest) / full_power_speed, motor_low, motor_high)


@result(Torque("N·m"), "spindle torque at the slowest speed", CHAPTER)
def low_speed_torque(motor_torque_slow, slow_cooling, largest_reduction, geared_efficiency):
    """Torque of the motor, as much of it as lasts, times the reduction, less what belts, gears and bearings keep."""
    return motor_torque_slow * slow_cooling * largest_reduction * geared_efficiency


@result(None, "torque for each job at its speed", CHAPTER, source="kienzle, table and later additions")
def job_turning(
    jobs, tool_material, work_material, drive_settings, motor_power, motor_speed, fan_full_share, fan_still_share, cutting_force
):
    """Speed each job runs at at its full diameter, the torque that is there, and the torque its roughing cut asks for."""
    speed, torque = drive.at_speed(
        job_speeds(jobs, tool_material, "diameter"), drive_settings, motor_power, motor_speed, fan_full_share, fan_still_share
    )
    asked = forces.cutting_torque.si(drive.beside(cutting_force) * job_shares(jobs, work_material), jobs.column("diameter"))
    torque, asked = np.broadcast_arrays(torque, asked)
    with np.errstate(divide="ignore"):
        ratio = np.where(asked > 0, torque / asked, np.inf)
    return {"speed": speed, "torque": torque, "asked": asked, "hardest": np.argmin(ratio, axis=-1)}


def _hardest(of_jobs, job_turning):
    return np.take_along_axis(of_jobs, drive.beside(job_turning["hardest"]), axis=-1)[..., 0]


@result(Torque("N·m"), "torque there is for the job nearest to stalling", CHAPTER)
def pace_torque(job_turning):
    """What the spindle gives at the speed at which one of the jobs runs: the one for which it is scarcest."""
    return _hardest(job_turning["torque"], job_turning)


@result(Torque("N·m"), "torque asked by the job nearest to stalling", CHAPTER)
def pace_asked(job_turning):
    """What the roughing cut asks on the same job."""
    return _hardest(job_turning["asked"], job_turning)


# --- pulleys ----------------------------------------------------------------------------------------
@result(Length("mm"), "room between the rims of a pair", CHAPTER)
def rim_gap(belt_pulleys, belt_centres):
    """The least on any step; nothing where no second pulley can share the belt."""
    gap = drive.beside(belt_centres) - (belt_pulleys["driving"] + belt_pulleys["driven"]) / 2
    lost = np.any(np.isnan(belt_pulleys["driven"]) & ~np.isnan(belt_pulleys["driving"]), axis=-1)
    return np.where(lost, 0.0, np.fmax(np.fmin.reduce(gap, axis=-1), 0.0))[()]


_FITS = {"belt_length": "belt_length", "centres": "belt_centres"}

RESULTS = [
    motor_low,
    motor_high,
    unit_current,
    belt_stages,
    back_gear_pairs,
    node(
        transmission.stages_efficiency,
        CHAPTER,
        name="drive_efficiency",
        label="efficiency from motor to spindle",
        fixed={"gear_pairs": 0},
    ),
    node(
        transmission.stages_efficiency,
        CHAPTER,
        name="geared_efficiency",
        label="efficiency from motor to spindle on the slowest setting",
        gear_pairs="back_gear_pairs",
    ),
    node(
        belts.belt_length,
        CHAPTER,
        label="length of the belt",
        large_diameter="driven_pulley_1",
        small_diameter="driving_pulley_1",
        centres="belt_centres",
    ),
    *(
        node(
            belts.mating_diameter,
            CHAPTER,
            name=f"driven_pulley_{n}",
            label=f"spindle pulley of step {n}",
            diameter=f"driving_pulley_{n}",
            **_FITS,
        )
        for n in range(2, drive.STEPS + 1)
    ),
    belt_pulleys,
    drive_settings,
    largest_reduction,
    full_power_speed,
    drive_slowest,
    drive_fastest,
    overrun_limit,
    widest_gap,
    node(
        belts.driven_speed,
        CHAPTER,
        name="first_step_speed",
        label="spindle speed on step 1 at the plate's speed",
        speed="motor_speed",
        driving_diameter="driving_pulley_1",
        driven_diameter="driven_pulley_1",
        reduction="countershaft_ratio",
    ),
    slow_share,
    node(
        forces.torque,
        CHAPTER,
        name="plate_torque",
        label="torque on the shaft of the motor",
        power="motor_power",
        spindle_speed="motor_speed",
    ),
    node(
        motors.motor_torque,
        CHAPTER,
        name="motor_torque_slow",
        label="motor torque at the slowest spindle speed",
        rated_power="motor_power",
        rated_speed="motor_speed",
        speed_share="slow_share",
    ),
    node(
        motors.cooling_share,
        CHAPTER,
        name="slow_cooling",
        label="share of the motor torque that lasts at the slowest speed",
        speed_share="slow_share",
        full_share="fan_full_share",
        still_share="fan_still_share",
    ),
    low_speed_torque,
    job_turning,
    pace_torque,
    pace_asked,
    rim_gap,
]

LIMITS = [
    Limit(
        "pulleys_share_belt",
        "one belt fits all steps",
        CHAPTER,
        "rim_gap",
        "at least",
        5.0,
        "Between the rims of the closest pair {value} is left, nothing if no second pulley can share the belt; {limit} is little.",
        comfort=1.0,
    ),
    Limit(
        "drive_slow_enough",
        "the drive turns slowly enough",
        CHAPTER,
        "drive_slowest",
        "at most",
        "slowest_speed",
        "The drive goes down to {value}; you decided on {limit}.",
        comfort=0.0,
    ),
    Limit(
        "drive_fast_enough",
        "the drive turns fast enough",
        CHAPTER,
        "drive_fastest",
        "at least",
        "fastest_speed",
        "The drive goes up to {value}; you decided on {limit}.",
        comfort=0.0,
    ),
    Limit(
        "drive_within_bounds",
        "the drive does not turn too fast",
        CHAPTER,
        "drive_fastest",
        "at most",
        "overrun_limit",
        "The drive can reach {value}; chuck and bearings are good for no more than {limit}.",
        comfort=0.0,
        caution="Know the lowest rated item that turns: chuck, faceplate, wood. Set that as the highest frequency in the inverter, or leave off the belt step.",
    ),
    Limit(
        "gaps_small_enough",
        "gaps between the speeds small enough",
        CHAPTER,
        "widest_gap",
        "at most",
        2.0,
        "Between two speeds lies a factor of {value}; at {limit} half of the cutting speed is lost in the gap.",
        comfort=0.25,
    ),
    Limit(
        "torque_suffices",
        "torque suffices at the slowest speed",
        CHAPTER,
        "low_speed_torque",
        "at least",
        "torque_needed",
        "At its slowest the spindle gives {value}; the cut on the largest work needs {limit}.",
        comfort=0.25,
        unasked="No metal is on the list.",
        opened_by="a job in metal on the list",
    ),
    Limit(
        "pace_held",
        "every job can be turned at its speed",
        CHAPTER,
        "pace_torque",
        "at least",
        "pace_asked",
        "At the speed it wants, the job nearest to stalling finds {value}; its roughing cut asks {limit}.",
        comfort=0.25,
        unasked="No metal is on the list.",
        opened_by="a job in metal on the list",
    ),
    Limit(
        "drill_turns",
        "the largest drill turns",
        CHAPTER,
        "low_speed_torque",
        "at least",
        "drilling_torque",
        "At its slowest the spindle gives {value}; the largest drill asks {limit}.",
        comfort=0.25,
        caution="A drill that catches spins whatever holds it: never hold work or chuck by hand, and wind back at the first squeal.",
    ),
    Limit(
        "low_voltage_borne",
        "cable and plugs of the low voltage bear its current",
        CHAPTER,
        "unit_current",
        "at most",
        20.0,
        "Between supply unit and controller {value} flow at full power; cable and plugs as one solders them at home bear about {limit}.",
        comfort=0.3,
        unasked="The controller is fed by the mains.",
        opened_by="a drive on low voltage",
        caution="Low voltage does not shock, but a ring or a spanner across it burns: fuse it at the supply unit. What is before that unit is mains, for a licensed electrician.",
    ),
]
