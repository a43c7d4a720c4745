"""What is said, as HTML: for a notebook, and for paper."""

from __future__ import annotations

import html
from collections.abc import Iterable
from typing import Any

from ...sources import cite
from ...working import Working
from .values import Block, Drawn, Fold, Heading, Link, List, Paragraph, Part, Run, Table, Terms, Verbatim, Words, Worked

# the selectors are longer than they look to need: the page around sets the cells of a table to the right
# controls and tables in the size of the chapter's own letters, so that a wall shows all alike
STYLE = (
    "<style>body{--jp-widgets-font-size:14px}.lc{font-size:14px}.lc table{font-size:inherit;border-collapse:collapse;margin:.3em 0}"
    ".lc table tr>:not(.n){padding:.15em .9em .15em 0;text-align:left;vertical-align:top}"
    ".lc table tr>.n{padding:.15em .9em .15em 0;text-align:right;vertical-align:top;font-variant-numeric:tabular-nums}.lc table tr>td.n{white-space:nowrap}"
    ".lc .w{font-weight:600;white-space:nowrap}.lc p{margin:.3em 0}"
    ".lc .clock{font-size:2.5rem;line-height:1.2}.lc .card{font-size:1.2rem}.lc .card .title{font-size:1.5rem}.lc .card .effect{margin-left:1.5em}"
    ".lc details>details,.lc-why{margin-left:1.2em}.lc-source{color:var(--dim,var(--jp-ui-font-color2,#555))}"
    ".lc pre{white-space:pre-wrap;word-break:normal;overflow-wrap:break-word}.lc .fails{text-decoration:underline wavy}.lc .dim,.lc.dim{color:var(--dim,var(--jp-ui-font-color2,#555))}.lc{line-height:1.45}"
    # no bar under an output for the sake of a margin; what is truly wide, a table, moves within itself
    ".lc-panel,.lc-panel .widget-box,.lc-panel .widget-html{overflow:visible}.lc-panel .widget-box,.lc-panel .widget-html,.lc-panel .widget-html-content,.lc-panel>.widget-html-content{min-width:0;max-width:100%}"
    ".jp-OutputArea-output:has(>.lc-panel){overflow:visible;min-width:0}.lc{overflow-x:auto}.lc summary{cursor:pointer}"
    # its words stand beside or above it already; a screen reader has them with the box
    ".lc-unseen>.widget-label{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%)}"
    ".lc-tick:not(:has(:checked))>.widget-text{visibility:hidden}.lc-panel .jupyter-widget-Collapse-header,.lc-panel .lm-AccordionPanel-title{font-size:14px}"
    ":has(>.lc>.lc-working){width:100%}.lc-working{container-type:inline-size}.lc-working mjx-container[display]{font-size:clamp(60%,2.6cqi,119%)!important}"
    "@media (max-width:900px){.lc.lc table tr>*{padding-right:.5em}.lc.lc table tr>.n{white-space:normal}}</style>"
)

# Controls beside the picture where there is room, one below the other where there is none: in ems of the page's own letters,
# and by the room of the output, not of the window, which knows nothing of a side bar.
GRID = (
    "<style>.lc-frame{container-type:inline-size;width:100%}"
    ".lc-play.lc-play{display:grid;gap:.2em 1.5em;grid-template:'controls' 'picture' 'figures'/minmax(0,1fr)}"
    ".lc-controls{grid-area:controls}.lc-picture{grid-area:picture}.lc-figures{grid-area:figures}"
    # a picture without controls takes the width there is
    ".lc-plain.lc-plain{display:block}.lc-plain>.lc-picture{width:100%;max-width:48em}"
    # a label stands above its slider, and the slider takes the room
    ".lc-control .widget-inline-hbox{flex-wrap:wrap;height:auto;width:100%;max-width:60em;margin-inline:0}"
    ".lc-control .widget-inline-hbox>.widget-label{width:100%;text-align:left;height:auto;line-height:1.4;white-space:normal}"
    ".lc-control .slider-container{padding-block:12px}.lc-control .widget-dropdown>select{width:100%;min-height:var(--jp-widgets-inline-height)}"
    # its label stands above it and takes a part of its height
    ".lc-control .widget-textarea>textarea{height:calc(100% - 1.6em)}"
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

_RUNS = {"strong": "b", "stress": "i", "small": "small"}
_PARTS = {"sheet": "section", "head": "header", "figure": "figure"}


def markup(blocks: Iterable[Block], paper: bool = False, alive: bool = True) -> str:
    """Blocks below each other.  On ``paper`` a table has its head again on each sheet; without ``alive`` nothing drawn is shown."""

    def below(some: Iterable[Block]) -> str:
        return markup(some, paper, alive)

    return "".join(_block(one, below, paper, alive) for one in blocks)


def framed(said: str, live: bool = False, dim: bool = False) -> str:
    """Markup in the style of the course; ``live`` is read aloud when it changes, ``dim`` stands back."""
    spoken = ' aria-live="polite"' if live else ""
    return f'{STYLE}<div class="lc{" dim" if dim else ""}"{spoken}>{said}</div>'


def escape(text: Any) -> str:
    """Text that cannot be markup."""
    return html.escape(str(text), quote=False)


def inline(words: Words) -> str:
    """Words within a line; what is text cannot be markup."""
    match words:
        case tuple():
            return "".join(map(inline, words))
        case Run(inside, how):
            tag = _RUNS.get(how)
            return f"<{tag}>{inline(inside)}</{tag}>" if tag else f'<span class="{how}">{inline(inside)}</span>'
        case Link(inside, to, beside):
            target = ' target="_blank"' if beside else ""
            return f'<a href="{html.escape(to)}"{target}>{inline(inside)}</a>'
    return escape(words).replace("\n", "<br>")


def _block(one: Block, below: Any, paper: bool, alive: bool) -> str:
    match one:
        case Paragraph(words, kind):
            return f"<p{_class(kind)}>{inline(words)}</p>"
        case Heading(words, level):
            return f"<h{level}>{inline(words)}</h{level}>"
        case List(items, ordered, kind, first):
            tag, start = ("ol", "" if first == 1 else f' start="{first}"') if ordered else ("ul", "")
            return f"<{tag}{_class(kind)}{start}>{''.join(f'<li>{inline(item)}</li>' for item in items)}</{tag}>"
        case Terms(items, anchors):
            where = [f' id="{html.escape(name)}"' for name in anchors] or [""] * len(items)
            told = (f"<dt{at}><b>{inline(term)}</b></dt><dd>{inline(said)}</dd>" for at, (term, said) in zip(where, items))
            return f"<dl>{''.join(told)}</dl>"
        case Table():
            return _table(one, below, paper)
        case Fold(summary, inside, _, opened):
            return f"<details{' open' if opened else ''}><summary>{inline(summary)}</summary>{below(inside)}</details>"
        case Worked(working, words):
            return blackboard(working, words)
        case Verbatim(text):
            return f"<pre>{escape(text)}</pre>"
        case Drawn(drawn):
            return drawn if alive else ""
        case Part(kind, inside):
            tag, said = _PARTS.get(kind), below(inside)
            return "" if not said else f"<{tag}>{said}</{tag}>" if tag else f'<div class="{kind}">{said}</div>'
    raise TypeError(f"not a block: {one!r}")


def _class(kind: str) -> str:
    return f' class="{kind}"' if kind else ""


def _table(one: Table, below: Any, paper: bool) -> str:
    def cell(at: int, words: Any) -> str:
        said = below((words,)) if isinstance(words, Fold) else inline(words)
        return f'<th scope="row">{said}</th>' if one.row_heads and at == 0 else f"<td{_class(one.kinds.get(at, ''))}>{said}</td>"

    def title(at: int, words: str) -> str:
        return (
            f'<th scope="col"{_class(one.kinds.get(at, "")) if not paper else ""}>{inline(words)}</th>' if words else "<td></td>"
        )

    def lines(rows: Iterable[tuple[Any, ...]]) -> str:
        return "".join(f"<tr>{''.join(cell(at, words) for at, words in enumerate(row))}</tr>" for row in rows)

    def group(words: str, rows: tuple[tuple[Any, ...], ...]) -> str:
        wide = max(map(len, rows), default=1)
        over = f'<tr class="group"><th scope="rowgroup" colspan="{wide}">{inline(words)}</th></tr>' if words else ""
        return f"<tbody>{over}{lines(rows)}</tbody>"

    top = f"<tr>{''.join(title(at, words) for at, words in enumerate(one.head))}</tr>" if one.head else ""
    groups = "".join(group(*some) for some in one.groups)
    if not paper:
        return f"<table{_class(one.kind)}>{top}{lines(one.rows)}{groups}</table>"
    body = f"<tbody>{lines(one.rows)}</tbody>" if one.rows else ""
    return f'<div class="{f"scroll {one.kind}".rstrip()}"><table>{f"<thead>{top}</thead>" if top else ""}{body}{groups}</table></div>'


def image(kind: str, data: str, words: str) -> str:
    """A picture of dots, ``data`` in the letters that mail knows, with what it shows in words."""
    return f'<img alt="{html.escape(words)}" src="data:{kind};base64,{"".join(data.split())}">'


# --- workings ---------------------------------------------------------------------------------------------
def blackboard(one: Working, words: str = "") -> str:
    """A working under its title or ``words``, with its formulas between dollars, for the page to typeset."""

    def row(symbol: str, meaning: str, figure: str) -> str:
        return f'<tr><td>{f"${inline(symbol)}$" if symbol else ""}</td><td>{inline(meaning)}</td><td class="n">{inline(figure)}</td></tr>'

    said = [f"<p>Mind: {inline(doubt)}</p>" for doubt in one.doubts]
    limits = f"<p><i>Holds for:</i> {inline(one.formula.limits)}.</p>" if one.formula.limits else ""
    source = f"<p><i>Source:</i> {inline(cite(one.formula.source))}.</p>"
    said.append(f'<details class="lc-source"><summary>where it holds, and its source</summary>{limits}{source}</details>')
    return (
        f'<div class="lc-working"><p><b>{inline(words or one.summary)}</b></p>{escape(one.blackboard)}'
        f"<table>{''.join(row(*line) for line in one.table())}</table>{''.join(said)}</div>"
    )
