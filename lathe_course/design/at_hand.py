"""Machines that are ticked as at hand, each with its size: 'hand tools + bench drill 13 mm + mill 300 x 120 mm'."""

from __future__ import annotations

import functools
import re
from dataclasses import dataclass

from .. import units
from ..nearest import nearest_or_all
from ..planning.capabilities import BORROWED
from ..planning.shops import Machine, machine_of, machines_for_sale
from ..tables import table
from ..units import InputProblem, Length

#: how one says that there is no machine at all
NOTHING = ("nothing", "none", "no machine")
_PLUS = re.compile(r"\s*\+\s*")


@dataclass(frozen=True)
class MachineTick:
    """A machine or tool that one ticks: how its size is written, in words."""

    name: str
    size_example: str
    words: str
    whose: str


MACHINES = {name: MachineTick(name, row["size"], row["what"], row["whose"]) for name, row in table("at_hand").items()}


def read_machines(text: str) -> tuple[Machine, ...]:
    """Machines of ticks such as 'hand tools + bench drill 13 mm + mill 300 x 120 mm'; InputProblem with all that is wrong."""
    found, problems = [], []
    if text.strip().lower() in NOTHING:
        return ()
    for piece in filter(None, _PLUS.split(text.strip())):
        try:
            found.append(_machine(piece))
        except InputProblem as problem:
            problems += problem.problems
    if problems:
        raise InputProblem(problems)
    return tuple({machine.name: machine for machine in found}.values())


def tells_machines(text: str) -> bool:
    """Is a text such as one ticks, so that something can be worked out from it?"""
    try:
        return bool(read_machines(text))
    except InputProblem:
        return False


def _machine(piece: str) -> Machine:
    name = next((one for one in sorted(MACHINES, key=len, reverse=True) if piece.lower().startswith(one)), None)
    if name is None:
        said = re.split(r"\s(?=[\d.])", piece, maxsplit=1)[0]
        raise InputProblem.about("machines", f"{said!r} is no machine that can be ticked; {nearest_or_all(said, MACHINES)}")
    row, size = table("at_hand")[name], piece[len(name) :].strip() or table("at_hand")[name]["size"]
    can = row["can"]
    if row["size"]:
        wanted = row["size"].count("x") + 1
        pieces = [one.strip() for one in re.split(r"\s*[x×]\s*", size)]
        unit = re.search(r"[^\d.\s]+$", pieces[-1])
        if len(pieces) != wanted or not unit:
            raise InputProblem.about("machines", f"the size of the {name} is {size!r}; write it as in '{name} {row['size']}'.")
        for number, one in enumerate(pieces, start=1):
            si = units.read(
                one if re.search(r"[^\d.\s]", one) else f"{one} {unit.group()}",
                Length("mm", above=0, at_most=20_000),
                f"size of the {name}",
            )
            can = can.replace(f"{{{number}}}", f"{si * 1000:g}").replace(f"{{{number}+}}", f"{si * 1250:g}")
    return machine_of(
        {
            "whose": row["whose"],
            "can": can,
            "brings": row["brings"],
            "hours": row["hours"] if row["whose"] == BORROWED else None,
            "fee": row["fee"],
            "remark": row["what"],
            "source": "your own tick, common practice for the rest",
        },
        name,
    )


@functools.cache
def machines_at_hand(text: str) -> tuple[Machine, ...]:
    """What is ticked, and what may be bought used for the build."""
    return (*read_machines(text), *machines_for_sale())
