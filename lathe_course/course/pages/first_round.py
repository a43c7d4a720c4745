"""The first round after the answers: the draft with its reasons, drafts side by side, the first answer, and one page to print."""

from __future__ import annotations

from typing import Any

import ipywidgets as widgets

from ... import units
from ...design.design import Design
from ...design.draft.first_answer import first_answer, unsettled
from ...design.draft.first_draft import Draft, draft
from ...design.draft.wish import wish_of
from ...design.evaluation import Evaluation, evaluate
from ...design.lathe import CHAPTERS, LATHE
from ...design.origins import drafted_of
from ...units import InputProblem
from ..printed.board_sheet import write_board
from ..printed.document import link_to
from ..session import Session
from ..shown.few import few_rows
from ..shown.panels import Page, Panel, Place, button, not_kept, paragraphs, tabled
from ..text.values import Fold, List, Paragraph, Words, strong
from ..turns import in_turn
from .register import page, panel

# --- the draft -------------------------------------------------------------------------------------------
_FIGURES = ("centre_height", "between_centres", "parts_mass", "own_hours", "cash_total", "months_to_finish")


class DraftPanel:
    """One button drafts all that is not one's own; once there is a draft, another tells first what it would change."""

    def __init__(self, session: Session):
        self.session, self.made = session, None
        self.button = button("Draft my lathe", "magic", self.draft, width="16em", primary=True)
        self.take = button("Keep this new draft", "check", self.keep, width="16em")
        self.take.layout.display = "none"
        self.reply = Place()
        self.widget = widgets.VBox([self.button, self.reply, self.take])
        self.widget.add_class("first-draft")

    @in_turn
    def draft(self) -> None:
        """Draft from the answers as they stand."""
        self.take.layout.display = "none"
        self.reply.say("Working it out …")
        design = self.session.design
        try:
            self.made = draft(wish_of(design), design)
        except InputProblem as problem:
            self.reply.say((strong("No draft yet."), f" {problem}"))
            return
        if drafted_of(design.choices):
            self._tell_change(self.made)
        else:
            self.keep()

    def _tell_change(self, made: Draft) -> None:
        if not made.would_change:
            self.reply.say("A new draft would change nothing.", _unmet(made))
            return
        rows = [(LATHE.decisions[name].label, before, after, why) for name, before, after, why in made.would_change]
        self.reply.say(
            f"A new draft would change {len(rows)} decision{'' if len(rows) == 1 else 's'}; nothing of your own is among them.",
            few_rows(rows, ("decision", "now", "drafted", "because")),
            _unmet(made),
        )
        self.take.layout.display = ""

    @in_turn
    def keep(self) -> None:
        """Keep the draft that was made; what is one's own stays."""
        made, base = self.made, self.session.design.written()
        try:
            self.session.change(lambda now: made.design if now.written() == base else draft(wish_of(now), now).design)
        except InputProblem as problem:
            self.reply.say(not_kept(problem))
            return
        self.take.layout.display = "none"
        e = self.session.evaluation
        rows = [(LATHE.part(name).label, e.shown(name)) for name in _FIGURES]
        drafted = len(drafted_of(e.design.choices))
        self.reply.say(
            (strong(f"{self.session.kept_where}:"), f" a whole lathe, {drafted} decisions of it drafted."),
            tabled(rows, numeric=(1,)),
            _unmet(made),
        )

    @property
    def plain(self) -> str:
        drafted = len(drafted_of(self.session.design.choices))
        return f"[a button drafts what is not your own yet; drafted so far: {drafted} decisions]"


def _unmet(made: Draft) -> Page:
    if not made.unmet:
        return paragraphs("It meets all that you asked for.")
    return paragraphs(strong("What this draft cannot meet:")) + Page(List(tuple(made.unmet)))


@panel
def first_draft(session: Session) -> Panel:
    """A whole design drafted from your answers with one button."""
    made = DraftPanel(session)
    shown = Panel(made.widget, made.plain)
    shown.draft = made
    return shown


@page
def draft_reasons(evaluation: Evaluation) -> Page:
    """The reasons of the draft, to be read aloud: sizes first and open, then chapter by chapter, folded."""
    design = evaluation.design
    drafted: dict[str, list[tuple[str, str, str]]] = {}
    for name in drafted_of(design.choices):
        choice = design.choices[name]
        if choice.reason:
            decision = LATHE.decisions[name]
            drafted.setdefault(decision.chapter, []).append((decision.label, evaluation.shown(name), choice.reason))
    if not drafted:
        return paragraphs("Nothing is drafted yet. Once it is, each decision stands here with its reason.")
    folds = []
    for chapter in sorted(drafted, key=lambda one: (one != "02", one)):
        spoken = List(tuple((strong(f"{label}: {value}"), f" – {reason}") for label, value, reason in drafted[chapter]))
        folds.append(
            Fold(f"{chapter} {CHAPTERS[chapter]} ({len(drafted[chapter])})", (spoken,), told=True, opened=chapter == "02")
        )
    return Page(*folds)


# --- drafts side by side --------------------------------------------------------------------------------------
_SIDE = (
    "centre_height",
    "between_centres",
    "parts_mass",
    "cash_total",
    "own_hours",
    "months_to_finish",
    "months_to_finish_should",
    "machine_stiffness",
)


class BesidePanel:
    """Where the wishes cannot all be met: other drafts beside this one, worked out on asking, each to be taken with a button."""

    def __init__(self, session: Session):
        self.session = session
        self.button = button("What else could be done?", "columns", self.look, width="18em")
        self.told, self.takers = Place(), widgets.HBox()
        self.widget = widgets.VBox([self.button, self.told, self.takers])
        self.widget.add_class("drafts-beside")

    @in_turn
    def look(self) -> None:
        """Work the other drafts out and set them side by side."""
        self.takers.children = ()
        self.told.say("Working them out; this takes some seconds …")
        design = self.session.design
        try:
            made = draft(wish_of(design), design)
            beside = made.beside
        except InputProblem as problem:
            self.told.say(str(problem))
            return
        if not made.unmet:
            self.told.say("Time, money and place are met as it is, so there is nothing to choose between.")
            return
        others = [one for one in beside if one.design is not None]
        columns = [self.session.evaluation, *(evaluate(one.design) for one in others)]
        rows = [(LATHE.part(name).label, *(e.shown(name) for e in columns)) for name in _SIDE]
        rows.append(
            ("findings that fail", *(str(sum(finding.status == "fails" for finding in e.findings.values())) for e in columns))
        )
        said = [(one.name, one.brings, one.gives_up) for one in beside]
        self.told.say(
            _unmet(made),
            tabled(rows, ("", "as it stands", *(one.name for one in others)), tuple(range(1, len(columns) + 1))),
            tabled(said, ("", "what it brings", "what it gives up")),
        )
        base = design.written()
        self.takers.children = tuple(self._taker(one.name, one.design, base) for one in others)

    def _taker(self, name: str, design: Design, base: dict[str, Any]) -> widgets.Button:
        return button(f"Take the {name} one", "", lambda: self._take(name, design, base), width="auto")

    @in_turn
    def _take(self, name: str, design: Design, base: dict[str, Any]) -> None:
        def taken(now: Design) -> Design:
            if now.written() != base:
                raise InputProblem.about("drafts", "your design has changed since these were worked out; ask for them again.")
            return design

        try:
            self.session.change(taken)
        except InputProblem as problem:
            self.told.say(not_kept(problem))
            return
        self.takers.children = ()
        self.told.say((strong(f"{self.session.kept_where}:"), f" the {name} draft. The board shows it."))


@panel
def drafts_beside(session: Session) -> Panel:
    """Two or three drafts side by side where time, money or place cannot be met."""
    made = BesidePanel(session)
    shown = Panel(
        made.widget, "[a button sets other drafts beside yours: easier, smaller, sooner, cheaper; or buying used, or waiting]"
    )
    shown.beside = made
    return shown


# --- the first answer ------------------------------------------------------------------------------------------
class AnswerPanel:
    """Money, hours, months and mass with what is only drafted counted as unsettled; worked out on asking, for it tries every alternative."""

    def __init__(self, session: Session):
        self.session = session
        self.button = button("My first answer", "balance-scale", self.tell, width="14em")
        self.told = Place()
        self.widget = widgets.VBox([self.button, self.told])
        self.widget.add_class("first-answer")

    @in_turn
    def tell(self) -> None:
        """Work it out for the design as it stands."""
        e = self.session.drawn
        wide, loose = first_answer(e), unsettled(e)
        rows = [(LATHE.part(name).label, e.shown_spread(name), _range(e, name, wide[name])) for name in wide]
        used = [(LATHE.part(name).label, e.shown_spread(name)) for name in ("building_by_parts", "used_price", "used_total")]
        names = [LATHE.decisions[name].label for name in loose]
        said = (
            f"Not settled by you yet, and so counted as open: {'; '.join(names[:7])}{f'; and {len(names) - 7} more' if len(names) > 7 else ''}. "
            "Each decision of your own narrows the last column."
            if names
            else "All that widens it is settled by you."
        )
        self.told.say(
            tabled(rows, ("", "this design, four fifths of the draws", "with what is not settled yet"), (1, 2)),
            said,
            strong("Beside it, buying used:"),
            tabled(used, numeric=(1,)),
        )


def _range(e: Evaluation, name: str, ends: tuple[float, float, float]) -> str:
    low, _, high = (units.shown(one, LATHE.part(name).kind, e.design.system, 2) for one in ends)
    return f"{low} to {high}"


@panel
def answer_so_far(session: Session) -> Panel:
    """A first answer with its whole spread: build, or buy used, or wait."""
    made = AnswerPanel(session)
    shown = Panel(
        made.widget,
        "[a button works out the first answer: money, hours, months and mass, with what is not settled yet counted as open]",
    )
    shown.answer = made
    return shown


# --- one page to print -------------------------------------------------------------------------------------------
#: the board on a page of its own, beside the design file
BOARD = "board.html"


@panel
def board_to_print(session: Session) -> Panel:
    """A button writes the board as one page beside the design file, to open and print."""
    shown = Place()

    @in_turn
    def write() -> None:
        shown.say(_written(session))

    press = button("Write my page", "print", write, width="14em", primary=True)
    return Panel(widgets.VBox([press, shown]), f"[a button writes the board as one page, {BOARD}, beside your design file]")


def _written(session: Session) -> Words | Paragraph:
    if session.path is None:
        return f"There is no working folder here, so nothing was written. In a working folder this writes {BOARD} beside your design file."
    try:
        path = write_board(session.design, session.path.with_name(BOARD))
    except InputProblem as problem:
        return not_kept(problem)
    said = f"Written: {BOARD}, beside {session.path.name}. "
    return said, link_to(path, "Open my page"), ", and print it from there; or open the file in any browser."
