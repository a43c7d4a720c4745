"""A measured give in the chain: it stands in for the worked-out one only where that is chosen and the readings tell it."""

from dataclasses import replace

import numpy as np
import pytest

from lathe_course import units
from lathe_course.design.asked.ripple import ripple
from lathe_course.design.asked.why import why
from lathe_course.design.chapters.measured import INVENTED, SHEETS, fit_of
from lathe_course.design.demos import demo
from lathe_course.design.evaluation import evaluate
from lathe_course.ranges import Range
from lathe_course.units import Compliance

GIVE = Compliance()
ROWS = INVENTED.written


def with_rows(rows=ROWS, **decisions):
    return demo().with_readings("stiffness", rows).with_(**decisions)


def test_no_demo_comes_with_readings_of_its_own():
    """Nobody's lathe may go by figures that were invented for another."""
    for name in ("boat_shed", "cabin", "shared_barn"):
        e = evaluate(demo(name))
        assert (
            e["measured_compliance"] == 0
            and e["machine_compliance"] == e["predicted_compliance"]
            and e.design["give_from"] == "worked out"
        )
        assert e.findings["prediction_agrees"].sentence.startswith("Nothing is measured yet")
        assert "worked out from its links" in e.findings["measured_give_stands"].sentence


def test_readings_alone_change_nothing_but_stand_beside_the_prediction():
    before, after = evaluate(demo()), evaluate(with_rows())
    assert after["machine_compliance"] == before["machine_compliance"] and after["size_error"] == before["size_error"]
    ratio = fit_of(INVENTED).give / before["predicted_compliance"]
    assert after["apart"] == pytest.approx(max(ratio, 1 / ratio)) and after["readings_taken"] == len(ROWS)
    assert "differ by a factor of" in after.findings["prediction_agrees"].sentence


def test_chosen_it_takes_the_place_of_the_prediction_with_its_range():
    e = evaluate(with_rows(give_from="measured"), draws=400)
    low, likely, high = fit_of(INVENTED).range
    assert (
        e.central["machine_compliance"] == pytest.approx(likely)
        and low <= e["machine_compliance"].min() < e["machine_compliance"].max() <= high
    )
    assert e.central["loop_compliance"] == pytest.approx(likely + e.central["holding_extra"])
    assert e.findings["measured_give_stands"].status == "holds"


def test_chosen_without_readings_it_fails_its_finding_and_the_prediction_stays():
    for rows in ([], ROWS[:1], ROWS[:3]):
        e = evaluate(with_rows(rows, give_from="measured"))
        assert e["machine_compliance"] == e["predicted_compliance"] and e.findings["measured_give_stands"].status == "fails"


def test_a_give_may_be_typed_in_as_well():
    e = evaluate(demo().with_(measured_compliance=Range("170 µm/kN", "190 µm/kN", "220 µm/kN"), give_from="measured"))
    assert units.in_unit(e["machine_compliance"], GIVE) == pytest.approx(220 - np.sqrt(50 * 30 / 2)) and e["readings_taken"] >= 4


def test_what_is_partly_worked_out_again_follows_the_readings():
    before = evaluate(demo().with_(give_from="measured"))
    design = before.design.with_readings("stiffness", ROWS)
    partly, whole = evaluate(design, earlier=before), evaluate(replace(design))
    assert (
        partly["size_error"] == whole["size_error"] != before["size_error"]
        and partly["nose_stiffness"] is before["nose_stiffness"]
    )
    assert any(moved.name == "machine_compliance" for moved in ripple(before, partly).results)


def test_why_names_the_readings():
    told = str(why(evaluate(with_rows(give_from="measured")), "machine_compliance"))
    assert "readings: stiffness at the tool" in told and f"{len(ROWS)} entries" in told


def test_the_invented_readings_show_what_the_chapter_says_of_them():
    fit = fit_of(INVENTED)
    assert fit.play == pytest.approx(5e-6, rel=0.2) and fit.friction == pytest.approx(2.5e-6, rel=0.3) and fit.outliers == (8,)
    assert units.in_unit(fit.give, GIVE) == pytest.approx(190, rel=0.03) and len(fit.remarks()) == 3


def test_the_sheet_asks_for_what_the_fit_needs():
    assert list(SHEETS[0].fields) == ["force", "dial", "going", "remark"]


def test_shape_and_roundness_follow_a_measured_give_and_a_part_beyond_the_whole_is_told():
    """Every link the pull ran through gives less in one proportion; what is reckoned apart, bar and tailstock, does not."""
    worked, measured = (
        evaluate(demo().with_(measured_compliance="60 µm/kN", give_from=how)) for how in ("worked out", "measured")
    )
    scale = 60e-9 / worked["predicted_compliance"]
    for name in ("chuck_side_give", "centre_side_give", "plate_side_give", "uneven_error"):
        assert measured[name] == pytest.approx(scale * worked[name]), name
    bar = worked["work_compliance"] * 2 * worked["finish_radial_force"]
    assert measured["shape_error"] - bar == pytest.approx(scale * (worked["shape_error"] - bar))
    assert measured["bed_share"] == worked["bed_share"] and measured["tail_give"] == worked["tail_give"]
    found = measured.findings["parts_within_measured"]
    assert found.status == "fails" and "A part cannot give more than the whole" in found.sentence
    assert (
        evaluate(demo().with_(measured_compliance="600 µm/kN", give_from="measured")).findings["parts_within_measured"].status
        == "holds"
    )
    assert evaluate(demo()).findings["parts_within_measured"].sentence.startswith("Nothing is measured yet")
