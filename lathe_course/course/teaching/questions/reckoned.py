"""A wrong way written as it is worked out: a sum of the figures of a question, such as ``money / hours``.

Only what stands in ``reckon`` is known: numbers, names of figures, + - * / ** with brackets, and a few functions.  It is taken apart and added
up here; nothing of it is ever run.
"""

from __future__ import annotations

import ast
import functools
import math
import operator
from collections.abc import Callable, Mapping
from types import MappingProxyType

LONGEST = 160  # letters; a sum that an apprentice writes down is shorter
_SIGNS: Mapping[type, Callable[[float, float], float]] = MappingProxyType(
    {ast.Add: operator.add, ast.Sub: operator.sub, ast.Mult: operator.mul, ast.Div: operator.truediv, ast.Pow: math.pow}
)
#: angles are in degrees, as a calculator on a bench counts them
_FUNCTIONS: Mapping[str, Callable[..., float]] = MappingProxyType(
    {
        "sqrt": math.sqrt,
        "sin": lambda angle: math.sin(math.radians(angle)),
        "cos": lambda angle: math.cos(math.radians(angle)),
        "tan": lambda angle: math.tan(math.radians(angle)),
        "atan": lambda ratio: math.degrees(math.atan(ratio)),
        "log10": math.log10,
        "log2": math.log2,
        "max": max,
        "min": min,
    }
)


def reckon(text: str, figures: Mapping[str, float]) -> float:
    """What a sum comes to with plain numbers for its names; ArithmeticError or ValueError where it comes to none, or is no sum."""
    return _value(_parsed(text), figures)


def figures_in(text: str) -> list[str]:
    """The names of figures in a sum, in the order of their first use. Raises ValueError with what is wrong if it is none."""
    if not isinstance(text, str) or len(text) > LONGEST:
        raise ValueError(f"a sum is a text of at most {LONGEST} letters")
    return list(dict.fromkeys(_names(_parsed(text))))


@functools.lru_cache(maxsize=2048)
def _parsed(text: str) -> ast.expr:
    try:
        return ast.parse(text, mode="eval").body
    except (SyntaxError, ValueError, RecursionError, MemoryError):
        raise ValueError("it is no sum; write one such as 'money / hours'") from None


def _names(part: ast.expr) -> list[str]:
    match part:
        case ast.Constant(value=int() | float() as number) if not isinstance(number, bool) and math.isfinite(number):
            return []
        case ast.Name(id=name):
            return [] if name == "pi" else [name]
        case ast.UnaryOp(op=ast.USub(), operand=one):
            return _names(one)
        case ast.BinOp(left=left, op=sign, right=right) if type(sign) in _SIGNS:
            return _names(left) + _names(right)
        case ast.Call(func=ast.Name(id=name), args=[_, *_] as given, keywords=[]) if name in _FUNCTIONS:
            if (name in ("max", "min")) == (len(given) > 1):
                return [found for one in given for found in _names(one)]
    raise ValueError(f"only numbers, figures, + - * / **, brackets, pi and {', '.join(_FUNCTIONS)} are known")


def _value(part: ast.expr, figures: Mapping[str, float]) -> float:
    match part:
        case ast.Constant(value=number):
            return float(number)
        case ast.Name(id=name):
            return math.pi if name == "pi" else figures[name]
        case ast.UnaryOp(operand=one):
            return -_value(one, figures)
        case ast.BinOp(left=left, op=sign, right=right):
            return _SIGNS[type(sign)](_value(left, figures), _value(right, figures))
        case ast.Call(func=ast.Name(id=name), args=given):
            return _FUNCTIONS[name](*(_value(one, figures) for one in given))
    raise ValueError(part)
