"""What a cell shows: text that reads well everywhere, and widgets with a plain twin.

Stored outputs are compared word for word, so everything here has a short plain text that
depends on the design alone.
"""

from __future__ import annotations

import html
import itertools
from collections.abc import Callable, Iterable
from typing import Any

import ipywidgets as widgets

from ...design.asked.why import Account
from ...sources import cite
from ...units import InputProblem
from ...working import Working, plain_equation

__all__ = [
    "GRID",
    "Live",
    "LiveWorking",
    "Page",
    "Panel",
    "broad",
    "escape",
    "framed",
    "letters_and_sources",
    "not_kept",
    "paragraphs",
    "table_html",
    "table_text",
    "tabled",
    "worked_html",
    "worked_lines",
    "worked_table",
]

# the selectors are longer than they look to need: the page around sets the cells of a table to the right
# controls and tables in the size of the chapter's own letters, so that a wall shows all alike
STYLE = (
    "<style>body{--jp-widgets-font-size:14px}.lc{font-size:14px}.lc table{font-size:inherit;border-collapse:collapse;margin:.3em 0}"
    ".lc table tr>:not(.n){padding:.15em .9em .15em 0;text-align:left;vertical-align:top}"
    ".lc table tr>.n{padding:.15em .9em .15em 0;text-align:right;vertical-align:top;font-variant-numeric:tabular-nums;white-space:nowrap}"
    ".lc .w{font-weight:600;white-space:nowrap}.lc p{margin:.3em 0}"
    ".lc pre{white-space:pre-wrap;word-break:normal;overflow-wrap:break-word}.lc .fails{text-decoration:underline wavy}.lc .dim,.lc.dim{color:var(--dim,var(--jp-ui-font-color2,#555))}.lc{line-height:1.45}"
    # no bar under an output for the sake of a margin; what is truly wide, a table, moves within itself
    ".lc-panel,.lc-panel .widget-box,.lc-panel .widget-html{overflow:visible}.lc-panel .widget-box,.lc-panel .widget-html{min-width:0;max-width:100%}"
    ".jp-OutputArea-output:has(>.lc-panel){overflow:visible}.lc{overflow-x:auto}.lc summary{cursor:pointer}"
    # its words stand beside or above it already; a screen reader has them with the box
    ".lc-unseen>.widget-label{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%)}"
    ":has(>.lc>.lc-working){width:100%}.lc-working{container-type:inline-size}.lc-working mjx-container[display]{font-size:clamp(60%,2.6cqi,119%)!important}"
    "@media (max-width:900px){.lc.lc table tr>*{padding-right:.5em}.lc.lc table tr>.n{white-space:normal}}</style>"
)

# Controls beside the picture where there is room, one below the other where there is none: in ems of the page's own letters,
# and by the room of the output, not of the window, which knows nothing of a side bar.
GRID = (
    "<style>.lc-frame{container-type:inline-size;width:100%}"
    ".lc-play.lc-play{display:grid;gap:.2em 1.5em;grid-template:'controls' 'picture' 'figures'/minmax(0,1fr)}"
    ".lc-controls{grid-area:controls}.lc-picture{grid-area:picture}.lc-figures{grid-area:figures}"
    # a label stands above its slider, and the slider takes the room
    ".lc-control .widget-inline-hbox{flex-wrap:wrap;height:auto;width:100%;max-width:60em;margin-inline:0}"
    ".lc-control .widget-inline-hbox>.widget-label{width:100%;text-align:left;height:auto;line-height:1.4;white-space:normal}"
    ".lc-control .slider-container{padding-block:12px}.lc-control .widget-dropdown>select{width:100%}"
    # the figure itself stands beside the slider and may be typed; its label is for those who do not see where it stands
    ".lc-figure.lc-figure{display:grid;grid-template-columns:minmax(0,1fr) 6em;column-gap:.5em;align-items:end;max-width:60em}"
    ".lc-figure .lc-said{grid-column:1/-1}.lc-figure .lc-entry input{width:100%;text-align:right}"
    ".lc-form.lc-form{display:grid;gap:.2em 2em;grid-template-columns:minmax(0,1fr)}"
    "@container (min-width:54em){.lc-play.lc-play{grid-template:'controls picture' auto 'figures figures' auto/minmax(17em,30%) minmax(0,1fr)}"
    ".lc-picture{position:sticky;top:0;align-self:start}.lc-picture svg{max-height:calc(100vh - 150px)!important}"
    ".lc-form.lc-form{grid-template-columns:repeat(2,minmax(0,1fr))}}"
    "@container (min-width:80em){.lc-play.lc-play{grid-template:'controls picture' auto 'figures picture' 1fr/minmax(24em,32%) minmax(0,1fr)}}"
    "</style>"
)


def escape(text: Any) -> str:
    return html.escape(str(text), quote=False)


def framed(markup: str, live: bool = False, dim: bool = False) -> str:
    """Markup in the style of the course; ``live`` is read aloud when it changes, ``dim`` stands back."""
    spoken = ' aria-live="polite"' if live else ""
    return f'{STYLE}<div class="lc{" dim" if dim else ""}"{spoken}>{markup}</div>'


def not_kept(problem: InputProblem) -> str:
    """What is said when something could not be kept, each sentence on a line of its own."""
    return f"<p><b>Not kept.</b> {escape(problem)}</p>".replace("\n", "<br>")


class Panel:
    """A widget with a plain twin: shown as the widget, stored and read aloud as ``plain``."""

    def __init__(self, widget: widgets.Widget, plain: str):
        self.widget, self.plain = widget.add_class("lc-panel"), plain

    def _repr_mimebundle_(self, **options: Any) -> dict[str, Any]:
        bundle = self.widget._repr_mimebundle_(**options) or {}
        return {**bundle, "text/plain": self.plain}

    def __repr__(self) -> str:
        return self.plain


def broad(value: str = "") -> widgets.HTML:
    """A piece of a panel for text or a picture, as wide as its place and no wider than reads well."""
    return widgets.HTML(value, layout=widgets.Layout(width="100%", max_width="72em", margin="0"))


class Page:
    """A piece of text and tables, as HTML and as plain text.

    ``picture`` is markup that stands above them where the page is alive; it is never stored with a
    notebook, for how its lines are written is a matter of the library that draws.
    """

    def __init__(self, markup: str, plain: str, picture: str = ""):
        self.markup, self.plain, self.picture = markup, plain, picture

    def __add__(self, other: Page) -> Page:
        """One below the other."""
        return Page(self.markup + other.markup, "\n".join(filter(None, (self.plain, other.plain))), self.picture + other.picture)

    def _repr_html_(self) -> str:
        return framed(self.markup)

    def __repr__(self) -> str:
        return self.plain


def paragraphs(*lines: str) -> Page:
    """Sentences, each a paragraph; what is empty is left out."""
    lines = tuple(filter(None, lines))
    return Page("".join(f"<p>{escape(line)}</p>" for line in lines), "\n".join(lines))


def tabled(
    rows: list[tuple[Any, ...]],
    head: tuple[str, ...] = (),
    numeric: tuple[int, ...] = (),
    before: Iterable[str] = (),
    after: Iterable[str] = (),
) -> Page:
    """A table between sentences; ``numeric`` columns are set to the right."""
    return paragraphs(*before) + Page(table_html(rows, head, numeric), table_text(rows, head)) + paragraphs(*after)


class Live(Panel):
    """A page that is written anew whenever the design changes, so that no cell need be run again.

    ``write`` gives the page as the design stands; ``when_changed`` takes what to do after a
    change, and what to say at once where that takes long.
    """

    def __init__(self, write: Callable[[], Page], when_changed: Callable[..., None]):
        self.write = write
        super().__init__(broad(), "")
        self.refresh()
        when_changed(self.refresh, self.wait)

    def refresh(self) -> None:
        page = self.write()
        self.plain, self._stored, self.widget.value = page.plain, page._repr_html_(), framed(page.picture + page.markup)

    def wait(self) -> None:
        """Say that what stands here is of the design before, and is being written anew."""
        said = (
            "Your design has changed. This is worked out anew, and takes some seconds; until then it tells of the design before."
        )
        self.widget.value = framed(f"<p><b>{said}</b></p>") + self.widget.value

    def _repr_mimebundle_(self, **options: Any) -> dict[str, Any]:
        return {**super()._repr_mimebundle_(**options), "text/html": self._stored}  # for readers without widgets


class LiveWorking(Panel):
    """How a figure comes about, written anew whenever the design changes; ``write`` gives it as the design stands."""

    def __init__(self, write: Callable[[], Working | Account], when_changed: Callable[..., None]):
        self.write = write
        super().__init__(widgets.HTMLMath(layout=widgets.Layout(width="100%", max_width="72em", margin="0")), "")
        self.refresh()
        when_changed(self.refresh)

    def refresh(self) -> None:
        working = self.write()
        self.plain, self._markdown = str(working), working._repr_markdown_()
        self.widget.value = framed(_account_markup(working) if isinstance(working, Account) else _working_markup(working))

    def _repr_mimebundle_(self, **options: Any) -> dict[str, Any]:
        return {**super()._repr_mimebundle_(**options), "text/markdown": self._markdown}  # for readers without widgets


def _working_markup(working: Working) -> str:
    """A working as HTML with its formulas between dollars, for the page to typeset."""

    def row(symbol: str, meaning: str, figure: str) -> str:
        return f'<tr><td>{f"${escape(symbol)}$" if symbol else ""}</td><td>{escape(meaning)}</td><td class="n">{escape(figure)}</td></tr>'

    said = [f"<p>Mind: {escape(doubt)}</p>" for doubt in working.doubts]
    if working.formula.limits:
        said.append(f"<p><i>Holds for:</i> {escape(working.formula.limits)}.</p>")
    said.append(f"<p><i>Source:</i> {escape(cite(working.formula.source))}.</p>")
    return (
        f'<div class="lc-working"><p><b>{escape(working.summary)}</b></p>{escape(working.blackboard)}'
        f"<table>{''.join(row(*one) for one in working.table())}</table>{''.join(said)}</div>"
    )


def _account_markup(account: Account) -> str:
    return (
        f"<p><b>{escape(account.head)}</b></p>{table_html(list(account.fed.items()), ('It rests on', ''), (1,))}<p><i>{escape(account.grounds)}</i></p>"
        + "".join(map(_working_markup, account.workings))
    )


def table_html(rows: list[tuple[Any, ...]], head: tuple[str, ...] = (), numeric: tuple[int, ...] = ()) -> str:
    """A plain table; ``numeric`` columns are set to the right.  Cells are escaped."""

    def cell(index: int, text: Any) -> str:
        return f'<td class="n">{escape(text)}</td>' if index in numeric else f"<td>{escape(text)}</td>"

    def title(index: int, text: str) -> str:
        return f'<th scope="col"{" class=n" if index in numeric else ""}>{escape(text)}</th>' if text else "<td></td>"

    top = f"<tr>{''.join(title(i, h) for i, h in enumerate(head))}</tr>" if head else ""
    return f"<table>{top}{''.join('<tr>' + ''.join(cell(i, c) for i, c in enumerate(row)) + '</tr>' for row in rows)}</table>"


def table_text(rows: list[tuple[Any, ...]], head: tuple[str, ...] = ()) -> str:
    """The same as aligned plain text."""
    lines = [tuple(str(c) for c in row) for row in ([head] if head else []) + rows]
    if not lines:
        return ""
    widths = [max(len(line[i]) for line in lines) for i in range(len(lines[0]))]
    return "\n".join("  ".join(c.ljust(w) for c, w in zip(line, widths)).rstrip() for line in lines)


def worked_lines(one: Working) -> list[str]:
    """The equation of a working, the figures put in, the answer, and where it holds and is from."""
    return [
        *(plain_equation(line) for line in (one.symbols, one.numbers, one.answer)),
        f"Holds for: {one.formula.limits}. Source: {cite(one.formula.source)}.",
    ]


def worked_html(one: Working, words: str = "") -> str:
    """The same as markup under its own title or ``words``, with its letters: a page that lives has no formula typesetting."""
    *lines, grounds = worked_lines(one)
    letters = ", ".join(f"{plain_equation(symbol)} {meaning}" for symbol, meaning, _ in one.table())
    return f'<p><b>{escape(words or one.summary)}</b><br>{"<br>".join(map(escape, lines))}<br><span class="dim">{escape(letters)}. {escape(grounds)}</span></p>'


def letters_and_sources(workings: Iterable[Working]) -> tuple[str, str]:
    """What the letters of some workings are, with their figures, and where the formulas are from; each once."""
    workings = list(workings)
    letters = dict.fromkeys(
        f"{plain_equation(symbol)} {meaning} {figure}"
        for one in workings
        for symbol, meaning, figure in one.table()[:-1]
        if symbol
    )
    return (
        f"Letters: {'; '.join(letters)}.",
        f"Sources: {'; '.join(dict.fromkeys(cite(source) for one in workings for source in one.formula.source))}.",
    )


def worked_table(workings: Iterable[Working], head: str, said: str, heads: Iterable[str] = ()) -> Page:
    """Workings a line each: what it gives, its equation, and the figure it comes to; their letters with their figures and sources below.

    ``heads`` stand in the place of what each gives.
    """
    workings = list(workings)
    rows = []
    for one, title in itertools.zip_longest(workings, heads):
        *_, (_, meaning, figure) = one.table()
        rows.append((title or meaning, plain_equation(one.symbols), figure))
    letters, sources = letters_and_sources(workings)
    columns, told = (head, "equation", "figure"), f"{said} {letters}"
    return Page(
        f"<p>{escape(told)}</p>{table_html(rows, columns, (2,))}<p class=dim>{escape(sources)}</p>",
        f"{told}\n{table_text(rows, columns)}\n{sources}",
    )
