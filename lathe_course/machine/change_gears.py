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
from dataclasses import dataclass
from typing import Any

import numpy as np

from ..formula import formula
from ..units import Count, FeedPerTurn, Length, Pitch, Ratio

__all__ = [
    "MOST_WHEELS",
    "TEETH",
    "Place",
    "Train",
    "all_trains",
    "best_train",
    "cut_pitch",
    "finest_ratio",
    "helpful_wheels",
    "mounted",
    "pitch_error",
    "ranked",
    "ratio_errors",
    "tip_diameter",
    "train_ratio",
    "trains_for",
    "wanted_ratio",
    "wheel_distance",
]

#: fewest and most teeth of a change wheel; 127 turns millimetres into inches, for 127 x 0.2 mm is an inch
TEETH = (16, 127)
MOST_WHEELS = 30
#: a ratio nearer than this is the same ratio
SAME = 1e-12
#: room of a train that just fits, less what is lost in the last digit of a sum
TOUCHING = -1e-9
#: geometry finer than this is not told apart where a whole range of it is tried
FINE = 1e-4

Teeth = functools.partial(Count, "", at_least=1, at_most=400, whole=True)
Module = Length("mm", "m", above=0, at_most=20)
SpindleRatio = Ratio("", "i", above=0, at_most=10)
LeadscrewPitch = Pitch("mm", "P_l", above=0, at_most=25)


# --- formulas -----------------------------------------------------------------------------------------
@formula(
    r"u = \frac{z_1 z_3}{z_2 z_4}",
    source=("machinerys_handbook, change gears for thread cutting", "definition"),
    limits="turns of the leadscrew for one turn of the first driver; idlers change nothing; for two wheels set the last two alike",
    rises_with=("first_driver", "second_driver"),
    falls_with=("first_driven", "second_driven"),
)
def train_ratio(
    first_driver: Teeth("z_1"), first_driven: Teeth("z_2"), second_driver: Teeth("z_3"), second_driven: Teeth("z_4")
) -> Ratio("", "u"):
    """Turns of the leadscrew for one turn of the first driver: drivers over driven wheels."""
    return first_driver * second_driver / (first_driven * second_driven)


@formula(
    r"P_c = u\, i\, P_l",
    source="machinerys_handbook, change gears for thread cutting",
    limits="single start on the leadscrew, or its lead in place of its pitch",
    rises_with=("train_ratio", "spindle_ratio", "leadscrew_pitch"),
)
def cut_pitch(train_ratio: Ratio("", "u", above=0, at_most=10_000), spindle_ratio: SpindleRatio, leadscrew_pitch: LeadscrewPitch) -> FeedPerTurn(
    "mm/rev", "P_c"
):
    """How far the tool moves for one turn of the spindle: the pitch that is cut, or the feed."""
    return train_ratio * spindle_ratio * leadscrew_pitch


@formula(
    r"u = \frac{P}{i\, P_l}",
    source="machinerys_handbook, change gears for thread cutting",
    limits="single start; for several starts take the lead of the thread",
    rises_with=("pitch",),
    falls_with=("spindle_ratio", "leadscrew_pitch"),
)
def wanted_ratio(pitch: Pitch("mm", "P", above=0, at_most=100), spindle_ratio: SpindleRatio, leadscrew_pitch: LeadscrewPitch) -> Ratio("", "u"):
    """Ratio a train must have to cut a pitch: the pitch wanted over that of the leadscrew."""
    return pitch / (spindle_ratio * leadscrew_pitch)


@formula(
    r"e = \frac{P_c}{P} - 1",
    source="definition",
    limits="what the wheels do; the error of the leadscrew itself comes on top",
    rises_with=("cut_pitch",),
    falls_with=("pitch",),
)
def pitch_error(cut_pitch: Pitch("mm", "P_c", above=0, at_most=10_000), pitch: Pitch("mm", "P", above=0, at_most=100)) -> Ratio("%", "e"):
    """Error of a pitch as a share: positive where it comes out too coarse."""
    return cut_pitch / pitch - 1


@formula(
    r"a = \frac{m}{2} \left(z_1 + z_2\right)",
    source="definition",
    limits="spur gears without shifted profile; add a little for backlash when setting the banjo",
    rises_with=("module", "first_wheel", "second_wheel"),
)
def wheel_distance(module: Module, first_wheel: Teeth("z_1"), second_wheel: Teeth("z_2")) -> Length("mm", "a"):
    """Distance between the shafts of two wheels in mesh."""
    return module * (first_wheel + second_wheel) / 2


@formula(
    r"D = m \left(z + 2\right)",
    source="iso_53",
    limits="spur gears of the basic rack, without shifted profile: the tooth stands out by one module",
    rises_with=("module", "wheel"),
)
def tip_diameter(module: Module, wheel: Teeth("z")) -> Length("mm", "D"):
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

    def room(self, wheels: np.ndarray, idler: np.ndarray) -> np.ndarray:
        """Room of each train at its tightest condition in metres, below zero where it cannot be put on.

        ``wheels`` has shape (n, 4), ``idler`` (n,) is used for two-wheel trains; the result has shape (n, 7):
        far enough, not too far, within reach, then four clearances.  A clearance that is not asked for is infinite.
        """
        first, second, third, fourth = (self.module / 2 * wheels[:, column] for column in range(4))
        between, half, shaft = self.module / 2 * idler, self.module, self.shaft / 2
        two = wheels[:, 2] == 0
        upper = first + np.where(two, between, second)
        lower = np.where(two, between + second, third + fourth)
        never = np.inf
        return np.column_stack([
            upper + lower - self.centres,
            self.centres - np.abs(upper - lower),
            self.reach - lower,
            np.where(two, self.centres - (first + second + 2 * half), upper - (third + half + shaft)),
            np.where(two, never, lower - (second + half + shaft)),
            np.where(two, never, self.centres - (first + half + shaft)),
            np.where(two, never, self.centres - (fourth + half + shaft)),
        ])


#: what stands in the way, in the order of the columns of ``Place.room``; the first clearance has two meanings
_OBSTACLES = ("the wheels are too small to span from shaft to shaft", "the wheels are too unlike to meet on the stud",
              "the stud lies beyond the reach of the banjo", "the second driver runs into the shaft of the first",
              "the first driven wheel runs into the leadscrew", "the first driver runs into the leadscrew",
              "the wheel on the leadscrew runs into the shaft of the first driver")
_TOUCH = "the two wheels touch each other past the idler"
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
        upper, lower = ((a + self.idler, self.idler + b) if len(self.wheels) == 2 else (a + b, sum(self.wheels[2:])))
        upper, lower = place.module / 2 * upper, place.module / 2 * lower
        height = (lower**2 - upper**2 + place.centres**2) / (2 * place.centres)
        return float(np.sqrt(max(lower**2 - height**2, 0.0))), float(height)


# --- all trains of a set ------------------------------------------------------------------------------
@functools.lru_cache(maxsize=32)
def all_trains(teeth: tuple[int, ...]) -> tuple[np.ndarray, np.ndarray]:
    """Every two- and four-wheel train from a set: wheels of shape (n, 4) and ratios of shape (n,).

    A wheel serves once in a train; one that is in the set twice may serve twice.
    """
    z = np.array(teeth, np.int64)
    four = np.indices((len(z),) * 4).reshape(4, -1)
    apart = np.ones(four.shape[1], bool)
    for one in range(4):
        for other in range(one):
            apart &= four[one] != four[other]
    wheels = np.vstack([_pairs(teeth), z[four[:, apart].T]])
    if len(set(teeth)) < len(teeth):
        wheels = np.unique(wheels, axis=0)
    ratios = _ratios(wheels)
    for array in (wheels, ratios):
        array.setflags(write=False)
    return wheels, ratios


def _pairs(teeth: tuple[int, ...]) -> np.ndarray:
    """Every two-wheel train from a set, shape (n, 4) with the last two 0."""
    z = np.array(teeth, np.int64)
    pair = np.indices((len(z),) * 2).reshape(2, -1)
    pair = z[pair[:, pair[0] != pair[1]].T]
    return np.column_stack([pair, np.zeros_like(pair)])


def _ratios(wheels: np.ndarray) -> np.ndarray:
    """Drivers over driven wheels, shape (n,): whole numbers first, so that equal ratios are equal to the last digit."""
    return wheels[:, 0] * np.maximum(wheels[:, 2], 1) / (wheels[:, 1] * np.maximum(wheels[:, 3], 1))


def _idlers(teeth: tuple[int, ...], wheels: np.ndarray, place: Place) -> np.ndarray:
    """The idler that leaves most room in each two-wheel train, 0 where no wheel is left, shape (n,)."""
    sizes, counts = np.unique(teeth, return_counts=True)
    used = (wheels[:, :1] == sizes).astype(int) + (wheels[:, 1:2] == sizes)
    free = counts - used > 0                                                # (n, sizes)
    tight = np.stack([place.room(wheels, np.full(len(wheels), size)).min(axis=1) for size in sizes], axis=1)
    best = np.where(free, tight, -np.inf).argmax(axis=1)
    return np.where(free.any(axis=1), sizes[best], 0)


def _with_room(teeth: tuple[int, ...], wheels: np.ndarray, place: Place) -> tuple[np.ndarray, np.ndarray]:
    """Idlers of shape (n,) and room of shape (n, 7); a two-wheel train without an idler has none."""
    two = wheels[:, 2] == 0
    idlers = np.zeros(len(wheels), np.int64)
    if two.any():
        idlers[two] = _idlers(teeth, wheels[two], place)
    room = place.room(wheels, idlers)
    room[two & (idlers == 0)] = -np.inf
    return idlers, room


@functools.lru_cache(maxsize=512)
def mounted(teeth: tuple[int, ...], place: Place) -> tuple[np.ndarray, np.ndarray]:
    """Ratios that can be put on, rising and each once, and a train for each: shapes (n,) and (n, 4).

    Of trains with one ratio the one with fewest wheels is taken, then the one with most room.
    """
    wheels, ratios = all_trains(teeth)
    tight = _with_room(teeth, wheels, place)[1].min(axis=1)
    fits = tight >= TOUCHING
    wheels, ratios, tight = wheels[fits], ratios[fits], tight[fits]
    order = np.lexsort((-tight, wheels[:, 2] > 0, ratios))
    first = np.ones(len(order), bool)
    first[1:] = np.diff(ratios[order]) > 0
    return ratios[order][first], wheels[order][first]


def ranked(teeth: tuple[int, ...], place: Place, wanted: float) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """All trains of a set for one ratio, the best first: wheels (n, 4), signed errors (n,), and whether each mounts (n,).

    First by size of error, then those that can be put on, then those with fewer wheels and more room.
    """
    wheels, ratios = all_trains(teeth)
    tight = _with_room(teeth, wheels, place)[1].min(axis=1)
    errors = ratios / wanted - 1
    errors[np.abs(errors) < SAME] = 0.0
    order = np.lexsort((-tight, wheels[:, 2] > 0, tight < TOUCHING, np.abs(errors)))
    return wheels[order], errors[order], tight[order] >= TOUCHING


def trains_for(teeth: tuple[int, ...], place: Place, wanted: float, most: int = 8) -> list[Train]:
    """The best trains for a ratio, each ratio once, nearest first; at least one that mounts is among them if there is any."""
    wheels, errors, fits = ranked(teeth, place, wanted)
    if not len(wheels):
        return []
    _, first = np.unique(np.round(errors, 12), return_index=True)
    chosen = np.sort(first)[:most]
    if fits.any() and not fits[chosen].any():
        chosen = np.append(chosen[: most - 1], np.argmax(fits))
    idlers, room = _with_room(teeth, wheels[chosen], place)
    return [_train(w, int(i), float(e), wanted, r) for w, i, e, r in zip(wheels[chosen], idlers, errors[chosen], room)]


def best_train(teeth: tuple[int, ...], place: Place, wanted: float) -> Train | None:
    """The train nearest to a ratio among those that can be put on; None where none can.  Quick, for a moving slider."""
    ratios, wheels = mounted(teeth, place)
    if not ratios.size:
        return None
    at = int(np.argmin(np.abs(ratios / wanted - 1)))
    error = float(ratios[at] / wanted - 1)
    idlers, room = _with_room(teeth, wheels[at : at + 1], place)
    return _train(wheels[at], int(idlers[0]), error if abs(error) >= SAME else 0.0, wanted, room[0])


def _train(wheels: np.ndarray, idler: int, error: float, wanted: float, room: np.ndarray) -> Train:
    two = wheels[2] == 0
    worst = int(room.argmin())
    obstacle = "" if room[worst] >= TOUCHING else _NO_IDLER if two and idler == 0 else _TOUCH if two and worst == 3 else _OBSTACLES[worst]
    return Train(tuple(int(z) for z in wheels[: 2 if two else 4]), idler, wanted * (1 + error), error, obstacle)


# --- for the chain ------------------------------------------------------------------------------------
def ratio_errors(teeth: tuple[int, ...], module: Any, centres: Any, reach: Any, shaft: Any, wanted: Any) -> Any:
    """Signed error of the nearest train that can be put on, for each wanted ratio; all but ``teeth`` may be arrays that broadcast.

    Where no train can be put on the leadscrew stands still, which is an error of -1.
    """
    return _at_each_place(teeth, (module, centres, reach, shaft), wanted, _nearest)


def finest_ratio(teeth: tuple[int, ...], module: Any, centres: Any, reach: Any, shaft: Any) -> Any:
    """The smallest ratio that can be put on; 0 where none can.  Arrays as for ``ratio_errors``."""
    return _at_each_place(teeth, (module, centres, reach, shaft), 1.0, lambda ratios, wanted: ratios[0] * wanted if ratios.size else 0.0 * wanted)


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
        return look(mounted(teeth, Place(*place))[0], wanted)
    *parts, ask = np.broadcast_arrays(*(np.asarray(part, float) for part in place), np.asarray(wanted, float))
    shape = ask.shape
    coarse = np.column_stack([np.round(part.ravel() / FINE).astype(np.int64) for part in parts])
    _, first, which = np.unique(coarse, axis=0, return_index=True, return_inverse=True)
    flat, found = ask.ravel(), np.empty(ask.size)
    for number, index in enumerate(first):
        here = which.ravel() == number
        found[here] = look(mounted(teeth, Place(*(float(part.ravel()[index]) for part in parts)))[0], flat[here])
    return found.reshape(shape)


# --- one wheel more -----------------------------------------------------------------------------------
def helpful_wheels(teeth: tuple[int, ...], place: Place, wanted: np.ndarray, allowed: float) -> list[tuple[int, np.ndarray]]:
    """What each wheel of 20 to 127 teeth would bring if it were added: (wheel, signed errors of shape (wanted,)), best first.

    Best is what leaves the fewest threads beyond ``allowed``, then the smallest sum of errors, then the smaller wheel.
    """
    wanted = np.asarray(wanted, float)
    before = np.atleast_1d(_nearest(mounted(teeth, place)[0], wanted))
    z = np.array(teeth, np.int64)
    threes = np.indices((len(z),) * 3).reshape(3, -1)
    threes = z[threes[:, (threes[0] != threes[1]) & (threes[0] != threes[2]) & (threes[1] != threes[2])].T]
    found = []
    for wheel in range(20, TEETH[1] + 1):
        fours = np.vstack([np.insert(threes, at, wheel, axis=1) for at in range(4)])
        pairs = _pairs((*teeth, wheel))
        fits = np.concatenate([_with_room((*teeth, wheel), rows, place)[1].min(axis=1) >= TOUCHING for rows in (pairs, fours)])
        after = np.atleast_1d(_nearest(np.sort(_ratios(np.vstack([pairs, fours])[fits])), wanted))
        found.append((wheel, np.where(np.abs(after) < np.abs(before), after, before)))
    found.sort(key=lambda one: (int((np.abs(one[1]) > allowed).sum()), float(np.abs(one[1]).sum()), one[0]))
    return found
