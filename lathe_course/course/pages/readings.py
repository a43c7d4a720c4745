"""A growing table of boxes for what a learner reads off a balance, a dial or a level."""

from __future__ import annotations

import re
from typing import Any

import ipywidgets as widgets

from ... import units
from ...design.chain.readings import Field, Readings, Sheet
from ...design.lathe import LATHE
from ...problems import must_be_known
from ...units import InputProblem
from ..session import Session
from ..shown.few import MOST
from ..shown.panels import Page, Panel, Place, button, folded, not_kept, paragraphs, tabled
from ..text.values import strong
from .register import panel, show

_EMPTY_ROWS = 2  # that stand ready below the filled ones
_FIRST_ROWS = 4  # that stand ready on an empty sheet
_FEW = 4  # that stand open of a long one
_CELL, _WORDS = "110px", "210px"  # width of a box, and of one for words
_BARE = re.compile(r"[-+−]?\s*(\d+[.,]?\d*|[.,]\d+)")


def sheet_called(name: str) -> Sheet:
    """A sheet of readings of the course; InputProblem if there is none of that name."""
    must_be_known(name, LATHE.sheets, "sheet of readings")
    return LATHE.sheets[name]


def _heading(name: str, field: Field, system: str) -> str:
    unit = units.unit_text(field.kind, system) if field.kind else ""
    return f"{name.replace('_', ' ')} [{unit}]" if unit else name.replace("_", " ")


def _table(sheet: Sheet, rows: Readings, system: str) -> Page:
    """Rows as they were written."""
    head = tuple(name.replace("_", " ") for name in sheet.fields)
    body = [tuple(str(row.written.get(name, "")) for name in sheet.fields) for row in rows]
    if not body:
        said = f"No readings of {sheet.title} yet."
        return paragraphs(said)
    return tabled(body, head)


class ReadingsPanel:
    """Boxes for the rows of one sheet.  Nothing is kept before the button is pressed, and then all rows or none."""

    def __init__(self, session: Session, sheet: Sheet):
        self.session, self.sheet, self.system = session, sheet, session.design.system
        self.reply = Place()
        self.grid = widgets.VBox()
        self.boxes: list[dict[str, Any]] = []
        more = button("More rows", "plus", self._add)
        keep = button("Keep the readings", "check", self.keep, width="14em", primary=True)
        note = sheet.what + (" " if sheet.what else "") + "A number without a unit is taken in the unit above its box."
        self.widget = widgets.VBox([Place(note), self.grid, widgets.HBox([more, keep]), self.reply])
        self._fill()

    # --- the boxes --------------------------------------------------------------------------------
    def _fill(self) -> None:
        """Show the rows of the design, with empty ones below."""
        self.shown = self.session.design.readings[self.sheet.name].written
        self.boxes = [
            self._row(row, number)
            for number, row in enumerate([*self.shown, *({} for _ in range(_EMPTY_ROWS if self.shown else _FIRST_ROWS))], 1)
        ]
        self._lay()

    def _row(self, row: dict[str, Any], number: int) -> dict[str, Any]:
        return {
            name: self._box(name, field, str(row.get(name, "")), f"{_heading(name, field, self.system)}, row {number}")
            for name, field in self.sheet.fields.items()
        }

    @staticmethod
    def _box(name: str, field: Field, value: str, words: str) -> Any:
        if field.options:
            made = widgets.Dropdown(
                options=[("", ""), *((one, one) for one in field.options)],
                description=words,
                value=value if value in field.options else "",
            )
        else:
            made = widgets.Text(value=value, description=words)
        made.layout = ReadingsPanel._width(field)
        made.add_class(f"reading-{name}").add_class("lc-unseen")
        return made

    @staticmethod
    def _width(field: Field) -> widgets.Layout:
        widest = max(map(len, field.options), default=0)
        width = f"max({_CELL}, {widest}ch + 20px)" if field.options else _CELL if field.kind else _WORDS
        return widgets.Layout(width=width, margin="2px")

    def _lay(self) -> None:
        head = []
        for name, field in self.sheet.fields.items():
            above = Place(strong(_heading(name, field, self.system)))
            above.layout, above.tooltip = self._width(field), field.meaning
            head.append(above)
        rows = [widgets.HBox(list(row.values())) for row in self.boxes]
        filled = len(self.shown)
        if filled > MOST:  # many rows of a sheet that is filled are seldom changed
            rows[_FEW:filled] = [folded(f"and {filled - _FEW} more rows", *rows[_FEW:filled])]
        self.grid.children = (widgets.HBox(head), *rows)

    def _add(self) -> None:
        self.boxes += [self._row({}, len(self.boxes) + more) for more in range(1, _EMPTY_ROWS + 1)]
        self._lay()

    # --- keeping ----------------------------------------------------------------------------------
    def written(self) -> list[dict[str, str]]:
        """The rows as they stand in the boxes, with the unit of the column behind bare numbers."""
        return [
            {name: self._with_unit(self.sheet.fields[name], box.value.strip()) for name, box in row.items()} for row in self.boxes
        ]

    def _with_unit(self, field: Field, text: str) -> str:
        unit = units.unit_text(field.kind, self.system) if field.kind else ""
        return f"{text} {unit}" if unit and _BARE.fullmatch(text) else text

    def keep(self) -> None:
        try:
            self.session.keep_readings(self.sheet.name, self.written(), self.shown)
        except InputProblem as problem:
            self.reply.say(not_kept(problem))
            return
        self._fill()
        count = len(self.shown)
        self.reply.say(f"Kept: {count} row{'' if count == 1 else 's'}.")

    def panel(self) -> Panel:
        return Panel(
            self.widget,
            f"[readings: {self.sheet.title}, to fill in]\n"
            + _table(self.sheet, self.session.design.readings[self.sheet.name], self.system).plain,
        )


@panel
def readings(session: Session, sheet: str, told: str = "") -> Panel:
    """A table of boxes for the readings of a sheet, to fill in and keep; below it the page called ``told``, written anew after each keeping."""
    boxes = ReadingsPanel(session, sheet_called(sheet)).panel()
    if not told:
        return boxes
    below = show(session, told, {})
    return Panel(widgets.VBox([boxes.widget, below.widget]), f"{boxes.plain}\n{below.plain}")
