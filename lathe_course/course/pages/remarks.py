"""What a mentor says of a decision: kept in the design file, shown wherever that decision stands."""

from __future__ import annotations

import ipywidgets as widgets

from ...design.lathe import CHAPTERS, LATHE
from ...units import InputProblem
from ..session import Session
from ..shown.panels import Page, Panel, Place, broad, button, not_kept, paragraphs, set_out, tabled
from ..text.values import strong
from ..turns import in_turn
from .register import panel

_HEAD = ("decision", "who", "when", "remark")
_NONE = "No remark has been kept yet."


class RemarksPanel:
    """A decision, who says it, when, and the words; below it every remark there is."""

    def __init__(self, session: Session):
        self.session = session
        wide, layout = {"description_width": "9em"}, widgets.Layout(width="44em", max_width="95%")
        options = sorted(
            ((f"{one.chapter} {one.label}", name) for name, one in LATHE.decisions.items()), key=lambda one: one[0].casefold()
        )
        self.decision = widgets.Dropdown(options=options, description="on", style=wide, layout=layout)
        self.who = widgets.Text(description="who says it", placeholder="such as mentor", style=wide, layout=layout)
        self.when = widgets.Text(
            description="when", placeholder="as you like to write it; may stay empty", style=wide, layout=layout
        )
        self.words = widgets.Textarea(
            description="what",
            placeholder="in your own words",
            style=wide,
            layout=widgets.Layout(width="44em", max_width="95%", height="5em"),
        )
        self.button = button("Keep this remark", "check", self.keep, width="16em", primary=True)
        self.reply, self.list = Place(), broad()
        self.widget = widgets.VBox([self.decision, self.who, self.when, self.words, self.button, self.reply, self.list])
        self._show()
        session.when_changed(self._show)

    @in_turn
    def keep(self) -> None:
        """Keep the remark; where it cannot be kept what was written stays in its place."""
        given = self.decision.value, self.who.value, self.when.value, self.words.value
        try:
            self.session.change(lambda design: design.with_remark(*given))
        except InputProblem as problem:
            self.reply.say(not_kept(problem))
            return
        self.words.value = ""
        decision = LATHE.decisions[given[0]]
        self.reply.say(
            (
                strong(f"{self.session.kept_where}:"),
                f" a remark on {decision.label}, chapter {decision.chapter} {CHAPTERS[decision.chapter]}.",
            )
        )

    def _rows(self) -> list[tuple[str, ...]]:
        known = LATHE.decisions
        return [
            (known[one.decision].label if one.decision in known else one.decision, one.who, one.when, one.words)
            for one in self.session.design.remarks
        ]

    def _show(self) -> None:
        self.list.value = set_out(self._listed())

    @property
    def plain(self) -> str:
        return f"[a remark on a decision, with a button to keep it]\n{self._listed().plain}"

    def _listed(self) -> Page:
        rows = self._rows()
        return tabled(rows, _HEAD) if rows else paragraphs(_NONE)


@panel
def remarks(session: Session) -> Panel:
    """A form for what a mentor says of a decision, and every remark that is kept."""
    made = RemarksPanel(session)
    shown = Panel(made.widget, made.plain)
    shown.remarks = made
    return shown
