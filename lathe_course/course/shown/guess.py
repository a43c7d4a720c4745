"""A guess before the figure: asked, kept with the design, and played back."""

from __future__ import annotations

import ipywidgets as widgets

from ... import units
from ...units import InputProblem
from ..session import Session
from ..text.values import Fold
from .panels import Page, Panel, Place, button, paragraphs

#: share by which a figure has moved when it is another: above what three shown digits round away
_ANOTHER = 0.01


class Guess:
    """One question whose answer is a result of the chain."""

    def __init__(self, session: Session, chapter: str, key: str, question: str, result: str):
        self.session, self.chapter, self.key, self.question, self.result = session, chapter, key, question, result
        self.kind = session.design.chain.part(result).kind
        unit = units.unit_text(self.kind, session.design.system)
        # labelled entries, so that a screen reader and a projector both say what is asked
        self.entry = widgets.Text(
            value=self.kept or "",
            placeholder=f"a number with its unit, such as 10 {unit}".strip(),
            description="my guess",
            continuous_update=False,
            layout=widgets.Layout(width="32em"),
        )
        self.button = button("Keep my guess", "check", self._keep, width="12em")
        self.reply = Place()
        self.entry.observe(lambda _: self._keep(), names="value")  # the key Enter keeps it as well
        self.widget = widgets.VBox(
            [Place(question), widgets.HBox([self.entry, self.button], layout=widgets.Layout(flex_flow="row wrap")), self.reply]
        )

    @property
    def kept(self) -> str | None:
        return self.session.design.guesses.get(self.chapter, {}).get(self.key)

    def _keep(self) -> None:
        text = self.entry.value.strip()
        try:
            if self._read(text) < 0 <= self.session.evaluation.middle(self.result) and self.kind.what != units.Money().what:
                raise InputProblem.about(
                    "your guess",
                    f"your guess {text!r} is below zero, and this cannot be; write what you would expect, "
                    f"for example {self.kind.example!r}.",
                )
            figure = self.session.evaluation.shown(self.result)
            self.session.change(lambda design: design.guess(self.chapter, self.key, text).note(self._note, figure))
        except InputProblem as problem:
            self.reply.say(str(problem))
            return
        self.reply.say("Kept. Play on; you will meet it again further down.")

    @property
    def _note(self) -> str:
        """The note of the design file that keeps what the figure was when the guess was made."""
        return f"figure when {self.key} was guessed in chapter {self.chapter}"

    def _read(self, text: str) -> float:
        return units.read(units.in_lists_money(text, self.kind, self.session.design.system), self.kind, "your guess")

    def _then(self) -> float:
        """The figure the guess was made on, SI; not a number where it is not known, or was spoilt by hand."""
        try:
            return self._read(self.session.design.notes.get(self._note, ""))
        except InputProblem:
            return float("nan")

    def panel(self) -> Panel:
        return Panel(self.widget, f"[a guess] {self.question}")

    def page(self, spread: bool = False) -> Page:
        """The guess beside the figure, with how far off in plain words; or beside its spread."""
        evaluation = self.session.drawn if spread else self.session.evaluation
        figure = evaluation.shown_spread(self.result)
        label = evaluation.chain.part(self.result).label
        if not self.kept:
            hidden = paragraphs(f"{label}: {figure}.").blocks
            return paragraphs("You kept no guess yet.") + Page(Fold("Show it without one", hidden, told=True))
        try:
            mine = self._read(self.kept)
        except InputProblem as problem:  # the design file may have been changed by hand
            said = f"{problem} Keep another one. {label}: {figure}."
            return paragraphs(said)
        low, middle, high = evaluation.spread(self.result)
        then, system = self._then(), self.session.design.system
        if abs(then - evaluation.central[self.result]) > _ANOTHER * abs(then):  # the guess belongs to the design it was made on
            said = (
                f"You guessed {units.shown(mine, self.kind, system)} when it was {units.shown(then, self.kind, system)} on your design. {_how_far(mine, then)} "
                f"Your design has changed since; {label} is now {figure}."
            ).replace("  ", " ")
            return paragraphs(said)
        inside = "That lies inside what can be known so far." if low <= mine <= high and low < high else _how_far(mine, middle)
        said = f"You guessed {units.shown(mine, self.kind, self.session.design.system)}; {label}: {figure}. {inside}"
        return paragraphs(said)


def _how_far(guess: float, figure: float) -> str:
    if guess * figure <= 0:
        return ""
    times = guess / figure
    if 0.8 <= times <= 1.25:
        return "That is close."
    return (
        f"Your guess was {units.number(times, 2)} times as large."
        if times > 1
        else f"It is {units.number(1 / times, 2)} times as large as you guessed."
    )
