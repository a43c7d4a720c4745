"""The learner's own money: named, rated by one or two known prices, told at one door and read back as written."""

import re
from dataclasses import replace

import numpy as np
import pytest

from lathe_course import units
from lathe_course.course.pages import PAGES
from lathe_course.course.pictures import PICTURES
from lathe_course.design.demos import demo
from lathe_course.design.design import Design
from lathe_course.design.evaluation import evaluate
from lathe_course.design.money import KNOWN, money_of, read_money
from lathe_course.units import InputProblem

KRONOR = "SEK: bar 230, hour 675"
PAGES_OF_MONEY = (
    "money_split",
    "why_the_list_is_too_low",
    "purse_beside_bills",
    "spared",
    "best_mixes",
    "worth_a_change",
    "ways_of_the_parts",
    "where_to_begin",
    "partners_bring",
)


def in_kronor(name="boat_shed", **more):
    return demo(name).with_(decided="", currency=KRONOR, **more)


def test_rates_and_levels_by_hand():
    """A bar of 20 in the lists for 230, an hour of 45 for 675: 11.5 to one, and work of others 15 over 11.5 dearer than material."""
    assert KNOWN == {"bar": 20.0, "hour": 45.0}
    assert money_of(KRONOR)[1:] == pytest.approx((11.5, 1.0, 15 / 11.5))
    assert money_of("SEK: bar 230")[1:] == pytest.approx((11.5, 1, 1)) and money_of("SEK: hour 675")[1:] == pytest.approx(
        (15, 1, 1)
    )
    assert money_of("EUR: bar 30")[1:] == pytest.approx((1, 1.5, 1.5)) and money_of("EUR: bar 30, hour 36")[1:] == pytest.approx(
        (1, 1.5, 0.8)
    )
    assert money_of("crowns") == ("crowns", 1, 1, 1) and money_of("JPY: bar 3600")[1] == 180, "nothing bounds a price"


def test_every_sum_is_told_in_the_learner_s_money_and_none_in_that_of_the_lists():
    euro, own = (
        evaluate(demo("boat_shed").with_(decided="", currency="EUR: bar 20, hour 58.69565217391304")),
        evaluate(in_kronor()),
    )
    for name in (
        "cash_total",
        "savings",
        "used_price",
        "hour_cost",
        "money_can",
        "outside_money",
        "bed_metal_price",
        "cash_average",
    ):
        before, after = euro.shown(name), own.shown(name)
        assert "SEK" in after and "EUR" not in after
        assert float(after.split()[0]) == pytest.approx(11.5 * float(before.split()[0]), rel=0.01, abs=0.6)
    assert own["months_to_finish"] == pytest.approx(euro["months_to_finish"]), "amounts are only scaled"
    for page in PAGES_OF_MONEY:
        assert "EUR" not in PAGES[page](own).plain, page
    assert "SEK" in PAGES["ways_of_a_part"](own, part="spindle").plain
    for picture in ("money_goes_to", "money_fan", "money_against_hours"):
        told = PICTURES[picture].describe(own)
        assert "SEK" in told and "EUR" not in told
    assert not any("EUR" in finding.sentence for finding in own.findings.values())


def test_prices_that_are_known_make_the_level_of_prices():
    plain, dear = evaluate(demo("boat_shed")), evaluate(demo("boat_shed").with_(decided="", currency="EUR: bar 30, hour 36"))
    assert dear["material_money"] == pytest.approx(1.5 * plain["material_money"]) and dear["outside_money"] == pytest.approx(
        0.8 * plain["outside_money"]
    )
    assert dear["savings"] == plain["savings"]


def test_what_is_written_in_ones_own_money_stands_so_in_the_file_and_comes_back():
    design = in_kronor(savings="4600 SEK", money_can="1150 sek/month", hour_price="115 SEK/h")
    assert (design["savings"], design["money_can"], design["hour_price"]) == pytest.approx((400, 100, 10))
    written = design.written()
    assert (
        written["decisions"]["savings"]["value"] == "4600 SEK"
        and written["decisions"]["currency"]["value"] == KRONOR
        and type(written["system"]) is str
    )
    again = Design.from_written(design.chain, written)
    assert again["savings"] == pytest.approx(400) and again.system.money == "SEK" and again.system.rate == pytest.approx(11.5)
    euro = design.with_(decided="", savings="300 EUR")
    assert euro["savings"] == 300 and evaluate(euro).shown("savings") == "3450 SEK", (
        "sums in the money of the lists are still read"
    )
    both = demo("boat_shed").with_(decided="", savings="460 CHF", currency="CHF: bar 23")
    assert both["savings"] == pytest.approx(400), "whatever the order, the money is read first"


def test_the_other_system_of_units_keeps_the_money():
    e = evaluate(replace(in_kronor(), system="inch"))
    assert e.shown("cash_total").endswith("SEK") and e.shown("centre_height").endswith("in")
    assert (
        units.shown(100.0, units.Money(), e.design.system) == "1150 SEK"
        and units.shown(0.0254, units.Length(), e.design.system) == "1 in"
    )


@pytest.mark.parametrize(
    "given, said",
    [
        ("12 EUR", "without figures"),
        ("a very long name of money", "12 letters"),
        ("SEK: nail 3", "'nail 3' is no price"),
        ("SEK: bar", "'bar' is no price"),
        ("SEK: bar 0", "is no price"),
        ("SEK: bar -4", "is no price"),
    ],
)
def test_what_is_no_money_is_refused_in_a_sentence(given, said):
    with pytest.raises(InputProblem, match=re.escape(said)):
        read_money(given)
    with pytest.raises(InputProblem, match="SEK"):
        demo("boat_shed").with_(savings="300 SEK")


def test_money_is_written_evenly():
    assert read_money("  SEK :hour 675,bar 230 ") == KRONOR and read_money("EUR") == "EUR"
    assert np.isfinite(money_of(read_money("Kč: bar 500"))[1])
