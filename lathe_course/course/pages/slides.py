"""Chapter 09: kinds of ways side by side, and the divisions that suit a screw."""

from __future__ import annotations

import numpy as np

from ... import units
from ...design.chapters.screws import DIALS, DIVISIONS, dial_diameter, dial_steps, round_steps
from ...design.chapters.slides import SLIDES
from ...design.evaluation import Evaluation, evaluate
from ...ranges import Range
from ...tables import table
from ...units import Length, Pitch
from ..shown.panels import Page, paragraphs, tabled
from .register import page

_MM, _PITCH = Length("mm"), Pitch("mm")
_KINDS_HEAD = ("slideways", "friction", "jams below", "push in the cut", "what they need")
_DIALS_HEAD = ("divisions", "on the radius", "on the diameter", "reads round as", "lines apart on your dial")
#: a step is round if a whole turn stays true to half a line of a hundred
_ROUND = 0.001


@page
def slide_kinds(evaluation: Evaluation) -> Page:
    """The saddle of your design on each kind of slideways: friction, the length at which it jams, and the push it takes."""
    rows = []
    for kind in SLIDES:
        tried = evaluate(evaluation.design.trying(slide_kind=kind))
        mark = " (yours)" if kind == evaluation["slide_kind"] else ""
        push = tried.shown("push_needed") if np.isfinite(tried.middle("push_needed")) else "jams"
        rows.append(
            (
                kind + mark,
                _range(table("slides")[kind]["friction"]),
                tried.shown("jam_free_length"),
                push,
                table("slides")[kind]["needs"],
            )
        )
    said = f"Your saddle, guided over {evaluation.shown('saddle_length')} and pushed {evaluation.shown('push_offset')} beside its guide, on each kind of slideways:"
    return tabled(rows, _KINDS_HEAD, (1, 2, 3), before=(said,))


def _range(value: Range) -> str:
    return f"{units.number(value.low)} to {units.number(value.high)}"


@page
def dial_choices(evaluation: Evaluation, pitch: str = "") -> Page:
    """Numbers of divisions that give a round step on a screw: yours, or one of the ``pitch`` asked for.

    Raises InputProblem for a pitch that cannot be read.
    """
    chosen = units.read(pitch, _PITCH, "pitch") if pitch else evaluation.middle("cross_screw_pitch")
    system = evaluation.design.system
    rows = []
    for divisions in DIVISIONS:
        radius, diameter = dial_steps(chosen, divisions)
        round_as = [reads for reads in DIALS if _is_round(radius if reads.startswith("radius") else diameter, reads)]
        if round_as:
            spacing = np.pi * dial_diameter.body(divisions, evaluation.middle("centre_height")) / divisions
            rows.append(
                (
                    str(divisions),
                    _step(radius, round_as),
                    _step(diameter, round_as),
                    ", ".join(round_as),
                    units.shown(spacing, _MM, system),
                )
            )
    thread = _thread(chosen, system)
    if not rows:
        said = f"No usual number of divisions gives a round step on a screw of {thread}; a scale on the slide, or another screw, serves better."
        return paragraphs(said)
    said = f"Divisions that read round on a screw of {thread}:"
    return tabled(rows, _DIALS_HEAD, (0, 1, 2, 4), before=(said,))


def _is_round(step: float, reads: str) -> bool:
    return bool(np.min(np.abs(step / round_steps(reads) - 1)) < _ROUND)


def _step(step: float, round_as: list[str]) -> str:
    """In the unit in which it is round, in both if it is so in both."""
    names = [unit for unit, ending in (("mm", "mm"), ("in", "inches")) if any(reads.endswith(ending) for reads in round_as)]
    return " or ".join(f"{units.number(step / units.si_factor(unit), 4)} {unit}" for unit in names)


def _thread(pitch: float, system: str) -> str:
    per_inch = units.si_factor("in") / pitch
    near = round(per_inch)
    inch = near > 0 and abs(per_inch - near) < 1e-6 * near
    return f"{units.shown(pitch, _PITCH, system, 4)} pitch" + (f" ({near} threads to the inch)" if inch else "")
