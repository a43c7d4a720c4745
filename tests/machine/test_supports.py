"""Feet of a bed: what follows from where they stand."""

import numpy as np

from lathe_course.machine import supports


def test_a_pair_of_feet_bears_more_than_the_point_of_the_triangle():
    near, far = supports.three_feet_push.si(1000.0, 0.2, np.array([0.0, 1.0]), 0.2)
    assert far == 0 and near == 500
