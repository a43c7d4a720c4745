"""Chapter 10 as it is shown: ways, order, mixes, the panel that settles the ways, and the picture of money against hours."""

import html
import re
from types import SimpleNamespace

import numpy as np
import pytest
from matplotlib.figure import Figure
from tiers import short_of

from lathe_course.course.pages import mixes, show
from lathe_course.course.pages.ways_panel import FrontierPanel, WaysPanel
from lathe_course.course.pictures import PICTURES
from lathe_course.course.session import Session
from lathe_course.design.asked.mixes import compared, frontier_here, note_of
from lathe_course.design.asked.part_account import part_account
from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.evaluation import evaluate
from lathe_course.planning.capabilities import Need
from lathe_course.planning.costs import STAND_IN
from lathe_course.planning.parts import MAKE
from lathe_course.units import InputProblem

PAGES = {
    "ways_of_the_parts": {},
    "ways_of_a_part": {"part": "spindle"},
    "order_of_the_work": {},
    "part_worked": {"part": "tailstock body"},
    "best_mixes": {},
    "mixes_played": {},
    "worth_a_change": {},
}


@pytest.fixture
def session(nowhere):
    return Session()


@pytest.mark.parametrize("turn", short_of(range(3), 0))
@pytest.mark.parametrize("name", PAGES)
def test_every_page_tells_the_same_in_both_ways_of_writing(name, turn, nowhere):
    """Each page for one demo in every run, for the others on the long walk."""
    demo = [*DEMOS][(list(PAGES).index(name) + turn) % 3]
    page = show(Session(demo_name=demo), name, PAGES[name])
    assert page.plain and "nan" not in page.plain and "inf " not in page.plain
    for word in ("P0", "A4", "None"):
        assert word not in page.plain
    cells = [cell for line in page.plain.splitlines() for cell in line.split("  ") if cell.strip()]
    markup = html.unescape(re.sub("<[^>]+>", "", page.widget.value))
    assert all(cell.strip().lstrip("> ") in markup for cell in cells)


def test_a_part_that_is_not_there_is_asked_back(session):
    for name in ("ways_of_a_part", "part_worked"):
        with pytest.raises(InputProblem, match="there is no part called 'spindel'; did you mean spindle"):
            show(session, name, {"part": "spindel"})
        assert show(session, name, {"part": "bed bars"}).plain == "Your design has no bed bars; its choices call for other parts."


def test_what_is_missing_is_told_with_who_comes_nearest(session):
    said = show(session, "ways_of_a_part", {"part": "headstock body"}).plain
    assert "needs " in said and ("the nearest is" in said or "nothing here does any" in said)


def test_the_lathe_turns_before_it_makes_anything_for_itself(session):
    lines = show(session, "order_of_the_work", {}).plain.splitlines()
    first = next(number for number, line in enumerate(lines) if line.startswith("The lathe does: "))
    assert "turning in the chuck" in lines[first] and not any("on the lathe itself" in line for line in lines[:first])
    assert any("(on the lathe itself)" in line for line in lines[first:])
    assert "the spindle pulley" in lines[first], "told with its stand-in"


def test_a_part_nobody_can_make_is_told_on_every_page_and_stops_none(session):
    from dataclasses import replace

    session.change(lambda design: replace(design, sheets=replace(design.building, machines=())))
    assert "cannot be had" in show(session, "ways_of_the_parts", {}).plain
    for name in ("order_of_the_work", "best_mixes", "mixes_played", "worth_a_change"):
        said = show(session, name, {}).plain
        assert "This cannot be told while a part cannot be had." in said and "needs " in said
    panel = WaysPanel(session)
    panel.take("least money")
    assert "cannot be had" in panel.reply.value and "There is no mix to draw" in FrontierPanel(session).plain


# --- settling ways --------------------------------------------------------------------------------------------
def test_the_sums_follow_and_nothing_is_kept_before_the_button(session):
    panel = WaysPanel(session)
    before = session.design
    panel.boxes["chip tray"].value = "bought"
    assert "1 part or thing comes by another way" in panel.sums.value and session.design is before
    now = evaluate(before.with_ways(**{"chip tray": "bought"}))
    assert now.shown("own_hours") in panel.sums.value and now.shown("cash_total") in panel.sums.value
    panel.show()
    assert panel.chosen() == {} and "another way" not in panel.sums.value


def test_ways_are_kept_with_a_reason_in_the_file(design_file):
    session = Session()
    panel = WaysPanel(session)
    panel.boxes["chip tray"].value = "bought"
    panel.reason.value = "there is one at the scrap dealer's"
    panel.keep()
    assert (
        "Kept in design.toml: 1 way." in panel.reply.value
        and "here → bought" in panel.reply.value
        and "own hours" in panel.reply.value
    )
    fresh = Session().design
    assert "The chip tray: there is one at the scrap dealer's" in show(session, "ways_of_the_parts", {}).plain
    assert fresh.ways["chip tray"] == "bought" and fresh.notes[note_of("chip tray")] == "there is one at the scrap dealer's"
    panel.keep()
    assert "Nothing is changed" in panel.reply.value


WISHES = ["least money", "fewest own hours", "done soonest", "money and hours together"]


@pytest.mark.parametrize("wish", short_of(WISHES, "least money", "done soonest"))
def test_the_best_mix_for_a_wish_is_put_into_the_boxes(session, wish):
    panel = WaysPanel(session)
    panel.takers[wish].click()
    hows = {part: box.value for part, box in panel.boxes.items()}
    wanted = compared(session.evaluation)[wish].hows
    assert {name: how for name, how in wanted.items() if name in hows}.items() <= hows.items() and set(
        session.evaluation["parts_list"].by_name
    ) <= set(hows)
    assert evaluate(session.design.with_ways(**panel.chosen()))["cash_total"] == pytest.approx(
        evaluate(session.design.with_ways(**wanted))["cash_total"]
    )


def test_what_was_moved_and_not_kept_survives_a_change_elsewhere(session):
    panel = WaysPanel(session)
    panel.boxes["chip tray"].value = "bought"
    session.keep(centre_height="72 mm")
    assert panel.chosen() == {"chip tray": "bought"}
    session.keep(threading="no")
    assert "leadscrew" not in panel.boxes and panel.chosen() == {"chip tray": "bought"}


def test_a_chosen_way_that_is_closed_is_offered_as_such(session):
    session.change(lambda design: design.with_ways(**{"headstock body": MAKE}))
    panel = WaysPanel(session)
    assert (
        any("(not open)" in label for label, _ in panel.boxes["headstock body"].options)
        and panel.boxes["headstock body"].value == MAKE
    )
    assert "yours" not in compared(session.evaluation)


# --- the picture ------------------------------------------------------------------------------------------------
@pytest.mark.parametrize("demo", DEMOS)
def test_every_mix_of_the_frontier_is_drawn(demo, nowhere):
    e = Session(demo_name=demo).evaluation
    figure = Figure()
    PICTURES["money_against_hours"].draw_on(figure, e)
    points = next(line for line in figure.axes[0].lines if line.get_marker() == ".")
    assert list(points.get_xdata()) == [mix.hours for mix in frontier_here(e)]
    assert f"{len(frontier_here(e))} mixes" in PICTURES["money_against_hours"].describe(e)


def test_a_finer_picture_comes_on_the_button_and_goes_with_the_design(session):
    panel = FrontierPanel(session)
    coarse = panel.picture.value
    panel.refine()
    assert (
        panel.fine
        and panel.picture.value != coarse
        and panel.bar.value == 1.0
        and len(frontier_here(session.evaluation, 2.0)) > len(frontier_here(session.evaluation))
    )
    session.keep(threading="no")
    assert not panel.fine


@pytest.mark.parametrize(
    "changes", [{}, {"centre_height": 0.1, "between_centres": 0.45, "bed_height": 0.1, "skill": "first machine"}]
)
@pytest.mark.parametrize("part", ["tailstock body", "saddle", "topslide", "bed plate", "handwheels"])
def test_the_account_of_a_part_is_what_the_chain_works_out_for_it(part, changes):
    """The factors told come to the growth of the chain, and the hours told to its hours, stand-in aside."""
    e = evaluate(demo().trying(**changes))
    found = part_account(e, part)
    same = evaluate(e.design.with_ways(**{part: found.here.how}))
    place = [one.way.part for one in same["ways_chosen"]].index(part)
    assert np.prod([one.result for _, one in found.growth]) == pytest.approx(same["part_growth"]["hours"][place])
    assert found.hours.result == pytest.approx(
        same["part_hours"][place] - (STAND_IN if same["ways_chosen"][place].stage and same["parts_list"][part].stand_in else 0)
    )
    assert found.sums[0].values["money"] == pytest.approx(same["part_money"][place])


# --- figures that a reader takes in ----------------------------------------------------------------------
def test_a_machine_is_advised_once_and_no_money_is_shared_among_no_hours():
    small, club, drill = (SimpleNamespace(name=name) for name in ("small mill", "small mill of the club", "bench drill"))
    offers = [("borrow", small, 213.0), ("borrow", club, 166.0), ("borrow", drill, 20.0)]
    assert [one[1].name for one in mixes._told_once(offers)] == ["small mill", "bench drill"]


def test_a_need_is_told_in_figures_of_a_workshop():
    need = Need("boring", (38.9714e-3, 77.7301e-3), 8.0614e-6)
    assert need.told() == "boring of 39 x 77.7 mm to 0.0081 mm"
    assert Need("milling", (1250.4e-3, 0.12)).told() == "milling of 1250 x 120 mm"
