"""How wrong answers come about: a fixed set of small transformations, told in data.

A slip in a file of questions is a list of steps such as ``{do = "scale", input = "diameter",
by = "1/2"}``.  Each step names one of ``TRANSFORMATIONS`` and its parameters; nothing of the
file is ever run as code.  Steps that change an input come first; the result is worked out when
the first step asks for it, and later steps change the result.  ``set`` and ``take`` may also put a
figure in the place of one that is worked out on the way.
"""

from __future__ import annotations

import inspect
import math
from collections.abc import Callable, Container, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from ....units import InputProblem, Kind, read, si_factor
from .reckoned import figures_in, reckon

#: a step of a slip: ``do`` and its parameters
Step = Mapping[str, Any]


@dataclass
class Calculation:
    """One calculation on its way to an answer, right or wrong.

    ``figures`` are SI by name; ``kinds`` their kinds; ``output`` the kind of what is asked;
    ``work`` turns the figures of the question into the result, and leaves what it works out
    on the way in the mapping it is given; a figure that is there already is left as it is.
    """

    figures: dict[str, float]
    kinds: Mapping[str, Kind]
    output: Kind
    work: Callable[[dict[str, float]], float]
    result: float | None = None

    def finish(self) -> float:
        """The result so far, worked out now if no step has done so."""
        if self.result is None:
            self.result = self.work(self.figures)
        return self.result

    def written(self, name: str) -> float:
        """The bare number of a figure, in its workshop unit."""
        return self.figures[name] / self.kinds[name].factor


def factor(text: str | float) -> float:
    """The number meant by '1/2', '2*pi', 'pi/3' or '25.4'. Raises ValueError for anything else."""
    sides = [
        math.prod(math.pi if part.strip() == "pi" else float(part) for part in side.split("*")) for side in str(text).split("/")
    ]
    if len(sides) > 2 or not all(0 < side < math.inf for side in sides):
        raise ValueError(text)
    return sides[0] / sides[1] if len(sides) == 2 else sides[0]


# --- steps on the inputs ----------------------------------------------------------------------------
def _scale(calculation: Calculation, input: str, by: str) -> None:
    """An input is taken too large or too small: half of a diameter, a thousandth of a length."""
    calculation.figures[input] *= factor(by)


def _add(calculation: Calculation, input: str, amount: float) -> None:
    """A count is off by one, or by some other plain number."""
    calculation.figures[input] += amount


def _subtract(calculation: Calculation, input: str, less: str) -> None:
    """One input is taken off another before it is put in."""
    calculation.figures[input] -= calculation.figures[less]


def _set(calculation: Calculation, input: str, to: str) -> None:
    """An input is left out, or a fixed figure is put in its place."""
    calculation.figures[input] = read(to, calculation.kinds[input].unlimited, input)


def _take(calculation: Calculation, input: str, other: str) -> None:
    """Another figure is put in the place of an input."""
    calculation.figures[input] = calculation.figures[other]


def _swap(calculation: Calculation, input: str, other: str) -> None:
    """Two inputs change places."""
    figures = calculation.figures
    figures[input], figures[other] = figures[other], figures[input]


def _invert(calculation: Calculation, input: str) -> None:
    """A ratio is put in upside down, or divides where it should multiply."""
    calculation.figures[input] = 1 / calculation.figures[input]


def _negate(calculation: Calculation, input: str) -> None:
    """An input has the wrong sign."""
    calculation.figures[input] = -calculation.figures[input]


def _leave(calculation: Calculation, input: str) -> None:
    """What a share leaves of the whole is put in for the share."""
    calculation.figures[input] = 1 - calculation.figures[input]


def _misread(calculation: Calculation, input: str, unit: str, as_unit: str) -> None:
    """The number of an input is right, its unit is taken for another: inch for mm."""
    sort = calculation.kinds[input].sort
    calculation.figures[input] *= si_factor(as_unit, sort) / si_factor(unit, sort)


# --- steps on the result ----------------------------------------------------------------------------
def _scale_result(calculation: Calculation, by: str) -> None:
    """The result is too large or too small: π lost, minutes for seconds."""
    calculation.result = calculation.finish() * factor(by)


def _raise_result(calculation: Calculation, power: str) -> None:
    """A root or a power is forgotten, or taken once too often; on the bare number, in the workshop unit."""
    unit = calculation.output.factor
    calculation.result = (calculation.finish() / unit) ** factor(power) * unit


def _add_result(calculation: Calculation, amount: float) -> None:
    """A plain number is forgotten in a sum, or is one too many."""
    calculation.result = calculation.finish() + amount * calculation.output.factor


def _divide_result(calculation: Calculation, input: str) -> None:
    """The number of an input divides a result it does not belong in."""
    calculation.result = calculation.finish() / calculation.written(input)


def _multiply_result(calculation: Calculation, input: str) -> None:
    """The number of an input multiplies a result it does not belong in."""
    calculation.result = calculation.finish() * calculation.written(input)


def _divide_result_si(calculation: Calculation, input: str) -> None:
    """The same with the number of an input in SI: metres, radians a second."""
    calculation.result = calculation.finish() / calculation.figures[input]


def _multiply_result_si(calculation: Calculation, input: str) -> None:
    """The same with the number of an input in SI: metres, radians a second."""
    calculation.result = calculation.finish() * calculation.figures[input]


def _surplus(calculation: Calculation, figure: str) -> None:
    """Only what the result has more or less than a figure given."""
    calculation.result = abs(calculation.finish() - calculation.figures[figure])


def _mirror(calculation: Calculation, figure: str) -> None:
    """What comes on top of a figure is taken off it, or the other way round."""
    calculation.result = abs(2 * calculation.figures[figure] - calculation.finish())


def _multiplied(calculation: Calculation, figure: str) -> None:
    """A figure is to be divided by less than one, and is multiplied by as much more than one."""
    calculation.result = calculation.figures[figure] * (2 - calculation.figures[figure] / calculation.finish())


def _divided(calculation: Calculation, figure: str) -> None:
    """A figure is to be multiplied by more than one, and is divided by as much less than one."""
    calculation.result = calculation.figures[figure] / (2 - calculation.finish() / calculation.figures[figure])


def _rest(calculation: Calculation) -> None:
    """The rest is quoted instead of the share: one minus the result."""
    calculation.result = 1 - calculation.finish()


def _against_rest(calculation: Calculation) -> None:
    """A share is taken of the smaller part instead of the whole; what is no share leads to no figure."""
    share = calculation.finish()
    calculation.result = share / (1 - share) if 0 < share < 1 else math.nan


def _invert_result(calculation: Calculation) -> None:
    """The result is upside down."""
    calculation.result = 1 / calculation.finish()


def _quote(calculation: Calculation, figure: str) -> None:
    """A figure met on the way, or given, is quoted as the answer."""
    calculation.finish()
    calculation.result = calculation.figures[figure]


_TOGETHER: dict[str, Callable[[Sequence[float]], float]] = {
    "sum": sum,
    "mean": lambda numbers: sum(numbers) / len(numbers),
    "geometric mean": lambda numbers: math.prod(numbers) ** (1 / len(numbers)),
    "product": math.prod,
    "difference": lambda numbers: numbers[0] - sum(numbers[1:]),
    "quotient": lambda numbers: numbers[0] / math.prod(numbers[1:]),
}


def _instead(calculation: Calculation, of: Sequence[str], put: str) -> None:
    """Another sum is done with the bare numbers: their mean, difference, quotient and so on."""
    calculation.finish()  # what is worked out on the way may be among them
    calculation.result = _TOGETHER[put]([calculation.written(name) for name in of]) * calculation.output.factor


def _reckon(calculation: Calculation, sum: str) -> None:
    """Another sum of the bare numbers, written out, such as "money / hours"; the right result is among them as well."""
    calculation.finish()  # what is worked out on the way may be among them
    numbers = {name: calculation.written(name) for name in figures_in(sum)}
    calculation.result = reckon(sum, numbers) * calculation.output.factor


TRANSFORMATIONS: dict[str, Callable[..., None]] = {
    "scale": _scale,
    "add": _add,
    "subtract": _subtract,
    "set": _set,
    "take": _take,
    "swap": _swap,
    "invert": _invert,
    "negate": _negate,
    "leave": _leave,
    "misread": _misread,
    "scale result": _scale_result,
    "raise result": _raise_result,
    "add result": _add_result,
    "divide result": _divide_result,
    "multiply result": _multiply_result,
    "divide result in SI": _divide_result_si,
    "multiply result in SI": _multiply_result_si,
    "surplus": _surplus,
    "mirror": _mirror,
    "multiplied": _multiplied,
    "divided": _divided,
    "rest": _rest,
    "against rest": _against_rest,
    "invert result": _invert_result,
    "quote": _quote,
    "instead": _instead,
    "reckon": _reckon,
}
_FIGURE_PARAMETERS = ("input", "other", "less", "figure")
_PINS = ("set", "take")  # may replace what is worked out; all other steps need a figure that is drawn


def wrong_value(calculation: Calculation, steps: Sequence[Step]) -> float:
    """What the steps make of a calculation, SI; without steps the right result."""
    for step in steps:
        given = dict(step)
        TRANSFORMATIONS[given.pop("do")](calculation, **given)
    return calculation.finish()


def faults(steps: Sequence[Step], kinds: Mapping[str, Kind], drawn: Container[str], met: Container[str]) -> list[str]:
    """What is wrong with the description of a slip, as sentences without a subject.

    ``kinds`` holds every figure of the question, ``drawn`` those that are not worked out, and ``met`` those that have a value: drawn
    or worked out, and not left to a formula.
    """
    said = []
    for step in steps:
        given = dict(step)
        name = given.pop("do", None)
        if name not in TRANSFORMATIONS:
            said.append(f"does {name!r}, which is none of {', '.join(TRANSFORMATIONS)}" if name else "has a step without 'do'")
            continue
        wanted = list(inspect.signature(TRANSFORMATIONS[name]).parameters)[1:]
        if sorted(given) != sorted(wanted):
            said.append(f"gives {name!r} the parameters {', '.join(given) or 'none'}; it takes {', '.join(wanted) or 'none'}")
            continue
        try:
            summed = figures_in(given["sum"]) if "sum" in given else []
        except ValueError as problem:
            said.append(f"has the sum {given['sum']!r}: {problem}")
            continue
        named = [given[key] for key in _FIGURE_PARAMETERS if key in given] + list(given.get("of", ())) + summed
        said += [f"names the figure {figure!r}, which the question does not have" for figure in named if figure not in kinds]
        said += [
            f"reads the figure {figure!r}, which is neither given nor worked out"
            for figure in [given[key] for key in _FIGURE_PARAMETERS if key in given and not (key == "input" and name in _PINS)]
            + list(given.get("of", ()))
            + summed
            if figure in kinds and figure not in met
        ]
        if name not in _PINS and given.get("input", "") in kinds and given["input"] not in drawn:
            said.append(f"changes {given['input']!r}, which is worked out; only {' and '.join(_PINS)} may do that")
        said += _bad_values(given, kinds)
    return said


def _bad_values(given: Mapping[str, Any], kinds: Mapping[str, Kind]) -> list[str]:
    said = []
    for key in {"by", "power"} & set(given):
        try:
            factor(given[key])
        except ValueError:
            said.append(f"has the factor {given[key]!r}; write a number, 'pi', or one over the other")
    if given.get("put", "sum") not in _TOGETHER:
        said.append(f"puts together by {given['put']!r}, which is none of {', '.join(_TOGETHER)}")
    if not isinstance(given.get("amount", 0), (int, float)):
        said.append(f"adds {given['amount']!r}, which is not a number")
    try:
        if "to" in given and given["input"] in kinds:
            read(given["to"], kinds[given["input"]].unlimited, given["input"])
        for unit in (given.get("unit"), given.get("as_unit")):
            if unit is not None and given["input"] in kinds:
                read(f"1 {unit}", kinds[given["input"]], given["input"])
    except InputProblem as problem:
        said.append(f"has a figure or unit that does not fit: {problem}")
    return said
