"""Pages and pictures of chapter 06: their figures are the chain's, for every kind of bearing and in both systems of units."""

from dataclasses import replace

import numpy as np
import pytest
from cases import every

from lathe_course.course.pages import PAGES
from lathe_course.course.pictures import PICTURES
from lathe_course.course.text.values import Fold
from lathe_course.design.chapters.spindle import BEARINGS
from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.evaluation import evaluate
from lathe_course.design.seats import seats

PAGES_HERE = ("bearing_loads", "bearing_worked", "chuck_worked", "fits_of_seats")


def of_kind(kind, **changes):
    return evaluate(demo("boat_shed").trying(bearing_kind=kind, **changes))


@every("kind", BEARINGS)
@every("system", ["mm", "inch"])
@every("name", PAGES_HERE)
def test_a_page_is_told_for_every_kind_of_bearing(name, kind, system):
    page = PAGES[name](evaluate(replace(demo("boat_shed").trying(bearing_kind=kind), system=system)))
    assert "nan" not in page.plain.split() and "_" not in page.plain.replace("d_m", "").replace("f_c", "").replace(
        "R_", ""
    ).replace("C_0", "").replace("F_r", "")
    assert page.markup.count("<tr") >= 2
    if system == "inch":
        assert " mm" not in page.plain and "µm" not in page.plain.replace("µin", "")


@pytest.mark.parametrize("kind", BEARINGS)
def test_what_turns_or_slides_has_play_and_a_ring_that_turns_with_its_shaft_has_none(kind):
    """ISO 286-2, tables: H7 over h5 or h6 leaves from nothing up to play; of k5 in the bore of a ring none is left at the tightest."""
    found = seats(of_kind(kind))
    plain = "journal" in found[0].what
    assert plain == (kind == "plain bronze") and len(found) == (3 if plain else 5)
    for seat in found:
        least, most = seat.play()
        assert least < most
        if "journal" in seat.what or "barrel" in seat.what:
            assert least >= -1e-12 and 10e-6 < most < 60e-6, seat
        elif "inner ring" in seat.partner:
            assert (least < 0) and ("slides" in seat.what) == (most > 1e-6), seat
        assert seat.field[0].isupper() == ("bore" in seat.what)


@pytest.mark.parametrize("kind", BEARINGS)
def test_the_blackboard_comes_to_the_figures_of_the_chain(kind):
    e = of_kind(kind)
    shown = e.workings("reckoned_dynamic", "reckoned_static", "tiring_load", "play_gained", "journal_pressure")
    found = {one.formula.name: one.result for one in reversed(shown)}  # of the combined loads that of the front
    same = {
        "ball_dynamic_rating": "dynamic_rating",
        "roller_dynamic_rating": "dynamic_rating",
        "ball_static_rating": "static_rating",
        "roller_static_rating": "static_rating",
        "warm_play_change": "play_gained",
        "bearing_pressure": "journal_pressure",
    }
    met = [name for name in found if name in same]
    assert met
    for name in met:
        assert found[name] == pytest.approx(float(e[same[name]]), rel=1e-12)
    if "combined_load" in found:
        assert found["combined_load"] <= e["tiring_load"] * (1 + 1e-12)  # the rear bearing may have it harder


@every("kind", BEARINGS)
def test_what_stands_open_of_the_workings_is_one_line_and_each_opens_its_formula(kind):
    e = of_kind(kind)
    page = PAGES["bearing_worked"](e)
    fold, *_ = page.blocks
    assert isinstance(fold, Fold) and not fold.opened and not any(one.opened for one in fold.inside)
    assert "=" not in page.plain, "no sum in plain letters stands on the page"
    assert len({one.summary for one in fold.inside}) == len(fold.inside), "what is worked twice is told apart"
    figures = [one.summary.rpartition(": ")[2] for one in fold.inside]
    worked = [one.inside[0].working for one in fold.inside]
    assert f"({len(worked)} formulas)" in fold.summary and [one.table()[-1][-1] for one in worked] == figures
    assert page.markup.count("$$") == 2 * len(worked), "each is typeset"


@pytest.mark.parametrize("name", DEMOS)
def test_the_warm_line_passes_through_the_figure_of_the_chain(name):
    e = evaluate(demo(name))
    gained = e.chain.results["play_gained"]
    for way in e.chain.decisions["bearing_arrangement"].options:
        fed = {one: e[one] for one in gained.inputs} | {
            "bearing_arrangement": way,
            "spindle_above_housing": np.array([0.0, e["spindle_above_housing"]]),
        }
        line = gained.body(*fed.values())
        other = evaluate(e.design.trying(bearing_arrangement=way))
        assert line[0] == 0 and line[1] == pytest.approx(other["play_gained"])


def test_a_bore_as_wide_as_the_spindle_is_told_in_the_picture_and_spoils_no_page():
    e = evaluate(demo("boat_shed").trying(spindle_bore=0.036))
    assert "leaves nothing of a spindle" in PICTURES["bore_curve"].describe(e)
    assert "35 k5" in PAGES["fits_of_seats"](e).plain


def test_a_seat_beyond_the_tables_is_told_in_words():
    e = evaluate(demo("boat_shed").trying(spindle_diameter=0.2))
    assert "fits are known here" in PAGES["fits_of_seats"](e).plain


def test_the_note_for_the_drawing_says_what_the_standard_prints():
    lines = PAGES["fits_of_seats"](evaluate(demo("boat_shed"))).plain.splitlines()
    front = next(line for line in lines if line.startswith("front seat"))
    assert "35 k5" in front and "+2 to +13" in front and "−25 to −2" in front
    barrel = next(line for line in lines if line.startswith("tailstock barrel"))
    assert "28 h6" in barrel and "0 to +34" in barrel
    assert any(
        "MT3: 23.825 mm at the mouth, one part in 19.92 on the diameter, half angle 1.438 degrees" in line for line in lines
    )


def test_life_beyond_reason_is_not_told_to_the_hour():
    assert "more than a million" in PAGES["bearing_loads"](evaluate(demo("boat_shed"))).plain
    short = PAGES["bearing_loads"](of_kind("deep groove", fastest_speed=400.0)).plain
    assert "or more" in short


def test_running_hours_are_hours():
    """Basic rating life of ISO 281 in hours, by hand: a million turns times the power of rating over load, by 60 times the rpm; four fifths of draws reach less."""
    e = evaluate(demo("cabin"), 200)
    row = next(line for line in PAGES["bearing_loads"](e).plain.splitlines() if line.startswith("running hours"))
    told = float(row.split("  ")[-1].split()[0])
    sure = e.central
    power = (
        3 if "ball" in sure["bearing_kind"] or "groove" in sure["bearing_kind"] or "contact" in sure["bearing_kind"] else 10 / 3
    )
    rpm = sure["fastest_speed"] * 60 / (2 * np.pi)
    likely = 1e6 * (sure["dynamic_rating"] / sure["tiring_load"]) ** power / (60 * rpm)
    assert 0.2 * likely < told <= likely, (told, likely)
