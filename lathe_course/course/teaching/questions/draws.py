"""Numbers for a question, drawn from the learner's name.

The same name gives the same numbers on every machine: the only source of chance is a hash
of the text, so neither the order of questions nor the version of Python plays a part.
"""

from __future__ import annotations

import hashlib
import re
import unicodedata
from collections.abc import Mapping
from decimal import Decimal, InvalidOperation
from typing import Any

from ....tables import table
from ....units import InputProblem

GUEST = "guest"
_PART = re.compile(r"^\s*([\d.]+)\s*(.*?)\s*$")
MOST = 1000  # steps of one draw
_STEPS = re.compile(r"^\s*(-?[\d.]+)\s+to\s+(-?[\d.]+)\s+by\s+([\d.]+)\s*(.*?)\s*$")

#: what can be drawn together: figure or word by name, as text or as the figure of a table
Candidate = Mapping[str, Any]


def normalised(name: str) -> str:
    """A name without case, accents and surplus blanks; the order of its parts is kept. Empty: 'guest'."""
    plain = "".join(c for c in unicodedata.normalize("NFKD", name) if not unicodedata.combining(c))
    return " ".join(plain.casefold().split()) or GUEST


def pick(seed: str, count: int) -> int:
    """A number from 0 to ``count`` - 1 that hangs on the text ``seed`` alone."""
    return int.from_bytes(hashlib.sha256(seed.encode("utf-8")).digest()[:8], "big") % count


def candidates(name: str, told: Mapping[str, Any] | str | list) -> list[Candidate]:
    """Everything a draw can give, from its description in a file of questions.

    ``"16 to 58 by 2 mm"`` or ``{from, to, step}``: figures on even steps, in the unit they are written in.
    ``[...]`` or ``{one_of = [...]}``: one of a few texts.
    ``{rows = [{a = ..., b = ...}, ...]}``: figures and words that belong together.
    ``{table, rows = [...], gives = {figure = "column"}}``: rows of a table; the row's name goes
    under the name of the draw, its columns under the names in ``gives``.
    """
    if isinstance(told, str):
        steps = _STEPS.match(told)
        if not steps:
            raise InputProblem.about(name, f"the draw {name!r} is {told!r}; write it as in '16 to 58 by 2 mm'.")
        low, high, step, unit = steps.groups()
        told = {"from": f"{low} {unit}".strip(), "to": f"{high} {unit}".strip(), "step": f"{step} {unit}".strip()}
    elif isinstance(told, list):
        told = {"one_of": told}
    keys = set(told)
    if keys == {"from", "to", "step"}:
        return [{name: text} for text in _stepped(name, told)]
    if keys == {"one_of"} and told["one_of"]:
        return [{name: str(text)} for text in told["one_of"]]
    if keys == {"rows"} and told["rows"]:
        return [{key: str(text) for key, text in row.items()} for row in told["rows"]]
    if keys == {"table", "rows", "gives"} and told["rows"]:
        rows = table(told["table"])
        return [
            {name: row} | {figure: _cell(rows[row], row, column) for figure, column in told["gives"].items()}
            for row in told["rows"]
        ]
    raise InputProblem.about(
        name,
        f"the draw {name!r} must hold from, to and step; or one_of; or rows; or table, rows and gives; "
        f"it holds {', '.join(sorted(keys)) or 'nothing'}.",
    )


def _cell(cells: Mapping[str, Any], row: str, column: str) -> Any:
    if cells.get(column) is None:
        raise InputProblem.about(column, f"the row {row!r} has no figure in a column {column!r}.")
    return cells[column]


def _stepped(name: str, told: Mapping[str, Any]) -> list[str]:
    """Texts such as '12 mm', '14 mm'; decimal arithmetic, so that 0.1 stays 0.1."""
    parts = [_PART.match(str(told[end])) for end in ("from", "to", "step")]
    try:
        low, high, step = (Decimal(part[1]) for part in parts)
    except (TypeError, InvalidOperation):
        raise InputProblem.about(name, f"from, to and step of the draw {name!r} must be figures such as '12 mm'.") from None
    units = {part[2] for part in parts}
    if len(units) != 1 or step <= 0 or high < low or (high - low) % step:
        raise InputProblem.about(name, f"from, to and step of the draw {name!r} must have one unit, rise, and fit whole steps.")
    if (high - low) / step > MOST:
        raise InputProblem.about(name, f"the draw {name!r} has more than {MOST} steps; take larger ones.")
    unit = units.pop()
    return [f"{(low + k * step).normalize():f} {unit}".rstrip() for k in range(int((high - low) / step) + 1)]
