"""Chapter 16: boxes that add a line to the log, and the forecast to be looked at from any month of it."""

from __future__ import annotations

import datetime

import ipywidgets as widgets

from ... import units
from ...design.asked.on_course import YOURS, whose
from ...planning.log import (
    ACCEPTED,
    ASKED,
    BEGUN,
    CANCELLED,
    CHANGED,
    DELIVERED,
    HOURS,
    KINDS,
    MONEY,
    MOVING,
    NOTE,
    ORDERED,
    TOOLS,
    WISHED,
    WITHDRAWN,
)
from ...units import InputProblem, Money
from ..pictures import PICTURES
from ..pictures.style import Canvas
from ..printed.document import link_to
from ..printed.shop_papers import SHOP_PAPERS, write_shop_papers
from ..session import Session
from ..shown.money import money_name
from ..shown.panels import Panel, Place, broad, button, not_kept, set_out
from ..turns import in_turn
from .progress import log_kept
from .register import panel

_STYLE = {"description_width": "8em"}
#: what stands in the amount of each kind of line that has one
_AMOUNTS = {HOURS: "3 h", MONEY: "25 EUR", ASKED: "25 EUR", ORDERED: "25 EUR", MOVING: "8 months"}
_IN_MONEY = (MONEY, ASKED, ORDERED)
_WITH_PART = (HOURS, MONEY, ASKED, ORDERED, DELIVERED, CANCELLED, ACCEPTED, WITHDRAWN)
#: boxes of orders and payments -> the kinds of line that have them
_OF_AN_ORDER = {"vendor": (MONEY, ASKED, ORDERED, DELIVERED, CANCELLED), "due": (ORDERED,), "receipt": (MONEY,)}
_SAID = {
    "vendor": "in your own words",
    "due": "year-month-day it was promised for",
    "receipt": "name of its file beside the design",
}
_WITH_WORDS = (CHANGED, NOTE)


def _wide() -> widgets.Layout:
    return widgets.Layout(width="34em")


class AddToLog:
    """One line to write, the last lines above it.  The line goes to the end of the log; nothing there is ever changed."""

    def __init__(self, session: Session):
        self.session = session
        self.told, self.reply = Place(), Place()
        self.date = widgets.Text(placeholder="year-month-day, or “today”", description="date", style=_STYLE, layout=_wide())
        self.what = widgets.Dropdown(
            options=list(KINDS), value=HOURS if session.log else BEGUN, description="what", style=_STYLE, layout=_wide()
        )
        self.amount = widgets.Text(description="amount", style=_STYLE, layout=_wide())
        self.part = widgets.Dropdown(
            options=[("", ""), *((name, name) for name in self._names())],
            description="part or task",
            style=_STYLE,
            layout=_wide(),
        )
        self.words = widgets.Text(placeholder="anything worth keeping", description="words", style=_STYLE, layout=_wide())
        self.of_an_order = {
            name: widgets.Text(placeholder=_SAID[name], description=name, style=_STYLE, layout=_wide()) for name in _OF_AN_ORDER
        }
        self.add = button("Add to the log", "plus", self._add, width="14em", primary=True)
        self.again = button("Read the log again", "refresh", self._again, width="14em")
        self.what.observe(lambda _: self._fit(), names="value")
        self.widget = widgets.VBox(
            [
                self.told,
                self.date,
                self.what,
                self.amount,
                self.part,
                *self.of_an_order.values(),
                self.words,
                widgets.HBox([self.add, self.again]),
                self.reply,
            ]
        )
        self._fit()
        self._tell()
        session.when_changed(self._tell)

    def _names(self) -> list[str]:
        """Parts and tasks of this design that take hours or money and are not accepted yet come first, then tools; then those that are."""
        e = self.session.evaluation
        nodes = [
            name.removeprefix("task: ")
            for name, hours, money in zip(e["build_layout"].network.names, e["build_work"].hours, e["build_work"].money)
            if hours or money
        ]
        done = self.session.log.accepted
        nodes += [TOOLS, *(item.name for item in e["things_to_buy"])]
        return list(dict.fromkeys([name for name in nodes if name not in done] + [name for name in nodes if name in done]))

    def _fit(self) -> None:
        """Only the boxes that this kind of line has."""
        what = self.what.value
        self.amount.layout.display = "" if what in _AMOUNTS else "none"
        self.amount.placeholder = (
            f"for example {_AMOUNTS[what].replace('EUR', money_name(self.session.evaluation))}" if what in _AMOUNTS else ""
        )
        self.part.layout.display = "" if what in _WITH_PART else "none"
        for name, box in self.of_an_order.items():
            box.layout.display = "" if what in _OF_AN_ORDER[name] else "none"
        self.words.placeholder = "parts and tasks in your order, with ; between" if what == WISHED else "anything worth keeping"

    def _tell(self) -> None:
        self.told.value = set_out(log_kept(self.session.evaluation, last=6))

    @in_turn
    def _add(self) -> None:
        what, day = self.what.value, self.date.value.strip()
        if day.lower() == "today":
            day = datetime.date.today().isoformat()
        try:
            if what in _WITH_WORDS and not self.words.value.strip():
                raise InputProblem.about("words", f"a line “{what}” says nothing without words.")
            # the log counts in the money of the lists, as its readers before and after do
            amount = (
                units.in_lists_money(self.amount.value, Money(), self.session.design.system)
                if what in _IN_MONEY and self.amount.value.strip()
                else self.amount.value
            )
            self.session.add_to_log(
                day,
                what,
                amount if what in _AMOUNTS else "",
                self.part.value if what in _WITH_PART else "",
                self.words.value,
                **{name: box.value for name, box in self.of_an_order.items() if what in _OF_AN_ORDER[name]},
            )
        except InputProblem as problem:
            self.reply.say(not_kept(problem))
            return
        for box in (self.amount, self.words, *self.of_an_order.values()):
            box.value = ""
        self.what.value = HOURS if what == BEGUN else what
        where = self.session.book.path
        self.reply.say(
            f"Added, at the end of {where.name}." if where else "Added, in this notebook only: there is no working folder."
        )

    @in_turn
    def _again(self) -> None:
        self.session.read_log_again()
        said = self.session.log_trouble or f"Read: {len(self.session.log)} lines."
        self.reply.say(*said.split("\n"))

    def panel(self) -> Panel:
        return Panel(self.widget, f"[a line for the log]\n{log_kept(self.session.evaluation, last=6).plain}")


@panel
def add_to_log(session: Session) -> Panel:
    """Boxes for one line of the log, which is only ever added to; the last lines stand above."""
    return AddToLog(session).panel()


class ShopPapers:
    """A button that writes the papers for the shop beside the design file, and says where they lie."""

    def __init__(self, session: Session):
        self.session, self.reply = session, Place()
        self.write = button("Write the papers", "print", self._write, width="14em")
        self.said = (
            "Four kinds of sheet to print on A4: stock and how it is sawn, orders, parts to tick off, and the coming two months."
            if session.path is not None
            else f"There is no working folder here, so no papers are written. In a working folder a button writes {SHOP_PAPERS} beside your design file: stock and how it "
            "is sawn, orders, parts to tick off, and the coming two months."
        )
        self.widget = widgets.VBox([Place(self.said), *([self.write] if session.path is not None else []), self.reply])

    @in_turn
    def _write(self) -> None:
        try:
            written = write_shop_papers(self.session.design, self.session.path.with_name(SHOP_PAPERS), self.session.today)
        except InputProblem as problem:
            self.reply.say(not_kept(problem))
            return
        self.reply.say(
            (
                f"Written: {written.name}, beside {self.session.path.name}. ",
                link_to(written, "Open the papers"),
                ", and print them on A4. They show what stands in your design and log now; write them again when that has changed.",
            )
        )

    def panel(self) -> Panel:
        return Panel(self.widget, self.said)


@panel
def shop_papers(session: Session) -> Panel:
    """A button that writes the papers for the shop."""
    return ShopPapers(session).panel()


@panel
def forecast_by_month(session: Session, log: str = YOURS) -> Panel:
    """The forecast as a fan, drawn again as it was seen from any month of the log."""
    canvas, picture = Canvas(key=f"fan-{log}"), PICTURES["forecast_fan"]
    shown = broad()
    shown.layout.max_width = "46em"  # picture and slider stand on one screen of 768 pixels

    def months() -> int:
        return int(whose(session.evaluation, log)["log_months"])

    slider = widgets.IntSlider(
        value=months(),
        min=min(1, months()),
        max=max(months(), 1),
        description="seen from month",
        style={"description_width": "10em"},
        layout=_wide(),
    )

    def draw(*_: object) -> None:
        last = slider.value >= months()
        shown.value = canvas.draw(picture, session.evaluation, log=log, month=None if last else float(slider.value))

    def grown() -> None:
        """A line more in the log moves the end of the slider along, and what stood at the end with it."""
        at_end = slider.value == slider.max
        slider.max = max(months(), 1)
        if at_end:
            slider.value = slider.max
        draw()

    slider.observe(draw, names="value")
    session.when_changed(grown)
    draw()
    return Panel(
        widgets.VBox([slider, shown]),
        f"[a month to choose, and the forecast seen from it]\n{picture.describe(session.evaluation, log=log)}",
    )
