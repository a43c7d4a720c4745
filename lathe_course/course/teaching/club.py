"""A club evening round a projector: a run sheet to the minute, a clock, setbacks dealt to groups, and the wall that compares them.

``evening = club_evening("red", "blue")`` names the groups' folders, design files that were handed in, or
demos; ``evening.projector()``, ``evening.run_sheet("19:00")``, ``evening.clock()``, ``evening.first_round()``, ``evening.setbacks("spring")``,
``evening.mend()`` and ``evening.wall()`` show the rest, and ``evening.paper()`` prints.
"""

from __future__ import annotations

import os
import re
from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path

import ipywidgets as widgets

from ...design.demos import demo
from ...design.design import Design
from ...design.files.design_file import load
from ...design.files.lists import read_lists
from ...design.lathe import LATHE
from ...units import InputProblem
from ..folder.workspace import DESIGN_FILE, design_path
from ..printed.document import link_to
from ..session import Session
from ..shown.panels import Page, Panel, Place, broad, button, paragraphs, set_out
from ..shown.projector import projector
from ..text.values import Paragraph, Part, strong
from ..turns import in_turn
from .club_pages import hand_out_html, named, run_sheet, write_hand_out, write_take_home, write_wall
from .club_panels import Mending, for_groups, path_of
from .setbacks import Dealt, keep, struck_by
from .side_by_side import SideBySide, own_names, side_by_side, tables, wall_text

#: minutes and what happens in them
PARTS: tuple[tuple[int, str], ...] = (
    (5, "Groups of three or four sit down, choose a name and share out the roles."),
    (25, "First round: each group answers for the lathe it would build, and reads what it would be."),
    (20, "First setback, the same for all: read it aloud, say what it moves, mend, write the reason down."),
    (20, "Second setback, another for each group: the same again."),
    (15, "The wall: each group tells one thing that fails and one that it gave up, and why. Nobody counts points."),
    (5, "Each prints the page to take home, and says by when the first decision is settled."),
)
ROLES = {
    "hand": "works the laptop, and changes nothing that the group has not said",
    "voice": "reads aloud what is asked and what is found, and asks what a word means",
    "pencil": "writes down each decision with its reason, and what was given up for it",
    "guard": "asks of each change who could be hurt by it, and what only licensed people may do",
}
_DEMOS = ("boat_shed", "cabin", "shared_barn")


def club_evening(*groups: str) -> ClubEvening:
    """An evening for the groups named; without any, for the three demos, to try it out beforehand."""
    return ClubEvening(groups or _DEMOS)


class ClubEvening:
    """Groups by the folder, file or demo of each; read anew each time something is shown, so that what was mended counts."""

    def __init__(self, groups: Sequence[str]):
        self.groups = tuple(groups)
        self._sessions: dict[str, Session] = {}

    def session(self, group: str) -> Session:
        """What a group works on at this laptop: its folder or the file it handed in, or a demo, of which nothing is written."""
        if group not in self._sessions:
            if _is_demo(group):
                self._sessions[group] = Session(alone=True, demo_name=group)
            else:
                path = _path(group)
                path = path / DESIGN_FILE if os.path.isdir(path) else path
                if not os.path.isfile(path):
                    raise InputProblem.about(
                        "group",
                        f"{group}: there is no design file {path.name} there. Make the folder with: lathe-course start {group} --folder-only",
                    )
                self._sessions[group] = Session(path.absolute())
        return self._sessions[group]

    def designs(self) -> list[Design]:
        """Each group's design as it stands in its file; InputProblem with all that cannot be read."""
        found, problems = [], []
        for name in self.groups:
            try:
                found.append(self._design(name))
            except InputProblem as problem:
                problems += [("group", f"{name}: {sentence}") for _, sentence in problem.problems]
        if problems:
            raise InputProblem(problems)
        return found

    def _design(self, name: str) -> Design:
        if _is_demo(name):
            return self._sessions[name].design if name in self._sessions else demo(name)
        path = _path(name)
        path = path / DESIGN_FILE if os.path.isdir(path) else path
        design = load(path, LATHE)
        return replace(design, sheets=read_lists(path, design).building)

    def _designs_by_name(self) -> dict[str, Design]:
        """The groups' designs, each under its own name, in the order of the groups."""
        designs = self.designs()
        return dict(zip(own_names(designs, [str(_path(name)) for name in self.groups]), designs))

    # --- what is shown ----------------------------------------------------------------------------
    def projector(self) -> Panel:
        """The switch for large letters, which the whole page obeys."""
        return projector()

    def run_sheet(self, start: str = "19:00") -> Page:
        """When each part begins, and who does what."""
        return Page(run_sheet(_times(start)), named(ROLES))

    def clock(self) -> Panel:
        """The part that runs and the minutes left of it, in large type; started, stopped and set back by its buttons."""
        view = Place()
        ticks = widgets.Play(min=0, max=60 * sum(length for length, _ in PARTS), interval=1000, value=0)

        def show(change: object = None) -> None:
            view.value = set_out(Paragraph(self.at(ticks.value), "clock"))

        ticks.observe(show, names="value")
        show()
        return Panel(
            widgets.VBox([ticks, view]),
            f"[a clock of {sum(length for length, _ in PARTS)} minutes] It runs here when the notebook runs.",
        )

    @staticmethod
    def at(seconds: int) -> str:
        """What the clock says so long after the beginning."""
        left = seconds
        for length, what in PARTS:
            if left < 60 * length:
                rest = 60 * length - left
                return f"{rest // 60}:{rest % 60:02}  {what}"
            left -= 60 * length
        return "0:00  End."

    def setbacks(self, seed: str, rounds: int = 1, each: bool = False) -> Panel:
        """Two buttons: one turns over what the words of ``seed`` deal, and tells what it does to each group as its design stands now; one writes that into the designs."""
        view, reply, turned = broad(), broad(), []

        def let_happen() -> Page:
            said = keep(
                seed, turned, {name: self.session(group).change for name, group in zip(self._designs_by_name(), self.groups)}
            )
            return paragraphs(*said.splitlines())

        happens = _button("Let it happen", "bolt", let_happen, reply)
        happens.disabled = True

        def turn() -> Page:
            turned[:] = struck_by(seed, self._designs_by_name(), rounds, each)
            happens.disabled, reply.value = False, ""
            return _cards(turned)

        return Panel(
            widgets.VBox(
                [
                    _button("Turn the cards over" if each or rounds > 1 else "Turn the card over", "clone", turn, view),
                    view,
                    happens,
                    reply,
                ]
            ),
            "[two buttons: one turns the card over and tells what it does to each group, one writes that into each group's design, with what stood before as history]",
        )

    def first_round(self) -> Panel:
        """The first round for each group in turn, kept in its own file: answers, draft, board, and build or buy."""
        return self._for_groups(
            path_of, "[a button for each group; below it the first round, step by step, on that group's own design]"
        )

    def mend(self) -> Panel:
        """What presses in each group's design, what would mend it, and a decision settled anew with its reason."""
        return self._for_groups(
            lambda session: Mending(session).widget,
            "[a button for each group; below it what fails in that group's design, what would mend it, and a decision to settle anew with its reason]",
        )

    def _for_groups(self, made: Callable[[Session], widgets.Widget], said: str) -> Panel:
        names = dict(
            zip(self.groups, own_names([demo(_DEMOS[0])] * len(self.groups), [str(_path(name)) for name in self.groups]))
        )

        def of(group: str) -> widgets.Widget:
            try:
                session = self.session(group)
                session.look()
                where = (
                    session.where
                    if session.path is None or session.stand_in
                    else f"{session.path.parent.name}/{session.path.name}"
                )
                return widgets.VBox([Place((strong(names[group]), f" works on {where}.")), made(session)])
            except InputProblem as problem:
                return Place(str(problem))

        def again(group: str) -> None:
            """What was kept elsewhere meanwhile, by a setback or on the group's own laptop, counts."""
            if group in self._sessions:
                self._sessions[group].look()

        return for_groups(names, of, again, said)

    def paper(self, start: str = "19:00") -> Panel:
        """Three buttons: the hand-out for a week before, the wall as a page, and for each group the page to take home."""
        rows, reply = _times(start), broad()

        def button(words: str, write: Callable[[], Sequence[Path]]) -> widgets.Button:
            return _button(words, "print", lambda: _links(write()), reply)

        def read(write: Callable[[Sequence[Design], Sequence[str]], Sequence[Path]]) -> Sequence[Path]:
            found = self._designs_by_name()
            return write(list(found.values()), list(found))

        return Panel(
            widgets.VBox(
                [
                    button("Hand-out beforehand", lambda: [write_hand_out(hand_out_html(rows, ROLES, demo(_DEMOS[0])))]),
                    button("Wall page", lambda: read(lambda designs, names: [write_wall(designs, names)])),
                    button("Pages to take home", lambda: read(write_take_home)),
                    reply,
                ]
            ),
            "[three buttons write the hand-out, the wall and each group's page to take home, to print]",
        )

    def wall(self) -> Panel:
        """All groups side by side: what fails, money and date, and the reasons; the rest folded. A button looks again."""
        told = self._wall()
        view = broad()
        view.value = set_out(tables(told))
        view.layout.max_width = "100%"
        return Panel(
            widgets.VBox([_button("As the designs stand now", "refresh", lambda: tables(self._wall()), view), view]),
            wall_text(told),
        )

    def _wall(self) -> SideBySide:
        found = self._designs_by_name()
        return side_by_side(list(found.values()), list(found))

    def __repr__(self) -> str:
        return f"A club evening of {len(self.groups)} groups: {', '.join(self.groups)}."


def _button(words: str, icon: str, write: Callable[[], Page], place: Place) -> widgets.Button:
    """A button that shows in ``place`` what ``write`` gives, or in sentences why it cannot."""

    @in_turn
    def press() -> None:
        try:
            place.say(write())
        except InputProblem as problem:
            place.say(str(problem))

    return button(words, icon, press, width="18em")


def _links(written: Sequence[Path]) -> Page:
    links = [part for one in written for part in (", ", link_to(one))][1:]
    return paragraphs(("Written: ", *links, ". Open and print from there."))


def _cards(dealt: Sequence[Dealt]) -> Page:
    """Cards in letters for a wall."""
    told: list[Part] = []
    for card in dealt:
        effects = (
            Paragraph((*((strong(name), "\n") if len(card.groups) > 1 else ()), "\n".join(lines)), "effect")
            for name, lines in card.effects()
        )
        title = Paragraph(strong(card.title), "title")
        told.append(Part("card", (title, Paragraph(card.setback.story), *effects, Paragraph(card.setback.ask))))
    return Page(*told)


def _times(start: str) -> list[tuple[str, str, str]]:
    """The run sheet: begins, takes, what."""
    found = re.fullmatch(r"\s*(\d{1,2})[:.](\d{2})\s*", start)
    if not found or int(found[1]) > 23 or int(found[2]) > 59:
        raise InputProblem.about("start", f"{start!r} is no time of day; write it as in '19:00'.")
    minute, rows = int(found[1]) * 60 + int(found[2]), []
    for length, what in PARTS:
        rows.append((f"{minute // 60 % 24:02}:{minute % 60:02}", f"{length} min", what))
        minute += length
    rows.append((f"{minute // 60 % 24:02}:{minute % 60:02}", "", "End."))
    return rows


def _path(name: str) -> Path:
    """Where a group's folder or file lies: as written, or beside the working folder one stands in."""
    path, own = Path(name).expanduser(), design_path()
    beside = own.parent.parent / path if own else path
    return path if os.path.exists(path) or not os.path.exists(beside) else beside


def _is_demo(name: str) -> bool:
    path = _path(name)
    return not os.path.exists(path) and not path.suffix and len(path.parts) == 1
