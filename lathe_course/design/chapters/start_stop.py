"""Chapter 05, second part: how long the spindle takes to start and to stop, and what the start asks of the supply."""

import numpy as np

from ...machine import drive, motors
from ...ranges import Range
from ...tables import table
from ...units import Current, Density, Duration, Inertia, Length, Ratio, RotationalSpeed, Torque
from ..chain.entries import Column, Figure, Limit, node, result

CHAPTER = "05"


FIGURES = [
    Figure(
        "start_torque_ratio",
        "torque at the start over that of the plate",
        Ratio(),
        CHAPTER,
        "common_practice, table of drives",
        lookup=Column("drives", "drive_kind", "start_torque"),
    ),
    Figure(
        "start_current_ratio",
        "current at the start over that at full load",
        Ratio(),
        CHAPTER,
        "common_practice, table of drives",
        lookup=Column("drives", "drive_kind", "start_current"),
    ),
    Figure(
        "brake_ratio",
        "torque of the electric brake over that of the plate",
        Ratio(),
        CHAPTER,
        "common_practice, table of drives",
        lookup=Column("drives", "drive_kind", "brake"),
    ),
    Figure("idle_share", "share of the losses that stays without load", Ratio("%"), CHAPTER, value=Range(30, 50, 80)),
    Figure(
        "breaker_ratio",
        "current a breaker lets pass for a moment, over its rating",
        Ratio(),
        CHAPTER,
        "iec_60898, type B",
        value=Range(3, 4, 5),
    ),
    Figure(
        "rotor_inertia",
        "inertia of the motor's rotor",
        Inertia(),
        CHAPTER,
        lookup=lambda motor_power: Range(*(share * motor_power / 1000 for share in (1.5e-3, 2.2e-3, 3.2e-3))),
    ),
    Figure("pulley_width", "width of a pulley", Length("mm"), CHAPTER, value=Range(12, 18, 25)),
    Figure(
        "chuck_density",
        "density of the chuck",
        Density(),
        CHAPTER,
        "shigley, Table A-5",
        lookup=lambda: table("materials")["mild steel"]["density"],
    ),
    Figure("longest_run_up", "longest time the start may take", Duration("s"), CHAPTER, value=5.0),
    Figure("longest_stop", "longest time the stop may take", Duration("s"), CHAPTER, value=10.0),
]


@result(Ratio(), "motor turns for one of the spindle on the fastest setting", CHAPTER)
def top_reduction(drive_settings):
    """The smallest reduction of all settings: the fastest takes longest to start."""
    return np.fmin.reduce(drive_settings["reduction"], axis=-1)


@result(RotationalSpeed("rpm"), "full-power speed of the fastest setting", CHAPTER)
def top_full_power(motor_speed, top_reduction):
    """Spindle speed on the fastest setting with the motor at the speed on its plate."""
    return motor_speed / top_reduction


@result(Inertia("kg·m²"), "inertia of all that turns", CHAPTER)
def turning_inertia(
    chuck_inertia, rotor_at_spindle, spindle_diameter, spindle_bore, spindle_overhang, bearing_span, belt_pulleys, pulley_width
):
    """Chuck, spindle with an end behind the rear bearing as long as its overhang, spindle pulleys of aluminium, and the rotor as the spindle feels it."""
    steel, light = (table("materials")[name]["density"] for name in ("mild steel", "aluminium alloy"))
    shaft = motors.disc_inertia.si(spindle_diameter, spindle_bore, bearing_span + 2 * spindle_overhang, steel)
    pulleys = motors.disc_inertia.si(belt_pulleys["driven"], drive.beside(spindle_diameter), drive.beside(pulley_width), light)
    return chuck_inertia + rotor_at_spindle + shaft + np.nansum(pulleys, axis=-1)


@result(Torque("N·m"), "torque that speeds the spindle up", CHAPTER)
def starting_torque(plate_torque, top_reduction, start_torque_ratio, idle_share, drive_efficiency):
    """What the motor gives at the start, at the spindle, less the friction that is there without a cut."""
    return plate_torque * top_reduction * (start_torque_ratio - idle_share * (1 - drive_efficiency))


@result(Torque("N·m"), "torque that stops the spindle", CHAPTER)
def braking_torque(plate_torque, top_reduction, brake_ratio, idle_share, drive_efficiency):
    """Friction that is there without a cut, and what the drive brakes with."""
    return plate_torque * top_reduction * (brake_ratio + idle_share * (1 - drive_efficiency))


@result(Current("A"), "current at the start", CHAPTER, source="common_practice, table of drives")
def start_current(supply_current, start_current_ratio):
    """For a moment, until the motor runs."""
    return supply_current * start_current_ratio


@result(Current("A"), "current the breaker lets pass for a moment", CHAPTER, source="iec_60898, type B")
def breaker_current(supply_limit, breaker_ratio):
    """A household breaker of the common kind trips at once somewhere from three to five times its rating."""
    return supply_limit * breaker_ratio


RESULTS = [
    top_reduction,
    top_full_power,
    node(
        motors.disc_inertia,
        CHAPTER,
        name="chuck_inertia",
        label="inertia of the chuck",
        diameter="chuck_diameter",
        bore="spindle_bore",
        length="chuck_length",
        density="chuck_density",
    ),
    node(
        motors.referred_inertia,
        CHAPTER,
        name="rotor_at_spindle",
        label="inertia of the rotor as the spindle feels it",
        inertia="rotor_inertia",
        ratio="top_reduction",
    ),
    turning_inertia,
    starting_torque,
    braking_torque,
    node(
        motors.run_up_time,
        CHAPTER,
        label="time the spindle takes to start",
        inertia="turning_inertia",
        speed="drive_fastest",
        full_power_speed="top_full_power",
        torque="starting_torque",
    ),
    node(
        motors.stopping_time,
        CHAPTER,
        label="time the spindle takes to stop",
        inertia="turning_inertia",
        speed="drive_fastest",
        torque="braking_torque",
    ),
    start_current,
    breaker_current,
]

LIMITS = [
    Limit(
        "supply_bears_start",
        "the supply bears the start",
        CHAPTER,
        "start_current",
        "at most",
        "breaker_current",
        "At the start the motor draws about {value} for a moment; the breaker lets {limit} pass.",
        comfort=0.25,
        caution="What hangs on the same circuit counts too. Breaker, cable and earth-leakage device are for a licensed electrician and the local code.",
    ),
    Limit(
        "starts_soon",
        "the spindle starts soon enough",
        CHAPTER,
        "run_up_time",
        "at most",
        "longest_run_up",
        "From rest to top speed takes {value}; past {limit} the motor grows hot and its protection trips.",
        comfort=0.25,
    ),
    Limit(
        "stops_soon",
        "the spindle stops soon enough",
        CHAPTER,
        "stopping_time",
        "at most",
        "longest_stop",
        "From top speed to rest takes {value}; {limit} is the bound that is usual for machines one stands at.",
        comfort=0.25,
        caution="Never brake a chuck by hand. An inverter that brakes hard can unscrew a chuck that is held by a thread alone.",
    ),
]
