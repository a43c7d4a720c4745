"""What is said, as plain text: for the terminal, and as the twin of a page that is stored and read aloud."""

from __future__ import annotations

import itertools
import textwrap
from collections.abc import Iterable, Iterator
from typing import Any

from ...sources import cite
from ...working import Working, plain_equation
from .values import Block, Drawn, Fold, Heading, Link, List, Paragraph, Part, Run, Table, Terms, Verbatim, Words, Worked


def plain(blocks: Iterable[Block]) -> str:
    """Blocks below each other; what says nothing in words takes no line, and one table stands apart from the next."""
    told, before = [], None
    for one in blocks:
        if said := _block(one):
            told.append(f"\n{said}" if isinstance(one, Table) and isinstance(before, Table) else said)
            before = one
    return "\n".join(told)


def inline(words: Words) -> str:
    match words:
        case tuple():
            return "".join(map(inline, words))
        case Run(inside) | Link(inside):
            return inline(inside)
    return str(words)


def _block(one: Block) -> str:
    match one:
        case Paragraph(words) | Heading(words):
            return inline(words).rstrip()
        case List(items, ordered, _, first):
            return "\n".join(f"  {f'{at}.' if ordered else '-'} {inline(item)}" for at, item in enumerate(items, first))
        case Terms(items):
            return "\n".join(f"  {inline(term)}: {inline(said)}" for term, said in items)
        case Table():
            return _table(one)
        case Fold(summary, inside, told):
            return "\n".join(filter(None, (inline(summary), textwrap.indent(plain(inside), "  ") if told else "")))
        case Worked(working, words):
            return "\n".join([words, *(f"  {line}" for line in worked_lines(working))]) if words else str(working)
        case Verbatim(text):
            return text
        case Drawn():
            return ""
        case Part(_, inside):
            return plain(inside)
    raise TypeError(f"not a block: {one!r}")


def _table(one: Table) -> str:
    """Rows, then groups each under its title, all in the same columns.

    A cell of several lines has them below each other, and what a fold tells stands under its row.
    """
    rows = [*([one.head] if one.head else []), *one.rows, *(row for _, some in one.groups for row in some)]
    widths = [max(len(part) for row in rows for part in _said(row[at]).split("\n")) for at in range(len(rows[0]))] if rows else []

    def lines(some: Iterable[tuple[Any, ...]]) -> list[str]:
        return [line for row in some for line in _row(row, widths)]

    told = lines(rows[: len(rows) - sum(len(some) for _, some in one.groups)])
    for title, some in one.groups:
        told += [title, *lines(some)]
    return "\n".join(told)


def _said(cell: Any) -> str:
    return inline(cell.summary if isinstance(cell, Fold) else cell)


def _row(row: tuple[Any, ...], widths: list[int]) -> Iterator[str]:
    for parts in itertools.zip_longest(*(_said(cell).split("\n") for cell in row), fillvalue=""):
        yield "  ".join(part.ljust(width) for part, width in zip(parts, widths)).rstrip()
    for cell in row:
        if isinstance(cell, Fold) and cell.told:
            yield textwrap.indent(plain(cell.inside), "    ")


def worked_lines(one: Working) -> list[str]:
    """The equation of a working, the figures put in, the answer, and where it holds and is from."""
    return [
        *(plain_equation(line) for line in (one.symbols, one.numbers, one.answer)),
        f"Holds for: {one.formula.limits}. Source: {cite(one.formula.source)}.",
    ]
