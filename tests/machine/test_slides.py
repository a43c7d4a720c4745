"""What slides, screws and tailstock do with figures that do not fit, and at the seams of their formulas."""

import numpy as np
import pytest

from lathe_course.machine import screws, slides, tailstock
from lathe_course.units import InputProblem


def test_a_guide_that_jams_is_told_in_words_and_spoils_only_its_own_draw():
    with pytest.raises(InputProblem, match="The guide jams"):
        slides.push_needed(resistance="100 N", friction="0.25", push_offset="120 mm", guide_length="60 mm")
    push = slides.push_needed.si(100.0, 0.25, 0.12, np.array([0.06, 0.12]))
    assert np.isnan(push[0]) and push[1] == pytest.approx(200.0)


def test_jam_and_push_tell_the_same_story():
    jams = slides.jam_free_length.si(0.2, 0.09)
    assert np.isnan(slides.push_needed.si(1.0, 0.2, 0.09, jams * 0.9999))
    assert slides.push_needed.si(1.0, 0.2, 0.09, jams * 1.0001) > 1000
    assert slides.push_needed.si(1.0, 0.2, 0.09, 3 * jams) == pytest.approx(
        1.5
    )  # three times the length costs half as much again


def test_pressure_is_smooth_where_the_edge_begins_to_lift():
    offsets = np.linspace(0.009, 0.011, 401)  # a sixth of the length is 10 mm
    pressure = slides.peak_way_pressure.si(1000.0, 2, 0.02, 0.06, offsets)
    steps = np.diff(pressure)
    assert np.all(steps > 0) and np.all(np.abs(np.diff(steps)) < 0.01 * steps[:-1])


@pytest.mark.parametrize("share", [0.17, 0.185, 0.199, 0.25, 0.32])
def test_where_an_edge_has_lifted_the_pressure_is_a_triangle_under_the_load(share):
    """Statics of a face that cannot pull: past the middle third it is pressed over three times what lies between load and end, and the triangle holds the load."""
    load, faces, width, length = 1000.0, 2, 0.02, 0.06
    pressed = 3 * (0.5 - share) * length
    assert slides.peak_way_pressure.si(load, faces, width, length, share * length) == pytest.approx(
        load / (faces * width * pressed / 2)
    )


def test_a_load_beyond_the_end_of_the_slide_is_held_by_the_keep_plate():
    offsets = np.linspace(0.019, 0.050, 401)  # a third of the length is 20 mm; half of it 30
    pressure = slides.peak_way_pressure.si(1000.0, 2, 0.02, 0.06, offsets)
    assert np.all(np.isfinite(pressure)) and np.all(np.diff(pressure) > 0)
    assert slides.peak_way_pressure.si(1000.0, 2, 0.02, 0.06, 0.020) == pytest.approx(4 * 1000 / (2 * 0.02 * 0.06))


@pytest.mark.parametrize(("pitch", "clearance"), [(1.0, 0.15), (1.5, 0.15), (2.0, 0.25), (5.0, 0.25), (6.0, 0.5)])
def test_clearance_goes_with_the_pitch(pitch, clearance):
    assert screws.trapezoidal_clearance(pitch * 1e-3) == pytest.approx(clearance * 1e-3)
    assert screws.trapezoidal_clearance(np.full(3, pitch * 1e-3)).shape == (3,)


def test_a_thread_without_core_is_refused():
    with pytest.raises(InputProblem, match="must leave a core"):
        screws.thread_core_diameter(major_diameter="5 mm", pitch="5 mm", clearance="0.25 mm")


def test_a_screw_that_locks_needs_a_turn_to_lower_and_one_that_does_not_runs_back():
    for friction, sign in ((0.15, 1), (0.05, -1)):
        assert np.sign(screws.lowering_torque.si(100.0, 0.004, 0.014, friction, np.radians(15))) == sign
        assert np.sign(friction - screws.self_locking_friction.si(0.004, 0.014, np.radians(15))) == sign


def test_a_self_locking_screw_wastes_more_than_half():
    angle, friction = np.radians(15), 0.15
    lead = 0.999 * friction * np.pi * 0.014 / np.cos(angle)
    torque = screws.raising_torque.si(100.0, lead, 0.014, friction, angle)
    assert screws.screw_efficiency.si(100.0, lead, torque) < 0.5


def test_buckling_passes_smoothly_from_stout_to_slender():
    lengths = np.geomspace(0.05, 2.0, 500)
    load = screws.screw_buckling_load.si(0.0105, lengths, 207e9, 400e6, 1.0)
    slope = np.diff(np.log(load)) / np.diff(np.log(lengths))
    assert np.all(np.diff(load) < 0) and np.all(np.abs(np.diff(slope)) < 0.1) and slope[-1] == pytest.approx(-2)
    assert load[0] == pytest.approx(np.pi / 4 * 0.0105**2 * 400e6, rel=0.05)


def test_a_tall_tailstock_on_a_short_base_tips_before_it_slides():
    assert tailstock.holding_thrust.si(1000.0, 0.2, 0.02, 0.1) == pytest.approx(100.0)
    assert tailstock.holding_thrust.si(1000.0, 0.2, 0.20, 0.1) == pytest.approx(200.0)
