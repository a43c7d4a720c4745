"""Exercises and a club evening in a real browser: a learner answers, starts again, and three groups meet at the wall."""
from collections.abc import Callable
from pathlib import Path

import pytest
from lab import Lab

from lathe_course.course.teaching.questions import asked
from lathe_course.design.files import design_file
from lathe_course.units import si_factor

pytestmark = pytest.mark.browser


def test_a_learner_answers_and_finds_it_again_after_a_restart(open_lab: Callable[..., Lab]) -> None:
    lab = open_lab()
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


def test_three_groups_two_setbacks_and_the_wall(open_lab: Callable[..., Lab], tmp_path: Path) -> None:
    groups = {name: tmp_path / name for name in ("red", "blue", "green")}
    for folder in groups.values():
        folder.mkdir()
        design_file.new(folder / "design.toml")
    lab = open_lab()
    path = lab.folder / "exercises" / "00_club_evening.ipynb"
    names = ", ".join(f'\\"{folder}\\"' for folder in groups.values())
    text = path.read_text(encoding="utf-8")
    assert "evening = club_evening()" in text
    path.write_text(text.replace("evening = club_evening()", f"evening = club_evening({names})"), encoding="utf-8")
    lab.open_notebook("exercises/00_club_evening.ipynb")
    lab.run_all()
    for name in groups:
        told = lab.page.locator(".jp-OutputArea p", has_text=f"{name}: ")
        told.nth(1).wait_for(state="attached")
        assert told.count() == 2, "both setbacks fall on each group"
    wall = lab.page.locator(".jp-OutputArea table", has=lab.page.locator("th", has_text="green"))
    wall.first.wait_for(state="attached")
    assert "fails" in wall.first.inner_text()
