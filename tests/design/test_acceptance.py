"""The tests of a finished lathe: their order, their limits, and whose limit counts."""

import numpy as np
import pytest

from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.evaluation import evaluate
from lathe_course.design.jobs import Job, Jobs
from lathe_course.design.measured.acceptance import CLASSES, TESTS, allowed, called_for, in_order, leaning_on
from lathe_course.design.measured.readings_judged import LAYOUTS, asked_for

BOAT = evaluate(demo("boat_shed"))


def test_fourteen_tests_each_with_words_and_limits_that_open_with_the_class():
    assert {test.number for test in TESTS.values()} == set(range(1, 15))
    for test in TESTS.values():
        toolroom, general, hobby = (test.limits[one] for one in CLASSES)
        assert 0.004e-3 < toolroom < general < hobby <= 0.08e-3
        assert test.reading in LAYOUTS and test.sense in ("either", "plus", "total") and asked_for(test)
        assert test.instrument and test.set_up and test.failing
        assert set(test.leans_on) <= set(TESTS)


def test_each_test_comes_after_all_it_leans_on():
    order = in_order()
    assert sorted(order) == sorted(TESTS)
    for place, name in enumerate(order):
        assert set(TESTS[name].leans_on) <= set(order[:place])
    assert order.index("level across") == 0
    assert order.index("slip of the screw") < order.index("lead of the screw")
    assert {"bed straight", "level across", "nose run-out", "axial slip"} <= leaning_on("collars")


# Schlesinger's chart for finish-turning lathes, recalled from memory (the spindle against the bed: seen in public text).
# The straightness is that of ISO 1708:1989 for up to 500 mm between centres, recalled from memory as well.
# Ours for the class between are those of small machines; where they differ, the difference is this, and told.
CHART = [
    ("axial slip", 0.010, None, 1.0),
    ("taper run-out", 0.010, None, 1.0),
    ("taper run-out at the end", 0.015, None, 1.0),
    ("axis rises", 0.020, 300, 1.0),
    ("axis sideways", 0.020, 300, 0.8),
    ("tailstock height", 0.020, None, 1.5),
    ("level across", 0.020, 1000, 2.0),
    ("bed straight", 0.010, None, 1.5),
]


@pytest.mark.parametrize(("name", "chart", "over", "ratio"), CHART)
def test_limits_of_the_general_class_against_an_old_chart(name, chart, over, ratio):
    """Run-out 150 mm out is read between the chart's nose and 300 mm.  Ours are wider for level, straightness and tailstock height, closer sideways."""
    test = TESTS[name]
    ours = test.limits["general"] * 1e3
    if over is not None:
        ours *= over / (test.over * 1e3)
    assert ours / chart == pytest.approx(ratio, rel=1e-9)


@pytest.mark.parametrize("name", DEMOS)
def test_toolroom_is_about_half_of_general_as_the_chart_says(name):
    ratios = [test.limits["toolroom"] / test.limits["general"] for test in TESTS.values()]
    assert min(ratios) > 0.3 and max(ratios) <= 0.75 and np.median(ratios) == pytest.approx(0.5, abs=0.1)


def may(name, over=None, **changes):
    values = dict(BOAT)
    values.update({"jobs": Jobs(), **changes})
    return allowed(TESTS[name], values, over)


def test_the_tighter_of_class_and_own_work_counts():
    found = may("axis sideways", 0.15)
    assert found.by_class == pytest.approx(8e-6)
    # 30 % of 20 µm on 60 mm, on both sides: 3 µm in 60, so 7.5 in 150
    assert found.by_work == pytest.approx(7.5e-6) and found.limit == found.by_work and found.from_work
    coarse = may("axis sideways", 0.15, tolerance=50e-6)
    assert coarse.limit == coarse.by_class and not coarse.from_work


def test_a_limit_goes_with_the_length_and_stops_at_the_least():
    assert may("axis rises", 0.3).by_class == pytest.approx(20e-6)
    assert may("axis rises", 0.03).by_class == pytest.approx(5e-6)
    assert may("nose run-out").by_class == pytest.approx(10e-6) and may("nose run-out").by_work is None


def test_a_level_is_allowed_a_slope():
    found = may("level across", 0.4)
    assert found.by_class == pytest.approx(0.04e-3)
    # 6 µm on 60 mm is 40 on 400; half of that at the tool, 115 mm above the line of twist of a box 80 high
    assert found.by_work == pytest.approx(20e-6 / 0.115)
    assert may("level across", 0.4, tolerance=2e-6).from_work


@pytest.mark.parametrize(
    ("support", "matter"),
    [
        ("chuck alone", {"axis sideways", "collars"}),
        ("faceplate", {"axis sideways", "collars"}),
        ("between centres", {"bar between centres"}),
        ("chuck and centre", {"axis sideways", "collars", "bar between centres"}),
    ],
)
def test_only_what_reaches_the_work_is_asked_by_the_work(support, matter):
    asks = {name for name in TESTS if may(name, work_support=support).by_work is not None}
    assert asks == matter | {"level across", "roundness"}


def test_a_centre_leaves_a_fifth_of_the_axis_and_centres_none_of_an_even_twist():
    chuck, centre = (
        may("axis sideways", 0.15, work_support=how, tolerance=100e-6).wished for how in ("chuck alone", "chuck and centre")
    )
    assert centre / chuck == pytest.approx(3 * 3**0.5)
    chuck, centres = (
        may("level across", 0.3, work_support=how, twist_unevenness=0.1).wished for how in ("chuck alone", "between centres")
    )
    assert centres / chuck == pytest.approx(10)


def test_the_job_that_asks_most_is_named_and_nobody_is_asked_for_less_than_can_be_read():
    bush = Job.read(
        {
            "name": "bush",
            "material": "bronze",
            "diameter": "60 mm",
            "length": "90 mm",
            "tolerance": "10 µm",
            "roughness": "1.6 µm",
            "share": "1",
        }
    )
    found = may("collars", 0.1, jobs=Jobs([bush]))
    # 3 µm of 10, told on the diameter of 90 mm: 3.3 in 100, and nobody reads less than 5
    assert (
        found.work.name == "bush" and found.wished == pytest.approx(3e-6 / 0.9) and found.by_work == 5e-6 and found.beyond_reading
    )
    assert may("level across", 0.4, tolerance=1e-7).by_work == 1e-5


def test_no_test_is_asked_of_what_the_lathe_has_not():
    """The cabin turns on a solid block and cuts no threads."""
    assert called_for(BOAT) == in_order()
    assert set(in_order()) - set(called_for(evaluate(demo("cabin")))) == {
        "topslide level",
        "slip of the screw",
        "lead of the screw",
    }
    assert all(
        set(TESTS[name].leans_on) <= set(called_for(evaluate(demo("cabin")))) for name in called_for(evaluate(demo("cabin")))
    )
