"""Give along the work: the chain at each place against the chain asked about that place alone."""

import numpy as np
import pytest

from lathe_course.design.chapters.rigidity import PLACES
from lathe_course.design.demos import demo
from lathe_course.design.evaluation import evaluate
from lathe_course.machine import rigidity


@pytest.mark.parametrize("place", [0, 10, 32])
def test_in_the_chuck_the_spindle_is_felt_with_the_arm_it_has_there(place):
    e = evaluate(demo().trying(cut_reach=0.1, work_length=0.06))
    at = PLACES[place] * 0.06
    there = evaluate(demo().trying(cut_reach=0.04 + at))
    bending = rigidity.chuck_deflection.si(1.0, at, e["work_diameter"], e["work_modulus"])
    expected = there["spindle_compliance"] + e["chuck_give"] + e["headstock_give"] + bending
    assert e["give_along"][place] == pytest.approx(expected, rel=1e-9)


def test_at_the_free_end_it_is_what_the_loop_already_holds():
    e = evaluate(demo())
    assert e["give_along"][-1] == pytest.approx(e["head_give"] + e["work_compliance"]) and e["holding_extra"] == pytest.approx(
        e["work_compliance"]
    )
    assert e["loop_compliance"] == pytest.approx(e["machine_compliance"] + e["work_compliance"])


@pytest.mark.parametrize("support", ["chuck and centre", "between centres"])
def test_on_a_centre_each_end_gives_what_holds_it(support):
    e = evaluate(demo("shared_barn").trying(work_support=support))
    assert e["give_along"][0] == pytest.approx(e["head_give"]) and e["give_along"][-1] == pytest.approx(e["tail_give"])
    assert e["give_difference"] == pytest.approx(np.ptp(e["give_along"]))


def test_a_stiffer_tailstock_does_not_help_work_that_stands_free():
    soft, stiff = (evaluate(demo().with_(tailstock_link=give))["shape_error"] for give in ("60 µm/kN", "10 µm/kN"))
    assert soft == stiff
    soft, stiff = (
        evaluate(demo().trying(work_support="between centres").with_(tailstock_link=give))["give_along"][-1]
        for give in ("60 µm/kN", "10 µm/kN")
    )
    # 50 µm/kN of body and base, which is as long and stands as far out as that of the table; the barrel bends alike
    assert soft - stiff == pytest.approx(50e-9, rel=0.01)


def test_up_and_down_the_tool_alone_gives_more_the_further_it_stands_out():
    near, far = (evaluate(demo().trying(tool_overhang=out)) for out in (0.010, 0.020))
    assert far["upright_compliance"] - near["upright_compliance"] == pytest.approx(
        1 / far["tool_stiffness"] - 1 / near["tool_stiffness"]
    )
    assert 1 / far["tool_stiffness"] == pytest.approx(8 / near["tool_stiffness"])


def test_slim_work_bends_by_the_metal_it_is_of():
    """Elastic moduli of 207, 190 and 111 GPa for carbon steel, stainless steel and bronze (Shigley, Table A-5, recalled from memory)."""
    steel, stainless, bronze = (
        evaluate(demo().trying(work_material=name))["work_compliance"]
        for name in ("mild steel", "austenitic stainless steel", "bronze")
    )
    assert stainless / steel == pytest.approx(207 / 190, rel=1e-9) and bronze / steel == pytest.approx(207 / 111, rel=1e-9)
