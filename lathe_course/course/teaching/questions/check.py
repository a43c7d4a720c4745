"""How a learner's answer stands: right, a known slip, a wrong unit, near, or what to look at next."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass, replace

from .... import units
from ....formula import Formula
from ....ranges import Range
from ....units import InputProblem, Kind, read
from ....working import Working
from .asked import LETTERS, Asked, AskedFigure, ask_of
from .data import Slip

USUAL = 0.005  # a share: a usual slip must come this near, for there are many of them and chance must not name one
MOST_TOLD = 2  # slips that are told where one number fits several
NEAR = 0.05  # a share of the answer; past the tolerance and within this it is "near"
LONGEST = 60  # characters; no figure with its unit needs more
SIGNS = {"right": "✓", "near": "≈", "slip": "✗", "wrong": "✗", "wrong unit": "?", "no unit": "?", "not a figure": "?"}
_NUMBER = re.compile(r"^\s*[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?(?:\s*/\s*\d+)?\s*$")
_LEADING = re.compile(r"^\s*[-+]?(\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?(?!\s*/\s*\d)")


@dataclass(frozen=True)
class Verdict:
    """How an answer stands.

    ``kind`` is one of 'right', 'near', 'slip', 'wrong', 'wrong unit', 'no unit', 'not a figure'.
    ``said`` is the reply in sentences; ``slip`` the name of the slip if one was recognised;
    ``slips`` all that fit; ``hint`` what to look at next after a wrong answer; ``workings`` the formulas, on other
    numbers after two wrong answers, on the learner's own after the right one.
    """

    kind: str
    said: str
    slip: str = ""
    hint: str = ""
    workings: tuple[Working, ...] = ()
    slips: tuple[str, ...] = ()

    @property
    def sign(self) -> str:
        """A sign that does not lean on colour."""
        return SIGNS[self.kind]

    @property
    def counts(self) -> bool:
        """Whether this was a try at the answer; a missing unit or a typing error is none."""
        return self.kind in ("near", "slip", "wrong", "right")

    def __str__(self) -> str:
        return " ".join(part for part in (self.sign, self.said, self.hint) if part)

    __repr__ = __str__


def check(asked: Asked, answer: str, tries: int = 0) -> Verdict:
    """How ``answer`` stands as an answer to a question.

    ``tries`` counts the earlier wrong answers: the reply names the formula, the next hint says
    what it rises and falls with, the third shows it at work on other numbers.  Never raises for whatever is written.
    """
    text = str(answer).strip()
    if not text:
        return Verdict("not a figure", "Nothing is written yet. " + _how(asked))
    if len(text) > max(LONGEST, *map(len, asked.options), 0):
        return Verdict("not a figure", "That is longer than an answer needs to be. " + _how(asked))
    return _check_figure(asked, text, tries) if isinstance(asked, AskedFigure) else _check_option(asked, text, tries)


def _how(asked: Asked) -> str:
    """How an answer is written, with an example that is no answer to the question."""
    if isinstance(asked, AskedFigure):
        if not asked.question.unit:
            return f"Write a plain number, such as {_example(asked)}, or a share with its sign, such as {_example(asked)} %."
        return f"Write a number and its unit, such as '{_example(asked)} {asked.question.unit}'."
    return f"Write one of the letters {', '.join(LETTERS[: len(asked.options)])}."


def _example(asked: AskedFigure) -> int:
    """A number that is not near the answer, nor is as many per cent."""
    value, unit = asked.value(), asked.question.unit
    per_unit = units.si_factor(unit, asked.kind.sort) if unit else 1.0
    low, high = value.low / per_unit * (1 - 2 * NEAR), value.high / per_unit * (1 + 2 * NEAR)
    spoilt = [(scale * low, scale * high) for scale in (1, 100)]
    return next(number for number in (12, 7, 3, 25) if not any(_inside(number, span) for span in spoilt))


# --- figures ----------------------------------------------------------------------------------------
def _check_figure(asked: AskedFigure, text: str, tries: int) -> Verdict:
    found = _read(asked, text)
    if isinstance(found, Verdict):
        return found
    if _inside(found, asked.accepted()):
        return Verdict("right", f"Right. {asked.question.after}".strip(), workings=tuple(asked.workings()))
    fitting = fitting_slips(asked, found)
    if fitting:
        names = [slip.name for slip in fitting]
        told = " Or else: ".join(f"{slip.name}. {slip.help}" for slip in fitting)
        return Verdict("slip", f"Not yet. This looks like a slip: {told}", slip=names[0], slips=tuple(names))
    value = asked.value()
    if _inside(found, (value.low * (1 - NEAR), value.high * (1 + NEAR))):
        return Verdict("near", _near(asked, text, found))
    return _wrong(asked, tries, _how_far(found, value))


def fitting_slips(asked: AskedFigure, found: float) -> list[Slip]:
    """The slips that lead to ``found`` (SI), each name once: those of the question itself first, then what is gone everywhere.

    Whatever the sign: which of two is taken off the other is easily turned round, or dropped.
    """
    fitting = [slip for one in (found, -found) for slip in asked.question.slips if _inside(one, asked.accepted(slip))]
    fitting += [slip for slip, value in asked.usual if abs(abs(found) - value) <= USUAL * value]
    return list({slip.name: slip for slip in fitting}.values())[:MOST_TOLD]


def _how_far(found: float, value: Range) -> str:
    """How far off a wrong answer is, coarsely, and in which direction; nothing from which the answer could be worked out."""
    if found * value.likely <= 0:
        return (
            "Your figure is none that could come out here: nothing, or below nothing."
            if value.likely > 0
            else "Look at the sign."
        )
    ratio = abs(found) / (value.high if abs(found) > value.high else value.low)
    size = max(ratio, 1 / ratio)
    way = "large" if ratio > 1 else "small"
    for bound, words in (
        (1.25, "a little too"),
        (1.7, "by about half too"),
        (3, "about twice too"),
        (7, "several times too"),
        (30, "about ten times too"),
        (300, "about a hundred times too"),
    ):
        if size <= bound:
            return f"Your figure is {words} {way}."
    return f"Your figure is very much too {way}: look at the units first."


def _read(asked: AskedFigure, text: str) -> float | Verdict:
    """The answer in SI, or why it cannot be read as one."""
    try:
        return float(read(text, _free(asked), "your answer"))
    except InputProblem as problem:
        said = str(problem)
    said = said[0].upper() + said[1:]
    if _NUMBER.match(text) and asked.question.unit:
        return Verdict("no unit", f"A figure needs its unit: what is {text} measured in? {_how(asked)}")
    if any(_reads(text, kind) for kind in units.KINDS):  # a figure, if not of the kind asked for
        return Verdict("wrong unit", said)
    return Verdict("not a figure", f"{said} {_how(asked)}")


def _free(asked: AskedFigure) -> Kind:
    """The kind asked for, without its physical limits: an impossible answer is wrong, not unreadable."""
    kind = asked.kind
    return replace(kind.unlimited, example=f"{_example(asked)} {asked.question.unit}".rstrip())


def _reads(text: str, kind: Kind) -> bool:
    try:
        return math.isfinite(read(text, kind))
    except InputProblem:
        return False


def _inside(value: float, span: tuple[float, float]) -> bool:
    return span[0] <= value <= span[1]


def _near(asked: AskedFigure, text: str, found: float) -> str:
    """What to say to an answer that is close: rounded too hard, or lost on the way."""
    value = asked.value()
    if value.low < value.high:
        return "Close: this lies just outside the range in the table. Look at its ends again."
    leading = _LEADING.match(text)
    if leading and found:
        digits = len(leading[1].replace(".", "").strip("0")) or 1
        figure = float(leading[0])
        answer = value.likely / (found / figure)  # the right figure in the unit of the learner
        if math.isclose(_rounded(answer, digits), figure, rel_tol=1e-9):
            return "The right figure, but rounded too hard. Keep three figures that matter."
    return (
        "Close, but not near enough. Perhaps a figure was rounded on the way: keep four figures in between and round once, "
        "at the end."
    )


def _rounded(value: float, digits: int) -> float:
    return float(f"{value:.{digits - 1}e}")


# --- options ----------------------------------------------------------------------------------------
def _check_option(asked: Asked, text: str, tries: int) -> Verdict:
    place = _place(asked, text)
    if place is None:
        return Verdict("not a figure", f"{text!r} is none of the choices. {_how(asked)}")
    if place == asked.chosen():
        said = " ".join(part for part in ("Right.", asked.question.after, asked.why() + ".") if part)
        return Verdict("right", said, workings=tuple(asked.workings()))
    name, help_ = asked.reply(place)
    if name:
        return Verdict("slip", f"Not yet: {name}. {help_}", slip=name, slips=(name,))
    return _wrong(asked, tries)


def _place(asked: Asked, text: str) -> int | None:
    """Which option is meant: by its letter, or by its words."""
    wanted = text.casefold().rstrip(".)").strip()
    for place, option in enumerate(asked.options):
        if wanted in (LETTERS[place].casefold(), option.casefold()):
            return place
    fits = [place for place, option in enumerate(asked.options) if len(wanted) > 2 and wanted in option.casefold()]
    return fits[0] if len(fits) == 1 else None


# --- hints ------------------------------------------------------------------------------------------
def _wrong(asked: Asked, tries: int, far: str = "") -> Verdict:
    """A wrong answer without a name: how far off, and a hint that goes one step further with each try."""
    formulas = asked.formulas()
    said = " ".join(part for part in ("Not yet.", far, _read_again(asked)) if part)
    first = asked.question.hint
    if not first and formulas:
        first = "Write the formula down, each figure below it with its unit, and bring the units to one family before you reckon."
    if tries == 0 or not formulas:
        return Verdict("wrong", said, hint=first)
    if tries == 1:
        return Verdict("wrong", said, hint=f"{first} {_direction(formulas[-1])}".strip())
    other = ask_of(asked.question, asked.name, unlike=asked)
    return Verdict(
        "wrong",
        said,
        hint="Here is the same way of working on other numbers; do it with yours.",
        workings=tuple(other.workings()),
    )


def _read_again(asked: Asked) -> str:
    question = asked.question
    what = question.read or " and ".join(dict.fromkeys(formula.title for formula in asked.formulas()))
    return f"Read again in chapter {question.chapter}: {what}." if what else f"Read chapter {question.chapter} again."


def _direction(formula: Formula) -> str:
    """What a result rises and falls with, as the formula says of itself."""
    sides = [
        (verb, " and ".join("the " + name.replace("_", " ") for name in names))
        for verb, names in (("rises with", formula.rises_with), ("falls with", formula.falls_with))
        if names
    ]
    return f"The {formula.title} " + " and ".join(f"{verb} {names}" for verb, names in sides) + ". Does yours?" if sides else ""
