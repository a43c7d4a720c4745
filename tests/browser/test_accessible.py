"""For those who do not see the page, or use no mouse: what axe-core finds in all that the course makes, and chapters by keyboard."""

from pathlib import Path

import pytest
from later import Later
from tiers import short_of

from lathe_course.course.folder import workspace
from lathe_course.course.printed.board_sheet import write_board
from lathe_course.course.printed.brief import write_brief
from lathe_course.course.printed.document import document
from lathe_course.course.printed.handout import chapter_path, write_handout
from lathe_course.course.printed.wall_charts import write_wall_charts
from lathe_course.course.session import Session
from lathe_course.course.teaching.evening import write_evening
from lathe_course.course.teaching.side_by_side import write_compare
from lathe_course.design.demos import demo

Axe = Later("axe_playwright_python.sync_playwright", "Axe")
pytestmark = pytest.mark.browser

CHAPTER = "notebooks/06_spindle_and_bearings.ipynb"
#: what the course shows in JupyterLab; the rest of the window is not ours
OURS = ".jp-NotebookPanel:not(.lm-mod-hidden) :is(.jp-OutputArea-output, .jp-MarkdownOutput)"
GRAVE = ("serious", "critical")

_FOCUSED = """() => {
    const here = document.activeElement;
    const said = here.getAttribute('aria-label') || [...here.labels ?? []].map(label => label.innerText).join(' ') || here.innerText || '';
    return [here.tagName, here.getAttribute('role'), said.trim(), !!here.closest('.jp-OutputArea-output')];
}"""
_FIRST = """() => {
    const notebook = window.jupyterapp.shell.currentWidget.content;
    notebook.activeCellIndex = 0;
    notebook.mode = 'command';
    notebook.node.focus();
}"""
#: what can be reached in the outputs of the page, in the order in which it stands there
_TO_REACH = """() => [...window.jupyterapp.shell.currentWidget.node.querySelectorAll('.jp-OutputArea-output')].flatMap(output =>
    [...output.querySelectorAll('button, input, select, textarea, summary, [role=slider]')]
        .filter(one => one.checkVisibility() && !one.disabled && one.closest('[disabled]') === null).map(one => one.tagName))"""


def grave(page, context=None) -> list[str]:
    """What axe-core finds that is serious or critical, a line each."""
    found = Axe().run(page, context=context).response["violations"]
    return [
        f"{one['impact']} {one['id']}: {len(one['nodes'])} times, first {one['nodes'][0]['html'][:200]}"
        for one in found
        if one["impact"] in GRAVE
    ]


# --- on paper and on a phone ----------------------------------------------------------------------------
PRINTED = {
    "brief": lambda to: write_brief(demo("boat_shed"), to),
    "board": lambda to: write_board(demo("boat_shed"), to),
    "handout": lambda to: write_handout(chapter_path("10"), Session(alone=True), str(to), mentor=True)[0],
    "wall": lambda to: write_wall_charts(demo("boat_shed"), to),
    "compare": lambda to: write_compare([demo("boat_shed"), demo("cabin")], ["red", "blue"], str(to)),
    "evening": lambda to: write_evening("07", ["learner one"], 90, str(to), [None]),
}


@pytest.mark.parametrize("turn", short_of(range(4), 0))
def test_axe_finds_nothing_grave_in_what_is_printed(turn, browser, tmp_path: Path):
    """Half of the pages at one of two widths in every run, the others and the other width on the long walk; none sticks out at either."""
    for place, (name, write) in enumerate([*PRINTED.items()][turn % 2 :: 2]):
        path = write(tmp_path / f"{name}.html")
        for width in (1200, 390):
            page = browser.new_page(viewport={"width": width, "height": 844})
            page.goto(Path(path).as_uri())
            if (width == 390) == (place + turn // 2) % 2:
                assert not grave(page), f"{path} at {width} px"
            assert page.evaluate("document.documentElement.scrollWidth") == width, f"{path} sticks out at {width} px"
            assert page.locator("main").count() == 1
            page.context.close()
    page = browser.new_page()
    page.set_content(document("A page", "", "<p style='color:#bbb'>pale</p><button></button>"))
    assert {line.split(":")[0] for line in grave(page)} == {"serious color-contrast", "critical button-name"}, (
        "it does find what is wrong"
    )
    page.context.close()


# --- in JupyterLab ---------------------------------------------------------------------------------------
def shown(lab, path):
    """Open a notebook and run it."""
    lab.open_notebook(path)
    lab.run_all()
    lab.at_rest()


def all_reached_by_keyboard(lab):
    """Every control in what the page shows is reached by the Tab key and has a name."""
    reach = lab.page.evaluate(_TO_REACH)
    lab.page.evaluate(_FIRST)
    met = []
    for _ in range(3 * len(reach) + 50):
        if len(met) >= len(reach):
            break
        lab.page.keyboard.press("Tab")
        tag, role, said, in_output = lab.page.evaluate(_FOCUSED)
        if in_output:
            assert said or tag == "SELECT", f"the {tag} after {met[-1:]} has no name"
            met.append((tag, role, said))
    assert len(met) >= len(reach) > 20, f"{len(met)} of {len(reach)} are reached by the Tab key"


def a_key_moves_a_slider(lab):
    """The words of the picture follow, and what moves is read aloud."""
    picture = lab.page.locator(".lc-play:visible svg[role=img] > desc").first
    told = picture.text_content()
    figures = lab.page.locator(".lc-figures:visible [aria-live]").first
    assert figures.count() == 1, "what moves is read aloud"
    handle = lab.slider("spindle diameter")
    handle.focus()
    handle.press("ArrowRight")
    assert handle.get_attribute("aria-valuenow") != "35.0"
    now = lab.changed(picture.text_content, told)
    assert now and now != told
    lab.button("Back to my design").focus()
    lab.page.keyboard.press("Enter")
    assert lab.changed(picture.text_content, now) == told


def test_a_chapter_in_jupyterlab_by_keyboard_and_read_aloud(lab):
    shown(lab, CHAPTER)
    assert not grave(lab.page, OURS)
    handles = lab.page.locator(".widget-slider .noUi-handle:visible")
    assert "spindle diameter [mm]" in [handle.get_attribute("aria-label") for handle in handles.all()]
    assert not lab.page.locator("th:empty").count()
    a_key_moves_a_slider(lab)
    all_reached_by_keyboard(lab)


@pytest.mark.walk
@pytest.mark.parametrize("path", [name for name in workspace.shipped() if name != CHAPTER])
def test_every_other_notebook_in_jupyterlab(lab, path):
    shown(lab, path)
    assert not grave(lab.page, OURS)


@pytest.mark.walk
@pytest.mark.parametrize("name", ["01_purpose", "05_drive", "13_place_and_people"])
def test_more_chapters_by_keyboard(lab, name):
    shown(lab, f"notebooks/{name}.ipynb")
    all_reached_by_keyboard(lab)
