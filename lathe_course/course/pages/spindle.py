"""Chapter 06: loads of the bearings and how they come about, and the fits of seats and bores as a note for the drawing."""
from __future__ import annotations

import math
from typing import NamedTuple

from ... import units
from ...design.evaluation import Evaluation, evaluate
from ...machine import fits
from ...machine.bearing_workings import Put, bearing_formulas, chuck_formulas, fit_formulas
from ...machine.fits import Field
from ...sources import cite
from ...tables import table
from ...units import Length
from ...working import Working, plain_equation
from ..shown.essentials import DRAWS
from ..shown.panels import Page, escape, table_html, table_text
from .register import page

_MM, _UM = Length("mm"), Length("µm")


class _Seat(NamedTuple):
    """A seat or bore of the design: what it is, its nominal size, its field, and what it meets."""

    what: str
    size: float
    field: str
    partner: str
    #: the other field, or the ring of a bearing by its bore or outside
    meets: str

    def fields(self) -> tuple[Field, Field]:
        """Its own field and the one it meets; InputProblem beyond the tables."""
        other = fits.ring_field(self.meets, self.size) if self.meets in ("bore", "outside") else fits.field(self.meets, self.size)
        return fits.field(self.field, self.size), other

    def pair(self) -> tuple[Field, Field]:
        """Hole and shaft."""
        own, other = self.fields()
        return (other, own) if self.field[0].islower() else (own, other)


def _whole(size: float) -> float:
    """To a whole millimetre: rings and bars come so."""
    return round(size * 1e3) / 1e3


def _seats(e: Evaluation) -> list[_Seat]:
    """What the chapter's design asks to be turned or bored to a fit."""
    seat, outside = e["spindle_diameter"], _whole(2 * e["bearing_mean_diameter"] - e["spindle_diameter"])
    if e["bearing_kind"] == "plain bronze":
        found = [_Seat("front journal", seat, "h5", "bush, reamed to H7", "H7"), _Seat("rear journal", seat, "h5", "bush, reamed to H7", "H7")]
    else:
        still, moved = ("K7", "J6") if e["bearing_kind"] == "taper roller" else ("J6", "H6")
        found = [_Seat("front seat on the spindle", seat, "k5", "inner ring", "bore"),
                 _Seat("rear seat, where the ring slides to be set", seat, "h5", "inner ring", "bore"),
                 _Seat("front bore in the housing", outside, still, "outer ring", "outside"),
                 _Seat("rear bore in the housing", outside, moved, "outer ring", "outside")]
    return [*found, _Seat("tailstock barrel", e["barrel_diameter"], "h6", "bore of its body, H7", "H7")]


def _said(e: Evaluation, si: float, kind: units.Kind = _UM) -> str:
    """A deviation with its sign: +13, 0, −11."""
    figure = units.number(abs(units.in_unit(si, kind, e.design.system)))
    return figure if figure == "0" else f"{'+' if si > 0 else '−'}{figure}"


def _note(e: Evaluation, one: _Seat) -> tuple[str, ...]:
    own, (hole, shaft) = one.fields()[0], one.pair()
    loosest, tightest = fits.greatest_play.si(hole.upper, shaft.lower), fits.least_play.si(hole.lower, shaft.upper)
    size = units.number(units.in_unit(one.size, _MM, e.design.system), 5)
    return (one.what, f"{size} {one.field}", f"{_said(e, own.lower)} to {_said(e, own.upper)}", one.partner,
            f"{_said(e, tightest)} to {_said(e, loosest)}")


def _taper(e: Evaluation) -> str:
    """The taper of the nose as it is set up and bored."""
    row = table("tapers")[e["spindle_taper"]]
    system = e.design.system
    cut = ("Set the topslide by a test plug and a dial indicator, never by its scale." if e["top_of_slide"] == "topslide" else
           "With no topslide to set aslant it is reamed by hand with a reamer of that taper, or bored outside; try it with a test plug.")
    return (f"The taper of the nose, {e['spindle_taper']}: {units.shown(row['large_diameter'], _MM, system, 5)} at the mouth, one part in {1 / row['rate']:.2f} on the "
            f"diameter, half angle {math.degrees(math.atan(row['rate'] / 2)):.3f} degrees. {cut} "
            f"Source: {cite(row['source'])}.")


@page
def fits_of_seats(evaluation: Evaluation) -> Page:
    """Fits of the spindle's seats, the housing bores and the tailstock barrel, as a note for the drawing."""
    e = evaluation.central
    unit, small = (units.unit_text(kind, e.design.system) for kind in (_MM, _UM))
    rows, missing = [], []
    for one in _seats(e):
        try:
            rows.append(_note(e, one))
        except units.InputProblem as problem:
            missing.append(f"{one.what}: {problem}")
    head = ("seat or bore", f"size in {unit} and field", f"deviation, {small}", "meets", f"play, {small} (below zero it must be pressed)")
    said = (f"Sizes are those your design comes to; once you hold the bearing, take its own. Rings of the ordinary class. Deviations: {cite('iso_286')}; {cite('iso_492')}. "
            "Which field for which seat is common practice: the ring that turns with its load sits firmly, the ring that must be moved to set the play slides: lap its seat until it does.")
    lines = [said, *missing, _taper(e)]
    return Page("".join(f"<p>{escape(line)}</p>" for line in lines) + table_html(rows, head), "\n".join([*lines, table_text(rows, head)]))


@page
def bearing_loads(evaluation: Evaluation) -> Page:
    """What the bearings carry, what they could carry, and for how long."""
    if lost := evaluation.central.cause("front_bearing_load", "rear_bearing_load"):
        return Page(f"<p>{escape(lost)}</p>", lost)
    e = evaluation if evaluation.draws else evaluate(evaluation.design, DRAWS)
    told = [("load across, front", "front_bearing_load"), ("load across, rear", "rear_bearing_load"), ("of it pulled by the belt", "belt_pull"),
            ("thrust of the cut", "cut_thrust"), ("thrust of the largest drill", "drilling_thrust"), ("preload", "preload"),
            ("equivalent load, for the life", "tiring_load"), ("equivalent load, at rest", "rest_load"), ("dynamic rating", "dynamic_rating"),
            ("static rating", "static_rating")]
    rows = [(what, e.shown_spread(name)) for what, name in told]
    if e.central["dynamic_rating"] > 0:
        rows += [("running hours at top speed", _hours(e)), ("static safety", e.shown_spread("static_safety"))]
    rows.append(("warmth: power lost in both at top speed, judged", e.shown_spread("drag_at_top_speed")))
    head = ("what", "figure, from low to high")
    return Page(table_html(rows, head, (1,)), table_text(rows, head))


def _hours(e: Evaluation) -> str:
    """Years of rating life are told as no more than a million hours: beyond that other things end a bearing."""
    hours = e.spread("bearing_life")[0] / 3600
    return "more than a million" if hours > 1e6 else f"{units.number(hours, 2)} or more"


# --- workings ----------------------------------------------------------------------------------------
def _worked(e: Evaluation, put: list[Put], head: str, said: str) -> Page:
    """Formulas with the design's figures put in, a line each, with their letters and sources."""
    worked = [Working.of(formula, {name: float(value) for name, value in values.items()}, e.design.system) for formula, values in put]
    rows = [(one.formula.title, plain_equation(one.symbols), units.shown(one.result, one.formula.output, e.design.system)) for one in worked]
    letters = dict.fromkeys(f"{plain_equation(symbol)} {meaning} {figure}" for one in worked for symbol, meaning, figure in one.table()[:-1])
    told = f"{said} Letters: {'; '.join(letters)}."
    sources = f"Sources: {'; '.join(dict.fromkeys(cite(source) for one in worked for source in one.formula.source))}."
    columns = (head, "equation", "figure")
    return Page(f"<p>{escape(told)}</p>{table_html(rows, columns, (2,))}<p class=dim>{escape(sources)}</p>",
                f"{told}\n{table_text(rows, columns)}\n{sources}")


@page
def bearing_worked(evaluation: Evaluation) -> Page:
    """How rating, thrust, load and play of your kind of bearing come about, as on a blackboard."""
    e = evaluation.central
    if lost := e.cause("front_bearing_load", "rear_bearing_load"):
        return Page(f"<p>{escape(lost)}</p>", lost)
    put = bearing_formulas(e["bearing_kind"], e)
    seat = (f" Stiffness is that of the rolling elements alone; with its rings, seats and housing the front bearing stands {e.shown('front_stiffness_at_size')}, for the most part judged."
            if any("stiffness" in formula.title for formula, _ in put) else "")
    return _worked(e, put, "of your front bearing", f"Bearings of the kind {e['bearing_kind']}, middling figures.{seat}")


@page
def chuck_worked(evaluation: Evaluation) -> Page:
    """What a jaw loses to speed, what a grey iron faceplate bears, and the fit of the front seat, as on a blackboard."""
    e = evaluation.central
    try:
        fit = fit_formulas(*_seats(e)[0].pair())
    except units.InputProblem:                       # a seat beyond the tables: the page of fits says so
        fit = []
    return _worked(e, chuck_formulas(e) + fit, "of chuck and seat",
                   "The faceplate is taken as large as the chuck, bored for the spindle, at the top speed.")
