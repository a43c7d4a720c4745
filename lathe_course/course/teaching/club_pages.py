"""Paper of a club evening: what everybody gets beforehand, what each group takes home, and the wall."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path

from ...design.chain.luck import DRAWS
from ...design.design import Design
from ...design.draft.wish import ANSWERS, GROUPS
from ...design.evaluation import evaluate
from ...units import InputProblem
from ..folder.workspace import design_path
from ..printed.board_sheet import write_board
from ..printed.brief_front import front
from ..printed.document import document, style_sheet, write_document
from ..shown.glossary import means
from ..text.markup import markup
from ..text.values import Drawn, Heading, List, Paragraph, Part, Table, dim, strong
from .side_by_side import write_compare

HAND_OUT, WALL, TAKE_HOME = "club_hand_out.html", "club_wall.html", "club_take_home_{}.html"
#: words that are needed before anything is explained
_WORDS = {
    **{word: means(word) for word in ("centre height", "between centres", "spindle", "cross-slide", "stiffness")},
    "finding": "a figure held against a limit: it holds, is tight, or fails",
    "draft": "a whole lathe proposed from your answers; what you decide yourself stays",
}
_CAUTION = (
    "Nobody stands at a machine on this evening, and what is drawn up is no licence to build or to run one. Mains are for licensed electricians, what a floor "
    "bears is told by its owner or somebody who knows floors, and local rules come before every line."
)


def folder() -> Path:
    """Where the pages are written: beside the design file of the working folder. InputProblem outside of one."""
    own = design_path()
    if own is None:
        raise InputProblem.about(
            "folder",
            "There is no working folder here, so nothing was written. In a working folder the pages are written beside your design file.",
        )
    return own.parent


def hand_out_html(rows: Sequence[tuple[str, str, str]], roles: dict[str, str], shown: Design) -> str:
    """Three pages for everybody a week before: what to find out at home, with room to write; run sheet, roles and words; and the board of ``shown``, to have seen one.

    ``rows`` are the run sheet: begins, takes, what.
    """
    asked = tuple(
        (
            f"{number} {title}",
            tuple(
                ((one.question, " ", dim(f"(such as: {one.example})")), "")
                for one in ANSWERS.values()
                if one.group == group and one.control != "weight"
            ),
        )
        for number, (group, title) in enumerate(GROUPS.items(), 1)
    )
    style = style_sheet("brief") + (
        ".hand-out { break-after: page; } .hand-out h2 { margin: .8em 0 .2em; } .asked table { width: 100%; font-size: .78rem; }"
        ".asked th, .asked td { vertical-align: top; } .asked td:last-child { width: 30%; height: 1.9em; }"
    )
    pages = (
        Part(
            "hand-out",
            (
                Paragraph("A club evening: a small lathe of our own", "kicker"),
                Heading("What to look up beforehand", 1),
                Paragraph(
                    "In an evening each group drafts a whole lathe from a dozen answers, and mends it when something happens. "
                    "Write down what you know; “I do not know yet” is an answer too. "
                    "The last page is the plan of an invented lathe, as yours will look."
                ),
                Heading("A dozen answers, in pencil"),
                Table((), groups=asked, kind="asked"),
            ),
        ),
        Part(
            "hand-out",
            (
                Heading("The evening", 1),
                Heading("How it goes"),
                run_sheet(rows),
                Heading("Who does what"),
                named(roles),
                Heading("Words"),
                named({f"{word}:": means for word, means in _WORDS.items()}),
                Paragraph(_CAUTION, "notice"),
            ),
        ),
        Drawn(front(evaluate(shown, DRAWS))),
    )
    return document("A club evening: what to look up beforehand", style, markup(pages, paper=True))


def run_sheet(rows: Sequence[tuple[str, str, str]]) -> Table:
    """When each part of the evening begins, how long it takes, and what it is."""
    return Table(tuple(rows), ("begins", "takes", "what"), row_heads=True)


def named(told: Mapping[str, str]) -> List:
    """Names with what is said of each."""
    return List(tuple((strong(name), f" {said}") for name, said in told.items()))


def write_hand_out(markup: str) -> Path:
    """Write the hand-out into the working folder; InputProblem with a sentence if it cannot be written."""
    return write_document(markup, folder() / HAND_OUT, "hand-out", "The hand-out was", "")


def write_wall(designs: Sequence[Design], names: Sequence[str]) -> Path:
    """Write the wall as one page into the working folder."""
    return write_compare(designs, names, folder() / WALL)


def write_take_home(designs: Sequence[Design], names: Sequence[str]) -> list[Path]:
    """Write one page for each group into the working folder: its board under the group's own name, on one sheet."""
    where = folder()
    return [
        write_board(replace(design, name=name), where / TAKE_HOME.format(re.sub(r"[^\w-]+", "_", name).strip("_") or "group"))
        for name, design in zip(names, designs, strict=True)
    ]
