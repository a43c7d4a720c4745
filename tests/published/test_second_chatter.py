"""Second programs for chatter: our own beam for ringing, scans of the response, and cuts stepped through time."""

import numpy as np
import pytest
from beam_elements import Beam, ladder
from evidence import agrees, vouches
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from lathe_course.machine import chatter as c

E = 207e9


@vouches(
    "natural_frequency",
    evidence="second program",
    source="finite_elements, our own, eigenvalues of a spindle with a chuck",
    because="the shaft's own mass, left out of the formula, lowers the note by 2 to 3 per cent",
)
def test_spindle_with_a_chuck_rings():
    span, overhang, diameter, bore = 0.12, 0.05, 0.035, 0.018
    ei, area = E * np.pi * (diameter**4 - bore**4) / 64, np.pi * (diameter**2 - bore**2) / 4
    beam = (
        Beam(ladder(0, span, span + overhang), ei, mass=7800 * area)
        .spring(0, 80e6)
        .spring(span, 120e6)
        .weight(span + overhang, 3.0)
    )
    rung = beam.frequencies()[0]
    stiffness = (
        1 / Beam(ladder(0, span, span + overhang), ei).spring(0, 80e6).spring(span, 120e6).under([(span + overhang, 1.0)])[-2]
    )
    found = c.natural_frequency.si(stiffness, 3.0)
    assert 1.02 < found / rung < 1.03
    light = Beam(ladder(0, span, span + overhang), ei, mass=1e-6).spring(0, 80e6).spring(span, 120e6).weight(span + overhang, 3.0)
    agrees(found, light.frequencies()[0], rel=1e-5)
@vouches(
    "worst_real_part",
    "chatter_free_width",
    evidence="second program",
    source="schmitz_smith, response of one mass scanned over frequency",
)
@pytest.mark.parametrize(
    ("stiffness", "damping", "cutting", "direction", "printed"),
    [(20e6, 0.04, 2000e6, 1.0, None), (5e6, 0.02, 2800e6, 1.0, 0.0729e-3), (6.9e6, 0.04, 2000e6, 0.4, None)],
)
def test_worst_of_the_response(stiffness, damping, cutting, direction, printed):
    ratio = np.linspace(0.5, 2.0, 400_001)
    response = 1 / (stiffness * (1 - ratio**2 + 2j * damping * ratio))
    worst = -response.real.min()
    agrees(c.worst_real_part.si(stiffness, damping), worst, rel=1e-6)
    agrees(ratio[response.real.argmin()], np.sqrt(1 + 2 * damping), rel=1e-4)
    found = c.chatter_free_width.si(stiffness, damping, cutting, direction)
    agrees(found, 1 / (2 * direction * cutting * worst), rel=1e-6)
    if printed:
        agrees(found, printed, rel=2e-3)


@vouches(
    "chatter_free_width", evidence="second program", source="schmitz_smith, cut laid over the last cut, stepped through time"
)
def test_a_cut_a_little_wider_than_the_limit_starts_to_sing():
    """Regenerative cutting at the worst spindle speed: below the limit a knock dies away, above it grows."""
    stiffness, damping, cutting, frequency = 5e6, 0.02, 2000e6, 200.0
    omega = 2 * np.pi * frequency
    mass = stiffness / omega**2
    chatter = omega * np.sqrt(1 + 2 * damping)
    response = 1 / (stiffness - mass * chatter**2 + 2j * damping * omega * mass * chatter)
    phase = 2 * np.pi - 2 * np.arctan(abs(response.real) / abs(response.imag))
    turn = (2 * np.pi + phase) / chatter  # the second lobe
    steps = 600
    dt = turn / steps
    limit = c.chatter_free_width.si(stiffness, damping, cutting, 1.0)

    def grown(width):
        x = np.zeros(60 * steps)
        x[steps : steps + 2] = 1e-6, 1e-6 * (1 - 1e-3)
        speed = 0.0
        for i in range(steps, len(x) - 1):  # semi-implicit steps: no damping of their own to speak of
            push = -cutting * width * (x[i] - x[i - steps])
            speed += dt * ((push - stiffness * x[i]) / mass - 2 * damping * omega * speed)
            x[i + 1] = x[i] + dt * speed
        return np.abs(x[-5 * steps :]).max() / np.abs(x[25 * steps : 30 * steps]).max()

    assert grown(0.93 * limit) < 0.8
    assert grown(1.07 * limit) > 1.25


@vouches("natural_frequency", evidence="second program", source="definition, a mass on a spring stepped through time")
def test_a_mass_on_a_spring_swings_through_rest():
    stiffness, mass = 10e6, 3.0

    def crossing(t, state):
        return state[0]

    swing = solve_ivp(
        lambda t, s: (s[1], -stiffness / mass * s[0]), (0, 0.02), (1e-6, 0), events=crossing, rtol=1e-10, atol=1e-16
    )
    half = np.diff(swing.t_events[0]).mean()
    agrees(c.natural_frequency.si(stiffness, mass), np.pi / half, rel=1e-6)


# --- lobes ------------------------------------------------------------------------------------------------
MACHINE = {"stiffness": 5e6, "damping": 0.03, "cutting_stiffness": 2000e6, "direction_factor": 0.5}
OWN = 2 * np.pi * 150.0


def grown(width, turn, process=0.0, speed=1.0, steps=800, turns=80):
    """How a knock has grown between one third and the end, in a cut stepped through time; one turn takes ``turn`` seconds."""
    k, z = MACHINE["stiffness"], MACHINE["damping"]
    mass, dt = k / OWN**2, turn / steps
    gain = MACHINE["direction_factor"] * MACHINE["cutting_stiffness"] * width
    rub = 2 * z * OWN * mass + process * width / speed
    x, v = np.zeros((turns + 1) * steps), 0.0
    x[steps : steps + 2] = 1e-6, 1e-6
    for i in range(steps, len(x) - 1):  # semi-implicit steps: no damping of their own to speak of
        v += dt * ((-gain * (x[i] - x[i - steps]) - k * x[i]) - rub * v) / mass
        x[i + 1] = x[i] + dt * v
    third = turns // 3 * steps
    return np.abs(x[-8 * steps :]).max() / np.abs(x[third : third + 8 * steps]).max()


@vouches("lobe_width", "lobe_speed", evidence="second program", source="schmitz_smith, cut laid over the last cut, stepped through time")
@pytest.mark.parametrize(("ratio", "lobe"), [(1.02, 0), (1.1, 1), (1.03, 2)])
def test_either_side_of_a_lobe(ratio, lobe):
    """On the lower border of all lobes a knock dies away a little below it and grows a little above."""
    width = c.lobe_width.si(**MACHINE, chatter_ratio=ratio)
    speed = c.lobe_speed.si(OWN, MACHINE["damping"], ratio, lobe)
    border = c.quiet_width([speed], OWN, **MACHINE)[0]
    assert border == pytest.approx(width, rel=0.01) or border < width
    turn = 2 * np.pi / speed
    assert grown(0.9 * border, turn) < 0.9
    assert grown(1.1 * border, turn) > 1.15


@vouches("lobe_width", "lobe_speed", evidence="second program", source="definition, roots of the delay equation found by scipy")
@pytest.mark.parametrize("lobe", [0, 1, 4])
def test_the_delay_equation_is_met(lobe):
    """At the border the equation of the sway with its delay has a root without growth: found from the phase alone."""
    k, z, gain = MACHINE["stiffness"], MACHINE["damping"], MACHINE["direction_factor"] * MACHINE["cutting_stiffness"]
    ratio = 1.07
    omega, mass = ratio * OWN, MACHINE["stiffness"] / OWN**2
    turn = 2 * np.pi / c.lobe_speed.si(OWN, z, ratio, lobe)

    def phase(time):
        """Imaginary part over real part of the needed width: zero where the width is a real one."""
        dynamic = k - mass * omega**2 + 2j * z * OWN * mass * omega
        return (-dynamic / (gain * (1 - np.exp(-1j * omega * time)))).imag

    found = brentq(phase, 0.995 * turn, 1.005 * turn)
    agrees(turn, found, rel=1e-9)
    dynamic = k - mass * omega**2 + 2j * z * OWN * mass * omega
    agrees(c.lobe_width.si(**MACHINE, chatter_ratio=ratio), (-dynamic / (gain * (1 - np.exp(-1j * omega * found)))).real, rel=1e-7)


@vouches("lobe_speed", "chatter_free_width", evidence="second program", source="definition, the delay equation scanned for its narrowest chip",
         because="scanned in steps of frequency")
@pytest.mark.parametrize(("lobe", "listed"), [(0, 16493), (1, 7101), (2, 4525), (3, 3320)])
def test_worst_spindle_speeds(lobe, listed):
    """A machine of 200 Hz and a damping of 0.04: at each frequency the delay that makes the needed width a real one, then the narrowest of them."""
    k, z, own = 20e6, 0.04, 2 * np.pi * 200.0

    def needed(omega, turn):
        return -(k * (1 - (omega / own) ** 2 + 2j * z * omega / own)) / (1 - np.exp(-1j * omega * turn))

    found = []
    for omega in own * np.linspace(1.01, 1.08, 1401):
        bracket = (2 * np.pi * lobe + 1.0001 * np.pi) / omega, (2 * np.pi * (lobe + 1) - 1e-3) / omega
        turn = brentq(lambda t, o=omega: needed(o, t).imag, *bracket)
        found.append((needed(omega, turn).real, 60 / turn))
    width, speed = min(found)
    agrees(c.lobe_speed.si(own, z, np.sqrt(1 + 2 * z), lobe) * 60 / (2 * np.pi), speed, rel=1e-3)
    agrees(c.chatter_free_width.si(k, z, 1.0, 1.0), width, rel=1e-5)
    assert speed == pytest.approx(listed, rel=3e-3)


def test_double_the_damping_is_a_little_more_than_double_the_width():
    one, two = (c.chatter_free_width.si(20e6, damping, 2e9, 1.0) for damping in (0.04, 0.08))
    assert two / one == pytest.approx(2.077, rel=1e-3)


def test_the_border_never_falls_below_the_width_for_any_speed():
    speeds = np.linspace(50, 6000, 900) * 2 * np.pi / 60
    border = c.quiet_width(speeds, OWN, **MACHINE)
    least = c.chatter_free_width.si(**MACHINE)
    assert border.min() == pytest.approx(least, rel=2e-3) and np.all(border >= least * (1 - 1e-6))
    assert border.max() > 3 * least


# --- slow speeds --------------------------------------------------------------------------------------------
@vouches("slow_speed_width", evidence="second program", source="schmitz_smith, cut with a rubbing flank, stepped through time")
@pytest.mark.parametrize("speed", [0.5, 1.0])
def test_a_slow_cut_stays_quiet_up_to_a_wider_chip(speed):
    process = 2.5e5
    width = c.slow_speed_width.si(**MACHINE, process_damping=process, frequency=OWN, cutting_speed=speed)
    assert width > 1.05 * c.chatter_free_width.si(**MACHINE)
    damping = MACHINE["damping"] + process * width / speed / (2 * MACHINE["stiffness"] / OWN)
    turn = 2 * np.pi / c.lobe_speed.si(OWN, damping, np.sqrt(1 + 2 * damping), 1)      # the worst spindle speed at that damping
    assert grown(0.93 * width, turn, process, speed) < 0.9
    assert grown(1.07 * width, turn, process, speed) > 1.15


@vouches("slow_speed_width", evidence="second program", source="definition, the width tried on both sides of its equation by scipy")
def test_the_width_solves_its_equation():
    process, speed = 2.5e5, 0.5

    def missed(width):
        damping = MACHINE["damping"] + process * OWN * width / (2 * MACHINE["stiffness"] * speed)
        return c.chatter_free_width.si(**{**MACHINE, "damping": damping}) - width

    least = c.chatter_free_width.si(**MACHINE)
    found = brentq(missed, least, 3 * least, xtol=1e-15)         # a width of a millimetre, sought far below its thousand-millionth
    agrees(c.slow_speed_width.si(**MACHINE, process_damping=process, frequency=OWN, cutting_speed=speed), found, rel=1e-9)


def test_a_cut_slow_enough_is_held_at_ten_times():
    """Where the equation has no root no width of chip sings: stepped through time, a knock dies away at each."""
    for times in (2, 5, 10):
        assert grown(times * c.chatter_free_width.si(**MACHINE), 2 * np.pi / OWN * 1.7, 2.5e5, 0.3) < 0.9
    slow = c.slow_speed_width.si(**MACHINE, process_damping=2.5e5, frequency=OWN, cutting_speed=np.array([0.01, 1e6]))
    assert slow == pytest.approx(c.chatter_free_width.si(**MACHINE) * np.array([10, 1]), rel=1e-6)


# --- direction and damping ----------------------------------------------------------------------------------
@vouches("sway_direction_factor", evidence="second program", source="geometry_in_space, force and sway as vectors")
def test_force_and_sway_as_vectors():
    shares, angles = np.array([0.2, 0.4, 0.8])[:, None], np.radians([-30, 0, 20, 45, 90])
    line = np.array([np.cos(angles), np.sin(angles)])                      # level, up: the sway of the tool against the work
    force = np.stack(np.broadcast_arrays(shares, 1.0))                     # level and upright part, of a cutting force of one
    found = np.einsum("iab,ib->ab", np.broadcast_to(force, (2, 3, 1)), line) * line[0]
    agrees(c.sway_direction_factor.si(shares, angles), found, rel=1e-12, abs=1e-12)


@vouches("half_power_damping", evidence="second program", source="schmitz_smith, half-power points of the exact response found by scipy",
         because="good to the square of the damping")
@pytest.mark.parametrize("damping", [0.01, 0.02, 0.05])
def test_half_power_points_of_the_exact_response(damping):
    def swing(ratio):
        return 1 / abs(1 - ratio**2 + 2j * damping * ratio) - 1 / (2 * damping * np.sqrt(1 - damping**2)) / np.sqrt(2)
    peak = np.sqrt(1 - 2 * damping**2)
    low, high = brentq(swing, 0.5, peak), brentq(swing, peak, 1.5)
    agrees(c.half_power_damping.si(low, high, 1.0), damping, rel=0.01)
