"""The best mix of ways for a design: every open way in the figures of the chain, the wishes, and what a change would be worth.

All figures are those of the chain itself, run over every open way instead of the chosen ones, so that the sums
of a mix are those the chain finds once it is chosen.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType

import numpy as np

from ...planning import mix as solver
from ...planning import plan
from ...planning.capabilities import BORROWED, FOR_SALE, OWN
from ...planning.drivers import drivers
from ...planning.feasible import Feasibility
from ...planning.mix import NONE, WEEKS_IN_A_MONTH, Choice, Choices, Mix, Wish
from ...planning.parts import USED, Way
from ...planning.plan import MachineWorth, Offer
from ...planning.second_hand import find_for
from ...planning.shops import KEEP, LENT, SELL, Machine, demo_machines, hows_of, machines_for_sale, tools_for
from ...ranges import Range
from ...units import InputProblem
from ..building import note_of
from ..chapters.parts import ACCESSORIES
from ..design import Design
from ..evaluation import Evaluation, evaluate
from .ways_told import ways_told

#: results of the chain that are run over all open ways, in the order of working out, and those over all things
_BY_WAY = (
    "part_columns",
    "part_growth",
    "part_again",
    "part_hours",
    "part_material",
    "part_outside",
    "part_carriage",
    "part_fees",
    "part_own_wait",
    "part_wait",
    "part_money",
)
_BY_THING = ("thing_again", "thing_wait", "item_money", "thing_resale")
#: what the solver proves, in the words of the page; and what can be wished for, of which the last is played through
BY_SUMS, SOONEST = "soonest by its sums", "done soonest"
PROVEN = ("least money", "fewest own hours", "money and hours together", BY_SUMS)
WISHES = (*PROVEN[:3], SOONEST)
YOURS = "yours"
#: hours of a demo's machine that is lent, where its row says none: two evenings a month [h/month]
_LENT = 5.0


def choices_here(evaluation: Evaluation) -> Choices:
    """Every open way of every part and thing, at the middling figures of the design; machines that are for sale may be bought or left.

    Raises InputProblem as ``demand_all`` does.
    """
    e = evaluation.central
    demand_all(e)
    found = before_buying(e)
    # who goes where others are may well go with a part that could be made at home
    company = float(e["company_gain"]) > 0
    now = {one.way.name for one in e["ways_chosen"]}
    ways = tuple(
        one
        for one in (
            *found.buyable,
            *(one for one in found.ways if one.open or (one.spare and one.borrowed and not one.missing and company)),
        )
        if one.way.name in now or not _advised_against(one.way)
    )
    at = chain_run(e, _BY_WAY, ways_chosen=ways, machine_waits={})
    building = e["building"]
    always, sometimes = tools_for(building.items, building.shop, later=e["accessories"] == ACCESSORIES[1])
    things = [
        item.by(how)
        for item in (*always, *sometimes)
        for how in hows_of(item)
        if how != LENT or building.how_of(item.name) == LENT
    ] + [machine.bought(how) for machine in building.for_sale for how in (SELL, KEEP)]
    of = chain_run(e, _BY_THING, things_to_buy=tuple(things))
    optional, made = {item.name for item in sometimes}, []
    for item, money, wait, back in zip(
        things, np.ravel(of["item_money"]["money"]), np.ravel(of["thing_wait"]), np.ravel(of["thing_resale"])
    ):
        sort = "machine" if item.sort == "machine" else "tool"
        made.append(
            Choice(item.name, item.how, float(money), item.hours, float(wait) * WEEKS_IN_A_MONTH, back=float(back), sort=sort)
        )
    made += [
        Choice(name, NONE, 0.0, 0.0, sort=sort)
        for names, sort in ((sorted(optional), "tool"), ([one.name for one in building.for_sale], "machine"))
        for name in names
    ]
    parts = [
        Choice(
            one.way.part,
            one.way.how,
            float(money),
            float(hours),
            float(wait) * WEEKS_IN_A_MONTH,
            (*(frozenset({item.name}) for item in sometimes if item.serves_way(one.way)), *one.buys),
            one.borrowed,
            one.stage,
        )
        for one, money, hours, wait in zip(ways, at["part_money"], at["part_hours"], at["part_wait"])
    ]
    return Choices((*parts, *made), 0.0, float(e["task_hours"]))


def demand_all(e: Evaluation) -> None:
    """Raises InputProblem if some part cannot be had, with what is missing and who comes nearest, or if its money and hours cannot be told."""
    if before_buying(e).stuck:
        ways_told(e, e["building"].with_nothing_bought()).demand_all()
    untold = [
        one.way.part
        for one, money, hours in zip(e["ways_chosen"], e["part_money"], e["part_hours"])
        if not np.isfinite(money + hours)
    ]
    if untold:
        clash = e.cause(*(one.name for one in drivers(untold[0]))) or e.cause("part_money")
        raise InputProblem.about(
            "ways", f"Money and hours of the {untold[0]} cannot be told, so no ways can be compared. {clash}"
        )


def _advised_against(way: Way) -> bool:
    """Is it a find the course would not look for?"""
    find = find_for(way.part)
    return way.how == USED and find is not None and not find.advised


def before_buying(e: Evaluation) -> Feasibility:
    """Which ways are open before any machine is bought, and which would be with one."""
    if not e["building"].bought:
        return e["ways_open"]
    return chain_run(e, ("way_reach", "ways_open"), building=e["building"].with_nothing_bought())["ways_open"]


def chain_run(e: Evaluation, names: Iterable[str], **given: object) -> dict[str, object]:
    """Some results of the chain worked out anew from other values; figures the learner replaced stay."""
    values = {**e.values_si, **given}
    for name in names:
        part = e.chain.results[name]
        values[name] = part.body(*(values[source] for source in part.inputs))
    return values


def mix_here(evaluation: Evaluation, choices: Choices | None = None) -> Mix | None:
    """The ways chosen now as a mix; None where one of them is not open."""
    choices, building = choices or choices_here(evaluation), evaluation["building"]
    hows = {one.way.part: one.way.how for one in evaluation["ways_chosen"]}
    known = {(one.part, one.how) for one in choices.choices}
    if any(one.missing for one in evaluation["ways_chosen"]) or not known.issuperset(hows.items()):
        return None
    return choices.picked(hows | {name: building.how_of(name) for name in building.things})


def mixes_here(evaluation: Evaluation, choices: Choices | None = None) -> dict[str, Mix]:
    """The best mix for each of ``PROVEN``."""
    e, choices = evaluation.central, choices or choices_here(evaluation)
    saved = float(e["savings"])
    without = replace(choices, fixed_money=choices.fixed_money - saved)  # what is put by need not come in month by month
    soonest = solver.soonest(without, float(e["build_hours_can"]), float(e["money_can"]))
    found = (
        solver.best(choices, Wish(money=1.0)),
        solver.best(choices, Wish(hours=1.0)),
        solver.best(choices, both_wished(e)),
        replace(soonest, money=soonest.money + saved),
    )
    return dict(zip(PROVEN, found))


def compared(evaluation: Evaluation) -> dict[str, Mix]:
    """Your mix, the best by the solver, and the one done soonest of all that were played through; InputProblem if a part cannot be had."""
    choices = choices_here(evaluation)
    own = mix_here(evaluation, choices)
    found = ({YOURS: own} if own else {}) | mixes_here(evaluation, choices)
    return found | {SOONEST: soonest_played(evaluation, [*found.values(), *frontier_here(evaluation)])[0]}


def both_wished(evaluation: Evaluation) -> Wish:
    """Money and own hours together, an hour at what it costs by the reasons, and one in company at what that adds."""
    e = evaluation.central
    return Wish(money=1.0, hours=float(e["hour_cost"]), company=float(e["company_gain"]))


def choose_ways(design: Design, ways: Mapping[str, str], because: str = "") -> Design:
    """The design with these ways chosen; the reason is noted with each part that changes, and an older one goes with the way it was for."""
    chosen = design.with_ways(**ways)
    notes = {key: text for key, text in design.notes.items() if key not in {note_of(part) for part in ways}}
    if because:
        notes |= {note_of(part): because for part in ways}
    return replace(chosen, notes=MappingProxyType(notes))


def months_of(evaluation: Evaluation, mix: Mix) -> float:
    """Until hours, money and the longest wait have all come in at the kept rates, were nothing ever in each other's way."""
    e = evaluation.central
    return max(
        mix.hours / float(e["build_hours_can"]),
        max(mix.money - float(e["savings"]), 0.0) / float(e["money_can"]),
        mix.weeks / WEEKS_IN_A_MONTH,
    )


def soonest_played(evaluation: Evaluation, mixes: Iterable[Mix]) -> tuple[Mix, float]:
    """Of some mixes the one that is done first when it is played through task by task, at middling figures; and its months.

    What waits for what, months away and borrowed evenings count here, so it may be another than the soonest by sums.
    It is the best of those tried, and no proof.
    """
    e = evaluation.central
    played = [
        (float(np.squeeze(evaluate(e.design.with_ways(**mix.hows), earlier=e)["months_to_finish"])), number, mix)
        for number, mix in enumerate(mixes)
    ]
    months, _, mix = min(played, key=lambda one: one[:2])
    return mix, months


def frontier_here(evaluation: Evaluation, step: float = 10.0, progress: Callable[[float], None] | None = None) -> tuple[Mix, ...]:
    """The mixes of which none is better in money and hours at once, at least ``step`` hours apart; worked out once for the same figures."""
    e, choices = evaluation.central, choices_here(evaluation)
    asked, found = e.handed_on.get(("frontier", step), (None, ()))
    if asked != choices:
        found = solver.frontier(choices, step, progress=progress)
        e.handed_on["frontier", step] = choices, found
    return found


# --- played through with luck -------------------------------------------------------------------------------
@dataclass(frozen=True)
class Simulated:
    """A mix played through in many builds: months and money of the middle one and of nine in ten, and the share done before patience ends."""

    months: tuple[float, float]
    money: tuple[float, float]
    in_time: float


def mixes_simulated(design: Design, mixes: Iterable[Mix], draws: int) -> tuple[Simulated, ...]:
    """Each mix in so many builds, each with its own luck; the luck of a part is the same in all of them."""
    found = []
    for mix in mixes:
        e = evaluate(design.with_ways(**mix.hows), draws)
        end, money = (np.broadcast_to(np.asarray(e[name], float), (draws,)) for name in ("months_to_finish", "cash_total"))
        # infinite ends are those never done: a quantile between two of them is one of them
        months = tuple(float(one) for one in np.quantile(end, (0.5, 0.9), method="higher"))
        found.append(
            Simulated(months, tuple(float(one) for one in np.quantile(money, (0.5, 0.9))), float(np.mean(end <= e["patience"])))
        )
    return tuple(found)


# --- thrifty, middling, ready-made ---------------------------------------------------------------------------
THRIFTY, ASKED_FOR, MIDDLING, READY = "thrifty", "thrifty, and tools lent", "middling", "ready-made"


def three_builds(evaluation: Evaluation) -> dict[str, Design]:
    """The same lathe built thriftily, in between and ready-made, each by a proven mix; and thriftily with every tool lent that one may ask for.

    Thrifty is least money, ready-made fewest own hours; in between is least money with the hours half-way between the two.
    Raises InputProblem if a part cannot be had.
    """

    def thrifty(e: Evaluation) -> tuple[Choices, Mix]:
        choices = choices_here(e)
        return choices, solver.best(choices, Wish(money=1.0))

    design, e = evaluation.design, evaluation.central
    choices, least = thrifty(e)
    ready = solver.best(choices, Wish(hours=1.0))
    middle = solver.best(choices, Wish(money=1.0, most_hours=(least.hours + ready.hours) / 2))
    lent = design.with_ways(**{thing: LENT for thing, hows in e["building"].things.items() if LENT in hows})
    asked = lent.with_ways(
        **{name: how for name, how in thrifty(evaluate(lent, earlier=e))[1].hows.items() if lent.ways.get(name) != LENT}
    )
    return {
        THRIFTY: design.with_ways(**least.hows),
        ASKED_FOR: asked,
        MIDDLING: design.with_ways(**middle.hows),
        READY: design.with_ways(**ready.hows),
    }


# --- where to begin --------------------------------------------------------------------------------------------
@dataclass(frozen=True)
class First:
    """One machine to come by first: how, and the parts that can be had with it and could not before."""

    machine: Machine
    how: str  # "buy", "borrow" or "gather"
    opens: tuple[str, ...]


def first_machines(evaluation: Evaluation) -> tuple[tuple[First, ...], Design | None]:
    """What to come by first where some part cannot be had: each step the machine that opens most, hand tools before all; and the design with it.

    Hand tools are gathered, small machines borrowed where the demos' invented clubs lend such, or bought used.  The design is None where
    all of them together do not suffice.
    """
    design, found = evaluation.design, []
    while True:
        e = evaluate(design)
        stuck = before_buying(e).stuck
        if not stuck:
            return tuple(found), _may_buy(design)
        steps = []
        for rank, (how, machine) in enumerate(_to_come_by(e["building"].machines)):
            own = replace(machine, whose=BORROWED if how == "borrow" else OWN)
            others = tuple(one for one in e["building"].machines if one.name != machine.name)
            after = with_machines(design, (*others, own))
            opens = tuple(part for part in stuck if part not in before_buying(evaluate(after)).stuck)
            steps.append((-len(opens), rank, First(own, how, opens), after))
        best = min(steps, key=lambda one: one[:2], default=None)
        if best is None or not best[0]:
            return tuple(found), None
        found.append(best[2])
        design = best[3]


def _may_buy(design: Design) -> Design:
    """The design with the machines the course knows for sale, where its lists have none."""
    return design if design.building.for_sale else with_machines(design, (*design.building.machines, *machines_for_sale()))


def saved_next(design: Design, most: int = 3) -> tuple[tuple[str, Machine, float], ...]:
    """Of hand tools and machines one may be lent those that save most: how to come by each, and what the least money falls by, before any fee."""

    def least(one: Design) -> float:
        return solver.best(choices_here(evaluate(one)), Wish(money=1.0)).cost

    now, found = least(design), []
    for how, machine in _to_come_by(design.building.machines):
        if how != "buy":
            own = replace(machine, whose=BORROWED if how == "borrow" else OWN)
            found.append((how, own, now - least(with_machines(design, (*design.building.machines, own)))))
    return tuple(sorted((one for one in found if one[2] > 1.0), key=lambda one: -one[2])[:most])


def _to_come_by(at_hand: tuple[Machine, ...]) -> list[tuple[str, Machine]]:
    """Hand tools, machines one may be lent, and those for sale, in this order."""
    names = {machine.name for machine in at_hand if machine.whose != FOR_SALE}
    tools = [
        ("gather", machine)
        for machine in demo_machines("cabin")
        if machine.whose == OWN and "hand" in machine.name and machine.name not in names
    ]
    for_sale = {machine.name: machine for machine in (*machines_for_sale(), *at_hand) if machine.whose == FOR_SALE}
    return [
        *tools,
        *(("borrow", machine) for machine in _lendable(at_hand) if "small" in machine.name or "drill" in machine.name),
        *(("buy", one) for one in for_sale.values()),
    ]


# --- what a change would be worth ----------------------------------------------------------------------------
def offers_here(evaluation: Evaluation) -> tuple[Offer, ...]:
    """What to send out first: parts got by another way, the cheapest saved hour first; nothing if a chosen way is not open."""
    choices = choices_here(evaluation)
    mix = mix_here(evaluation, choices)
    return plan.send_out_first(choices, mix) if mix else ()


def worth_of_an_hour_a_month(evaluation: Evaluation, months: float) -> tuple[Mix | None, Mix | None, float]:
    """The cheapest mix whose hours are worked off within some months, the same with an hour a month more, and the money that saves a month."""
    return plan.worth_of_hours(choices_here(evaluation), float(evaluation.central["build_hours_can"]), months)


def machines_worth(evaluation: Evaluation) -> tuple[MachineWorth, ...]:
    """What each machine one borrows, or might be lent, is worth at what an hour costs you; the most valuable first.

    Machines at hand are taken away, the others added: those of the demos' invented shops.  A machine without which
    no mix is left is worth more than any sum.
    """
    here = _best_of(evaluation.design)
    wish = both_wished(evaluation)
    lists = evaluation["building"]
    worths = []
    for machine in lists.machines:
        if machine.whose == BORROWED:
            others = tuple(one for one in lists.machines if one is not machine)
            worths.append(_worth(machine.name, _best_of(with_machines(evaluation.design, others)), here, wish))
    for machine in _lendable(lists.machines):
        worths.append(_worth(machine.name, here, _best_of(with_machines(evaluation.design, (*lists.machines, machine))), wish))
    return tuple(sorted(worths, key=lambda one: -one.value))


def _lendable(at_hand: tuple[Machine, ...]) -> list[Machine]:
    names = {machine.name for machine in at_hand}
    found = {
        machine.name: machine
        for demo in ("boat_shed", "cabin", "shared_barn")
        for machine in demo_machines(demo)
        if machine.name not in names and machine.whose != FOR_SALE and "bench" not in machine.name and "hand" not in machine.name
    }
    return [
        replace(machine, whose=BORROWED, brings=(), hours=machine.hours or Range(_LENT, _LENT, _LENT), fee=0.0)
        for machine in found.values()
    ]


def with_machines(design: Design, machines: tuple[Machine, ...]) -> Design:
    """The design with these machines to build with."""
    return replace(design, sheets=replace(design.building, machines=machines))


def _best_of(design: Design) -> tuple[Evaluation, Mix] | None:
    e = evaluate(design)
    try:
        return e, solver.best(choices_here(e), both_wished(e))
    except InputProblem:
        return None


def _worth(name: str, without: tuple[Evaluation, Mix] | None, having: tuple[Evaluation, Mix] | None, wish: Wish) -> MachineWorth:
    if not having:
        return MachineWorth(name, None, 0.0, 0.0, 0.0, 0.0)
    mix = having[1]
    if not without:
        return MachineWorth(name, mix, *(float("inf"),) * 3, mix.borrowed_hours)
    before = without[1]
    could = {one.way.name for one in before_buying(without[0]).open_ways}
    on_it = sum(one.hours for one in mix.chosen if one.sort == "part" and not one.calls and f"{one.part}: {one.how}" not in could)
    return MachineWorth(
        name,
        mix,
        before.cost - mix.cost,
        before.hours - mix.hours,
        plan.value_of(before, wish.hours, wish.company) - plan.value_of(mix, wish.hours, wish.company),
        on_it,
    )
