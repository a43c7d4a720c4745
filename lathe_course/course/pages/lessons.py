"""Chapter 14: the lessons of others held against the design, one of them told, and the questions no figure answers."""

from __future__ import annotations

import ipywidgets as widgets

from ...design.asked.lessons import LESSONS, Told, lesson_called, note_of, tipping, told, told_all
from ...design.evaluation import Evaluation
from ...design.lathe import CHAPTERS
from ...units import InputProblem
from ..session import Session
from ..shown.panels import Page, Panel, Place, broad, button, folded, not_kept, paragraphs
from ..text.values import Fold, Run, Table, Words, dim, stress, strong
from ..turns import in_turn
from .register import page, panel

_MARKS = {
    "fails": "✗ fails",
    "tight": "≈ tight",
    "holds": "✓ holds",
    "question": "? open",
    "answered": "✓ answered",
    "not asked": "– not here",
}
_HEADS = {
    "fails": "Would have been caught: it fails here",
    "tight": "Would have been caught: it is tight here",
    "holds": "Would have been caught: it holds here",
    "question": "No figure tells it: questions still open",
    "answered": "No figure tells it: answered",
    "not asked": "Not in this design",
}
_COUNTED = {
    "fails": ("fails here", "fail here"),
    "tight": ("is tight", "are tight"),
    "holds": ("holds", "hold"),
    "question": ("question is open", "questions are open"),
    "answered": ("is answered", "are answered"),
    "not asked": ("cannot happen here", "cannot happen here"),
}
_FEW = 3  # questions that stand open, each a sentence and its box
_OPENED = ("fails",)  # these stand open on the page, the others folded; the questions stand below with boxes for answers


# --- all of them -------------------------------------------------------------------------------------
@page
def lessons(evaluation: Evaluation) -> Page:
    """Every lesson held against the design: fails, tight, holds, or a question to answer."""
    by: dict[str, list[Told]] = {}
    for one in told_all(evaluation):
        by.setdefault(one.standing, []).append(one)
    counts = (
        f"{len(LESSONS)} lessons: "
        + ", ".join(f"{len(some)} {_COUNTED[standing][len(some) > 1]}" for standing, some in by.items())
        + "."
    )
    folds = []
    for standing, some in by.items():
        head = f"{_HEADS[standing]} ({len(some)})"
        rows = Table(tuple(map(_row, some)), kinds={0: "w"})
        folds.append(Fold(strong(head), (rows,), told=True, opened=standing in _OPENED))
    return paragraphs(counts) + Page(*folds)


def _row(one: Told) -> tuple[Words, Words]:
    said = (strong(f"{_capital(one.lesson.name)}."), f" {one.lesson.told}\n{_by(one)} ", stress(one.sentence), _more(one))
    return Run(_MARKS[one.standing], one.standing.split()[0]), said


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _by(one: Told) -> str:
    """Which finding tells it, or where the question belongs."""
    if one.finding is None:
        return f"Belongs to chapter {one.chapter}:"
    return f"Chapter {one.chapter}, “{one.finding.label}”:"


def _more(one: Told) -> str:
    """What to look at, the answer that was given, and what the log says."""
    log = f" By your log, “{one.watched.label}”: {_MARKS[one.watched.status]}. {one.watched.sentence}" if one.watched else ""
    beside = "; ".join(f"{label}: {value}" for label, value in one.beside)
    return (f" In your design, {beside}." if beside else "") + (f" Your answer: {one.answer}" if one.answer else "") + log


# --- one of them -------------------------------------------------------------------------------------
def lesson_page(evaluation: Evaluation, name: str) -> Page:
    """One lesson told, how it stands here, and what would bring it about."""
    one = told(evaluation, name)
    said = [one.lesson.told, f"{_MARKS[one.standing]}. {_by(one)} {one.sentence}{_more(one)}"]
    near = tipping(evaluation.design, name)
    if near is not None:
        said.append(f"What would bring it about: {near}")
    elif one.standing in ("holds", "tight"):
        part = evaluation.chain.part(one.lesson.decision).label if one.lesson.decision else one.lesson.part
        said.append(f"Within what is sensible, “{part}” alone does not bring it about in your design.")
    elif one.standing == "fails":
        said.append(f"It is yours as things stand. Chapter {one.chapter}, {CHAPTERS[one.chapter]}, is where it can be turned.")
    if one.finding and one.finding.caution:
        said.append(f"Caution: {one.finding.caution}")
    return paragraphs(*said)


class LessonPanel:
    """A list of the lessons to choose from, and the one that was chosen."""

    def __init__(self, session: Session, name: str):
        self.session = session
        self.choice = widgets.Dropdown(
            options=[(_capital(one), one) for one in LESSONS],
            value=name,
            description="Lesson",
            layout=widgets.Layout(width="26em"),
        )
        self.choice.add_class("lesson-choice")
        self.story = broad()
        self.choice.observe(lambda _: self._tell(), names="value")
        session.when_changed(self._tell)
        self._tell()

    @in_turn
    def _tell(self) -> None:
        self.story.say(lesson_page(self.session.evaluation, self.choice.value))

    def panel(self) -> Panel:
        plain = (
            f"[choose a lesson]\n{_capital(self.choice.value)}. {lesson_page(self.session.evaluation, self.choice.value).plain}"
        )
        return Panel(widgets.VBox([self.choice, self.story]), plain)


@panel
def lesson(session: Session, which: str = "the open bed") -> Panel:
    """One lesson to choose: what happened, how it stands in this design, and what would bring it about."""
    return LessonPanel(session, lesson_called(which).name).panel()


# --- questions ---------------------------------------------------------------------------------------
class QuestionsPanel:
    """A box for each question of the lessons; answers are kept as notes of the design."""

    def __init__(self, session: Session):
        self.session = session
        asked = [told(session.evaluation, name) for name in LESSONS]
        self.asked = [one for one in asked if one.finding is None]
        self.boxes: dict[str, widgets.Textarea] = {}
        rows = []
        for one in self.asked:
            self.boxes[one.lesson.name] = widgets.Textarea(
                value=one.answer,
                description=one.lesson.name,
                placeholder="in your own words; may stay empty",
                layout=widgets.Layout(width="95%", height="3.4em"),
            ).add_class("lc-unseen")
            beside = "; ".join(f"{label}: {value}" for label, value in one.beside)
            rows += [
                Place((strong(f"{_capital(one.lesson.name)}."), f" {one.sentence} ", dim(beside))),
                self.boxes[one.lesson.name],
            ]
        self.button = button("Keep the answers", "check", self._keep, width="14em", primary=True)
        self.reply = Place()
        rest = [folded(f"and {len(self.asked) - _FEW} more questions", *rows[2 * _FEW :])] if len(self.asked) > _FEW else []
        self.widget = widgets.VBox([*rows[: 2 * _FEW], *rest, self.button, self.reply])

    @in_turn
    def _keep(self) -> None:
        shown = {one.lesson.name: one.answer for one in self.asked}
        changed = {name: box.value.strip() for name, box in self.boxes.items() if box.value.strip() != shown[name]}

        def noted(design):
            for name, answer in changed.items():
                design = design.note(note_of(name), answer)
            return design

        try:
            if changed:
                self.session.change(noted)
        except InputProblem as problem:
            self.reply.say(not_kept(problem))
            return
        self.asked = [told(self.session.evaluation, name) for name in self.boxes]
        count = sum(bool(one.answer) for one in self.asked)
        self.reply.say(f"Kept: {count} of {len(self.asked)} questions answered.")

    def panel(self) -> Panel:
        lines = [
            f"  {_capital(one.lesson.name)}. {one.sentence}" + (f" Your answer: {one.answer}" if one.answer else "")
            for one in self.asked
        ]
        return Panel(self.widget, "\n".join(["[a box to answer each question, kept with your design]", *lines]))


@panel
def lesson_questions(session: Session) -> Panel:
    """The questions no figure answers, each with a box for your answer; kept as notes of the design."""
    return QuestionsPanel(session).panel()
