"""Charts for the wall beside the lathe: speeds and feeds, first cuts, and the test sheet to fill in by hand.

One HTML file that fetches nothing, in sheets of A4 or A3 on their side.  What it tells comes
from the learner's own speeds, materials, tools, motor and stiffness.
"""
from __future__ import annotations

import html
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from importlib.resources import files
from pathlib import Path

import numpy as np

from .. import units
from ..design import whole_file
from ..design.acceptance import TESTS, allowed, in_order
from ..design.design import Design
from ..design.evaluation import Evaluation, evaluate
from ..machine import chatter, forces
from ..machine.cutting_speeds import speed_series, spindle_speed
from ..tables import table
from ..units import FeedPerTurn, InputProblem, Length, RotationalSpeed, Speed

__all__ = ["PAPERS", "WALL_CHARTS", "FirstCut", "diameters", "first_cuts", "speed_rows", "wall_charts_html", "write_wall_charts"]

WALL_CHARTS = "wall_charts.html"
PAPERS = ("A4", "A3")
_MM, _RPM, _SPEED, _FEED = Length("mm"), RotationalSpeed("rpm"), Speed(), FeedPerTurn()
#: round diameters a chart is read at, mm and inch
_ROUND = {"mm": [d * 1e-3 for d in (3, 5, 8, 10, 12, 16, 20, 25, 32, 40, 50, 63, 80, 100, 125, 160, 200)],
          "inch": [d * 0.0254 for d in (0.125, 0.25, 0.375, 0.5, 0.75, 1, 1.5, 2, 3, 4, 6, 8)]}
_MOST_DIAMETERS = 13
#: a first cut is this share of what motor and quiet running allow; common practice
_FIRST = 0.5
_STEP = 0.05e-3


# --- speeds ---------------------------------------------------------------------------------------------
def diameters(e: Evaluation) -> list[float]:
    """Round diameters from the smallest job to the largest that turns over the bed, m."""
    jobs = e["jobs"]
    low = min(jobs.column("smallest").min(), 0.02) if len(jobs) else 0.005
    high = min(e.middle("swing_over_bed"), 1.1 * jobs.column("diameter").max()) if len(jobs) else e.middle("swing_over_bed")
    found = [d for d in _ROUND[e.design.system] if low * 0.75 <= d <= high]
    return found[-_MOST_DIAMETERS:]


def _materials(e: Evaluation) -> list[str]:
    """Materials of the jobs, then the hardest one if it is not among them."""
    return list(dict.fromkeys([*e["jobs"].materials, e["work_material"]]))


def _cutting_speed(material: str, tool: str) -> float:
    row = table("materials")[material]
    column = {"high-speed steel": "speed_hss", "carbide": "speed_carbide"}[tool]
    return (row[column] or row["speed_hss"]).likely             # wood and plastics are turned with steel tools


def _series(e: Evaluation) -> np.ndarray:
    slowest, fastest = e.middle("slowest_speed"), e.middle("fastest_speed")
    if not slowest < fastest:
        raise InputProblem([("slowest_speed", f"The slowest speed, {e.shown('slowest_speed')}, must be less than the fastest, {e.shown('fastest_speed')}, "
                                              "before a chart of speeds can be made.")])
    return speed_series(slowest, fastest, round(e.middle("speed_steps")))


def speed_rows(e: Evaluation) -> list[tuple[str, float, list[float | None]]]:
    """Material, its cutting speed, and for each diameter the fastest speed of the series not above its wish.

    None stands where even the slowest is too fast.
    """
    series, rows = _series(e), []
    for material in _materials(e):
        speed = _cutting_speed(material, e["tool_material"])
        wished = [float(spindle_speed.si(speed, diameter)) for diameter in diameters(e)]
        taken = [series[series <= wish * (1 + 1e-9)] for wish in wished]
        rows.append((material, speed, [float(below[-1]) if len(below) else None for below in taken]))
    return rows


# --- first cuts -----------------------------------------------------------------------------------------
@dataclass(frozen=True)
class FirstCut:
    """Depths for one material at the feed of the roughing cut, m; None where no cutting force is known."""

    material: str
    feed: float
    start: float | None
    by_power: float | None
    by_quiet: float | None

    @property
    def held_back_by(self) -> str:
        if self.by_power is None or self.by_quiet is None:
            return "no force known; begin with a scratch"
        return "the motor" if self.by_power < self.by_quiet else "chatter"


def first_cuts(e: Evaluation) -> list[FirstCut]:
    """Where to begin with each material: half of the depth that motor and quiet running allow, no more than you decided on."""
    values, cuts = e.central, []
    chip, sine = values["chip_thickness"], np.sin(values["entering_angle"])
    for material in _materials(e):
        row = table("materials")[material]
        if row["kc11"] is None:
            cuts.append(FirstCut(material, values["feed"], None, None, None))
            continue
        exponent = row["exponent"].likely
        force = forces.specific_cutting_force.si(kc11=row["kc11"].likely, chip_thickness=chip, exponent=exponent)
        speed = _cutting_speed(material, e["tool_material"])
        by_power = values["spindle_power"] / (force * values["cut_condition"] * values["feed"] * speed)
        # the width that stays quiet goes against the rise of the material's force with the thickness of the chip
        by_quiet = values["chatter_free_width"] * values["cutting_stiffness"] / chatter.cutting_stiffness.si(force, exponent, values["cut_condition"]) * sine
        most = _FIRST * min(by_power, by_quiet)
        start = max(np.floor(min(most, values["depth_of_cut"]) / _STEP + 1e-9) * _STEP, _STEP)
        cuts.append(FirstCut(material, values["feed"], float(start), float(by_power), float(by_quiet)))
    return cuts


# --- the page ---------------------------------------------------------------------------------------------
def write_wall_charts(design: Design, path: str | Path, paper: str = "A4") -> Path:
    """Write the charts as one HTML file and return where; InputProblem with a sentence if they cannot be written there."""
    path = Path(path).expanduser()
    page = wall_charts_html(design, paper).encode("utf-8")
    try:
        whole_file.write_whole(path, page)          # a link gives way, as for the brief
    except OSError as problem:
        raise InputProblem([("wall_charts", f"The charts were not written to {path}: {whole_file.in_words(problem)}. Choose another place for them.")]) from None
    return path


def wall_charts_html(design: Design, paper: str = "A4") -> str:
    """The charts of a design as one HTML document."""
    if paper not in PAPERS:
        raise InputProblem([("paper", f"the paper cannot be {paper!r}; choose {' or '.join(PAPERS)}.")])
    e = evaluate(design)
    style = files(__package__).joinpath("wall.css").read_text("utf-8").replace("/* paper */ A4", paper)
    name = _text(design.name or "A lathe without a name")
    sheets = "\n".join(f"<section><header><h1>{title}</h1><p>{name}</p></header>\n{''.join(parts)}\n</section>"
                       for title, parts in (("Speeds and feeds", _speeds(e)), ("First cuts", _cuts(e)), ("Test sheet", _tests(e))))
    return ('<!DOCTYPE html>\n<html lang="en-GB">\n<head>\n<meta charset="utf-8">\n<meta name="viewport" content="width=device-width, initial-scale=1">\n'
            f'<title>{name}: charts for the wall</title>\n<style>\n{style}</style>\n</head>\n<body class="{paper}">\n{sheets}\n</body>\n</html>\n')


def _text(words: object) -> str:
    return html.escape(str(words), quote=True)


def _grid(head: Sequence[str], rows: Iterable[Sequence[str]], figures: range, kind: str = "large") -> str:
    """A table; ``figures`` are its columns of figures."""
    top = "".join(f'<th scope="col">{_text(words)}</th>' for words in head)
    body = "\n".join("<tr>" + "".join(f'<th scope="row">{_text(words)}</th>' if at == 0 else f'<td{" class=n" if at in figures else ""}>{_text(words)}</td>'
                                      for at, words in enumerate(row)) + "</tr>" for row in rows)
    return f'<table class="{kind}"><thead><tr>{top}</tr></thead><tbody>\n{body}\n</tbody></table>'


def _note(*sentences: str) -> str:
    return f"<p>{_text(' '.join(sentences))}</p>"


def _figure(e: Evaluation, si: float, kind: units.Kind, digits: int = 3) -> str:
    return units.number(units.in_unit(si, kind, e.design.system), digits)


_AT_THE_CHUCK = "Never faster than the lowest marking on chuck, faceplate or work holder. Glasses on; key out of the chuck; no gloves, rings or loose sleeves."


def _speeds(e: Evaluation) -> list[str]:
    try:
        chosen = speed_rows(e)
    except InputProblem as problem:             # the other sheets can be printed all the same
        return [*(_note(sentence) for _, sentence in problem.problems), _note(_AT_THE_CHUCK)]
    unit = units.unit_text(_MM, e.design.system)
    head = ["", units.unit_text(_SPEED, e.design.system), *(f"{_figure(e, d, _MM)} {unit}" for d in diameters(e))]
    rows = [[material, _figure(e, speed, _SPEED, 2), *("–" if n is None else f"{n / _RPM.factor:.0f}" for n in found)] for material, speed, found in chosen]
    feeds = (f"Feed for roughing {units.shown(e.middle('feed'), _FEED, e.design.system)}, for the last cut "
             f"{units.shown(e.middle('finish_feed'), _FEED, e.design.system)}. A parting tool runs at a third of the speed, a drill at the speed for its own diameter.")
    return [_grid(head, rows, range(1, len(head))),
            _note(f"Speed of the spindle in rev/min for tools of {e['tool_material']}: the fastest step of the series you decided on that is not above the wish. – means even the slowest step is too fast: take lighter cuts."),
            _note(feeds), _note(_AT_THE_CHUCK)]


def _depth(e: Evaluation, si: float | None) -> str:
    return "–" if si is None else _figure(e, si, _MM, 2)


def _cuts(e: Evaluation) -> list[str]:
    system = e.design.system
    unit = units.unit_text(_MM, system)
    head = ["", f"begin with depth, {unit}", f"feed, {units.unit_text(_FEED, system)}", f"motor gives up at, {unit}", f"song begins at, {unit}", "held back by"]
    rows = [[cut.material, _depth(e, cut.start), _figure(e, cut.feed, _FEED), _depth(e, cut.by_power), _depth(e, cut.by_quiet), cut.held_back_by]
            for cut in first_cuts(e)]
    steps = ("Turn the spindle by hand, all the way round.", "Shield down, stand to one side, start at the slowest speed.", "First cut on aluminium or brass, held short.",
             "Listen: a song means a shorter overhang first, then less depth or another speed.", "Measure; take the same cut again without a new setting; measure again. The difference is what gave way.")
    return [_grid(head, rows, range(1, 5)), "<ol>" + "".join(f"<li>{_text(step)}</li>" for step in steps) + "</ol>",
            _note("Depths on the radius. Where the song begins is known to within a factor of two. The first run of a new machine is made behind a shield, with the stop in reach and nobody else near.")]


def _tests(e: Evaluation) -> list[str]:
    system, rows = e.design.system, []
    for name in in_order():
        test = TESTS[name]
        may = allowed(test, e.central.values_si)
        over = units.shown(test.over, _MM, system) if test.over and test.reading != "level ends" else "–"
        sign = {"either": "±", "plus": "0 to +", "total": ""}[test.sense]
        rows.append([name, str(test.number), over, f"{sign} {units.shown(may.limit, test.kind, system)}".strip(), "", "", ""])
    return [_grid(["", "no.", "over", "allowed", "before", "what was done", "after"], rows, range(0), "blank"),
            _note("In this order: each test leans on those before it. Plus is up, or towards the tool. Room within 2 K for a day, gibs set, bearings warm, mains locked off while hands are inside.")]
