"""Chapters 07, 08 and 17: each job as it is held, and what of the machine's errors reaches it."""

from __future__ import annotations

from ... import units
from ...design.evaluation import Evaluation, evaluate
from ...units import Length
from ..shown.panels import Page, tabled
from .register import page

_UM = Length("µm")


@page
def jobs_as_held(evaluation: Evaluation, feet: str = "") -> Page:
    """Every job with its holding, and what twist, axis, tailstock and give each leave on its diameter, beside what the machine may leave.

    With ``feet`` as if the bed stood on them, such as "four feet bolted down"; InputProblem if there are none of that name.
    """
    e = evaluation.central
    if feet and feet != e["feet"]:
        e = evaluate(e.design.with_(feet=feet), earlier=e)
    system, jobs = e.design.system, e.design.jobs
    said_class = e["acceptance_class"]
    rows = []
    for at, job in enumerate(jobs):
        errors = tuple(e[name][at] for name in ("job_twists", "job_leans", "job_tapers", "job_shapes"))
        rows.append(
            (
                job.name,
                f"{job.holding}{' (proposed)' if job.holding_proposed else ''}",
                *(units.shown(error, _UM, system, 2) if error > 0 else "–" for error in errors),
                units.shown(job.tolerance * e["error_share"], _UM, system, 2),
            )
        )
    head = ("job", "held", "twist of the bed", "axis", "tailstock", "give", "the machine may leave")
    said = (
        f"With the bed on {e['feet']}. Axis and tailstock stand at the limit of class {said_class}; twist is what one foot that moves puts in. Each is told for itself, on the diameter. "
        "Held in the chuck, work follows the spindle: its axis and the bed's twist come out whole. Between centres the line from centre to centre is the axis, "
        "and an even twist takes the tailstock along with the saddle: what counts is where the tailstock stands. With chuck and centre a fifth of axis and twist stays, as a bow. "
        "Proposed by length over diameter: common practice. Another holding is written in the job."
    )
    return tabled(rows, head, (2, 3, 4, 5, 6), after=(said,))
