"""Every picture, for every demo and at the ends of the sliders: it draws, it can be read, and its figures are the chain's."""

import functools
import re
from dataclasses import replace
from itertools import combinations
from typing import NamedTuple
from xml.etree import ElementTree

import numpy as np
import pytest
from cases import every
from matplotlib.text import Text
from tiers import many

from lathe_course.course.pictures import (
    PICTURES,
    NothingToDraw,
    closing,
    cut,
    decision_map,
    drive,
    give,
    purpose,
    speeds,
    spindle,
    tradeoff,
    work,
)
from lathe_course.course.pictures.axes import parted, shortened, wrapped
from lathe_course.course.pictures.style import Canvas, text_size
from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.evaluation import evaluate
from lathe_course.machine import rigidity

#: letters may come this close, in points, before they count as on top of each other
_TOUCH = 2.0
_ALL = sorted(PICTURES)


def _at_end(which):
    """The boat shed with every slider at its low or high end."""
    design = demo("boat_shed")
    return design.trying(**{name: getattr(d, which) * d.kind.factor for name, d in design.chain.decisions.items() if d.numeric})


def _designs():
    found = {f"{name} {system}": replace(demo(name), system=system) for name in DEMOS for system in ("mm", "inch")}
    boat = demo("boat_shed")
    found |= {
        "all low": _at_end("low"),
        "all high": _at_end("high"),
        "tiny and slim": boat.trying(
            centre_height=0.04,
            between_centres=0.1,
            bed_form="two round bars",
            bed_height=0.02,
            bed_width=0.08,
            bearing_span=0.04,
            spindle_overhang=0.1,
            work_length=0.6,
            work_diameter=0.003,
        ),
        "large and stout": boat.trying(
            centre_height=0.13,
            between_centres=0.7,
            bed_form="channel",
            bearing_span=0.35,
            spindle_overhang=0.015,
            slide_height=0.01,
            work_support="chuck and centre",
        ),
        "low and long": boat.trying(
            centre_height=0.04, between_centres=0.7, slide_height=0.07, bed_form="two flat rails", cut_reach=0.2
        ),
        "high and short": boat.trying(
            centre_height=0.13, between_centres=0.1, bed_form="plate", bed_height=0.2, depth_of_cut=3e-3, entering_angle=np.pi / 4
        ),
        "fine cut": boat.trying(depth_of_cut=1e-4, feed=4e-4, motor_power=60.0, largest_drill=3e-3),
        "bore too wide": boat.trying(spindle_bore=0.04, spindle_diameter=0.03),
        "speeds swapped": boat.trying(slowest_speed=100.0, fastest_speed=50.0),
        "impatient": boat.trying(patience=6.0, money_can=10.0, hours_can=2.0),
    }
    return found


DESIGNS = _designs()


@pytest.fixture(scope="module")
def evaluations():
    with np.errstate(all="ignore"):
        return {name: evaluate(design, draws=400) for name, design in DESIGNS.items()}


@pytest.fixture(scope="module")
def canvas():
    return Canvas()


def noted(monkeypatch):
    """Texts as they are drawn from now on, with their boxes in points: (words, box)."""
    found = []
    plain = Text.draw

    def draw(self, renderer, *args, **kwargs):
        if self.get_visible() and self.get_text().strip():
            found.append((self.get_text(), Text.get_window_extent(self, renderer)))
        return plain(self, renderer, *args, **kwargs)

    monkeypatch.setattr(Text, "draw", draw)
    return found


@pytest.fixture
def written(monkeypatch):
    return noted(monkeypatch)


class Drawn(NamedTuple):
    """A picture as it was drawn: its SVG, its texts with their boxes, ends of its axes, its size in points."""

    svg: str
    written: list
    ends: list[float]
    size: tuple[float, float]


@pytest.fixture(scope="module")
def drawn(evaluations, canvas):
    """A picture of a design by their names, drawn once for all who look at it."""

    @functools.cache
    def look(name: str, design: str) -> Drawn:
        with pytest.MonkeyPatch.context() as patch:
            found = noted(patch)
            svg = canvas.draw(PICTURES[name], evaluations[design])
        figure = canvas._figures[name]
        return Drawn(
            svg,
            found,
            [end for axes in figure.axes for end in (*axes.get_xlim(), *axes.get_ylim())],
            tuple(figure.get_size_inches() * 72),
        )

    return look


def covering(texts):
    for (one, a), (other, b) in combinations(texts, 2):
        wide = min(a.x1, b.x1) - max(a.x0, b.x0)
        tall = min(a.y1, b.y1) - max(a.y0, b.y0)
        if wide > _TOUCH and tall > _TOUCH:
            yield f"{one!r} and {other!r}"


# --- drawing ------------------------------------------------------------------------------------------
def _pairs():
    """Every picture with the boat shed and, by default, with every third of the other designs in turn."""
    return [
        (name, design)
        for turn, name in enumerate(_ALL)
        for place, design in enumerate(DESIGNS)
        if place == 0 or (place + turn) % many(4, 1) == 0
    ]


@every("name, design", _pairs)
def test_it_draws_and_can_be_read(name, design, drawn):
    svg, written, ends, (wide, tall) = drawn(name, design)
    ElementTree.fromstring(svg)
    assert np.all(np.isfinite(ends)), "limits"
    assert written, "a picture without a word"
    assert not list(covering(written)), "letters on top of each other"
    outside = [words for words, box in written if box.x0 < -1 or box.y0 < -1 or box.x1 > wide + 1 or box.y1 > tall + 1]
    assert not outside, "letters off the picture"
    assert not any("nan" in words.split() or "inf" in words.split() for words, _ in written)


@every("name", _ALL[:: many(3, 1)])
def test_one_after_another_leaves_nothing_behind(name, evaluations, canvas):
    """A canvas that drew other designs before gives the same as a fresh one, and the same again."""
    picture = PICTURES[name]
    evaluation = evaluations["boat_shed mm"]
    fresh = Canvas().draw(picture, evaluation)
    canvas.draw(picture, evaluations["bore too wide"])
    canvas.draw(picture, evaluations["all high"])
    assert canvas.draw(picture, evaluation) == fresh
    assert canvas.draw(picture, evaluation) == fresh


def test_pictures_share_no_names(drawn):
    names = {
        (name, design): set(re.findall(r'\bid="([^"]+)"', drawn(name, design).svg))
        for name in _ALL
        for design in ("boat_shed mm", "cabin inch")
    }
    for one, other in combinations(names, 2):
        assert not names[one] & names[other], f"{one} and {other}"


@every("name", _ALL)
def test_without_draws_too(name, canvas, evaluations):
    evaluation = evaluations["boat_shed mm"].central
    ElementTree.fromstring(canvas.draw(PICTURES[name], evaluation))
    words = PICTURES[name].describe(evaluation)
    assert words.endswith(".")
    assert "draws" not in words or name == "what_blurs"


# --- units --------------------------------------------------------------------------------------------
_METRIC = re.compile(r"(?<![\w·/])(mm|µm|N|kN|kg|N·m|m/min|N/mm²|N/µm|µm/kN|mm²)(?![\w·/])")
#: axes that count something without a unit
_NO_UNIT = re.compile(r"months until|share of the limit|rank correlation")


@every("demo_name", DEMOS)
@every("name", _ALL)
def test_an_inch_reader_sees_no_metric_unit(name, demo_name, evaluations, drawn):
    told = [words for words, _ in drawn(name, f"{demo_name} inch").written] + [
        PICTURES[name].describe(evaluations[f"{demo_name} inch"])
    ]
    assert not [words for words in told if _METRIC.search(words)]


@every("name", _ALL)
def test_every_axis_with_figures_names_its_unit(name, evaluations, canvas):
    figure = canvas.figure(PICTURES[name], evaluations["boat_shed mm"])
    for axes in figure.axes:
        if not axes.axison:
            continue
        for axis in (axes.xaxis, axes.yaxis):
            numbered = [tick.get_text() for tick in axis.get_ticklabels() if re.fullmatch(r"[−\d.]+%?", tick.get_text())]
            if not numbered or not axis.get_tick_params().get("labelbottom", True):
                continue
            label = axis.get_label_text() or " ".join(text.get_text() for text in axes.texts)  # small multiples carry it on top
            assert re.search(r"\([^)]+\)|months", label) or _NO_UNIT.search(label), (
                f"{name}: an axis with {numbered} says {label!r}"
            )


# --- words ----------------------------------------------------------------------------------------------
@every("name", _ALL)
def test_it_is_told_in_words_with_the_figures_of_the_design(name, evaluations):
    told = {design: PICTURES[name].describe(evaluations[design]) for design in ("boat_shed mm", "boat_shed inch", "cabin mm")}
    for words in told.values():
        assert re.search(r"\d", words)
        assert words[0].isupper()
        assert words.endswith(".")
        assert "nan" not in words.split()
    assert told["boat_shed mm"] != told["cabin mm"]


@every("name", _ALL)
def test_title_is_one_line(name):
    picture = PICTURES[name]
    assert picture.title[0].isupper()
    assert not picture.title.endswith(".")
    assert len(picture.title) < 75
    assert picture.size[0] == 8
    assert picture.draw.__doc__


def test_what_cannot_be_drawn_says_why(evaluations, canvas, written):
    for name, design, reason in (
        ("bent_spindle", "bore too wide", "leaves nothing"),
        ("speed_chart", "speeds swapped", "must be less"),
        ("give_budget", "bore too wide", "no spindle shaft"),
    ):
        written.clear()
        canvas.draw(PICTURES[name], evaluations[design])
        assert reason in " ".join(words for words, _ in written).replace("\n", " ")
        assert reason in PICTURES[name].describe(evaluations[design])
    canvas.draw(PICTURES["what_blurs"], evaluate(demo("boat_shed")))


# --- figures ----------------------------------------------------------------------------------------------
@pytest.mark.parametrize("name", DEMOS)
def test_the_bent_spindle_ends_where_the_chain_says(name):
    e = evaluate(demo(name))
    at = e["bearing_span"] + e["spindle_overhang"]
    cut_at = at + e["cut_reach"]
    assert spindle.deflected(e, np.array([cut_at]))[0] == pytest.approx(e["spindle_give"], rel=1e-9)
    front = e["cutting_force"] * (1 + (cut_at - e["bearing_span"]) / e["bearing_span"]) / e["front_stiffness_at_size"]
    assert spindle.deflected(e, np.array([e["bearing_span"]]))[0] == pytest.approx(front, rel=1e-9)
    near = np.array([e["bearing_span"] - 1e-9, e["bearing_span"] + 1e-9])
    assert np.ptp(spindle.deflected(e, near)) < 1e-12, "no step at the bearing"


@pytest.mark.parametrize("support", ["chuck alone", "chuck and centre", "between centres"])
def test_the_bent_work_gives_under_the_tool_what_the_formulas_say(support):
    e = evaluate(demo("boat_shed").trying(work_support=support))
    force, length, round_bar = e["finish_radial_force"], e["work_length"], (e["work_diameter"], e["steel_modulus"])
    give = {
        "chuck alone": lambda at: rigidity.chuck_deflection.si(force, at, *round_bar),
        "chuck and centre": lambda at: rigidity.chuck_and_centre_deflection.si(force, length, at, *round_bar),
        "between centres": lambda at: rigidity.centres_deflection.si(force, length, at, *round_bar),
    }[support]
    for place in np.array([0.2, 0.5, 0.8]) * length:
        assert work.bent(e, place, np.array([place]))[0] == pytest.approx(give(place), rel=1e-9)
    ends = work.bent(e, 0.5 * e["work_length"], np.array([0.0, e["work_length"]]))
    assert abs(ends[0]) < 1e-15
    if support != "chuck alone":
        assert abs(ends[1]) < 1e-15


def test_the_budget_of_give_adds_up_to_the_loop(evaluations):
    e = evaluate(demo("boat_shed"))
    assert sum(value for *_, value in give._links(e)) == pytest.approx(e["loop_compliance"], rel=1e-9)


@pytest.mark.parametrize("name", DEMOS)
def test_misfits_are_those_the_chain_counts(name):
    for change in ({}, {"centre_height": 0.045}, {"between_centres": 0.1}, {"spindle_bore": 0.0}):
        e = evaluate(demo(name).trying(**change))
        fit = sum(job.share for job in e["jobs"] if not purpose.misfit(e, job))
        assert fit / sum(job.share for job in e["jobs"]) == pytest.approx(e["share_that_fits"])


def test_drivers_are_what_the_chain_takes_from_the_jobs():
    e = evaluate(demo("boat_shed"))
    found = {what: figure for what, (_, figure) in purpose.drivers(e).items()}
    wanted = {
        "over the bed": "largest_disc",
        "over the slide": "largest_shaft",
        "length": "longest_job",
        "bar": "thickest_bar",
        "slowest": "slowest_wanted",
        "fastest": "fastest_wanted",
        "tolerance": "tightest_tolerance",
        "thread pitch": "coarsest_pitch",
    }
    assert found == {what: e.shown(name) for what, name in wanted.items()}


def test_forces_by_tool_bracket_what_the_chain_counts():
    e = evaluate(demo("boat_shed"))
    rows = {name: mid for name, _, mid, _ in cut.tool_forces(e)}
    steel = sorted(force for name, force in rows.items() if name.startswith("high-speed steel"))
    assert steel[0] < e["cutting_force"] < steel[1] and list(rows.values())[-1] == e["drilling_thrust"]


def test_the_drive_is_drawn_as_the_chain_has_it():
    for name in DEMOS:
        e = evaluate(demo(name))
        rows = drive.offered(e)
        assert (
            rows[0][1] == e["drive_slowest"]
            and max(row[2] for row in rows) == e["drive_fastest"]
            and max(row[3] for row in rows) == e["largest_reduction"]
        )
        gap = drive._gap(rows)
        assert (gap[1] / gap[0] if gap else 1.0) == pytest.approx(e["widest_gap"])
        assert (
            max(want for *_, want in drive.asked(e)[:-1]) == pytest.approx(e["torque_needed"])
            and drive.asked(e)[-1][2] == e["drilling_torque"]
        )


def test_the_sawtooth_never_loses_more_than_the_steps_allow():
    e = evaluate(demo("boat_shed"))
    wished = speeds.cutting_speeds(e["work_material"], e["tool_material"]).likely
    between = np.geomspace(2 * wished / e["fastest_speed"] * 1.0001, 2 * wished / e["slowest_speed"] * 0.9999, 500)
    reached = speeds._reached(e, e["work_material"], between)
    assert reached.max() <= wished * (1 + 1e-9)
    assert reached.min() >= wished * (1 - e["speed_loss"]) * (1 - 1e-9)
    assert reached.min() == pytest.approx(wished * (1 - e["speed_loss"]), rel=0.03)


@pytest.mark.parametrize("name", DEMOS)
def test_the_field_of_two_decisions_agrees_with_the_findings(name):
    e = evaluate(demo(name))
    field = tradeoff._field(e, "spindle_diameter", "cut_reach")
    row, column = 2, -4
    there = evaluate(e.design.trying(spindle_diameter=field.x[column], cut_reach=field.y[row]))
    margins = [there.findings[one].margin for one in field.names]
    assert field.margins[:, row, column] == pytest.approx(margins, rel=1e-9)
    assert (
        field.names[field.first[row, column]]
        == min(there.findings.values(), key=lambda f: f.margin if f.name in field.names else np.inf).name
    )
    assert {f.label for f in e.findings.values() if f.status == "fails" and f.name not in field.names} == set(field.elsewhere)


@pytest.mark.parametrize(
    ("x", "y"), [("centre_height", "hours_should"), ("hours_should", "centre_height"), ("centre_height", "between_centres")]
)
def test_a_field_with_a_size_is_walked_through_value_by_value(x, y):
    e = evaluate(demo("boat_shed"))
    field = tradeoff._field(e, x, y, ["every_part_can_be_had", "finished_in_balance", "lift_within_guidance"])
    for row, column in ((1, 2), (-2, -3)):
        there = evaluate(e.design.trying(**{x: float(field.x[column]), y: float(field.y[row])}))
        assert field.margins[:, row, column] == pytest.approx([there.findings[one].margin for one in field.names], rel=1e-9)
    assert field.elsewhere == [] and set(field.names) <= {"every_part_can_be_had", "finished_in_balance", "lift_within_guidance"}


def test_the_lathe_is_drawn_to_one_scale(evaluations, canvas):
    for design in DESIGNS:
        for axes in canvas.figure(PICTURES["lathe_to_scale"], evaluations[design]).axes[:2]:
            x, y = axes.get_xlim(), axes.get_ylim()
            assert (x[1] - x[0]) / axes.bbox.width == pytest.approx((y[1] - y[0]) / axes.bbox.height)


# --- other choices --------------------------------------------------------------------------------------------
OTHERS = [
    ("map_of_decisions", {"selected": "motor_power"}),
    ("map_of_decisions", {"selected": ""}),
    ("map_of_decisions", {"selected": "hours_can"}),
    ("map_of_decisions", {"selected": "work_support"}),
    ("map_of_decisions", {"selected": "no such thing"}),
    ("tradeoff", {"x": "centre_height", "y": "between_centres"}),
    ("tradeoff", {"x": "speed_steps", "y": "motor_power"}),
    ("tradeoff", {"x": "tolerance", "y": "tolerance"}),
    ("tradeoff", {"x": "bed_form", "y": "tolerance"}),
    ("tradeoff", {"x": "feed", "y": "depth_of_cut"}),
    ("tradeoff", {"x": "reason_learning", "y": "hour_price"}),
    ("what_blurs", {"result": "own_hours"}),
    ("what_blurs", {"result": "chatter_free_width"}),
    ("what_blurs", {"result": "bore_ratio"}),
    ("what_blurs", {"result": "machine_compliance"}),
    ("speed_steps", {"material": "bronze"}),
    ("speed_steps", {"material": "hardwood"}),
]


@every("turn, name, extra", [(turn, *other) for turn, other in enumerate(OTHERS)])
@every("place, design", enumerate(["boat_shed mm", "cabin inch"]))
def test_other_choices_draw_as_well(turn, name, extra, place, design, evaluations, canvas, written):
    if (turn + place) % many(2, 1):
        return
    written.clear()
    evaluation = evaluations[design]
    canvas.draw(PICTURES[name], evaluation, **extra)
    assert not list(covering(written))
    assert PICTURES[name].describe(evaluation, **extra).endswith((".", "another."))


def test_the_map_names_what_the_chain_pushes(evaluations):
    e = evaluations["boat_shed mm"]
    words = PICTURES["map_of_decisions"].describe(e, selected="spindle_bore")
    pushed = [name for name in e.chain.limits if name in e.chain.downstream("spindle_bore")]
    assert f"pushes on {len(pushed)} of {len(e.chain.limits)}" in words
    assert all(e.findings[name].label in words for name in pushed)


def test_more_findings_than_fit_are_grouped(evaluations, canvas, written, monkeypatch):
    e = evaluations["boat_shed mm"]
    pressing = [f for f in e.findings.values() if f.presses]
    held = [f for f in e.findings.values() if f.status == "holds"]
    monkeypatch.setattr(closing, "_MOST_FINDINGS", len(pressing) + 3)
    pushed = [e.findings[name] for name in e.chain.limits if name in e.chain.downstream("centre_height")]
    for most in (20, 31):
        monkeypatch.setattr(decision_map, "_MOST", most)
        written.clear()
        canvas.draw(PICTURES["map_of_decisions"], e)
        words = [text for text, _ in written]
        alone = [f for f in e.findings.values() if any(text.startswith(f"{f.mark} {f.label[:30]}") for text in words)]
        rows = [found for text in words if (found := re.search(r": (?:(\d+) of )?(\d+)$", text))]
        assert 0 < len(alone) < len(pushed) and all(f in pushed for f in alone)
        order = ("fails", "tight", "holds", "open")
        assert max(order.index(f.status) for f in alone) <= min(order.index(f.status) for f in pushed if f not in alone)
        assert sum(int(found[2]) for found in rows) == len(e.findings) - len(alone)
        assert sum(int(found[1] or 0) for found in rows) == len(pushed) - len(alone)
        assert len(alone) + len(rows) <= most
        assert not list(covering(written))
    written.clear()
    canvas.draw(PICTURES["margins"], e)
    words = " ".join(text for text, _ in written)
    assert all(f.label[:30] in words for f in pressing)
    assert f"{len(held) - 3} more hold with room" in words
    assert not list(covering(written))


def test_a_crowd_of_jobs_stays_readable(canvas, written):
    base = demo("boat_shed")
    jobs = type(base.jobs)(
        [
            replace(job, name=f"{job.name} {number}", diameter=job.diameter * (0.8 + 0.05 * number), share=job.share / 4)
            for number in range(4)
            for job in base.jobs
        ]
    )
    e = evaluate(replace(base, jobs=jobs))
    for name in ("demands", "lathe_to_scale", "speed_chart", "jobs_against_size"):
        written.clear()
        canvas.draw(PICTURES[name], e)
        assert len(list(covering(written))) <= (0 if name in ("demands", "lathe_to_scale") else 4), (
            name
        )  # 24 names on 24 close points
        if name == "demands":
            assert "13 more jobs drive nothing" in " ".join(words for words, _ in written)


# --- letters ------------------------------------------------------------------------------------------------
def test_parted_labels_keep_order_room_and_place():
    assert parted([], 10).size == 0
    assert list(parted([10, 50, 90], 20)) == [10, 50, 90], "room enough: nothing moves"
    found = parted([50, 52, 51, 90], [10, 20, 10, 10], low=0, high=95)
    assert list(np.argsort(found)) == [0, 2, 1, 3]
    low, high = found - np.array([5, 10, 5, 5]), found + np.array([5, 10, 5, 5])
    order = np.argsort(found)
    assert np.all(low[order][1:] >= high[order][:-1] - 1e-9)
    assert low.min() >= 0
    assert high.max() <= 95
    pushed = parted([-100, -90, 300], 10, low=0, high=100)
    assert list(pushed) == [5, 15, 95]


def test_wrapped_and_shortened_text_fits():
    text = "share of the finishing cut's force that changes from piece to piece"
    assert text_size(wrapped(text, 200))[0] <= 200
    assert wrapped(text, 200).replace("\n", " ") == text
    short = shortened(text, 120)
    assert text_size(short)[0] <= 120
    assert short.endswith("…")
    assert shortened("bed", 120) == "bed"


def test_nothing_to_draw_is_a_reason():
    with pytest.raises(NothingToDraw, match="not a decision with a number"):
        tradeoff._field(evaluate(demo("boat_shed")), "bed_form", "tolerance")


# --- rigidity ---------------------------------------------------------------------------------------------
@pytest.mark.parametrize("support", ["chuck alone", "chuck and centre", "between centres"])
def test_the_error_along_the_work_is_the_chains(support):
    e = evaluate(demo("shared_barn").trying(work_support=support))
    assert work.too_thick(e, np.linspace(0, e["work_length"], 33)).max() == pytest.approx(e["shape_error"], rel=1e-9)


def test_the_border_of_the_lobes_rests_on_the_chains_widths():
    from lathe_course.course.pictures import lobes

    e = evaluate(demo("shared_barn"))
    speed, width, slow = lobes.border(e)
    assert width.min() == pytest.approx(e["chatter_free_width"], rel=5e-3) and np.all(
        slow >= e["chatter_free_width"] * (1 - 1e-9)
    )
    at = np.argmin(np.abs(speed * e["work_diameter"] / 2 - e["cutting_speed"]))
    assert slow[at] == pytest.approx(e["slow_speed_width"], rel=0.02)
    assert e.shown("chatter_free_width") in PICTURES["chatter_lobes"].describe(e)


@pytest.mark.parametrize("design", ["boat_shed mm", "cabin inch"])
def test_own_readings_are_drawn_or_asked_for(design, evaluations, canvas, written):
    from lathe_course.design.chapters.measured import INVENTED

    canvas.draw(PICTURES["give_fit"], evaluations[design], readings="yours")
    assert any("no readings yet" in words.replace("\n", " ") for words, _ in written)
    written.clear()
    own = evaluate(
        evaluations[design].design.with_readings("stiffness", [{**row, "dial": f"-{row['dial']}"} for row in INVENTED.written])
    )
    canvas.draw(PICTURES["give_fit"], own, readings="yours")
    assert not list(covering(written)) and any("your readings" in words for words, _ in written)
    assert "set up from the other side" in PICTURES["give_fit"].describe(own, readings="yours")
