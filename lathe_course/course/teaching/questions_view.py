"""A sheet of exercises in a notebook: the questions of a chapter, with a reply under each.

``sheet = question_sheet("03")`` opens the exercises of a chapter; ``sheet.learner()`` asks for a
name, ``sheet.level("use")`` shows all questions of a level, whatever the data hold,
``sheet.ask("03.2")`` a single one, and ``sheet.progress()`` what is right so far.  Without
the mouse, ``sheet.ask("03.2").answer("12 rpm")`` gives the same reply.
"""

from __future__ import annotations

import datetime
from collections import Counter
from collections.abc import Callable, Mapping

import ipywidgets as widgets

from ...units import InputProblem
from ..session import Session
from ..shown.panels import Page, Panel, Place, button, paragraphs, set_out
from ..text.values import Fold, List, Paragraph, Table, Verbatim, dim, strong
from .questions import LEVELS, Asked, Verdict, asked, chapters, check, normalised, own_trouble, question, questions
from .questions.asked import LETTERS
from .questions.behind import Behind
from .questions.check import SIGNS
from .questions.data import OWN_FILE
from .questions.tries import Standing, Try, due, keep, read_tries, standing, tries_path

ALL = "all"  # a sheet over all chapters
NOTE = "learner"  # the note of the design file that keeps the name
_LEVEL_WORDS = {"recall": "recall a figure", "use": "use a formula", "judge": "judge a design"}

#: answers of this session, by folder, normalised name, question and round: what was written stands there when a cell is run again
_TRIED: dict[tuple[str, str, str, int], list[tuple[str, Verdict]]] = {}


def question_sheet(chapter: str, name: str | None = None, today: datetime.date | None = None) -> QuestionSheet:
    """The exercises of a chapter for a learner; without ``name``, for the one the design file knows.

    ``chapter`` "all" holds every question: how far one is, and what to repeat.  ``today`` is the day
    under which tries are kept; the day of the clock if it is not given.
    """
    return QuestionSheet(chapter, name, today)


class QuestionSheet:
    """All questions of one chapter, with the numbers of one learner."""

    def __init__(self, chapter: str, name: str | None = None, today: datetime.date | None = None):
        self.chapter = chapter
        self.ids = [id for one in (chapters() if chapter == ALL else [chapter]) for id in questions(one)]
        self.session = Session()
        self.name = name if name is not None else self.session.design.notes.get(NOTE, "")
        self.today = today
        self.behind = Behind(self.session.design)  # as it stands when the sheet is opened, so that no number moves under the hand
        self.file = tries_path(self.session.path) if self.session.path is not None else None
        self.trouble = ""  # why the last try could not be kept
        self._listeners: dict[str, Callable[[], None]] = {}

    # --- the learner ------------------------------------------------------------------------------
    def call(self, name: str) -> str:
        """Change the learner's name; every question shown gets its numbers. Returns what to say about it."""
        self.name = " ".join(name.split())
        self._changed()
        said = self._whose()
        if self.session.file is None:
            return said
        try:
            self.session.change(lambda design: design.note(NOTE, self.name))
        except InputProblem as problem:
            return f"{said} The name could not be kept in your design file: {problem}"
        return said

    def _whose(self) -> str:
        if self.name:
            return f"The numbers below are for {self.name}."
        return (
            "Write your name and press Enter: without one the numbers are those of any guest, and so are the tries that are kept."
        )

    def learner(self) -> Panel:
        """A field for the learner's name."""
        entry = widgets.Text(
            value=self.name,
            placeholder="such as learner one",
            description="my name",
            continuous_update=False,
            layout=widgets.Layout(width="32em"),
        )
        reply = Place(self._whose())

        def named(change: dict) -> None:
            reply.value = set_out(self.call(change["new"]))

        entry.observe(named, names="value")
        return Panel(widgets.VBox([entry, reply]), "[your name] Type it and press Enter; each name has numbers of its own.")

    # --- questions --------------------------------------------------------------------------------
    def ask(self, id: str, again: int = 0) -> Exercise:
        """One question with a field for the answer; InputProblem for one this chapter does not have."""
        if id not in self.ids:
            raise InputProblem.about("question", f"There is no question {id!r} here; there are {', '.join(self.ids)}.")
        exercise = Exercise(self, id, again)
        self._listeners[f"{id} {again}"] = exercise.show
        return exercise

    def level(self, level: str) -> Panel:
        """All questions of a level, those of the learner's own folder as well."""
        ids = [id for id, one in questions(self.chapter).items() if one.level == level]
        trouble = own_trouble() if level == LEVELS[0] else ()
        note = [Place(f"Your {OWN_FILE} is left out until it is mended:", *trouble)] if trouble else []
        return Panel(
            widgets.VBox([*note, *(self.ask(id).widget for id in ids)]),
            f"[{len(ids)} question{'' if len(ids) == 1 else 's'}: {_LEVEL_WORDS[level]}] They stand here when the notebook runs.",
        )

    def tried(self, id: str, again: int = 0) -> list[tuple[str, Verdict]]:
        """What this learner answered to a question in a round, and how it stood: in this session, or as it was kept."""
        person = normalised(self.name)
        key = (str(self.file), person, id, again)
        if key not in _TRIED:
            kept = [one for one in self.kept() if (normalised(one.name), one.question, one.again) == (person, id, again)]
            _TRIED[key] = [
                (one.given, Verdict(one.stands, _as_kept(one), slip=(*one.slips, "")[0], slips=one.slips))
                for one in kept
                if one.stands in SIGNS
            ]
        return _TRIED[key]

    def kept(self) -> list[Try]:
        """Every try that is kept in the folder."""
        return read_tries(self.file)[0] if self.file else []

    def keep(self, id: str, again: int, text: str, verdict: Verdict) -> None:
        """Keep a try in the folder; where that fails it still counts in this session, and ``trouble`` says why."""
        self.trouble = ""
        if self.file is None or not verdict.counts:
            return
        try:
            keep(
                self.file,
                Try(self.today or datetime.date.today(), self.name or "guest", id, again, verdict.kind, verdict.slips, text),
            )
        except InputProblem as problem:
            self.trouble = str(problem)

    def right(self) -> list[str]:
        """Questions this learner has answered rightly."""
        return [id for id, one in self._standing().items() if one.right]

    def _standing(self) -> dict[str, Standing]:
        return standing(self.kept() if self.file else self._of_session(), self.name, self.ids)

    def _of_session(self) -> list[Try]:
        day, person = self.today or datetime.date.today(), normalised(self.name)
        return [
            Try(day, self.name, id, again, verdict.kind, verdict.slips, text)
            for (file, who, id, again), tried in _TRIED.items()
            if (file, who) == (str(self.file), person)
            for text, verdict in tried
        ]

    def progress(self) -> Panel:
        """How many are right so far, and by which slips the others went; stays true while questions are answered."""
        view = Place()

        def show() -> None:
            found = self._standing()
            shown = found if self.chapter != ALL else {id: one for id, one in found.items() if one.tries}
            told = List(tuple(f"{id} {_state(one)}" for id, one in shown.items()))
            table = _by_chapter(found) if self.chapter == ALL else ""
            view.value = set_out(strong(self._count()), table, told, _slips_told(found))

        show()
        self._listeners["progress"] = show
        return Panel(view, self._plain_count())

    def repeat(self) -> Panel:
        """Questions that come back today, with new numbers: those that went wrong once, some days after they were right."""
        place = widgets.VBox()

        def show() -> None:
            known = set(self.ids)
            back = [(id, again) for id, again in due(self.kept(), self.name, self.today or datetime.date.today()) if id in known]
            said = (
                "These come back, with new numbers."
                if back
                else ("Nothing comes back today. What went wrong once comes back some days after it was right.")
            )
            place.children = (Place(said), *(self.ask(id, again).widget for id, again in back))

        show()
        self._listeners["repeat"] = lambda: show() if self._drawn_for_other() else None
        self._repeats_of = normalised(self.name)
        return Panel(place, "[what comes back today] It stands here when the notebook runs.")

    def _drawn_for_other(self) -> bool:
        other, self._repeats_of = self._repeats_of != normalised(self.name), normalised(self.name)
        return other

    def _count(self) -> str:
        return f"Right so far: {len(self.right())} of {len(self.ids)}."

    def _plain_count(self) -> str:
        return (
            self._count()
            if self.chapter != ALL
            else "[how far you are, chapter by chapter] It stands here when the notebook runs."
        )

    def _changed(self) -> None:
        for listener in list(self._listeners.values()):
            listener()

    def answered(self) -> None:
        """Tell the progress that something was answered."""
        if "progress" in self._listeners:
            self._listeners["progress"]()

    def __repr__(self) -> str:
        return f"Exercises of {'all chapters' if self.chapter == ALL else f'chapter {self.chapter}'}: {len(self.ids)} questions."


def _as_kept(one: Try) -> str:
    """What is said of a try of an earlier day."""
    by = f" It looked like a slip: {'; or '.join(one.slips)}." if one.slips else ""
    return f"{'Right' if one.stands == 'right' else 'Not right yet'}, on {one.day}.{by}"


def _state(one: Standing) -> str:
    slips = f"; slips: {', '.join(dict.fromkeys(one.slips))}" if one.slips else ""
    if one.right:
        return f"✓ right, tries: {one.tries}{slips}"
    return f"not yet, tries: {one.tries}{slips}" if one.tries else "open"


def _by_chapter(found: Mapping[str, Standing]) -> Page:
    """A table over all chapters: how many are right, tried and open."""
    rows = []
    for chapter in dict.fromkeys(id.partition(".")[0] for id in found):
        mine = [one for id, one in found.items() if id.partition(".")[0] == chapter]
        right, tried = sum(bool(one.right) for one in mine), sum(not one.right and one.tries > 0 for one in mine)
        rows.append((chapter, f"{right} of {len(mine)}", tried, "".join(one.sign for one in mine)))
    head = ("chapter", "right", "not yet", "question by question")
    return paragraphs("✓ right, ✗ not yet, · open") + Page(Table(tuple(rows), head, row_heads=True))


def _slips_told(found: Mapping[str, Standing]) -> Page:
    """Slips that showed more than once, the most frequent first."""
    often = Counter(slip for one in found.values() for slip in one.slips)
    lines = tuple(f"{slip}: {count} times" for slip, count in often.most_common(5) if count > 1)
    said = "Slips that showed more than once, worth ten minutes with somebody:"
    return paragraphs(said) + Page(List(lines)) if lines else Page()


class Exercise:
    """One question on the sheet: text, field, button, reply."""

    def __init__(self, sheet: QuestionSheet, id: str, again: int = 0):
        self.sheet, self.id, self.again = sheet, id, again
        self.level = question(id).level
        self._text = Place()
        self._reply = Place(min_height="3.5em")  # kept open, so that nothing below jumps
        self._button = button("Check", "check", self._check, width="9em")
        self._place = widgets.VBox()
        self.widget = widgets.VBox([self._text, self._place, self._button, self._reply])
        self._drawn_for: str | None = None
        self.show()

    @property
    def asked(self) -> Asked:
        """The question with the numbers of the learner as now named."""
        return asked(self.id, self.sheet.name, self.again, self.sheet.behind)

    # --- answering --------------------------------------------------------------------------------
    def answer(self, text: str) -> Verdict:
        """Check an answer, keep it among those tried, and show the reply."""
        tried = self.sheet.tried(self.id, self.again)
        wrong_before = len({given for given, verdict in tried if verdict.kind == "wrong" and given != text})
        verdict = check(self.asked, text, wrong_before)
        if not (tried and tried[-1][0] == text):
            tried.append((text, verdict))
            self.sheet.keep(self.id, self.again, text, verdict)
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
        head = (strong(self.id), " ", dim(_LEVEL_WORDS[self.level]))
        self._text.value = set_out(head, now.text, Paragraph(now.note, "dim") if now.note else "")
        self._field = self._made_field(now)
        self._place.children = (self._field,)
        tried = self.sheet.tried(self.id, self.again)
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
        elif text and text in LETTERS[: len(now.options)]:
            self._field.value = LETTERS.index(text)

    def _show_reply(self, verdict: Verdict) -> None:
        tried = self.sheet.tried(self.id, self.again)
        earlier = ", ".join(f"{given} {verdict.sign}" for given, verdict in tried[:-1] if given)
        self._reply.say(
            (strong(verdict.sign), f" {verdict.said}"),
            _folded(verdict),
            self.sheet.trouble,
            Paragraph(f"Tried before: {earlier}", "dim") if earlier else "",
        )

    def _repr_mimebundle_(self, **options):
        return Panel(self.widget, repr(self))._repr_mimebundle_(**options)

    def __repr__(self) -> str:
        return f"[question {self.id}: {_LEVEL_WORDS[self.level]}] It stands here when the notebook runs."


def _folded(verdict: Verdict) -> Page:
    """Hint and workings under a fold, so that whoever wants to think first can."""
    inside = paragraphs(verdict.hint) + Page(*(Verbatim(str(working)) for working in verdict.workings))
    return Page(Fold("The working" if verdict.kind == "right" else "A hint", inside.blocks)) if inside.blocks else inside
