"""Questions tried out before they are put to anybody: what is wrong with one, in sentences.

``trial(path)`` reads a file of questions and draws each for several names.  It tells what
``read_questions`` refuses, and what shows only with numbers: slips too near the answer or each
other, figures outside what a formula was made for, too few wrong ways that are recognised.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable
from pathlib import Path

from ....units import InputProblem
from .asked import APART, AskedFigure, _draw, ask_of, overlap
from .data import Question, read_questions

TRIAL_NAMES = tuple(f"trial {number}" for number in range(1, 9))
LEAST_WAYS = 5  # wrong ways that a computing question should know, its own and the usual ones together


def trial(path: Path) -> list[str]:
    """Everything that is wrong with a file of questions; empty if nothing is."""
    try:
        found = read_questions(path)
    except InputProblem as problem:
        return [sentence for _, sentence in problem.problems]
    return [f"Question {one.id}: {sentence}" for one in found for sentence in trouble(one)]


def trouble(question: Question, names: Iterable[str] = TRIAL_NAMES) -> list[str]:
    """What shows only once a question has numbers."""
    said: list[str] = []
    dead = list(question.also)  # ways that no number has shown yet
    for name in names:
        try:
            now = ask_of(question, name)
        except InputProblem:
            return [*said, *_why_not(question, name)]
        if isinstance(now, AskedFigure):
            said += [f"{sentence} Narrow the draws." for sentence in now.doubts()]
            known = [slip for slip, _ in now.usual]
            dead = [slip for slip in dead if slip not in known]
            ways = len(question.slips) + len({slip.name for slip, _ in now.usual})
            if question.work and question.level != "recall" and ways < LEAST_WAYS:
                said.append(f"only {ways} wrong ways are recognised with the numbers for {name!r}; {LEAST_WAYS} are wanted.")
    said += [
        f"the way {slip.name!r} comes to the answer, to another slip or to nothing with all numbers tried; take it out."
        for slip in dead
    ]
    return list(dict.fromkeys(said))


def _why_not(question: Question, name: str) -> list[str]:
    """Why no set of numbers will do: which slips lie too near the answer, or too near each other, and how often."""
    clashes: Counter[tuple[str, str]] = Counter()
    for attempt in range(60):
        now = _draw(question, name, f"trial|{attempt}")
        if isinstance(now, AskedFigure):
            spans = [("the answer", now.accepted(None, APART))] + [
                (f"the slip {s.name!r}", now.accepted(s, APART)) for s in question.slips
            ]
            clashes.update(("any figure", name) for name, span in spans if not all(map(math.isfinite, span)))
            clashes.update(
                (a, b) for place, (a, one) in enumerate(spans) for b, other in spans[place + 1 :] if overlap(one, other)
            )
    often = [
        f"{b} {'leads to no figure' if a == 'any figure' else f'lies too near {a}'} ({count} of 60 sets of numbers); draw other figures, or take a slip out."
        for (a, b), count in clashes.most_common(3)
    ]
    return often or ["no numbers were found that keep the right choice clear of the others; widen the draws."]


def template() -> str:
    """A question to begin with: a sound file with one entry and a remark beside every line."""
    return _TEMPLATE


_TEMPLATE = """\
# Questions of your own. Put this file into your working folder as my_questions.toml; it is read as data and runs nothing.
# lathe-course questions my_questions.toml    says what is wrong with it.

[[question]]
id = "05.own1"                                   # the chapter, a point, a name of your own
level = "use"                                    # recall, use or judge
text = "A pulley of {driving_diameter} at {speed} drives one of {driven_diameter}. How fast does that turn?"
formula = "driven_speed"                         # any formula of the course; the answer comes from it
unit = "rpm"                                     # the unit that is asked for; any other of its kind will do as well
draws = { speed = ["950 rpm", "1400 rpm"], driving_diameter = "30 to 60 by 5 mm", driven_diameter = "80 to 140 by 10 mm" }
slips = [
  { name = "the ratio upside down", help = "Does the larger pulley turn faster or slower?", do = "swap", input = "driving_diameter", other = "driven_diameter" },
]
"""
