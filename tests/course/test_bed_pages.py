"""The pages of chapter 07, and that its pictures say what the chain says."""

import itertools
from xml.etree import ElementTree

import numpy as np
import pytest
from cases import every

from lathe_course.course.pages.bed import forms_compared, section_worked
from lathe_course.course.pages.holding import jobs_as_held
from lathe_course.course.pictures import PICTURES, bed, bed_feet
from lathe_course.course.pictures.bed_shapes import pieces
from lathe_course.course.pictures.style import Canvas
from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.evaluation import evaluate
from lathe_course.machine.bed_forms import FORMS, section
from lathe_course.units import InputProblem


@pytest.mark.parametrize("alike", ["weight", "price"])
def test_every_form_stands_in_the_table_with_its_figures(alike):
    page = forms_compared(evaluate(demo()), alike)
    lines = page.plain.splitlines()
    assert lines[1].startswith("form of the bed") and "mass, kg" in lines[1] and "µm/kN" in lines[1]
    assert [line.split("  ")[0].removesuffix(" (yours)") for line in lines[2:]] == list(FORMS)
    assert sum("(yours)" in line for line in lines) == 1 and page.markup.count("<tr>") == len(FORMS) + 1
    masses = [line.split()[-5] for line in lines[2:] if "even the" not in line]
    assert (len(set(masses)) == 1) == (alike == "weight")


def test_in_inches_too():
    from dataclasses import replace

    plain = forms_compared(evaluate(replace(demo(), system="inch"))).plain
    assert "mass, lb" in plain and " mm" not in plain and "thou/lbf" in plain


@pytest.mark.parametrize("start", DEMOS)
def test_shares_of_give_add_up_to_what_the_chain_says(start):
    e = evaluate(demo(start))
    shares = bed._shares(e)
    assert sum(shares["sideways"].values()) == pytest.approx(e["bed_compliance"])
    assert sum(shares["up and down"].values()) == pytest.approx(e["bed_upright_compliance"])


def _area(corners):
    x, y = corners.T
    return abs(np.sum(x * np.roll(y, 1) - y * np.roll(x, 1))) / 2


@pytest.mark.parametrize("form", [form for form in FORMS if "ribs" not in form])
def test_what_is_drawn_has_the_area_that_is_weighed(form):
    shape = 0.12, 0.04, 0.008
    drawn = sum(
        {"metal": 1, "hollow": -1, "fill": -1}.get(piece.sort, 0) * _area(piece.corners) for piece in pieces(form, *shape, 0.015)
    )
    assert drawn == pytest.approx(section(form, *shape)["area"], rel=0.01)
    lowest = min(piece.corners[:, 1].min() for piece in pieces(form, *shape, 0.015 if "profiled" in form else 0.0))
    assert lowest == pytest.approx(-0.04 - (0.015 if "profiled" in form else 0.008 if form == "round bars on a plate" else 0.0))


def test_a_bed_that_cannot_be_made_says_so_in_place_of_the_picture():
    e = evaluate(demo().trying(bed_wall=0.04))
    for name in ("bed_give", "beds_twisted"):
        assert "cannot be made" in PICTURES[name].describe(e)


@every("form", FORMS)
def test_the_section_is_worked_for_every_form(form):
    e = evaluate(demo().trying(bed_form=form, bed_height=0.04, bed_wall=0.012))
    page = section_worked(e)
    assert f"the form {form}: {FORMS[form]}." in page.plain and len(page.plain.splitlines()) > 6 and "nan" not in page.plain
    assert ("twist of the bed under the roughing cut" in page.plain) == (e["bar_spacing"] == 0)


@every("form", FORMS)
def test_every_figure_worked_is_a_figure_of_the_section_or_a_part_of_it(form):
    """What is shown on the blackboard is what the section hands out."""
    e = evaluate(demo().trying(bed_form=form, bed_height=0.04, bed_wall=0.012))
    worked = [0.0, 0.0, *(one.result for one in e.workings("bed_section"))]
    sums = np.array([sum(three) for three in itertools.combinations(worked, 3)])
    for name in ("bed_torsion", "bed_vertical_moment"):
        assert np.isclose(sums, e[name], rtol=1e-12, atol=0).any(), name


def test_a_section_that_cannot_be_says_so():
    assert "cannot be made" in section_worked(evaluate(demo().trying(bed_wall=0.04))).plain


@every("form", FORMS)
def test_every_form_can_be_drawn(form):
    e = evaluate(demo().trying(bed_form=form, bed_height=0.04, bed_wall=0.012, feet="four feet bolted down"))
    canvas = Canvas()
    for name in ("bed_give", "bed_on_feet", "lathe_to_scale"):
        ElementTree.fromstring(canvas.draw(PICTURES[name], e))
        assert PICTURES[name].describe(e).endswith(".")


def test_a_foot_that_moves_turns_the_far_end_and_nothing_on_three_feet():
    bolted, three = (bed_feet._Bed(evaluate(demo().trying(feet=feet))) for feet in ("four feet bolted down", "three feet"))
    for one, turned in ((bolted, True), (three, False)):
        head, tail = one.paper([0.0, one.length], 0.05, 0.0) - one.paper([0.0, one.length], 0.05, 0.0, 0.0)
        assert np.allclose(head, 0) and bool(np.any(np.abs(tail) > 1e-3)) == turned


def test_jobs_are_told_as_if_on_other_feet():
    """Three feet put no twist in; bolted on four the bush in the chuck takes the whole of it and the shaft between centres little, for its length."""
    e = evaluate(demo("boat_shed"))
    here, there = (jobs_as_held(e, feet=feet).plain.splitlines() for feet in ("", "four feet bolted down"))
    assert "three feet" in here[-1] and "four feet bolted down" in there[-1]

    def figure(job):
        cells = [cell.strip() for cell in next(line for line in there if line.startswith(job)).split("  ") if cell.strip()]
        return float(cells[2].removesuffix(" µm"))

    assert figure("stern bush") > 2 * figure("propeller shaft") > 0
    assert all("–" in line for line in here[1:-1])
    with pytest.raises(InputProblem, match="four feet"):
        jobs_as_held(e, feet="four feet bolted")
