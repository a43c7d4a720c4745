"""The stock a part is made from, read from its words, and the bars one can buy.

``flat bar 120 x 25, 650 long, two`` is two pieces 650 mm long; ``aluminium disc 80 x 16`` is 16 mm of a round bar.  What has no
size, or no form that is known here, must be asked for in words.
"""

from __future__ import annotations

import functools
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from .. import units
from ..tables import table
from ..units import InputProblem, Length

#: forms that are ordered sawn to size, and those that come in bars, by the words that tell them
SAWN = ("plate", "sheet", "block")
_FORMS = (
    ("channel", ""),
    ("sheet", "sheet"),
    ("plate", "plate"),
    ("block", "block"),
    ("disc", "round bar"),
    ("round", "round bar"),
    ("hollow section", "hollow section"),
    ("tube", "tube"),
    ("square bar", "square bar"),
    ("flat", "flat bar"),
    ("iron bar", "iron bar"),
)
_COUNTS = {
    name: number
    for number, name in enumerate(
        ("two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"), start=2
    )
}
_NUMBER = r"\d+(?:\.\d+)?"
_MM = 1e-3
#: a section is not bought larger for so little
_ALIKE = 0.005


@dataclass(frozen=True)
class Piece:
    """One piece of stock or several alike, sizes in m: width (or diameter or side), thickness, wall and length, 0 for what the form has not.

    ``words`` are those of the row without figures; a ``form`` of "" must be asked for.
    """

    words: str
    form: str = ""
    width: float = 0.0
    thickness: float = 0.0
    wall: float = 0.0
    length: float = 0.0
    count: int = 1

    @property
    def sizes(self) -> tuple[str, ...]:
        """Names of the sizes that it has."""
        return tuple(name for name in ("width", "thickness", "wall", "length") if getattr(self, name) > 0)

    def grown(self, by: Mapping[str, float]) -> Piece:
        """The piece with some sizes times a factor."""
        return replace(self, **{name: getattr(self, name) * factor for name, factor in by.items()})


def volume(piece: Piece) -> float:
    """Metal of a piece and those like it, m³; 0 for what must be asked for."""
    w, t, s = piece.width, piece.thickness, piece.wall
    area = {
        "round bar": np.pi / 4 * w**2,
        "square bar": w**2,
        "tube": np.pi / 4 * (w**2 - max(w - 2 * s, 0.0) ** 2),
        "hollow section": w * t - max(w - 2 * s, 0.0) * max(t - 2 * s, 0.0),
        "": 0.0,
    }.get(piece.form, w * t)
    return float(area * piece.length * piece.count)


def read_stock(stock: str) -> tuple[Piece, ...]:
    """The pieces of a row, in the order of its words."""
    found, words = [], ""
    for chunk in filter(None, (one.strip() for one in stock.split(";"))):
        said = re.split(r"\d", chunk, maxsplit=1)[0].strip(" :,")
        words = said or words
        found.append(_piece(chunk, words))
    return tuple(found)


def _piece(chunk: str, words: str) -> Piece:
    form = next((form for sign, form in _FORMS if sign in words.lower()), "")
    across = re.search(rf"{_NUMBER}(?:\s*x\s*{_NUMBER})*", chunk)
    if not form or across is None:
        return Piece(chunk)
    sizes = [float(one) * _MM for one in re.findall(_NUMBER, across[0])]
    long, wall, bore = (
        re.search(pattern, chunk) for pattern in (rf"({_NUMBER})\s+long", rf"wall\s+({_NUMBER})", rf"over\s+({_NUMBER})")
    )
    after = chunk[across.end() :]
    count = next((number for name, number in _COUNTS.items() if re.search(rf"\b{name}\b", after)), 1)
    kind = re.sub(r"\bdiscs?\b", "round bar", words)
    if long is None and "disc" not in words.lower():  # the longest of three is the length
        sizes.sort(reverse=True)
        sizes = [*sizes[1:], sizes[0]]
    elif long is not None:
        sizes.append(float(long[1]) * _MM)
    if len(sizes) != {"round bar": 2, "square bar": 2, "tube": 2}.get(form, 3):
        return Piece(chunk)
    width, length, thickness = sizes[0], sizes[-1], sizes[1] if len(sizes) == 3 else 0.0
    thick = float(wall[1]) * _MM if wall else (width - float(bore[1]) * _MM) / 2 if bore else 0.0
    if (form in ("tube", "hollow section")) != (thick > 0):
        return Piece(chunk)
    return Piece(kind, form, width, thickness, thick, length, count)


# --- bars -----------------------------------------------------------------------------------------------
@dataclass(frozen=True)
class Bars:
    """Bars of one form: lengths that can be bought, sizes that are stocked, what a cut takes, and what each piece is longer for facing its ends, m."""

    form: str
    lengths: tuple[float, ...]
    sizes: tuple[float, ...]
    kerf: float
    allowance: float
    source: str = ""

    def stocked(self, size: float) -> float:
        """The next size that is stocked, or the next whole millimetre where none is named; what lies within half a per cent is that size."""
        size *= 1 - _ALIKE
        return next((one for one in self.sizes if one >= size), float(np.ceil(size / _MM)) * _MM)


def bars_of(row: Mapping[str, Any], form: str) -> Bars:
    """Bars of a row such as the table ``bars`` has; InputProblem for what cannot be."""
    lengths = _lengths(row["lengths"], form, "lengths")
    if not lengths:
        raise InputProblem.about(form, f"{form}: no length that can be bought is named; write for example 500 mm + 1000 mm.")
    return Bars(form, lengths, _lengths(row["sizes"], form, "sizes"), row["kerf"], row["allowance"], row["source"])


def _lengths(text: str, form: str, what: str) -> tuple[float, ...]:
    pieces = [one.strip() for one in text.split("+") if one.strip()]
    return tuple(
        sorted(
            units.read(one if re.search(r"[^\d.,\s]", one) else f"{one} mm", Length("mm", above=0), f"{form}, {what}")
            for one in pieces
        )
    )


@functools.cache
def course_bars() -> tuple[Bars, ...]:
    """The bars of the course's table."""
    return tuple(bars_of(row, form) for form, row in table("bars").items())


def for_form(bars: Iterable[Bars], form: str) -> Bars | None:
    """The bars of a form; None where it is ordered sawn to size."""
    return next((one for one in bars if one.form == form), None)
