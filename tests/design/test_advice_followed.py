"""What the course advises is done, on random designs, and what it was advised for comes about."""

import numpy as np
import pytest
from random_designs import SEED, random_design
from tiers import many, short_of

from lathe_course.design.asked.levers import levers
from lathe_course.design.asked.mending import mend
from lathe_course.design.asked.mixes import choose_ways, mix_here, mixes_here, soonest_played
from lathe_course.design.chain.luck import DRAWS
from lathe_course.design.evaluation import evaluate
from lathe_course.design.lathe import LATHE
from lathe_course.units import InputProblem

#: of the findings that fail, how many are followed on each design
_FOLLOWED = 4


def asked(finding: str):
    rule = LATHE.limits[finding]
    return [rule.value, *([rule.limit] if isinstance(rule.limit, str) else ()), *([rule.asked] if rule.asked else ())]


def margin_of(design, finding: str, draws=None) -> float:
    """Room of one finding: at middling figures, or in the middle of the draws; infinite where it is not asked any more."""
    rule, e = LATHE.limits[finding], evaluate(design, draws, wanted=asked(finding))
    if not rule.asks(evaluate(design, wanted=asked(finding)).values_si):
        return np.inf
    return float(np.median(rule.margin(e[rule.value], LATHE.limit_value(rule, e.values_si))))


@pytest.mark.parametrize("number", short_of(range(many(6, 100)), *range(many(2, 100))))
def test_a_lever_turns_its_finding(number):
    design = random_design(number)
    here = evaluate(design)
    failing = [finding for finding in here.findings.values() if finding.status == "fails" and not np.isnan(finding.margin)]
    rng = np.random.default_rng([SEED, number, 1])
    for finding in rng.permutation([one.name for one in failing]).tolist()[:_FOLLOWED]:
        for lever in levers(here, finding, most=3):
            followed = design.trying(**{lever.decision: lever.value})
            assert margin_of(followed, finding) >= -1e-9, (finding, str(lever))
            assert margin_of(followed, finding, DRAWS) >= -1e-9, (finding, str(lever), "in half of all draws")
            now = evaluate(followed).findings
            worse = {
                LATHE.limits[one].label
                for one, before in here.findings.items()
                if before.status != "fails" and now[one].status == "fails"
            }
            assert worse == set(lever.breaks), str(lever)


@pytest.mark.parametrize("number", short_of(range(many(2, 30)), *range(many(1, 30))))
def test_mending_leaves_only_what_it_says(number):
    design = random_design(number)
    mended = mend(evaluate(design))
    fails = {name for name, finding in evaluate(mended.design, DRAWS).findings.items() if finding.status == "fails"}
    before = {name for name, finding in evaluate(design, DRAWS).findings.items() if finding.status == "fails"}
    assert fails == {finding.name for finding in mended.left} and len(fails) <= len(before)


@pytest.mark.parametrize("number", range(many(4, 60)))
def test_a_mix_that_is_taken_comes_to_what_it_promised(number):
    """Money and own hours of the wishes by the sums of the chain; the soonest by playing the build through."""
    design = random_design(number)
    e = evaluate(design)
    try:
        mixes = mixes_here(e)
    except InputProblem:
        pytest.skip("a part of this design cannot be had")
    for wish, mix in mixes.items():
        taken = evaluate(choose_ways(design, mix.hows))
        here = mix_here(taken)
        assert (
            here is not None
            and here.money == pytest.approx(mix.money, rel=1e-6)
            and here.hours == pytest.approx(mix.hours, rel=1e-6)
        ), wish
        assert taken["own_hours"] == pytest.approx(mix.hours, rel=1e-6), wish
    played, months = soonest_played(e, mixes.values())
    assert evaluate(choose_ways(design, played.hows))["months_to_finish"] == pytest.approx(months, rel=1e-6)
