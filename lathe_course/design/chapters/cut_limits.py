"""Chapter 08: how deep the roughing cut may go, by power, by torque and by quiet running, for every material on the list."""

import numpy as np

from ...machine import chatter, cut_limits, drive, forces
from ...ranges import Range, middling
from ...tables import table
from ...units import Length
from ..chain.entries import node, result

CHAPTER = "08"
#: the ways a roughing cut ends, in the order in which they are told
WAYS = ("power", "torque", "quiet running")
#: share of the least of them that a first cut takes; common practice
FIRST = 0.5


def cutting_speed_of(material: str, tool_material: str) -> Range:
    """Cutting speed of a material, m/s; wood and plastics are turned with steel tools."""
    row = table("materials")[material]
    return row[{"high-speed steel": "speed_hss", "carbide": "speed_carbide"}[tool_material]] or row["speed_hss"]


def listed_materials(jobs, work_material: str) -> tuple[str, ...]:
    """Materials of the jobs, then the hardest one if it is not among them."""
    return tuple(dict.fromkeys([*jobs.materials, work_material]))


@result(Length("mm"), "work nearest to stalling, as if of the hardest material", CHAPTER, source="definition")
def pace_diameter(pace_asked, cutting_force):
    """The diameter at which the roughing cut in the hardest material asks for as much torque as it does on that job."""
    return np.maximum(2 * pace_asked / cutting_force, 1e-6)


@result(Length("mm"), "deepest roughing cut this lathe takes", CHAPTER)
def depth_that_goes(depth_by_power, depth_by_torque, depth_by_quiet):
    """The least of the three."""
    return np.minimum(np.minimum(depth_by_power, depth_by_torque), depth_by_quiet)


@result(
    None, "the limits of the roughing cut for each material", CHAPTER, source=("kienzle, table and later additions", "definition")
)
def cuts_by_material(
    jobs,
    work_material,
    tool_material,
    torque_diameter,
    drive_settings,
    motor_power,
    motor_speed,
    fan_full_share,
    fan_still_share,
    spindle_power,
    cut_condition,
    feed,
    depth_of_cut,
    rough_feed_had,
    chip_thickness,
    entering_angle,
    stout_work_width,
    cutting_stiffness,
):
    """For each material on the list, and the hardest: the speed its largest work runs at, the depth at which power, torque and quiet running end, and that to begin with.

    ``speed`` (rad/s), ``diameter``, ``begin`` and the three of ``WAYS`` (m) have the shape (..., materials); depths are NaN where no cutting force is known.
    The feed is the roughing feed that can be had.  Quiet running goes against the slope of the cutting force, that of the hardest being known,
    and is that of stout work, which gives next to nothing itself: what the slimmest work leaves of it is a result of its own.
    """
    materials = listed_materials(jobs, work_material)
    rows = [table("materials")[name] for name in materials]
    across = [max((job.diameter for job in jobs if job.material == name), default=torque_diameter) for name in materials]
    speeds = np.array([middling(cutting_speed_of(name, tool_material)) for name in materials])
    diameter = np.array(across)
    beside = drive.beside
    run, torque = drive.at_speed(2 * speeds / diameter, drive_settings, motor_power, motor_speed, fan_full_share, fan_still_share)
    main, power_of = (
        np.array([middling(row[key]) if row["kc11"] is not None else np.nan for row in rows]) for key in ("kc11", "exponent")
    )
    had = np.where(rough_feed_had > 0, rough_feed_had, feed)
    force = forces.specific_cutting_force.si(main, beside(chip_thickness * had / feed), power_of)
    cut = {"specific_force": force, "condition": beside(cut_condition), "feed": beside(had)}
    slope = chatter.cutting_stiffness.si(force, power_of, beside(cut_condition)) / beside(cutting_stiffness)
    ends = {
        "power": cut_limits.depth_by_power.si(beside(spindle_power), **cut, cutting_speed=speeds),
        "torque": cut_limits.depth_by_torque.si(torque, **cut, diameter=diameter),
        "quiet running": cut_limits.depth_by_quiet.si(beside(stout_work_width) / slope, beside(entering_angle)),
    }
    least = np.minimum(np.minimum(ends["power"], ends["torque"]), ends["quiet running"])
    begin = cut_limits.first_depth.si(least, beside(depth_of_cut), FIRST)
    return {"materials": materials, "diameter": diameter, "speed": run, "begin": begin, **ends}


_CUT = {"specific_force": "specific_cutting_force", "condition": "cut_condition"}
RESULTS = [
    pace_diameter,
    node(cut_limits.depth_by_power, CHAPTER, label="depth of cut that the motor's power allows", power="spindle_power", **_CUT),
    node(
        cut_limits.depth_by_torque,
        CHAPTER,
        label="depth of cut that the torque allows",
        torque="pace_torque",
        diameter="pace_diameter",
        **_CUT,
    ),
    node(cut_limits.depth_by_quiet, CHAPTER, label="depth of cut that stays quiet", chip_width="chatter_free_width"),
    depth_that_goes,
    cuts_by_material,
]
