"""What a cell shows: text that reads well everywhere, and widgets with a plain twin.

Stored outputs are compared word for word, so everything here has a short plain text that
depends on the design alone.  A page is a row of blocks (``text/values.py``); nobody but the renderers writes markup.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterable, Mapping
from typing import Any

import ipywidgets as widgets

from ...design.asked.why import Account
from ...units import InputProblem
from ...working import Working
from ..text import markup as as_markup
from ..text import plain as as_plain
from ..text.values import Block, Fold, List, Paragraph, Table, Words, Worked, stress, strong

_WIDE = {"width": "100%", "max_width": "72em", "margin": "0"}


class Page:
    """What is said as blocks one below the other: HTML in a notebook, plain text in a terminal and where it is stored."""

    def __init__(self, *blocks: Block | Page):
        self.blocks: tuple[Block, ...] = _blocks(blocks)

    @property
    def markup(self) -> str:
        """As HTML, without what is drawn."""
        return as_markup.markup(self.blocks, alive=False)

    @property
    def plain(self) -> str:
        return as_plain.plain(self.blocks)

    def __add__(self, other: Page) -> Page:
        """One below the other."""
        return Page(*self.blocks, *other.blocks)

    def _repr_html_(self) -> str:
        return as_markup.framed(self.markup)

    def __repr__(self) -> str:
        return self.plain


#: what may be said in a place: pages and blocks as they are, words as a paragraph of their own; what is empty is left out
Said = Page | Block | Words


def _blocks(said: Iterable[Said]) -> tuple[Block, ...]:
    found: list[Block] = []
    for one in said:
        if isinstance(one, Page):
            found += one.blocks
        elif isinstance(one, Block):
            found.append(one)
        elif one:
            found.append(Paragraph(one))
    return tuple(found)


def set_out(*said: Said, live: bool = False, dim: bool = False) -> str:
    """What is said as markup for a widget; ``live`` is read aloud when it changes, ``dim`` stands back."""
    return as_markup.framed(as_markup.markup(_blocks(said)), live, dim)


def not_kept(problem: InputProblem) -> Paragraph:
    """What is said when something could not be kept, each sentence on a line of its own."""
    return Paragraph((strong("Not kept."), " ", str(problem)))


class Panel:
    """A widget with a plain twin: shown as the widget, stored and read aloud as ``plain``."""

    def __init__(self, widget: widgets.Widget, plain: str):
        self.widget, self.plain = widget.add_class("lc-panel"), plain

    def _repr_mimebundle_(self, **options: Any) -> dict[str, Any]:
        bundle = self.widget._repr_mimebundle_(**options) or {}
        return {**bundle, "text/plain": self.plain}

    def __repr__(self) -> str:
        return self.plain


class Place(widgets.HTML):
    """A piece of a panel in which something is said."""

    def __init__(self, *said: Said, dim: bool = False, **layout: str):
        super().__init__(layout=widgets.Layout(**layout))
        if said:
            self.value = set_out(*said, dim=dim)

    def say(self, *said: Said) -> None:
        """Say this in place of what stood here; it is read aloud.  Nothing said leaves it empty."""
        self.value = set_out(*said, live=True) if any(said) else ""


def button(words: str, icon: str, press: Callable[[], object], width: str | None = None, primary: bool = False) -> widgets.Button:
    """A button and what is done when it is pressed; ``primary`` for the one that a reader came for."""
    made = widgets.Button(
        description=words, icon=icon, button_style="primary" if primary else "", layout=widgets.Layout(width=width)
    )
    made.on_click(lambda _: press())
    return made


def broad() -> Place:
    """A place for text or a picture, as wide as there is room and no wider than reads well."""
    return Place(**_WIDE)


def folded(title: str, *boxes: widgets.Widget) -> widgets.Accordion:
    """Boxes that not everybody needs, under a title that opens them; on paper they stand open."""
    return widgets.Accordion([widgets.VBox(boxes)], titles=(title,), selected_index=None)


def paragraphs(*lines: Words) -> Page:
    """Sentences, each a paragraph; what is empty is left out."""
    return Page(*map(Paragraph, filter(None, lines)))


def tabled(
    rows: Iterable[tuple[Any, ...]],
    head: tuple[str, ...] = (),
    numeric: tuple[int, ...] = (),
    before: Iterable[Words] = (),
    after: Iterable[Words] = (),
) -> Page:
    """A table between sentences; ``numeric`` columns are set to the right."""
    return paragraphs(*before) + Page(Table(tuple(rows), head, dict.fromkeys(numeric, "n"))) + paragraphs(*after)


def _typesetting() -> widgets.HTMLMath:
    """A piece of a panel in which what stands between dollars is a formula."""
    return widgets.HTMLMath(layout=widgets.Layout(**_WIDE))


class Live(Panel):
    """A page that is written anew whenever the design changes, so that no cell need be run again.

    ``write`` gives the page as the design stands; ``when_changed`` takes what to do after a
    change, and what to say at once where that takes long.  Formulas of a page with workings are ``typeset``.
    """

    def __init__(self, write: Callable[[], Page], when_changed: Callable[..., None], typeset: bool = False):
        self.write = write
        super().__init__(_typesetting() if typeset else broad(), "")
        self.refresh()
        when_changed(self.refresh, self.wait)

    def refresh(self) -> None:
        page = self.write()
        self.plain, self._stored, self.widget.value = page.plain, page._repr_html_(), set_out(page)

    def wait(self) -> None:
        """Say that what stands here is of the design before, and is being written anew."""
        said = (
            "Your design has changed. This is worked out anew, and takes some seconds; until then it tells of the design before."
        )
        self.widget.value = set_out(strong(said)) + self.widget.value

    def _repr_mimebundle_(self, **options: Any) -> dict[str, Any]:
        return {**super()._repr_mimebundle_(**options), "text/html": self._stored}  # for readers without widgets


class LiveWorking(Panel):
    """How a figure comes about, written anew whenever the design changes; ``write`` gives it as the design stands."""

    def __init__(self, write: Callable[[], Working | Account], when_changed: Callable[..., None]):
        self.write = write
        super().__init__(_typesetting(), "")
        self.refresh()
        when_changed(self.refresh)

    def refresh(self) -> None:
        working = self.write()
        self.plain, self._markdown = str(working), working._repr_markdown_()
        told = working.workings if isinstance(working, Account) else (working,)
        above = as_markup.markup(_of_account(working)) if isinstance(working, Account) else ""
        self.widget.value = as_markup.framed(above + "".join(map(as_markup.blackboard, told)))

    def _repr_mimebundle_(self, **options: Any) -> dict[str, Any]:
        return {**super()._repr_mimebundle_(**options), "text/markdown": self._markdown}  # for readers without widgets


def _of_account(account: Account) -> tuple[Block, ...]:
    fed = tabled(account.fed.items(), ("It rests on", ""), (1,), before=[strong(account.head)], after=[stress(account.grounds)])
    return fed.blocks


def folded_workings(workings: Iterable[Working], said: str, heads: Iterable[str] = ()) -> Page:
    """Workings under one fold, each folded in turn under what it gives and the figure it comes to; plain text has these lines.

    ``heads`` stand in the place of what each gives.  A page that shows them is registered as ``worked``.
    """
    workings = list(workings)
    titles = [title or one.table()[-1][1] for one, title in itertools.zip_longest(workings, heads)]
    # what is worked twice is told apart by the first figure it was fed
    fed = [next(iter(one.names.values()), "") if titles.count(title) > 1 else "" for one, title in zip(workings, titles)]
    lines = tuple(folded_working(one, f"{title} ({what})" if what else title) for one, title, what in zip(workings, titles, fed))
    return Page(Fold(f"{said} ({len(lines)} formulas)", lines, told=True))


def folded_working(one: Working, title: str = "") -> Fold:
    """A working folded under its ``title``, or what it gives, and the figure it comes to."""
    *_, (_, meaning, figure) = one.table()
    return Fold(f"{title or meaning}: {figure}", (Worked(one),))


def for_and_against(kinds: Mapping[str, Mapping[str, Any]]) -> Page:
    """What is ``strong`` and ``weak`` of each kind, folded below the figures that compare them."""
    said = tuple((strong(f"{name}."), f" For it: {row['strong']}. Against it: {row['weak']}.") for name, row in kinds.items())
    about = Paragraph("This is common practice, no source.")
    return Page(Fold("What speaks for and against each", (List(said), about), told=True))


def how_to_read(*lines: Words) -> Page:
    """What explains a table, folded below it; on paper it stands open."""
    return Page(Fold("How to read this table", paragraphs(*lines).blocks, told=True))
