"""The mentor's page on a class, made from copies of what the learners' folders hold; changes nothing of theirs."""

from __future__ import annotations

import base64
import json
import os
import sys
import tempfile
import urllib.parse
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path

from lathe_course.design.design import Design
from lathe_course.design.evaluation import evaluate
from lathe_course.design.files.lists import load_with_lists
from lathe_course.design.lathe import LATHE
from lathe_course.design.origins import YOURS
from lathe_course.problems import InputProblem

from ...design.chain.luck import DRAWS
from ..folder.workspace import DESIGN_FILE
from ..printed.brief_so_far import so_far_lists
from ..printed.document import document, sheet, style_sheet
from ..shown.panels import Page, paragraphs
from ..shown.plain_text import findings_text, tally
from ..teaching.questions import tries_text
from ..teaching.questions.draws import normalised
from ..teaching.questions.tries import read_tries, tries_path
from ..teaching.side_by_side import side_by_side, tables
from ..text.markup import markup
from ..text.values import Heading, Link, List, Table, Verbatim
from .handed import FILE
from .hub import ALONE

#: twenty designs side by side are pushed aside, not squeezed, and each row keeps its name in sight
_STYLE = """pre { white-space: pre-wrap; font-size: .9rem; }
h2 { margin: 1.2em 0 .4em; }
.large table { width: max-content; }
.large td, .large th { overflow-wrap: normal; max-width: 13em; }
.large th[scope=row], .large thead td { position: sticky; left: 0; background: var(--pale); }
"""


@dataclass(frozen=True)
class Seen:
    """What one learner's folder tells: the design where it can be read, the tries, and a sentence where there is no design."""

    name: str
    design: Design | None = None
    tries: str = ""
    right: str = ""
    said: str = ""


def seen(name: str, raw: bytes, place: Path, today: date) -> Seen:
    """A learner's design and tries from what ``handed`` wrote of the folder, copied to ``place``."""
    try:
        files = {key: base64.b64decode(text) for key, text in json.loads(raw).items() if FILE.fullmatch(key)}
    except (ValueError, TypeError, AttributeError, RecursionError):
        return Seen(name, said="the folder could not be read this time")
    if DESIGN_FILE not in files:
        return Seen(name, said="has not opened the course yet")
    for key, content in files.items():
        (place / key).write_bytes(content)
    path = place / DESIGN_FILE
    tries, right = _tries(tries_path(path))
    try:
        return Seen(name, load_with_lists(path, LATHE, today), tries, right)
    except InputProblem as problem:
        return Seen(name, None, tries, right, str(problem).replace(f"{place}{os.sep}", ""))


def _tries(path: Path) -> tuple[str, str]:
    """What was tried in the exercises, and how much of it is right by now."""
    try:
        told = tries_text(path) if path.exists() else ""
    except InputProblem as problem:
        return str(problem), ""
    tries, _ = read_tries(path)
    asked = {(normalised(one.name), one.question) for one in tries}
    right = {(normalised(one.name), one.question) for one in tries if one.stands == "right"}
    return told, f"{len(right)} of {len(asked)} are right" if asked else ""


def class_html(found: Sequence[Seen], now: str) -> str:
    """One HTML document: all learners in a table, each a link to what ``learner_html`` tells, and their designs side by side."""
    rows = []
    for one in found:
        said, decided = one.said, ""
        if one.design is not None:
            said = tally(evaluate(one.design, draws=DRAWS).findings.values())
            decided = str(sum(choice.origin == YOURS for choice in one.design.choices.values()))
        rows.append((Link(one.name, f"?of={urllib.parse.quote(one.name)}"), said, decided, one.right))
    body = Page(Table(tuple(rows), ("learner", "findings", "own decisions", "exercises"), row_heads=True))
    designs = {one.name: one.design for one in found if one.design is not None}
    if len(designs) > 1:
        body += Page(tables(side_by_side([*designs.values()], [*designs])))
    return _document("The class", now, body)


def learner_html(one: Seen, now: str) -> str:
    """One HTML document on one learner: findings with their levers, what was decided and done so far, and what was tried in the exercises."""
    body = paragraphs(Link("the whole class", "?"))
    if one.design is None:
        body += paragraphs(one.said)
    else:
        body += Page(Heading("Findings"), Verbatim(findings_text(one.design)))
        for title, told in so_far_lists(evaluate(one.design, draws=DRAWS)):
            body += Page(Heading(title), List(tuple(told)))
    if one.tries:
        body += Page(Heading("Exercises"), Verbatim(one.tries))
    return _document(one.name, now, body)


def _document(title: str, now: str, page: Page) -> str:
    body = markup((sheet(title, f"as it stands at {now}; load the page again to look again", page),), paper=True)
    return document(title, style_sheet("wall") + _STYLE, body, "beside")


def main() -> None:
    """Write the page to standard output, of what came by standard input: names, each with what was handed over, in base64.

    Of one name alone it is that learner's page, where the words of the command say so.
    """
    now = datetime.now()
    with tempfile.TemporaryDirectory(prefix="lathe-course-class-") as place:
        found = []
        for number, (name, raw) in enumerate(json.load(sys.stdin).items()):
            own = Path(place) / str(number)
            own.mkdir()
            found.append(seen(name, base64.b64decode(raw), own, now.date()))
        made = learner_html(found[0], f"{now:%H:%M}") if sys.argv[1:] == [ALONE] else class_html(found, f"{now:%H:%M}")
    sys.stdout.buffer.write(made.encode("utf-8"))


if __name__ == "__main__":
    main()
