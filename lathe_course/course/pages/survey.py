"""Chapter 14: builds of others beside the own design: a picture, what they tell, and which ways they took."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Sequence

import ipywidgets as widgets
import numpy as np

from ... import units
from ...design.asked.ways_told import ways_told
from ...design.evaluation import Evaluation
from ...design.files.survey import (
    ENDS,
    FEWEST,
    FIGURES,
    FINISHED,
    PLACES,
    STOPPED,
    Build,
    counted,
    demo_builds,
    lay_survey,
    read_survey,
    summary,
    survey_path,
    ways_of,
)
from ...planning.feasible import OpenWay
from ...units import InputProblem, Kind, LabourTime, Money
from ..pictures import PICTURES
from ..pictures.lessons import OWN_PLAN
from ..pictures.style import Canvas
from ..session import Session
from ..shown.panels import Live, Page, Panel, broad, button, how_to_read, tabled
from ..text.values import Fold
from ..turns import in_turn
from .register import panel

_INVENTED = "the invented set"
_YOURS = "your own survey"
_FEW = f"fewer than {FEWEST} say"
_Sets = tuple[tuple[str, Sequence[Build]], ...]
_Figure = Callable[[Build], float | None]


def own_builds(session: Session) -> tuple[tuple[Build, ...], str]:
    """The builds of the learner's sheet, and a sentence on where it lies, what is odd in it, or why it cannot be used."""
    if session.path is None:
        return (), "There is no working folder, so there is no survey of your own beside the invented set."
    path = survey_path(session.path)
    try:
        builds, remarks = read_survey(session.path)
    except InputProblem as problem:
        return (), str(problem)
    if not os.path.exists(path):
        return (), f"No survey of your own yet; it would lie beside your design file as {path.name}."
    counts = ", ".join(f"{number} {end}" for end in ENDS if (number := sum(one.ended == end for one in builds)))
    return builds, "\n".join(
        [
            f"Your own survey, {path.name}: {len(builds)} build{'' if len(builds) == 1 else 's'}{f' ({counts})' if counts else ''}.",
            *remarks,
        ]
    )


def _sets(builds: Sequence[Build]) -> _Sets:
    """The invented set, and the learner's own where there is one; they are never counted together."""
    return ((_INVENTED, demo_builds()), *(((_YOURS, builds),) if builds else ()))


# --- the picture -------------------------------------------------------------------------------------
class BuildsPanel:
    """The picture of all builds, a choice of what to compare, and the buttons of the learner's own sheet."""

    def __init__(self, session: Session, of: str):
        self.session, self._canvas = session, Canvas(key="builds of others")
        self.of = widgets.ToggleButtons(options=list(FIGURES), value=of, description="Compare")
        self.of.add_class("compare-builds")
        self.drawn = broad()
        self.sheet = broad()
        self.lay = button("Lay an empty survey", "file", self._lay, width="14em")
        self.again = button("Read it again", "refresh", self.session.read_lists_again, width="12em")
        self.of.observe(lambda _: self._show(), names="value")
        buttons = [self.lay, self.again] if session.path is not None else []
        self.widget = widgets.VBox([self.of, self.drawn, self.sheet, widgets.HBox(buttons)])
        session.when_changed(self._show)
        self._show()

    @in_turn
    def _show(self) -> None:
        builds, said = own_builds(self.session)
        self.drawn.value = self._canvas.draw(
            PICTURES["builds_of_others"], self.session.evaluation, of=self.of.value, builds=builds
        )
        self._say(said)

    @in_turn
    def _lay(self) -> None:
        try:
            path = lay_survey(self.session.path)
        except InputProblem as problem:
            self._say(str(problem))
            return
        self.session.read_lists_again()
        self._say(
            f"Laid: {path.name}, beside your design file. Open it in any spreadsheet, write a build a row, save it as CSV, and press “Read it again”."
        )

    def _say(self, text: str) -> None:
        self.sheet.say(*text.splitlines())

    def panel(self) -> Panel:
        words = PICTURES["builds_of_others"].describe(
            self.session.evaluation, of=self.of.value, builds=own_builds(self.session)[0]
        )
        return Panel(self.widget, f"[picture with a choice of {', '.join(FIGURES)}]\n{words}\n{own_builds(self.session)[1]}")


@panel
def builds_of_others(session: Session, of: str = "months") -> Panel:
    """Builds of others by size, planned against taken, with the own design among them; and the survey sheet to lay and read."""
    if of not in FIGURES:
        raise InputProblem.about("of", f"builds are compared by {', '.join(FIGURES)}, not by {of!r}.")
    return BuildsPanel(session, of).panel()


# --- figures -----------------------------------------------------------------------------------------
@panel
def survey_told(session: Session) -> Panel:
    """What the builds of others tell in figures: middles with lowest and highest, and how many say so."""
    return Live(lambda: _told_page(session.evaluation, own_builds(session)[0]), session.when_changed)


def _told_page(e: Evaluation, builds: Sequence[Build]) -> Page:
    e, sets = e.central, _sets(builds)
    head = ("", *(title for whose, _ in sets for title in (whose, "say so")), "your plan")
    rows = [*_figure_rows(e, sets), *_share_rows(sets)]
    said = [
        "Each cell: the middle one, and from the lowest to the highest. Planned is what they believed at the start; your own plan was worked out with lost "
        "months and waiting in it, so it may hold better than theirs did.",
        *_why_stopped(sets),
        "The invented set was made up for this course. It shows what a survey can tell, and proves nothing; your own survey is counted apart from it.",
    ]
    numeric = tuple(range(2, len(head) - 1, 2))
    return tabled(rows, head, numeric, after=said)


def _figure_rows(e: Evaluation, sets: _Sets) -> Iterable[tuple[str, ...]]:
    def row(words: str, figure: _Figure, shown: Callable[[float], str], ended: str = FINISHED, plan: str = "") -> tuple[str, ...]:
        return words, *(cell for _, some in sets for cell in _cells(some, figure, shown, ended)), plan

    def within(kind: Kind) -> Callable[[float], str]:
        return lambda value: units.shown(value, kind, e.design.system, 2)

    for what, kind in FIGURES.items():
        plan = e.shown(OWN_PLAN[what]) if np.isfinite(e[OWN_PLAN[what]]) else "never"
        yield row(f"{what}, finished builds", lambda one, what=what: one.came_to(what), within(kind), plan=plan)
        yield row(f"{what}, times what was planned", lambda one, what=what: one.overrun(what), lambda value: f"{value:.2g}")
    yield row("months until one was stopped", lambda one: one.came_to("months"), within(FIGURES["months"]), STOPPED)


def _cells(builds: Sequence[Build], figure: _Figure, shown: Callable[[float], str], ended: str) -> tuple[str, str]:
    """'24 months (10 to 48)' and how many say so."""
    some = [one for one in builds if one.ended == ended]
    found = summary(some, figure)
    if found is None:
        return _FEW, str(sum(figure(one) is not None for one in some))
    low, high = (shown(end).split(" ")[0] for end in (found.low, found.high))
    return f"{shown(found.middle)} ({low} to {high})", str(found.count)


def _share_rows(sets: _Sets) -> Iterable[tuple[str, ...]]:
    for words, fits in (
        ("finished, of those who built alone", lambda one: one.people == 1),
        ("finished, of those who built with others", lambda one: (one.people or 0) > 1),
    ):
        cells: list[str] = []
        for _, some in sets:
            ended = [one for one in some if fits(one) and one.ended in (FINISHED, STOPPED)]
            done = sum(one.ended == FINISHED for one in ended)
            cells += [f"{done} of {len(ended)}" if len(ended) >= FEWEST else _FEW, str(len(ended))]
        yield words, *cells, ""


def _why_stopped(sets: _Sets) -> Iterable[str]:
    for whose, some in sets:
        why = counted((one for one in some if one.ended == STOPPED), lambda one: one.why)
        if why:
            yield f"Why builds stopped, in {whose}: {', '.join(f'{word} ({number})' for word, number in why)}."


# --- ways --------------------------------------------------------------------------------------------
@panel
def ways_of_others(session: Session) -> Panel:
    """Which way finished and stopped builds took for bed, headstock and spindle, beside what each would mean in this design."""
    return Live(lambda: _ways_page(session.evaluation, own_builds(session)[0]), session.when_changed)


def _ways_page(e: Evaluation, builds: Sequence[Build]) -> Page:
    e, sets = e.central, _sets(builds)
    chosen = {one.way.part: one.way.how for one in e["ways_chosen"]}
    tables = []
    for place, parts in PLACES.items():
        ways = next((found for part in parts if (found := ways_told(e).of(part))), ())
        counts = [ways_of(some, place, ended) for _, some in sets for ended in (FINISHED, STOPPED)]
        head = (
            ways[0].way.part if ways else place,
            *("finished", "stopped"),
            *(("yours finished", "stopped") if len(sets) > 1 else ()),
            "in your design",
            "hours",
            "money",
        )
        rows = [
            (
                one.way.how,
                *(str(count.get(one.way.how, 0)) if count else "–" for count in counts),
                _stands(one, chosen.get(one.way.part, "")),
                units.shown(one.way.hours.likely, LabourTime("h"), digits=2),
                units.shown(one.way.money.likely, Money(), digits=2),
            )
            for one in ways
        ]
        tables.append(tabled(rows, head, (*range(1, len(counts) + 1), len(head) - 2, len(head) - 1)))
    said = (
        f"{'Finished and stopped' if len(sets) == 1 else 'The first finished and stopped'}: so many of the invented builds. Nothing stands where {_FEW}. Hours of your own "
        "and money hold for the size of your design, before your practice and local prices. You choose the way in chapter 10. That others finished with one is no promise: ask what they had at hand."
    )
    first, *others = tables
    named = (f"{page.blocks[0].head[0]}: {len(page.blocks[0].rows)} ways" for page in others)
    return Page(first, *(Fold(name, page.blocks, told=True) for name, page in zip(named, others))) + how_to_read(said)


def _stands(way: OpenWay, chosen: str) -> str:
    if way.way.how == chosen:
        return "✓ chosen" if way.open else "✗ chosen, but not open"
    return "open" if way.open else "not open"


# --- words -------------------------------------------------------------------------------------------
@panel
def survey_words(session: Session) -> Panel:
    """What builders would do again, and what never again, in their words."""
    return Live(lambda: _words_page(own_builds(session)[0]), session.when_changed)


def _words_page(builds: Sequence[Build]) -> Page:
    tables = []
    for whose, some in reversed(_sets(builds)):
        rows = [
            (one.builder, f"{one.ended}: {one.why}" if one.why else one.ended, one.again, one.not_again)
            for one in some
            if one.again or one.not_again
        ]
        if rows:
            head = (f"from {whose}", "how it ended", "again", "not again")
            inner = tabled(rows, head)
            folded = Page(Fold(f"{len(rows)} answers from {whose}", inner.blocks, told=True))
            tables.append(inner if whose == _YOURS else folded)
    return Page(*tables)
