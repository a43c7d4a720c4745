"""The way through: what matters in a chapter for this design, and where the next evening is best spent."""

import re

import pytest
from random_designs import random_design
from tiers import many
from wishes import with_jobs

from lathe_course.design.asked.way_through import FEWEST, MOST, next_evening, open_findings, way_through
from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.draft.first_draft import draft
from lathe_course.design.draft.wish import Wish, common_job
from lathe_course.design.evaluation import evaluate
from lathe_course.design.lathe import CHAPTERS, LATHE
from lathe_course.design.origins import YOURS

DRAWS = 500


def decisions_of(chapter):
    return [name for name, one in LATHE.decisions.items() if one.chapter == chapter]


@pytest.mark.parametrize("start", DEMOS)
def test_each_chapter_tells_two_to_five_of_its_decisions(start):
    e = evaluate(demo(start), DRAWS)
    for chapter in CHAPTERS:
        found, own = way_through(e, chapter), decisions_of(chapter)
        names = [one.decision for one in found.matters]
        assert set(names) <= set(own) and len(set(names)) == len(names) <= MOST
        assert len(names) >= min(FEWEST, len(own)), chapter
        assert sorted([*(LATHE.decisions[name].label for name in names), *found.others]) == sorted(
            LATHE.decisions[name].label for name in own
        )
        assert found.yours + found.draft + found.demo == len(own)
        assert all(one.why and one.shown == e.shown(one.decision) for one in found.matters)


def _read(decision, said):
    return said.strip("“”") if decision.options else decision.read(said)


@pytest.mark.parametrize("number", range(many(3, 30)))
def test_what_is_told_of_a_change_is_true(number):
    """The whole design worked out anew with the change that is told: the finding is met then, or at least nearer, and no other newly fails in the chapters looked at."""
    design = demo(list(DEMOS)[number]) if number < len(DEMOS) else random_design(number)
    e = evaluate(design, DRAWS)
    labels = {finding.label: name for name, finding in e.findings.items()}
    for chapter in list(CHAPTERS)[1:11]:
        for one in way_through(e, chapter).matters:
            told = re.fullmatch(r"“(.*)” (fails|could go either way|is tight); (met at|with room at|nearer at) (.*)", one.why)
            if told is None:
                assert one.why.endswith("rest on it")
                continue
            finding, decision = e.findings[labels[told[1]]], LATHE.decisions[one.decision]
            changed = evaluate(design.trying(**{one.decision: _read(decision, told[4])}))
            then, before = changed.findings[finding.name], e.central.findings[finding.name]
            assert then.margin > before.margin, one
            if told[3] == "met at":
                assert finding.status == "fails" and then.status != "fails", one
            elif told[3] == "with room at":
                assert then.status == "holds", one
            if finding.name in LATHE.told_apart(one.decision)[0]:
                quick = LATHE.told_apart(one.decision)[0]
                assert [
                    name
                    for name in quick
                    if changed.findings[name].status == "fails" and e.central.findings[name].status not in ("fails", "open")
                ] == [], one


def test_time_that_does_not_suffice_sends_to_the_ways_of_the_parts_and_not_round_in_a_circle():
    """What chapter 12 settles, months away and the like, does not mend what it tells."""
    jobs = [common_job("bush", "40 mm")]
    design = draft(with_jobs(Wish().with_(hours_can="6 h/month", money_can="60 EUR/month", patience="36 months"), jobs)).design
    e = evaluate(design, DRAWS)
    assert {one.chapter for one in e.findings.values() if one.status == "fails"} == {"12"}
    evening = next_evening(e)
    assert evening.chapter == "10" and evening.why.endswith("which parts you make, buy or have made moves it")


def test_the_evening_goes_where_most_is_open():
    e = evaluate(demo("boat_shed"), DRAWS)
    evening = next_evening(e)
    failing = {
        chapter: sum(one.status == "fails" for one in e.findings.values() if one.chapter == chapter) for chapter in CHAPTERS
    }
    assert failing[evening.chapter] and failing[evening.chapter] >= max(failing.values()) - 1
    first = re.match("“(.*?)” fails", evening.why)[1]
    assert first in {one.label for one in open_findings(e) if one.status == "fails" and one.chapter == evening.chapter}


def test_what_could_go_either_way_is_open_though_it_holds():
    e = evaluate(demo("boat_shed"), DRAWS)
    found = {one.name for one in open_findings(e)}
    assert {name for name, one in e.findings.items() if one.presses} <= found
    assert found >= {name for name, one in e.findings.items() if one.sure is not None and 0.1 <= one.sure <= 0.9}


def test_whose_decisions_are_is_counted():
    design = demo("boat_shed").with_("ours", spindle_diameter="40 mm")
    found = way_through(evaluate(design, DRAWS), "06")
    assert found.yours == [design.origin(name) for name in decisions_of("06")].count(YOURS) == 1
