"""The first page of the brief: the board, which says it all."""

from __future__ import annotations

from ...design.asked.board import board
from ...design.asked.way_through import next_evening
from ...design.demos import DEMOS, demo
from ...design.design import Design
from ...design.evaluation import Evaluation
from ...design.origins import DEMO, DRAFT, YOURS
from ..shown.board_view import sheet_markup
from ..text.values import Paragraph
from .brief_drawing import drawing_to_scale
from .brief_so_far import besides_decisions


def title_of(design: Design) -> str:
    """The name a learner gave the lathe."""
    return design.name or "A lathe without a name"


def front(e: Evaluation) -> str:
    """The board as one sheet: name, where it comes from, the whole plan in lines, and the lathe to scale."""
    design = e.design
    dates = [choice.decided for choice in design.choices.values() if choice.decided]
    said = " ".join(
        filter(
            None,
            (
                f"Last decision kept on {max(dates)}." if dates else "",
                f"Last line of the log: {design.log.entries[-1].date}." if design.log else "",
                "Where a figure has two ends, four fifths of what can be expected lie between them. "
                "Mass, money and time are added up part by part.",
            ),
        )
    )
    notes = [Paragraph(words, kind) for words, kind in ((_where_from(design), "notice"), (said, "")) if words]
    return sheet_markup(board(e), drawing_to_scale(e), next_evening(e), notes)


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
        said = (
            f"{'No figure' if besides else 'Nothing'} here was decided yet: every {'decision' if besides else 'figure'} is that of {name}."
            if jobs
            else f"Only the jobs are the builder's: every figure is that of {name}."
        )
    else:
        said = " ".join(
            filter(
                None,
                (
                    f"{kept} of {len(origins)} decisions were kept by the builder." if kept < len(origins) else "",
                    f"{drafted}, marked “draft”, the course proposed from the builder's jobs and answers." if drafted else "",
                    f"The others, marked “demo”{', and the jobs' if jobs else ''}, are still those of {name}."
                    if borrowed
                    else f"The jobs are still those of {name}."
                    if jobs
                    else "",
                ),
            )
        )
    return said and said + besides
