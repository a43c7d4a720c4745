"""Fits after ISO 286: what ``35 k5`` means in thousandths of a millimetre.

A designation is a letter for where the field of sizes lies and a number for how wide it is:
small letters for shafts, capitals for holes.  ``field("k5", 35e-3)`` gives its ends; a fit is
a hole and a shaft together, and a rolling bearing brings its own rings.
"""

import re
from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from ..formula import SI, formula
from ..nearest import nearest_or_stop
from ..tables import table
from ..units import InputProblem, Length

_NAME = re.compile(r"([A-Z]{1,2}|[a-z]{1,2})(\d{1,2})")
#: the letters of holes that lie symmetrically, and start at the nominal size
_EVEN, _BASIC = ("js",), ("h",)


class Field(NamedTuple):
    """Ends of a field of sizes, m above (or below, negative) the nominal size."""

    lower: float
    upper: float


@formula(
    r"c = G - g",
    source="iso_286, terms",
    limits="both at one temperature; below zero the shaft is too thick and must be pressed or warmed on",
    rises_with=("hole_upper",),
    falls_with=("shaft_lower",),
)
def greatest_play(
    hole_upper: Annotated[SI, Length("µm", "G")], shaft_lower: Annotated[SI, Length("µm", "g")]
) -> Annotated[SI, Length("µm", "c")]:
    """Play of the widest hole on the thinnest shaft."""
    return hole_upper - shaft_lower


@formula(
    r"c = K - k",
    source="iso_286, terms",
    limits="both at one temperature; below zero the shaft is too thick and must be pressed or warmed on",
    rises_with=("hole_lower",),
    falls_with=("shaft_upper",),
)
def least_play(
    hole_lower: Annotated[SI, Length("µm", "K")], shaft_upper: Annotated[SI, Length("µm", "k")]
) -> Annotated[SI, Length("µm", "c")]:
    """Play of the narrowest hole on the thickest shaft."""
    return hole_lower - shaft_upper


def field_names() -> list[str]:
    """The fields this course knows, shafts first."""
    return ["h5", "h6", "h7", "js5", "js6", *table("fundamental_deviations")]


def _row(name: str, size: float) -> Mapping[str, Any]:
    for row in table(name).values():
        if row["over"] < size * (1 + 1e-9) and size <= row["to"] * (1 + 1e-9):
            return row
    largest = max(row["to"] for row in table(name).values())
    raise InputProblem.about(
        "size", f"fits are known here above 1 mm and up to {largest * 1e3:.0f} mm; {size * 1e3:g} mm lies outside."
    )


def field(name: str, size: float) -> Field:
    """Lower and upper deviation of a field such as ``k5`` or ``H7`` at a nominal size in m.

    Raises InputProblem for a field or a size the tables do not hold.
    """
    match = _NAME.fullmatch(name)
    if match is None:
        raise InputProblem.about("fit", f"{name!r} is no field of sizes; write a letter and a grade, such as 'k5' or 'H7'.")
    letter, grade = match.groups()
    row = _row("tolerance_grades", size)
    width = row.get(f"it{grade}")
    if width is None:
        raise InputProblem.about("fit", f"grade {grade} is not in the table; take one of 4 to 9.")
    if letter.lower() in _BASIC:
        return Field(0.0, width) if letter.isupper() else Field(-width, 0.0)
    if letter.lower() in _EVEN:
        return Field(-width / 2, width / 2)
    known = table("fundamental_deviations")
    if name not in known:
        raise InputProblem.about("fit", f"the field {name!r} is not in the table{nearest_or_stop(name, field_names(), most=3)}")
    column = next(
        key
        for key in ("to_3", "to_6", "to_10", "to_18", "to_30", "to_50", "to_80", "to_120", "to_180")
        if size <= float(key[3:]) * 1e-3 * (1 + 1e-9)
    )
    end = known[name][column]
    return Field(end, end + width) if known[name]["end"] == "lower" else Field(end - width, end)


def ring_field(part: str, size: float) -> Field:
    """Deviation of a rolling bearing's ``bore`` or ``outside`` of the ordinary class at a nominal size in m."""
    return Field(-_row("tolerance_grades", size)[f"ring_{part}"], 0.0)
