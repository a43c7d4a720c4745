"""The mentor's copy: every question of one learner with answer, working, and what each slip gives."""
from __future__ import annotations

import textwrap

from ...ranges import Range
from ...units import number, si_factor
from .asked import LETTERS, Asked, AskedDesign, AskedFigure, asked
from .data import RANGE, questions
from .draws import normalised

__all__ = ["answers_text"]

WIDTH = 110


def answers_text(chapter: str, name: str) -> str:
    """All questions of a chapter with the numbers of ``name``, as plain text for a mentor.

    Raises InputProblem for a chapter without exercises.
    """
    parts = [f"Answers to the exercises of chapter {chapter} with the numbers for {name.strip() or normalised(name)!r}.",
             "The same name gives the same numbers on every machine. Capitals, accents and surplus blanks make no difference."]
    parts += [_one(asked(id, name)) for id in questions(chapter)]
    return "\n\n".join(parts)


def _one(asked: Asked) -> str:
    question = asked.question
    lines = [f"--- {question.id} ({question.level}) ---", *_wrapped(asked.text)]
    if isinstance(asked, AskedFigure):
        lines.append(f"answer: {_figure(asked, asked.value())}, {_tolerance(asked)}")
        lines += _workings(asked)
        lines += [f"  slip, {slip.name}: {_figure(asked, asked.value(slip))}" for slip in question.slips]
    else:
        lines += [f"  {letter}  {option}" for letter, option in zip(LETTERS, asked.options)]
        lines += _wrapped(f"answer: {LETTERS[asked.chosen()]}. {asked.why()}")
        lines += _workings(asked)
        for place, letter in enumerate(LETTERS[:len(asked.options)]):
            slip = asked.reply(place)[0] if place != asked.chosen() else ""
            lines += [f"  slip, {slip}: {letter}"] if slip else []
        if isinstance(asked, AskedDesign):
            settled = ", ".join(f"{name.replace('_', ' ')} {text}" for name, text in asked.decisions.items())
            lines.append(f"  on the demo {question.design}, with {settled}")
    return "\n".join(lines)


def _wrapped(text: str) -> list[str]:
    return [line for piece in text.splitlines() for line in textwrap.wrap(piece, WIDTH) or [""]]


def _workings(asked: Asked) -> list[str]:
    return [textwrap.indent(str(working), "  ") for working in asked.workings()]


def _figure(asked: AskedFigure, value: Range) -> str:
    unit = asked.question.unit
    per_unit = si_factor(unit, asked.kind.sort) if unit else 1.0
    low, high = (number(end / per_unit, 4) for end in (value.low, value.high))
    return (f"{low} {unit}" if low == high else f"{low} to {high} {unit}").rstrip()


def _tolerance(asked: AskedFigure) -> str:
    tolerance, reason = asked.question.tolerance, asked.question.reason
    if tolerance == RANGE:
        return reason
    return f"taken within {f'{tolerance:.0%}'.replace('%', ' %') if isinstance(tolerance, float) else tolerance} ({reason})"
