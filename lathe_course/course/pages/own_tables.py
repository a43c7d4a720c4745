"""Chapter 10: the learner's own tables of parts, ways, machines and prices, laid beside the design file and read again."""

from __future__ import annotations

import ipywidgets as widgets

from ...design.files.build_files import SHEETS, sheet_path
from ...units import InputProblem
from ..session import Session
from ..shown.panels import Page, Panel, Place, button, not_kept, set_out, tabled
from ..text.values import strong
from ..turns import in_turn
from .register import panel

_HOLDS = {
    "parts": "every part, what it comes after, its stock and masses",
    "ways": "the ways of each part: hours, money, weeks, what must be done here",
    "machines": "what you can use, your own and borrowed, and what it can do",
    "equipment": "tools, accessories and what is used up",
    "tasks": "planning, assembling and testing",
    "prices": "your prices over those of the list",
    "bars": "bars you can buy, and what the saw takes",
}


def _rows(session: Session, name: str) -> str:
    lists = session.design.building
    held = {
        "parts": lists.parts,
        "ways": lists.parts.ways,
        "machines": lists.machines,
        "equipment": lists.items,
        "tasks": lists.tasks,
        "bars": lists.bars,
    }.get(name)
    return f"{len(held)} rows" if held is not None else "three factors"


class OwnTables:
    """Which lists are in force, with buttons to lay copies to edit and to read them anew."""

    def __init__(self, session: Session):
        self.session = session
        self.told, self.reply = Place(), Place()
        self.lay = button("Lay tables to edit", "file", self._lay, width="14em")
        self.read = button("Read the tables again", "refresh", self._read, width="16em")
        self.widget = widgets.VBox([self.told, widgets.HBox([self.lay, self.read]), self.reply])
        self._tell()
        session.when_changed(self._tell)

    # --- telling ----------------------------------------------------------------------------------
    def page(self) -> Page:
        """Table by table: what it holds, and whose it is."""
        path = self.session.path
        head = ("table", "holds", "in force")
        rows = []
        for name in SHEETS:
            own = name in self.session.lists.own and path is not None
            rows.append(
                (
                    name,
                    _HOLDS[name],
                    f"yours, {sheet_path(path, name).name}, {_rows(self.session, name)}"
                    if own
                    else f"the course's, {_rows(self.session, name)}",
                )
            )
        said = "Each table may be the course's or your own. The shops of the demos are invented; the figures are common practice, told as ranges."
        return tabled(rows, head, before=(said,))

    def _tell(self) -> None:
        self.told.value = set_out(self.page())

    # --- doing ------------------------------------------------------------------------------------
    @in_turn
    def _lay(self) -> None:
        try:
            laid = self.session.lay_lists()
        except InputProblem as problem:
            self.reply.say(not_kept(problem))
            return
        self.reply.say(
            (
                strong("Laid beside your design:"),
                f" {', '.join(path.name for path in laid)}. Open them in any spreadsheet, save them as CSV, "
                "then read them again here. What you write there is never overwritten.",
            )
        )

    @in_turn
    def _read(self) -> None:
        try:
            self.session.read_lists_again()
        except InputProblem as problem:
            self.reply.say(not_kept(problem))
            return
        trouble, remarks = self.session.lists_trouble, self.session.lists.remarks
        said = (
            trouble
            or f"Read: {', '.join(self.session.lists.own) or 'no table of your own lies there, the lists are the course’s'}."
        )
        self.reply.say(*said.split("\n"), *remarks)


@panel
def own_tables(session: Session) -> Panel:
    """The lists the build is reckoned from, and the buttons to make them your own."""
    made = OwnTables(session)
    shown = Panel(made.widget, f"[lay your own tables, or read them again]\n{made.page().plain}")
    shown.tables = made
    return shown
