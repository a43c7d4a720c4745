"""The plate on the headstock and typed workings, against arithmetic by hand."""

from dataclasses import replace

import pytest

from lathe_course.course.chapter import open_chapter
from lathe_course.course.shown.speed_plate import cutting_speeds_page, speed_plate
from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.evaluation import evaluate
from lathe_course.tables import table
from lathe_course.units import InputProblem


@pytest.fixture
def nowhere(tmp_path, monkeypatch):
    """A folder without a design file: a chapter opens on the demo."""
    monkeypatch.chdir(tmp_path)


def lines(**changes):
    """The plate of the boat shed as lines of text, blanks squeezed."""
    design = demo().with_(decided="", **changes)
    return [" ".join(line.split()) for line in speed_plate(evaluate(design)).plain.splitlines()]


def test_series_stands_beside_preferred_numbers():
    found = lines(slowest_speed="100 rpm", fastest_speed="1600 rpm", speed_steps="5")
    # by hand: each twice the one before; ISO 3, R20 has 100, 200, 400, 800, 1600
    assert found[1:6] == [
        "1 100 rpm 100 rpm",
        "2 200 rpm 200 rpm",
        "3 400 rpm 400 rpm",
        "4 800 rpm 800 rpm",
        "5 1600 rpm 1600 rpm",
    ]


def test_a_job_runs_on_the_step_under_its_wish():
    # by hand: 32 m/min on 120 mm is 84.9 rpm, which runs at 60: 60/84.9 = 71 %; 20 mm at 0.1 mm a turn is 200 turns, 3.33 min
    assert "flange ring 120 mm 84.9 rpm 60 rpm 71% 3.3 min" in lines()
    # 18 m/min on 25 mm is 229 rpm, above the third speed of 60 · (2200/60)^(2/7) = 168; 2800 turns take 16.7 min
    assert "propeller shaft 25 mm 229 rpm 168 rpm 73% 17 min" in lines()


def test_a_job_slower_than_the_slowest_speed_has_to_take_that():
    assert "flange ring 120 mm 84.9 rpm 100 rpm 118% 2 min" in lines(slowest_speed="100 rpm")


def test_a_wish_on_a_step_runs_on_that_step():
    # 18 m/min on 25 mm is 229.18 rpm
    wish = 18 / (3.141592653589793 * 0.025)
    assert "propeller shaft 25 mm 229 rpm 229 rpm 100% 12 min" in lines(slowest_speed=f"{wish!r} rpm", fastest_speed="2000 rpm")


def test_speeds_that_do_not_rise_are_told():
    assert lines(slowest_speed="400 rpm", fastest_speed="400 rpm") == [
        "The slowest speed, 400 rpm, must be less than the fastest, 400 rpm."
    ]


@pytest.mark.parametrize("name", DEMOS)
def test_every_job_has_its_line(name):
    evaluation = evaluate(demo(name))
    plate = speed_plate(evaluation)
    assert all(job.name in plate.plain and job.name in plate.markup for job in evaluation["jobs"])


def test_a_formula_is_worked_on_typed_figures(nowhere):
    worked = open_chapter("03").working("turning_time", length="280 mm", feed="0.1 mm/rev", spindle_speed="168 rpm").write()
    assert worked.result == pytest.approx(280 / (0.1 * 168) * 60)


def test_a_working_of_typed_figures_refuses_kindly(nowhere):
    chapter = open_chapter("03")
    with pytest.raises(InputProblem, match="no formula called 'turnin_time'; did you mean turning_time"):
        chapter.working("turnin_time", length="280 mm")
    with pytest.raises(InputProblem, match="feed is missing"):
        chapter.working("turning_time", length="280 mm", spindle_speed="168 rpm")


@pytest.mark.parametrize("system, bronze", [("mm", "25 to 45 (32)"), ("inch", "82 to 148 (105)")])
def test_cutting_speeds_are_those_of_the_table(system, bronze):
    plain = cutting_speeds_page(evaluate(replace(demo(), system=system))).plain
    # the row of bronze is 25, 32, 45 m/min; a metre is 3.2808 ft
    assert bronze in next(line for line in map(str.strip, plain.splitlines()) if line.startswith("bronze"))
    assert next(line for line in map(str.strip, plain.splitlines()) if line.startswith("hardwood")).endswith("-"), (
        "wood is turned with steel tools"
    )
    rows = [line.strip().split("  ")[0] for line in plain.splitlines()[1:-1]]
    assert set(table("materials")) == {name for name in rows if name in table("materials")}, "none is lost in the fold"
    fold = next(place for place, name in enumerate(rows) if name.startswith("and "))
    assert set(rows[:fold]) == {job.material for job in demo().jobs}, "those of the jobs stand open"
    assert plain.splitlines()[-1].count("handbook") >= 2, "the sources stand below"


def test_what_the_drive_gives_is_told_beside_the_wished_series():
    """The inverter's two belt steps overlap; four steps with and without back gear are eight speeds, by hand 1400 · 56/187/2 = 210 and a sixth of it."""
    assert lines()[-1].startswith("This is the even series") and "gives any speed from 60 rpm to 2230 rpm;" in lines()[-1]
    barn = speed_plate(evaluate(demo("shared_barn"))).plain.splitlines()[-1]
    assert "gives 34.9 rpm, 63.8 rpm, 117 rpm, 202 rpm, 210 rpm, 383 rpm, 702 rpm and 1210 rpm;" in barn
