"""Exercises and a club evening in a real browser: a learner answers, starts again, and three groups meet at the wall."""

from __future__ import annotations

import re
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from lab import Lab

from lathe_course.course.teaching.club_panels import STEPS
from lathe_course.course.teaching.questions import asked
from lathe_course.design.files import design_file
from lathe_course.units import si_factor

if TYPE_CHECKING:
    from playwright.sync_api import Locator

pytestmark = pytest.mark.browser


def test_a_learner_answers_and_finds_it_again_after_a_restart(lab: Lab) -> None:
    lab.open_notebook("exercises/03_cutting_speeds.ipynb")
    lab.run_all()
    lab.text_box("my name").fill("learner one")
    lab.text_box("my name").press("Enter")
    now = asked("03.3", "learner one")
    place = lab.page.locator(".widget-vbox", has_text=now.text).last
    place.wait_for()
    slip = now.value(now.question.slips[0]).likely / si_factor("rpm", "speed")
    field = place.locator("input").first
    field.fill(f"{slip:.4g} rpm")
    field.press("Enter")
    place.get_by_text("radius put in for the diameter").first.wait_for()
    lab.restart_kernel()
    lab.run_all()
    again = lab.page.locator(".widget-vbox", has_text=now.text).last
    again.get_by_text("radius put in for the diameter").first.wait_for()
    assert again.locator("input").first.input_value() == f"{slip:.4g} rpm"
    assert "radius put in for the diameter" in (lab.folder / "design.exercises.csv").read_text(encoding="utf-8")


def club(lab: Lab, *groups: str) -> Path:
    """The club evening of groups whose folders lie beside the working folder, run once from top to bottom; gives the place of the folders."""
    beside = lab.folder.parent
    for name in groups:
        (beside / name).mkdir()
        design_file.new(beside / name / "design.toml")
    path = lab.folder / "exercises" / "00_club_evening.ipynb"
    names = ", ".join(f'\\"{name}\\"' for name in groups)
    text = path.read_text(encoding="utf-8")
    assert "evening = club_evening()" in text
    path.write_text(text.replace("evening = club_evening()", f"evening = club_evening({names})"), encoding="utf-8")
    lab.page.set_viewport_size({"width": 1366, "height": 3000})  # tall, so that every cell is drawn
    lab.open_notebook("exercises/00_club_evening.ipynb")
    lab.run_all()
    return beside


def cell_of(lab: Lab, call: str) -> Locator:
    """The cell of the open notebook whose code holds ``call``; the code itself is folded."""
    place = lab.page.evaluate(
        "call => window.jupyterapp.shell.currentWidget.content.widgets.findIndex(cell => cell.model.sharedModel.getSource().includes(call))",
        call,
    )
    return lab.page.locator(".jp-NotebookPanel:not(.lm-mod-hidden) .jp-Notebook-cell").nth(place)


def press(place: Locator, words: str) -> None:
    place.get_by_role("button", name=words).first.click()


def test_two_groups_a_setback_and_the_wall(lab: Lab) -> None:
    beside = club(lab, "red", "blue")
    setback = cell_of(lab, 'setbacks("spring evening")')
    setback.get_by_role("button", name="Turn the card over").wait_for()
    assert not setback.get_by_text("red, blue: ").count(), "nobody sees the card before it is turned over"
    press(setback, "Turn the card over")
    setback.get_by_text("red, blue: ").wait_for()
    press(setback, "Let it happen")
    setback.get_by_text("is in the design now").nth(1).wait_for()
    kept = (beside / "red" / "design.toml").read_bytes()
    assert b"spring evening" in kept
    press(setback, "Let it happen")
    setback.get_by_text("had happened already").nth(1).wait_for()
    assert kept == (beside / "red" / "design.toml").read_bytes()
    wall = cell_of(lab, "evening.wall()")
    wall.get_by_text("what fails").wait_for()
    assert "and" in wall.locator("summary").first.inner_text()


@pytest.mark.walk
def test_three_groups_go_through_the_whole_evening(lab: Lab) -> None:
    """Each button of the notebook is pressed: first round, two setbacks, mending, the wall, and what is printed."""
    beside = club(lab, "red", "blue", "green")
    first = cell_of(lab, "evening.first_round()")
    for group, diameter in (("red", "30 mm"), ("blue", "60 mm")):
        press(first, group)
        first.get_by_text(f"{group} works on {group}/design.toml").wait_for()
        field = (
            first.locator(".widget-text", has=lab.page.locator(".widget-label", has_text="its diameter")).locator("input").last
        )
        field.fill(diameter)
        field.press("Tab")
        lab.at_rest()
        press(first, "Put it on my list")
        first.get_by_text("Kept in design.toml").last.wait_for()
        for title, _ in STEPS[1:]:
            press(first, title)
            lab.at_rest()
            if title.endswith("the draft"):
                press(first, "Draft my lathe")
                first.get_by_text("decisions of it drafted").wait_for()
            if title.startswith("6"):
                press(first, "My first answer")
                first.get_by_text("money to be paid").wait_for()
    for call, words in (
        ('setbacks("spring evening")', "Turn the card over"),
        ('setbacks("spring evening, second"', "Turn the cards over"),
    ):
        setback = cell_of(lab, call)
        press(setback, words)
        setback.get_by_text("green").first.wait_for()
        press(setback, "Let it happen")
        setback.get_by_text("is in the design now").nth(2).wait_for()
    mend = cell_of(lab, "evening.mend()")
    press(mend, "green")
    mend.get_by_text("green works on").wait_for()
    mend.locator("select").nth(1).select_option(index=1)
    mend.locator("textarea").first.fill("the club <b>said</b> so")
    mend.locator("textarea").first.press("Tab")
    lab.at_rest()
    press(mend, "Keep this decision")
    mend.get_by_text("Kept in design.toml").wait_for()
    assert "the club <b>said</b> so" in (beside / "green" / "design.toml").read_text(encoding="utf-8")
    wall = cell_of(lab, "evening.wall()")
    press(wall, "As the designs stand now")
    wall.get_by_text("money and date").wait_for()
    wall.get_by_text("decided, and why").wait_for()
    paper = cell_of(lab, "evening.paper(")
    for words, file in (
        ("Hand-out beforehand", "club_hand_out"),
        ("Wall page", "club_wall"),
        ("Pages to take home", "club_take_home_green"),
    ):
        press(paper, words)
        paper.get_by_text(f"{file}.html").wait_for()
        assert (lab.folder / f"{file}.html").is_file()
    # what hangs or lies on a table: nothing sticks out, and the sheets are few
    for file, most in (("club_hand_out", 3), ("club_wall", 3), ("club_take_home_red", 1)):
        sheet = lab.page.context.browser.new_page()
        sheet.goto((lab.folder / f"{file}.html").as_uri())
        assert sheet.evaluate("document.documentElement.scrollWidth <= innerWidth"), file
        assert len(re.findall(rb"/Type\s*/Page\b", sheet.pdf(prefer_css_page_size=True))) <= most, file
        sheet.close()
