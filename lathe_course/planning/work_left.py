"""Where a running build stands, part by part, and the work that is left from today.

A part or task counts once it is accepted; hours already in a part half finished are worked but
not earned, and its whole plan is still to come.  Money paid for it need not be paid again.  What is
ordered costs what was agreed and comes when it was promised, in place of the plan.  What is begun waits
for nothing that comes before it, and what the builders want next comes next.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from .layout import Layout, node_of
from .log import HOURS, MONEY, TOOLS, Log, Order
from .network import Network
from .schedule import Work


@dataclass(frozen=True)
class Standing:
    """What a log says of every part and task, shape (nodes,), in the order of the plan's network."""

    accepted: np.ndarray
    open: np.ndarray  # hours booked, not accepted
    worked: np.ndarray  # hours
    paid: np.ndarray  # money
    owed: np.ndarray  # money of orders that is still to be paid
    covered: np.ndarray  # money paid or owed that stands for planned money of the node
    bought: np.ndarray  # all it needs is ordered at a price: what was agreed stands in place of the plan
    since: np.ndarray  # months since something was first paid or ordered; NaN where nothing is
    promised: np.ndarray  # all it needs is ordered for a day, or has come: that stands in place of the usual wait
    to_come: np.ndarray  # months until the last of its orders that has a day comes; 0 where nothing has one
    rest: Network  # what is left: an accepted part waits for nothing, nor does one that is begun
    wished: Mapping[int, int]  # place in the network -> rank in the order that the builders want, with what must come before
    things: frozenset[str] = frozenset()  # tools and the like that are ordered, paid or accepted by their own names
    strange: tuple[str, ...] = ()  # names in the log that this plan does not have


def node_called(name: str, layout: Layout) -> str | None:
    """The node of a part or a task; None where the plan has neither."""
    if name in layout.parts:
        return name
    node = node_of(name)
    return node if node in layout.network.names else None


def standing_of(log: Log, layout: Layout, things: Mapping[str, str] | None = None, twice: Collection[str] = ()) -> Standing:
    """The log laid out over the plan.  Names that the plan does not have are told, and count for nothing here.

    ``things`` maps tools and the like to the node that holds their money.  Parts in ``twice`` are bought in two
    steps, stock and then work outside, so that one order does not make them all bought.
    """
    network, things = layout.network, dict(things or {})
    size, at = len(network.names), {name: place for place, name in enumerate(network.names)}
    node = {name: node_called(name, layout) or things.get(name) for name in _names_in(log)}
    known = {name: at[one] for name, one in node.items() if one is not None}
    own = {name: place for name, place in known.items() if node_called(name, layout)}  # of the parts and tasks themselves

    def spread(figures: Mapping[str, float], places: Mapping[str, int], empty: float = 0.0) -> np.ndarray:
        found = np.full(size, empty)
        for name, figure in figures.items():
            if name in places:
                found[places[name]] = figure if np.isnan(found[places[name]]) else found[places[name]] + figure
        return found

    accepted = np.isfinite(spread(log.accepted, own, np.nan))
    _with_their_parts(accepted, layout)
    worked, money = spread(log.sums(HOURS), known), log.sums(MONEY)
    begun = (spread(log.sums(HOURS), own) > 0) & ~accepted

    orders: dict[str, list[Order]] = {}
    for order in log.orders:
        orders.setdefault(order.part, []).append(order)
    owed = {name: sum(order.owed for order in ones) for name, ones in orders.items()}
    named = {
        name
        for name in known
        if name not in own and name != TOOLS and (name in orders or money.get(name, 0.0) > 0 or name in log.accepted)
    }
    if TOOLS in log.accepted:
        named |= set(things)
    first = dict(log.first_paid())
    for name, ones in orders.items():
        first[name] = min(first.get(name, np.inf), *(log.months_to(order.ordered) for order in ones))
    bought, promised, to_come = np.zeros(size, bool), np.zeros(size, bool), np.zeros(size)
    for name, ones in orders.items():
        if name not in known:
            continue
        whole = name in own and len(ones) > (name in twice)
        bought[known[name]] = whole and all(order.price is not None or order.settled for order in ones)
        dated = [order for order in ones if order.delivered is not None or order.due is not None]
        promised[known[name]] = whole and len(dated) == len(ones)
        to_come[known[name]] = max((order.to_come(log.today) for order in dated), default=0.0) if name in own else 0.0
    covered = spread({name: money.get(name, 0.0) + owed.get(name, 0.0) for name in known if name not in named}, known)
    waits = _waits_left(layout, accepted, begun)
    return Standing(
        accepted,
        begun,
        worked,
        spread(money, known),
        spread(owed, known),
        covered,
        bought,
        log.months - spread(first, own, np.nan),
        promised,
        to_come,
        Network(network.names, waits),
        wished_first([own[name] for name in log.wished_order if name in own], waits, accepted),
        frozenset(named),
        tuple(name for name in node if name not in known),
    )


def _names_in(log: Log) -> tuple[str, ...]:
    """Every part, task and tool that the log names."""
    return tuple(dict.fromkeys([*(entry.part for entry in log.entries if entry.part), *log.wished_order]))


def _waits_left(layout: Layout, accepted: np.ndarray, begun: np.ndarray) -> tuple[tuple[int, ...], ...]:
    """What each still waits for: an accepted part for nothing; one in hand for nothing either, and a task in hand for its parts but no longer for planning."""
    names, planning = layout.network.names, set(layout.places(node_of(task) for task in layout.planning))
    parts = set(layout.parts)
    return tuple(
        () if done or (hand and name in parts) else tuple(one for one in waits if not (hand and one in planning))
        for name, waits, done, hand in zip(names, layout.network.before, accepted, begun)
    )


def wished_first(wished: Sequence[int], before: Sequence[Sequence[int]], done: np.ndarray) -> dict[int, int]:
    """Ranks for what the builders want, in their order; before each stands whatever it still waits for, in the order of the plan."""
    found: dict[int, int] = {}

    def place(node: int) -> None:
        if node in found or done[node]:
            return
        for other in sorted(before[node]):
            place(other)
        found[node] = len(found)

    for node in wished:
        place(node)
    return found


def _with_their_parts(accepted: np.ndarray, layout: Layout) -> None:
    """A task that is no more than its parts is accepted with the last of them."""
    network, bare = layout.network, {node_of(task.name) for task in layout.tasks if task.hours is None}
    for place, (name, waits) in enumerate(zip(network.names, network.before)):
        if name in bare and waits and accepted[list(waits)].all():
            accepted[place] = True


def rest_of(
    work: Work,
    standing: Standing,
    hours_rate: np.ndarray | float,
    price_rate: np.ndarray | float,
    of_things: np.ndarray | float = 0.0,
    beside: np.ndarray | float = 0.0,
) -> Work:
    """The work from today on: planned hours over the rate at which they are earned, money over that of prices.

    What is done is out of the way at once, and what is begun comes next, then what is wished.  A wait that has begun with a payment
    runs on; what is on order comes when it was promised.  Money owed for orders is not in it.  ``of_things`` is the planned money, shape (..., nodes), of tools
    that are bought by their own names, ``beside`` the months from today until tools and machines are there, shape (..., nodes).
    """
    done = standing.accepted
    rate, prices = (np.asarray(one, float)[..., None] for one in (hours_rate, price_rate))
    span = 1.0 + np.max(work.order) - np.min(work.order)
    order = work.order - span * standing.open - 2 * span * done
    for node, rank in standing.wished.items():
        order[node] = np.min(work.order) - 1 + (rank + 1) / (len(standing.wished) + 1)
    usual = np.where(
        standing.promised, 0.0, np.maximum(np.where(standing.promised, 0.0, work.lead) - np.nan_to_num(standing.since), 0.0)
    )
    return Work(
        standing.rest,
        hours=np.where(done, 0.0, work.hours / rate),
        money=np.where(done | standing.bought, 0.0, np.maximum((work.money - of_things) / prices - standing.covered, 0.0)),
        lead=np.where(done, 0.0, np.maximum(np.maximum(usual, standing.to_come), beside)),
        evenings=np.where(done, 0.0, work.evenings),
        order=order,
    )
