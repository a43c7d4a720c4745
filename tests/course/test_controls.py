"""Controls made from decisions: sensible in both systems, and never a change nobody made."""

import itertools
import math

import ipywidgets as widgets
import pytest
from cases import every
from classroom import words

from lathe_course.course.shown.controls import controls
from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.draft.starting import in_system
from lathe_course.design.lathe import LATHE

NUMERIC = [name for name, decision in LATHE.decisions.items() if decision.numeric]
SLIDERS = [name for name in NUMERIC if not LATHE.decisions[name].preferred]


def control(design, name):
    return controls(design, [name])[name]


def design(system="mm", name="boat_shed", **changes):
    return in_system(demo(name), system).with_(decided="", **changes)


def stops(widget):
    """Every value a slider stops at, with what it shows there."""
    if isinstance(widget, widgets.SelectionSlider):
        return [(value, text) for text, value in widget.options]
    values = [widget.min + step * widget.step for step in range(round((widget.max - widget.min) / widget.step) + 1)]
    return [(value, format(value, widget.readout_format)) for value in values]


def shown(one):
    """What a slider shows where it stands."""
    return next(text for value, text in stops(one.widget) if math.isclose(value, one.widget.value, rel_tol=1e-9))


@pytest.mark.parametrize("system", ["mm", "inch"])
@pytest.mark.parametrize("demo_name", DEMOS)
def test_a_control_left_alone_has_not_moved(demo_name, system):
    for name in LATHE.decisions:
        assert not control(design(system, demo_name), name).moved, name


@pytest.mark.parametrize("system", ["mm", "inch"])
@pytest.mark.parametrize("demo_name", DEMOS)
def test_a_plain_slider_stands_on_one_of_its_steps(demo_name, system):
    """A browser pulls a slider to its steps as soon as it is drawn, so one that stands between them would move by itself."""
    for name in SLIDERS:
        widget = control(design(system, demo_name), name).widget
        if isinstance(widget, widgets.FloatSlider):
            steps = (widget.value - widget.min) / widget.step
            assert steps == pytest.approx(round(steps), abs=1e-6), name
            assert widget.min <= widget.value <= widget.max


@every("system", ["mm", "inch"])
@every("name", SLIDERS)
def test_a_slider_stops_at_round_figures_that_can_be_kept(name, system):
    one = control(design(system), name)
    here = one.widget.value
    assert 5 <= len(stops(one.widget)) <= 200, "a slider has steps one can hit"
    for stop, text in stops(one.widget):
        one.widget.value = stop
        assert float(text) == pytest.approx(stop, rel=1e-9 if stop != here else 5e-4), (
            "the slider shows another figure than it holds"
        )
        assert len(text) <= 8
        # what is written is what is shown, and reads back as what the picture used
        if stop != here:
            assert float(one.written.split()[0]) == pytest.approx(float(text), abs=1e-9)
        assert LATHE.decisions[name].read(one.written) == pytest.approx(one.value, rel=1e-6, abs=1e-12)


@every("name", NUMERIC)
def test_the_unit_stands_in_the_label(name):
    mm, inch = control(design("mm"), name), control(design("inch"), name)
    kind = LATHE.decisions[name].kind
    assert mm.widget.description.endswith(f"[{kind.unit}]" if kind.unit else mm.decision.label)
    assert inch.written.endswith(inch.unit)
    assert mm.value == pytest.approx(inch.value, rel=1e-5)


def test_inch_steps_are_those_of_an_inch_rule():
    for name in ("centre_height", "bearing_span", "feed", "tool_shank"):
        one = control(design("inch"), name)
        values = [value for value, _ in stops(one.widget) if value != one.widget.value]
        step = round(min(after - before for before, after in itertools.pairwise(values)), 9)
        assert f"{step:e}"[0] in "125", name
        mm = LATHE.decisions[name].step
        assert 0.6 < step * 25.4 / mm < 2.6, f"{name}: a step of {step} in for one of {mm} mm"


@pytest.mark.parametrize("value, ends", [("35 mm", (35, 130)), ("200 mm", (40, 200)), ("20 mm", (20, 130))])
def test_a_value_beyond_the_sensible_range_is_reached_by_whole_steps(value, ends):
    one = control(design(centre_height=value), "centre_height")
    assert (one.widget.min, one.widget.max) == ends
    assert one.written == value and not one.moved


@pytest.mark.parametrize(
    "system, value, text",
    [
        ("mm", "77.7 mm", "77.7"),
        ("mm", "33 mm", "33"),
        ("mm", "391.5 mm", "391.5"),
        ("inch", "75 mm", "2.953"),
        ("inch", "3.1 in", "3.1"),
    ],
)  # 75/25.4 = 2.9528
def test_a_value_between_two_steps_is_a_stop_of_its_own(system, value, text):
    one = control(design(system, centre_height=value), "centre_height")
    assert shown(one) == text and not one.moved
    others = [value for value, _ in stops(one.widget) if value != one.widget.value]
    one.widget.value = others[0]
    assert one.moved and len(one.written) <= 7


def test_a_size_of_ones_own_stands_among_the_preferred_ones():
    one = control(design(motor_power="300 W"), "motor_power")
    assert one.widget.value == 300
    assert [value for _, value in one.widget.options] == sorted({*LATHE.decisions["motor_power"].preferred, 300})
    assert not one.moved


def test_a_range_is_shown_at_its_likely_figure():
    one = control(design(motor_power={"low": "250 W", "likely": "370 W", "high": "400 W"}), "motor_power")
    assert one.widget.value == 370
    assert not one.moved


@every("name", list(LATHE.decisions))
def test_showing_another_design_in_other_units_is_the_same_as_a_fresh_control(name):
    old, new = design("mm"), design("inch", "shared_barn")
    one, fresh = control(old, name), control(new, name)
    one.show(new)
    for trait in ("value", "description", "min", "max", "step", "options", "readout_format"):
        assert getattr(one.widget, trait, None) == getattr(fresh.widget, trait, None), trait
    assert one.place.children == ((one.widget, one.entry, one.said) if one.decision.numeric else (one.widget,))
    assert not one.moved
    one.show(old)
    back = control(old, name)
    assert one.widget.value == back.widget.value and one.written == back.written


def test_a_widget_is_made_anew_only_for_another_scale():
    one = control(design(), "centre_height")
    before = one.widget
    one.show(design(centre_height="80 mm"))
    assert one.widget is before and one.widget.value == 80
    one.show(design(centre_height="81 mm"))
    assert one.widget is not before and one.widget.value == 81


def test_a_move_is_told_also_after_a_change_of_scale():
    one, told = control(design(), "centre_height"), []
    one.when_moved(lambda: told.append(one.written))
    one.widget.value = 80
    assert told == ["80 mm"]
    assert one.moved
    one.widget.value = 75
    assert not one.moved
    one.show(design("inch"))
    one.widget.value = 3.0
    assert told[-1] == "3 in"


def test_the_last_digit_of_a_browser_s_sum_is_no_move():
    one = control(design(), "feed")
    one.widget.value = 0.09999999999999999
    assert not one.moved


def test_a_pulley_of_a_step_that_is_not_there_stands_still():
    """Of the boat shed's two steps the third and fourth pulley do not count; they wake when the number of steps is moved, and sleep again."""
    made = controls(design("mm"), ["belt_steps", *(f"driving_pulley_{n}" for n in range(1, 5))])
    live = lambda: [not made[f"driving_pulley_{n}"].widget.disabled for n in range(1, 5)]
    assert live() == [True, True, False, False]
    made["belt_steps"].widget.value = "3"
    assert live() == [True, True, True, False]
    made["belt_steps"].widget.value = "1"
    assert live() == [True, False, False, False]


# --- typing ------------------------------------------------------------------------------------------
def typed(one, text):
    one.entry.value = text
    return words(one.said)


def test_a_figure_is_typed_as_well_with_or_without_its_unit():
    one, told = control(design(), "centre_height"), []
    one.when_moved(lambda: told.append(one.written))
    assert one.entry.value == "75"
    assert typed(one, "80") == "" and one.written == "80 mm" and one.widget.value == 80
    assert typed(one, "3 in") == "" and one.value == pytest.approx(0.0762) and one.entry.value == "76.2"
    assert typed(one, "7.5 cm") == "" and one.written == "75 mm" and not one.moved
    assert told == ["80 mm", "76.2 mm", "75 mm"]
    one.widget.value = 90
    assert one.entry.value == "90", "the figure follows the slider"


def test_what_lies_beyond_the_slider_is_taken_and_answered():
    one, told = control(design(), "fastest_speed"), []
    one.when_moved(lambda: told.append(one.written))
    assert "beyond" in typed(one, "12000")
    assert one.written == "12000 rpm" and one.entry.value == "12000" and told == ["12000 rpm"] and one.moved
    one.widget.value = stops(one.widget)[0][0]
    assert one.said.value == "", "back within, nothing is left to say"


def test_what_cannot_be_is_answered_and_changes_nothing():
    one, told = control(design(), "centre_height"), []
    one.when_moved(lambda: told.append(one.written))
    for text, said in (("-5", "Not taken"), ("tall", "Not taken"), ("3 kg", "a length is needed"), ("", "Not taken")):
        assert said in typed(one, text), text
        assert one.written == "75 mm" and not one.moved and one.entry.value == text, "what was written stays to be mended"
    assert not told
    one.widget.value = 80
    assert one.entry.value == "80" and one.said.value == ""


@every("name", NUMERIC)
def test_any_figure_may_be_typed_and_is_what_is_kept(name):
    one = control(design(), name)
    goal = one._in_unit(one.decision.high * one.decision.kind.factor) + (
        1 if one.decision.step == int(one.decision.step) else one.decision.step
    )
    said = typed(one, f"{goal:g}")
    if said.startswith("Not taken"):
        assert not one.moved
    else:
        assert LATHE.decisions[name].read(one.written) == pytest.approx(
            LATHE.decisions[name].read(f"{goal:g} {one.unit}".strip()), rel=1e-5
        )
