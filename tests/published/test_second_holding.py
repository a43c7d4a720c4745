"""Work held in chuck, chuck and centre and between centres: a bed twisted slice by slice in space, and a bar bent by finite elements."""

import numpy as np
import pytest
from evidence import agrees, vouches
from numpy.testing import assert_allclose
from Pynite import FEModel3D

from lathe_course.machine import alignment, holding, supports

E = 207e3  # N/mm²


def held_bar(length, root, end, cells=24):
    """Sideways places, mm, of a bar held fast in a chuck that points aside by the slope ``root`` and carried at ``end`` by a centre."""
    frame = FEModel3D()
    frame.add_material("steel", E, 79.3e3, 0.3, 7.85e-6)
    moment = np.pi / 64 * 18.0**4
    frame.add_section("bar", np.pi / 4 * 18.0**2, moment, moment, 2 * moment)
    for place in range(cells + 1):
        frame.add_node(f"{place}", place * length / cells, 0, 0)
    for place in range(cells):
        frame.add_member(f"m{place}", f"{place}", f"{place + 1}", "steel", "bar")
    frame.def_support("0", True, True, True, True, True, True)
    frame.def_support(f"{cells}", False, True, True, False, False, False)
    frame.def_node_disp("0", "RZ", root)
    frame.def_node_disp(f"{cells}", "DY", end)
    frame.analyze_linear(check_statics=False)
    return np.array([frame.nodes[f"{place}"].DY["Combo 1"] for place in range(cells + 1)])


@vouches(
    "bow_at", evidence="second program", source="finite_elements, PyNite, a bar held at one end whose other end is set aside"
)
@pytest.mark.parametrize("cause", ["the tail end of the bed twists away", "the chuck points past the centre"])
def test_a_centre_leaves_a_bow_of_a_fifth(cause):
    """The bar bent by its centre, against the line of the tool; both causes leave the same bow."""
    length, error = 150.0, 0.02
    x = np.linspace(0, length, 25)
    off = (
        error * x / length - held_bar(length, 0.0, error)
        if cause.startswith("the tail")
        else held_bar(length, error / length, 0.0)
    )
    agrees(holding.bow_at.si(error, x[1:-1], length), off[1:-1], rel=1e-6)
    assert off.max() / error == pytest.approx(holding.BOW, rel=2e-3) and off[[0, -1]] == pytest.approx([0, 0], abs=1e-9)


# --- a bed twisted in space -------------------------------------------------------------------------------
LEVER, RADIUS, LENGTH = 0.115, 0.009, 0.28


def turned(point, angle):
    """A point (across, up) above the line of twist, carried round by a slice of the bed."""
    across, up = point
    return np.array([np.cos(angle) * across + np.sin(angle) * up, np.cos(angle) * up - np.sin(angle) * across])


def diameters(twist, carried):
    """Diameter along the work: the tool rides on its own slice; the axis runs from the headstock to a tail end that rides on its slice, or does not."""
    x = np.linspace(0, LENGTH, 57)
    tail = turned((0.0, LEVER), twist(LENGTH)) if carried else np.array([0.0, LEVER])
    axis = np.array([0.0, LEVER]) + np.outer(x / LENGTH, tail - (0.0, LEVER))
    tool = np.array([turned((RADIUS, LEVER), twist(one)) for one in x])
    return 2 * np.hypot(*(tool - axis).T)


def test_an_even_twist_turns_a_taper_in_the_chuck_and_none_between_centres():
    whole = 1e-4
    chuck, centres = (diameters(lambda x: whole * x / LENGTH, carried) for carried in (False, True))
    assert np.ptp(chuck) == pytest.approx(2 * LEVER * whole, rel=1e-3)
    assert supports.twist_on_diameter.si(LEVER, whole, holding.twist_reach(holding.CHUCK, 1.0)) == pytest.approx(
        np.ptp(chuck), rel=1e-3
    )
    # of the second order: the square of the lift of the tail end over the radius
    assert np.ptp(centres) < 2e-3 * np.ptp(chuck)
    assert holding.twist_reach(holding.CENTRES, 1.0) == 0


@vouches(
    "even_share",
    evidence="second program",
    source="geometry_in_space, a bed of slices twisted between its feet alone",
    because="angles of a ten-thousandth",
)
@pytest.mark.parametrize("spacing", [0.07, 0.14, 0.21, 0.28, 0.4])
def test_work_longer_than_the_feet_are_apart_keeps_what_is_uneven(spacing):
    """Diameter along work between centres whose middle is that of the feet, over what the chuck would show."""
    whole = 1e-4

    def twist(x):
        return whole * (np.clip((x - LENGTH / 2) / spacing, -0.5, 0.5) - (0.0 if spacing < LENGTH else -LENGTH / 2 / spacing))

    shift = twist(0.0)
    found = np.ptp(diameters(lambda x: twist(x) - shift, True))
    seen = 2 * LEVER * (twist(LENGTH) - shift)
    agrees(1 - holding.even_share.si(spacing, LENGTH, 0.0) + 1.0, found / seen + 1.0, rel=2e-3)


def test_an_axis_that_leans_turns_a_taper_in_the_chuck_a_bow_with_a_centre_and_none_between_centres():
    """Over a bar of 150 mm the axis swings by 8 µm; half as long work shows half of it, on both sides."""
    assert alignment.taper_from_axis.si(8e-6, 0.15, 0.075, holding.side_reach(holding.CHUCK)) == pytest.approx(8e-6)
    bow = held_bar(75.0, 8e-3 / 150, 0.0)  # mm; the chuck points aside, the centre stands true
    found = alignment.taper_from_axis.si(8e-6, 0.15, 0.075, holding.side_reach(holding.CHUCK_AND_CENTRE))
    assert found == pytest.approx(2 * np.ptp(bow) * 1e-3, rel=2e-3)
    assert alignment.taper_from_axis.si(8e-6, 0.15, 0.075, holding.side_reach(holding.CENTRES)) == 0


@vouches("foot_lift", evidence="second program", source="geometry_in_space, a bed of slices twisted between its feet alone")
@pytest.mark.parametrize(("spacing", "read"), [(0.4, 0.2), (0.4, 0.4), (0.3, 0.5)])
def test_a_foot_takes_the_twist_away_wherever_the_level_was_read(spacing, read):
    """A corner lifted twists the bed between its feet; the level read closer together than they stand sees a part of it."""
    width, lift = 0.12, 30e-6
    slices = np.linspace(-0.4, 0.4, 8001)
    angle = lift / width * np.clip(slices / spacing + 0.5, 0, 1)
    seen = np.interp(read / 2, slices, angle) - np.interp(-read / 2, slices, angle)
    agrees(alignment.foot_lift.si(seen, width, spacing, read), lift, rel=1e-6)


def test_holdings_proposed_by_length_over_diameter():
    assert [holding.holding_for(length, 1.0) for length in (0.2, 0.3, 4.0, 4.1, 10.0, 10.1)] == [
        "faceplate",
        "chuck alone",
        "chuck alone",
        "chuck and centre",
        "chuck and centre",
        "between centres",
    ]
    assert_allclose([holding.twist_reach(how, 0.9) for how in holding.HOLDINGS], [1, 0.1 + 0.9 * holding.BOW, 0.1, 1])
    assert [holding.offset_reach(how) for how in holding.HOLDINGS] == [0, 1, 1, 0]
