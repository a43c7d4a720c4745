"""A chapter as a hand-out: one HTML file with the pictures of one's design and typeset formulas, without code and without a network.

The notebook is not run: each of its cells that is one call of the chapter, with plain values, is made here, so a
copy that somebody handed on does nothing but show.  Whatever else stands in a cell is told by what it showed when it was saved.
"""

from __future__ import annotations

import ast
import json
import os
import re
import warnings
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from ...design.files.whole_file import in_words
from ...design.lathe import CHAPTERS
from ...formula import ValidityWarning
from ...nearest import nearest_or_stop
from ...units import InputProblem
from ..chapter import Chapter
from ..folder.workspace import material
from ..session import Session
from ..shown.glossary import anchor, lines, marked
from ..shown.panels import Page, set_out
from ..shown.views import decisions_page, findings_page, results_page
from ..text.markup import image, markup
from ..text.values import Block, Drawn, Heading, Paragraph, Part, Verbatim
from .document import document, style_sheet, web_page, write_document
from .prose import prose, without_calls
from .still import LINE, field, still

_OPENS = re.compile(r"\bopen_chapter\(\s*[\"']([^\"']+)[\"']")
#: calls that have nothing to show on paper, or that would keep or write something
_LEFT_OUT = ("projector", "start", "keep", "brief")
_STYLE = re.compile(r"<style>(.*?)</style>", re.DOTALL)
#: folds that explain what stands beside them: paper has no other place for it
_EXPLAINS = re.compile(r'<details( class="lc-source")?>(<summary>(?:where it holds|How to read))')
_MENTOR = re.compile(r"\s*<details>\s*<summary><b>For the mentor</b></summary>(.*)</details>\s*", re.DOTALL)
_DOTS = re.compile(r"[\w+/=\s]+")
_UNLIKELY = 120  # letters of a sentence on what failed


@dataclass(frozen=True)
class Handout:
    """The page as markup, and a sentence for each part of it that could not be made."""

    markup: str
    failed: tuple[str, ...]


def chapter_path(named: str) -> Path:
    """The notebook that is meant: a file of one's own, or the course's chapter by its number. InputProblem if there is none."""
    path = Path(named).expanduser()
    if path.suffix == ".ipynb" or os.path.isfile(path):
        return path
    if named not in CHAPTERS:
        raise InputProblem.about(
            "chapter",
            f"There is no chapter {named!r}{nearest_or_stop(named, CHAPTERS, most=3)} Name a chapter by its number, such as 06, or your own copy of it by its file.",
        )
    return next(material("notebooks").glob(f"{named}_*.ipynb"))


def write_handout(path: Path, session: Session, to: str, mentor: bool = False) -> tuple[Path, tuple[str, ...]]:
    """Write the hand-out of a notebook for the design of a session; returns where, and what could not be made."""
    out = web_page(to, "handout", "hand-out", "chapter_06")
    made = handout(path, session, mentor)
    return write_document(made.markup, out, "handout", "The hand-out was"), made.failed


def handout(path: Path, session: Session, mentor: bool = False) -> Handout:
    """The hand-out of a notebook; with ``mentor`` the note for the mentor as well. InputProblem for what is no chapter."""
    cells = _read(path)
    number = next((found[1] for cell in cells if cell.kind == "code" and (found := _OPENS.search(cell.source))), None)
    if number not in CHAPTERS:
        raise InputProblem.about(
            "notebook",
            f"{path.name} opens no chapter of the course, and a hand-out is made of a chapter or of your own copy of one.",
        )
    laid = {cell.source for cell in _read(chapter_path(number))}
    chapter, parts, failed = Chapter(number, session), [], []
    for place, cell in enumerate(cells, 1):
        if cell.kind == "markdown":
            parts.append(_said(cell, cell.source in laid, mentor))
        elif cell.kind == "code":
            try:
                with warnings.catch_warnings():
                    warnings.simplefilter("ignore", ValidityWarning)  # the pages themselves tell what is doubted
                    parts.append(_shown(cell, chapter))
            except Exception as problem:  # noqa: BLE001  one part that fails leaves the rest of the page
                what = str(problem) if isinstance(problem, InputProblem) else f"{type(problem).__name__}: {problem}"[:_UNLIKELY]
                failed.append(f"Part {place} of {path.name} could not be made for this design: {what}")
                parts.append(markup((Paragraph(failed[-1], "notice"),)))
    body = "\n".join(parts)
    styles = "\n".join(dict.fromkeys(_STYLE.findall(body)))
    body = _EXPLAINS.sub(r"<details\1 open>\2", _explained(_STYLE.sub("", body)))
    body = markup((Part("hand-out", (*_head(session), Drawn(body))),))
    return Handout(
        document(f"{number} {CHAPTERS[number]}", style_sheet("brief") + styles + style_sheet("handout"), body), tuple(failed)
    )


def _explained(body: str) -> str:
    """Each word of the trade, where it is first met, leads to its line at the end."""
    body, words = marked(body, lambda met, word: f'<a class="word" href="#{anchor(word)}">{met}</a>')
    told = Part("words", (Heading("Words of the trade"), lines(words, anchors=True)))
    return body + markup((told,)) if words else body


@dataclass(frozen=True)
class _Cell:
    """A cell of a notebook as it lies in the file."""

    kind: str
    source: str
    pasted: dict[str, Any]
    outputs: list[dict[str, Any]]


def _read(path: Path) -> list[_Cell]:
    try:
        return [
            _Cell(cell["cell_type"], _text(cell["source"]), dict(cell.get("attachments", {})), list(cell.get("outputs", ())))
            for cell in json.loads(path.read_text(encoding="utf-8"))["cells"]
        ]
    except OSError as problem:
        raise InputProblem.about("notebook", f"{path} cannot be read: {in_words(problem)}.") from None
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError) as problem:
        raise InputProblem.about(
            "notebook",
            f"{path.name} is damaged and cannot be read as a notebook ({type(problem).__name__}). "
            "'lathe-course start FOLDER --fresh-copy' with the number of the chapter lays a new copy beside it.",
        ) from None


def _text(written: Any) -> str:
    """Text of a notebook file, where it may stand as lines; TypeError for anything else."""
    text = "".join(written) if isinstance(written, list) else written
    if not isinstance(text, str):
        raise TypeError("no text")
    return text


def _head(session: Session) -> list[Paragraph]:
    on = f"the demo “{session.design.name}”" if session.path is None else session.where
    trouble = (session.trouble, session.lists_trouble, session.log_trouble)
    return [
        Paragraph(f"A small lathe, planned before it is built. Figures and pictures: {on}.", "kicker"),
        *(Paragraph(one, "notice") for one in trouble if one),
    ]


def _said(cell: _Cell, ours: bool, mentor: bool) -> str:
    """Prose; what the reader wrote stands as it was written."""
    note = _MENTOR.fullmatch(cell.source)
    if note:
        told = Drawn(prose(without_calls(note[1]) if ours else note[1]))
        return markup((Part("mentor", (Heading("For the mentor"), told)),)) if mentor else ""
    return prose(without_calls(cell.source) if ours else cell.source, cell.pasted)


def _shown(cell: _Cell, chapter: Chapter) -> str:
    """What a cell of code shows."""
    if _OPENS.search(cell.source) or not cell.source.strip():
        return ""
    call = _call(cell.source)
    if call is None:
        return _saved(cell)
    method, given, more = call
    if method in _LEFT_OUT:
        return ""
    made = getattr(chapter, method)(*given, **more)
    if method == "play":
        return _play(chapter)
    if method == "decide":
        keeps = chapter.last_keeps
        settled = decisions_page(chapter.evaluation, [name for keep in keeps for name in keep.controls])
        rooms = "".join(keep.room.value for keep in keeps).replace("<details>", "<details open>")
        return f"{set_out(settled)}{field('Another choice, and why', LINE)}{field('', LINE)}{rooms}"
    return set_out(made) if isinstance(made, Page) else still(made.widget)


def _play(chapter: Chapter) -> str:
    """A picture with the choices it was drawn for, and what hangs on them, of the design as it stands."""
    play, base = chapter.last_play, chapter.last_play.base
    choices = "".join(still(one.place) for one in play.controls.values())
    told = [results_page(base, play.results)] if play.results else []
    told += [findings_page([base.findings[name] for name in play.findings], base)] if play.findings else []
    return markup((Part("figure", (Drawn(play.picture.value),)), Part("choices", (Drawn(choices),)))) + set_out(*told)


def _call(source: str) -> tuple[str, list[Any], dict[str, Any]] | None:
    """Method, values and named values of a cell that is one call of the chapter; None for any other."""
    try:
        match ast.parse(source).body:
            case [ast.Expr(ast.Call(ast.Attribute(ast.Name("chapter"), method), given, more))] if not method.startswith(
                "_"
            ) and callable(getattr(Chapter, method, None)):
                return (
                    method,
                    [ast.literal_eval(one) for one in given],
                    {one.arg: ast.literal_eval(one.value) for one in more if one.arg},
                )
    except (SyntaxError, ValueError, TypeError, MemoryError, RecursionError):
        pass
    return None


def _saved(cell: _Cell) -> str:
    """What a cell of the reader's own showed when it was saved: its words, and a picture of dots."""
    said: list[Block] = []
    for output in cell.outputs:
        data = output.get("data", {})
        dots, words = (_text(one) for one in (data.get("image/png", ""), output.get("text") or data.get("text/plain", "")))
        if _DOTS.fullmatch(dots):
            drawn = image("image/png", dots, f"a picture of a cell of one's own: {words}")
            said.append(Part("figure", (Drawn(drawn),)))
        elif words:
            said.append(Verbatim(words))
    return markup(said)
