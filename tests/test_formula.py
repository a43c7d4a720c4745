"""How a formula is told once and called in three ways; all that is wrong is reported together."""

import warnings
from typing import Annotated

import numpy as np
import pytest

from lathe_course import units
from lathe_course.formula import FORMULAS, SI, Formula, ValidityWarning, formula, possible
from lathe_course.machine.cutting_speeds import facing_time, spindle_speed, turning_time
from lathe_course.machine.forces import cutting_force, specific_cutting_force
from lathe_course.units import InputProblem, Length, Ratio, registry
from lathe_course.working import plain_equation


@pytest.fixture
def forget():
    """Formulas made in a test leave the list of the package again."""
    before = dict(FORMULAS)
    yield
    FORMULAS.clear()
    FORMULAS.update(before)


def told(call, *args, **kwargs):
    with pytest.raises(InputProblem) as caught:
        call(*args, **kwargs)
    return caught.value


# --- calling ------------------------------------------------------------------------------------------
def test_text_quantities_and_names_give_the_same():
    by_text = spindle_speed("30 m/min", "40 mm")
    assert by_text.to("rpm").magnitude == pytest.approx(238.732, abs=1e-3)
    for other in (
        spindle_speed(cutting_speed="30 m/min", diameter="4 cm"),
        spindle_speed("30 m/min", diameter=registry()("40 mm")),
        spindle_speed(registry().Quantity(0.5, "m/s"), "40 mm"),
    ):
        assert other.magnitude == pytest.approx(by_text.magnitude)
    assert f"{by_text.units:~}" == "rpm"


def test_the_bare_body_takes_si_and_broadcasts():
    speeds, diameters = np.array([[0.5], [1.0]]), np.array([0.02, 0.04, 0.08])
    assert spindle_speed.si(speeds, diameters) == pytest.approx(2 * speeds / diameters)
    assert spindle_speed.si(0.5, 0.04) == pytest.approx(25.0)


def test_arrays_of_quantities_give_an_array():
    found = spindle_speed("30 m/min", registry().Quantity([20, 40, 80], "mm"))
    assert found.magnitude == pytest.approx([477.465, 238.732, 119.366], abs=1e-3)
    assert spindle_speed("30 m/min", ["20 mm", "40 mm"]).magnitude == pytest.approx([477.465, 238.732], abs=1e-3)


def test_defaults_are_in_workshop_units():
    one = turning_time("100 mm", "0.1 mm", "400 rpm")
    assert one.to("min").magnitude == pytest.approx(2.5)
    assert turning_time("100 mm", "0.1 mm", "400 rpm", passes=3).magnitude == pytest.approx(3 * one.magnitude)
    assert cutting_force("2000 N/mm²", "1 mm", "0.1 mm").to("N").magnitude == pytest.approx(200)


# --- what is wrong --------------------------------------------------------------------------------------
def test_all_bad_arguments_are_reported_together():
    problem = told(turning_time, "0 kg", "-0.1 mm", 400, passes="1.5")
    assert [name for name, _ in problem.problems] == ["length", "feed", "spindle_speed", "passes"]
    assert str(problem).split("\n") == [
        "Turning time cannot be worked out:",
        "- length '0 kg' is a mass (kg), but a length is needed, for example '75 mm'.",
        "- feed '-0.1 mm' must be more than zero.",
        "- spindle speed 400 has no unit; is it '400 rpm'? Write the number with its unit.",
        "- passes '1.5' must be a whole number.",
    ]


def test_one_bad_argument_stands_in_one_line():
    assert (
        str(told(spindle_speed, "30 m/min", "0 mm"))
        == "Spindle speed cannot be worked out: diameter '0 mm' must be more than zero."
    )


def test_missing_unknown_doubled_and_surplus_arguments():
    assert str(told(spindle_speed, "30 m/min")).endswith("diameter is missing; write diameter='75 mm'.")
    assert "spindle speed has no 'radius'; it takes cutting_speed, diameter." in str(
        told(spindle_speed, "30 m/min", "40 mm", radius="20 mm")
    )
    assert "cutting speed is given twice." in str(told(spindle_speed, "30 m/min", "40 mm", cutting_speed="30 m/min"))
    assert "takes 2 figures (cutting_speed, diameter), not 3." in str(told(spindle_speed, "30 m/min", "40 mm", "1 mm"))


def test_figures_that_do_not_fit_each_other():
    problem = told(facing_time, "20 mm", "60 mm", "0.1 mm", "30 m/min")
    assert str(problem) == "Facing time cannot be worked out: the inner diameter must be less than the outer diameter."
    assert np.isnan(facing_time.si(0.02, 0.06, 1e-4, 0.5))
    assert possible(True, 2.0) == 2.0
    assert np.isnan(possible(False, 2.0))


def test_outside_validity_warns_and_still_gives_a_figure():
    said = r"^the result is a rough guide only: chip thickness is 0\.02 mm, outside 0\.05 to 2\.5 mm, for which the formula was made\.$"
    with pytest.warns(ValidityWarning, match=said):
        found = specific_cutting_force("2000 N/mm²", "0.02 mm", 0.2)
    assert found.to("N/mm²".replace("²", "**2")).magnitude == pytest.approx(2000 * 0.02**-0.2)
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        specific_cutting_force("2000 N/mm²", "0.2 mm", 0.2)


def test_a_result_beyond_any_number_is_told(forget):
    @formula("y = 1/x", source="definition")
    def runs_away(ratio: Annotated[SI, Ratio("", "x", at_least=0)]) -> Annotated[SI, Ratio("", "y")]:
        """Runs away at zero."""
        return np.divide(1.0, ratio)

    assert runs_away(0.5).magnitude == 2
    assert str(told(runs_away, 0)) == "Runs away comes out beyond any number with these figures; look again at ratio."


# --- telling a formula ------------------------------------------------------------------------------------
def test_what_a_formula_knows_of_itself():
    assert isinstance(spindle_speed, Formula)
    assert FORMULAS["spindle_speed"] is spindle_speed
    assert spindle_speed.title == "spindle speed"
    assert spindle_speed.summary == "Spindle speed that gives a wanted cutting speed at a diameter."
    assert spindle_speed.__doc__ == spindle_speed.si.__doc__
    assert spindle_speed.__module__ == "lathe_course.machine.cutting_speeds"
    assert list(spindle_speed.inputs) == ["cutting_speed", "diameter"]
    assert repr(spindle_speed) == "<formula spindle_speed(cutting_speed, diameter)>"


def test_a_badly_told_formula_is_refused_at_once(forget):
    with pytest.raises(TypeError, match="needs a kind of figure"):

        @formula("y = x", source="definition")
        def no_kind(x: Length("mm", "x")) -> Annotated[SI, Length("mm", "y")]:
            return x

    with pytest.raises(TypeError, match="return annotation"):

        @formula("y = x", source="definition")
        def no_result(x: Annotated[SI, Length("mm", "x")]):
            return x

    with pytest.raises(TypeError, match="which is not an input"):

        @formula("y = x", source="definition", rises_with=("z",))
        def no_such_input(x: Annotated[SI, Length("mm", "x")]) -> Annotated[SI, Length("mm", "y")]:
            return x

    with pytest.raises(TypeError, match="defined twice"):

        @formula("y = x", source="definition")
        def spindle_speed(x: Annotated[SI, Length("mm", "x")]) -> Annotated[SI, Length("mm", "y")]:
            return x


def test_every_unit_that_formulas_use_has_a_kind_that_reads_it():
    for one in FORMULAS.values():
        for kind in (*one.inputs.values(), one.output):
            assert kind.factor > 0
            assert units.shown(kind.factor, kind).startswith("1")


def test_a_squared_cosine_reads_as_one():
    assert plain_equation(r"k = Z \cos^2 \alpha\, l") == "k = Z cos² α l"
