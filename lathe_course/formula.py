"""A formula: a small function in SI, told once what goes in and what comes out.

The decorator reads the signature.  From that one description come a call that takes text
or quantities, checks of dimension and range, the working shown to a learner, the reference
page, and the property tests.  ``formula.si`` is the bare body for numbers and arrays.
"""

from __future__ import annotations

import inspect
import warnings
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

import numpy as np
from numpy.typing import NDArray

from . import units
from .units import InputProblem, Kind

#: what a body works on: a figure in SI, or an array of them
SI = float | NDArray[np.float64]


class ValidityWarning(UserWarning):
    """An input is physical, but outside the range the formula was made for."""


#: every formula of the package by name, in the order of definition
FORMULAS: dict[str, Formula] = {}


@dataclass(frozen=True, eq=False)
class Formula:
    """A vetted formula.  Call it with text or quantities; use ``si`` for plain SI numbers."""

    name: str
    si: Callable[..., Any]
    inputs: dict[str, Kind]
    output: Kind
    equation: str
    source: tuple[str, ...]
    limits: str
    defaults: dict[str, Any] = field(default_factory=dict)
    rises_with: tuple[str, ...] = ()
    falls_with: tuple[str, ...] = ()
    requires: Mapping[str, Callable[..., Any]] = field(default_factory=dict)

    @property
    def title(self) -> str:
        """Its name as words that can stand alone: what a name says it is ``at``, ``by`` or ``of`` is left to its figures."""
        words = self.name.split("_")
        return " ".join(words[:-1] if words[-1] in ("at", "by", "of") else words)

    @property
    def summary(self) -> str:
        """First sentence of the docstring, without the marks round the names of figures."""
        return (inspect.getdoc(self.si) or "").split("\n\n")[0].replace("\n", " ").replace("``", "")

    def bind(self, *args: Any, **kwargs: Any) -> dict[str, Any]:
        """Inputs by name as SI numbers; all that is wrong with them is reported together.

        Raises InputProblem with the whole list.
        """
        problems = []
        names = list(self.inputs)
        given = dict(zip(names, args))
        if len(args) > len(names):
            problems.append(("", f"{self.title} takes {len(names)} figures ({self._list(names)}), not {len(args)}."))
        for name, value in kwargs.items():
            if name not in self.inputs:
                problems.append((name, f"{self.title} has no {name!r}; it takes {self._list(names)}."))
            elif name in given:
                problems.append((name, f"{name.replace('_', ' ')} is given twice."))
            else:
                given[name] = value
        bound = {}
        for name, kind in self.inputs.items():
            if name not in given and name in self.defaults:
                bound[name] = self.defaults[name] * kind.factor
            elif name not in given:
                problems.append((name, f"{name.replace('_', ' ')} is missing; write {name}={kind.example!r}."))
            else:
                try:
                    bound[name] = units.read(given[name], kind, name)
                except InputProblem as problem:
                    problems.extend(problem.problems)
        if not problems:
            problems = [(self.name, sentence) for sentence in self.broken(bound)]
        if problems:
            raise InputProblem(problems, heading=f"{self.title.capitalize()} cannot be worked out:")
        return bound

    def broken(self, bound: dict[str, Any]) -> list[str]:
        """Sentences on SI inputs that are fine one by one but cannot stand together."""
        return [
            sentence
            for sentence, holds in self.requires.items()
            if not np.all(holds(**{name: bound[name] for name in parameters(holds)}))
        ]

    @staticmethod
    def _list(names: list[str]) -> str:
        return ", ".join(names)

    def doubts(self, bound: dict[str, Any], system: str = "mm", of: str = "the result") -> list[str]:
        """Sentences on SI inputs outside the range the formula was made for; ``of`` is what comes of it."""
        said = [(name, units.outside_validity(bound[name], kind, system)) for name, kind in self.inputs.items()]
        return [f"{of} is a rough guide only: {name.replace('_', ' ')} {words}." for name, words in said if words]

    def __call__(self, *args: Any, **kwargs: Any) -> Any:
        """Evaluate with text or pint quantities; returns a pint quantity in the workshop unit.

        Raises InputProblem naming every wrong argument, and if the result is beyond any
        number.  Warns with ValidityWarning outside the range the formula was made for.

        >>> from lathe_course.machine.belts import driven_speed
        >>> round(driven_speed("950 rpm", "40 mm", "120 mm").magnitude, 1)
        316.7
        """
        bound = self.bind(*args, **kwargs)
        for doubt in self.doubts(bound):
            warnings.warn(doubt, ValidityWarning, stacklevel=2)
        with np.errstate(all="ignore"):
            result = self.si(**bound)
        if not np.all(np.isfinite(result)):
            raise InputProblem.about(
                "",
                f"{self.title.capitalize()} comes out beyond any number with these figures; "
                f"look again at {self._list(list(self.inputs))}.",
            )
        return units.quantity(result, self.output)

    def __repr__(self) -> str:
        return f"<formula {self.name}({', '.join(self.inputs)})>"


def formula(
    equation: str,
    *,
    source: str | tuple[str, ...],
    limits: str = "",
    rises_with: tuple[str, ...] = (),
    falls_with: tuple[str, ...] = (),
    requires: Mapping[str, Callable[..., Any]] | None = None,
) -> Callable[[Callable], Formula]:
    """Make a Formula of a function in SI, each annotation ``Annotated[SI, kind]``.

    ``equation`` is LaTeX for the right and left side, in the symbols of the kinds.
    ``source`` cites the bibliography.  ``limits`` says in words where it holds.
    ``rises_with`` and ``falls_with`` name the inputs it is monotone in; tests hold that.
    ``requires`` maps a sentence to a condition on some of the inputs in SI, for figures that
    must fit each other (a bore and its diameter).  The door raises InputProblem where one is
    broken; the body gives NaN there, see ``possible``.
    Defaults in the signature are in workshop units of the kind.
    Raises TypeError at import for a signature that does not say all of this, and for a name defined twice.
    """

    def make(body: Callable) -> Formula:
        names = parameters(body)
        told = {name: _kind_of(annotation) for name, annotation in body.__annotations__.items()}
        inputs: dict[str, Kind] = {}
        for name in names:
            kind = told.get(name)
            if not isinstance(kind, Kind):
                raise TypeError(
                    f"formula {body.__name__}: {name} needs a kind of figure as its annotation, such as Annotated[SI, Length('mm')]"
                )
            inputs[name] = kind
        output, given = told.get("return"), body.__defaults__ or ()
        defaults = dict(zip(names[len(names) - len(given) :], given))
        if not isinstance(output, Kind):
            raise TypeError(f"formula {body.__name__}: the return annotation must be a kind of figure")
        for name in (*rises_with, *falls_with):
            if name not in inputs:
                raise TypeError(f"formula {body.__name__}: rises or falls with {name!r}, which is not an input")
        if body.__name__ in FORMULAS:
            raise TypeError(f"formula {body.__name__} is defined twice")
        made = Formula(
            body.__name__,
            body,
            inputs,
            output,
            equation,
            (source,) if isinstance(source, str) else source,
            limits,
            defaults,
            rises_with,
            falls_with,
            dict(requires or {}),
        )
        for attribute in ("__doc__", "__module__", "__name__", "__qualname__"):
            object.__setattr__(made, attribute, getattr(body, attribute))
        FORMULAS[made.name] = made
        return made

    return make


def _kind_of(annotation: Any) -> Any:
    """What ``Annotated`` says beside the type."""
    return getattr(annotation, "__metadata__", (None,))[0]


def parameters(function: Callable) -> tuple[str, ...]:
    """Names of what a plain function takes, in their order."""
    code = function.__code__
    return code.co_varnames[: code.co_argcount + code.co_kwonlyargcount]


def possible(condition: Any, value: Any) -> Any:
    """``value`` where ``condition`` holds, else NaN: a shape that cannot exist has no figure."""
    if isinstance(condition, (bool, np.bool_)):  # the usual case, several times as fast as the array's way
        return value if condition else value * np.nan
    return np.where(condition, value, np.nan)
