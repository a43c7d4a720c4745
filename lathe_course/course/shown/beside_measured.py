"""The page of what others have measured beside what the chain says of it."""

from __future__ import annotations

import functools
from collections import Counter
from collections.abc import Iterable

import numpy as np

from ...design.asked.predictions import first_told, kind_of, predicted
from ...design.demos import demo
from ...design.evaluation import evaluate
from ...evidence.measured import GROUPS, Measured, Prediction, measured, predictions
from ...sources import cite, source_of
from ...units import in_unit, number, read, unit_text
from ..pictures.beside_measured import Beside, beside_picture
from ..pictures.style import Canvas
from ..text.values import Drawn, Fold, Paragraph, Part, strong
from .panels import Live, Page, paragraphs, tabled

_HEAD = ("what", "ours as first told", "ours today", "measured", "our range", "where, and what was put in")


@functools.cache
def lines() -> dict[str, Beside]:
    """Each figure of ours beside theirs, by id."""
    theirs = measured()
    return {
        id: Beside(
            one.what,
            first_told(one),
            predicted(one),
            float(read(theirs[id].figure, kind_of(one), id)),
            theirs[id].figure,
            bool(one.since),
        )
        for id, one in predictions().items()
    }


def _row(ours: Prediction, theirs: Measured, line: Beside) -> tuple[str, ...]:
    kind = kind_of(ours)
    today = [number(float(in_unit(end, kind))) for end in line.today]
    said = f"{theirs.figure} ({theirs.worked})" if theirs.worked else theirs.figure
    held = "holds it" if line.holds() else "does not" + ("; holds it today" if line.holds(line.today) else "")
    where = ". ".join(filter(None, (cite(theirs.source), f"Put in: {ours.assumed}", ours.since.rstrip(".")))) + "."
    now = f"{today[0]} to {today[2]} {unit_text(kind)}".rstrip() if line.moved else "the same"
    return ours.what, f"{ours.first[0]} to {ours.first[2]}, middling {ours.first[1]}", now, said, held, where


def _of(group: str) -> Page:
    """A group: its picture, its words, and the table folded."""
    known, theirs, found = predictions(), measured(), lines()
    ids = [id for id, one in known.items() if one.group == group]
    kind = kind_of(known[ids[0]])
    picture = beside_picture(group, GROUPS[group], kind, [found[id] for id in ids])
    drawn = Canvas(key=f"beside {group}").draw(picture, evaluate(demo()))
    words = picture.words(None)
    rows = [_row(known[id], theirs[id], found[id]) for id in ids]
    reasons = list(dict.fromkeys(theirs[id].why for id in ids if theirs[id].why))  # many figures miss for one reason
    return Page(
        Part("lc-picture", (Drawn(drawn),)),
        Paragraph(strong(f"{group.capitalize()}.")),
        *map(Paragraph, reasons),
        Fold("the picture in words", paragraphs(words).blocks),
        Fold(f"{len(ids)} figures, with where each was read", tabled(rows, _HEAD).blocks, told=True),
    )


def _in_short() -> Page:
    """How many of all the range holds, by source: many figures of one machine are one witness."""
    held_against, theirs = lines(), measured()
    keys = {id: source_of(one.source).key for id, one in theirs.items()}
    held, now = (
        Counter(keys[id] for id, line in held_against.items() if line.holds(ours(line)))
        for ours in (lambda line: line.first, lambda line: line.today)
    )
    rows = [(source_of(key).title, count, held[key], now[key]) for key, count in Counter(keys.values()).items()]
    first = f"Our range as first told holds {held.total()} of {len(held_against)} measured figures; as the chain stands today it holds {now.total()}."
    told = "A range leaves a tenth of the draws out on either side, so that it would hold four in five if all were well judged. It holds far fewer: where nobody has measured, read a range as too narrow. Figures of one source share its metal, tool and machine: count sources, not figures."
    by_source = tabled(rows, ("source", "figures", "held as first told", "held today"), (1, 2, 3), before=(first, told))
    return by_source + _how_much_wider()


def _how_much_wider() -> Page:
    """For each group, how far ours lie from theirs in the middle, and how many times as wide a range would keep its word."""
    held_against, rows = lines(), []
    for group in GROUPS:
        found = [held_against[id] for id, one in predictions().items() if one.group == group]
        wider = number(widened(found), 2)
        rows.append((group, len(found), number(float(np.median([one.today[1] / one.measured for one in found])), 2), wider))
    said = "Had each range of today been so many times as wide, counted in ratios from its middle, it would hold four in five of what was measured:"
    return tabled(rows, ("what", "figures", "ours over theirs, middling", "times as wide"), (1, 2, 3), before=(said,))


def widened(found: Iterable[Beside]) -> float:
    """How many times as wide, counted in ratios from its middle, a range must be that holds four fifths of what was measured; 1 where it is wide enough."""
    away = []
    for one in found:
        low, middle, high = np.log(one.today)
        off = np.log(one.measured) - middle
        away.append(off / ((high if off > 0 else low) - middle))
    return max(1.0, float(np.quantile(away, 0.8)))


def measured_page() -> Live:
    """All groups, each under its picture; nothing of it hangs on a design of the reader's own."""
    return Live(lambda: functools.reduce(Page.__add__, map(_of, GROUPS), _in_short()), lambda *_, **__: None)
