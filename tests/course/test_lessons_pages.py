"""Chapter 14: lessons and builds of others as a learner meets them, own and invented kept apart."""

import numpy as np
import pytest

from lathe_course.course import open_chapter
from lathe_course.course.pages.lessons import LessonPanel, QuestionsPanel
from lathe_course.course.pages.survey import BuildsPanel, own_builds
from lathe_course.course.pictures import PICTURES
from lathe_course.course.pictures.lessons import OWN_PLAN
from lathe_course.course.pictures.style import Canvas
from lathe_course.design.asked.lessons import LESSONS, note_of
from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.evaluation import evaluate
from lathe_course.design.files.survey import FIGURES, demo_builds, survey_path
from lathe_course.units import InputProblem

ROWS = "\n".join(
    f"build {n},{60 + 5 * n},finished,10,{10 + 2 * n},{'hard faces outside, the rest here'!r},1,yes".replace("'", '"')
    for n in range(5)
)
SURVEY = f"builder,centre height [mm],ended,months planned,months taken,bed way,people,again\n{ROWS}\n"


# --- lessons -----------------------------------------------------------------------------------------
@pytest.mark.parametrize("name", DEMOS)
def test_every_lesson_is_on_the_page_once(name, nowhere):
    told = repr(open_chapter("14", demo=name).show("lessons"))
    assert told.startswith("30 lessons: ")
    assert all(told.lower().count(f" {lesson.told.lower()}") == 1 for lesson in LESSONS.values())


def test_a_lesson_follows_the_design(nowhere):
    chapter = open_chapter("14")
    panel = LessonPanel(chapter.session, "the open bed")
    assert "✓ holds" in panel.story.value and "form of the bed channel in place of filled box" in panel.story.value
    chapter.keep(bed_form="channel")
    assert "✗ fails" in panel.story.value and "Chapter 07, Bed" in panel.story.value
    panel.choice.value = "the thread that ran into the shoulder"
    assert "Caution: Cut away from the chuck" in panel.story.value


def test_what_a_decision_alone_cannot_do_is_said(nowhere):
    told = repr(open_chapter("14", demo="cabin").show("lesson", which="the saddle that went askew"))
    assert "“guide length of the saddle” alone does not bring it about" in told


def test_an_unknown_lesson_or_figure_is_told(nowhere):
    chapter = open_chapter("14")
    with pytest.raises(InputProblem, match="no lesson called"):
        chapter.show("lesson", which="the closed bed")
    with pytest.raises(InputProblem, match="months, hours, money"):
        chapter.show("builds_of_others", of="weight")


def test_answers_are_kept_as_notes_and_come_back(design_file):
    panel = QuestionsPanel(open_chapter("14").session)
    panel.boxes["the dial that read radius"].value = "radius; engraved"
    panel.button.click()
    assert "Kept: 1 of" in panel.reply.value
    again = open_chapter("14")
    assert again.session.design.notes[note_of("the dial that read radius")] == "radius; engraved"
    assert QuestionsPanel(again.session).boxes["the dial that read radius"].value == "radius; engraved"
    assert "Your answer: radius; engraved" in repr(again.show("lessons"))


def test_nothing_is_written_where_nothing_was_answered(design_file):
    before = design_file.read_bytes()
    QuestionsPanel(open_chapter("14").session).button.click()
    assert design_file.read_bytes() == before


def test_an_answer_from_another_notebook_is_not_lost(design_file):
    one, other = (QuestionsPanel(open_chapter("14").session) for _ in range(2))
    one.boxes["the bar that bowed"].value = "saddle; trial cut"
    one.button.click()
    other.boxes["scraped too early"].value = "a fortnight"
    other.button.click()
    notes = open_chapter("14").session.design.notes
    assert notes[note_of("the bar that bowed")] == "saddle; trial cut" and notes[note_of("scraped too early")] == "a fortnight"


# --- the survey --------------------------------------------------------------------------------------
def test_a_survey_is_laid_read_and_counted_apart(design_file):
    chapter = open_chapter("14")
    panel, figures, words = BuildsPanel(chapter.session, "months"), chapter.show("survey_told"), chapter.show("survey_words")
    assert "No survey of your own yet" in panel.sheet.value
    panel.lay.click()
    path = survey_path(design_file)
    assert path.exists() and "Laid: design.builds.csv" in panel.sheet.value
    panel.lay.click()
    assert "never overwritten" in panel.sheet.value
    path.write_text(SURVEY, "utf-8")
    panel.again.click()
    assert "5 builds (5 finished)" in panel.sheet.value and "Filled marks: your own survey" in panel.drawn.value
    row = next(line for line in repr(figures).splitlines() if line.startswith("months, times what was planned"))
    assert row.split("15")[-1].split() == ["1.4", "(1", "to", "1.8)", "5"], "counted by themselves"
    assert "from your own survey" in repr(words) and len(own_builds(chapter.session)[0]) == 5


@pytest.mark.parametrize("where", ["nowhere", "design_file"])
def test_a_survey_can_be_laid_where_there_is_a_folder_for_it(where, request):
    request.getfixturevalue(where)
    panel = open_chapter("14").show("builds_of_others").widget
    buttons = [one.description for row in panel.children for one in getattr(row, "children", ())]
    assert buttons == (["Lay an empty survey", "Read it again"] if where == "design_file" else [])


def test_four_builds_of_your_own_tell_nothing(design_file):
    survey_path(design_file).write_text("\n".join(SURVEY.splitlines()[:-1]) + "\n", "utf-8")
    chapter = open_chapter("14")
    row = next(line for line in repr(chapter.show("survey_told")).splitlines() if line.startswith("months, finished builds"))
    assert "fewer than 5 say" in row
    ways = next(line for line in repr(chapter.show("ways_of_others")).splitlines() if "hard faces outside" in line)
    assert ways.split().count("–") == 2 and "10" in ways.split()


def test_a_broken_survey_is_told_by_line_and_the_invented_set_stays(design_file):
    survey_path(design_file).write_text("builder,centre height [mm],ended\nA,75,asleep\n", "utf-8")
    panel = BuildsPanel(open_chapter("14").session, "hours")
    assert "line 2" in panel.sheet.value and "asleep" in panel.sheet.value and "<svg" in panel.drawn.value


def test_the_own_way_is_told_as_it_stands(nowhere):
    told = repr(open_chapter("14").show("ways_of_others"))
    assert told.count("✓ chosen") == 3
    chapter = open_chapter("14")
    chapter.session.change(lambda design: design.with_ways(spindle="make it here"))
    assert "✗ chosen, but not open" in repr(chapter.show("ways_of_others"))


# --- the picture -------------------------------------------------------------------------------------
@pytest.mark.parametrize("of", FIGURES)
@pytest.mark.parametrize("name", DEMOS)
def test_the_star_stands_where_the_plan_says(name, of):
    e = evaluate(demo(name))
    figure = Canvas().figure(PICTURES["builds_of_others"], e, of=of)
    stars = [line for axes in figure.axes[:2] for line in axes.lines if line.get_marker() == "*"]
    assert len(stars) == 2 and all(star.get_ydata()[0] == pytest.approx(e[OWN_PLAN[of]]) for star in stars)
    assert stars[0].get_xdata()[0] == pytest.approx(e["centre_height"] * 1000) and stars[1].get_xdata()[0] == pytest.approx(
        e[OWN_PLAN[of]]
    )
    marks = [line for line in figure.axes[0].lines if line.get_marker() in "oX^"]
    assert len(marks) == sum(one.came_to(of) is not None for one in demo_builds())


def test_a_plan_that_never_ends_has_no_star():
    e = evaluate(demo("boat_shed").with_(decided="", money_can="1 EUR/month", money_should="1 EUR/month"))
    assert np.isinf(e["months_to_finish"])
    figure = Canvas().figure(PICTURES["builds_of_others"], e, of="months")
    assert not [line for axes in figure.axes[:2] for line in axes.lines if line.get_marker() == "*"]
    assert "your plan never ends" in PICTURES["builds_of_others"].describe(e, of="months")


def test_invented_marks_are_open_and_own_ones_filled():
    e, own = evaluate(demo("boat_shed")), demo_builds()[:3]
    lines = Canvas().figure(PICTURES["builds_of_others"], e, of="money", builds=own).axes[0].lines
    filled = [line for line in lines if line.get_marker() in "oX^" and line.get_markerfacecolor() != "none"]
    assert len(filled) == 3
