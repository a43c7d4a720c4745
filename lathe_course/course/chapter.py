"""The frame of a chapter: one short call a cell.

``chapter = open_chapter("06")`` finds the learner's design (or a demo) and offers the parts
of the frame: ``guess``, ``play``, ``working``, ``your_design``, ``keep``, ``what_if``, ``check``.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Any

from ..design.asked.room import room
from ..design.asked.why import Account, account, why
from ..design.chain.luck import DRAWS
from ..design.evaluation import Evaluation, evaluate
from ..design.lathe import CHAPTERS, LATHE
from ..design.origins import begun_with
from ..formula import FORMULAS, Formula
from ..problems import must_be_known
from ..units import InputProblem
from ..working import Working, working
from .pages import show
from .pages.board import way_page
from .session import Session
from .shown.check import WhichCheck
from .shown.closing import find_out_page, open_levers_page, standing_page, ways_forward_page
from .shown.first_choices import JobsPanel, StartPanel, jobs_page, without_each_job_page
from .shown.guess import Guess
from .shown.panels import Live, LiveWorking, Page, Panel, paragraphs
from .shown.play import Keep, Play, Steps, steps_of, turning
from .shown.projector import projector
from .shown.relative import from_here
from .shown.speed_plate import cutting_speeds_page, speed_plate
from .shown.views import (
    all_findings_page,
    chapter_levers_page,
    decisions_page,
    findings_page,
    minding,
    pushes_on_page,
    results_page,
    ripple_page,
    why_page,
)
from .shown.words import words_of
from .text.values import Fold, Part, strong


def open_chapter(number: str, demo: str = "boat_shed") -> Chapter:
    """Open a chapter on the design of the working folder, or on a demo where there is none."""
    if number not in CHAPTERS:
        raise InputProblem.about("chapter", f"there is no chapter {number!r}; choose one of {', '.join(CHAPTERS)}.")
    return Chapter(number, Session(demo_name=demo))


class Chapter:
    """One opened chapter.  Shown by itself it says what it works on."""

    def __init__(self, number: str, session: Session):
        self.number, self.session = number, session
        self.title = CHAPTERS[number]
        self._guesses: dict[str, Guess] = {}

    # --- head -------------------------------------------------------------------------------------
    @property
    def evaluation(self) -> Evaluation:
        return self.session.evaluation

    def _head(self) -> Page:
        trouble = "\n".join(filter(None, (self.session.trouble, self.session.lists_trouble, self.session.log_trouble)))
        head = paragraphs(
            f"Chapter {self.number}, {self.title}: on {self.session.where}; shown in {self.session.design.system}.",
            (strong("Mind:"), f" {trouble}") if trouble else "",
            self._settled_here(),
            self._from_demo(),
            *self.session.remarks,
            *self.session.lists.remarks,
        )
        way = Fold(strong("Where you stand, and what matters here"), way_page(self.session.drawn, self.number).blocks, told=True)
        return Page(Part("lc-head", (*head.blocks, way, *words_of(self.number).blocks)))

    def _settled_here(self, most: int = 3) -> str:
        """What this chapter is for: the first of its decisions, and how many there are."""
        labels = [decision.label for decision in LATHE.decisions.values() if decision.chapter == self.number]
        more = f" and {len(labels) - most} more" if len(labels) > most else ""
        return f"You settle here: {'; '.join(labels[:most])}{more}." if labels else ""

    def _from_demo(self) -> str:
        """Where to begin while nothing is one's own; else the earlier chapters that this one builds on and in which nothing was kept yet."""
        if self.session.path is None:
            return ""
        if self.number > "00b" and all(begun_with(name, choice.origin) for name, choice in self.session.design.choices.items()):
            return "Nothing here is yours yet. The first round, 00b_first_round, drafts a whole lathe of your own from a dozen answers."
        own = [name for name, part in (LATHE.results | LATHE.limits).items() if part.chapter == self.number]
        needed = frozenset().union(*map(LATHE.upstream, own)) if own else frozenset(LATHE.decisions)
        kept: dict[str, bool] = {}
        for name, decision in LATHE.decisions.items():
            if decision.chapter < self.number and name in needed:
                kept[decision.chapter] = kept.get(decision.chapter, False) or not begun_with(
                    name, self.session.design.origin(name)
                )
        missing = [number for number, any_kept in sorted(kept.items()) if not any_kept]
        return f"Still from the demo: chapters {', '.join(missing)}. What you keep there is used here." if missing else ""

    def _repr_mimebundle_(self, **options: Any) -> dict[str, Any]:
        return self._live(self._head)._repr_mimebundle_(**options)

    def __repr__(self) -> str:
        return self._head().plain

    # --- guess ------------------------------------------------------------------------------------
    def guess(self, key: str, question: str, result: str) -> Panel:
        """Ask for a guess of a result before anything is worked out; it is kept with the design."""
        self._need_number(result)
        self._guesses[key] = Guess(self.session, self.number, key, question, result)
        return self._guesses[key].panel()

    def play_back(self, key: str, spread: bool = True) -> Live:
        """The guess beside the figure."""
        if key not in self._guesses:
            raise InputProblem.about(key, f"no guess {key!r} was asked in this chapter; run the cell that asks for it first.")
        guess = self._guesses[key]
        return self._live(lambda: guess.page(spread))

    # --- the first chapters -----------------------------------------------------------------------
    def start(self) -> Panel:
        """Units, and which design to start from."""
        self.last_start = StartPanel(self.session)
        return self.last_start.panel()

    def jobs(self, edit: bool = True) -> Panel | Page:
        """The list of jobs; with ``edit`` a form to change it."""
        if not edit:
            return jobs_page(self.session.design)
        self.last_jobs = JobsPanel(self.session)
        return self.last_jobs.panel()

    def without_each_job(self) -> Live:
        """Which job drives which demand: each struck out in turn."""
        return self._live(lambda: without_each_job_page(self.evaluation))

    def projector(self) -> Panel:
        """A switch for large letters on the whole page, for a wall."""
        return projector()

    # --- play -------------------------------------------------------------------------------------
    def play(
        self,
        picture: str,
        *decisions: str,
        show: Iterable[str] = (),
        findings: Iterable[str] | None = None,
        draws: bool = False,
        **extra: Any,
    ) -> Panel:
        """A picture with controls for some decisions; nothing is kept."""
        for name in decisions:
            self._need_decision(name)
        for name in show:
            self._need(name)
        for name in findings or ():
            self._need_finding(name)
        if findings is None and decisions:
            findings = [name for name, limit in LATHE.limits.items() if self.number in (limit.chapter, *limit.told_in)]
        self.last_play = Play(self.session, decisions, picture, show, findings or (), DRAWS if draws else None, **extra)
        return self.last_play.panel()

    # --- reading ----------------------------------------------------------------------------------
    def working(self, result: str, **figures: Any) -> LiveWorking:
        """How a result comes about, with your figures: its formula, or what it rests on and the formulas called on the way.

        With figures as text it is any formula of the course on those:
        ``chapter.working("spindle_speed", cutting_speed="32 m/min", diameter="120 mm")``.
        """
        if not figures:
            self._need(result)
        return LiveWorking(lambda: self._worked(result, figures), self.session.when_changed)

    def _worked(self, result: str, figures: dict[str, Any]) -> Working | Account:
        if figures:
            return working(_formula(result), system=self.session.design.system, **figures)
        return account(self.evaluation, result)

    def why(self, result: str) -> Live:
        """Where a result comes from, down to your decisions."""
        self._need(result)
        return self._live(lambda: why_page(why(self.evaluation, result)))

    def your_design(self, *results: str, spread: bool = True) -> Live:
        """Results of your design with their spread, and this chapter's findings."""
        for name in results:
            self._need(name)
        return self._live(lambda: self._results_and_findings(results, spread))

    def _results_and_findings(self, results: tuple[str, ...], spread: bool) -> Page:
        evaluation = self._spread(spread)
        findings = evaluation.findings_of(self.number)
        page = results_page(evaluation, results) if results else Page()
        return minding(
            page + findings_page(findings, evaluation) if findings else page,
            evaluation.doubts(n for n, part in (LATHE.decisions | LATHE.results).items() if part.chapter == self.number),
        )

    def all_findings(self, spread: bool = True) -> Live:
        """Every finding of your design in one look, chapter by chapter."""
        return self._live(lambda: all_findings_page(self._spread(spread)))

    def decisions(self, *names: str) -> Live:
        """Decisions as they stand, with reasons, and whether they are yours yet."""
        chosen = names or tuple(n for n, d in LATHE.decisions.items() if d.chapter == self.number)
        for name in chosen:
            self._need_decision(name)
        return self._live(lambda: decisions_page(self.evaluation, chosen))

    def cutting_speeds(self) -> Live:
        """The table of cutting speeds for each material and both kinds of tool."""
        return self._live(lambda: cutting_speeds_page(self.evaluation))

    def speed_plate(self) -> Live:
        """The speeds of the series, and the one each job of the list would run at."""
        return self._live(lambda: speed_plate(self.evaluation))

    def show(self, name: str, **asked: Any) -> Live | Panel:
        """A page or panel that belongs to this chapter's subject, by its name; see ``course/pages``."""
        return show(self.session, name, asked)

    def readings(self, sheet: str, told: str = "") -> Panel:
        """A table of boxes for what you measured, kept with your design; below it the page ``told`` of what it tells."""
        return self.show("readings", sheet=sheet, told=told)

    # --- deciding ---------------------------------------------------------------------------------
    def decide(self, *decisions: str | Sequence[str]) -> Panel:
        """Settle decisions, with a reason if you like, and see at once what they moved; many of them in steps of a few.

        Names that belong together may stand in a list, which is then one step.
        """
        steps = steps_of(decisions)
        for name in (name for step in steps for name in step):
            self._need_decision(name)
        form = Steps(self.session, steps) if len(steps) > 1 else Keep(self.session, steps[0])
        self.last_keeps = form.keeps if isinstance(form, Steps) else (form,)
        self.last_keep = self.last_keeps[0]
        return form.panel()

    def keep(self, because: str = "", **changes: Any) -> Page:
        """The same by typing: ``chapter.keep(centre_height="80 mm", because="...")``."""
        self.session.keep(because, **changes)
        return minding(
            ripple_page(self.session.evaluation_before, self.evaluation),
            self.evaluation.doubts(n for n in changes if n in LATHE.decisions),
        )

    def what_if(self, **changes: Any) -> Live:
        """What a change would move; nothing is kept.  A figure may be told from where it stands: ``centre_height="10 mm less"``."""
        return self._live(lambda: self._tried(changes))

    def _tried(self, changes: dict[str, Any]) -> Page:
        tried = evaluate(
            self.session.design.with_(decided="", **from_here(self.session.design, changes)), earlier=self.evaluation
        )
        return minding(ripple_page(self.evaluation, tried), tried.doubts(n for n in changes if n in LATHE.decisions))

    def pushes_on(self, decision: str) -> Page:
        """What must be looked at again when a decision moves, chapter by chapter."""
        self._need_decision(decision)
        return pushes_on_page(self.evaluation, decision)

    def ripple(self) -> Live:
        """What has moved since this chapter was opened."""
        return self._live(lambda: ripple_page(evaluate(self.session.opened), self.evaluation))

    def levers(self, finding: str = "") -> Live:
        """What would turn a finding: the smallest change of each decision behind it; without a name, each that fails in this chapter."""
        if not finding:
            return self._live(lambda: chapter_levers_page(self.evaluation, self.number))
        self._need_finding(finding)
        return self._live(lambda: turning(self.session, finding))

    def room(self, *decisions: str) -> Live:
        """How far decisions can go before anything fails."""
        for name in decisions:
            self._need_decision(name)
            self._need_number(name)
        return self._live(lambda: self._room(decisions))

    def _room(self, decisions: tuple[str, ...]) -> Page:
        lines = [str(room(self.evaluation, name)) for name in decisions]
        return paragraphs(*lines)

    # --- closing the loop -------------------------------------------------------------------------
    def all_levers(self) -> Live:
        """What would turn each finding that fails or is tight."""
        return self._live(lambda: open_levers_page(self._spread(True)))

    def find_out(self, *names: str) -> Live:
        """What blurs results or findings most, and how to find it out; without names, of the findings that could go either way."""
        for name in names:
            if name not in LATHE.limits:
                self._need(name)
        return self._live(lambda: find_out_page(self._spread(True), names))

    def standing(self) -> Live:
        """How much of your design is worked out, how much is judged, and what could still go either way."""
        return self._live(lambda: standing_page(self._spread(True)))

    def ways_forward(self) -> Live:
        """Build it as it stands, build it mended, or buy used: figures side by side."""
        return self._live(lambda: ways_forward_page(self._spread(True)))

    def brief(self) -> Page:
        """Write the brief of your design beside its file, as one page to read and print."""
        from .printed.brief_beside import brief_page

        return brief_page(self.session)

    # --- check ------------------------------------------------------------------------------------
    def check(self, question: str, result: str, options: dict[str, dict[str, Any]], most: bool = True) -> Panel:
        """Which of these changes does most (or least) for a result?  Worked out on your own design."""
        self._need_number(result)
        self.last_check = WhichCheck(self.session, question, result, options, most)
        return self.last_check.panel()

    # --- behind them ------------------------------------------------------------------------------
    def _live(self, write: Callable[[], Page]) -> Live:
        return Live(write, self.session.when_changed)

    def _spread(self, spread: bool) -> Evaluation:
        return self.session.drawn if spread else self.evaluation

    def _need(self, name: str) -> None:
        must_be_known(name, (*LATHE.decisions, *LATHE.results, *LATHE.figures), "decision or result")

    def _need_decision(self, name: str) -> None:
        self._need(name)
        if name not in LATHE.decisions:
            mine = ", ".join(n for n, d in LATHE.decisions.items() if d.chapter == self.number)
            raise InputProblem.about(
                name,
                f"{name!r} is worked out, not decided; "
                + (f"the decisions of this chapter are {mine}." if mine else "this chapter has no decisions of its own."),
            )

    def _need_number(self, name: str) -> None:
        self._need(name)
        if LATHE.part(name).kind is None:
            raise InputProblem.about(name, f"{name!r} is no figure, and a figure is needed here.")

    def _need_finding(self, name: str) -> None:
        must_be_known(name, LATHE.limits, "finding")


def _formula(name: str) -> Formula:
    must_be_known(name, FORMULAS, "formula")
    return FORMULAS[name]
