"""The board drawn: for the notebook and the projector, as plain text, and as one printed page.

All that stands on it comes from ``design/asked/board.py``; here it is only set out.
"""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Mapping
from importlib.resources import files

from ...design.asked.board import GROUPS, LINES, Board, Line, Moved
from ...design.asked.way_through import Evening
from ...design.evaluation import Finding
from ...design.origins import DEMO, DRAFT, YOURS
from ..text.markup import escape, markup
from ..text.values import Paragraph
from .plain_text import how_sure, tally
from .views import verdict

#: findings that fail most, and letters of the learner's own words that find room on one screen and one sheet
_FAILING, _WORDS = 3, 64
#: groups in the left and in the right column
_COLUMNS = (GROUPS[:2], GROUPS[2:])


# --- sentences -----------------------------------------------------------------------------------------
def standing_sentence(board: Board) -> str:
    """Whose the decisions are, and how many findings press."""
    own = ", ".join(
        f"{count} {words}"
        for origin, words in ((YOURS, "yours"), (DRAFT, "drafted"), (DEMO, "still the demo’s"))
        if (count := board.counts[origin])
    )
    return f"Of {sum(board.counts.values())} decisions {own}. Findings: {tally([one for line in board.lines for one in line.findings])}."


def evening_sentence(evening: Evening) -> str:
    """Where the next evening is best spent, and why."""
    return f"The next evening is best spent on chapter {evening.chapter}, {evening.title}: {evening.why}."


def _words(line: Line) -> tuple[str, ...]:
    """The learner's own words where no figure speaks for the line; else nothing."""
    return () if line.figures else tuple(map(_short, line.words[:2]))


def _short(words: str) -> str:
    return textwrap.shorten(words, _WORDS, placeholder=" …")


def _mark(line: Line) -> str:
    """Mark of the worst verdict of a line, or of what holds; nothing where there is nothing to hold."""
    return line.worst.mark if line.worst else next((one.mark for one in line.findings if one.status == "holds"), "")


def _more(line: Line) -> str:
    pressing = sum(one.presses for one in line.findings)
    return f" (and {pressing - 1} more)" if pressing > 1 else ""


# --- notebook and projector ------------------------------------------------------------------------------
def board_markup(board: Board, lit: Mapping[str, Moved], picture: str) -> str:
    """The board for a screen; lines in ``lit`` light up with before and after, ``picture`` is an SVG."""
    style = files(__package__).joinpath("board.css").read_text("utf-8")
    columns = "".join(
        f'<div class="lcb-column">{"".join(_group(board, group, lit) for group in groups)}{_below(board, picture) if groups is _COLUMNS[0] else ""}</div>'
        for groups in _COLUMNS
    )
    return f'<style>{style}</style><div class="lcb">{_lit(lit)}<p class="lcb-head"><b>{escape(board.name)}</b> {escape(standing_sentence(board))}</p><div class="lcb-grid">{columns}</div></div>'


def _lit(lit: Mapping[str, Moved]) -> str:
    """Which lines move, read aloud."""
    titles = ", ".join(LINES[key].title.lower() for key in lit)
    return (
        f'<p class="lcb-moved" aria-live="polite"><b>{len(lit)} of {len(LINES)} lines move:</b> {escape(titles)}.</p>'
        if lit
        else ""
    )


def _group(board: Board, group: str, lit: Mapping[str, Moved]) -> str:
    return f"<h3>{escape(group)}</h3>" + "".join(_line(line, lit.get(line.rule.key)) for line in board.of(group))


def _line(line: Line, moved: Moved | None) -> str:
    says, figures = escape(line.says), "".join(_figure(one.label, one.shown, moved) for one in line.figures)
    if moved and moved.settled:
        says = "; ".join(f"{escape(label)} {_step(a, b)}" for label, a, b in moved.settled[:2])
    words = "".join(f"<q>{escape(said)}</q> " for said in _words(line))
    light = ' <span class="lcb-mark">◆ moves</span>' if moved else ""
    rows = (figures, words, _worst(line, moved))
    return (
        f'<section class="lcb-line{" lit" if moved else ""}" data-line="{line.rule.key}"><div><b>{_mark(line)} {escape(line.rule.title)}</b>{light} '
        f'<span class="lcb-set">{says}</span></div>{"".join(f"<div>{row}</div>" for row in rows if row)}</section>'
    )


def _figure(label: str, shown: str, moved: Moved | None) -> str:
    step = next(((a, b) for name, a, b in moved.figures if name == label), None) if moved else None
    return f'<span class="lcb-figure">{escape(label)} <b>{_step(*step) if step else escape(shown)}</b></span> '


def _step(before: str, after: str) -> str:
    return f"<s>{escape(before)}</s> → <mark>{escape(after)}</mark>"


def _worst(line: Line, moved: Moved | None) -> str:
    """The worst finding; before it those whose verdict turned."""
    turned = [
        f'<span class="{after.status}">{escape(after.label)}: {escape(verdict(before))} → <mark>{escape(verdict(after))}</mark></span>'
        for before, after in (moved.verdicts if moved else ())
    ][:2]
    if turned:
        more = len(moved.verdicts) - len(turned)
        return "; ".join(turned) + (f"; and {more} more turn" if more else "")
    if line.worst is None:
        return ""
    return (
        f'<span class="{line.worst.status}">{escape(verdict(line.worst))}</span> {escape(line.worst.label)}{escape(_more(line))}'
    )


def _below(board: Board, picture: str) -> str:
    return f'<div class="lcb-below"><div class="lcb-picture">{picture}</div><div><h3>what fails most</h3>{_failing(board)}</div></div>'


def _failing(board: Board) -> str:
    told = "".join(
        f'<li><span class="{one.status}">{escape(verdict(one))}</span> {escape(one.label)} <span class="dim">({one.chapter})</span></li>'
        for one in _worst_of(board)
    )
    return f"<ul>{told}</ul>" if told else "<p>Nothing fails and nothing is tight.</p>"


def _worst_of(board: Board) -> tuple[Finding, ...]:
    return board.pressing[:_FAILING]


# --- plain text ---------------------------------------------------------------------------------------------
def board_plain(board: Board, evening: Evening | None = None) -> str:
    """The board as plain text, a line each."""
    said = [f"{board.name}. {standing_sentence(board)}"]
    for group in GROUPS:
        said.append(group)
        for line in board.of(group):
            parts = [
                line.says,
                "; ".join(f"{one.label}: {one.shown}" for one in line.figures),
                "; ".join(f"“{one}”" for one in _words(line)),
                f"{verdict(line.worst)} {line.worst.label}{_more(line)}" if line.worst else "",
            ]
            said.append(f"  {_mark(line)} {line.rule.title}: ".replace("   ", "  ") + " | ".join(part for part in parts if part))
    said += ["what fails most", *(f"  {verdict(one)} {one.label}" for one in _worst_of(board))]
    return "\n".join([*said, *([evening_sentence(evening)] if evening else [])])


# --- one printed page -----------------------------------------------------------------------------------------
def sheet_markup(board: Board, drawing: tuple[str, float, str], evening: Evening, notes: Iterable[Paragraph] = ()) -> str:
    """The same board as one A4 page: lines in two columns, what fails most, the lathe to scale; ``notes`` stand under the title.

    ``drawing`` is an SVG, its width in mm, and what is said of its scale.
    """
    drawn, wide, scale = drawing
    columns = "".join(
        f"<div>{''.join(_sheet_group(board, group) for group in groups)}{_sheet_failing(board) if groups is _COLUMNS[0] else ''}</div>"
        for groups in _COLUMNS
    )
    return (
        f'<section class="sheet">\n<header>\n<p class="kicker">Design brief of a small lathe: the whole plan on one page</p>\n<h1>{escape(_short(board.name) or "A lathe without a name")}</h1>\n'
        + markup(notes)
        + f'<p>{escape(standing_sentence(board))} {escape(evening_sentence(evening))}</p>\n</header>\n<div class="columns">{columns}</div>\n'
        f'<div class="foot"><figure><h2>The lathe, drawn to scale</h2>\n<div class="figure" style="width:{wide:.1f}mm">{drawn}</div></figure>\n<p class="dim">{escape(scale)}</p></div>\n</section>'
    )


def _sheet_group(board: Board, group: str) -> str:
    return f"<h2>{escape(group[0].upper() + group[1:])}</h2>" + "".join(_sheet_line(line) for line in board.of(group))


def _sheet_line(line: Line) -> str:
    figures = "".join(f"<div><dt>{escape(one.label)}</dt><dd>{escape(one.shown)}</dd></div>" for one in line.figures)
    words = " ".join(f"“{escape(said)}”" for said in _words(line))
    worst = (
        f'<span class="verdict {line.worst.status}">{escape(verdict(line.worst))}</span> {escape(line.worst.label)}{_more(line)}'
        if line.worst
        else ""
    )
    rows = [
        f"<h3>{_mark(line)} {escape(line.rule.title)}</h3> <span>{escape(line.says)}</span>",
        f"<dl>{figures}</dl>" if figures else "",
        f"<p>{words}</p>" if words else "",
        f"<p>{worst}</p>" if worst else "",
    ]
    return '<div class="line">' + "\n".join(row for row in rows if row) + "</div>"


def _sheet_failing(board: Board) -> str:
    told = "".join(
        f'<li><span class="verdict {one.status}">{escape(verdict(one))}</span> <b>{escape(one.label)}.</b> {escape(one.sentence)} {escape(how_sure(one))}</li>'
        for one in _worst_of(board)
    )
    return f"<h2>What fails most</h2>{f'<ul>{told}</ul>' if told else '<p>Nothing fails and nothing is tight.</p>'}"
