"""The lathe on paper: sizes read back from the file, scale, names, and what stands on every sheet."""

import re
import subprocess
import sys
from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
import pytest
from classroom import NOTEBOOKS
from tiers import many, short_of

from lathe_course.command import main
from lathe_course.course import open_chapter
from lathe_course.course.folder import workspace
from lathe_course.course.sheets.general import GUARDS, general_arrangement
from lathe_course.course.sheets.paper import PAPERS, SCALES, scale_for
from lathe_course.course.sheets.written import drawing_svg, drawing_written, write_drawing
from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.drawn.arrangement import arrange
from lathe_course.design.evaluation import evaluate
from lathe_course.units import InputProblem

sys.path.append(str(Path(__file__).parents[1] / "design"))
from random_designs import random_design

SVG = "{http://www.w3.org/2000/svg}"
#: sizes of the three views that a drawing of any design has
ALWAYS = {
    "between_centres",
    "foot_spacing",
    "bed_length",
    "bearing_span",
    "spindle_overhang",
    "fixing_spacing",
    "saddle_length",
    "tailstock_base",
    "centre_height",
    "bed_depth",
    "bed_width",
    "belt_centres",
}


class Read:
    """What a file says: lengths of its named lines on paper in mm, its words, and its size."""

    def __init__(self, content: bytes):
        root = ElementTree.fromstring(content)
        width = float(root.get("width").removesuffix("pt"))
        per_unit = 25.4 / 72 * width / float(root.get("viewBox").split()[2])
        self.wide, self.high = (float(root.get(side).removesuffix("pt")) * 25.4 / 72 for side in ("width", "height"))
        self.lengths, self.circles = {}, {}
        for group in root.iter(f"{SVG}g"):
            name = group.get("id", "")
            if name.startswith(("size-", "section-", "circle-")):
                points = np.array(re.findall(r"[ML] (-?[\d.]+) (-?[\d.]+)", group.find(f"{SVG}path").get("d")), float) * per_unit
                if name.startswith("circle-"):
                    self.circles[name.removeprefix("circle-")] = np.ptp(points[:, 0])
                else:
                    self.lengths[name] = np.hypot(*(points[-1] - points[0]))
        self.texts = ["".join(text.itertext()) for text in root.iter(f"{SVG}text")]
        self.described = root.find(f"{SVG}desc").text
        self.scale = int(next(text for text in self.texts if text.startswith("1 : ")).removeprefix("1 : "))
        of_section = [text for text in self.texts if text.startswith("section through")]
        self.section_scale = int(of_section[0].rsplit(" ", 1)[1]) if of_section else 0


@pytest.mark.parametrize("number", short_of(range(many(14, 100)), *range(many(8, 100))))
def test_sizes_read_back_are_those_of_the_chain(number):
    """Each dimension line, and each swing, is as long on paper as the scale makes of what the chain says, and its figure stands on the sheet."""
    e = evaluate(random_design(number, (0.2, 0.6)[number % 2]))
    read = Read(drawing_written(e, ".svg", ("A4", "A3")[number % 2]))
    assert {name.removeprefix("size-") for name in read.lengths if name.startswith("size-")} >= ALWAYS
    for name, length in read.lengths.items():
        kind, size = name.split("-", 1)
        scale = read.scale if kind == "size" else read.section_scale
        assert length * scale == pytest.approx(float(e[size]) * 1000, abs=0.02 * scale), name
    assert read.circles["swing_over_bed"] * read.scale == pytest.approx(2000 * e["centre_height"], abs=0.02 * read.scale)
    bolts = [across for name, across in read.circles.items() if name.startswith("bolt-")]
    assert bolts and bolts == pytest.approx([arrange(e).sizes.bolt_diameter * 1000 / read.scale] * 4, abs=0.02)
    assert read.scale in SCALES


@pytest.mark.parametrize(
    "name_and_system",
    short_of([f"{name} {system}" for name in DEMOS for system in ("mm", "inch")], "cabin inch", "shared_barn mm"),
)
def test_the_sheet_of_a_demo(name_and_system):
    name, system = name_and_system.split()
    angle = {"mm": "first", "inch": "third"}[system]
    design = replace(demo(name), system=system)
    for paper, (wide, high) in PAPERS.items():
        read = Read(drawing_written(evaluate(design), ".svg", paper))
        assert (read.wide, read.high) == pytest.approx((wide, high), abs=0.1)
        words = " ".join(read.texts)
        assert design.name in words and "general arrangement" in words and f"Sizes in {system.replace('inch', 'inches')}" in words
        assert "nothing runs without" in words and "Not a workshop drawing" in words, "the caution stands on the sheet"
        assert f"{angle}-angle" in read.described
        # every number has its name and its place on a view
        numbers = [text for text in read.texts if re.fullmatch(r"\d{1,2}", text)]
        listed = [one.number for one in general_arrangement(evaluate(design), paper).parts]
        assert all(numbers.count(str(number)) >= 2 for number in listed)
        assert read.section_scale in SCALES


@pytest.mark.parametrize("name", short_of(DEMOS, "cabin"))
def test_nothing_lies_outside_the_frame_and_views_do_not_overlap(name):
    for paper in PAPERS:
        for projection in ("first", "third"):
            sheet = general_arrangement(evaluate(demo(name)), paper, projection)
            axes = sheet.figure.axes[0]
            wide, high = PAPERS[paper]
            boxes = {}
            for drawn in axes.collections:
                gid = drawn.get_gid() or ""
                if gid.startswith("view-"):
                    corners = np.vstack([path.vertices for path in drawn.get_paths()])
                    boxes[gid] = corners.min(axis=0), corners.max(axis=0)
            assert len(boxes) == 3
            for low, top in boxes.values():
                assert low[0] > 20 and low[1] > 10 + 30 - 1e-6 and top[0] < wide - 10 and top[1] < high - 10
            (front, _), (end, _), (plan, _) = (boxes[f"view-{view}"] for view in ("front", "from-the-tailstock", "from-above"))
            assert (end[0] < front[0]) == (projection == "first") and (plan[1] < front[1]) == (projection == "first")


def test_parts_of_a_chapter_stand_out():
    markup, sheet = drawing_svg(evaluate(demo("boat_shed")), about="06")
    plain, _ = drawing_svg(evaluate(demo("boat_shed")))
    assert "#d9d9d9" in markup and "#d9d9d9" not in plain
    assert {one.part for one in sheet.parts if "06" in one.chapters} >= {"spindle", "chuck", "headstock"}


@pytest.mark.parametrize("projection", ["first", "third"])
def test_a_projection_that_is_asked_for_is_drawn_whatever_the_units(projection):
    """ISO 5456-2 and ASME Y14.3, recalled from memory: seen from the right, the end view stands left of the front in first angle, right in third."""
    written = drawing_written(evaluate(demo("boat_shed")), ".svg", "A4", projection)
    assert f"{projection}-angle" in Read(written).described
    assert f"{'third' if projection == 'first' else 'first'}-angle" not in Read(written).described


def test_the_scale_is_the_largest_usual_one_that_fits():
    assert scale_for(0.2, 0.1, (250, 150)) == 1 and scale_for(0.3, 0.1, (250, 150)) == 2 and scale_for(1.3, 0.1, (250, 150)) == 10
    assert scale_for(99, 99, (250, 150)) == SCALES[-1]


def test_what_has_no_room_is_told_on_the_sheet_and_to_the_ear():
    e = evaluate(demo("boat_shed").trying(chuck_diameter=0.2))
    told = arrange(e).remarks
    read = Read(drawing_written(e, ".svg"))
    assert told and told[0] in read.described
    assert "bed and chuck" in " ".join(read.texts) and "stand in each other" in " ".join(read.texts)


def test_the_same_design_gives_the_same_file_and_tells_no_day():
    e = evaluate(demo("cabin"))
    for ending in (".svg", ".pdf"):
        first = drawing_written(e, ending)
        assert first == drawing_written(e, ending)
        assert not re.search(rb"20[2-9]\d-\d\d-\d\d", first) and b"CreationDate" not in first
    assert drawing_written(e, ".pdf").startswith(b"%PDF")


def test_a_name_with_signs_is_a_name():
    read = Read(drawing_written(evaluate(replace(demo("cabin"), name='<b>"Lathe" & $x$')), ".svg"))
    assert '<b>"Lathe" & $x$' in read.texts


# --- written ----------------------------------------------------------------------------------------------
def test_the_verb_writes_both_kinds(tmp_path, capsys):
    for ending in ("svg", "pdf"):
        out = tmp_path / f"lathe.{ending}"
        assert main(["drawing", "--demo", "cabin", "--to", str(out), "--paper", "A3", "--projection", "third"]) == 0
        assert out.stat().st_size > 20_000 and str(out) in capsys.readouterr().out
    assert Read((tmp_path / "lathe.svg").read_bytes()).wide == pytest.approx(420, abs=0.1)


def test_the_verb_runs_by_itself_where_nothing_else_is_loaded(tmp_path):
    subprocess.run(
        [sys.executable, "-m", "lathe_course", "drawing", "--demo", "boat_shed", "--to", "lathe.pdf"],
        cwd=tmp_path,
        check=True,
        capture_output=True,
    )
    assert (tmp_path / "lathe.pdf").read_bytes().startswith(b"%PDF")


@pytest.mark.parametrize(
    "words, told",
    [
        (["--to", "lathe.txt"], "must end in .svg or .pdf"),
        (["--to", "x.svg", "--paper", "A5"], "choose A4 or A3"),
        (["--to", "x.svg", "--projection", "second"], "choose first or third"),
        (["--to", "missing/x.svg"], "gone"),
    ],
)
def test_what_cannot_be_written_is_told_in_a_sentence(words, told, tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    assert main(["drawing", "--demo", "cabin", *words]) == 2
    assert told in capsys.readouterr().err and not list(tmp_path.iterdir())


def test_a_disk_that_refuses(tmp_path, monkeypatch):
    from lathe_course.design.files import whole_file

    def refuse(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(whole_file.os, "fsync", refuse)
    with pytest.raises(InputProblem, match="the disk is full"):
        write_drawing(demo("cabin"), tmp_path / "lathe.svg")
    assert not list(tmp_path.iterdir())


def test_guards_are_spoken_of():
    assert all(word in GUARDS for word in ("belts", "chuck", "Mains", "licensed", "rules where you live"))


# --- in the chapters ----------------------------------------------------------------------------------------
@pytest.mark.parametrize("chapter, part", [("05", "belt"), ("06", "spindle"), ("07", "bed"), ("09", "cross-slide")])
def test_a_chapter_shows_its_parts_on_the_learners_lathe(chapter, part, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    opened = open_chapter(chapter)
    shown = opened.show("parts_drawn", about=chapter)
    assert f" {part} " in shown.plain and "nothing runs without" in shown.plain
    markup = shown.widget.value
    # where every part is numbered in the front view the plan would only take room
    assert ("from the front and from above" in markup) == (chapter in ("05", "09"))
    assert "from the front" in markup and markup.index("What each of these parts does") > markup.index("</svg>")
    assert "<svg" not in shown._repr_mimebundle_()["text/html"]  # a picture is drawn when the notebook runs
    assert "<svg" in markup and f">{part}<" in markup and f"those of chapter {chapter}" in markup
    assert f'chapter.show(\\"parts_drawn\\", about=\\"{chapter}\\")' in next(
        path for path in NOTEBOOKS if path.name.startswith(chapter)
    ).read_text(encoding="utf-8")


def test_the_button_writes_the_sheet_beside_the_design_and_follows_it(tmp_path, monkeypatch):
    workspace.prepare(tmp_path / "mine")
    monkeypatch.chdir(tmp_path / "mine")
    chapter = open_chapter("02")
    made = chapter.show("drawing").drawing
    before = made.sheet.value
    made.paper.value = "A3"
    assert made.sheet.value != before and "<svg" in before
    made.button.click()
    written = Read((tmp_path / "mine" / "lathe_drawing.svg").read_bytes())
    assert written.wide == pytest.approx(420, abs=0.1) and (tmp_path / "mine" / "lathe_drawing.pdf").read_bytes().startswith(
        b"%PDF"
    )
    assert (
        all(f'href="/files/lathe_drawing.{ending}"' in made.reply.value for ending in ("pdf", "svg"))
        and "full size" in made.reply.value
    )
    assert any('chapter.show(\\"drawing\\")' in path.read_text(encoding="utf-8") for path in NOTEBOOKS)
    before = made.sheet.value
    chapter.session.change(lambda design: design.with_("wider", bed_width="150 mm"))
    assert made.sheet.value != before and ">150<" in made.sheet.value


def test_without_a_folder_the_button_says_so(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    made = open_chapter("02").show("drawing").drawing
    made.button.click()
    assert "nothing was written" in made.reply.value and not list(tmp_path.iterdir())
