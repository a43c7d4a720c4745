"""Chapter 10: who makes what: the parts this design calls for, the way of each, and what they come to.

Vectors over the parts (kind None) have shape (parts,) or (draws, parts), sums shape () or (draws,).
"""

import numpy as np

from ...planning import costs, scaling
from ...planning.capabilities import BORROWED
from ...planning.parts import CHOICES, MAKE
from ...planning.second_hand import waited
from ...ranges import Range, as_figure, middling, sample, total
from ...tables import table
from ...units import Count, LabourTime, Mass, Money, Months, Ratio
from ..chain.entries import Column, Decision, Figure, Limit, Result, result
from ..chain.luck import FIRMS, PACE, Luck, fractions_of
from ..money import money_of

CHAPTER = "10"
SKILLS = tuple(table("skills"))
ACCESSORIES = ("what first use needs", "the later ones too")
_WEEKS_A_MONTH = 52 / 12
PRICE_LEVEL = Range(0.85, 1.0, 1.25)

DECISIONS = [
    Decision(
        "threading",
        "cutting threads with a leadscrew",
        "Is it to cut threads with a leadscrew and change gears?",
        CHAPTER,
        options=("yes", "no"),
    ),
    Decision("skill", "practice of the builder", "How much of such work have you done before?", CHAPTER, options=SKILLS),
]


def _own_price(what: str):
    def lookup(building):
        found = getattr(building.prices, what)
        return found if found.spread else found.likely

    return lookup


def _law(name: str):
    return lambda: table("laws")[name]["exponent"]


#: what grows by the centre height alone, where no other measure drives it
_BY_HEIGHT = {
    "mass": "the mass of a part",
    "hours here": "work done here",
    "hours for work outside": "your hours on work done outside",
    "material": "the price of material",
    "outside work": "the price of work outside",
    "bought things": "the price of bought things",
    "carriage": "the price of delivery",
    "tools": "the price of tools",
}
#: name of the power of each law in the chain
POWERS = {law: f"power_of_{law.replace(' for work', '').replace(' ', '_')}" for law in table("laws")} | {
    scaling.TRUER: "power_of_error"
}


def _power_label(law: str) -> str:
    return (
        f"growth exponent of {_BY_HEIGHT[law]}"
        if law in _BY_HEIGHT
        else f"growth exponent: {law.replace('carriage', 'delivery')}"
    )


FIGURES = [
    Figure(
        "own_pace",
        "your hours over those of the list",
        Ratio(),
        CHAPTER,
        "common_practice, table of skills",
        lookup=Column("skills", "skill", "hours"),
    ),
    Figure(
        "rework_factor",
        "your chance of rework over that of the list",
        Ratio(),
        CHAPTER,
        "common_practice, table of skills",
        lookup=Column("skills", "skill", "rework"),
    ),
    Figure(
        "error_factor",
        "your machining error over that of a practised builder",
        Ratio(),
        CHAPTER,
        "common_practice, table of skills",
        lookup=Column("skills", "skill", "accuracy"),
    ),
    Figure("redo_share", "share of its hours that a redo takes", Ratio("%"), CHAPTER, value=Range(30, 60, 100)),
    Figure(
        "search_factor", "weeks until something turns up over those of the list", Ratio(), CHAPTER, value=Range(0.5, 1.0, 2.0)
    ),
    Figure(
        "bad_find_factor", "chance that a find is of no use over that of the list", Ratio(), CHAPTER, value=Range(0.5, 1.0, 2.0)
    ),
    Figure("price_level", "prices over those of the list", Ratio(), CHAPTER, value=PRICE_LEVEL),
    Figure(
        "material_prices_own",
        "your own prices of material over the list's",
        Ratio(),
        CHAPTER,
        "own_work, prices you entered",
        lookup=_own_price("material"),
    ),
    Figure(
        "outside_prices_own",
        "your own prices of work outside over the list's",
        Ratio(),
        CHAPTER,
        "own_work, prices you entered",
        lookup=_own_price("outside"),
    ),
    Figure(
        "carriage_prices_own",
        "your own prices of delivery over the list's",
        Ratio(),
        CHAPTER,
        "own_work, prices you entered",
        lookup=_own_price("carriage"),
    ),
    *(
        Figure(name, _power_label(law), Ratio(), CHAPTER, "common_practice, table of laws", lookup=_law(law))
        for law, name in POWERS.items()
    ),
]


# --- which parts, and by which way ------------------------------------------------------------------------
@result(None, "choices that call for parts", CHAPTER, single=True)
def build_choices(
    bed_form,
    bearing_kind,
    drive_kind,
    countershaft_ratio,
    back_gear_ratio,
    top_of_slide,
    feed_drive,
    threading,
    nose_kind,
    toolpost_kind,
    stop_gear,
    chuck_guard,
    controller_box,
    leakage_device,
    coolant,
    parting_from,
    dividing,
    collets,
    hand_rest,
):
    """What the list of parts depends on; of several reductions, the middle one decides whether there is one."""
    countershaft, back_gear = (
        "yes" if (ratio if isinstance(ratio, float) else np.median(ratio)) > 1 + 1e-6 else "no"
        for ratio in (countershaft_ratio, back_gear_ratio)
    )
    return tuple(
        zip(
            CHOICES,
            (
                bed_form,
                bearing_kind,
                drive_kind,
                countershaft,
                back_gear,
                top_of_slide,
                feed_drive,
                threading,
                nose_kind,
                toolpost_kind,
                stop_gear,
                chuck_guard,
                controller_box,
                leakage_device,
                coolant,
                parting_from,
                dividing,
                collets,
                hand_rest,
            ),
        )
    )


@result(None, "parts this design calls for", CHAPTER)
def parts_list(building, build_choices):
    """The rows of the list that these choices call for."""
    return building.parts_for(build_choices)


@result(None, "what the machines at hand cover", CHAPTER, source="own_work, needs held against what is at hand")
def way_reach(
    building,
    build_choices,
    part_sizes,
    centre_height,
    between_centres,
    swing_over_slide,
    allowed_error,
    error_factor,
    power_of_error,
    skill,
    draws,
):
    """Which need of which part is covered by which machine, as a row of yes and no for each case; of many draws that of the middle one.

    The lathe is taken to make its own parts as true as it is meant to.  Many builds have the ways that are open to middling hands: what is
    chosen was chosen by these.  The error of a hand is judged, and so counted no finer than a tenth: a way does not close by a hair.
    """
    if draws is not None and np.ndim(error_factor):
        error_factor = middling(table("skills")[skill]["accuracy"])
    if draws is not None and np.ndim(power_of_error):
        power_of_error = middling(table("laws")[scaling.TRUER]["exponent"])
    given = (
        part_sizes,
        centre_height,
        between_centres,
        swing_over_slide,
        np.maximum(allowed_error, 1e-6),
        np.round(error_factor, 1),
        power_of_error,
    )
    if draws is not None:
        given = (np.median(part_sizes.reshape(-1, part_sizes.shape[-1]), axis=0), *(float(np.median(one)) for one in given[1:]))
    *sizes, power = given
    found = building.reach(build_choices).covered(sizes[0], {scaling.TRUER: power}, *sizes[1:])
    return found.tobytes() if found.ndim == 1 else tuple(row.tobytes() for row in found)


@result(None, "ways that are open", CHAPTER, single="way_reach")
def ways_open(building, build_choices, way_reach):
    """Which way of each part can be had with what is at hand."""
    return building.reach(build_choices).looked(way_reach if isinstance(way_reach, bytes) else way_reach[len(way_reach) // 2])


@result(None, "way of each part", CHAPTER)
def ways_chosen(building, ways_open):
    """The way you chose, or the cheapest that is open where you chose none."""
    return building.chosen(ways_open)


@result(Count(), "number of parts that cannot be had as chosen", CHAPTER, source="own_work, needs held against what is at hand")
def parts_stuck(ways_chosen):
    """How many parts cannot be had by their way: a larger part leaves the reach of the machines at hand, or nobody knows the price."""
    return float(sum(one.missing for one in ways_chosen))


def _powers(*values):
    """The power of each law by its name."""
    return dict(zip(POWERS, values))


powers = Result(
    "powers",
    "growth exponents of all laws",
    None,
    CHAPTER,
    _powers,
    tuple(POWERS.values()),
    source=("common_practice, table of laws",),
)


# --- what they come to ---------------------------------------------------------------------------------------
@result(None, "figures of the parts by their ways", CHAPTER)
def part_columns(building, parts_list, ways_chosen):
    """Hours, money, weeks and masses of the chosen ways, at the size of the list."""
    return building.columns_of(parts_list, ways_chosen)


@result(None, "growth of each part's figures with the sizes", CHAPTER, source="common_practice, table of drivers and of laws")
def part_growth(part_columns, part_sizes, powers):
    """Factors from the size at which each row was judged to that of this design."""
    return scaling.growth(part_columns, part_sizes, powers)


def _luck(columns, what: str, draws: int | None, shared: Luck = ()) -> np.ndarray | None:
    """Luck of each part, 0 to 1, shape (draws, parts): what is not shared every part has for itself, whatever else is on the list."""
    return None if draws is None else fractions_of(tuple(f"{way.part}: {what}" for way in columns.ways), draws, shared)


def _drawn(ends: Range, luck: np.ndarray | None) -> np.ndarray:
    """A triangular figure at some luck, or its mean."""
    return sum(ends) / 3 if luck is None else sample(ends, luck)


def _local(what: str, decision: str, label: str, level: str):
    def body(prices, own, currency):
        """Prices where you live, by what you say and by prices you know, and those of your own table, over the list's."""
        return prices * own * getattr(money_of(currency), level)

    return result(Ratio(), label, CHAPTER, name=f"{what}_local", source="definition", prices=decision, own=f"{what}_prices_own")(
        body
    )


def _column(value) -> np.ndarray:
    return np.asarray(value, float)[..., None]


@result(None, "chance that each part is made or bought twice", CHAPTER, source="common_practice, rework by way, finds of no use")
def part_again(part_columns, rework_factor, bad_find_factor, draws):
    """How often a part is made again, or a find is of no use and another is looked for: the chance, and whether it comes if drawn."""
    chance = np.minimum(part_columns.rework * np.where(part_columns.found, _column(bad_find_factor), _column(rework_factor)), 1.0)
    return chance, None if draws is None else _luck(part_columns, "rework", draws) < chance


@result(None, "own hours of each part", CHAPTER, source="common_practice, hours by way, size and practice")
def part_hours(part_columns, part_growth, part_again, parts_list, ways_chosen, own_pace, redo_share, draws):
    """Hours at your pace, with what must be made again or looked for again; middling luck, or each part its own.

    What the lathe makes for itself may need a stand-in until then, which takes an hour as well.
    """
    stand_ins = np.array([costs.STAND_IN if one.stage and parts_list[one.way.part].stand_in else 0.0 for one in ways_chosen])
    hours = _drawn(part_columns.hours, _luck(part_columns, "hours", draws, PACE)) * part_growth["hours"] * _column(own_pace)
    # a second find is looked for and put in order like the first
    share = np.where(part_columns.found, 1.0, _column(redo_share))
    chance, again = part_again
    if draws is None:
        return costs.hours_with_rework.si(hours, chance, share) + stand_ins
    return hours * (1 + again * share) + stand_ins


def _twice(columns, again) -> np.ndarray:
    """How many times the money of a part is paid: a find of no use is paid for as well."""
    chance, came = again
    return 1 + columns.found * (chance if came is None else came)


def _money(figure: str, label: str, name: str, local: str):
    def body(part_columns, part_growth, part_again, price_level, local_prices, draws):
        luck = _luck(part_columns, "money", draws, FIRMS)
        return (
            _drawn(getattr(part_columns, figure), luck)
            * part_growth[figure]
            * _column(price_level * local_prices)
            * _twice(part_columns, part_again)
        )

    return result(
        None,
        label,
        CHAPTER,
        name=name,
        says=f"{label.capitalize()}, at local prices.",
        source="common_practice, money by way and size",
        local_prices=local,
    )(body)


@result(None, "months from asking for each part to having it", CHAPTER, source="common_practice, weeks by way")
def part_own_wait(part_columns, part_again, search_factor, draws):
    """Nobody knows how long a search takes: every week has the same chance, so some take very long."""
    chance, again = part_again
    luck = _luck(part_columns, "weeks", draws)
    own = _drawn(part_columns.weeks, luck) / _WEEKS_A_MONTH
    if part_columns.found.any():
        search = waited(
            part_columns.weeks.likely / _WEEKS_A_MONTH * _column(search_factor),
            luck,
            chance,
            again,
            _luck(part_columns, "second search", draws),
        )
        own = np.where(part_columns.found, search, own)
    return own


def waits_behind(waits, ways, machines):
    """Waits of the parts, shape (..., parts), where those that are made on a machine to be bought wait for it as well; ``machines`` has its months by name."""
    waits, names = np.asarray(waits, float), list(machines)
    for place, one in enumerate(ways):
        if bought := [machines[name] for name in names if name in one.leans]:
            waits = np.broadcast_to(waits, np.broadcast_shapes(waits.shape, (*np.shape(bought[0]), waits.shape[-1]))).copy()
            waits[..., place] = np.maximum.reduce([waits[..., place], *bought])
    return waits


@result(None, "months of waiting for each part", CHAPTER)
def part_wait(part_own_wait, ways_chosen, machine_waits):
    """From asking to having it; what is made on a machine that is bought for it waits for that as well."""
    return waits_behind(part_own_wait, ways_chosen, machine_waits)


@result(None, "fees of borrowed machines for each part", CHAPTER, source="common_practice, table of shops")
def part_fees(building, ways_chosen, part_hours, build_hours_can):
    """Months of use of each machine a part takes, at the hours a month it is to be had, times its fee; without such hours, at your own."""
    by_name = {machine.name: machine for machine in building.machines if machine.whose == BORROWED and machine.fee}

    def an_hour(name: str):
        machine = by_name[name]
        return machine.fee / (machine.hours.likely if machine.hours and machine.hours.likely else build_hours_can)

    rate = [sum((an_hour(name) for name in one.borrows if name in by_name), 0.0) for one in ways_chosen]
    return part_hours * np.stack(np.broadcast_arrays(*rate), axis=-1)


@result(None, "money due for each part", CHAPTER)
def part_money(part_material, part_outside, part_carriage, part_fees):
    """Material, other people's work, carriage, and the fees of borrowed machines."""
    return part_material + part_outside + part_carriage + part_fees


def _sum(vector, name: str, label: str, kind, says: str):
    def body(part):
        return total(part)

    return result(kind, label, CHAPTER, name=name, says=says, source="definition, sum over the parts", part=vector)(body)


@result(None, "tools and other things to buy", CHAPTER)
def things_to_buy(building, ways_chosen, accessories):
    """What is bought beside the parts: in any case, for the ways chosen, machines for the build, and the later accessories if you want them."""
    always, sometimes = building.tools(later=accessories == ACCESSORIES[1])
    called = {item.name for item in sometimes for one in ways_chosen if item.serves_way(one.way)}
    return (*always, *(item for item in sometimes if item.name in called), *building.machines_bought)


@result(None, "chance that each thing is bought twice", CHAPTER, source="common_practice, finds of no use")
def thing_again(things_to_buy, bad_find_factor, draws):
    """How often a thing found second-hand is of no use: the chance, or drawn."""
    chance = np.minimum(np.array([item.no_good for item in things_to_buy]) * _column(bad_find_factor), 1.0)
    return chance, None if draws is None else thing_luck(things_to_buy, "again", draws) < chance


def thing_luck(things, what: str, draws: int | None) -> np.ndarray | None:
    """Luck of each thing, 0 to 1, shape (draws, things)."""
    return None if draws is None else fractions_of(tuple(f"{item.name}: {what}" for item in things), draws)


@result(None, "months of waiting for each thing", CHAPTER, source="common_practice, weeks of looking")
def thing_wait(things_to_buy, thing_again, search_factor, draws):
    """What is bought new is there at once; what is looked for, when it turns up."""
    weeks = np.array([item.weeks for item in things_to_buy]) / _WEEKS_A_MONTH * _column(search_factor)
    return waited(
        weeks, thing_luck(things_to_buy, "weeks", draws), *thing_again, thing_luck(things_to_buy, "second search", draws)
    )


@result(None, "months of waiting for machines bought for the build", CHAPTER)
def machine_waits(things_to_buy, thing_wait):
    """By the name of the machine."""
    return machines_of(things_to_buy, thing_wait)


def machines_of(things, waits) -> dict[str, np.ndarray]:
    """Of waits for all things, shape (..., things), those for machines, by name."""
    return {item.name: waits[..., place] for place, item in enumerate(things) if item.sort == "machine"}


@result(None, "hours of each task", CHAPTER, source="common_practice, table of tasks")
def task_draws(building, part_sizes, powers, draws):
    """Hours of planning, assembling and testing that belong to no single part, task by task."""
    tasks = [task for task in building.tasks if task.hours is not None]
    ends = Range(*np.array([task.hours for task in tasks], float).reshape(-1, 3).T)
    grown = scaling.tasks_growth(tuple(task.name for task in tasks)).factors(part_sizes, powers)
    return grown * _drawn(
        ends, None if draws is None else fractions_of(tuple(f"task {task.name}" for task in tasks), draws, PACE)
    )


@result(LabourTime(), "hours of planning, assembling and testing", CHAPTER, source="common_practice, table of tasks")
def task_hours(task_draws, own_pace):
    """Hours that belong to no single part, at your pace."""
    return as_figure(np.asarray(task_draws).sum(axis=-1) * own_pace)


@result(LabourTime(), "own hours, all parts and tasks", CHAPTER, source="definition, sum over parts and tasks")
def own_hours(hours_on_parts, task_hours, things_to_buy):
    """Everything your own hands do, with what must be made again."""
    return hours_on_parts + task_hours + sum(item.hours for item in things_to_buy)


@result(LabourTime(), "hours on borrowed machines", CHAPTER, source="definition, sum over the parts")
def borrowed_hours(part_hours, ways_chosen):
    """Hours of the parts that are made on somebody else's machine."""
    there = np.array([one.borrowed for one in ways_chosen])
    return as_figure((part_hours * there).sum(axis=-1))


@result(Months(), "longest wait for a part or thing", CHAPTER, source="definition, the longest of all")
def longest_wait(part_wait, thing_wait):
    """Waits run side by side, so the longest counts and not the sum."""
    return as_figure(np.maximum(np.asarray(part_wait).max(axis=-1), np.asarray(thing_wait).max(axis=-1, initial=0.0)))


@result(Count(), "parts made on the unfinished lathe", CHAPTER, source="own_work, order of the parts")
def parts_on_the_lathe(ways_chosen):
    """Parts made on the half-built lathe, which therefore need not be bought or borrowed for."""
    return float(sum(one.way.how == MAKE and bool(one.stage) for one in ways_chosen))


@result(Mass(), "mass of the machine", CHAPTER, source="common_practice, table of parts, drivers and laws")
def parts_mass(part_masses):
    """All finished parts together, without chuck and stand."""
    return as_figure(part_masses["finished"].sum(axis=-1))


@result(Mass(), "heaviest part, as stock or finished", CHAPTER, source="common_practice, table of parts, drivers and laws")
def heaviest_part(part_masses):
    """The heaviest single part before anything is cast or screwed into it, as stock or finished, whichever is heavier in the hand."""
    return as_figure(np.maximum(part_masses["stock"], part_masses["finished"]).max(axis=-1))


RESULTS = [
    build_choices,
    parts_list,
    way_reach,
    ways_open,
    ways_chosen,
    parts_stuck,
    part_columns,
    powers,
    part_growth,
    part_again,
    part_hours,
    _local("material", "material_prices", "price of material here over the list's", "material"),
    _local("outside", "labour_prices", "price of other people's work here over the list's", "labour"),
    _local("carriage", "labour_prices", "price of delivery here over the list's", "labour"),
    _money("material", "material of each part", "part_material", "material_local"),
    _money("outside", "other people's work on each part", "part_outside", "outside_local"),
    _money("carriage", "delivery of each part", "part_carriage", "carriage_local"),
    things_to_buy,
    thing_again,
    thing_wait,
    machine_waits,
    part_own_wait,
    part_wait,
    part_fees,
    part_money,
    _sum(
        "part_hours",
        "hours_on_parts",
        "own hours on parts",
        LabourTime(),
        "Bench hours with setting up, measuring and what must be made again.",
    ),
    task_draws,
    task_hours,
    own_hours,
    borrowed_hours,
    _sum(
        "part_material",
        "material_money",
        "money for material and bought parts",
        Money(),
        "Stock, castings and things bought ready.",
    ),
    _sum(
        "part_outside",
        "outside_money",
        "money for other people's work",
        Money(),
        "What grinders, machine shops and foundries are paid.",
    ),
    _sum("part_carriage", "carriage_money", "money for delivery", Money(), "What it costs to send things to and fro."),
    _sum(
        "part_fees",
        "fees_money",
        "money for fees of borrowed machines",
        Money(),
        "What borrowed machines cost for the months they are used.",
    ),
    longest_wait,
    parts_on_the_lathe,
    parts_mass,
    heaviest_part,
]

LIMITS = [
    Limit(
        "every_part_can_be_had",
        "every part can be had as chosen",
        CHAPTER,
        "parts_stuck",
        "at most",
        0.0,
        "{value} parts cannot be had by the way chosen for them; chapter 10 tells what is missing.",
        comfort=0.0,
        clear="Every part can be had by the way chosen for it.",
        source="own_work, needs held against what is at hand",
    )
]
