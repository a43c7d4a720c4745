"""The budget of compliances, and positions off the work."""

import numpy as np
import pytest

from lathe_course.machine import errors as e
from lathe_course.machine import rigidity as r
from lathe_course.tables import table
from lathe_course.units import InputProblem


def test_budget_gives_shares_softest_first():
    shares = r.budget({"bed": 5.0, "spindle": 70.0, "saddle": 25.0})
    assert list(shares) == ["spindle", "saddle", "bed"]
    assert sum(shares.values()) == pytest.approx(1.0)


def test_budget_takes_draws():
    shares = r.budget({"bed": np.array([1.0, 3.0]), "spindle": np.array([3.0, 1.0]), "saddle": 1.0})
    assert sum(shares.values()) == pytest.approx(np.ones(2))


def test_a_position_off_the_work_is_refused():
    with pytest.raises(InputProblem, match="must lie on the work"):
        r.centres_deflection(force="100 N", length="100 mm", position="120 mm", diameter="20 mm", elastic_modulus="207 GPa")
    assert np.isnan(r.chuck_and_centre_deflection.si(100, 0.1, 0.12, 0.02, 207e9))


def test_links_name_what_they_are_and_a_block_is_stiffer_than_a_topslide():
    links = table("links")
    assert links["solid block"]["sideways"].high <= links["topslide"]["sideways"].likely
    for row in links.values():
        assert row["what"] and row["sideways"].low < row["sideways"].high
        assert 1 <= row["size_exponent"] <= 2


def test_bearings_stand_in_order_of_stiffness_and_none_is_fast_and_stiff_and_cheap():
    likely = [row["stiffness"].likely for row in table("bearings").values()]
    assert likely == sorted(likely)
    rollers, balls = table("bearings")["taper roller"], table("bearings")["angular contact pair"]
    assert rollers["speed_number"].high < balls["speed_number"].likely


# --- the bent work --------------------------------------------------------------------------------------
BAR = {"length": 0.1, "diameter": 0.02, "elastic_modulus": 207e9}


@pytest.mark.parametrize("tool", [0.02, 0.0586, 0.09])
def test_the_bent_work_gives_under_the_tool_what_the_formulas_say(tool):
    under = {
        support: r.bent_work(support, np.array([tool]), 200.0, tool, **BAR)[0]
        for support in ("chuck alone", "chuck and centre", "between centres")
    }
    assert under["chuck alone"] == pytest.approx(r.chuck_deflection.si(200.0, tool, BAR["diameter"], BAR["elastic_modulus"]))
    for support, formula in (("chuck and centre", r.chuck_and_centre_deflection), ("between centres", r.centres_deflection)):
        assert under[support] == pytest.approx(formula.si(200.0, BAR["length"], tool, BAR["diameter"], BAR["elastic_modulus"]))


def test_the_bent_work_stands_still_where_it_is_held():
    ends = np.array([0.0, BAR["length"]])
    assert r.bent_work("between centres", ends, 200.0, 0.03, **BAR) == pytest.approx([0, 0], abs=1e-18)
    assert r.bent_work("chuck and centre", ends, 200.0, 0.03, **BAR) == pytest.approx([0, 0], abs=1e-18)
    near = r.bent_work("chuck alone", np.array([0.0, 1e-6]), 200.0, 0.1, **BAR)
    assert near == pytest.approx([0, 0], abs=1e-12), "a chuck holds the slope as well"


# --- listed figures that are plain arithmetic: no evidence, but they must come out --------------------------
def test_listed_figures_of_levers_supports_and_bars():
    assert r.lever_stiffness(stiffness="100 N/µm", ratio="2").to("N/um").magnitude == pytest.approx(25)
    give = r.end_support_compliance(
        position="50 mm", length="100 mm", headstock_stiffness="20 N/µm", tailstock_stiffness="10 N/µm"
    )
    assert give.to("um/kN").magnitude == pytest.approx(37.5)
    bent = r.chuck_deflection(force="200 N", length="100 mm", diameter="20 mm", elastic_modulus="207 GPa")
    assert e.diameter_error(deflection=bent).to("mm").magnitude == pytest.approx(0.082, rel=2e-3)
