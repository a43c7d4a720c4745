"""What the spindle formulas do with figures that do not fit, and with arrays."""

import numpy as np
import pytest

from lathe_course.machine import spindle as s
from lathe_course.units import InputProblem

STEEL = {"elastic_modulus": "207 GPa", "shear_modulus": "79.3 GPa"}


def test_a_bore_wider_than_the_spindle_is_refused_in_words():
    with pytest.raises(InputProblem, match="The bore must be smaller than the diameter of the spindle"):
        s.shaft_compliance(overhang="45 mm", span="110 mm", reach="0 mm", diameter="20 mm", bore="35 mm", **STEEL)


def test_a_bore_wider_than_the_spindle_spoils_only_its_own_draw():
    give = s.shaft_compliance.si(0.045, 0.11, 0.0, 0.035, np.array([0.02, 0.036]), 207e9, 79.3e9)
    assert np.isfinite(give[0]) and np.isnan(give[1])


def test_best_span_is_smooth_where_the_closed_form_changes():
    """From soft bearings to stiff ones the root passes from the hyperbolic to the plain cosine."""
    stiffness = np.geomspace(1e6, 1e11, 400)
    spans = s.best_span.si(0.045, 0.035, 0.020, stiffness, stiffness, 207e9)
    steps = np.diff(np.log(spans)) / np.diff(np.log(stiffness))
    assert np.all(np.diff(spans) < 0) and np.all(np.abs(np.diff(steps)) < 0.01)
    moment = np.pi * (0.035**4 - 0.020**4) / 64
    ei = 6 * 207e9 * moment
    assert np.allclose(spans**3, ei / (0.045 * stiffness) * spans + ei * 2 / stiffness, rtol=1e-9)


def test_a_long_reach_keeps_its_figures():
    """(a + c)³ - c³ loses everything when the overhang is a ten-thousandth of the reach, unless it is written out."""
    a, c = 1e-5, 1e3
    exact = 3 * a * c**2 + 3 * a**2 * c + a**3
    arm = (a + c) ** 2 * 1e-12
    got = s.shaft_bending_compliance.si(a, 1e-12, c, 0.035, 0.0, 207e9) * 3 * 207e9 * np.pi * 0.035**4 / 64
    assert got == pytest.approx(exact + arm, rel=1e-12)


def test_shear_tells_a_quarter_on_a_stout_spindle():
    shape = 0.045, 0.110, 0.0, 0.035, 0.020, 207e9
    share = s.shaft_shear_compliance.si(*shape, 79.3e9) / s.shaft_bending_compliance.si(*shape)
    assert 0.2 < share < 0.3


# --- the bent line ------------------------------------------------------------------------------------
SHAFT = {"overhang": 0.045, "span": 0.110, "reach": 0.060, "diameter": 0.035, "bore": 0.019}
IN_SI = {"elastic_modulus": 207e9, "shear_modulus": 79.3e9}
SPRINGS = {"front_stiffness": 250e6, "rear_stiffness": 200e6}


def test_the_bent_line_ends_where_the_compliances_say():
    cut, nose = (np.array([SHAFT["span"] + SHAFT["overhang"] + reach]) for reach in (SHAFT["reach"], 0.0))
    place = {name: SHAFT[name] for name in ("overhang", "span", "reach")}
    give = s.shaft_compliance.si(**SHAFT, **IN_SI) + s.bearing_compliance.si(**place, **SPRINGS)
    assert s.bent_line(cut, 300.0, **SHAFT, **SPRINGS, **IN_SI)[0] == pytest.approx(300 * give, rel=1e-12)
    at_nose = {**SHAFT, "reach": 0.0}
    give = s.shaft_compliance.si(**at_nose, **IN_SI) + s.bearing_compliance.si(
        at_nose["overhang"], at_nose["span"], 0.0, **SPRINGS
    )
    assert s.bent_line(nose, 300.0, **at_nose, **SPRINGS, **IN_SI)[0] == pytest.approx(300 * give, rel=1e-12)


def test_the_bent_line_rests_on_the_bearings_and_runs_straight_beyond_the_nose():
    arm = (SHAFT["overhang"] + SHAFT["reach"]) / SHAFT["span"]
    rear, front = s.bent_line(np.array([0.0, SHAFT["span"]]), 300.0, **SHAFT, **SPRINGS, **IN_SI)
    assert rear == pytest.approx(-300 * arm / 200e6) and front == pytest.approx(300 * (1 + arm) / 250e6)
    beyond = s.bent_line(SHAFT["span"] + SHAFT["overhang"] + np.array([0.0, 0.02, 0.04]), 300.0, **SHAFT, **SPRINGS, **IN_SI)
    assert beyond[2] - beyond[1] == pytest.approx(beyond[1] - beyond[0], rel=1e-9)
