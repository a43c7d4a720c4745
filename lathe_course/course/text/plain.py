"""What is said, as plain text: for the terminal, and as the twin of a page that is stored and read aloud."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable
from typing import Any

from ...sources import cite
from ...working import Working, plain_equation
from .values import Block, Drawn, Fold, Heading, Link, List, Paragraph, Part, Run, Table, Terms, Verbatim, Words, Worked

__all__ = ["aligned", "inline", "plain", "worked_lines"]


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
    pieces = [aligned(one.rows, one.head)] if one.rows or not one.groups else []
    for title, rows in one.groups:
        pieces += [title, aligned(rows, one.head if not pieces else ())]
    return "\n".join(filter(None, pieces))


def aligned(rows: Iterable[tuple[Any, ...]], head: tuple[str, ...] = ()) -> str:
    """Rows with their columns below each other; a cell of several lines has them below each other, and what a fold tells stands under its row."""
    lines = [
        (tuple(inline(c.summary if isinstance(c, Fold) else c) for c in row), row)
        for row in ([head] if head else []) + list(rows)
    ]
    if not lines:
        return ""
    widths = [max(len(part) for line, _ in lines for part in line[at].split("\n")) for at in range(len(lines[0][0]))]
    told = []
    for line, row in lines:
        cells = [cell.split("\n") for cell in line]
        for at in range(max(map(len, cells))):
            parts = (cell[at] if at < len(cell) else "" for cell in cells)
            told.append("  ".join(part.ljust(width) for part, width in zip(parts, widths)).rstrip())
        told += (textwrap.indent(plain(c.inside), "    ") for c in row if isinstance(c, Fold) and c.told)
    return "\n".join(told)


def worked_lines(one: Working) -> list[str]:
    """The equation of a working, the figures put in, the answer, and where it holds and is from."""
    return [
        *(plain_equation(line) for line in (one.symbols, one.numbers, one.answer)),
        f"Holds for: {one.formula.limits}. Source: {cite(one.formula.source)}.",
    ]
