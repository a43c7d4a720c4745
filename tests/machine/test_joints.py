"""Bolts and faces between headstock and bed."""

import pytest

from lathe_course.machine import joints
from lathe_course.units import InputProblem


def test_a_headstock_far_from_its_cut_swings():
    shape = {"joint_stiffness": 1e9, "shear_ratio": 0.4, "width": 0.1, "length": 0.1, "centre_height": 0.0001}
    near, far, further = (joints.headstock_joint_compliance.si(**shape, reach=x) for x in (0.0, 0.2, 0.4))
    assert near == pytest.approx(1 / 0.4e9, rel=1e-3)
    assert (further - near) / (far - near) == pytest.approx(4.0)


def test_a_pitch_as_coarse_as_the_bolt_is_refused():
    with pytest.raises(InputProblem, match="pitch must be smaller"):
        joints.bolt_stress_area("2 mm", "3 mm")
