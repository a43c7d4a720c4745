"""Speed series and preferred numbers: the plain functions beside the formulas."""

import numpy as np
import pytest
from cases import every

from lathe_course.machine.cutting_speeds import preferred, speed_loss, speed_series, step_ratio
from lathe_course.units import InputProblem

RPM = 2 * np.pi / 60


def test_a_series_begins_and_ends_where_it_should():
    series = speed_series(60 * RPM, 2500 * RPM, 6) / RPM
    assert series[[0, -1]] == pytest.approx([60, 2500])
    assert series[1:] / series[:-1] == pytest.approx([float(step_ratio.si(60, 2500, 6))] * 5)
    assert len(speed_series(1.0, 2.0, 2)) == 2


def test_a_series_of_draws_keeps_the_draws_in_the_last_place():
    slow = np.array([50.0, 60.0, 70.0])
    series = speed_series(slow, 2000.0, 5)
    assert series.shape == (5, 3)
    for column, slowest in enumerate(slow):
        assert series[:, column] == pytest.approx(speed_series(slowest, 2000.0, 5))


@pytest.mark.parametrize("steps", [1, 0, -3, 2.5])
def test_a_series_needs_whole_steps(steps):
    with pytest.raises(InputProblem, match="whole number of at least 2 steps"):
        speed_series(1.0, 2.0, steps)


def test_no_diameter_loses_more_than_the_speed_loss():
    series = speed_series(100.0, 1000.0, 5)
    loss = speed_loss.si(series[1] / series[0])
    wished = np.linspace(100.0, 999.0, 5000)
    used = series[np.searchsorted(series, wished, side="right") - 1]
    assert np.all(1 - used / wished <= loss + 1e-12)


@every(
    "value, series, number",
    [
        (239, "R20", 250),
        (239, "R10", 250),
        (239, "R40", 236),
        (239, "R5", 250),
        (9.6, "R20", 10),
        (0.97, "R20", 1),
        (1, "R5", 1),
        (10, "R5", 10),
        (6.3e6, "R20", 6.3e6),
        (3.15e-3, "R20", 3.15e-3),
        (2.82, "R20", 2.8),
    ],
)
def test_nearest_preferred_number(value, series, number):
    assert preferred(value, series) == number


def test_preferred_numbers_of_an_array_keep_its_shape():
    assert preferred(np.array([[514.0, 7.6], [37.0, 0.9]]), "R10").tolist() == [[500.0, 8.0], [40.0, 1.0]]


def test_nearest_means_nearest_in_ratio():
    """Half-way by ratio between 1.0 and 1.6 is 1.265; half-way by difference would be 1.3."""
    assert preferred(1.28, "R5") == 1.6
    assert preferred(1.25, "R5") == 1.0


@pytest.mark.parametrize("value", [0, -1, float("nan"), float("inf"), []])
def test_there_is_no_preferred_number_for_nothing(value):
    with pytest.raises(InputProblem, match="above zero"):
        preferred(value)


def test_an_unknown_series_is_answered_with_the_known_ones():
    with pytest.raises(InputProblem, match="'R15' is not a basic series of preferred numbers; choose one of R5, R10, R20, R40"):
        preferred(3, "R15")
