"""A stiffness read off a real machine: loads and dial readings, fitted with their doubt, and told in sentences.

The model is a straight line with one slope, the give, and two heights: one while load is put on
and one while it is taken off.  What lies between the heights is friction, not give.

No ``from __future__ import annotations`` here: the decorator reads the annotations.
"""

import itertools
from dataclasses import dataclass
from typing import Annotated, Any

import numpy as np

from .. import units
from ..formula import SI, formula
from ..ranges import Range
from ..tables import table
from ..units import Compliance, Force, InputProblem, Length, Ratio

#: readings below this number are refused: the line must be held by more than itself
FEWEST = 4
#: what balance and dial may be wrong by, both together, whatever the readings say: common practice
INSTRUMENTS = 0.05
#: a dial is read to this at best, so what is nearer to the line is on it
_RESOLUTION = 1e-6
#: readings further off than this many times the usual distance from the line are told of
_FAR = 5.0
_MOST_LEFT_OUT = 0.25
_DIAL, _LOAD = Length("µm"), Force()


@formula(
    r"\Delta c = t \frac{s}{S}",
    source="nist_handbook, straight line fit",
    limits="scatter alike at every load; 95 times in 100 the true slope lies inside",
    rises_with=("scatter", "student_factor"),
    falls_with=("load_spread",),
)
def give_uncertainty(
    scatter: Annotated[SI, Length("µm", "s", at_least=0)],
    load_spread: Annotated[SI, Force("N", "S", above=0)],
    student_factor: Annotated[SI, Ratio("", "t", above=0)],
) -> Annotated[SI, Compliance("µm/kN", r"\Delta c")]:
    """How far the true give may lie from the slope of the line, either way.

    ``scatter`` is the usual distance of the readings from the line, ``load_spread`` the root
    of the summed squares of the loads about their mean: many loads, far apart, hold the slope.
    """
    return student_factor * scatter / load_spread


def student_factor(freedom: int) -> float:
    """Student's factor for 95 in 100, both sides: how much wider a doubt is that was itself learned from few readings.

    ``freedom`` is the number of readings less the number of figures fitted to them.
    """
    rows = {int(key): row["factor"] for key, row in table("student_t").items()}
    return rows[max(known for known in rows if known <= freedom)]  # the next smaller one errs on the careful side


@dataclass(frozen=True)
class GiveFit:
    """A fitted give; lengths in m, forces in N, gives in m/N.

    ``used`` marks the readings that hold the line.
    """

    give: float  # slope
    doubt: float  # either way, 95 in 100, from scatter alone
    scatter: float
    load_spread: float
    factor: float
    friction: float  # height of the line while unloading over that while loading
    play: float  # taken up before the line begins, positive if the dial ran ahead; 0 if none was seen
    heights: tuple[float, float]  # of the line at no load: loading, unloading (NaN if none was read)
    turned: bool  # the dial counted the other way
    used: np.ndarray
    early: tuple[int, ...]  # rows before the line begins
    outliers: tuple[int, ...]  # rows off the line
    away: np.ndarray  # distance of every reading from the line of its way
    loads: np.ndarray

    def remarks(self, system: str = "mm") -> tuple[str, ...]:
        """Sentences on what was found beside the give, in the reader's units."""
        return tuple(_told(self, system))

    @property
    def range(self) -> Range:
        """Low, likely and high give, with what balance and dial may add."""
        half = float(np.hypot(self.doubt, INSTRUMENTS * self.give))
        return Range(max(self.give - half, 0.05 * self.give), self.give, self.give + half)


def fit_give(force: Any, dial: Any, unloading: Any = None) -> GiveFit:
    """Fit the give to loads [N] and dial readings [m], arrays of shape (readings,); ``unloading`` is True where load came off.

    Raises InputProblem, with what would mend it, if the readings cannot tell a give.
    """
    force, dial = np.asarray(force, float), np.asarray(dial, float)
    off = np.zeros(len(force), bool) if unloading is None else np.asarray(unloading, bool)
    _refuse_too_few(force)
    turned = bool(_median_slope(force, dial, off) < 0)
    shown = -dial if turned else dial
    early, play = _before_the_line(force, shown, off)
    outliers = _off_the_line(force, shown, off, ~early)
    used = ~early & ~np.isin(np.arange(len(force)), outliers)
    slope, heights, scatter, freedom, spread = straight_line(force[used], shown[used], off[used])
    factor = student_factor(freedom)
    doubt = float(give_uncertainty.si(scatter, spread, factor))
    if not slope > 0 or doubt >= slope:
        raise InputProblem.about(
            "readings",
            "the readings scatter more than the load moves them, so they tell no give; look for a loose "
            "dial stand or a slipping hook, go to higher loads, and read again.",
        )
    friction = heights[1] - heights[0] if np.isfinite(heights).all() else 0.0
    height = np.where(off, *(heights[way] if np.isfinite(heights[way]) else heights[not way] for way in (True, False)))
    return GiveFit(
        slope,
        doubt,
        scatter,
        spread,
        factor,
        friction,
        play,
        heights,
        turned,
        used,
        tuple(map(int, np.flatnonzero(early))),
        tuple(outliers),
        shown - slope * force - height,
        force,
    )


def _refuse_too_few(force: np.ndarray) -> None:
    count, loads = len(force), len(np.unique(np.round(force, 6)))
    mend = f"Read at {FEWEST} loads or more, from nothing up to as much as a roughing cut pushes, and down again."
    if count == 0:
        raise InputProblem.about("readings", f"there are no readings yet. {mend}")
    if count == 1:
        raise InputProblem.about("readings", f"one reading tells where the dial stood, not how much it moved. {mend}")
    if loads == 1:
        raise InputProblem.about(
            "readings", f"all readings were taken at the same load, so nothing shows how the dial follows it. {mend}"
        )
    if loads == 2 or count < FEWEST:
        raise InputProblem.about(
            "readings",
            f"{count} readings at {loads} loads are too few: a line through so few fits whatever they say, "
            f"and nothing tells how sure it is. {mend}",
        )


def _median_slope(force: np.ndarray, dial: np.ndarray, off: np.ndarray) -> float:
    """Median of the slopes between readings of the same way: one wrong reading does not pull it."""
    slopes = [
        (dial[b] - dial[a]) / (force[b] - force[a])
        for a, b in itertools.combinations(range(len(force)), 2)
        if off[a] == off[b] and abs(force[b] - force[a]) > 1e-9
    ]
    return float(np.median(slopes)) if slopes else 0.0


def _away(force: np.ndarray, dial: np.ndarray, off: np.ndarray, among: np.ndarray) -> np.ndarray:
    """Distance of every reading from a line through the medians of those ``among``."""
    slope = _median_slope(force[among], dial[among], off[among])
    rest = dial - slope * force
    for way in (False, True):
        here = off == way
        if (here & among).any():
            rest[here] -= np.median(rest[here & among])
    return rest


def _usual(away: np.ndarray) -> float:
    """The usual distance from the line, from the median; never below what a dial can be read to."""
    return max(1.4826 * float(np.median(np.abs(away))), _RESOLUTION / 2)


def _before_the_line(force: np.ndarray, dial: np.ndarray, off: np.ndarray) -> tuple[np.ndarray, float]:
    """Readings at the lowest loads, going up, that the line of the others does not reach; and how far it misses the first."""
    early, play = np.zeros(len(force), bool), 0.0
    rising = np.flatnonzero(~off)
    rising = rising[np.argsort(force[rising], kind="stable")]
    for count in range(1, min(3, len(rising) - 2)):
        low = rising[:count]
        others = np.ones(len(force), bool)
        others[low] = False
        if len(np.unique(force[others & ~off])) < 3:
            break
        away = _away(force, dial, off, others)
        limit = max(_FAR * _usual(away[others]), 2 * _RESOLUTION)
        ahead = away[low]
        # all of them on the same side, and the next one on the line: else it is scatter or an outlier
        if (
            (np.all(ahead < -limit) or np.all(ahead > limit))
            and abs(away[rising[count]]) < limit
            and np.mean(np.abs(away[others]) >= limit) <= _MOST_LEFT_OUT
        ):
            early[low], play = True, -float(ahead[0])
            break
    return early, play


def _off_the_line(force: np.ndarray, dial: np.ndarray, off: np.ndarray, among: np.ndarray) -> list[int]:
    away = _away(force, dial, off, among)
    limit = max(_FAR * _usual(away[among]), 2 * _RESOLUTION)
    far = [int(i) for i in np.argsort(-np.abs(away)) if among[i] and abs(away[i]) > limit]
    return sorted(far[: int(_MOST_LEFT_OUT * among.sum())])


def straight_line(force: np.ndarray, dial: np.ndarray, off: np.ndarray) -> tuple[float, tuple[float, float], float, int, float]:
    """Slope, heights, scatter, freedom and spread of loads by least squares, one height for each way that was gone.

    Raises InputProblem where too few readings are left to tell.
    """
    ways = [way for way in (False, True) if (off == way).any()]
    f, x = force.copy(), dial.copy()
    for way in ways:  # loads and readings about the means of their way
        f[off == way] -= force[off == way].mean()
        x[off == way] -= dial[off == way].mean()
    squares = float(f @ f)
    freedom = len(force) - len(ways) - 1
    if squares == 0 or freedom < 1:
        raise InputProblem.about(
            "readings", "too few readings are left once those that do not fit are set aside; read again, at more loads."
        )
    slope = float(f @ x) / squares
    scatter = float(np.sqrt(np.sum((x - slope * f) ** 2) / freedom))
    heights = [float(np.mean((dial - slope * force)[off == way])) if way in ways else float("nan") for way in (False, True)]
    return slope, (heights[0], heights[1]), scatter, freedom, float(np.sqrt(squares))


def _told(fit: GiveFit, system: str) -> list[str]:
    def length(metres: float) -> str:
        return units.shown(abs(metres), _DIAL, system, 2)

    said = []
    if fit.turned:
        said.append(
            "The dial falls while the load rises: it was set up from the other side. The readings are counted the other way round."
        )
    if fit.early:
        rows = f"row{'s' if len(fit.early) > 1 else ''} {', '.join(str(index + 1) for index in fit.early)}"
        if fit.play > 0:
            said.append(
                f"Before the line begins ({rows}) the dial runs ahead by {length(fit.play)} under hardly any load. That is play being "
                "taken up, not give: look at the screw's nut, the gib and the bearings. It is kept out of the fit."
            )
        else:
            said.append(
                f"At first ({rows}) the dial hardly follows the load, {length(fit.play)} short of the line. Something sticks until the load "
                "lets it go. It is kept out of the fit."
            )
    for index in fit.outliers:
        said.append(
            f"Row {index + 1} ({units.shown(fit.loads[index], _LOAD, system)}) lies {length(fit.away[index])} off the line of the others. "
            "It is left out; read it again rather than believing either."
        )
    moved = fit.give * float(np.ptp(fit.loads))
    if not np.isfinite(fit.heights).all():
        said.append("All readings were taken one way, so friction cannot be told from give. Read again while the load comes off.")
    elif abs(fit.friction) > max(2 * fit.scatter, 2 * _RESOLUTION):
        said.append(
            f"Coming down the dial stands {length(fit.friction)} {'higher' if fit.friction > 0 else 'lower'} than going up, "
            f"{abs(fit.friction) / moved:.0%} of the whole movement: friction in slides and joints holds what it has. It does not change the slope."
        )
    return said
