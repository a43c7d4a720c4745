"""What was put in and cannot be used, in sentences."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Self

from .nearest import nearest_or_stop

#: signs that a terminal obeys, or that turn the direction of writing; a line end and a tab are harmless
_OBEYED = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069\ud800-\udfff]")
_LONG_WORD = re.compile(r"\S{241,}")
_LONG_SENTENCE = 4000


def visible(text: str) -> str:
    """``text`` with signs that a terminal would obey written out, as ``\\x1b`` for the sign that begins a command to it."""
    return _OBEYED.sub(lambda sign: f"\\x{ord(sign[0]):02x}" if ord(sign[0]) < 256 else f"\\u{ord(sign[0]):04x}", text)


def tellable(sentence: str) -> str:
    """A sentence in which what was put in is visible and, however long, takes no more than its place."""
    sentence = visible(sentence)
    sentence = _LONG_WORD.sub(lambda word: f"{word[0][:60]}…{word[0][-20:]} ({len(word[0])} signs)", sentence)
    return sentence if len(sentence) <= _LONG_SENTENCE else f"{sentence[:_LONG_SENTENCE]}…"


class InputProblem(ValueError):
    """One or more things wrong with what was put in, each as a sentence.

    ``problems`` is a list of ``(name, sentence)``.  In a notebook the sentences are
    shown alone, without the lines of code that led to them.  What was put in is told in them as
    it can be seen: no sign that a terminal obeys, and no more of it than a sentence holds.
    """

    def __init__(self, problems: list[tuple[str, str]], heading: str = ""):
        self.problems = [(name, tellable(sentence)) for name, sentence in problems]
        self.heading = heading = visible(heading)
        lines = [sentence for _, sentence in self.problems]
        if heading:
            lines = [heading, *("- " + line for line in lines)] if len(lines) > 1 else [f"{heading} {lines[0]}"]
        super().__init__("\n".join(lines))

    @classmethod
    def about(cls, name: str, sentence: str) -> Self:
        """The one thing that is wrong: ``name`` is what was put in."""
        return cls([(name, sentence)])

    def _render_traceback_(self) -> list[str]:  # IPython shows these lines in place of a traceback
        return str(self).split("\n")


def must_be_known(name: str, known: Iterable[str], what: str, asked: str = "", most: int = 3) -> None:
    """Nothing for a name that is known; else InputProblem about ``asked``, or the name itself, with the nearest names.

    >>> must_be_known("gib", ("nut", "gib"), "part")
    """
    if name not in (known := list(known)):
        raise InputProblem.about(asked or name, f"there is no {what} called {name!r}{nearest_or_stop(name, known, most)}")
