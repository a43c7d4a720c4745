"""Exercises: questions as data, numbers from the learner's name, answers told apart by their slip.

``asked("03.2", name)`` puts one question to one learner; ``check(asked, "239 rpm")`` says how the
answer stands; ``answers_text("03", name)`` is the mentor's copy.  Nothing here knows Jupyter;
the sheet a learner works on is in ``questions_view``.
"""

from .asked import Asked, AskedCases, AskedChanges, AskedDesign, AskedFigure, ask_of, asked
from .check import Verdict, check
from .data import LEVELS, Question, Slip, chapters, own_path, own_trouble, question, questions
from .draws import normalised
from .mentor import answers_table, answers_text, tries_text

__all__ = [
    "LEVELS",
    "Asked",
    "AskedCases",
    "AskedChanges",
    "AskedDesign",
    "AskedFigure",
    "Question",
    "Slip",
    "Verdict",
    "answers_table",
    "answers_text",
    "ask_of",
    "asked",
    "chapters",
    "check",
    "normalised",
    "own_path",
    "own_trouble",
    "question",
    "questions",
    "tries_text",
]
