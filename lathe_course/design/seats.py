"""The fits a design asks for: seats of the spindle, bores of the housing, the barrel of the tailstock."""

from __future__ import annotations

from typing import NamedTuple

from ..machine import bearings, fits
from ..machine.fits import Field
from .evaluation import Evaluation


class Seat(NamedTuple):
    """A seat or bore of the design: what it is, its nominal size, its field, and what it meets."""

    what: str
    size: float
    field: str
    partner: str
    #: the other field, or the ring of a bearing by its bore or outside
    meets: str

    def fields(self) -> tuple[Field, Field]:
        """Its own field and the one it meets; InputProblem beyond the tables."""
        other = fits.ring_field(self.meets, self.size) if self.meets in ("bore", "outside") else fits.field(self.meets, self.size)
        return fits.field(self.field, self.size), other

    def pair(self) -> tuple[Field, Field]:
        """Hole and shaft."""
        own, other = self.fields()
        return (other, own) if self.field[0].islower() else (own, other)

    def play(self) -> tuple[float, float]:
        """The least and the greatest play of the two [m]; below zero they must be pressed together."""
        hole, shaft = self.pair()
        return fits.least_play.si(hole.lower, shaft.upper), fits.greatest_play.si(hole.upper, shaft.lower)


def _whole(size: float) -> float:
    """To a whole millimetre: rings and bars come so."""
    return round(size * 1e3) / 1e3


def seats(e: Evaluation) -> list[Seat]:
    """What the chapter's design asks to be turned or bored to a fit."""
    seat, outside = e["spindle_diameter"], _whole(2 * e["bearing_mean_diameter"] - e["spindle_diameter"])
    contact = bearings.contact_of(e["bearing_kind"])
    if contact == bearings.BUSH:
        found = [
            Seat("front journal", seat, "h5", "bush, reamed to H7", "H7"),
            Seat("rear journal", seat, "h5", "bush, reamed to H7", "H7"),
        ]
    else:
        still, moved = ("K7", "J6") if contact == bearings.SLANTED_ROLLERS else ("J6", "H6")
        found = [
            Seat("front seat on the spindle", seat, "k5", "inner ring", "bore"),
            Seat("rear seat, where the ring slides to be set", seat, "h5", "inner ring", "bore"),
            Seat("front bore in the housing", outside, still, "outer ring", "outside"),
            Seat("rear bore in the housing", outside, moved, "outer ring", "outside"),
        ]
    return [*found, Seat("tailstock barrel", e["barrel_diameter"], "h6", "bore of its body, H7", "H7")]
