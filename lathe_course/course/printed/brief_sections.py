"""The sections of the brief: functions ``(evaluation with draws) -> HTML``, in the order of ``SECTIONS``.

Whatever a learner wrote goes through ``text`` and is shown as text.
"""
from __future__ import annotations

import html
from collections.abc import Iterable, Sequence

from ... import units
from ...design.asked.board import board
from ...design.asked.levers import levers
from ...design.asked.room import room
from ...design.asked.way_through import next_evening
from ...design.demos import DEMOS, demo
from ...design.design import Choice, Design
from ...design.evaluation import Evaluation, Finding
from ...design.jobs import JOB_FIELDS, Job
from ...design.lathe import CHAPTERS
from ...design.origins import DEMO, DRAFT, YOURS
from ...design.remarks import Remark
from ...units import Kind
from ..shown.board_view import sheet_markup
from ..shown.closing import ABOUT_THE_WAYS, either_way_sentence, grounds, ways_forward
from ..shown.essentials import KEY_RESULTS, SIZES
from ..shown.plain_text import NO_LEVER, how_sure, open_ones, tally
from ..shown.views import verdict
from .brief_build import BUILD, MACHINE, TEST_SHEET, chapters, page
from .brief_drawing import drawing_to_scale, figure
from .brief_so_far import besides_decisions, so_far
from .brief_sources import sources_used

__all__ = ["SECTIONS", "text", "title_of"]


def text(words: object) -> str:
    """Anything as text that cannot be markup."""
    return html.escape(str(words), quote=True)


def title_of(design: Design) -> str:
    """The name a learner gave the lathe."""
    return design.name or "A lathe without a name"


# --- building blocks ---------------------------------------------------------------------------------
def _table(rows: Iterable[Sequence[object]], head: Sequence[str], numeric: tuple[int, ...] = (), keep: bool = True) -> str:
    """A table whose first column heads its rows; a cell that is a ``Markup`` stays markup."""
    def cell(index: int, words: object) -> str:
        said = words if isinstance(words, Markup) else text(words)
        return f'<th scope="row">{said}</th>' if index == 0 else f'<td{" class=n" if index in numeric else ""}>{said}</td>'
    body = "\n".join(f"<tr>{''.join(cell(i, words) for i, words in enumerate(row))}</tr>" for row in rows)
    top = "".join(f'<th scope="col">{text(words)}</th>' if words else "<td></td>" for words in head)
    return f'<div class="scroll{" keep" if keep else ""}"><table><thead><tr>{top}</tr></thead>\n<tbody>\n{body}\n</tbody></table></div>'


class Markup(str):
    """Text that is HTML already."""


def _list(lines: Iterable[object]) -> str:
    return f"<ul>{''.join(f'<li>{text(line)}</li>' for line in lines)}</ul>"


def _section(title: str, *parts: str, keep: bool = False) -> str:
    return f"<section{' class=keep' if keep else ''}>\n<h2>{text(title)}</h2>\n" + "\n".join(part for part in parts if part) + "\n</section>"


def _paragraph(*sentences: str) -> str:
    return f"<p>{text(' '.join(sentence for sentence in sentences if sentence))}</p>"


# --- head --------------------------------------------------------------------------------------------
def head(e: Evaluation) -> str:
    """The board as the first page: name, where it comes from, the whole plan in lines, and the lathe to scale."""
    design = e.design
    dates = [choice.decided for choice in design.choices.values() if choice.decided]
    last = [f"Last decision kept on {max(dates)}." if dates else "", f"Last line of the log: {design.log.entries[-1].date}." if design.log else ""]
    notes = [_where_from(design), _paragraph(*last, "Where a figure has two ends, four fifths of what can be "
                                             "expected lie between them. Mass, money and time are added up part by part.")]
    return sheet_markup(board(e), drawing_to_scale(e), next_evening(e), [note for note in notes if note])


def _where_from(design: Design) -> str:
    """What of the design is still a demo's, and so invented."""
    if design.started_from not in DEMOS:
        return ""
    name = f"the demo “{design.started_from.replace('_', ' ')}”, which was invented for the course"
    origins = [choice.origin for choice in design.choices.values()]
    kept, drafted, borrowed = origins.count(YOURS), origins.count(DRAFT), origins.count(DEMO)
    jobs = design.jobs == demo(design.started_from).jobs
    besides = f" The builder's own are {' and '.join(ones)}." if (ones := besides_decisions(design)) else ""
    if not kept and not drafted:
        said = f"{'No figure' if besides else 'Nothing'} here was decided yet: every {'decision' if besides else 'figure'} is that of {name}." if jobs else f"Only the jobs are the builder's: every figure is that of {name}."
    else:
        said = " ".join(filter(None, (
            f"{kept} of {len(origins)} decisions were kept by the builder." if kept < len(origins) else "",
            f"{drafted}, marked “draft”, the course proposed from the builder's jobs and answers." if drafted else "",
            f"The others, marked “demo”{', and the jobs' if jobs else ''}, are still those of {name}." if borrowed
            else f"The jobs are still those of {name}." if jobs else "")))
    return f'<p class="notice">{text(said + besides)}</p>\n' if said else ""


# --- what it is for ----------------------------------------------------------------------------------
_JOB_HEADS = {"diameter": "largest diameter", "smallest": "smallest diameter", "length": "length", "bar": "bar through spindle",
              "tolerance": "tolerance", "roughness": "roughness Ra", "pitch": "thread pitch", "share": "share of hours"}


def purpose(e: Evaluation) -> str:
    """Reasons, the list of jobs, and what there is to build with."""
    design = e.design
    reasons = [f"{e.chain.decisions[name].label} {e.shown(name)}" for name in design.choices if name.startswith("reason_")]
    rows = [(job.name, job.material, *(_of_job(job, field, kind, design.system) for field, kind in _job_kinds()), job.holding) for job in design.jobs]
    envelope = (f"Builders: {e.shown('builders')} ({design['with_whom']}). Each can find {e.shown('hours_can')} and should spend "
                f"{e.shown('hours_should')}; together they can spend {e.shown('money_can')} and should spend {e.shown('money_should')}. "
                f"Place: {design['place']}; {e.shown('space_length')} long, {e.shown('mass_limit')} at most. At hand: {design['at_hand']}. "
                f"Patience: {e.shown('patience')}.")
    whose = design["whose_lathe"].strip().rstrip(".")
    return _section("What it is for",
                    _paragraph(f"Reasons, each from 0 to 5: {', '.join(reasons)}."),
                    _table(rows, ("job", "material", *(_JOB_HEADS[field] for field, _ in _job_kinds()), "held"), numeric=tuple(range(2, 10))),
                    _paragraph(f"Left out on purpose: {design['left_out'].rstrip('.')}." if design["left_out"] else ""),
                    "<h3>What there is to build with</h3>", _paragraph(envelope),
                    _paragraph(f"Whose it is: {whose}." if whose else ""), keep=True)


def _job_kinds() -> list[tuple[str, Kind]]:
    return [(field, kind) for field, (kind, _) in JOB_FIELDS.items() if kind is not None]


def _of_job(job: Job, field: str, kind: Kind, system: str) -> str:
    value = getattr(job, field)
    if field == "share":
        return f"{value:.0%}"
    return units.shown(value, kind, system) if value else "–"


# --- findings ----------------------------------------------------------------------------------------
def findings(e: Evaluation) -> str:
    """Every finding: those that fail or are tight with their levers, those that hold in short; and the room there is."""
    order = ("fails", "tight", "holds", "open")
    sorted_ones = sorted(e.findings.values(), key=lambda finding: (order.index(finding.status), finding.chapter))
    rows = [(Markup(f'<span class="verdict {one.status}">{text(verdict(one))}</span>'), one.chapter,
             Markup(f"<b>{text(one.label)}.</b> {text(one.sentence)} {text(how_sure(one))}{_levers(e, one)}"), _margin(one))
            for one in sorted_ones if one.presses]
    held = [one for one in sorted_ones if one.status == "holds"]
    holding = "".join(f'<li>{one.mark} <b>{text(one.label)}.</b> {text(one.sentence)} {text(how_sure(one))} <span class="dim">{_margin(one)}</span></li>'
                      for one in held)
    waiting = "".join(f"<li>? <b>{text(labels)}.</b> {text(sentence)}</li>" for labels, sentence in open_ones(sorted_ones))
    return _section("Does it hang together?",
                    _paragraph(f"{len(e.findings)} questions: {tally(e.findings.values())}. Beside each stands its "
                               "room, as a share of the limit."),
                    _table(rows, ("verdict", "chapter", "finding, and the smallest changes that would turn it", "room"), numeric=(3,), keep=False) if rows else "",
                    f'<h3>What holds</h3><ul class="short">{holding}</ul>' if held else "",
                    f'<h3>What is open</h3><ul class="short">{waiting}</ul>' if waiting else "",
                    "<h3>To be taken with care</h3>" + _list(doubts) if (doubts := e.doubts()) else "",
                    '<div class="keep"><h3>How far it could still go</h3>' + _list(room(e, name) for name in SIZES) + "</div>")


def _levers(e: Evaluation, finding: Finding) -> str:
    if not finding.presses:
        return ""
    return _list([str(lever) for lever in levers(e, finding.name, most=3 if finding.status == "fails" else 1)] or [NO_LEVER])


def _margin(finding: Finding) -> str:
    """Room as a share of the limit; nothing where it says nothing."""
    return f"{round(100 * finding.margin):+d}%".replace("-", "−").replace("+0%", "0%") if abs(finding.margin) < 9.9 else ""


# --- results -----------------------------------------------------------------------------------------
def results(e: Evaluation) -> str:
    """Key results with their spread."""
    rows = [(e.chain.part(name).label, e.central.shown(name), e.shown_spread(name), e.chain.part(name).chapter) for name in KEY_RESULTS]
    return _section("Key results", _table(rows, ("result", "likely", "as far as it is known", "chapter"), numeric=(1, 2), keep=False))


def give(e: Evaluation) -> str:
    """Where the give between work and tool comes from."""
    return _section("Where the give comes from", figure("give_budget", e,
                    "Springs in a row add their give. Whiskers hold four fifths of what can be expected; the hatched links are judged from common "
                    "practice, not worked out."))


# --- money and time ----------------------------------------------------------------------------------
def money_and_time(e: Evaluation) -> str:
    """What there is a month against what the parts take, and building beside mending and buying used."""
    heads, rows = ways_forward(e)
    return _section("Money, hours, months, and buying used",
                    figure("hours_and_money", e, "What there is a month against what it takes. In all is later than either: orders, waits and months away come on top."),
                    _table(rows, heads, keep=False), _paragraph(ABOUT_THE_WAYS))


def find_out_next(e: Evaluation) -> str:
    """What blurs most, and how to find it out."""
    return _section("What to find out next", page("find_out_next", e))


# --- decisions ---------------------------------------------------------------------------------------
def decisions(e: Evaluation) -> str:
    """Every decision by chapter, with its reason, who settled it, and what a mentor said of it."""
    design, groups = e.design, {}
    for name, decision in e.chain.decisions.items():
        value = e.shown_spread(name) if decision.numeric else design[name]
        groups.setdefault(f"{decision.chapter} {CHAPTERS[decision.chapter]}", []).append(_choice(decision.label, value, design.choices[name], design.remarks_on(name)))
    groups = dict(sorted(groups.items()))           # the chain lists what is placed and aligned before what is built
    own = [_choice(e.chain.figures[name].label, e.shown_spread(name), choice) for name, choice in design.figures.items()]
    if own:
        groups["Figures put in place of the course's"] = own
    listed = "\n".join(f"<h3>{text(name)}</h3>\n<ul>{''.join(lines)}</ul>" for name, lines in groups.items())
    return _section("Decisions and reasons", _paragraph("The reason stands in italics; behind it, who settled the figure."),
                    f'<div class="short">{listed}</div>')


def _choice(label: str, value: str, choice: Choice, remarks: Iterable[Remark] = ()) -> str:
    kept = f"kept {choice.decided}" if choice.decided else {YOURS: "yours", DRAFT: "draft", DEMO: "demo"}[choice.origin]
    reason = f" <i>{text(choice.reason)}</i>" if choice.reason else ""
    said = "".join(f"<br>{text(one)}" for one in remarks)
    return f'<li>{text(label)}: <b>{text(value or "–")}</b>{reason} <span class="dim">({text(kept)})</span>{said}</li>'


# --- cautions ----------------------------------------------------------------------------------------
GENERAL_CAUTIONS = (
    "Mains: wiring of motor, controller and stop switch is for a licensed electrician where the law says so. Local codes decide on fuse, earth "
    "and protection. Pull the plug before a cover comes off.",
    "Lifting: a bed or a headstock crushes hands and feet. Use a hoist or enough people, never stand under it, and move it in bolted pieces if you can.",
    "Chuck and work: take the key out before the hand goes to the switch. Turn by hand first. Stand aside when it starts, and keep the guard shut.",
    "Belts and gears: cover them before the first run, also the run that is only for trying.",
    "Eyes, hands, clothes: glasses on; no gloves, rings, loose sleeves or loose hair near what turns. Chips are sharp and hot: use a hook or a brush.",
    "Welding, grinding, dust: shield eyes, lungs and neighbours, keep what burns away, and follow the rules of the place. Dust of bronze, cast iron and "
    "hardwood is not to be breathed.",
)


def cautions(e: Evaluation) -> str:
    """The cautions of all findings once, and the general ones."""
    own = list(dict.fromkeys(finding.caution for finding in e.findings.values() if finding.caution))
    return _section("Cautions", _list([*GENERAL_CAUTIONS, *own]),
                    _paragraph("Laws, local codes, the rules of your workshop and people licensed in the trade come before anything on these pages. "
                               "This brief gives figures; it is no licence to build or to run a machine."))


# --- what it rests on --------------------------------------------------------------------------------
def rests_on(e: Evaluation) -> str:
    """What is worked out, what is judged, and the sources."""
    rows = [(ground.what, len(ground.labels), ground.such_as) for ground in grounds(e) if ground.labels]
    listed = "".join(f"<p><b>{text(standing[0].upper() + standing[1:])}:</b> {'; '.join(f'{text(title)} ({count})' for title, count in titles)}.</p>"
                     for standing, titles in sources_used(e).items())
    return _section("What these figures rest on", _table(rows, ("the findings rest on", "how many", "such as"), numeric=(1,)), _paragraph(either_way_sentence(e)),
                    "<h3>Sources used, and in how many places</h3>", f'<div class="sources">{listed}</div>')


# --- what the chapters write -------------------------------------------------------------------------
def machine(e: Evaluation) -> str:
    """Drive, links, threads, fits and oil, as their chapters tell them."""
    return chapters(e, MACHINE)


def build(e: Evaluation) -> str:
    """Parts and ways, budget, timescale, place and keeping, as their chapters tell them."""
    return chapters(e, BUILD)


def test_sheet(e: Evaluation) -> str:
    """What is measured when it runs."""
    return chapters(e, TEST_SHEET)


SECTIONS = (head, purpose, findings, results, give, machine, build, money_and_time, find_out_next, test_sheet, so_far, decisions, cautions, rests_on)
