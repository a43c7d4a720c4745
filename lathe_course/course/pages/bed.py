"""Chapter 07: the forms of a bed in one table, made alike in weight or in price."""
from __future__ import annotations

import math

from ... import units
from ...design.asked.bed_choice import Rival, rivals
from ...design.evaluation import Evaluation
from ...machine.bed_forms import FORMS, THICKENED
from ...machine.bed_workings import section_formulas, twist_formulas
from ...sources import cite
from ...units import Kind
from ...working import Working, plain_equation
from ..shown.panels import Page, escape, table_html, table_text
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
    figures = (units.number(units.in_unit(float(one.evaluation[result]), evaluation.kind(result), evaluation.design.system), digits) for result, digits in _RESULTS.items())
    return (name, size, *figures)


@page
def forms_compared(evaluation: Evaluation, alike: str = "weight") -> Page:
    """Every form of bed, as heavy or as dear as yours, with what it gives.  ``alike`` is weight or price."""
    found = rivals(evaluation, alike)
    words = ("mass", "stock", "sideways", "upright", "share")
    head = ("form of the bed", "made alike by", *(_headed(evaluation, word, evaluation.kind(result)) for word, result in zip(words, _RESULTS)))
    rows = [_row(evaluation, one) for one in found]
    said = (f"Beds {evaluation.shown('bed_width')} wide, each made to {'weigh' if alike == 'weight' else 'cost'} what yours does, within the same outline where its form allows; "
            "middling figures throughout. Sideways and upright: give at the tool; share: of the whole machine's give. "
            "Prices are common practice, no shop's quotation; machining and scraping come on top.")
    return Page(f"<p>{escape(said)}</p>{table_html(rows, head, tuple(range(2, len(head))))}", f"{said}\n{table_text(rows, head)}")


@page
def bed_forms_told(evaluation: Evaluation) -> Page:
    """What width, height and wall mean for each form."""
    rows = [(f"{form} (yours)" if form == evaluation["bed_form"] else form, meaning) for form, meaning in FORMS.items()]
    head = ("form of the bed", "what width, height and wall mean")
    return Page(table_html(rows, head), table_text(rows, head))


@page
def section_worked(evaluation: Evaluation) -> Page:
    """The formulas behind the section of the own bed, each with its equation, figure and source, as on a blackboard."""
    e = evaluation.central
    form, system = e["bed_form"], e.design.system
    put = section_formulas(form, *(float(e[name]) for name in ("bed_width", "bed_height", "bed_wall", "fill_ratio")))
    fed = ("bed_shear_modulus", "bed_torsion", "loop_length", "twist_lever", "cutting_force")
    put += twist_formulas(form, {name: float(e[name]) for name in fed})
    worked = [Working.of(formula, values, system) for formula, values in put]
    broken = next((one.formula.title for one in worked if not math.isfinite(one.result)), None)
    if broken:
        said = f"This bed cannot be made: {broken} has no figure. Take a thinner wall, or bars that leave room between them."
        return Page(f"<p>{escape(said)}</p>", said)
    rows = [(one.formula.title, plain_equation(one.symbols), units.shown(one.result, one.formula.output, system)) for one in worked]
    head = ("of your bed", "equation", "figure")
    letters = dict.fromkeys(f"{plain_equation(symbol)} {meaning}" for one in worked for symbol, meaning, _ in one.table()[:-1] if symbol)
    said = f"The section of a bed of the form {form}. Letters: {'; '.join(letters)}."
    sources = f"Sources: {'; '.join(dict.fromkeys(cite(source) for one in worked for source in one.formula.source))}."
    return Page(f"<p>{escape(said)}</p>{table_html(rows, head, (2,))}<p class=dim>{escape(sources)}</p>", f"{said}\n{table_text(rows, head)}\n{sources}")
