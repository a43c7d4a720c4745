"""A chapter shows itself when it is opened, after a restart too; others rest; nothing of a stranger's runs; and without all that Run All still works."""

from pathlib import Path

import nbformat
import pytest
from lab import Lab
from nbformat.v4 import new_code_cell

pytestmark = pytest.mark.browser

CHAPTERS = [
    f"notebooks/{name}.ipynb" for name in ("06_spindle_and_bearings", "03_cutting_speeds", "05_drive", "04_forces_and_power")
]
_SCROLLED = """() => {
    const notebook = window.jupyterapp.shell.currentWidget.content.node;
    return (notebook.querySelector('.jp-WindowedPanel-outer') ?? notebook).scrollTop;
}"""
_STATES = """() => Object.fromEntries([...document.querySelectorAll('[data-lathe-course]')].map(node =>
    [node.querySelector('.jp-Notebook') && window.jupyterapp.shell && [...window.jupyterapp.shell.widgets('main')].find(one => one.node === node)?.context.path, node.dataset.latheCourse]))"""
#: the kernel of a page ends as it does when the page is closed in another window: while it starts, where the page is opened here, or later
_ENDED_WHILE_IT_STARTS = """async path => {
    const app = window.jupyterapp;
    const panel = await app.commands.execute('docmanager:open', {path, factory: 'Notebook'});
    await panel.sessionContext.ready;
    await app.serviceManager.sessions.shutdown(panel.sessionContext.session.id);
}"""
_ENDED = "async () => { const app = window.jupyterapp; await app.serviceManager.sessions.shutdown(app.shell.currentWidget.sessionContext.session.id); }"
_SHOWN = "() => window.jupyterapp.shell.currentWidget.node.querySelectorAll('.jp-OutputArea-output').length"


def kernels(lab: Lab) -> int:
    """How many kernels the server has."""
    return len(lab.ask("kernels"))


def picture_follows(lab: Lab) -> None:
    """A key on the first slider changes what the picture says."""
    told = lab.page.locator(".lc-play:visible svg[role=img] > desc").first
    before = told.text_content()
    handle = lab.page.locator(".lc-play:visible .noUi-handle").first
    handle.focus()
    handle.press("ArrowRight")
    assert lab.changed(told.text_content, before)


def meanings_open(lab: Lab) -> None:
    """A word of the trade is marked once in the prose of a page and once in what it shows, and opens what it means by a click and by a key."""
    page, meaning = lab.page.locator(".jp-NotebookPanel:not(.lm-mod-hidden)"), lab.page.locator(".lathe-course-meaning")
    for place in (".jp-MarkdownCell", ".jp-OutputArea-output"):
        terms = page.locator(f"{place} .lathe-course-term")
        page.locator(f"{place} [data-word=overhang]").first.wait_for()
        words = [term.get_attribute("data-word") for term in terms.all()]
        assert len(words) == len(set(words)), words
        term = terms.nth(words.index("overhang"))
        assert term.inner_text().lower() == "overhang" and term.get_attribute("role") == "button"
        term.click()
        assert meaning.inner_text().startswith("overhang: How far something reaches beyond what holds it")
        assert term.get_attribute("aria-expanded") == "true"
        lab.page.keyboard.press("Escape")
        assert not meaning.inner_text() and term.get_attribute("aria-expanded") == "false"
        term.press("Enter")
        assert meaning.inner_text().startswith("overhang: ")
        term.press("Enter")
        assert not meaning.inner_text()
    assert not page.locator(
        "svg .lathe-course-term, label .lathe-course-term, h2 .lathe-course-term, .lc-head .lathe-course-term"
    ).count()


def test_a_chapter_shows_itself_and_does_so_again_after_a_restart(lab):
    lab._evaluate(_ENDED_WHILE_IT_STARTS, CHAPTERS[0])
    lab.changed(lambda: lab.page.evaluate(_STATES)[CHAPTERS[0]] in ("unread", "running"), True)
    lab.open_notebook(CHAPTERS[0])
    assert lab.shows_itself() == "ready"
    assert lab.page.evaluate(_SCROLLED) == 0, "at its top"
    assert not lab.page.locator(".lathe-course-word:visible").count(), "there is nothing to say"
    folded = lab.page.locator(".jp-NotebookPanel:not(.lm-mod-hidden)").get_by_role(
        "button", name="code of this part, folded: open"
    )
    assert (
        folded.first.is_visible()
        and not lab.page.locator(".jp-NotebookPanel:not(.lm-mod-hidden) .jp-CodeCell .cm-content:visible").count()
    ), "code is folded"
    folded.first.press("Enter")
    assert lab.page.locator(".jp-NotebookPanel:not(.lm-mod-hidden) .jp-CodeCell .cm-content:visible").count() == 1, (
        "a key opens it"
    )
    picture_follows(lab)
    meanings_open(lab)
    lab.restart_kernel()
    lab.changed(lambda: lab.page.evaluate(_STATES)[CHAPTERS[0]], "ready")
    assert lab.shows_itself() == "ready"
    lab.at_rest()
    assert not lab.page.locator(".jupyter-widgets-disconnected:visible").count(), "nothing dead is left"
    picture_follows(lab)
    lab._evaluate(_ENDED)
    assert lab.shows_itself() == "resting"
    assert lab.page.locator(".lathe-course-word:visible").inner_text().startswith("This page rests: its kernel has ended")


@pytest.mark.walk
def test_three_pages_are_alive_and_another_shows_what_it_showed_until_it_is_woken(open_lab):
    lab = open_lab()
    for path in CHAPTERS:
        lab.open_notebook(path)
        assert lab.shows_itself() == "ready", path
    assert lab.changed(lambda: kernels(lab) > 3, True) is False
    assert sorted(lab.page.evaluate(_STATES).values()) == ["ready", "ready", "ready", "resting", "resting"], (
        "with the first page of the course"
    )
    lab._evaluate("async path => { await window.jupyterapp.commands.execute('docmanager:open', {path}); }", CHAPTERS[0])
    shown = lab.page.evaluate(_SHOWN)
    assert shown > 10 and lab.page.locator(".lathe-course-word:visible").inner_text().startswith("This page rests")
    assert not lab.page.locator(".jp-NotebookPanel:not(.lm-mod-hidden) .lc-play svg").first.evaluate(
        "node => node.closest('[inert]') === null"
    ), "nothing can be pressed that does nothing"
    lab.page.get_by_role("button", name="Wake it").click()
    assert lab.shows_itself() == "ready"
    lab.at_rest()
    assert lab.page.evaluate(_SHOWN) == shown
    picture_follows(lab)
    assert lab.changed(lambda: kernels(lab) > 3, True) is False


def test_a_cell_of_a_stranger_is_left_alone(lab, tmp_path: Path):
    flag = tmp_path / "run"
    path = lab.folder / CHAPTERS[1]
    notebook = nbformat.read(path, 4)
    notebook.cells.insert(4, new_code_cell(f"open({str(flag)!r}, 'w')"))
    notebook.cells.append(new_code_cell(notebook.cells[1].source + f"\nopen({str(flag)!r}, 'w')"))
    nbformat.write(notebook, path)
    lab.open_notebook(CHAPTERS[1])
    assert lab.shows_itself() == "ready"
    assert lab.page.locator(".lc-play:visible svg").count(), "what the course wrote shows itself"
    word = lab.page.locator(".lathe-course-word:visible").inner_text()
    assert word.startswith("2 cells of this page were not written by the course") and not flag.exists()
    nbformat.write(
        nbformat.v4.new_notebook(cells=[new_code_cell(f"open({str(flag)!r}, 'w')")], metadata=notebook.metadata),
        lab.folder / "notebooks" / "theirs.ipynb",
    )
    lab.open_notebook("notebooks/theirs.ipynb")
    assert lab.shows_itself() == "unknown" and not flag.exists()
    lab.run_all()
    assert flag.exists(), "run by hand it does what it says"


@pytest.mark.walk
def test_where_jupyterlab_has_changed_run_all_still_works_and_the_page_says_so(lab):

    def other(route):
        route.fulfill(
            response=(answer := route.fetch()),
            body=answer.text().replace("'@jupyterlab/notebook'", "'@jupyterlab/of-another-name'"),
        )

    lab.blank_page()
    lab.page.route("**/lathe-course-page/remoteEntry.js*", other)
    lab.page.goto(lab.address)
    lab.page.wait_for_function("window.jupyterapp !== undefined")
    word = lab.page.locator(".lathe-course-word").first
    word.wait_for()
    assert word.inner_text().startswith("This page does not run by itself here. Menu Run, Run All Cells shows it.")
    lab.open_notebook(CHAPTERS[1])
    assert lab.shows_itself() is None
    lab.run_all()
    picture_follows(lab)


@pytest.mark.walk
def test_the_page_last_worked_on_opens_first(tmp_path, browser):
    with Lab(tmp_path / "my-lathe", tmp_path / "private", browser) as lab:
        lab.open_notebook(CHAPTERS[1])
        lab.shows_itself()
        kept = tmp_path / "private" / "state"
        lab.changed(
            lambda: any(f"notebook:{CHAPTERS[1]}" in path.read_text() for path in kept.rglob("*.jupyterlab-workspace")), False
        )
    with Lab(tmp_path / "my-lathe", tmp_path / "private", browser) as lab:
        assert lab.open_path() == CHAPTERS[1]
        assert lab.shows_itself() == "ready"
