"""Starting from a demo, and what is the learner's own."""

from dataclasses import replace

import numpy as np
import pytest

from lathe_course.design.building import note_of
from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.draft.starting import in_system, settle, start_from, with_job, without_job
from lathe_course.design.evaluation import evaluate
from lathe_course.design.files import design_file
from lathe_course.design.lathe import LATHE
from lathe_course.units import InputProblem

JOB = {
    "name": "cleat pin",
    "material": "bronze",
    "diameter": "12 mm",
    "length": "40 mm",
    "tolerance": "50 µm",
    "roughness": "3.2 µm",
    "share": "0.1",
}


def test_what_was_decided_stays_when_another_demo_is_chosen():
    mine = demo("boat_shed").with_("for the big bush", decided="2026-01-31", centre_height="80 mm")
    moved = start_from(mine, "cabin")
    assert moved.choices["centre_height"] == mine.choices["centre_height"] and moved.started_from == "cabin"
    assert moved["between_centres"] == demo("cabin")["between_centres"] and moved.jobs == demo("cabin").jobs


def test_jobs_the_learner_changed_stay():
    mine = with_job(demo("boat_shed"), JOB)
    assert start_from(mine, "cabin").jobs == mine.jobs


def test_an_unknown_demo_is_refused_with_the_nearest():
    with pytest.raises(InputProblem, match="[Tt]here is no demo called 'barn'; did you mean shared_barn"):
        start_from(demo(), "barn")


def test_a_kept_figure_does_not_take_over_the_words_of_the_demo():
    before = demo("boat_shed")
    assert before.choices["between_centres"].reason
    for kept in (settle(before, "", {"between_centres": "300 mm"}), settle(before, "", {}, ["between_centres"])):
        assert kept.choices["between_centres"].reason == "" and kept.choices["between_centres"].decided
    own = before.with_("our longest oar pin", between_centres="300 mm")
    assert settle(own, "", {}, ["between_centres"]).choices["between_centres"].reason == "our longest oar pin"


def test_a_reason_goes_to_what_was_changed_or_to_all_if_nothing_was():
    moved = settle(demo("boat_shed"), "our own", {"centre_height": "80 mm"}, ["between_centres"])
    assert [moved.choices[name].reason for name in ("centre_height", "between_centres")] == ["our own", ""]
    as_it_is = settle(demo("boat_shed"), "our own", {}, ["centre_height", "between_centres"])
    assert {as_it_is.choices[name].reason for name in ("centre_height", "between_centres")} == {"our own"}


def test_jobs_are_added_changed_and_taken_off():
    added = with_job(demo("boat_shed"), JOB)
    assert [job.name for job in added.jobs][-1] == "cleat pin"
    changed = with_job(added, {**JOB, "diameter": "14 mm"})
    assert len(changed.jobs) == len(added.jobs) and changed.jobs[-1].diameter == pytest.approx(0.014)
    assert without_job(changed, "cleat pin").jobs == demo("boat_shed").jobs
    with pytest.raises(InputProblem, match="there is no job called 'cleet'; the list holds propeller shaft"):
        without_job(changed, "cleet")


def test_the_last_job_stays():
    design = demo("boat_shed")
    for job in design.jobs[1:]:
        design = without_job(design, job.name)
    with pytest.raises(InputProblem, match="this is the last job"):
        without_job(design, design.jobs[0].name)


def test_an_unknown_system_is_refused():
    assert in_system(demo(), "inch").system == "inch"
    with pytest.raises(InputProblem, match="the system 'yards' is not known; write 'mm' or 'inch'"):
        in_system(demo(), "yards")


def test_the_ways_of_the_parts_are_the_demos_until_one_is_chosen():
    boat, cabin = demo("boat_shed"), demo("cabin")
    assert start_from(boat, "cabin").ways == cabin.ways != boat.ways
    own = boat.with_ways(spindle="made outside")
    assert start_from(own, "cabin").ways == own.ways and own.ways["spindle"] == "made outside"


# --- ways of a demo -------------------------------------------------------------------------------------
def test_a_way_of_the_demo_gives_place_where_it_is_not_open_and_one_of_ones_own_does_not():
    larger = demo().trying(centre_height=0.09)
    e = evaluate(larger)
    here = {one.way.part: one.way.how for one in e["ways_chosen"]}
    moved = {part for part, how in demo().ways.items() if part in here and here[part] != how}
    assert moved and e["parts_stuck"] == 0 and np.isfinite(e["months_to_finish"])
    part = min(moved)
    own = replace(larger, notes={note_of(part): "I want it so"})
    assert evaluate(own)["parts_stuck"] == 1


# --- what is no answer for another place ------------------------------------------------------------------
@pytest.mark.parametrize("name", DEMOS)
def test_what_an_electrician_said_of_the_demos_place_is_open_in_a_design_that_begins_with_it(name, tmp_path):
    laid = design_file.load(design_file.new(tmp_path / "design.toml", demo=name), LATHE)
    moved = start_from(demo("cabin" if name == "boat_shed" else "boat_shed"), name)
    for design in (laid, moved):
        assert design["leakage_device"] == "not asked yet" and design.origin("leakage_device") == "draft"
        # the barn's motor hangs on the mains by itself and asks for no answer
        assert (evaluate(design).findings["leakage_settled"].status == "open") == (name != "shared_barn")
        assert {one for one in design.choices if design[one] != demo(name)[one]} <= {"leakage_device"}
    asked = settle(laid, "she came on Tuesday", {"leakage_device": "the one there serves"})
    assert start_from(asked, name)["leakage_device"] == "the one there serves"


def test_the_demo_that_has_asked_keeps_its_answer():
    assert demo("boat_shed")["leakage_device"] == "another kind is needed"
