"""Chapter 09, first part: its pages and pictures say what the chain says."""

import numpy as np
import pytest

from lathe_course.course import open_chapter
from lathe_course.course.pages.slides import dial_choices, slide_kinds
from lathe_course.course.pictures import PICTURES
from lathe_course.design.chapters.slides import SLIDES
from lathe_course.design.demos import demo
from lathe_course.design.evaluation import evaluate
from lathe_course.units import InputProblem


def rows(page) -> dict[str, str]:
    return {line.split("  ")[0]: line for line in str(page).splitlines()[2:]}


def test_every_kind_of_ways_is_compared_on_the_learners_saddle():
    found = rows(slide_kinds(evaluate(demo())))
    assert {name.removesuffix(" (yours)") for name in found} == set(SLIDES)
    assert "flat ways with gibs (yours)" in found
    rails = evaluate(demo().trying(slide_kind="profiled rails"))
    assert rails.shown("push_needed") in found["profiled rails"]


def test_a_saddle_that_jams_says_so_in_the_table():
    found = rows(slide_kinds(evaluate(demo().trying(saddle_length=0.04, push_offset=0.2))))
    assert "jams" in found["V ways"].split("  ", 1)[1] and "jams" not in found["profiled rails"]


@pytest.mark.parametrize(
    ("pitch", "divisions", "step", "reads"),
    [
        ("2 mm", "100", "0.02 mm", "radius in mm"),
        ("2 mm", "80", "0.05 mm", "radius in mm, diameter in mm"),
        ("10 per inch", "100", "0.001 in", "radius in inches, diameter in inches"),
        ("10 per inch", "127", "0.02 mm", "radius in mm"),
        ("8 per inch", "127", "0.025 mm", "radius in mm, diameter in mm"),
        ("1.25 mm", "125", "0.01 mm", "radius in mm, diameter in mm"),
    ],
)
def test_divisions_that_suit_a_screw(pitch, divisions, step, reads):
    line = rows(dial_choices(evaluate(demo()), pitch=pitch))[divisions]
    assert step in line and reads in line


def test_an_odd_pitch_has_no_round_dial_and_is_told_so():
    said = str(dial_choices(evaluate(demo()), pitch="1.37 mm"))
    assert said.startswith("No usual number of divisions")


def test_a_pitch_that_cannot_be_read_is_told(nowhere):
    with pytest.raises(InputProblem, match="pitch"):
        open_chapter("09").show("dial_choices", pitch="many")


def test_the_page_and_the_finding_agree_on_what_is_round():
    """Every division the page offers for the kind of dial holds in the finding, and no other does."""
    from lathe_course.design.chapters.screws import DIVISIONS

    design = demo().trying(cross_screw_pitch=2.54e-3)
    offered = rows(dial_choices(evaluate(design)))
    for divisions in DIVISIONS:
        holds = evaluate(design.trying(dial_divisions=float(divisions))).findings["dial_reads_round"].status != "fails"
        assert holds == ("radius in mm" in offered.get(str(divisions), ""))


def test_the_saddle_that_jams_is_drawn_and_told():
    jammed = evaluate(demo().trying(saddle_length=0.04, push_offset=0.2, slide_kind="V ways"))
    assert np.isnan(jammed["push_needed"])
    assert "Yours jams" in PICTURES["saddle_push"].describe(jammed)


def test_a_tool_above_the_centre_line_is_told():
    high = evaluate(demo().trying(top_height=0.03))
    assert "above it" in PICTURES["height_stack"].describe(high)
    assert high.findings["tool_not_above_centre"].status == "fails"


def test_the_tailstock_is_drawn_with_the_thrusts_of_the_chain():
    from lathe_course.course.pictures.tailstock import limits

    e = evaluate(demo())
    told = {words: value[1] for words, value in limits(e).items()}
    assert told["the drill pushes"] == e["drilling_thrust"]
    assert min(told["slides back at"], told["tips up at"]) == pytest.approx(e["holding_thrust"])


def test_the_lines_of_a_dial_lie_as_far_apart_as_its_rim_has_room():
    """37.5 mm across for 75 mm centre height: 117.8 mm round, 1.18 mm for each of 100 lines."""
    e = evaluate(demo())
    found = rows(dial_choices(e))
    assert e.shown("dial_diameter") == "37.5 mm" and found["100"].endswith("1.18 mm") and found["20"].endswith("5.89 mm")
