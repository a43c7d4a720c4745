"""The board with its answers to move, the way through a chapter, and the one page to print."""

from __future__ import annotations

import ipywidgets as widgets

from ...design.asked import board as boards
from ...design.asked.way_through import way_through
from ...design.chain.luck import DRAWS
from ...design.design import Design
from ...design.draft.starting import settle, without_job
from ...design.evaluation import Evaluation, evaluate
from ...design.lathe import LATHE
from ...units import InputProblem
from ..pictures import PICTURES
from ..pictures.style import Canvas
from ..session import Session
from ..shown.board_view import board_markup, board_plain, evening_sentence
from ..shown.controls import Control
from ..shown.panels import Page, Panel, Place, button, not_kept, paragraphs, set_out, tabled
from ..text.markup import GRID
from ..text.values import Drawn, Fold, Part, strong
from ..turns import Rest, in_turn
from .register import panel

_JOB = "a job struck out"
_WALL = "lcb-wall"


class BoardPanel:
    """The board as it stands; an answer moved lights up the lines it moves, and nothing is kept before the button is pressed."""

    def __init__(self, session: Session):
        self.session = session
        self.controls: dict[str, Control] = {}
        self._canvas, self._rest, self._quiet = Canvas(key="board"), Rest(self._at_rest), False
        names = [(f"{boards.LINES[key].title}: {LATHE.decisions[name].label}", name) for key, name in boards.answers_to_move()]
        self.pick = widgets.Dropdown(
            options=[*names, (f"Jobs: {_JOB}", _JOB)],
            value="centre_height",
            description="move",
            style={"description_width": "3em"},
            layout=widgets.Layout(width="22em"),
        )
        self.struck = widgets.Dropdown(description=_JOB, style={"description_width": "10em"}, layout=widgets.Layout(width="30em"))
        self.place = widgets.Box(layout=widgets.Layout(flex="1 1 24em", margin="0 0 0 1em"))
        self.reason = widgets.Text(
            description="your reason", placeholder="because …", layout=widgets.Layout(width="14em")
        ).add_class("lc-unseen")
        self.keep_button = button("Keep what I moved", "check", self.keep, width="auto", primary=True)
        self.back = button("Back to my design", "undo", self.reset, width="auto")
        self.wall = widgets.ToggleButton(description="Fill the window", icon="expand", layout=widgets.Layout(width="auto"))
        self.lines, self.reply = Place(width="100%"), Place()
        self.pick.observe(lambda _: self._picked(), names="value")
        self.struck.observe(lambda _: self._moved(), names="value")
        self.wall.observe(
            lambda change: (self.widget.add_class if change["new"] else self.widget.remove_class)(_WALL), names="value"
        )
        row = widgets.HBox(
            [self.pick, self.place, self.reason, self.keep_button, self.back, self.wall],
            layout=widgets.Layout(flex_flow="row wrap", align_items="center"),
        )
        self.widget = widgets.VBox([widgets.HTML(GRID), row, self.reply, self.lines])
        self.widget.add_class("lcb-panel")
        self._picked()
        self.base = self.now = session.evaluation
        self._draw()
        self.reset()
        session.when_changed(self._kept)

    # --- moving -----------------------------------------------------------------------------------
    def _picked(self) -> None:
        name = self.pick.value
        if name == _JOB:
            self.place.children = (self.struck,)
            return
        if name not in self.controls:
            self.controls[name] = Control(LATHE.decisions[name], self.session.design)
            self.controls[name].when_moved(self._moved)
        self.place.children = (self.controls[name].place,)

    @property
    def changed(self) -> dict[str, Control]:
        """The answers that stand otherwise than in the design."""
        return {name: one for name, one in self.controls.items() if one.moved}

    def _struck_out(self, design: Design) -> Design:
        return without_job(design, self.struck.value) if self.struck.value else design

    @in_turn
    def _moved(self) -> None:
        if self._quiet:
            return
        tried = self._struck_out(self.session.design)
        changed = {name: one.value for name, one in self.changed.items()}
        self.now = evaluate(tried.trying(**changed) if changed else tried, earlier=self.now.central)
        self._follow()

    def _follow(self) -> None:
        """Lines at once; the rest once no move has come for a while."""
        self._show()
        if not self._rest.moved():
            self._at_rest()

    @in_turn
    def _at_rest(self) -> None:
        """Spread, picture and the way through, once the finger rests."""
        self.now = self.session.drawn if self.now.design is self.session.design else evaluate(self.now.design, DRAWS)
        self._draw()
        self._show()

    def _draw(self) -> None:
        self._picture = self._canvas.draw(PICTURES["lathe_to_scale"], self.now.central)

    def _show(self) -> None:
        lit = boards.moved(self.base, self.now)
        foot = way_page(self.now, "") if self.now.draws else Page()
        self.lines.value = set_out(Drawn(board_markup(boards.board(self.now), lit, self._picture)), Part("lcb-foot", foot.blocks))

    @in_turn
    def reset(self) -> None:
        """Every answer back to the design."""
        self._quiet = True
        for one in self.controls.values():
            one.show(self.session.design)
        self.struck.options = [("none", ""), *((job.name, job.name) for job in self.session.design.jobs)]
        self.struck.value = ""
        self._quiet = False
        self.now = self.base
        self._follow()

    def _kept(self) -> None:
        self.base = self.now = self.session.evaluation
        self.reset()

    # --- keeping ----------------------------------------------------------------------------------
    @in_turn
    def keep(self) -> None:
        """Keep the answers that were moved, all in one, with the reason."""
        changes = {name: one.written for name, one in self.changed.items()}
        if not changes and not self.struck.value:
            self.reply.say("Nothing is moved: the answers stand as they are kept.")
            return
        try:
            self.session.change(lambda design: settle(self._struck_out(design), self.reason.value.strip(), changes))
        except InputProblem as problem:
            self.reply.say(not_kept(problem))
            return
        self.reply.say(strong(f"{self.session.kept_where}."))

    @property
    def plain(self) -> str:
        e = self.session.drawn
        return (
            f"[the board, with {len(self.pick.options)} answers to move]\n{board_plain(boards.board(e))}\n{way_page(e, '').plain}"
        )


@panel
def board(session: Session) -> Panel:
    """The whole plan on one page; what a changed answer moves lights up."""
    made = BoardPanel(session)
    shown = Panel(made.widget, made.plain)
    shown.board = made
    return shown


# --- the way through -----------------------------------------------------------------------------------
def way_page(e: Evaluation, chapter: str) -> Page:
    """Where one stands in a chapter, and which of its decisions matter; without a chapter, of the one where the next evening is best spent.  Needs draws."""
    evening = way_through(e, chapter).evening
    found = way_through(e, chapter or evening.chapter)
    rows = [(one.label, one.shown, one.why) for one in found.matters]
    counts = ", ".join(
        f"{count} {words}"
        for words, count in (("yours", found.yours), ("drafted", found.draft), ("still the demo’s", found.demo))
        if count
    )
    page = paragraphs(f"Decisions of {'this chapter' if chapter else f'chapter {evening.chapter}'}: {counts}." if counts else "")
    if rows:
        page += tabled(rows, ("decision", "stands at", "why it matters here"))
    if found.others and rows:
        others = (
            "The other one may stay as it is until you come to it."
            if len(found.others) == 1
            else f"The other {len(found.others)} may stay as they are until you come to them."
        )
        page += Page(Fold(others, paragraphs(f"{'; '.join(found.others)}.").blocks))
    last = paragraphs(
        evening_sentence(evening) if evening.chapter != chapter else f"The next evening is best spent here: {evening.why}."
    )
    return page + last if chapter else last + page
