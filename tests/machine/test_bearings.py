"""Bearings: factors as the standards print them, and the sentences for what cannot be."""

import numpy as np
import pytest

from lathe_course.machine import bearings as b
from lathe_course.units import InputProblem

MM = 1e-3


def test_factors_of_angular_contact_bearings_are_those_of_the_standards():
    """ISO 281, Table 3 and ISO 76, Table 2: X, Y, Y0 at 20 to 45 degrees."""
    angles = np.radians([20, 25, 30, 35, 40, 45])
    x, y, x0, y0 = b.thrust_factors("ball", angles)
    np.testing.assert_allclose(x, [0.43, 0.41, 0.39, 0.37, 0.35, 0.33])
    np.testing.assert_allclose(y, [1.0, 0.87, 0.76, 0.66, 0.57, 0.50])
    np.testing.assert_allclose(x0, 0.5)
    np.testing.assert_allclose(y0, [0.42, 0.38, 0.33, 0.29, 0.26, 0.22])
    limit = np.array([0.57, 0.68, 0.80, 0.95, 1.14, 1.34])  # e: where the thrust begins to count
    np.testing.assert_allclose(x + y * limit, 1, atol=0.012)


def test_a_pair_side_by_side_is_one_bearing_of_two_rows():
    """ISO 281: two rows carry 2^0.7 times the load of one, ISO 76 twice at rest; Table 3 for 20 to 45 degrees, both lines meeting at e."""
    angles = np.radians([20, 25, 30, 35, 40, 45])
    few, x, y, y0 = b.pair_factors(angles)
    np.testing.assert_allclose(few, [1.09, 0.92, 0.78, 0.66, 0.55, 0.47])
    np.testing.assert_allclose(x, [0.70, 0.67, 0.63, 0.60, 0.57, 0.54])
    np.testing.assert_allclose(y, [1.63, 1.41, 1.24, 1.07, 0.93, 0.81])
    np.testing.assert_allclose(y0, [0.84, 0.76, 0.66, 0.58, 0.52, 0.44])
    limit = np.array([0.57, 0.68, 0.80, 0.95, 1.14, 1.34])
    np.testing.assert_allclose(1 + few * limit, x + y * limit, rtol=0.01)
    one, two = (b.ball_dynamic_rating.si(59.9, np.radians(25), 14, 7 * MM, rows) for rows in (1, 2))
    assert two / one == pytest.approx(1.625, abs=1e-3)
    one, two = (b.ball_static_rating.si(7 * MM, 48.6 * MM, np.radians(25), 14, rows) for rows in (1, 2))
    assert two / one == 2


def test_taper_rollers_go_by_the_cotangent():
    x, y, x0, y0 = b.thrust_factors("roller", np.radians(15))
    assert (x, x0) == (0.4, 0.5) and y == pytest.approx(1.493, rel=1e-3) and y0 == pytest.approx(0.821, rel=1e-3)
    assert x + y * 1.5 * np.tan(np.radians(15)) == pytest.approx(1.0, abs=0.01)


def test_the_thrust_factor_of_a_deep_groove_bearing_falls_with_the_thrust():
    assert b.groove_thrust_factor(np.array([0.0, 0.172, 1.38, 6.89, 20.0])) == pytest.approx([2.30, 2.30, 1.45, 1.00, 1.00])


def test_the_pair_carries_the_cut_or_the_push_of_its_partner():
    """1000 N cross load at the front: it pushes 1000/2Y along the axis by itself; thrust and preload only count beyond that."""
    alone = b.front_thrust.si(1000.0, 0.0, 1.6, 0.0, 0.0)
    assert alone == pytest.approx(312.5)
    assert b.front_thrust.si(1000.0, 0.0, 1.6, 100.0, 150.0) == alone
    assert b.front_thrust.si(1000.0, 800.0, 1.6, 100.0, 150.0) == pytest.approx(250 + 150)
    assert b.front_thrust.si(1000.0, 0.0, 1.6, 500.0, 150.0) == pytest.approx(650)


def test_a_roller_bearing_of_a_wheel_hub_comes_near_what_such_bearings_bear():
    """35 x 62 x 18 with 19 rollers of 7 x 12.5 mm at 13 degrees: some 40 to 50 kN."""
    factor = b.roller_rating_factor.si(7 * MM, 48.5 * MM, np.radians(13))
    assert 40e3 < b.roller_dynamic_rating.si(factor, np.radians(13), 19, 7 * MM, 12.5 * MM) < 50e3


def test_a_ball_larger_than_its_bearing_is_refused_in_words():
    with pytest.raises(InputProblem, match="A ball or roller must be smaller than the mean diameter"):
        b.ball_static_rating(element_diameter="20 mm", mean_diameter="15 mm", contact_angle="0 deg", ball_count="7")


def test_bearings_whose_cones_meet_in_one_point_do_not_feel_the_heat():
    """Back to back with a span of mean diameter over tangent the play stays as it was, however warm."""
    span = 48.6 * MM / np.tan(np.radians(13))
    assert b.warm_play_change.si(10.8e-6, np.array([5.0, 30.0]), 1.0, span, 48.6 * MM, np.radians(13)) == pytest.approx(
        [0, 0], abs=1e-12
    )


def test_face_to_face_loses_more_play_than_back_to_back():
    back, front = (b.warm_play_change.si(10.8e-6, 10.0, sense, 0.110, 0.0486, np.radians(13)) for sense in (1, -1))
    assert back == pytest.approx(-10.9e-6, rel=0.01) and front == pytest.approx(-34.6e-6, rel=0.01)
