"""Pages and panels by name: what is asked for is shown, what is not known is told."""

import inspect
import re
from pathlib import Path

import pytest
from cases import every

import lathe_course.course
from lathe_course.course import open_chapter
from lathe_course.course.folder.workspace import material
from lathe_course.course.pages import PAGES, PANELS, register
from lathe_course.course.pictures import PICTURES
from lathe_course.course.shown.panels import Panel, paragraphs
from lathe_course.units import InputProblem


@pytest.fixture
def two(monkeypatch):
    monkeypatch.setattr(register, "PAGES", {})
    monkeypatch.setattr(register, "PANELS", {})

    @register.page
    def swing(evaluation, twice: str = "no"):
        """Swing, told once or twice."""
        said = evaluation.shown("swing_over_bed")
        return paragraphs(f"{said}, {said}" if twice == "yes" else said)

    @register.panel
    def knob(session):
        """Nothing but a name."""
        import ipywidgets as widgets

        return Panel(widgets.HTML(session.design.name), "a knob")


def test_a_page_is_written_anew_when_the_design_changes(two, design_file):
    chapter = open_chapter("02")
    shown = chapter.show("swing", twice="yes")
    assert repr(shown) == "150 mm, 150 mm"
    chapter.keep(centre_height="80 mm")
    assert repr(shown) == "160 mm, 160 mm"


def test_a_panel_gets_the_session(two, nowhere):
    assert repr(open_chapter("02").show("knob")) == "a knob"


def test_what_is_not_known_is_told_with_the_nearest(two, nowhere):
    chapter = open_chapter("02")
    with pytest.raises(InputProblem, match="nothing called 'swin' to show.*swing"):
        chapter.show("swin")
    with pytest.raises(InputProblem, match="knows no 'twise'.*twice"):
        chapter.show("swing", twise="yes")


def test_two_of_one_name_are_refused(two):
    with pytest.raises(ValueError, match="two pages or panels called swing"):

        @register.panel
        def swing(session): ...


def test_every_page_panel_and_picture_is_shown_somewhere():
    """Named in a notebook, an exercise or the brief, or called by another page."""
    notebooks = "".join(
        path.read_text("utf-8") for room in ("notebooks", "exercises") for path in material(room).glob("*.ipynb")
    ).replace('\\"', '"')
    code = "".join(path.read_text("utf-8") for path in Path(lathe_course.course.__file__).parent.rglob("*.py"))
    unseen = [
        name
        for name in {**PAGES, **PANELS, **PICTURES}
        if not re.search(rf"""["']{name}["']""", notebooks + code) and len(re.findall(rf"\b{name}\(", code)) < 2
    ]
    assert not unseen, f"no chapter shows {', '.join(unseen)}"


@every("name, function", {**PAGES, **PANELS}.items())
def test_every_page_says_what_it_is(name, function):
    assert inspect.getdoc(function)


def test_workings_on_a_page_are_typeset(nowhere):
    """Formulas between dollars stand in a widget that sets them; one that shows them plainly would show the dollars."""
    for chapter, name, asked in (
        ("08", "sums_of_rigidity", {}),
        ("16", "index_worked", {"formula": "hours_index", "log": "invented"}),
        ("17", "correction_worked", {"test": "collars"}),
        ("17", "run_in", {}),
        ("17", "lubrication", {}),
    ):
        shown = open_chapter(chapter).show(name, **asked)
        assert type(shown.widget).__name__ == "HTMLMath" and "lc-working" in shown.widget.value and "$" in shown.widget.value, (
            name
        )
        assert "$" not in shown.plain
