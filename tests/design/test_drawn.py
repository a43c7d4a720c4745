"""The lathe as solids: nothing floats, nothing cuts through another part, heights add up; looked at again with shapely, section by section."""

import numpy as np
import pytest
import shapely
from random_designs import random_design
from tiers import many, short_of
from wishes import wish

from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.draft.first_draft import draft
from lathe_course.design.drawn.arrangement import SEATED, arrange
from lathe_course.design.drawn.named import named, seen_places
from lathe_course.design.drawn.solids import Solid, box, cone, cylinder, gap
from lathe_course.design.drawn.views import VIEWS, faces
from lathe_course.design.evaluation import evaluate
from lathe_course.machine.bed_forms import FORMS
from lathe_course.tables import table

RANDOM = [(number, share) for number in range(many(8, 50)) for share in (0.2, 0.6)]


def section(solid, x):
    """Where a plane square to the bed cuts a solid: a polygon of y and z."""
    corners = solid.corners
    low, high = corners[corners[:, 0] <= x], corners[corners[:, 0] > x]
    if not len(low) or not len(high):
        return None
    share = (x - low[:, None, 0]) / (high[None, :, 0] - low[:, None, 0])
    crossing = low[:, None, 1:] + share[..., None] * (high[None, :, 1:] - low[:, None, 1:])
    return shapely.MultiPoint(crossing.reshape(-1, 2)).convex_hull


def common(one, other):
    """The largest area, mm², that two solids have in common in planes square to the bed."""
    low, high = np.maximum(one.bounds[0], other.bounds[0]), np.minimum(one.bounds[1], other.bounds[1])
    if (high - low).min() <= 2e-4:  # they touch
        return 0.0
    planes = low[0] + (high[0] - low[0]) * np.array([0.02, 0.2, 0.4, 0.6, 0.8, 0.98])
    return max(
        a.intersection(b).area * 1e6
        for x in planes
        if (a := section(one, x)) is not None and (b := section(other, x)) is not None
    )


def cut_by_hand(arrangement):
    """Pairs of parts that have room in common, found with shapely, with the area in common."""
    found = {}
    for place, one in enumerate(arrangement.solids):
        for other in arrangement.solids[place + 1 :]:
            pair = frozenset((one.part, other.part))
            if len(pair) == 2 and pair not in SEATED and (area := common(one, other)) > 0:
                found[pair] = max(found.get(pair, 0.0), area)
    return found


# --- two solids -------------------------------------------------------------------------------------------
def test_gaps_that_geometry_gives():
    block = box("a", (0, 2), (0, 2), (0, 2))
    assert gap(block, box("b", (3, 4), (0, 1), (0, 1))) == pytest.approx(1)
    assert gap(block, box("b", (2, 4), (0, 1), (0, 1))) == pytest.approx(0)
    assert gap(block, box("b", (1.5, 4), (-1, 3), (-1, 3))) == pytest.approx(-0.5)
    # a bar beside the edge of the block, on the diagonal: the edge at (2, 2), the middle at (3, 3)
    assert gap(block, cylinder("b", 0, (0, 2), (3, 3), 1.0), 9) == pytest.approx(np.sqrt(2) - 0.5, rel=0.01)
    # two bars that cross
    assert gap(cylinder("a", 0, (-5, 5), (0, 0), 1), cylinder("b", 1, (-5, 5), (0, 1.2), 1)) == pytest.approx(0.2, rel=0.02)
    # beside the point of a cone there is room that its box does not leave
    assert gap(cone("a", 0, 0, 10, (0, 0), 2), box("b", (8, 10), (-1, 1), (0.5, 1))) > 0.2


def test_a_look_from_each_side_gives_the_outline():
    bar = cylinder("a", 0, (1, 4), (2, 5), 2)
    for view, low, high in (
        ("front", (1, 4), (4, 6)),
        ("from above", (1, 1), (4, 3)),
        ("from the tailstock", (1, 4), (3, 6)),
        ("from the headstock", (-3, 4), (-1, 6)),
    ):
        seen = VIEWS[view].outline(bar)
        assert seen.min(axis=0) == pytest.approx(low) and seen.max(axis=0) == pytest.approx(high), view


def test_what_is_near_is_painted_last():
    near, far = box("near", (0, 1), (-2, -1), (0, 1)), box("far", (0, 1), (1, 2), (0, 1))

    class Two:
        solids = (near, far)

    for view, last in (("front", "near"), ("from the tailstock", None), ("from above", None)):
        painted = [face.part for face in faces(Two, VIEWS[view])]
        assert last in (painted[-1], None)
    seen = seen_places(faces(Two, VIEWS["front"]))
    assert set(seen) == {"near"}


# --- whole lathes -------------------------------------------------------------------------------------------
@pytest.mark.parametrize("name", DEMOS)
def test_a_demo_holds_together(name):
    arrangement = arrange(evaluate(demo(name)))
    assert not arrangement.remarks and not cut_by_hand(arrangement)


@pytest.mark.parametrize("number", short_of(range(40), 5, 13))
def test_a_first_draft_stands_clear(number):
    """No part of a draft stands in another's way, and something holds each: of these once a nose, tailstocks, bearing covers and a back gear did not."""
    arrangement = arrange(evaluate(draft(wish(number, seed=2611)).design))
    assert not arrangement.remarks and not cut_by_hand(arrangement)


@pytest.mark.parametrize("overhang", [0.02, 0.06])
def test_a_saddle_without_room_is_told_where_it_is_drawn(overhang):
    """Shorter and shorter between centres: first the barrel comes out over the saddle, then the finding fails, and only then the two meet."""
    e, told, out = evaluate(demo("boat_shed").trying(barrel_overhang=overhang)), [], []
    for between in np.arange(0.005, 0.2, 0.015):
        short = evaluate(e.design.trying(between_centres=between), earlier=e)
        arrangement = arrange(short)
        meets = ("tailstock", "saddle") in [tuple(pair) for pair in arrangement.clashes]
        assert meets == (short.findings["saddle_finds_room"].status == "fails"), between
        assert "tailstock" not in arrangement.floating
        told.append(meets)
        out.append(float(short["barrel_out"]))
    assert not told[-1] and out[-1] == 0 and out == sorted(out, reverse=True)
    assert max(out) == pytest.approx(overhang) if told[0] else 0 < max(out) < overhang


def test_a_bed_reaches_under_the_foot_of_its_tailstock():
    """A long headstock on a short lathe: the bed is as long as they take together, but for a tenth of the foot."""
    for between in (0.05, 0.1, 0.3):
        e = evaluate(demo("boat_shed").trying(between_centres=between, bearing_span=0.25))
        foot, bed = arrange(e).extent("tailstock"), arrange(e).extent("bed")
        assert (
            foot[1, 0] - bed[1, 0] <= 0.1 * e["tailstock_base"] + 1e-9
            and bed[0, 0] <= arrange(e).extent("headstock")[0, 0] + 1e-9
        )


#: what else is decided so that an option leaves room: bars are thinner than a box is high
_ROOM = {
    "behind": {"cross_slide_length": 0.24},
    "two round bars": {"bed_height": 0.03},
    "round bars on a plate": {"bed_height": 0.03, "bed_wall": 0.012},
}


@pytest.mark.parametrize("name", short_of(DEMOS, "cabin"))
def test_every_option_finds_room(name):
    e = evaluate(demo(name))
    for decision in (
        "bed_form",
        "slide_kind",
        "feet",
        "bearing_kind",
        "bearing_arrangement",
        "drive_kind",
        "belt_kind",
        "belt_steps",
        "top_of_slide",
        "feed_drive",
        "threading",
        "cross_nut",
        "nose_kind",
        "stop_gear",
        "coolant",
        "toolpost_kind",
        "parting_from",
    ):
        for option in e.chain.decisions[decision].options:
            tried = evaluate(e.design.trying(**{decision: option}, **_ROOM.get(option, {})), earlier=e)
            assert not arrange(tried).remarks, f"{decision}: {option}: {arrange(tried).remarks}"


@pytest.mark.parametrize("number, share", RANDOM)
def test_what_stands_in_the_way_is_told(number, share):
    """Any design of sensible figures: what shapely finds in common is told as a clash, and nothing else is."""
    arrangement = arrange(evaluate(random_design(number, share)))
    told, found = {frozenset(pair) for pair in arrangement.clashes}, cut_by_hand(arrangement)
    assert {pair for pair, area in found.items() if area > 2.0} <= told
    assert {pair for pair, deep in arrangement.depths.items() if deep > 2e-3} <= set(found) and told == set(arrangement.depths)


def test_what_nothing_holds_is_told():
    arrangement = arrange(evaluate(demo("boat_shed")))
    lifted = [
        one if one.part != "tailstock" else Solid(one.part, one.axis, one.low, one.high, one.section + (0, 0.004), one.known)
        for one in arrangement.solids
    ]
    told = type(arrangement)(tuple(lifted), arrangement.sizes).floating
    assert "tailstock" in told and "saddle" not in told


@pytest.mark.parametrize("number", range(many(6, 60)))
def test_the_heights_close(number):
    """Bench, riser, bed and centre height reach the spindle; slide, top, floor, shims and shank reach the tip of the tool."""
    e = evaluate(random_design(number))
    arrangement = arrange(e)
    (bench, spindle), tool = (arrangement.extent(part) for part in ("bench", "spindle")), arrangement.extent("tool")
    above = (spindle[0, 2] + spindle[1, 2]) / 2 - bench[1, 2]
    assert e["bench_height"] + above == pytest.approx(e["spindle_height"], abs=1e-9)
    low = arrangement.extent("feet")[0, 2] if "feet" in arrangement.parts else arrangement.extent("bed")[0, 2]
    assert low == pytest.approx(bench[1, 2], abs=1e-9)
    assert tool[1, 2] == pytest.approx(max(e["centre_height"], e["tool_height"]), abs=1e-9)
    post = arrangement.parts["toolpost"][0].bounds
    layers = [arrangement.extent("cross-slide")[1, 2], post[0, 2], post[1, 2], tool[1, 2]]
    assert np.diff([0.0, *layers]) == pytest.approx(
        [e["slide_height"], e["top_height"], e["toolpost_floor"] + e["tool_packing"], e["tool_shank"]], abs=1e-9
    )


def test_a_changed_decision_changes_the_part():
    """Each choice of form shows: other parts, or other shapes of them."""
    e = evaluate(demo("boat_shed"))

    def shapes(**tried):
        solids = arrange(evaluate(e.design.trying(**tried), earlier=e)).solids
        return {
            part: sorted(one.corners.round(6).tolist() for one in solids if one.part == part)
            for part in {one.part for one in solids}
        }

    now = shapes()
    for form in FORMS:
        if form not in (e["bed_form"], "closed box"):
            assert shapes(bed_form=form)["bed"] != now["bed"], form
    assert "fill of the bed" in now and "fill of the bed" not in shapes(bed_form="closed box")
    for decision, option, part in (
        ("slide_kind", "V ways", "slideways"),
        ("slide_kind", "dovetail", "saddle"),
        ("feet", "four feet bolted down", "feet"),
        ("bearing_kind", "deep groove", "bearings"),
        ("top_of_slide", "solid block", "solid block"),
        ("feed_drive", "separate shaft or motor", "feed motor"),
        ("drive_kind", "direct current and controller", "motor"),
        ("countershaft_ratio", 3.0, "countershaft"),
        ("back_gear_ratio", 4.0, "back gear"),
        ("belt_steps", "4", "spindle pulley"),
        ("chuck_jaws", 4.0, "chuck"),
        ("clamp_screws", 2.0, "clamp of the tailstock"),
        ("dial_divisions", 200.0, "dial"),
        ("stop_gear", "no-volt release", "emergency stop"),
        ("coolant", "running coolant", "coolant tank"),
        ("nose_kind", "thread", "spindle flange"),
        ("parting_from", "behind", "rear toolpost"),
        ("toolpost_kind", "clamp and shims", "toolpost"),
        ("toolpost_kind", "quick-change post", "toolpost"),
        ("nose_kind", "thread and lock", "chuck lock"),
        ("nose_kind", "taper and drawbar", "drawbar"),
    ):
        assert shapes(**{decision: option}).get(part) != now.get(part), decision


def test_every_part_has_a_line_and_every_line_a_part():
    rows, drawn = table("drawn_parts"), set()
    for name in DEMOS:
        e = evaluate(demo(name))
        drawn |= set(arrange(e).parts)
        for form in FORMS:
            drawn |= set(arrange(evaluate(e.design.trying(bed_form=form), earlier=e)).parts)
    for other in (
        {"feed_drive": "separate shaft or motor"},
        {"coolant": "running coolant"},
        {"nose_kind": "thread and lock"},
        {"nose_kind": "taper and drawbar"},
        {"parting_from": "behind", "cross_slide_length": 0.2},
    ):
        drawn |= set(arrange(evaluate(demo("boat_shed").trying(**other))).parts)
    assert drawn - {"bench"} == set(rows)
    assert [one.number for one in named(list(drawn))] == list(range(1, len(rows) + 1))
    chapters = {chapter for row in rows.values() for chapter in row["chapters"].split()}
    assert chapters <= {f"{number:02}" for number in range(1, 18)}


def test_back_gears_mesh_in_pairs_that_make_the_ratio():
    """Two equal steps down of one in two make four; the radii of a pair add up to the distance of its shafts."""
    arrangement = arrange(evaluate(demo("boat_shed").trying(back_gear_ratio=4.0)))
    wheels = [one for one in arrangement.solids if one.part == "back gear" and one.axis == 0 and len(one.section) > 4][:4]
    ratio = 1.0
    for first, second in (wheels[:2], wheels[2:]):
        (small, large), middles = (
            sorted(np.ptp(one.bounds, axis=0)[1] / 2 for one in (first, second)),
            [one.bounds.mean(axis=0)[1:] for one in (first, second)],
        )
        assert first.low == second.low and small + large == pytest.approx(np.linalg.norm(middles[0] - middles[1]))
        ratio *= large / small
    assert ratio == pytest.approx(4.0)
