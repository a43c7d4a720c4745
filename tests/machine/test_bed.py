"""The line a bed sags in belongs to the sags that are worked out."""

import numpy as np
import pytest

from lathe_course.machine import bed, supports

E, I = 207e9, 5e-7


@pytest.mark.parametrize("share", [0.3, 0.5537, 0.8, 1.0])
def test_sag_line_meets_middle_ends_feet_and_slope(share):
    x = np.array([0.0, (1 - share) / 2, 0.5, (1 + share) / 2, 1.0])
    end, foot, middle, other_foot, other_end = bed.sag_line(x, 1.0, share, E * I, 100.0)
    assert foot == pytest.approx(0, abs=1e-15) and other_foot == pytest.approx(0, abs=1e-15)
    assert middle == pytest.approx(bed.mid_sag.si(100.0, 1.0, share, E, I))
    assert end == pytest.approx(bed.end_sag.si(100.0, 1.0, share, E, I), abs=1e-15) and other_end == pytest.approx(end, abs=1e-15)
    near = bed.sag_line(np.array([0.0, 1e-6]), 1.0, share, E * I, 100.0)
    assert (near[1] - near[0]) / 1e-6 == pytest.approx(supports.end_slope.si(100.0, 1.0, share, E, I), rel=1e-4)
