"""The panels of the first chapters: units, where to start from, words kept, and the list of jobs."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import ipywidgets as widgets

from ...design.asked.ripple import ripple
from ...design.demos import DEMOS
from ...design.draft.starting import in_system, start_from, with_job, without_job
from ...design.evaluation import Evaluation, evaluate
from ...design.jobs import JOB_FIELDS
from ...machine.holding import HOLDINGS
from ...tables import table
from ...units import InputProblem
from ..session import Session
from .panels import Page, Panel, Place, button, folded, not_kept, set_out, tabled

_WIDE = {"description_width": "14em"}
_FIELD = widgets.Layout(width="32em")
_EXAMPLES = {"bar": "0 mm", "tolerance": "50 µm", "roughness": "3.2 µm", "pitch": "1.5 mm", "share": "0.2"}


class _Replying:
    """A panel with a line under it that says what happened."""

    def __init__(self, session: Session):
        self.session = session
        self.reply = Place()

    def _try(self, change: Any, said: str) -> bool:
        try:
            self.session.change(change)
        except InputProblem as problem:
            self.reply.say(not_kept(problem))
            return False
        self.reply.say(said)
        return True


class StartPanel(_Replying):
    """Millimetres or inches, and which design to start from."""

    def __init__(self, session: Session):
        super().__init__(session)
        design = session.design
        self.system = widgets.ToggleButtons(options=[("millimetres", "mm"), ("inches", "inch")], value=design.system)
        self.system.add_class("shown-in")
        start = design.started_from if design.started_from in DEMOS else "boat_shed"
        self.start = widgets.Dropdown(
            options=[(f"{name.replace('_', ' ')}: {said}", name) for name, said in DEMOS.items()],
            value=start,
            description="start from",
            style=_WIDE,
            layout=widgets.Layout(width="95%"),
        )
        self.name = widgets.Text(
            value=design.name,
            description="name of your lathe",
            style=_WIDE,
            layout=widgets.Layout(width="40em"),
            continuous_update=False,
        )
        self.system.observe(
            lambda change: self._try(
                lambda d: in_system(d, change["new"]), "From now on figures are shown so; what you wrote stays as you wrote it."
            ),
            names="value",
        )
        self.start.observe(lambda change: self._start(change["new"]), names="value")
        self.name.observe(lambda change: self._try(lambda d: _named(d, change["new"]), "A good name."), names="value")
        label = widgets.Label("shown in", layout=widgets.Layout(width="14em", justify_content="flex-end"))
        self.widget = widgets.VBox([widgets.HBox([label, self.system]), self.start, self.name, self.reply])

    def _start(self, name: str) -> None:
        if self._try(
            lambda design: start_from(design, name), "Its figures are yours to change; what you had settled already stays."
        ):
            said, self.name.value = self.reply.value, self.session.design.name  # a name left as the demo's is the new demo's
            self.reply.value = said

    def panel(self) -> Panel:
        design = self.session.design
        return Panel(
            self.widget,
            f"[start] shown in {design.system}; start from {design.started_from.replace('_', ' ')}; name: {design.name}",
        )


def _named(design: Any, name: str) -> Any:
    if not name.strip():
        raise InputProblem.about("name", "a name needs at least one letter; it will stand at the head of your brief.")
    return replace(design, name=name.strip())


class JobsPanel(_Replying):
    """The list of jobs, with a form to add, change or take away one."""

    def __init__(self, session: Session):
        super().__init__(session)
        self.list = Place()
        self.pick = widgets.Dropdown(description="job", style=_WIDE, layout=_FIELD)
        self.fields: dict[str, widgets.Widget] = {}
        for name, (kind, meaning) in JOB_FIELDS.items():
            if name == "holding":
                made = widgets.Dropdown(
                    options=[("as proposed", ""), *((one, one) for one in HOLDINGS)], description=name, style=_WIDE, layout=_FIELD
                )
            elif name == "material":
                made = widgets.Dropdown(options=list(table("materials")), description=name, style=_WIDE, layout=_FIELD)
            else:
                made = widgets.Text(
                    description=name,
                    placeholder="" if kind is None else f"such as {_EXAMPLES.get(name, kind.example)}",
                    style=_WIDE,
                    layout=_FIELD,
                )
            self.fields[name] = made
        self.keep = button("Keep this job", "check", self._keep, primary=True)
        self.drop = button("Take it off the list", "trash", self._drop, width="auto")
        self.pick.observe(lambda _: self._fill(), names="value")
        meanings = [Place(meaning, dim=True) for _, meaning in JOB_FIELDS.values()]
        rows = [widgets.HBox(pair, layout=widgets.Layout(align_items="center")) for pair in zip(self.fields.values(), meanings)]
        form = widgets.VBox([self.pick, *rows, widgets.HBox([self.keep, self.drop])])
        self.widget = widgets.VBox([self.list, folded("Change a job, write a new one, or take one off", form), self.reply])
        self._refresh()

    def _refresh(self, chosen: str | None = None) -> None:
        names = [job.name for job in self.session.design.jobs]
        self.list.value = set_out(jobs_page(self.session.design))
        self.pick.options = [("a new job", ""), *((name, name) for name in names)]
        self.pick.value = chosen if chosen in names else names[0]
        self._fill()

    def _fill(self) -> None:
        written = next((job.written for job in self.session.design.jobs if job.name == self.pick.value), {})
        for name, field in self.fields.items():
            field.value = written.get(name, "mild steel" if name == "material" else "")

    def _keep(self) -> None:
        written = {name: field.value for name, field in self.fields.items()}
        if self._try(lambda design: with_job(design, written), f"Kept: {written['name']}."):
            self._refresh(written["name"].strip())

    def _drop(self) -> None:
        name = self.pick.value or self.fields["name"].value
        if self._try(lambda design: without_job(design, name), f"Taken off the list: {name}."):
            self._refresh()

    def panel(self) -> Panel:
        return Panel(self.widget, "[the list of jobs, to edit]\n" + jobs_page(self.session.design).plain)


def jobs_page(design: Any) -> Page:
    """The jobs as they were written."""
    shown = tuple(field for field in JOB_FIELDS if field != "holding")
    rows = [
        (*(job.written.get(field, "") for field in shown), f"{job.holding}{' (proposed)' if job.holding_proposed else ''}")
        for job in design.jobs
    ]
    figures = [place for place, field in enumerate(shown) if JOB_FIELDS[field][0] is not None]
    return tabled(rows, (*shown, "held"), figures)


def without_each_job_page(evaluation: Evaluation) -> Page:
    """Each job struck out in turn: which demand on the machine would fall, and how many of the hours it fills."""
    design = evaluation.design
    rows, total = [], sum(job.share for job in design.jobs)
    for job in design.jobs:
        share = f"{job.share / total:.0%}" if total else ""
        if len(design.jobs) == 1:
            rows.append((job.name, share, "it is the only job, so it drives every figure"))
            continue
        moved = ripple(evaluation, evaluate(without_job(design, job.name), earlier=evaluation)).results
        spared = [f"{m.label.removesuffix(' on the list')} {m.before} → {m.after}" for m in moved if m.chapter == "01"]
        rows.append((job.name, share, "; ".join(spared) or "nothing: another job asks for as much"))
    head = ("job", "of the hours", "without it")
    return tabled(rows, head)
