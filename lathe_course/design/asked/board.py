"""The board: the whole plan on one page, in a dozen lines.

A line tells what is settled, one or two figures of the chain, its worst finding, and the learner's own words.  Every
finding and every decision of the chain belongs to one line, so that whatever a changed answer moves lights up somewhere.
Nothing is worked out here but what the chain has.
"""

from __future__ import annotations

import functools
import string
import textwrap
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from ..chain.graph import Chain
from ..chapters.purpose import REASON_TO_BUILD
from ..design import Design
from ..evaluation import Evaluation, Finding
from ..origins import DEMO, DRAFT, YOURS
from .lessons import LESSONS, told_all

#: the four groups, in the order of the board
GROUPS = ("the wish", "the machine", "the build", "the life around it")


@dataclass(frozen=True)
class Rule:
    """What one line shows: decisions and figures by name, where words of one's own come from, and answers that may be moved on the board."""

    key: str
    group: str
    title: str
    says: str = ""  # what is settled, with decisions by name in braces
    figures: tuple[str, ...] = ()  # results, the first the one asked for first
    words: tuple[str, ...] = ()  # free texts: decisions, or answers of the wish
    moves: tuple[str, ...] = ()  # coarse answers that can be moved on the board

    @property
    def settled(self) -> tuple[str, ...]:
        """Decisions shown on the line."""
        if self.key == "reasons":
            return tuple(name for name in _NAMED["reasons"] if name.startswith("reason_"))
        return tuple(name for _, name, _, _ in string.Formatter().parse(self.says) if name)


LINES: Mapping[str, Rule] = {
    rule.key: rule
    for rule in (
        Rule(
            "reasons", "the wish", "Reasons", "", ("hour_cost",), ("character",), ("reason_making", "reason_parts", "hour_price")
        ),
        Rule("jobs", "the wish", "Jobs", "", ("share_that_fits",), ("must_have", "left_out")),
        Rule(
            "size",
            "the machine",
            "Size",
            "{centre_height} centre height, {between_centres} between centres",
            ("swing_over_bed", "parts_mass"),
            (),
            ("centre_height", "between_centres", "slide_height"),
        ),
        Rule(
            "cut",
            "the machine",
            "Cut and stiffness",
            "{depth_of_cut} deep in {work_material}",
            ("machine_stiffness", "chatter_free_width"),
            (),
            ("work_material", "depth_of_cut", "spindle_diameter"),
        ),
        Rule(
            "drive",
            "the machine",
            "Speeds, drive, supply",
            "{slowest_speed} to {fastest_speed}; {motor_power}, {drive_kind}",
            ("low_speed_torque", "supply_current"),
            (),
            ("motor_power", "drive_kind", "fastest_speed"),
        ),
        Rule(
            "ways",
            "the build",
            "Parts and ways",
            "{skill}; leadscrew for threads: {threading}",
            ("own_hours", "parts_on_the_lathe"),
            (),
            ("skill", "threading"),
        ),
        Rule(
            "purse",
            "the build",
            "Purse",
            "{money_can}, {savings} put by",
            ("cash_total", "money_needed"),
            (),
            ("money_can", "savings"),
        ),
        Rule(
            "calendar",
            "the build",
            "Calendar",
            "{hours_can}, patience {patience}",
            ("months_to_finish", "months_to_first_chips"),
            ("months_away",),
            ("hours_can", "patience"),
        ),
        Rule(
            "place",
            "the life around it",
            "Place and moving",
            "{home}; room for {space_length}, {mass_limit}",
            ("heaviest_lift", "machine_length"),
            ("place",),
            ("home", "mass_limit", "space_length"),
        ),
        Rule(
            "company",
            "the life around it",
            "Company and ownership",
            "{builders} to build it, {company_share} of the hours in company",
            (),
            ("with_whom", "whose_lathe"),
            ("builders", "company_share"),
        ),
        Rule(
            "near",
            "the life around it",
            "What is near",
            "work of others at {labour_prices} of the list’s prices",
            ("used_price", "outside_money"),
            ("at_hand", "near", "currency"),
            ("labour_prices",),
        ),
        Rule(
            "balance",
            "the life around it",
            "What it brings, what it takes",
            "should be {hours_should}, {money_should}",
            ("months_to_finish_should", "keeping_a_year"),
            ("gives_way",),
            ("hours_should", "money_should"),
        ),
        Rule("learned", "the life around it", "What others learned", "", (), (), ()),
    )
}

#: line of what is decided or held in a chapter, where no name below says otherwise
_OF_CHAPTER = {
    "01": "jobs",
    "02": "size",
    "03": "drive",
    "04": "cut",
    "05": "drive",
    "06": "cut",
    "07": "cut",
    "08": "cut",
    "09": "cut",
    "10": "ways",
    "11": "purse",
    "12": "calendar",
    "13": "place",
    "14": "learned",
    "15": "balance",
    "16": "calendar",
    "17": "cut",
}
_NAMED = {
    "reasons": ("reason_learning", "reason_making", "reason_company", "reason_parts", "reason_saving", "hour_price"),
    "jobs": (
        "left_out",
        "shaft_clears_slide",
        "disc_clears_bed",
        "length_suffices",
        "bar_passes",
        "slow_enough",
        "fast_enough",
        "tolerance_is_met",
        "threads_can_be_cut",
    ),
    "size": ("base_broad_enough", "saddle_stands_firm", "cross_slide_reaches", "tool_not_above_centre", "packing_thin"),
    "drive": ("motor_power", "supply_voltage", "supply_limit", "power_suffices", "supply_suffices"),
    "ways": ("few_parts_open",),
    "purse": ("money_can", "log_within_budget", "money_keeps_step"),
    "calendar": ("hours_can", "patience"),
    "place": (
        "place",
        "space_length",
        "mass_limit",
        "length_is_there",
        "bed_before_a_move",
        "spindle_at_elbow",
        "elbow_height",
        "bench_height",
        "riser_height",
    ),
    "company": (
        "builders",
        "company_share",
        "with_whom",
        "whose_lathe",
        "hour_rate",
        "leaving_discount",
        "partners_bring_hours",
        "partners_bring_money",
        "partners_counted",
        "parting_can_be_paid",
    ),
    "near": ("at_hand", "material_prices", "labour_prices", "currency"),
    "balance": (
        "hours_should",
        "money_should",
        "hours_in_balance",
        "money_in_balance",
        "finished_in_balance",
        "benefit_skills",
        "benefit_wellbeing",
        "benefit_people",
        "benefit_passed_on",
    ),
}
_LINE_OF = {name: key for key, names in _NAMED.items() for name in names}


def line_of(chain: Chain, name: str) -> str:
    """Key of the line that a decision or finding belongs to."""
    return _LINE_OF.get(name) or _OF_CHAPTER[chain.part(name).chapter]


@functools.cache
def findings_of_line(chain: Chain, key: str) -> tuple[str, ...]:
    """Findings of a line, in the order of the chapters."""
    return tuple(name for name in chain.limits if line_of(chain, name) == key)


def answers_to_move() -> tuple[tuple[str, str], ...]:
    """Key of a line and decision, for every coarse answer that can be moved on the board."""
    return tuple((rule.key, name) for rule in LINES.values() for name in rule.moves)


# --- as it stands ------------------------------------------------------------------------------------
@dataclass(frozen=True)
class Figure:
    """One figure as the learner reads it, with its spread if there are draws."""

    name: str
    label: str
    shown: str


@dataclass(frozen=True)
class Line:
    """One line of the board as a design stands."""

    rule: Rule
    says: str  # what is settled, in a few words
    settled: tuple[tuple[str, str], ...]  # label and value of each
    figures: tuple[Figure, ...]
    words: tuple[str, ...]  # the learner's own
    findings: tuple[Finding, ...]
    origins: Mapping[str, int] = field(default_factory=dict)  # how many of its decisions are yours, draft, demo

    @property
    def worst(self) -> Finding | None:
        """The finding that asks most: what fails before what is tight, each by its room; None where nothing presses."""
        return next(iter(fails_most(self.findings)), None)


@dataclass(frozen=True)
class Board:
    """The whole plan in lines, and its findings that press, the worst first."""

    name: str
    lines: tuple[Line, ...]
    pressing: tuple[Finding, ...]
    counts: Mapping[str, int]  # decisions that are yours, draft, demo

    def of(self, group: str) -> tuple[Line, ...]:
        """The lines of a group."""
        return tuple(line for line in self.lines if line.rule.group == group)


def board(e: Evaluation) -> Board:
    """The board of a design worked out; with draws figures come with their spread."""
    lines = tuple(_line(e, rule) for rule in LINES.values())
    counts = {origin: sum(line.origins[origin] for line in lines) for origin in _ORIGINS}
    return Board(e.design.name, lines, fails_most(e.findings.values()), counts)


_ORIGINS = (YOURS, DRAFT, DEMO)


def _line(e: Evaluation, rule: Rule) -> Line:
    chain, design = e.chain, e.design
    own = [design.origin(name) for name in chain.decisions if line_of(chain, name) == rule.key]
    settled = _settled(e, rule)
    figures = tuple(Figure(name, chain.part(name).label, e.shown_spread(name)) for name in rule.figures)
    if rule.key == "learned":
        figures = _lessons(e)
    findings = tuple(e.findings[name] for name in findings_of_line(chain, rule.key))
    return Line(
        rule,
        _says(e, rule, settled),
        settled,
        figures,
        _words(design, rule),
        findings,
        {origin: own.count(origin) for origin in _ORIGINS},
    )


#: jobs and reasons named on a line
_JOBS, _REASONS = 3, 2
#: letters of the name of a job
_LONGEST = 32


def _settled(e: Evaluation, rule: Rule) -> tuple[tuple[str, str], ...]:
    if rule.key == "jobs":
        return tuple((job.name, f"{job.share:.0%}") for job in sorted(e.design.jobs, key=lambda job: -job.share))
    names = rule.settled
    if rule.key == "reasons":  # the weightiest first, and none that weighs nothing
        names = sorted((name for name in names if e.middle(name) > 0), key=lambda name: -e.middle(name))
        return tuple((e.chain.decisions[name].label.removeprefix(REASON_TO_BUILD), e.shown(name)) for name in names)
    return tuple((e.chain.decisions[name].label, e.shown(name)) for name in names)


def _says(e: Evaluation, rule: Rule, settled: tuple[tuple[str, str], ...]) -> str:
    if rule.says:
        return rule.says.format(**{name: e.shown(name) for name in rule.settled})
    most = _JOBS if rule.key == "jobs" else _REASONS
    more = len(settled) - most
    return "; ".join(textwrap.shorten(label, _LONGEST, placeholder=" …") for label, _ in settled[:most]) + (
        f"; and {more} more" if more > 0 else ""
    )


def _words(design: Design, rule: Rule) -> tuple[str, ...]:
    """Free texts of the line; and the reasons of what is the learner's own among what the line shows."""
    texts = [str(design[name]) if name in design.choices else design.wish.get(name, "") for name in rule.words]
    reasons = [design.choices[name].reason for name in rule.settled if design.origin(name) == YOURS]
    return tuple(dict.fromkeys(said.strip() for said in (*texts, *reasons) if said.strip()))


def _lessons(e: Evaluation) -> tuple[Figure, ...]:
    """How many of the lessons of others press on this design: findings and notes of chapter 14, counted."""
    standings = [one.standing for one in told_all(e.central)]
    pressing = standings.count("fails") + standings.count("tight")
    return (
        Figure("lessons", "lessons that this design walks into", f"{pressing} of {len(LESSONS)}"),
        Figure("questions", "questions of theirs without an answer yet", str(standings.count("question"))),
    )


def fails_most(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Findings that press: what fails before what is tight, each the least room first; what cannot be told before all."""
    pressing = [one for one in findings if one.presses]
    return tuple(sorted(pressing, key=lambda one: (one.status != "fails", one.margin == one.margin, one.margin)))


# --- what a changed answer moves -----------------------------------------------------------------------
@dataclass(frozen=True)
class Moved:
    """What has moved on one line: label, before and after of what is settled and of figures, and findings whose verdict turned."""

    settled: tuple[tuple[str, str, str], ...]
    figures: tuple[tuple[str, str, str], ...]
    verdicts: tuple[tuple[Finding, Finding], ...]

    def __bool__(self) -> bool:
        return bool(self.settled or self.figures or self.verdicts)


def moved(before: Evaluation, after: Evaluation) -> dict[str, Moved]:
    """Lines that light up between two evaluations, by middling figures, and what moved on each."""
    if before.design is after.design:
        return {}
    before, after = before.central, after.central
    then, now = board(before), board(after)
    found = {}
    for old, new in zip(then.lines, now.lines, strict=True):
        told = Moved(
            _differing(old.settled, new.settled),
            _differing([(f.label, f.shown) for f in old.figures], [(f.label, f.shown) for f in new.figures]),
            tuple((a, b) for a, b in zip(old.findings, new.findings, strict=True) if a.status != b.status),
        )
        if told:
            found[new.rule.key] = told
    return found


def _differing(old: Iterable[tuple[str, str]], new: Iterable[tuple[str, str]]) -> tuple[tuple[str, str, str], ...]:
    """Label, before and after of what differs; what is on one side only stands against a dash."""
    then, now = dict(old), dict(new)
    return tuple(
        (label, then.get(label, "–"), now.get(label, "–"))
        for label in dict.fromkeys((*then, *now))
        if then.get(label) != now.get(label)
    )
