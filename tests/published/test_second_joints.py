"""Second programs for the headstock's joint: a rigid body on a field of springs."""

import numpy as np
import pytest
from evidence import agrees, vouches

from lathe_course.machine import joints


@vouches(
    "headstock_joint_compliance",
    evidence="second program",
    source="finite_elements, our own, a rigid headstock on 200 by 200 springs",
)
@pytest.mark.parametrize(("width", "length", "reach"), [(0.12, 0.11, 0.16), (0.08, 0.2, 0.0)])
def test_rigid_headstock_on_a_field_of_springs(width, length, reach):
    normal, ratio, height, count = 2e9, 0.4, 0.075, 200
    x, y = ((np.arange(count) + 0.5) / count - 0.5) * length, ((np.arange(count) + 0.5) / count - 0.5) * width
    x, y = (axis.ravel() for axis in np.meshgrid(x, y))
    one = normal / x.size
    stiffness = np.zeros((6, 6))  # moved x, y, z and turned about x, y, z
    zero, unit = np.zeros_like(x), np.ones_like(x)
    for rows, k in (
        ((unit, zero, zero, zero, zero, -y), ratio * one),
        ((zero, unit, zero, zero, zero, x), ratio * one),
        ((zero, zero, unit, y, -x, zero), one),
    ):
        columns = np.array(rows)
        stiffness += k * columns @ columns.T
    # a unit force along y at (reach, 0, height)
    at_cut = np.array([0, 1, 0, -height, 0, reach])
    give = at_cut @ np.linalg.solve(stiffness, at_cut)
    found = joints.headstock_joint_compliance.si(normal, ratio, width, length, height, reach)
    agrees(found, give, rel=1e-4)
