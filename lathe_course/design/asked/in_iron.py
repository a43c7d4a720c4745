"""What another way would do to the machine: give, error on the diameter and taper, for one part or for a whole mix of ways."""

from __future__ import annotations

from collections.abc import Mapping

from ..evaluation import Evaluation, evaluate
from ..making import made_by

#: what a way moves on the work, as the pages of the parts tell it
IN_IRON = ("machine_compliance", "size_error", "set_taper")


def of_a_part(evaluation: Evaluation, part: str) -> dict[str, Evaluation]:
    """By way: the machine with this part made so and all else as it is, at middling figures; only ``IN_IRON`` and what it rests on."""
    here, building = evaluation.central, evaluation.design.building
    found = {}
    for one in here["ways_open"].of(part):
        making = here.design.making.with_(made_by(building, here["parts_list"][part], one.way, one.stage))
        found[one.way.how] = evaluate(here.design.made(making), earlier=here, wanted=IN_IRON)
    return found


def of_ways(evaluation: Evaluation, hows: Mapping[str, str]) -> Evaluation:
    """The machine with its parts and things got so, at middling figures; only ``IN_IRON`` and what it rests on."""
    return evaluate(evaluation.central.design.with_ways(**hows), earlier=evaluation.central, wanted=IN_IRON)
