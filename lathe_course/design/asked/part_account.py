"""What one part comes to, as the chain works it out: its growth to the size, its hours with rework, and the price of an hour spared."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from ...formula import Formula
from ...planning import costs, scaling
from ...planning.mix import Choice
from ...planning.parts import USED, Way
from ...working import Working
from ..chapters.parts import POWERS
from ..evaluation import Evaluation
from ..workings import noted
from .mixes import chain_run, choices_here


@dataclass(frozen=True)
class PartAccount:
    """A part by the way that takes most own hours, and by the one that takes fewest."""

    way: Way
    here: Choice
    instead: Choice | None
    growth: tuple[tuple[str, Working], ...]  # by what drives its hours
    hours: Working  # with what must be done again
    sums: tuple[Working, ...]  # money and hours in one, and an hour spared


def part_account(evaluation: Evaluation, part: str) -> PartAccount:
    """The account of a part this design calls for; InputProblem where some part cannot be had."""
    e = evaluation.central
    choices = [one for one in choices_here(e).of_part[part] if one.how != USED]
    here, least = (pick(choices, key=lambda one: one.hours) for pick in (max, min))
    instead = least if least.hours < here.hours else None
    chosen = next(one for one in e["ways_open"].ways if (one.way.part, one.way.how) == (part, here.how))
    system = e.design.system
    _, (hours,) = noted(
        lambda: chain_run(e, ("part_columns", "part_growth", "part_again", "part_hours"), ways_chosen=(chosen,)), system
    )
    _, sums = noted(
        lambda: (
            costs.whole_cost.si(here.money, here.hours, float(e["hour_cost"])),
            *([costs.money_per_hour_saved.si(instead.money, here.money, here.hours, instead.hours)] if instead else []),
        ),
        system,
    )
    growth = tuple(
        (label, Working.of(formula, values, system))
        for label, formula, values in _growth(e, scaling.driven_by(e["parts_list"][part], chosen.way, "hours"))
    )
    return PartAccount(chosen.way, here, instead, growth, hours, sums)


def _growth(e: Evaluation, terms: list[tuple[str, float, str | float, float]]) -> Iterator[tuple[str, Formula, dict[str, float]]]:
    """What drives the hours, the formula of its growth, and what that is fed."""

    def power(law: str | float) -> float:
        return (-1 if law.startswith("-") else 1) * float(e[POWERS[law.removeprefix("-")]]) if isinstance(law, str) else law

    height = float(e["centre_height"])
    (measure, reference, law, plain), *rest = terms
    if measure == "centre_height":  # nothing else drives it
        share = -plain
        length = scaling.usual_bed_length(height, float(e["between_centres"])) / rest[0][1] if rest else 1.0
        yield (
            "from the size of the list to yours",
            scaling.growth_factor,
            {"size_ratio": height / reference, "length_ratio": length, "exponent": power(law), "length_share": share},
        )
        return
    for measure, reference, law, _ in terms:
        yield (
            e.chain.part(measure).label,
            scaling.growth_by,
            {"measure_ratio": float(e[measure]) / reference, "exponent": power(law)},
        )
