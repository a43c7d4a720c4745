"""Pages of chapter 05: kinds of drive and belt, pulleys step by step, and what each job finds at its speed."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np

from ... import units
from ...design.asked.drives import belt_grip, centres_for, field_speeds
from ...design.evaluation import Evaluation
from ...machine import belts, drive
from ...ranges import Range
from ...tables import table
from ...units import Angle, Force, Kind, Length, Money, Ratio, RotationalSpeed, Speed, Torque
from ..pictures.axes import shown as _shown
from ..shown.panels import Page, for_and_against, tabled
from .register import page

_MM, _RPM, _DEG, _N, _NM, _SPEED, _EUR, _SHARE = (
    Length("mm"),
    RotationalSpeed(),
    Angle(),
    Force(),
    Torque(),
    Speed("m/s"),
    Money(),
    Ratio("%"),
)


def _ends(e: Evaluation, span: Range, kind: Kind) -> str:
    low, high = (units.number(units.in_unit(end, kind, e.design.system), 2) for end in (span.low, span.high))
    return f"{low} to {high} {units.unit_text(kind, e.design.system)}".rstrip()


# --- kinds -------------------------------------------------------------------------------------------
@page
def drive_kinds(evaluation: Evaluation) -> Page:
    """The kinds of drive with what speaks for and against each."""

    def speeds(row: Mapping[str, Any]) -> str:
        slow, fast = (units.number(row[f"{end}_share"] * 100) for end in ("slowest", "fastest"))
        return "one speed" if slow == fast else f"{slow} to {fast} %"

    rows = [(name, speeds(row), _ends(evaluation, row["price"], _EUR)) for name, row in table("drives").items()]
    return tabled(
        rows,
        ("drive", "of the plate's speed", "price"),
        after=(
            f"A back gear, 4 to 7 to one, goes with any of them: {_ends(evaluation, Range(60, 90, 120), _EUR)}, 12 to 20 hours. All of this is common practice, no source.",
            _poles(evaluation),
        ),
    ) + for_and_against(table("drives"))


def _poles(e: Evaluation) -> str:
    """What stands on the plates of induction motors."""
    told = [
        f"{', '.join(_shown(e, speed, _RPM, 4) for speed in speeds)} at {hertz} Hz" for hertz, speeds in field_speeds().items()
    ]
    return (
        f"An induction motor runs a little slower than its turning field, which with 2, 4 or 6 poles makes {' and '.join(told)}."
    )


@page
def belt_kinds(evaluation: Evaluation) -> Page:
    """The kinds of belt, with the friction that counts in their grooves."""
    rows = []
    for name, row in table("belts").items():
        friction, slips = belt_grip(name)
        rows.append(
            (
                name,
                _ends(evaluation, friction, Ratio()),
                _ends(evaluation, slips, Ratio()),
                _shown(evaluation, row["smallest_pulley"], _MM),
                _shown(evaluation, row["fastest"], _SPEED),
            )
        )
    return tabled(
        rows, ("belt", "friction that counts", "tight over slack strand at half a turn", "smallest pulley", "fastest"), (3, 4)
    ) + for_and_against(table("belts"))


# --- pulleys -----------------------------------------------------------------------------------------
@page
def pulleys(evaluation: Evaluation, belt: str = "") -> Page:
    """Each step: pulleys for one belt, wrap, speeds, pull; with ``belt`` the centres for a belt of that length.

    Raises InputProblem if that belt does not go round.
    """
    e = evaluation.central
    geared = bool(np.isfinite(e["drive_settings"]["slow"][drive.STEPS]))
    head = ("step", "driving", "driven", "wrap", "motor pulls", "belt takes", "speeds", *(["with back gear"] if geared else []))
    rows, notes = [], []
    of_belt, pairs, settings = e["belt_on_steps"], e["belt_pulleys"], e["drive_settings"]
    for index in range(int(e["belt_steps"])):
        driving, driven = float(pairs["driving"][index]), float(pairs["driven"][index])
        rows.append(
            (
                str(index + 1),
                _shown(e, driving, _MM, 4),
                _dash(e, driven, _MM, 4),
                _dash(e, of_belt["wrap"][index], _DEG),
                _dash(e, of_belt["pull"][index], _N),
                _dash(e, of_belt["grip"][index], _N),
                *(_span(e, settings, index + row * drive.STEPS) for row in range(1 + geared)),
            )
        )
        if not np.isfinite(driven):
            notes.append(f"Step {index + 1}: {_why_not(e, driving)}")
    return tabled(rows, head, (1, 2, 3, 4, 5), after=(*notes, *_lengths(e), *([_bought(e, belt)] if belt else [])))


def _dash(e: Evaluation, si: float, kind: Kind, digits: int = 3) -> str:
    return _shown(e, si, kind, digits) if np.isfinite(si) else "–"


def _span(e: Evaluation, settings: Mapping[str, np.ndarray], index: int) -> str:
    slow, fast = float(settings["slow"][index]), float(settings["fast"][index])
    if not np.isfinite(slow):
        return "–"
    return (
        _shown(e, fast, _RPM)
        if fast <= slow * 1.001
        else f"{units.number(units.in_unit(slow, _RPM, e.design.system))} to {_shown(e, fast, _RPM)}"
    )


def _why_not(e: Evaluation, driving: float) -> str:
    if not np.isfinite(e["belt_length"]):
        return "the pulleys of step 1 run into each other, so there is no belt to share."
    said = belts.mating_diameter.broken({"diameter": driving, "belt_length": e["belt_length"], "centres": e["belt_centres"]})
    return " ".join(said) or "no second pulley can share the belt."


def _lengths(e: Evaluation) -> tuple[str, ...]:
    if not np.isfinite(e["belt_length"]):
        return ()
    return (
        f"The belt is {_shown(e, e['belt_length'], _MM, 5)} long; the usual rule makes it {e.shown('belt_rule_short', 2)} shorter. "
        f"Pressed in the middle with {_shown(e, 10.0, _N)}, the free strand of step 1 gives {_shown(e, e['belt_give'], _MM)}.",
    )


def _bought(e: Evaluation, belt: str) -> str:
    length = units.read(belt, _MM, "belt")
    return (
        f"A belt of {_shown(e, length, _MM, 4)} sets the shafts {_shown(e, centres_for(e, length), _MM, 4)} apart; you decided on "
        f"{_shown(e, e['belt_centres'], _MM, 4)}."
    )


# --- torque ------------------------------------------------------------------------------------------
@page
def job_torque(evaluation: Evaluation) -> Page:
    """Each job of the list at its full diameter: the speed it runs at, the torque there, and what its roughing cut asks."""
    e = evaluation.central
    found = e["job_turning"]
    rows = []
    for job, speed, torque, asked in zip(e["jobs"], found["speed"], found["torque"], found["asked"]):
        verdict = (
            "asks next to nothing"
            if asked <= 0
            else f"{torque / asked:.1f} times"
            if torque >= asked
            else f"{torque / asked:.0%}: slower, or a lighter cut"
        )
        rows.append(
            (
                job.name,
                job.material,
                _shown(e, job.diameter, _MM),
                _shown(e, speed, _RPM),
                _shown(e, torque, _NM),
                _shown(e, asked, _NM),
                verdict,
            )
        )
    return tabled(rows, ("job", "material", "at", "runs at", "there is", "the cut asks", "enough?"), (2, 3, 4, 5))
