"""Words of the trade on a page: those of a chapter folded at its head, and all of them together."""

from __future__ import annotations

from ...tables import table
from ..text.values import Fold
from .glossary import lines, met_in
from .panels import Page, tabled

_HEAD = ("word", "means", "in the inch world", "also called")


def words_of(chapter: str) -> Page:
    """The words met in a chapter, folded under their count; nothing where it uses none."""
    met = met_in(chapter)
    return Page(Fold(f"Words of the trade in this chapter ({len(met)})", (lines(met),))) if met else Page()


def all_words() -> Page:
    """Every word with its meaning, its twin in the inch world and other names, A to Z."""
    return tabled([(word, row["means"], row["inch_world"], row["also_called"]) for word, row in table("words").items()], _HEAD)
