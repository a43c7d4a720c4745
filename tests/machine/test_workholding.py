"""What holds the work: jaws at speed, rims and faceplates."""

import numpy as np
import pytest

from lathe_course.machine import workholding as w


def test_loss_of_grip_of_one_jaw():
    """0.3 kg at 50 mm and 2000 rpm: 658 N."""
    assert w.jaw_force_loss("0.3 kg", "50 mm", "2000 rpm").magnitude == pytest.approx(658, rel=1e-3)


def test_grip_is_never_less_than_nothing():
    assert w.grip_at_speed.si(1000.0, 3, 0.3, 0.05, np.array([0.0, 100.0, 1000.0])) == pytest.approx([1000, 550, 0])


def test_a_disc_without_a_hole_has_half_the_stress_of_one_with_a_pinhole():
    """(3 + ν) ρ ω² R² / 8 in the middle of a whole disc; a pinhole doubles it."""
    whole = (3 + 0.3) * 7850 * 100**2 * 0.06**2 / 8
    assert w.disc_bore_stress.si(7850.0, 0.3, 0.12, 1e-9, 100.0) == pytest.approx(2 * whole, rel=1e-6)


def test_published_disc():
    """Bore 30, outside 125 mm of steel at 3000 rpm: 2.52 N/mm²."""
    assert w.disc_bore_stress("7850 kg/m³", "0.292", "125 mm", "30 mm", "3000 rpm").magnitude == pytest.approx(2.5216, rel=1e-3)
