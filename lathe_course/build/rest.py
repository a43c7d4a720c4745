"""Where a running build stands, part by part, and the work that is left from today.

A part or task counts once it is accepted; hours already in a part half finished are worked but
not earned, and its whole plan is still to come.  Money paid for it need not be paid again.
"""
from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .layout import Layout, node_of
from .log import HOURS, MONEY, Log
from .network import Network
from .schedule import Work

__all__ = ["Standing", "rest_of", "standing_of"]


@dataclass(frozen=True)
class Standing:
    """What a log says of every part and task, shape (nodes,), in the order of the plan's network."""

    accepted: np.ndarray
    open: np.ndarray                # hours booked, not accepted
    worked: np.ndarray              # hours
    paid: np.ndarray                # money
    paid_since: np.ndarray          # months since something was first paid; NaN where nothing is
    rest: Network                   # what is left: an accepted part waits for nothing
    strange: tuple[str, ...] = ()   # names in the log that this plan does not have


def node_called(name: str, layout: Layout) -> str | None:
    """The node of a part or a task; None where the plan has neither."""
    if name in layout.parts:
        return name
    node = node_of(name)
    return node if node in layout.network.names else None


def standing_of(log: Log, layout: Layout) -> Standing:
    """The log laid out over the plan.  Names that the plan does not have are told, and count for nothing here."""
    network = layout.network
    size = len(network.names)
    at = {name: place for place, name in enumerate(network.names)}
    strange: dict[str, None] = {}

    def spread(figures: dict[str, float], empty: float) -> np.ndarray:
        found = np.full(size, empty)
        for name, figure in figures.items():
            node = node_called(name, layout)
            if node is not None:
                found[at[node]] = figure
            elif name:
                strange[name] = None
        return found
    accepted = np.isfinite(spread(log.accepted, np.nan))
    _with_their_parts(accepted, layout)
    worked, paid = spread(log.sums(HOURS), 0.0), spread(log.sums(MONEY), 0.0)
    since = log.months - spread(log.first_paid(), np.nan)
    before = tuple(() if done else waits for done, waits in zip(accepted, network.before))
    return Standing(accepted, (worked > 0) & ~accepted, worked, paid, since, Network(network.names, before), tuple(strange))


def _with_their_parts(accepted: np.ndarray, layout: Layout) -> None:
    """A task that is no more than its parts is accepted with the last of them."""
    network, bare = layout.network, {node_of(task.name) for task in layout.tasks if task.hours is None}
    for place, (name, waits) in enumerate(zip(network.names, network.before)):
        if name in bare and waits and accepted[list(waits)].all():
            accepted[place] = True


def rest_of(work: Work, standing: Standing, hours_rate: np.ndarray | float, price_rate: np.ndarray | float) -> Work:
    """The work from today on: planned hours over the rate at which they are earned, money over that of prices.

    What is done is out of the way at once, and what is begun comes next.  A wait that has begun with a payment runs on.
    """
    done = standing.accepted
    rate, prices = (np.asarray(one, float)[..., None] for one in (hours_rate, price_rate))
    span = 1.0 + np.max(work.order) - np.min(work.order)
    waited = np.nan_to_num(standing.paid_since, nan=0.0)
    return Work(standing.rest,
                hours=np.where(done, 0.0, work.hours / rate),
                money=np.where(done, 0.0, np.maximum(work.money / prices - standing.paid, 0.0)),
                lead=np.where(done, 0.0, np.maximum(work.lead - waited, 0.0)),
                evenings=np.where(done, 0.0, work.evenings),
                order=work.order - span * standing.open - 2 * span * done)
