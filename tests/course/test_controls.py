"""Controls made from decisions: sensible in both systems, and never a change nobody made."""
import math

import pytest

from lathe_course.course.controls import control
from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.lathe import LATHE
from lathe_course.design.starting import in_system

NUMERIC = [name for name, decision in LATHE.decisions.items() if decision.numeric]
SLIDERS = [name for name in NUMERIC if not LATHE.decisions[name].preferred]


def design(system="mm", name="boat_shed", **changes):
    return in_system(demo(name), system).with_(decided="", **changes)


def places_to_stop(widget):
    """Every value a slider stops at."""
    return [widget.min + step * widget.step for step in range(math.floor((widget.max - widget.min) / widget.step + 1e-6) + 1)]


@pytest.mark.parametrize("system", ["mm", "inch"])
@pytest.mark.parametrize("demo_name", DEMOS)
def test_a_control_left_alone_has_not_moved(demo_name, system):
    for name in LATHE.decisions:
        assert not control(design(system, demo_name), name).moved, name


@pytest.mark.parametrize("system", ["mm", "inch"])
@pytest.mark.parametrize("name", SLIDERS)
def test_a_slider_stops_at_round_figures_that_can_be_kept(name, system):
    one = control(design(system), name)
    stops = places_to_stop(one.widget)
    assert 5 <= len(stops) <= 200, "a slider has steps one can hit"
    for stop in stops:
        one.widget.value = stop
        shown = format(one.widget.value, one.widget.readout_format)
        assert float(shown) == pytest.approx(stop, abs=1e-9), "the slider shows another figure than it holds"
        # what is written is what is shown, and reads back as what the picture used
        assert float(one.written.split()[0]) == pytest.approx(float(shown), abs=1e-9)
        assert LATHE.decisions[name].read(one.written) == pytest.approx(one.value, rel=1e-6, abs=1e-12)


@pytest.mark.parametrize("name", NUMERIC)
def test_the_unit_stands_in_the_label(name):
    mm, inch = control(design("mm"), name), control(design("inch"), name)
    kind = LATHE.decisions[name].kind
    assert mm.widget.description.endswith(f"[{kind.unit}]" if kind.unit else mm.decision.label)
    assert inch.written.endswith(inch.unit)
    assert mm.value == pytest.approx(inch.value, rel=1e-5)


def test_inch_steps_are_those_of_an_inch_rule():
    # by hand: 5 mm is 0.197 in, 10 mm/25.4 is 0.394 in, 0.01 mm/rev is 0.0004 in/rev
    steps = {name: control(design("inch"), name).widget.step for name in ("centre_height", "bearing_span", "feed", "tool_shank")}
    mm = {name: LATHE.decisions[name].step for name in steps}
    for name, step in steps.items():
        assert f"{step:e}"[0] in "125", name
        assert 0.6 < step * 25.4 / mm[name] < 2.6, f"{name}: a step of {step} in for one of {mm[name]} mm"


def test_a_value_beyond_the_sensible_range_is_reached_by_whole_steps():
    one = control(design(centre_height="33 mm"), "centre_height")
    assert one.widget.value == 33
    assert one.widget.min <= 33
    assert (LATHE.decisions["centre_height"].low - one.widget.min) % one.widget.step == 0
    high = control(design(centre_height="200 mm"), "centre_height")
    assert high.widget.max == 200
    assert not one.moved and not high.moved


def test_a_value_between_two_steps_is_shown_as_it_is():
    one = control(design(centre_height="77.7 mm"), "centre_height")
    assert format(one.widget.value, one.widget.readout_format) == "77.7"
    inch = control(design("inch", centre_height="75 mm"), "centre_height")
    assert format(inch.widget.value, inch.widget.readout_format) == "2.953"       # 75/25.4 = 2.9528


def test_a_size_of_ones_own_stands_among_the_preferred_ones():
    one = control(design(motor_power="300 W"), "motor_power")
    assert one.widget.value == 300
    assert [value for _, value in one.widget.options] == sorted({*LATHE.decisions["motor_power"].preferred, 300})
    assert not one.moved


def test_a_range_is_shown_at_its_likely_figure():
    one = control(design(motor_power={"low": "250 W", "likely": "370 W", "high": "400 W"}), "motor_power")
    assert one.widget.value == 370
    assert not one.moved


@pytest.mark.parametrize("name", list(LATHE.decisions))
def test_showing_another_design_in_other_units_is_the_same_as_a_fresh_control(name):
    old, new = design("mm"), design("inch", "shared_barn")
    one, fresh = control(old, name), control(new, name)
    one.show(new)
    for trait in ("value", "description", "min", "max", "step", "options", "readout_format"):
        assert getattr(one.widget, trait, None) == getattr(fresh.widget, trait, None), trait
    assert not one.moved
    one.show(old)
    back = control(old, name)
    assert one.widget.value == back.widget.value and one.written == back.written


def test_a_move_is_told():
    one, told = control(design(), "centre_height"), []
    one.when_moved(lambda: told.append(one.written))
    one.widget.value = 80
    assert told == ["80 mm"]
    assert one.moved
    one.widget.value = 75
    assert not one.moved
