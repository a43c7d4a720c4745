"""Chapter 17: oil and grease for the machine as it is designed."""

from __future__ import annotations

from ... import units
from ...design.asked.beside import grease_to_renew, plain_journal
from ...design.evaluation import Evaluation
from ...machine.bearings import BUSH, contact_of
from ...tables import table
from ...units import LabourTime, Length
from ...working import Working
from ..shown.panels import Page, tabled
from ..text.values import Worked
from .register import page

_HEAD = ("where", "what", "how much", "every", "mind")


def _places(e: Evaluation) -> list[str]:
    """Rows of the table that this design needs."""
    ways = {"profiled rails": "profiled rails", "round bars with bushes": "bushes on bars"}
    return [
        e["bearing_kind"],
        ways.get(e["slide_kind"], "slideways and gibs"),
        "screws and nuts",
        *(["change gears"] if "change gears" in e["parts_list"].by_name else []),
        "tailstock barrel",
    ]


def _interval(row, system: str) -> str:
    low, _, high = row["interval"]
    hours = LabourTime()
    ends = [units.number(units.in_unit(end, hours, system)) for end in (low, high)]
    return f"{ends[0]} to {ends[1]} h of running" if low != high else f"{ends[0]} h of running"


def _grade(row) -> str:
    if row["viscosity"] is None:
        return row["lubricant"]
    low, _, high = (units.number(end * 1e6) for end in row["viscosity"])
    return f"{row['lubricant']}, ISO VG {low} to {high}"


@page(worked=True)
def lubrication(evaluation: Evaluation) -> Page:
    """What to oil and grease, with what, how much and how often; and the film or the amount in the spindle's bearings."""
    system, rows = evaluation.design.system, []
    for name in _places(evaluation):
        row = table("lubricants")[name]
        rows.append((name, _grade(row), row["amount"], _interval(row, system), row["mind"]))
    said = "Common practice, no source; the sheet of whoever made the bearing or the oil comes first. Mains locked off before a hand goes near gears or belts."
    shown, says = _plain_bearing(evaluation) if contact_of(evaluation["bearing_kind"]) == BUSH else _grease(evaluation)
    return tabled(rows, _HEAD, after=[said, says]) + Page(*map(Worked, shown))


def _grease(e: Evaluation) -> tuple[list[Working], str]:
    said = "Grease to renew in each bearing of your spindle; the first filling is another matter, see the table:"
    return [grease_to_renew(e.central)], said


def _plain_bearing(e: Evaluation) -> tuple[list[Working], str]:
    found, length, system = plain_journal(e.central), Length("µm"), e.design.system
    touching = (
        "less than the peaks of a bored bush, so metal touches metal"
        if found.touches
        else "still more than the peaks of a bored bush"
    )
    says = (
        f"The front journal at top speed, under the roughing cut, with {units.shown(found.play, length, system)} of play on the radius: a film of "
        f"{units.shown(found.film, length, system, 2)}, a quarter less where the bearing is as long as its diameter. At the slowest speed it is "
        f"{units.shown(found.slow_film, length, system, 2)}, {touching}. At every start there is no film at all: oil must be there before."
    )
    return list(found.workings), says
