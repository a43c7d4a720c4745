"""What a group does on a club evening at the laptop of the projector: the first round on its own file, and mending after a setback."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

import ipywidgets as widgets

from ...design.asked.levers import levers
from ...design.lathe import LATHE
from ..pages import show
from ..session import Session
from ..shown.few import pressing_first
from ..shown.panels import Panel, Place, broad, set_out
from ..shown.play import Keep, turning
from ..shown.views import verdict
from ..text.values import strong
from ..turns import in_turn

#: the first round in steps that a group can take in turns with others at one laptop: title, and what is shown as in chapter 00b
STEPS: tuple[tuple[str, tuple[tuple[str, Mapping[str, Any]], ...]], ...] = (
    ("1 why, and what", (("answers", {"of": "reasons"}), ("jobs_wished", {}))),
    ("2 hours, money, until when", (("answers", {"of": "can, should, until, must"}),)),
    ("3 place, people, machines", (("answers", {"of": "place, home, company, practice, machines, near"}),)),
    ("4 the draft", (("first_draft", {}), ("draft_reasons", {}), ("drafts_beside", {}))),
    ("5 the board", (("board", {}),)),
    ("6 build, or buy used", (("answer_so_far", {}),)),
)


def for_groups(
    names: Mapping[str, str], made: Callable[[str], widgets.Widget], again: Callable[[str], object], said: str
) -> Panel:
    """A row of buttons, one for each group, and below it what ``made(group)`` gives for the one that is pressed; made when it is first asked for, and ``again(group)`` called later."""
    pick = widgets.ToggleButtons(options=[(shown, group) for group, shown in names.items()], value=None)
    place = widgets.VBox()
    ready: dict[str, widgets.Widget] = {}

    @in_turn
    def turn(change: dict) -> None:
        group = change["new"]
        if group is None:
            return
        if group not in ready:
            place.children = (Place("One moment …"),)
            ready[group] = made(group)
        else:
            again(group)
        place.children = (ready[group],)

    pick.observe(turn, names="value")
    shown = Panel(widgets.VBox([pick, place]), said)
    shown.pick, shown.place = pick, place
    return shown


def path_of(session: Session) -> widgets.Widget:
    """The first round of one group, step by step; each step is made when it is first taken."""
    step = widgets.ToggleButtons(
        options=[(title, number) for number, (title, _) in enumerate(STEPS)], value=0, style={"button_width": "auto"}
    )
    place = widgets.VBox()
    ready: dict[int, widgets.Widget] = {}

    @in_turn
    def turn(change: object = None) -> None:
        number = step.value
        if number not in ready:
            ready[number] = widgets.VBox([show(session, name, dict(asked)).widget for name, asked in STEPS[number][1]])
        place.children = (ready[number],)

    turn()
    step.observe(turn, names="value")
    return widgets.VBox([step, place])


class Mending:
    """What fails or is tight in a group's design, what would turn it, and a decision settled anew with its reason."""

    def __init__(self, session: Session):
        self.session = session
        wide, layout = {"description_width": "10em"}, widgets.Layout(width="44em", max_width="95%")
        self.finding = widgets.Dropdown(description="fails or is tight", style=wide, layout=layout)
        self.decision = widgets.Dropdown(description="decide anew", style=wide, layout=layout)
        self.told, self.place = broad(), widgets.VBox()
        self.widget = widgets.VBox([self.finding, self.told, self.decision, self.place])
        self._fill()
        self.finding.observe(self._turn, names="value")
        self.decision.observe(lambda _: self._settle(), names="value")
        self._turn()
        session.when_changed(self._changed)

    def _pressing(self) -> list[tuple[str, str]]:
        evaluation = self.session.evaluation
        found = [one for one in pressing_first(evaluation.findings.values(), evaluation) if one.presses]
        return [(f"{verdict(one)}: {one.label} ({one.chapter})", one.name) for one in found]

    def _fill(self) -> None:
        options, now = self._pressing(), self.finding.value
        self.finding.options = options
        known = [name for _, name in options]
        self.finding.value = now if now in known else known[0] if known else None

    @in_turn
    def _turn(self, _: object = None) -> None:
        """What would turn the finding that is chosen; its levers come first among the decisions."""
        name = self.finding.value
        if name is None:
            self.told.value, self.decision.options, self.place.children = (
                set_out("Nothing fails here, and nothing is tight."),
                [],
                (),
            )
            return
        self.told.value = set_out(turning(self.session, name))
        first = [lever.decision for lever in levers(self.session.evaluation, name)]
        behind = [one for one in LATHE.decisions if one in LATHE.upstream(name) and one not in first]
        self.decision.options = [
            ("choose one", ""),
            *((f"{LATHE.decisions[one].chapter} {LATHE.decisions[one].label}", one) for one in (*first, *behind)),
        ]
        self.decision.value = ""

    @in_turn
    def _settle(self) -> None:
        self.place.children = (Keep(self.session, [self.decision.value]).widget,) if self.decision.value else ()

    def _changed(self) -> None:
        """After a change the list is what presses now; the decision that was just settled stays in view with its reply."""
        chosen = self.finding.value
        self.finding.unobserve(self._turn, names="value")
        self._fill()
        self.finding.observe(self._turn, names="value")
        if self.finding.value is not None:
            head = "" if self.finding.value == chosen else (strong("That no longer presses."), " What presses most now:")
            self.told.value = set_out(head, turning(self.session, self.finding.value))
        else:
            self.told.value = set_out("Nothing fails here any more, and nothing is tight.")
