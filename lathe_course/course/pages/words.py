"""The page of all words of the trade."""

from __future__ import annotations

from ...design.evaluation import Evaluation
from ..shown.panels import Page
from ..shown.words import all_words
from ..text.values import Fold
from .register import page


@page
def words_of_the_trade(evaluation: Evaluation) -> Page:
    """All words of the trade, folded; they are the same for every design."""
    (told,) = all_words().blocks
    return Page(Fold(f"{len(told.rows)} words of the trade, A to Z", (told,)))
