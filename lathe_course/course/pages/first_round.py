"""The first round: twelve answers in steps of a few, the draft with its reasons, drafts side by side, and one page to print."""
from __future__ import annotations

import html
import os
from collections.abc import Iterable
from typing import Any

import ipywidgets as widgets

from ...design.at_hand import MACHINES
from ...design.design import Design
from ...design.evaluation import Evaluation, evaluate
from ...design.first_draft import Draft, draft
from ...design.lathe import CHAPTERS, LATHE
from ...design.origins import DRAFT
from ...design.starting import without_job
from ...design.wish import ANSWERS, CHARACTERS, COMMON_JOBS, GROUPS, Answer, answered, common_job, wish_of
from ...nearest import nearest_or_stop
from ...tables import table
from ...units import InputProblem
from ..brief import BOARD, write_board
from ..panels import Page, Panel, escape, framed, not_kept, table_html
from ..session import Session
from ..start import jobs_page
from ..turns import in_turn
from .register import page, panel

__all__ = ["BesidePanel", "DraftPanel", "WishJobs", "WishPanel", "answers", "board_to_print", "draft_reasons", "drafts_beside", "first_draft", "jobs_wished"]

_UNKNOWN = "I do not know yet"
_WIDE = widgets.Layout(width="40em")
_NOTHING_KEPT = "Nothing is changed: the answers stand as they are kept."


def _kept_where(session: Session) -> str:
    return f"Kept in {session.path.name}" if session.path else "Kept in this notebook only: there is no working folder"


# --- answers -------------------------------------------------------------------------------------------
class _Field:
    """One answer as a control.  ``written`` is what is kept, nothing where it is not known yet."""

    def __init__(self, answer: Answer, written: str):
        self.answer = answer
        if answer.control in ("choice", "weight"):
            options = answer.options or tuple("012345")
            self.control = widgets.Dropdown(options=[(_UNKNOWN, ""), *((one, one) for one in options)], layout=_WIDE if answer.control == "choice" else widgets.Layout(width="13em"))
        elif answer.control == "ticks":
            self.ticks = {name: (widgets.Checkbox(description=name, indent=False, layout=widgets.Layout(width="24em")),
                                 widgets.Text(placeholder=f"such as {MACHINES[name].size_example}", layout=widgets.Layout(width="16em")) if _sized(answer, name) else None)
                          for name in answer.options}
            rows = [widgets.HBox([one for one in pair if one is not None]) for pair in self.ticks.values()]
            self.control = widgets.VBox(rows)
        else:
            self.control = widgets.Text(placeholder=f"such as {answer.example}; empty: not known yet", layout=_WIDE)
        self.control.add_class(f"answer-{answer.name}")
        said = LATHE.decisions[answer.name].label if answer.control == "weight" else answer.question
        unknown = "" if answer.control == "weight" else f'<br><span class="dim">{_UNKNOWN}: {escape(answer.unknown)}</span>'
        self.place = widgets.VBox([widgets.HTML(framed(f"<p><b>{escape(said)}</b>{unknown}</p>")), self.control])
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
        return " + ".join(" ".join(filter(None, (name, size.value.strip() if size is not None else ""))) for name, (tick, size) in self.ticks.items() if tick.value)


def _sized(answer: Answer, name: str) -> bool:
    return answer.name == "machines" and bool(MACHINES[name].size_example)


def read_ticks(answer: Answer, written: str) -> dict[str, str]:
    """What is ticked in an answer, with its size where one was written."""
    found = {}
    for one in filter(None, (part.strip() for part in written.split(" + "))):
        name = max((option for option in answer.options if one.startswith(option)), key=len, default="")
        if name:
            found[name] = one[len(name):].strip()
    return found


class WishPanel:
    """Some of the twelve answers as a form; one button keeps those that were changed."""

    def __init__(self, session: Session, groups: Iterable[str]):
        self.session, self.groups = session, tuple(groups)
        wish = wish_of(session.design)
        self.fields = {answer.name: _Field(answer, wish.answers.get(answer.name, "")) for answer in ANSWERS.values() if answer.group in self.groups and answer.control != "jobs"}
        self.button = widgets.Button(description="Keep these answers", icon="check", button_style="primary", layout=widgets.Layout(width="16em"))
        self.reply = widgets.HTML()
        self.button.on_click(lambda _: self.keep())
        if "character" in self.fields:
            self.fields["character"].control.observe(lambda change: self._like(change["new"]), names="value")
        rows = []
        for group in self.groups:
            rows.append(widgets.HTML(framed(f"<h4>{escape(GROUPS[group])}</h4>")))
            weights = [field.place for field in self.fields.values() if field.answer.group == group and field.answer.control == "weight"]
            rows += [field.place for field in self.fields.values() if field.answer.group == group and field.answer.control != "weight"]
            if weights:
                rows.append(widgets.HTML(framed("<p>And how much does each weigh, from 0 to 5?</p>")))
                rows.append(widgets.Box(weights, layout=widgets.Layout(flex_flow="row wrap", grid_gap="0 1.5em")))
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
            self._say(f"<p>{_NOTHING_KEPT}</p>")
            return
        try:
            self.session.change(lambda design: answered(design, changed))
        except InputProblem as problem:
            self._say(not_kept(problem))
            return
        count = len(changed)
        self._say(f"<p><b>{escape(_kept_where(self.session))}:</b> {count} answer{'' if count == 1 else 's'}.</p>")

    def _changed(self) -> None:
        """What the learner has not touched follows the design."""
        wish = wish_of(self.session.design)
        for name, field in self.fields.items():
            kept = wish.answers.get(name, "")
            if field.written in (field.left_at, kept):
                field.show(kept)

    def _say(self, markup: str) -> None:
        self.reply.value = framed(markup, live=True)

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
        self.list = widgets.HTML()
        wide = {"description_width": "9em"}
        layout = widgets.Layout(width="34em")
        self.part = widgets.Dropdown(options=[(f"{name}: {one.words}", name) for name, one in COMMON_JOBS.items()], description="a common part", style=wide, layout=widgets.Layout(width="95%", max_width="60em"))
        self.size = widgets.Text(description="its diameter", style=wide, layout=layout)
        self.material = widgets.Dropdown(options=list(table("materials")), description="of", style=wide, layout=layout)
        self.name = widgets.Text(description="you call it", style=wide, layout=layout)
        self.often = widgets.Dropdown(options=[("now and then", "0.1"), ("one of several", "0.2"), ("most of the time", "0.5")], value="0.2", description="how much of it", style=wide, layout=layout)
        self.add = widgets.Button(description="Put it on my list", icon="plus", button_style="primary", layout=widgets.Layout(width="14em"))
        self.struck = widgets.Dropdown(description="strike out", style=wide, layout=layout)
        self.strike = widgets.Button(description="Strike it out", icon="trash", layout=widgets.Layout(width="11em"))
        self.reply = widgets.HTML()
        self.part.observe(lambda _: self._fill(), names="value")
        self.add.on_click(lambda _: self._add())
        self.strike.on_click(lambda _: self._strike())
        self.widget = widgets.VBox([self.part, self.size, self.material, self.name, self.often, self.add, self.reply, self.list, widgets.HBox([self.struck, self.strike])])
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
        self.list.value = jobs_page(wish)._repr_html_() if jobs else framed("<p>No job of your own yet. One is enough for a draft.</p>")
        self.struck.options = [(job.name, job.name) for job in jobs]

    def _add(self) -> None:
        def added(design):
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
    def _try(self, change) -> bool:
        try:
            self.session.change(change)
        except InputProblem as problem:
            self.reply.value = framed(not_kept(problem), live=True)
            return False
        self.reply.value = framed(f"<p><b>{escape(_kept_where(self.session))}.</b></p>", live=True)
        return True

    @property
    def plain(self) -> str:
        wish = wish_of(self.session.design)
        return "[jobs: a common part and its size]\n" + (jobs_page(wish).plain if wish.jobs else "No job of your own yet. One is enough for a draft.")


@panel
def jobs_wished(session: Session) -> Panel:
    """The jobs of your own, picked from common ones with a size."""
    made = WishJobs(session)
    shown = Panel(made.widget, made.plain)
    shown.jobs = made
    return shown


# --- the draft -------------------------------------------------------------------------------------------
_FIGURES = ("centre_height", "between_centres", "parts_mass", "own_hours", "cash_total", "months_to_finish")


class DraftPanel:
    """One button drafts all that is not one's own; once there is a draft, another tells first what it would change."""

    def __init__(self, session: Session):
        self.session, self.made = session, None
        self.button = widgets.Button(description="Draft my lathe", icon="magic", button_style="primary", layout=widgets.Layout(width="16em"))
        self.take = widgets.Button(description="Keep this new draft", icon="check", layout=widgets.Layout(width="16em"))
        self.take.layout.display = "none"
        self.reply = widgets.HTML()
        self.button.on_click(lambda _: self.draft())
        self.take.on_click(lambda _: self.keep())
        self.widget = widgets.VBox([self.button, self.reply, self.take])
        self.widget.add_class("first-draft")

    @in_turn
    def draft(self) -> None:
        """Draft from the answers as they stand."""
        self.take.layout.display = "none"
        self._say("<p>Working it out …</p>")
        design = self.session.design
        try:
            self.made = draft(wish_of(design), design)
        except InputProblem as problem:
            self._say(f"<p><b>No draft yet.</b> {escape(problem)}</p>".replace("\n", "<br>"))
            return
        if any(choice.origin == DRAFT for choice in design.choices.values()):
            self._tell_change(self.made)
        else:
            self.keep()

    def _tell_change(self, made: Draft) -> None:
        if not made.would_change:
            self._say(f"<p>A new draft would change nothing.</p>{_unmet(made)}")
            return
        rows = [(LATHE.decisions[name].label, before, after, why) for name, before, after, why in made.would_change]
        self._say(f"<p>A new draft would change {len(rows)} decision{'' if len(rows) == 1 else 's'}; nothing of your own is among them.</p>{_folded(rows, ('decision', 'now', 'drafted', 'because'))}{_unmet(made)}")
        self.take.layout.display = ""

    @in_turn
    def keep(self) -> None:
        """Keep the draft that was made; what is one's own stays."""
        made, base = self.made, self.session.design.written()
        try:
            self.session.change(lambda now: made.design if now.written() == base else draft(wish_of(now), now).design)
        except InputProblem as problem:
            self._say(not_kept(problem))
            return
        self.take.layout.display = "none"
        e = self.session.evaluation
        rows = [(LATHE.part(name).label, e.shown(name)) for name in _FIGURES]
        drafted = sum(choice.origin == DRAFT for choice in e.design.choices.values())
        self._say(f"<p><b>{escape(_kept_where(self.session))}:</b> a whole lathe, {drafted} decisions of it drafted.</p>{table_html(rows, numeric=(1,))}{_unmet(made)}")

    def _say(self, markup: str) -> None:
        self.reply.value = framed(markup, live=True)

    @property
    def plain(self) -> str:
        drafted = sum(choice.origin == DRAFT for choice in self.session.design.choices.values())
        return f"[a button drafts what is not your own yet; drafted so far: {drafted} decisions]"


def _unmet(made: Draft) -> str:
    return f"<p><b>What this draft cannot meet:</b></p><ul>{''.join(f'<li>{escape(said)}</li>' for said in made.unmet)}</ul>" if made.unmet else "<p>It meets all that you asked for.</p>"


def _folded(rows: list[tuple[str, ...]], head: tuple[str, ...], first: int = 7) -> str:
    """A table of the first rows, the others folded under their count."""
    more = rows[first:]
    return table_html(rows[:first], head) + (f"<details><summary>and {len(more)} more</summary>{table_html(more, head)}</details>" if more else "")


@panel
def first_draft(session: Session) -> Panel:
    """A whole design drafted from your answers with one button."""
    made = DraftPanel(session)
    shown = Panel(made.widget, made.plain)
    shown.draft = made
    return shown


@page
def draft_reasons(evaluation: Evaluation) -> Page:
    """The reasons of the draft, to be read aloud: sizes first and open, then chapter by chapter, folded."""
    design = evaluation.design
    drafted: dict[str, list[tuple[str, str, str]]] = {}
    for name, choice in design.choices.items():
        if choice.origin == DRAFT and choice.reason:
            decision = LATHE.decisions[name]
            drafted.setdefault(decision.chapter, []).append((decision.label, evaluation.shown(name), choice.reason))
    if not drafted:
        said = "Nothing is drafted yet. Once it is, each decision stands here with its reason."
        return Page(f"<p>{said}</p>", said)
    markup, plain = [], []
    for chapter in sorted(drafted, key=lambda one: (one != "02", one)):
        rows = drafted[chapter]
        spoken = "".join(f"<li><b>{escape(label)}: {escape(value)}</b>, because {escape(reason)}</li>" for label, value, reason in rows)
        markup.append(f"<details{' open' if chapter == '02' else ''}><summary>{chapter} {escape(CHAPTERS[chapter])} ({len(rows)})</summary><ul>{spoken}</ul></details>")
        plain += [f"{chapter} {CHAPTERS[chapter]}", *(f"  {label}: {value}, because {reason}" for label, value, reason in rows)]
    return Page("".join(markup), "\n".join(plain))


# --- drafts side by side --------------------------------------------------------------------------------------
_SIDE = ("centre_height", "between_centres", "parts_mass", "cash_total", "own_hours", "months_to_finish", "months_to_finish_should", "machine_stiffness")


class BesidePanel:
    """Where the wishes cannot all be met: other drafts beside this one, worked out on asking, each to be taken with a button."""

    def __init__(self, session: Session):
        self.session = session
        self.button = widgets.Button(description="What else could be done?", icon="columns", layout=widgets.Layout(width="18em"))
        self.button.on_click(lambda _: self.look())
        self.told, self.takers = widgets.HTML(), widgets.HBox()
        self.widget = widgets.VBox([self.button, self.told, self.takers])
        self.widget.add_class("drafts-beside")

    @in_turn
    def look(self) -> None:
        """Work the other drafts out and set them side by side."""
        self.takers.children = ()
        self.told.value = framed("<p>Working them out; this takes some seconds …</p>", live=True)
        design = self.session.design
        try:
            made = draft(wish_of(design), design)
            beside = made.beside
        except InputProblem as problem:
            self.told.value = framed(f"<p>{escape(problem)}</p>".replace("\n", "<br>"), live=True)
            return
        if not made.unmet:
            self.told.value = framed("<p>Time, money and place are met as it is, so there is nothing to choose between.</p>", live=True)
            return
        others = [one for one in beside if one.design is not None]
        columns = [self.session.evaluation, *(evaluate(one.design) for one in others)]
        rows = [(LATHE.part(name).label, *(e.shown(name) for e in columns)) for name in _SIDE]
        rows.append(("findings that fail", *(str(sum(finding.status == "fails" for finding in e.findings.values())) for e in columns)))
        said = [(one.name, one.brings, one.gives_up) for one in beside]
        self.told.value = framed(_unmet(made) + table_html(rows, ("", "as it stands", *(one.name for one in others)), numeric=tuple(range(1, len(columns) + 1)))
                                 + table_html(said, ("", "what it brings", "what it gives up")), live=True)
        base = design.written()
        self.takers.children = tuple(self._taker(one.name, one.design, base) for one in others)

    def _taker(self, name: str, design: Design, base: dict[str, Any]) -> widgets.Button:
        button = widgets.Button(description=f"Take the {name} one", layout=widgets.Layout(width="auto"))
        button.on_click(lambda _: self._take(name, design, base))
        return button

    @in_turn
    def _take(self, name: str, design: Design, base: dict[str, Any]) -> None:
        def taken(now: Design) -> Design:
            if now.written() != base:
                raise InputProblem([("drafts", "your design has changed since these were worked out; ask for them again.")])
            return design
        try:
            self.session.change(taken)
        except InputProblem as problem:
            self.told.value = framed(not_kept(problem), live=True)
            return
        self.takers.children = ()
        self.told.value = framed(f"<p><b>{escape(_kept_where(self.session))}:</b> the {escape(name)} draft. The board shows it.</p>", live=True)


@panel
def drafts_beside(session: Session) -> Panel:
    """Two or three drafts side by side where time, money or place cannot be met."""
    made = BesidePanel(session)
    shown = Panel(made.widget, "[a button sets other drafts beside yours: smaller, finer, sooner, cheaper; or buying used, or waiting]")
    shown.beside = made
    return shown


# --- one page to print -------------------------------------------------------------------------------------------
@panel
def board_to_print(session: Session) -> Panel:
    """A button writes the board as one page beside the design file, to open and print."""
    button = widgets.Button(description="Write my page", icon="print", button_style="primary", layout=widgets.Layout(width="14em"))
    shown = widgets.HTML()

    @in_turn
    def write(_: object) -> None:
        shown.value = framed(_written(session), live=True)
    button.on_click(write)
    return Panel(widgets.VBox([button, shown]), f"[a button writes the board as one page, {BOARD}, beside your design file]")


def _written(session: Session) -> str:
    if session.path is None:
        return f"<p>There is no working folder here, so nothing was written. In a working folder this writes {BOARD} beside your design file.</p>"
    try:
        path = write_board(session.design, session.path.with_name(BOARD))
    except InputProblem as problem:
        return not_kept(problem)
    # a plain link into the folder that is served: the page opens beside the course, where the browser can print it
    link = f"{os.environ.get('JUPYTERHUB_SERVICE_PREFIX', '/')}files/{path.name}"
    return (f'<p>Written: {BOARD}, beside {escape(session.path.name)}. <a href="{html.escape(link)}" target="_blank"><b>Open my page</b></a>, '
            f"and print it from there; or open the file in any browser.</p>")
