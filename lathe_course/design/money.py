"""The learner's own money: its name, and one or two prices they know in it, which say how it stands to the course's lists.

No rate of exchange is asked for and none is kept: a metre of bar and an hour of a shop that cost so much where the learner lives tell
more of what a lathe costs there.
"""

from __future__ import annotations

import re
from typing import NamedTuple

from ..units import InputProblem

_LISTS, _LONGEST_NAME = "EUR", 12
#: what a learner may know the price of, and what it costs by the course's lists; common practice, no source
KNOWN = {"bar": 20.0, "hour": 45.0}
_PRICE = re.compile(r"^(?P<what>[a-z]+)\s+(?P<price>\d+(?:\.\d+)?)$", re.IGNORECASE)
_EXAMPLE = "SEK: bar 230, hour 700"


class Money(NamedTuple):
    """Name of a money, how much of it one EUR of the lists is, and the level of prices of material and of other people's work beyond that."""

    name: str
    rate: float = 1.0
    material: float = 1.0
    labour: float = 1.0


def read_money(given: object) -> str:
    """'SEK', or 'SEK: bar 230, hour 700', written evenly; InputProblem for anything else.

    The bar is a metre of bright round steel of 30 mm, the hour one of a machine shop.
    """
    name, _, prices = (" ".join(str(given).split())).partition(":")
    name = name.strip()
    problems = []
    if not name or len(name) > _LONGEST_NAME or any(letter.isdigit() for letter in name):
        problems.append(
            (
                "currency",
                f"{given!r} is no name of a money; write a word or a sign of up to {_LONGEST_NAME} letters without figures, such as EUR, and after a colon "
                f"what you know the price of, as in {_EXAMPLE!r}.",
            )
        )
    found: dict[str, str] = {}
    for piece in filter(None, (one.strip() for one in prices.split(","))):
        match = _PRICE.match(piece)
        if match is None or match["what"].lower() not in KNOWN or not float(match["price"]) > 0:
            problems.append(
                (
                    "currency",
                    f"{piece!r} is no price that is known here; write 'bar' for a metre of bright round steel of 30 mm or 'hour' for an hour of a machine shop, "
                    f"and what it costs, as in {_EXAMPLE!r}.",
                )
            )
        else:
            found[match["what"].lower()] = match["price"]
    if problems:
        raise InputProblem(problems)
    return f"{name}: {', '.join(f'{what} {found[what]}' for what in KNOWN if what in found)}" if found else name


def money_of(currency: str) -> Money:
    """What the decision on the money says: its name, the rate at which all sums of the lists are told in it, and the levels of prices.

    With one price known the other is taken to stand to the lists alike.  In the money of the lists itself nothing is rated: there the
    known prices are a level.  A name alone is a name.
    """
    name, _, prices = currency.partition(":")
    known = {what: float(price) / KNOWN[what] for what, price in (piece.split() for piece in prices.split(",") if piece.strip())}
    if not known:
        return Money(name)
    material = known.get("bar", known.get("hour", 1.0))
    labour = known.get("hour", material)
    rate = 1.0 if name == _LISTS else material
    return Money(name, rate, material / rate, labour / rate)


def own_money(currency: str) -> tuple[str, float]:
    """Name and rate of the learner's money."""
    return money_of(currency)[:2]
