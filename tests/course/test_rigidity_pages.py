"""The pages of chapter 08: shares, remedies, directions and readings, against the chain they speak of."""

import re

import numpy as np
import pytest
from matplotlib.figure import Figure
from tiers import short_of

from lathe_course import units
from lathe_course.course import open_chapter
from lathe_course.course.pages import rigidity as pages
from lathe_course.course.pictures.register import PICTURES
from lathe_course.design.asked.stiffening import savings
from lathe_course.design.chapters.measured import INVENTED
from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.draft.starting import in_system
from lathe_course.design.evaluation import evaluate
from lathe_course.design.lathe import LATHE
from lathe_course.tables import table
from lathe_course.units import InputProblem

SHOWN = [
    ("give_budget_table", {}),
    ("two_ways_of_giving", {}),
    ("which_link_first", {}),
    ("give_measured", {"readings": "yours"}),
    ("give_measured", {"readings": "invented"}),
    ("sums_of_rigidity", {}),
]


@pytest.mark.parametrize("system", units.SYSTEMS)
@pytest.mark.parametrize("start", short_of(DEMOS, "cabin"))
@pytest.mark.parametrize("name, asked", SHOWN, ids=lambda value: value if isinstance(value, str) else "".join(value.values()))
def test_every_page_reads_well_for_every_demo(name, asked, start, system, nowhere):
    chapter = open_chapter("08", demo=start)
    chapter.session.change(lambda design: in_system(design, system))
    told = repr(chapter.show(name, **asked))
    assert told and not re.search(r"\bnan\b|\binf\b|None|\{|\}", told)
    if system == "inch":
        assert "µm" not in told and " mm" not in told


def test_the_budget_names_the_three_largest_and_how_each_is_known(nowhere):
    told = repr(open_chapter("08").show("give_budget_table"))
    rows = told.splitlines()
    assert rows[0].startswith("The three largest: spindle shaft"), "the picture above has the others"
    assert rows[1] == "Every link as a row: 10" and len(rows) == 13 and rows[3].strip().startswith("spindle shaft")
    e = evaluate(demo())
    judged = sum(e[f"{name}_give"] for name in ("chuck", "headstock", "saddle", "cross_slide", "top", "toolpost"))
    assert f"{judged / e['predicted_compliance']:.0%} is judged" in rows[0]


@pytest.mark.parametrize("name", ["give_budget_table", "which_link_first", "two_ways_of_giving", "sums_of_rigidity"])
def test_a_machine_that_cannot_be_has_no_budget(name):
    said = getattr(pages, name)(evaluate(demo().trying(spindle_bore=0.04))).plain
    assert said == "The bore must be smaller than the diameter of the spindle: spindle diameter 35 mm, spindle bore 40 mm."


def test_upright_give_hardly_reaches_the_diameter_and_sideways_counts_twice(nowhere):
    e = evaluate(demo())
    told = repr(open_chapter("08").show("two_ways_of_giving"))
    side = 2 * e["machine_compliance"] * e["rough_radial_force"]
    assert (
        units.shown(side, units.Length("µm")) in told and e.shown("upright_error") in told and f"-{e.shown('nod_error')}" in told
    )
    assert e["upright_error"] < side / 50


@pytest.mark.parametrize("draws", [None, 200])
def test_one_force_along_the_radius_on_axis_in_table_and_in_chapter_04(nowhere, draws):
    """Bars may be drawn; the force that the axis goes by is the one that the table tells, and the arrow of chapter 04."""
    e = evaluate(demo(), draws=draws)
    force = evaluate(demo()).shown("rough_radial_force")
    assert (
        f"the radial force of the roughing cut, {force}," in PICTURES["give_budget"].describe(e)
        and force in pages.two_ways_of_giving(e).plain
    )
    figure = Figure()
    PICTURES["give_budget"].draw_on(figure, e)
    assert any(force in axis.get_xlabel() for axes in figure.axes for axis in (axes, *axes.child_axes))
    figure = Figure()
    PICTURES["force_build_up"].draw_on(figure, e)
    assert force in {text.get_text() for axes in figure.axes for text in axes.texts}


def test_what_a_remedy_saves_is_what_the_chain_says():
    e = evaluate(demo())
    found = {one.remedy: one for one in savings(e)}
    block = found["a block in place of the topslide"]
    here, there = e["predicted_compliance"], evaluate(demo().trying(top_of_slide="solid block"))["predicted_compliance"]
    assert block.known == "worked out" and block.saved.low < here - there < block.saved.high
    gib = found["gib of the cross-slide set afresh"]
    row, link = table("remedies")["gib of the cross-slide set afresh"], table("links")["cross-slide"]["sideways"]
    assert gib.known == "judged" and gib.link == "cross-slide"
    assert gib.saved.low >= link.low * (1 - row["left"].high) * 0.999 and gib.saved.high <= link.high * (1 - row["left"].low)


def test_remedies_stand_in_the_order_of_worth_free_ones_first():
    worth = [one.per_euro for one in savings(evaluate(demo()))]
    paid = [one for one in worth if np.isfinite(one)]
    assert worth == [np.inf] * (len(worth) - len(paid)) + sorted(paid, reverse=True) and 0 < len(paid) < len(worth)


def test_what_stands_there_already_is_no_remedy():
    names = [one.remedy for one in savings(evaluate(demo().trying(top_of_slide="solid block")))]
    assert "a block in place of the topslide" not in names


def test_every_remedy_names_a_decision_or_a_link_of_the_chain():
    for remedy, row in table("remedies").items():
        if row["change"]:
            assert row["change"].split()[0] in LATHE.decisions and row["left"] is None, remedy
        else:
            assert row["link"] in LATHE.results and 0 < row["left"].low < row["left"].high < 1, remedy
        assert row["price"] is not None and row["hours"] is not None and row["what"]


def test_sums_come_to_the_figures_of_the_chain(nowhere):
    e, told = evaluate(demo()), repr(open_chapter("08").show("sums_of_rigidity"))
    for equation in (
        f"k = {e.shown('machine_stiffness')}",
        f"b = {e.shown('chatter_free_width')}",
        f"c = {e.shown('machine_compliance')}",
    ):
        assert equation in told, equation
    assert told.count("Source: ") == told.count("Holds for: ") == 16, "a mentor wants to know where it holds and where it is from"


def test_own_readings_are_put_beside_the_prediction_and_taken_when_told(nowhere):
    chapter = open_chapter("08")
    live = chapter.show("give_measured")
    assert "no readings yet" in repr(live)
    chapter.session.keep_readings("stiffness", INVENTED.written)
    assert (
        "still goes by the figure worked out" in repr(live) and "Row 9 (40 N)" in repr(live) and "95 times in 100" in repr(live)
    )
    chapter.keep(give_from="measured")
    assert "goes by the measured give" in repr(live)
    with pytest.raises(InputProblem, match="'yours' or 'invented'"):
        chapter.show("give_measured", readings="mine")


def test_what_readings_tell_stands_below_their_boxes(nowhere):
    chapter = open_chapter("08")
    panel = chapter.readings("stiffness", told="give_measured")
    assert "No readings of stiffness at the tool yet." in repr(panel) and "There are no readings yet" in repr(panel)
    below = panel.widget.children[1]
    chapter.session.keep_readings("stiffness", INVENTED.written)
    assert "95 times in 100" in below.value
