"""Readings of the test sheet: worked out, judged, told what is odd about them, and corrected."""

import re

import numpy as np
import pytest
from cases import every

from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.evaluation import evaluate
from lathe_course.design.measured.corrections import behind, correction
from lathe_course.design.measured.readings_judged import judged
from lathe_course.machine import alignment

BOAT = demo("boat_shed")


def sheet_of(*rows, design=BOAT):
    """The sheet of rows (test, readings[, over[, when]])."""
    written = [dict(zip(("test", "readings", "over", "when"), row)) for row in rows]
    rows = [{"when": "before", **{key: value for key, value in row.items() if value}} for row in written]
    evaluation = evaluate(design.with_readings("alignment", rows, shown=design.readings["alignment"].written))
    return judged(evaluation), evaluation


def only(*rows):
    sheet, evaluation = sheet_of(*rows)
    assert not sheet.problems
    (found,) = sheet.tested.values()
    return found, correction(found, sheet, evaluation)


# --- figures --------------------------------------------------------------------------------------------
@every(
    "test, readings, value",
    [
        ("axis sideways", "5 µm; -18 µm", -23e-6),
        ("cross-slide square", "0 µm; -7 µm", 7e-6),
        ("level across", "0.02 mm/m; 0.11 mm/m", 0.09e-3),
        ("bed straight", "0.02 mm/m; 0 mm/m; -0.02 mm/m", 2e-6),
        ("bed straight", "-0.04 mm/m; 0.04 mm/m", -6e-6),
        ("nose run-out", "4 µm; 3 µm; -3 µm; -2 µm", np.hypot(7, 5) * 1e-6),
        ("nose run-out", "9 µm", 9e-6),
        ("taper run-out", "6 µm; 0 µm; -6 µm; 0 µm; 2 µm; 0 µm; -2 µm; 0 µm", 8e-6),
        ("collars", "25.010 mm; 25.046 mm; 25.010 mm; 25.040 mm", 30e-6),
        ("collars", "0.9850 in; 0.9862 in", 30.48e-6),
        ("roundness", "25.000 mm; 25.007 mm; 25.003 mm", 7e-6),
        ("lead of the screw", "-0.03 mm", -30e-6),
    ],
)
def test_readings_become_one_figure(test, readings, value):
    found, _ = only((test, readings))
    assert found.value == pytest.approx(value, rel=1e-9, abs=1e-12)


def test_a_bar_turned_half_round_is_told_from_the_spindle():
    found, made = only(("taper run-out at the end", "30 µm; 0 µm; -30 µm; 0 µm; 10 µm; 0 µm; -10 µm; 0 µm"))
    assert found.value == pytest.approx(40e-6) and found.parts["bar"] == pytest.approx(20e-6)
    assert "The bar's own part, 20 µm, is taken out." in made.says
    assert made.working("mm").result == pytest.approx(found.value)
    _, evaluation = sheet_of()
    first = [working.formula.name for working in behind(found, evaluation)][:2]
    assert first == ["spindle_run_out", "bar_run_out"], "what was sought comes before what is taken out"


def test_a_shim_from_the_collars_of_the_trade():
    """25.010 at the chuck and 25.040 100 mm out, fixings 90 mm apart: 13.5 µm, the outer end towards the tool."""
    found, made = only(("collars", "25.010 mm; 25.040 mm", "100 mm"))
    assert found.status == "fails"
    assert "leans 15 µm away from the tool over 100 mm" in made.says and "by 13.5 µm towards the tool" in made.says
    assert "no shim mends that" in made.says  # two diameters do not tell a flexing bar
    assert made.formula is alignment.shim_thickness and made.working("mm").result == pytest.approx(13.5e-6)


def test_flexing_is_told_from_leaning():
    _, made = only(("collars", "25.010 mm; 25.046 mm; 25.010 mm; 25.040 mm"))
    assert "took 6 µm of the taper away" in made.says
    found, made = only(("collars", "25.010 mm; 25.046 mm; 25.008 mm; 25.010 mm"))
    assert found.status == "holds" and made is None  # all of it was the bar


def test_the_tailstock_goes_over_by_half_the_difference_times_the_lengths():
    _, made = only(("bar between centres", "24.980 mm; 25.010 mm", "200 mm"))
    assert "by 22.5 µm towards the tool" in made.says  # 15 µm times 300 over 200
    _, made = only(("bar between centres", "25.010 mm; 24.980 mm", "200 mm"))
    assert "away from the tool" in made.says


def on_feet(feet, *row):
    sheet, evaluation = sheet_of(row, design=BOAT.trying(feet=feet))
    (found,) = sheet.tested.values()
    return correction(found, sheet, evaluation).says


def test_a_foot_is_lifted_on_the_side_that_is_low():
    bolted = "four feet bolted down"
    said = on_feet(bolted, "level across", "0 mm/m; 0.1 mm/m", "400 mm")
    # 0.1 mm/m over a bed of 120 mm; the tool stands 115 mm above the line of twist
    assert (
        said.startswith("Lift the rear foot at the tailstock end by 12 µm")
        and "23 µm into the diameter" in said
        and "between centres hardly any" in said
    )
    assert on_feet(bolted, "level across", "0 mm/m; -0.1 mm/m", "400 mm").startswith("Lift the foot on the tool's side")
    # read half as far apart as the feet stand: twice the twist is in the bed
    apart = 1000 * evaluate(BOAT.trying(feet=bolted))["foot_spacing"]
    said = on_feet(bolted, "level across", "0 mm/m; 0.1 mm/m", f"{apart / 2:g} mm")
    assert "by 24 µm" in said and "the lift is for all of that" in said


def test_three_feet_are_not_lifted_and_a_free_stiff_bed_does_not_follow():
    said = on_feet("three feet", "level across", "0 mm/m; 0.1 mm/m", "400 mm")
    assert (
        said.startswith("On three feet no foot can twist the bed")
        and "Lift the" not in said
        and "23 µm into the diameter" in said
    )
    assert "too light to follow" in on_feet("four feet standing free", "level across", "0 mm/m; 0.1 mm/m", "400 mm")


@pytest.mark.parametrize(
    ("readings", "says"),
    [
        ("0 µm; 20 µm", "rear fixing of the headstock, the one far from the nose"),
        ("0 µm; -20 µm", "front fixing of the headstock, the one next to the nose"),
    ],
)
def test_the_shim_goes_under_the_fixing_that_is_low(readings, says):
    assert says in only(("axis rises", readings, "150 mm"))[1].says


@pytest.mark.parametrize("over", [0.1, 0.15, 0.2, 0.3])
def test_a_bar_that_hangs_by_a_tenth_of_what_is_allowed_is_told_of(over):
    """Statics: a round cantilever sags by its own weight by w L⁴ / 8 E I, which is 2 ρ g L⁴ / E d²."""
    e = evaluate(BOAT)
    sag = 2 * 7850 * 9.81 * over**4 / (205e9 * e["taper_diameter"] ** 2)
    found, made = only(("axis rises", "0 µm; 60 µm", f"{1000 * over:g} mm"))
    told = re.search(r"hangs down by ([\d.]+) µm over this length", made.says)
    share = sag / found.allowed.limit
    assert abs(share - 0.1) > 0.005 and bool(told) == (share > 0.1)
    assert not told or float(told[1]) == pytest.approx(1e6 * sag, rel=0.06)


@pytest.mark.parametrize(
    ("lobes", "says"),
    [
        (2, "An oval of 20 µm: the front bearing"),
        (3, "Three lobes of 20 µm: the squeeze of a three-jaw chuck"),
        (5, "5 lobes of 20 µm: look for something that comes 5 times a turn"),
    ],
)
def test_the_shape_of_roundness_says_where_it_comes_from(lobes, says):
    turn = 2 * np.pi * np.arange(16) / 16
    readings = "; ".join(f"{10 * np.cos(lobes * angle):.4f} µm" for angle in turn)
    assert says in only(("roundness", readings))[1].says


def test_an_error_the_wrong_way_is_out_however_small():
    found, _ = only(("axis sideways", "0 µm; -3 µm", "150 mm"))
    assert found.wrong_way and found.status == "fails"
    assert only(("axis sideways", "0 µm; 3 µm", "150 mm"))[0].status == "holds"
    assert only(("tailstock height", "0 µm; -0.5 µm"))[0].status == "holds"  # no indicator in a shed tells that from nothing


def test_little_room_is_tight_and_not_corrected():
    found, made = only(("axial slip", "9.5 µm"))
    assert (found.status, made) == ("tight", None)


# --- odd readings -------------------------------------------------------------------------------------------
def told(*rows):
    sheet, _ = sheet_of(*rows)
    return [note for found in sheet.tested.values() for note in found.notes]


def test_one_point_where_two_are_needed_is_told():
    sheet, _ = sheet_of(("axis sideways", "4 µm"), ("bed straight", "0.01 mm/m"), ("nose run-out", "5 µm"))
    assert [key[0] for key in sheet.tested] == ["nose run-out"]
    assert sheet.problems[0] == (
        "Row 1, axis sideways: one reading tells nothing yet; write two readings: near the headstock; further out, "
        "parted by semicolons."
    )
    assert sheet.problems[1].startswith("Row 2, bed straight: one reading tells nothing yet")


def test_all_that_cannot_be_read_is_told_at_once_and_the_rest_is_worked_out():
    sheet, _ = sheet_of(("axis sideways", "4; 5,2 µm"), ("level across", "0.02 mm; 0.03 mm/m"), ("axial slip", "5 µm", "100 mm"))
    said = "\n".join(sheet.problems)
    assert "reading 1 '4' has no unit" in said and "reading 2 '5,2 µm' has a comma" in said and "a slope is needed" in said
    assert "this test has no length, so 100 mm is not used" in said
    assert ("axial slip", "before") in sheet.tested


def test_an_outlier_is_told_and_left_out():
    goes = [("axis sideways", f"0 µm; {value} µm") for value in (5, 6, 44)]
    sheet, _ = sheet_of(*goes)
    found = sheet.tested["axis sideways", "before"]
    assert found.value == pytest.approx(5.5e-6) and len(found.goes) == 3
    assert found.notes == (
        "Go 3, 44 µm, stands far from the others, about 6 µm: look for a chip or a slip, and read again. It is left out.",
    )


def test_a_sign_turned_round_is_told():
    (note,) = told(*[("axis sideways", f"0 µm; {value} µm") for value in (-24, -22, 23)])
    assert "has the size of the others and the other sign" in note


def test_two_goes_that_disagree_ask_for_a_third():
    (note,) = told(("nose run-out", "2 µm"), ("nose run-out", "9 µm"))
    assert "differ by 7 µm, more than half of what is allowed" in note


def test_axis_and_collars_that_speak_against_each_other():
    assert (
        "One sign is turned" in told(("axis sideways", "0 µm; 20 µm", "150 mm"), ("collars", "25.00 mm; 25.03 mm", "100 mm"))[0]
    )
    assert told(("axis sideways", "0 µm; -22 µm", "150 mm"), ("collars", "25.00 mm; 25.03 mm", "100 mm")) == []


def test_a_correction_that_went_the_wrong_way_is_told_after():
    assert "went the wrong way" in told(("axis sideways", "0 µm; 20 µm"), ("axis sideways", "0 µm; 41 µm", "", "after"))[0]
    assert (
        "gone over to the other side" in told(("axis sideways", "0 µm; 20 µm"), ("axis sideways", "0 µm; -15 µm", "", "after"))[0]
    )
    assert told(("axis sideways", "0 µm; 20 µm"), ("axis sideways", "0 µm; 4 µm", "", "after")) == []


def test_a_run_out_below_nothing_is_a_slip_of_the_pen():
    assert told(("axial slip", "-6 µm")) == ["A run-out has no sign; the minus is taken as a slip of the pen."]


def test_what_a_test_leans_on_is_mended_first():
    sheet, evaluation = sheet_of(("level across", "0 mm/m; 0.2 mm/m"), ("axis sideways", "0 µm; -30 µm"))
    assert sheet.standing_on("axis sideways") == ["level across"]
    made = correction(sheet.last("axis sideways"), sheet, evaluation)
    assert made.says.startswith("First mend what it depends on: level across. Then read again")
    mended, _ = sheet_of(
        ("level across", "0 mm/m; 0.2 mm/m"), ("level across", "0 mm/m; 0 mm/m", "", "after"), ("axis sideways", "0 µm; -30 µm")
    )
    assert mended.standing_on("axis sideways") == []


@pytest.mark.parametrize("name", DEMOS)
def test_every_demo_brings_readings_that_can_be_read(name):
    evaluation = evaluate(demo(name))
    sheet = judged(evaluation)
    assert not sheet.problems and len(sheet.tested) >= 4
    for found in sheet.tested.values():
        made = correction(found, sheet, evaluation)
        assert (made is not None) == (found.status == "fails")
        for system in ("mm", "inch"):
            if made is not None and made.formula is not None:
                assert made.working(system)


def test_the_boat_shed_comes_right():
    sheet = judged(evaluate(BOAT))
    was = {name for (name, when), found in sheet.tested.items() if when == "before" and found.status == "fails"}
    assert was == {"level across", "axis rises", "axis sideways", "tailstock height", "collars", "bar between centres"}
    assert all(sheet.tested[name, "after"].status == "holds" for name in was)


@pytest.mark.parametrize("name", DEMOS)
def test_the_blackboard_shows_the_figures_of_the_sheet(name):
    evaluation = evaluate(demo(name))
    sheet = judged(evaluation)
    for found in sheet.tested.values():
        shown = {working.formula.name: working.result for working in behind(found, evaluation)}
        if "tolerance_at_length" in shown:
            assert shown["tolerance_at_length"] == pytest.approx(found.allowed.by_class)
        if "tolerance_from_work" in shown:
            assert shown["tolerance_from_work"] == pytest.approx(found.allowed.by_work)
        for made in ("run_out", "spindle_run_out"):
            assert shown.get(made, found.value) == pytest.approx(found.value)
        if "axis_swing" in shown:
            assert shown["axis_swing"] == pytest.approx(-found.value / 2)


def test_two_bearings_alike_leave_at_the_nose_what_one_has_once_they_are_turned_alike():
    """By levers: opposed they show r (1 + 2 o/s) at the nose, overhang o over span s; on one side r (1 + o/s) - r o/s, which is r."""
    e = evaluate(BOAT).central
    said = only(("nose run-out", "22 µm"))[1].says
    left = float(said.split("now stand opposed, ")[1].split(" µm")[0])
    assert left == pytest.approx(22 / (1 + 2 * e["spindle_overhang"] / e["bearing_span"]), rel=0.01)
