"""What a mentor says of a decision: kept in the design file, shown wherever that decision stands."""

from __future__ import annotations

import ipywidgets as widgets

from ...design.lathe import CHAPTERS, LATHE
from ...units import InputProblem
from ..session import Session
from ..shown.panels import Panel, broad, escape, framed, not_kept, table_html, table_text
from ..turns import in_turn
from .register import panel

__all__ = ["RemarksPanel", "remarks"]

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
        self.button = widgets.Button(
            description="Keep this remark", icon="check", button_style="primary", layout=widgets.Layout(width="16em")
        )
        self.reply, self.list = widgets.HTML(), broad()
        self.button.on_click(lambda _: self.keep())
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
            self.reply.value = framed(not_kept(problem), live=True)
            return
        self.words.value = ""
        self.reply.value = framed(
            f"<p><b>{escape(self.session.kept_where)}:</b> a remark on {escape(LATHE.decisions[given[0]].label)}, chapter "
            f"{LATHE.decisions[given[0]].chapter} {escape(CHAPTERS[LATHE.decisions[given[0]].chapter])}.</p>",
            live=True,
        )

    def _rows(self) -> list[tuple[str, ...]]:
        known = LATHE.decisions
        return [
            (known[one.decision].label if one.decision in known else one.decision, one.who, one.when, one.words)
            for one in self.session.design.remarks
        ]

    def _show(self) -> None:
        rows = self._rows()
        self.list.value = framed(table_html(rows, _HEAD) if rows else f"<p>{_NONE}</p>")

    @property
    def plain(self) -> str:
        rows = self._rows()
        return f"[a remark on a decision, with a button to keep it]\n{table_text(rows, _HEAD) if rows else _NONE}"


@panel
def remarks(session: Session) -> Panel:
    """A form for what a mentor says of a decision, and every remark that is kept."""
    made = RemarksPanel(session)
    shown = Panel(made.widget, made.plain)
    shown.remarks = made
    return shown
