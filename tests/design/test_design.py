"""A design is a value: read from plain text, changed only into another one."""

import copy
import dataclasses
import datetime

import numpy as np
import pint
import pytest
from small_chain import SMALL, WRITTEN

from lathe_course import units
from lathe_course.design.chain.entries import Decision
from lathe_course.design.design import Design
from lathe_course.ranges import Range
from lathe_course.units import InputProblem, Length, RotationalSpeed, quantity


@pytest.fixture
def design() -> Design:
    return Design.from_written(SMALL, copy.deepcopy(WRITTEN))


def complaints(written: dict) -> list[tuple[str, str]]:
    with pytest.raises(InputProblem) as caught:
        Design.from_written(SMALL, written)
    return caught.value.problems


# --- reading ---------------------------------------------------------------------------------------
def test_what_is_written_comes_back(design):
    assert design.written() == WRITTEN
    assert Design.from_written(SMALL, design.written()) == design


def test_values_are_si(design):
    assert design["centre_height"] == pytest.approx(0.075)
    assert isinstance(design["motor_power"], Range) and design["motor_power"].likely == pytest.approx(370)
    assert set(design.given()) == {"centre_height", "motor_power", "bed_form", "jobs", "sag_readings"}
    with pytest.raises(KeyError):
        design["efficiency"]  # a figure the learner did not replace


def test_all_problems_are_told_together():
    written = copy.deepcopy(WRITTEN)
    written["decisions"] = {
        "centre_height": {"value": "75"},
        "center": "1 mm",
        "motor_power": {"value": {"low": "1 kW", "likely": "2 kg"}},
    }
    written["figures"] = {"efficiency": {"value": 1.2}, "eficiency": 0.5}
    written["system"] = "ell"
    written["jobs"][1]["length"] = "long"
    problems = dict(complaints(written))
    assert set(problems) == {
        "centre_height",
        "center",
        "motor_power",
        "bed_form",
        "efficiency",
        "eficiency",
        "system",
        "jobs.1.length",
    }
    assert "did you mean centre_height" in problems["center"] and "did you mean efficiency" in problems["eficiency"]
    assert "without high" in problems["motor_power"] and "Which form" in problems["bed_form"]


def test_one_bad_end_of_a_range_is_not_a_missing_decision():
    written = copy.deepcopy(WRITTEN)
    written["decisions"]["motor_power"]["value"]["low"] = "weak"
    assert [name for name, _ in complaints(written)] == ["motor_power"]


def test_one_figure_is_not_a_list():
    written = copy.deepcopy(WRITTEN)
    written["figures"] = {"efficiency": {"value": [0.7, 0.8]}}
    assert "one figure is needed" in complaints(written)[0][1]
    written["figures"] = {"efficiency": {"value": [0.7, 0.8, 0.9]}}
    assert Design.from_written(SMALL, written)["efficiency"] == Range(0.7, 0.8, 0.9)


@pytest.mark.parametrize("jobs", [[], None])
def test_a_design_without_jobs(jobs):
    written = {key: value for key, value in WRITTEN.items() if key != "jobs"} | ({"jobs": jobs} if jobs is not None else {})
    assert [name for name, _ in complaints(written)] == ["jobs"]


def test_jobs_that_take_no_time():
    written = copy.deepcopy(WRITTEN)
    for job in written["jobs"]:
        job["share"] = 0
    assert "no job has a share" in complaints(written)[0][1]


def test_history_that_cannot_be_read_is_left_out():
    written = copy.deepcopy(WRITTEN)
    written["decisions"]["centre_height"]["earlier"][:0] = [{"value": "80 kg"}, {}, 3, None]
    design = Design.from_written(SMALL, written)
    assert [old.written for old in design.choices["centre_height"].earlier] == ["80 mm"]


def test_dates_may_be_dates():
    written = copy.deepcopy(WRITTEN)
    written["decisions"]["centre_height"]["decided"] = datetime.date(2026, 1, 31)
    assert Design.from_written(SMALL, written).written() == WRITTEN


# --- changing --------------------------------------------------------------------------------------
def test_a_change_makes_a_new_design_and_keeps_history(design):
    higher = design.with_(because="a larger disc", decided="2026-02-03", centre_height="85 mm")
    assert design.written() == WRITTEN
    choice = higher.choices["centre_height"]
    assert (choice.value, choice.written, choice.reason, choice.decided) == (
        pytest.approx(0.085),
        "85 mm",
        "a larger disc",
        "2026-02-03",
    )
    assert [(old.written, old.reason, old.decided, old.earlier) for old in choice.earlier] == [
        ("80 mm", "to be safe", "2026-01-10", ()),
        ("75 mm", "the largest disc", "2026-01-31", ()),
    ]
    assert higher.changed_from(design) == design.changed_from(higher) == {"centre_height"}
    with pytest.raises(dataclasses.FrozenInstanceError):
        design.name = "other"
    with pytest.raises(TypeError):
        design.choices["centre_height"] = choice


def test_the_same_value_kept_again_makes_no_history(design):
    days = [datetime.date.today().isoformat()]
    again = design.with_(centre_height="75 mm")
    days.append(datetime.date.today().isoformat())  # midnight may lie between
    assert again.choices["centre_height"].earlier == design.choices["centre_height"].earlier
    assert again.choices["centre_height"].reason == "the largest disc"
    assert again.choices["centre_height"].decided in days
    assert again.changed_from(design) == set()
    assert design.with_("measured", centre_height="75 mm").choices["centre_height"].reason == "measured"


def test_a_new_value_does_not_take_over_the_old_reason(design):
    assert design.with_(centre_height="85 mm").choices["centre_height"].reason == ""


def test_a_figure_of_the_learners_own(design):
    own = design.with_(efficiency="65 %", because="measured")
    assert own["efficiency"] == pytest.approx(0.65) and own.replaced_figures() == {"efficiency": pytest.approx(0.65)}
    assert own.changed_from(design) == design.changed_from(own) == {"efficiency"}
    assert own.with_(efficiency="0.7").choices == own.choices


def test_all_wrong_changes_are_told_together(design):
    with pytest.raises(InputProblem) as caught:
        design.with_(centre_height="85", bed_form="sand", center_height="1 mm", efficency="0.5")
    assert [name for name, _ in caught.value.problems] == ["centre_height", "bed_form", "center_height", "efficency"]
    assert "did you mean centre_height" in str(caught.value) and "did you mean efficiency" in str(caught.value)


@pytest.mark.parametrize(
    "given",
    [
        quantity(0.0801, Length("mm")),
        quantity(0.08, Length("mm")).to("inch"),
        pint.UnitRegistry().Quantity(8.01, "cm"),
        Range("78 mm", "80 mm", "85 mm"),
        ["78 mm", "80 mm", "85 mm"],
        ("3 in", quantity(0.08, Length("mm")), "85 mm"),
        {"low": "78 mm", "likely": "80 mm", "high": "85 mm"},
    ],
)
def test_whatever_a_learner_gives_is_kept_as_text_that_reads_the_same(design, given):
    made = design.with_(centre_height=given)
    written = made.choices["centre_height"].written
    assert all(isinstance(part, str) for part in (written.values() if isinstance(written, dict) else [written]))
    again = Design.from_written(SMALL, made.written())
    assert again["centre_height"] == pytest.approx(made["centre_height"], rel=1e-12)
    assert made.with_(centre_height=given).choices["centre_height"].earlier == made.choices["centre_height"].earlier


def test_numbers_are_kept_as_plain_numbers(design):
    for number in (0.5, np.float64(0.5), 1, np.int64(1)):
        written = (
            design.with_(efficiency=number)
            .choices.get("efficiency", design.with_(efficiency=number).figures["efficiency"])
            .written
        )
        assert type(written) in (int, float) and written == number


@pytest.mark.parametrize("unit", ["rpm", "1/min", "Hz", "rad/s", "deg/s", "revolution/minute"])
def test_a_rotational_speed_given_as_a_quantity_reads_the_same(unit):
    decision = Decision("top_speed", "top speed", "How fast?", "03", RotationalSpeed("rpm", above=0), 100, 3000, 50)
    chain = type(SMALL)([decision], [], [])
    written = {"decisions": {"top_speed": "900 rpm"}, "jobs": WRITTEN["jobs"]}
    given = units.registry().Quantity(20.0, unit)
    made = Design.from_written(chain, written).with_(top_speed=given)
    assert made["top_speed"] == units.read(given, decision.kind)
    assert Design.from_written(chain, made.written())["top_speed"] == pytest.approx(made["top_speed"], rel=1e-12)


def test_trying_has_no_history_and_takes_arrays(design):
    heights = np.array([0.07, 0.08])
    tried = design.trying(centre_height=heights)
    assert tried["centre_height"] is heights
    assert tried.changed_from(design) == {"centre_height"}
    assert tried.changed_from(design.trying(centre_height=heights.copy())) == set()
    with pytest.raises(KeyError):
        design.trying(nothing=1.0)


def test_guesses_and_notes(design):
    told = design.guess("03", "slowest", "30 rpm").guess("04", "force", "a lot").note("floor", "earth")
    assert told.guesses == {"03": {"fastest": "400 rpm", "slowest": "30 rpm"}, "04": {"force": "a lot"}}
    assert told.notes == {"floor": "earth"}
    assert design.written() == WRITTEN
    assert told.changed_from(design) == set()


def test_changed_jobs_are_a_change(design):
    other = dataclasses.replace(design, jobs=type(design.jobs)(design.jobs[:1]))
    assert other.changed_from(design) == {"jobs"}
