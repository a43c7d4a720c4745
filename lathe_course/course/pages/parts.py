"""Chapter 10: which way each part can be had, in which order they are made, and what the half-built lathe makes for itself."""

from __future__ import annotations

import functools
import math
from collections.abc import Callable
from typing import Any

from ... import units
from ...design.asked.in_iron import IN_IRON, of_a_part
from ...design.asked.mixes import BY_SUMS, choices_here, demand_all, mixes_here, months_of, note_of
from ...design.asked.part_account import part_account
from ...design.asked.ways_told import ways_told
from ...design.evaluation import Evaluation, evaluate
from ...planning.drivers import Driver, drivers
from ...planning.feasible import OpenWay
from ...planning.parts import BORROW, BUY, HARD, MAKE, OUT, USED, Way
from ...planning.second_hand import find_for
from ...problems import must_be_known
from ...ranges import Range
from ...tables import table
from ...units import InputProblem
from ..shown.few import folded_by
from ..shown.money import amount, euros, money_name
from ..shown.panels import Page, folded_working, how_to_read, paragraphs, tabled
from ..text.values import Fold, Paragraph, strong
from .register import page

#: the ways in a word or two, for narrow columns
SHORT = {MAKE: "here", HARD: "hard faces outside", OUT: "outside", BUY: "bought", BORROW: "borrowed machine", USED: "second-hand"}


def told_way(one: OpenWay) -> str:
    """A way in a word or two, and whether the lathe itself does it."""
    return f"{SHORT[one.way.how]}{', on the lathe itself' if one.stage else ''}"


def where_all_can_be_had(write: Callable[..., Page]) -> Callable[..., Page]:
    """A page that needs every part to have a way; where one has none, what is missing stands in its place."""

    @functools.wraps(write)
    def page_or_reason(evaluation: Evaluation, **asked: Any) -> Page:
        try:
            demand_all(evaluation.central)
        except InputProblem as problem:
            return paragraphs("This cannot be told while a part cannot be had.", *(_stuck(evaluation) or (str(problem),)))
        return write(evaluation, **asked)

    return page_or_reason


def _stuck(evaluation: Evaluation) -> tuple[str, ...]:
    return tuple(
        f"{line[0].upper()}{line[1:]}"
        for line in (ways_told(evaluation).told(evaluation.design.system) if evaluation["ways_open"].stuck else ())
    )


def _not_called_for(evaluation: Evaluation, part: str) -> Page | None:
    """A sentence where the design has no such part though others would; InputProblem for a part nobody knows."""
    if part in evaluation["parts_list"].by_name:
        return None
    every = evaluation["building"].parts.by_name
    must_be_known(part, every, "part", "part")
    return paragraphs(f"Your design has no {part}; its choices call for other parts.")


@page
def ways_of_the_parts(evaluation: Evaluation) -> Page:
    """Every part: the way it is to be had now, the others that are open, and how many are closed."""
    found = evaluation["ways_open"]
    now = {one.way.part: one for one in evaluation["ways_chosen"]}
    groups: dict[str, list[tuple]] = {}
    for part in found.parts:
        ways = found.of(part.name)
        others = [told_way(one) for one in ways if one.open and one is not now[part.name]]
        closed = [SHORT[one.way.how] for one in ways if one.missing]
        mark = "" if not now[part.name].missing else " (not open)"
        groups.setdefault(part.group, []).append(
            (part.name, told_way(now[part.name]) + mark, "; ".join(others), "; ".join(closed))
        )
    chosen = list(now.values())
    said = (
        f"{len(chosen)} parts: {sum(one.way.how in (MAKE, HARD) for one in chosen)} made here in whole or in part, "
        f"{sum(bool(one.stage) for one in chosen)} of them on the half-built lathe; {sum(one.borrowed for one in chosen)} on borrowed machines; "
        f"{sum(one.way.how == OUT for one in chosen)} outside; {sum(one.way.how == BUY for one in chosen)} bought new; "
        f"{sum(one.way.how == USED for one in chosen)} found second-hand."
    )
    notes = evaluation.design.notes
    reasons = tuple(f"The {part}: {notes[note_of(part)]}" for part in now if note_of(part) in notes)
    table = folded_by(groups, ("part", "way now", "also open", "closed to you"), what="parts")
    after = ("Your reasons.", *reasons) if reasons else ()
    before = (said, *_stuck(evaluation))
    return paragraphs(*before) + table + paragraphs(*after)


@page
def ways_of_a_part(evaluation: Evaluation, part: str) -> Page:
    """One part: every way with its figures at your size, what it leans on, and what is missing where it is closed."""
    if missing := _not_called_for(evaluation, part):
        return missing
    found = ways_told(evaluation)
    now = next(one for one in evaluation["ways_chosen"] if one.way.part == part)
    made = of_a_part(evaluation, part)
    rows = []
    for one in found.of(part):
        if one.missing:
            leans = one.missing_told(evaluation.design.system)
        elif one.spare:
            leans = "open, but your own machines do the same"
        elif one.stage:
            leans = f"on the lathe itself, once it does {one.stage}"
        else:
            leans = {"own": "your own machines", "borrowed": "a borrowed machine"}.get(one.by, "nothing of yours")
        money = "not known" if one.way.unpriced else _span(Range(*(amount(evaluation, end) for end in one.way.money)))
        weeks = f"{one.way.weeks.likely:.0f} on average" if one.way.how == USED else _span(one.way.weeks)
        rows.append(
            (
                one.way.how + (" (yours)" if one.way.how == now.way.how else ""),
                _span(one.way.hours),
                money,
                weeks,
                *_in_iron(made[one.way.how], evaluation.central),
                leans,
            )
        )
    row = found.parts[part]
    after = f"Comes after: {', '.join(row.after)}." if row.after else "Comes after nothing."
    watch = (f"Watch: {row.watch}.",) if row.watch else ()
    found_used = next((one.way for one in found.of(part) if one.way.how == USED), None)
    if found_used:
        watch += _told_find(part, found_used)
    return tabled(
        rows,
        ("way", "own hours", money_name(evaluation), "weeks", "give", "error", "taper", "depends on"),
        (1, 2, 3, 4, 5, 6),
        before=(f"{part[0].upper()}{part[1:]}, {row.material}. {after}", *watch),
    ) + how_to_read(
        "Hours, money and weeks as the list has them at your size, low to high; your pace, rework and local prices come on top. Give, error on the diameter and taper once set: "
        "what this way changes in them on the finished machine, at middling figures.",
        *_driven(evaluation, part),
    )


def _in_iron(there: Evaluation, here: Evaluation) -> tuple[str, ...]:
    """What a way changes in iron: give, error on the diameter, taper; a dash where nothing of it moves."""
    told = []
    for name in IN_IRON:
        kind, system = here.kind(name), here.design.system
        change = units.in_unit(there[name] - here[name], kind, system)
        least = 0.005 * units.in_unit(here[name], kind, system)
        told.append(
            f"{'+' if change > 0 else '−'}{units.number(abs(change), 2)} {units.unit_text(kind, system)}"
            if abs(change) > least
            else "–"
        )
    return tuple(told)


def _driven(evaluation: Evaluation, part: str) -> tuple[str, ...]:
    """What drives a part: each measure, the size its row was judged at, yours, and what it moves."""
    row = evaluation["parts_list"][part]
    at = dict(row.references)
    told = [
        f"{_measure(evaluation, one.name, at[one.name])} → {_measure(evaluation, one.name)}: {_moves(one)}"
        for one in drivers(part)
        if one.name in at
    ]
    if not told:
        return (
            f"What drives it: nothing but the size of the lathe; its row was judged at {_measure(evaluation, 'centre_height', row.centre_height)}.",
        )
    return (
        "What drives it, from the size its row was judged at to yours:",
        *told,
        "What none of these moves goes with the centre height. The powers are judged, within bounds.",
    )


def _measure(evaluation: Evaluation, name: str, value: float | None = None) -> str:
    e = evaluation.central
    kind = e.kind(name)
    figure = units.shown(e[name] if value is None else value, kind, e.design.system)
    return figure if value is None else f"{e.chain.part(name).label} {figure}"


#: figures of a driver as they are told
_FIGURES = {
    "stock": "mass",
    "finished": "mass",
    "hours": "hours",
    "hours_outside": "hours",
    "material": "material",
    "outside": "work outside",
    "bought": "price if bought",
    "carriage": "delivery",
}


def _moves(driver: Driver) -> str:
    moved = [_FIGURES[figure] for figure in driver.laws]
    moved += [f"{measure} for {operation}" for operation, measure in sorted(driver.sets)] + (
        ["how true its faces must be"] if driver.accuracy else []
    )
    return ", ".join(dict.fromkeys(moved))


def _told_find(part: str, way: Way) -> tuple[str, ...]:
    """What to know of finding a part second-hand: the wait, the chance that it is of no use, what it settles, the caution."""
    find = find_for(part)
    return (
        f"Second-hand: one search in ten takes {math.log(10) * way.weeks.likely:.0f} weeks or more, and {way.rework:.0%} of finds are of no use, so another is paid for and looked for. "
        "Name a day on which you stop looking and buy it new.",
        *((find.told(),) if find else (way.remark,) if way.remark else ()),
    )


def _span(span) -> str:
    low, high = (f"{end:.2g}" if end < 10 else f"{end:.0f}" for end in (span.low, span.high))
    return low if low == high else f"{low} to {high}"


# --- the order ------------------------------------------------------------------------------------------------
@page
def order_of_the_work(evaluation: Evaluation) -> Page:
    """Parts and moments of the half-built lathe in an order that can be worked, found from what each part comes after."""
    moments = evaluation["building"].order_of(evaluation["parts_list"], evaluation["ways_chosen"])
    stage = {one.way.part: one.stage for one in evaluation["ways_chosen"] if one.stage}
    stand_in = {part.name: part.stand_in for part in evaluation["parts_list"]}
    lines: list[Paragraph | Fold] = []  # the parts of each stretch under their count, and what the lathe does from then on
    names: list[str] = []
    told: set[str] = set()
    for moment in moments:
        if not moment.stage:
            names.append(f"{moment.name} (on the lathe itself)" if moment.name in stage else moment.name)
            continue
        lines += _stretch(names)
        names = []
        serving = "; ".join(f"for the {name} {stand_in[name]}" for name in moment.stand_ins if name not in told)
        told.update(moment.stand_ins)
        standing_in = f" In place of parts that come later: {serving}." if serving else ""
        lines.append(Paragraph((strong(f"The lathe does: {moment.name}."), standing_in)))
    lines += _stretch(names)
    first = any(isinstance(one, Paragraph) for one in lines)
    said = (
        "What the first chips need comes first. Nobody keeps this list by hand: it follows from what each part comes after. "
        + (
            f"First chips, at middling figures: after {evaluation.shown('months_to_first_chips')}."
            if first
            else "This design names no moment at which the half-built lathe can turn."
        )
    )
    own = _made_on_the_lathe(evaluation)
    return paragraphs(said) + Page(*lines) + own


def _stretch(names: list[str]) -> list[Paragraph | Fold]:
    """Parts that are worked one after another."""
    if len(names) < 4:
        return [Paragraph(", ".join(names))] if names else []
    return [Fold(f"{len(names)} parts, from {names[0]} to {names[-1]}", (Paragraph(", ".join(names)),), told=True)]


@where_all_can_be_had
def _made_on_the_lathe(evaluation: Evaluation) -> Page:
    """What the half-built lathe could make for itself, against the cheapest other way."""
    choices = choices_here(evaluation)
    now = {one.way.part: one.way.how for one in evaluation["ways_chosen"]}
    rows = []
    for part, ones in choices.of_part.items():
        ones = [one for one in ones if one.sort == "part"]
        here = next((one for one in ones if one.stage), None)
        if here is None:
            continue
        others = [one for one in ones if not one.stage]
        other = min(others, key=lambda one: one.money) if others else None
        against = (
            (
                f"{amount(evaluation, other.money - here.money):+.0f}".replace("-", "−"),
                f"{here.hours - other.hours:+.1f}".replace("-", "−"),
                SHORT[other.how],
            )
            if other
            else ("", "", "nothing else")
        )
        rows.append((part, here.stage, "yes" if now.get(part) == here.how else "no", *against))
    chosen = sum(row[2] == "yes" for row in rows)
    title = f"{len(rows)} parts that the half-built lathe can make and your own machines cannot; so chosen: {chosen}"
    said = "Money saved and hours added stand against the cheapest other way; tools that must be bought for it come on top."
    head = ("part", "once it does", "so chosen", f"{money_name(evaluation)} saved", "hours added", "against")
    return Page(Fold(title, tabled(rows, head, (3, 4), before=(said,)).blocks, told=True))


# --- one part on the blackboard ---------------------------------------------------------------------------------
@page(worked=True)
@where_all_can_be_had
def part_worked(evaluation: Evaluation, part: str) -> Page:
    """Hours of one part from the list to your size, with rework, and what an hour of it costs to be spared, as on a blackboard."""
    e = evaluation.central
    if missing := _not_called_for(e, part):
        return missing
    found = part_account(e, part)
    put = [
        *found.growth,
        ("with what must be done again", found.hours),
        *zip(
            ("money and hours in one", f"an hour spared, {SHORT[found.instead.how]} instead" if found.instead else ""), found.sums
        ),
    ]
    low, middle, high = found.way.hours
    said = (
        f"The {part}, {found.here.how}. The list has {low:g}, likely {middle:g}, high {high:g} h; their mean times your pace of {float(e['own_pace']):g}, grown to your size by the "
        f"factor{'s' if len(found.growth) > 1 else ''} below, is H."
    )
    names, workings = zip(*put)
    return paragraphs(said) + Page(*map(folded_working, workings, names))


# --- skill ----------------------------------------------------------------------------------------------------
def skill_moves(evaluation: Evaluation) -> Page:
    """The same parts in less and in more practised hands, each with its own best mix."""
    rows = []
    for skill in table("skills"):
        e = evaluate(evaluation.design.trying(skill=skill), earlier=evaluation.central)
        stuck = len(e["ways_open"].stuck)
        name = f"{skill} (yours)" if skill == evaluation["skill"] else skill
        if stuck:
            rows.append(
                (name, e.shown("own_hours"), str(int(e["parts_stuck"])), f"{stuck} parts cannot be had at all", "", "", "")
            )
            continue
        best = mixes_here(e)[BY_SUMS]
        rows.append(
            (
                name,
                e.shown("own_hours"),
                str(int(e["parts_stuck"])),
                f"{best.hours:.0f} h",
                f"{euros(e, best.money)}",
                str(sum(best.counts().get(how, 0) for how in (MAKE, HARD))),
                f"{months_of(e, best):.0f}",
            )
        )
    said = "Practice moves hours, the chance of doing it again, and how true the work comes out. Where a way asks for more than your hands attain, it closes."
    return tabled(
        rows,
        ("practice", "own hours, your ways", "parts stuck", "mix soonest by its sums", "its money", "made here", "months"),
        (1, 2, 3, 4, 5, 6),
        before=(said,),
    )
