"""Readings of a lathe: figures of the trade worked by hand, and the two pieces that take whole rows of readings."""

import numpy as np
import pytest
from cases import every

from lathe_course import units
from lathe_course.machine.alignment import (
    bar_run_out,
    bar_sag,
    foot_lift,
    height_error_on_diameter,
    level_heights,
    level_taper,
    levelled_rise,
    lobes,
    phased_run_out,
    shim_thickness,
    spindle_run_out,
    taper_from_axis,
)
from lathe_course.units import InputProblem, Slope


def um(quantity):
    return quantity.to("um").magnitude


def test_figures_a_pocket_calculator_gives():
    assert um(shim_thickness("15 µm", "90 mm", "100 mm")) == pytest.approx(13.5)
    assert um(taper_from_axis("0.02 mm", "300 mm", "300 mm")) == pytest.approx(40)  # copied on both sides
    assert um(level_taper("0.1 mm/m", "115 mm")) == pytest.approx(23)
    assert um(foot_lift("0.1 mm/m", "120 mm", "400 mm", "500 mm")) == pytest.approx(12)
    assert um(foot_lift("0.1 mm/m", "120 mm", "400 mm", "200 mm")) == pytest.approx(
        24
    )  # read half as far apart as the feet stand
    assert um(phased_run_out("5 µm", "5 µm", "45 mm", "110 mm", "180 deg")) == pytest.approx(5 * (1 + 2 * 45 / 110))
    assert um(phased_run_out("5 µm", "5 µm", "45 mm", "110 mm", "0 deg")) == pytest.approx(5)


# Geometry and statics of the collection of check values, with the tolerance stated there; each was worked out there by arithmetic
# or by finite elements, so none is more than a second hand on the same sum
@pytest.mark.parametrize(
    ("found", "expected", "tolerance"),
    [
        (taper_from_axis("0.02 mm", "300 mm", "300 mm"), 40, 0.001),  # axis 0.02 in 300 out of parallel
        (height_error_on_diameter("20 mm", "0.5 mm"), 24.98, 0.003),  # tool half a millimetre off centre
        (height_error_on_diameter("10 mm", "0.1 mm"), 2.0, 0.003),
        (bar_sag("30 mm", "300 mm", "7850 kg/m³", "207 GPa"), 6.6941, 0.003),  # test bar under its own weight
        (level_taper("0.02 mm/m", "75 mm") / 2, 1.5, 0.001),
    ],
)  # roll of the saddle, at the tool
def test_check_values_of_alignment(found, expected, tolerance):
    assert um(found) == pytest.approx(expected, rel=tolerance)


def test_a_level_of_two_hundredths_in_a_metre_is_four_seconds_of_arc():
    assert np.rad2deg(np.arctan(units.read("0.02 mm/m", Slope()))) * 3600 == pytest.approx(4.125, rel=1e-3)


def test_a_true_spindle_with_a_crooked_bar_and_the_other_way_round():
    crooked_bar = ("10 µm", "0 µm", "-10 µm", "0 µm")
    assert um(spindle_run_out(*crooked_bar)) == pytest.approx(0) and um(bar_run_out(*crooked_bar)) == pytest.approx(10)
    crooked_spindle = ("10 µm", "0 µm", "10 µm", "0 µm")
    assert um(spindle_run_out(*crooked_spindle)) == pytest.approx(10) and um(bar_run_out(*crooked_spindle)) == pytest.approx(0)


def test_a_housing_that_does_not_slow_down_is_refused_with_a_sentence():
    with pytest.raises(InputProblem, match="is not on its way to a level"):
        levelled_rise("10 K", "20 K", "30 K")
    with pytest.raises(InputProblem, match="is not on its way to a level"):
        levelled_rise("10 K", "20 K", "15 K")


def test_heights_from_a_level_moved_step_by_step():
    """A way that falls away evenly to both sides of its middle, 0.02 mm/m over steps of 100 mm: 2 µm high."""
    heights = level_heights([0.02e-3, 0.0, -0.02e-3], 0.1)
    assert heights == pytest.approx([0, 2e-6, 2e-6, 0], abs=1e-15)
    assert level_heights([0.05e-3] * 4, 0.1) == pytest.approx(np.zeros(5), abs=1e-15), (
        "a bed out of level is not a bed that is bent"
    )
    fallen = 30e-6 * (1 - (np.linspace(-1, 1, 9)) ** 2)
    assert level_heights(np.diff(fallen) / 0.05, 0.05) == pytest.approx(fallen, abs=1e-15)


@every("count", [8, 9, 12, 36])
@every("number", [1, 2, 3])
def test_lobes_are_found_with_their_height(count, number):
    angle = 2 * np.pi * np.arange(count) / count
    found = lobes(5 + 3 * np.cos(number * angle + 0.7))
    assert found[number] == pytest.approx(6) and np.delete(found, number) == pytest.approx(np.zeros(len(found) - 1), abs=1e-12)


def test_the_fastest_wave_an_even_count_can_show():
    assert lobes([1, -1] * 4)[-1] == pytest.approx(2)
