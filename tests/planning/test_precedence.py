"""Order of the parts, circles, and from when on the half-built lathe makes its own."""

import pytest
from demo_build import CHOICES, PARTS, STAGES, WORKSHOPS, part, parts, shop_of, way

from lathe_course.planning.capabilities import Shop
from lathe_course.planning.feasible import feasible
from lathe_course.planning.network import order
from lathe_course.planning.parts import OUT, course_parts
from lathe_course.planning.parts import STAGES as NAMES
from lathe_course.planning.precedence import needed, needed_for, order_of_work, stages_of
from lathe_course.planning.tasks import course_tasks, in_order, parts_of_tasks, task_of
from lathe_course.units import InputProblem

CHUCK, TAILSTOCK, THREADS = NAMES
TASKS = [task.name for task in course_tasks()]


# --- order ----------------------------------------------------------------------------------------------
def test_each_part_stands_after_those_it_needs():
    found = order(PARTS.after)
    place = {name: number for number, name in enumerate(found)}
    assert sorted(found) == sorted(PARTS.by_name)
    assert all(place[before] < place[name] for name, needs in PARTS.after.items() for before in needs)


def test_where_nothing_forces_an_order_that_of_the_table_is_kept():
    assert order({"c": (), "a": (), "b": ("a",)}) == ("c", "a", "b")
    assert order({"c": (), "a": (), "b": ("a",)}, keep=["b", "a", "c"]) == ("a", "b", "c")


def test_a_circle_is_told_by_its_parts():
    with pytest.raises(InputProblem, match="in a circle: ") as caught:
        order({"saddle": ("bed",), "bed": ("gib",), "gib": ("saddle",), "chuck": ()})
    said = str(caught.value)
    assert all(name in said for name in ("saddle", "bed", "gib")) and "chuck" not in said
    for after, before in (("saddle", "bed"), ("bed", "gib"), ("gib", "saddle")):
        assert f"“{after}” waits for “{before}”" in said


# --- stages ---------------------------------------------------------------------------------------------
def test_a_stage_needs_what_its_parts_come_after():
    made = parts(part("bed"), part("spindle", after="bed", first_needed=CHUCK), part("knob", after="spindle"))
    assert needed_for(made, CHUCK) == {"bed", "spindle"}


def test_a_stand_in_frees_its_part_and_what_only_that_part_comes_after():
    made = parts(
        part("screw blank"),
        part("screw", after="screw blank", first_needed=CHUCK, stand_in="a rod"),
        part("nut", after="screw", first_needed=CHUCK),
    )
    assert needed_for(made, CHUCK) == {"nut"}


def test_a_later_stage_needs_all_that_an_earlier_one_does():
    sets = list(needed(PARTS).values())
    assert len(sets) == 3 and sets[0] < sets[1] < sets[2]


def test_a_lathe_without_threads_has_no_stage_for_them():
    plain = course_parts().for_design({**CHOICES, "threading": "no"})
    assert stages_of(plain) == (CHUCK, TAILSTOCK) and stages_of(PARTS) == NAMES
    assert needed_for(plain, THREADS) == frozenset() and stages_of(parts(part("a"))) == ()


#: by the notes of the trade: what a lathe with no other in reach can turn for itself, 16 parts and 121 hours
OWN_WORK = {
    "bearing covers",
    "spindle pulley",
    "cross-feed screw",
    "topslide screw",
    "dials",
    "handwheels",
    "rack pinion and handwheel gear",
    "half nuts",
    "tailstock body",
    "tailstock barrel",
    "tailstock screw",
    "motor pulley and belt",
    "change gears",
    "tumbler reverse",
    "thread indicator",
    "chuck backplate",
}


def test_sixteen_parts_and_121_hours_can_be_made_on_the_lathe_itself():
    """With every machine but a lathe at hand.  Nobody keeps this list: it comes out of the order of the parts."""
    full = shop_of(next(one for one in WORKSHOPS if one["name"] == "full machine shop"))
    without = Shop(
        tuple(
            one
            for one in full.capabilities
            if one.operation not in ("turning", "threading", "keyways", "dividing", "gear cutting", "boring")
        )
    )
    found = feasible(PARTS, without, STAGES)
    assert set(found.on_the_lathe) == OWN_WORK
    assert sum(PARTS[name].way("make it here").hours.likely for name in OWN_WORK) == pytest.approx(121)


def test_the_backplate_no_longer_waits_for_itself():
    """The notes called it needed for the first turning and turned it on the lathe all the same; now work is bolted to the nose until then."""
    assert (
        "chuck backplate" not in needed_for(PARTS, CHUCK)
        and PARTS["chuck backplate"].stand_in
        and "spindle" in needed_for(PARTS, CHUCK)
    )


# --- the work -------------------------------------------------------------------------------------------
def test_the_order_of_work_can_be_worked():
    uses = {"handwheels": CHUCK, "dials": TAILSTOCK, "half nuts": THREADS, "tailstock body": CHUCK}
    found = order_of_work(PARTS, uses, TASKS)
    place = {moment.name: number for number, moment in enumerate(found)}
    assert len(found) == len(PARTS) + 3
    for name, stage in uses.items():
        assert place[stage] < place[name]
    for stage in NAMES:
        assert all(place[name] < place[stage] for name in needed_for(PARTS, stage))
    for name, before in PARTS.after.items():
        assert all(
            place[other] < place[name] for other in before if not (PARTS[other].stand_in and name in needed_for(PARTS, THREADS))
        )
    chips = found[place[CHUCK]]
    assert chips.stage and "covers and chuck shield" in chips.stand_ins and "handwheels" in chips.stand_ins
    assert place[CHUCK] == len(needed_for(PARTS, CHUCK)), "first chips come as early as they can"


def test_a_part_cannot_be_made_on_a_stage_that_needs_it():
    with pytest.raises(InputProblem, match="the spindle cannot be made by turning in the chuck on the lathe itself"):
        order_of_work(PARTS, {"spindle": CHUCK})
    with pytest.raises(InputProblem, match="the dials cannot be made by carving"):
        order_of_work(PARTS, {"dials": "carving"})


def test_a_stage_opens_only_if_its_parts_can_be_had_without_it():
    turned = way("nose", needs="turning 30 x 30 mm")
    made = parts(part("nose", first_needed=CHUCK, ways=[turned]), part("knob", ways=[way("knob", needs="turning 30 x 30 mm")]))
    found = feasible(made, Shop(), STAGES)
    assert found.stages == () and found.stuck == ("nose", "knob")
    also = parts(
        part("nose", first_needed=CHUCK, ways=[turned, way("nose", OUT)]),
        part("knob", ways=[way("knob", needs="turning 30 x 30 mm")]),
    )
    found = feasible(also, Shop(), STAGES)
    assert found.stages == (CHUCK,) and found.stuck == () and found.on_the_lathe == ("knob",)


# --- tasks ----------------------------------------------------------------------------------------------
def test_tasks_stand_in_an_order_that_can_be_worked_and_take_99_hours_beside_the_parts():
    assert len(TASKS) == 21
    assert [sum(ends) for ends in zip(*(task.hours for task in course_tasks() if task.hours is not None))] == [59, 99, 181]
    for task in course_tasks():
        assert all(TASKS.index(before) < TASKS.index(task.name) for before in task.after)


def test_every_part_of_every_design_belongs_to_a_task():
    found = parts_of_tasks(course_tasks(), course_parts())
    for task in course_tasks():
        assert bool(found[task.name]) is (task.hours is None), task.name


def test_parts_never_come_before_their_tasks_would_have_them():
    """A part that comes after another belongs to the same task or to a later one."""
    place = {name: number for number, name in enumerate(TASKS)}
    for name, before in PARTS.after.items():
        for other in before:
            assert place[PARTS[other].task] <= place[PARTS[name].task] or PARTS[other].stand_in, f"{name} after {other}"


def test_a_task_that_cannot_be_is_told():
    row = {"after": "", "hours": None, "opens": "", "milestone": "", "source": ""}
    with pytest.raises(InputProblem, match="comes after 'drawng', which is no task; did you mean drawing"):
        in_order([task_of(row, "drawing"), task_of({**row, "after": "drawng"}, "sawing")])
    with pytest.raises(InputProblem, match="in a circle"):
        in_order([task_of({**row, "after": "b"}, "a"), task_of({**row, "after": "a"}, "b")])
    with pytest.raises(InputProblem, match="no stage of the lathe"):
        task_of({**row, "opens": "planing"}, "a")
    with pytest.raises(InputProblem, match="belongs to the task 't', which is no task"):
        parts_of_tasks(course_tasks(), parts(part("a")))
