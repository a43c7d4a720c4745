"""The brief laid beside the design file, from a cell of a notebook."""

from __future__ import annotations

from ..folder.workspace import DESIGN_FILE
from ..session import Session
from ..shown.panels import Page, paragraphs
from .brief import write_brief
from .document import link_to

BRIEF = "brief.html"


def brief_page(session: Session) -> Page:
    """Write the brief beside the design file, and say where it lies; without a working folder nothing is written."""
    if session.path is None:
        said = (
            f"There is no working folder here, so no brief was written. In a working folder this cell writes {BRIEF} beside your "
            f"{DESIGN_FILE}. From a terminal: lathe-course brief --demo {session.design.started_from} --to {BRIEF}"
        )
        return paragraphs(said)
    written = write_brief(session.design, session.path.with_name(BRIEF))
    said = (
        f"The brief is written: {written.name}, beside {session.path.name}. Run this cell again when you have changed something."
    )
    return paragraphs(said, (link_to(written, "Open the brief"), ", or open the file in your browser to print it."))
