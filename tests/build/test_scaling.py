"""The list at other sizes: itself at its own, larger for a larger lathe, and in arrays the same as one by one."""
import numpy as np
import pytest
from demo_build import CHOICES, DEMOS, PARTS

from lathe_course.build.capabilities import read_needs
from lathe_course.build.parts import course_parts
from lathe_course.build.scaling import columns, exponents, grown_need, growth, scaled, usual_bed_length
from lathe_course.build.shops import demo_machines, shop_of
from lathe_course.design.chapters.bed import bed_length
from lathe_course.tables import table


def test_at_its_own_size_the_list_is_as_it_was():
    assert scaled(PARTS, 0.075, 0.3) == PARTS


def test_a_row_written_for_another_size_is_left_alone_there():
    bars = course_parts().for_design({**CHOICES, "bed_form": "two round bars"})
    assert scaled(bars, 0.05, 0.15)["bed bars"] == bars["bed bars"]
    assert scaled(bars, 0.075, 0.3)["bed bars"].stock_mass > 2 * bars["bed bars"].stock_mass


def test_arrays_agree_with_one_size_at_a_time():
    of = columns(PARTS)
    heights, lengths = np.array([0.05, 0.075, 0.11]), np.array([0.15, 0.3, 0.5])
    factors = growth(of, heights, lengths)
    for place, (height, length) in enumerate(zip(heights, lengths)):
        there = scaled(PARTS, float(height), float(length))
        for figure in ("hours", "material", "outside", "carriage"):
            found = getattr(of, figure).likely * factors[figure][place]
            assert found == pytest.approx([getattr(way, figure).likely for way in there.ways]), figure
        assert of.finished_mass * factors["mass"][place] == pytest.approx([there[way.part].finished_mass for way in there.ways])


def test_draws_of_the_powers_spread_away_from_the_size_of_the_rows_and_not_at_it():
    rng = np.random.default_rng(3)
    powers = {name: rng.triangular(*power, 500) if power.spread else np.full(500, power.likely) for name, power in exponents().items()}
    of = columns(PARTS)
    here, larger = growth(of, 0.075, 0.3, powers)["hours"], growth(of, 0.11, 0.5, powers)["hours"]
    assert here.shape == larger.shape == (500, len(PARTS.ways))
    assert np.allclose(here, 1) and np.ptp(larger, axis=0).min() > 0.01
    grown = growth(of, np.linspace(0.05, 0.11, 7), 0.3)["material"]
    assert grown.shape == (7, len(PARTS.ways)) and np.all(np.diff(grown, axis=0) >= 0)


def test_only_what_is_as_long_as_the_bed_grows_with_the_distance_between_centres():
    longer = scaled(PARTS, 0.075, 0.5)
    changed = {one.name for one in PARTS if longer[one.name].stock_mass != one.stock_mass}
    assert changed == {one.name for one in PARTS if one.length_share} and "bed plate" in changed and "spindle" not in changed
    assert longer["bed plate"].stock_mass / PARTS["bed plate"].stock_mass == pytest.approx((0.5 + 0.3375) / 0.6375)


def test_needs_grow_along_the_bed_and_across_it():
    (need,) = read_needs("milling 650 x 120 mm to 0.03 mm")
    assert grown_need(need, 2.0, 1.5).size == pytest.approx((0.975, 0.24)) and grown_need(need, 2.0, 1.5).accuracy == need.accuracy
    (hole,) = read_needs("drilling 11 mm")
    assert grown_need(hole, 2.0, 1.5).size == pytest.approx((0.022,)), "a bolt does not grow with the length of the bed"


@pytest.mark.parametrize("demo", DEMOS)
def test_each_demo_has_a_whole_list_and_a_mass_inside_the_table_of_sizes(demo):
    """A tenth beyond the bounds is allowed, for the demos carry what the bounds leave out: a filled bed, covers, a tray."""
    height, length, _, changes = DEMOS[demo]
    made = scaled(course_parts().for_design({**CHOICES, **changes}), height, length)
    row = next(row for row in table("sizes").values() if row["centre_height"] == pytest.approx(height))
    mass = sum(one.finished_mass for one in made)
    assert 0.9 * row["mass"].low <= mass <= 1.12 * row["mass"].high
    assert shop_of(demo_machines(demo)).capabilities


def test_the_bed_is_as_long_as_chapter_07_makes_it():
    sizes = {"between_centres": 0.3, "centre_height": 0.075}
    assert bed_length.body(*(sizes[name] for name in bed_length.inputs)) == pytest.approx(usual_bed_length(0.075, 0.3))
