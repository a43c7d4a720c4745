"""The page of all words of the trade."""

from __future__ import annotations

from ...design.evaluation import Evaluation
from ..shown.few import fold
from ..shown.panels import Page
from ..shown.words import all_words
from .register import page

__all__ = ["words_of_the_trade"]


@page
def words_of_the_trade(evaluation: Evaluation) -> Page:
    """All words of the trade, folded; they are the same for every design."""
    found = all_words()
    said = f"{found.plain.count(chr(10))} words of the trade, A to Z"
    return Page(fold(said, found.markup), said)
