"""Chapter 08: what readings of a spring balance and a dial tell, and what the design does with them."""

from __future__ import annotations

from ... import units
from ...design.chapters.measured import WORKED_OUT, fit_of
from ...design.evaluation import Evaluation
from ...machine.measured import INSTRUMENTS, give_uncertainty
from ...units import Compliance, InputProblem, Length
from ...working import Working
from ..pictures.fit import chosen_rows
from ..shown.panels import Page, folded_working, paragraphs, tabled
from .register import page

_GIVE, _UM = Compliance(), Length("µm")


@page(worked=True)
def give_measured(evaluation: Evaluation, readings: str = "yours") -> Page:
    """The give that readings tell ('yours' or 'invented'), how sure it is, what is not give, and the figure worked out beside it."""
    e = evaluation.central
    system = e.design.system
    rows = chosen_rows(e, readings)
    try:
        fit = fit_of(rows)
    except InputProblem as problem:
        said = "; ".join(sentence for _, sentence in problem.problems)
        said = said[0].upper() + said[1:]
        return paragraphs(said)
    low, likely, high = fit.range
    ratio = likely / e["predicted_compliance"]
    rows = [
        ("give, the slope of the line", units.shown(likely, _GIVE, system)),
        ("sure to lie between, 95 times in 100", f"{units.shown(low, _GIVE, system)} and {units.shown(high, _GIVE, system)}"),
        ("  from the scatter alone, either way", units.shown(fit.doubt, _GIVE, system, 2)),
        ("  from balance and dial, common practice", f"{INSTRUMENTS:.0%}"),
        ("readings that hold the line", f"{int(fit.used.sum())} of {len(fit.used)}"),
        ("friction, between going up and coming down", units.shown(abs(fit.friction), _UM, system, 2)),
        ("worked out from the links", e.shown("predicted_compliance")),
        ("measured over worked out", units.number(ratio, 2)),
    ]
    said = list(fit.remarks(system))
    if readings == "invented":
        said.append("These readings are invented, so nothing of them is kept with your design.")
    elif e["give_from"] == WORKED_OUT:
        said.append("Your design still goes by the figure worked out; decide below to go by the measured one.")
    else:
        said.append(
            "Your design goes by the measured give. It no longer follows a change of spindle, bed or slide: measure again after each."
        )
    doubt = {"scatter": fit.scatter, "load_spread": fit.load_spread, "student_factor": fit.factor}
    return tabled(rows, after=said) + Page(folded_working(Working.of(give_uncertainty, doubt, system), "the scatter's part"))
