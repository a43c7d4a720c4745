"""The forms of a bed side by side: each made as heavy, or as dear, as the bed of a design.

Within the same outline the wall (or the height, where there is no wall) is changed until the
rival weighs or costs the same.  Everything else is read from the chain, so a rival is a
design like any other, of which only the bed is worked out.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ...machine.bed_forms import FORMS, THICKENED
from ...nearest import nearest_or_all
from ...units import InputProblem
from ..evaluation import Evaluation, evaluate

#: what is made alike -> the result that tells it
ALIKE = {"weight": "bed_mass", "price": "bed_price"}
#: bars that lie on a plate, as a share of the width: there the height is that of the bars alone
_BAR = 1 / 6
_STEPS = 120
_LEAST, _MOST = 0.5e-3, 0.25


@dataclass(frozen=True)
class Rival:
    """One form made alike: its evaluation, or the reason why there is none."""

    form: str
    own: bool
    evaluation: Evaluation | None
    why_not: str = ""


def rivals(evaluation: Evaluation, alike: str = "weight") -> list[Rival]:
    """Every form of bed, made alike in ``weight`` or ``price`` to that of a design, in the order of ``FORMS``.

    The likely figure is taken of everything uncertain.  Raises InputProblem for another word.
    """
    if alike not in ALIKE:
        raise InputProblem.about(
            "alike", f"forms of bed can be made alike in weight or in price, not in {alike!r}; {nearest_or_all(alike, ALIKE)}"
        )
    plain = evaluation if evaluation.draws is None and not np.ndim(evaluation["bed_mass"]) else evaluate(evaluation.design)
    return [_rival(plain, form, ALIKE[alike]) for form in FORMS]


def _rival(plain: Evaluation, form: str, result: str) -> Rival:
    if form == plain["bed_form"]:
        return Rival(form, True, plain)
    # all of the bed, and the force that pictures twist it with
    bed = [*(one.name for one in plain.chain.results.values() if one.chapter == "07"), "cutting_force"]
    base = plain.design.trying(bed_form=form)
    if form == "round bars on a plate":
        base = base.trying(bed_height=_BAR * plain["bed_width"])
    name, target = f"bed_{THICKENED[form]}", plain[result]
    if not np.isfinite(target):
        return Rival(form, False, None, "your own bed cannot be made")
    low, high = _LEAST, _MOST
    for _ in range(2):  # a rough look, then a close one
        sizes = np.geomspace(low, high, _STEPS)
        reached = np.broadcast_to(evaluate(base.trying(**{name: sizes}), earlier=plain, wanted=[result])[result], sizes.shape)
        there = np.isfinite(reached)
        sizes, reached = sizes[there], reached[there]
        if not sizes.size or reached[0] > target:
            return Rival(
                form, False, None, "even the thinnest is heavier" if result == "bed_mass" else "even the thinnest is dearer"
            )
        if reached[-1] < target:
            return Rival(form, False, None, "even solid it is lighter" if result == "bed_mass" else "even solid it is cheaper")
        after = max(int(np.searchsorted(reached, target)), 1)
        low, high = sizes[after - 1], sizes[min(after, len(sizes) - 1)]
    size = float(np.interp(target, reached, sizes))
    return Rival(form, False, evaluate(base.trying(**{name: size}), earlier=plain, wanted=bed))
