"""Second programs for what give leaves on the work: points turned, circles measured, cuts followed turn by turn."""

import numpy as np
import pytest
from evidence import agrees, vouches
from later import Later

from lathe_course.machine import errors as e

brentq = Later("scipy.optimize", "brentq")


@vouches(
    "roll_error",
    "diameter_error",
    "size_error",
    evidence="second program",
    source="definition, points turned and circles measured",
    because="the sums hold for small angles",
)
def test_a_rolled_saddle_turns_the_work_too_large():
    """The tool tip, a centre height above the slideways, is turned about them; the circle it cuts is measured point by point."""
    radius, height, roll = 0.010, 0.075, 0.02e-3
    tip = complex(radius, height) - 0j
    shifted = (tip * np.exp(-1j * roll)).real - radius
    agrees(e.roll_error.si(height, roll), shifted, rel=1e-4)
    spindle_turn = np.exp(1j * np.linspace(0, 2 * np.pi, 721))
    surface = (radius + shifted) * spindle_turn
    across = np.ptp(surface.real)
    agrees(e.diameter_error.si(shifted), across - 2 * radius, rel=1e-6)
    agrees(e.size_error.si(100.0, shifted / 100.0), across - 2 * radius, rel=1e-6)


@vouches("height_error", evidence="second program", source="definition, points turned and circles measured")
@pytest.mark.parametrize("height", [0.02e-3, 1e-3, 3e-3])
def test_a_tool_off_the_centre_turns_the_work_too_large(height):
    """The tip stands above the centre at the level distance the dial says; the circle through it is measured across."""
    diameter = 0.018
    tip = complex(diameter / 2, height)
    circle = tip * np.exp(1j * np.linspace(0, 2 * np.pi, 100_001))
    agrees(e.height_error.si(height, diameter), np.ptp(circle.real) - diameter, rel=1e-6, abs=1e-11)


@vouches("directional_give", evidence="second program", source="finite_elements, two springs at right angles solved as a system")
@pytest.mark.parametrize("angle", [-60.0, 0.0, 30.0, 68.0, 90.0])
def test_a_push_between_level_and_upright(angle):
    sideways, upright, turn = 140e-9, 60e-9, np.radians(angle)
    push = np.array([np.cos(turn), np.sin(turn)])
    moved = np.linalg.solve(np.diag([1 / sideways, 1 / upright]), push)
    agrees(e.directional_give.si(sideways, upright, turn), moved @ push, rel=1e-12)


@vouches("copying_factor", evidence="second program", source="definition, depth and deflection brought to rest round the work")
@pytest.mark.parametrize(("give", "slope"), [(220e-9, 1.0e5), (900e-9, 4.0e5)])
def test_stock_that_runs_out_leaves_its_shape_in_small(give, slope):
    """At each angle the depth left by the deflection makes the force that makes the deflection; a second pass starts from the first."""
    angles, depth = np.linspace(0, 2 * np.pi, 13), 0.5e-3

    def turned(stock):
        def rest(radius):
            return radius - give * slope * (stock_here - radius)  # dial at zero: the surface is what the tool gave way

        surface = []
        for stock_here in stock:
            surface.append(brentq(rest, 0, 2e-3))
        return np.array(surface)

    stock = depth + 0.2e-3 * np.cos(angles)
    once = turned(stock)
    agrees(e.copying_factor.si(give, slope), np.ptp(once) / np.ptp(stock), rel=1e-7)
    twice = turned(once - once.mean() + depth)
    agrees(e.copying_factor.si(give, slope) ** 2, np.ptp(twice) / np.ptp(stock), rel=1e-6)


@vouches(
    "uneven_give_error", evidence="second program", source="definition, a holding of two stiffnesses turned under a steady force"
)
def test_a_chuck_that_gives_more_one_way_turns_oval():
    soft, stiff, force = 14e-9, 10e-9, 30.0
    angles = np.linspace(0, 2 * np.pi, 721)
    towards = np.stack([np.cos(angles), np.sin(angles)])  # the push, seen by somebody riding on the work
    moved = np.einsum("ij,jk,ik->k", np.diag([soft, stiff]), towards, np.eye(2)[:, :, None].sum(1) * towards) * force
    agrees(e.uneven_give_error.si(force, (soft + stiff) / 2, (soft - stiff) / ((soft + stiff) / 2)), np.ptp(moved), rel=1e-6)


def test_what_gives_unevenly_but_does_not_turn_leaves_the_work_round():
    """The same two springs in the bed instead: every point of the work meets the same give."""
    angles = np.linspace(0, 2 * np.pi, 37)
    push = np.array([1.0, 0.0])  # the tool stands still, and so do the springs
    radius = [9e-3 + push @ np.diag([14e-9, 10e-9]) @ push * 30.0 for _ in angles]
    assert np.ptp(radius) == 0
