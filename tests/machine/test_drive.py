"""Settings of a drive, their gaps and torque, and belts and motors with figures that do not fit."""

import numpy as np
import pytest

from lathe_course.machine import belts, drive, motors
from lathe_course.units import InputProblem, si_factor

RPM, MM = si_factor("rpm", "speed"), 1e-3


def geared(
    driving=(50.0, 100.0), driven=(100.0, 50.0), steps=2, countershaft=1.0, back_gear=1.0, motor=1400.0, slow=1.0, fast=1.0
):
    pad = [np.nan] * (drive.STEPS - len(driving))
    return drive.settings(
        drive.stacked([*driving, *pad], steps),
        drive.stacked([*driven, *pad], steps),
        countershaft,
        back_gear,
        motor * RPM,
        slow,
        fast,
        0.7,
        0.6,
    )


def rpm(found):
    return sorted(np.round(found[~np.isnan(found)] / RPM, 6))


def test_each_step_gives_a_speed_and_the_back_gear_gives_it_again_slower():
    assert rpm(geared()["slow"]) == rpm(geared()["fast"]) == [700, 2800]
    assert rpm(geared(back_gear=4.0)["fast"]) == [175, 700, 700, 2800]
    assert rpm(geared(countershaft=2.0)["fast"]) == [350, 1400]
    assert rpm(geared(steps=1, back_gear=7.0)["fast"]) == [100, 700]


def test_a_motor_whose_speed_is_set_gives_ranges():
    found = geared(slow=0.3, fast=1.5)
    assert rpm(found["slow"]) == [210, 840] and rpm(found["fast"]) == [1050, 4200]


@pytest.mark.parametrize(
    ("slow", "fast", "gap"),
    [
        ([700, 2800], [700, 2800], 4.0),
        ([210, 840], [1050, 4200], 1.0),
        ([2800, 700, 1400], [2800, 700, 1400], 2.0),
        ([100], [500], 1.0),
        ([100, np.nan, 900], [300, np.nan, 1000], 3.0),
        ([100, 200, 900], [600, 300, 1000], 1.5),
    ],
)
def test_the_widest_gap_between_settings(slow, fast, gap):
    assert drive.widest_gap(np.array(slow, float), np.array(fast, float)) == pytest.approx(gap)


def test_gaps_of_many_drives_at_once():
    slow = np.array([[100.0, 400.0, np.nan], [300.0, 100.0, 200.0]])
    assert drive.widest_gap(slow, slow).tolist() == [4.0, 2.0]


LASTS = {"rated_power": 370.0, "motor_speed": 1400 * RPM, "full_share": 0.5, "still_share": 0.5}


def ran(wishes, **figures):
    speed, torque = drive.at_speed(np.array(wishes, float) * RPM, geared(**figures), **LASTS)
    return list(np.round(speed / RPM, 6)), torque


def test_a_motor_of_one_speed_runs_on_the_step_below_the_wish_with_all_its_power():
    speeds, torque = ran([300, 700, 2000, 2799, 2800, 9000])
    assert speeds == [700, 700, 700, 700, 2800, 2800]  # the slowest where all are too fast
    assert torque * np.array(speeds) * RPM == pytest.approx(0.7 * 370)


def test_an_inverter_keeps_torque_below_the_plates_speed_and_power_above_it():
    speeds, torque = ran([350, 700, 1050], steps=1, slow=0.3, fast=1.5)
    rated = 0.7 * 370 / (700 * RPM)
    assert speeds == [350, 700, 1050] and torque == pytest.approx([rated, rated, rated / 1.5])


def test_the_fan_takes_torque_when_the_motor_crawls():
    _, torque = ran([140], steps=1, slow=0.1, fast=1.5)  # a fifth of the plate's speed: 0.5 + 0.5 x 0.2 / 0.5
    assert torque == pytest.approx(0.7 * 0.7 * 370 / (700 * RPM))


def test_of_two_settings_at_one_speed_the_stronger_is_taken():
    """At 700 rpm the slow step runs at the plate's speed, the fast one at a quarter of it."""
    _, torque = ran([700], slow=0.2, fast=1.5)
    assert torque == pytest.approx(0.7 * 370 / (700 * RPM))


def test_the_back_gear_costs_its_own_share():
    """Behind the back gear six tenths come through and not seven: 0.6 of the motor's torque times the reduction of 2 x 4."""
    _, torque = ran([175], steps=1, back_gear=4.0)
    assert torque == pytest.approx(0.6 * 370 / (175 * RPM))


def test_wishes_beside_draws():
    drawn = np.array([1000.0, 1400.0, 2000.0])
    found = drive.settings(
        drive.stacked([50.0, 100.0, np.nan, np.nan], 2),
        drive.stacked([100.0, 50.0, np.nan, np.nan], 2),
        1.0,
        1.0,
        drawn * RPM,
        1.0,
        1.0,
        0.7,
        0.6,
    )
    speed, torque = drive.at_speed(np.array([600.0, 5000.0]) * RPM, found, **LASTS | {"motor_speed": drawn * RPM})
    assert speed.shape == torque.shape == (3, 2)
    assert speed[:, 1] / RPM == pytest.approx(2 * drawn) and speed[0, 0] / RPM == pytest.approx(500)


# --- belts -------------------------------------------------------------------------------------------
def test_one_belt_fits_all_steps():
    """Partner of 70 beside 35 and 105 at 200: 74 and not 66, which would need a belt 12 mm shorter."""
    length = belts.belt_length.si(105 * MM, 35 * MM, 200 * MM)
    partner = belts.mating_diameter.si(70 * MM, length, 200 * MM)
    assert partner / MM == pytest.approx(73.9, abs=0.05)
    assert belts.belt_length.si(partner, 70 * MM, 200 * MM) == pytest.approx(length, rel=1e-12)
    assert (length - belts.belt_length.si(70 * MM, 66 * MM, 200 * MM)) / MM == pytest.approx(12, abs=0.7)


def test_a_belt_shorter_than_the_centres_is_refused_in_words():
    with pytest.raises(InputProblem, match="The belt is too short: at these centres"):
        belts.mating_diameter(diameter="60 mm", belt_length="380 mm", centres="200 mm")
    with pytest.raises(InputProblem, match="The belt is too short: it does not go round both pulleys"):
        belts.centre_distance("105 mm", "35 mm", "280 mm")


def test_pulleys_that_meet_are_refused_in_words():
    with pytest.raises(InputProblem, match="The pulleys run into each other"):
        belts.belt_length("120 mm", "60 mm", "80 mm")
    with pytest.raises(InputProblem, match="The belt is too long: the second pulley would run into the first"):
        belts.mating_diameter("60 mm", "1200 mm", "200 mm")
    assert np.isnan(belts.mating_diameter.si(np.array([0.06]), 0.38, 0.2))[0]


def test_what_a_belt_shorter_by_a_little_does_to_the_centres():
    at = [belts.centre_distance.si(0.105, 0.035, length) for length in (0.62, 0.63, 0.64)]
    assert at[1] - at[0] == pytest.approx(0.005, rel=0.05) and at[2] > at[1]
    assert belts.belt_length.si(0.105, 0.035, at[1]) == pytest.approx(0.63, rel=1e-12)


def test_a_belt_flung_off_its_pulley_grips_no_more():
    assert belts.belt_grip.si(50.0, 60.0, 0.6, 2.5) == 0
    grip = belts.belt_grip.si(np.array([50.0, 100.0]), 10.0, 0.6, 2.5)
    assert grip[1] / grip[0] == pytest.approx(90 / 40)


# --- motors ------------------------------------------------------------------------------------------
def test_no_more_current_than_the_supply_has():
    """A motor of that output draws just that current."""
    from lathe_course.machine import forces

    power = motors.supply_power.si(230.0, 10.0, 0.66, 0.62)
    assert forces.supply_current.si(power, 230.0, 0.66, 0.62) == pytest.approx(10.0)


def test_a_chuck_in_steel():
    """125 by 60 mm: 0.0113 kg·m², 139 J at 1500 rpm, and 0.59 s to get there with 3 N·m (reworked on paper)."""
    inertia = motors.disc_inertia.si(0.125, 0.0, 0.06, 7850.0)
    assert inertia == pytest.approx(0.01129, rel=1e-3) and inertia * (1500 * RPM) ** 2 / 2 == pytest.approx(139.3, rel=1e-3)
    assert motors.run_up_time.si(inertia, 1500 * RPM, 3000 * RPM, 3.0) == pytest.approx(0.591, rel=1e-3)
    assert motors.stopping_time.si(inertia, 1500 * RPM, 3.0) == pytest.approx(0.591, rel=1e-3)


def test_running_up_above_full_power_takes_longer():
    slow, fast = (motors.run_up_time.si(0.01, speed * RPM, 1400 * RPM, 2.0) for speed in (1400, 2800))
    assert fast == pytest.approx(2.5 * slow)
