"""The pages that close the loop: levers of all open findings, what to find out, what it rests on, the ways forward."""

import html
import re
from pathlib import Path

import numpy as np
import pytest
from classroom import words
from tiers import short_of

from lathe_course.course.chapter import Chapter
from lathe_course.course.folder.workspace import prepare
from lathe_course.course.pages import PAGES
from lathe_course.course.printed import brief_sections
from lathe_course.course.printed.brief_beside import brief_page
from lathe_course.course.session import Session
from lathe_course.course.shown import finding_out
from lathe_course.course.shown.closing import (
    find_out,
    find_out_page,
    going_either_way,
    grounds,
    nothing_fails,
    open_levers_page,
    standing_page,
    ways_forward,
    ways_forward_page,
)
from lathe_course.course.shown.essentials import BLURRED, BUILD_OR_BUY, KEY_RESULTS, SIZES
from lathe_course.course.shown.finding_out import FIND_OUT, worth_finding_out
from lathe_course.design.asked.blurring import blurring
from lathe_course.design.asked.levers import levers
from lathe_course.design.asked.mending import mend
from lathe_course.design.asked.room import room
from lathe_course.design.chain.entries import Decision, Figure, Limit
from lathe_course.design.chain.graph import Chain
from lathe_course.design.chain.luck import DRAWS
from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.design import Choice, Design
from lathe_course.design.evaluation import blurred_by, evaluate
from lathe_course.design.lathe import LATHE
from lathe_course.ranges import Range
from lathe_course.units import InputProblem, Length, Ratio


@pytest.fixture(scope="module", params=short_of(DEMOS, "boat_shed"))
def cloud(request):
    return evaluate(demo(request.param), DRAWS)


# --- names and words --------------------------------------------------------------------------------
def test_the_lists_name_parts_of_the_chain():
    assert set(KEY_RESULTS) <= set(LATHE.results)
    assert set(BUILD_OR_BUY) <= {*LATHE.results, *LATHE.figures}
    assert set(BLURRED) <= set(LATHE.results)
    assert all(LATHE.decisions[name].numeric for name in SIZES)


def test_every_figure_that_is_a_range_says_how_to_find_it_out(cloud):
    ranges = {name for name in LATHE.figures if np.ndim(cloud[name])}
    assert ranges <= set(FIND_OUT), f"say how to find out: {sorted(ranges - set(FIND_OUT))}"
    assert set(FIND_OUT) <= set(LATHE.figures)
    written = Path(finding_out.__file__).read_text(encoding="utf-8")
    assert [said for said in set(FIND_OUT.values()) if written.count(f'"{said}"') > 1] == [], "written for two figures"


# --- levers -----------------------------------------------------------------------------------------
def test_levers_of_every_open_finding_and_of_no_other(cloud):
    page = open_levers_page(cloud)
    said = html.unescape(page.markup)
    heads = re.findall(r"<b>([✗≈]) (?:fails|tight)  (.+?)\.</b>", said)
    pressing = {finding.label for finding in cloud.findings.values() if finding.presses}
    assert {label for _, label in heads} == pressing
    first = re.findall(r"^[✗≈] (?:fails|tight)  .+$", page.plain, re.MULTILINE)
    assert len(first) == len(heads[:3])
    assert all(one.startswith(mark) and f"  {label}. " in one for one, (mark, label) in zip(first, heads)), (
        "the plain twin shows the same first ones"
    )
    assert len(heads) <= 3 or page.plain.endswith(f"and {len(heads) - 3} more")
    assert [mark for mark, _ in heads] == sorted((mark for mark, _ in heads), key="✗≈".index)
    for finding in cloud.findings.values():
        found = levers(cloud, finding.name, most=3 if finding.status == "fails" else 1)
        if finding.status == "fails" and all(lever.breaks for lever in found):
            continue  # two decisions together, or what is left to wish for, stand in their place
        for lever in found:
            assert str(lever) in said


def test_where_all_holds_there_is_nothing_to_turn():
    wide = Chain(
        [Decision("width", "the width", "How wide is it?", "02", Length("mm"), 10, 100, 5)],
        [],
        [],
        [Limit("wide", "wide enough", "02", "width", "at least", 10.0, "{value} against {limit}.")],
    )
    page = open_levers_page(evaluate(Design(wide, {"width": Choice(0.03, None)})))
    assert page.plain == "Every finding holds, so there is nothing to mend."


# --- what to find out -------------------------------------------------------------------------------
def test_what_is_most_open_comes_first(cloud):
    rows, ways = find_out(cloud)
    listed, either = {label for label, *_ in rows}, set(going_either_way(cloud))
    assert listed and listed <= either
    by_label = {finding.label: finding for finding in cloud.findings.values()}
    nearness = [abs(by_label[label].sure - 0.5) for label, *_ in rows]
    assert nearness == sorted(nearness)
    assert all(abs(by_label[label].sure - 0.5) >= nearness[-1] for label in either - listed)
    assert ways and all(label in find_out_page(cloud).plain and how in find_out_page(cloud).plain for label, how in ways)


def test_what_one_draw_in_fifty_speaks_against_is_settled_and_no_more():
    """A figure that falls from nought to one like the longer side of a triangle is more than t in (1 - t)² of the draws."""
    shares = {
        "never": 0.0,
        "once in a hundred": 0.01,
        "once in thirty": 0.033,
        "one in seven": 0.14,
        "even": 0.5,
        "nearly": 0.86,
        "but once in thirty": 0.967,
        "sure": 0.99,
    }
    graph = Chain(
        [],
        [Figure("luck", "the luck", Ratio(), "01", value=Range(0, 0, 1))],
        [],
        [
            Limit(name, name, "01", "luck", "at least", 1 - share**0.5, "{value} against {limit}.")
            for name, share in shares.items()
        ],
    )
    e = evaluate(Design(graph, {}), DRAWS)
    assert {name: found.sure for name, found in e.findings.items()} == pytest.approx(shares, abs=0.003)
    told = [label for label, *_ in find_out(e)[0]]
    assert told[0] == "even" and set(told) == {name for name, share in shares.items() if 0.02 < share < 0.98}


def test_narrowing_what_stands_first_narrows_the_result():
    """Each uncertain figure is replaced by its likely value in turn: what narrows the result most stands first or second.

    A rank correlation and the width of a spread are two measures of one thing: two figures close together may change places.
    """
    design = demo("boat_shed")
    before = evaluate(design, DRAWS)

    def width(name, **own):
        tried = evaluate(design.with_("", decided="", **own), DRAWS)
        low, _, high = tried.spread(name)
        return high - low

    for name in ("chatter_free_width", "nose_stiffness", "months_to_finish", "cash_total", "own_hours"):
        narrowed = {}
        for one in worth_finding_out(before, name, most=99):
            kind = LATHE.part(one.name).kind
            likely = evaluate(design)[one.name] / kind.factor
            narrowed[one.name] = width(name, **{one.name: f"{likely:.12g} {kind.unit}".strip()})
        assert min(narrowed, key=narrowed.get) in [one.name for one in worth_finding_out(before, name)[:2]]
        low, _, high = before.spread(name)
        assert min(narrowed.values()) < 0.95 * (high - low)


def test_named_results_and_a_range_of_ones_own():
    loose = evaluate(demo("boat_shed").with_("", spindle_diameter={"low": "30 mm", "likely": "35 mm", "high": "40 mm"}), DRAWS)
    rows, ways = find_out(loose, ["nose_shaft_compliance", "swing_over_bed"])
    assert rows[0][0] == LATHE.part("nose_shaft_compliance").label and "spindle diameter" in rows[0][2]
    assert dict(ways)["spindle diameter"] == "It is a decision of yours that is still a range: settle it."
    assert rows[1][1:] == ("150 mm", "nothing that is known only as a range")


# --- what it rests on -------------------------------------------------------------------------------
def test_all_that_is_behind_the_findings_is_counted_once(cloud):
    behind = frozenset().union(*(LATHE.upstream(name) for name in LATHE.limits)) - set(LATHE.given)
    assert sum(len(ground.labels) for ground in grounds(cloud)) == len(behind)


def test_what_the_learner_settled_changes_its_ground():
    before = {ground.what: len(ground.labels) for ground in grounds(evaluate(demo("boat_shed"), 10))}
    mine = demo("boat_shed").with_("", centre_height="80 mm", stock_runout="0.2 mm")
    after = {ground.what: len(ground.labels) for ground in grounds(evaluate(mine, 10))}
    moved = {what: after[what] - before[what] for what in after if after[what] != before[what]}
    assert moved == {
        "decisions you settled": 1,
        "decisions still as your design began with them": -1,
        "figures you found out yourself": 1,
        "figures judged from common practice": -1,
    }


def test_standing_says_what_could_go_either_way(cloud):
    said = words(standing_page(cloud).markup)
    either = going_either_way(cloud)
    assert standing_page(cloud).plain.endswith(f"{len(either)} could go either way")
    assert f"{len(cloud.findings) - len(either)} of {len(cloud.findings)} findings come out the same in every draw." in said
    assert all(label in said for label in either)


# --- ways forward -----------------------------------------------------------------------------------
def test_ways_forward_hold_the_figures_of_each_way(cloud):
    head, rows, counted = ways_forward(cloud)
    cells = {row[0]: row[1:] for row in rows}
    mended = mend(cloud)
    then = evaluate(mended.design, DRAWS)
    assert head == ["", "build, as it stands", "build, mended", "buy used"]
    assert cells["money to be paid"] == (
        cloud.shown_spread("cash_total"),
        then.shown_spread("cash_total"),
        cloud.shown_spread("used_price"),
    )
    assert cells["with your hours counted"][2] == cloud.shown_spread("used_total")
    assert counted["What changes to mend it"] == [str(change) for change in mended.changes]
    assert counted.get("What fails all the same", []) == [finding.label for finding in mended.left]
    assert counted["What fails as it stands"] == [one.label for one in cloud.findings.values() if one.status == "fails"]
    assert cells["decisions that change"][:2] == ("0", str(len(mended.changes)))
    failing = (len(counted["What fails as it stands"]), len(mended.left))
    assert cells["findings that fail"][:2] == tuple(map(str, failing)), "a cell holds a figure, so that no label is squeezed"
    page = ways_forward_page(cloud)
    assert "Figures, not advice." in page.markup and all(
        f"  - {name}" in page.plain for names in counted.values() for name in names
    )


def test_a_sound_design_has_no_mended_way(cloud):
    sound = mend(cloud).design
    head, rows, _ = ways_forward(evaluate(sound, 200))
    assert head == ["", "build, as it stands", "buy used"] and all(len(row) == 3 for row in rows)


def test_nothing_fails_counts_draws_in_which_all_are_met(cloud):
    sure = [finding.sure for finding in cloud.findings.values() if finding.status != "open"]
    assert max(0.0, sum(sure) - len(sure) + 1) - 1e-12 <= nothing_fails(cloud) <= min(sure)


# --- the brief from a notebook ----------------------------------------------------------------------
def test_without_a_working_folder_nothing_is_written(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    page = brief_page(Session())
    assert "no brief was written" in page.plain and "lathe-course brief --demo boat_shed --to brief.html" in page.plain
    assert not list(tmp_path.iterdir())


def test_the_brief_lies_beside_the_design(tmp_path, monkeypatch):
    monkeypatch.setattr(brief_sections, "turned_by", lambda *_: [])
    prepare(tmp_path / "mine")
    monkeypatch.chdir(tmp_path / "mine" / "notebooks")
    chapter = Chapter("15", Session())
    page = chapter.brief()
    assert "0.5 mm deep in" in (tmp_path / "mine" / "brief.html").read_text(encoding="utf-8")
    assert (
        page.plain
        == "The brief is written: brief.html, beside design.toml. Run this cell again when you have changed something.\n"
        "Open the brief, or open the file in your browser to print it."
    )
    assert '<a href="/files/brief.html" target="_blank"><b>Open the brief</b></a>' in page.markup
    chapter.keep("as a try", depth_of_cut="0.3 mm")
    chapter.brief()
    assert "0.3 mm deep in" in (tmp_path / "mine" / "brief.html").read_text(encoding="utf-8")


@pytest.mark.parametrize("pages", short_of(["standing, find_out", "ways_forward"], "standing, find_out"))
def test_pages_of_a_chapter_follow_the_design(pages, tmp_path, monkeypatch):
    prepare(tmp_path / "mine")
    monkeypatch.chdir(tmp_path / "mine")
    chapter = Chapter("15", Session())
    pages = [getattr(chapter, name)(*(["cut_stays_quiet"] if name == "find_out" else [])) for name in pages.split(", ")]
    before = [page.plain for page in pages]
    chapter.keep("", depth_of_cut="0.2 mm")
    assert all(page.plain != was for page, was in zip(pages, before, strict=True))


def test_find_out_refuses_a_name_that_nothing_has():
    with pytest.raises(InputProblem, match="chatter_free_width"):
        Chapter("15", Session()).find_out("chater_free_width")


# --- pages of machine and build together --------------------------------------------------------------
def test_room_to_spare_says_how_far_each_wish_goes(cloud):
    said = PAGES["room_to_spare"](cloud.central).plain
    for name in ("centre_height", "between_centres", "depth_of_cut", "material_prices"):
        found = room(cloud, name)
        line = next(line for line in said.splitlines() if f"{found.label}: {found.here}" in line)
        assert (found.high or "no step") in line and (found.high_stop or "the end of what is sensible") in line
    found = room(cloud, "tolerance")  # finer lies below
    line = next(line for line in said.splitlines() if f"{found.label}: {found.here}" in line)
    assert (found.low or "no step") in line


def test_a_ripple_goes_through_machine_and_build(cloud):
    here = cloud.central
    said = PAGES["ripple_across"](here, decision="centre_height", to="85 mm").plain
    there = evaluate(here.design.with_(decided="", centre_height="85 mm"))
    for name in ("machine_stiffness", "parts_mass", "heaviest_lift", "cash_total", "months_to_finish"):
        line = next(line for line in said.splitlines() if LATHE.part(name).label in line)
        assert here.shown(name) in line and there.shown(name) in line
    for name, finding in there.findings.items():
        assert (f"{finding.label} (" in said) == (finding.status != here.findings[name].status)


def test_what_blurs_most_stands_first_and_is_found_by_hand(cloud):
    ranked = blurring(cloud)
    assert [score for _, score, _ in ranked] == sorted((score for _, score, _ in ranked), reverse=True)
    chapters = {cloud.chain.limits[one].chapter for _, _, blurs in ranked for one, _ in blurs}
    assert chapters & {"11", "12", "13", "15"} and chapters & {"03", "04", "05", "06", "07", "08", "09"}
    name, score, blurs = ranked[0]
    for finding, weight in blurs:
        same = {one.name: one.weight for one in blurred_by(cloud, finding)}
        assert weight == pytest.approx(same[name], abs=1e-9)
    assert score == pytest.approx(
        sum(4 * cloud.findings[one].sure * (1 - cloud.findings[one].sure) * weight**2 for one, weight in blurs)
    )
    said = words(PAGES["find_out_next"](cloud).markup)
    assert all(cloud.chain.part(one).label in said for one, _, _ in ranked[:10])


def test_keeping_it_says_what_the_chain_says(cloud):
    said = PAGES["keeping_it"](cloud).plain
    for name in ("keeping_a_year", "used_keeping_a_year", "power_money", "turning_hour_cost", "ordered_a_year"):
        assert cloud.shown_spread(name) in said
