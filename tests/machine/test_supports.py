"""Feet of a bed: what follows from where they stand."""

import numpy as np
import pytest

from lathe_course.machine import bed, supports
from lathe_course.units import InputProblem

BED = {"elastic_modulus": 207e9, "second_moment": 5e-7}


def test_ends_droop_with_feet_close_together_and_rise_with_feet_at_the_ends():
    slopes = supports.end_slope.si(100.0, 1.0, np.array([0.2, 0.5, 0.65, 1.0]), **BED)
    assert np.all(np.diff(slopes) > 0) and slopes[1] < 0 < slopes[2]


def test_the_three_good_spacings_lie_close_together_and_none_is_the_end():
    spacings = [f.si(1.0) for f in (supports.least_sag_spacing, supports.bessel_spacing, supports.airy_spacing)]
    assert sorted(spacings) == spacings and spacings[0] > 0.55 and spacings[-1] < 0.58
    sag = [max(abs(f.si(100.0, 1.0, s, **BED)) for f in (bed.mid_sag, bed.end_sag)) for s in (*spacings, 1.0)]
    assert sag[0] < sag[1] < sag[2] < sag[3] / 20 and sag[0] < sag[3] / 40


def test_feet_beyond_the_bed_are_refused():
    with pytest.raises(InputProblem, match="cannot stand further apart than the bed is long"):
        supports.end_slope("100 N", "0.5 m", "0.6 m", "207 GPa", "5e5 mm**4")


def test_a_pair_of_feet_bears_more_than_the_point_of_the_triangle():
    near, far = supports.three_feet_push.si(1000.0, 0.2, np.array([0.0, 1.0]), 0.2)
    assert far == 0 and near == 500
