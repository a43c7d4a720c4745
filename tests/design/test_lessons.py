"""Each lesson leans on a finding that is there, and what the lesson names really brings its finding about."""

import numpy as np
import pytest
from cases import every

from lathe_course.design.asked.lessons import LARGER, LESSONS, SMALLER, lesson_called, note_of, tipping, told, told_all
from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.evaluation import evaluate
from lathe_course.design.files.progress_log import read_log
from lathe_course.design.lathe import CHAPTERS, LATHE
from lathe_course.units import InputProblem, read

CAUGHT = [name for name, lesson in LESSONS.items() if lesson.finding]
#: designs of the course in which the finding fails from the start, mended far enough that the lesson can begin
MENDED = {
    "twelve begun and none finished": ("shared_barn", {"money_can": "400 EUR/month", "builders": "5"}),
    # bolted to a floor that moves by half a tenth, not by a hundredth
    "the floor that moved the bed": ("shared_barn", {"feet": "four feet standing free", "stand_change": "0.05 mm"}),
}


def _starts():
    return {name: demo(name) for name in DEMOS}


def test_there_are_thirty():
    assert len(LESSONS) == 30 and len(CAUGHT) >= 20


@every("name", LESSONS)
def test_a_lesson_leans_on_what_is_there(name):
    lesson = LESSONS[name]
    assert lesson.told and (lesson.finding or lesson.question)
    if lesson.finding:
        assert lesson.finding in LATHE.limits
        if lesson.part:
            assert any(way.how == lesson.wrong for way in demo("boat_shed").building.parts[lesson.part].ways)
        else:
            decision = LATHE.decisions[lesson.decision]
            assert lesson.finding in LATHE.downstream(lesson.decision), "the decision has a part in the finding"
            assert (lesson.wrong in (LARGER, SMALLER)) == decision.numeric
            assert decision.numeric or decision.free_text or lesson.wrong in decision.options
    assert not lesson.watch or LATHE.limits[lesson.watch].chapter == "16"
    if lesson.question:
        assert lesson.question.endswith("?") and lesson.chapter in CHAPTERS
        assert lesson.beside and all(LATHE.part(one) for one in lesson.beside)


@every("name", CAUGHT)
def test_the_wrong_way_makes_the_finding_fail(name):
    """In some design where it does not fail, the named change alone makes it fail: the lesson is really caught."""
    lesson, shown = LESSONS[name], []
    for design in [
        *_starts().values(),
        *([demo(MENDED[name][0]).with_(decided="", **MENDED[name][1])] if name in MENDED else []),
    ]:
        before = evaluate(design).findings[lesson.finding]
        near = tipping(design, name)
        if before.status == "fails" or near is None:
            continue
        changed = (
            design.with_ways(**{lesson.part: lesson.wrong})
            if lesson.part
            else design.with_(decided="", **{lesson.decision: near.there})
        )
        after = evaluate(changed)
        assert after.findings[lesson.finding].status == "fails" and told(after, name).standing == "fails"
        if not lesson.part:
            assert near.sentence == after.findings[lesson.finding].sentence
        shown.append(design.name)
    assert shown, "in none of the designs could it be brought about"


@every("name", [name for name in CAUGHT if LESSONS[name].wrong in (LARGER, SMALLER)])
def test_the_right_way_does_not_bring_it_about(name):
    """A step the other way does not spoil the finding."""
    lesson = LESSONS[name]
    design = demo("shared_barn")
    before = evaluate(design).findings[lesson.finding]
    decision = design.chain.decisions[lesson.decision]
    here = design[lesson.decision]
    values = decision.values()
    right = values[values < here] if lesson.wrong == LARGER else values[values > here]
    if len(right):
        value = float(right[-1] if lesson.wrong == LARGER else right[0])
        after = evaluate(design.trying(**{lesson.decision: value})).findings[lesson.finding]
        assert after.margin >= before.margin - 0.2


def test_a_lesson_begins_at_the_nearest_value_that_brings_it_about():
    """Of a lesson told by a decision that grows or shrinks: half-way to where it begins, its finding does not fail yet."""
    looked_at = set()
    for name in CAUGHT:
        lesson, design = LESSONS[name], demo("boat_shed")
        near = tipping(design, name) if lesson.wrong in (LARGER, SMALLER) else None
        if near is None:
            continue
        decision, here = design.chain.decisions[lesson.decision], float(design[lesson.decision])
        there = read(near.there, decision.kind)
        between = [
            value
            for value in decision.values()
            if min(here, there) < value < max(here, there) and not np.isclose(value, there, rtol=0.01)
        ]
        if between:
            half_way = min(between, key=lambda value: abs(value - (here + there) / 2))
            assert evaluate(design.trying(**{lesson.decision: float(half_way)})).findings[lesson.finding].status != "fails", name
            looked_at.add(lesson.wrong)
    assert looked_at == {LARGER, SMALLER}


@pytest.mark.parametrize("name", DEMOS)
def test_all_lessons_are_told_for_every_demo(name):
    e = evaluate(demo(name), draws=200)
    every = told_all(e)
    assert {one.lesson.name for one in every} == set(LESSONS)
    assert all(one.sentence and one.chapter in CHAPTERS for one in every)
    assert [one.standing for one in every] == [told(e.central, one.lesson.name).standing for one in every], (
        "verdicts are those of the likely figures"
    )


def test_what_a_design_does_not_have_is_not_asked():
    e = evaluate(demo("cabin"))
    assert told(e, "a leadscrew longer than any lathe").standing == "not asked"
    assert told(e, "a leadscrew longer than any lathe").sentence == "Your design has no leadscrew."
    assert tipping(demo("cabin"), "a leadscrew longer than any lathe") is None


def test_one_part_is_told_without_the_others():
    """A spindle that cannot be had is no lesson of the headstock's."""
    e = evaluate(demo("boat_shed").with_ways(spindle="make it here"))
    assert e.findings["every_part_can_be_had"].status == "fails"
    assert told(e, "good bearings, poor housings").standing == "holds"
    stuck = told(evaluate(demo("boat_shed").with_ways(**{"headstock body": "make it here"})), "good bearings, poor housings")
    assert stuck.standing == "fails" and "boring" in stuck.sentence


def test_a_question_is_answered_by_a_note():
    design = demo("boat_shed")
    assert told(evaluate(design), "scraped too early").standing == "question"
    noted = design.note(note_of("scraped too early"), "ten days, written on the drawing")
    one = told(evaluate(noted), "scraped too early")
    assert one.standing == "answered" and one.answer == "ten days, written on the drawing"
    assert told(evaluate(design.note(note_of("scraped too early"), "  ")), "scraped too early").standing == "question"


#: a log that goes the way of the lesson
LOGS = {
    "twelve begun and none finished": [
        f"2031-01-{day:02},hours,3,{part},"
        for day, part in enumerate(("bed box", "bed plate", "headstock body", "saddle", "cross-slide", "spindle pulley"), 1)
    ],
    "a summer that became a year": [
        "2031-01-05,hours,3,bed box,",
        "2031-01-20,part accepted,,bed box,",
        "2031-06-20,hours,3,bed plate,",
    ],
    "the gearbox nobody had planned": [
        "2031-01-05,hours,3,bed box,",
        *(f"2031-0{month}-{day},specification changed,,,a gearbox" for month in (1, 2) for day in (10, 20)),
    ],
    "the money that ended at the motor": [
        "2031-01-05,hours,3,bed box,",
        "2031-01-06,money,900,,",
        "2031-01-20,part accepted,,bed box,",
    ],
}


@pytest.mark.parametrize("name", [name for name, lesson in LESSONS.items() if lesson.watch])
def test_the_log_tells_it_once_the_build_runs(name):
    design, watch = demo("boat_shed"), LESSONS[name].watch
    assert told(evaluate(design), name).watched is None, "no log, nothing watched"
    log = read_log("\n".join(["date,what,amount,part,words", *LOGS[name], ""]).encode(), None)
    one = told(evaluate(design.with_log(log)), name)
    assert one.watched.name == watch and one.watched.status == "fails" and one.standing == "fails"


def test_partners_are_a_question_until_somebody_is_missing():
    alone, three = demo("boat_shed"), demo("shared_barn")
    assert told(evaluate(alone), "partners who kept no book").standing == "question"
    assert told(evaluate(three.with_(decided="", builders="4")), "partners who kept no book").standing == "fails"


def test_an_unknown_lesson_is_answered_with_the_nearest():
    with pytest.raises(InputProblem, match="no lesson called 'the open bad'.*the open bed"):
        lesson_called("the open bad")
