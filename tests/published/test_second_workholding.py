"""Second programs for what holds the work: a turning disc and a turning ring solved as boundary value problems."""

import numpy as np
import pytest
from evidence import agrees, vouches
from later import Later

from lathe_course.design.lathe import LATHE
from lathe_course.machine import workholding as w

quad = Later("scipy.integrate", "quad")
solve_bvp = Later("scipy.integrate", "solve_bvp")
solve_ivp = Later("scipy.integrate", "solve_ivp")


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


@vouches(
    "carried_torque",
    evidence="second program",
    source="definition, two discs on a stiff springy joint, their motion worked out step by step",
    because="what is left of the joint's own ringing",
)
def test_torque_in_the_joint_of_a_chuck_that_is_braked():
    """A chuck on a stiff, damped joint, braked from 1000 rev/min through the spindle: twist of the joint times its stiffness, once the ringing has died away."""
    chuck, rest, brake, stiff, rub = 0.0083, 0.0031, 4.0, 5e4, 12.0

    def motion(_, state):
        twist, own, other = state
        joint = stiff * twist + rub * (own - other)
        return own - other, -joint / chuck, (joint - brake) / rest

    found = solve_ivp(motion, (0, 0.2), (0.0, 104.7, 104.7), method="Radau", rtol=1e-9, atol=1e-12)
    twist, own, other = found.y[:, -1]
    assert own > 0, "still turning"
    agrees(w.carried_torque.si(brake, chuck, rest), stiff * twist + rub * (own - other), rel=1e-4)


def test_a_chuck_screwed_home_lets_go_below_what_tightened_it():
    """Forces on one turn of a 60 degree thread unrolled, and on its shoulder, added up without the formulas of a screw.

    Across the flank the normal force leans by 30 degrees; along the slope friction turns round between tightening and letting go.
    """
    d, pitch, friction = 0.040, 0.004, 0.15
    mean = d - 0.6495 * pitch
    slope = np.arctan(pitch / (np.pi * mean))
    # unit vectors along the axis and round it; the normal of the flank square to slope and flank together
    square = np.array([1.0, -np.tan(slope), np.tan(np.radians(30))])
    square /= np.linalg.norm(square)

    def torque(way):
        along = way * np.array([-np.sin(slope), -np.cos(slope), 0.0])
        force = square + friction * along  # on the chuck's thread for a normal force of one
        return abs(force[1]) / force[0] * mean / 2 + friction * 0.6 * d

    held = LATHE.results["nose_hold"].body(
        nose_kind="thread",
        nose_tightening=1.0,
        nose_friction=friction,
        spindle_diameter=d,
        bolt_proof=580e6,
        bolt_share=0.6,
        spindle_taper="MT3",
    )
    assert held == pytest.approx(torque(-1) / torque(1), rel=0.005)
