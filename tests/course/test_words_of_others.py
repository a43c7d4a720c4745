"""Words in a design that was handed on stay words on every page: a page that runs cells of the course would act by markup in them."""

import re
from pathlib import Path

import ipywidgets as widgets
import pytest
from classroom import NOTEBOOKS, run, working_folder
from tiers import many

from lathe_course.course.chapter import open_chapter
from lathe_course.course.printed import brief_sections
from lathe_course.course.printed.brief import brief_html
from lathe_course.course.printed.wall_charts import wall_charts_html
from lathe_course.design.files import design_file as files
from lathe_course.design.lathe import LATHE

ACTS = "<img src=x onerror=alert(1)>"


@pytest.fixture
def handed(tmp_path, monkeypatch) -> Path:
    path = working_folder(tmp_path / "my-lathe")
    text = path.read_text(encoding="utf-8")
    free = "|".join(name for name, decision in LATHE.decisions.items() if decision.free_text and decision.reader is None)
    text = re.sub(r"(?m)^(name|reason|remark|started_from) = .*", lambda line: f'{line[1]} = "{ACTS} {line.start()}"', text)
    text = re.sub(rf"(?m)^(\[decisions\.(?:{free})\]\nvalue) = .*", lambda line: f'{line[1]} = "{ACTS}"', text)
    path.write_text(text, encoding="utf-8")
    monkeypatch.chdir(path.parent / "notebooks")
    return path


def markup(shown: list) -> list[str]:
    """All the markup a run of a chapter gave to the page: of what cells show, and of every widget there is that takes markup."""
    pages = [one._repr_html_() for one in shown if callable(getattr(one, "_repr_html_", None))]
    values = [one.value for one in widgets.widget._instances.values() if isinstance(one, (widgets.HTML, widgets.HTMLMath))]
    return [page for page in [*pages, *values] if page]


def test_no_page_acts_by_words_of_a_design(handed, monkeypatch):
    said = 0
    for path in NOTEBOOKS[:: many(6, 1)]:
        for page in markup(run(path, monkeypatch).shown):
            assert ACTS not in page, f"{path.name}: ...{page[max(0, page.index(ACTS) - 200) : page.index(ACTS) + 40]}..."
            said += "&lt;img src=x" in page
    design = files.load(handed, LATHE)
    monkeypatch.setattr(brief_sections, "turned_by", lambda *_: [])  # levers tell nothing of what a learner wrote
    for page in (brief_html(design), wall_charts_html(design)):
        assert ACTS not in page and "&lt;img src=x" in page
    assert said


def test_nor_by_words_of_a_design_that_cannot_be_read(handed):
    handed.write_text(
        handed.read_text(encoding="utf-8").replace('system = "mm"', f'system = "{ACTS}"\n"{ACTS}" = 1'), encoding="utf-8"
    )
    page = open_chapter("06")._repr_mimebundle_()["text/html"]
    assert ACTS not in page and "&lt;img src=x" in page
