"""Luck: where in its range a figure falls in each draw, and which figures fall together.

One pair of hands fits every joint of a lathe, one price level stands behind every bill: such
figures are not drawn one by one, or their sums would look far surer than they are.  How much of
a figure's luck is shared is judged (common practice, no source).
"""

from __future__ import annotations

import functools
import zlib
from collections.abc import Mapping
from typing import Self

import numpy as np

from ...ranges import Range

#: draws for every spread that is shown, so that all pages show the same one
DRAWS = 2000

#: what a figure shares with others: pairs of the cause and how strongly it follows, -1 to 1.
#: The square is the share of the figure's luck; a minus turns it round: good hands lower a give and raise a stiffness.
Luck = tuple[tuple[str, float], ...]

#: tells the streams of draws of this course from any other use of the same names
_STREAM = 20


def _joint(name: str) -> Luck:
    """Both directions of one joint: by one pair of hands, and the same two faces."""
    return (("hands", 0.7), (name, 0.6))


_LINKS = ("headstock", "saddle", "cross_slide", "top", "toolpost")
#: hours of the parts: whoever is slow at one is rather slow at the next
PACE: Luck = (("pace", 0.55),)
#: what other people's work costs: the firms of one place
FIRMS: Luck = (("firms", 0.55),)

#: figure -> what it shares; a figure that is not named has its luck to itself
SHARED: Mapping[str, Luck] = {
    **{f"{link}_{way}": _joint(link) for link in _LINKS for way in ("link", "upright")},
    "chuck_link": (("chuck", 0.9),),
    "chuck_upright": (("chuck", 0.9),),
    "tailstock_link": (("hands", 0.7),),
    **dict.fromkeys(("bed_joint_share", "cross_seat_stiffness"), (("hands", -0.7),)),
    **dict.fromkeys(("front_stiffness", "rear_stiffness"), (("hands", -0.5), ("bearings", 0.6))),
    "cross_backlash": (("hands", 0.7),),
    **dict.fromkeys(("slide_friction", "clamp_friction"), (("oil", 0.6),)),
    **dict.fromkeys(("cut_condition", "drill_condition"), (("edge", 0.7),)),
    **dict.fromkeys(
        ("price_level", "bed_metal_price", "fill_price", "ordered_price", "wear_price", "used_price"), (("prices", 0.7),)
    ),
}

#: how far the work of one firm comes out alike: a root of three tenths
_FIRM = 0.55


class Fitted(Range):
    """A range whose luck hangs on who made the thing."""

    luck: Luck

    def __new__(cls, low: float, likely: float, high: float, luck: Luck = ()) -> Self:
        made = super().__new__(cls, low, likely, high)
        made.luck = luck
        return made


def made_by(name: str, behind: str) -> Luck:
    """What a figure shares when it is known who made the thing.

    What is fitted by one pair of hands keeps its luck; one firm's work comes out alike in part,
    as ``behind`` says; a find stands for itself.  What else a figure shares, as both directions of one joint do, stays.
    """
    own = SHARED.get(name, (("hands", 0.6),))
    if behind == "hands":
        return own
    rest = tuple((cause, weight) for cause, weight in own if cause != "hands")
    if not behind:
        return rest
    turn = -1 if ("hands", -1) in [(cause, np.sign(weight)) for cause, weight in own] else 1
    return ((behind, turn * _FIRM), *rest)


def _stream(name: str) -> np.random.Generator:
    return np.random.default_rng([_STREAM, zlib.crc32(name.encode())])


@functools.lru_cache(maxsize=64)
def _common(cause: str, draws: int) -> np.ndarray:
    return _stream(f"luck of {cause}").standard_normal(draws)


@functools.lru_cache(maxsize=2048)
def fractions(name: str, draws: int, shared: Luck = ()) -> np.ndarray:
    """Fractions 0 to 1, shape (draws,), one from each of as many equal layers, in an order of its own per name.

    Each name has its own stream, so a new figure does not reshuffle the others, and the
    same design gives the same spread every time.  What is ``shared`` decides in which draws a
    figure comes out high or low together with others; each figure's own spread stays the same.
    """
    stream = _stream(name)
    if shared:
        weights = np.array([weight for _, weight in shared])
        own = np.sqrt(max(0.0, 1 - (weights**2).sum()))
        lot = own * stream.standard_normal(draws) + sum(weight * _common(cause, draws) for cause, weight in shared)
        place = np.argsort(np.argsort(lot))
    else:
        place = stream.permutation(draws)
    layers = (place + stream.random(draws)) / draws
    layers.setflags(write=False)
    return layers


@functools.lru_cache(maxsize=12)
def fractions_of(names: tuple[str, ...], draws: int, shared: Luck = ()) -> np.ndarray:
    """Fractions of several figures with the same shared luck, shape (draws, figures); kept, for a list of parts changes more rarely than its figures."""
    found = np.stack([fractions(name, draws, shared) for name in names], axis=-1) if names else np.empty((draws, 0))
    found.setflags(write=False)
    return found
