"""The twelve answers as forms in steps of a few, and the jobs of one's own."""

from __future__ import annotations

from collections.abc import Callable, Iterable

import ipywidgets as widgets

from ...design.at_hand import MACHINES
from ...design.design import Design
from ...design.draft.starting import without_job
from ...design.draft.wish import ANSWERS, CHARACTERS, COMMON_JOBS, GROUPS, Answer, answered, common_job, wish_of
from ...design.lathe import LATHE
from ...nearest import nearest_or_stop
from ...tables import table
from ...units import InputProblem
from ..session import Session
from ..shown.first_choices import jobs_page
from ..shown.panels import Panel, Place, button, folded, not_kept, set_out
from ..text.values import Heading, dim, strong
from ..turns import in_turn
from .register import panel

_UNKNOWN = "I do not know yet"
_WIDE = widgets.Layout(width="40em")
_NOTHING_KEPT = "Nothing is changed: the answers stand as they are kept."


# --- answers -------------------------------------------------------------------------------------------
class Field:
    """One answer as a control.  ``written`` is what is kept, nothing where it is not known yet."""

    def __init__(self, answer: Answer, written: str):
        self.answer = answer
        said = LATHE.decisions[answer.name].label if answer.control == "weight" else answer.question
        if answer.control in ("choice", "weight"):
            options = answer.options or tuple("012345")
            self.control = widgets.Dropdown(
                options=[(_UNKNOWN, ""), *((one, one) for one in options)],
                description=said,
                layout=_WIDE if answer.control == "choice" else widgets.Layout(width="13em"),
            )
        elif answer.control == "ticks":
            self.ticks = {
                name: (
                    widgets.Checkbox(description=name, indent=False, layout=widgets.Layout(width="24em")),
                    widgets.Text(
                        description=f"size: {name}",
                        placeholder=f"such as {MACHINES[name].size_example}",
                        layout=widgets.Layout(width="16em"),
                    ).add_class("lc-unseen")
                    if _sized(answer, name)
                    else None,
                )
                for name in answer.options
            }
            # the size is asked once the machine is ticked
            rows = [widgets.HBox([one for one in pair if one is not None]).add_class("lc-tick") for pair in self.ticks.values()]
            self.control = widgets.VBox(rows)
        else:
            self.control = widgets.Text(description=said, placeholder=f"such as {answer.example}", layout=_WIDE)
        self.control.add_class(f"answer-{answer.name}").add_class("lc-unseen")
        unknown = () if answer.control == "weight" else ("\n", dim(f"{_UNKNOWN}: {answer.unknown}"))
        self.place = widgets.VBox([Place((strong(said), *unknown)), self.control])
        self.show(written)

    def show(self, written: str) -> None:
        """Show what is kept, or that it is not known yet."""
        self.left_at = written
        if self.answer.control != "ticks":
            self.control.value = written
            return
        sizes = read_ticks(self.answer, written)
        for name, (tick, size) in self.ticks.items():
            tick.value = name in sizes
            if size is not None:
                size.value = sizes.get(name, "")
        self.left_at = self.written

    @property
    def written(self) -> str:
        if self.answer.control != "ticks":
            return self.control.value.strip()
        return " + ".join(
            " ".join(filter(None, (name, size.value.strip() if size is not None else "")))
            for name, (tick, size) in self.ticks.items()
            if tick.value
        )


def _sized(answer: Answer, name: str) -> bool:
    return answer.name == "machines" and bool(MACHINES[name].size_example)


def read_ticks(answer: Answer, written: str) -> dict[str, str]:
    """What is ticked in an answer, with its size where one was written."""
    found = {}
    for one in filter(None, (part.strip() for part in written.split(" + "))):
        name = max((option for option in answer.options if one.startswith(option)), key=len, default="")
        if name:
            found[name] = one[len(name) :].strip()
    return found


class WishPanel:
    """Some of the twelve answers as a form; one button keeps those that were changed."""

    def __init__(self, session: Session, groups: Iterable[str]):
        self.session, self.groups = session, tuple(groups)
        wish = wish_of(session.design)
        self.fields = {
            answer.name: Field(answer, wish.answers.get(answer.name, ""))
            for answer in ANSWERS.values()
            if answer.group in self.groups and answer.control != "jobs"
        }
        self.button = button("Keep these answers", "check", self.keep, width="16em", primary=True)
        self.reply = Place()
        if "character" in self.fields:
            self.fields["character"].control.observe(lambda change: self._like(change["new"]), names="value")
        rows = []
        for group in self.groups:
            if sum(field.answer.group == group for field in self.fields.values()) > 1:  # one question speaks for itself
                rows.append(Place(Heading(GROUPS[group], 4)))
            weights = [
                field.place for field in self.fields.values() if field.answer.group == group and field.answer.control == "weight"
            ]
            rows += [
                field.place for field in self.fields.values() if field.answer.group == group and field.answer.control != "weight"
            ]
            if weights:
                each = widgets.Box(weights, layout=widgets.Layout(flex_flow="row wrap", grid_gap="0 1.5em"))
                rows.append(folded("And how much does each weigh, from 0 to 5?", each))
        self.widget = widgets.VBox([*rows, self.button, self.reply])
        session.when_changed(self._changed)

    def _like(self, character: str) -> None:
        """A ready character sets the weights, which may then be moved."""
        for name, weight in CHARACTERS.get(character, {}).items():
            self.fields[name].control.value = weight

    @in_turn
    def keep(self) -> None:
        """Keep what was changed; InputProblem is told in its sentences, and then nothing is kept."""
        changed = {name: field.written for name, field in self.fields.items() if field.written != field.left_at}
        if not changed:
            self.reply.say(_NOTHING_KEPT)
            return
        try:
            self.session.change(lambda design: answered(design, changed))
        except InputProblem as problem:
            self.reply.say(not_kept(problem))
            return
        count = len(changed)
        self.reply.say((strong(f"{self.session.kept_where}:"), f" {count} answer{'' if count == 1 else 's'}."))

    def _changed(self) -> None:
        """What the learner has not touched follows the design."""
        wish = wish_of(self.session.design)
        for name, field in self.fields.items():
            kept = wish.answers.get(name, "")
            if field.written in (field.left_at, kept):
                field.show(kept)

    @property
    def plain(self) -> str:
        wish = wish_of(self.session.design)
        rows = [f"  {field.answer.question} {wish.answers.get(name) or _UNKNOWN}" for name, field in self.fields.items()]
        return "\n".join([f"[answers: {'; '.join(GROUPS[group] for group in self.groups)}]", *rows])


@panel
def answers(session: Session, of: str) -> Panel:
    """A form for some of the twelve answers, named by their groups: ``of="place, home, company"``."""
    groups = [one.strip() for one in of.split(",")]
    strange = [one for one in groups if one not in GROUPS]
    if strange:
        raise InputProblem([(one, f"there are no answers called {one!r}{nearest_or_stop(one, GROUPS)}") for one in strange])
    made = WishPanel(session, groups)
    shown = Panel(made.widget, made.plain)
    shown.answers = made
    return shown


# --- jobs ------------------------------------------------------------------------------------------------
class WishJobs:
    """The jobs of the wish: a common part with its size, and one's own name for it; the list of a demo is not among them."""

    def __init__(self, session: Session):
        self.session = session
        self.list = Place()
        wide = {"description_width": "9em"}
        layout = widgets.Layout(width="34em")
        self.part = widgets.Dropdown(
            options=[(f"{name}: {one.words}", name) for name, one in COMMON_JOBS.items()],
            description="a common part",
            style=wide,
            layout=widgets.Layout(width="95%", max_width="60em"),
        )
        self.size = widgets.Text(description="its diameter", style=wide, layout=layout)
        self.material = widgets.Dropdown(options=list(table("materials")), description="of", style=wide, layout=layout)
        self.name = widgets.Text(description="you call it", style=wide, layout=layout)
        self.often = widgets.Dropdown(
            options=[("now and then", "0.1"), ("one of several", "0.2"), ("most of the time", "0.5")],
            value="0.2",
            description="how much of it",
            style=wide,
            layout=layout,
        )
        self.add = button("Put it on my list", "plus", self._add, width="14em", primary=True)
        self.struck = widgets.Dropdown(description="strike out", style=wide, layout=layout)
        self.strike = button("Strike it out", "trash", self._strike, width="11em")
        self.reply = Place()
        self.part.observe(lambda _: self._fill(), names="value")
        self.widget = widgets.VBox(
            [
                self.part,
                self.size,
                self.material,
                self.name,
                self.often,
                self.add,
                self.reply,
                self.list,
                widgets.HBox([self.struck, self.strike]),
            ]
        )
        self.widget.add_class("answer-jobs")
        self._fill()
        self._show()
        session.when_changed(self._show)

    def _fill(self) -> None:
        one = COMMON_JOBS[self.part.value]
        self.size.placeholder, self.material.value, self.name.placeholder = f"such as {one.example}", one.material, one.name

    def _show(self) -> None:
        wish = wish_of(self.session.design)
        jobs = wish.jobs
        self.list.value = set_out(jobs_page(wish) if jobs else "No job of your own yet. One is enough for a draft.")
        chosen = self.struck.value
        self.struck.options = names = [job.name for job in jobs]
        self.struck.value = chosen if chosen in names else next(iter(names), None)  # one that is shown, not an empty box

    def _add(self) -> None:
        def added(design: Design) -> Design:
            written = common_job(self.part.value, self.size.value, self.material.value, self.often.value)
            written["name"] = self.name.value.strip() or written["name"]
            others = [dict(job.written) for job in wish_of(design).jobs if job.name != written["name"]]
            return answered(design, {}, [*others, written])

        if self._try(added):
            self.size.value = self.name.value = ""

    def _strike(self) -> None:
        name = self.struck.value
        if name:
            self._try(lambda design: without_job(design, name))

    @in_turn
    def _try(self, change: Callable[[Design], Design]) -> bool:
        try:
            self.session.change(change)
        except InputProblem as problem:
            self.reply.say(not_kept(problem))
            return False
        self.reply.say(strong(f"{self.session.kept_where}."))
        return True

    @property
    def plain(self) -> str:
        wish = wish_of(self.session.design)
        return "[jobs: a common part and its size]\n" + (
            jobs_page(wish).plain if wish.jobs else "No job of your own yet. One is enough for a draft."
        )


@panel
def jobs_wished(session: Session) -> Panel:
    """The jobs of your own, picked from common ones with a size."""
    made = WishJobs(session)
    shown = Panel(made.widget, made.plain)
    shown.jobs = made
    return shown
