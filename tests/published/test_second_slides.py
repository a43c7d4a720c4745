"""Second programs for slides, screws and tailstock: statics as a linear programme, beds of springs, beams, time steps."""

import numpy as np
import pytest
from beam_elements import Beam
from evidence import agrees, vouches
from later import Later

from lathe_course.machine import screws, slides, tailstock

FEModel3D = Later("Pynite", "FEModel3D")
quad = Later("scipy.integrate", "quad")
solve_ivp = Later("scipy.integrate", "solve_ivp")
eigh = Later("scipy.linalg", "eigh")
brentq = Later("scipy.optimize", "brentq")
linprog = Later("scipy.optimize", "linprog")
minimize_scalar = Later("scipy.optimize", "minimize_scalar")

E = 207e9


# --- pushing and holding: statics as a linear programme --------------------------------------------------
def least_push(resistance, friction, offset, length):
    """Least push at which a slide can just move: forces at both ends of either edge of the guide, each rubbing fully."""
    # unknowns: push, and the pressure at front and rear on the near edge and on the far edge (none may pull)
    along = [1, -friction, -friction, -friction, -friction]
    across = [0, 1, 1, -1, -1]
    turning = [offset, length / 2, -length / 2, -length / 2, length / 2]
    solved = linprog([1, 0, 0, 0, 0], A_eq=[along, across, turning], b_eq=[resistance, 0, 0])
    return solved.x[0] if solved.status == 0 else None


@vouches("push_needed", evidence="second program", source="finite_elements, balance of forces as a linear programme")
def test_push_beside_the_guide():
    """Least push found by a linear programme over all forces that can stand at the ends of the guide."""
    for case in ((300.0, 0.15, 0.08, 0.12), (120.0, 0.2, 0.11, 0.10), (50.0, 0.05, 0.2, 0.15)):
        agrees(slides.push_needed.si(*case), least_push(*case), rel=1e-7)


@vouches("jam_free_length", evidence="second program", source="finite_elements, balance of forces as a linear programme")
def test_length_at_which_a_guide_jams():
    """Length from which on a linear programme finds a push that moves the slide at all."""
    for friction, offset in ((0.15, 0.08), (0.25, 0.12)):
        found = slides.jam_free_length.si(friction, offset)
        assert least_push(100.0, friction, offset, 0.999 * found) is None
        agrees(found, _jams_at(friction, offset), rel=1e-5)


def _jams_at(friction, offset):
    """Bisection between a length that jams and one that moves."""
    low, high = 1e-4, 10.0
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if least_push(1.0, friction, offset, middle) is None else (low, middle)
    return high


def greatest_thrust(clamp, friction, base, height):
    """Thrust at centre height that a block pressed down in the middle just bears, with feet at both ends of its base."""
    # unknowns: thrust, and at the front and rear foot the pressure and the friction
    equal = [[1, 0, 0, -1, -1], [0, 1, 1, 0, 0], [height, -base / 2, base / 2, 0, 0]]
    less = [[0, -friction, 0, 1, 0], [0, 0, -friction, 0, 1], [0, -friction, 0, -1, 0], [0, 0, -friction, 0, -1]]
    bounds = [(0, None), (0, None), (0, None), (None, None), (None, None)]
    return linprog([-1, 0, 0, 0, 0], A_ub=less, b_ub=[0] * 4, A_eq=equal, b_eq=[0, clamp, 0], bounds=bounds).x[0]


@vouches("holding_thrust", evidence="second program", source="finite_elements, balance of forces as a linear programme")
def test_thrust_that_a_clamped_block_bears():
    """Greatest thrust found by a linear programme, for a block that slides first and for one that tips first."""
    for case in ((10_000.0, 0.15, 0.09, 0.075), (8_000.0, 0.3, 0.03, 0.075)):
        agrees(tailstock.holding_thrust.si(*case), greatest_thrust(*case), rel=1e-7)


# --- beds of springs -----------------------------------------------------------------------------------
def sprung_bed(load, offset, length, cells=600):
    """Pressure (a metre of length) under a rigid slide on springs that cannot pull, and how far it gives under the load; spring 1 a metre."""
    x = (np.arange(cells) + 0.5) / cells * length - length / 2
    width = length / cells
    stiff = width * np.array([[cells, x.sum()], [x.sum(), (x**2).sum()]])
    down = np.linalg.solve(stiff, [load, load * offset])
    for _ in range(200):  # cells that would pull let go
        on = down[0] + down[1] * x > 0
        stiff = width * np.array([[on.sum(), x[on].sum()], [x[on].sum(), (x[on] ** 2).sum()]])
        down = np.linalg.solve(stiff, [load, load * offset])
    return np.maximum(down[0] + down[1] * x, 0).max() + abs(down[1]) * width / 2, down[0] + down[1] * offset


@vouches(
    "guide_tilt",
    evidence="second program",
    source="finite_elements, a slide on 600 springs",
    because="springs in place of an even bed",
)
def test_tilt_of_a_slide():
    """Give under the force of a rigid slide on 600 springs, against the same with the force in the middle."""
    for offset in (0.0, 0.01, 0.019):
        agrees(slides.guide_tilt.si(offset, 0.12), sprung_bed(1.0, offset, 0.12)[1] / sprung_bed(1.0, 0.0, 0.12)[1], rel=1e-4)


@vouches(
    "peak_way_pressure",
    evidence="second program",
    source="finite_elements, a slide on 600 springs that cannot pull",
    because="springs in place of an even bed",
)
def test_pressure_under_a_slide_with_a_lifting_edge():
    """Highest pressure under a rigid slide on springs that cannot pull, until half of its face has lifted."""
    for offset in (0.0, 0.005, 0.010, 0.015, 0.0195):
        agrees(
            slides.peak_way_pressure.si(1200.0, 2, 0.02, 0.06, offset), sprung_bed(1200.0, offset, 0.06)[0] / (2 * 0.02), rel=1e-4
        )


@pytest.mark.parametrize("offset", [0.021, 0.027, 0.04])
def test_a_keep_plate_takes_hold_when_half_the_face_has_lifted(offset):
    """The pull of the keep plate at the far end with which just half of the face bears, found by trying; then the pressure, from springs."""
    load, length = 1200.0, 0.06

    def pressed(keep):
        return load + keep, (load * offset - keep * length / 2) / (load + keep)

    # a face that bears on half its length carries its load a third of the length beside the middle: a triangle
    keep = brentq(lambda pull: pressed(pull)[1] - length / 3, 0.0, 10 * load)
    peak, _ = sprung_bed(*pressed(keep), length)
    assert slides.peak_way_pressure.si(load, 1, 0.02, length, offset) == pytest.approx(peak / 0.02, rel=1e-3)


@vouches("hold_down", evidence="second program", source="definition, forces on two ways solved as equations")
@pytest.mark.parametrize(("weight", "down", "front", "out"), [(98.0, 30.0, 0.01, 15.0), (60.0, 230.0, 0.02, 90.0)])
def test_the_couple_at_which_the_rear_way_carries_nothing(weight, down, front, out):
    """Upright balance and moments about the axis; the couple is made larger until the rear way lets go."""
    apart, height = 0.09, 0.075

    def rear(times):
        moment = times * (down * front + out * height)
        ways = np.linalg.solve(np.array([[1.0, 1.0], [apart / 2, -apart / 2]]), np.array([weight + down, moment]))
        return ways[1]

    lifts = brentq(rear, 0.0, 1e3)
    agrees(slides.hold_down.si(weight + down, apart, down * front + out * height), lifts, rel=1e-9)


def test_load_on_the_carriage_next_to_the_cut_is_that_of_a_stiff_plate_on_four_springs():
    """Forces and couples of a cut on a plate that sinks, pitches and rolls on equal springs at its corners: three equations."""
    from lathe_course.design.chapters.slides import pitch_couple, rail_load, roll_couple, way_load

    length, apart, height, beside, front = 0.12, 0.09, 0.075, 0.025, 0.023
    weight, down, along, out = 6.08, 267.0, 107.0, 107.0
    corners = np.array([(x, y) for x in (-length / 2, length / 2) for y in (-apart / 2, apart / 2)])
    shape = np.column_stack([np.ones(4), corners])  # sinking of a corner, by the plate's sinking and its two slopes
    # the tool stands at (beside, front, height); pushing along and out at that height tips the plate as well
    loads = np.array([weight * 9.81 + down, down * beside + along * height, down * front + out * height])
    carried = shape @ np.linalg.solve(shape.T @ shape, loads)
    assert carried.sum() == pytest.approx(loads[0])
    found = rail_load.body(
        way_load.body(weight, down),
        pitch_couple.body(down, beside, along, height),
        roll_couple.body(down, 2 * front, out, height),
        length,
        apart,
    )
    assert found == pytest.approx(carried.max(), rel=1e-9) and found > 2 * loads[0] / 4


@vouches("gib_deflection", evidence="second program", source="finite_elements, PyNite, a strip on five screws")
def test_gib_strip_on_five_screws():
    """Mid-bay deflection of an inner bay of a long strip that is loaded over all its length."""
    bays, spacing, load, height, thick = 8, 25.0, 60.0, 10.0, 3.0
    frame = FEModel3D()
    frame.add_material("steel", E / 1e6, 79.3e3, 0.3, 7.85e-6)
    frame.add_section("strip", height * thick, height * thick**3 / 12, height * thick**3 / 12, 1.0)
    for place in range(2 * bays + 1):
        frame.add_node(f"{place}", place * spacing / 2, 0, 0)
        if place % 2 == 0:
            clamp = place in (0, 2 * bays)
            frame.def_support(f"{place}", True, True, True, True, True, clamp)
    for place in range(2 * bays):
        frame.add_member(f"m{place}", f"{place}", f"{place + 1}", "steel", "strip")
        frame.add_member_dist_load(f"m{place}", "Fy", -load / spacing, -load / spacing)
    frame.analyze(check_statics=False)
    middle = -frame.nodes[f"{bays + 1}"].DY["Combo 1"] / 1e3
    agrees(slides.gib_deflection.si(load, spacing / 1e3, height / 1e3, thick / 1e3, E), middle, rel=1e-5)


# --- crawling ------------------------------------------------------------------------------------------
@vouches(
    "crawl_step",
    evidence="second program",
    source="rabinowicz, a mass pulled through a spring, stepped through time",
    because="the pull goes on while the slide jumps, which adds a quarter of a hundredth",
)
def test_step_of_a_crawling_slide():
    """Jump of 10 kg pulled at a hundredth of a millimetre a second, from breaking loose until it stands again."""
    stiffness, mass, start, moving, pull = 1e6, 10.0, 60.0, 40.0, 1e-5

    def slide(t, state):
        where, speed = state
        return [speed, (start + stiffness * (pull * t - where) - moving) / mass]

    def stands(t, state):
        return state[1]

    stands.terminal, stands.direction = True, -1
    run = solve_ivp(slide, (0, 0.1), [0.0, 1e-12], events=stands, rtol=1e-10, atol=1e-14)
    agrees(slides.crawl_step.si(start, moving, stiffness), run.y[0, -1], rel=5e-3)


# --- screws --------------------------------------------------------------------------------------------
SCREWS = ((0.004, 0.014, 0.15, np.radians(15)), (0.002, 0.009, 0.1, np.radians(15)), (0.008, 0.03, 0.08, 0.0))


def unrolled(lead, diameter, friction, flank, up):
    """Turning force over load from the balance on the unrolled thread; unknowns are that force and the pressure of the flank."""
    slope = np.arctan(lead / (np.pi * diameter))
    rub = friction / np.cos(flank) * (1 if up else -1)
    # along the thread's travel and along the axis, for a load of one
    balance = np.array([[1.0, -(np.sin(slope) + rub * np.cos(slope))], [0.0, np.cos(slope) - rub * np.sin(slope)]])
    return np.linalg.solve(balance, [0.0, 1.0])[0]


@vouches(
    "raising_torque", "lowering_torque", evidence="second program", source="meriam, balance of forces on the unrolled thread"
)
@pytest.mark.parametrize("screw", SCREWS)
def test_torque_from_the_unrolled_thread(screw):
    """Turning force from two equations of balance, solved as they stand."""
    agrees(screws.raising_torque.si(1000.0, *screw), 1000 * unrolled(*screw, True) * screw[1] / 2, rel=1e-9)
    agrees(screws.lowering_torque.si(1000.0, *screw), -1000 * unrolled(*screw, False) * screw[1] / 2, rel=1e-9)


@vouches("self_locking_friction", evidence="second program", source="meriam, friction at which the balance turns")
@pytest.mark.parametrize("screw", SCREWS)
def test_friction_that_just_locks(screw):
    """Root of the turning force over friction, found by bisection."""
    lead, diameter, _, flank = screw
    agrees(
        screws.self_locking_friction.si(lead, diameter, flank),
        brentq(lambda rub: unrolled(lead, diameter, rub, flank, False), 1e-4, 0.9),
        rel=1e-6,
    )


@vouches(
    "screw_efficiency",
    evidence="recalled from memory",
    source="shigley, greatest efficiency of a square thread",
    because="the steepness at which it is reached was searched for",
)
def test_greatest_efficiency_of_a_square_thread():
    """Greatest efficiency at a friction of 0.1, which books give as (1 - sin φ) / (1 + sin φ): 0.819 at a lead angle of 42.1 degrees."""

    def lost(angle):
        lead = np.tan(angle) * np.pi * 0.03
        return -screws.screw_efficiency.si(1000.0, lead, screws.raising_torque.si(1000.0, lead, 0.03, 0.1, 0.0))

    best = minimize_scalar(lost, bounds=(0.1, 1.3), method="bounded", options={"xatol": 1e-9})
    agrees(-best.fun, 0.819, rel=5e-4)
    assert np.degrees(best.x) == pytest.approx(42.14, abs=0.01)


@vouches("screw_axial_stiffness", evidence="second program", source="finite_elements, PyNite, a bar pulled along its axis")
def test_screw_pulled_along_its_axis():
    """Stretch of a round bar of 7.5 mm, 120 mm long."""
    frame = FEModel3D()
    frame.add_material("steel", E / 1e6, 79.3e3, 0.3, 7.85e-6)
    frame.add_section("core", np.pi / 4 * 7.5**2, 1.0, 1.0, 1.0)
    frame.add_node("seat", 0, 0, 0)
    frame.add_node("nut", 120, 0, 0)
    frame.add_member("screw", "seat", "nut", "steel", "core")
    frame.def_support("seat", True, True, True, True, True, True)
    frame.def_support("nut", False, True, True, True, True, True)
    frame.add_node_load("nut", "FX", 500.0)
    frame.analyze(check_statics=False)
    agrees(screws.screw_axial_stiffness.si(0.0075, 0.12, E), 500.0 / (frame.nodes["nut"].DX["Combo 1"] / 1e3), rel=1e-6)


def sprung_screw(length, core, ends, mass=0.0):
    """Our own beam of 40 elements; ``ends`` names the hold of either end: 'pin', 'clamp' or 'free'."""
    beam = Beam(np.linspace(0, length, 41), E * np.pi * core**4 / 64, mass=mass)
    for place, hold in zip((0.0, length), ends):
        if hold != "free":
            getattr(beam, hold)(place)
    return beam


@vouches("whirling_speed", evidence="second program", source="finite_elements, our own, 40 elements of a beam with mass")
@pytest.mark.parametrize(
    ("root", "ends"),
    [(np.pi, ("pin", "pin")), (3.9266, ("clamp", "pin")), (4.7300, ("clamp", "clamp")), (1.8751, ("clamp", "free"))],
)
def test_whirling_of_a_screw(root, ends):
    """First frequency of a bar of 15.5 mm, 500 mm long, on four pairs of ends."""
    first = sprung_screw(0.5, 0.0155, ends, 7800 * np.pi / 4 * 0.0155**2).frequencies()[0]
    agrees(screws.whirling_speed.si(root, 0.0155, 0.5, E, 7800.0), first, rel=1e-4)


def euler_load(core, length, ends, elements=40):
    """Least thrust at which a straight bar springs out, from its bending and its geometric stiffness."""
    beam = sprung_screw(length, core, ends)
    geometric = np.zeros_like(beam.k)
    l = length / elements
    for i in range(elements):
        own = slice(2 * i, 2 * i + 4)
        geometric[own, own] += np.array(
            [
                [36, 3 * l, -36, 3 * l],
                [3 * l, 4 * l**2, -3 * l, -(l**2)],
                [-36, -3 * l, 36, -3 * l],
                [3 * l, -(l**2), -3 * l, 4 * l**2],
            ]
        ) / (30 * l)
    free = np.setdiff1d(np.arange(len(beam.k)), beam.held)
    return 1 / eigh(geometric[np.ix_(free, free)], beam.k[np.ix_(free, free)], eigvals_only=True)[-1]


@vouches(
    "screw_buckling_load",
    evidence="second program",
    source="finite_elements, our own, geometric stiffness of 40 elements",
    because="books round 2.046 down to 2 for one clamped end",
)
@pytest.mark.parametrize(
    ("factor", "ends", "apart"),
    [
        (1.0, ("pin", "pin"), 1e-5),
        (2.0, ("clamp", "pin"), 0.024),
        (4.0, ("clamp", "clamp"), 1e-4),
        (0.25, ("clamp", "free"), 1e-5),
    ],
)
def test_buckling_of_a_slender_screw(factor, ends, apart):
    """Least thrust of a slender bar, as an eigenvalue of its bending against its geometric stiffness."""
    agrees(screws.screw_buckling_load.si(0.0105, 1.0, E, 400e6, factor), euler_load(0.0105, 1.0, ends), rel=apart)


# --- tailstock -----------------------------------------------------------------------------------------
@vouches("barrel_compliance", evidence="second program", source="finite_elements, PyNite, a clamped tube")
def test_barrel_standing_out():
    """Tip of a clamped tube of 28 over 16 mm, 60 mm long."""
    inertia = np.pi * (28**4 - 16**4) / 64
    frame = FEModel3D()
    frame.add_material("steel", E / 1e6, 79.3e3, 0.3, 7.85e-6)
    frame.add_section("tube", np.pi / 4 * (28**2 - 16**2), inertia, inertia, 2 * inertia)
    frame.add_node("mouth", 0, 0, 0)
    frame.add_node("nose", 60, 0, 0)
    frame.add_member("barrel", "mouth", "nose", "steel", "tube")
    frame.def_support("mouth", True, True, True, True, True, True)
    frame.add_node_load("nose", "FY", 1000.0)
    frame.analyze(check_statics=False)
    agrees(tailstock.barrel_compliance.si(0.06, 0.028, 0.016, E), frame.nodes["nose"].DY["Combo 1"] / 1e3 / 1000.0, rel=1e-5)


@vouches("taper_torque", evidence="second program", source="shigley, uniform wear, summed over the cone by quadrature")
def test_torque_of_a_taper():
    """Friction summed over the cone, its pressure falling with the radius as even wear leaves it."""
    friction, thrust, large, small, half = 0.1, 900.0, 0.01778, 0.01453, np.radians(1.43)
    along = 2 * np.pi  # pressure is one over the radius; the cone is cut into rings
    pressed = quad(lambda r: 1 / r * along * r, small / 2, large / 2)[0]  # thrust for that pressure
    turned = quad(lambda r: friction / r * along * r * r / np.sin(half), small / 2, large / 2)[0]
    agrees(tailstock.taper_torque.si(friction, thrust, large, small, half), thrust * turned / pressed, rel=1e-9)
