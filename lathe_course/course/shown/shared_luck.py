"""Which figures are drawn together: what stands behind several of them, and how much of their luck it takes."""

from __future__ import annotations

from ...design.chain.luck import FIRMS, PACE, SHARED
from ...design.demos import demo
from ...design.evaluation import evaluate
from ...design.lathe import LATHE
from .few import folded_by
from .panels import Page, paragraphs

#: cause of shared luck -> what it is
CAUSES = {
    "hands": "one pair of hands that fits and sets",
    "work outside": "shops alike in what they send back",
    "headstock": "the same faces of the headstock, sideways and upright",
    "saddle": "the same faces of the saddle, sideways and upright",
    "cross_slide": "the same faces of the cross-slide, sideways and upright",
    "top": "the same faces of the topslide or block, sideways and upright",
    "toolpost": "the same faces of the toolpost, sideways and upright",
    "chuck": "the same nose and chuck, sideways and upright",
    "bearings": "bearings of one kind from one box",
    "oil": "the same oil and care of the slideways",
    "edge": "whoever keeps the edges sharp",
    "prices": "one level of prices",
    "pace": "how fast one person works",
    "firms": "the firms of one place",
}


def sharers() -> dict[str, list[tuple[str, float]]]:
    """Figures of the boat shed by the cause they share, each with how strongly it follows; a minus turns it round."""
    design = demo()
    given = evaluate(design)
    found: dict[str, list[tuple[str, float]]] = {}
    for name, part in LATHE.figures.items():
        standard = part.standard(*(given[one] for one in part.inputs))
        for cause, weight in getattr(standard, "luck", SHARED.get(name, ())):
            found.setdefault(cause, []).append((part.label, weight))
    for luck, label in ((PACE, "hours of every part and task"), (FIRMS, "money for every part that is bought or made outside")):
        for cause, weight in luck:
            found.setdefault(cause, []).append((label, weight))
    return found


def shared_luck_page() -> Page:
    """Figures by what they share, with the share of their luck; what is not named here is drawn by itself."""
    said = (
        "Figures behind which one cause stands come out high or low together: drawn one by one, their sum would look surer than it is. "
        "The share is how much of a figure's luck the cause takes; how much is judged (common practice, no source). "
        "As the boat shed is made; what stands in no line is drawn by itself."
    )
    groups = {
        CAUSES[cause]: [
            (label, f"{100 * weight**2:.0f} %", "the other way round" if weight < 0 else "with it") for label, weight in rows
        ]
        for cause, rows in sorted(sharers().items(), key=lambda one: list(CAUSES).index(one[0]))
    }
    return paragraphs(said) + folded_by(groups, ("figure", "share of its luck", "goes"), (1,), "figures")
