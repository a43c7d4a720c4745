"""The course's own tables, row by row: the figures with their ranges, how sure they are, and what they stand on."""

from __future__ import annotations

import re
from typing import Any

from ...problems import must_be_known
from ...ranges import Range
from ...sources import citations, source_of
from ...tables import TABLES, Table, table
from ...units import number
from ..shown.panels import Page, tabled
from .register import page

_ABOUT = ("source", "confidence")
_END = re.compile(r"_(low|likely|high)$")


@page
def table_rows(evaluation: Any, of: str = "materials", row: str = "") -> Page:
    """A table of the course: each row with how sure it is and its source; with ``row`` every figure of that row and its range.

    Figures stand in the unit of the table, whatever the units of the design.
    """
    must_be_known(of, TABLES, "table", "of", most=5)
    asked = table(of)
    rows, head = (
        (_figures(asked, row), ("figure", "from low to high (likely)"))
        if row
        else ([(key, _sure(asked, key), asked.source(key)) for key in asked], (of.replace("_", " "), "how sure", "stands on"))
    )
    said = (
        f"{row}, of the table of {of.replace('_', ' ')}. How sure: {_sure(asked, row)}. Stands on: {asked.source(row)}."
        if row
        else ""
    )
    return tabled(rows, head, after=[said])


def _figures(asked: Table, row: str) -> list[tuple[str, str]]:
    columns = [one for one in asked[row] if one not in _ABOUT and not (_END.search(one) and _END.sub("", one) in asked[row])]
    return [
        (
            " ".join(filter(None, (column.replace("_", " "), f"[{unit}]" if (unit := asked.units.get(column)) else ""))),
            _said(asked.written(row, column)),
        )
        for column in columns[1:]
    ]


def _said(value: Any) -> str:
    if isinstance(value, Range):
        low, likely, high = (number(end) for end in value)
        return f"{low} to {high} ({likely})"
    return "no figure to lean on" if value is None else number(value, 6) if isinstance(value, float) else str(value)


def _sure(asked: Table, row: str) -> str:
    """The confidence written in the row; where none is, what its sources are worth."""
    found = asked[row]
    if found.get("confidence"):
        return f"{found['confidence']} confidence"
    sources = [source_of(one) for one in citations(found["source"])]
    if any(one.kind == "common practice" for one in sources):
        return "judged, common practice"
    return "a source that was seen" if all(one.seen for one in sources) else "recalled from memory"
