"""Chapter 06 in the chain: the learner's own rating, bad input told by a finding, and what each kind of bearing is asked."""

import numpy as np
import pytest

from lathe_course.design.demos import demo
from lathe_course.design.drawn.arrangement import arrange
from lathe_course.design.evaluation import evaluate
from lathe_course.tables import table


def boat(**changes):
    return evaluate(demo("boat_shed").trying(**changes))


def test_every_kind_of_bearing_is_a_part_to_be_had():
    for kind in table("bearings"):
        parts = evaluate(demo("boat_shed").trying(bearing_kind=kind), wanted=["parts_list"])["parts_list"]
        assert sum(part.group == "bearings" and part.name != "bearing covers" for part in parts) == 1, (
            f"what is bought for {kind}?"
        )


def test_a_span_shorter_than_a_bearing_is_told_with_its_width():
    found = boat(bearing_span=0.015).findings["bearings_have_room"]
    assert found.status == "fails" and "stand 15 mm apart and each is 17.9 mm wide" in found.sentence


def test_a_nose_that_ends_in_its_cover_is_told_and_drawn():
    """65 mm centre height, bearing 14.8 mm: 7.4 and 9.1 to the outside of the cover, and 1.95 of flange, are 18.45 mm."""
    e = boat(centre_height=0.065, spindle_diameter=0.029, spindle_overhang=0.015)
    assert e["bearing_width"] == pytest.approx(0.01479) and e["nose_room"] == pytest.approx(0.018445)
    found = e.findings["nose_clears_cover"]
    assert found.status == "fails" and "15 mm" in found.sentence and "18.4 mm" in found.sentence
    told = {frozenset(pair) for pair in arrange(e).clashes}
    assert frozenset(("bearing covers", "spindle flange")) in told
    for overhang in (0.0186, 0.03):
        fits = boat(centre_height=0.065, spindle_diameter=0.029, spindle_overhang=overhang)
        assert fits.findings["nose_clears_cover"].status != "fails" and not any(
            "spindle flange" in p for p in arrange(fits).clashes
        )


def test_a_bore_wider_than_the_spindle_fails_its_findings_in_words():
    e = boat(spindle_bore=0.036)
    for name in ("nose_stiff_enough", "spindle_does_not_whirl", "bearings_stay_straight"):
        assert (
            e.findings[name].status == "fails"
            and "The bore must be smaller than the diameter of the spindle" in e.findings[name].sentence
        )


def test_a_rating_of_the_learner_s_own_stands_in_place_of_the_reckoned_one():
    e = evaluate(demo("boat_shed").with_(own_dynamic_rating="10 kN", own_static_rating="12 kN"))
    before = boat()
    assert e["dynamic_rating"] == 10_000 and e["static_rating"] == 12_000
    assert e["bearing_life"] / before["bearing_life"] == pytest.approx((10_000 / before["dynamic_rating"]) ** (10 / 3), rel=1e-6)


def test_a_plain_bearing_is_asked_for_pressure_and_not_for_life():
    e = boat(bearing_kind="plain bronze")
    assert (
        "no rated life" in e.findings["bearings_last"].sentence
        and "no static rating" in e.findings["bearings_bear_knocks"].sentence
    )
    assert "presses the journal" in e.findings["journal_bears"].sentence
    rolling = boat(bearing_kind="deep groove")
    assert "Balls or rollers carry" in rolling.findings["journal_bears"].sentence and rolling.findings["bearings_last"].margin > 0


def test_the_belt_loads_the_rear_bearing_most_when_the_pulley_hangs_out():
    near, far = (boat(belt_kind=kind) for kind in ("round belt", "flat belt"))
    assert near["pulley_overhang"] < far["pulley_overhang"]
    lever = [
        one["rear_bearing_load"] - one["cut_load"] * (one["spindle_overhang"] + one["cut_reach"]) / one["bearing_span"]
        for one in (near, far)
    ]
    assert lever[0] / near["belt_pull"] < lever[1] / far["belt_pull"]


def test_cold_end_play_can_be_too_much_and_too_little():
    assert boat(cold_end_play=30e-6).findings["not_loose_warm"].status == "fails"
    assert boat(cold_end_play=-10e-6).findings["not_tight_warm"].status == "fails"
    assert boat(cold_end_play=30e-6).findings["not_tight_warm"].status == "holds"


def test_a_fast_large_chuck_fails_where_it_should():
    e = boat(chuck_diameter=0.2, fastest_speed=420.0)
    assert (
        e.findings["chuck_not_overrun"].status
        == e.findings["rim_slow_enough"].status
        == e.findings["grip_survives_speed"].status
        == "fails"
    )


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


def test_play_preload_stiffness_and_drag_of_taper_rollers_hang_together():
    """Loose: no preload, softer, no drag but the grease's. Squeezed: preload, stiffer, dragging, and tired sooner."""
    loose, set_well, tight = (boat(cold_end_play=play * 1e-6) for play in (40, 6, -20))
    assert loose["preload"] == 0 and loose["preload_drag"] == 0 and 0 < set_well["preload"] < tight["preload"]
    assert loose["front_stiffness_at_size"] < set_well["front_stiffness_at_size"] < tight["front_stiffness_at_size"]
    assert loose["nose_stiffness"] < set_well["nose_stiffness"] < tight["nose_stiffness"]
    assert loose["drag_at_top_speed"] < set_well["drag_at_top_speed"] < tight["drag_at_top_speed"]
    assert tight["bearing_life"] < set_well["bearing_life"]


def test_drag_goes_with_the_speed():
    """Grease by the 5/3 power: a third of the speed takes 3^(-5/3) = 0.16 of the power."""
    slow, fast = boat(fastest_speed=700 * np.pi / 30), boat(fastest_speed=2100 * np.pi / 30)
    assert slow["grease_drag"] / fast["grease_drag"] == pytest.approx(3 ** (-5 / 3))


def test_the_headstock_is_as_warm_as_its_bearings_drag():
    """Balls at half the speed lose 0.5^(5/3) = 0.315 of the power, so what warms the headstock is as much less; a block twice as long passes more of it."""
    fast, slow = (boat(bearing_kind="deep groove", fastest_speed=turns * np.pi / 30) for turns in (2000, 1000))
    assert slow["housing_rise"] / fast["housing_rise"] == pytest.approx(0.5 ** (5 / 3))
    assert boat(bearing_span=0.2)["housing_rise"] < 0.85 * boat()["housing_rise"]
    assert boat(cold_end_play=-20e-6)["housing_rise"] > 1.5 * boat()["housing_rise"], "a squeezed pair runs warm"


def test_a_cold_start_is_told_apart_from_the_warm_run():
    cold_loose = boat(cold_end_play=26e-6, bearing_span=0.06)
    assert (
        cold_loose.findings["not_loose_cold"].status == "fails"
        and "until the headstock is warm" in cold_loose.findings["not_loose_cold"].sentence
    )
    assert boat(cold_end_play=-15e-6).findings["not_tight_cold"].status == "fails"
    assert "No end play is left on a cold start" in boat(bearing_kind="deep groove").findings["not_loose_cold"].sentence


def test_a_slower_spindle_stays_nearer_to_its_housing():
    """Half the speed, a third of the difference: warmth follows the drag, and both bring the play they take."""
    fast, slow = boat(fastest_speed=2000 * np.pi / 30), boat(fastest_speed=1000 * np.pi / 30)
    assert slow["drag_at_top_speed"] < fast["drag_at_top_speed"]
    assert (
        slow["play_gained"] == pytest.approx(fast["play_gained"] * 0.315, rel=0.01)
        and slow["warm_end_play"] > fast["warm_end_play"]
    )
