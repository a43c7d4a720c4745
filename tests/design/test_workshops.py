"""Six workshops build the boat shed's lathe in the whole chain: every part is to be had, and what binds is what the notes of the trade say binds.

The notes divide hours by hours promised and money by money a month.  The chain keeps fewer hours than
are promised, loses some to setting up, and has months away; so it ends later, by no more than these take.
"""

import tomllib
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from lathe_course.design.asked.mixes import BY_SUMS, mixes_here
from lathe_course.design.demos import demo
from lathe_course.design.evaluation import evaluate
from lathe_course.planning.capabilities import BORROWED, OWN
from lathe_course.planning.parts import USED, PartsList
from lathe_course.planning.shops import Machine

WORKSHOPS = {
    row["name"]: row
    for row in tomllib.loads((Path(__file__).parents[1] / "planning" / "archetypes.toml").read_text(encoding="utf-8"))["workshop"]
}
#: where the notes find hours and money in balance; everywhere else money binds
BALANCED = ("full machine shop", "two friends pooling")
DRAWS = 400


@pytest.fixture(scope="module", params=WORKSHOPS)
def built(request):
    """A workshop, its design with the ways that are done soonest, and that design with draws."""
    row = WORKSHOPS[request.param]
    machines = [Machine("own bench", OWN, row["can"], brings=tuple(row["equipment"]))]
    if "borrowed" in row:
        machines.append(Machine("other bench", BORROWED, row["borrowed"]))
    # the notes know no lock, no box, no second leakage device, no rest for tools held by hand, and a spindle with a thread
    design = demo("boat_shed").trying(
        nose_kind="thread",
        stop_gear="plain switch",
        chuck_guard="shield without a switch",
        controller_box="bare behind a wall",
        leakage_device="the one there serves",
        hand_rest="none",
    )
    # the notes know new parts only
    new = PartsList(replace(part, ways=tuple(way for way in part.ways if way.how != USED)) for part in design.building.parts)
    items = tuple(replace(item, second_hand="") for item in design.building.items)
    design = replace(design, sheets=replace(design.building, parts=new, items=items, machines=tuple(machines))).trying(
        hours_can=float(row["hours"][1]), money_can=float(row["money"][1]), savings=0.0
    )
    design = design.with_ways(**mixes_here(evaluate(design))[BY_SUMS].hows)
    return row, evaluate(design), evaluate(design, DRAWS)


def test_every_part_is_to_be_had(built):
    _, likely, _ = built
    assert likely.findings["every_part_can_be_had"].status == "holds" and len(likely["ways_chosen"]) == 45


def test_what_binds_is_what_was_told(built):
    row, likely, _ = built
    by_hours, by_money = float(likely["own_hours"] / likely["build_hours_can"]), float(likely["months_of_money"])
    if row["name"] in BALANCED:
        assert 0.8 < by_money / by_hours < 1.25
    else:
        assert by_money > by_hours and likely["cash_total"] / row["money"][1] > 1.4 * likely["own_hours"] / row["hours"][1]


def test_hours_and_cash_come_near_what_was_told(built):
    """Half of all builds: hours within 8 per cent, cash within 10.

    Where hours and money are in balance, hours that are promised and not kept move the soonest mix: fewer own hours for more money.
    """
    row, _, many = built
    hours, cash = float(np.median(many["own_hours"])), float(np.median(many["cash_total"]))
    if row["name"] in BALANCED:
        assert hours < row["told_hours"] and row["told_cash"] < cash < 1.3 * row["told_cash"]
    else:
        assert (hours, cash) == (pytest.approx(row["told_hours"], rel=0.08), pytest.approx(row["told_cash"], rel=0.10))


def test_it_ends_later_than_told_by_no_more_than_the_losses(built):
    """Never before the scarcer of the two was told to have come in; and at most by what promised hours lose, months away and a tenth of bad luck."""
    row, likely, many = built
    end, told = float(np.median(many["months_to_finish"])), max(row["told_months"])
    lost = row["hours"][1] / float(likely["build_hours_can"]) / np.mean(likely["calendar"].share)
    assert told < end < 1.1 * lost * told
