"""Second programs for the turning spindle: ross on ten spindles, a textbook's shaft with two gears, PyNite without shear."""

import dataclasses
import itertools

import numpy as np
import pytest
from evidence import agrees, vouches
from later import Later
from ross_spindle import SPINDLES, STEEL, Spindle, bent, searched, whirl

from lathe_course.machine import rotor
from lathe_course.machine import spindle as s
from lathe_course.machine.sections import tube_moment

FEModel3D = Later("Pynite", "FEModel3D")

ELASTIC = {name: STEEL[name] for name in ("elastic_modulus", "shear_modulus")}
each = pytest.mark.parametrize(
    "one", SPINDLES, ids=[f"{one.diameter * 1e3:.0f}mm-{number}" for number, one in enumerate(SPINDLES)]
)


def whirling(one: Spindle, **changes: float) -> float:
    given = {name: value for name, value in dataclasses.asdict(one).items() if name != "reach"}
    return float(rotor.critical_speed.si(**(given | STEEL | changes)))


def shape(one: Spindle) -> tuple[float, ...]:
    return one.overhang, one.span, one.reach, one.diameter, one.bore


@vouches(
    "shaft_compliance",
    "spindle_compliance",
    "bearing_slope",
    evidence="second program",
    source="finite_elements, ross, beam with shear after Cowper",
)
@each
def test_deflection_and_slope_of_ten_spindles_in_ross(one):
    """Give at the cut and slope in the front bearing of ten spindles, against a rotor-dynamics library that carries shear."""
    give, slope = bent(one)
    shaft = s.shaft_compliance.si(*shape(one), *ELASTIC.values())
    bearings = s.bearing_compliance.si(one.overhang, one.span, one.reach, one.front_stiffness, one.rear_stiffness)
    agrees(s.spindle_compliance.si(shaft, bearings), give, rel=5e-3)
    agrees(s.bearing_slope.si(1.0, *shape(one), one.front_stiffness, one.rear_stiffness, *ELASTIC.values()), slope, rel=5e-3)


@vouches("critical_speed", evidence="second program", source="finite_elements, ross, critical speeds with gyroscopic effect")
@each
def test_critical_speed_of_ten_spindles_in_ross(one):
    """First forward critical speed of ten spindles with chuck and pulley, against a rotor-dynamics library."""
    agrees(whirling(one), whirl(one), rel=5e-3)


def test_the_critical_speed_read_from_its_matrices_is_the_one_the_library_finds():
    backward, forward = searched(SPINDLES[1], 2)[:2]
    assert backward < forward == pytest.approx(whirl(SPINDLES[1], 2), rel=1e-5)


@vouches("bearing_slope", evidence="second program", source="finite_elements, PyNite, a beam on two springs, without shear")
@each
def test_slope_and_give_in_a_frame_without_shear(one):
    """Give and slope in a frame program that leaves shear out: the same once our share of shear is taken off."""
    frame = FEModel3D()
    frame.add_material("steel", 207e3, 79.3e3, 0.3, 7.85e-6)
    moment = np.pi * ((one.diameter * 1e3) ** 4 - (one.bore * 1e3) ** 4) / 64
    frame.add_section("shaft", 600, moment, moment, 2 * moment)
    frame.add_section("chuck", 6e4, moment * 1e5, moment * 1e5, moment * 1e5)
    stations = np.cumsum([0.0, one.span, one.overhang] + ([one.reach] if one.reach else [])) * 1e3
    for number, x in enumerate(stations):
        frame.add_node(str(number), float(x), 0, 0)
    for a, b in itertools.pairwise(range(len(stations))):
        frame.add_member(f"m{a}", str(a), str(b), "steel", "chuck" if b == 3 else "shaft")
    frame.def_support("0", support_DX=True, support_DZ=True, support_RX=True)
    frame.def_support("1", support_DZ=True)
    frame.def_support_spring("0", "DY", one.rear_stiffness / 1e3)
    frame.def_support_spring("1", "DY", one.front_stiffness / 1e3)
    frame.add_node_load(str(len(stations) - 1), "FY", 1000.0)
    frame.analyze(check_statics=False)
    shear = s.shaft_shear_compliance.si(*shape(one), *ELASTIC.values())
    give = s.shaft_compliance.si(*shape(one), *ELASTIC.values()) - shear
    give += s.bearing_compliance.si(one.overhang, one.span, one.reach, one.front_stiffness, one.rear_stiffness)
    agrees(give, frame.nodes[str(len(stations) - 1)].DY["Combo 1"] * 1e-6, rel=1e-3)
    sheared = (
        (one.overhang + one.reach)
        / one.span
        / (
            s.shear_coefficient.si(one.diameter, one.bore, *ELASTIC.values())
            * ELASTIC["shear_modulus"]
            * np.pi
            * (one.diameter**2 - one.bore**2)
            / 4
        )
    )
    slope = s.bearing_slope.si(1.0, *shape(one), one.front_stiffness, one.rear_stiffness, *ELASTIC.values()) - sheared
    agrees(slope, frame.nodes["1"].RZ["Combo 1"] * 1e-3, rel=1e-3)


def test_without_shear_a_short_spindle_looks_stiffer_than_it_is():
    """The difference to a program that leaves shear out is shear alone: a fortieth of the give on a slim spindle, a fifth on a stout one."""
    share = [
        s.shaft_shear_compliance.si(*shape(one), *ELASTIC.values()) / s.shaft_compliance.si(*shape(one), *ELASTIC.values())
        for one in SPINDLES
    ]
    assert min(share) < 0.03 and 0.2 < max(share) < 0.3


# --- the elements by themselves ----------------------------------------------------------------------------
INCH, LBF = 0.0254, 4.4482216152605


def two_gears(density: float) -> float:
    """First critical speed of a bare one-inch shaft of 31 inch with 35 lbf at 7 inch and 55 lbf at 20 inch, rad/s."""
    span, modulus = 31 * INCH, 30e6 * LBF / INCH**2
    moment, area = tube_moment.si(INCH, 0.0), np.pi * INCH**2 / 4
    lengths = np.array([7.0, 6.5, 6.5, 5.5, 5.5]) / 31
    bends, moves, _ = rotor.beam_elements(lengths, np.zeros(5), np.zeros(5))
    unit = modulus * moment / span**3
    stiffness, mass = rotor._assembled(bends) * unit, rotor._assembled(moves) * max(density, 1e-9) * area * span
    for node, load in ((1, 35), (3, 55)):
        mass[2 * node, 2 * node] += load * LBF / 9.80665
    free = [n for n in range(12) if n not in (0, 10)]
    return float(np.sqrt(rotor.first_whirl(stiffness[np.ix_(free, free)], mass[np.ix_(free, free)])))


def test_a_textbook_shaft_with_two_gears():
    """Between Dunkerley's 120.3 and Rayleigh's 124.8 rad/s, as Shigley prints them; with the shaft's own mass 121.3 in ross."""
    massless = two_gears(0.0)
    assert 120.3 < massless < 124.8 and massless == pytest.approx(124.7, rel=3e-3)
    assert two_gears(0.282 * LBF / INCH**3 / 9.80665) == pytest.approx(121.28, rel=2e-3)


def test_a_bare_shaft_on_two_supports_rings_as_the_series_says():
    """π² √(EI/ρA) / l² without shear; Shigley prints 520.4 rad/s for the bare shaft of the example."""
    lengths = np.full(6, 1 / 6)
    bends, moves, _ = rotor.beam_elements(lengths, np.zeros(6), np.zeros(6))
    free = [n for n in range(14) if n not in (0, 12)]
    square = rotor.first_whirl(*(rotor._assembled(one)[np.ix_(free, free)] for one in (bends, moves)))
    assert square == pytest.approx(np.pi**4, rel=2e-4)
    modulus, density, length = 30e6 * LBF / INCH**2, 0.282 * LBF / INCH**3 / 9.80665, 31 * INCH
    stretch = modulus * INCH**2 / 16 / density / length**4
    assert np.sqrt(square * stretch) == pytest.approx(520.4, rel=3e-3)
