"""A club evening round a projector: a run sheet to the minute, a clock, setbacks dealt to groups, and the wall that compares them.

``evening = club_evening("red", "blue")`` names the groups' folders, design files that were handed in, or
demos; ``evening.run_sheet("19:00")``, ``evening.clock()``, ``evening.setbacks("spring")`` and ``evening.wall()`` show the rest.
"""
from __future__ import annotations

import re
from collections.abc import Sequence
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
from ..shown.panels import Page, Panel, escape, framed
from .setbacks import deal, strike, struck, struck_text
from .side_by_side import compare_text, own_names, side_by_side, tables_html

__all__ = ["PARTS", "ROLES", "ClubEvening", "club_evening"]

#: minutes and what happens in them
PARTS: tuple[tuple[int, str], ...] = (
    (5, "Groups of three or four sit down, choose a name and share out the roles."),
    (25, "First round: each group answers for the lathe it would build, and reads what it would be."),
    (20, "First setback, the same for all: read it aloud, say what it moves, mend, write the reason down."),
    (20, "Second setback, another for each group: the same again."),
    (15, "The wall: each group tells one thing that fails and one that it gave up, and why. Nobody counts points."),
    (5, "Each prints the page to take home, and says by when the first decision is settled."),
)
ROLES = {"hand": "works the laptop, and changes nothing that the group has not said",
         "voice": "reads aloud what is asked and what is found, and asks what a word means",
         "pencil": "writes down each decision with its reason, and what was given up for it",
         "guard": "asks of each change who could be hurt by it, and what only licensed people may do"}
_DEMOS = ("boat_shed", "cabin", "shared_barn")


def club_evening(*groups: str) -> ClubEvening:
    """An evening for the groups named; without any, for the three demos, to try it out beforehand."""
    return ClubEvening(groups or _DEMOS)


class ClubEvening:
    """Groups by the folder, file or demo of each; read anew each time something is shown, so that what was mended counts."""

    def __init__(self, groups: Sequence[str]):
        self.groups = tuple(groups)

    def designs(self) -> list[Design]:
        """Each group's design as it stands in its file; InputProblem with all that cannot be read."""
        found, problems = [], []
        for name in self.groups:
            try:
                found.append(_design(name))
            except InputProblem as problem:
                problems += [("group", f"{name}: {sentence}") for _, sentence in problem.problems]
        if problems:
            raise InputProblem(problems)
        return found

    def names(self, designs: Sequence[Design]) -> tuple[str, ...]:
        return own_names(designs, [str(_path(name)) for name in self.groups])

    # --- what is shown ----------------------------------------------------------------------------
    def run_sheet(self, start: str = "19:00") -> Page:
        """When each part begins, and who does what."""
        found = re.fullmatch(r"\s*(\d{1,2})[:.](\d{2})\s*", start)
        if not found or int(found[1]) > 23 or int(found[2]) > 59:
            raise InputProblem([("start", f"{start!r} is no time of day; write it as in '19:00'.")])
        minute, rows = int(found[1]) * 60 + int(found[2]), []
        for length, what in PARTS:
            rows.append((f"{minute // 60 % 24:02}:{minute % 60:02}", f"{length} min", what))
            minute += length
        rows.append((f"{minute // 60 % 24:02}:{minute % 60:02}", "", "End."))
        table = "".join(f"<tr><th scope='row'>{when}</th><td>{length}</td><td>{escape(what)}</td></tr>" for when, length, what in rows)
        roles = "".join(f"<li><b>{role}</b> {escape(does)}</li>" for role, does in ROLES.items())
        plain = "\n".join([*(f"{when}  {length:6}  {what}" for when, length, what in rows), *(f"{role}: {does}" for role, does in ROLES.items())])
        return Page(f"<table><tr><th scope='col'>begins</th><th scope='col'>takes</th><th scope='col'>what</th></tr>{table}</table><ul>{roles}</ul>", plain)

    def clock(self) -> Panel:
        """The part that runs and the minutes left of it, in large type; started, stopped and set back by its buttons."""
        view = widgets.HTML()
        ticks = widgets.Play(min=0, max=60 * sum(length for length, _ in PARTS), interval=1000, value=0)

        def show(change: object = None) -> None:
            view.value = framed(f"<p style='font-size:2.5rem;line-height:1.2'>{escape(self.at(ticks.value))}</p>")
        ticks.observe(show, names="value")
        show()
        return Panel(widgets.VBox([ticks, view]), f"[a clock of {sum(length for length, _ in PARTS)} minutes] It runs here when the notebook runs.")

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

    def setbacks(self, seed: str, rounds: int = 1, each: bool = False) -> Page:
        """Cards dealt by the words of ``seed``, and what each does to the group it falls to; nothing is written."""
        designs = self.designs()
        told = []
        for name, design, hand in zip(self.names(designs), designs, deal(seed, designs, rounds, each)):
            for card in hand:
                told.append(struck_text(name, struck(design, card)))
                design = strike(design, card)
        markup = "".join(f"<p style='font-size:1.5rem'>{escape(text.splitlines()[0])}</p><ul style='font-size:1.2rem'>"
                         + "".join(f"<li>{escape(line.strip())}</li>" for line in text.splitlines()[1:]) + "</ul>" for text in told)
        return Page(markup, "\n\n".join(told))

    def wall(self) -> Page:
        """All groups side by side: what fails or differs, money and date, and the reasons."""
        designs = self.designs()
        names = self.names(designs)
        return Page(tables_html(side_by_side(designs, names)), compare_text(designs, names))

    def __repr__(self) -> str:
        return f"A club evening of {len(self.groups)} groups: {', '.join(self.groups)}."


def _path(name: str) -> Path:
    """Where a group's folder or file lies: as written, or beside the working folder one stands in."""
    path, own = Path(name).expanduser(), design_path()
    beside = own.parent.parent / path if own else path
    return path if path.exists() or not beside.exists() else beside


def _design(name: str) -> Design:
    path = _path(name)
    if not path.exists() and not path.suffix and len(path.parts) == 1:
        return demo(name)
    path = path / DESIGN_FILE if path.is_dir() else path
    design = load(path, LATHE)
    return replace(design, sheets=read_lists(path, design).building)
