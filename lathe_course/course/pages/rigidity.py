"""Chapter 08: the budget of give link by link, which to improve first, what each direction does, and the sums behind it."""

from __future__ import annotations

from typing import Any

import numpy as np

from ... import units
from ...design.asked.beside import chattering, give_at_the_work, springs_in_a_row
from ...design.asked.stiffening import judged_share, savings, shares_of_give
from ...design.chain.luck import DRAWS
from ...design.evaluation import Evaluation, evaluate
from ...ranges import Range
from ...units import Compliance, LabourTime, Length, Money
from ..pictures.give import LINKS
from ..shown.few import few_rows
from ..shown.money import amount, money_name
from ..shown.panels import Page, how_to_read, paragraphs, tabled
from ..text.values import Fold, Worked, strong
from .register import page

_GIVE, _UM = Compliance(), Length("µm")
#: how each link's give is known, where it is not judged outright
_MODELLED = {
    "shaft_compliance": "worked out",
    "bed_compliance": "worked out, joints judged",
    "shank_compliance": "worked out",
    "bearing_compliance": "worked out on a judged stiffness",
    "holding_extra": "worked out",
}


def _between(evaluation: Evaluation, low: float, high: float, kind: Any) -> str:
    ends = [units.number(units.in_unit(value, kind, evaluation.design.system), 2) for value in (low, high)]
    return ends[0] if ends[0] == ends[1] else f"{ends[0]} to {ends[1]}"


def _impossible(evaluation: Evaluation, *also: str) -> str:
    """What cannot stand together, if there is no machine because of it, or no figure that is needed as well; else nothing."""
    return evaluation.central.cause("predicted_compliance", *also)


# --- the budget ------------------------------------------------------------------------------------------
@page
def give_budget_table(evaluation: Evaluation) -> Page:
    """Every link: its give with its range, its share, and whether it is worked out or judged; the three largest named."""
    if said := _impossible(evaluation):
        return paragraphs(said)
    drawn, sure = evaluate(evaluation.design, DRAWS), evaluation.central
    links = {name: words or evaluation["top_of_slide"] for name, (words, _) in LINKS.items() if name != "holding_extra"}
    shared = shares_of_give(drawn, links)
    rows, told = [], []
    for name, words in sorted(links.items(), key=lambda link: -float(sure[link[0]])):
        low, _, high = drawn.spread(name)
        known = _MODELLED.get(name, "judged")
        ends = [f"{end * 100:.0f}" for end in shared[name]]
        shares = "under 1%" if ends[1] == "0" else f"{ends[0]}%" if ends[0] == ends[1] else f"{ends[0]} to {ends[1]}%"
        likely = units.number(units.in_unit(float(sure[name]), _GIVE, evaluation.design.system))
        rows.append((words, likely, _between(evaluation, low, high, _GIVE), shares, known))
        told.append((words, shares, known))
    unit = units.unit_text(_GIVE, evaluation.design.system)
    head = ("link", f"give [{unit}]", "four fifths of cases", "share of the machine", "how it is known")
    judged = judged_share(sure, (name for name in links if name not in _MODELLED))
    said = (
        "The three largest: "
        + "; ".join(f"{words}, {shares} of the machine ({known})" for words, shares, known in told[:3])
        + f". Of the machine's {sure.shown('predicted_compliance')}, without the work, {judged:.0%} is judged from practice."
    )
    return paragraphs(said) + Page(Fold(f"Every link as a row: {len(rows)}", tabled(rows, head, (1, 2, 3)).blocks, told=True))


# --- two directions ----------------------------------------------------------------------------------------
@page
def two_ways_of_giving(evaluation: Evaluation) -> Page:
    """Sideways, up and down, and along the push: how much the machine gives, how far the roughing cut moves it, what that does to the diameter."""
    if said := _impossible(evaluation):
        return paragraphs(said)
    e = evaluation.central
    rows = [
        (
            "sideways, along the radius",
            e.shown("machine_compliance"),
            e.shown("rough_radial_force"),
            e.shown("rough_move"),
            e.shown("rough_error"),
        ),
        (
            "up and down",
            e.shown("upright_compliance"),
            e.shown("cutting_force"),
            e.shown("upright_drop"),
            e.shown("upright_error"),
        ),
        (
            "the tip dips as the shank nods",
            e.shown("shank_nod"),
            e.shown("finish_force"),
            units.shown(e["nod_error"] / 2, _UM, e.design.system),
            "-" + e.shown("nod_error"),
        ),
    ]
    head = ("way", "give", "pushed by", "moves", "changes the diameter by")
    said = (
        f"Sideways counts twice over, for a diameter has two sides. Up and down the tip slides along the round of the work, and on "
        f"{e.shown('work_diameter')} almost nothing is left of it. Shaking is another matter: there the machine answers along the push of the cut, "
        f"{e.shown('force_angle')} from level, with {e.shown('give_along_push')}."
    )
    return tabled(rows, head, (1, 2, 3, 4), after=(said,))


# --- which link first ----------------------------------------------------------------------------------------
@page
def which_link_first(evaluation: Evaluation) -> Page:
    """What each remedy would take off the give of your machine, what it costs, and the order in which that is worth doing."""
    if said := _impossible(evaluation):
        return paragraphs(said)
    system = evaluation.design.system
    whole = float(evaluation.central["predicted_compliance"])
    rows = []
    for one in savings(evaluation):
        each = (
            "free"
            if not np.isfinite(one.per_euro)
            else units.number(units.in_unit(one.per_euro, _GIVE, system) / amount(evaluation, 1.0), 2)
        )
        rows.append(
            (
                one.remedy,
                _between(evaluation, one.saved.low, one.saved.high, _GIVE),
                _percent(one.saved.likely / whole),
                _span(one.price, Money(), system),
                _span(one.hours, LabourTime()),
                each,
                one.known,
            )
        )
    unit = units.unit_text(_GIVE, system)
    head = (
        "remedy",
        f"takes off [{unit}]",
        "share",
        money_name(evaluation),
        "hours",
        f"for each {money_name(evaluation)}",
        "how it is known",
    )
    said = (
        f"What is free comes first, then what likely saves most for each {money_name(evaluation)}; share is that of the whole give. The prices and hours are invented for this course and hold for a machine "
        f"of {units.shown(0.075, Length('mm'), system)} centre height; put in those of your neighbourhood. Savings do not simply add: look again after each."
    )
    return few_rows(rows, head, (1, 2, 3, 4, 5)) + how_to_read(said)


def _percent(share: float) -> str:
    return f"{share:.0%}" if share >= 0.005 else "under 1%"


def _span(value: Range, kind: Any, system: str = "mm") -> str:
    ends = [units.number(units.in_unit(end, kind, system), 2) for end in (value.low, value.high)]
    return ends[0] if ends[0] == ends[1] else f"{ends[0]} to {ends[1]}"


# --- the sums behind it ----------------------------------------------------------------------------------------
@page(worked=True)
def sums_of_rigidity(evaluation: Evaluation) -> Page:
    """Small sums on your figures: springs in a row, what give does to the work, and when it sings."""
    if said := _impossible(evaluation, "tail_give", "loop_compliance"):
        return paragraphs(said)
    folds = []
    for heading, made in (
        ("Springs in a row", springs_in_a_row),
        ("What give does to the work", give_at_the_work),
        ("Chatter", chattering),
    ):
        sums = tuple(Worked(one, words) for words, one in made(evaluation.central))
        folds.append(Fold(strong(heading), sums, told=True))
    return Page(*folds)
