"""Charts for the wall beside the lathe: speeds and feeds, first cuts, and the test sheet to fill in by hand.

One HTML file that fetches nothing, in sheets of A4 or A3 on their side.  What it tells comes
from the learner's own speeds, materials, tools, motor and stiffness.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path

from ... import units
from ...design.asked.first_cuts import diameters, first_cuts, quiet_on_slim_work, speed_rows
from ...design.chapters.cut_limits import WAYS
from ...design.chapters.threads import FEED_DRIVES
from ...design.design import Design
from ...design.evaluation import Evaluation, evaluate
from ...design.measured.acceptance import TESTS, allowed, called_for
from ...units import FeedPerTurn, InputProblem, Length, RotationalSpeed, Speed
from ..shown.panels import Page, paragraphs
from ..text.markup import markup
from ..text.values import List, Table
from .document import document, sheet, style_sheet, write_document

WALL_CHARTS = "wall_charts.html"
PAPERS = ("A4", "A3")
_MM, _RPM, _SPEED, _FEED = Length("mm"), RotationalSpeed("rpm"), Speed(), FeedPerTurn()


# --- the page ---------------------------------------------------------------------------------------------
def write_wall_charts(design: Design, path: str | Path, paper: str = "A4") -> Path:
    """Write the charts as one HTML file and return where; InputProblem with a sentence if they cannot be written there."""
    return write_document(
        wall_charts_html(design, paper),
        Path(path).expanduser(),
        "wall_charts",
        "The charts were",
        " Choose another place for them.",
    )


def wall_charts_html(design: Design, paper: str = "A4") -> str:
    """The charts of a design as one HTML document."""
    if paper not in PAPERS:
        raise InputProblem.about("paper", f"the paper cannot be {paper!r}; choose {' or '.join(PAPERS)}.")
    e = evaluate(design)
    plain = design.name or "A lathe without a name"
    pages = (("Speeds and feeds", _speeds(e)), ("First cuts", _cuts(e)), ("Test sheet", _tests(e)))
    sheets = markup((sheet(title, plain, page) for title, page in pages), paper=True)
    return document(f"{plain}: charts for the wall", style_sheet("wall").replace("/* paper */ A4", paper), sheets, paper)


def _grid(head: Sequence[str], rows: Iterable[Sequence[str]], figures: range = range(0), kind: str = "large") -> Page:
    """A table; ``figures`` are its columns of figures."""
    return Page(Table(tuple(map(tuple, rows)), tuple(head), dict.fromkeys(figures, "n"), row_heads=True, kind=kind))


def _figure(e: Evaluation, si: float, kind: units.Kind, digits: int = 3) -> str:
    return units.number(units.in_unit(si, kind, e.design.system), digits)


_AT_THE_CHUCK = "Never faster than the lowest marking on chuck, faceplate or work holder. Glasses on; key out of the chuck; no gloves, rings or loose sleeves."


def _speeds(e: Evaluation) -> Page:
    try:
        chosen = speed_rows(e)
    except InputProblem as problem:  # the other sheets can be printed all the same
        return paragraphs(*(sentence for _, sentence in problem.problems), _feeds(e.central), _AT_THE_CHUCK)
    unit = units.unit_text(_MM, e.design.system)
    head = ["", units.unit_text(_SPEED, e.design.system), *(f"{_figure(e, d, _MM)} {unit}" for d in diameters(e))]
    rows = [
        [material, _figure(e, speed, _SPEED, 2), *("–" if n is None else f"{n / _RPM.factor:.0f}" for n in found)]
        for material, speed, found in chosen
    ]
    feeds = f"{_feeds(e.central)} {_parting(e.central)} A drill runs at the speed for its own diameter."
    return _grid(head, rows, range(1, len(head))) + paragraphs(
        f"Speed of the spindle in rev/min for tools of {e['tool_material']}: the fastest that your drive gives and that is not above the wish. – means even the slowest speed is too fast: take lighter cuts.",
        feeds,
        _AT_THE_CHUCK,
    )


def _feeds(e: Evaluation) -> str:
    """Feeds as the drive of the feed gives them."""
    rough, last, finest = (
        units.shown(e[name], _FEED, e.design.system) for name in ("rough_feed_had", "finish_feed_had", "finest_feed")
    )
    if e["feed_drive"] == FEED_DRIVES[0]:
        return f"Feed by hand: for roughing about {rough}, for the last cut about {last}, wound evenly."
    if e["feed_drive"] == FEED_DRIVES[3]:
        return f"Feed for roughing {rough}, for the last cut {last}."
    coarse = (
        ""
        if e["finest_feed"] <= e["finish_feed"] * (1 + 1e-9)
        else f" The wheels give nothing finer than {finest}: wind the last cut by hand."
    )
    return f"Feeds of the wheels: for roughing {rough}, for the last cut {last}.{coarse}"


def _parting(e: Evaluation) -> str:
    """How fast a bar is parted off."""
    bar, speed = e["parting_diameter"], e["parting_speed"]
    if not bar:
        return "Work is sawn off, not parted off."
    told = f"a bar of {units.shown(bar, _MM, e.design.system)} in {e['work_material']}"
    if speed < e["drive_slowest"]:
        return f"Part off at the slowest speed, {_figure(e, e['drive_slowest'], _RPM, 2)} rev/min; {told} may chatter even then: saw it off."
    return f"Part off at up to {_figure(e, speed, _RPM, 2)} rev/min, {told}; slower if it chatters."


def _depth(e: Evaluation, si: float | None) -> str:
    return "–" if si is None else _figure(e, si, _MM, 2)


def _cuts(e: Evaluation) -> Page:
    system = e.design.system
    unit = units.unit_text(_MM, system)
    head = [
        "",
        f"begin with depth, {unit}",
        f"feed, {units.unit_text(_FEED, system)}",
        f"power ends at, {unit}",
        f"torque ends at, {unit}",
        f"quiet running ends at, {unit}",
        "held back by",
    ]
    rows = [
        [
            cut.material,
            _depth(e, cut.start),
            _figure(e, cut.feed, _FEED),
            *(_depth(e, cut.ends.get(way)) for way in WAYS),
            cut.held_back_by,
        ]
        for cut in first_cuts(e)
    ]
    steps = (
        "Turn the spindle by hand, all the way round.",
        "Shield down, stand to one side, start at the slowest speed.",
        "First cut on aluminium or brass, held short.",
        "Listen: a song means a shorter overhang first, then less depth or another speed.",
        "Measure; take the same cut again without a new setting; measure again. The difference is what gave way.",
    )
    return (
        _grid(head, rows, range(1, 6))
        + Page(List(steps, ordered=True))
        + paragraphs(
            _slim(e.central),
            "Depths on the radius, on the largest work of each material, held short. Where quiet running ends is known to within a factor of two. The first run of a new machine is made behind a shield, with the stop in reach and nobody else near.",
        )
    )


def _slim(e: Evaluation) -> str:
    """What slim work leaves of the depth at which quiet running ends."""
    share = quiet_on_slim_work(e)
    if share is None:
        return ""
    return (
        f"With slim work chatter begins sooner: on the slimmest precise work, {_figure(e, e['work_diameter'], _MM)} by {_figure(e, e['work_length'], _MM)} {units.unit_text(_MM, e.design.system)}, "
        f"quiet running ends at {share:.0%} of these depths, in {e['work_material']} at {_figure(e, e['depth_by_quiet'], _MM, 2)} {units.unit_text(_MM, e.design.system)}."
    )


def _tests(e: Evaluation) -> Page:
    system, rows = e.design.system, []
    for name in called_for(e):
        test = TESTS[name]
        may = allowed(test, e.central.values_si)
        over = units.shown(test.over, _MM, system) if test.over and test.reading != "level ends" else "–"
        sign = {"either": "±", "plus": "0 to +", "total": ""}[test.sense]
        rows.append([name, str(test.number), over, f"{sign} {units.shown(may.limit, test.kind, system)}".strip(), "", "", ""])
    head = ["", "no.", "over", "allowed", "before", "what was done", "after"]
    return _grid(head, rows, kind="blank") + paragraphs(
        "In this order: each test depends on those before it. Plus is up, or towards the tool. Room within 2 K for a day, gibs set, bearings warm, mains locked off while hands are inside."
    )
