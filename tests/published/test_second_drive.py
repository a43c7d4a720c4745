"""Second programs for the drive: support functions, belts followed round the pulley, motors and masses stepped through time."""

import numpy as np
import pytest
from evidence import agrees, vouches
from later import Later

from lathe_course.machine import belts, motors

quad = Later("scipy.integrate", "quad")
solve_ivp = Later("scipy.integrate", "solve_ivp")
brentq = Later("scipy.optimize", "brentq")

MM, RPM = 1e-3, 2 * np.pi / 60
#: large and small diameter, centres, m
PAIRS = [(105, 35, 200), (90, 90, 300), (120, 60, 300), (160, 20, 95), (457.2, 152.4, 2438.4)]


def hull(large: float, small: float, centres: float) -> float:
    """Length of a thread drawn tight round two discs: a convex outline is as long as its support function summed over all directions."""
    lean = np.arccos((large - small) / 2 / centres)
    sides = [
        quad(lambda t: max(large / 2, small / 2 + centres * np.cos(t)), *ends, epsabs=1e-13)[0]
        for ends in ((0, lean), (lean, np.pi))
    ]
    return 2 * sum(sides)


@vouches(
    "belt_length",
    "usual_belt_length",
    evidence="second program",
    source="definition, outline of two discs by quadrature of its support function",
    because="the usual rule is short by (D - d)⁴ / (192 C³), which is given to it",
)
@pytest.mark.parametrize("pair", PAIRS)
def test_a_thread_drawn_tight_round_two_discs(pair):
    large, small, centres = (one * MM for one in pair)
    length = hull(large, small, centres)
    agrees(belts.belt_length.si(large, small, centres), length, rel=1e-9)
    short = (large - small) ** 4 / (192 * centres**3)
    agrees(belts.usual_belt_length.si(large, small, centres) + short, length, rel=1e-3)
    assert belts.usual_belt_length.si(large, small, centres) <= length * (1 + 1e-12)


@vouches("wrap_angle", evidence="second program", source="definition, the directions in which the small disc stands furthest out")
@pytest.mark.parametrize("pair", PAIRS)
def test_wrap_counted_direction_by_direction(pair):
    large, small, centres = (one * MM for one in pair)
    t = (np.arange(2_000_000) + 0.5) * np.pi / 1_000_000
    outermost = small / 2 + centres * np.cos(t) > large / 2
    agrees(belts.wrap_angle.si(large, small, centres), outermost.mean() * 2 * np.pi, abs=4e-6)


@vouches("mating_diameter", "centre_distance", evidence="second program", source="definition, root of the tight thread's length")
@pytest.mark.parametrize("pair", [*PAIRS[:3], PAIRS[4]])
def test_a_second_step_and_the_centres_for_one_belt(pair):
    large, small, centres = (one * MM for one in pair)
    length = hull(large, small, centres)
    agrees(
        belts.centre_distance.si(large, small, length),
        brentq(lambda c: hull(large, small, c) - length, (large + small) / 2 * 1.0001, 10 * centres),
        rel=1e-8,
    )
    for step in (0.3, 0.8, 1.4):
        one = step * (large + small) / 2
        other = brentq(lambda d, one=one: hull(max(d, one), min(d, one), centres) - length, 1e-6, 2 * centres - one - 1e-9)
        agrees(belts.mating_diameter.si(one, length, centres), other, rel=1e-8)


def carried_round(slack: float, friction: float, wrap: float, flung: float = 0.0) -> float:
    """Tension of the strand that leaves, followed round the pulley."""
    return solve_ivp(lambda _, t: friction * (t - flung), (0, wrap), [slack], rtol=1e-11, atol=1e-12).y[0, -1]


@vouches("euler_ratio", evidence="second program", source="definition, tension followed round the pulley by time integration")
@pytest.mark.parametrize(("friction", "wrap"), [(0.3, np.pi), (0.8, 3.0165), (0.65, 2.1), (0.0, 3.0)])
def test_tension_followed_round_the_pulley(friction, wrap):
    agrees(belts.euler_ratio.si(friction, wrap), carried_round(1.0, friction, wrap), rel=1e-8)


@vouches(
    "belt_grip",
    "centrifugal_tension",
    evidence="second program",
    source="definition, balance of a short piece of belt, strands that share a fixed stretch",
)
@pytest.mark.parametrize(
    ("tension", "mass", "speed", "friction", "wrap"),
    [(60, 0.06, 8.0, 0.65, 2.3), (120, 0.1, 22.0, 0.4, 3.1), (40, 0, 5.0, 1.2, 2.0)],
)
def test_a_belt_about_to_slip(tension, mass, speed, friction, wrap):
    """A short piece of belt on its way round needs m v² of its tension to keep to the circle; what one strand gains the other loses."""
    turning = 1e-4  # of a turn: the tension that holds a free loop of radius 1 m together
    piece = mass * turning * speed**2 / (2 * np.sin(turning / 2)) if mass else 0.0
    agrees(belts.centrifugal_tension.si(mass, speed), piece, rel=1e-8)
    slack = brentq(lambda t: t + carried_round(t, friction, wrap, piece) - 2 * tension, piece, tension)
    agrees(belts.belt_grip.si(tension, piece, friction, wrap), carried_round(slack, friction, wrap, piece) - slack, rel=1e-7)


@vouches("belt_shaft_pull", evidence="second program", source="definition, pressure of the belt summed round the pulley")
@pytest.mark.parametrize("wrap", [2.1, 2.8, np.pi])
def test_the_belt_presses_the_pulley_towards_the_other(wrap):
    """A belt under even tension presses a pulley with tension over radius on each length of arc."""
    tension, radius = 80.0, 0.03
    along, _ = quad(lambda a: tension / radius * np.cos(a) * radius, -wrap / 2, wrap / 2)
    agrees(belts.belt_shaft_pull.si(tension, wrap), along, rel=1e-9)


@vouches(
    "belt_deflection",
    evidence="second program",
    source="definition, balance of a strand pressed in its middle",
    because="the strand is pressed in by a fiftieth of its length at most",
)
@pytest.mark.parametrize(("push", "strand", "tension"), [(5, 0.2, 60), (10, 0.3, 150)])
def test_a_strand_pressed_in_its_middle(push, strand, tension):
    sunk = brentq(lambda y: 2 * tension * np.sin(np.arctan2(y, strand / 2)) - push, 0, strand)
    agrees(belts.belt_deflection.si(push, strand, tension), sunk, rel=1e-3)


# --- motors ------------------------------------------------------------------------------------------
def induction_torque(speed_share: float, rated: float) -> float:
    """Torque, as a share of the rated, of a lossless-stator induction motor: voltage in step with frequency, then held.

    Equivalent circuit with rotor resistance and leakage; at every frequency the slip is sought at which
    the rotor current is the rated one.
    """
    resistance, leakage, at_base = 0.05, 0.08, 2 * np.pi * 50
    frequency = speed_share * at_base
    volts = min(speed_share, 1.0)

    def current(slip):
        return abs(volts / complex(resistance / slip, leakage * speed_share))

    allowed = abs(1 / complex(resistance / 0.05, leakage))
    slip = brentq(lambda s: current(s) - allowed, 1e-6, resistance / (leakage * speed_share))
    return current(slip) ** 2 * resistance / slip / frequency / rated


@vouches(
    "motor_torque",
    evidence="second program",
    source="fitzgerald, equivalent circuit of an induction motor",
    because="above the plate's speed the leakage takes a little more than the plain rule knows, 4 per cent at twice the speed",
)
@pytest.mark.parametrize("share", [0.2, 0.5, 1.0, 1.5, 2.0])
def test_an_induction_motor_at_its_rated_current(share):
    """A motor's equivalent circuit, at the current it may bear: even torque up to the plate's speed, falling above it."""
    rated = induction_torque(1.0, 1.0)
    ours = motors.motor_torque.si(370.0, 146.0, share) / motors.motor_torque.si(370.0, 146.0, 1.0)
    agrees(ours, induction_torque(share, rated), rel=0.05)


@vouches("disc_inertia", evidence="second program", source="definition, rings of a disc by quadrature")
@pytest.mark.parametrize(("outer", "inner", "length", "density"), [(125, 0, 60, 7850), (35, 19, 240, 7850), (105, 14, 25, 2710)])
def test_inertia_ring_by_ring(outer, inner, length, density):
    rings, _ = quad(lambda r: density * 2 * np.pi * r * length * MM * r**2, inner / 2 * MM, outer / 2 * MM, epsabs=0)
    agrees(motors.disc_inertia.si(outer * MM, inner * MM, length * MM, density), rings, rel=1e-9)


@vouches(
    "referred_inertia",
    "run_up_time",
    evidence="second program",
    source="definition, motor and spindle stepped through time, joined by a belt",
    because="the belt of the stepped model stretches a little",
)
@pytest.mark.parametrize(("ratio", "top"), [(4.0, 300.0), (1.0, 1400.0), (0.7, 3000.0)])
def test_a_motor_runs_a_spindle_up(ratio, top):
    """Rotor and spindle as two masses and a stiff belt between them; the torque of the motor falls once its power is reached."""
    rotor, spindle, rated, base = 0.0009, 0.0125, 3.0, 1400 * RPM
    springy, damped = 4000.0, 8.0  # the belt, N·m/rad and N·m·s/rad at the spindle: stiff, yet a spring

    def moving(_, state):
        motor, slow, stretch = state
        stretching = motor / ratio - slow
        pull = springy * stretch + damped * stretching
        return [(rated * min(1.0, base / max(motor, 1e-9)) - pull / ratio) / rotor, pull / spindle, stretching]

    def there(_, state):
        return state[1] - top * RPM

    there.terminal = True
    run = solve_ivp(moving, (0, 100), [0.0, 0.0, 0.0], method="LSODA", events=there, rtol=1e-9, atol=1e-11)
    inertia = spindle + motors.referred_inertia.si(rotor, ratio)
    agrees(motors.run_up_time.si(inertia, top * RPM, base / ratio, rated * ratio), run.t_events[0][0], rel=2e-3)


@vouches("stopping_time", evidence="second program", source="definition, a spindle stepped through time until it stands")
@pytest.mark.parametrize(("inertia", "speed", "torque"), [(0.0113, 1500, 3.0), (0.03, 400, 0.4)])
def test_a_spindle_coasts_to_rest(inertia, speed, torque):
    def still(_, state):
        return state[0]

    still.terminal, still.direction = True, -1
    run = solve_ivp(lambda _, state: [-torque / inertia], (0, 100), [speed * RPM], events=still, rtol=1e-10)
    agrees(motors.stopping_time.si(inertia, speed * RPM, torque), run.t_events[0][0], rel=1e-8)
