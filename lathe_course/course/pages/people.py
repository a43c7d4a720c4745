"""Chapter 13: whose it is, what parting costs, what each brings, and what the building brings beside the lathe."""

from __future__ import annotations

import numpy as np

from ...design.asked.mixes import both_wished, choices_here, with_machines
from ...design.chapters.people import BENEFITS
from ...design.design import Design
from ...design.evaluation import Evaluation, evaluate
from ...design.lathe import LATHE
from ...planning.capabilities import read_capabilities
from ...planning.mix import Mix, best
from ...planning.shops import Machine
from ...units import HourPrice, HoursRate, InputProblem, LabourTime, Money, MoneyRate, Ratio
from ..pictures.axes import shown as _shown
from ..shown.panels import Page, paragraphs, tabled
from .register import page

_NOBODY = "Nobody is written down yet; where you build alone, nothing is to be shared out."


@page
def partners_told(evaluation: Evaluation) -> Page:
    """Each partner's hours, money and share, what one who leaves is due, what is agreed, and what each one's machines are worth."""
    e = evaluation.central
    rows_of = e["partners_readings"]
    if not rows_of:
        return paragraphs(_NOBODY)
    shares = np.atleast_1d(e["partner_shares"])
    rows = []
    for row, put, share, due in zip(rows_of, np.atleast_1d(e["put_in_monthly"]), shares, np.atleast_1d(e["partner_dues"])):
        rows.append(
            (
                row["name"],
                _shown(e, row["hours"], HoursRate("h/month")),
                _shown(e, row["money"], MoneyRate("EUR/month")),
                _shown(e, put, MoneyRate("EUR/month")),
                _shown(e, share, Ratio("%"), 2),
                _shown(e, due, Money(), 2),
            )
        )
    head = ("partner", "hours", "money", "put in, hours counted", "share", "due on leaving")
    said = (
        f"An hour counts {_shown(e, e['hour_rate'], HourPrice('EUR/h'))}. Due on leaving: the share of what such a lathe fetches used, {e.shown('used_price')}, "
        f"less {e.shown('leaving_discount')}."
    )
    kept = (
        f"Agreed: {e['whose_lathe']}."
        if e["whose_lathe"].strip()
        else "Whose it is, where it stands and who may use it when is not written down yet."
    )
    law = "No legal advice: sign one page before the first hour, and ask where you live what holds."
    brought = partners_bring(e) if any(row["brings"] for row in rows_of) else Page()
    return tabled(rows, head, (1, 2, 3, 4, 5), after=[said, kept, law]) + brought


# --- what each brings --------------------------------------------------------------------------------------------
def _split(text: str, machines: tuple[Machine, ...]) -> tuple[list[Machine], list[str]]:
    """What a partner brings: machines of the list by name, and the rest in words."""
    names = {machine.name.lower(): machine for machine in machines}
    pieces = [piece.strip() for piece in text.split("+") if piece.strip()]
    return [names[piece.lower()] for piece in pieces if piece.lower() in names], [
        piece for piece in pieces if piece.lower() not in names
    ]


def _best(design: Design) -> Mix | None:
    e = evaluate(design)
    return None if e["ways_open"].stuck else best(choices_here(e), both_wished(e))


@page
def partners_bring(evaluation: Evaluation) -> Page:
    """What the machines of each partner are worth to the build: the best mix with them and without."""
    e = evaluation.central
    bringing = [row for row in e["partners_readings"] if row["brings"]]
    if not bringing:
        return paragraphs("Nobody is written down who brings a machine." if e["partners_readings"] else _NOBODY)
    machines, rows, unread = e["building"].machines, [], []
    for row in bringing:
        listed, more = _split(row["brings"], machines)
        try:
            added = tuple(Machine(f"{row['name']}: {one}", "own", one) for one in more if read_capabilities(one, row["name"]))
        except InputProblem as problem:
            unread.append(f"{row['name']}: {problem}")
            added = ()
        without = _best(with_machines(e.design, tuple(one for one in machines if one not in listed)))
        having = _best(with_machines(e.design, (*machines, *added)))
        rows.append((row["name"], row["brings"], *_difference(e, without, having)))
    head = ("partner", "brings", "money saved", "own hours saved", "parts that change way")
    said = f"The best mix with a partner's machines against the best without them, at what an hour costs you, {e.shown('hour_cost')}; both proven."
    return tabled(rows, head, (2, 3, 4), after=[said, *unread])


def _difference(e: Evaluation, without: Mix | None, having: Mix | None) -> tuple[str, str, str]:
    if having is None:
        return "no mix", "", ""
    if without is None:
        return "without it no mix is left", "", ""
    return (
        _shown(e, without.cost - having.cost, Money()),
        _shown(e, without.hours - having.hours, LabourTime("h")),
        str(len(without.changes(having))),
    )


# --- side benefits ------------------------------------------------------------------------------------------------
@page
def side_benefits(evaluation: Evaluation) -> Page:
    """Each side benefit beside the reason of chapter 01 that it can raise, what counts of both, and what an hour costs with them and without."""
    e = evaluation.central
    rows = []
    for benefit, reason in BENEFITS.items():
        hoped = float(e[reason]) if reason else 0.0
        rows.append(
            (
                LATHE.part(benefit).label,
                f"{float(e[benefit]):.0f}",
                LATHE.part(reason).label if reason else "none",
                f"{hoped:.0f}" if reason else "",
                f"{max(hoped, float(e[benefit])):.0f}",
            )
        )
    head = ("found while building", "weight", "hoped for in chapter 01", "weight", "counts")
    before = evaluate(e.design.trying(**dict.fromkeys(BENEFITS, 0.0)), earlier=e)
    said = (
        f"An hour of building costs you {e.shown('hour_cost')}; by the reasons of chapter 01 alone it would be {before.shown('hour_cost')}. "
        "The larger of both counts, so nothing is counted twice. Where less came than was hoped for, lower the reason in chapter 01."
    )
    return tabled(rows, head, (1, 3, 4), after=(said,))
