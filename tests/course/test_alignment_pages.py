"""Pages of the test sheet, the run-in, marks and oil: what they say for the demos and for odd readings."""

import re

import numpy as np
import pytest
from cases import every

from lathe_course.course import open_chapter
from lathe_course.course.pages.alignment import chatter_marks, correction_worked, run_in, test_sheet, tests_in_order
from lathe_course.course.pages.lubrication import lubrication
from lathe_course.course.pictures import PICTURES
from lathe_course.course.pictures.alignment import _SET_UPS
from lathe_course.course.pictures.style import Canvas
from lathe_course.course.printed.wall_charts import wall_charts_html
from lathe_course.design.chapters.spindle import BEARINGS
from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.evaluation import evaluate
from lathe_course.design.measured.acceptance import TESTS, in_order
from lathe_course.tables import table
from lathe_course.units import InputProblem

sheet_page, order_page = test_sheet, tests_in_order
del test_sheet, tests_in_order  # the test runner would take them for tests

BOAT = demo("boat_shed")


def with_rows(sheet, *rows, design=BOAT):
    return evaluate(design.with_readings(sheet, rows, shown=design.readings[sheet].written))


def test_every_test_is_listed_in_its_order_with_what_to_write():
    plain = repr(order_page(evaluate(BOAT))).splitlines()
    listed = [line for line in plain[2:] if not line.startswith("    ")]
    assert [re.split(r"  +", line)[1] for line in listed] == list(in_order())
    assert re.search(
        r"axis sideways +6\.25 µm in 150 mm, for the stern bush +\d+ to \d+ µm .*\n    .* Write two readings", "\n".join(plain)
    )


@pytest.mark.parametrize("system", ["mm", "inch"])
@pytest.mark.parametrize("name", DEMOS)
def test_the_sheet_of_a_demo_can_be_read(name, system):
    from dataclasses import replace

    page = sheet_page(evaluate(replace(demo(name), system=system)))
    said = repr(page)
    assert "as it stands" in said and "Not made yet" in said and "nan" not in said
    if system == "inch":
        assert "µm" not in said.replace(", 23 µm", "")


def test_what_was_mended_is_told_with_what_the_first_readings_asked_for():
    said = repr(sheet_page(evaluate(BOAT)))
    assert "What to do" not in said
    assert (
        "1. level across: the bed is twisted. On three feet no foot can twist the bed" in said
        and "turns 20.7 µm into the diameter" in said
    )
    assert "axis sideways: Go 3, 23 µm, has the size of the others and the other sign" in said


def test_what_is_still_out_comes_in_the_order_of_doing_it():
    said = repr(sheet_page(evaluate(demo("cabin"))))
    assert (
        said.index("What to do, in this order")
        < said.index("1. axis sideways:")
        < said.index(". collars:")
        < said.index(". roundness:")
    )
    assert "the correction went the wrong way" in said


def test_an_empty_sheet_and_one_that_cannot_be_read():
    assert repr(sheet_page(with_rows("alignment"))) == "There are no readings yet: fill in the rows above, and keep them."
    said = repr(sheet_page(with_rows("alignment", {"test": "collars", "when": "before", "readings": "25 mm"})))
    assert "Not read:\n  - Row 1, collars: one reading tells nothing yet" in said


def test_one_correction_is_worked_out_from_the_learners_own_readings():
    said = repr(correction_worked(evaluate(BOAT), "collars"))
    assert "s = 13.5 µm" in said and "First mend" not in said
    assert "is not out" in repr(correction_worked(evaluate(BOAT), "faced disc")) and "was not read yet" in repr(
        correction_worked(evaluate(BOAT), "topslide level")
    )
    with pytest.raises(InputProblem, match="no test called 'colars'.*collars"):
        correction_worked(evaluate(BOAT), "colars")


def test_marks_say_whether_they_go_with_the_spindle():
    whole = repr(chatter_marks(evaluate(BOAT), "30 mm", "2.244 mm", "250 rpm"))
    assert whole.startswith("42 marks in a turn: near enough a whole number") and "f = 175 Hz" in whole
    assert "no whole number" in repr(chatter_marks(evaluate(BOAT), "30 mm", "2.2 mm", "250 rpm"))
    with pytest.raises(InputProblem, match="has no unit"):
        chatter_marks(evaluate(BOAT), "30", "2.2 mm", "250 rpm")


def rises(*figures, speed="550 rpm", every=10):
    return [{"speed": speed, "time": f"{every * (number + 1)} min", "rise": f"{rise} K"} for number, rise in enumerate(figures)]


@pytest.mark.parametrize(
    ("figures", "says"),
    [
        ((8, 12, 14), "on its way to 16 K above the room. That is within bounds."),
        ((16, 24, 30), "on its way to 48 K above the room. That is too warm"),
        ((24, 30, 36), "36 K and rising as fast as before. Stop; ease the preload."),
        ((24, 25, 25), "level at 25 K. That is within bounds."),
        ((8, 12), "2 readings; three, evenly apart"),
    ],
)
def test_a_housing_that_warms_is_foretold(figures, says):
    assert says in repr(run_in(with_rows("run_in", *rises(*figures))))


def test_readings_at_odd_times_foretell_nothing():
    rows = rises(8, 12, 14)
    rows[2]["time"] = "45 min"
    assert "not evenly apart in time" in repr(run_in(with_rows("run_in", *rows)))


@pytest.mark.parametrize("kind", BEARINGS)
def test_every_kind_of_bearing_has_its_oil_or_grease(kind):
    assert kind in table("lubricants")
    said = repr(lubrication(evaluate(BOAT.trying(bearing_kind=kind))))
    assert "Mains locked off" in said and "nan" not in said
    assert ("least film" in said) == (kind == "plain bronze") and ("grease amount" in said) == (kind != "plain bronze")


def test_a_slow_journal_under_load_is_said_to_touch():
    slow = BOAT.trying(bearing_kind="plain bronze", slowest_speed=2.0)
    assert "metal touches metal" in repr(lubrication(evaluate(slow)))


@every("test", TESTS)
def test_every_test_has_its_picture(test):
    assert test in _SET_UPS
    e = evaluate(BOAT)
    canvas, picture = Canvas(), PICTURES["test_set_up"]
    assert canvas.draw(picture, e, test=test) and picture.describe(e, test=test).startswith(f"Test {TESTS[test].number}, {test},")
    for axes in canvas.figure(picture, e, test=test).axes:
        assert np.all(np.isfinite(axes.get_xlim()))


def test_pictures_without_readings_say_so():
    assert "There are no readings yet" in PICTURES["errors_read_out"].describe(with_rows("alignment"))
    assert "There is no test called" in PICTURES["test_set_up"].describe(evaluate(BOAT), test="colars")


def test_the_chapter_shows_them_by_name(nowhere):
    chapter = open_chapter("17")
    for name in ("tests_in_order", "test_sheet", "run_in", "lubrication"):
        assert repr(chapter.show(name))


def test_a_set_up_is_chosen_from_the_list(nowhere):
    panel = open_chapter("17").show("set_ups")
    chosen, shown = panel.widget.children
    before = shown.value
    chosen.value = "bed straight"
    assert shown.value != before and "bed straight" in shown.value
    assert repr(panel).startswith("[a test to choose, and its picture]\nTest 7, axis sideways,")
    with pytest.raises(InputProblem, match="no test called 'axis sidewise'.*axis sideways"):
        open_chapter("17").show("set_ups", test="axis sidewise")


def test_nothing_is_told_of_what_the_cabin_has_not():
    """No change wheels to grease, no topslide and no screw to test, in the chapter and on the wall."""
    cabin = evaluate(demo("cabin"))
    assert "change gears" in lubrication(evaluate(BOAT)).plain and "change gears" not in lubrication(cabin).plain
    for text in (order_page(cabin).plain, wall_charts_html(demo("cabin"))):
        assert "tailstock height" in text and not any(
            name in text for name in ("topslide level", "lead of the screw", "slip of the screw")
        )


def test_a_small_difference_of_two_diameters_can_be_read_off_its_sum():
    """25.010 and 25.046 mm are not both 25 mm, or their difference would be nothing."""
    said = correction_worked(evaluate(BOAT), test="collars").plain
    assert (
        "25.01 mm" in said
        and "(25 mm - 25 mm)" not in said
        and "<pre>" not in correction_worked(evaluate(BOAT), test="collars").markup
    )
