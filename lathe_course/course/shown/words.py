"""Words of the trade, each explained in a sentence: those of a chapter folded at its head, and all of them on one page."""

from __future__ import annotations

from ...nearest import nearest_or_stop
from ...tables import table
from ...units import InputProblem
from .few import fold
from .panels import Page, escape, table_html, table_text

__all__ = ["all_words", "means", "told", "words_of"]

_HEAD = ("word", "means", "in the inch world", "also called")


def means(word: str) -> str:
    """What a word means, in a sentence without its stop."""
    return table("words")[word]["means"]


def words_of(chapter: str) -> str:
    """Markup of the words met in a chapter, folded under their names; nothing where it uses none."""
    met = [word for word, row in table("words").items() if chapter in row["chapters"].split()]
    told = "".join(f"<dt><b>{escape(word)}</b></dt><dd>{escape(_told(word))}</dd>" for word in met)
    return fold(f"Words of the trade in this chapter: {', '.join(met)}", f"<dl>{told}</dl>") if met else ""


def told(word: str) -> str:
    """A word, or another name for it, with what it means; InputProblem with the nearest for one that is not there."""
    of = {
        name.strip().lower(): known for known, row in table("words").items() for name in (*row["also_called"].split(","), known)
    }
    asked = word.strip().lower()
    known = of.get(asked) or of.get(asked.removesuffix("s"))
    if not known:
        raise InputProblem([("word", f"there is no word {word!r} in the list{nearest_or_stop(asked, filter(None, of), most=3)}")])
    said = _told(known)
    return f"{known}: {said[0].lower()}{said[1:]}"


def _told(word: str) -> str:
    row = table("words")[word]
    twin = f" In the inch world: {row['inch_world']}." if row["inch_world"] not in ("", word) else ""
    return f"{row['means'][0].upper()}{row['means'][1:]}.{twin}" + (
        f" Also called {row['also_called']}." if row["also_called"] else ""
    )


def all_words() -> Page:
    """Every word with its meaning, its twin in the inch world and other names, A to Z."""
    rows = [(word, row["means"], row["inch_world"], row["also_called"]) for word, row in table("words").items()]
    return Page(table_html(rows, _HEAD), table_text(rows, _HEAD))
