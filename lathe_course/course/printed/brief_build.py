"""Sections of the brief that chapters write themselves: drive, threads, parts and ways, budget, timescale, place, keeping, test sheet."""
from __future__ import annotations

import html
import re
from dataclasses import dataclass

from ...design.evaluation import Evaluation
from ..pages import PAGES

__all__ = ["BUILD", "MACHINE", "TEST_SHEET", "Group", "chapters", "page"]


@dataclass(frozen=True)
class Group:
    """A heading with the pages of chapters that stand below it, each under its own words."""

    title: str
    pages: tuple[tuple[str, str], ...]          # (words above it, name of the page)


MACHINE = Group("Drive, bed, slides and threads", (
    ("Pulleys and belt", "pulleys"), ("Each job at its largest diameter", "job_torque"), ("What each link gives", "give_budget_table"),
    ("Threads on the list", "job_threads"), ("Fits for the drawing", "fits_of_seats"), ("Oil and grease", "lubrication")))
BUILD = Group("The build", (
    ("Parts and ways", "ways_of_the_parts"), ("Order of the work", "order_of_the_work"), ("Budget", "money_split"), ("How sure the budget is", "why_the_list_is_too_low"),
    ("Timescale", "milestones_by_date"), ("When it is done", "odds_of_being_done"), ("Place: what is carried", "what_is_carried"),
    ("Running and keeping it", "keeping_it")))
TEST_SHEET = Group("Test sheet", (("Tests, in the order in which they can be made", "tests_in_order"),))


def page(name: str, e: Evaluation) -> str:
    """A page of a chapter as HTML; a table wider than the screen scrolls in its own place, and nothing is folded, for paper does not unfold."""
    return re.sub(r"<table\b.*?</table>", r'<div class="scroll">\g<0></div>', PAGES[name](e).markup.replace("<details>", "<details open>"), flags=re.DOTALL)


def chapters(e: Evaluation, group: Group) -> str:
    """The pages of a group as HTML; each works on middling figures, or draws by itself."""
    parts = [f"<h3>{html.escape(words)}</h3>\n{page(name, e.central)}" for words, name in group.pages]
    return f'<section class="chapters">\n<h2>{html.escape(group.title)}</h2>\n' + "\n".join(parts) + "\n</section>"
