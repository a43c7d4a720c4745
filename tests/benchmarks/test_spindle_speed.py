"""The spindle's own beam against a general rotor-dynamics library: the same deflection and critical speed, in one run."""

import dataclasses
import sys
from pathlib import Path

import numpy as np
import pytest
from clock import best, told

from lathe_course.machine import rotor, spindle

sys.path.append(str(Path(__file__).parents[1] / "published"))
import ross_spindle

pytestmark = pytest.mark.benchmark

ONE = ross_spindle.SPINDLES[1]
SHAPE = ONE.overhang, ONE.span, ONE.reach, ONE.diameter, ONE.bore
ELASTIC = ross_spindle.STEEL["elastic_modulus"], ross_spindle.STEEL["shear_modulus"]
GIVEN = {name: value for name, value in dataclasses.asdict(ONE).items() if name != "reach"} | ross_spindle.STEEL
DRAWS = 1000


def ours() -> tuple[float, float]:
    give = spindle.shaft_compliance.si(*SHAPE, *ELASTIC) + spindle.bearing_compliance.si(
        *SHAPE[:3], ONE.front_stiffness, ONE.rear_stiffness
    )
    return float(give), float(rotor.critical_speed.si(**GIVEN))


def theirs() -> tuple[float, float]:
    return ross_spindle.bent(ONE)[0], ross_spindle.whirl(ONE)


def test_the_second_program_says_the_same():
    assert ours() == pytest.approx(theirs(), rel=5e-3)


def test_deflection_and_critical_speed_are_fast_enough_for_a_slider(capsys):
    """One spindle at least a hundred times as fast as the library."""
    mine, other = best(ours, theirs, rounds=5)
    told(
        capsys,
        f"deflection and critical speed: {1e6 * mine:.0f} µs, the rotor-dynamics library {1e3 * other:.0f} ms: {other / mine:.0f} times as fast",
    )
    assert other >= 100 * mine


def test_a_thousand_draws_cost_at_most_a_quarter_of_a_thousand_spindles(capsys):
    """Put together in one pass, not in a loop."""
    many = GIVEN | {"diameter": np.linspace(0.9, 1.1, DRAWS) * ONE.diameter}
    single, together = best(lambda: rotor.critical_speed.si(**GIVEN), lambda: rotor.critical_speed.si(**many), rounds=5)
    told(capsys, f"{DRAWS} critical speeds in one pass: {together / single:.0f} times one of them ({1e3 * together:.1f} ms)")
    assert together <= DRAWS / 4 * single
