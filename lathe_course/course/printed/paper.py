"""Pieces of a printed page with the height each is given on paper, so that the sheets of a document are counted without looking at fonts.

Letters are taken as wide as those of a broad font, and the columns of a table get their widths here; a browser with a narrower
font leaves paper white, and none needs more.  Whatever a learner wrote goes through ``text`` and is shown as text.
"""

from __future__ import annotations

import html
import math
import textwrap
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from ..shown.panels import Page
from ..text.plain import inline, plain
from ..text.values import Block, Fold, List, Part, Table, Words, Worked

#: width and height of what can be printed on A4 between the margins of the style sheet, mm; the head of a table stands once more on its next sheet
WIDTH, SHEET, _HEAD_AGAIN = 180.0, 270.0, 8.5
#: height of a line and width of a letter, of text and of tables, mm, and how much broader a bold one is; the style sheet sets these heights in mm as well
_LINE, _LETTER, _ROW_LINE, _ROW_LETTER, _BOLD = 3.8, 1.62, 3.5, 1.52, 1.12
#: width of a letter of a word that stands alone in its column and must not be parted, mm: of the broadest, for there are few of them
_WORD_LETTER = 1.85
#: beside a cell, above and below it, above and below a paragraph, before an item of a list, of a heading, and of one below it
_GAP, _ROW_GAP, _BETWEEN, _INDENT, HEADING, SUBHEADING = 2.0, 1.2, 2.2, 6.0, 12.5, 8.5
#: lines of a cell or an item in the usual form: what is longer is cut
_MOST_LINES = 5
_ON_REQUEST = "stand in the whole brief (lathe-course brief --all)"


@dataclass(frozen=True)
class Piece:
    """Markup, and the heights of what cannot be parted in it, one below the other, mm."""

    markup: str = ""
    heights: tuple[float, ...] = ()

    @property
    def height(self) -> float:
        return sum(self.heights)


def text(words: object) -> str:
    """Anything as text that cannot be markup."""
    return html.escape(str(words), quote=True)


def joined(pieces: Iterable[Piece]) -> Piece:
    """Pieces one below the other; what is empty takes no place."""
    there = [piece for piece in pieces if piece.markup]
    return Piece("\n".join(piece.markup for piece in there), tuple(height for piece in there for height in piece.heights))


def sheets(pieces: Iterable[Piece]) -> int:
    """Sheets that hold the pieces, filled one after the other; lower ones never need more."""
    count, used = 0, math.inf
    for height in joined(pieces).heights:
        if used + height > SHEET - _HEAD_AGAIN:
            count, used = count + 1, 0.0
        used += height
    return count


def _lines(words: str, width: float, letter: float) -> int:
    """Lines that words take on ``width`` mm."""
    return max(1, len(textwrap.wrap(words, max(int(width / letter), 1))))


def _cut(words: object, width: float, letter: float, most: float = _MOST_LINES) -> str:
    """Words, cut to ``most`` lines; a line break cuts short by no more than a long word."""
    return (
        str(words)
        if math.isinf(most)
        else textwrap.shorten(str(words), int(most * 0.85 * max(int(width / letter), 8)), placeholder=" …")
    )


# --- pieces -------------------------------------------------------------------------------------------
def section(title: str, *pieces: Piece) -> Piece:
    """A heading and what stands below it; nothing where there is nothing to say."""
    inside = joined(pieces)
    return (
        _headed(f"<section>\n<h2>{text(title)}</h2>\n{inside.markup}\n</section>", HEADING, inside) if inside.markup else Piece()
    )


def subheading(title: str, piece: Piece) -> Piece:
    """A heading within a section, and what stands below it."""
    return _headed(f"<h3>{text(title)}</h3>\n{piece.markup}", SUBHEADING, piece) if piece.markup else Piece()


def _headed(markup: str, heading: float, piece: Piece) -> Piece:
    """A heading stays with the first of what stands below it."""
    return Piece(markup, (heading + piece.heights[0], *piece.heights[1:]))


def paragraph(*sentences: str) -> Piece:
    """Sentences as one paragraph; nothing for none."""
    said = " ".join(sentence for sentence in sentences if sentence)
    return Piece(f"<p>{text(said)}</p>", (_LINE * _lines(said, WIDTH, _LETTER) + _BETWEEN,)) if said else Piece()


def bullets(items: Iterable[object], room: float = math.inf) -> Piece:
    """A list of as many items as find place in ``room`` mm; the others are counted below."""
    items = [_cut(item, WIDTH - _INDENT, _LETTER, _MOST_LINES if room < math.inf else math.inf) for item in items]
    heights = [_LINE * _lines(item, WIDTH - _INDENT, _LETTER) + 0.6 for item in items]
    shown = _fitting(heights, room - _BETWEEN)
    if not shown:
        return Piece()
    listed = "".join(f"<li>{text(item)}</li>" for item in items[:shown])
    return joined((Piece(f"<ul>{listed}</ul>", (heights[0] + _BETWEEN, *heights[1:shown])), _left(len(items) - shown)))


def _fitting(heights: Sequence[float], room: float) -> int:
    """How many find place, with the line that counts the others."""
    if sum(heights) <= room:
        return len(heights)
    room -= _LINE + _BETWEEN
    taken = 0
    while taken < len(heights) and heights[taken] <= room:
        room -= heights[taken]
        taken += 1
    return taken


def _left(count: int) -> Piece:
    return paragraph(f"{count} more {_ON_REQUEST}.") if count else Piece()


def table(
    rows: Iterable[Sequence[object]],
    head: Sequence[str] = (),
    numeric: tuple[int, ...] = (),
    room: float = math.inf,
    widths: Sequence[float] = (),
    boxes: bool = False,
) -> Piece:
    """A table of as many rows as find place in ``room`` mm; the others are counted below it.

    ``widths`` are shares of the page; without them the columns share it by what they hold.  The first column heads the
    rows.  With ``boxes`` the rows are high enough to write in.
    """
    rows = [[str(cell) for cell in row] for row in rows]
    if not rows:
        return Piece()
    columns = (
        [share * WIDTH / sum(widths) for share in widths]
        if widths
        else _columns([[_bold(words) for words in head], *rows] if head else rows)
    )
    most = _MOST_LINES if room < math.inf else math.inf
    rows = [[_cut(cell, width - _GAP, _ROW_LETTER, most) for cell, width in zip(row, columns)] for row in rows]

    def height_of(row: Sequence[str]) -> float:
        return max(
            _ROW_LINE * max(_lines(cell, width - _GAP, _ROW_LETTER) for cell, width in zip(row, columns)) + _ROW_GAP,
            7.2 if boxes else 0,
        )

    heights, top = [height_of(row) for row in rows], (height_of([_bold(words) for words in head]) if head else 0.0) + _BETWEEN
    shown = _fitting(heights, room - top)
    if not shown:
        return Piece()
    body = "\n".join(
        "<tr>" + "".join(_cell(index, cell, index in numeric) for index, cell in enumerate(row)) + "</tr>" for row in rows[:shown]
    )
    titles = "".join(f'<th scope="col">{text(words)}</th>' if words else "<td></td>" for words in head)
    places = "".join(f'<col style="width:{100 * width / WIDTH:.1f}%">' for width in columns)
    markup = (
        f'<div class="scroll"><table class="laid{" boxes" if boxes else ""}"><colgroup>{places}</colgroup>'
        f"{f'<thead><tr>{titles}</tr></thead>' if head else ''}\n<tbody>\n{body}\n</tbody></table></div>"
    )
    return joined((Piece(markup, (top + heights[0], *heights[1:shown])), _left(len(rows) - shown)))


def _bold(words: str) -> str:
    """Words as long as they are when bold."""
    return " ".join(word + "m" * math.ceil(len(word) * (_BOLD - 1)) for word in words.split())


def _cell(index: int, words: str, figure: bool) -> str:
    return f'<th scope="row">{text(words)}</th>' if index == 0 else f"<td{' class=n' if figure else ''}>{text(words)}</td>"


def _columns(rows: Sequence[Sequence[str]]) -> list[float]:
    """Width of each column, mm: its longest word at least, and the rest of the page shared out by what each would like."""
    cells = list(zip(*rows))
    least = [_WORD_LETTER * max(len(word) for cell in column for word in cell.split() or [""]) + _GAP for column in cells]
    spare = WIDTH - sum(least)
    if spare <= 0:
        return [WIDTH * one / sum(least) for one in least]
    # long texts break over lines all the same, so they ask by the root of what is longer than a word
    asks = [math.sqrt(max(_ROW_LETTER * max(map(len, column)) + _GAP - one, 0.0)) + 0.1 for column, one in zip(cells, least)]
    return [one + spare * ask / sum(asks) for one, ask in zip(least, asks)]


# --- a page of a chapter ---------------------------------------------------------------------------------
def _read(blocks: Iterable[Block]) -> Iterator[str | Table]:
    """Paragraphs and tables in their order; what is folded is unfolded, for paper does not unfold."""
    for one in blocks:
        match one:
            case Table():
                yield one
            case List(items):
                yield from map(_flat, items)
            case Fold(summary, inside):
                yield _flat(summary)
                yield from _read(inside)
            case Part(_, inside):
                yield from _read(inside)
            case Worked():
                title, *lines = plain((one,)).splitlines()
                yield f"{title} {'; '.join(filter(None, map(str.strip, lines)))}"
            case _:
                yield " ".join(plain((one,)).split())


def _flat(words: Words | Fold) -> str:
    """Words in one line; a fold with what is inside."""
    said = f"{inline(words.summary)}: {' '.join(_read(words.inside))}" if isinstance(words, Fold) else inline(words)
    return " ".join(said.split())


def of_page(page: Page, room: float = math.inf, paragraphs: bool = True, tables: bool = True) -> Piece:
    """A page of a chapter laid out for paper, or its tables or paragraphs alone; what finds no place in ``room`` mm is left out."""
    pieces: list[Piece] = []
    for one in _read(page.blocks):
        left = room - joined(pieces).height
        if isinstance(one, Table):
            rows = [[_flat(cell) for cell in row] for row in one.rows]
            pieces.append(table(rows, one.head, room=left) if tables else Piece())
        elif paragraphs and one and (said := paragraph(one)).height <= left:
            pieces.append(said)
    return joined(pieces)
