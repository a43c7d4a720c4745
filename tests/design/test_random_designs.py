"""Random designs over all options: no figure is missing without a cause that is told, and no sentence speaks against another."""

import datetime
import html
import inspect
import itertools
import re
import warnings

import numpy as np
import pytest
from random_designs import SHARES, random_design
from tiers import many, short_of

from lathe_course.course.pages import PAGES
from lathe_course.course.pictures import PICTURES
from lathe_course.course.printed.brief import brief_html
from lathe_course.course.printed.shop_papers import shop_papers_html
from lathe_course.course.printed.wall_charts import wall_charts_html
from lathe_course.course.shown.plain_text import findings_text
from lathe_course.design.asked.first_cuts import first_cuts, speed_rows
from lathe_course.design.chain.clash import lacking
from lathe_course.design.demos import demo
from lathe_course.design.evaluation import evaluate
from lathe_course.design.lathe import LATHE
from lathe_course.design.measured.acceptance import TESTS, called_for
from lathe_course.units import InputProblem

#: results with places that stay empty by their meaning: steps of the pulleys that are not there, wood, of which no cutting force is known,
#: and the hours of a plain bearing, which has no rating
_EMPTY = {"belt_pulleys", "drive_settings", "belt_on_steps", "cuts_by_material", "bearing_life"}
_BROKEN = re.compile(r"\b(nan|inf|None)%?(?!\w)|– (mm|µm|N|N/µm|rpm|%|W|kg|EUR)(?!\w)")
_DRAWS = 60
#: a hair, by which two sums of the same thing may differ
_HAIR = 1e-6


def designs(default: int, long: int):
    return pytest.mark.parametrize("number", range(many(default, long)))


def design_of(number: int):
    return random_design(number, SHARES[number // 3 % len(SHARES)])


def not_there(e, name: str) -> bool:
    """Is it the pulley of a step that the drive does not have?"""
    return name.startswith("driven_pulley_") and int(name[-1]) > int(e["belt_steps"])


@designs(12, 2000)
def test_what_has_no_figure_says_why_and_every_sentence_is_whole(number):
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        design = design_of(number)
        e, drawn = evaluate(design), evaluate(design, _DRAWS)
        for worked in (e, drawn):
            for name in LATHE.results:
                if lacking(worked[name]) and name not in _EMPTY and not not_there(e, name):
                    if (
                        worked is drawn and np.ndim(drawn[name]) and not lacking(e[name])
                    ):  # what is wrong in a few draws only, as a slide that jams
                        assert np.isnan(drawn[name]).mean() < 0.5 and not np.isnan(drawn.middle(name)), name
                        continue
                    assert e.cause(name) in e.clashes.values(), (name, "has no figure and no cause")
            for found in worked.findings.values():
                if np.isnan(found.margin) and found.status != "open":
                    cause = e.cause(found.name)
                    assert found.status == "fails" and cause and found.sentence == f"“{found.label}” cannot be told. {cause}", (
                        found.name
                    )
                assert not _BROKEN.search(found.sentence), found.sentence
        assert not [said for said in e.doubts() if _BROKEN.search(said)]


@designs(12, 2000)
def test_no_finding_speaks_against_another(number):
    e = evaluate(design_of(number))
    found = {name: one for name, one in e.findings.items() if one.status != "open" and np.isfinite(one.margin)}
    fails = {name for name, one in found.items() if one.margin < -_HAIR}
    # one value that is held against two limits of one sense: what is too much for the wider is too much for the narrower
    for one, other in itertools.permutations(found.values(), 2):
        if (one.rule.value, one.rule.sense) == (other.rule.value, other.rule.sense) and one.name in fails:
            wider = one.limit >= other.limit if one.rule.sense == "at most" else one.limit <= other.limit
            assert not wider or other.name in fails or other.margin < _HAIR, (one.sentence, other.sentence)
    assert not {"not_loose_warm", "not_tight_warm"} <= fails and not {"not_loose_cold", "not_tight_cold"} <= fails
    assert min(e["loose_when_warm"], e["squeezed_when_warm"]) == 0 and min(e["loose_when_cold"], e["squeezed_when_cold"]) == 0
    # the depths of the cut and the findings on the roughing cut say the same
    for finding, depth in (("cut_stays_quiet", "depth_by_quiet"), ("power_suffices", "depth_by_power")):
        if finding in found:
            assert (finding in fails) == (e[depth] < e["depth_of_cut"] * (1 - _HAIR)) or abs(found[finding].margin) < _HAIR, (
                found[finding].sentence,
                e[depth],
            )
    if np.isfinite(e["depth_that_goes"]):
        assert e["depth_that_goes"] == min(e["depth_by_power"], e["depth_by_torque"], e["depth_by_quiet"])
    # three feet do not twist a bed, whatever the floor does
    assert e["feet"] != "three feet" or e["stand_twist"] == 0 or np.isnan(e["stand_twist"])
    if {"drive_within_bounds", "chuck_not_overrun"} <= found.keys() and "drive_within_bounds" not in fails:
        assert e["drive_fastest"] <= e["chuck_top_speed"] * (1 + _HAIR)


@designs(3, 100)
def test_the_papers_for_the_shop_say_what_can_be_read(number):
    page = shop_papers_html(design_of(number), datetime.date(2026, 3, 30))
    words = html.unescape(re.sub(r"<style>.*?</style>|<[^>]+>", " ", page, flags=re.DOTALL))
    assert not _BROKEN.search(words) and "Parts to tick off" in words


@designs(6, 100)
def test_the_wall_says_what_the_findings_say(number):
    e = evaluate(design_of(number))
    words = " ".join(
        html.unescape(re.sub(r"<style>.*?</style>|<[^>]+>", " ", wall_charts_html(e.design), flags=re.DOTALL)).split()
    )
    assert not _BROKEN.search(words)
    assert ("nothing finer" in words) == (
        e["feed_drive"] not in ("by hand", "separate shaft or motor") and e.findings["feeds_can_be_had"].status == "fails"
    )
    for cut in first_cuts(e):
        assert cut.start is None or not cut.ends or cut.start <= max(min(cut.ends.values()), 0.05e-3) + 1e-12
    try:
        rows = speed_rows(e)
    except InputProblem:
        assert e.findings["pulleys_share_belt"].status == "fails"
        return
    shown = [run for _, _, found in rows for run in found if run is not None]
    assert all(run <= min(e["chuck_top_speed"], e["overrun_limit"]) * (1 + _HAIR) for run in shown)
    assert all(e["drive_slowest"] * (1 - _HAIR) <= run <= e["drive_fastest"] * (1 + _HAIR) for run in shown)
    assert {name for name in TESTS if name in words} == set(called_for(e))


@designs(0, 40)
def test_the_terminal_tells_whole_sentences(number):
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        said = findings_text(design_of(2000 + number))
    assert not _BROKEN.search(said), said[max(0, _BROKEN.search(said).start() - 200) :][:300]


@pytest.mark.parametrize("number", range(many(0, 5)))
def test_a_brief_tells_whole_sentences(number):
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        page = brief_html(design_of(3000 + number))
    said = " ".join(html.unescape(re.sub(r"<(style|svg)\b.*?</\1>|<[^>]+>", " ", page, flags=re.DOTALL)).split())
    assert not _BROKEN.search(said), said[max(0, _BROKEN.search(said).start() - 200) :][:300]


#: pages that need no more than a design
_PLAIN = sorted(
    name
    for name, write in PAGES.items()
    if all(one.default is not one.empty for one in list(inspect.signature(write).parameters.values())[1:])
)
#: pages that play many builds through or compare many designs: in the long run only
_SLOW = {
    "best_mixes",
    "mixes_played",
    "three_builds_compared",
    "room_to_spare",
    "which_link_first",
    "worth_a_change",
    "where_to_begin",
}


@pytest.mark.parametrize("number", short_of(range(many(3, 30)), *range(many(1, 30))))
def test_pages_are_whole_sentences_or_say_what_is_lost(number):
    e = evaluate(design_of(number))
    for name in _PLAIN:
        if name in _SLOW and not many(0, 1):
            continue
        try:
            said = PAGES[name](e).plain
        except InputProblem as problem:
            said = str(problem)
        assert not _BROKEN.search(said), (name, _BROKEN.search(said).group(), said)


@designs(1, 40)
def test_what_is_read_aloud_of_pictures_is_whole(number):
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        e = evaluate(design_of(4 + number))  # the first of them has a spindle with no wall, and so many findings without a figure
        for name, drawn in PICTURES.items():
            try:
                said = drawn.describe(e)
            except InputProblem as problem:
                said = str(problem)
            assert not _BROKEN.search(said), (name, said[max(0, _BROKEN.search(said).start() - 200) :][:300])


def test_a_bed_that_cannot_be_takes_no_figure_from_what_it_does_not_drive():
    """Walls that meet leave no box: no mass and no hours of it, but all of spindle, tailstock and wheels."""
    e = evaluate(demo().with_(bed_wall="45 mm"))
    assert all(np.isnan(one) for one in e["bed_section"].values()) and "section of the bed" in e.cause("own_hours")
    hours = dict(zip((way.part for way in e["part_columns"].ways), e["part_hours"]))
    masses = dict(zip(e["part_masses"]["names"], e["part_masses"]["finished"]))
    for found in (hours, masses):
        lost = {part for part, figure in found.items() if np.isnan(figure)}
        assert lost and len(lost) < len(found) / 4 and np.isfinite(found["spindle"]), lost


def test_a_taper_as_wide_as_its_barrel_is_told_and_leaves_every_figure():
    for taper, barrel in (("MT4", "31 mm"), ("MT4", "20 mm"), ("MT3", "24 mm")):
        e = evaluate(demo().with_(tailstock_taper=taper, barrel_diameter=barrel))
        assert "cuts it open" in e.findings["barrel_has_wall"].sentence and e.findings["barrel_has_wall"].status == "fails"
        assert np.isfinite(e["tail_give"]) and np.isfinite(e["shape_share"]) and np.isfinite(e["job_shapes"]).all()
