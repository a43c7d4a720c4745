"""Every question put to twelve names, on the long walk to eighteen more, and a figure written as an answer."""

import functools

from cases import every
from tiers import many

from lathe_course.course.teaching.questions import AskedFigure, ask_of, chapters, questions
from lathe_course.unit_words import COUNTED
from lathe_course.units import si_factor

NAMES = [
    "guest",
    "learner",
    "learner one",
    "lärling två",
    "élève",
    "o'learner",
    "学徒",
    "ученик",
    *(f"pupil {number}" for number in range(many(4, 292))),
]
#: for the long walk
MORE = [f"pupil {number}" for number in range(4, 22)]


ALL = [one for chapter in chapters() for one in questions(chapter).values()]


EACH = every("one", ALL)


#: a second unit for each unit that is asked for; not the workshop unit, and mostly an inch one; counted figures have none of another size
OTHER = {
    "rpm": "rad/s",
    "m/min": "ft/min",
    "min": "s",
    "mm/s": "in/min",
    "": "%",
    "h": "minutes",
    "months": "years",
    "EUR": "euros",
    "EUR/h": "EUR/hour",
    "dBA": "dB(A)",
    "kg": "lb",
    "N": "lbf",
    "N·m": "lbf*in",
    "W": "hp",
    "A": "mA",
    "mm": "in",
    "µm": "thou",
    "N/mm²": "psi",
    "N/µm": "lbf/in",
    "µm/kN": "mm/N",
    "mm⁴": "in**4",
    "mrad": "deg",
    "kN/m²": "psi",
    "deg": "mrad",
    "Hz": "rpm",
    "mm/rev": "in/rev",
    "m/s": "ft/min",
    "s": "min",
    "hours": "min",
}


#: a unit of another kind
STRANGE = {"rpm": "kg", "m/min": "mm", "min": "rpm", "mm/s": "rpm", "": "mm", "kg": "N", "mm": "kg"}


@functools.cache
def put_to(one):
    return tuple(ask_of(one, name) for name in NAMES)


def put_to_all(one):
    """As many as a count over names wants."""
    return [*put_to(one), *(ask_of(one, name) for name in MORE)]


def written(now: AskedFigure, si: float, unit: str | None = None, digits: int = 9) -> str:
    unit = now.question.unit if unit is None else unit
    counted = COUNTED.get(now.kind.unit, {}).get(unit) if now.kind.sort == "count" else None
    return f"{si / (counted or (si_factor(unit, now.kind.sort) if unit else 1.0)):.{digits}g} {unit}".rstrip()


def figures(one):
    return [now for now in put_to(one) if isinstance(now, AskedFigure)]
