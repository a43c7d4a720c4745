"""The critical speed with figures that do not fit, and with arrays."""

import numpy as np
import pytest

from lathe_course.machine import rotor
from lathe_course.units import InputProblem

SPINDLE = {
    "overhang": 0.045,
    "span": 0.110,
    "pulley_overhang": 0.025,
    "diameter": 0.035,
    "bore": 0.019,
    "elastic_modulus": 207e9,
    "shear_modulus": 79.3e9,
    "density": 7850.0,
    "front_stiffness": 250e6,
    "rear_stiffness": 250e6,
    "chuck_mass": 3.0,
    "chuck_length": 0.06,
    "chuck_diameter": 0.1,
    "pulley_mass": 0.6,
}


def test_a_bore_wider_than_the_spindle_is_refused_and_spoils_only_its_own_draw():
    found = rotor.critical_speed.si(**(SPINDLE | {"bore": np.array([0.019, 0.036])}))
    assert np.isfinite(found[0]) and np.isnan(found[1])
    texts = {
        "overhang": "45 mm",
        "span": "110 mm",
        "pulley_overhang": "25 mm",
        "diameter": "35 mm",
        "bore": "36 mm",
        "elastic_modulus": "207 GPa",
        "shear_modulus": "79.3 GPa",
        "density": "7850 kg/m³",
        "front_stiffness": "250 N/µm",
        "rear_stiffness": "250 N/µm",
        "chuck_mass": "3 kg",
        "chuck_length": "60 mm",
        "chuck_diameter": "100 mm",
        "pulley_mass": "0.6 kg",
    }
    with pytest.raises(InputProblem, match="The bore must be smaller than the diameter of the spindle"):
        rotor.critical_speed(**texts)


def test_a_heavy_chuck_on_soft_bearings_is_a_mass_on_a_spring():
    """With bearings far softer than the shaft and a mass far heavier, ω is that of one mass on the lever of two springs."""
    k, m = 1e6, 100.0
    found = rotor.critical_speed.si(
        **(
            SPINDLE
            | {
                "front_stiffness": k,
                "rear_stiffness": k,
                "chuck_mass": m,
                "chuck_length": 0.0,
                "chuck_diameter": 0.0,
                "pulley_mass": 0.0,
            }
        )
    )
    lever = 0.045 / 0.110
    give = (1 + lever) ** 2 / k + lever**2 / k
    assert found == pytest.approx(1 / np.sqrt(m * give), rel=0.02)


def test_a_disc_turning_with_the_shaft_stiffens_it():
    """The gyroscopic effect of a wide thin chuck raises the forward critical speed."""
    thin = SPINDLE | {"chuck_length": 0.02}
    assert rotor.critical_speed.si(**(thin | {"chuck_diameter": 0.2})) > rotor.critical_speed.si(
        **(thin | {"chuck_diameter": 0.02})
    )


def test_the_order_of_magnitude_of_a_small_lathe():
    """Some 27 000 a minute: far above anything the boat shed will run."""
    assert 20_000 < rotor.critical_speed.si(**SPINDLE) * 60 / (2 * np.pi) < 35_000
