"""Forms of bed made alike."""

import pytest

from lathe_course.design.asked.bed_choice import ALIKE, rivals
from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.evaluation import evaluate
from lathe_course.machine.bed_forms import FORMS
from lathe_course.units import InputProblem


@pytest.mark.parametrize("start", DEMOS)
@pytest.mark.parametrize("alike", ALIKE)
def test_every_rival_is_alike_or_says_why_it_cannot_be(start, alike):
    own = evaluate(demo(start))
    found = rivals(own, alike)
    assert [one.form for one in found] == list(FORMS)
    assert [one.form for one in found if one.own] == [own["bed_form"]]
    for one in found:
        if one.evaluation is None:
            assert one.why_not
        else:
            assert one.evaluation[ALIKE[alike]] == pytest.approx(own[ALIKE[alike]], rel=1e-3) and not one.why_not
            assert one.evaluation["bed_form"] == one.form and one.evaluation["bed_width"] == own["bed_width"]
    assert sum(one.evaluation is not None for one in found) >= 4


def test_at_equal_weight_a_closed_box_hardly_twists_and_bars_do():
    by_form = {one.form: one.evaluation for one in rivals(evaluate(demo()))}
    stiff = {form: worked["bed_turning_stiffness"] for form, worked in by_form.items() if worked}
    assert max(stiff, key=stiff.get) == "closed box"
    assert (
        stiff["closed box"]
        > 2 * stiff["rails with diagonal ribs"]
        > 2.5 * stiff["two flat rails"]
        > 4 * stiff["round bars on a plate"]
    )
    give = {form: worked["bed_compliance_ideal"] for form, worked in by_form.items() if worked}
    assert give["closed box"] < give["rails with diagonal ribs"] < give["rails with cross ribs"]


def test_draws_do_not_matter():
    plain, drawn = (rivals(evaluate(demo(), draws)) for draws in (None, 50))
    assert [one.evaluation and one.evaluation["bed_compliance"] for one in plain] == [
        one.evaluation and one.evaluation["bed_compliance"] for one in drawn
    ]


def test_another_word_is_refused():
    with pytest.raises(InputProblem, match="weight or in price, not in 'colour'"):
        rivals(evaluate(demo()), "colour")
