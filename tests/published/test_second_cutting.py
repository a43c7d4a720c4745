"""Second programs for cutting speeds, forces and finish: quadrature, root finding, geometry, time integration."""

import numpy as np
import pytest
from evidence import agrees, vouches
from later import Later

from lathe_course.machine import cutting_speeds, finish, forces
from lathe_course.units import InputProblem, registry

quad = Later("scipy.integrate", "quad")
solve_ivp = Later("scipy.integrate", "solve_ivp")
brentq = Later("scipy.optimize", "brentq")
LineString = Later("shapely", "LineString")
Point = Later("shapely", "Point")
Polygon = Later("shapely", "Polygon")
affinity = Later("shapely.affinity")

MM, MIN = 1e-3, 60.0


@vouches("facing_time", evidence="second program", source="definition, quadrature of dr over feed rate")
@pytest.mark.parametrize(("outer", "inner", "feed", "speed"), [(100, 20, 0.1, 60), (60, 0, 0.05, 25), (120, 118, 0.3, 200)])
def test_facing_time_is_the_sum_of_its_rings(outer, inner, feed, speed):
    v, f = speed / MIN, feed * MM
    seconds, _ = quad(lambda r: 1 / (f * v / (2 * np.pi * r)), inner / 2 * MM, outer / 2 * MM)
    agrees(cutting_speeds.facing_time.si(outer * MM, inner * MM, f, v), seconds, rel=1e-9)


@vouches(
    "feed_rate",
    "turning_time",
    "screw_travel_speed",
    evidence="second program",
    source="definition, time integration of the turning spindle",
    because="event location of the integrator",
)
def test_carriage_driven_turn_by_turn():
    """A spindle run up to 400 rpm carries the tool along by one feed a turn."""
    omega, lead, length = 400 * 2 * np.pi / 60, 0.15 * MM, 90 * MM

    def turning(t, state):
        return omega, omega * lead / (2 * np.pi)

    def arrived(t, state):
        return state[1] - length

    arrived.terminal = True
    run = solve_ivp(turning, (0, 1e4), (0, 0), events=arrived, rtol=1e-10)
    seconds, (turns, _) = run.t_events[0][0], run.y_events[0][0] / (2 * np.pi)
    agrees(turns, length / lead, rel=1e-8)
    agrees(cutting_speeds.turning_time.si(length, lead, omega, 1), seconds, rel=1e-8)
    agrees(cutting_speeds.feed_rate.si(lead, omega), length / seconds, rel=1e-8)
    agrees(cutting_speeds.screw_travel_speed.si(lead, omega), length / seconds, rel=1e-8)


@vouches("removal_rate", evidence="second program", source="definition, volume of the ring by quadrature")
def test_removed_ring_has_the_volume_of_rate_times_time():
    """The ring between two diameters, cut at the mean diameter's speed, fills the time of the cut."""
    outer, depth, feed, omega, length = 40 * MM, 2 * MM, 0.12 * MM, 45.0, 80 * MM
    volume, _ = quad(lambda r: 2 * np.pi * r * length, outer / 2 - depth, outer / 2)
    speed = cutting_speeds.surface_speed.si(omega, outer - depth)
    seconds = cutting_speeds.turning_time.si(length, feed, omega, 1)
    agrees(cutting_speeds.removal_rate.si(speed, feed, depth) * seconds, volume, rel=1e-9)


@vouches("step_ratio", "steps_needed", evidence="second program", source="definition, root of the repeated product")
@pytest.mark.parametrize(("slowest", "fastest", "steps"), [(31.5, 1400, 12), (60, 2500, 6), (200, 4000, 2)])
def test_ratio_that_climbs_the_range_step_by_step(slowest, fastest, steps):
    def missed(ratio):
        speed = slowest
        for _ in range(steps - 1):
            speed *= ratio
        return speed - fastest

    ratio = brentq(missed, 1.0001, 1e3)
    agrees(cutting_speeds.step_ratio.si(slowest, fastest, steps), ratio, rel=1e-6)
    agrees(cutting_speeds.steps_needed.si(slowest, fastest, ratio), steps, rel=1e-6)


@vouches("speed_loss", evidence="second program", source="definition, worst of many wished speeds")
def test_worst_loss_between_two_steps():
    ratio = 1.41
    steps = 100 * ratio ** np.arange(6)
    wished = np.linspace(100, steps[-1] * (1 - 1e-9), 400_001)
    used = steps[np.searchsorted(steps, wished, side="right") - 1]
    agrees(cutting_speeds.speed_loss.si(ratio), np.max(1 - used / wished), abs=1e-5)


@vouches("chip_thickness", "chip_width", evidence="second program", source="iso_3002, undeformed chip, drawn and measured")
@pytest.mark.parametrize("angle", [30, 45, 75, 90, 95])
def test_chip_drawn_as_the_strip_between_two_turns(angle):
    """The strip a straight edge sweeps in one turn, measured along and across the edge."""
    feed, depth, kappa = 0.2, 1.5, np.radians(angle)
    edge = LineString([(0, 0), (depth / np.tan(kappa), depth)])
    after = affinity.translate(edge, xoff=feed)
    strip = Polygon([*edge.coords, *reversed(after.coords)])
    agrees(forces.chip_width.si(depth, kappa), edge.length, rel=1e-9)
    agrees(forces.chip_thickness.si(feed, kappa), strip.area / edge.length, rel=1e-9)
    agrees(strip.area, feed * depth, rel=1e-9)


def drawn_edge(depth, nose, kappa, points=20_001):
    """Edge with its nose from the deepest point upwards, drawn as the higher of an arc and a line that touches it; pairs (along, up)."""
    touch = nose * np.array([np.sin(kappa), 1 - np.cos(kappa)])
    up = np.unique(np.append(np.linspace(0, depth, points), min(touch[1], depth)))
    on_arc = np.sqrt(np.maximum(nose**2 - (nose - np.minimum(up, touch[1])) ** 2, 0))
    on_line = touch[0] + (up - touch[1]) / np.tan(kappa)
    return np.column_stack([np.where(up <= touch[1], on_arc, on_line), up])


DRAWN = [(0.5, 0.4, 90), (0.1, 0.4, 90), (0.1, 3.0, 90), (1.0, 0.4, 45), (0.8, 0.4, 75), (0.05, 0.8, 60), (2.0, 0.2, 90)]


@vouches(
    "effective_entering_angle",
    evidence="second program",
    source="meriam, pushes of the small straight pieces of a drawn edge added as vectors",
    because="the bottom of the nose is drawn in steps",
)
@pytest.mark.parametrize(("depth", "nose", "angle"), DRAWN)
def test_pushes_of_the_small_pieces_of_an_edge_add_up(depth, nose, angle):
    """Each piece is pushed square to itself in proportion to its length, 60 N for a cutting force of 100 N in all."""
    pieces = np.diff(drawn_edge(depth, nose, np.radians(angle)), axis=0)
    square = np.column_stack([-pieces[:, 1], pieces[:, 0]])  # turned by a right angle: against the feed, and out of the work
    push = square.sum(axis=0)
    push *= 60 / np.linalg.norm(push)
    found = forces.effective_entering_angle.si(depth, nose, np.radians(angle))
    agrees(found, np.arctan2(-push[0], push[1]), rel=1e-3)
    agrees(forces.radial_force.si(100, forces.radial_share.si(0.6, found)), push[1], rel=1e-3)
    agrees(100 * forces.feed_share.si(0.6, found), -push[0], rel=1e-3)


@pytest.mark.parametrize(("depth", "nose", "angle"), DRAWN)
def test_pieces_that_push_with_their_thickness_turn_the_push_a_little(depth, nose, angle):
    """Where a thicker part of the chip pushes harder, by the root of its thickness, the push lies within 10 degrees; the range of the share is wider."""
    pieces = np.diff(drawn_edge(depth, nose, np.radians(angle)), axis=0)
    length = np.linalg.norm(pieces, axis=1)
    weight = np.sqrt(pieces[:, 1] / length)  # the chip is as thick as feed times the sine of the slope
    push = (np.column_stack([pieces[:, 1], pieces[:, 0]]) * weight[:, None]).sum(axis=0)
    found = forces.effective_entering_angle.si(depth, nose, np.radians(angle))
    assert abs(np.degrees(np.arctan2(*push) - found)) < 10


def test_a_sharp_corner_leaves_the_entering_angle_and_a_round_nose_turns_the_push_outwards():
    assert forces.effective_entering_angle.si(1e-3, 0.0, np.radians([45, 75, 90])) == pytest.approx(np.radians([45, 75, 90]))
    turned = np.degrees(forces.effective_entering_angle.si(0.1e-3, np.array([0.2, 0.4, 0.8, 3.0]) * 1e-3, np.pi / 2))
    assert np.all(np.diff(turned) < 0) and turned[-1] < 8


@vouches(
    "specific_cutting_force",
    evidence="second program",
    source="kienzle, straight line on paper ruled in logarithms",
    because="the two published points are printed in five figures",
)
def test_kienzle_is_a_straight_line_in_logarithms():
    """Constants read back from two points of the C45 line are the constants of the table."""
    h = np.array([0.1, 0.4]) * MM
    kc = forces.specific_cutting_force.si(2220e6, h, 0.14)
    slope, height = np.polyfit(np.log(h / MM), np.log(kc / 1e6), 1)
    agrees(-slope, 0.14, abs=5e-4)
    agrees(np.exp(height), 2220, rel=1e-6)
    agrees(kc / 1e6, [3064.4, 2523.9], rel=1e-4)


@vouches(
    "torque",
    "cutting_torque",
    "cutting_power",
    "surface_speed",
    evidence="second program",
    source="definition, work of the force over one turn",
)
def test_torque_does_the_work_of_the_force_round_the_rim():
    force, diameter, omega = 250.0, 80 * MM, 12.0
    angle = np.linspace(0, 2 * np.pi, 100_001)
    rim = diameter / 2 * np.exp(1j * angle)
    work = np.sum(force * np.abs(np.diff(rim)))
    power = work / (2 * np.pi / omega)
    agrees(forces.cutting_torque.si(force, diameter) * 2 * np.pi, work)
    agrees(forces.torque.si(power, omega) * 2 * np.pi, work)
    agrees(forces.cutting_power.si(force, cutting_speeds.surface_speed.si(omega, diameter)), power)


@vouches("supply_current", evidence="second program", source="definition, mean of voltage times current over a period")
@pytest.mark.parametrize(("power", "voltage", "efficiency", "factor"), [(750, 230, 0.72, 0.80), (370, 120, 0.6, 0.65)])
def test_current_carries_the_power_of_its_waves(power, voltage, efficiency, factor):
    current = forces.supply_current.si(power, voltage, efficiency, factor)
    lag = np.arccos(factor)
    taken, _ = quad(lambda x: 2 * voltage * current * np.sin(x) * np.sin(x - lag), 0, 2 * np.pi)
    agrees(efficiency * taken / (2 * np.pi), power, rel=1e-9)


@vouches(
    "supply_current",
    evidence="published and seen",
    source="nec, 115 V and 230 V columns",
    because="the table prints tenths of an ampere",
)
@pytest.mark.parametrize(
    ("power", "at_115", "at_230"),
    [("1/3 hp", 7.2, 3.6), ("1/2 hp", 9.8, 4.9), ("3/4 hp", 13.8, 6.9), ("1 hp", 16, 8), ("1 1/2 hp", 20, 10), ("2 hp", 24, 12)],
)
def test_efficiency_read_from_one_column_gives_the_other(power, at_115, at_230):
    """What a motor makes of its current at 115 V is taken from the table; at 230 V it must draw the current of the next column."""
    watts = (
        registry().Quantity(1, "hp").to("W").magnitude
        * {"1/3 hp": 1 / 3, "1/2 hp": 0.5, "3/4 hp": 0.75, "1 hp": 1, "1 1/2 hp": 1.5, "2 hp": 2}[power]
    )
    made_of_it = watts / (115 * at_115)
    assert 0.2 < made_of_it < 0.8
    agrees(forces.supply_current(power, "230 V", made_of_it, 1).magnitude, at_230, rel=0.005)


@vouches(
    "ideal_peak_height",
    evidence="second program",
    source="definition, height of the exact arc",
    because="the parabola in place of the arc is low by (f/r)²/16",
)
@pytest.mark.parametrize(("feed", "radius"), [(0.05, 0.4), (0.2, 0.8), (0.1, 0.4)])
def test_peak_height_of_the_exact_arc(feed, radius):
    exact = radius - np.sqrt(radius**2 - feed**2 / 4)
    found = finish.ideal_peak_height.si(feed, radius)
    assert found < exact
    agrees(found, exact, rel=1.1 * (feed / radius) ** 2 / 16)


@vouches(
    "ideal_roughness",
    evidence="second program",
    source="definition, mean deviation of the exact arcs by quadrature",
    because="0.0321 is rounded, and the arc is a little deeper than the parabola",
)
@pytest.mark.parametrize(("feed", "radius"), [(0.05, 0.4), (0.2, 0.8), (0.1, 0.8)])
def test_mean_roughness_of_the_exact_arcs(feed, radius):
    x = np.linspace(-feed / 2, feed / 2, 20_001)
    profile = radius - np.sqrt(radius**2 - x**2)
    mean = np.trapezoid(profile, x) / feed
    exact = np.trapezoid(np.abs(profile - mean), x) / feed
    agrees(finish.ideal_roughness.si(feed, radius), exact, rel=0.005)


@pytest.mark.parametrize("share", [0.5, 1.0, 1.9, 2.1, 3.0])
def test_arcs_of_two_turns_meet_up_to_a_feed_of_twice_the_nose_radius(share):
    """Two discs of the nose, one feed apart, drawn: where they no longer touch there is no ideal roughness, and a sentence says so."""
    nose = Point(0, 0).buffer(0.4, quad_segs=256)
    meet = nose.intersects(affinity.translate(nose, xoff=0.4 * share))
    for formula in (finish.ideal_roughness, finish.ideal_peak_height):
        assert np.isfinite(formula.si(0.4e-3 * share, 0.4e-3)) == meet
        if not meet:
            with pytest.raises(InputProblem, match="less than twice the nose radius"):
                formula(f"{0.4 * share} mm/rev", "0.4 mm")


def test_preferred_numbers_follow_their_geometric_series():
    """Each rounded number of R40 lies within +1.26 and -1.01 per cent of the exact power of ten (ISO 3)."""
    exact = 10 ** (np.arange(40) / 40)
    error = cutting_speeds._basic("R40") / exact - 1
    assert np.max(error) < 0.0127
    assert np.min(error) > -0.0102
    assert list(cutting_speeds._basic("R20")) == [
        1,
        1.12,
        1.25,
        1.4,
        1.6,
        1.8,
        2,
        2.24,
        2.5,
        2.8,
        3.15,
        3.55,
        4,
        4.5,
        5,
        5.6,
        6.3,
        7.1,
        8,
        9,
    ]


def test_nine_preferred_speeds_of_the_gearbox_books():
    rpm = 2 * np.pi / 60
    series = cutting_speeds.speed_series(100 * rpm, 630 * rpm, 9) / rpm
    found = cutting_speeds.preferred(series, "R10")
    agrees(found, [100, 125, 160, 200, 250, 315, 400, 500, 630])
    agrees(series, found, rel=0.013)


def test_back_gear_of_a_three_step_cone_is_the_ratio_cubed():
    """Six speeds in one series: the back gear reduces by the ratio to the power of the steps (textbook, cone pulley with back gear)."""
    ratio = 1.5849
    speeds = cutting_speeds.speed_series(100.0, 100.0 * ratio**5, 6)
    agrees(speeds[3:] / speeds[:3], [3.981] * 3, rel=1e-3)
