"""Chapter 12: milestones by date, the odds of being done, what governs, and what held the work up."""

from __future__ import annotations

import itertools

import numpy as np

from ... import units
from ...design.asked.outlook import PLENTY, Held, hands_time, held_up, longest_chain, month_name, told_node, with_eased
from ...design.chain.luck import DRAWS
from ...design.evaluation import Evaluation, evaluate
from ...units import InputProblem, Months
from ..shown.panels import Page, paragraphs, tabled
from .register import page

_MONTHS = Months()


#: months that count as none
_NO_TIME = 0.05


def _months(value: float, digits: int = 3) -> str:
    return units.number(0.0 if abs(value) < _NO_TIME else value, digits) if np.isfinite(value) else "never"


def _four_fifths(values: np.ndarray) -> str:
    low, high = (_months(float(end), 2) for end in np.quantile(values, (0.1, 0.9), method="nearest"))
    return low if low == high else f"{low} to {high}"


def _middle(values: np.ndarray) -> float:
    return float(np.quantile(values, 0.5, method="nearest"))


def _promised(odds: float) -> str:
    """Odds in whole hundredths; nothing is promised outright, nor ruled out."""
    return "more than 99%" if odds > 0.995 else "less than 1%" if odds < 0.005 else f"{odds:.0%}"


# --- milestones ----------------------------------------------------------------------------------------------
_MILESTONES = ("milestone", "month", "date", "four fifths", "since the last")


@page
def milestones_by_date(evaluation: Evaluation) -> Page:
    """When each milestone is reached, as month and as date, and how long nothing was reached before it."""
    e = evaluation.drawn(DRAWS)
    plan, rows, stretches = e["build_schedule"], [], {}
    reached = {name: plan.done_by((node,)) for name, node in e["build_layout"].milestones.items()}
    last = 0.0
    for name, months in sorted(reached.items(), key=lambda one: _middle(one[1])):
        middle = _middle(months)
        stretches[name] = middle - last if np.isfinite(middle) else np.inf
        rows.append((name, _months(middle), month_name(e, middle), _four_fifths(months), _months(stretches[name], 2)))
        last = middle
    longest = max(stretches, key=stretches.get)
    if not np.isfinite(stretches[longest]):
        return tabled(
            rows,
            _MILESTONES,
            (1, 3, 4),
            after=[f"“{longest}” is never reached at what you can spend: the page of the budget says what stops it."],
        )
    said = [
        "Months from the start by which half of the builds are there, and those of four fifths of builds. Year 1 is the one in which you begin.",
        f"The longest stretch is the one before “{longest}”. Set yourself something to show half way through it: a part finished, a measurement taken, an evening with guests.",
    ]
    return tabled(rows, _MILESTONES, (1, 3, 4), after=said)


# --- odds ----------------------------------------------------------------------------------------------------
@page
def odds_of_being_done(evaluation: Evaluation, by: str = "") -> Page:
    """The months by which half, four fifths and nine tenths of builds are done, and the odds by your patience, or ``by`` a month you name.

    Raises InputProblem for a month that cannot be read.
    """
    e, sure = evaluation.drawn(DRAWS), evaluation.central
    date = units.read(by, _MONTHS, "by") if by else float(np.median(sure["patience"]))
    if not date > 0:
        raise InputProblem.about("by", f"{by!r} is not ahead of you; write months from the start, for example '30 months'.")
    asked = f"by month {units.number(date)}"
    rows = []
    for words, name in (
        ("with what you can spend", "months_to_finish"),
        ("with what you should spend", "months_to_finish_should"),
    ):
        ends = np.atleast_1d(e[name])
        rows.append(
            (
                words,
                *(_months(float(np.quantile(ends, share, method="nearest"))) for share in (0.5, 0.8, 0.9)),
                f"{float((ends <= date).mean()):.0%}",
            )
        )
    ends = np.atleast_1d(e["months_to_finish"])
    single = float(sure["months_to_finish"])
    chain, mean, spread, odds = longest_chain(e, date)
    told = [
        "The plan with every figure at its middling value never ends: a part cannot be had, or the money never comes together."
    ]
    if np.isfinite(single):
        told = [
            f"The plan with every figure at its middling value ends in month {_months(single)}; {float((ends <= single).mean()):.0%} of builds are done by then."
        ]
    told.append(
        f"The longest chain alone, {len(chain)} steps from “{told_node(chain[0])}” to “{told_node(chain[-1])}”, would take {units.shown(mean, _MONTHS)} give or take "
        f"{units.shown(spread, _MONTHS, digits=2)}, and promise {_promised(odds)} {asked}. It gives each part a pair of hands of its own and waits for no money, so it knows nothing of your evenings."
    )
    return tabled(
        rows, ("plan", "half done by month", "four fifths by", "nine tenths by", f"odds {asked}"), (1, 2, 3, 4), after=told
    )


# --- hours or money ------------------------------------------------------------------------------------------
#: what is made easy, as it is told, and how
_EASED = {
    "as they stand": {},
    "if there were money without end": {"money": PLENTY},
    "if there were hours without end": {"hours": PLENTY},
    "if all came the day it is ordered": {"waits": 0.0},
    "if borrowed machines stood ready": {"evenings": 0.0},
    "without months away": {"away": False},
    "with a fifth more hours": {"hours": 1.2},
    "with a fifth more money": {"money": 1.2},
}


def eased_one_by_one(e: Evaluation) -> dict[str, np.ndarray]:
    """The end of each build with one thing made easy at a time; what makes no difference by its nature is left out."""
    away = min(e["calendar"].share) < 1
    borrowed = bool(np.any(e["build_work"].evenings > 0))
    return {
        words: with_eased(e, **how).end
        for words, how in _EASED.items()
        if ("away" not in how or away) and ("evenings" not in how or borrowed)
    }


@page
def what_governs(evaluation: Evaluation) -> Page:
    """Hours or money: the same builds with one thing made easy at a time; then with what one should spend."""
    e = evaluation.drawn(DRAWS)
    ends, patience = eased_one_by_one(e), float(np.median(e.central["patience"]))
    now = _middle(ends["as they stand"])
    rows = []
    for words, months in ends.items():
        middle = _middle(months)
        sooner = "" if words == "as they stand" else _months(now - middle, 2) if np.isfinite(now) else "–"
        rows.append((words, _months(middle), _four_fifths(months), sooner, f"{float((months <= patience).mean()):.0%}"))
    hours, money = (_middle(ends[f"with a fifth more {what}"]) for what in ("hours", "money"))
    if not np.isfinite(now):
        told = "Half of these builds never end. " + (
            "Money is what stops them."
            if np.isfinite(_middle(ends["if there were money without end"]))
            else "More than money stops them."
        )
    elif abs(hours - money) < 0.03 * now:
        told = f"Hours and money govern together: a fifth more of either alone brings {_months(now - min(hours, money), 2)} months at most. It takes some of both."
    else:
        what, much = ("Hours", now - hours) if hours < money else ("Money", now - money)
        other = _months(now - max(hours, money), 2)
        told = f"{what} govern{'s' if what == 'Money' else ''}: a fifth more brings {_months(much, 2)} months, and as much more of the other {'nothing' if other == '0' else other}."
    head = ("the same builds", "half done by", "four fifths", "sooner by", f"odds by month {units.number(patience)}")
    eased, should = tabled(rows, head, (1, 2, 3, 4), after=[told]), _can_and_should(e.central)
    return eased + should


#: the findings that hold what one should spend against the plan
_BALANCE = ("finished_in_balance",)


def _can_and_should(e: Evaluation) -> Page:
    """What one can and what one should spend, why, when it is done with either, and what the findings say of it."""
    design, rows = e.design, []
    for what in ("hours", "money"):
        can, should = f"{what}_can", f"{what}_should"
        less = evaluate(design.trying(**{can: float(e[should])}), earlier=e)
        rows.append(
            (
                what,
                e.shown(can),
                e.shown(should),
                _months(float(less["months_to_finish"])),
                design.choices[should].reason or "no reason written yet",
            )
        )
    rows.append(("both", "", "", _months(float(e["months_to_finish_should"])), ""))
    said = [f"{finding.mark} {finding.status}: {finding.sentence}" for finding in map(e.findings.get, _BALANCE)]
    head = ("", "you can", "you should", "done by month", "because")
    return tabled(
        rows,
        head,
        (1, 2, 3),
        before=[
            f"What you can and what you should, with everything at its middling value. With what you can spend it is done by month {_months(float(e['months_to_finish']))}; "
            "below, with what you should spend of hours, of money, and of both."
        ],
        after=said,
    )


# --- what held it up ---------------------------------------------------------------------------------------
_WHY = {
    "hands": "the hands were busy",
    "borrowed machine": "the borrowed machine was waited for",
    "delivery": "its delivery was waited for",
    "money": "the money for it, and for all that is paid before it, had to be saved",
}


@page
def what_held_it_up(evaluation: Evaluation) -> Page:
    """The chain of waits that ends with the last task, link by link and by name: what each waited for last."""
    e = evaluation.central
    links = held_up(e)
    if not links:
        return paragraphs("At what you can spend it is never done, so nothing leads to its end.")
    rows = []
    for why, group in itertools.groupby(links, key=lambda one: one.why):
        run = list(group)
        rows.append(
            (
                _between(run),
                f"{_months(run[0].begins)} to {_months(run[-1].ends)}",
                _months(run[-1].ends - run[0].begins, 2),
                _WHY[why],
            )
        )
    spent = "; ".join(f"{what} {_months(months, 2)}" for what, months in hands_time(e).items())
    sooner = float(links[-1].ends - with_eased(e, money=PLENTY).end[0])
    said = [
        "With every figure at its middling value. A row says what was waited for last, not that the hands stood still meanwhile. To be done sooner, begin with what stands here; "
        "once it is eased, another chain takes over: "
        + (
            f"with money without end it would come {_months(sooner, 2)} months sooner, and no more."
            if sooner > 0.05
            else "money alone would bring the end no nearer."
        ),
        f"What the hands did until the end, in months, those away included: {spent}.",
    ]
    return tabled(rows, ("what", "months", "long", "because"), (1, 2), after=said)


def _between(run: list[Held]) -> str:
    first, last = told_node(run[0].name), told_node(run[-1].name)
    return first if len(run) == 1 else f"{first} and {last}" if len(run) == 2 else f"{first} … {last}, {len(run)} in all"
