"""Second programs for commissioning: a lathe of lines and circles in space, turned numerically; beams, heat and marks stepped through."""

import numpy as np
import pytest
from evidence import agrees, vouches
from later import Later

from lathe_course.machine import alignment

solve_bvp = Later("scipy.integrate", "solve_bvp")
solve_ivp = Later("scipy.integrate", "solve_ivp")
brentq = Later("scipy.optimize", "brentq")

#: x towards the tool, y up, z along the way from the headstock
SPACE = "geometry_in_space, turned radius as the distance from tool to axis"
SECOND_ORDER = "angles of thousandths, so what is left is of second order"


def radius(tool, point, direction):
    """Radius a tool at ``tool`` leaves on work that turns about the line through ``point`` along ``direction``."""
    direction = np.asarray(direction, float) / np.linalg.norm(direction)
    arm = np.asarray(tool, float) - point
    return np.linalg.norm(arm - (arm @ direction) * direction)


def turn_y(vector, angle):
    """A vector swung about the upright axis; a positive angle brings z towards x, the tool."""
    cos, sin = np.cos(angle), np.sin(angle)
    x, y, z = vector
    return np.array([cos * x + sin * z, y, cos * z - sin * x])


def diameters(point, direction, places, tool_at=0.0125):
    return [2 * radius((tool_at, 0.0, z), point, direction) for z in places]


@vouches("axis_swing", "taper_from_axis", "tolerance_from_work", evidence="second program", source=SPACE, because=SECOND_ORDER)
@pytest.mark.parametrize("error", [15e-6, -40e-6])
def test_an_axis_out_of_line_turns_a_taper(error):
    """The diameters that an axis swung towards the tool leaves at two collars and along a piece of work."""
    over, length = 0.15, 0.06
    axis = (np.array([0.0, 0.0, -0.02]), turn_y((0, 0, 1), np.arctan(error / over)))
    near, far = diameters(*axis, (0.0, over))
    agrees(alignment.axis_swing.si(near, far), error, rel=1e-5)
    first, last = diameters(*axis, (0.0, length))
    agrees(alignment.taper_from_axis.si(error, over, length), first - last, rel=1e-5)
    # an axis just as far out as the work allows leaves just the machine's share of its tolerance
    allowed = alignment.tolerance_from_work.si(20e-6, 0.3, 2.0, over, length, 0.0)
    first, last = diameters(axis[0], turn_y((0, 0, 1), np.arctan(allowed / over)), (0.0, length))
    agrees(first - last, 0.3 * 20e-6, rel=1e-5)


@vouches("shim_thickness", evidence="second program", source=SPACE, because=SECOND_ORDER)
@pytest.mark.parametrize("error", [-15e-6, 30e-6])
def test_a_shim_swings_the_headstock_back(error):
    """A headstock turned about one fixing by a shim at the other leaves two collars alike."""
    over, spacing = 0.1, 0.09
    pivot, nose = np.array([0.0, -0.075, -0.15]), np.array([0.0, 0.0, 0.0])
    direction = turn_y((0, 0, 1), np.arctan(error / over))
    shim = alignment.shim_thickness.si(error, spacing, over)
    angle = -np.arcsin(shim / spacing)
    moved = pivot + turn_y(nose - pivot, angle)
    near, far = diameters(moved, turn_y(direction, angle), (0.0, over))
    assert abs(near - far) < 1e-4 * 2 * abs(error)
    # and the shim that just brings the axis straight, found by trying
    tried = brentq(
        lambda s: np.subtract(
            *diameters(pivot + turn_y(nose - pivot, -s / spacing), turn_y(direction, -s / spacing), (0.0, over))
        ),
        -1e-4,
        1e-4,
        xtol=1e-14,
    )
    agrees(shim, tried, rel=1e-4)


@vouches("tailstock_offset", evidence="second program", source=SPACE, because=SECOND_ORDER)
@pytest.mark.parametrize("out", [-25e-6, 60e-6])
def test_a_tailstock_set_over_leaves_a_bar_straight(out):
    """Work between centres turns about the line through both; set over by the offset it comes out alike at both places."""
    whole, first, second = 0.25, 0.05, 0.21
    line = np.array([out, 0.0, whole])
    near, far = diameters(np.zeros(3), line, (first, second))
    offset = alignment.tailstock_offset.si(far - near, whole, second - first)
    agrees(offset, -out, rel=1e-4)
    near, far = diameters(np.zeros(3), line + (offset, 0, 0), (first, second))
    assert abs(far - near) < 1e-4 * abs(out)


@vouches("level_taper", evidence="second program", source=SPACE, because=SECOND_ORDER)
@pytest.mark.parametrize("twist", [4e-5, 1e-4])
def test_a_twisted_bed_rolls_the_tool(twist):
    """A saddle that rolls about the line of the bed's twist carries its tool to or from the axis."""
    height, work = 0.115, 0.02

    def tool(roll):
        # about a line below the ways; a front way that is low tips the tool away from the axis
        x, y = work, height
        return (np.cos(roll) * x + np.sin(roll) * y, np.cos(roll) * y - np.sin(roll) * x - height, 0.1)

    level = 2 * radius(tool(0.0), np.zeros(3), (0, 0, 1))
    rolled = 2 * radius(tool(twist), np.zeros(3), (0, 0, 1))
    agrees(alignment.level_taper.si(twist, height), rolled - level, rel=1e-3)


@vouches("height_error_on_diameter", evidence="second program", source=SPACE)
@pytest.mark.parametrize(("diameter", "height"), [(0.02, 0.5e-3), (0.01, 0.1e-3), (0.12, 3e-6)])
def test_a_tool_above_the_axis_turns_large(diameter, height):
    """Distance from axis to a tool that was set at centre height and then raised."""
    found = 2 * (np.longdouble(diameter / 2) ** 2 + np.longdouble(height) ** 2) ** np.longdouble(0.5) - np.longdouble(diameter)
    agrees(alignment.height_error_on_diameter.si(diameter, height), float(found), rel=1e-6)
    assert 2 * radius((diameter / 2, height, 0.0), np.zeros(3), (0, 0, 1)) - diameter == pytest.approx(float(found), abs=1e-15)


# --- run-out ----------------------------------------------------------------------------------------------
def indicator(centre, bar, angles):
    """Reading at each angle of the spindle of an indicator that comes along x on a bar whose centre goes round with it."""
    x = np.cos(angles) * centre[0] - np.sin(angles) * centre[1]
    y = np.sin(angles) * centre[0] + np.cos(angles) * centre[1]
    return x + np.sqrt(bar**2 - y**2)


QUARTERS = np.deg2rad([0, 90, 180, 270])


@vouches(
    "run_out",
    evidence="second program",
    source="geometry_in_space, a round bar swept past an indicator",
    because="a bar of 20 mm and errors of hundredths",
)
def test_four_readings_are_as_good_as_a_whole_turn():
    """What an indicator sweeps over a whole turn of an eccentric bar, against four readings of it."""
    centre = (7e-6, -3e-6)
    sweep = np.ptp(indicator(centre, 0.01, np.linspace(0, 2 * np.pi, 7201)))
    agrees(alignment.run_out.si(*indicator(centre, 0.01, QUARTERS)), sweep, rel=1e-3)


@vouches(
    "spindle_run_out",
    "bar_run_out",
    evidence="second program",
    source="geometry_in_space, a round bar swept past an indicator",
    because="a bar of 20 mm and errors of hundredths",
)
def test_a_bar_turned_half_round_parts_its_error_from_the_spindles():
    """A crooked bar in a crooked spindle, read twice; each one's own sweep comes out."""
    spindle, bar = np.array([6e-6, 2e-6]), np.array([-1e-6, 4e-6])
    found = [indicator(spindle + sign * bar, 0.01, QUARTERS) for sign in (1, -1)]
    four = [one[half] - one[half + 2] for one in found for half in (0, 1)]
    whole = np.linspace(0, 2 * np.pi, 7201)
    agrees(alignment.spindle_run_out.si(*four), np.ptp(indicator(spindle, 0.01, whole)), rel=1e-3)
    agrees(alignment.bar_run_out.si(*four), np.ptp(indicator(bar, 0.01, whole)), rel=1e-3)


@vouches("phased_run_out", evidence="second program", source="geometry_in_space, a line through two eccentric races")
@pytest.mark.parametrize("phase", [0.0, 40.0, 180.0])
def test_races_in_phase_help_each_other(phase):
    """The nose of a shaft carried by two races that run out, swept over a turn."""
    span, overhang, front, rear = 0.11, 0.045, 5e-6, 8e-6
    turn = np.linspace(0, 2 * np.pi, 3601)
    at_front, at_rear = front / 2 * np.cos(turn), rear / 2 * np.cos(turn + np.deg2rad(phase))
    nose = at_front + (at_front - at_rear) * overhang / span
    agrees(alignment.phased_run_out.si(front, rear, overhang, span, np.deg2rad(phase)), np.ptp(nose), rel=1e-5)


# --- bar, marks, heat ------------------------------------------------------------------------------------------
@vouches(
    "bar_sag",
    evidence="second program",
    source="finite_elements, bending of a beam stepped along it by scipy",
    because="steps held to a millionth",
)
def test_a_test_bar_hangs_down():
    """The beam equation with its four ends, solved numerically for a bar of 30 mm standing out 300 mm."""
    diameter, length, density, modulus = 0.03, 0.3, 7850.0, 207e9
    load = density * np.pi / 4 * diameter**2 * 9.80665 / (modulus * np.pi / 64 * diameter**4)
    solved = solve_bvp(
        lambda x, y: np.vstack([y[1], y[2], y[3], np.full_like(x, load)]),
        lambda a, b: np.array([a[0], a[1], b[2], b[3]]),
        np.linspace(0, length, 11),
        np.zeros((4, 11)),
        tol=1e-9,
    )
    agrees(alignment.bar_sag.si(diameter, length, density, modulus, 9.80665), solved.y[0, -1], rel=1e-6)


@vouches(
    "mark_frequency",
    "marks_in_a_turn",
    evidence="second program",
    source="geometry_in_space, a shaking tool followed over the work",
    because="marks counted over ten turns",
)
def test_marks_of_a_shaking_tool():
    """A tool that shakes at 180 Hz against work of 30 mm at 250 rev/min: its marks are counted."""
    shaking, turns, diameter = 180.0, 250 / 60, 0.03
    times = np.linspace(0, 10 / turns, 400_001)
    depth = np.cos(2 * np.pi * shaking * times)
    marks = np.sum((depth[1:-1] > depth[:-2]) & (depth[1:-1] >= depth[2:]))
    pitch = 10 * np.pi * diameter / marks
    agrees(alignment.mark_frequency.si(np.pi * diameter * turns, pitch), 2 * np.pi * shaking, rel=0.004)
    agrees(alignment.marks_in_a_turn.si(diameter, pitch), marks / 10, rel=1e-9)


@vouches("levelled_rise", evidence="second program", source="geometry_in_space, a warming body stepped through time by scipy")
def test_a_headstock_levels_out_where_three_readings_say():
    """Constant heat in, loss in proportion to the rise: followed for days, and foretold from the first half hour."""
    heat, loss, capacity = 40.0, 1.6, 4200.0
    solved = solve_ivp(
        lambda t, rise: (heat - loss * rise) / capacity, (0, 4e5), [0.0], t_eval=[600, 1200, 1800, 4e5], rtol=1e-10, atol=1e-12
    )
    *three, level = solved.y[0]
    agrees(alignment.levelled_rise.si(*three), level, rel=1e-5)
