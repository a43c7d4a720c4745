"""The kinds there are of one thing that is decided, side by side on the learner's own design: figures, what holds, what speaks for and against each."""

from __future__ import annotations

from dataclasses import dataclass

from ...design.evaluation import Evaluation, evaluate
from ...nearest import nearest_or_all
from ...tables import table
from ...units import InputProblem
from ..shown.panels import Page, for_and_against, paragraphs, tabled
from ..text.values import Fold
from .register import page


@dataclass(frozen=True)
class Kinds:
    """The table whose rows are the kinds, with what is strong and weak of each; figures looked at, and the finding that tells them apart."""

    rows: str
    figures: tuple[str, ...]
    finding: str


_KINDS = {
    "nose_kind": Kinds("noses", ("nose_hold", "unscrewing_torque", "chuck_give", "bar_room"), "chuck_stays_on"),
    "collets": Kinds(
        "collets", ("collet_room", "collet_bar", "collet_share", "small_runout", "shape_share"), "collets_run_truer"
    ),
    "hand_rest": Kinds("hand_rests", ("largest_shaft", "handle_pull", "saddle_parked"), "wood_has_a_rest"),
    "dividing": Kinds("dividing", ("undivided", "line_unevenness", "tooth_error"), "lines_even"),
    "leadscrew_nut": Kinds(
        "leadscrew_nuts", ("nut_worn", "screw_worn", "late_equivalent", "leadscrew_nut_work"), "half_nuts_last"
    ),
    "toolpost_kind": Kinds("toolposts", ("toolpost_give", "toolpost_floor", "packing_room", "tool_scatter"), "packing_thin"),
}


@page
def kinds_compared(evaluation: Evaluation, of: str | tuple[str, ...]) -> Page:
    """Every kind of what ``of`` decides, tried on the design with all else as it is; of several the first stands open."""
    first, *others = (of,) if isinstance(of, str) else of
    folds = (
        Fold(f"The same for {evaluation.chain.decisions[one].label}", page.blocks, told=True)
        for one, page in ((one, _compared(evaluation, one)) for one in others)
    )
    return _compared(evaluation, first) + Page(*folds)


def _compared(evaluation: Evaluation, of: str) -> Page:
    if of not in _KINDS:
        raise InputProblem.about("of", f"no kinds of {of!r} are compared; {nearest_or_all(of, _KINDS)}")
    e, asked = evaluation.central, _KINDS[of]
    rule = e.chain.limits[asked.finding]
    wanted = {*asked.figures, *e.chain.inputs_of(asked.finding), *filter(None, (rule.asked,))}
    columns = []
    kinds = table(asked.rows)
    own_first = sorted(kinds, key=lambda one: one != e[of])
    for kind in own_first:
        tried = evaluate(e.design.trying(**{of: kind}), earlier=e, wanted=wanted)
        margin = float(e.chain.margins(tried.values_si, [asked.finding])[asked.finding])
        stands = rule.status(margin) if rule.asks(tried.values_si) else "not asked"
        columns.append((f"{kind} (yours)" if kind == e[of] else kind, *(tried.shown(name) for name in asked.figures), stands))
    # what is compared goes down, so that the table finds its place on a narrow page
    told = (e.chain.decisions[of].label, *(e.chain.part(name).label for name in asked.figures), rule.label)
    (head, *rows) = zip(told, *columns)
    return (
        tabled(rows, head, range(1, len(head)))
        + paragraphs("All else is as in your design.")
        + for_and_against({kind: kinds[kind] for kind in own_first})
    )
