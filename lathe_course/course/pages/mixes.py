"""Chapter 10: the best mixes of ways, played through with luck, and what a change would be worth."""

from __future__ import annotations

import math
from collections.abc import Iterable

import numpy as np

from ...design.asked.in_iron import of_ways
from ...design.asked.mixes import (
    PROVEN,
    before_buying,
    choices_here,
    compared,
    first_machines,
    machines_worth,
    mixes_simulated,
    months_of,
    offers_here,
    saved_next,
    three_builds,
    worth_of_an_hour_a_month,
)
from ...design.chain.luck import DRAWS
from ...design.design import Design
from ...design.evaluation import Evaluation, evaluate
from ...planning.capabilities import FOR_SALE
from ...planning.mix import WEEKS_IN_A_MONTH, Mix, Wish, best
from ...planning.parts import BORROW, BUY, HARD, MAKE, OUT, USED
from ...planning.second_hand import course_finds, find_for
from ...planning.shops import Machine
from ...units import InputProblem
from ..shown.money import amount, euros, money_name, whole
from ..shown.panels import Page, how_to_read, paragraphs, tabled
from ..text.values import Fold
from .parts import SHORT, skill_moves, where_all_can_be_had
from .register import page

_COUNTED = ((MAKE, HARD), (OUT,), (BUY,), (USED,), (BORROW,))


def _counts(mix: Mix) -> tuple[str, ...]:
    return tuple(str(sum(mix.counts().get(how, 0) for how in group)) for group in _COUNTED)


def _whole(value: float) -> str:
    return f"{value:.0f}".replace("-", "−")


@page
@where_all_can_be_had
def best_mixes(evaluation: Evaluation) -> Page:
    """The best mix of ways for each wish, beside your own."""
    rows, made_by = [], []
    for name, mix in compared(evaluation).items():
        made = of_ways(evaluation, mix.hows)
        rows.append(
            (
                name,
                whole(evaluation, mix.money, 6),
                whole(evaluation, mix.cost, 6),
                _whole(mix.hours),
                f"{mix.weeks:.0f}",
                f"{months_of(evaluation, mix):.0f}",
                made.shown("size_error", 2),
                made.shown("set_taper", 2),
            )
        )
        proven = "proven" if mix.proven and name in PROVEN else ""
        made_by.append((name, *_counts(mix), str(len(mix.on_the_lathe)), proven))
    money = money_name(evaluation)
    value = f"{_hour_told(evaluation)} That is what weighs hours against money in the row of both together."
    if (gain := float(evaluation.central["company_gain"])) > 0.5:
        value += f" An hour on a borrowed machine, among others, counts {whole(evaluation, gain)} {money} better."
    proof = (
        "Hours are your own; weeks, the longest wait for a part, on average; by itself, how many of the parts made here are made on the half-built lathe. Fees of borrowed machines are in the "
        "money, by the months of use. In the end: less what machines bought for the build fetch when they are sold again. Proven: the solver has shown that no "
        "other choice of ways does better, at the middling figures. Months by sums: until hours, money and the longest wait have all come in, as if nothing ever stood in another's way; "
        "error, what give leaves on the diameter; taper, what is left along the slimmest work once all is set: a way that spares money or hours may cost micrometres; "
        "the last row is the best of those that were played through task by task, and no proof."
    )
    head = ("wish", f"{money} paid", "in the end", "hours", "weeks", "months by sums", "error", "taper")
    ways = ("wish", "here", "outside", "bought", "second-hand", "borrowed", "by itself", "")
    counted = Fold("How many parts come by which way, and what is proven", tabled(made_by, ways, range(1, 7)).blocks, told=True)
    page = tabled(rows, head, range(1, 8), before=(value, *_machines_told(evaluation)))
    return page + Page(counted) + how_to_read(proof)


def _hour_told(evaluation: Evaluation) -> str:
    """What an hour costs by the reasons, with one sign everywhere: below zero it is a gain."""
    hour = float(evaluation.central["hour_cost"])
    gain = " Below zero: the hour itself is a gain to you." if hour < 0 else ""
    return f"By your reasons an hour costs you {whole(evaluation, hour)} {money_name(evaluation)}.{gain}"


def _machines_told(evaluation: Evaluation) -> tuple[str, ...]:
    """Which machines that are for sale the best mixes buy."""
    said = []
    for name, mix in compared(evaluation).items():
        if mix.bought_machines:
            said.append(
                f"{name[0].upper()}{name[1:]} buys {' and '.join(f'a {one}' for one in mix.bought_machines)}: {whole(evaluation, sum(one.money for one in mix.chosen if one.sort == 'machine'))} "
                f"{money_name(evaluation)} paid, {whole(evaluation, mix.back)} back when it is sold again."
            )
    return tuple(said) or (
        "No machine that is for sale is worth buying for this build, whether it is sold again or not: what it would save is less than what it costs in the end.",
    )


@page
@where_all_can_be_had
def mixes_played(evaluation: Evaluation) -> Page:
    """Each of these mixes in many builds, with luck."""
    alike: dict[tuple, list[str]] = {}
    mixes: dict[tuple, Mix] = {}
    for name, mix in compared(evaluation).items():
        key = tuple(sorted(mix.hows.items()))
        alike.setdefault(key, []).append(name)
        mixes[key] = mix
    played = mixes_simulated(evaluation.design, mixes.values(), DRAWS)
    rows = [
        (
            ", ".join(alike[key]),
            *(_month(one) for one in found.months),
            *(whole(evaluation, one, 6) for one in found.money),
            f"{found.in_time:.0%}",
        )
        for key, found in zip(mixes, played)
    ]
    said = f"Each mix in {DRAWS} builds, every part with the same luck in all of them. In time: before your patience of {evaluation.shown('patience')} ends."
    return tabled(
        rows,
        (
            "mix",
            "months, half are done by",
            "nine of ten by",
            f"{money_name(evaluation)}, half need at most",
            "nine of ten",
            "in time",
        ),
        (1, 2, 3, 4, 5),
        before=(said,),
    )


def _month(months: float) -> str:
    return _whole(months) if math.isfinite(months) else "never"


@page
@where_all_can_be_had
def worth_a_change(evaluation: Evaluation, most: int = 6) -> Page:
    """What to send out first, what an hour more a month is worth, which borrowed machine is worth most, and what practice does."""
    pages = [_sent_out(evaluation, most), _hour_more(evaluation), _machines(evaluation), skill_moves(evaluation)]
    return Page(*pages)


#: hours so few that money shared out among them tells nothing
_NO_HOURS = 0.5


def _sent_out(evaluation: Evaluation, most: int) -> Page:
    money = money_name(evaluation)
    rows = [
        (
            offer.part,
            SHORT[offer.now],
            SHORT[offer.instead],
            f"{offer.hours:.1f}",
            whole(evaluation, offer.money),
            "–" if offer.hours < _NO_HOURS else f"{amount(evaluation, offer.per_hour):.1f}".replace("-", "−"),
        )
        for offer in offers_here(evaluation)[:most]
    ]
    if not rows:
        said = "Nothing in your mix saves hours by another way."
        return paragraphs(said)
    said = "To send out or buy first: where an hour of yours is saved for least money. A negative figure saves money as well."
    return tabled(
        rows, ("part", "now", "instead", "hours saved", f"{money} more", f"{money} for each hour"), (3, 4, 5), before=(said,)
    )


def _hour_more(evaluation: Evaluation) -> Page:
    months = float(evaluation.central["months_to_finish"])
    if not math.isfinite(months):
        said = "The build never ends as it stands, so an hour more a month has no price yet."
    else:
        now, _, worth = worth_of_an_hour_a_month(evaluation, months)
        if math.isinf(worth):
            said = f"One hour more a month is what makes any mix possible within {months:.0f} months."
        elif math.isnan(worth):
            said = f"Even with an hour more a month no mix is done within {months:.0f} months."
        elif worth < 0.005:
            said = f"One hour more a month saves no money: within the {months:.0f} months your build takes, even the cheapest mix has hours enough ({now.hours:.0f} h)."
        else:
            said = f"One hour more a month is worth {amount(evaluation, worth):.2g} {money_name(evaluation)} a month: within the {months:.0f} months your build takes, more of it could then be made here."
    return paragraphs(said)


def _machines(evaluation: Evaluation) -> Page:
    evening, money = float(evaluation.central["session_hours"]), money_name(evaluation)
    at_hand = {machine.name for machine in evaluation["building"].machines}
    rows = []
    for one in machines_worth(evaluation):
        if not one.value > 0.5:
            continue
        value = "without it a part is lacking" if math.isinf(one.value) else whole(evaluation, one.value)
        evenings = whole(evaluation, one.per_evening(evening)) if one.hours_on_it > 0 and math.isfinite(one.value) else ""
        rows.append(
            (
                one.machine,
                "borrowed now" if one.machine in at_hand else "if it were lent",
                value,
                f"{one.hours_on_it:.0f}" if one.hours_on_it else "",
                evenings,
            )
        )
    if not rows:
        said = "No machine one might borrow would make your best mix cheaper."
        return paragraphs(said)
    said = (
        f"What a borrowed machine is worth, in money and hours together, before any fee; an evening is {evening:g} h. Those you do not have are from the invented shops of "
        "the demos. Where no hours stand, it is what comes with the machine that need not be bought."
    )
    return tabled(rows, ("machine", "", money, "hours on it", f"{money} an evening"), (2, 3, 4), before=(said,))


# --- thrifty, middling, ready-made ---------------------------------------------------------------------------------
@page
@where_all_can_be_had
def three_builds_compared(evaluation: Evaluation) -> Page:
    """The same lathe thrifty, in between and ready-made, side by side, each in many builds; and what the thrifty one asks of whoever builds it."""
    e, rows, builds = evaluation.central, [], three_builds(evaluation)
    for name, design in {**builds, "yours": evaluation.design}.items():
        many = evaluate(design, DRAWS)
        spread = {
            figure: np.broadcast_to(np.asarray(many[figure], float), (DRAWS,))
            for figure in ("cash_total", "cash_in_the_end", "own_hours", "longest_wait", "months_to_finish")
        }
        half, nine = (
            {figure: float(np.quantile(values, share, method="higher")) for figure, values in spread.items()}
            for share in (0.5, 0.9)
        )
        found = sum(one.way.how == USED for one in many["ways_chosen"]) + sum(item.how == USED for item in many["things_to_buy"])
        rows.append(
            (
                name,
                whole(e, half["cash_total"], 6),
                whole(e, nine["cash_total"], 6),
                whole(e, half["cash_in_the_end"], 6),
                _whole(half["own_hours"]),
                _whole(nine["longest_wait"] * WEEKS_IN_A_MONTH),
                _month(half["months_to_finish"]),
                _month(nine["months_to_finish"]),
                f"{float(np.mean(spread['months_to_finish'] <= e['patience'])):.0%}",
                str(found),
            )
        )
    money = money_name(e)
    head = (
        "build",
        f"{money} paid, half need at most",
        "nine of ten",
        "in the end",
        "hours",
        "longest wait, weeks, nine of ten",
        "months, half",
        "nine of ten",
        "in time",
        "found second-hand",
    )
    said = (
        "Thrifty is the least money, ready-made the fewest own hours, in between the least money with the hours half-way; each is proven at middling figures, and played through here. "
        f"A used lathe of this size, bought to be put in order, is said to cost about {e.shown('used_price')} and {e.shown('used_hours')}."
    )
    return tabled(rows, head, tuple(range(1, 10)), before=(said,), after=_asked_of_the_thrifty(builds["thrifty"]))


def _asked_of_the_thrifty(design: Design) -> tuple[str, ...]:
    """What is found, what it settles and the cautions; and what lending saves."""
    e = evaluate(design)
    parts = [one.way.part for one in e["ways_chosen"] if one.way.how == USED]
    things = [item for item in e["things_to_buy"] if item.how == USED]
    finds = {find.sort: find for find in (find_for(part) for part in parts) if find} | {
        item.second_hand: course_finds()[item.second_hand] for item in things
    }
    if not finds:
        return ("Nothing is found second-hand in it.",)
    told = [
        f"The thrifty build finds second-hand: {', '.join([*parts, *(item.name for item in things)])}. Find before you draw, for a find settles sizes; name a day on which you stop looking and buy new."
    ]
    told += [f"{find.sort[0].upper()}{find.sort[1:]}: {find.caution}" for find in finds.values() if find.caution]
    return (*told, "Local rules and licensed practice come before this page.")


# --- where to begin -----------------------------------------------------------------------------------------------
_HOW_TO = {"gather": "Come by", "borrow": "Borrow, or find a club that lends, a", "buy": "Buy a"}


@page
def where_to_begin(evaluation: Evaluation) -> Page:
    """With no machine, or too little at hand: what to gather, borrow or buy first, by name; and the smallest lathe that way."""
    steps, design = first_machines(evaluation.central)
    if design is None:
        lines = [
            "Not even with hand tools, a club's machines and used machines could every part be had; a smaller lathe or another form of bed may help.",
            *(f"{line[0].upper()}{line[1:]}" for line in before_buying(evaluation.central).told(evaluation.design.system)),
        ]
    elif not steps:
        missing = [one.way.part for one in evaluation.central["ways_chosen"] if one.missing]
        lines = ["With what is at hand every part can be had by some way."]
        if missing:
            lines.append(
                f"But not as you chose: {', '.join(missing)}. The build never ends as it stands; take another way for these below."
            )
        design = evaluation.design
    else:
        at_hand = [machine.name for machine in evaluation["building"].machines if machine.whose != FOR_SALE]
        lines = [
            f"{'No machine is at hand' if not at_hand else 'With what is at hand'}, and so these cannot be had: {', '.join(before_buying(evaluation.central).stuck)}. What to do first:"
        ]
        lines += [
            f"{number}. {_HOW_TO[step.how]} {step.machine.name}{_price_of(evaluation, step.machine)}; with it can be had: {', '.join(step.opens)}."
            for number, step in enumerate(steps, start=1)
        ]
    if design is not None:
        worth = [
            f"{_HOW_TO[how].lower()} {machine.name} ({whole(evaluation, saved)} {money_name(evaluation)})"
            for how, machine, saved in _told_once(saved_next(design))
        ]
        lines += [f"What would save most money next, before any fee: {'; '.join(worth)}."] if worth else []
        lines += _smallest(design)
    return paragraphs(*lines)


def _told_once(offers: Iterable[tuple[str, Machine, float]]) -> list[tuple[str, Machine, float]]:
    """A small mill, and not a small mill of a club once more behind it."""
    found: list[tuple[str, Machine, float]] = []
    for one in offers:
        if not any(one[1].name.startswith(before[1].name) for before in found):
            found.append(one)
    return found


def _price_of(evaluation: Evaluation, machine: Machine) -> str:
    return (
        f" ({whole(evaluation, machine.price.low)} to {whole(evaluation, machine.price.high)} {money_name(evaluation)})"
        if machine.price
        else ""
    )


def _smallest(design: Design) -> list[str]:
    """The smallest lathe with these machines, by the least money, beside the same at one's own size."""
    height, length = (design.chain.decisions[name] for name in ("centre_height", "between_centres"))
    small = (_mixed(design.trying(centre_height=size, between_centres=length.values()[0])) for size in height.values())
    told = {"The smallest lathe that way": next(filter(None, small), None), "Yours": _mixed(design)}
    said = []
    for name, (built, mix) in ((name, one) for name, one in told.items() if one):
        bought = f", with a {' and a '.join(mix.bought_machines)} bought" if mix.bought_machines else ""
        said.append(
            f"{name}, with a centre height of {built.shown('centre_height')} and {built.shown('between_centres')} between centres, by the least money{bought}: {euros(built, mix.cost)}, "
            f"{_whole(mix.hours)} h, first chips after {_month(float(np.squeeze(built['months_to_first_chips'])))} months, done after {_month(float(np.squeeze(built['months_to_finish'])))}."
        )
    return said


def _mixed(design: Design) -> tuple[Evaluation, Mix] | None:
    """A design by its mix of least money; None where some part cannot be had at its size."""
    e = evaluate(design)
    try:
        mix = best(choices_here(e), Wish(money=1.0))
    except InputProblem:
        return None
    return evaluate(design.with_ways(**mix.hows), earlier=e), mix
