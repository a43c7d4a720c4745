"""Page of chapter 04: for which tool the printed constants hold, and what yours does to them."""

from __future__ import annotations

from ... import units
from ...design.asked.beside import forces_by_edge
from ...design.evaluation import Evaluation
from ...ranges import Range
from ...sources import citations, cite, source_of
from ...tables import table
from ...units import Force, Speed
from ..shown.panels import Page, tabled
from .register import page

_N, _SPEED = Force(), Speed()
#: state of the edges -> what the rows it may lie in have in their name
_STATES = {"freshly sharpened": "sharp", "in use": "", "worn": "worn"}
_HEAD = ("tool and speed", "times the printed figure", "your roughing cut", "")


def _sources() -> tuple[str, ...]:
    """The books behind the table, without the places in them."""
    return tuple(
        dict.fromkeys(source_of(one).key for row in table("tool_conditions").values() for one in citations(row["source"]))
    )


#: chips to which the constants were measured, m
_MEASURED_TO = 0.05e-3


@page
def tool_conditions(evaluation: Evaluation) -> Page:
    """The roughing cut of the design as each tool would feel it, from the printed constants on."""
    e = evaluation.central
    forces, rows = forces_by_edge(e), []
    for name, row in table("tool_conditions").items():
        factor: Range = row["factor"]
        low, high = (units.number(units.in_unit(end, _N, e.design.system), 2) for end in forces[name])
        rows.append(
            (
                name,
                f"{units.number(factor.low)} to {units.number(factor.high)}",
                f"{low} to {high} {units.unit_text(_N, e.design.system)}",
                "yours" if name.startswith(e["tool_material"]) and _STATES[e["edge_state"]] in name else "",
            )
        )
    said = [
        f"Counted with {units.number(e['cut_condition'], 3)}: {e['tool_material']}, {e['edge_state']}. The same state of the edge puts the push square to it "
        f"at {e.shown('thrust_share')} of the cutting force.",
        f"Your cutting speed in {e['work_material']} is {e.shown('cutting_speed')}, not the {units.shown(100 / 60, _SPEED, e.design.system)} of the printed constants; "
        f"for steel the rule of one book makes that {e.shown('speed_effect')} times the force. "
        "It is part of the factor above and not to be put on top.",
    ]
    if e["chip_thickness"] < _MEASURED_TO:
        said.append(
            f"Your chip is {e.shown('chip_thickness')} thick, thinner than the 0.05 mm to which the constants were measured: the true force is higher than this."
        )
    said.append(f"Source: {cite(_sources())}.")
    return tabled(rows, _HEAD, after=said)
