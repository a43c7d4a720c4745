"""Second programs for what holds the work: a turning disc and a turning ring solved as boundary value problems."""

import numpy as np
import pytest
from evidence import agrees, vouches
from later import Later

from lathe_course.machine import workholding as w

quad = Later("scipy.integrate", "quad")
solve_bvp = Later("scipy.integrate", "solve_bvp")


@vouches(
    "disc_bore_stress",
    evidence="second program",
    source="shigley, rotating rings; finite_elements, equilibrium of a turning disc solved numerically",
)
@pytest.mark.parametrize(("inner", "outer"), [(0.015, 0.0625), (0.010, 0.060), (0.040, 0.070)])
def test_stress_round_the_bore_of_a_turning_disc(inner, outer):
    """Hoop stress at the bore from the equation of equilibrium of a turning disc, solved by collocation."""
    density, poisson, speed = 7850.0, 0.292, 2 * np.pi * 50

    def slopes(r, state):  # radial displacement u over (1 - ν²) ρ ω² / E, and its slope
        return np.vstack([state[1], -state[1] / r + state[0] / r**2 - r])

    def free(at_bore, at_rim):
        return np.array([at_bore[1] + poisson * at_bore[0] / inner, at_rim[1] + poisson * at_rim[0] / outer])

    r = np.linspace(inner, outer, 41)
    found = solve_bvp(slopes, free, r, np.zeros((2, r.size)), tol=1e-8)
    u, du = found.sol(inner)
    agrees(
        w.disc_bore_stress.si(density, poisson, 2 * outer, 2 * inner, speed),
        density * speed**2 * (u / inner + poisson * du),
        rel=1e-4,
    )


@vouches(
    "rim_stress",
    "jaw_force_loss",
    "grip_at_speed",
    evidence="second program",
    source="definition, pull of a turning mass added up by quadrature",
)
def test_pull_of_half_a_ring_and_of_a_jaw():
    """Outward pull of half a ring added up over its angle, shared by two cross sections; a jaw as a bar added up along its radius."""
    density, radius, area, speed = 7200.0, 0.080, 1e-4, 250.0
    pull = quad(lambda angle: density * area * radius * radius * speed**2 * np.sin(angle), 0, np.pi)[0]
    agrees(w.rim_stress.si(density, 2 * radius, speed), pull / 2 / area, rel=1e-9)
    long, thick = (0.030, 0.070), 7.5
    mass = thick * (long[1] - long[0])
    bar = quad(lambda r: thick * r * speed**2, *long)[0]
    agrees(w.jaw_force_loss.si(mass, sum(long) / 2, speed), bar, rel=1e-9)
    agrees(w.grip_at_speed.si(10_000.0, 3, mass, sum(long) / 2, speed), 10_000 - 3 * bar, rel=1e-9)


@vouches("grip_torque", evidence="second program", source="definition, friction round the work added up by quadrature")
def test_torque_of_friction_all_round():
    """Torque of friction under an even pressure all round the work, added up over its surface."""
    radius, length, pressure, friction = 0.020, 0.015, 8e6, 0.15
    around = quad(lambda angle: friction * pressure * length * radius * radius, 0, 2 * np.pi)[0]
    agrees(w.grip_torque.si(friction, pressure * length * 2 * np.pi * radius, 2 * radius), around, rel=1e-9)
