"""From a test that is out to what to do: the likely cause, and the shim, lift or set-over in figures."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from ... import units
from ...formula import Formula
from ...machine import alignment
from ...tables import table
from ...units import Length
from ...working import Working
from ..evaluation import Evaluation
from .acceptance import LEAST
from .readings_judged import HALVES, QUARTERS, Tested, TestSheet

#: a lean of a short base is told for each so much of it, because its length is not asked
_BASE = 0.1
#: engaged length of nut over which an error of the lead is judged
_NUT = 0.025
_MM, _UM = Length("mm"), Length("µm")


@dataclass(frozen=True)
class Correction:
    """What to do about one test, in words, and the formula behind the figure with what it was fed, SI."""

    says: str
    formula: Formula | None = None
    fed: Mapping[str, Any] = field(default_factory=dict)

    def working(self, system: str) -> Working | None:
        return None if self.formula is None else Working.of(self.formula, dict(self.fed), system)


@dataclass(frozen=True)
class _Case:
    """One test that is out, on its design; figures are shown in the learner's units."""

    found: Tested
    sheet: TestSheet
    values: Mapping[str, Any]
    system: str

    def um(self, si: float) -> str:
        return units.shown(abs(si), _UM, self.system)

    def mm(self, si: float) -> str:
        return units.shown(abs(si), _MM, self.system)

    @property
    def over(self) -> float:
        return self.found.over or self.found.test.over or 0.0

    def told(self, says: str, formula: Formula, **fed: float) -> Correction:
        """A correction whose figure, put in for {figure}, is that of ``formula``."""
        return Correction(says.format(figure=self.um(formula.si(**fed))), formula, fed)


def _level(case: _Case) -> Correction:
    twist = case.found.value
    read = case.found.over or case.values["between_centres"]
    apart = case.values["foot_spacing"]
    fed = {"level_difference": abs(twist), "arm": case.values["twist_lever"]}
    costs = (
        f"As it stands the bed turns {case.um(alignment.level_taper.si(**fed))} into the diameter of work in the chuck as long as the places are apart; "
        "with a centre at its end a fifth of that, and between centres hardly any."
    )
    if case.values["feet"] == "three feet":
        return Correction(
            "On three feet no foot can twist the bed, and none can straighten it. Loosen whatever is bolted to it, tray, motor plate, covers, and read again: "
            f"what goes away was pulled in, so pack it free. What stays was made in: scrape the slideways, or set the bed on four feet that hold it straight. {costs}",
            alignment.level_taper,
            fed,
        )
    foot = "rear foot" if twist > 0 else "foot on the tool's side"
    other = "lower the one on the tool's side" if twist > 0 else "lower the rear one"
    further = (
        f" The level was read {case.mm(read)} apart and the feet stand {case.mm(apart)} apart: the lift is for all of that."
        if read < 0.95 * apart
        else ""
    )
    free = ""
    if case.values["feet"] == "four feet standing free" and abs(twist) * max(apart / read, 1.0) > case.values["weight_twist"]:
        free = " Standing free the bed is too light to follow so far: bolt it down, or look for what pulls it."
    return case.told(
        f"Lift the {foot} at the tailstock end by {{figure}}, or {other}; tighten, wait, read again.{further}{free} {costs}",
        alignment.foot_lift,
        level_difference=abs(twist),
        foot_width=case.values["bed_width"],
        foot_spacing=apart,
        measured_length=read,
    )


def _straight(case: _Case) -> Correction:
    if case.found.wrong_way:
        return Correction(
            f"The slideway lies hollow by {case.um(case.found.value)}: scrape its ends down. Hollow is not accepted, because wear deepens it."
        )
    return Correction(
        f"The slideway stands {case.um(case.found.value)} high; scrape the high part. Is the bed pulled down at its ends by its own feet?"
    )


def _headstock(case: _Case, error: float, upright: bool) -> Correction:
    """Shim for a headstock that stands tilted (``upright``) or askew; ``error`` plus where the axis rises or comes to the tool."""
    fed = {"axis_error": abs(error), "fixing_spacing": case.values["fixing_spacing"], "measured_length": case.over}
    if upright:
        fixing = "rear" if error > 0 else "front"
        return case.told(
            f"Put a shim of {{figure}} under the {fixing} fixing of the headstock, the one "
            f"{'far from' if error > 0 else 'next to'} the nose; or scrape as much off under the other.",
            alignment.shim_thickness,
            **fed,
        )
    away, towards = ("away from", "towards") if error > 0 else ("towards", "away from")
    return case.told(
        f"Shift the front fixing of the headstock by {{figure}} {away} the tool, or the rear one as far {towards} it: "
        "with a shim beside the guide, or by scraping.",
        alignment.shim_thickness,
        **fed,
    )


def _rises(case: _Case) -> Correction:
    made = _headstock(case, case.found.value, upright=True)
    steel, diameter = table("materials")["mild steel"], case.values["taper_diameter"]
    sag = float(alignment.bar_sag.si(diameter, case.over, steel["density"], steel["elastic_modulus"], 9.80665))
    if sag < case.found.allowed.limit / 10:
        return made
    return Correction(
        f"{made.says} A solid bar of {case.mm(diameter)} hangs down by {case.um(sag)} over this length by its own weight.",
        made.formula,
        made.fed,
    )


def _collars(case: _Case) -> Correction:
    parts = case.found.parts
    fed = {"near_diameter": parts["first"], "far_diameter": parts["second"]}
    swing = float(alignment.axis_swing.si(**fed))
    made = _headstock(case, swing, upright=False)
    where = "towards" if swing > 0 else "away from"
    first = f"The axis leans {case.um(swing)} {where} the tool over {case.mm(case.over)}, or the bed is twisted; the level says which. "
    return Correction(first + made.says + " " + _flexing(case), made.formula, made.fed)


def _flexing(case: _Case) -> str:
    if "flexed" not in case.found.parts:
        return "First turn both collars once more without a new setting: a taper that goes away was the bar flexing from the cut, and no shim mends that."
    flexed = case.found.parts["flexed"]
    if abs(flexed) <= case.found.allowed.limit / 4:
        return "A second pass without a new setting changed nothing, so it is not the bar flexing."
    return f"The second pass without a new setting took {case.um(flexed)} of the taper away: so much was the bar flexing, and is left out here."


def _between(case: _Case) -> Correction:
    difference, whole = case.found.value, max(case.values["between_centres"], case.over)
    where = "towards" if difference > 0 else "away from"
    return case.told(
        f"Move the tailstock by {{figure}} {where} the tool. That is for a bar of {case.mm(whole)}, as long as the lathe takes; "
        f"for a shorter one half the difference, {case.um(difference / 2)}, times its length over the {case.mm(case.over)} measured.",
        alignment.tailstock_offset,
        diameter_difference=abs(difference),
        whole_length=whole,
        measured_length=case.over,
    )


def _height(case: _Case) -> Correction:
    value = case.found.value
    if value < 0:
        return Correction(f"The tailstock is {case.um(value)} low: pack its base by that and a little more, for it wears down.")
    return Correction(
        f"The tailstock is {case.um(value)} high: scrape {case.um(value - case.found.allowed.limit / 2)} off its base, no more."
    )


def _base(what: str) -> Callable[[_Case], Correction]:
    def made(case: _Case) -> Correction:
        return case.told(
            f"Scrape {what}: {{figure}} for each {case.mm(_BASE)} of its length. First clamp, unclamp and read again: "
            "chips and slack gibs look just like it.",
            alignment.shim_thickness,
            axis_error=abs(case.found.value),
            fixing_spacing=_BASE,
            measured_length=case.over,
        )

    return made


def _square(case: _Case) -> Correction:
    lies = "The face comes out humped, which is not accepted: it would rock on its middle. " if case.found.wrong_way else ""
    made = _base("the guide of the cross-slide in the saddle")(case)
    return Correction(lies + made.says, made.formula, made.fed)


def _nose(case: _Case) -> Correction:
    overhang, span = case.values["spindle_overhang"], case.values["bearing_span"]
    alike = case.found.value / (1 + 2 * overhang / span)
    told = case.told(
        "Mark the high spot of each bearing, and turn one inner race on the shaft until both lie on the same side. "
        "If two alike now stand opposed, {figure} is left.",
        alignment.phased_run_out,
        front_run_out=alike,
        rear_run_out=alike,
        overhang=overhang,
        span=span,
        phase=0.0,
    )
    return Correction(
        told.says + " A register that runs out more than the bearings is turned true in place.", told.formula, told.fed
    )


def _taper(case: _Case) -> Correction:
    bar = case.found.parts.get("bar")
    if bar is None:
        return Correction(
            "Turn the bar half a turn in its taper and read four times more: half the sum is the spindle's, half the difference the bar's."
        )
    parts = {name: case.found.parts[name] for name in HALVES}
    near = case.sheet.last("taper run-out")
    if case.found.test.name == "taper run-out at the end" and near is not None:
        grown = case.found.value > 1.5 * near.value + 1e-6
        shape = (
            "It grows along the bar: the taper stands at an angle. "
            if grown
            else "It is much the same at the nose: the taper sits to one side. "
        )
    else:
        shape = ""
    return Correction(
        f"{shape}The bar's own part, {case.um(bar)}, is taken out. Wipe and try again; if it stays, ream or grind the taper in place, "
        "turned by its own bearings.",
        alignment.spindle_run_out,
        parts,
    )


def _lead(case: _Case) -> Correction:
    share = case.found.value / case.over * _NUT
    return Correction(
        f"In a nut of {case.mm(_NUT)} that is {case.um(share)}. If the wheels are right it is the screw: it serves feeds, "
        "and threads with short nuts; for more, change the screw."
    )


def _round(case: _Case) -> Correction:
    lobes = case.found.parts.get("lobes")
    if lobes is None:
        return Correction(
            "Two points of a micrometer see an oval and never three lobes. Read an indicator in a vee-block at eight and more places."
        )
    lobed = case.um(case.found.parts["lobed"])
    if lobes == 2:
        return Correction(f"An oval of {lobed}: the front bearing, its seat, or a housing squeezed by its bolts.")
    if lobes == 3:
        return Correction(
            f"Three lobes of {lobed}: the squeeze of a three-jaw chuck. Hold it more lightly, or between centres, and turn again."
        )
    count = units.number(lobes)
    return Correction(
        f"{count} lobes of {lobed}: look for something that comes {count} times a turn, such as a gear or a bearing's rollers."
    )


_DONE: dict[str, Callable[[_Case], Correction]] = {
    "level across": _level,
    "bed straight": _straight,
    "tailstock way": lambda case: Correction("Scrape the slideway of the tailstock, not the base of the tailstock."),
    "nose run-out": _nose,
    "axial slip": lambda case: Correction(
        "A little more preload; if it stays, the faces of nut or spacers are not square. Turn them true on an arbor."
    ),
    "taper run-out": _taper,
    "taper run-out at the end": _taper,
    "axis rises": _rises,
    "axis sideways": lambda case: _headstock(case, case.found.value, upright=False),
    "cross-slide square": _square,
    "topslide level": _base("the base of the topslide"),
    "barrel rises": _base("the base of the tailstock"),
    "barrel sideways": _base("the guide of the tailstock's base"),
    "tailstock height": _height,
    "lead of the screw": _lead,
    "slip of the screw": lambda case: Correction(
        "Take up the thrust bearing of the leadscrew; if it stays, its faces are not square."
    ),
    "collars": _collars,
    "roundness": _round,
    "bar between centres": _between,
    "faced disc": _square,
}


def correction(found: Tested, sheet: TestSheet, evaluation: Evaluation) -> Correction | None:
    """What to do about a test; None where it is not out.  What it leans on and is out itself comes first."""
    if found.status != "fails":
        return None
    made = _DONE[found.test.name](_Case(found, sheet, evaluation.central, evaluation.design.system))
    first = sheet.standing_on(found.test.name)
    if first:
        return Correction(
            f"First mend what it depends on: {', '.join(first)}. Then read again, before you do this: {made.says}",
            made.formula,
            made.fed,
        )
    return made


def behind(found: Tested, evaluation: Evaluation) -> list[Working]:
    """How the readings of a test became its figure, what sets its limit, and what it costs on the work: one working each."""
    values, test, parts = evaluation.central, found.test, found.parts
    steps: list[tuple[Formula, dict[str, float]]] = []
    if set(QUARTERS) <= set(parts):
        steps.append((alignment.run_out, {name: parts[name] for name in QUARTERS}))
    if "bar" in parts:
        steps += [(made, {name: parts[name] for name in HALVES}) for made in (alignment.spindle_run_out, alignment.bar_run_out)]
    if test.name == "collars":
        steps.append((alignment.axis_swing, {"near_diameter": parts["first"], "far_diameter": parts["second"]}))
    over = found.over or test.over
    if over and test.reading != "level ends":
        limit = test.limits[values["acceptance_class"]]
        steps.append(
            (
                alignment.tolerance_at_length,
                {"tolerance": limit, "reference_length": test.over, "measured_length": over, "least_tolerance": LEAST},
            )
        )
        if (work := found.allowed.work) is not None:
            steps.append(
                (
                    alignment.tolerance_from_work,
                    {
                        "part_tolerance": work.tolerance,
                        "share": values["error_share"],
                        "copies": found.allowed.copies,
                        "measured_length": over if test.along else work.length,
                        "work_length": work.length,
                        "least_tolerance": LEAST,
                    },
                )
            )
    if test.reading == "level ends":
        steps.append((alignment.level_taper, {"level_difference": abs(found.value), "arm": values["twist_lever"]}))
    if test.name in ("axis rises", "barrel rises", "tailstock height"):
        steps.append(
            (alignment.height_error_on_diameter, {"diameter": values["work_diameter"], "height_error": abs(found.value)})
        )
    if test.name == "axis rises":
        steel = table("materials")["mild steel"]
        steps.append(
            (
                alignment.bar_sag,
                {
                    "diameter": values["taper_diameter"],
                    "overhang": over,
                    "density": steel["density"],
                    "elastic_modulus": steel["elastic_modulus"],
                    "gravity": 9.80665,
                },
            )
        )
    return [Working.of(made, fed, evaluation.design.system) for made, fed in steps]
