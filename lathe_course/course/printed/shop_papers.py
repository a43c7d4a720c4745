"""Papers for the shop: what to buy as stock and how it is sawn, what to order, what to tick off, and the coming two months.

One HTML file that fetches nothing, four sheets of A4 upright, each running on where it is longer.
"""

from __future__ import annotations

import calendar
from collections import Counter
from datetime import date as Date
from datetime import timedelta
from pathlib import Path

import numpy as np

from ... import units
from ...design.asked.on_course import called, day_told, next_in_hand, to_order
from ...design.asked.shop_list import AFTER, OWN_STOCK, Group, StageStock, stock_to_buy
from ...design.chapters.timescale import MONTHS, things_placed
from ...design.design import Design
from ...design.evaluation import Evaluation, evaluate
from ...planning.log import ACCEPTED, DAYS_A_MONTH, TOOLS
from ...planning.parts import BUY, STAGES
from ...planning.stock import SAWN, Piece
from ...units import Length, Money
from ..shown.panels import Page, paragraphs
from ..text.markup import markup
from ..text.values import Heading, List, Part, Table, Words, strong
from .document import document, sheet, style_sheet, write_document

SHOP_PAPERS = "shop_papers.html"
_MM, _MONEY = Length("mm"), Money()
_BOX = "☐"


def write_shop_papers(design: Design, path: str | Path, today: Date) -> Path:
    """Write the papers as one HTML file and return where; InputProblem with a sentence if they cannot be written there."""
    return write_document(
        shop_papers_html(design, today), Path(path).expanduser(), "shop", "The papers were", " Choose another place for them."
    )


def shop_papers_html(design: Design, today: Date) -> str:
    """The papers of a design as one HTML document; without a log the build is taken to begin on ``today``."""
    e = evaluate(design)
    today = design.log.today if design.log else today
    plain = design.name or "A lathe without a name"
    sheets = (
        ("Stock and cutting", _stock(e)),
        ("Orders", _orders(e, today)),
        ("Parts to tick off", _ticks(e)),
        ("The coming two months", _months(e, today)),
    )
    body = markup((sheet(title, f"{plain}, {day_told(today)}", page) for title, page in sheets), paper=True)
    return document(f"{plain}: papers for the shop", style_sheet("shop"), body)


# --- stock ------------------------------------------------------------------------------------------------
def _figure(e: Evaluation, si: float, digits: int = 4) -> str:
    return units.number(units.in_unit(si, _MM, e.design.system), digits)


def section_told(e: Evaluation, stock: Piece) -> str:
    """'50' or '120 × 80 × 6' of a section, without its unit."""
    return " × ".join(_figure(e, size) for size in (stock.width, stock.thickness, stock.wall) if size > 0)


def _what(group: Group) -> str:
    words = group.stock.words.removesuffix(":")
    return (
        words
        if group.material.split()[-1] in words or (group.material == "cast iron" and "iron" in words)
        else f"{group.material}, {words}"
    )


def _stock(e: Evaluation) -> Page:
    found, unit = stock_to_buy(e), units.unit_text(_MM, e.design.system)
    if not found:
        return paragraphs(
            "No stock is left to buy: every part is accepted, paid for, on order, or comes by a way that needs none."
        )
    used = [
        bars for bars in e["building"].bars if any(group.stock.form == bars.form for stage in found for group in stage.groups)
    ]
    kerfs, ends = ({units.shown(getattr(bars, name), _MM, e.design.system) for bars in used} for name in ("kerf", "allowance"))
    said = (
        f"Lengths in {unit}. Each piece is sawn longer by what facing its two ends takes ({' or '.join(sorted(ends))}), and each cut takes {' or '.join(sorted(kerfs))}; "
        "common practice, no source. Bars are fitted so that the least length is bought, of that in the fewest bars, and what is left is one long piece.",
        "Ask what lengths your merchant has, and write them into your own table of bars; one who saws to any length saves the offcut.",
    )
    return (
        paragraphs(" ".join(said) if used else "")
        + Page(
            Table(
                (),
                ("stock", f"sawn, {unit}, and for what", f"bars to buy, {unit}", "from each bar", "offcut", ""),
                {2: "n", 4: "n", 5: "box"},
                row_heads=True,
                groups=tuple((_titled(stage.stage), tuple(_stage(e, stage))) for stage in found),
            )
        )
        + paragraphs(
            "A saw bites: work clamped, guard set, glasses on, no gloves at a running blade. Long bars are carried by two. Local rules come first."
        )
    )


def _titled(stage: str) -> str:
    return f"{stage[0].upper()}{stage[1:]}" if stage == AFTER else f"For {stage}"


def _stage(e: Evaluation, stage: StageStock) -> list[tuple[str, ...]]:
    rows = []
    for group in stage.groups:
        what = f"{_what(group)} {section_told(e, group.stock)}{' thick' if group.stock.form in SAWN else ''}"
        pieces = "; ".join(
            f"{f'{one.count} of ' if one.count > 1 else ''}{_figure(e, one.sawn)}{f' × {_figure(e, one.width)}' if one.width else ''} {one.part}"
            for one in group.pieces
        )
        if group.bars:
            alike = Counter(
                (round(bar.length, 6), tuple(round(one, 6) for one in bar.pieces), round(bar.offcut, 6)) for bar in group.bars
            )
            buy = "; ".join(f"{times} × {_figure(e, length)}" for (length, _, _), times in alike.items())
            sawn = "; ".join(
                " + ".join(f"{f'{count} × ' if count > 1 else ''}{_figure(e, one)}" for one, count in Counter(cuts).items())
                for _, cuts, _ in alike
            )
            left = "; ".join(_figure(e, offcut, 3) if offcut > 0 else "–" for _, _, offcut in alike)
        else:
            buy, sawn, left = (f"ask: {group.why_not}" if group.why_not else "sawn to size"), "–", "–"
        rows.append((what, pieces, buy, sawn, left, _BOX))
    return rows + [(ask.words, ask.part, "ask", "–", "–", _BOX) for ask in stage.asks]


# --- orders -----------------------------------------------------------------------------------------------
def _orders(e: Evaluation, today: Date) -> Page:
    log, system = e.design.log, e.design.system
    hows = {one.way.part: one.way.how for one in e["ways_chosen"]}
    rows = [
        (
            one.part,
            "on order",
            day_told(one.due) if one.due else "no day promised",
            units.shown(one.price, _MONEY, system) if one.price is not None else "",
            one.vendor,
            "",
            day_told(one.ordered),
            "",
            "",
        )
        for one in log.orders
        if one.delivered is None
    ]
    for name, _, latest in to_order(e):
        when = (_day(today, latest) if latest > 0 else "now") if np.isfinite(latest) else "cannot be had"
        how = hows.get(name, "")
        wanted = [(name, f"stock: {how}" if how in OWN_STOCK else how, _money_left(e, name))] if how else _things_for(e, name)
        rows += [
            (what, comes, when, units.shown(price, _MONEY, system), "", "", "", "", "")
            for what, comes, price in wanted
            if price >= 1.0
        ]
    if not rows:
        return paragraphs("Nothing is on order, and nothing is left to be ordered.")
    head = ("what", "how it comes", "order by, or due", "likely", "asked of", "price", "ordered", "due", "receipt")
    kinds = {2: "day", 3: "n", 4: "gap", 5: "write", 6: "write", 7: "write", 8: "write"}
    return paragraphs(
        "The most pressing first. The price is the plan's likely one; write beside it what you were told. What you write here belongs into the log: price asked, ordered, due, delivered, paid."
    ) + Page(Table(tuple(rows), head, kinds, row_heads=True))


def _money_left(e: Evaluation, name: str) -> float:
    """Likely money that a part or a task still costs."""
    plan = e["rest_schedule"]
    place = [called(one) for one in plan.network.names].index(name)
    return float(np.broadcast_to(e["rest_work"].money, plan.begun.shape)[0, place])


def _things_for(e: Evaluation, task: str) -> list[tuple[str, str, float]]:
    """Tools and the like that a task needs and that are not bought yet: name, sort, likely money."""
    of, there = (
        e["item_money"],
        {*e.design.log.first_paid(), *(order.part for order in e.design.log.orders), *e.design.log.accepted},
    )
    nodes = things_placed(e["build_layout"], of["things"])
    return [
        (item.name, item.sort if item.how == BUY else item.how, float(money))
        for item, money in zip(of["things"], np.ravel(of["money"]))
        if called(nodes[item.name]) == task and item.name not in there and TOOLS not in there
    ]


def _day(today: Date, months: float) -> str:
    return day_told(today + timedelta(days=round(months * DAYS_A_MONTH)))


# --- parts ------------------------------------------------------------------------------------------------
def _ticks(e: Evaluation) -> Page:
    log, hows = e.design.log, {one.way.part: one.way.how for one in e["ways_chosen"]}
    done = {entry.part: entry.date for entry in log.of(ACCEPTED) if entry.part in log.accepted}
    there = {order.part for order in log.orders if order.delivered is not None} | log.first_paid().keys()
    groups = []
    for stage in (*STAGES, AFTER):
        rows = [
            (
                part.name,
                str(part.count) if part.count > 1 else "",
                hows[part.name],
                "☑" if part.name in there or part.name in done else _BOX,
                "☑" if part.name in done else _BOX,
                "☑" if part.name in done else _BOX,
                day_told(done[part.name]) if part.name in done else "",
            )
            for part in e["parts_list"]
            if (part.first_needed or AFTER) == stage
        ]
        groups += [(_titled(stage), tuple(rows))] if rows else []
    head = ("part", "pieces", "how it comes", "there", "made", "accepted", "on")
    kinds = {1: "n", 3: "box", 4: "box", 5: "box", 6: "gap"}
    return paragraphs(
        "There: what it is made of, or it itself, has come. Accepted: measured, with the figure written down, and put away."
    ) + Page(Table((), head, kinds, row_heads=True, groups=tuple(groups)))


# --- two months ---------------------------------------------------------------------------------------------
def falls_in(e: Evaluation, today: Date) -> list[tuple[Date, str]]:
    """What falls in this month and the next from today: orders late, due, or to be given, what is begun and finished, milestones; by day."""
    log, first = e.design.log, e["log_months"] if e.design.log else 0.0
    end = _next_month(_next_month(today))
    found: list[tuple[Date, str]] = []

    def put(months: float, words: str) -> None:
        if np.isfinite(months):
            found.append((today + timedelta(days=round(max(months, 0.0) * DAYS_A_MONTH)), words))

    for one in log.orders:
        if one.delivered is None and one.due is not None:
            found.append(
                (
                    max(one.due, today),
                    f"{one.part} due"
                    + (f" from {one.vendor}" if one.vendor else "")
                    + (f", {one.late(today)} days late" if one.late(today) else ""),
                )
            )
    for name, _, latest in to_order(e):
        put(latest, f"order: {name}")
    for name, begins, ends, _, begun in next_in_hand(e, len(e["rest_schedule"].network.names)):
        if not begun:
            put(begins - first, f"begin: {name}")
        put(ends - first, f"finished: {name}")
    accepted = e["log_standing"].accepted
    for name, node in e["build_layout"].milestones.items():
        if not accepted[e["build_layout"].places([node])[0]]:
            put(float(e["rest_schedule"].done_by((node,))[0]), f"milestone: {name}")
    return sorted((day, words) for day, words in found if day < end)


def _next_month(day: Date) -> Date:
    return Date(day.year + day.month // 12, day.month % 12 + 1, 1)


def _months(e: Evaluation, today: Date) -> Page:
    falls = falls_in(e, today)
    numbered = list(enumerate(falls, 1))
    by_day: dict[Date, list[int]] = {}
    for number, (day, _) in numbered:
        by_day.setdefault(day, []).append(number)
    share = e["rest_calendar" if e.design.log else "calendar"].share
    page = paragraphs(
        "The numbers stand in the list below each month. Days follow from the hours you can give and from what the log says; they are the middle of what can be expected."
    )
    for first in (today.replace(day=1), _next_month(today)):
        weeks = calendar.Calendar().monthdatescalendar(first.year, first.month)
        rows = tuple(tuple(_day_told(day, first, today, by_day.get(day, [])) for day in week) for week in weeks)
        here = [(number, day, words) for number, (day, words) in numbered if (day.year, day.month) == (first.year, first.month)]
        away = {0.0: "No work on the lathe in this month.", 0.5: "Half the usual work in this month."}.get(
            share[first.month - 1], ""
        )
        month = Table(rows, ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"), kind="month")
        page += Page(Part("keep", (Heading(f"{MONTHS[first.month - 1]} {first.year}"), month))) + paragraphs(away)
        if here:
            listed = tuple(f"{day.day} {MONTHS[day.month - 1][:3]}: {words}" for _, day, words in here)
            page += Page(List(listed, ordered=True, kind="falls", first=here[0][0]))
        elif not away:
            page += paragraphs("Nothing falls in it by the plan.")
    return page


def _day_told(day: Date, first: Date, today: Date, numbers: list[int]) -> Words:
    """A day of a month with the numbers of what falls on it; nothing for one of another month."""
    if day.month != first.month:
        return ""
    told = f"{numbers[0]} to {numbers[-1]}" if len(numbers) > 2 else ", ".join(map(str, numbers))
    return (strong(f"{day.day}{' today' if day == today else ''}"), f" → {told}" if told else "")
