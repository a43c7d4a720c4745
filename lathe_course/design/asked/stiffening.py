"""What would stiffen a design: each remedy with the give it saves, its price and hours; and how the give is shared among the links."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from ... import units
from ...ranges import Range
from ...tables import table
from ..chain.luck import DRAWS
from ..evaluation import Evaluation, evaluate
from ..lathe import LATHE


def shares_of_give(drawn: Evaluation, links: Iterable[str]) -> dict[str, tuple[float, float]]:
    """Share of each link in the give of them all, at the two ends of four fifths of the draws."""
    links = tuple(links)
    whole = sum(drawn[name] for name in links)
    return {name: tuple(float(end) for end in np.quantile(drawn[name] / whole, (0.1, 0.9))) for name in links}


def judged_share(e: Evaluation, judged: Iterable[str]) -> float:
    """Share of the machine's give that the links ``judged`` make; without draws."""
    return sum(float(e[name]) for name in judged) / float(e["predicted_compliance"])


@dataclass(frozen=True)
class Saving:
    """One remedy on a design: the give it saves (m/N, low, likely, high), its price and hours, and how the saving is known."""

    remedy: str
    link: str
    saved: Range
    price: Range
    hours: Range
    what: str
    known: str

    @property
    def per_euro(self) -> float:
        """Give saved for each EUR at middling figures; infinite if it is free."""
        return self.saved.likely / self.price.likely if self.price.likely > 0 else np.inf


def savings(evaluation: Evaluation, draws: int = DRAWS) -> list[Saving]:
    """The remedies that do something for a design; free ones first, then those that save most for each EUR."""
    drawn, found = evaluation.drawn(draws), []
    for remedy, row in table("remedies").items():
        if row["change"]:
            tried = _tried(drawn, row["change"])
            saved = None if tried is None else drawn["predicted_compliance"] - tried["predicted_compliance"]
            known = "worked out"
        else:
            left = row["left"]
            saved, known = drawn[row["link"]] * (1 - np.array([left.high, left.likely, left.low])[:, None]), "judged"
        if saved is None or not np.all(np.isfinite(saved)) or np.median(saved) < 1e-3 * np.median(drawn["predicted_compliance"]):
            continue
        # a judged share and the link's own range, one on the other
        low, likely, high = (
            (np.quantile(saved[0], 0.1), np.median(saved[1]), np.quantile(saved[2], 0.9))
            if np.ndim(saved) == 2
            else np.quantile(np.broadcast_to(saved, (drawn.draws,)), (0.1, 0.5, 0.9))
        )
        link = (
            LATHE.part(row["link"]).label.removeprefix("give of ").removeprefix("the ")
            if row["link"] in LATHE.results
            else row["link"]
        )
        found.append(
            Saving(
                remedy + _by(row["change"], evaluation.design.system),
                link,
                Range(float(low), float(likely), float(high)),
                row["price"],
                row["hours"],
                row["what"],
                known,
            )
        )
    return sorted(found, key=lambda one: (-one.per_euro if np.isfinite(one.per_euro) else -np.inf, -one.saved.likely))


_CHANGE = re.compile(r"(?P<name>\w+) (?P<how>[-+x])?(?P<amount>.*)")


def _tried(evaluation: Evaluation, change: str) -> Evaluation | None:
    """The design with a change such as 'cut_reach -15 mm', 'bed_wall x2' or 'top_of_slide solid block'; None if it stands there already or cannot be."""
    found = _CHANGE.fullmatch(change)
    decision, here = LATHE.decisions[found["name"]], evaluation.design[found["name"]]
    if not decision.numeric:
        value = found["amount"]
        if value == here:
            return None
    else:
        here = float(np.median(np.asarray(here.likely if isinstance(here, Range) else here)))
        amount = float(found["amount"]) if found["how"] == "x" else units.read(found["amount"], decision.kind)
        value = here * amount if found["how"] == "x" else here + amount if found["how"] == "+" else here - amount
        if value < decision.low * decision.kind.factor * (1 - 1e-9):
            return None
    return evaluate(evaluation.design.trying(**{found["name"]: value}), evaluation.draws, earlier=evaluation)


def _by(change: str, system: str) -> str:
    """How far a decision is changed, in the reader's units: ', by 15 mm'."""
    found = _CHANGE.fullmatch(change)
    if not found or not found["how"]:
        return ""
    if found["how"] == "x":
        return f", {found['amount']} times as much"
    kind = LATHE.decisions[found["name"]].kind
    return f", by {units.shown(units.read(found['amount'], kind), kind, system, 2)}"
