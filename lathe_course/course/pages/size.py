"""Chapter 02: what builds of the size were said to take, beside what the parts of this design add up to."""

from __future__ import annotations

from ... import units
from ...design.chain.luck import DRAWS
from ...design.evaluation import Evaluation, evaluate
from ...planning.first_estimate import estimate_doubts
from ..shown.panels import Page, tabled
from .register import page

#: what is said of a build, and the figure of the parts that answers the same question
_BESIDE = {"mass": "parts_mass", "money": "charged_total", "hours": "own_hours"}


@page
def said_of_such_builds(evaluation: Evaluation) -> Page:
    """An outside look: the range that is told of builds of this size, and yours; and why they differ."""
    many, sure = evaluate(evaluation.design, DRAWS), evaluation.central
    said, rows = sure["said_of_the_size"], []
    for figure, own in _BESIDE.items():
        kind, system = sure.kind(own), evaluation.design.system
        low, high = (units.number(units.in_unit(float(said[figure][end]), kind, system), 2) for end in (0, 2))
        rows.append(
            (evaluation.chain.part(own).label, many.shown_spread(own), f"{low} to {high} {units.unit_text(kind, system)}")
        )
    head = ("", "yours, from the parts", "said of this size")
    told = [
        f"Builds of {evaluation.shown('centre_height')} by {evaluation.shown('between_centres')} were said to take what stands on the right: common practice, no source, three sizes and a power law between them. "
        "It knows nothing of who makes what: whoever sends parts out pays more and works less. Nothing in your plan rests on it; where yours lies far outside, ask chapter 10 which parts make it so.",
        *(f"Mind: {doubt}" for doubt in estimate_doubts(float(sure["centre_height"]), float(sure["between_centres"]))),
    ]
    return tabled(rows, head, (1, 2), after=told)
