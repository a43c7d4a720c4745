"""Change gears: which trains of wheels a set allows, which pitch each cuts, and whether it can be put on.

The spindle drives the first wheel, the last wheel sits on the leadscrew, a stud on the banjo
stands between them.  A two-wheel train has one wheel at each end and an idler on the stud
that changes nothing but the distance and the sense of turning; a four-wheel train has two
wheels fast on the stud, the first driven and the second driver.  A train is written in the
order in which it turns: first driver, first driven, second driver, second driven, and the
last two are 0 for a two-wheel train.

Whether a train can be put on is plain geometry: pitch circles touch, the stud lies where the
banjo reaches, and no wheel runs into a shaft or into a wheel it does not mesh with.

No ``from __future__ import annotations`` here: the decorator reads the annotations.
"""

import functools
import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated, Any

import numpy as np

from ..formula import SI, formula
from ..units import Count, FeedPerTurn, Length, Pitch, Ratio

#: fewest and most teeth of a change gear; 127 turns millimetres into inches, for 127 x 0.2 mm is an inch
TEETH = (16, 127)
MOST_WHEELS = 24
#: a ratio nearer than this is the same ratio
SAME = 1e-12
#: room of a train that just fits, less what is lost in the last digit of a sum
TOUCHING = -1e-9
#: room beyond this counts for nothing when trains are ranked
ROOMY = 0.1
#: geometry finer than this is not told apart where a whole range of it is tried
FINE = 1e-4

Teeth = functools.partial(Count, "", at_least=1, at_most=400, whole=True)
Module = Annotated[SI, Length("mm", "m", above=0, at_most=20)]
SpindleRatio = Annotated[SI, Ratio("", "i", above=0, at_most=10)]
LeadscrewPitch = Annotated[SI, Pitch("mm", "P_l", above=0, at_most=25)]


# --- formulas -----------------------------------------------------------------------------------------
@formula(
    r"u = \frac{z_1 z_3}{z_2 z_4}",
    source=("machinerys_handbook, change gears for thread cutting", "definition"),
    limits="turns of the leadscrew for one turn of the first driver; idlers change nothing; for two wheels set the last two alike",
    rises_with=("first_driver", "second_driver"),
    falls_with=("first_driven", "second_driven"),
)
def train_ratio(
    first_driver: Annotated[SI, Teeth("z_1")],
    first_driven: Annotated[SI, Teeth("z_2")],
    second_driver: Annotated[SI, Teeth("z_3")],
    second_driven: Annotated[SI, Teeth("z_4")],
) -> Annotated[SI, Ratio("", "u")]:
    """Turns of the leadscrew for one turn of the first driver: drivers over driven wheels."""
    return first_driver * second_driver / (first_driven * second_driven)


@formula(
    r"P_c = u\, i\, P_l",
    source="machinerys_handbook, change gears for thread cutting",
    limits="single start on the leadscrew, or its lead in place of its pitch",
    rises_with=("train_ratio", "spindle_ratio", "leadscrew_pitch"),
)
def cut_pitch(
    train_ratio: Annotated[SI, Ratio("", "u", above=0, at_most=10_000)],
    spindle_ratio: SpindleRatio,
    leadscrew_pitch: LeadscrewPitch,
) -> Annotated[SI, FeedPerTurn("mm/rev", "P_c")]:
    """How far the tool moves for one turn of the spindle: the pitch that is cut, or the feed."""
    return train_ratio * spindle_ratio * leadscrew_pitch


@formula(
    r"u = \frac{P}{i\, P_l}",
    source="machinerys_handbook, change gears for thread cutting",
    limits="single start; for several starts take the lead of the thread",
    rises_with=("pitch",),
    falls_with=("spindle_ratio", "leadscrew_pitch"),
)
def wanted_ratio(
    pitch: Annotated[SI, Pitch("mm", "P", above=0, at_most=100)], spindle_ratio: SpindleRatio, leadscrew_pitch: LeadscrewPitch
) -> Annotated[SI, Ratio("", "u")]:
    """Ratio a train must have to cut a pitch: the pitch wanted over that of the leadscrew."""
    return pitch / (spindle_ratio * leadscrew_pitch)


@formula(
    r"e = \frac{P_c}{P} - 1",
    source="definition",
    limits="what the wheels do; the error of the leadscrew itself comes on top",
    rises_with=("cut_pitch",),
    falls_with=("pitch",),
)
def pitch_error(
    cut_pitch: Annotated[SI, Pitch("mm", "P_c", above=0, at_most=10_000)],
    pitch: Annotated[SI, Pitch("mm", "P", above=0, at_most=100)],
) -> Annotated[SI, Ratio("%", "e")]:
    """Error of a pitch as a share: positive where it comes out too coarse; nothing where only the last digits differ."""
    return np.round(cut_pitch / pitch - 1, 12)


@formula(
    r"a = \frac{m}{2} \left(z_1 + z_2\right)",
    source="definition",
    limits="spur gears without shifted profile; add a little for backlash when setting the banjo",
    rises_with=("module", "first_wheel", "second_wheel"),
)
def wheel_distance(
    module: Module, first_wheel: Annotated[SI, Teeth("z_1")], second_wheel: Annotated[SI, Teeth("z_2")]
) -> Annotated[SI, Length("mm", "a")]:
    """Distance between the shafts of two wheels in mesh."""
    return module * (first_wheel + second_wheel) / 2


@formula(
    r"D = m \left(z + 2\right)",
    source="iso_53",
    limits="spur gears of the basic rack, without shifted profile: the tooth stands out by one module",
    rises_with=("module", "wheel"),
)
def tip_diameter(module: Module, wheel: Annotated[SI, Teeth("z")]) -> Annotated[SI, Length("mm", "D")]:
    """Diameter over the teeth: the blank a wheel is cut from."""
    return module * (wheel + 2)


# --- the place ----------------------------------------------------------------------------------------
@dataclass(frozen=True)
class Place:
    """Where the wheels go, in metres.

    ``centres`` is the distance from the shaft of the first driver to the leadscrew, ``reach`` the
    farthest the stud of the banjo can stand from the leadscrew round which the banjo swings,
    ``shaft`` the diameter that a shaft with its collar and nut needs to itself.
    """

    module: float
    centres: float
    reach: float
    shaft: float

    def radius(self, teeth: Any) -> Any:
        """Pitch radius of a wheel, or of an array of wheels."""
        return self.module / 2 * teeth

    def room_for_two(self, first: Any, second: Any, idler: Any) -> Iterator[Any]:
        """Room of a two-wheel train in metres, below zero where it cannot be put on: far enough, not too far,
        within reach, and the two wheels clear of each other.  Takes pitch radii, or arrays of them."""
        yield from self._on_the_stud(first + idler, idler + second)
        yield self.centres - 2 * self.module - (first + second)

    def room_for_four(self, first: Any, second: Any, third: Any, fourth: Any) -> Iterator[Any]:
        """The same for four wheels: three conditions of the stud, then four clearances between a wheel and a shaft."""
        upper, lower, around = first + second, third + fourth, self.module + self.shaft / 2
        yield from self._on_the_stud(upper, lower)
        yield upper - (third + around)
        yield lower - (second + around)
        yield self.centres - around - first
        yield self.centres - around - fourth

    def _on_the_stud(self, upper: Any, lower: Any) -> Iterator[Any]:
        yield upper + lower - self.centres
        yield self.centres - abs(upper - lower)
        yield self.reach - lower


#: what stands in the way of four wheels, and of two, in the order of ``Place.room_for_four`` and ``room_for_two``
_OBSTACLES = (
    "the wheels are too small to span from shaft to shaft",
    "the wheels are too unlike to meet on the stud",
    "the stud lies beyond the reach of the banjo",
    "the second driver runs into the shaft of the first",
    "the first driven wheel runs into the leadscrew",
    "the first driver runs into the leadscrew",
    "the wheel on the leadscrew runs into the shaft of the first driver",
)
_OBSTACLES_OF_TWO = (*_OBSTACLES[:3], "the two wheels touch each other past the idler")
_NO_IDLER = "no wheel is left to be the idler"


@dataclass(frozen=True)
class Train:
    """One train as it stands: wheels in the order in which they turn, and whether it can be put on.

    ``wheels`` are two or four numbers of teeth; ``idler`` is 0 for four.  ``error`` is signed, as a share.
    """

    wheels: tuple[int, ...]
    idler: int
    ratio: float
    error: float
    obstacle: str

    @property
    def mounts(self) -> bool:
        return not self.obstacle

    @property
    def written(self) -> str:
        """'40/60 with 50 between' or '20/60 × 35/55': drivers over driven wheels."""
        pairs = " × ".join(f"{a}/{b}" for a, b in zip(self.wheels[::2], self.wheels[1::2]))
        return f"{pairs} with {self.idler} between" if self.idler else pairs

    def stud(self, place: Place) -> tuple[float, float]:
        """Where the stud stands, metres: leadscrew at (0, 0), first driver above it at (0, centres)."""
        a, b = self.wheels[:2]
        above, below = (a + self.idler, self.idler + b) if len(self.wheels) == 2 else (a + b, sum(self.wheels[2:]))
        upper, lower = place.module / 2 * above, place.module / 2 * below
        height = (lower**2 - upper**2 + place.centres**2) / (2 * place.centres)
        return float(np.sqrt(max(lower**2 - height**2, 0.0))), float(height)


# --- all trains of a set ------------------------------------------------------------------------------
def all_trains(teeth: tuple[int, ...]) -> tuple[np.ndarray, np.ndarray, int]:
    """Every two- and four-wheel train from a set: wheels of shape (n, 4), ratios of shape (n,), and how many have two wheels.

    Those with two wheels come first.  A wheel serves once in a train; one that is in the set twice may serve twice.
    """
    pairs, apart = _pairs(teeth), _apart(teeth)
    product = pairs[0].astype(float) * pairs[1]
    ratios = np.concatenate([pairs[0] / pairs[1], (product[:, None] / product)[apart]])
    drivers, driven = np.nonzero(apart)
    (one, two), none = pairs, np.zeros_like(pairs)
    four = np.stack([one[drivers], one[driven], two[drivers], two[driven]])
    return np.concatenate([np.concatenate([pairs, none]), four], axis=1).T, ratios, pairs.shape[1]


def _pairs(teeth: tuple[int, ...]) -> np.ndarray:
    """Every ordered pair of wheels of a set, shape (2, pairs)."""
    sizes, counts = np.unique(np.array(teeth, np.int16), return_counts=True)
    both = np.indices((len(sizes),) * 2).reshape(2, -1)
    return sizes[both[:, (both[0] != both[1]) | (counts[both[0]] > 1)]]


@functools.lru_cache(maxsize=32)
def _apart(teeth: tuple[int, ...]) -> np.ndarray:
    """Which pair of drivers leaves which pair of driven wheels free, shape (pairs, pairs): no size is taken more often than it is there."""
    one, two = _pairs(teeth)
    there = np.bincount(np.array(teeth, int), minlength=TEETH[1] + 1).astype(np.int8)
    same = (one == two).astype(np.int8)[:, None]
    taken = [(size[:, None] == one).view(np.int8) + (size[:, None] == two) + same + 1 for size in (one, two)]
    return (taken[0] <= there[one][:, None]) & (taken[1] <= there[two][:, None])


def _idlers(teeth: tuple[int, ...], pairs: np.ndarray, place: Place) -> np.ndarray:
    """The idler that leaves most room between each pair, shape (2, n), or 0 where no wheel is left; shape (n,)."""
    if not pairs.size:
        return np.zeros(0, np.int64)
    sizes, counts = np.unique(teeth, return_counts=True)
    first, second = pairs[:, :, None]
    free = counts - (first == sizes) - (second == sizes) > 0  # (n, sizes)
    best = np.where(free, _least(place.room_for_two(*map(place.radius, (first, second, sizes)))), -np.inf).argmax(axis=1)
    return np.where(free.any(axis=1), sizes[best], 0)


def _least(rooms: Iterator[Any]) -> Any:
    """The least of several arrays, taken one by one: a large set makes long ones."""
    return functools.reduce(np.minimum, rooms)


def _room_for_two(teeth: tuple[int, ...], pairs: np.ndarray, place: Place) -> np.ndarray:
    """Room of two-wheel trains, shape (2, n), at their tightest, shape (n,); -inf where no wheel is left to be the idler."""
    idlers = _idlers(teeth, pairs, place)
    return np.where(idlers > 0, _least(place.room_for_two(*map(place.radius, (*pairs, idlers)))), -np.inf)


def _tightest(teeth: tuple[int, ...], place: Place) -> np.ndarray:
    """Room of every train of a set at its tightest, in the order of ``all_trains``, shape (n,).

    Worked out pair against pair, where most of the sums are those of one pair alone.
    """
    pairs = _pairs(teeth)
    one, two = place.radius(pairs.astype(float))
    four = _least(place.room_for_four(one[:, None], one, two[:, None], two))
    return np.concatenate([_room_for_two(teeth, pairs, place), four[_apart(teeth)]])


@functools.lru_cache(maxsize=8)
def _by_ratio(teeth: tuple[int, ...]) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray]:
    """Trains of a set laid out by their ratio, once for all places: each ratio (k,), wheels (n, 4), their place in ``all_trains`` (n,), first of each ratio (k,)."""
    wheels, ratios, _ = all_trains(teeth)
    order = np.argsort(ratios, kind="stable")
    first = np.concatenate([[0], np.nonzero(np.diff(ratios[order]))[0] + 1]) if len(order) else order
    return ratios[order[first]], wheels[order], order, first


@functools.lru_cache(maxsize=512)
def mounted(teeth: tuple[int, ...], place: Place) -> np.ndarray:
    """Ratios of a set for which some train can be put on, rising, shape (n,)."""
    ratios, _, order, first = _by_ratio(teeth)
    return ratios[np.maximum.reduceat(_tightest(teeth, place)[order], first) >= TOUCHING] if len(ratios) else ratios


def ranked(teeth: tuple[int, ...], place: Place, wanted: float) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """All trains of a set for one ratio, the best first: wheels (n, 4), signed errors (n,), and whether each mounts (n,).

    First by size of error, then those that can be put on, then those with fewer wheels and more room.
    """
    wheels, ratios, pairs = all_trains(teeth)
    errors = _errors(ratios, wanted)
    tight = _tightest(teeth, place)
    fits = tight >= TOUCHING
    # one whole number for each train: the bits of its error, the lowest twelve of them given to what comes after;
    # equal ratios are equal to the last bit, and others differ by far more than that
    key = np.abs(errors).view(np.int64) & ~0xFFF
    key |= (~fits).astype(np.int64) << 11
    key[pairs:] |= 1 << 10
    key |= np.clip((ROOMY - tight) * (1023 / ROOMY), 0, 1023).astype(np.int64)
    order = np.argsort(key)
    return np.take(wheels.T, order, axis=1).T, errors[order], fits[order]


def _errors(ratios: np.ndarray, wanted: float) -> np.ndarray:
    errors = ratios / wanted - 1
    errors[np.abs(errors) < SAME] = 0.0
    return errors


def trains_for(teeth: tuple[int, ...], place: Place, wanted: float, most: int = 8) -> list[Train]:
    """The best trains for a ratio, each ratio once, nearest first; at least one that mounts is among them if there is any."""
    wheels, errors, fits = ranked(teeth, place, wanted)
    told, nearest = np.round(errors, 12), list[float]()
    for at in range(len(told)):
        if told[at] not in nearest:
            if len(nearest) == most:
                break
            nearest.append(told[at])
    chosen = [_best_of(teeth, place, wheels[told == one], wanted) for one in nearest]
    if fits.any() and not any(train.mounts for train in chosen):
        chosen[most - 1 :] = [_best_of(teeth, place, wheels[told == told[np.argmax(fits)]], wanted)]
    return chosen


def best_train(teeth: tuple[int, ...], place: Place, wanted: float) -> Train | None:
    """The train nearest to a ratio among those that can be put on; None where none can.  Quick, for a moving slider."""
    there = mounted(teeth, place)
    if not there.size:
        return None
    ratios, wheels, _, first = _by_ratio(teeth)
    at = int(np.searchsorted(ratios, there[np.argmin(np.abs(there / wanted - 1))]))
    return _best_of(teeth, place, wheels[first[at] : (*first, len(wheels))[at + 1]], wanted)


def _best_of(teeth: tuple[int, ...], place: Place, wheels: np.ndarray, wanted: float) -> Train:
    """Of trains with one ratio, shape (n, 4): the one with fewest wheels that can be put on, then with most room, then the first by its teeth."""
    found = [_train(teeth, place, tuple(int(z) for z in row if z), wanted) for row in wheels]
    return min(found, key=lambda one: (not one[0].mounts, len(one[0].wheels), -one[1], one[0].wheels))[0]


def _train(teeth: tuple[int, ...], place: Place, wheels: tuple[int, ...], wanted: float) -> tuple[Train, float]:
    """One train with its idler and its obstacle, and its room."""
    idler = 0
    if len(wheels) == 2:
        idler = int(_idlers(teeth, np.array([wheels]).T, place)[0])
        rooms = tuple(place.room_for_two(*map(place.radius, (*wheels, idler))))
    else:
        rooms = tuple(place.room_for_four(*map(place.radius, wheels)))
    room, reasons = min(rooms), _OBSTACLES_OF_TWO if len(wheels) == 2 else _OBSTACLES
    obstacle = _NO_IDLER if len(wheels) == 2 and not idler else "" if room >= TOUCHING else reasons[rooms.index(room)]
    ratio = math.prod(wheels[::2]) / math.prod(wheels[1::2])
    return Train(wheels, idler, ratio, float(_errors(np.array([ratio]), wanted)[0]), obstacle), room


# --- for the chain ------------------------------------------------------------------------------------
def ratio_errors(teeth: tuple[int, ...], module: Any, centres: Any, reach: Any, shaft: Any, wanted: Any) -> Any:
    """Signed error of the nearest train that can be put on, for each wanted ratio; all but ``teeth`` may be arrays that broadcast.

    Where no train can be put on the leadscrew stands still, which is an error of -1.
    """
    return _at_each_place(teeth, (module, centres, reach, shaft), wanted, _nearest)


def finest_ratio(teeth: tuple[int, ...], module: Any, centres: Any, reach: Any, shaft: Any) -> Any:
    """The smallest ratio that can be put on; 0 where none can.  Arrays as for ``ratio_errors``."""
    return _at_each_place(
        teeth, (module, centres, reach, shaft), 1.0, lambda ratios, wanted: ratios[0] * wanted if ratios.size else 0.0 * wanted
    )


def _nearest(ratios: np.ndarray, wanted: Any) -> Any:
    if not ratios.size:
        return -1.0 + 0.0 * wanted
    above = np.searchsorted(ratios, wanted).clip(1, max(len(ratios) - 1, 1))
    low, high = ratios[above - 1] / wanted - 1, ratios[np.minimum(above, len(ratios) - 1)] / wanted - 1
    error = np.where(np.abs(low) <= np.abs(high), low, high)
    error = np.where(np.abs(error) < SAME, 0.0, error)
    return float(error) if error.ndim == 0 else error


def _at_each_place(teeth: tuple[int, ...], place: tuple[Any, ...], wanted: Any, look: Any) -> Any:
    """``look`` at the ratios of each place in turn; places alike to a tenth of a millimetre are taken once."""
    if not any(np.ndim(part) for part in place):
        return look(mounted(teeth, Place(*place)), wanted)
    *parts, ask = np.broadcast_arrays(*(np.asarray(part, float) for part in place), np.asarray(wanted, float))
    shape = ask.shape
    coarse = np.column_stack([np.round(part.ravel() / FINE).astype(np.int64) for part in parts])
    _, first, which = np.unique(coarse, axis=0, return_index=True, return_inverse=True)
    flat, found = ask.ravel(), np.empty(ask.size)
    for number, index in enumerate(first):
        here = which.ravel() == number
        found[here] = look(mounted(teeth, Place(*(float(part.ravel()[index]) for part in parts))), flat[here])
    return found.reshape(shape)


# --- one wheel more -----------------------------------------------------------------------------------
def helpful_wheels(teeth: tuple[int, ...], place: Place, wanted: np.ndarray, allowed: float) -> list[tuple[int, np.ndarray]]:
    """What each wheel of 20 to 127 teeth would bring if it were added: (wheel, signed errors of shape (wanted,)), best first.

    Best is what leaves the fewest threads beyond ``allowed``, then the smallest sum of errors, then the smaller wheel.
    """
    wanted = np.asarray(wanted, float)
    before = np.atleast_1d(_nearest(mounted(teeth, place), wanted))
    z = np.array(teeth)
    threes = np.indices((len(z),) * 3).reshape(3, -1)
    threes = z[threes[:, (threes[0] != threes[1]) & (threes[0] != threes[2]) & (threes[1] != threes[2])]]
    found = []
    for wheel in range(20, TEETH[1] + 1):
        two, four = _pairs((*teeth, wheel)), np.hstack([np.insert(threes, at, wheel, axis=0) for at in range(4)])
        fits = [
            _room_for_two((*teeth, wheel), two, place) >= TOUCHING,
            _least(place.room_for_four(*place.radius(four))) >= TOUCHING,
        ]
        ratios = np.concatenate([(two[0] / two[1])[fits[0]], (four[0] * four[2] / (four[1] * four[3]))[fits[1]]])
        after = np.atleast_1d(_nearest(np.sort(ratios), wanted))
        found.append((wheel, np.where(np.abs(after) < np.abs(before), after, before)))
    found.sort(key=lambda one: (int((np.abs(one[1]) > allowed).sum()), float(np.abs(one[1]).sum()), one[0]))
    return found
