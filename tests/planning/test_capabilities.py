"""Needs and capabilities: read, written, held against each other, and told."""

import pytest

from lathe_course.planning import capabilities as c
from lathe_course.units import InputProblem

SHOP = c.Shop(
    c.read_capabilities("milling 300 x 120 mm + drilling 16 mm + dividing", "mill", c.OWN)
    + c.read_capabilities("turning 250 x 500 mm to 0.02 mm", "club lathe", c.BORROWED)
)


def lacks(text, *whose):
    return c.lacking(c.read_needs(text), SHOP.of(*(whose or (c.OWN, c.BORROWED))))


@pytest.mark.parametrize(
    "text",
    ["milling 140 x 120 mm to 0.05 mm + drilling 11 mm", "dividing", "gear cutting 1.5 mm to 0.03 mm", "turning 60 x 270 mm", ""],
)
def test_what_is_written_reads_back(text):
    assert c.written(c.read_needs(text)) == text
    assert c.read_needs(c.written(c.read_needs(text))) == c.read_needs(text)


def test_sizes_are_read_in_any_unit_and_shown_in_inches():
    inch = c.read_needs("Milling 5.5 in × 120mm to 50 µm")[0]
    assert inch.size == pytest.approx((0.1397, 0.12)) and inch.accuracy == pytest.approx(50e-6)
    assert inch.told("inch") == "milling of 5.5 x 4.724 in to 0.00197 in"
    assert c.read_needs("milling 6 x 4 in")[0].size == pytest.approx((0.1524, 0.1016))


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("miling 140 x 120 mm", "'miling' is no operation known here; did you mean milling"),
        ("milling 140 mm", "gives 1 measure; milling needs its length x width, as in 'milling 140 x 120 mm'"),
        ("drilling", "gives no measures; drilling needs its diameter"),
        ("dividing 3 mm", "dividing needs no size"),
        ("drilling 11", "has no unit"),
        ("drilling -2 mm", "does not start with a number|more than zero|no operation"),
        ("drilling 11 mm to 0.1", "has no unit"),
        ("drilling 11 mm to coarse", "no unit|unit"),
        ("drilling 11 kg", "is a mass"),
    ],
)
def test_what_cannot_be_read_is_told(text, sentence):
    with pytest.raises(InputProblem, match=sentence):
        c.read_needs(text)


def test_all_that_is_wrong_in_one_text_is_told_together():
    with pytest.raises(InputProblem) as caught:
        c.read_needs("miling 1 mm + drilling + turning 20 x 40 mm")
    assert len(caught.value.problems) == 2


def test_a_table_may_be_used_either_way_round_but_a_lathe_may_not():
    assert not lacks("milling 100 x 280 mm") and not lacks("milling 280 x 100 mm")
    assert lacks("milling 280 x 130 mm")
    assert not lacks("turning 200 x 400 mm") and lacks("turning 400 x 200 mm")


def test_accuracy_counts_as_size_does():
    assert not lacks("turning 50 x 100 mm to 0.02 mm") and not lacks("turning 50 x 100 mm")
    assert lacks("turning 50 x 100 mm to 0.01 mm")
    assert not lacks("milling 50 x 50 mm to 0.03 mm"), "without a word on it a mill attains the likely of its operation"
    assert lacks("milling 50 x 50 mm to 0.02 mm")


def test_a_size_met_exactly_is_met_in_any_unit():
    assert not c.lacking(c.read_needs("drilling 0.5 in"), c.read_capabilities("drilling 12.7 mm", "drill"))


def test_what_is_missing_is_told_with_the_nearest():
    (lack,) = lacks("milling 320 x 120 mm")
    assert lack.told() == "milling of 320 x 120 mm (the nearest is your mill with 300 x 120 mm to 0.03 mm)"
    (lack,) = lacks("turning 60 x 620 mm")
    assert "the nearest is the borrowed club lathe with 250 x 500 mm" in lack.told()
    (lack,) = lacks("boring 62 x 140 mm")
    assert lack.told() == "boring of 62 x 140 mm (nothing here does any boring)"
    (lack,) = c.lacking(
        c.read_needs("drilling 20 mm"),
        c.read_capabilities("drilling 6 mm", "small drill") + c.read_capabilities("drilling 16 mm", "drill"),
    )
    assert lack.nearest.machine == "drill"


def test_borrowed_machines_count_only_where_they_may():
    assert lacks("turning 50 x 50 mm", c.OWN) and not lacks("turning 50 x 50 mm", c.BORROWED)


def test_a_lost_machine_and_a_gained_one():
    assert "mill" not in SHOP.without("mill").machines and SHOP.without("club lathe").of(c.BORROWED) == ()
    more = SHOP.plus(*c.read_capabilities("boring 80 x 200 mm", "borer"))
    assert not c.lacking(c.read_needs("boring 62 x 140 mm"), more.of(c.OWN))


def test_a_beginner_attains_less():
    rough = c.with_skill(SHOP.capabilities, 1.5)
    assert c.lacking(c.read_needs("milling 50 x 50 mm to 0.04 mm"), rough)
    with pytest.raises(InputProblem, match="more than zero"):
        c.with_skill(rough, 0)
