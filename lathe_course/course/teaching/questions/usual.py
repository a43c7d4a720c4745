"""Wrong ways that are gone everywhere, found from the figures of a question and their kinds.

A file of questions names the slips of its own question.  Those that belong to any question, half
of a diameter, minutes for seconds, a share upside down, need not be written down again
each time: ``usual_slips`` makes them from what goes in and what comes out.  They stand in the order in which
they are told where one number fits several: what is done with one figure first, a bare factor last.
"""

from __future__ import annotations

import functools
import itertools
import re
from collections.abc import Mapping
from typing import Any

from ....units import Kind
from .data import Question, Slip

_RATES = ("speed", "rotational speed", "time", "volume per time", "power")
_WEIGHTS = ("force", "mass", "stress", "torque")
_ACROSS = ("diameter", "bore", "outer", "swing")
_HALVES = ("radius", "depth", "error", "centre_height", "offset", "deflection", "overhang")
_UNUSED = "One of the figures given has not been used."
_INCH = re.compile(r"\d (?:in\b|ft\b|per inch)")
_WHERE_TWO = "Where does a two come in: radius and diameter, there and back, two sides?"
_POINT = "The figures are right, the point is not: bring all to units of one family first."


@functools.lru_cache(maxsize=512)
def usual_slips(question: Question) -> tuple[Slip, ...]:
    """The usual slips that can happen with a figure asked for by a formula; none where a table is asked."""
    if question.sort != "figure" or not question.work:
        return ()
    taken = {step.takes.get(name, name) for step in question.work for name in step.formula.inputs}
    drawn = {name for rows in question.draws.values() for row in rows for name in row}
    inputs = {name: question.kinds[name] for name in sorted(taken & drawn)}
    asked = question.kinds[question.asks]
    found = [slip for name, kind in inputs.items() for slip in _of_input(question, name, kind)]
    found += [slip for a, b in itertools.combinations(inputs, 2) for slip in _of_two(inputs, a, b, asked)]
    found += _of_three(inputs, asked)
    found += [slip for name in inputs if _alike(inputs[name], asked) for slip in _about(question, name, inputs)]
    found += _on_the_way(question, asked)
    return tuple(found + _of_result(question, [*inputs.values(), asked]))


def _slip(name: str, help: str, *more: Mapping[str, Any], **step: Any) -> Slip:
    """A slip of the steps ``more``, or of one step."""
    return Slip(name, help, more or (step,))


def _said(name: str) -> str:
    return "the " + name.replace("_", " ")


def _alike(a: Kind, b: Kind) -> bool:
    return (a.what, a.unit) == (b.what, b.unit)


# --- one figure -------------------------------------------------------------------------------------
def _of_input(question: Question, name: str, kind: Kind) -> list[Slip]:
    said, found = _said(name), []
    texts = [row[name] for rows in question.draws.values() for row in rows if isinstance(row.get(name), str)]
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
    if kind.sort == "pitch" and texts and all(text.endswith("inch") for text in texts):
        found.append(_slip(f"{said} left out", _UNUSED, do="set", input=name, to="1 per inch"))
    if kind.sort == "angle":
        found += _of_angle(said, name)
    if kind.sort == "plain":
        found += _of_plain(said, name, all(_share(text) for text in texts) or kind.unit != "")
        if kind.what.startswith("whole"):
            found += [
                _slip(
                    f"one of {said} too many, or too few",
                    "Count again: ends or gaps, first and last?",
                    do="add",
                    input=name,
                    amount=one,
                )
                for one in (-1, 1)
            ]
    found += _of_dependence(question, said, name, kind)
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


def _of_angle(said: str, name: str) -> list[Slip]:
    whole = "Is the whole angle wanted, or half of it?"
    other = "Which side of the triangle is over which: sine or cosine, this angle or the one beside it?"
    back = {"do": "negate", "input": name}
    return [
        _slip(f"twice {said} put in", whole, do="scale", input=name, by=2),
        _slip(f"half of {said} put in", whole, do="scale", input=name, by="1/2"),
        *(
            _slip(f"sine and cosine of {said} exchanged", other, back, {"do": "add", "input": name, "amount": right})
            for right in (_QUARTER, 2 * _QUARTER)
        ),
        _slip(
            f"{said} in degrees taken for radians",
            "What does your calculator count angles in?",
            do="scale",
            input=name,
            by="180/pi",
        ),
    ]


_QUARTER = 1.5707963267948966  # of a turn, rad


def _of_plain(said: str, name: str, share: bool) -> list[Slip]:
    found = [
        _slip(f"{said} left out", _UNUSED, do="set", input=name, to="1"),
        _slip(
            f"{said} the wrong way round",
            "Multiply or divide? Ask whether the result must grow or shrink by it.",
            do="invert",
            input=name,
        ),
    ]
    if share:
        found += [
            _slip(
                f"what {said} leaves of the whole, put in its place",
                "Is the share meant, or what is left without it?",
                do="leave",
                input=name,
            ),
            _slip(
                f"what is lost through {said} added on top",
                "A hundred divided by 0.8 is not a hundred and its fifth.",
                {"do": "leave", "input": name},
                {"do": "add", "input": name, "amount": 1},
                {"do": "invert", "input": name},
            ),
        ]
    return found


def _of_dependence(question: Question, said: str, name: str, kind: Kind) -> list[Slip]:
    """A figure forgotten, put on the wrong side of the division or taken once too often, where the formula rises or falls with it."""
    if kind.sort == "plain":
        return []
    found = []
    for which, back, again in (("rises_with", "divide", "multiply"), ("falls_with", "multiply", "divide")):
        if name not in {one for step in question.work for one in getattr(step.formula, which)}:
            continue
        for unit in ("", *([] if kind.factor == 1 else [" in SI"])):
            once, more = ({"do": f"{verb} result{unit}", "input": name} for verb in (back, again))
            found += [
                _slip(
                    f"{said} left out, or taken once too seldom",
                    "Has each figure been used as often as the formula has it?",
                    once,
                ),
                _slip(f"{said} on the wrong side of the division", "Must the result grow or shrink with it?", once, once),
                _slip(f"{said} taken once too often", "Is there a square where none belongs?", more),
            ]
    return found


def _share(text: str) -> bool:
    try:
        return 0 < float(text) < 1
    except ValueError:
        return text.endswith("%")


# --- several figures --------------------------------------------------------------------------------
def _of_two(inputs: Mapping[str, Kind], a: str, b: str, asked: Kind) -> list[Slip]:
    one, other = inputs[a], inputs[b]
    together = f"{_said(a)} and {_said(b)}"
    if not _alike(one, other):
        return [
            _slip(
                f"only {_said(c)} and {_said(d)}, one divided by the other",
                "The figures given have not all been used.",
                do="instead",
                put="quotient",
                of=[c, d],
            )
            for c, d in ((a, b), (b, a))
            if asked.sort == "count" and asked.unit == f"{inputs[c].unit}/{inputs[d].unit}"
        ]
    found = [
        _slip(
            f"{together} have changed places", "Two figures of one kind: read again which is which.", do="swap", input=a, other=b
        )
    ]
    if one.sort == "plain":
        puts = ["product"] if asked.sort == "plain" else []
    else:
        for name in (a, b):
            found += [
                _slip(
                    f"{_said(name)} with the wrong sign",
                    "Two figures of one kind: are they added, or is one taken off the other?",
                    do="negate",
                    input=name,
                ),
                _slip(f"{_said(name)} left out", _UNUSED, do="subtract", input=name, less=name),
            ]
        puts = (
            ["sum", "mean", "difference"] if _alike(one, asked) else ["difference", "quotient"] if asked.sort == "plain" else []
        )
    return found + [
        _slip(
            f"the {how} of {together}",
            "Two figures of one kind: how do they come together here?",
            {"do": "instead", "put": how, "of": of},
            *_bare(asked),
        )
        for how in puts
        for of in ([a, b], [b, a])
    ]


def _bare(asked: Kind) -> tuple[Mapping[str, Any], ...]:
    """What makes a plain number of one that was taken for per cent."""
    return ({"do": "scale result", "by": 1 / asked.factor},) if asked.sort == "plain" and asked.factor != 1 else ()


def _of_three(inputs: Mapping[str, Kind], asked: Kind) -> list[Slip]:
    """The distance of two figures measured by a third of their kind, where a plain number is asked."""
    if asked.sort != "plain":
        return []
    return [
        _slip(
            f"how many times {_said(c)} goes into what is between {_said(a)} and {_said(b)}",
            "That is a step on the way. What does it stand for?",
            {"do": "subtract", "input": a, "less": b},
            {"do": "instead", "put": "quotient", "of": [a, c]},
            *_bare(asked),
        )
        for a, b, c in itertools.permutations(inputs, 3)
        if inputs[a].sort != "plain" and _alike(inputs[a], inputs[b]) and _alike(inputs[b], inputs[c])
    ]


def _about(question: Question, name: str, inputs: Mapping[str, Kind]) -> list[Slip]:
    """A figure of the kind that is asked for, from which the result has grown or shrunk."""
    said = _said(name)
    found = [
        _slip(f"only what comes on top of {said}, or off it", "What is asked is the whole.", do="surplus", figure=name),
        _slip(
            f"taken off {said} instead of put on, or the other way",
            "Must the result be more than it, or less?",
            do="mirror",
            figure=name,
        ),
        *(
            _slip(
                f"a share of {said} put on where it divides, or the other way",
                "A hundred divided by 0.8 is not a hundred and its fifth.",
                do=do,
                figure=name,
            )
            for do in ("multiplied", "divided")
        ),
    ]
    shares = [other for other, kind in inputs.items() if kind.sort == "plain" and not kind.what.startswith("whole")]
    quote = {"do": "quote", "figure": name}
    for share in shares:
        for before in ((), ({"do": "leave", "input": share},)):
            found += [
                _slip(
                    f"only {said} and {_said(share)}",
                    "The figures given have not all been used.",
                    *before,
                    quote,
                    {"do": f"{verb} result in SI", "input": share},
                )
                for verb in ("multiply", "divide")
            ]
    return found


def _on_the_way(question: Question, asked: Kind) -> list[Slip]:
    return [
        _slip(
            f"{_said(step.name)} quoted, a figure on the way",
            "The way goes on: what is to be made of this figure?",
            do="quote",
            figure=step.name,
        )
        for step in question.work
        if step.name != question.asks and _alike(step.formula.output, asked)
    ]


# --- the result -------------------------------------------------------------------------------------
def _of_result(question: Question, kinds: list[Kind]) -> list[Slip]:
    whats, found = {kind.what for kind in kinds}, []

    def out_by(by: str, times: str, name: str, help: str) -> None:
        found.extend((_slip(name, help, do="scale result", by=by), _slip(name, help, do="scale result", by=times)))

    if any(r"\pi" in step.formula.equation for step in question.work):
        out_by("pi", "1/pi", "π lost, or taken once too often", "Where does the round belong in, and how often?")
        out_by(
            "pi/4",
            "4/pi",
            "a square for a circle, or a circle for a square",
            "The area of a circle is a quarter of π of the square round it.",
        )
    if "rotational speed" in whats:
        out_by(
            "2*pi",
            "1/2*pi",
            "a turn taken as 2π, or 2π as a turn",
            "One turn is one turn; in radians it is 2π. Which does the formula count in?",
        )
    if whats & set(_RATES):
        out_by("60", "1/60", "minutes and seconds mixed", "Look at the time in each unit: is it a minute or a second?")
    if "time" in whats:
        out_by("3600", "1/3600", "hours and seconds mixed", "Look at the time in each unit.")
    if any("month" in kind.unit for kind in kinds):
        out_by("12", "1/12", "months and years mixed", "Is it asked for a month or for a year?")
    if whats & set(_WEIGHTS):
        for by, times in (("9.81", "1/9.81"), ("9.81/1000", "1000/9.81")):
            out_by(
                by,
                times,
                "mass and weight mixed",
                "A mass is in kg, the force of its weight in N. Which do you have, which is wanted?",
            )
    if "length" in whats and any(
        _INCH.search(str(text)) for rows in question.draws.values() for row in rows for text in row.values()
    ):
        out_by("25.4", "1/25.4", "inches and millimetres mixed", "Look at the unit of each length.")
    out_by("2", "1/2", "out by exactly two", _WHERE_TWO)
    out_by("4", "1/4", "out by exactly four", f"A two on the wrong side of the division, or a two squared. {_WHERE_TWO}")
    if any(r"\sqrt" in step.formula.equation for step in question.work):
        found.append(_slip("the root forgotten", "What is under the root is not yet the answer.", do="raise result", power=2))
    plain = question.kinds[question.asks].sort == "plain"
    if plain:
        found += _of_plain_result(1 / question.kinds[question.asks].factor)
        out_by(
            "100", "1/100", "per cent and plain number mixed", "Per cent counts hundredths: write the sign, or move the point."
        )
    for power, told in enumerate(("ten", "a hundred", "a thousand", "ten thousand", "a hundred thousand", "a million"), 1):
        out_by(str(10**power), f"1/{10**power}", f"out by exactly {told}", _POINT)
    return found


def _of_plain_result(one: float) -> list[Slip]:
    whole = "What is the whole here, and is all of it asked, or what comes on top?"
    rest, one_more, turned = {"do": "rest"}, {"do": "add result", "amount": one}, {"do": "invert result"}
    return [
        _slip("upside down", "Which is divided by which? Ask whether it must be more or less than one.", turned),
        _slip("the rest of the whole instead of the share", "You found what is left. What is asked?", rest),
        _slip("the share of the wrong whole", "What is the whole here, the larger or the smaller?", do="against rest"),
        _slip("only what comes on top of one", whole, do="add result", amount=-one),
        _slip("one put on top that does not belong there", whole, one_more),
        _slip("taken off one instead of put on, or the other way", whole, rest, one_more),
        _slip("put on where it divides, or the other way", whole, rest, one_more, turned),
        _slip("put on where it divides, or the other way", whole, turned, rest, one_more),
        *(
            _slip(said, "How often does each figure stand in the formula?", do="raise result", power=power)
            for said, power in (
                ("a square forgotten, or a root taken that does not belong there", "1/2"),
                ("squared where nothing is, or a root forgotten", 2),
            )
            if one == 1
        ),
    ]
