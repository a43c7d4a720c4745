"""Second programs for bearings: Lundberg and Palmgren's theory and Hertz's contact by quadrature, cones fitted by coordinates."""

import numpy as np
import pytest
from evidence import agrees, vouches
from later import Later

from lathe_course.machine import bearings as b

quad = Later("scipy.integrate", "quad")
brentq = Later("scipy.optimize", "brentq")
ellipe = Later("scipy.special", "ellipe")
ellipk = Later("scipy.special", "ellipk")

MM = 1e-3
STEEL = 206e9 / (1 - 0.3**2)  # E / (1 - ν²) of the standards


def sum_over_ring(power: float) -> float:
    """Mean over the ring of cos(ψ)^power on its loaded half."""
    return quad(lambda angle: np.cos(angle) ** power, -np.pi / 2, np.pi / 2)[0] / (2 * np.pi)


def load_of_ring(contact: float, life: float, slope: float) -> float:
    """Load of the whole ring over the rating of one contact, without Z cos(α).

    Half of the ring is loaded, each element by cos(ψ)^contact.  A turning place meets all the
    loads in turn, so that their mean to the power of the life exponent counts (slope 1); of a
    ring that stands still every place must survive, and Weibull's slope raises that exponent.
    """
    power = life * slope
    return sum_over_ring(contact + 1) / sum_over_ring(contact * power) ** (1 / power)


@vouches(
    "ball_dynamic_rating",
    "ball_rating_factor",
    evidence="second program",
    source="lundberg_palmgren, contact ratings and load on the ring by quadrature",
    because="the theory is given with rounded factors",
)
@pytest.mark.parametrize(
    ("ball", "mean", "count", "angle"), [(8.2, 48.6, 11, 0.0), (5.0, 31.0, 9, 0.0), (12.7, 65.0, 9, 0.0), (7.9, 48.6, 15, 25.0)]
)
def test_rating_of_balls_from_the_theory_behind_it(ball, mean, count, angle):
    """Rating of four ball bearings from the theory of 1947: contact ratings of both rings, loads over the ring integrated."""
    cosine = np.cos(np.radians(angle))
    ratio = ball * cosine / mean
    # rating of one contact, newtons: Lundberg and Palmgren's 98.1 with grooves of 0.52 diameters
    one = 98.1 * 26**0.41 * ball**1.8 * count ** (-1 / 3) * (ratio / cosine) ** 0.3
    inner = one * (1 - ratio) ** 1.39 / (1 + ratio) ** (1 / 3) * count * cosine * load_of_ring(1.5, 3, 1)
    outer = one * (1 + ratio) ** 1.39 / (1 - ratio) ** (1 / 3) * count * cosine * load_of_ring(1.5, 3, 10 / 9)
    both = (inner ** (-10 / 3) + outer ** (-10 / 3)) ** (-3 / 10)
    factor = b.ball_rating_factor.si(ball * MM, mean * MM, np.radians(angle))
    ours = b.ball_dynamic_rating.si(factor, np.radians(angle), count, ball * MM)
    agrees(ours, 1.3 * 0.95 * both, rel=2e-3)


@vouches(
    "roller_dynamic_rating",
    "roller_rating_factor",
    evidence="second program",
    source="lundberg_palmgren, contact ratings and load on the ring by quadrature",
    because="the theory is given with rounded factors",
)
@pytest.mark.parametrize(
    ("roller", "length", "mean", "count", "angle"),
    [(7.0, 12.5, 48.5, 19, 13.0), (10.0, 9.6, 65.0, 14, 0.0), (5.0, 8.0, 31.0, 16, 15.0)],
)
def test_rating_of_rollers_from_the_theory_behind_it(roller, length, mean, count, angle):
    """Rating of three roller bearings from the theory of 1952: contact ratings of both rings, loads over the ring integrated."""
    cosine = np.cos(np.radians(angle))
    ratio = roller * cosine / mean
    one = 552 * roller ** (29 / 27) * length ** (7 / 9) * count**-0.25 * (ratio / cosine) ** (2 / 9)
    inner = one * (1 - ratio) ** (29 / 27) / (1 + ratio) ** 0.25 * count * cosine * load_of_ring(1.1, 4, 1)
    outer = one * (1 + ratio) ** (29 / 27) / (1 - ratio) ** 0.25 * count * cosine * load_of_ring(1.1, 4, 9 / 8)
    both = (inner**-4.5 + outer**-4.5) ** (-1 / 4.5)
    factor = b.roller_rating_factor.si(roller * MM, mean * MM, np.radians(angle))
    ours = b.roller_dynamic_rating.si(factor, np.radians(angle), count, roller * MM, length * MM)
    agrees(ours, 1.1 * 0.83 * both, rel=2e-3)


@vouches(
    "roller_static_rating",
    evidence="second program",
    source="johnson, line contact after Hertz",
    because="the standard rounds the pressure of 4000 N/mm² and the share of the fullest roller",
)
@pytest.mark.parametrize(
    ("roller", "length", "mean", "count", "angle"), [(7.0, 12.5, 48.5, 19, 13.0), (10.0, 9.6, 65.0, 14, 0.0)]
)
def test_static_rating_of_rollers_from_the_pressure_of_the_fullest(roller, length, mean, count, angle):
    """Load at which the fullest roller meets the inner ring with 4000 N/mm², a fifth of the load on one of Z rollers."""
    cosine = np.cos(np.radians(angle))
    r_in = (mean / cosine - roller) / 2 * MM
    curvature = 1 / (roller / 2 * MM) + 1 / r_in
    one = np.pi * 4000e6**2 * length * MM / (STEEL / 2) / curvature
    agrees(
        b.roller_static_rating.si(roller * MM, mean * MM, np.radians(angle), count, length * MM),
        one * count * cosine / 5,
        rel=0.015,
    )


def hertz_point(first: float, second: float, pressure: float) -> float:
    """Load that presses two steel bodies to a peak pressure; sums of curvature 1/m in the two planes, larger first."""

    def excess(k):  # k: long over short half axis of the ellipse
        m = 1 - 1 / k**2
        k_whole, e_whole = ellipk(m), ellipe(m)
        return (k**2 * e_whole - k_whole) / (k_whole - e_whole) - first / second

    k = brentq(excess, 1 + 1e-9, 1e4)
    e_whole = ellipe(1 - 1 / k**2)
    modulus = STEEL / 2

    # b from the sum of curvatures; then load by the peak pressure over the ellipse
    def load_excess(load):
        short = (3 * load * e_whole / (np.pi * k * modulus * (first + second) / 2) / 2) ** (1 / 3)
        return 1.5 * load / (np.pi * short**2 * k) - pressure

    return brentq(load_excess, 1e-3, 1e7)


@vouches(
    "ball_static_rating",
    evidence="second program",
    source="johnson, elliptical contact after Hertz",
    because="the table is given to three figures, and read between two places",
)
@pytest.mark.parametrize("ratio", [0.05, 0.10, 0.15, 0.20, 0.25])
def test_static_rating_of_balls_from_the_pressure_of_the_fullest(ratio):
    """Load at which the fullest ball meets either ring with 4200 N/mm², a fifth of the load on one of Z balls."""
    ball, count = 8 * MM, 11
    mean = ball / ratio
    groove = -1 / (0.52 * ball)
    inner = hertz_point(2 / ball + 2 / (mean - ball), 2 / ball + groove, 4200e6)
    # the outer ring's groove is a little wider
    outer = hertz_point(2 / ball - 2 / (mean + ball), 2 / ball - 1 / (0.53 * ball), 4200e6)
    agrees(b.ball_static_rating.si(ball, mean, 0.0, count), min(inner, outer) * count / 5, rel=0.015)


@vouches(
    "front_thrust",
    evidence="second program",
    source="harris, load over a half-loaded ring by quadrature",
    because="the standard rounds; ball bearings only at 25 degrees, for the standard allows for an angle that moves under load: a tenth either way at 20 and 35",
)
@pytest.mark.parametrize(("contact", "angle", "power"), [("roller", 13.0, 1.1), ("roller", 25.0, 1.1), ("ball", 25.0, 1.5)])
def test_a_slanted_bearing_pushes_along_its_axis(contact, angle, power):
    """Push of a slanted bearing with half its ring loaded, from the forces of balls or rollers added over the ring."""
    tangent = np.tan(np.radians(angle))
    push = tangent * sum_over_ring(power) / sum_over_ring(power + 1)
    _, thrust_factor, *_ = b.thrust_factors(contact, np.radians(angle))
    agrees(b.front_thrust.si(1000.0, 0.0, thrust_factor, 0.0, 0.0), 1000 * push, rel=0.06)


@vouches(
    "warm_play_change", evidence="second program", source="own_work, cones put together by their coordinates, cold and grown"
)
@pytest.mark.parametrize(
    ("sense", "span", "mean", "angle"),
    [(1, 110.0, 48.6, 13.0), (-1, 110.0, 48.6, 13.0), (1, 300.0, 40.0, 15.0), (1, 95.0, 30.0, 25.0)],
)
def test_play_of_two_cones_grown_against_each_other(sense, span, mean, angle):
    """End play of two cones in two cups, each told by points on its flank, before and after the spindle is stretched all ways."""
    tangent, growth = np.tan(np.radians(angle)), 10.8e-6 * 12

    def seat(point, lean, cup_x):
        """Where along the axis a cone's point meets a cup flank r = mean/2 + lean (x - cup_x) tan(angle)."""
        x, r = point
        return cup_x + (r - mean / 2) / tangent * lean - x

    def play(grown):
        # the flank of the front cup opens towards the nose (+1) back to back, towards the rear face to face
        front, rear = (sense, -sense)
        stretched = 1 + grown
        shift_front = seat((span * stretched, mean / 2 * stretched), front, span)
        shift_rear = seat((0.0, mean / 2 * stretched), rear, 0.0)
        return (shift_rear - shift_front) * front

    found = play(growth) - play(0.0)
    ours = b.warm_play_change.si(10.8e-6, 12.0, sense, span * MM, mean * MM, np.radians(angle))
    agrees(ours, found * MM, rel=1e-9)


# --- rollers pressed into their tracks, one by one ------------------------------------------------------
def one_roller(approach: float, length: float) -> float:
    """Newtons for the approach (mm) of a roller's two tracks: 3.84e-5 Q^0.9 / l^0.8 at each of the two contacts, solved for Q."""
    if approach <= 0:
        return 0.0
    return brentq(lambda load: 2 * 3.84e-5 * load**0.9 / length**0.8 - approach, 0.0, 1e7)


def cone(along: float, across: float, count: int, length: float, angle: float) -> tuple[float, float]:
    """Push along and across the axis, N, when the cone is moved by so many mm; each roller's force square to its track, added up."""
    lean, places = np.radians(angle), (np.arange(count) + 0.5) * 2 * np.pi / count
    loads = [one_roller(along * np.sin(lean) + across * np.cos(place) * np.cos(lean), length) for place in places]
    return sum(loads) * np.sin(lean), float(np.dot(loads, np.cos(places))) * np.cos(lean)


@vouches("squeeze_load", evidence="second program", source="palmgren, contact of one roller solved, forces of all rollers added")
@pytest.mark.parametrize(("micrometres", "count", "length", "angle"), [(3.0, 19, 12.6, 13.0), (10.0, 17, 18.0, 16.0)])
def test_the_push_that_presses_a_cone_into_its_cup(micrometres, count, length, angle):
    agrees(
        b.squeeze_load.si(micrometres * 1e-6, count, length * MM, np.radians(angle)),
        cone(micrometres * 1e-3, 0.0, count, length, angle)[0],
        rel=1e-6,
    )


@vouches(
    "preloaded_stiffness",
    evidence="second program",
    source="palmgren, contact of one roller solved, forces of all rollers added",
    because="the slope is taken between two small movements",
)
@pytest.mark.parametrize(("micrometres", "count", "length", "angle"), [(3.0, 19, 12.6, 13.0), (10.0, 17, 18.0, 16.0)])
def test_a_squeezed_cone_moved_across(micrometres, count, length, angle):
    step = micrometres * 1e-3 * 1e-3
    slope = (
        (cone(micrometres * 1e-3, step, count, length, angle)[1] - cone(micrometres * 1e-3, -step, count, length, angle)[1])
        / (2 * step)
        * 1e3
    )
    preload = cone(micrometres * 1e-3, 0.0, count, length, angle)[0]
    agrees(b.preloaded_stiffness.si(preload, count, length * MM, np.radians(angle)), slope, rel=1e-4)


@vouches(
    "loaded_stiffness",
    evidence="second program",
    source="palmgren, contact of one roller solved, forces of all rollers added",
    because="the book's 4.08 is for a ring of very many rollers",
)
@pytest.mark.parametrize("load", [200.0, 900.0])
def test_a_cone_that_nothing_squeezes_under_a_cross_load(load):
    count, length, angle = 19, 12.6, 13.0
    moved = brentq(lambda across: cone(0.0, across, count, length, angle)[1] - load, 1e-6, 1.0)
    slope = (
        (cone(0.0, moved * 1.001, count, length, angle)[1] - cone(0.0, moved * 0.999, count, length, angle)[1])
        / (0.002 * moved)
        * 1e3
    )
    agrees(b.loaded_stiffness.si(load, 4.08, count, length * MM, np.radians(angle)), slope, rel=0.01)
