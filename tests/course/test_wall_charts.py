"""Charts for the wall: complete, printable, safe against what a learner wrote, and in agreement with the chain."""
import re
from dataclasses import replace
from html.parser import HTMLParser

import numpy as np
import pytest

from lathe_course.course import open_chapter
from lathe_course.course.wall_charts import WALL_CHARTS, diameters, first_cuts, speed_rows, wall_charts_html, write_wall_charts
from lathe_course.design.acceptance import TESTS
from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.evaluation import evaluate
from lathe_course.machine import forces
from lathe_course.machine.cutting_speeds import speed_series
from lathe_course.tables import table
from lathe_course.units import InputProblem

BOAT = demo("boat_shed")


class Words(HTMLParser):
    """Words of a page, and whether every element is closed in order."""

    def __init__(self, page):
        super().__init__(convert_charrefs=True)
        self.open, self.words, self.fetched = [], [], []
        self.feed(page)
        self.close()
        assert not self.open

    def handle_starttag(self, tag, attributes):
        self.fetched += [value for key, value in attributes if key in ("src", "href", "action")]
        if tag not in ("meta", "br"):
            self.open.append(tag)

    def handle_endtag(self, tag):
        assert self.open.pop() == tag

    def handle_data(self, data):
        if data.strip() and "style" not in self.open:
            self.words.append(data.strip())


@pytest.mark.parametrize("name", DEMOS)
@pytest.mark.parametrize("system", ["mm", "inch"])
def test_three_sheets_that_fetch_nothing(name, system):
    page = wall_charts_html(replace(demo(name), system=system))
    read = Words(page)
    words = " ".join(read.words)
    assert not read.fetched and "url(" not in page and "@import" not in page
    assert page.count("<section>") == 3 and all(title in words for title in ("Speeds and feeds", "First cuts", "Test sheet"))
    assert all(test in read.words for test in TESTS)
    assert "shield" in words and "no gloves" in words and "mains locked off" in words
    assert not re.search(r"\b(nan|inf|None)\b", words)
    if system == "inch":
        assert not re.search(r"\b(mm|µm|m/min)\b", words)


def test_the_same_design_gives_the_same_page_and_the_paper_is_said():
    assert wall_charts_html(BOAT) == wall_charts_html(BOAT)
    assert "size: A4 landscape" in wall_charts_html(BOAT) and "size: A3 landscape" in wall_charts_html(BOAT, "A3")
    with pytest.raises(InputProblem, match="cannot be 'A9'; choose A4 or A3"):
        wall_charts_html(BOAT, "A9")


def test_what_a_learner_wrote_stays_text():
    page = wall_charts_html(replace(BOAT, name='<script>alert("1")</script>'))
    assert "<script" not in page and "&lt;script&gt;" in page


@pytest.mark.parametrize("name", DEMOS)
def test_speeds_are_the_fastest_that_are_not_above_the_wish(name):
    e = evaluate(demo(name))
    series = speed_series(e["slowest_speed"], e["fastest_speed"], round(e["speed_steps"]))
    across = diameters(e)
    assert 5 <= len(across) <= 13 and across == sorted(across) and across[-1] <= e["swing_over_bed"]
    for _, speed, found in speed_rows(e):
        for diameter, n in zip(across, found):
            wish = 2 * speed / diameter
            assert (n is None) == (series[0] > wish * (1 + 1e-9))
            if n is not None:
                assert n <= wish * (1 + 1e-9) and (n == series[-1] or series[np.searchsorted(series, n * 1.0001)] > wish)


def test_speeds_that_are_swapped_are_told():
    swapped = BOAT.with_(slowest_speed="300 rpm", fastest_speed="200 rpm")
    with pytest.raises(InputProblem, match="must be less than the fastest"):
        speed_rows(evaluate(swapped))
    page = wall_charts_html(swapped)
    assert "must be less than the fastest, 200 rpm, before a chart of speeds can be made." in page and "no gloves" in page
    assert "<h1>First cuts</h1>" in page and "<h1>Test sheet</h1>" in page


@pytest.mark.parametrize("name", DEMOS)
def test_a_first_cut_is_half_of_what_motor_and_quiet_running_allow(name):
    e = evaluate(demo(name))
    for cut in first_cuts(e):
        if table("materials")[cut.material]["kc11"] is None:
            assert cut.start is None and "no force" in cut.held_back_by
            continue
        assert cut.start == pytest.approx(0.05e-3) or cut.start <= min(cut.by_power, cut.by_quiet) / 2 + 1e-9
        assert cut.start <= e["depth_of_cut"] + 1e-9
        # at that depth the cut takes just the power there is at the spindle
        row = table("materials")[cut.material]
        chip = e["chip_thickness"]
        force = e["cut_condition"] * cut.by_power * e["feed"] * forces.specific_cutting_force.si(kc11=row["kc11"].likely, chip_thickness=chip, exponent=row["exponent"].likely)
        speed = row["speed_hss" if e["tool_material"] == "high-speed steel" else "speed_carbide"].likely
        assert force * speed == pytest.approx(e["spindle_power"])
    hardest = next(cut for cut in first_cuts(e) if cut.material == e["work_material"])
    assert hardest.by_quiet == pytest.approx(e["chatter_free_width"] * np.sin(e["entering_angle"]))


def test_the_charts_are_written_beside_the_design_file(design_file):
    chapter = open_chapter("17")
    said = repr(chapter.show("wall_charts", paper="A3"))
    assert said.startswith(f"The charts are written for A3: {WALL_CHARTS}, beside")
    assert "size: A3 landscape" in design_file.with_name(WALL_CHARTS).read_text("utf-8")
    with pytest.raises(InputProblem, match="choose A4 or A3"):
        chapter.show("wall_charts", paper="letter")


def test_without_a_working_folder_nothing_is_written(nowhere):
    assert "no charts were written" in repr(open_chapter("17").show("wall_charts"))


def test_a_place_that_cannot_be_written_is_told(tmp_path):
    (tmp_path / "file").write_text("x")
    with pytest.raises(InputProblem, match="were not written to"):
        write_wall_charts(BOAT, tmp_path / "file" / WALL_CHARTS)
