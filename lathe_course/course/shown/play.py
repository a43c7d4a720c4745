"""Play: controls, a picture that follows them, and the figures and findings they move."""

from __future__ import annotations

import functools
import itertools
from collections.abc import Callable, Iterable, Sequence
from typing import Any

import ipywidgets as widgets

from ...design.asked.room import room
from ...design.evaluation import Evaluation, evaluate
from ...nearest import nearest_or_all
from ...units import InputProblem
from ..pictures import PICTURES
from ..pictures.style import Canvas
from ..session import Session
from ..text.markup import GRID
from ..text.values import Fold, strong
from ..turns import Rest, in_turn
from .controls import Control, controls
from .few import MOST, pressing_first
from .panels import Panel, Place, button, not_kept, paragraphs, set_out, tabled
from .views import change_of, findings_table, levers_page, minding, results_rows, ripple_page

_COUNT = itertools.count(1)  # no two pictures of a page share the names of their parts


class Play:
    """Controls for some decisions, tried out without being kept.

    ``picture`` is a name from the pictures; ``results`` are names to show as figures, now
    beside the kept design; findings are those the decisions push on, of ``chapters``.
    A move works out only what it touches, and the one persistent figure is drawn anew.  Under a
    moving finger figures are the middling ones; ``draws`` come once it rests.
    """

    def __init__(
        self,
        session: Session,
        decisions: Iterable[str],
        picture: str | None = None,
        results: Iterable[str] = (),
        findings: Iterable[str] | None = None,
        draws: int | None = None,
        **extra: Any,
    ):
        self.session, self.draws, self.extra = session, draws, extra
        self.controls: dict[str, Control] = controls(session.design, decisions)
        self.results = tuple(results)
        chain = session.design.chain
        if findings is None:
            touched = (
                frozenset().union(*(chain.downstream(name) for name in self.controls))
                if self.controls
                else frozenset(chain.limits)
            )
            findings = [name for name in chain.limits if name in touched]
        self.findings = tuple(findings)
        self.base = self._evaluate(session.design)
        self.now: Evaluation = self.base
        self._quiet = False
        self._rest = Rest(self._at_rest)
        self._drawn = None if picture is None else _drawer(picture)
        self._build()
        self._show()
        session.when_changed(self._kept)

    def _evaluate(self, design, earlier: Evaluation | None = None) -> Evaluation:
        return evaluate(design, self.draws, earlier)

    # --- widgets ----------------------------------------------------------------------------------
    def _build(self) -> None:
        self.picture, self.figures = (widgets.HTML(layout=widgets.Layout(width="100%", margin="0")) for _ in range(2))
        self.back = button("Back to my design", "undo", self.reset, width="14em")
        for one in self.controls.values():
            one.when_moved(self._moved)
        parts = [self.figures.add_class("lc-figures")]
        if self._drawn is not None:
            parts.insert(0, self.picture.add_class("lc-picture"))
        if self.controls:
            places = [one.place for one in self.controls.values()]
            parts.insert(0, widgets.VBox([*places, self.back]).add_class("lc-controls"))
        self.widget = widgets.VBox(
            [widgets.HTML(GRID), widgets.Box(parts).add_class("lc-play" if self.controls else "lc-plain")]
        ).add_class("lc-frame")

    @in_turn
    def reset(self) -> None:
        """Move every control back to the kept design."""
        self._quiet = True
        for one in self.controls.values():
            one.show(self.session.design)
        self._quiet = False
        self._moved()

    def _kept(self) -> None:
        self.base = self._evaluate(self.session.design, self.base)
        if not self.session.noticed:
            self.reset()
            return
        self._quiet = True  # kept in another notebook: what is tried out here stays where it is
        for one in self.controls.values():
            if not one.moved:
                one.show(self.session.design)
        self._quiet = False
        self._work_out()

    # --- moving -----------------------------------------------------------------------------------
    @in_turn
    def _moved(self) -> None:
        if self._quiet:
            return
        self.session.look()
        self._work_out()

    def _work_out(self) -> None:
        tried = self.session.design.trying(**{name: one.value for name, one in self.controls.items() if one.moved})
        later = self.draws and self._rest.moved()  # the draws come at rest, or at once where nothing could call for them
        self.now = evaluate(tried, earlier=self.now.central) if later else self._evaluate(tried, self.now)
        self._show()

    @in_turn
    def _at_rest(self) -> None:
        self.now = self._evaluate(self.now.design, self.base)
        self._show()

    def _show(self) -> None:
        if self._drawn is not None:
            self.picture.value = self._drawn(self.now, **self.extra)
        self.figures.value = self._told()

    def _told(self) -> str:
        base = self.base if self.now.draws else self.base.central
        rows = [
            (*row, change_of(self.now, base, name)) for name, row in zip(self.results, results_rows(self.now, self.results, base))
        ]
        findings = [self.now.findings[name] for name in self.findings]
        if len(findings) > MOST:  # a few stand still while a finger moves; of many those come first that press
            findings = pressing_first(findings, self.now)
        return set_out(
            self.session.noticed,
            tabled(rows, ("", "now", "kept", ""), (1, 2, 3)) if rows else "",
            findings_table(findings, cautions=False) if findings else "",
            live=True,
        )

    # --- plain twin -------------------------------------------------------------------------------
    @property
    def plain(self) -> str:
        labels = ", ".join(one.decision.label for one in self.controls.values())
        said = "\n".join(f"  {label}: {now}" for label, now, _ in results_rows(self.base, self.results, self.base))
        head = f"[picture with controls: {labels}]" if labels else "[picture]"
        return head + (f"\n{said}" if said else "")

    def panel(self) -> Panel:
        return Panel(self.widget, self.plain)


class Keep:
    """Settle decisions: controls, a reason, and what it moved."""

    def __init__(self, session: Session, decisions: Iterable[str]):
        self.session = session
        self.controls = controls(session.design, decisions)
        self.reason = widgets.Textarea(
            description="your reason",
            placeholder="because … (in your own words; may stay empty)",
            layout=widgets.Layout(width="95%", height="4em"),
        ).add_class("lc-unseen")
        self.button = button("Keep this decision", "check", self._keep, width="16em", primary=True)
        self.reply = Place()
        self.room, self.remarks = widgets.HTML(), widgets.HTML()
        for one in self.controls.values():
            one.when_moved(self._touched)
        places = widgets.Box([one.place for one in self.controls.values()]).add_class("lc-form")
        self.widget = widgets.VBox(
            [widgets.HTML(GRID), places, self.remarks, self.reason, self.button, self.reply, self.room]
        ).add_class("lc-frame")
        self._room()
        self._remarks()
        session.when_changed(self._changed)

    @in_turn
    def _keep(self) -> None:
        reason = self.reason.value.strip()
        moved = {name: one.written for name, one in self.controls.items() if one.moved}
        try:
            self.session.keep(
                reason, left_alone=[name for name in self.controls if name not in moved], near=self._changed, **moved
            )
        except InputProblem as problem:
            self.reply.say(not_kept(problem))
            return
        now = self.session.evaluation
        page = minding(ripple_page(self.session.evaluation_before, now), now.doubts(self.controls))
        self.reply.say(strong(f"{self.session.kept_where}."), self.session.noticed, page)
        for one in self.controls.values():
            one.show(self.session.design)

    def _touched(self) -> None:
        if said := self.session.look():
            self.reply.say(said)

    def _changed(self) -> None:
        """What the learner has not moved follows the design; what they are about to settle stays."""
        for one in self.controls.values():
            if not one.moved:
                one.show(self.session.design)
        self._room()
        self._remarks()

    def _remarks(self) -> None:
        """What a mentor said of these decisions, before they are settled anew."""
        told = [
            f"{one.decision.label}. {said}"
            for name, one in self.controls.items()
            for said in self.session.design.remarks_on(name)
        ]
        self.remarks.value = set_out(*told) if told else ""

    def _room(self) -> None:
        rooms = [room(self.session.evaluation, name) for name, one in self.controls.items() if one.decision.numeric]
        told = [one for one in rooms if one.low_stop or one.high_stop]  # where nothing stops it, there is nothing to tell
        spans = f"Before anything more fails, each alone could go: {'; '.join(one.span for one in told)}."
        self.room.value = set_out(Fold(spans, paragraphs(*map(str, told)).blocks), dim=True) if told else ""

    @property
    def plain(self) -> str:
        evaluation = self.session.evaluation
        rows = "\n".join(f"  {one.decision.label}: {evaluation.shown(name)}" for name, one in self.controls.items())
        return f"[settle with a reason]\n{rows}"

    def panel(self) -> Panel:
        return Panel(self.widget, self.plain)


#: decisions of one step of a form: settled together, with one reason
_STEP = 6


def steps_of(decisions: Iterable[str | Sequence[str]]) -> list[tuple[str, ...]]:
    """Decisions in steps of a few: a list among them is a step of its own, single names are shared out evenly."""
    given = list(decisions)
    loose = [one for one in given if isinstance(one, str)]
    steps = [tuple(one) for one in given if not isinstance(one, str)]
    count = -(-len(loose) // _STEP)
    ends = [round(place * len(loose) / count) for place in range(count + 1)] if count else []
    return [tuple(loose[start:end]) for start, end in itertools.pairwise(ends)] + steps


class Steps:
    """A form in steps: one at a time is shown, each with its own reason and button; what is moved in another step waits there."""

    def __init__(self, session: Session, steps: Sequence[Sequence[str]]):
        self.keeps = tuple(Keep(session, step) for step in steps)
        self.place = 0
        self.title = widgets.HTML()
        self.back = button("Back", "chevron-left", lambda: self.go(self.place - 1), width="8em")
        self.next = button("Next", "chevron-right", lambda: self.go(self.place + 1), width="8em")
        self.step = widgets.VBox(layout=widgets.Layout(width="100%"))
        self.widget = widgets.VBox(
            [
                widgets.HBox(
                    [self.back, self.next, self.title], layout=widgets.Layout(align_items="center", flex_flow="row wrap")
                ),
                self.step,
            ]
        )
        self.go(0)

    def go(self, place: int) -> None:
        """Show the step at ``place``, counted from nought."""
        self.place = min(max(place, 0), len(self.keeps) - 1)
        self.back.disabled, self.next.disabled = self.place == 0, self.place == len(self.keeps) - 1
        self.step.children = (self.keeps[self.place].widget,)
        self.title.value = set_out(f"Step {self.place + 1} of {len(self.keeps)}", live=True)

    @staticmethod
    def _named(keep: Keep) -> str:
        return ", ".join(one.decision.label for one in keep.controls.values())

    @property
    def plain(self) -> str:
        later = [f"  step {number} of {len(self.keeps)}: {self._named(keep)}" for number, keep in enumerate(self.keeps[1:], 2)]
        return "\n".join([self.keeps[0].plain, *later])

    def panel(self) -> Panel:
        return Panel(self.widget, self.plain)


def _drawer(name: str) -> Callable[..., str]:
    """``draw(evaluation, **extra)`` -> SVG, on a figure of its own; InputProblem for a picture nobody drew."""
    if name not in PICTURES:
        raise InputProblem.about(
            "picture", f"there is no picture called {name!r}; {nearest_or_all(name, sorted(PICTURES), most=3, cutoff=0.5)}"
        )
    return functools.partial(Canvas(key=str(next(_COUNT))).draw, PICTURES[name])


def turning(session: Session, name: str):
    """What would turn one finding of the design as it stands."""
    return levers_page(session.evaluation, session.evaluation.findings[name])
