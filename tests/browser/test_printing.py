"""The brief in a real browser: it asks for nothing, fits a phone, and prints on A4 with nothing beyond the margins."""

import re
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from tiers import short_of

from lathe_course.course.printed.board_sheet import write_board
from lathe_course.course.printed.brief import sections_of, write_brief
from lathe_course.course.printed.brief_sections import SHEETS
from lathe_course.course.printed.handout import chapter_path, write_handout
from lathe_course.course.printed.paper import sheets as reckoned
from lathe_course.course.printed.shop_papers import write_shop_papers
from lathe_course.course.session import Session
from lathe_course.design.chain.luck import DRAWS
from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.evaluation import evaluate

pytestmark = pytest.mark.browser
A4 = (595, 842)  # points
SHEET = 270 * 680 / 180  # pixels: what stands on one sheet, 270 mm high between its margins, where 180 mm are 680 pixels


@pytest.mark.parametrize("name", short_of(DEMOS, "boat_shed"))
def test_the_brief_of_every_demo_on_screen_and_on_paper(browser, tmp_path: Path, name):
    out = write_brief(demo(name), tmp_path / "brief.html")
    page = browser.new_page(viewport={"width": 390, "height": 844})
    asked, said = [], []
    page.on("request", lambda request: asked.append(request.url))
    page.on("console", lambda message: said.append(message.text))
    page.on("pageerror", lambda error: said.append(str(error)))
    page.goto(out.as_uri())
    assert asked == [out.as_uri()] and not said
    # on a phone nothing sticks out; wide tables and pictures scroll in their own place
    assert page.evaluate("document.documentElement.scrollWidth") == 390
    assert page.locator("section").first.get_attribute("class") == "sheet"
    # pictures have a size and are named for those who cannot see them
    pictures = page.locator("svg[role=img]")
    assert pictures.count() == 2  # the lathe on the board, and on its sheet
    for picture in pictures.all():
        assert picture.bounding_box()["height"] > 100
        assert picture.locator("title").text_content() and picture.locator("desc").text_content()
    printed = page.pdf(prefer_css_page_size=True, print_background=True)
    # nor does anything stick out of the 180 mm between the margins of the paper
    page.emulate_media(media="print")
    page.set_viewport_size({"width": 680, "height": 1000})
    assert page.evaluate("document.documentElement.scrollWidth") == 680
    # the first page is the board, whole on one sheet
    board = page.locator("section.sheet").bounding_box()
    assert board["y"] < 20 and 0.7 * SHEET < board["height"] <= SHEET
    page.close()
    sheets = re.findall(rb"/Type\s*/Page\b", printed)
    # no more than the heights say that were reserved, whatever the fonts; and hardly less, or room was given away
    reserved = 2 + reckoned(sections_of(evaluate(demo(name), DRAWS)))
    assert reserved - 2 <= len(sheets) <= reserved <= SHEETS
    boxes = {tuple(round(float(size)) for size in box.split()[2:]) for box in re.findall(rb"/MediaBox\s*\[([^\]]+)\]", printed)}
    assert boxes == {A4, A4[::-1]}, "the drawing lies on its long side"


def test_the_board_of_a_learner_of_many_words_stands_on_one_sheet(browser, tmp_path: Path):
    """Long names, long words, all of it one's own: whatever a learner writes, the page stays one."""
    said = "what was ever thought of near this lathe, and more than that, " * 6
    design = demo("shared_barn").with_(
        said, decided="2031-03-04", with_whom=said, whose_lathe=said, place=said, at_hand=said, left_out=said
    )
    jobs = type(design.jobs)(replace(job, name=f"{job.name} of {said}"[:150]) for job in design.jobs)
    out = write_board(replace(design, jobs=jobs, name=said[:120]), tmp_path / "board.html")
    page = browser.new_page(viewport={"width": 680, "height": 1000})
    page.goto(out.as_uri())
    printed = page.pdf(prefer_css_page_size=True, print_background=True)
    page.close()
    assert len(re.findall(rb"/Type\s*/Page\b", printed)) == 1


def test_a_hand_out_on_a_phone_and_on_paper(browser, tmp_path: Path):
    out, failed = write_handout(chapter_path("06"), Session(alone=True), tmp_path / "chapter.html")
    assert not failed
    page = browser.new_page(viewport={"width": 390, "height": 844})
    asked = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(out.as_uri())
    assert asked == [out.as_uri()]
    assert page.evaluate("document.documentElement.scrollWidth") == 390
    printed = page.pdf(prefer_css_page_size=True, print_background=True)
    page.emulate_media(media="print")
    page.set_viewport_size({"width": 680, "height": 1000})
    assert page.evaluate("document.documentElement.scrollWidth") == 680
    # whatever stays whole on a sheet is less than half of one, so no sheet need be left half empty
    tallest = page.evaluate(
        "Math.max(...[...document.querySelectorAll('figure, tr, li, .notice')].map(one => one.getBoundingClientRect().height))"
    )
    assert tallest < 0.45 * SHEET
    formulas = page.locator("svg.formula")
    assert formulas.count() > 10 and all(6 < one.bounding_box()["height"] < 90 for one in formulas.all())
    filled = page.evaluate("document.documentElement.scrollHeight") / SHEET
    page.close()
    assert len(re.findall(rb"/Type\s*/Page\b", printed)) <= 1.2 * filled + 1


@pytest.mark.parametrize("name", short_of(DEMOS, "shared_barn"))
def test_the_papers_for_the_shop_print_on_sheets_with_nothing_beyond_the_margins(browser, tmp_path: Path, name):
    """186 of the 210 mm of A4 are 703 pixels; each of the four begins a sheet of its own, none takes more than two, and nothing sticks out."""
    out = write_shop_papers(demo(name), tmp_path / "shop.html", date(2026, 3, 30))
    page = browser.new_page(viewport={"width": 390, "height": 844})
    asked = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(out.as_uri())
    printed = page.pdf(prefer_css_page_size=True, print_background=True)
    assert asked == [out.as_uri()] and page.evaluate("document.documentElement.scrollWidth") == 390, (
        "on a phone wide tables scroll in their own place"
    )
    page.emulate_media(media="print")
    page.set_viewport_size({"width": 703, "height": 1035})
    assert page.evaluate("document.documentElement.scrollWidth") == 703
    cut_off = page.evaluate(
        "[...document.querySelectorAll('th, td')].filter(cell => cell.scrollWidth > cell.clientWidth + 1).map(cell => cell.innerText)"
    )
    assert cut_off == []
    heights = [box["height"] for box in (section.bounding_box() for section in page.locator("section").all())]
    assert len(heights) == 4 and max(heights) <= 2 * 1035
    assert 4 <= len(re.findall(rb"/Type\s*/Page\b", printed)) <= 8
    boxes = {tuple(round(float(size)) for size in box.split()[2:]) for box in re.findall(rb"/MediaBox\s*\[([^\]]+)\]", printed)}
    assert boxes == {A4}
    page.close()
