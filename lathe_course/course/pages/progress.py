"""Chapter 16: the log, where the build stands by it, the workings behind, signs of life, and what comes next."""

from __future__ import annotations

import numpy as np

from ... import units
from ...design.asked import repeats
from ...design.asked.on_course import YOURS, at_month, day_told, forecasts, month_called, next_in_hand, whose
from ...design.chapters.progress import CHAPTER
from ...design.evaluation import Evaluation
from ...formula import FORMULAS
from ...nearest import nearest_or_all
from ...planning.log import Entry
from ...planning.parts import MAKE
from ...units import InputProblem, LabourTime, Months, Ratio
from ...working import Working
from ..pictures.calendar import FEW
from ..shown.few import told_of, with_rest
from ..shown.panels import Page, folded_working, paragraphs, tabled
from ..shown.views import findings_page, verdict
from ..text.values import Fold, Paragraph, Worked
from .register import page

NO_LOG_YET = "There is no log yet. Its first line is “build begun”, with the day on which you began."
#: what a finding of this chapter that is tight or fails asks for
WHAT_TO_DO = {
    "finished_in_time": "Look at what comes next and what it takes: send out a part that eats evenings, or settle on less. Chapters 10 and 12 show what each choice moves.",
    "log_within_budget": "Leave the later accessories for later, or raise the sum knowingly. Chapter 11 shows what makes it up.",
    "parts_keep_coming": "Take the smallest part that can be finished in one session and finish it, before anything else.",
    "money_keeps_step": "Order nothing more until what lies there is worked up.",
    "specification_stands_still": "Write new wishes on a list for the second lathe, and build the one that is drawn.",
    "few_parts_open": "Begin nothing new. Finish the one that others wait for.",
    "sessions_are_kept": "Agree on one short session with somebody who comes along, and leave the bench so that work can begin at once.",
    "bed_before_a_move": "Bolt the bed to its stand first, or box it as one piece with its faces oiled and covered, and let it travel flat.",
}
_HOURS, _MONTHS = LabourTime(), Months()


def _invented(e: Evaluation) -> tuple[str, ...]:
    return (f"The invented log of the {e.design.started_from.replace('_', ' ')}, {e['log_months']:.0f} months in.",)


def head_of(e: Evaluation, log: str) -> tuple[str, ...]:
    return () if log == YOURS else _invented(e)


# --- the log -----------------------------------------------------------------------------------------------
@page
def log_kept(evaluation: Evaluation, log: str = YOURS, last: int = 12) -> Page:
    """The last lines of the log, and what could not be used."""
    e = whose(evaluation, log)
    kept = e.design.log
    if not kept and not kept.problems:
        return paragraphs(NO_LOG_YET)
    rows = [
        (
            day_told(entry.date),
            entry.what,
            "" if entry.amount is None else units.number(entry.amount, 4),
            entry.part,
            _words(entry),
        )
        for entry in kept.entries[-last:]
    ]
    count = f"{len(kept)} line{'' if len(kept) == 1 else 's'}" + (f", the last {last} of them" if len(kept) > last else "") + ":"
    told = [*kept.problems, *kept.remarks]
    if strange := e["log_standing"].strange:
        told.append(
            f"Not in the plan as it stands, so it earns nothing: {', '.join(strange)}. Hours and money booked to it count all the same."
        )
    notes = ("Left out, or odd:", *(f"- {one}" for one in told)) if told else ()
    return tabled(rows, ("date", "what", "amount", "part", "words"), (2,), before=(*head_of(e, log), count), after=notes)


def _words(entry: Entry) -> str:
    """The words of a line, with vendor, due day and receipt where it has them."""
    return "; ".join(
        filter(
            None,
            (
                f"from {entry.vendor}" if entry.vendor else "",
                f"due {day_told(entry.due)}" if entry.due else "",
                f"receipt {entry.receipt}" if entry.receipt else "",
                entry.words,
            ),
        )
    )


# --- where it stands ---------------------------------------------------------------------------------------
@page
def where_it_stands(evaluation: Evaluation, log: str = YOURS) -> Page:
    """Earned against worked and planned, and the forecast of hours, months and money with its odds."""
    e = whose(evaluation, log)
    if not e.design.log:
        return paragraphs(NO_LOG_YET)
    many = at_month(e, None, FEW)
    ends = np.atleast_1d(many["months_forecast"])
    rows = [
        ("hours of the whole plan", e.shown("hours_budget"), ""),
        ("worked so far", e.shown("hours_worked"), "all hours in the log"),
        ("earned so far", e.shown("hours_earned"), "planned hours of what is accepted, nothing for what is half done"),
        ("to be earned by today", e.shown("hours_due"), "planned hours of what the timescale wanted accepted by now"),
        (
            "earned over worked",
            e.shown("earned_over_worked") if e["hours_worked"] > 0 else "–",
            "below 1: the work takes longer than planned",
        ),
        ("earned over planned", e.shown("pace"), "below 1: the build is behind its timescale"),
        (
            "rate that the forecast uses",
            e.shown("hours_rate"),
            "the first of these, leaning on experience while the log is short",
        ),
        ("hours a month", e.shown("hours_a_month"), "the last six months, months away left out"),
        ("still to be worked", e.shown("hours_to_come"), "what is not earned, at that rate"),
        (
            "months from today",
            units.shown(float(e["months_to_go"]), _MONTHS, e.design.system),
            f"done in {month_called(e, float(e['months_forecast']))}",
        ),
        ("months in all", many.shown_spread("months_forecast"), "four fifths of builds that go on from here"),
        ("spent so far", e.shown("money_spent"), ""),
        ("money in all", many.shown_spread("money_forecast"), "four fifths of them"),
    ]
    odds = f"Done before patience ends, {e.shown('patience')}: {np.mean(ends <= np.median(many['patience'])):.0%} of them."
    return tabled(rows, ("", "", "what it is"), (1,), before=head_of(e, log), after=(odds,))


#: formula -> what feeds it, and what it tells
_WORKED = {
    "hours_index": {"earned": "hours_earned", "worked": "hours_worked"},
    "schedule_index": {"earned": "hours_earned", "planned": "hours_due"},
    "eased_index": {"earned": "hours_earned", "worked": "hours_worked", "prior": "first_rate_here", "weight": "experience_hours"},
    "forecast_hours": {"budget": "hours_budget", "index": "hours_rate"},
    "index_to_come": {"budget": "hours_budget", "earned": "hours_earned", "worked": "hours_worked"},
    "months_left": {
        "budget": "hours_budget",
        "earned": "hours_earned",
        "index": "hours_rate",
        "hours_per_month": "hours_a_month",
    },
}


@page(worked=True)
def index_worked(evaluation: Evaluation, formula: str | tuple[str, ...], log: str = YOURS) -> Page:
    """One or several of the measures of a build on the blackboard, with the figures of a log."""
    asked = (formula,) if isinstance(formula, str) else tuple(formula)
    for one in asked:
        if one not in _WORKED:
            raise InputProblem.about("formula", f"there is no such measure as {one!r}; {nearest_or_all(str(one), _WORKED)}")
    e = whose(evaluation, log)
    if not e.design.log:
        return paragraphs(NO_LOG_YET)
    return paragraphs(*head_of(e, log)) + Page(*(_worked(e, one, len(asked) > 1) for one in asked))


def _worked(e: Evaluation, name: str, among_others: bool) -> Worked | Fold | Paragraph:
    values = {given: float(e[source]) for given, source in _WORKED[name].items()}
    if problems := FORMULAS[name].broken(values) or [
        f"{given} is 0" for given in ("worked", "planned") if name in ("hours_index", "schedule_index") and values.get(given) == 0
    ]:
        return Paragraph(f"{FORMULAS[name].title.capitalize()} cannot be worked out: {problems[0]}.")
    names = {given: e.chain.part(source).label for given, source in _WORKED[name].items()}
    shown = Working.of(FORMULAS[name], values, e.design.system, names)
    return folded_working(shown) if among_others else Worked(shown)


# --- signs of life -----------------------------------------------------------------------------------------
@page
def signs_of_life(evaluation: Evaluation, log: str = YOURS) -> Page:
    """The findings of a running build, and what to do about each that is tight or fails."""
    e = whose(evaluation, log)
    if not e.design.log:
        return paragraphs(NO_LOG_YET)
    signs = e.findings_of(CHAPTER)
    rows = [(verdict(one).replace(" ", "\u00a0"), one.label, one.sentence, WHAT_TO_DO[one.name]) for one in signs if one.presses]
    calm = [one for one in signs if not one.presses]
    cautions = [f"Caution: {one.caution}" for one in signs if one.caution and one.presses]
    page = tabled(rows, ("", "sign", "as it stands", "what to do"), after=cautions) if rows else Page()
    return paragraphs(*head_of(e, log)) + with_rest(page, told_of(calm, bool(rows)), findings_page(calm) if calm else Page())


# --- from today -----------------------------------------------------------------------------------------------
@page
def plan_from_today(evaluation: Evaluation, log: str = YOURS, most: int = 8) -> Page:
    """What is taken in hand next, with hours at your own rate, and the milestones that are left."""
    e = whose(evaluation, log)
    rows = [
        (
            name,
            "begun" if begun else "",
            month_called(e, begins),
            month_called(e, ends),
            units.shown(hours, _HOURS, e.design.system),
        )
        for name, begins, ends, hours, begun in next_in_hand(e, most)
    ]
    if not rows:
        return paragraphs(*head_of(e, log), "Everything is accepted: the build is done.")
    gone, plan = float(e["log_months"]), e["rest_schedule"]
    left = [
        (name, float(plan.done_by((node,))[0]) + gone)
        for name, node in e["build_layout"].milestones.items()
        if not e["log_standing"].accepted[e["build_layout"].places([node])[0]] and float(plan.done_by((node,))[0]) > 1e-9
    ]
    said = (
        "Milestones to come: "
        + "; ".join(f"{name} {month_called(e, months)}" for name, months in sorted(left, key=lambda one: one[1]))
        + "."
    )
    return tabled(rows, ("next in hand", "", "from", "until", "hours at your rate"), (4,), before=head_of(e, log), after=(said,))


@page
def forecast_moved(evaluation: Evaluation, log: str = YOURS, step: int = 2) -> Page:
    """How the forecast moved from month to month as the log grew."""
    e = whose(evaluation, log)
    if not e.design.log:
        return paragraphs(NO_LOG_YET)
    rows = [
        (f"{one.month:.0f}", f"{one.share:.0%}", _end(one.middle), f"{_end(one.low)} to {_end(one.high)}")
        for one in forecasts(e, FEW, step)
    ]
    return tabled(
        rows, ("seen from month", "earned", "months in all", "four fifths of builds"), (0, 1, 2), before=head_of(e, log)
    )


def _end(months: float) -> str:
    return units.number(months, 2) if np.isfinite(months) else "never"


# --- pieces made in a row ---------------------------------------------------------------------------------------
@page
def repeats_learnt(evaluation: Evaluation, part: str = "change gears", learning: str = "85 %") -> Page:
    """Hours of each piece of a set made one after another by the same hands, and of the whole set."""
    e = evaluation.central
    one = next((found for found in e["parts_list"] if found.name == part), None) or e.design.building.parts[part]
    way = next((way for way in one.ways if way.how == MAKE), one.ways[0])
    count, share = round(one.count), units.read(learning, Ratio("%", above=0, at_most=100), "learning")
    if count < 2:
        return paragraphs(f"There is only one {part}, so nothing repeats.")
    first = repeats.first_of_set(way.hours.likely, count, share)
    pieces = dict.fromkeys(number for number in (1, 2, 4, 8, count) if number <= count)
    rows = [(f"piece {number}", units.shown(repeats.piece(first, number, share), _HOURS, e.design.system)) for number in pieces]
    whole, without = (units.shown(hours, _HOURS, e.design.system) for hours in (way.hours.likely, first * count))
    return tabled(
        rows,
        (),
        (1,),
        before=(
            f"{part[0].upper()}{part[1:]}, {count} pieces made here; each doubling of the number takes {share:.0%} of the time.",
        ),
        after=(
            f"The whole set takes {whole}, as the list has it; at the pace of the first piece it would be {without}.",
            "So judge the set by no single piece: the first makes it look too long, the last too short.",
        ),
    )
