"""Chapter 07: the forms of a bed in one table, made alike in weight or in price."""

from __future__ import annotations

import math

from ... import units
from ...design.asked.bed_choice import Rival, rivals
from ...design.evaluation import Evaluation
from ...machine.bed_forms import FORMS, THICKENED
from ...units import Kind
from ..shown.panels import Page, folded_workings, paragraphs, tabled
from .register import page

#: result -> digits shown
_RESULTS = {"bed_mass": 3, "bed_price": 3, "bed_compliance": 2, "bed_upright_compliance": 2, "bed_share": 2}


def _headed(evaluation: Evaluation, words: str, kind: Kind) -> str:
    unit = units.unit_text(kind, evaluation.design.system)
    return f"{words}, {unit}" if unit else words


def _row(evaluation: Evaluation, one: Rival) -> tuple[str, ...]:
    name = f"{one.form} (yours)" if one.own else one.form
    if one.evaluation is None:
        return (name, one.why_not, *[""] * len(_RESULTS))
    changed = f"bed_{THICKENED[one.form]}"
    size = f"{'wall' if changed == 'bed_wall' else 'height'} {one.evaluation.shown(changed)}"
    figures = (
        units.number(units.in_unit(float(one.evaluation[result]), evaluation.kind(result), evaluation.design.system), digits)
        for result, digits in _RESULTS.items()
    )
    return (name, size, *figures)


@page
def forms_compared(evaluation: Evaluation, alike: str = "weight") -> Page:
    """Every form of bed, as heavy or as dear as yours, with what it gives.  ``alike`` is weight or price."""
    found = rivals(evaluation, alike)
    words = ("mass", "stock", "sideways", "upright", "share")
    head = (
        "form of the bed",
        "made alike by",
        *(_headed(evaluation, word, evaluation.kind(result)) for word, result in zip(words, _RESULTS)),
    )
    rows = [_row(evaluation, one) for one in found]
    said = (
        f"Beds {evaluation.shown('bed_width')} wide, each made to {'weigh' if alike == 'weight' else 'cost'} what yours does, within the same outline where its form allows; "
        "middling figures throughout. Sideways and upright: give at the tool; share: of the whole machine's give. "
        "Prices are common practice, no shop's quotation; machining and scraping come on top."
    )
    return tabled(rows, head, tuple(range(2, len(head))), before=(said,))


@page(worked=True)
def section_worked(evaluation: Evaluation) -> Page:
    """The formulas behind the section of the own bed, each with its equation, figure and source, as on a blackboard."""
    e = evaluation.central
    worked = e.workings(
        "bed_section", "bed_if_tied", "bed_turning_stiffness", *(["bed_cut_twist"] if e["bar_spacing"] == 0 else [])
    )
    if lost := next((one.formula.title for one in worked if not math.isfinite(one.result)), None):
        said = f"This bed cannot be made: {lost} has no figure. Take a thinner wall, or bars that leave room between them."
        return paragraphs(said)
    form = e["bed_form"]
    return paragraphs(f"The section of a bed of the form {form}: {FORMS[form]}.") + folded_workings(
        worked, "How the section of your bed comes about"
    )
