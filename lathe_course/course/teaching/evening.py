"""One printed sheet for a mentor's evening with an apprentice: goal, what to bring, three questions, the machine, what to listen for.

What is done at a machine and where apprentices slip come from the chapter's own note for the
mentor, so that they are written once; the questions have the apprentice's numbers.
"""

from __future__ import annotations

import json
import os
import re
import tomllib
from collections.abc import Iterable, Sequence
from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING

from ...design.lathe import CHAPTERS
from ...units import InputProblem
from ..folder.workspace import material
from ..printed.document import document, style_sheet, web_page, write_document
from ..printed.prose import prose
from ..text.markup import markup
from ..text.values import Block, Drawn, Heading, List, Paragraph, Verbatim, Words, small, strong
from .questions import LEVELS, answers_table, asked, chapters, questions
from .questions.asked import LETTERS

if TYPE_CHECKING:
    from .questions.behind import Behind

#: minutes of a lesson -> how it goes, with minutes for each part
LESSONS: dict[int, tuple[tuple[str, int], ...]] = {
    45: (
        ("the goal, and a guess before anything is opened", 5),
        ("the three questions, each first alone", 15),
        ("the first task at the machine or bench", 20),
        ("what was heard: one slip each, and what to try at home", 5),
    ),
    90: (
        ("the goal, and a guess before anything is opened", 5),
        ("the chapter on the own design: what it says, what one change moves", 25),
        ("the three questions, each first alone", 20),
        ("the tasks at the machine or bench", 30),
        ("a decision with its reason, written down", 5),
        ("what was heard: one slip each, and what to try at home", 5),
    ),
}
_BEGINS = re.compile(r"(Plug drawn( first| at the lathe)?[.:]|Running: glasses on, guard shut)")
_HEADED = re.compile(r"\s*\*\*(?P<head>.+?)\*\*\s*(?P<words>.*)", re.DOTALL)
_NO_TASK = ("Where ", "Limits", "More figures", "For ", "A club", "The sheet")


def _note(chapter: str) -> list[tuple[str, str]]:
    """Heading and words of each paragraph of a chapter's note for the mentor."""
    [path] = sorted(material("notebooks").glob(f"{chapter}_*.ipynb"))
    cells = json.loads(path.read_text(encoding="utf-8"))["cells"]
    folds = "\n\n".join(
        "".join(cell["source"]) for cell in cells if cell["cell_type"] == "markdown" and "<details>" in "".join(cell["source"])
    )
    found = (_HEADED.match(paragraph) for paragraph in re.split(r"\n\s*\n", folds))
    return [(one["head"].rstrip("."), " ".join(one["words"].replace("</details>", "").split())) for one in found if one]


def _caution(chapter: str) -> str:
    [path] = sorted(material("notebooks").glob(f"{chapter}_*.ipynb"))
    text = "\n".join("".join(cell["source"]) for cell in json.loads(path.read_text(encoding="utf-8"))["cells"])
    return " ".join(text.partition("## Caution")[2].partition("\n#")[0].partition("<details>")[0].split())


def tasks_at_a_machine(chapter: str) -> list[tuple[str, str]]:
    """What is done with the hands: each begins with the plug or with who stands at the stop; at the bench alone where there is no machine in it."""
    told = [(head, words) for head, words in _note(chapter) if not head.startswith(_NO_TASK)]
    return [(head, words) for head, words in told if _BEGINS.match(words)] or told[:1]


def _three(chapter: str) -> list[str]:
    """One question of each level: the first of it that asks for more than a look at a table, where there is one."""
    found = questions(chapter)
    by = {level: [id for id, one in found.items() if one.level == level] for level in LEVELS}
    return [ids[0] for ids in by.values() if ids]


def evening_html(chapter: str, names: Iterable[str], minutes: int = 90, behind: Sequence[Behind | None] = ()) -> str:
    """The sheet for a chapter as one HTML document; ``behind`` has the apprentices' own designs, in the order of their names.

    InputProblem for a chapter without exercises or another length.
    """
    names = list(names)
    behind = list(behind) or [None] * len(names)
    if minutes not in LESSONS:
        raise InputProblem.about("minutes", f"A sheet is made for {' or '.join(map(str, LESSONS))} minutes, not for {minutes}.")
    if chapter not in chapters():
        questions(chapter)  # says which there are
    told = tomllib.loads(files(__package__).joinpath("evenings.toml").read_text("utf-8"))[chapter]
    tasks = tasks_at_a_machine(chapter)
    listen = [words for head, words in _note(chapter) if head.startswith("Where apprentices slip")]
    asked_ids = _three(chapter)

    put = []
    for name, own in zip(names, behind, strict=True):
        put += [Heading(name, 3), List(tuple(_put(id, name, own) for id in asked_ids), ordered=True)]
    answers = answers_table(chapter, names, asked_ids, behind)
    hands = tasks if minutes > 45 else tasks[:1]
    parts = (
        Heading(f"An evening on chapter {chapter}, {CHAPTERS.get(chapter, '')}: {minutes} minutes", 1),
        Paragraph((strong("Goal."), f" {told['goal']}")),
        Paragraph((strong("Bring."), f" {told['bring']}")),
        Heading("How it goes"),
        List(tuple(f"{length} min: {what}" for what, length in LESSONS[minutes])),
        Heading("Three questions"),
        *put,
        *_said_so_far(chapter, names, behind),
        Heading("With the hands"),
        *(Drawn(prose(f"**{head}.** {words}")) for head, words in hands),
        Heading("What to listen for"),
        *(Drawn(prose(words)) for words in listen),
        Heading("For the young"),
        Paragraph(
            f"Only the adult: {told['adult'][0].lower() + told['adult'][1:]} Glasses and tied hair for everybody, "
            "whoever only looks as well; local rules on young people at machines come first."
        ),
        Heading("Caution"),
        Drawn(prose(_caution(chapter))),
        Heading("Answers, to fold away"),
        Verbatim(answers),
    )
    return document(f"Evening on chapter {chapter}", style_sheet("brief"), markup(parts, paper=True))


def _said_so_far(chapter: str, names: Sequence[str], behind: Sequence[Behind | None]) -> list[Block]:
    """The apprentices' decisions of the chapter on which somebody has remarked, as they stand, with those remarks."""
    told: list[Block] = []
    for name, own in zip(names, behind):
        rows = [
            (design.chain.decisions[one].label, own.evaluation.shown(one), said)
            for design in ([own.design] if own else [])
            for one, decision in design.chain.decisions.items()
            if decision.chapter == chapter
            for said in design.remarks_on(one)
        ]
        if rows:
            items = tuple((f"{label}: ", strong(value), f"\n{said}") for label, value, said in rows)
            told += [Heading(name, 3), List(items)]
    return [Heading("Said of their decisions so far"), *told] if told else []


def _put(id: str, name: str, behind: Behind | None) -> Words:
    now = asked(id, name, behind=behind)
    options = "".join(f"\n{letter}: {option}" for letter, option in zip(LETTERS, now.options))
    return (now.text, *(("\n", small(now.note)) if now.note else ()), options)


def write_evening(
    chapter: str, names: Iterable[str], minutes: int, path: str | os.PathLike[str], behind: Sequence[Behind | None] = ()
) -> Path:
    """Write the sheet. Returns the path; InputProblem with a sentence if it cannot be written there."""
    path = web_page(path, "to", "sheet", "evening")
    return write_document(evening_html(chapter, names, minutes, behind), path, "to", "The sheet was")
