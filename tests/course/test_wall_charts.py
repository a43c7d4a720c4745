"""Charts for the wall: complete, printable, safe against what a learner wrote, and in agreement with the chain."""

import re
from dataclasses import replace
from html.parser import HTMLParser

import numpy as np
import pytest

from lathe_course.course import open_chapter
from lathe_course.course.printed.wall_charts import WALL_CHARTS, wall_charts_html, write_wall_charts
from lathe_course.design.asked.first_cuts import diameters, first_cuts, speed_rows
from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.evaluation import evaluate
from lathe_course.design.measured.acceptance import TESTS, called_for
from lathe_course.ranges import middling
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
    assert [word for word in read.words if word in TESTS] == list(called_for(evaluate(demo(name))))
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


# what the pulleys of the demos give, by hand: motor speed x driving / driven, over countershaft and back gear; shares of the motor for the two that are set
BARN = [35, 64, 117, 202, 210, 383, 702, 1211]


def test_a_stepped_drive_is_told_by_its_own_pulleys():
    """The barn's four steps at 1400 rev/min, halved by the countershaft, without and with a back gear of 6; nothing between them is told."""
    e = evaluate(demo("shared_barn"))
    belt = [1400 / 2 * one / other for one, other in zip(e["belt_pulleys"]["driving"], e["belt_pulleys"]["driven"])]
    steps = sorted([*belt, *(n / 6 for n in belt)])
    assert [round(float(n)) for n in steps] == BARN
    told = {round(n * 30 / np.pi) for _, _, found in speed_rows(e) for n in found if n is not None}
    assert told <= set(BARN) and len(told) >= 5
    for _, speed, found in speed_rows(e):
        for diameter, n in zip(diameters(e), found):
            wish = speed / (np.pi * diameter) * 60
            below = [step for step in steps if step <= wish * (1 + 1e-9)]
            assert (n is None and not below) or n * 30 / np.pi == pytest.approx(below[-1])


def test_a_stepless_drive_is_told_the_wish_as_far_as_it_can_be_had():
    e = evaluate(BOAT)
    assert e["overrun_limit"] < e["drive_fastest"] or e["drive_fastest"] * 30 / np.pi > 2000
    for _, speed, found in speed_rows(e):
        for diameter, n in zip(diameters(e), found):
            wish = 2 * speed / diameter
            assert n == pytest.approx(min(wish, e["drive_fastest"], e["overrun_limit"]), rel=1e-9) or (
                n is None and wish < e["drive_slowest"]
            )


def test_a_chart_never_tells_more_than_the_chuck_is_stamped_for():
    e = evaluate(BOAT.with_(chuck_top_speed="900 rpm"))
    assert max(n for _, _, found in speed_rows(e) for n in found if n) * 30 / np.pi <= 900 + 1e-6


def test_pulleys_that_no_belt_fits_are_told():
    apart = BOAT.with_(belt_centres="60 mm")
    page = wall_charts_html(apart)
    assert "Not every step of the pulleys fits the belt" in page and "no gloves" in page
    assert "<h1>First cuts</h1>" in page and "<h1>Test sheet</h1>" in page


def test_feeds_are_those_the_wheels_give():
    """20 and 25 drive 60 and 63 on a 3 mm leadscrew: 20 x 25 / (60 x 63) x 3 = 0.397 mm a turn and nothing finer."""
    page = wall_charts_html(BOAT.with_(feed_drive="change wheels"))
    assert (
        "Feeds of the wheels: for roughing 0.397 mm/rev, for the last cut 0.397 mm/rev. The wheels give nothing finer than 0.397 mm/rev"
        in page
    )
    assert "Feed by hand: for roughing about 0.1 mm/rev" in wall_charts_html(BOAT)
    assert "Feed for roughing 0.1 mm/rev, for the last cut 0.04 mm/rev." in wall_charts_html(
        BOAT.with_(feed_drive="separate shaft or motor")
    )


@pytest.mark.parametrize("name", DEMOS)
def test_a_first_cut_is_half_of_the_least_of_the_three_limits(name):
    """Each limit by force: at that depth the cut takes the power there is, or the torque at the speed it runs at, worked from Kienzle's law alone."""
    e = evaluate(demo(name))
    for cut in first_cuts(e):
        row = table("materials")[cut.material]
        if row["kc11"] is None:
            assert cut.start is None and "no force" in cut.held_back_by and not cut.ends
            continue
        least = min(cut.ends, key=cut.ends.get)
        assert (
            cut.held_back_by
            == {"power": "power of the motor", "torque": "torque at the spindle", "quiet running": "chatter"}[least]
        )
        assert cut.start == pytest.approx(0.05e-3) or cut.start <= cut.ends[least] / 2 + 1e-9
        assert cut.start <= e["depth_of_cut"] + 1e-9
        chip = e["chip_thickness"] * cut.feed / e["feed"]
        of_area = (
            e["cut_condition"] * middling(row["kc11"]) * (chip / 1e-3) ** -middling(row["exponent"]) * cut.feed
        )  # force for a metre of depth
        speed = middling(row["speed_hss" if e["tool_material"] == "high-speed steel" else "speed_carbide"])
        assert of_area * cut.ends["power"] * speed == pytest.approx(e["motor_power"] * e["drive_efficiency"])
        at = e["cuts_by_material"]["materials"].index(cut.material)
        turning, across = e["cuts_by_material"]["speed"][at], e["cuts_by_material"]["diameter"][at]
        # the torque can never bring more than the motor's power, at the speed that is run
        assert of_area * cut.ends["torque"] * across / 2 * turning <= e["motor_power"] * e["drive_efficiency"] * (1 + 1e-9)
    ring = next(cut for cut in first_cuts(evaluate(BOAT)) if cut.material == "bronze")
    assert ring.ends["torque"] < 0.5 * ring.ends["power"]  # the ring of 120 mm turns too slowly for the motor's power


def test_a_shape_that_cannot_be_is_not_taken_for_a_material_without_a_force():
    cut = first_cuts(evaluate(BOAT.with_(spindle_bore="36 mm")))[0]
    assert cut.start is None and "quiet running" not in cut.ends and "a shape of the design cannot be" in cut.held_back_by


def test_the_hardest_material_has_the_figures_of_the_chain():
    e = evaluate(BOAT).central
    hardest = next(cut for cut in first_cuts(e) if cut.material == e["work_material"])
    assert hardest.ends["power"] == pytest.approx(e["depth_by_power"]) and hardest.ends["quiet running"] == pytest.approx(
        e["depth_by_quiet"] * e["stout_work_width"] / e["chatter_free_width"]
    )


def test_quiet_running_is_told_for_stout_work_and_what_slim_work_leaves_of_it_beside():
    """The shaft of the boat shed gives far more than its machine; a stub of the same bar gives nothing that counts."""
    words = " ".join(Words(wall_charts_html(BOAT)).words)
    e = evaluate(BOAT)
    assert (
        f"With slim work chatter begins sooner: on the slimmest precise work, {e['work_diameter'] * 1e3:.3g} by {e['work_length'] * 1e3:.3g} mm"
        in words
    )
    # twice as stout: sixteen times as stiff, and the sheet's depths stay where they were
    stout = evaluate(BOAT.trying(work_diameter=2 * e["work_diameter"]))
    ends = [[cut.ends["quiet running"] for cut in first_cuts(one) if cut.ends] for one in (e, stout)]
    assert ends[0] == pytest.approx(ends[1], rel=1e-6) and stout["depth_by_quiet"] > 1.2 * e["depth_by_quiet"]


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


def test_the_chart_parts_off_no_faster_than_the_chain_says_it_stays_quiet():
    """A third of the turning speed is the rule of thumb; where the blade chatters before that, the chart tells what the finding does."""
    e = evaluate(demo("cabin"))
    told = re.search(r"Part off at up to (\d+) rev/min", wall_charts_html(e.design))
    rpm, bar = 30 / np.pi, e["parting_diameter"]
    assert int(told[1]) == pytest.approx(min(e["parting_turns"], 2 * e["cutting_speed"] / bar / 3) * rpm, rel=0.05)
    assert e["parting_turns"] < 2 * e["cutting_speed"] / bar / 3, "the rule of thumb alone would be too fast here"
    slow = evaluate(demo())
    assert slow["parting_turns"] < slow["drive_slowest"] and "may chatter even then: saw it off" in wall_charts_html(slow.design)
    assert "sawn off, not parted off" in wall_charts_html(slow.design.trying(parting_from="sawn off"))
