"""What is said to a reader, as plain values.

A page, the reply of a panel and a printed sheet are made of these and of nothing else.  ``markup`` sets them out for notebook and
paper, ``plain`` for the terminal and the twin that is stored and read aloud, ``printed/paper.py`` with the height each takes on paper.
Anything may stand as words: text, a figure, words that stand out, a link, or a row of these.  A line break in words is one.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from ...working import Working


@dataclass(frozen=True)
class Run:
    """Words that stand out from those around them: ``strong``, ``stress``, ``dim``, ``small``, or as the status of a finding has them."""

    words: Words
    how: str


@dataclass(frozen=True)
class Link:
    """Words that lead to an address; ``beside`` opens it beside what is read."""

    words: Words
    to: str
    beside: bool = False


Words = str | int | float | Run | Link | tuple["Words", ...]


def strong(*words: Words) -> Run:
    return Run(words, "strong")


def stress(*words: Words) -> Run:
    return Run(words, "stress")


def dim(*words: Words) -> Run:
    return Run(words, "dim")


def small(*words: Words) -> Run:
    return Run(words, "small")


@dataclass(frozen=True)
class Paragraph:
    """Sentences; ``kind`` is the style they have, such as ``dim`` or ``notice``."""

    words: Words
    kind: str = ""


@dataclass(frozen=True)
class Heading:
    """A heading; ``level`` from 1 for the title of a sheet to 4."""

    words: Words
    level: int = 2


@dataclass(frozen=True)
class List:
    """Items below each other; numbered from ``first`` where they are to be done in order."""

    items: tuple[Words, ...]
    ordered: bool = False
    kind: str = ""
    first: int = 1


@dataclass(frozen=True)
class Terms:
    """Terms with what is said of each; a term can be led to by the name it has in ``anchors``."""

    items: tuple[tuple[Words, Words], ...]
    anchors: tuple[str, ...] = ()


@dataclass(frozen=True)
class Table:
    """Rows below a head; a cell is words or a fold.

    ``kinds`` give columns, by number, a style: ``n`` for figures, ``w`` for a word that keeps to one line.  With ``row_heads`` the first
    column heads its rows.  ``groups`` are further rows, each group under its title.  ``kind`` is the style of the whole.
    """

    rows: tuple[tuple[Any, ...], ...]
    head: tuple[str, ...] = ()
    kinds: Mapping[int, str] = field(default_factory=dict)
    row_heads: bool = False
    groups: tuple[tuple[str, tuple[tuple[Any, ...], ...]], ...] = ()
    kind: str = ""


@dataclass(frozen=True)
class Fold:
    """What opens on a click on its summary.  Plain text has the summary alone, unless what is inside is ``told`` there as well."""

    summary: Words
    inside: tuple[Block, ...]
    told: bool = False
    opened: bool = False


@dataclass(frozen=True)
class Worked:
    """A formula with its figures put in, under ``words`` or its own title."""

    working: Working
    words: str = ""


@dataclass(frozen=True)
class Verbatim:
    """Text whose lines and spaces stay as they are."""

    text: str


@dataclass(frozen=True)
class Drawn:
    """Markup from a renderer of its own, a picture or the prose of a notebook; shown where the page is alive and on paper, never stored."""

    markup: str


@dataclass(frozen=True)
class Part:
    """Blocks that belong together: a ``sheet`` of paper, the ``head`` of one, or a place with a style called ``kind``."""

    kind: str
    inside: tuple[Block, ...]


Block = Paragraph | Heading | List | Terms | Table | Fold | Worked | Verbatim | Drawn | Part
