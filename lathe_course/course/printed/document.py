"""One HTML document that needs nothing else: its frame, where it may be written, and how."""

from __future__ import annotations

import html
import os
import re
from importlib.resources import files
from pathlib import Path

from ...design.files import whole_file
from ...units import InputProblem
from ..shown.panels import Page
from ..text.values import Heading, Link, Paragraph, Part, strong

_SIDEWAYS = re.compile(r"""<figure\b|<div class=["'](?:scroll|lc)(?: [^"']*)?["']""")
#: stands in everything that is written to be printed; a file without it is not ours, and stays
MARK = "lathe-course, a newer one of this name takes its place"
_ENDINGS = (".html", ".htm")


def style_sheet(name: str) -> str:
    """The style sheet ``brief`` or ``wall``."""
    return files(__package__).joinpath(f"{name}.css").read_text("utf-8")


def document(title: str, style: str, body: str, body_class: str = "") -> str:
    """The document around ``body``, which is markup and becomes the main part of it; ``title`` is plain text. No script, nothing fetched.

    What may move sideways on a small screen, a wide table or picture, can be reached by keyboard.
    """
    body = _SIDEWAYS.sub(r'\g<0> tabindex="0"', body)
    kind = f' class="{body_class}"' if body_class else ""
    return (
        '<!DOCTYPE html>\n<html lang="en-GB">\n<head>\n<meta charset="utf-8">\n<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f'<meta name="generator" content="{MARK}">\n'
        f"<title>{html.escape(title)}</title>\n<style>\n{style}</style>\n</head>\n<body{kind}>\n<main>\n{body}\n</main>\n</body>\n</html>\n"
    )


def sheet(title: str, beside: str, page: Page) -> Part:
    """A page as a sheet of paper under its title, with a word beside that."""
    return Part("sheet", (Part("head", (Heading(title, 1), Paragraph(beside))), *page.blocks))


def link_to(path: Path, words: str = "") -> Link:
    """A link to a page in the folder that is served, which opens beside the course, where the browser can print it; a relative one leads nowhere from a widget."""
    served = f"{os.environ.get('JUPYTERHUB_SERVICE_PREFIX', '/')}files/{path.name}"
    return Link(strong(words or path.name), served, beside=True)


def web_page(path: str | os.PathLike[str], key: str, what: str, example: str) -> Path:
    """The path that a learner typed for ``what``; InputProblem for one that does not end as a web page does."""
    path = Path(path).expanduser()
    if path.suffix.lower() not in _ENDINGS:
        raise InputProblem.about(
            key, f"The {what} is a web page, so {path.name or path} must end in .html, for example {example}.html."
        )
    return path


def write_document(page: str, path: Path, key: str, was: str, cure: str = " Choose another place for it.") -> Path:
    """Write a document; as ``write_file``."""
    return write_file(page.encode("utf-8"), path, key, was, cure)


def write_file(content: bytes, path: Path, key: str, was: str, cure: str = " Choose another place for it.") -> Path:
    """Write what is to be printed and holds ``MARK``; an older one of that name gives way, and so do an empty file and a link. Returns the path.

    InputProblem for a file of that name without the mark, of an older course or of somebody else's, and if it cannot be written there: ``was`` begins the sentence (``"The brief was"``), ``cure`` ends it.
    """
    try:
        if not path.is_symlink() and os.path.isfile(path) and path.stat().st_size and MARK.encode() not in path.read_bytes():
            raise InputProblem.about(
                key,
                f"{was} not written to {path}: there is a file of that name that bears no mark of the course, and it stays. "
                "If an older course wrote it, take it away and write again; if somebody else did, choose another name.",
            )
        # a link gives way as well: in a folder that was handed round it may lead to what another program runs
        whole_file.write_whole(path, content)
    except OSError as problem:
        raise InputProblem.about(key, f"{was} not written to {path}: {whole_file.in_words(problem)}.{cure}") from None
    return path
