"""Designs that pictures are drawn of, and the texts of a picture with their boxes."""

from dataclasses import replace
from itertools import combinations

import numpy as np
from matplotlib.text import Text

from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.evaluation import evaluate

#: letters may come this close, in points, before they count as on top of each other
_TOUCH = 2.0


def _at_end(which):
    """The boat shed with every slider at its low or high end."""
    design = demo("boat_shed")
    return design.trying(**{name: getattr(d, which) * d.kind.factor for name, d in design.chain.decisions.items() if d.numeric})


def _designs():
    found = {f"{name} {system}": replace(demo(name), system=system) for name in DEMOS for system in ("mm", "inch")}
    boat = demo("boat_shed")
    found |= {
        "all low": _at_end("low"),
        "all high": _at_end("high"),
        "tiny and slim": boat.trying(
            centre_height=0.04,
            between_centres=0.1,
            bed_form="two round bars",
            bed_height=0.02,
            bed_width=0.08,
            bearing_span=0.04,
            spindle_overhang=0.1,
            work_length=0.6,
            work_diameter=0.003,
        ),
        "large and stout": boat.trying(
            centre_height=0.13,
            between_centres=0.7,
            bed_form="channel",
            bearing_span=0.35,
            spindle_overhang=0.015,
            slide_height=0.01,
            work_support="chuck and centre",
        ),
        "low and long": boat.trying(
            centre_height=0.04, between_centres=0.7, slide_height=0.07, bed_form="two flat rails", cut_reach=0.2
        ),
        "high and short": boat.trying(
            centre_height=0.13, between_centres=0.1, bed_form="plate", bed_height=0.2, depth_of_cut=3e-3, entering_angle=np.pi / 4
        ),
        "fine cut": boat.trying(depth_of_cut=1e-4, feed=4e-4, motor_power=60.0, largest_drill=3e-3),
        "bore too wide": boat.trying(spindle_bore=0.04, spindle_diameter=0.03),
        "speeds swapped": boat.trying(slowest_speed=100.0, fastest_speed=50.0),
        "impatient": boat.trying(patience=6.0, money_can=10.0, hours_can=2.0),
    }
    return found


DESIGNS = _designs()


def noted(monkeypatch):
    """Texts as they are drawn from now on, with their boxes in points: (words, box)."""
    found = []
    plain = Text.draw

    def draw(self, renderer, *args, **kwargs):
        if self.get_visible() and self.get_text().strip():
            found.append((self.get_text(), Text.get_window_extent(self, renderer)))
        return plain(self, renderer, *args, **kwargs)

    monkeypatch.setattr(Text, "draw", draw)
    return found


def covering(texts):
    for (one, a), (other, b) in combinations(texts, 2):
        wide = min(a.x1, b.x1) - max(a.x0, b.x0)
        tall = min(a.y1, b.y1) - max(a.y0, b.y0)
        if wide > _TOUCH and tall > _TOUCH:
            yield f"{one!r} and {other!r}"


class Evaluations(dict):
    """Each of ``DESIGNS`` worked out by its name, when it is asked for."""

    def __missing__(self, name: str):
        with np.errstate(all="ignore"):
            self[name] = evaluate(DESIGNS[name], draws=400)
        return self[name]
