"""From the size a row was written for to the size of a design.

A part follows what drives it (table ``drivers``): the section and length of the bed, the blank
of the spindle, the bore of the bearings.  Each figure is the row's, times the measure over the
size at which the row was judged, to the power of a law (table ``laws``).  A mass that is geometry
has power one.  A figure that nothing drives grows with the centre height, and for a part as long
as the bed one of these powers is replaced by its length.  What is judged is common practice
without a source, and the powers are known only within bounds; a draw of each shows what that
does to the sums.

No ``from __future__ import annotations`` here: the decorator reads the annotations.
"""

import dataclasses
import functools
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Annotated, Any

import numpy as np

from ..formula import SI, formula
from ..ranges import Range
from ..tables import table
from ..units import Ratio
from .capabilities import Need
from .drivers import DRIVERS, drivers
from .parts import BORROW, BUY, HARD, MAKE, USED, Part, PartsList, Way

#: feet of headstock and tailstock beside the work, in centre heights, as chapter 07 reckons the length of the bed
FEET = 4.5
#: a measure beyond this lies along the bed, in a part that is as long as it [m]
_LONG = 0.2
_MONEY = ("material", "outside", "carriage")
#: a measure more than so many times its reference, or that part of it, moves nothing further: a bore of nothing costs no less than a small one
MOST = 50.0
_ROUNDING = 1e-9
#: the size of the lathe itself, beside the drivers: its centre height and the length of a usual bed
_SIZES = (*DRIVERS, "centre_height", "usual_bed_length")
_PLACE = {name: place for place, name in enumerate(_SIZES)}
#: law of the centre height -> figure of a driver in its place
_FIGURE = {
    "hours here": "hours",
    "hours for work outside": "hours_outside",
    "material": "material",
    "outside work": "outside",
    "bought things": "bought",
    "carriage": "carriage",
    "tools": "bought",
}
#: centre height for which the table of equipment holds [m]
_EQUIPMENT_AT = 0.075
TRUER = "error by tolerance"


@formula(
    r"g = s^{n - q} \cdot r^q",
    source="common_practice, scaling by size",
    limits="machines of one shape; the power is a fit to what such machines come to",
    rises_with=("length_ratio",),
)
def growth_factor(
    size_ratio: Annotated[SI, Ratio("", "s", above=0, at_most=20, valid=(0.4, 2.5))],
    length_ratio: Annotated[SI, Ratio("", "r", above=0, at_most=20, valid=(0.3, 4))],
    exponent: Annotated[SI, Ratio("", "n", at_least=0, at_most=4)],
    length_share: Annotated[SI, Ratio("", "q", at_least=0, at_most=1)],
) -> Annotated[SI, Ratio("", "g")]:
    """Factor by which a figure that nothing else drives grows with the size of the machine.

    ``size_ratio`` is that of the centre heights, ``length_ratio`` that of the beds.  A part
    as long as the bed has a ``length_share`` of 1, any other of 0.
    """
    return size_ratio ** (exponent - length_share) * length_ratio**length_share


@formula(
    r"g = x^n",
    source="common_practice, scaling by size",
    limits="one measure at a time; several that drive one figure are multiplied",
)
def growth_by(
    measure_ratio: Annotated[SI, Ratio("", "x", above=0, at_most=MOST, valid=(0.3, 4))],
    exponent: Annotated[SI, Ratio("", "n", at_least=-2, at_most=4)],
) -> Annotated[SI, Ratio("", "g")]:
    """Factor by which a figure follows one measure that drives it, from the size at which its row was judged."""
    return measure_ratio**exponent


def usual_bed_length(centre_height: Any, between_centres: Any) -> Any:
    """Length of the bed [m] of a lathe of this size [m]: what stands between the centres, and the feet beside it."""
    return between_centres + FEET * centre_height


def exponents() -> dict[str, Range]:
    """The powers of all laws, by name."""
    return table("laws").column("exponent")


def logs_of(sizes: Mapping[str, Any]) -> np.ndarray:
    """Logarithms of the measures that drive parts, shape (..., measures): what every growth begins with.

    ``sizes`` holds the centre height and the distance between centres [m] and drivers by name in SI, numbers or
    arrays of shape (...).  A driver that is left out stays at the reference of each row.
    """
    values = [sizes.get(name, np.inf) for name in DRIVERS]
    values += [sizes["centre_height"], usual_bed_length(sizes["centre_height"], sizes["between_centres"])]
    if all(isinstance(value, float) for value in values):
        with np.errstate(divide="ignore", invalid="ignore"):
            return np.log(np.array(values, float))
    found = np.empty((*np.broadcast_shapes(*map(np.shape, values)), len(values)))
    with np.errstate(divide="ignore", invalid="ignore"):
        for place, value in enumerate(values):
            found[..., place] = np.log(value)
    return found


class Growing:
    """Figures that grow, one a column: what drives each, from which reference, by which laws.

    ``terms`` has for each column its (measure, reference, law, more): a law by name, with a minus before it where the
    figure falls, or as a plain power, and a plain power that comes on top.
    """

    def __init__(self, terms: Sequence[Sequence[tuple[str, float, str | float, float]]]):
        keys = list(dict.fromkeys((measure, reference) for column in terms for measure, reference, _, _ in column))
        place = {key: number for number, key in enumerate(keys)}
        self.laws = tuple(
            dict.fromkeys(law.removeprefix("-") for column in terms for _, _, law, _ in column if isinstance(law, str))
        )
        self._take = np.array([_PLACE[measure] for measure, _ in keys], int)
        self._log_reference = np.log([reference for _, reference in keys])
        self._fixed = np.zeros((len(keys), len(terms)))
        # where a power counts: few of all places, for a figure follows one or two measures
        ruled: list[tuple[int, int, int, float]] = []
        for column, parts in enumerate(terms):
            for measure, reference, law, plain in parts:
                row = place[measure, reference]
                self._fixed[row, column] += plain
                if isinstance(law, str):
                    name = law.removeprefix("-")
                    ruled.append((self.laws.index(name), row, column, -1.0 if law.startswith("-") else 1.0))
                else:
                    self._fixed[row, column] += law
        self._law, self._row, self._column = np.array([one[:3] for one in ruled], int).reshape(-1, 3).T
        self._sign = np.array([one[3] for one in ruled])
        self._last: tuple[tuple[float, ...], np.ndarray] | None = None

    def ratios(self, logs: np.ndarray) -> np.ndarray:
        """Logarithms of measure over reference, shape (..., keys)."""
        found = logs[..., self._take] - self._log_reference
        # a driver nobody told of stays where it was, and so does one that rounding alone moved on its way through a file
        found[np.isposinf(found) | (np.abs(found) < _ROUNDING)] = 0.0
        most = np.log(MOST)
        return np.clip(found, -most, most, out=found)

    def factors(self, logs: np.ndarray, powers: Mapping[str, Any]) -> np.ndarray:
        """Growth of each column, shape (..., columns); powers are numbers or arrays of shape (...).  NaN for what a measure drives that cannot be, and for no other."""
        ratios = self.ratios(logs)
        lost = np.isnan(ratios)
        if not lost.any():
            return self._factors(ratios, powers)
        follows = self._fixed != 0
        follows[self._row, self._column] = True
        untold = lost @ follows
        return np.where(untold, np.nan, self._factors(np.where(lost, 0.0, ratios), powers))

    def _factors(self, ratios: np.ndarray, powers: Mapping[str, Any]) -> np.ndarray:
        rows = [powers[name] for name in self.laws]
        if not any(map(np.ndim, rows)):
            return np.exp(ratios @ self._summed(tuple(float(one) for one in rows)))
        drawn = np.stack(np.broadcast_arrays(*(np.asarray(one, float) for one in rows)), axis=-1)
        if ratios.ndim == 1:
            return np.exp(ratios @ self._fixed + drawn @ self._along(ratios))
        # measure and power both drawn: few measures differ from draw to draw, and the others are reckoned once
        ratios, drawn = (
            np.broadcast_to(one, (*np.broadcast_shapes(ratios.shape[:-1], drawn.shape[:-1]), one.shape[-1]))
            for one in (ratios, drawn)
        )
        flat = ratios.reshape(-1, ratios.shape[-1])
        alike = (flat == flat[:1]).all(axis=0)
        steady = np.where(alike, flat[0], 0.0)
        total = steady @ self._fixed + drawn @ self._along(steady)
        for key in np.flatnonzero(~alike):
            by_law = self._along(np.arange(len(steady)) == key)
            moved = np.flatnonzero((self._fixed[key] != 0) | by_law.any(axis=0))
            total[..., moved] += ratios[..., key, None] * (self._fixed[key, moved] + drawn @ by_law[:, moved])
        return np.exp(total)

    def _along(self, ratios: np.ndarray) -> np.ndarray:
        """By how much the logarithm of each column grows for one more in the power of each law, shape (laws, columns); ``ratios`` of shape (keys,)."""
        shape = len(self.laws), self._fixed.shape[1]
        at = np.ravel_multi_index((self._law, self._column), shape)
        return np.bincount(at, self._sign * ratios[self._row], shape[0] * shape[1]).reshape(shape)

    def _summed(self, powers: tuple[float, ...]) -> np.ndarray:
        """The power of each key in each column, shape (keys, columns); kept, for a search asks again and again with the same powers."""
        if self._last is None or self._last[0] != powers:
            shape = self._fixed.shape
            at = np.ravel_multi_index((self._row, self._column), shape)
            by_law = np.bincount(at, self._sign * np.array(powers)[self._law], shape[0] * shape[1])
            self._last = powers, self._fixed + by_law.reshape(shape)
        return self._last[1]

    def slopes(self, logs: np.ndarray) -> np.ndarray:
        """By how much the logarithm of each column grows for one more in the power of each of ``laws``, shape (..., laws, columns)."""
        ratios = self.ratios(logs)
        flat = ratios.reshape(-1, ratios.shape[-1])
        return np.reshape([self._along(one) for one in flat], (*ratios.shape[:-1], len(self.laws), self._fixed.shape[1]))


#: measures a figure follows: name, its size at the part's reference, law or power, and share of the length
Terms = list[tuple[str, float, str | float, float]]


# --- what each figure follows ---------------------------------------------------------------------------
def _terms(part: Part, figure: str, rest: str) -> Terms:
    """Measures and laws of one figure of a part; the centre height by the law ``rest`` where nothing drives it."""
    laws = {one.name: one.laws.get(figure) for one in drivers(part.name)}
    driven: Terms = [(name, reference, law, 0.0) for name, reference in part.references if (law := laws.get(name)) is not None]
    if driven:
        return driven
    share = part.length_share
    alone: Terms = [("centre_height", part.centre_height, rest, -share)]
    return (
        alone + [("usual_bed_length", usual_bed_length(part.centre_height, part.between_centres), 0.0, share)] if share else alone
    )


class Columns:
    """The figures of some ways as arrays, for sums over many builds at once.

    ``hours``, ``material``, ``outside``, ``carriage`` and ``weeks`` are Ranges of arrays of
    shape (ways,), ``rework``, ``found`` (second-hand or salvaged) and the masses arrays of that shape.  Figures hold for the size
    of each row; ``growth`` takes them to another.
    """

    def __init__(self, parts: PartsList, ways: Iterable[Way]):
        self.ways = tuple(ways)
        for name in ("hours", *_MONEY, "weeks"):
            setattr(self, name, Range(*np.array([getattr(way, name) for way in self.ways], float).reshape(-1, 3).T))
        self.rework = np.array([way.rework for way in self.ways])
        self.found = np.array([way.how == USED for way in self.ways])
        self.growing = Growing([driven_by(parts[way.part], way, figure) for figure in ("hours", *_MONEY) for way in self.ways])


def driven_by(part: Part, way: Way, figure: str) -> list[tuple[str, float, str | float, float]]:
    """What a figure of a way grows with: (measure, reference [SI], law by name or plain power, a plain power that comes on top)."""
    followed = law(way, figure)
    return _terms(part, _FIGURE[followed], followed)


def columns(parts: PartsList, ways: Iterable[Way] | None = None) -> Columns:
    """Arrays over ``ways``, or over all ways of the list."""
    return Columns(parts, parts.ways if ways is None else ways)


def law(way: Way, figure: str) -> str:
    """The law a figure of this way follows where nothing but the centre height drives it."""
    if figure == "hours":
        return "hours here" if way.how in (MAKE, HARD, BORROW, USED) else "hours for work outside"
    return {"outside": "outside work", "material": "bought things" if way.how in (BUY, USED) else "material"}.get(figure, figure)


def _powers(powers: Mapping[str, Any] | None) -> dict[str, Any]:
    return {name: power.likely for name, power in exponents().items()} | dict(powers or {})


def growth(of: Columns, logs: np.ndarray, powers: Mapping[str, Any] | None = None) -> dict[str, np.ndarray]:
    """Factors for ``hours``, ``material``, ``outside`` and ``carriage``, shape (..., ways).

    ``logs`` come from ``logs_of``; ``powers`` by the name of the law are numbers or arrays of shape (...),
    the likely ones if left out.
    """
    found = of.growing.factors(logs, _powers(powers))
    count = len(of.ways)
    return {figure: found[..., place * count : (place + 1) * count] for place, figure in enumerate(("hours", *_MONEY))}


class Masses:
    """Masses of some parts as arrays: ``stock`` and ``finished`` [kg] at the size of the list, shape (parts,), with their names."""

    def __init__(self, parts: Iterable[Part]):
        parts = tuple(parts)
        self.names = tuple(part.name for part in parts)
        self.stock, self.finished = (
            np.array([getattr(part, f"{figure}_mass") for part in parts]) for figure in ("stock", "finished")
        )
        self.growing = Growing([_terms(part, figure, "mass") for figure in ("stock", "finished") for part in parts])


@functools.lru_cache(maxsize=64)
def masses(parts: PartsList) -> Masses:
    """Arrays over the parts of a list."""
    return Masses(parts)


def mass_growth(of: Masses, logs: np.ndarray, powers: Mapping[str, Any] | None = None) -> dict[str, np.ndarray]:
    """Masses [kg] ``stock`` and ``finished`` at a size, shape (..., parts)."""
    found = of.growing.factors(logs, _powers(powers))
    count = len(of.names)
    return {"stock": of.stock * found[..., :count], "finished": of.finished * found[..., count:]}


@functools.lru_cache(maxsize=64)
def items_growth(names: tuple[str, ...]) -> Growing:
    """What the price of some equipment follows, one column each: what drives it, or the centre height of the table of equipment; nothing moves what has no name."""
    return Growing(
        [
            [(one.name, one.reference, one.laws["bought"], 0.0) for one in drivers(name)]
            or ([("centre_height", _EQUIPMENT_AT, "tools", 0.0)] if name else [])
            for name in names
        ]
    )


@functools.lru_cache(maxsize=64)
def tasks_growth(names: tuple[str, ...]) -> Growing:
    """What the hours of some tasks follow, one column each; what nothing drives stays as it is."""
    return Growing([[(one.name, one.reference, one.laws["hours"], 0.0) for one in drivers(name)] for name in names])


# --- needs ------------------------------------------------------------------------------------------------
def _need_terms(part: Part, need: Need) -> list[Terms]:
    """What each measure of a need follows, and last its accuracy."""
    told = {one.name: one for one in drivers(part.name)}
    row = table("operations")[need.operation]
    names = row["size"].split(" x ")
    longest = max(need.size, default=0.0)
    found: list[Terms] = []
    for measure, size in zip(names, need.size):
        by: Terms = [
            (name, reference, 1.0, 0.0)
            for name, reference in part.references
            if name in told and (need.operation, measure) in told[name].sets
        ]
        if not by and part.length_share and size == longest and size > _LONG:
            by = [("usual_bed_length", usual_bed_length(part.centre_height, part.between_centres), 1.0, 0.0)]
        found.append(by or [("centre_height", part.centre_height, row["grows"], 0.0)])
    found.append([(name, reference, TRUER, 0.0) for name, reference in part.references if name in told and told[name].accuracy])
    return found


def needs_growth(needs: Iterable[tuple[Part, Need]]) -> Growing:
    """What the measures of some needs follow: for each need a column for every measure it has and one for its accuracy."""
    return Growing([column for part, need in needs for column in _need_terms(part, need)])


# --- a whole list ------------------------------------------------------------------------------------------
def scaled(parts: PartsList, sizes: Mapping[str, Any], powers: Mapping[str, float] | None = None) -> PartsList:
    """The list with every figure, need and mass taken to the sizes of one design, by the likely powers or others; see ``logs_of``."""
    logs, powers = logs_of(sizes), _powers(powers)
    weights = mass_growth(masses(parts), logs, powers)
    of = columns(parts)
    factors = growth(of, logs, powers)
    needs = [(parts[way.part], need) for way in parts.ways for need in way.needs]
    grown = iter(needs_growth(needs).factors(logs, powers).tolist())
    made: dict[str, list[Way]] = {}
    for place, way in enumerate(parts.ways):
        figures: dict[str, Any] = {
            name: Range(*(end * float(factors[name][place]) for end in getattr(way, name))) for name in ("hours", *_MONEY)
        }
        made.setdefault(way.part, []).append(
            dataclasses.replace(way, needs=tuple(_grown(need, grown) for need in way.needs), **figures)
        )
    return PartsList(
        (
            _at_size(part, sizes, made[part.name], float(weights["stock"][place]), float(weights["finished"][place]))
            for place, part in enumerate(parts)
        ),
        parts.left_out,
    )


def _grown(need: Need, factors: Iterator[float]) -> Need:
    size = tuple(one * next(factors) for one in need.size)
    truer = next(factors)
    return dataclasses.replace(need, size=size, accuracy=None if need.accuracy is None else need.accuracy * truer)


def _at_size(part: Part, sizes: Mapping[str, Any], ways: list[Way], stock: float, finished: float) -> Part:
    """A part with the sizes it now stands at as its reference."""
    references = tuple((name, float(sizes.get(name, reference))) for name, reference in part.references)
    return dataclasses.replace(
        part,
        centre_height=float(sizes["centre_height"]),
        between_centres=float(sizes["between_centres"]),
        references=references,
        stock_mass=stock,
        finished_mass=finished,
        ways=tuple(ways),
    )
