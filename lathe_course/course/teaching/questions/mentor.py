"""The mentor's copy: every question of one learner with answer, working, and what each slip gives."""

from __future__ import annotations

import textwrap
from collections import Counter
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from ....ranges import Range
from ....units import InputProblem, number, si_factor
from .asked import LETTERS, Asked, AskedDesign, AskedFigure, asked
from .data import RANGE, question, questions
from .draws import normalised
from .tries import read_tries, standing

if TYPE_CHECKING:
    from .behind import Behind

WIDTH = 110
_LEAVES_OPEN = "The learner's own design may give the figures of these, and then not those told here; name it with --design, once for each name: {}."


def answers_text(chapter: str, name: str, behind: Behind | None = None) -> str:
    """All questions of a chapter with the numbers of ``name``, as plain text for a mentor; ``behind`` is that learner's own design.

    Raises InputProblem for a chapter without exercises.
    """
    parts = [
        f"Answers to the exercises of chapter {chapter} with the numbers for {name.strip() or normalised(name)!r}.",
        "The same name gives the same numbers on every machine. Capitals, accents and surplus blanks make no difference.",
    ]
    parts += [_one(asked(id, name, behind=behind)) for id in questions(chapter)]
    return "\n\n".join(parts)


def answers_table(chapter: str, names: Sequence[str], ids: Sequence[str] = (), behind: Sequence[Behind | None] = ()) -> str:
    """The answers alone, a line a question (of ``ids``, or all) and a column a name; what a mentor holds while walking round.

    ``behind`` has the learners' own designs, in the order of their names.

    Raises InputProblem for a chapter without exercises.
    """
    people = [name.strip() or normalised(name) for name in names]
    designs = behind or [None] * len(people)
    ids = list(ids or questions(chapter))
    rows = [[id, *(_short(asked(id, name, behind=own)) for name, own in zip(names, designs, strict=True))] for id in ids]
    open_ones = [id for id in ids if question(id).own] if None in designs else []
    said = f" {_LEAVES_OPEN.format(', '.join(open_ones))}" if open_ones else ""
    return f"Answers to the exercises of chapter {chapter}.{said}\n" + _columns(["", *people], rows)


def _short(asked: Asked) -> str:
    if not isinstance(asked, AskedFigure):
        return LETTERS[asked.chosen()]
    return _figure(asked, asked.value(), 3)


def _columns(head: Sequence[str], rows: Sequence[Sequence[str]]) -> str:
    widths = [max(len(row[place]) for row in (head, *rows)) for place in range(len(head))]
    return "\n".join("  ".join(cell.ljust(width) for cell, width in zip(row, widths)).rstrip() for row in (head, *rows))


def tries_text(path: Path) -> str:
    """What a handed-over file of tries tells: for each name the chapters, and the slips by name.

    Raises InputProblem if there are no tries to read.
    """
    tries, said = read_tries(path)
    if not tries:
        raise InputProblem([("file", sentence) for sentence in said] or [("file", f"There are no tries in {path}.")])
    parts = []
    for person in dict.fromkeys(normalised(one.name) for one in tries):
        ids = sorted({one.question for one in tries if normalised(one.name) == person})
        found = standing(tries, person, ids)
        wrote = {one.question: one.given for one in tries if normalised(one.name) == person and one.stands in ("wrong", "near")}
        rows = [
            [
                id,
                "right" if one.right else "not yet",
                str(one.tries),
                "; ".join(dict.fromkeys(one.slips)) or (f"none known; wrote {wrote[id]!r}" if id in wrote else ""),
            ]
            for id, one in found.items()
        ]
        often = Counter(slip for one in found.values() for slip in one.slips)
        name = next(one.name for one in tries if normalised(one.name) == person)
        again = [f"  {slip}: {count} times" for slip, count in often.most_common() if count > 1]
        parts.append(
            "\n".join(
                [
                    f"{name}: {sum(bool(one.right) for one in found.values())} of {len(found)} tried are right",
                    *textwrap.indent(_columns(["question", "stands", "tries", "slips"], rows), "  ").splitlines(),
                    *(["  more than once:", *again] if again else []),
                ]
            )
        )
    return "\n\n".join([*parts, *said])


def _one(asked: Asked) -> str:
    question = asked.question
    lines = [f"--- {question.id} ({question.level}) ---", *_wrapped(asked.text)]
    if question.own:
        lines += _wrapped(f"({asked.note or _LEAVES_OPEN.format(question.id)})")
    if isinstance(asked, AskedFigure):
        lines.append(f"answer: {_figure(asked, asked.value())}, {_tolerance(asked)}")
        lines += _workings(asked)
        lines += [f"  slip, {slip.name}: {_figure(asked, asked.value(slip))}" for slip in question.slips]
    else:
        lines += [f"  {letter}  {option}" for letter, option in zip(LETTERS, asked.options)]
        lines += _wrapped(f"answer: {LETTERS[asked.chosen()]}. {asked.why()}")
        lines += _workings(asked)
        for place, letter in enumerate(LETTERS[: len(asked.options)]):
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


def _figure(asked: AskedFigure, value: Range, digits: int = 4) -> str:
    unit = asked.question.unit
    if not unit and asked.kind.unit == "%" and value.high < 10:  # per cent written as a plain number stay one
        low, high = (number(end * 100, digits) for end in (value.low, value.high))
        return f"{low} %" if low == high else f"{low} to {high} %"
    per_unit = si_factor(unit, asked.kind.sort) if unit else 1.0
    low, high = (number(end / per_unit, digits) for end in (value.low, value.high))
    return (f"{low} {unit}" if low == high else f"{low} to {high} {unit}").rstrip()


def _tolerance(asked: AskedFigure) -> str:
    tolerance, reason = asked.question.tolerance, asked.question.reason
    if tolerance == RANGE:
        return reason
    return f"taken within {f'{tolerance:.0%}'.replace('%', ' %') if isinstance(tolerance, float) else tolerance} ({reason})"
