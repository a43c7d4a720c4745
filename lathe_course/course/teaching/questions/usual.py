"""Wrong ways that are gone everywhere, found from the figures of a question and their kinds.

A file of questions names the slips of its own question.  Those that belong to any question, half
of a diameter, minutes for seconds, a share upside down, need not be written down again
each time: ``usual_slips`` makes them from what goes in and what comes out.
"""

from __future__ import annotations

import functools
import itertools
from typing import Any

from ....units import Kind
from .data import Question, Slip

__all__ = ["usual_slips"]

_RATES = ("speed", "rotational speed", "time", "volume per time", "power")
_WEIGHTS = ("force", "mass", "stress", "torque")
_ACROSS = ("diameter", "bore", "outer", "swing")
_HALVES = ("radius", "depth", "error", "centre_height", "offset", "deflection", "overhang")


@functools.lru_cache(maxsize=512)
def usual_slips(question: Question) -> tuple[Slip, ...]:
    """The usual slips that can happen with a figure asked for by a formula; none where a table is asked."""
    if question.sort != "figure" or not question.work:
        return ()
    taken = {step.takes.get(name, name) for step in question.work for name in step.formula.inputs}
    drawn = {name for rows in question.draws.values() for row in rows for name in row}
    inputs = {name: question.kinds[name] for name in sorted(taken & drawn)}
    found = [slip for name, kind in inputs.items() for slip in _of_input(question, name, kind)]
    found += [
        _slip(
            f"{_said(a)} and {_said(b)} have changed places",
            "Two figures of one kind: read again which is which.",
            do="swap",
            input=a,
            other=b,
        )
        for a, b in itertools.combinations(inputs, 2)
        if _alike(inputs[a], inputs[b])
    ]
    for a, b in itertools.combinations(inputs, 2):
        if _alike(inputs[a], inputs[b]) and inputs[a].sort != "plain":
            found += [
                _slip(
                    f"{_said(b)} with the wrong sign",
                    "Two figures of one kind: are they added, or is one taken off the other?",
                    do="negate",
                    input=b,
                ),
                _slip(f"{_said(b)} left out", "One of the figures given has not been used.", do="scale", input=b, by=0),
            ]
            if _alike(inputs[a], question.kinds[question.asks]):
                found += [
                    _slip(
                        f"the {how} of {_said(a)} and {_said(b)}",
                        "Two figures of one kind: how do they come together here?",
                        do="instead",
                        put=how,
                        of=[a, b],
                    )
                    for how in ("sum", "mean")
                ]
    return tuple(found + _of_result(question, [*inputs.values(), question.kinds[question.asks]]))


def _slip(name: str, help: str, **step: Any) -> Slip:
    return Slip(name, help, (step,))


def _said(name: str) -> str:
    return "the " + name.replace("_", " ")


def _alike(a: Kind, b: Kind) -> bool:
    return (a.what, a.unit) == (b.what, b.unit)


def _of_input(question: Question, name: str, kind: Kind) -> list[Slip]:
    said, found = _said(name), []
    if kind.what == "length" and any(word in name for word in _ACROSS):
        found.append(
            _slip(
                f"half of {said} put in",
                "A radius is half of a diameter. Which of the two does the formula want?",
                do="scale",
                input=name,
                by="1/2",
            )
        )
    if kind.what == "length" and any(word in name for word in _HALVES):
        found.append(
            _slip(
                f"twice {said} put in",
                "What is measured across is twice what is measured from the middle. Which is wanted?",
                do="scale",
                input=name,
                by=2,
            )
        )
    texts = [row[name] for rows in question.draws.values() for row in rows if isinstance(row.get(name), str)]
    if kind.what in ("length", "pitch") and texts and all(text.endswith(" in") for text in texts):
        found.append(
            _slip(
                f"{said} in inches read as millimetres",
                "Look at the unit behind the figure.",
                do="misread",
                input=name,
                unit="in",
                as_unit="mm",
            )
        )
    if kind.sort == "plain" and not kind.what.startswith("whole"):
        found.append(_slip(f"{said} left out", "One of the figures given has not been used.", do="set", input=name, to="1"))
        found.append(
            _slip(
                f"{said} the wrong way round",
                "Multiply or divide? Ask whether the result must grow or shrink by it.",
                do="invert",
                input=name,
            )
        )
        if kind.unit != "" or all(_share(text) for text in texts):
            found.append(
                _slip(
                    f"what {said} leaves of the whole, put in its place",
                    "Is the share meant, or what is left without it?",
                    do="leave",
                    input=name,
                )
            )
            found.append(
                Slip(
                    f"what is lost through {said} added on top",
                    "A hundred divided by 0.8 is not a hundred and its fifth.",
                    ({"do": "leave", "input": name}, {"do": "add", "input": name, "amount": 1}, {"do": "invert", "input": name}),
                )
            )
    for which, once in (("rises_with", "divide result"), ("falls_with", "multiply result")):
        if kind.sort != "plain" and name in {one for step in question.work for one in getattr(step.formula, which)}:
            step = {"do": once, "input": name}
            found.append(Slip(f"{said} left out", "One of the figures given has not been used.", (step,)))
            found.append(
                Slip(f"{said} on the wrong side of the division", "Must the result grow or shrink with it?", (step, step))
            )
    if _alike(kind, question.kinds[question.asks]):
        found.append(
            _slip(
                f"{said} quoted as it stands",
                "That is one of the figures given. What is to be made of it?",
                do="quote",
                figure=name,
            )
        )
    return found


def _share(text: str) -> bool:
    try:
        return 0 < float(text) < 1
    except ValueError:
        return text.endswith("%")


def _of_result(question: Question, kinds: list[Kind]) -> list[Slip]:
    whats, found = {kind.what for kind in kinds}, []

    def out_by(by: str, times: str, name: str, help: str) -> None:
        found.extend((_slip(name, help, do="scale result", by=by), _slip(name, help, do="scale result", by=times)))

    if any(r"\pi" in step.formula.equation for step in question.work):
        out_by("pi", "1/pi", "π lost, or taken once too often", "Where does the round belong in, and how often?")
    if "rotational speed" in whats:
        out_by(
            "2*pi",
            "1/2*pi",
            "a turn taken as 2π, or 2π as a turn",
            "One turn is one turn; in radians it is 2π. Which does the formula count in?",
        )
    if whats & set(_RATES):
        out_by("60", "1/60", "minutes and seconds mixed", "Look at the time in each unit: is it a minute or a second?")
    if any("month" in kind.unit for kind in kinds):
        out_by("12", "1/12", "months and years mixed", "Is it asked for a month or for a year?")
    if whats & set(_WEIGHTS):
        out_by(
            "9.81",
            "1/9.81",
            "mass and weight mixed",
            "A mass is in kg, the force of its weight in N. Which do you have, which is wanted?",
        )
    if "length" in whats:
        out_by("25.4", "1/25.4", "inches and millimetres mixed", "Look at the unit of each length.")
    out_by("2", "1/2", "out by exactly two", "Where does a two come in: radius and diameter, there and back, two sides?")
    for factor, said in (("10", "ten"), ("1000", "a thousand")):
        out_by(
            factor,
            f"1/{factor}",
            f"out by exactly {said}",
            "The figures are right, the point is not: bring all to units of one family first.",
        )
    if question.kinds[question.asks].sort == "plain":
        found.append(
            _slip("upside down", "Which is divided by which? Ask whether it must be more or less than one.", do="invert result")
        )
        found.append(_slip("the rest of the whole instead of the share", "You found what is left. What is asked?", do="rest"))
        found.append(
            _slip("the share of the wrong whole", "What is the whole here, the larger or the smaller?", do="against rest")
        )
        out_by(
            "100", "1/100", "per cent and plain number mixed", "Per cent counts hundredths: write the sign, or move the point."
        )
    else:
        out_by(
            "100",
            "1/100",
            "out by exactly a hundred",
            "The figures are right, the point is not: bring all to units of one family first.",
        )
    return found
