"""Chapter 11: what the money goes to, why a list of likely prices is too low, when the purse is empty, and what could be spared."""

from __future__ import annotations

import math

import numpy as np

from ... import units
from ...design.asked.outlook import PLENTY, likely_money, month_name, purse_of, scatter_of_their_own, told_node, with_eased
from ...design.chain.luck import DRAWS
from ...design.evaluation import Evaluation
from ...planning.schedule import HORIZON
from ...units import InputProblem, Months
from ..shown.money import amount, euros, money_name, split_of, whole
from ..shown.panels import Page, paragraphs, tabled
from .register import page

_MONTHS = Months()


def _ends(e: Evaluation, values: np.ndarray) -> str:
    low, high = (units.number(amount(e, end), 2) for end in np.quantile(np.atleast_1d(values), (0.1, 0.9)))
    return low if low == high else f"{low} to {high}"


# --- what it goes to ---------------------------------------------------------------------------------------
@page
def money_split(evaluation: Evaluation) -> Page:
    """What the money goes to, with its range and its share, and what later work carries of it."""
    if lost := evaluation.central.cause("cash_total"):
        return paragraphs(lost)
    e, sure = evaluation.drawn(DRAWS), evaluation.central
    total = float(np.mean(e["cash_total"]))
    rows = [
        (words, whole(e, float(np.mean(value))), _ends(e, value), f"{float(np.mean(value)) / total:.0%}")
        for words, value in split_of(e).items()
    ]
    rows.append(("all that is paid", whole(e, total), _ends(e, e["cash_total"]), "100%"))
    said = [
        f"Of the {euros(e, float(np.mean(e['tools_money'])))} for what is bought beside the parts, later work carries {euros(e, float(np.mean(e['tools_shared'])))}: "
        f"it must be paid, but the lathe need not be charged with it. The lathe itself then costs {euros(e, float(np.mean(e['charged_total'])))}."
    ]
    if float(sure["machine_resale"]) > 0:
        said.append(
            f"Of that sum {euros(e, float(np.mean(e['machine_resale'])))} is likely to come back when the machines bought for the build are sold again, after the lathe is done; until then it is "
            f"tied up, and the monthly sums count with none of it. In the end {euros(e, float(np.mean(e['cash_in_the_end'])))} have gone."
        )
    head = ("what", f"on average [{money_name(e)}]", f"four fifths of builds [{money_name(e)}]", "share")
    return tabled(rows, head, (1, 2, 3), after=said)


# --- why the list is too low ---------------------------------------------------------------------------------
@page
def why_the_list_is_too_low(evaluation: Evaluation) -> Page:
    """The sum of all likely prices, the average, and what suffices as often as you asked, each with how often it suffices."""
    if lost := evaluation.central.cause("cash_total"):
        return paragraphs(lost)
    e, sure = evaluation.drawn(DRAWS), evaluation.central
    paid = np.asarray(e["cash_total"])
    wanted = float(np.median(sure["confidence"]))
    steps = [
        ("every price at its likely figure, added up", likely_money(e)),
        ("the average of many builds", float(e["cash_average"])),
        (f"what suffices in {wanted:.0%} of builds", float(e["money_needed"])),
    ]
    rows = [(words, whole(e, money), f"{float((paid <= money).mean()):.0%}") for words, money in steps]
    own = scatter_of_their_own(sure)
    said = [
        f"Likely prices suffice seldom, for there is more room above them than below: what likely costs 70 may cost 40 or 130. The contingency, {euros(e, float(e['contingency']))}, "
        "comes on top of the average, not of the likely figures.",
        f"If every thing had luck of its own, dear and cheap would even out and the sum would scatter by {euros(e, own, 2)} either way. But one level of prices carries them all: "
        f"with it the sum scatters by {euros(e, float(sure['cash_spread']), 2)}.",
    ]
    return tabled(rows, ("sum", f"[{money_name(e)}]", "suffices in"), (1, 2), after=said)


# --- the purse -----------------------------------------------------------------------------------------------
@page
def purse_beside_bills(evaluation: Evaluation) -> Page:
    """The month the purse is empty if everything is ordered as the hands want it, what is due then, and what would mend it."""
    e, sure = evaluation.drawn(DRAWS), evaluation.central
    rows = [_purse_row(e, sure, should) for should in (False, True)]
    head = ("money a month", "", "empty in", "of a hundred builds", "what is due then", f"missing at worst [{money_name(e)}]")
    note = "Every figure at its middling value, but for the builds of a hundred; year 1 is the one in which you begin."
    return tabled(rows, head, (3, 5), after=[*_mending(sure), note])


def _purse_row(e: Evaluation, sure: Evaluation, should: bool) -> tuple[str, ...]:
    many, one = purse_of(e, should=should), purse_of(sure, should=should)
    name = "should" if should else "can"
    bill = told_node(sure["build_work"].network.names[int(one.bill[0])]) if one.bill[0] >= 0 else "–"
    when = (
        f"month {units.number(float(one.empty[0]), 2)}, {month_name(sure, one.empty[0])}"
        if np.isfinite(one.empty[0])
        else "never"
    )
    return (
        f"what you {name} spend",
        f"{euros(sure, float(sure[f'money_{name}']))} a month",
        when,
        f"{float(np.isfinite(many.empty).mean()) * 100:.0f}",
        bill,
        whole(e, float(one.deepest[0])),
    )


def _at_least(e: Evaluation, si: float) -> str:
    """A sum that suffices: rounded up, so that whoever follows it is not short by the rounding."""
    sum_of_it = amount(e, si)
    step = 10.0 ** max(math.floor(math.log10(max(sum_of_it, 1.0))) - 2, 0)
    return f"{units.number(math.ceil(sum_of_it / step - 1e-9) * step, 4)} {money_name(e)}"


def _mending(e: Evaluation) -> list[str]:
    """What would keep the hands from waiting for money, each by itself."""
    one = purse_of(e)
    if not np.isfinite(one.empty[0]):
        return ["At what you can spend and likely prices the hands never wait for money."]
    income, missing = float(e["money_can"]), float(one.deepest[0])
    ways = [f"{_at_least(e, missing)} more put by at the start"]
    if np.isfinite(one.a_month[0]):
        ways.append(f"{_at_least(e, float(one.a_month[0]))} a month in place of {euros(e, income)}")
    if missing / income < HORIZON:
        ways.append(f"saving for {units.shown(missing / income, _MONTHS, digits=2)} before the first hour is worked")
    end = float(e["months_to_finish"])
    if e["parts_stuck"]:
        return [
            f"Either of these would keep the purse from being empty: {'; '.join(ways)}. But a part cannot be had as chosen, and so the build never ends (chapter 10)."
        ]
    if not np.isfinite(end):
        return [
            f"Left as it is, the build stops there for good: the rest would not come together in {HORIZON // 12} years. "
            f"{'Either of these' if len(ways) == 2 else 'Any of these'} would mend it: {'; '.join(ways)}. So would ways that cost less (chapter 10)."
        ]
    delay = end - float(with_eased(e, money=PLENTY).end[0])
    cost = (
        "hardly moves the end, for the hands have other work meanwhile"
        if delay < 0.5
        else f"moves the end by {units.shown(delay, _MONTHS, digits=2)}"
    )
    return [f"Any one of these would mend it: {'; '.join(ways)}. Left as it is, the hands wait for the money, which {cost}."]


# --- what could be spared --------------------------------------------------------------------------------------
@page
def spared(evaluation: Evaluation, most: str = "10") -> Page:
    """The dearest things to buy beside the parts: what each costs, what later work carries of it, and the months of money it takes.

    Raises InputProblem for a number that cannot be read.
    """
    if not str(most).isdigit() or int(most) < 1:
        raise InputProblem.about("most", f"{most!r} is no number of rows; write for example 10.")
    e = evaluation.central
    money, things, rate = e["item_money"]["money"], e["item_money"]["things"], float(e["money_can"])
    order = np.argsort(-np.asarray(money))[: int(most)]
    rows = [
        (
            things[place].name,
            things[place].sort,
            whole(e, float(money[place])),
            f"{things[place].other_uses:.0%}",
            units.number(float(money[place]) / rate, 2) if rate > 1e-6 else "–",
        )
        for place in order
    ]
    lent = sum(float(money[place]) for place, item in enumerate(things) if item.sort == "tool" and item.other_uses >= 0.5)
    said = [
        f"What is borrowed, or bought together with a neighbour, comes off this list. The tools of which later work carries half or more come to {euros(e, lent)}: ask for the loan of those first."
    ]
    if rate > 1e-6:
        said[0] += (
            f" All of them borrowed, the money is together {units.shown(lent / rate, _MONTHS, digits=2)} sooner at what you can spend."
        )
    said.append("Eye, ear and dust protection is the last thing to save on, and what lifts a load must be rated for it.")
    head = ("thing", "sort", f"[{money_name(e)}]", "carried by later work", "months of money")
    return tabled(rows, head, (2, 3, 4), after=said)
