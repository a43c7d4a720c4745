"""Second programs for chatter: our own beam for ringing, scans of the response, and cuts stepped through time."""

import numpy as np
import pytest
from beam_elements import Beam, ladder
from evidence import agrees, vouches
from later import Later

from lathe_course.machine import chatter as c

solve_ivp = Later("scipy.integrate", "solve_ivp")
brentq = Later("scipy.optimize", "brentq")

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


@vouches(
    "lobe_width",
    "lobe_speed",
    evidence="second program",
    source="schmitz_smith, cut laid over the last cut, stepped through time",
)
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
    agrees(
        c.lobe_width.si(**MACHINE, chatter_ratio=ratio), (-dynamic / (gain * (1 - np.exp(-1j * omega * found)))).real, rel=1e-7
    )


@vouches(
    "lobe_speed",
    "chatter_free_width",
    evidence="second program",
    source="definition, the delay equation scanned for its narrowest chip",
    because="scanned in steps of frequency",
)
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
    turn = 2 * np.pi / c.lobe_speed.si(OWN, damping, np.sqrt(1 + 2 * damping), 1)  # the worst spindle speed at that damping
    assert grown(0.93 * width, turn, process, speed) < 0.9
    assert grown(1.07 * width, turn, process, speed) > 1.15


@vouches(
    "slow_speed_width", evidence="second program", source="definition, the width tried on both sides of its equation by scipy"
)
def test_the_width_solves_its_equation():
    process, speed = 2.5e5, 0.5

    def missed(width):
        damping = MACHINE["damping"] + process * OWN * width / (2 * MACHINE["stiffness"] * speed)
        return c.chatter_free_width.si(**{**MACHINE, "damping": damping}) - width

    least = c.chatter_free_width.si(**MACHINE)
    found = brentq(missed, least, 3 * least, xtol=1e-15)  # a width of a millimetre, sought far below its thousand-millionth
    agrees(c.slow_speed_width.si(**MACHINE, process_damping=process, frequency=OWN, cutting_speed=speed), found, rel=1e-9)


@vouches("quiet_speed", evidence="second program", source="schmitz_smith, cut with a rubbing flank, stepped through time")
@pytest.mark.parametrize("width", [0.0015, 0.002])
def test_a_parting_blade_is_quiet_below_one_speed_and_sings_above(width):
    """A blade several times too wide for the machine: a knock dies away a little below the speed that is told, and grows a little above it."""
    process = 2.5e5
    assert width > 4 * c.chatter_free_width.si(**MACHINE)
    told = c.quiet_speed.si(**MACHINE, process_damping=process, frequency=OWN, chip_width=width)
    damping = MACHINE["damping"] + process * width * OWN / (2 * MACHINE["stiffness"] * told)
    turn = 2 * np.pi / c.lobe_speed.si(OWN, damping, np.sqrt(1 + 2 * damping), 1)  # the worst spindle speed at that damping
    assert grown(width, turn, process, 0.93 * told) < 0.9
    assert grown(width, turn, process, 1.07 * told) > 1.15


def test_a_cut_slow_enough_is_held_at_ten_times():
    """Where the equation has no root no width of chip sings: stepped through time, a knock dies away at each."""
    for times in (2, 5, 10):
        assert grown(times * c.chatter_free_width.si(**MACHINE), 2 * np.pi / OWN * 1.7, 2.5e5, 0.3) < 0.9
    slow = c.slow_speed_width.si(**MACHINE, process_damping=2.5e5, frequency=OWN, cutting_speed=np.array([0.01, 1e6]))
    assert slow == pytest.approx(c.chatter_free_width.si(**MACHINE) * np.array([10, 1]), rel=1e-6)


# --- direction and damping ----------------------------------------------------------------------------------
# the same sums as the formula's, so it vouches for nothing; what holds the formula is the cut stepped through time below
@pytest.mark.parametrize("share", [0.2, 0.4, 0.8])
@pytest.mark.parametrize("angle", [-60, -30, -10, 0, 10, 20, 45, 80])
def test_work_of_the_force_and_loss_of_chip_along_the_sway(share, angle):
    """Axis of the work at the origin, tip of the tool level with it at (radius, 0), y up.

    The work comes down on the tool: its skin there moves by the spin crossed with the radius.  It drags the
    tool along with the cutting force, and presses it away from the axis with a share of that.
    """
    tip, spin = np.array([0.02, 0.0, 0.0]), np.array([0.0, 0.0, -30.0])
    skin = np.cross(spin, tip)
    force = 250.0 * skin / np.linalg.norm(skin) + share * 250.0 * tip / np.linalg.norm(tip)
    assert force[1] == pytest.approx(-250) and force[0] > 0, "down and outwards"
    step = 1e-7 * np.array([np.cos(np.radians(angle)), np.sin(np.radians(angle)), 0.0])
    pushed = force @ step / 1e-7  # work of the force for each metre of sway
    thinner = (np.linalg.norm(tip + step) - np.linalg.norm(tip - step)) / 2e-7  # the tip recedes from the axis
    assert c.sway_direction_factor.si(share, np.radians(angle)) == pytest.approx(pushed * thinner / 250.0, rel=1e-5, abs=1e-9)


KIENZLE = {"kc11": 2350.0, "m": 0.21, "condition": 1.4, "feed": 0.1}  # N/mm², -, -, mm
SHARE = 0.4


def knocked(width, turn, bodies, steps=500, turns=70):
    """How a knock has grown in a cut by Kienzle's whole law; forces in N, lengths in mm, one turn takes ``turn`` seconds.

    ``bodies``: (stiffness N/mm, note rad/s, damping, push, thins) of each part that sways along its own line; ``push`` is the
    part of the cutting force along it, ``thins`` how much thinner the chip gets for each millimetre.  All begin where the
    steady cut holds them.
    """
    k, note, zeta, push, thins = (np.array(column) for column in zip(*bodies))
    mass, dt = k / note**2, turn / steps

    def force(thickness):
        return KIENZLE["condition"] * KIENZLE["kc11"] * width * max(thickness, 0.0) ** (1 - KIENZLE["m"])

    rest = force(KIENZLE["feed"]) * push / k
    x, v = rest.copy(), 0 * rest
    x[0] += 1e-5
    trail = np.full((turns + 1) * steps, rest @ thins)  # where the edge was, outwards
    for i in range(steps, len(trail)):  # semi-implicit steps: no damping of their own to speak of
        trail[i] = x @ thins
        chip = KIENZLE["feed"] - trail[i] + trail[i - steps]
        v += dt * (force(chip) * push - k * x - 2 * zeta * note * mass * v) / mass
        x = x + dt * v
    swing = np.abs(trail - rest @ thins)
    third = turns // 3 * steps
    return swing[-8 * steps :].max() / swing[third : third + 8 * steps].max()


def worst_turn(note, ratio, damping, sign=1.0, waves=1):
    """Time of the turn at which a body sings soonest, at ``ratio`` of its note: from the phase of its response alone."""
    response = sign / (1 - ratio**2 + 2j * damping * ratio)
    lag = (np.pi + 2 * np.angle(-response)) % (2 * np.pi)  # 1 - e^-jx then turns the response into a push that feeds the sway
    return (2 * np.pi * waves + lag) / (ratio * note)


def limit(stiffness, damping, direction):
    """Width in mm by the formulas of the course for a stiffness in N/mm and Kienzle's law above."""
    kc = KIENZLE["kc11"] * KIENZLE["feed"] ** -KIENZLE["m"]
    slope = c.cutting_stiffness.si(kc * 1e6, KIENZLE["m"], KIENZLE["condition"])
    return c.chatter_free_width.si(stiffness * 1e3, damping, slope, direction) * 1e3


MACHINE_MM, WORK_MM, ZETA, NOTE = 6500.0, 14800.0, 0.04, 2 * np.pi * 150.0


@vouches(
    "cutting_stiffness",
    "chatter_free_width",
    evidence="second program",
    source="kienzle, whole law of the force in a cut stepped through time, work and machine both giving",
)
def test_machine_and_work_at_one_note_sing_above_the_width_of_both_in_a_row():
    both = [
        (MACHINE_MM, NOTE, ZETA, SHARE, 1.0),
        (WORK_MM, NOTE, ZETA, SHARE, 1.0),
    ]  # the work is pushed the other way, and parts as well
    width = limit(1 / (1 / MACHINE_MM + 1 / WORK_MM), ZETA, SHARE)
    turn = worst_turn(NOTE, np.sqrt(1 + 2 * ZETA), ZETA)
    assert knocked(0.93 * width, turn, both) < 0.9
    assert knocked(1.07 * width, turn, both) > 1.15


@pytest.mark.parametrize("apart", [2.5, 6.0])
def test_with_their_notes_apart_a_wider_chip_passes_up_to_that_of_the_softer_alone(apart):
    """So the width of both in a row is on the safe side, at the worst speed of either."""
    both = [(MACHINE_MM, NOTE, ZETA, SHARE, 1.0), (WORK_MM, apart * NOTE, ZETA, SHARE, 1.0)]
    row, softer = limit(1 / (1 / MACHINE_MM + 1 / WORK_MM), ZETA, SHARE), limit(MACHINE_MM, ZETA, SHARE)
    slow, quick = (worst_turn(note, np.sqrt(1 + 2 * ZETA), ZETA) for note in (NOTE, apart * NOTE))
    assert knocked(1.07 * row, slow, both) < 0.9 and knocked(1.07 * row, quick, both) < 0.9
    assert knocked(1.3 * softer, slow, both) > 1.15


@vouches(
    "sway_direction_factor",
    "chatter_free_width",
    evidence="second program",
    source="kienzle, whole law of the force on a tool that sways along a sloping line, stepped through time",
    because="a machine that digs in sings below its own note, where the width is less by twice the damping",
)
@pytest.mark.parametrize("slope", [-15, 0, 15, 40])
def test_a_sloping_line_of_sway_springs_off_or_digs_in(slope):
    """Falling outwards it sings sooner than level, rising outwards later, until it digs in."""
    line = np.array([np.cos(np.radians(slope)), np.sin(np.radians(slope))])
    push, thins = np.array([SHARE, -1.0]) @ line, line[0]  # outwards and down, of a cutting force of one
    factor = c.sway_direction_factor.si(SHARE, np.radians(slope))
    assert np.sign(factor) == np.sign(push * thins)
    ratio = np.sqrt(1 + 2 * np.sign(factor) * ZETA)
    width = limit(MACHINE_MM, ZETA, abs(factor)) * (1 if factor > 0 else (1 - ZETA) / (1 + ZETA))
    turn = worst_turn(NOTE, ratio, ZETA, np.sign(factor))
    one = [(MACHINE_MM, NOTE, ZETA, push, thins)]
    assert knocked(0.93 * width, turn, one) < 0.9
    assert knocked(1.07 * width, turn, one) > 1.15


@vouches(
    "half_power_damping",
    evidence="second program",
    source="schmitz_smith, half-power points of the exact response found by scipy",
    because="good to the square of the damping",
)
@pytest.mark.parametrize("damping", [0.01, 0.02, 0.05])
def test_half_power_points_of_the_exact_response(damping):
    def swing(ratio):
        return 1 / abs(1 - ratio**2 + 2j * damping * ratio) - 1 / (2 * damping * np.sqrt(1 - damping**2)) / np.sqrt(2)

    peak = np.sqrt(1 - 2 * damping**2)
    low, high = brentq(swing, 0.5, peak), brentq(swing, peak, 1.5)
    agrees(c.half_power_damping.si(low, high, 1.0), damping, rel=0.01)
