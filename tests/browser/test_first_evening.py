"""A newcomer's first evening in a real browser: from the first command over the draft and the board to the printed page."""

import re

import pytest

from lathe_course.design.files import design_file as files
from lathe_course.design.lathe import LATHE
from lathe_course.design.origins import DRAFT

pytestmark = pytest.mark.browser

ROUND = "notebooks/00b_first_round.ipynb"


def panel(lab, selector):
    """The output of the cell that shows what ``selector`` names."""
    return lab.page.locator(".jp-OutputArea-output", has=lab.page.locator(selector)).first


def fill(lab, name, text):
    field = lab.page.locator(f".answer-{name} input").first
    field.fill(text)
    field.press("Tab")
    lab.at_rest()


def test_from_the_first_command_to_the_printed_page(open_lab):
    lab = open_lab()
    page = lab.page
    assert "Begin with chapter 00" in lab.printed()
    assert lab.open_path() == "notebooks/00_start_here.ipynb", "the first thing to see is chapter 00"
    page.get_by_role("heading", name="00 Start here").wait_for()
    page.locator("a", has_text="the first round").first.click()
    lab.changed(lambda: lab.open_path() == ROUND, False)
    lab.open_notebook(ROUND)
    lab.run_all()

    # two answers and a job
    fill(lab, "hours_can", "16 h/month")
    fill(lab, "patience", "60 months")
    for name in ("hours_can", "patience"):
        panel(lab, f".answer-{name}").get_by_role("button", name="Keep these answers").click()
        panel(lab, f".answer-{name}").get_by_text("Kept in design.toml:").wait_for()
    jobs = page.locator(".answer-jobs").first
    jobs.locator("input").first.fill("30 mm")
    jobs.get_by_role("button", name="Put it on my list").click()
    jobs.get_by_text("Kept in design.toml.").wait_for()

    # one button, a whole lathe
    page.get_by_role("button", name="Draft my lathe").click()
    page.locator(".first-draft").get_by_text("a whole lathe").wait_for()
    design = files.load(lab.folder / "design.toml", LATHE)
    assert sum(choice.origin == DRAFT for choice in design.choices.values()) > 100
    assert design.choices["hours_can"].written == "16 h/month"

    # the board follows, and a key on its slider lights lines up
    board = page.locator(".lcb-panel").first
    lab.at_rest()
    lab.changed(lambda: "drafted" in board.inner_text(), False)
    assert board.locator(".lcb-line").count() == 13 and board.locator(".lcb-line.lit").count() == 0
    before = (lab.folder / "design.toml").read_bytes()
    board.locator("[role=slider]").first.press("ArrowRight")
    board.locator('.lcb-line.lit[data-line="size"]').wait_for()
    assert re.search(r"mm\s*→", board.locator('[data-line="size"]').inner_text())
    assert (lab.folder / "design.toml").read_bytes() == before
    # the wall: it fills the window, one screen of a projector, and goes back
    page.set_viewport_size({"width": 1920, "height": 1080})
    page.get_by_role("button", name="Fill the window").click()
    lab.changed(lambda: board.bounding_box(), None)
    lab.changed(lambda: (board.bounding_box()["x"], board.bounding_box()["width"]) == (0, 1920), False)
    covered = page.evaluate(
        "[...Array(9)].map((_, i) => document.elementFromPoint(100 + 200 * i, 5).closest('.lcb-panel') !== null)"
    )
    assert all(covered), "menus and side bars lie behind it"
    page.get_by_role("button", name="Fill the window").click()
    lab.changed(lambda: board.bounding_box()["x"] > 0, False)

    # the page to print
    page.get_by_role("button", name="Write my page").click()
    link = page.get_by_role("link", name="Open my page")
    with page.context.expect_page() as opened:
        link.click()
    printed = opened.value
    printed.wait_for_load_state()
    assert printed.locator("section.sheet").count() == 1 and "30 mm" not in printed.title()
    assert "The whole plan on one page".lower() in printed.locator("body").inner_text().lower()
