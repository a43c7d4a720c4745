"""Chapter 16: is the build still on course, by its log: earned against worked and planned, the forecast, and signs of falling asleep.

Planned figures are those of the design as it stands.  Without a log nothing is asked.
"""

from dataclasses import replace

import numpy as np

from ...planning import progress
from ...planning.layout import node_of
from ...planning.log import HOURS, MONEY, TOOLS
from ...planning.parts import HARD
from ...planning.schedule import Calendar, Means, schedule
from ...planning.work_left import rest_of, standing_of
from ...ranges import Range, total
from ...units import Count, HoursRate, LabourTime, Money, Months, Ratio
from ..chain.entries import Figure, Limit, node, result
from .parts import machines_of, waits_behind
from .timescale import things_awaited, things_placed

CHAPTER = "16"
#: months that are looked back on for the hours a month and for changes of the specification
LOOK_BACK = 6.0
#: share of the work below which money may not run far ahead of it
EARLY = 0.25

FIGURES = [
    Figure("first_build_rate", "likely over worked hours of first builds", Ratio(), CHAPTER, value=Range(0.65, 0.8, 1.0)),
    Figure(
        "experience_hours", "weight of experience in the forecast of hours", LabourTime(), CHAPTER, "own_work, judged", value=60.0
    ),
    Figure(
        "experience_months",
        "weight of the planned hours a month in the forecast",
        Months(),
        CHAPTER,
        "own_work, judged",
        value=2.0,
    ),
    Figure("experience_money", "weight of the planned prices in the forecast", Money(), CHAPTER, "own_work, judged", value=400.0),
]


def _expected(values, draws):
    """A plan is one plan: the mean of what is drawn."""
    values = np.asarray(values, float)
    return values if draws is None or values.ndim < 2 else values.mean(axis=0)


# --- what the log says -----------------------------------------------------------------------------------
@result(None, "where each part and task stands", CHAPTER)
def log_standing(log, build_layout, things_to_buy, ways_chosen):
    """Accepted, open, worked, ordered and paid, part by part."""
    twice = {one.way.part for one in ways_chosen if one.way.how == HARD}
    return standing_of(log, build_layout, things_placed(build_layout, things_to_buy), twice)


@result(Months(), "months since the build began", CHAPTER)
def log_months(log):
    """From the first line of the log to the last; 0 while there is no log."""
    return log.months


@result(Count(), "lines of the log", CHAPTER)
def log_kept(log):
    """How many lines the log has; 0 while there is none."""
    return float(len(log))


@result(Count(), "moves planned in the log", CHAPTER)
def move_planned(log):
    """1 if the log tells of a move to come, else 0."""
    return float(log.months_to_move is not None)


@result(LabourTime(), "hours worked so far", CHAPTER)
def hours_worked(log):
    """All hours in the log, whatever they were booked to."""
    return log.total(HOURS)


@result(Ratio(), "earned over worked hours, of the log alone", CHAPTER, source="definition")
def earned_over_worked(hours_earned, hours_worked):
    """Below 1 the work takes longer than planned; 0 while nothing is worked."""
    return np.where(hours_worked > 0, progress.hours_index.si(hours_earned, np.where(hours_worked > 0, hours_worked, 1.0)), 0.0)[
        ()
    ]


@result(Money(), "money spent so far", CHAPTER)
def money_spent(log):
    """All money in the log, whatever it was booked to."""
    return log.total(MONEY)


# --- against the plan ------------------------------------------------------------------------------------
@result(Money(), "money ordered and not paid yet", CHAPTER)
def money_owed(log):
    """What was agreed in orders that stand, less what was paid for them."""
    return sum(order.owed for order in log.orders)


@result(None, "planned hours of each part and task", CHAPTER)
def plan_hours(build_work, draws):
    """Own hours as planned, with what must be made again."""
    return _expected(build_work.hours, draws)


@result(None, "planned money of each part and task", CHAPTER)
def plan_money(build_work, draws):
    """Money as planned, tools and accessories with the task that first needs them."""
    return _expected(build_work.money, draws)


@result(LabourTime(), "hours of the whole plan", CHAPTER, source="definition, sum over parts and tasks")
def hours_budget(plan_hours):
    """All that can be earned."""
    return total(plan_hours)


@result(LabourTime(), "hours earned so far", CHAPTER, source="pmbok, earned value, where a part half finished earns nothing")
def hours_earned(plan_hours, log_standing):
    """Planned hours of what is accepted."""
    return total(plan_hours * log_standing.accepted)


@result(LabourTime(), "hours to be earned by today", CHAPTER, source="pmbok, planned value")
def hours_due(plan_hours, build_schedule, log_months, draws):
    """Planned hours of what was to be accepted by today after the timescale."""
    due = (plan_hours * (build_schedule.done <= log_months)).sum(axis=-1)
    return float(due.mean()) if draws is not None or due.shape == (1,) else due


@result(Ratio("%"), "share of the work that is earned", CHAPTER, source="definition, earned over the whole")
def share_done(hours_earned, hours_budget):
    """How much of the plan is accepted."""
    return hours_earned / hours_budget


@result(Ratio(), "hours earned over hours planned by today", CHAPTER, source="pmbok, schedule performance index")
def pace(hours_earned, hours_due):
    """Below 1 the build is behind its timescale; 1 where nothing was to be ready yet."""
    return np.where(hours_due > 0, hours_earned / np.where(hours_due > 0, hours_due, 1.0), 1.0)[()]


@result(LabourTime(), "sum of the likely hours", CHAPTER, source="definition, sum over parts and tasks")
def likely_hours(part_columns, part_growth, own_pace, building, draws):
    """What a list adds up to on paper: each thing at its likely figure, nothing made again."""
    tasks = sum(task.hours.likely for task in building.tasks if task.hours is not None)
    found = ((part_columns.hours.likely * part_growth["hours"]).sum(axis=-1) + tasks) * own_pace
    return float(np.mean(found)) if draws is not None or np.ndim(found) == 0 else found


@result(
    Ratio(),
    "rate of first builds against this plan",
    CHAPTER,
    source=("common_practice, first builds against the likely hours of a list", "own_work, carried over to this plan"),
)
def first_rate_here(first_build_rate, hours_budget, likely_hours):
    """First builds are told against likely hours; this plan holds rework and unlikely luck already, so against it they do better."""
    return first_build_rate * hours_budget / likely_hours


@result(
    Ratio(),
    "planned over paid prices, leaning on the plan at first",
    CHAPTER,
    source="own_work, planned prices counted as money already spent",
)
def price_rate(plan_money, log_standing, experience_money):
    """Of what is accepted; below 1 things cost more than planned."""
    done = log_standing.accepted
    return (total(plan_money * done) + experience_money) / (
        ((log_standing.paid + log_standing.owed) * done).sum() + experience_money
    )


# --- from today ---------------------------------------------------------------------------------------------
@result(None, "calendar of the build so far", CHAPTER, single=True)
def log_calendar(log, calendar):
    """The usual year, begun in the month in which the log begins."""
    return Calendar(calendar.share, log.begun.month if log else calendar.first)


@result(None, "calendar from today", CHAPTER, single=True)
def rest_calendar(log, calendar):
    """The usual year, begun in the month of the last line of the log."""
    return Calendar(calendar.share, log.today.month if log else calendar.first)


@result(
    HoursRate(), "hours a month, by the log", CHAPTER, source="own_work, the last six months eased by the planned hours a month"
)
def hours_a_month(log, log_months, log_calendar, build_hours_can, experience_months):
    """Hours of the last six months over the usual months among them; planned hours stand in while the log is short."""
    since = max(log_months - LOOK_BACK, 0.0)
    usual = float(np.diff(np.interp([since, log_months], *log_calendar.worked()))[0])
    return (log.booked_between(HOURS, since if since else -1.0, log_months) + experience_months * build_hours_can) / (
        usual + experience_months
    )


@result(LabourTime(), "hours still to be worked", CHAPTER, source="pmbok, estimate to complete")
def hours_to_come(hours_budget, hours_earned, hours_rate):
    """What is not earned yet, at the rate at which hours have been earned."""
    return (hours_budget - hours_earned) / hours_rate


@result(None, "months until each thing is there, by the log", CHAPTER)
def thing_wait_left(log, things_to_buy, thing_wait):
    """Tools and machines that have come are waited for no longer, and those on order until they were promised; shape (..., things)."""
    left = np.array(thing_wait, float)
    for place, item in enumerate(things_to_buy):
        left[..., place] = log.wait_left(item.name, left[..., place])
    return left


@result(None, "work from today", CHAPTER)
def rest_work(
    build_work, log_standing, hours_rate, price_rate, build_layout, item_money, ways_chosen, part_own_wait, thing_wait_left
):
    """What is accepted drops out; the rest at your own rate and prices, and what is on order as it was agreed."""
    things, leads = item_money["things"], np.asarray(build_work.lead, float)
    parts = build_layout.places(one.way.part for one in ways_chosen)
    own, beside = np.zeros_like(leads), things_awaited(build_layout, things, thing_wait_left)
    own[..., parts] = part_own_wait
    beside[..., parts] = waits_behind(beside[..., parts], ways_chosen, machines_of(things, thing_wait_left))
    work = replace(build_work, lead=np.where(np.isinf(leads), leads, own))  # what can never be had stays so
    if not log_standing.things:
        return rest_of(work, log_standing, hours_rate, price_rate, beside=beside)
    nodes, money = things_placed(build_layout, things), np.asarray(item_money["money"], float)
    of_things = np.zeros((*money.shape[:-1], len(build_layout.network.names)))
    for column, item in enumerate(things):
        if item.name in log_standing.things:
            of_things[..., build_layout.places([nodes[item.name]])[0]] += money[..., column]
    return rest_of(work, log_standing, hours_rate, price_rate, of_things, beside)


@result(
    Money(),
    "money still to be paid",
    CHAPTER,
    source="definition, orders as agreed, and the rest as planned at the prices met so far, less what is paid for already",
)
def money_to_come(rest_work, money_owed):
    """What is left to pay from today on."""
    return total(rest_work.money) + money_owed


@result(Money(), "money in hand today", CHAPTER, source="definition, what came in less what was spent")
def purse(savings, money_can, log_months, money_spent):
    """Put by at the start, with what came in since, less all that is spent."""
    return np.maximum(savings + money_can * log_months - money_spent, 0.0)


@result(None, "schedule from today", CHAPTER, source="own_work, many builds side by side")
def rest_schedule(rest_work, build_schedule, log, hours_a_month, money_can, purse, money_owed, machine_hours, rest_calendar):
    """The timescale again, with what is left, from the month of today; what is owed is paid before anything else is ordered."""
    if not log:
        return build_schedule
    return schedule(rest_work, Means(hours_a_month, money_can, purse - money_owed, machine_hours, rest_calendar))


@result(Months(), "months from today until finished", CHAPTER, source="own_work, many builds side by side")
def months_to_go(rest_schedule):
    """Hours, money, waits, borrowed machines and months away together."""
    end = rest_schedule.end
    return float(end[0]) if end.shape == (1,) else end


@result(Months(), "months in all, those gone and those to come", CHAPTER)
def months_forecast(log, months_to_finish, log_months, months_to_go, share_done):
    """What the log tells and what is still to be done; without a log the plan, and once all is done until the last acceptance."""
    if not log:
        return months_to_finish
    last = max(log.accepted.values(), default=log_months)
    return np.where(np.asarray(share_done) > 1 - 1e-9, last, log_months + months_to_go)[()]


@result(Money(), "money in all, by the log", CHAPTER)
def money_forecast(log, money_spent, money_to_come):
    """Money spent and money to come; 0 while there is no log."""
    return money_spent + money_to_come if log else 0.0


# --- signs of life -----------------------------------------------------------------------------------------
@result(Months(), "months since anything was accepted", CHAPTER)
def months_since_accepted(log, log_standing, plan_hours):
    """From the last acceptance, or from the beginning, to today; 0 once all is done."""
    if np.all(log_standing.accepted | (np.asarray(plan_hours).reshape(-1, log_standing.accepted.size).max(axis=0) == 0)):
        return 0.0
    return log.months - max(log.accepted.values(), default=0.0)


@result(
    Ratio(),
    "money spent over planned money of what is accepted",
    CHAPTER,
    source="own_work, asked while less than a quarter of the work is earned",
)
def money_ahead(money_spent, plan_money, log_standing, share_done):
    """How far money runs ahead of work, early in the build."""
    earned = total(plan_money * log_standing.accepted)
    ratio = np.where(earned > 0, money_spent / np.where(earned > 0, earned, 1.0), np.inf if money_spent > 0 else 0.0)
    return np.where(share_done < EARLY, ratio, 0.0)[()]


@result(Ratio(), "changes of the specification a month", CHAPTER)
def changes_a_month(log, build_layout):
    """Over the last six months, counted from the first hours on anything that is made."""
    planning = set(build_layout.planning)
    made = [log.months_to(entry.date) for entry in log.of(HOURS) if entry.part and entry.part not in planning]
    if not made:
        return 0.0
    since = max(made[0], log.months - LOOK_BACK)
    return log.changes_since(since) / max(log.months - since, 1.0)


@result(Count(), "parts begun and not finished", CHAPTER)
def open_parts(log, building):
    """Parts and tasks with hours in them that are not accepted."""
    return float(len([name for name in log.open_items if name != TOOLS and name not in building.things]))


@result(Count(), "sessions missed one after another", CHAPTER)
def missed_running(log):
    """Sessions missed since hours were last worked."""
    return float(log.missed_running)


@result(Months(), "months until a move", CHAPTER)
def months_to_move(log):
    """From today to the move that the log names; 0 where none is planned."""
    return max(log.months_to_move or 0.0, 0.0)


@result(Months(), "months that a bed not yet bolted down needs before a move", CHAPTER)
def months_before_move(log, parts_list, log_standing, build_layout):
    """Six where a move is planned and the bed or its stand is not accepted; else nothing is asked."""
    bed = [part.name for part in parts_list if part.group == "bed"]
    stand = [node for node in (node_of("stand"),) if node in build_layout.network.names]
    bolted = bool(np.all(log_standing.accepted[build_layout.places([*bed, *stand])]))
    return 0.0 if bolted or log.months_to_move is None else 6.0


RESULTS = [
    log_standing,
    log_months,
    log_kept,
    move_planned,
    hours_worked,
    money_spent,
    money_owed,
    plan_hours,
    plan_money,
    hours_budget,
    hours_earned,
    hours_due,
    share_done,
    pace,
    earned_over_worked,
    likely_hours,
    first_rate_here,
    node(
        progress.eased_index,
        CHAPTER,
        name="hours_rate",
        label="earned over worked hours, leaning on experience at first",
        earned="hours_earned",
        worked="hours_worked",
        prior="first_rate_here",
        weight="experience_hours",
    ),
    price_rate,
    log_calendar,
    rest_calendar,
    hours_a_month,
    hours_to_come,
    thing_wait_left,
    rest_work,
    money_to_come,
    purse,
    rest_schedule,
    months_to_go,
    months_forecast,
    money_forecast,
    months_since_accepted,
    money_ahead,
    changes_a_month,
    open_parts,
    missed_running,
    months_to_move,
    months_before_move,
]

_NO_LOG, _A_LOG = "No log is kept yet.", "a log of the build (chapter 16)"
LIMITS = [
    Limit(
        "log_within_budget",
        "within the money that suffices, by the log",
        CHAPTER,
        "money_forecast",
        "at most",
        "money_needed",
        "By the log it costs {value} in all; the budget that suffices is {limit}.",
        comfort=0.05,
        asked="log_kept",
        unasked=_NO_LOG,
        opened_by=_A_LOG,
    ),
    Limit(
        "parts_keep_coming",
        "a part accepted often enough",
        CHAPTER,
        "months_since_accepted",
        "at most",
        4.0,
        "Nothing was accepted for {value}; past two months take heed, and past {limit} most builds are asleep.",
        comfort=1.0,
        clear="No wait for an accepted part.",
        asked="log_kept",
        unasked=_NO_LOG,
        opened_by=_A_LOG,
    ),
    Limit(
        "money_keeps_step",
        "spending in step with finished work",
        CHAPTER,
        "money_ahead",
        "at most",
        2.0,
        "Money spent is {value} times the planned money of what is accepted; early on, more than {limit} is stock bought in place of work done.",
        comfort=0.25,
        clear="Money is not ahead of the work, or a quarter of the work is done.",
        asked="log_kept",
        unasked=_NO_LOG,
        opened_by=_A_LOG,
        never="Money is spent, and nothing that costs any is accepted yet.",
    ),
    Limit(
        "specification_stands_still",
        "the specification stands still",
        CHAPTER,
        "changes_a_month",
        "at most",
        1.0,
        "Changes of the specification a month: {value}; past {limit} the build runs after its drawing and never catches it.",
        comfort=0.25,
        clear="No change of the specification since parts are in hand.",
        asked="log_kept",
        unasked=_NO_LOG,
        opened_by=_A_LOG,
    ),
    Limit(
        "few_parts_open",
        "few parts begun and not finished",
        CHAPTER,
        "open_parts",
        "at most",
        5.0,
        "Parts begun and not finished: {value}; past {limit} each keeps the others waiting.",
        comfort=0.25,
        clear="Nothing is begun and left.",
        asked="log_kept",
        unasked=_NO_LOG,
        opened_by=_A_LOG,
    ),
    Limit(
        "sessions_are_kept",
        "sessions are kept",
        CHAPTER,
        "missed_running",
        "at most",
        2.0,
        "Sessions missed running: {value}; past {limit} a habit is breaking.",
        comfort=0.5,
        clear="No session was missed since hours were last worked.",
        asked="log_kept",
        unasked=_NO_LOG,
        opened_by=_A_LOG,
    ),
    Limit(
        "bed_before_a_move",
        "the bed is bolted down before a move",
        CHAPTER,
        "months_to_move",
        "at least",
        "months_before_move",
        "The move is {value} away and the bed is not bolted to its stand; it takes about {limit} to get there without haste.",
        comfort=0.25,
        clear="The bed is bolted to its stand, so a move may come.",
        asked="move_planned",
        unasked="No move is planned.",
        opened_by="a move planned in the log",
        caution="A bed in pieces is heavy and awkward: move it with help, by the rules of your place for lifting, and never alone on stairs.",
    ),
]
