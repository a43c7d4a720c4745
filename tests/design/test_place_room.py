"""Chapter 13 in the chain: what is carried, what home and hands change, whose it is, and what side benefits do to an hour's worth."""

import numpy as np
import pytest

from lathe_course.design.chapters.place import APART, ASSEMBLED
from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.evaluation import evaluate
from lathe_course.planning import place
from lathe_course.units import InputProblem


@pytest.mark.parametrize("start", DEMOS)
def test_pieces_and_assemblies_are_the_whole_machine_parted(start):
    e = evaluate(demo(start))
    for how in (ASSEMBLED, APART):
        assert sum(e["carried_masses"][how].values()) == pytest.approx(e["parts_mass"])
    assert e["heaviest_piece"] <= e["heaviest_assembly"] <= e["parts_mass"]


def test_a_fill_that_is_cast_in_is_carried_with_what_holds_it():
    e = evaluate(demo())
    pieces = e["carried_masses"][APART]
    names, masses = list(e["part_masses"]["names"]), e["part_masses"]["finished"]
    assert "mineral fill of the bed" in names and "mineral fill of the bed" not in pieces
    assert pieces["bed box"] == pytest.approx(masses[names.index("bed box")] + masses[names.index("mineral fill of the bed")])


def test_a_new_group_of_the_learners_own_is_carried_by_itself():
    from dataclasses import replace

    design = demo()
    lists = design.building
    other = type(lists.parts)(replace(part, group="ornaments") if part.name == "chip tray" else part for part in lists.parts)
    e = evaluate(replace(design, sheets=replace(lists, parts=other)))
    assert e["carried_masses"][ASSEMBLED]["ornaments"] > 0


def test_the_limit_is_that_of_the_worse_end_by_as_many_as_lift():
    e = evaluate(demo("cabin"))
    reach = 0.2 + e["machine_depth"] / 2
    ends = [
        place.lifting_limit.si(reach, height, e["bench_height"] - e["lift_from"], 0.0, 1.0, 0.9)
        for height in (e["lift_from"], e["bench_height"])
    ]
    assert e["lift_allowed"] == pytest.approx(min(ends))
    two = evaluate(e.design.trying(lifted_by="two people"))
    assert two["lift_allowed"] == pytest.approx(4 / 3 * min(ends))


def test_a_wider_bed_is_held_further_off_and_so_less_may_be_lifted():
    narrow, wide = (evaluate(demo().trying(bed_width=width)) for width in (0.10, 0.20))
    assert wide["one_may_lift"] < narrow["one_may_lift"] and wide["lift_reach"] - narrow["lift_reach"] == pytest.approx(0.05)


def test_a_hoist_lifts_what_nobody_may():
    whole = demo().trying(moved_as="whole")
    assert evaluate(whole).findings["lift_within_guidance"].status == "fails"
    found = evaluate(whole.trying(lifted_by="a hoist")).findings["lift_within_guidance"]
    assert found.status == "open" and found.sentence.startswith("A hoist does the lifting.") and "rated strap" in found.caution


def test_in_pieces_it_is_light_to_carry_and_long_to_true():
    whole, pieces, parts = (evaluate(demo("cabin").trying(moved_as=how)) for how in ("whole", "in assemblies", "part by part"))
    assert whole["heaviest_lift"] > pieces["heaviest_lift"] > parts["heaviest_lift"]
    assert whole["moving_hours"] < pieces["moving_hours"] < parts["moving_hours"]
    assert whole.findings["moves_leave_time"].status == "holds" and pieces.findings["moves_leave_time"].status == "fails"


def test_moving_about_asks_for_three_feet():
    three, four = (evaluate(demo("cabin").trying(feet=feet)) for feet in ("three feet", "four feet bolted down"))
    assert four["moving_hours"] > three["moving_hours"]
    settled = evaluate(demo("cabin").trying(home="settled"))
    assert settled["moving_hours"] == 0 and settled.findings["moves_leave_time"].sentence.startswith(
        "It stays where it is built."
    )


def test_a_bench_sags_only_where_it_carries():
    steel, wood = (evaluate(demo().trying(stands_on=what)) for what in ("a steel bench or stand", "a wooden bench"))
    assert steel["bench_sag"] == 0 < wood["bench_sag"] and steel.findings["bench_stays_level"].sentence.startswith(
        "No wooden bench carries it."
    )
    thin = evaluate(demo().trying(stands_on="a wooden bench", bearer_height=0.04, bearers=1.0))
    assert thin.findings["bench_bears_it"].status == "fails"


def test_brushes_are_heard_and_grinding_is_most_of_the_dose():
    quiet, loud = (
        evaluate(demo().trying(drive_kind=kind)) for kind in ("three-phase and inverter", "direct current and controller")
    )
    assert loud["turning_noise"] > quiet["turning_noise"] > quiet["cutting_noise"]
    assert quiet["grinding_dose"] > 5 * quiet["turning_dose"]


# --- people ---------------------------------------------------------------------------------------------------
def test_shares_are_of_what_is_put_in_and_sum_to_the_whole():
    e = evaluate(demo("shared_barn"))
    put = np.array([40 + 180, 60 + 140, 50 + 100])
    assert e["partner_shares"] == pytest.approx(put / put.sum()) and e["largest_share"] == pytest.approx(220 / 570)
    assert e["others_can_pay"] == pytest.approx(12 * 110)
    assert e["parting_sum"] == pytest.approx(220 / 570 * e["used_price"] * 0.75)
    assert e["partner_dues"] == pytest.approx(put / put.sum() * e["used_price"] * 0.75)


def test_a_rate_of_nothing_counts_money_alone():
    e = evaluate(demo("shared_barn").trying(hour_rate=0.0))
    assert e["largest_share"] == pytest.approx(60 / 150)


def test_partners_who_put_in_nothing_own_alike():
    nothing = [{"name": name, "hours": "0 h/month", "money": "0 EUR/month"} for name in ("one", "other")]
    e = evaluate(demo("shared_barn").with_readings("partners", nothing))
    assert e["partner_shares"] == pytest.approx([0.5, 0.5]) and e.findings["partners_bring_hours"].status == "fails"


def test_one_partner_short_fails_by_name_and_number():
    rows = demo("shared_barn").readings["partners"].written[:2]
    e = evaluate(demo("shared_barn").with_readings("partners", rows))
    assert [e.findings[name].status for name in ("partners_bring_hours", "partners_bring_money", "partners_counted")] == [
        "fails"
    ] * 3
    assert e.findings["partners_counted"].sentence.startswith("1 of the people")


def test_a_partner_without_hours_is_refused_in_a_sentence():
    with pytest.raises(InputProblem, match="partners, row 1: hours is missing"):
        demo().with_readings("partners", [{"name": "one", "money": "5 EUR/month"}])


def test_side_benefits_move_what_an_hour_costs_and_nothing_is_counted_twice():
    before = evaluate(demo())
    same = evaluate(before.design.trying(benefit_skills=before["reason_learning"], benefit_people=1.0))
    more = evaluate(before.design.trying(benefit_skills=5.0, benefit_passed_on=3.0))
    assert (
        same["hour_cost"] == before["hour_cost"] > more["hour_cost"] and more["building_by_parts"] < before["building_by_parts"]
    )
