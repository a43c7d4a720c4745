"""The drive in the chain: what each kind of motor, each pulley and each belt does to the findings."""

import numpy as np
import pytest
from cases import every

from lathe_course.design.demos import demo
from lathe_course.design.evaluation import evaluate
from lathe_course.machine import belts, drive
from lathe_course.tables import table
from lathe_course.units import si_factor

RPM = si_factor("rpm", "speed")


def worked(start="boat_shed", draws=None, **changes):
    return evaluate(demo(start).trying(**changes), draws)


def verdict(finding, **changes):
    return worked(**changes).findings[finding].status


def test_a_motor_of_one_speed_has_no_other_whatever_shares_are_asked():
    one, other = (worked(drive_kind="single-phase motor", slowest_share=share) for share in (0.1, 0.9))
    assert one["drive_slowest"] == other["drive_slowest"] == one["full_power_speed"]
    assert one["low_speed_torque"] == pytest.approx(one["spindle_power"] / one["full_power_speed"])


def test_a_direct_current_motor_does_not_run_past_its_plate_and_an_inverter_does():
    direct, inverter = (
        worked(drive_kind=kind, fastest_share=1.5) for kind in ("direct current and controller", "three-phase and inverter")
    )
    assert inverter["drive_fastest"] == pytest.approx(1.5 * direct["drive_fastest"])


def test_below_the_plates_speed_torque_stays_and_the_fan_takes_its_part():
    e = worked(slowest_share=0.25, slowest_speed=0.25 * worked()["full_power_speed"])
    full = e["spindle_power"] / e["full_power_speed"]
    assert e["low_speed_torque"] == pytest.approx(full * e["slow_cooling"]) and e["slow_cooling"] == pytest.approx(0.75)


def test_a_back_gear_multiplies_torque_and_leaves_the_fastest_speed_alone():
    plain, geared = (
        worked(slowest_share=1.0, fastest_share=1.0),
        worked(slowest_share=1.0, fastest_share=1.0, back_gear_ratio=5.0),
    )
    assert (
        geared["low_speed_torque"]
        == pytest.approx(5 * plain["low_speed_torque"] * geared["geared_efficiency"] / plain["geared_efficiency"])
        and geared["drive_fastest"] == plain["drive_fastest"]
    )
    assert verdict("torque_suffices") == "fails" and verdict("torque_suffices", back_gear_ratio=5.0) == "holds"


def test_all_steps_share_one_belt():
    e = worked("shared_barn")
    for driving, driven in zip(e["belt_pulleys"]["driving"], e["belt_pulleys"]["driven"]):
        assert belts.belt_length.si(driven, driving, e["belt_centres"]) == pytest.approx(e["belt_length"], rel=1e-12)


def test_a_step_that_cannot_share_the_belt_is_found_and_only_if_it_is_used():
    assert verdict("pulleys_share_belt", driving_pulley_3=0.4) == "holds"
    spoilt = worked(driving_pulley_3=0.4, belt_steps="3")
    assert spoilt.findings["pulleys_share_belt"].status == "fails" and spoilt["rim_gap"] == 0
    assert spoilt["drive_slowest"] == worked()["drive_slowest"]  # the sound steps still run


def test_a_motor_asked_for_more_than_the_supply_gives_fails_with_both_currents():
    found = worked(motor_power=1500.0, supply_limit=10.0).findings["supply_suffices"]
    assert found.status == "fails" and "the supply gives 10 A" in found.sentence and "trips the fuse" in found.sentence
    e = worked(supply_limit=10.0)
    assert verdict("supply_suffices", supply_limit=10.0, motor_power=e["supply_power"] * 0.999) == "tight"
    assert verdict("supply_suffices", supply_limit=10.0, motor_power=e["supply_power"] * 1.001) == "fails"


@every(
    "finding, changes",
    [
        ("drive_slow_enough", {"slowest_share": 0.5}),
        ("drive_fast_enough", {"fastest_share": 1.2}),
        ("drive_within_bounds", {"fastest_share": 2.0}),
        ("drive_within_bounds", {"chuck_top_speed": 1500 * RPM}),
        ("gaps_small_enough", {"drive_kind": "single-phase motor"}),
        ("pace_held", {"motor_power": 180.0}),
        ("drill_turns", {"largest_drill": 0.016}),
        ("belt_lies_round", {"belt_centres": 0.1}),
        ("belt_holds", {"belt_tension": 60.0}),
        ("belt_bends", {"belt_kind": "V-belt"}),
        ("belt_slow_enough", {"driving_pulley_2": 0.2, "motor_speed": 6000 * RPM}),
        ("supply_bears_start", {"drive_kind": "single-phase motor", "motor_power": 1500.0, "supply_limit": 6.0}),
        ("starts_soon", {"motor_power": 60.0, "chuck_diameter": 0.2}),
        ("stops_soon", {"motor_power": 60.0, "chuck_diameter": 0.2}),
    ],
)
def test_each_loss_is_caught(finding, changes):
    assert verdict(finding) in ("holds", "tight") and verdict(finding, **changes) == "fails"


def test_the_belt_pulls_on_the_spindle_by_twice_its_tension_at_most():
    e = worked()
    assert 1.9 * e["belt_tension"] < e["belt_pull"] <= 2 * e["belt_tension"]
    assert worked(belt_tension=360.0)["belt_pull"] == pytest.approx(2 * worked(belt_tension=180.0)["belt_pull"])
    assert worked(belt_tension=360.0)["rear_bearing_load"] > e["rear_bearing_load"]


def test_the_job_nearest_to_stalling_is_looked_for_in_every_draw():
    e = worked(draws=200)
    turning = e["job_turning"]
    ratios = turning["torque"] / np.maximum(turning["asked"], 1e-12)
    assert e["pace_torque"] / e["pace_asked"] == pytest.approx(ratios.min(axis=-1)) and np.shape(e["pace_torque"]) == (200,)


@pytest.mark.parametrize("name", ["boat_shed", "cabin", "shared_barn"])
def test_a_cut_as_deep_as_torque_allows_just_stalls_one_job(name):
    """Moments about the axis, job by job: force at the rim times radius, against what the spindle gives where a rim of diameter d at speed v turns v / (π d) times a second."""
    e = evaluate(demo(name))
    force = e["specific_cutting_force"] * e["cut_condition"] * e["feed"] * e["depth_by_torque"]
    main = table("materials")[e["work_material"]]["kc11"].likely
    left = []
    for job in e.design.jobs:
        row = table("materials")[job.material]
        if row["kc11"] is None:  # wood and plastics ask next to nothing
            continue
        turns = (row["speed_carbide" if e["tool_material"] == "carbide" else "speed_hss"] or row["speed_hss"]).likely / (
            np.pi * job.diameter
        )
        there = drive.at_speed(
            np.array([2 * np.pi * turns]),
            *(e[one] for one in ("drive_settings", "motor_power", "motor_speed", "fan_full_share", "fan_still_share")),
        )[1]
        left.append(float(np.ravel(there)[0]) / (force * row["kc11"].likely / main * job.diameter / 2))
    assert min(left) == pytest.approx(1.0, rel=1e-6)
    assert (e["depth_by_torque"] < e["depth_of_cut"]) == (e.findings["pace_held"].margin < 0), "two sentences on one stall agree"
