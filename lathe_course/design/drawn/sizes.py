"""Sizes and places that several parts of the arrangement share."""

from __future__ import annotations

import functools
from dataclasses import dataclass

import numpy as np

from ..chain.wheel_set import wheels_of
from ..evaluation import Evaluation

_BARS = ("two round bars", "round bars on a plate")
_RAILS = ("two flat rails", "rails with cross ribs", "rails with diagonal ribs")


@dataclass(frozen=True)
class Sizes:
    """Figures of an evaluation by name, as floats in SI or options; and places made from them, m."""

    figures: Evaluation
    listed: frozenset[str]  # parts of the learner's list

    @classmethod
    def of(cls, e: Evaluation) -> Sizes:
        central = e.central
        return cls(central, frozenset(part.name for part in central["parts_list"]))

    def __getattr__(self, name: str) -> float:
        value = self.figures[name]
        return value if isinstance(value, str) else float(value)

    def has(self, *parts: str) -> bool:
        """Is one of these on the list of parts?"""
        return bool(self.listed & set(parts))

    # --- form of the bed ----------------------------------------------------------------------------
    @property
    def on_bars(self) -> bool:
        return self.bed_form in _BARS

    @property
    def on_rails(self) -> bool:
        return self.bed_form in _RAILS

    @property
    def profiled(self) -> bool:
        return self.bed_form.startswith("profiled")

    @property
    def open_below(self) -> bool:
        """Does the bed leave air between its sides, so that feet need something to stand under?"""
        return self.on_rails or self.bed_form in ("two round bars", "channel")

    @functools.cached_property
    def seat(self) -> float:
        """Height on which the headstock stands, against the ways: the base of profiled rails, else the ways."""
        return -self.way_height if self.profiled else 0.0

    @functools.cached_property
    def wall(self) -> float:
        """Wall of the bed, no thicker than leaves the shape one."""
        return min(self.bed_wall, 0.45 * self.bed_width, 0.45 * self.bed_height)

    @functools.cached_property
    def half(self) -> float:
        return self.bed_width / 2

    @functools.cached_property
    def ridge_y(self) -> float:
        """Middle of a way from that of the bed."""
        return self.half - self.wall / 2 if self.on_rails else self.way_spacing / 2

    # --- along the bed ------------------------------------------------------------------------------
    @functools.cached_property
    def front_bearing(self) -> float:
        return -self.spindle_overhang

    @functools.cached_property
    def rear_bearing(self) -> float:
        return -self.spindle_overhang - self.bearing_span

    @functools.cached_property
    def wall_beside(self) -> float:
        """From the middle of a bearing to the outside of the headstock."""
        return (self.headstock_length - self.bearing_span) / 2

    @functools.cached_property
    def head_front(self) -> float:
        return self.front_bearing + self.wall_beside

    @functools.cached_property
    def head_rear(self) -> float:
        return self.rear_bearing - self.wall_beside

    @functools.cached_property
    def head_half(self) -> float:
        """Half the width of the headstock, as the list of parts has it."""
        return (self.bearing_outside + 0.5 * self.centre_height) / 2

    @functools.cached_property
    def head_top(self) -> float:
        return 1.19 * self.centre_height + self.bearing_outside / 2

    @functools.cached_property
    def point(self) -> float:
        """Where the centre in the headstock has its point."""
        return self.near_reach

    @functools.cached_property
    def tail_point(self) -> float:
        return self.point + self.between_centres

    @functools.cached_property
    def barrel_face(self) -> float:
        """Face of the barrel, behind the exposed point of its centre: as long as it is thick, common practice of 60 degree centres."""
        return self.tail_point + self.tailstock_taper_large

    @functools.cached_property
    def tail_front(self) -> float:
        """Its barrel stands out no more than the saddle needs."""
        return self.tail_reach_in + self.barrel_out

    @functools.cached_property
    def tail_end(self) -> float:
        return self.tail_front + self.tailstock_base

    @property
    def bed_start(self) -> float:
        """Under the rear of the headstock."""
        return self.head_rear

    @functools.cached_property
    def bed_end(self) -> float:
        return self.head_rear + self.bed_length

    @functools.cached_property
    def chuck_end(self) -> float:
        """Front of the jaws."""
        return self.jaws_front

    # --- up and down ----------------------------------------------------------------------------------
    @functools.cached_property
    def under(self) -> float:
        """Underside of the bed."""
        return -self.bed_depth

    @functools.cached_property
    def bench(self) -> float:
        return self.under - self.riser_height

    @functools.cached_property
    def saddle_top(self) -> float:
        return 0.45 * self.slide_height

    # --- across ---------------------------------------------------------------------------------------
    @functools.cached_property
    def feet(self) -> list[tuple[float, float]]:
        """Middles of the feet, x and y."""
        middle, half, side = (self.bed_start + self.bed_end) / 2, self.foot_spacing / 2, 0.36 * self.bed_width
        rear = [(middle - half, -side), (middle - half, side)]
        return rear + (
            [(middle + half, 0.0)] if self.feet_kind == "three feet" else [(middle + half, -side), (middle + half, side)]
        )

    @property
    def feet_kind(self) -> str:
        return self.figures["feet"]

    @functools.cached_property
    def lip(self) -> float:
        """What the saddle hangs over the edge of the bed, its shoes on bars or rails with it."""
        beyond = self.shoe if self.on_bars else self.bars_y + self.shoe - self.half if self.profiled else 0.0
        return max(0.12 * self.centre_height, 1.02 * beyond)

    @functools.cached_property
    def shoe(self) -> float:
        """How far a shoe stands out beside its bar, or beside the middle of its rail."""
        return 0.18 * self.bed_height if self.on_bars else 0.99 * self.way_height

    @functools.cached_property
    def guide_middle(self) -> float:
        """Middle of the guide that steers the saddle: the bed's, or that of its front way where the guide is narrow."""
        return 0.0 if self.guide_width >= 0.75 * self.bed_width else -self.way_spacing / 2

    @functools.cached_property
    def screw_y(self) -> float:
        """Where leadscrew or feed pushes the saddle: in front of its guide by what was decided."""
        return self.guide_middle - self.push_offset

    @functools.cached_property
    def screw_z(self) -> float:
        d = self.leadscrew_diameter
        if self.on_bars and self.screw_y + d > -self.half - self.lip:
            return -max(self.bed_height, 0.65 * self.bed_height + d)  # below what runs on the bars
        wanted = -self.bed_height / 2 if self.on_bars else self.seat - max(0.45 * self.centre_height, d)
        return min(max(wanted, self.bench + self.wheel_diameter / 2 + 0.05 * self.centre_height), self.seat - d)

    @functools.cached_property
    def wheel_diameter(self) -> float:
        """The wheel on the leadscrew: the largest of the set, if it leaves the smallest room beside it."""
        teeth = wheels_of(self.change_wheels) if self.has("change gears") else []
        return min(max(teeth) * self.wheel_module, 1.8 * self.gear_centres - min(teeth) * self.wheel_module) if teeth else 0.0

    @functools.cached_property
    def bars_y(self) -> float:
        """Middle of a round bar, flat rail or profiled rail from that of the bed."""
        if self.on_bars:
            return max(self.half - self.bed_height / 2, self.bed_height / 2)
        return 0.7 * self.half if self.profiled else self.half - self.wall / 2

    @functools.cached_property
    def tip(self) -> np.ndarray:
        """Tip of the tool: at the radius of the slimmest precise work, at centre height where shims can bring it there."""
        return np.array(
            [self.saddle_middle - self.tool_beside_saddle, -self.work_diameter / 2, self.tool_height + self.tool_packing]
        )

    @functools.cached_property
    def saddle_middle(self) -> float:
        """Midway between chuck and tailstock, or as near to that as both leave it room: what is low passes under the chuck."""
        half, middle = self.saddle_length / 2, (self.chuck_end + self.tail_front) / 2
        return max(self.saddle_reach - half, min(middle, self.tail_front - half))
