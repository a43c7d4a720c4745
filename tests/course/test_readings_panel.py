"""The table of boxes for readings: what is typed there is kept as typed, all rows or none."""

import tomllib

import pytest

from lathe_course.course import open_chapter
from lathe_course.course.pages.readings import ReadingsPanel
from lathe_course.design.draft.starting import in_system
from lathe_course.design.lathe import LATHE
from lathe_course.units import InputProblem

STIFFNESS = LATHE.sheets["stiffness"]


def filled(panel: ReadingsPanel, *rows: tuple[str, str, str]) -> None:
    for boxes, row in zip(panel.boxes, rows):
        for name, text in zip(("force", "dial", "going"), row):
            boxes[name].value = text


def test_what_is_typed_is_kept_in_the_file_with_its_unit(design_file):
    chapter = open_chapter("08")
    panel = ReadingsPanel(chapter.session, STIFFNESS)
    filled(panel, ("0", "0", "loading"), ("5 kgf", "-7.5", "loading"))
    panel.keep()
    assert "Kept: 2 rows" in panel.reply.value
    assert tomllib.loads(design_file.read_text(encoding="utf-8"))["readings"]["stiffness"] == [
        {"force": "0 N", "dial": "0 µm", "going": "loading"},
        {"force": "5 kgf", "dial": "-7.5 µm", "going": "loading"},
    ]
    rows = open_chapter("08").session.design.readings["stiffness"]
    assert rows.column("force")[1] == pytest.approx(49.03, rel=1e-3) and rows.column("dial")[1] == pytest.approx(-7.5e-6)
    assert len(panel.boxes) == 4 and panel.boxes[2]["force"].value == ""


def test_a_row_that_cannot_be_read_keeps_nothing_and_loses_nothing(design_file):
    before = design_file.read_bytes()
    panel = ReadingsPanel(open_chapter("08").session, STIFFNESS)
    filled(panel, ("0", "0", "loading"), ("4,5", "", "loading"))
    panel.keep()
    assert (
        "Not kept" in panel.reply.value
        and "row 2" in panel.reply.value
        and "4.5" in panel.reply.value
        and "dial is missing" in panel.reply.value
    )
    assert design_file.read_bytes() == before and panel.boxes[1]["force"].value == "4,5"


def test_rows_can_be_added_and_emptied(nowhere):
    session = open_chapter("08").session
    panel = ReadingsPanel(session, STIFFNESS)
    panel._add()
    assert len(panel.boxes) == len(panel.grid.children) - 1 == 6
    filled(panel, ("0", "0", "loading"), ("10", "1", "loading"))
    panel.keep()
    for box in panel.boxes[0].values():
        box.value = ""
    panel.keep()
    assert session.design.readings["stiffness"].written == [{"force": "10 N", "dial": "1 µm", "going": "loading"}]


def test_inch_columns(nowhere):
    session = open_chapter("08").session
    session.change(lambda design: in_system(design, "inch"))
    panel = ReadingsPanel(session, STIFFNESS)
    assert "[lbf]" in panel.grid.children[0].children[0].value and "[thou]" in panel.grid.children[0].children[1].value
    filled(panel, ("10", "0.5", "unloading"))
    panel.keep()
    assert session.design.readings["stiffness"].column("dial")[0] == pytest.approx(12.7e-6)


def test_two_panels_do_not_lose_each_others_rows(design_file):
    one, other = (ReadingsPanel(open_chapter("08").session, STIFFNESS) for _ in range(2))
    filled(one, ("10", "1", "loading"))
    filled(other, ("20", "2", "loading"))
    one.keep()
    other.keep()
    assert [row["force"] for row in tomllib.loads(design_file.read_text(encoding="utf-8"))["readings"]["stiffness"]] == [
        "20 N",
        "10 N",
    ]
    assert len(other.shown) == 2


def test_the_chapter_shows_boxes_and_what_is_kept(nowhere):
    chapter = open_chapter("08")
    assert (
        repr(chapter.readings("stiffness"))
        == "[readings: stiffness at the tool, to fill in]\nNo readings of stiffness at the tool yet."
    )
    chapter.session.keep_readings("stiffness", [{"force": "10 N", "dial": "1 µm", "going": "loading"}])
    assert repr(chapter.readings("stiffness")).splitlines()[1:] == ["force  dial  going    remark", "10 N   1 µm  loading"]
    with pytest.raises(InputProblem, match="did you mean stiffness"):
        chapter.readings("stifness")
