"""Words of the trade by themselves: what each means, under which names it is met, and where a text first uses it.

A page marks the word where it is first met, and the mark opens what it means: in JupyterLab the course's own extension
does so with ``for_the_browser``, on paper ``marked`` leads to the word's line at the end.
"""

from __future__ import annotations

import functools
import re
from collections.abc import Callable
from typing import Any

from ...nearest import nearest_or_stop
from ...tables import table
from ...units import InputProblem
from ..text.values import Terms

#: other names that are everyday words as well: they can be looked up, and are not marked in a text
_EVERYDAY = ("clock",)
#: where a word of the list means something else
_NOT_MEANT = (
    "twist drill",
    "twist drills",
    "steady cut",
    "steady cutting",
    "steady load",
    "steady push",
    "rough guide",
    "a guide to",
    "run-out groove",
    "flange ring",
)
#: where a mark would be in the way: it has a click of its own, is set in letters of its own, or is a word's own line
_LEFT_ALONE = (
    "h1",
    "h2",
    "h3",
    "h4",
    "h5",
    "h6",
    "a",
    "button",
    "code",
    "pre",
    "svg",
    "label",
    "summary",
    "style",
    "title",
    "dl",
    "th",
)
_PIECE = re.compile(r"""(<(?:[^<>"']|"[^"]*"|'[^']*')*>)""")
_TAG = re.compile(r"<(/?)(\w+)")


def means(word: str) -> str:
    """What a word means, in a sentence without its stop."""
    return table("words")[word]["means"]


def _names(word: str) -> list[str]:
    return [word, *filter(None, (name.strip() for name in table("words")[word]["also_called"].split(",")))]


def _several(name: str) -> list[str]:
    one = name.removesuffix("s") if name.endswith("s") and not name.endswith("ss") else name
    return [one, one + ("es" if one.endswith(("s", "x", "ch")) else "s")] if not one.endswith("y") else [one, one[:-1] + "ies"]


def forms(word: str) -> tuple[str, ...]:
    """How a word and its other names are met in a text, one of them or several, in small letters."""
    return tuple(
        dict.fromkeys(form.lower() for name in _names(word) for form in (_several(name) if " of" not in name else [name]))
    )


@functools.cache
def _by_form() -> dict[str, str]:
    return {form: word for word in table("words") for form in forms(word)}


@functools.cache
def _met() -> re.Pattern[str]:
    return re.compile(rf"(?<![\w-])(?:{'|'.join(map(re.escape, _to_mark()))})(?![\w-])", re.IGNORECASE)


def _to_mark() -> list[str]:
    """Every form that is marked in a text, the longest first, for "change gear" is no "gear"."""
    return sorted((*(form for form in _by_form() if form not in _EVERYDAY), *_NOT_MEANT), key=lambda form: (-len(form), form))


def met_in(chapter: str) -> list[str]:
    """The words that are met in a chapter."""
    return [word for word, row in table("words").items() if chapter in row["chapters"].split()]


def meaning(word: str) -> str:
    """What a word means, what one who works in inches calls it, and its other names, in sentences."""
    row = table("words")[word]
    twin = f" In the inch world: {row['inch_world']}." if row["inch_world"] not in ("", word) else ""
    return f"{row['means'][0].upper()}{row['means'][1:]}.{twin}" + (
        f" Also called {row['also_called']}." if row["also_called"] else ""
    )


def told(word: str) -> str:
    """A word, or another name for it, with what it means; InputProblem with the nearest for one that is not there."""
    asked = word.strip().lower()
    known = _by_form().get(asked)
    if not known:
        raise InputProblem.about("word", f"there is no word {word!r} in the list{nearest_or_stop(asked, _by_form(), most=3)}")
    said = meaning(known)
    return f"{known}: {said[0].lower()}{said[1:]}"


def for_the_browser() -> dict[str, Any]:
    """What the course's extension of JupyterLab needs: each form with its word or None where that is not meant, each word's meaning, and where no mark is set."""
    return {
        "forms": {form: _by_form().get(form) for form in _to_mark()},
        "meaning": {word: meaning(word) for word in table("words")},
        "apart": list(_LEFT_ALONE),
    }


def marked(markup: str, mark: Callable[[str, str], str]) -> tuple[str, list[str]]:
    """Markup with each word of the trade marked where it is first met, and the words that were.

    ``mark`` gives the markup for what stands there, already escaped, and the word it belongs to.
    """
    found: list[str] = []
    inside: list[str] = []

    def first(met: re.Match[str]) -> str:
        word = _by_form().get(met[0].lower())
        if word is None or word in found:
            return met[0]
        found.append(word)
        return mark(met[0], word)

    pieces = _PIECE.split(markup)
    for place, piece in enumerate(pieces):
        if tag := _TAG.match(piece) if place % 2 else None:
            name = tag[2].lower()
            if name in _LEFT_ALONE:
                if not tag[1]:
                    inside.append(name)
                elif name in inside:
                    del inside[len(inside) - 1 - inside[::-1].index(name) :]
        elif not place % 2 and not inside:
            pieces[place] = _met().sub(first, piece)
    return "".join(pieces), found


def lines(words: list[str], anchors: bool = False) -> Terms:
    """Words with what they mean, a line for each; with ``anchors`` each line can be led to."""
    return Terms(tuple((word, meaning(word)) for word in words), tuple(map(anchor, words)) if anchors else ())


def anchor(word: str) -> str:
    """The name of a word's line on a page."""
    return "word-" + re.sub(r"\W+", "-", word)
