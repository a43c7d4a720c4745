"""A design worked out: reading values and spreads, and which figure blurs a result most."""

import weakref
from dataclasses import replace

import numpy as np
import pytest
from toys import chain, choice, decision, design_on, figure, named

from lathe_course.design.building import note_of
from lathe_course.design.chain.entries import result
from lathe_course.design.demos import demo
from lathe_course.design.evaluation import blurred_by, evaluate
from lathe_course.design.lathe import LATHE
from lathe_course.ranges import Range
from lathe_course.units import Length


def bundle(width):
    """Figures that only serve other results."""
    return {"a": width}


WIDE = chain(
    decision("width"),
    choice("form", "round", "square"),
    figure("strong", 0.5, 1, 2),
    figure("weak", 0.99, 1, 1.01),
    figure("idle", 1, 2, 3),
    figure("against", 0.9, 1, 1.1),
    named("total", lambda width, strong, weak, against: width * strong * weak / against, Length("mm")),
    result(None, "the bundle", "01")(bundle),
)


@pytest.fixture(scope="module")
def cloud():
    return evaluate(design_on(WIDE, width=0.02, form="round"), draws=2000)


def test_an_evaluation_reads_like_a_mapping(cloud):
    assert cloud["width"] == 0.02 and "total" in cloud and len(cloud) == len(list(cloud)) == len(dict(cloud))


def test_the_middle_is_the_median_and_the_spread_the_middle_four_fifths(cloud):
    assert cloud.middle("total") == np.median(cloud["total"]) and cloud.middle("width") == 0.02
    low, middle, high = cloud.spread("total")
    assert np.mean(cloud["total"] < low) == pytest.approx(0.1, abs=1e-3) and np.mean(cloud["total"] > high) == pytest.approx(
        0.1, abs=1e-3
    )
    assert low < middle < high and cloud.spread("width") == (0.02, 0.02, 0.02)
    assert cloud.spread("total", (0.25, 0.75)) == pytest.approx(np.quantile(cloud["total"], [0.25, 0.75]))


def test_a_spread_is_told_as_two_ends_and_one_unit(cloud):
    assert cloud.shown_spread("width") == "20 mm"
    low, high = cloud.shown_spread("total").removesuffix(" mm").split(" to ")
    assert float(low) < 20 < float(high)
    assert evaluate(cloud.design, draws=5).shown_spread("weak") == "1"  # both ends alike once rounded


def test_a_value_is_shown_in_the_learners_units(cloud):
    assert cloud.shown("width") == "20 mm" and cloud.shown("form") == "round" and cloud.shown("bundle") == ""
    assert evaluate(replace(cloud.design, system="inch")).shown("width") == "0.787 in"
    assert str(evaluate(cloud.design).quantity("total").units) == "millimeter"


def test_the_figure_that_blurs_a_result_most_comes_first(cloud):
    found = blurred_by(cloud, "total")
    assert [one.name for one in found] == ["strong", "against", "weak"]
    assert found[0].weight > 0.95 and found[0].label == "the strong"
    assert found[1].weight < 0 < found[2].weight  # more against is less in total


def test_what_is_certain_is_blurred_by_nothing(cloud):
    assert blurred_by(cloud, "width") == []


def test_without_draws_nobody_can_say_what_blurs(cloud):
    with pytest.raises(ValueError, match="needs an evaluation with draws"):
        blurred_by(evaluate(cloud.design), "total")


def test_a_decision_left_as_a_range_blurs_too():
    design = design_on(WIDE, width=Range(0.001, 0.02, 0.1), form="round")
    assert blurred_by(evaluate(design, draws=1000), "total")[0].name == "width"


def test_the_months_of_a_lathe_are_blurred_most_by_its_hours():
    found = blurred_by(evaluate(demo(), draws=1000), "months_to_finish")
    first = {one.name: one.weight for one in found[:3]}
    assert set(first) == {"hours_kept", "price_level", "own_pace"} and first["hours_kept"] < 0 < min(
        first["own_pace"], first["price_level"]
    )
    assert {one.name for one in found} <= set(LATHE.figures)


def test_draws_of_a_lathe_keep_to_the_shape_and_scatter_about_the_single_case():
    single, cloud = evaluate(demo()), evaluate(demo(), draws=500)
    for name in (*LATHE.figures, *LATHE.results):
        if LATHE.part(name).kind is not None:
            assert np.shape(cloud[name]) in ((), (500,)) and np.all(np.isfinite(cloud[name])), name
            if not np.ptp(cloud[name]) and LATHE.part(name).chapter in (
                "11",
                "16",
            ):  # told of the draws as a whole, or by sums in their place; a plan is one plan
                assert cloud[name] == pytest.approx(single[name], rel=0.08), name
                continue
            if (
                single[name] == 0
            ):  # likely nothing at all, such as moves of a settled home: the draws only come near it, or it is not asked
                continue
            hair = 1e-9 * abs(single[name])
            assert np.min(cloud[name]) - hair <= single[name] <= np.max(cloud[name]) + hair, name


def test_a_result_that_calls_no_formula_has_no_working():
    e = evaluate(demo())
    assert e.workings("build_hours_can", "centre_height", "damping") == ()
    assert e.workings("cutting_force")[0].result == pytest.approx(e["cutting_force"])


def test_a_figure_out_of_a_bundle_shows_what_leads_to_it_alone():
    e = evaluate(demo())
    for name, formulas in (
        ("bed_torsion", {"box_torsion", "plate_torsion", "filled_box_torsion"}),
        ("least_wrap", {"wrap_angle"}),
    ):
        worked = e.workings(name)
        assert worked[-1].result == e[name] and {one.formula.name for one in worked} <= formulas, name
    assert len(e.workings("bed_section")) > len(e.workings("bed_torsion"))


def test_some_figures_alone_are_what_the_whole_gives():
    whole = evaluate(demo())
    for earlier in (None, whole):
        changed = demo().trying(bed_wall=0.008)
        some = evaluate(changed, earlier=earlier, wanted=("bed_mass", "bed_compliance"))
        every = evaluate(changed)
        assert some["bed_mass"] == every["bed_mass"] and some["bed_compliance"] == every["bed_compliance"]
        assert some["bed_section"]["area"] == every["bed_section"]["area"] and "own_hours" not in some and len(some) < len(every)


def test_what_never_comes_is_told_in_a_word():
    """A lathe for which a part cannot be had is never done, with draws and without; money that hardly suffices ends some builds and others never."""
    stuck = replace(demo(), notes={note_of(part): "chosen" for part in demo().ways}).trying(
        centre_height=0.1
    )  # ways of one's own do not give place
    for draws in (None, 100):
        e = evaluate(stuck, draws)
        assert e["parts_stuck"] > 0 and e.shown("months_to_finish") == e.shown_spread("months_to_finish") == "never"
    assert evaluate(demo(), 100).shown_spread("months_to_finish").endswith(" months")


# --- worked out once ------------------------------------------------------------------------------------
def test_what_is_in_use_is_shared_and_what_nobody_holds_goes():
    design = replace(demo())
    drawn, plain = evaluate(design, 50), evaluate(design)
    assert evaluate(design, 50) is drawn and drawn.central is plain is evaluate(design) and evaluate(design, 60) is not drawn
    assert evaluate(replace(design)) is not plain and evaluate(design, wanted=["parts_mass"]) is not plain
    mass, gone = plain["parts_mass"], weakref.ref(plain)
    assert plain.drawn(50) is drawn
    del plain
    assert drawn.findings and gone() is None and drawn.central["parts_mass"] == mass and drawn.central is drawn.central
