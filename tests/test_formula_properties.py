"""What holds for every formula of the package, whoever wrote it.

Inputs are drawn from inside the physical limits of their kinds, evenly over the orders of
magnitude, with the limits themselves among them.
"""

import inspect
import math
import re
import warnings
import zlib

import numpy as np
import pytest
from cases import every

from lathe_course import unit_words, units
from lathe_course.course.teaching.questions.every_formula import every_formula
from lathe_course.formula import Formula, ValidityWarning
from lathe_course.sources import citations, source_of
from lathe_course.units import InputProblem
from lathe_course.working import plain_equation, working

ALL = every("formula", every_formula().values())
#: lowest and highest figure drawn where a kind sets no limit, in its workshop unit
OPEN = (1e-4, 1e5)
DRAWS = 60

#: constants with a dimension inside a body, by formula: module attribute and its unit
DIMENSIONED = {
    "specific_cutting_force": {"KIENZLE_THICKNESS": "mm"},
    "play_allowance": {"STANDARD_LENGTH": "mm"},
    "pitch_tolerance": {"STANDARD_LENGTH": "mm"},
}
DIMENSIONED |= {"lifting_limit": {"LOAD_CONSTANT": "kg", "CENTIMETRE": "cm"}}
DIMENSIONED |= {
    key: {"NEWTON_PER_MM2": "N/mm²", "MM": "mm"}
    for key in (
        "ball_dynamic_rating",
        "roller_dynamic_rating",
        "ball_static_rating",
        "roller_static_rating",
        "squeeze_load",
        "preloaded_stiffness",
        "loaded_stiffness",
    )
}


# --- drawing ----------------------------------------------------------------------------------------
def ends(kind):
    """Lowest and highest figure of a kind in its workshop unit, just inside limits that are themselves shut out."""
    low = kind.at_least if kind.at_least is not None else kind.above
    high = kind.at_most if kind.at_most is not None else kind.below
    low = -OPEN[1] if low is None and high is not None and high <= 0 else OPEN[0] if low is None else low
    high = max(OPEN[1], abs(low) * 10) if high is None else high
    span = high - low
    if kind.above is not None and low == kind.above:
        low += 1e-6 * max(span, abs(low)) if span < 10 else min(OPEN[0], 1e-6 * span)
    if kind.below is not None and high == kind.below:
        high -= 1e-6 * span
    return low, high


def draw(kind, rng, size=()):
    low, high = ends(kind)
    if low > 0:
        figures = np.exp(rng.uniform(math.log(low), math.log(high), size))
    elif high - low <= 10:
        figures = rng.uniform(low, high, size)
    else:
        figures = np.exp(rng.uniform(math.log(OPEN[0]), math.log(high), size))
    if kind.whole:
        figures = np.clip(np.round(figures), math.ceil(low), math.floor(high))
    return np.clip(figures, low, high) * kind.factor


def seeded(formula):
    return np.random.default_rng(zlib.crc32(formula.name.encode()))


def cases(formula, count=DRAWS):
    """Sets of scalar inputs that may stand together; among the first, all low ends and all high ends."""
    rng = seeded(formula)
    edges = [{name: ends(kind)[end] * kind.factor for name, kind in formula.inputs.items()} for end in (0, 1)]
    found = [case for case in edges if not formula.broken(case)]
    for _ in range(200 * count):
        case = {name: float(draw(kind, rng)) for name, kind in formula.inputs.items()}
        if not formula.broken(case):
            found.append(case)
        if len(found) >= count:
            break
    assert len(found) >= count, f"{formula.name}: its conditions leave hardly any inputs inside their limits"
    return found


def quantities(formula, case):
    return {name: units.quantity(si, formula.inputs[name]) for name, si in case.items()}


def tidy(symbol):
    return re.sub(r"_\{([A-Za-z0-9])\}", r"_\1", symbol.replace(" ", ""))


# --- what it says of itself ---------------------------------------------------------------------------
@ALL
def test_it_is_described(formula):
    text = inspect.getdoc(formula.si) or ""
    assert formula.summary.endswith("."), f"{formula.name} needs a first sentence that ends with a full stop"
    assert len(formula.summary) < 160
    assert "!" not in text
    assert formula.limits, f"{formula.name} does not say where it holds"
    assert not formula.limits.endswith("."), "the full stop is put by whoever shows the limits"
    assert formula.source
    for citation in formula.source:
        for one in citations(citation):
            source_of(one)


@ALL
def test_its_equation_uses_its_own_symbols(formula):
    """Every letter in the equation is the symbol of an input or of the result, and every input stands in it."""
    symbols = {tidy(kind.symbol): name for name, kind in formula.inputs.items()}
    assert "" not in symbols, f"{formula.name}: {symbols.get('')} has no symbol"
    assert len(symbols) == len(formula.inputs), f"{formula.name}: two inputs share a symbol"
    assert formula.output.symbol, f"{formula.name}: its result has no symbol"
    assert tidy(formula.output.symbol) not in symbols, f"{formula.name}: its result shares a symbol with an input"
    bare = re.sub(r"\\(?:mathrm|text|operatorname)\{[^{}]*\}", " ", formula.equation)
    left, equals, right = bare.partition("=")
    assert equals and tidy(left) == tidy(formula.output.symbol), f"{formula.name}: the equation begins with its own symbol"
    tokens = re.findall(r"\\[A-Za-z]+(?:_(?:\{[^{}]*\}|[A-Za-z0-9]))?|[A-Za-z](?:_(?:\{[^{}]*\}|[A-Za-z0-9]))?", right)
    words = {
        r"\frac",
        r"\dfrac",
        r"\sqrt",
        r"\pi",
        r"\sin",
        r"\cos",
        r"\tan",
        r"\ln",
        r"\log",
        r"\exp",
        r"\tanh",
        r"\arctan",
        r"\arcsin",
        r"\left",
        r"\right",
        r"\cdot",
        r"\times",
        r"\max",
        r"\min",
        r"\le",
        r"\ge",
        r"\approx",
        r"\quad",
        r"\sum",
        r"\bigl",
        r"\bigr",
        r"\big",
        r"\lvert",
        r"\rvert",
        r"\infty",
        r"\operatorname",
        r"\tfrac",
        r"\Bigl",
        r"\Bigr",
        r"\Phi",
    }
    used = {tidy(token) for token in tokens} - words - {tidy(formula.output.symbol)}  # the result may stand on both sides
    assert used <= set(symbols), f"{formula.name}: {used - set(symbols)} in the equation belong to no input"
    assert set(symbols) <= used, f"{formula.name}: {[symbols[s] for s in set(symbols) - used]} do not stand in the equation"


#: figures of one name whose laws were measured over different ranges, each stated by its own source
_OVER_ITS_OWN = {("pitch", "P"), ("length_ratio", "r")}


def test_one_figure_is_doubted_beyond_one_range():
    """What bounds a figure itself, and not the law it goes into, is the same wherever it goes in."""
    stated: dict[tuple[str, str], dict] = {}
    for formula in every_formula().values():
        for name, kind in formula.inputs.items():
            if kind.valid:
                stated.setdefault((name, kind.symbol), {}).setdefault(kind.valid, []).append(formula.name)
    apart = {figure: ranges for figure, ranges in stated.items() if len(ranges) > 1}
    assert set(apart) == _OVER_ITS_OWN, apart


@ALL
@every("system", units.SYSTEMS)
def test_its_working_can_be_shown(formula, system):
    case = cases(formula, 3)[-1]
    shown = working(formula, system=system, **quantities(formula, case))
    for text in (str(shown), plain_equation(formula.equation)):
        assert "\\" not in text and "{" not in text and "}" not in text, text
        assert "frac" not in text and "sqrt" not in text, text
    latex = shown._repr_markdown_()
    assert latex.count("{") == latex.count("}")
    assert latex.count(r"\left") == latex.count(r"\right")
    assert units.shown(shown.result, formula.output, system) in str(shown)
    kinds, rows = [*formula.inputs.values(), formula.output], shown.table()
    assert [row[0] for row in rows] == [kind.symbol for kind in kinds]
    assert rows[-1][2] == units.shown(shown.result, formula.output, system)
    for kind, (_, _, figure) in zip(kinds, rows):
        assert figure.endswith(units.unit_text(kind, system)), f"{figure} in the units of another system"


# --- what it gives ------------------------------------------------------------------------------------
@ALL
def test_inside_its_limits_it_gives_a_number_or_says_why_not(formula):
    for case in cases(formula):
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", ValidityWarning)
            warnings.simplefilter("error", RuntimeWarning)
            try:
                found = formula(**quantities(formula, case))
            except InputProblem as problem:
                assert str(problem).strip().endswith((".", "?"))
                continue
        assert np.isfinite(found.magnitude)
        assert not units.out_of_range(float(formula.si(**case)), formula.output), "the result is outside its own limits"


@ALL
def test_figures_that_cannot_stand_together_give_nothing(formula):
    """Where ``requires`` is broken the door refuses with that sentence and the body gives NaN."""
    if not formula.requires:
        return
    rng = seeded(formula)
    seen = set()
    for _ in range(2000):
        case = {name: float(draw(kind, rng)) for name, kind in formula.inputs.items()}
        broken = formula.broken(case)
        if broken and not seen.issuperset(broken):
            seen.update(broken)
            with pytest.raises(InputProblem) as caught:
                formula(**quantities(formula, case))
            assert broken[0] in str(caught.value)
            with np.errstate(all="ignore"):
                assert np.isnan(formula.si(**case)), f"{formula.name}: the body gives a figure for a shape that cannot be"
    assert seen, f"{formula.name}: its conditions are never broken"


@ALL
def test_its_result_has_the_unit_it_promises(formula):
    case = cases(formula, 5)[-1]
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", ValidityWarning)
        found = formula(**quantities(formula, case))
    promised = units.registry().Unit(units._spell(formula.output.unit) or "dimensionless")
    assert found.to(promised).magnitude * formula.output.factor == pytest.approx(float(formula.si(**case)), rel=1e-9)
    assert units.read(found, units.Kind(formula.output.what, formula.output.unit, sort=formula.output.sort)) == pytest.approx(
        float(formula.si(**case)), rel=1e-9
    )


@ALL
def test_it_takes_arrays_and_agrees_with_itself_one_by_one(formula):
    """Shapes (3, 1) and (4,) by turns give (3, 4), every place the same as a call with numbers."""
    three, four = cases(formula, 12)[2:5], cases(formula, 12)[5:9]
    shapes = {name: (3, 1) if place % 2 == 0 else (4,) for place, name in enumerate(formula.inputs)}
    arrays = {
        name: np.array([case[name] for case in (three if shape == (3, 1) else four)]).reshape(shape)
        for name, shape in shapes.items()
    }
    with np.errstate(all="ignore"):
        grid = formula.si(**arrays)
        whole = np.broadcast_shapes(*shapes.values())
        assert np.shape(grid) == whole
        spread = {name: np.broadcast_to(array, whole) for name, array in arrays.items()}
        for place in np.ndindex(whole):
            one = formula.si(**{name: float(array[place]) for name, array in spread.items()})
            assert grid[place] == pytest.approx(one, rel=1e-9, nan_ok=True)


@ALL
def test_it_rises_and_falls_as_it_says(formula):
    for name, sign in [*((name, 1) for name in formula.rises_with), *((name, -1) for name in formula.falls_with)]:
        moved = 0
        for case in cases(formula, 40):
            kind = formula.inputs[name]
            low, high = (end * kind.factor for end in ends(kind))
            more = min(high, case[name] * 1.3 + 1e-6 * (high - low))
            other = {**case, name: float(round(case[name]) + 1) if kind.whole else more}
            if other[name] > high or formula.broken(other):
                continue
            before, after = float(formula.si(**case)), float(formula.si(**other))
            assert sign * (after - before) >= -1e-9 * abs(before), (
                f"{formula.name} does not {'rise' if sign > 0 else 'fall'} with {name}: {case}"
            )
            moved += after != before
        assert moved > 5, f"{formula.name} hardly changes with {name}"


# --- units inside the body ----------------------------------------------------------------------------
#: another system of units: each base unit this many times the one of SI; bodies take angles in radians whatever the system
BASE = {"[length]": 3.7, "[mass]": 0.23, "[time]": 1.9, "[current]": 0.61, "[temperature]": 2.3, "[angle]": 1.0}


def scale(unit):
    """Factor of a figure in the other system against SI, from the dimension of its unit."""
    if unit in unit_words.COUNTED or not unit:
        return 1.0
    dimensions = units.registry().Unit(units._spell(unit)).dimensionality
    return math.prod(BASE[base] ** -float(power) for base, power in dimensions.items())


def in_other_units(formula, case):
    """Result with the inputs written in the other system of units."""
    with np.errstate(all="ignore"):
        return formula.si(**{name: si * scale(formula.inputs[name].unit) for name, si in case.items()})


@ALL
def test_it_does_not_depend_on_the_system_of_units(formula, monkeypatch):
    """Fed in a system with other base units it gives the same physical result; a figure in mm slipped into the body would not."""
    before = [(case, formula.si(**case)) for case in cases(formula, 20)]
    module = inspect.getmodule(formula.si)
    with monkeypatch.context() as patch:
        for attribute, unit in DIMENSIONED.get(formula.name, {}).items():
            patch.setattr(module, attribute, getattr(module, attribute) * scale(unit))
        for case, found in before:
            assert in_other_units(formula, case) == pytest.approx(found * scale(formula.output.unit), rel=1e-7), (
                f"{formula.name}: a constant in its body has a dimension"
            )


@pytest.mark.parametrize(
    ("body", "caught"),
    [
        (lambda length: length**2 / 4, False),
        (lambda length: (length * 1000) ** 2 / 4e6, False),  # there and back again does no harm
        (lambda length: (length + 0.001) * length, True),
        (lambda length: 0.0254 * length, True),
    ],
)
def test_a_slip_of_units_in_a_body_is_caught(body, caught):
    slipped = Formula("slipped", body, {"length": units.Length("mm", "l", above=0)}, units.Area("mm²", "A"), "A = l^2", (), "")
    case = {"length": 0.05}
    assert (in_other_units(slipped, case) != pytest.approx(body(0.05) * scale("mm²"), rel=1e-7)) is caught
