"""Corners and benches against programs that go about it another way."""

import numpy as np
import pytest
from evidence import agrees, vouches
from later import Later

from lathe_course.planning import place, progress

FEModel3D = Later("Pynite", "FEModel3D")


def fits_round(a: float, b: float, length: float, width: float) -> bool:
    """Is there a place for a stiff piece at every angle?  Its long side is kept against the two outer walls, and the
    inner corner at (a, b) must stay outside of it: the piece is walked round in small steps."""
    for angle in np.linspace(0.002, np.pi / 2 - 0.002, 1500):
        foot, head = np.array([length * np.cos(angle), 0.0]), np.array([0.0, length * np.sin(angle)])
        along = (head - foot) / length
        inward = np.array([along[1], -along[0]])
        inward = inward if inward @ (np.array([a, b]) - foot) >= 0 or inward @ np.array([1.0, 1.0]) > 0 else -inward
        if inward @ (np.array([a, b]) - foot) < width:
            return False
    return True


@vouches(
    "corner_length",
    evidence="second program",
    source="definition, a piece walked round the corner step by step",
    because="the walk goes in steps, and so does the search",
)
@pytest.mark.parametrize("a, b, width", [(0.8, 0.9, 0.3), (1.0, 1.4, 0.45), (0.75, 0.75, 0.1)])
def test_a_piece_walked_round_a_corner_in_small_steps(a, b, width):
    """The longest piece that can be walked round without touching the inner corner."""
    low, high = 0.0, 10.0
    while high - low > 1e-4:
        middle = (low + high) / 2
        low, high = (middle, high) if fits_round(a, b, middle, width) else (low, middle)
    agrees(place.corner_length.si(a, b, width), low, rel=1e-3)


@vouches("bench_sag", "bench_stress", evidence="second program", source="finite_elements, PyNite, a beam on two supports")
def test_a_bench_of_two_bearers_under_a_lathe():
    """40 kg of lathe and 15 kg of work at the middle of two softwood bearers, as a frame."""
    span, width, height, modulus, force = 1.2, 0.044, 0.094, 9e9, 540.0
    frame = FEModel3D()
    frame.add_material("wood", modulus / 1e6, 600.0, 0.3, 0.0)
    frame.add_section("bearer", width * height * 1e6, height * width**3 / 12 * 1e12, width * height**3 / 12 * 1e12, 1e6)
    for name, x in (("left", 0), ("middle", 600), ("right", 1200)):
        frame.add_node(name, x, 0, 0)
    frame.add_member("one", "left", "middle", "wood", "bearer")
    frame.add_member("two", "middle", "right", "wood", "bearer")
    frame.def_support("left", True, True, True, True, False, False)
    frame.def_support("right", False, True, True, False, False, False)
    frame.add_node_load("middle", "FY", -force / 2)
    frame.analyze_linear()
    agrees(place.bench_sag.si(force, span, width, height, modulus, 2), -frame.nodes["middle"].DY["Combo 1"] / 1e3, rel=1e-6)
    moment = max(abs(frame.members["one"].max_moment("Mz")), abs(frame.members["one"].min_moment("Mz"))) / 1e3
    agrees(place.bench_stress.si(force, span, width, height, 2), moment * height / 2 / (width * height**3 / 12), rel=1e-6)


@vouches(
    "eased_index",
    "months_left",
    evidence="second program",
    source="definition, a diary run through day by day",
    because="steps of a thousandth of a month",
)
def test_a_diary_in_which_experience_counts_as_sixty_hours_worked():
    """Sixty hours at four fifths are put before the diary, and the work goes on at the rate found."""
    hours, value = [60.0], [48.0]
    for day_hours, day_value in ((30.0, 20.0), (45.0, 40.0), (25.0, 12.0)):
        hours.append(day_hours)
        value.append(day_value)
    found = progress.eased_index.si(72.0, 100.0, 0.8, 60.0)
    agrees(found, sum(value) / sum(hours), rel=1e-12)
    left, months, step = 400.0 - 72.0, 0.0, 1e-3
    while left > 0:
        left -= found * 22.0 * step
        months += step
    agrees(progress.months_left.si(400.0, 72.0, found, 22.0), months, rel=1e-4)
