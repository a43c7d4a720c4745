"""A sheet of exercises in a notebook: the questions of a chapter, with a reply under each.

``sheet = question_sheet("03")`` opens the exercises of a chapter; ``sheet.learner()`` asks for a
name, ``sheet.level("use")`` shows all questions of a level, whatever the data hold,
``sheet.ask("03.2")`` a single one, and ``sheet.progress()`` what is right so far.  Without
the mouse, ``sheet.ask("03.2").answer("12 rpm")`` gives the same reply.
"""
from __future__ import annotations

from collections.abc import Callable

import ipywidgets as widgets

from ..units import InputProblem
from .panels import Panel, escape, framed
from .questions import LEVELS, Asked, Verdict, asked, check, normalised, own_trouble, questions
from .questions.asked import LETTERS
from .questions.data import OWN_FILE
from .session import Session

__all__ = ["Exercise", "QuestionSheet", "question_sheet"]

NOTE = "learner"                  # the note of the design file that keeps the name
_LEVEL_WORDS = {"recall": "recall a figure", "use": "use a formula", "judge": "judge a design"}

#: answers of this session, by normalised name and question: a cell that is run again loses nothing
_TRIED: dict[tuple[str, str], list[tuple[str, Verdict]]] = {}


def question_sheet(chapter: str, name: str | None = None) -> QuestionSheet:
    """The exercises of a chapter for a learner; without ``name``, for the one the design file knows."""
    return QuestionSheet(chapter, name)


class QuestionSheet:
    """All questions of one chapter, with the numbers of one learner."""

    def __init__(self, chapter: str, name: str | None = None):
        self.chapter, self.ids = chapter, list(questions(chapter))
        self.session = Session()
        self.name = name if name is not None else self.session.design.notes.get(NOTE, "")
        self._listeners: dict[str, Callable[[], None]] = {}

    # --- the learner ------------------------------------------------------------------------------
    def call(self, name: str) -> str:
        """Change the learner's name; every question shown gets its numbers. Returns what to say about it."""
        self.name = " ".join(name.split())
        self._changed()
        said = f"The numbers below are for {self.name or 'a guest'}."
        if self.session.file is None:
            return said
        try:
            self.session.change(lambda design: design.note(NOTE, self.name))
        except InputProblem as problem:
            return f"{said} The name could not be kept in your design file: {problem}"
        return said

    def learner(self) -> Panel:
        """A field for the learner's name."""
        entry = widgets.Text(value=self.name, placeholder="such as learner one", description="my name",
                             continuous_update=False, layout=widgets.Layout(width="32em"))
        reply = widgets.HTML(framed(f"<p>The numbers below are for {escape(self.name or 'a guest')}.</p>"))

        def named(change: dict) -> None:
            reply.value = framed(f"<p>{escape(self.call(change['new']))}</p>")
        entry.observe(named, names="value")
        return Panel(widgets.VBox([entry, reply]), "[your name] Type it and press Enter; each name has numbers of its own.")

    # --- questions --------------------------------------------------------------------------------
    def ask(self, id: str) -> Exercise:
        """One question with a field for the answer; InputProblem for one this chapter does not have."""
        if id not in self.ids:
            raise InputProblem([("question", f"There is no question {id!r} here; there are {', '.join(self.ids)}.")])
        exercise = Exercise(self, id)
        self._listeners[id] = exercise.show
        return exercise

    def level(self, level: str) -> Panel:
        """All questions of a level, those of the learner's own folder as well."""
        ids = [id for id, one in questions(self.chapter).items() if one.level == level]
        trouble = own_trouble() if level == LEVELS[0] else ()
        said = "".join(f"<p>{escape(sentence)}</p>" for sentence in trouble)
        note = [widgets.HTML(framed(f"<p>Your {OWN_FILE} is left out until it is mended:</p>{said}"))] if trouble else []
        return Panel(widgets.VBox([*note, *(self.ask(id).widget for id in ids)]),
                     f"[{len(ids)} question{'' if len(ids) == 1 else 's'}: {_LEVEL_WORDS[level]}] They stand here when the notebook runs.")

    def tried(self, id: str) -> list[tuple[str, Verdict]]:
        """What this learner answered to a question in this session, and how it stood."""
        return _TRIED.setdefault((normalised(self.name), id), [])

    def right(self) -> list[str]:
        """Questions this learner has answered rightly."""
        return [id for id in self.ids if any(verdict.kind == "right" for _, verdict in self.tried(id))]

    def progress(self) -> Panel:
        """How many are right so far; stays true while questions are answered."""
        view = widgets.HTML()

        def show() -> None:
            right = self.right()
            lines = "".join(f"<li>{id} {self._state(id, id in right)}</li>" for id in self.ids)
            view.value = framed(f"<p><b>{escape(self._count())}</b></p><ul>{lines}</ul>")
        show()
        self._listeners["progress"] = show
        return Panel(view, self._count())

    def _count(self) -> str:
        return f"Right so far: {len(self.right())} of {len(self.ids)}."

    def _state(self, id: str, right: bool) -> str:
        tries = sum(verdict.counts for _, verdict in self.tried(id))
        return f"✓ right, tries: {tries}" if right else f"not yet, tries: {tries}" if tries else "open"

    def _changed(self) -> None:
        for listener in list(self._listeners.values()):
            listener()

    def answered(self) -> None:
        """Tell the progress that something was answered."""
        if "progress" in self._listeners:
            self._listeners["progress"]()

    def __repr__(self) -> str:
        return f"Exercises of chapter {self.chapter}: {len(self.ids)} questions."


class Exercise:
    """One question on the sheet: text, field, button, reply."""

    def __init__(self, sheet: QuestionSheet, id: str):
        self.sheet, self.id = sheet, id
        self.level = questions(sheet.chapter)[id].level
        self._text = widgets.HTML()
        self._reply = widgets.HTML(layout=widgets.Layout(min_height="3.5em"))     # kept open, so that nothing below jumps
        self._button = widgets.Button(description="Check", icon="check", layout=widgets.Layout(width="9em"))
        self._button.on_click(lambda _: self._check())
        self._place = widgets.VBox()
        self.widget = widgets.VBox([self._text, self._place, self._button, self._reply])
        self._drawn_for: str | None = None
        self.show()

    @property
    def asked(self) -> Asked:
        """The question with the numbers of the learner as now named."""
        return asked(self.id, self.sheet.name)

    # --- answering --------------------------------------------------------------------------------
    def answer(self, text: str) -> Verdict:
        """Check an answer, keep it among those tried, and show the reply."""
        tried = self.sheet.tried(self.id)
        wrong_before = len({given for given, verdict in tried if verdict.kind == "wrong" and given != text})
        verdict = check(self.asked, text, wrong_before)
        if not (tried and tried[-1][0] == text):
            tried.append((text, verdict))
        self._show_reply(verdict)
        self.sheet.answered()
        return verdict

    def _check(self) -> None:
        value = self._field.value
        self.answer("" if value is None else LETTERS[value] if isinstance(value, int) else value)

    # --- showing ----------------------------------------------------------------------------------
    def show(self) -> None:
        """Show the question for the learner as now named, with what they tried before."""
        if self._drawn_for == normalised(self.sheet.name):
            return
        self._drawn_for = normalised(self.sheet.name)
        now = self.asked
        head = f"<p><b>{self.id}</b> <span class='dim'>{_LEVEL_WORDS[self.level]}</span></p>"
        self._text.value = framed(f"{head}<p>{escape(now.text)}</p>")
        self._field = self._made_field(now)
        self._place.children = (self._field,)
        tried = self.sheet.tried(self.id)
        if tried:
            self._put_back(tried[-1][0], now)
            self._show_reply(tried[-1][1])
        else:
            self._reply.value = ""

    def _made_field(self, now: Asked) -> widgets.Widget:
        if now.options:
            letters = [(f"{letter}: {option}", place) for place, (letter, option) in enumerate(zip(LETTERS, now.options))]
            return widgets.RadioButtons(options=letters, value=None, layout=widgets.Layout(width="95%"))
        wanted = "a number with its unit" if now.question.unit else "a plain number, or a share in %"
        field = widgets.Text(placeholder=wanted, description="my answer", layout=widgets.Layout(width="32em"))
        # Enter checks too; the widget sends this message when it is pressed
        field.on_msg(lambda _, content, buffers: self._check() if content.get("event") == "submit" else None)
        return field

    def _put_back(self, text: str, now: Asked) -> None:
        if not now.options:
            self._field.value = text
        elif text in LETTERS[:len(now.options)]:
            self._field.value = LETTERS.index(text)

    def _show_reply(self, verdict: Verdict) -> None:
        tried = self.sheet.tried(self.id)
        earlier = ", ".join(f"{escape(given)} {verdict.sign}" for given, verdict in tried[:-1] if given)
        before = f"<p class='dim'>Tried before: {earlier}</p>" if earlier else ""
        self._reply.value = framed(f"<p><b>{verdict.sign}</b> {escape(verdict.said)}</p>{_folded(verdict)}{before}", live=True)

    def _repr_mimebundle_(self, **options):
        return Panel(self.widget, repr(self))._repr_mimebundle_(**options)

    def __repr__(self) -> str:
        return f"[question {self.id}: {_LEVEL_WORDS[self.level]}] It stands here when the notebook runs."


def _folded(verdict: Verdict) -> str:
    """Hint and workings under a fold, so that whoever wants to think first can."""
    workings = "".join(f"<pre>{escape(working)}</pre>" for working in verdict.workings)
    if not verdict.hint and not workings:
        return ""
    title = "The working" if verdict.kind == "right" else "A hint"
    hint = f"<p>{escape(verdict.hint)}</p>" if verdict.hint else ""
    return f"<details><summary>{title}</summary>{hint}{workings}</details>"
