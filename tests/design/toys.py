"""Toy chains, to test what holds for any chain without a lathe in the way."""

from collections.abc import Iterable
from typing import Any

from lathe_course.design.chain.entries import Decision, Figure, Limit, Result, result
from lathe_course.design.chain.graph import Chain
from lathe_course.design.design import Choice, Design
from lathe_course.design.jobs import Jobs
from lathe_course.ranges import Range
from lathe_course.units import Length, Ratio

CHAPTER = "01"


def decision(name: str, low: float = 10, high: float = 100, step: float = 5, **more: Any) -> Decision:
    """A length in millimetres."""
    return Decision(name, f"the {name}", f"How long is the {name}?", CHAPTER, Length("mm"), low, high, step, **more)


def choice(name: str, *options: str) -> Decision:
    return Decision(name, f"the {name}", f"Which {name}?", CHAPTER, options=options)


def figure(name: str, low: float, likely: float, high: float) -> Figure:
    return Figure(name, f"the {name}", Ratio(), CHAPTER, value=Range(low, likely, high))


def made(body: Any, kind: Any = None, **renamed: str) -> Result:
    """A result of a plain function; a ratio unless said otherwise."""
    body.__doc__ = body.__doc__ or "A toy."
    return result(kind or Ratio(), f"the {body.__name__}", CHAPTER, **renamed)(body)


def named(name: str, body: Any, kind: Any = None) -> Result:
    body.__name__ = name
    return made(body, kind)


def limit(name: str, value: str, sense: str, against: str | float, comfort: float = 0.15, **more: Any) -> Limit:
    return Limit(name, f"{name} rule", CHAPTER, value, sense, against, "{value} against {limit}.", comfort, **more)


def design_on(chain: Chain, **values: Any) -> Design:
    """A design with decisions in SI."""
    return Design(chain, {name: Choice(value, None) for name, value in values.items()}, jobs=Jobs())


def chain(*parts: Any, given: Iterable[str] = (), **more: Any) -> Chain:
    """A chain of parts in any order."""

    def of(kind: type) -> list[Any]:
        return [part for part in parts if isinstance(part, kind)]

    return Chain(of(Decision), of(Figure), of(Result), of(Limit), given, **more)
