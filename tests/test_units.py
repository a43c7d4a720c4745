"""The one door for units: what may be written, what is refused and in which words, and how figures are shown."""

import dataclasses
import math
import os
import subprocess
import sys

import numpy as np
import pint
import pytest
from cases import every
from hypothesis import given, settings
from hypothesis import strategies as st

import lathe_course.design.lathe  # noqa: F401  all formulas
from lathe_course import units
from lathe_course.formula import FORMULAS
from lathe_course.unit_words import FACTORS, TURNING
from lathe_course.units import InputProblem, in_unit, number, outside_validity, quantity, read, registry, shown, unit_text

LENGTH = units.Length("mm", "d", above=0)
SPEED = units.RotationalSpeed("rpm", "n")
FEED = units.FeedPerTurn("mm/rev", "f")
KINDS = [
    *units.KINDS,
    units.Length("µm"),
    units.Length("m"),
    units.Speed("mm/min"),
    units.Speed("mm/s"),
    units.Speed("m/s"),
    units.Power("kW"),
    units.Force("kN"),
    units.Compliance("µm/N"),
    units.Stress("GPa"),
    units.Area("m²"),
]
NAMES = [f"{kind.what}, {kind.unit}" for kind in KINDS]


def refusal(value, kind, name="diameter"):
    with pytest.raises(InputProblem) as caught:
        read(value, kind, name)
    return str(caught.value)


# --- what may be written ---------------------------------------------------------------------------
@every(
    "text, mm",
    [
        ("75 mm", 75),
        ("75mm", 75),
        (" 75 mm ", 75),
        ("7.5 cm", 75),
        ("0.075 m", 75),
        ("75e0 mm", 75),
        ("75\u00a0mm", 75),
        ("+75 mm", 75),
        ("10 µm", 0.01),
        ("10 μm", 0.01),
        ("10 um", 0.01),
        ("10 thou", 0.254),
        ("1 in", 25.4),
        ("1 inch", 25.4),
        ("2 inches", 50.8),
        ('1"', 25.4),
        ("1″", 25.4),
        ("1”", 25.4),
        ("3/4 in", 19.05),
        ('3/4"', 19.05),
        ("1 1/2 in", 38.1),
        ('1-1/2"', 38.1),
        (".5 in", 12.7),
        ("5. mm", 5),
        ("1 ft", 304.8),
        ("1.00×10^-6 m", 0.001),
    ],
)
def test_lengths_as_people_write_them(text, mm):
    assert read(text, LENGTH) == pytest.approx(mm / 1000, rel=1e-12)


@every(
    "text",
    [
        "300 rpm",
        "300 RPM",
        "300 1/min",
        "300 /min",
        "300 min-1",
        "300 min^-1",
        "300 rev/min",
        "300 r/min",
        "300 turns/min",
        "300 revolutions per minute",
        "5 Hz",
        "5 1/s",
        "5 rps",
        "1800 deg/s",
        "31.41592653589793 rad/s",
    ],
)
def test_a_revolution_is_a_turn_of_the_spindle_however_it_is_written(text):
    assert read(text, SPEED) == pytest.approx(10 * math.pi, rel=1e-12)


@pytest.mark.parametrize("text", ["0.1 mm", "0.1 mm/rev", "0.1 mm/r", "0.1 mm/turn", "0.1 mm per rev", "100 um/rev"])
def test_a_feed_given_as_a_length_means_per_revolution(text):
    assert read(text, FEED) == pytest.approx(1e-4, rel=1e-12)


@pytest.mark.parametrize("text", ["4 thou", "0.004 in/rev", '0.004"', "0.004 ipr", "4 thou/rev"])
def test_feeds_in_inches(text):
    assert read(text, FEED) == pytest.approx(4 * 25.4e-6, rel=1e-12)


@every(
    "text",
    [
        "8 per inch",
        "8 tpi",
        "8 TPI",
        "8/in",
        "8 1/in",
        "8 threads per inch",
        "8 threads to the inch",
        "8 to an inch",
        "1/8 in",
        "0.125 in",
        "3.175 mm",
    ],
)
def test_a_pitch_may_be_told_by_the_threads_in_an_inch(text):
    assert read(text, units.Pitch()) == pytest.approx(3.175e-3, rel=1e-12)


def test_a_pitch_without_threads_or_without_a_unit_is_refused_in_words():
    assert "has no thread in the inch" in refusal("0 per inch", units.Pitch("mm", above=0), "pitch")
    assert "is it '8 mm' (or '8 per inch')" in refusal("8", units.Pitch(), "pitch")
    assert "but a pitch is needed" in refusal("8 N", units.Pitch(), "pitch")


@pytest.mark.parametrize("text", ["15 K", "15 °C", "15 degC", "15 ℃", "27 °F", "27 degF", "15 kelvin"])
def test_a_rise_of_temperature_is_never_a_point_on_a_scale(text):
    assert read(text, units.TemperatureRise()) == pytest.approx(15, rel=1e-12)


def test_a_rise_and_an_expansion_in_the_other_system():
    assert units.shown(15.0, units.TemperatureRise(), "inch") == "27 °F"
    assert (
        units.shown(10.8e-6, units.Expansion(), "inch") == "6 µin/(in·°F)"
        and units.shown(10.8e-6, units.Expansion()) == "10.8 µm/(m·K)"
    )


@every("text", ["7 N·m", "7 Nm", "7 N m", "7 N*m", "7 N.m", "7 N-m", "7 J", "0.007 kNm", "700 N·cm", "700 Ncm", "7000 Nmm"])
def test_newton_metres(text):
    assert read(text, units.Torque()) == pytest.approx(7, rel=1e-12)


@every(
    "text",
    ["60 lbf in", "60 lbf·in", "60 in lbf", "60 lb in", "60 in·lb", "60 lb-in", "60 lbf.in", "5 ft lbf", "5 lb·ft", "5 lbft"],
)
def test_pound_inches_are_torque(text):
    assert read(text, units.Torque()) == pytest.approx(60 * 4.4482216152605 * 0.0254, rel=1e-12)


@every(
    "text, kind, si",
    [
        ("100 ft/min", units.Speed(), 0.508),
        ("100 fpm", units.Speed(), 0.508),
        ("100 sfm", units.Speed(), 0.508),
        ("2000 N/mm²", units.Stress(), 2e9),
        ("2000 N/mm2", units.Stress(), 2e9),
        ("2000 MPa", units.Stress(), 2e9),
        ("60 N/µm", units.Stiffness(), 6e7),
        ("20 µm/kN", units.Compliance(), 2e-8),
        ("65800 mm⁴", units.SecondMoment(), 6.58e-8),
        ("0.7", units.Ratio(), 0.7),
        ("70 %", units.Ratio(), 0.7),
        ("3/4", units.Ratio(), 0.75),
        (0.7, units.Ratio(), 0.7),
        ("90 deg", units.Angle(), math.pi / 2),
        ("90°", units.Angle(), math.pi / 2),
        ("0.25 rev", units.Angle(), math.pi / 2),
        ("0.5 hp", units.Power(), 372.849936),
        ("0.5 HP", units.Power(), 372.849936),
        ("2 cm³/min", units.RemovalRate(), 2e-6 / 60),
        ("1 lb ft**2/s**2", units.Torque(), 0.0421401),
        ("0.284 lb/in3", units.Density(), 7861.0929),
    ],
)
def test_other_figures(text, kind, si):
    assert read(text, kind) == pytest.approx(si, rel=1e-6)


@every(
    "text, kind, counted",
    [
        ("1200 EUR", units.Money(), 1200),
        ("1200 €", units.Money(), 1200),
        ("€1200", units.Money(), 1200),
        ("120 €/ month", units.MoneyRate(), 120),
        ("120 EUR a month", units.MoneyRate(), 120),
        ("90 min", units.LabourTime(), 1.5),
        ("20 hours per month", units.HoursRate(), 20),
        ("6 h/week", units.HoursRate(), 26),
        ("1.5 years", units.Months(), 18),
        ("10 EUR / h", units.HourPrice(), 10),
    ],
)
def test_counted_figures(text, kind, counted):
    assert read(text, kind) == pytest.approx(counted)


def test_quantities_of_our_own_and_of_another_registry():
    other = pint.UnitRegistry()
    assert read(registry().Quantity(3, "inch"), LENGTH) == pytest.approx(0.0762)
    assert read(other.Quantity(3, "inch"), LENGTH) == pytest.approx(0.0762)
    assert read(other.Quantity(300, "rpm"), SPEED) == pytest.approx(10 * math.pi)
    assert read(other.Quantity(5, "Hz"), SPEED) == pytest.approx(10 * math.pi)
    assert read(other.Quantity(0.1, "mm/revolution"), FEED) == pytest.approx(1e-4)
    assert read(other.Quantity(0.1, "mm"), FEED) == pytest.approx(1e-4)
    assert read(registry().Quantity(1200, "EUR"), units.Money()) == 1200


def test_arrays_keep_their_shape():
    square = np.array([[1.0, 2.0], [3.0, 4.0]])
    found = read(pint.UnitRegistry().Quantity(square, "mm"), LENGTH)
    assert found == pytest.approx(square / 1000)
    assert read(registry().Quantity(np.array([1, 2]), "mm"), LENGTH).dtype == float
    assert isinstance(read(registry().Quantity(np.array(5), "mm"), LENGTH), float)
    assert read([0.1, 0.2], units.Ratio()) == pytest.approx([0.1, 0.2])


def test_lists_of_texts_and_quantities():
    assert read(["1 mm", "1 in", registry().Quantity(1, "cm")], LENGTH) == pytest.approx([0.001, 0.0254, 0.01])
    assert "has no unit" in refusal(["1 mm", 2], LENGTH)
    assert "is a mass" in refusal(["1 mm", "2 kg"], LENGTH)


# --- what is refused, and in which words -------------------------------------------------------------
@every(
    "value, kind, sentence",
    [
        # a bare number: how to write it
        (75, LENGTH, "diameter 75 has no unit; is it '75 mm' (or '75 in')? Write the number with its unit."),
        ("75", LENGTH, "diameter '75' has no unit; is it '75 mm' (or '75 in')? Write the number with its unit."),
        (0.1, FEED, "diameter 0.1 has no unit; is it '0.1 mm/rev' (or '0.1 in/rev')? Write the number with its unit."),
        ("300", SPEED, "diameter '300' has no unit; is it '300 rpm'? Write the number with its unit."),
        ([1, 2], LENGTH, "diameter (a row of 2 figures) has no unit; write each figure with its unit, for example '75 mm'."),
        # a wrong dimension: what was given and what is needed
        ("75 kg", LENGTH, "diameter '75 kg' is a mass (kg), but a length is needed, for example '75 mm'."),
        ("75 mm", SPEED, "diameter '75 mm' is a length (mm), but a rotational speed is needed, for example '400 rpm'."),
        (
            "30 rpm",
            units.Speed(),
            "diameter '30 rpm' is a rotational speed (rpm), but a speed is needed, for example '30 m/min'.",
        ),
        (
            "0.1 mm/min",
            FEED,
            "diameter '0.1 mm/min' is a speed (mm/min), but a feed per revolution is needed, for example '0.1 mm/rev'.",
        ),
        (
            "0.1 mm/rev",
            LENGTH,
            "diameter '0.1 mm/rev' is a length per revolution (mm/turn), but a length is needed, for example '75 mm'.",
        ),
        ("25 kg", units.Force(), "diameter '25 kg' is a mass (kg), but a force is needed, for example '250 N'."),
        ("7 kW", units.Torque(), "diameter '7 kW' is a power (kW), but a torque is needed, for example '7 N·m'."),
        ("5 mm", units.Angle(), "diameter '5 mm' is a length (mm), but an angle is needed, for example '90 deg'."),
        ("0.7 mm", units.Ratio(), "diameter '0.7 mm' is a length (mm), but a plain number is needed, for example '0.7'."),
        ("1200 USD", units.Money(), "diameter '1200 USD' is in USD, but a sum of money is needed, for example '1200 EUR'."),
        (
            "120 EUR",
            units.MoneyRate(),
            "diameter '120 EUR' is in EUR, but a sum of money a month is needed, for example '120 EUR/month'.",
        ),
        ("20 degC", LENGTH, "diameter '20 degC' is in °C, but a length is needed, for example '75 mm'."),
        # an unknown unit, with the nearest if there is one
        ("75 mmm", LENGTH, "diameter '75 mmm' has the unit 'mmm', which is not known; did you mean mm?"),
        ("75 cubits", LENGTH, "diameter '75 cubits' has the unit 'cubits', which is not known."),
        # nonsense
        ("about 75 mm", LENGTH, "diameter 'about 75 mm' does not start with a number; write it as in '75 mm'."),
        ("", LENGTH, "diameter '' does not start with a number; write it as in '75 mm'."),
        ("nan mm", LENGTH, "diameter 'nan mm' does not start with a number; write it as in '75 mm'."),
        ("1,200 mm", LENGTH, "diameter '1,200 mm' has a comma that can be read in two ways; write '1200 mm' or '1.200 mm'."),
        (
            "1,200,500 mm",
            LENGTH,
            "diameter '1,200,500 mm' has a comma that can be read in two ways; write '1200500 mm' or '1.200500 mm'.",
        ),
        ("1 m**9**9**9", LENGTH, "diameter '1 m**9**9**9' has 'm**9**9**9' where a unit was expected."),
        ("1 m^999", LENGTH, "diameter '1 m^999' has 'm^999' where a unit was expected."),
        ("75,5 mm", LENGTH, "diameter '75,5 mm' has a comma in the number; write it with a point: '75.5 mm'."),
        ("75 mm + 3 mm", LENGTH, "diameter '75 mm + 3 mm' has 'mm + 3 mm' where a unit was expected."),
        ("1/0 in", LENGTH, "diameter '1/0 in' divides by zero."),
        (None, LENGTH, "diameter None cannot be read as a figure; write it with its unit, for example '75 mm'."),
        (True, units.Ratio(), "diameter True cannot be read as a figure; write it with its unit, for example '0.7'."),
        # outside what can be
        ("0 mm", LENGTH, "diameter '0 mm' must be more than zero."),
        ("−5 mm", LENGTH, "diameter '−5 mm' must be more than zero."),
        ("1e400 mm", LENGTH, "diameter '1e400 mm' is not a finite number."),
        ("3 m", units.Length(at_most=2000), "diameter '3 m' must be at most 2000 mm."),
        ("-1 rpm", units.RotationalSpeed(at_least=0), "diameter '-1 rpm' must be at least zero."),
        ("180 deg", units.Angle(below=180), "diameter '180 deg' must be less than 180 deg."),
        ("6.5", units.Count(whole=True), "diameter '6.5' must be a whole number."),
        ("nan", units.Ratio(), "diameter 'nan' does not start with a number; write it as in '0.7'."),
        (float("nan"), units.Count(whole=True), "diameter nan is not a finite number."),
    ],
)
def test_refusals_say_what_is_wrong_and_what_was_expected(value, kind, sentence):
    assert refusal(value, kind) == sentence


@pytest.mark.parametrize(
    "kind", [units.Length("mm", at_least=0), units.Pitch("mm", at_least=0), units.Money(), units.RotationalSpeed(), units.Angle()]
)
def test_nothing_needs_no_unit(kind):
    assert read("0", kind) == read(" 0.0 ", kind) == 0 and "must be more than zero" in refusal("0", LENGTH)


def test_one_bad_figure_in_a_row_is_enough():
    assert refusal(registry().Quantity([1.0, -1.0, 2.0], "mm"), LENGTH) == "diameter (a row of 3 figures) must be more than zero."
    assert refusal(registry().Quantity([1.0, math.inf], "mm"), LENGTH) == "diameter (a row of 2 figures) is not a finite number."


def test_names_are_read_with_blanks():
    assert refusal("0 mm", LENGTH, "nose_radius").startswith("nose radius ")


def test_limits_themselves_are_let_in_where_they_are_allowed():
    kind = units.Length("mm", at_least=10, at_most=2000)
    assert read("10 mm", kind) == pytest.approx(0.01)
    assert read("2000 mm", kind) == pytest.approx(2)
    assert read("2 m", kind) == pytest.approx(2)


def test_outside_validity_is_told_and_not_refused():
    kind = units.Length("mm", valid=(0.05, 2.5))
    words = "outside 0.05 to 2.5 mm, for which the formula was made"
    assert outside_validity(read("0.02 mm", kind), kind) == f"is 0.02 mm, {words}"
    assert outside_validity(read("3 mm", kind), kind) == f"is 3 mm, {words}"
    assert outside_validity(0.003, kind, "inch") == "is 0.118 in, outside 0.00197 in to 0.0984 in, for which the formula was made"
    assert outside_validity(read("0.05 mm", kind), kind) == ""
    assert outside_validity(np.array([1e-3, 1e-2]), kind) == f"is {words}"
    assert outside_validity(1.0, LENGTH) == ""


def test_a_notebook_shows_the_sentences_alone():
    problem = InputProblem([("a", "First sentence."), ("b", "Second sentence.")], heading="Torque cannot be worked out:")
    assert problem._render_traceback_() == ["Torque cannot be worked out:", "- First sentence.", "- Second sentence."]
    assert str(InputProblem([("a", "Only sentence.")])) == "Only sentence."


# --- showing -----------------------------------------------------------------------------------------
@every(
    "value, text",
    [
        (0, "0"),
        (239.43, "239"),
        (0.10234, "0.102"),
        (1234.5, "1230"),
        (999.96, "1000"),
        (20.0, "20"),
        (0.5, "0.5"),
        (-3.14159, "-3.14"),
        (1.5e7, "1.50×10^7"),
        (9.999e-7, "1.00×10^-6"),
        (1.234e-5, "0.0000123"),
        (float("nan"), "–"),
        (float("inf"), "–"),
        (None, "–"),
    ],
)
def test_numbers_have_three_digits_that_matter(value, text):
    assert number(value) == text


@every(
    "si, kind, mm, inch",
    [
        (0.075, units.Length(), "75 mm", "2.95 in"),
        (25.0, SPEED, "239 rpm", "239 rpm"),
        (1e-4, FEED, "0.1 mm/rev", "0.00394 in/rev"),
        (0.5, units.Speed(), "30 m/min", "98.4 ft/min"),
        (7.0, units.Torque(), "7 N·m", "62 lbf·in"),
        (370.0, units.Power(), "370 W", "370 W"),
        (6e7, units.Stiffness(), "60 N/µm", "343 lbf/thou"),
        (0.7, units.Ratio(), "0.7", "0.7"),
        (1200.0, units.Money(), "1200 EUR", "1200 EUR"),
        (2e9, units.Stress(), "2000 N/mm²", "290 ksi"),
        (1.6e-6, units.Length("µm"), "1.6 µm", "0.063 thou"),
    ],
)
def test_figures_in_millimetres_and_in_inches(si, kind, mm, inch):
    assert shown(si, kind) == mm
    assert shown(si, kind, "inch") == inch


@every("system", units.SYSTEMS)
@every("kind", KINDS)
@settings(deadline=None, max_examples=40, derandomize=True)  # the same figures every run, however busy the machine
@given(st.floats(min_value=1e-9, max_value=1e9))
def test_what_is_shown_can_be_read_back(kind, system, workshop):
    si = workshop * kind.factor
    assert read(shown(si, kind, system, digits=12), kind) == pytest.approx(si, rel=1e-9)


@every("kind", KINDS)
def test_quantities_go_out_and_in_again(kind):
    assert read(quantity(3.5, kind), kind) == pytest.approx(3.5, rel=1e-12)
    assert read(quantity(np.array([3.5, 4.5]), kind), kind) == pytest.approx([3.5, 4.5], rel=1e-12)


@pytest.mark.parametrize("kind", KINDS, ids=NAMES)
@settings(deadline=None, max_examples=20, derandomize=True)
@given(st.floats(min_value=1e-6, max_value=1e6))
def test_what_goes_out_comes_in_again_in_whatever_unit_it_was_brought_to(kind, si):
    out = quantity(si, kind)
    for unit in (str(out.units), units._spell(unit_text(kind, "inch")) or "dimensionless", *WAYS_ROUND.get(kind.sort, ())):
        if kind.sort != "count" or unit == str(out.units):
            assert read(out.to(unit), kind) == pytest.approx(si, rel=1e-9)
            assert read(f"{out.to(unit).magnitude!r} {unit}".replace(" dimensionless", ""), kind) == pytest.approx(si, rel=1e-9)


WAYS_ROUND = {
    "speed": ("Hz", "rpm", "rad/s", "deg/s", "1/min"),
    "feed": ("mm", "um", "in", "mm/turn", "in/revolution"),
    "pitch": ("mm/rev", "in"),
    "angle": ("rad", "mrad", "turn", "arcmin"),
}


# --- the usual conversions of quantities that went out ---------------------------------------------------
@pytest.mark.parametrize(
    ("si", "kind", "unit", "figure"),
    [
        # a spindle that turns 5 times a second: by the definitions of Hz and of r/min in ISO 80000-3
        (10 * math.pi, units.RotationalSpeed("rpm"), "Hz", 5),
        (10 * math.pi, units.RotationalSpeed("rpm"), "rad/s", 10 * math.pi),
        (10 * math.pi, units.RotationalSpeed("rpm"), "1/min", 300),
        (10 * math.pi, units.RotationalSpeed("Hz"), "rpm", 300),
        (10 * math.pi, units.RotationalSpeed("Hz"), "1/s", 5),
        (10 * math.pi, units.RotationalSpeed("Hz"), "deg/s", 1800),
        (1.5e-3, FEED, "mm", 1.5),
        (1.5e-3, FEED, "in", 1.5 / 25.4),
        (1.5e-3, units.Pitch(), "mm/rev", 1.5),
        (1.27e-3, units.Pitch(), "1/in", None),
        (math.pi / 3, units.Angle(), "", math.pi / 3),
        (math.pi / 3, units.Angle(), "turn", 1 / 6),
    ],
)
def test_quantities_convert_as_the_trade_means_them(si, kind, unit, figure):
    out = quantity(si, kind)
    if figure is None:
        with pytest.raises(pint.DimensionalityError):
            out.to(unit)
    else:
        assert out.to(unit).magnitude == pytest.approx(figure, rel=1e-9)


def test_products_with_a_rotational_speed_are_those_of_physics():
    """7 N·m at 300 rev/min is 7 · 2π · 5 W; the rim of 60 mm runs at π · 0.06 · 5 m/s; 0.1 mm a turn at 300 rev/min is 30 mm/min."""
    turning = quantity(10 * math.pi, SPEED)
    assert (quantity(7.0, units.Torque()) * turning).to("W").magnitude == pytest.approx(7 * 2 * math.pi * 5)
    assert (quantity(0.03, units.Length()) * turning).to("m/s").magnitude == pytest.approx(math.pi * 0.06 * 5)
    assert (quantity(1e-4, FEED) * turning).to("mm/min").magnitude == pytest.approx(30)
    assert np.sin(quantity(math.pi / 6, units.Angle())).magnitude == pytest.approx(0.5)


def test_a_formula_takes_the_answer_of_another():
    """Whatever a formula is fed with by the name of another, it takes the quantity that one gives."""
    met = [
        (made, taker)
        for made in FORMULAS.values()
        for taker in FORMULAS.values()
        if made.name in taker.inputs and made.__module__ == taker.__module__
    ]
    assert len(met) > 20
    for made, taker in met:
        wanted = taker.inputs[made.name]
        bare = units.Kind(wanted.what, wanted.unit, sort=wanted.sort, example=wanted.example)
        assert read(quantity(0.5, made.output), bare) == pytest.approx(0.5), (made, taker)


def test_formulas_give_what_converts():
    """An M-thread of 1.5 mm cut by wheels of 30 and 60 from a 3 mm leadscrew; 30 m/min on 30 mm is 318.3 rev/min or 5.305 Hz."""
    cut = FORMULAS["cut_pitch"]("0.5", "1", "3 mm")
    assert cut.to("mm").magnitude == pytest.approx(1.5)
    assert FORMULAS["pitch_error"](cut_pitch=cut, pitch="1.5 mm").magnitude == pytest.approx(0)
    assert FORMULAS["spindle_speed"]("30 m/min", "30 mm").to("Hz").magnitude == pytest.approx(0.5 / (math.pi * 0.03))
    rings = FORMULAS["natural_frequency"]("10 N/um", "10 kg")
    assert rings.to("Hz").magnitude == pytest.approx(1000 / (2 * math.pi)) and rings.to("rpm").magnitude == pytest.approx(
        60 * 1000 / (2 * math.pi)
    )


MEASURED = [kind for kind in KINDS if kind.sort != "count" and kind.unit]


@every("system", units.SYSTEMS)
@every("kind", MEASURED)
def test_the_shown_unit_is_the_same_quantity_as_the_workshop_unit(kind, system):
    """Inch partners are checked by pint, not by our own factors."""
    partner = registry().Unit(units._spell(unit_text(kind, system)))
    ratio = registry().Quantity(1, partner).to(registry().Unit(units._spell(kind.unit))).magnitude
    assert in_unit(1.0, kind, system) * ratio == pytest.approx(in_unit(1.0, kind), rel=1e-9)


@every("kind", KINDS)
def test_the_example_of_a_kind_is_good(kind):
    assert read(kind.example, dataclasses.replace(kind)) > 0


@pytest.mark.parametrize("home", ["empty", "cannot be written"])
def test_the_first_run_on_a_machine_reckons_as_every_other(tmp_path, home):
    """In a fresh interpreter whose home holds no cache of anybody, or is a file, where nothing can be kept."""
    place = tmp_path / "home"
    place.mkdir() if home == "empty" else place.write_text("")
    code = (
        "from lathe_course.machine.cutting_speeds import spindle_speed; speed = spindle_speed('30 m/min', '30 mm')\n"
        "print(speed.to('Hz').magnitude, speed.to('rad/s').magnitude)"
    )
    environment = os.environ | {name: str(place) for name in ("HOME", "USERPROFILE", "XDG_CACHE_HOME", "LOCALAPPDATA")}
    for _ in range(2):
        done = subprocess.run(
            [sys.executable, "-c", code], env=environment, capture_output=True, text=True, timeout=300, check=False
        )
        assert done.returncode == 0, done.stderr
        assert [float(figure) for figure in done.stdout.split()] == pytest.approx([0.5 / (math.pi * 0.03), 0.5 / 0.015])


@every("unit", FACTORS)
def test_the_factors_of_our_own_units_are_those_of_pint(unit):
    sort = dict(zip(TURNING, ("speed", "feed"))).get(unit, "")
    assert FACTORS[unit] == pytest.approx(units._si(units._known_unit(unit), sort), rel=1e-14)
    assert units.si_factor(unit, sort) == FACTORS[unit]
