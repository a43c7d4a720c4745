"""Decisions that cannot stand together: where figures that are all there give none, and what they are."""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Any

import numpy as np

from ...formula import parameters
from .entries import Result


def clashes(evaluation: Any) -> dict[str, str]:
    """A sentence for each result that has no figure though all that goes into it has, by the name of the result.

    Where a formula says what it asks for, that is told; where none does, the decisions that go into the result.
    """
    chain = evaluation.chain
    lost = [
        part
        for name, part in chain.results.items()
        if _missing(evaluation[name])
        and not any(_missing(evaluation[source]) for source in part.inputs)
        and all(_counts(evaluation, source) for source in part.inputs)
    ]
    told = {part.name: said for part in lost if (said := _asked(evaluation, part))}
    for part in lost:
        decided = [name for name in part.inputs if name in chain.decisions]
        if (
            part.name not in told
            and len(decided) > 1
            and not said_by(chain, told, part.name)
            and not any(lacking(evaluation[source]) for source in part.inputs if source in chain.results)
        ):
            told[part.name] = f"There is no {part.label} with these, which do not go together: {_figures(evaluation, decided)}."
    return told


def said_by(chain: Any, told: dict[str, str], name: str) -> str:
    """What is said of a result that is given the same decisions, and more besides; nothing where none is."""
    for other, said in told.items():
        decided = {one for one in chain.inputs_of(other) if one in chain.decisions}
        if decided and decided <= set(chain.inputs_of(name)):
            return said
    return ""


def lacking(value: Any) -> bool:
    """Is there no number anywhere in it?"""
    if isinstance(value, dict):
        return any(map(lacking, value.values()))
    if isinstance(value, (tuple, list)):
        return any(map(lacking, value))
    if isinstance(value, (float, np.ndarray)) and np.asarray(value).dtype.kind == "f":
        return bool(np.isnan(value).any())
    return False


def _counts(evaluation: Any, name: str) -> bool:
    """Does a decision count with the options of others as they are: a pulley of a step that is not there is no pulley."""
    part = evaluation.chain.decisions.get(name)
    return part is None or not part.asked_if[0] or evaluation[part.asked_if[0]] in part.asked_if[1]


def _missing(value: Any) -> bool:
    """Not a number, or nothing but such in a row; one missing figure of a bundle, such as a section, is enough."""
    if isinstance(value, float):
        return math.isnan(value)
    if isinstance(value, dict):
        return any(map(_missing, value.values()))
    return isinstance(value, np.ndarray) and value.dtype.kind == "f" and value.size > 0 and bool(np.isnan(value).all())


def _asked(evaluation: Any, part: Result) -> str:
    """What the formula of a result asks for, and the figures it was given; nothing where it does not say."""
    if part.formula is None:
        return ""
    fed = evaluation.fed(part)
    for sentence, holds in part.formula.requires.items():
        names = parameters(holds)
        if not np.all(holds(**{name: fed[name] for name in names})):
            return f"{sentence[0].upper()}{sentence[1:].rstrip('.')}: {_figures(evaluation, (part.renamed[name] for name in names if name in part.renamed))}."
    return ""


def _figures(evaluation: Any, names: Iterable[str]) -> str:
    """'spindle bore 40 mm, spindle diameter 35 mm'; what has no figure of its own is left out."""
    told = ((evaluation.chain.part(name).label, evaluation.shown(name)) for name in names if name not in evaluation.chain.given)
    return ", ".join(f"{label} {shown}" for label, shown in told if shown)
