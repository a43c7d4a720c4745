"""The build of the boat shed, and small lists made up for one test."""

import tomllib
from dataclasses import replace
from pathlib import Path

from lathe_course.design.lathe import LATHE
from lathe_course.planning import shops, tasks
from lathe_course.planning.capabilities import BORROWED, OWN, Shop, read_capabilities, read_needs
from lathe_course.planning.costs import STAND_IN
from lathe_course.planning.feasible import feasible, lathe_stages
from lathe_course.planning.mix import NONE, Choice, Choices
from lathe_course.planning.parts import BUY, MAKE, USED, Part, PartsList, Way, course_parts
from lathe_course.ranges import Range

CHOICES = {
    "bed_form": "filled box",
    "bearing_kind": "taper roller",
    "drive_kind": "three-phase and inverter",
    "threading": "yes",
    "top_of_slide": "topslide",
    "countershaft": "no",
    "back_gear": "no",
    "feed_drive": "by hand",
    "nose_kind": "thread",
    "toolpost_kind": "four-way block",
    "stop_gear": "no-volt release",
    "chuck_guard": "shield without a switch",
    "controller_box": "bare beside the lathe",
    "leakage_device": "not asked yet",
    "coolant": "oil by brush",
    "parting_from": "in front",
    "dividing": "paper strip",
    "collets": "none",
    "hand_rest": "none",
}
#: centre height, between centres, height of the slide [m], and choices that differ from those of the boat shed
DEMOS = {
    "cabin": (
        0.050,
        0.150,
        0.022,
        {
            "bed_form": "two round bars",
            "bearing_kind": "deep groove",
            "drive_kind": "direct current and controller",
            "threading": "no",
            "top_of_slide": "solid block",
        },
    ),
    "boat_shed": (0.075, 0.300, 0.030, {}),
    "shared_barn": (0.110, 0.500, 0.045, {"bed_form": "closed box", "feed_drive": "separate shaft or motor"}),
}
PARTS = course_parts().for_design(CHOICES)
STAGES = lathe_stages(0.075, 0.3, 0.09)
REDO_SHARE = LATHE.figures["redo_share"].standard()
HOURS_BESIDE = sum(task.hours.likely for task in tasks.course_tasks() if task.hours is not None)
SHED = shops.shop_of(shops.demo_machines("boat_shed"))
WORKSHOPS = tomllib.loads((Path(__file__).parent / "archetypes.toml").read_text(encoding="utf-8"))["workshop"]


def shop_of(workshop) -> Shop:
    """The shop of a row of archetypes.toml."""
    return Shop(
        read_capabilities(workshop["can"], "own bench", OWN)
        + read_capabilities(workshop.get("borrowed", ""), "other bench", BORROWED),
        frozenset(workshop["equipment"]),
    )


def choices(shop=SHED, parts=PARTS, stages=STAGES, end="likely", closed=(USED,)):
    """What can be chosen in a shop, added up from the tables by hand: everything new, all at the size and the prices of the list."""
    found = feasible(parts, shop, stages, closed)
    always, sometimes = shops.tools_for(shops.course_equipment(), shop)
    made = [
        Choice(
            one.way.part,
            one.way.how,
            getattr(one.way.money, end),
            getattr(one.way.hours, end) * (1 + one.way.rework * REDO_SHARE.likely)
            + (STAND_IN if one.stage and parts[one.way.part].stand_in else 0.0),
            getattr(one.way.weeks, end),
            tuple(frozenset({item.name}) for item in sometimes if item.serves_way(one.way)),
            one.borrowed,
            one.stage,
        )
        for one in found.open_ways
    ]
    tools = [
        Choice(item.name, how, getattr(item.money, end) * (how == BUY), 0.0, sort="tool")
        for item in sometimes
        for how in (BUY, NONE)
    ]
    return Choices(
        (*made, *tools), sum(getattr(item.money, end) for item in always), HOURS_BESIDE + sum(item.hours for item in always)
    )


def parts_only(given):
    """The parts alone, with no tool to buy for any of them."""
    return [replace(one, calls=()) for one in given.choices if one.sort == "part"]


def way(part, how=MAKE, needs="", hours=10.0, money=20.0, weeks=1.0):
    return Way(
        part,
        how,
        Range(hours, hours, hours),
        Range(money, money, money),
        Range(0, 0, 0),
        Range(0, 0, 0),
        Range(weeks, weeks, weeks),
        read_needs(needs),
    )


def part(name, after="", first_needed="", stand_in="", only_if="", group="g", ways=None, **more):
    return Part(
        name,
        group,
        "t",
        tuple(filter(None, after.split(" + "))),
        first_needed,
        stand_in,
        only_if,
        1.0,
        1.0,
        0.0,
        0.075,
        0.3,
        ways=(way(name),) if ways is None else tuple(ways),
        **more,
    )


def parts(*made):
    return PartsList(made)
