"""Chapter 15: room that leads upward, a ripple across machine and build, what to find out next, what it costs to keep."""

from __future__ import annotations

from typing import Any

import numpy as np

from ...design.asked.blurring import blurring
from ...design.asked.ripple import ripple
from ...design.asked.room import Room, room
from ...design.chain.luck import DRAWS
from ...design.evaluation import Evaluation, evaluate
from ..shown.few import with_rest
from ..shown.finding_out import how_to_find_out
from ..shown.panels import Page, paragraphs, tabled
from ..shown.plain_text import percent
from ..shown.relative import from_here
from ..shown.views import change_of, verdict
from .register import page

# --- room that leads upward ----------------------------------------------------------------------------
#: what one may wish for, decision by decision, and the direction in which it lies
_WISHES = (
    ("larger", "centre_height", +1),
    ("longer", "between_centres", +1),
    ("a wider bore", "spindle_bore", +1),
    ("a deeper cut", "depth_of_cut", +1),
    ("finer work", "tolerance", -1),
    ("fewer hours a month", "hours_can", -1),
    ("less money a month", "money_should", -1),
    ("dearer material", "material_prices", +1),
    ("dearer work of others", "labour_prices", +1),
    ("less patience", "patience", -1),
)


def _end(found: Room, way: int) -> tuple[str, str]:
    end, stop = (found.high, found.high_stop) if way > 0 else (found.low, found.low_stop)
    return end or "no step", f"“{stop}” fails" if stop else "the end of what is sensible"


@page
def room_to_spare(evaluation: Evaluation) -> Page:
    """How much larger, finer, dearer or slower it could be before anything that does not fail now begins to."""
    rows = []
    for wish, name, way in _WISHES:
        found = room(evaluation, name)
        rows.append((wish, f"{found.label}: {found.here}", *_end(found, way)))
    return tabled(
        rows,
        ("what you might wish for", "as it is", "as far as", "what comes next"),
        (2,),
        after=(
            "Each is tried by itself, all else as it is. Two at once take room from each other. Room you do not want is money and hours you may save.",
        ),
    )


# --- a ripple across both halves -------------------------------------------------------------------------
_ACROSS = {
    "the machine": (
        "swing_over_bed",
        "share_that_fits",
        "nose_stiffness",
        "machine_stiffness",
        "chatter_free_width",
        "size_error",
        "torque_needed",
        "bed_mass",
    ),
    "the build": (
        "parts_mass",
        "heaviest_lift",
        "parts_stuck",
        "own_hours",
        "cash_total",
        "months_to_finish",
        "months_to_first_chips",
        "keeping_a_year",
    ),
}


@page
def ripple_across(evaluation: Evaluation, decision: str = "centre_height", to: Any = "80 mm") -> Page:
    """What one change moves in the machine and in the build, and every verdict it turns; nothing is kept."""
    before = evaluation.central
    after = evaluate(evaluation.design.with_(decided="", **from_here(evaluation.design, {decision: to})), earlier=before)
    rows = []
    for half, names in _ACROSS.items():
        rows += [
            (
                half if name == names[0] else "",
                before.chain.part(name).label,
                before.shown(name),
                after.shown(name),
                change_of(after, before, name),
            )
            for name in names
        ]
    moved = ripple(before, after)
    said = ["; ".join(f"{one.label}: {one.before} → {one.after}" for one in moved.decisions) + "."]
    turned = [f"{new.label} ({verdict(old)} → {verdict(new)})" for old, new in moved.findings]
    said.append(f"Findings that changed: {'; '.join(turned)}." if turned else "No finding changed.")
    said.append(f"{len(moved.results)} figures moved in all.")
    return tabled(rows, ("", "what moves", "before", "after", ""), (2, 3, 4), after=said)


# --- what to find out next -------------------------------------------------------------------------------
_MOST, _OPEN = 10, 3  # figures told, and of these standing open


@page
def find_out_next(evaluation: Evaluation) -> Page:
    """The uncertain figures ranked by how much they blur all open verdicts, of machine and build, and how to narrow each."""
    e = evaluation if evaluation.draws else evaluate(evaluation.design, DRAWS)
    ranked = blurring(e)
    if not ranked:
        return paragraphs("No finding could go either way, so no figure need be found out for one.")
    rows = []
    for name, score, blurs in ranked[:_MOST]:
        named = "; ".join(e.chain.limits[one].label for one, _ in blurs[:3]) + (
            f"; and {len(blurs) - 3} more" if len(blurs) > 3 else ""
        )
        rows.append((e.chain.part(name).label, f"{score:.2f}", named, how_to_find_out(name)))
    more = len(ranked) - len(rows)
    head = ("find this out", "weight", "what it blurs", "a way to do it")
    rest = tabled(rows[_OPEN:], head, (1,)) if rows[_OPEN:] else Page()
    return with_rest(tabled(rows[:_OPEN], head, (1,)), f"and {len(rows[_OPEN:])} more", rest) + paragraphs(
        "The weight adds up, over all findings that could go either way, how open each is and how much of its blur this figure makes. "
        "It is a rank correlation squared: a guide to where to begin, no more." + (f" {more} more blur less." if more > 0 else "")
    )


# --- keeping it --------------------------------------------------------------------------------------------
@page
def keeping_it(evaluation: Evaluation) -> Page:
    """What it costs a month and a year to run and keep the lathe, built or bought, and what the same turning costs ordered out."""
    e = evaluation if evaluation.draws else evaluate(evaluation.design, DRAWS)

    def row(label: str, built: str, used: str = "") -> tuple[str, str, str]:
        return label, e.shown_spread(built), e.shown_spread(used or built)

    rows = [
        row("electricity a month", "power_money"),
        row("tools and oil used up a month", "wear_money"),
        row("its place a month", "space_money"),
        row("with repairs, a month", "running_money", "used_running_money"),
        row("a year, with what it loses in worth", "keeping_a_year", "used_keeping_a_year"),
    ]
    less = float(np.mean(np.asarray(e["building_over_buying"]) <= 0))
    return tabled(
        rows,
        ("", "built", "bought used"),
        (1, 2),
        after=(
            f"An hour at the finished lathe costs {e.shown_spread('turning_hour_cost')}, at {e.shown_spread('turning_hours')} of turning. "
            f"The same hours ordered out come to {e.shown_spread('ordered_a_year')} a year; a shop needs fewer of them.",
            f"Your hours counted, building costs no more than buying used in {percent(less)} of all draws. Each hour of turning asks for "
            f"{e.shown_spread('building_for_turning')} hours of building.",
            "All of these are judged ranges (common practice, no source): put your own figures in their place.",
        ),
    )
