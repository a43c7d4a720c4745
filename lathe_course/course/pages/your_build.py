"""Chapter 16: one's own build on one page: what is late, what to order, what to take in hand, orders, standing, and signs."""

from __future__ import annotations

from ... import units
from ...design.asked.on_course import YOURS, day_told, month_called, next_in_hand, to_order, whose
from ...design.evaluation import Evaluation
from ...units import LabourTime, Money
from ..shown.panels import Page, paragraphs, tabled
from ..text.values import Heading
from .progress import NO_LOG_YET, head_of, signs_of_life, where_it_stands
from .register import page

_HOURS, _MONEY = LabourTime(), Money()


@page
def your_build(evaluation: Evaluation, log: str = YOURS) -> Page:
    """The whole of a running build; before it has begun, what comes first by the plan."""
    e = whose(evaluation, log)
    if not e.design.log:
        first = ", ".join(name for name, *_ in next_in_hand(e, 3))
        return paragraphs(f"By the plan these come first: {first}.")
    parts = [("This month", this_month(evaluation, log))]
    if e.design.log.orders:
        parts.append(("Orders", orders_kept(evaluation, log)))
    parts += [("Where it stands", where_it_stands(evaluation, log)), ("Signs of life", signs_of_life(evaluation, log))]
    return Page(*(block for title, page in parts for block in (Heading(title, 4), *page.blocks)))


@page
def this_month(evaluation: Evaluation, log: str = YOURS) -> Page:
    """What is late, what to order now, and what to take in hand within a month of today."""
    e = whose(evaluation, log)
    if not e.design.log:
        return paragraphs(NO_LOG_YET)
    kept, gone = e.design.log, float(e["log_months"])
    rows = [
        (
            "late",
            order.part,
            f"{order.late(kept.today)} days past {day_told(order.due)}" + (f", from {order.vendor}" if order.vendor else ""),
        )
        for order in kept.late_orders
    ]
    rows += [
        ("order now", name, f"to have it by {month_called(e, gone + begins)}")
        for name, begins, latest in to_order(e)
        if latest <= 1.0
    ]
    rows += [
        ("in hand", name, units.shown(hours, _HOURS, e.design.system))
        for name, begins, _, hours, _ in next_in_hand(e, len(e["rest_schedule"].network.names))
        if begins <= gone + 1.0
    ]
    return paragraphs(
        *head_of(e, log),
        f"As of {day_told(kept.today)}; money in hand {e.shown('purse')}, of which {e.shown('money_owed')} is owed for orders.",
    ) + (
        tabled(rows, ("", "what", ""))
        if rows
        else paragraphs("Nothing is late, nothing need be ordered, and nothing can be taken in hand this month.")
    )


@page
def orders_kept(evaluation: Evaluation, log: str = YOURS) -> Page:
    """Every order that stands: from whom, at what price, when it was to come and came, what was paid and is owed, and its receipts; what has not come is told first."""
    e = whose(evaluation, log)
    kept, system = e.design.log, e.design.system
    if not kept:
        return paragraphs(NO_LOG_YET)
    if not kept.orders:
        return paragraphs(*head_of(e, log), "Nothing is on order.")

    def money(amount: float | None) -> str:
        return "" if amount is None else units.shown(amount, _MONEY, system)

    def when(order) -> str:
        if order.delivered is not None:
            return f"came {day_told(order.delivered)}"
        late = order.late(kept.today)
        return (f"due {day_told(order.due)}" if order.due else "no day promised") + (f", {late} days late" if late else "")

    rows = [
        (
            one.part,
            one.vendor,
            day_told(one.ordered),
            when(one),
            money(one.price),
            money(one.paid or None),
            money(one.owed or None),
            ", ".join(one.receipts),
        )
        for one in sorted(kept.orders, key=lambda one: (one.delivered is not None, one.due or one.ordered))
    ]
    return tabled(rows, ("what", "from", "ordered", "", "price", "paid", "owed", "receipts"), (4, 5, 6), before=head_of(e, log))
