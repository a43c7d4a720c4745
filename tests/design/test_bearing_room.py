"""Chapter 06 in the chain: the learner's own rating, bad input told by a finding, and what each kind of bearing is asked."""
import numpy as np
import pytest

from lathe_course.design.demos import demo
from lathe_course.design.evaluation import evaluate
from lathe_course.tables import table


def boat(**changes):
    return evaluate(demo("boat_shed").trying(**changes))


def test_a_span_shorter_than_a_bearing_is_told_with_its_width():
    found = boat(bearing_span=0.015).findings["bearings_have_room"]
    assert found.status == "fails" and "stand 15 mm apart and each is 17.9 mm wide" in found.sentence


def test_a_bore_wider_than_the_spindle_fails_its_findings_in_words():
    e = boat(spindle_bore=0.036)
    for name in ("nose_stiff_enough", "spindle_does_not_whirl", "bearings_stay_straight"):
        assert e.findings[name].status == "fails" and "The bore must be smaller than the diameter of the spindle" in e.findings[name].sentence


def test_a_rating_of_the_learner_s_own_stands_in_place_of_the_reckoned_one():
    e = evaluate(demo("boat_shed").with_(own_dynamic_rating="10 kN", own_static_rating="12 kN"))
    before = boat()
    assert e["dynamic_rating"] == 10_000 and e["static_rating"] == 12_000
    assert e["bearing_life"] / before["bearing_life"] == pytest.approx((10_000 / before["dynamic_rating"]) ** (10 / 3), rel=1e-6)


def test_a_plain_bearing_is_asked_for_pressure_and_not_for_life():
    e = boat(bearing_kind="plain bronze")
    assert "no rated life" in e.findings["bearings_last"].sentence and "no static rating" in e.findings["bearings_bear_knocks"].sentence
    assert "presses the journal" in e.findings["journal_bears"].sentence
    rolling = boat(bearing_kind="deep groove")
    assert "Balls or rollers carry" in rolling.findings["journal_bears"].sentence and rolling.findings["bearings_last"].margin > 0


def test_the_belt_loads_the_rear_bearing_most_when_the_pulley_hangs_out():
    near, far, between = (boat(pulley_overhang=x) for x in (0.0, 0.1, -0.055))
    assert near["rear_bearing_load"] < far["rear_bearing_load"] and between["rear_bearing_load"] < near["rear_bearing_load"]
    assert near["front_bearing_load"] < between["front_bearing_load"] < far["front_bearing_load"]


def test_cold_end_play_can_be_too_much_and_too_little():
    assert boat(cold_end_play=30e-6).findings["not_loose_warm"].status == "fails"
    assert boat(cold_end_play=-10e-6).findings["not_tight_warm"].status == "fails"
    assert boat(cold_end_play=30e-6).findings["not_tight_warm"].status == "holds"


def test_a_fast_large_chuck_fails_where_it_should():
    e = boat(chuck_diameter=0.2, fastest_speed=420.0)
    assert e.findings["chuck_not_overrun"].status == e.findings["rim_slow_enough"].status == e.findings["grip_survives_speed"].status == "fails"


def test_every_choice_and_draw_goes_through_in_one_pass():
    for kind in table("bearings"):
        e = evaluate(demo("boat_shed").trying(bearing_kind=kind), draws=50)
        for name in ("tiring_load", "rest_load", "warm_end_play", "critical_speed", "heat_error", "grip_reserve"):
            assert np.all(np.isfinite(e[name])), (kind, name)


def test_tapers_are_cones_as_the_handbook_gives_them():
    """Large end less rate times plug length is the small end; half angles 1.4307 to 1.5073 degrees as printed for MT2 to MT5."""
    for name, row in table("tapers").items():
        assert row["large_diameter"] - row["rate"] * row["plug"] == pytest.approx(row["small_diameter"], abs=6e-6), name
    for name, printed in (("MT2", 1.4307), ("MT3", 1.4377), ("MT4", 1.4876), ("MT5", 1.5073)):
        assert np.degrees(np.arctan(table("tapers")[name]["rate"] / 2)) == pytest.approx(printed, rel=1.2e-3)
