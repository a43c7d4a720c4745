"""Sections of the brief after its first page: functions ``(evaluation with draws, room) -> Piece``.

``ROOMS`` gives each the millimetres it may fill in the usual form; together they stay within ``SHEETS`` sheets.  On
request each has all the room it takes, and ``REST`` follows.
"""

from __future__ import annotations

import math
import textwrap
from collections.abc import Callable, Mapping

from ... import units
from ...design.asked.room import room as room_of
from ...design.asked.shop_list import pieces_at_size
from ...design.chapters.purpose import REASON_TO_BUILD
from ...design.design import Choice
from ...design.evaluation import Evaluation, Finding
from ...design.jobs import JOB_FIELDS, Job
from ...design.measured.acceptance import TESTS, called_for
from ...design.origins import DEMO, DRAFT, YOURS
from ...planning.mix import WEEKS_IN_A_MONTH
from ...planning.parts import Part
from ...units import Kind, Length
from ..pages import PAGES
from ..pages.alignment import limit_of, to_expect
from ..pages.parts import told_way
from ..shown.essentials import KEY_RESULTS, SIZES
from ..shown.money import amount, money_name
from ..shown.plain_text import how_sure, open_ones, tally, turned_by
from ..shown.views import verdict
from .brief_so_far import SO_FAR, so_far_lists
from .paper import HEADING, SUBHEADING, Piece, bullets, joined, of_page, paragraph, section, subheading, table

Section = Callable[[Evaluation, float], Piece]

_MM = Length("mm")
#: letters of a learner's own words in the usual form
_WORDS = 150


def _said(words: str, room: float) -> str:
    """A learner's own words without the stop at their end; cut where room is counted."""
    words = words.strip().rstrip(".")
    return words if math.isinf(room) else textwrap.shorten(words, _WORDS, placeholder=" …")


# --- what it is for ----------------------------------------------------------------------------------
_JOB_HEADS = {
    "diameter": "largest diameter",
    "smallest": "smallest diameter",
    "length": "length",
    "bar": "bar through spindle",
    "tolerance": "tolerance",
    "roughness": "roughness Ra",
    "pitch": "thread pitch",
    "share": "share of hours",
}
_JOB_KINDS = [(field, kind) for field, (kind, _) in JOB_FIELDS.items() if kind is not None]


def purpose(e: Evaluation, room: float) -> Piece:
    """Reasons, the list of jobs, and what there is to build with."""
    design = e.design
    reasons = [
        f"{decision.label.removeprefix(REASON_TO_BUILD)} {e.shown(name)}"
        for name, decision in e.chain.decisions.items()
        if name.startswith("reason_")
    ]
    rows = [
        (job.name, job.material, *(_of_job(job, field, kind, design.system) for field, kind in _JOB_KINDS), job.holding)
        for job in design.jobs
    ]
    here = joined(
        (
            paragraph(f"Reasons to build, each from 0 to 5: {', '.join(reasons)}."),
            paragraph(
                f"Builders: {e.shown('builders')} ({_said(design['with_whom'], room)}). Each can find {e.shown('hours_can')} and should spend {e.shown('hours_should')}; "
                f"together they can spend {e.shown('money_can')} and should spend {e.shown('money_should')}. Patience: {e.shown('patience')}. "
                f"Place: {_said(design['place'], room)}; {e.shown('space_length')} long, {e.shown('mass_limit')} at most. At hand: {_said(design['at_hand'], room)}."
            ),
            paragraph(
                f"Left out on purpose: {_said(design['left_out'], room)}." if design["left_out"] else "",
                f"Whose it is: {_said(design['whose_lathe'], room)}." if design["whose_lathe"].strip() else "",
            ),
        )
    )
    jobs = table(
        rows,
        ("job", "material", *(_JOB_HEADS[field] for field, _ in _JOB_KINDS), "held"),
        tuple(range(2, 10)),
        room - here.height - HEADING,
    )
    return section("What it is for", jobs, here)


def _of_job(job: Job, field: str, kind: Kind, system: str) -> str:
    value = getattr(job, field)
    if field == "share":
        return f"{value:.0%}"
    return units.shown(value, kind, system) if value else "–"


# --- findings ----------------------------------------------------------------------------------------
#: levers of a finding that fails, and of one that is tight
_LEVERS = {"fails": 2, "tight": 1}


def findings(e: Evaluation, room: float) -> Piece:
    """The findings that fail or are tight with their levers, and what is to be taken with care."""
    pressing = sorted((one for one in e.findings.values() if one.presses), key=lambda one: (one.status != "fails", one.chapter))
    said = paragraph(
        f"{len(e.findings)} questions: {tally(e.findings.values())}. An open one was not asked, or has nothing to be held against yet. "
        "Beside each finding stands its room, as a share of the limit."
    )
    after = subheading("To be taken with care", bullets(e.doubts(), room / 8))
    left = room - said.height - after.height - HEADING
    rows = [
        (
            verdict(one),
            one.chapter,
            " ".join(filter(None, (f"{one.label[0].upper()}{one.label[1:]}. {one.sentence}", how_sure(one), _turned_by(e, one)))),
            _margin(one),
        )
        for one in pressing
    ]
    return section(
        "What does not hold yet",
        said,
        table(
            rows,
            ("finding", "chapter", "what it says, and the smallest changes that would mend it", "room"),
            (3,),
            left,
            widths=(17, 15, 132, 16),
        ),
        after,
    )


def _turned_by(e: Evaluation, finding: Finding) -> str:
    said = "; or ".join(turned_by(e, finding, _LEVERS[finding.status])).removesuffix(".")
    return f"{said[0].upper()}{said[1:]}." if said.startswith("no ") else f"To mend it: {said}."


def _margin(finding: Finding) -> str:
    """Room as a share of the limit; nothing where it says nothing."""
    return f"{round(100 * finding.margin):+d}%".replace("-", "−").replace("+0%", "0%") if abs(finding.margin) < 9.9 else ""


# --- the machine -------------------------------------------------------------------------------------
def machine(e: Evaluation, room: float) -> Piece:
    """What the workshop asks for: pulleys, and the fits of the seats."""
    steps = subheading("Pulleys and belt", _tables("pulleys", e, room / 2))
    return section(
        "For the drawings",
        steps,
        subheading("Fits of the seats", _tables("fits_of_seats", e, room - HEADING - steps.height - SUBHEADING)),
    )


def _tables(name: str, e: Evaluation, room: float) -> Piece:
    """The tables of a chapter's page."""
    return of_page(PAGES[name](e.central), room, paragraphs=False)


# --- the build -----------------------------------------------------------------------------------------
def parts(e: Evaluation, room: float) -> Piece:
    """Every part: its way, its stock, own hours, money and weeks of waiting."""
    c, chosen = e.central, e["ways_chosen"]
    list_, hours, money, weeks = c["parts_list"], c["part_hours"], c["part_money"], c["part_wait"] * WEEKS_IN_A_MONTH
    rows = [
        (
            way.way.part,
            told_way(way),
            _stock(c, list_[way.way.part]),
            f"{h:.1f}" if h < 10 else f"{h:.0f}",
            f"{amount(c, m):.0f}",
            f"{w:.0f}" if w >= 1 else "–",
        )
        for way, h, m, w in zip(chosen, hours, money, weeks)
    ]
    note = paragraph(
        f"{len(rows)} parts: {hours.sum():.0f} own hours, {amount(c, money.sum()):.0f} {money_name(e)}.",
        "Hours at your pace, money at your prices, what must be made again included; weeks are those from order to delivery. Stock is grown to the size of your design, its length last; "
        "the papers for the shop (lathe-course shop) tell what is sawn from which bar.",
    )
    return section(
        "Parts",
        table(
            rows,
            ("part", "way", f"stock, {units.unit_text(_MM, e.design.system)}", "own hours", money_name(e), "weeks"),
            (3, 4, 5),
            room - note.height - HEADING,
            widths=(42, 37, 61, 13, 13, 14),
        ),
        note,
    )


def _stock(e: Evaluation, part: Part) -> str:
    """The pieces a part is made from at the sizes of the design; in words where they have no size."""

    def figure(size: float) -> str:
        return units.number(units.in_unit(size, _MM, e.design.system), 3)

    told, before = [], ""
    for piece in pieces_at_size(e, part):
        across = " x ".join(figure(size) for size in (piece.width, piece.thickness, piece.wall, piece.length) if size > 0)
        words, before = ("" if piece.words == before else piece.words.removesuffix(":")), piece.words
        told.append(f"{words} {across}{f' ({piece.count})' if piece.count > 1 else ''}".strip() if piece.form else piece.words)
    return "; ".join(told)


def order(e: Evaluation, room: float) -> Piece:
    """The order of the work, with the moments from which the half-built lathe works for itself."""
    return section("Order of the work", of_page(PAGES["order_of_the_work"](e.central), room - HEADING, tables=False))


#: what is told of building, and of buying a used machine
_BESIDE = (
    ("cash_total", "used_price"),
    ("own_hours", "used_hours"),
    ("months_to_finish", ""),
    ("building_by_parts", "used_total"),
    ("keeping_a_year", "used_keeping_a_year"),
)


def money_and_time(e: Evaluation, room: float) -> Piece:
    """Where the money goes, when milestones are reached, and building beside buying used."""
    split = subheading("Money", _tables("money_split", e, room / 2 - SUBHEADING))
    steps = subheading("Milestones", _tables("milestones_by_date", e, room / 2 - SUBHEADING))
    rows = [(e.chain.part(built).label, e.shown_spread(built), e.shown_spread(used) if used else "–") for built, used in _BESIDE]
    return section(
        "Money and time",
        split,
        steps,
        subheading(
            "Build, or buy used",
            table(rows, ("", "built", "bought used"), (1, 2), room - HEADING - split.height - steps.height - SUBHEADING),
        ),
    )


def find_out_next(e: Evaluation, room: float) -> Piece:
    """What blurs most, and how to find it out."""
    return section("What to find out next", of_page(PAGES["find_out_next"](e), room - HEADING, paragraphs=False))


def so_far(e: Evaluation, room: float) -> Piece:
    """What was decided, changed and logged so far."""
    lists = so_far_lists(e)
    return section(SO_FAR, *(subheading(title, bullets(rows, room)) for title, rows in lists))


# --- tests ---------------------------------------------------------------------------------------------
def test_sheet(e: Evaluation, room: float) -> Piece:
    """Every test in its order, what it may be, what to expect, and boxes for the readings."""
    told = to_expect(e)
    rows = [(f"{TESTS[name].number} {name}", limit_of(e, name), told.get(name, "–"), "", "", "") for name in called_for(e)]
    note = paragraph(
        f"Class {e['acceptance_class']}. Each test depends on those before it; chapter 17 tells how it is read. Bearings warm, gibs set, mains locked off while hands are inside."
    )
    return section(
        "Test sheet",
        table(
            rows,
            ("test", "allowed", "to expect", "before", "what was done", "after"),
            (),
            room - note.height - HEADING,
            (40, 42, 34, 18, 28, 18),
            boxes=True,
        ),
        note,
    )


# --- decisions -----------------------------------------------------------------------------------------
#: whose decisions stand first where not all find room
_FIRST = {YOURS: 0, DRAFT: 1, DEMO: 2}
#: room for figures of one's own, mm
_OWN_FIGURES = 45.0


def decisions(e: Evaluation, room: float) -> Piece:
    """Decisions that have a reason or a remark, the learner's own before what was drafted and what is the demo's; on request every one."""
    told = []
    for name, decision in sorted(
        e.chain.decisions.items(), key=lambda one: one[1].chapter
    ):  # the chain lists what is placed before what is built
        choice, remarks = e.design.choices[name], e.design.remarks_on(name)
        if math.isinf(room) or choice.reason or remarks or choice.origin == YOURS:
            value = e.shown_spread(name) if decision.numeric else e.design[name] or "–"
            first = 0 if math.isinf(room) or remarks else _FIRST[choice.origin]
            told.append((first, (decision.chapter, decision.label, value, _why(choice, *map(str, remarks)))))
    own = [("", e.chain.figures[name].label, e.shown_spread(name), _why(choice)) for name, choice in e.design.figures.items()]
    figures = subheading(
        "Figures put in place of the course's", _decided(own, room if math.isinf(room) else min(room, _OWN_FIGURES))
    )
    listed = _decided([row for _, row in sorted(told, key=lambda one: one[0])], room - HEADING - figures.height)
    return section("Decisions and reasons", listed, figures)


def _decided(rows: list[tuple[str, ...]], room: float) -> Piece:
    return table(rows, ("chapter", "decision", "settled", "why, and who settled it"), (), room, (15, 55, 36, 74))


def _why(choice: Choice, *remarks: str) -> str:
    """The reason, who settled it, and what a mentor said of it."""
    kept = f"kept {choice.decided}" if choice.decided else {YOURS: "yours", DRAFT: "draft", DEMO: "demo"}[choice.origin]
    return " ".join(filter(None, (choice.reason, f"({kept})", *remarks)))


# --- cautions ------------------------------------------------------------------------------------------
#: a caution, and whether a design calls for it
_GENERAL: tuple[tuple[str, Callable[[Evaluation], bool]], ...] = (
    (
        "Mains: wiring of motor, controller and stop switch is for a licensed electrician where the law says so. Local codes decide on fuse, earth "
        "and protection. Pull the plug before a cover comes off.",
        lambda e: True,
    ),
    (
        "Chuck and work: take the key out before the hand goes to the switch. Turn by hand first. Stand aside when it starts, and keep the guard shut.",
        lambda e: True,
    ),
    ("Belts and gears: cover them before the first run, also the run that is only for trying.", lambda e: True),
    (
        "Eyes, hands, clothes: glasses on; no gloves, rings, loose sleeves or loose hair near what turns. Chips are sharp and hot: use a hook or a brush.",
        lambda e: True,
    ),
    (
        "Lifting: a bed or a headstock crushes hands and feet. Use a hoist or enough people, never stand under it, and move it in bolted pieces if you can.",
        lambda e: bool(e.central["parts_mass"] > e.central["one_may_lift"]),
    ),
    (
        "Welding, grinding, scraping, casting of fill: shield eyes, lungs and neighbours, keep what burns away, and follow the rules of the place.",
        lambda e: bool(_operations(e) & {"welding", "grinding", "scraping"}) or "fill" in e["bed_form"],
    ),
    (
        "Dust of bronze, cast iron and hardwood is not to be breathed.",
        lambda e: bool(
            {*e.design.jobs.materials, *(part.material for part in e.central["parts_list"])} & {"bronze", "cast iron", "hardwood"}
        ),
    ),
)


def _operations(e: Evaluation) -> set[str]:
    """What is done to the parts at home."""
    return {need.operation for one in e["ways_chosen"] for need in one.way.needs}


def cautions(e: Evaluation, room: float) -> Piece:
    """The cautions this design calls for: of what every lathe has, of what this one is, and of what fails or is tight; on request of all findings."""
    general = [said for said, called in _GENERAL if called(e)]
    own = dict.fromkeys(one.caution for one in e.findings.values() if one.caution and (one.presses or math.isinf(room)))
    law = paragraph(
        "Laws, local codes, the rules of your workshop and people licensed in the trade come before anything on these pages. "
        "This brief gives figures; it is no licence to build or to run a machine."
    )
    return section("Cautions", bullets([*general, *own], room - law.height - HEADING), law)


# --- on request ----------------------------------------------------------------------------------------
def results(e: Evaluation, room: float) -> Piece:
    """Key results with their spread."""
    rows = [
        (e.chain.part(name).label, e.central.shown(name), e.shown_spread(name), e.chain.part(name).chapter)
        for name in KEY_RESULTS
    ]
    return section(
        "Key results",
        table(rows, ("result", "likely", "as far as it is known", "chapter"), (1, 2), room - HEADING, widths=(92, 35, 38, 15)),
    )


def what_holds(e: Evaluation, room: float) -> Piece:
    """Findings that hold, what the open ones wait for, and how far decisions could still go."""
    held = [
        f"{one.mark} {one.label}. {one.sentence} {how_sure(one)} {_margin(one)}".rstrip()
        for one in sorted(e.findings.values(), key=lambda one: one.chapter)
        if one.status == "holds"
    ]
    return joined(
        (
            section("What holds", bullets(held)),
            section("What is open", bullets(f"{labels}. {sentence}" for labels, sentence in open_ones(e.findings.values()))),
            section("How far it could still go", bullets(room_of(e, name) for name in SIZES)),
        )
    )


#: pages of chapters told whole on request, under their words
_PAGES: Mapping[str, Mapping[str, str]] = {
    "Drive, give, threads, oil": {
        "Pulleys and belt": "pulleys",
        "Each job at its largest diameter": "job_torque",
        "What each link gives": "give_budget_table",
        "Threads on the list": "job_threads",
        "Fits for the drawing": "fits_of_seats",
        "Oil and grease": "lubrication",
    },
    "The build": {
        "Ways that are open": "ways_of_the_parts",
        "How sure the budget is": "why_the_list_is_too_low",
        "When it is done": "odds_of_being_done",
        "What is carried": "what_is_carried",
        "Running and keeping it": "keeping_it",
    },
    "Tests, and how they are read": {"In the order in which they can be made": "tests_in_order"},
}


def of_the_chapters(e: Evaluation, room: float) -> Piece:
    """Pages of the chapters as they stand there."""
    return joined(
        section(title, *(subheading(words, of_page(PAGES[name](e.central))) for words, name in pages.items()))
        for title, pages in _PAGES.items()
    )


#: sheets of the brief in its usual form: the board, a drawing, and what these rooms fill
SHEETS = 8
#: every section in the order of the course, and the room it may fill in the usual form, mm, beside what those before it have left
ROOMS: Mapping[Section, float] = {
    purpose: 136,
    findings: 212,
    machine: 90,
    parts: 342,
    order: 95,
    money_and_time: 155,
    find_out_next: 50,
    so_far: 124,
    test_sheet: 185,
    decisions: 50,
    cautions: 140,
}
REST: tuple[Section, ...] = (results, what_holds, of_the_chapters)
