"""The prose of a notebook as markup for paper: no calls to type, no markup of a stranger's, nothing fetched."""

from __future__ import annotations

import html
import re
from collections.abc import Mapping

from ..left_out import left_out
from ..text.markup import image
from .typeset import typeset

with left_out():
    from nbconvert.filters import markdown2html

#: a call, or what is put into its brackets
_CODE = r"`[^`\n]*(?:\(|=\")[^`\n]*`"
#: sentences about the page on the screen, which mean nothing on paper
_OF_THE_SCREEN = re.compile(
    r"Run All Cells|It stays empty|run all of it|run the cells?\b|in a (?:new )?cell\b|quotation marks|into the brackets|without `only`|--fresh-copy|\bbuttons?\b"
)
#: pieces that end a sentence, or stand within it, and may go without the rest
_PIECES = [
    re.compile(pattern)
    for pattern in (
        rf" ?\([^()`]*{_CODE}[^()`]*\)",
        rf",? (?:for example|such as|as in),? {_CODE}(?=[.;])",
        rf": {_CODE}(?=\.)",
        rf"; [^;.`]*{_CODE}[^;.`]*(?=\.(?:\s|$))",
    )
]
#: the beginning of a line, and a line of which nothing is left but that
_LEAD = re.compile(r"\s*(?:[-*] |\d+\. |#+ )?")
_ALONE = re.compile(r"\s*(?:[-*] |\d+\. |#+ )?(?:\*\*[^*]*\*\*)?\s*")
_CALL = re.compile(_CODE)
_SENTENCE = re.compile(r"(?:`[^`\n]*`|[^.!?`]|[.!?](?![\s*”\")]|$))+[.!?]?[*”\")]*\s*")
_KNOWN_TAGS = re.compile(r"<(?!/?(?:details|summary|b|i|sub|sup|br)>)")
_PICTURE = re.compile(r"<img\b[^>]*>")
_LINK = re.compile(r"<a\b([^>]*)>(.*?)</a>", re.DOTALL)
_KEPT_PICTURES = ("image/png", "image/jpeg", "image/gif")


def without_calls(source: str) -> str:
    """Markdown of a chapter without what is typed or pressed: the piece of a sentence where that does, else the sentence."""
    return "\n".join(kept for line in source.split("\n") if (kept := _without(line)) is not None)


def _without(line: str) -> str | None:
    """A line of Markdown without calls; None where nothing is left of it."""
    kept = line
    for piece in _PIECES:
        kept = piece.sub("", kept)
    if _CALL.search(kept) or _OF_THE_SCREEN.search(kept):
        lead = _LEAD.match(kept)[0]
        kept = lead + "".join(
            one for one in _SENTENCE.findall(kept[len(lead) :]) if not _CALL.search(one) and not _OF_THE_SCREEN.search(one)
        )
    return None if kept != line and _ALONE.fullmatch(kept) else kept


def prose(source: str, pasted: Mapping[str, Mapping[str, str]] | None = None) -> str:
    """Markdown as markup, formulas set as drawings.  ``pasted`` are pictures pasted into the cell, by name and kind.

    Of markup in it only folds and plain stress are taken as such; a picture that lies elsewhere is told by its words.
    """
    body = markdown2html(_KNOWN_TAGS.sub("&lt;", source).replace("](attachment:", "](pasted:"))
    body = _LINK.sub(lambda found: "" if "anchor-link" in found[1] else found[2], body)
    return typeset(_PICTURE.sub(lambda found: _picture(found[0], pasted or {}), body))


def _picture(tag: str, pasted: Mapping[str, Mapping[str, str]]) -> str:
    words = html.unescape((re.search(r'alt="([^"]*)"', tag) or ("", ""))[1]) or "a picture that was pasted in"
    name = re.search(r'src="pasted:([^"]*)"', tag)
    kinds = pasted.get(html.unescape(name[1]), {}) if name else {}
    kind = next((one for one in _KEPT_PICTURES if re.fullmatch(r"[\w+/=\s]+", str(kinds.get(one, "")))), None)
    if kind is None:
        return f"<i>[{html.escape(words)}]</i>"
    return image(kind, kinds[kind], words)
