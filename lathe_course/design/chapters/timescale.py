"""Chapter 12: when it is done, with the hours and the money a month that there really are."""

import re

import numpy as np

from ...planning.capabilities import BORROWED
from ...planning.layout import node_of
from ...planning.log import TOOLS
from ...planning.parts import STAGES
from ...planning.schedule import Calendar, Means, Work, schedule
from ...ranges import Range
from ...units import Count, HoursRate, InputProblem, LabourTime, Months, Ratio
from ..chain.entries import Decision, Figure, Limit, result

CHAPTER = "12"
#: months over which the hours of moving house are spread, and the share of the hours that moves leave in any case
_MONTHS_OF_MOVES, _LEFT_BY_MOVES = 120.0, 0.1
MONTHS = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)


def read_months_away(given: object) -> str:
    """'August, half December' written evenly; InputProblem for what is no month, and if no month is left."""
    found, problems = {}, []
    for piece in filter(None, (one.strip() for one in re.split(r"[,;]|\band\b", str(given)))):
        half = bool(re.match(r"half\b", piece, re.IGNORECASE))
        name = re.sub(r"^half\b(\s+of)?\s*", "", piece, flags=re.IGNORECASE).strip().lower()
        month = next((one for one in MONTHS if len(name) >= 3 and one.lower().startswith(name)), None)
        if name in ("none", "never", "no"):
            continue
        if month is None:
            problems.append(("months_away", f"{piece!r} is no month; write for example 'August, half December', or 'none'."))
        else:
            found[month] = half
    if not problems and sum(not half for half in found.values()) == 12:
        problems.append(("months_away", "every month of the year is away; leave at least one in which there is work."))
    if problems:
        raise InputProblem(problems)
    return ", ".join(f"half {month}" if found[month] else month for month in MONTHS if month in found) or "none"


DECISIONS = [
    Decision(
        "first_month",
        "month in which the build begins",
        "In which month do you begin, 1 for January to 12 for December?",
        CHAPTER,
        Count(at_least=1, at_most=12, whole=True),
        1,
        12,
        1,
    ),
    Decision(
        "months_away",
        "months without work on the lathe",
        "In which months of the year is there no work on it, or half of it?",
        CHAPTER,
        free_text=True,
        reader=read_months_away,
        example="August, half December",
    ),
    Decision(
        "session_hours",
        "length of a usual session at the bench",
        "How long is a usual session at the bench, setting up and clearing away included?",
        CHAPTER,
        LabourTime(above=0),
        0.5,
        8,
        0.5,
        movable=False,  # life gives it
    ),
]
FIGURES = [
    Figure("session_loss", "time lost to setting up in a session", LabourTime("h"), CHAPTER, value=Range(0.2, 0.35, 0.6)),
    Figure(
        "machine_hours",
        "hours a month on borrowed machines",
        HoursRate(),
        CHAPTER,
        "common_practice, table of shops",
        lookup=lambda building: _machine_hours(building),
    ),
]


def _machine_hours(building) -> Range | float:
    hours = [machine.hours for machine in building.machines if machine.whose == BORROWED and machine.hours is not None]
    return Range(*(sum(ends) for ends in zip(*hours))) if hours else 1e9  # nothing borrowed has hours to run out


@result(
    Ratio("%"),
    "share of a session that is work",
    CHAPTER,
    source="common_practice, sessions under an hour and a half lose a quarter",
)
def session_share(session_hours, session_loss):
    """What is left of a session after setting up and clearing away."""
    return np.maximum(1 - session_loss / session_hours, 0.1)


def _hours_a_month(promised: str, name: str, label: str):
    def body(promised, builders, hours_kept, talk_loss, session_share, moving_hours):
        """Promised hours less those not kept, talk among several, setting up, and what moving house takes."""
        kept = promised * builders * hours_kept * np.maximum(1 - talk_loss * (builders - 1), 0.2) * session_share
        return np.maximum(kept - moving_hours / _MONTHS_OF_MOVES, _LEFT_BY_MOVES * kept)

    return result(
        HoursRate(), label, CHAPTER, name=name, source="common_practice, kept hours, talk, sessions and moves", promised=promised
    )(body)


@result(None, "calendar of the year", CHAPTER, single=True)
def calendar(months_away, first_month):
    """Share of a usual month's hours in each month."""
    away = {name.removeprefix("half "): 0.5 if name.startswith("half ") else 0.0 for name in months_away.split(", ")}
    return Calendar(tuple(away.get(month, 1.0) for month in MONTHS), int(np.median(first_month)))


@result(None, "parts and tasks as a network", CHAPTER, source="own_work, order of the parts and tasks")
def build_layout(building, parts_list, ways_chosen):
    """What waits for what, with the parts that the half-built lathe makes for itself."""
    return building.laid_out(parts_list, ways_chosen)


def _spread_out(size: int, places, values) -> np.ndarray:
    """Values put at their places along the last axis, zero elsewhere."""
    values = np.asarray(values, float)
    found = np.zeros((*values.shape[:-1], size))
    found[..., places] = values
    return found


@result(
    None,
    "order in which parts are paid for and taken in hand",
    CHAPTER,
    source="own_work, what the first chips need comes first, then task by task",
)
def build_order(build_layout, parts_list, ways_chosen, building):
    """Rank of every part and task: what the first chips need comes first, the rest task by task."""
    place = {
        moment.name: float(number) for number, moment in enumerate(building.order_of(parts_list, ways_chosen)) if not moment.stage
    }
    network = build_layout.network
    rank = np.zeros(len(network.names))
    for node, name in enumerate(network.names):
        # a task is done as soon as what it waits for is there; planning waits for nothing
        rank[node] = place[name] if name in place else max((rank[other] for other in network.before[node]), default=-1.0) + 1e-3
    return rank


@result(None, "work to be done", CHAPTER)
def build_work(
    build_layout, build_order, ways_chosen, part_hours, part_money, part_wait, item_money, thing_wait, own_pace, task_draws
):
    """Hours, money, waits and borrowed machines of every part and task, in the order of the network.

    A part that cannot be had never comes, and neither does one whose shape cannot be.
    """
    nodes, size = build_layout.network, len(build_layout.network.names)
    at = build_layout.places([one.way.part for one in ways_chosen])
    never = np.where([one.missing for one in ways_chosen], np.inf, 0.0)
    never = np.where(np.isnan(part_hours) | np.isnan(part_money), np.inf, never)
    hours, money, wait = (
        _spread_out(size, at, figures) for figures in (np.nan_to_num(part_hours), np.nan_to_num(part_money), part_wait + never)
    )
    tasks = [task for task in build_layout.tasks if task.hours is not None]
    hours = (
        hours
        + _spread_out(size, build_layout.places(node_of(task.name) for task in tasks), task_draws)
        * np.asarray(own_pace, float)[..., None]
    )
    evenings = _spread_out(size, at, [float(one.borrowed) for one in ways_chosen])
    extra_money, extra_hours = _things(build_layout, item_money, size)
    return Work(
        nodes,
        hours + extra_hours,
        money + extra_money,
        wait + things_awaited(build_layout, item_money["things"], thing_wait),
        evenings,
        build_order,
    )


def _things(build_layout, item_money, size: int) -> tuple[np.ndarray, np.ndarray]:
    """Money and hours of tools and accessories, at the task that first needs them."""
    nodes = things_placed(build_layout, item_money["things"])
    places = build_layout.places(nodes[item.name] for item in item_money["things"])
    money = np.asarray(item_money["money"], float)
    found, hours = np.zeros((*money.shape[:-1], size)), np.zeros(size)
    for column, (place, item) in enumerate(zip(places, item_money["things"])):
        found[..., place] += money[..., column]
        hours[place] += item.hours
    return found, hours


def things_awaited(build_layout, things, waits) -> np.ndarray:
    """The longest of the waits for tools and accessories at the task that first needs them, shape (..., nodes); for a bought machine wait the parts that it makes."""
    nodes = things_placed(build_layout, things)
    wait = np.zeros((*waits.shape[:-1], len(build_layout.network.names)))
    for column, (place, item) in enumerate(zip(build_layout.places(nodes[item.name] for item in things), things)):
        if item.sort != "machine":
            wait[..., place] = np.maximum(wait[..., place], waits[..., column])
    return wait


def things_placed(build_layout, things) -> dict[str, str]:
    """The node that holds the money of each tool and accessory, and of tools that are not named: the task that first needs it."""
    names = [task.name for task in build_layout.tasks]
    trial = next((task.name for task in build_layout.tasks if task.opens == STAGES[0]), names[-1])
    at_first = next((name for name in reversed(build_layout.planning) if _all_wait_for(build_layout, name)), names[0])
    where = {"stand": "stand" if "stand" in names else trial, "accessory": trial, "later accessory": names[-1]}
    return {TOOLS: node_of(at_first)} | {item.name: node_of(where.get(item.sort, at_first)) for item in things}


def _all_wait_for(build_layout, task: str) -> bool:
    """Does every part wait for this task before anything is made?"""
    place = build_layout.places([node_of(task)])[0]
    return all(place in build_layout.network.before[part] for part in build_layout.places(build_layout.parts))


def _schedule(hours: str, money: str, name: str, label: str):
    def body(build_work, hours, money, savings, machine_hours, calendar):
        """When each part and task is ordered, begun and done."""
        return schedule(build_work, Means(hours, money, savings, machine_hours, calendar))

    return result(None, label, CHAPTER, name=name, source="own_work, many builds side by side", hours=hours, money=money)(body)


def _single(values: np.ndarray):
    """One build is told as a number."""
    return float(values[0]) if values.shape == (1,) else values


def _end(plan: str, name: str, label: str):
    def body(plan):
        """Until the last task is done: hours, money, waits, borrowed machines, months away and moves together."""
        return _single(plan.end)

    return result(Months(), label, CHAPTER, name=name, source="own_work, many builds side by side", plan=plan)(body)


@result(Months(), "months until the first chips", CHAPTER, source="own_work, many builds side by side")
def months_to_first_chips(build_schedule, build_layout):
    """Until the half-built lathe turns for the first time."""
    node = build_layout.stages.get(STAGES[0])
    return _single(build_schedule.done_by((node,))) if node else _single(build_schedule.end)


@result(Months(), "longest stretch without a milestone", CHAPTER, source="own_work, many builds side by side")
def longest_stretch(build_schedule, build_layout):
    """The longest time in which nothing to be proud of is reached."""
    return _single(build_schedule.longest_gap(build_layout.milestones.values()))


@result(Ratio("%"), "share of the hours before the first chips", CHAPTER, source="own_work, order of the parts and tasks")
def share_before_first_chips(build_schedule, build_layout, build_work):
    """How much of the work lies before the lathe first turns."""
    node = build_layout.stages.get(STAGES[0])
    chips = build_schedule.done_by((node,)) if node else build_schedule.end
    hours = np.broadcast_to(build_work.hours, build_schedule.done.shape)
    return _single((hours * (build_schedule.done <= chips[:, None] + 1e-9)).sum(axis=-1) / hours.sum(axis=-1))


RESULTS = [
    session_share,
    _hours_a_month("hours_can", "build_hours_can", "hours a month that reach the build, of those available"),
    _hours_a_month("hours_should", "build_hours_should", "hours a month that reach the build, of those you should spend"),
    calendar,
    build_layout,
    build_order,
    build_work,
    _schedule("build_hours_can", "money_can", "build_schedule", "schedule at the hours and money available"),
    _schedule("build_hours_should", "money_should", "build_schedule_should", "schedule at the hours and money you should spend"),
    _end("build_schedule", "months_to_finish", "months until finished, at the hours and money available"),
    _end("build_schedule_should", "months_to_finish_should", "months until finished, at the hours and money you should spend"),
    months_to_first_chips,
    longest_stretch,
    share_before_first_chips,
]
LIMITS = [
    # of a build that has a log the months gone and those to come count
    Limit(
        "finished_in_time",
        "finished before patience ends",
        CHAPTER,
        "months_forecast",
        "at most",
        "patience",
        "Done after about {value} at what you can spend; your patience is {limit}.",
        comfort=0.25,
        told_in=("02", "11", "16"),
        never="As it stands it is never done: a part cannot be had, or the money never comes together.",
        source="own_work, many builds side by side",
    ),
    Limit(
        "finished_in_balance",
        "finished in time at what you should spend",
        CHAPTER,
        "months_to_finish_should",
        "at most",
        "patience",
        "Done after about {value} at what you should spend; your patience is {limit}.",
        comfort=0.1,
        told_in=("02", "11"),
        never="As it stands it is never done: a part cannot be had, or at what you should spend the money never comes together.",
        source="own_work, many builds side by side",
    ),
    Limit(
        "milestones_often",
        "a milestone often enough",
        CHAPTER,
        "longest_stretch",
        "at most",
        6.0,
        "The longest stretch without a milestone is {value}; past {limit} many a build falls asleep.",
        comfort=0.3,
        never="From some milestone on the next one is never reached.",
    ),
]
