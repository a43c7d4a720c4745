"""Chapter 06: loads of the bearings and how they come about, and the fits of seats and bores as a note for the drawing."""

from __future__ import annotations

import contextlib
import math

from ... import units
from ...design.chain.luck import DRAWS
from ...design.evaluation import Evaluation, evaluate
from ...design.seats import Seat, seats
from ...design.workings import noted
from ...machine.bearings import SLANTED_ROLLERS, contact_of
from ...sources import cite
from ...tables import table
from ...units import Length
from ..shown.panels import Page, folded_workings, paragraphs, tabled
from .register import page

_MM, _UM = Length("mm"), Length("µm")


def _said(e: Evaluation, si: float, kind: units.Kind = _UM) -> str:
    """A deviation with its sign: +13, 0, −11."""
    figure = units.number(abs(units.in_unit(si, kind, e.design.system)))
    return figure if figure == "0" else f"{'+' if si > 0 else '−'}{figure}"


def _note(e: Evaluation, one: Seat) -> tuple[str, ...]:
    own, (tightest, loosest) = one.fields()[0], one.play()
    size = units.number(units.in_unit(one.size, _MM, e.design.system), 5)
    return (
        one.what,
        f"{size} {one.field}",
        f"{_said(e, own.lower)} to {_said(e, own.upper)}",
        one.partner,
        f"{_said(e, tightest)} to {_said(e, loosest)}",
    )


def _taper(e: Evaluation) -> str:
    """The taper of the nose as it is set up and bored."""
    row = table("tapers")[e["spindle_taper"]]
    system = e.design.system
    cut = (
        "Set the topslide by a test plug and a dial indicator, never by its scale."
        if e["top_of_slide"] == "topslide"
        else "With no topslide to set aslant it is reamed by hand with a reamer of that taper, or bored outside; try it with a test plug."
    )
    return (
        f"The taper of the nose, {e['spindle_taper']}: {units.shown(row['large_diameter'], _MM, system, 5)} at the mouth, one part in {1 / row['rate']:.2f} on the "
        f"diameter, half angle {math.degrees(math.atan(row['rate'] / 2)):.3f} degrees. {cut} "
        f"Source: {cite(row['source'])}."
    )


@page
def fits_of_seats(evaluation: Evaluation) -> Page:
    """Fits of the spindle's seats, the housing bores and the tailstock barrel, as a note for the drawing."""
    e = evaluation.central
    unit, small = (units.unit_text(kind, e.design.system) for kind in (_MM, _UM))
    rows, missing = [], []
    for one in seats(e):
        try:
            rows.append(_note(e, one))
        except units.InputProblem as problem:
            missing.append(f"{one.what}: {problem}")
    head = (
        "seat or bore",
        f"size in {unit} and field",
        f"deviation, {small}",
        "meets",
        f"play, {small} (below zero it must be pressed)",
    )
    said = (
        f"Sizes are those your design comes to; once you hold the bearing, take its own. Rings of the ordinary class. Deviations: {cite('iso_286')}; {cite('iso_492')}. "
        "Which field for which seat is common practice: the ring that turns with its load sits firmly, the ring that must be moved to set the play slides: lap its seat until it does."
    )
    lines = [said, *missing, _taper(e)]
    return tabled(rows, head, before=lines)


@page
def bearing_loads(evaluation: Evaluation) -> Page:
    """What the bearings carry, what they could carry, and for how long."""
    if lost := evaluation.central.cause("front_bearing_load", "rear_bearing_load"):
        return paragraphs(lost)
    e = evaluation if evaluation.draws else evaluate(evaluation.design, DRAWS)
    told = [
        ("load across, front", "front_bearing_load"),
        ("load across, rear", "rear_bearing_load"),
        ("of it pulled by the belt", "belt_pull"),
        ("thrust of the cut", "cut_thrust"),
        ("thrust of the largest drill", "drilling_thrust"),
        ("preload", "preload"),
        ("equivalent load, for the life", "tiring_load"),
        ("equivalent load, at rest", "rest_load"),
        ("dynamic rating", "dynamic_rating"),
        ("static rating", "static_rating"),
    ]
    rows = [(what, e.shown_spread(name)) for what, name in told]
    if e.central["dynamic_rating"] > 0:
        rows += [("running hours at top speed", _hours(e)), ("static safety", e.shown_spread("static_safety"))]
    rows.append(("warmth: power lost in both at top speed, judged", e.shown_spread("drag_at_top_speed")))
    head = ("what", "figure, from low to high")
    return tabled(rows, head, (1,))


def _hours(e: Evaluation) -> str:
    """Years of rating life are told as no more than a million hours: beyond that other things end a bearing."""
    hours = e.spread("bearing_life")[0] / 3600
    return "more than a million" if hours > 1e6 else f"{units.number(hours, 2)} or more"


# --- workings ----------------------------------------------------------------------------------------
@page(worked=True)
def bearing_worked(evaluation: Evaluation) -> Page:
    """How rating, thrust, load and play of your kind of bearing come about, as on a blackboard."""
    e = evaluation.central
    if lost := e.cause("front_bearing_load", "rear_bearing_load"):
        return paragraphs(lost)
    rolls = contact_of(e["bearing_kind"]) == SLANTED_ROLLERS
    seat = (
        f"Stiffness there is that of the rolling elements alone. With its rings, seats and housing the front bearing stands {e.shown('front_stiffness_at_size')}; most of that is judged."
        if rolls
        else ""
    )
    shown = e.workings(
        "reckoned_dynamic",
        "reckoned_static",
        "preload",
        "tiring_load",
        "front_stiffness_at_size",
        "preload_drag",
        "play_gained",
        "journal_pressure",
    )
    return folded_workings(
        shown, f"How the figures of your bearings come about: {e['bearing_kind']}, middling figures"
    ) + paragraphs(seat)


@page(worked=True)
def chuck_worked(evaluation: Evaluation) -> Page:
    """What a jaw loses to speed, what a grey iron faceplate bears, and the fit of the front seat, as on a blackboard."""
    e = evaluation.central
    shown = e.workings("jaw_loss", "faceplate_stress")
    with contextlib.suppress(units.InputProblem):  # a seat beyond the tables: the page of fits says so
        shown += noted(seats(e)[0].play, e.design.system)[1]
    return folded_workings(shown, "How the figures of chuck and seat come about") + paragraphs(
        "The faceplate is taken as large as the chuck, bored for the spindle, at the top speed."
    )
