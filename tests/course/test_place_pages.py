"""The pages of chapter 13: what is carried, home, local prices, partners and side benefits."""

import re
from dataclasses import replace

import numpy as np
import pytest
from cases import every

from lathe_course.course.pages.people import partners_bring, partners_told, side_benefits
from lathe_course.course.pages.place import home_and_pieces, near_by, prices_move_the_mix, what_is_carried
from lathe_course.course.pictures import PICTURES, place
from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.evaluation import evaluate

PAGES = (what_is_carried, home_and_pieces, prices_move_the_mix, near_by, partners_told, partners_bring, side_benefits)


@every("start", DEMOS)
@every("page", PAGES)
def test_every_page_reads_alike_in_both_twins(page, start):
    found = page(evaluate(demo(start)))
    assert found.plain and "nan" not in found.plain.split() and "None" not in found.plain
    for cell in found.plain.splitlines()[-1].split(". ")[0].split()[:5]:
        assert cell.strip(".,;:") in found.markup


def test_carried_pieces_say_who_may_lift_them():
    e = evaluate(demo())
    lines = what_is_carried(e).plain.splitlines()
    assert lines[1].endswith("a hoist, or more pieces") and any(
        line.startswith("headstock ") and line.endswith("one person") for line in lines
    )
    assert len(what_is_carried(e, parts=2).plain.splitlines()) == len(lines) - 2
    assert " kg" not in what_is_carried(evaluate(replace(demo(), system="inch"))).plain


def test_home_is_told_for_all_ways_of_carrying_and_marks_the_own():
    plain = home_and_pieces(evaluate(demo("cabin"))).plain
    assert plain.count("(yours)") == 1 and "whole (yours)" in plain and "too heavy" in plain
    assert "three feet save hours" in home_and_pieces(evaluate(demo("shared_barn"))).plain


def _rows(plain: str) -> list[list[str]]:
    """Cells of a table told in plain text, without its head and the sentence below."""
    return [re.split(r"\s{2,}", line) for line in plain.splitlines()[1:-1]]


def test_dear_work_of_others_brings_parts_home():
    outside = [int(row[3]) for row in _rows(prices_move_the_mix(evaluate(demo())).plain)[3:]]
    assert outside == sorted(outside, reverse=True) and outside[0] > outside[-1]


def test_a_mix_that_cannot_be_had_says_what_is_missing():
    bare = replace(demo(), sheets=replace(demo().building, machines=()))
    for page in (prices_move_the_mix, near_by):
        said = page(evaluate(bare)).plain
        assert " bought " not in said and said[-1] == "."


@pytest.mark.parametrize("start", DEMOS)
def test_what_is_near_never_makes_the_best_mix_dearer(start):
    e = evaluate(demo(start))
    rows = [(float(row[5].split()[0]), float(row[6].split()[0])) for row in _rows(near_by(e).plain)]
    worth = [money + float(e["hour_cost"]) * hours for money, hours in rows]
    company = float(e["company_gain"]) * max(hours for _, hours in rows)
    assert len(worth) == 6 and max(worth) <= worth[0] * 1.005 + company, (
        "but for rounding, and for hours in company, which the mix counts as well"
    )


def test_partners_are_told_with_what_is_due_and_what_is_agreed():
    e = evaluate(demo("shared_barn"))
    plain = partners_told(e).plain
    assert "39 %" in plain and "large lathe + mill" in plain and f"Agreed: {e['whose_lathe']}." in plain
    assert "Nobody is written down" in partners_told(evaluate(demo())).plain


def test_what_a_partner_brings_may_be_a_machine_of_the_list_or_what_it_can_do():
    rows = [
        {"name": "one", "hours": "10 h/month", "money": "50 EUR/month", "brings": "turning 250 x 500 mm + boring 60 x 150 mm"},
        {"name": "other", "hours": "10 h/month", "money": "50 EUR/month", "brings": "surface grinder of the club"},
        {"name": "third", "hours": "10 h/month", "money": "50 EUR/month", "brings": "magic 3 mm"},
    ]
    said = partners_bring(evaluate(demo("cabin").with_readings("partners", rows))).plain
    assert "'magic' is no operation" in said and said.count("EUR") >= 3


def test_benefits_stand_beside_the_reasons_they_can_raise():
    e = evaluate(demo().trying(benefit_skills=5.0))
    plain = side_benefits(e).plain
    assert f"costs you {e.shown('hour_cost')}" in plain and "it would be -4 EUR/h" in plain


# --- pictures ---------------------------------------------------------------------------------------------------
def test_the_tightest_angle_is_where_the_longest_piece_is_found():
    e = evaluate(demo("shared_barn"))
    a, b, w = (float(e[name]) for name in ("passage_width", "landing_width", "carried_width"))
    turn = place._tightest(a, b, w)
    assert a / np.cos(turn) + b / np.sin(turn) - w / (np.sin(turn) * np.cos(turn)) == pytest.approx(e["corner_length"])


def test_pictures_say_what_does_not_go():
    narrow = evaluate(demo().trying(passage_width=0.4, landing_width=0.4, moved_as="whole", space_length=0.5))
    words = PICTURES["way_in_and_place"].describe(narrow)
    assert "does not go round" in words and "does not fit" in words
    assert "the whole machine" in PICTURES["lifts"].describe(narrow)


def test_one_bar_is_the_heaviest_of_what_is_carried():
    for how in ("whole", "in assemblies", "part by part"):
        e = evaluate(demo().trying(moved_as=how))
        marked = [mass for _, mass, yours in place._rows(e) if yours]
        assert marked == [pytest.approx(e["heaviest_lift"])]
