"""The survey of builds: read with tolerance, never mixed with the invented set, silent below five."""

from dataclasses import replace

import pytest

from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.evaluation import evaluate
from lathe_course.design.files.sheets import SheetProblem
from lathe_course.design.files.survey import (
    ENDS,
    FEWEST,
    FIGURES,
    PLACES,
    counted,
    demo_builds,
    lay_survey,
    read_survey,
    summary,
    survey_path,
    ways_of,
)
from lathe_course.planning.parts import HOWS
from lathe_course.tables import table
from lathe_course.units import InputProblem


@pytest.fixture
def design(tmp_path):
    return tmp_path / "lathe.toml"


# --- the invented set ---------------------------------------------------------------------------------
def test_the_invented_set_says_that_it_is():
    assert all("invented" in table("builds").source(name) for name in table("builds"))


def test_the_invented_set_fits_its_own_sheet():
    builds = demo_builds()
    assert len(builds) == 24 and {one.ended for one in builds} == set(ENDS)
    for one in builds:
        assert 0.04 <= one.centre_height <= 0.13 and one.planned("months") and one.ended in ENDS
        assert all(one.way(place) in HOWS for place in PLACES)
        assert bool(one.why) == (one.ended == "stopped")


# --- reading ------------------------------------------------------------------------------------------
def test_no_sheet_is_no_build(design):
    assert read_survey(design) == ((), ())


def test_an_empty_sheet_is_laid_once_and_reads(design):
    path = lay_survey(design)
    assert path == survey_path(design) and path.name == "lathe.builds.csv"
    assert read_survey(design) == ((), ())
    before = path.read_bytes()
    with pytest.raises(SheetProblem, match="never overwritten"):
        lay_survey(design)
    assert path.read_bytes() == before


def test_it_reads_what_a_spreadsheet_leaves(design):
    survey_path(design).write_bytes(
        "\ufeff# asked at the fair\nBuilder;Centre height (in);ENDED;months_planned;months taken;money spent [EUR];bed way;eyes\n"
        "the smith;3,5;Finished;10;14;1200,50;Bought;blue\n;;;;;;;\n".encode()
    )
    (one,), remarks = read_survey(design)
    assert one.builder == "the smith" and one.centre_height == pytest.approx(0.0889) and one.ended == "finished"
    assert one.overrun("months") == pytest.approx(1.4) and one.came_to("money") == 1200.5 and one.bed_way == "bought"
    assert one.planned("hours") is None and one.overrun("hours") is None and one.people is None
    assert one.source == "told to me" and any("'eyes'" in remark for remark in remarks)


def test_every_fault_is_told_by_line(design):
    survey_path(design).write_text(
        "builder,centre height [mm],ended,bed way\nA,75,done,\nA,,finished,\nB,-3,stopped,grown\n", "utf-8"
    )
    with pytest.raises(SheetProblem) as raised:
        read_survey(design)
    told = str(raised.value)
    for part in ("line 2", "ended is 'done'", "line 3", "centre height is empty", "line 4", "bed way is 'grown'"):
        assert part in told
    assert "lathe.builds.csv" in told


def test_a_figure_far_from_its_plan_is_doubted(design):
    survey_path(design).write_text("builder,centre height [mm],ended,months planned,months taken\nA,75,finished,2,30\n", "utf-8")
    builds, remarks = read_survey(design)
    assert len(builds) == 1 and remarks == (
        "lathe.builds.csv, line 2: months came to 15 times what was planned; is a figure in another unit?",
    )


# --- what they tell -----------------------------------------------------------------------------------
def _some(*months):
    return [
        replace(demo_builds()[0], builder=str(number), months_taken=value, months_planned=10.0)
        for number, value in enumerate(months)
    ]


def test_medians_and_ranges_by_hand():
    found = summary(_some(10.0, 12.0, None, 30.0, 15.0, 14.0), lambda one: one.came_to("months"))
    assert (found.count, found.middle, found.low, found.high) == (5, 14.0, 10.0, 30.0)
    found = summary(_some(10.0, 12.0, 30.0, 15.0, 14.0, 16.0), lambda one: one.overrun("months"))
    assert (found.count, found.middle, found.low, found.high) == (6, 1.45, 1.0, 3.0)


def test_nothing_is_told_from_fewer_than_five():
    assert FEWEST == 5
    assert summary(_some(10.0, 12.0, 30.0, 15.0, None), lambda one: one.came_to("months")) is None
    assert counted(_some(1.0, 2.0, 3.0, 4.0), lambda one: one.ended) == []
    assert counted(_some(1.0, 2.0, 3.0, 4.0, 5.0), lambda one: one.ended) == [("finished", 5)]
    assert ways_of(_some(1.0, 2.0, 3.0, 4.0), "bed") == {} and sum(ways_of(_some(*range(6)), "bed").values()) == 6


def test_an_unknown_place_is_refused():
    with pytest.raises(InputProblem, match="bed, headstock, spindle"):
        ways_of(demo_builds(), "roof")


@pytest.mark.parametrize("name", DEMOS)
def test_every_design_has_a_part_for_each_place(name):
    parts = {part.name for part in evaluate(demo(name))["parts_list"]}
    for place, names in PLACES.items():
        assert parts & set(names), place
    assert set(FIGURES) == {"months", "hours", "money"}
