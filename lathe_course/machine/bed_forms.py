"""The forms a bed can take, each as one set of section figures for the chain.

Every form is told by the same three measures over all: ``width`` sideways, ``height`` up
and down, ``wall``.  What they mean for each form stands in ``FORMS``.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np

from ..formula import possible
from ..nearest import nearest_or_all
from ..units import InputProblem
from . import ribs
from . import sections as s

#: ribs between rails are half as thick as the rails are wide
RIB_SHARE = 0.5

Figures = dict[str, Any]

#: form by name: what width, height and wall mean
FORMS = {
    "plate": "a solid flat bar; the wall is not used",
    "channel": "a web as wide as the bed on two legs, open downwards",
    "closed box": "a rectangular tube; the wall is alike all round",
    "filled box": "a rectangular tube filled with a bonded mineral fill",
    "two round bars": "two solid bars as thick as the height, as wide apart over all as the width; the wall is not used",
    "round bars on a plate": "two solid bars as thick as the height, screwed along a plate as wide as the width and as thick as the wall",
    "two flat rails": "two solid rails on edge, each as wide as the wall, as wide apart over all as the width",
    "rails with cross ribs": "two flat rails with upright ribs square across, half as thick as the rails, one for every spacing of the rails",
    "rails with diagonal ribs": "two flat rails with upright ribs to and fro at 45 degrees, half as thick as the rails",
    "profiled rails on a plate": "a pair of profiled rails with ball carriages on a plate; the wall is not used",
    "profiled rails on a box": "a pair of profiled rails with ball carriages on a rectangular tube",
}
#: form by name: the measure that is changed to make it heavier or lighter within its outline
THICKENED = {form: "height" if form in ("plate", "two round bars", "profiled rails on a plate") else "wall" for form in FORMS}


def section(form: str, width: Any, height: Any, wall: Any, fill_ratio: Any = 0.1) -> Figures:
    """Section figures of a bed in SI, for one of the ``FORMS``.

    ``width``, ``height``, ``wall`` in metres, numbers or arrays; ``fill_ratio`` is the elastic
    modulus of the fill over that of the wall (filled box only).  Returns

    - ``area`` [m²] of the metal and ``fill_area`` [m²] of the fill
    - ``vertical`` and ``lateral`` [m⁴] second moments, up and down and sideways; bars and
      rails without ribs are joined at their ends only, so each bends for itself
    - ``own_lateral`` [m⁴] second moment sideways of rails each for itself, where ribs tie them;
      0 for all others
    - ``torsion`` [m⁴] torsion constant
    - ``shear_vertical`` and ``shear_lateral`` [m²] areas that resist shear
    - ``shear_centre`` [m] depth below the top of the line about which the bed twists;
      negative above the top.  For profiled rails the top is that of their base: their own
      height comes on top, and their own stiffness is left out
    - ``spacing`` [m] between the middles of bars or rails, 0 for one piece

    A shape that cannot exist gives NaN.  Raises InputProblem for an unknown form.
    """
    try:
        make = _MAKERS[form]
    except (KeyError, TypeError):
        raise InputProblem.about("form", f"{form!r} is not a form of bed known here; {nearest_or_all(form, FORMS)}") from None
    figures = make(width, height, wall, fill_ratio)
    # bars that run into each other have an area each, and are no bed all the same
    whole = sum(0.0 * figure for figure in figures.values())
    return {name: figure + whole for name, figure in figures.items()}


def _closed_box(width: Any, height: Any, wall: Any, _: Any) -> Figures:
    shape = width, height, wall
    return _figures(
        s.box_area.si(*shape),
        s.box_vertical_moment.si(*shape),
        s.box_lateral_moment.si(*shape),
        s.box_torsion.si(*shape),
        s.box_shear_area.si(width, height, wall),
        s.box_shear_area.si(height, width, wall),
        height / 2,
    )


def _filled_box(width: Any, height: Any, wall: Any, fill_ratio: Any) -> Figures:
    box = _closed_box(width, height, wall, fill_ratio)
    inside = width - 2 * wall, height - 2 * wall
    fill = possible(np.minimum(*inside) > 0, s.plate_torsion.si(*inside))
    box["vertical"] = s.filled_box_vertical_moment.si(width, height, wall, fill_ratio)
    box["lateral"] = s.filled_box_lateral_moment.si(width, height, wall, fill_ratio)
    box["torsion"] = s.filled_box_torsion.si(box["torsion"], fill, fill_ratio)
    # the shear a fill carries is left out: it only makes the bed stiffer
    box["fill_area"] = s.plate_area.si(*inside)
    return box


def _plate(width: Any, height: Any, wall: Any, _: Any) -> Figures:
    area = s.plate_area.si(width, height)
    shear = s.plate_shear_area.si(area)
    return _figures(
        area,
        s.plate_vertical_moment.si(width, height),
        s.plate_lateral_moment.si(width, height),
        s.plate_torsion.si(width, height),
        shear,
        shear,
        height / 2,
    )


def _channel(width: Any, height: Any, wall: Any, _: Any) -> Figures:
    shape = width, height, wall
    return _figures(
        s.channel_area.si(*shape),
        s.channel_vertical_moment.si(*shape),
        s.channel_lateral_moment.si(*shape),
        s.channel_torsion.si(*shape),
        _legs_shear_area(*shape),
        s.plate_shear_area.si(width * wall),
        wall / 2 - s.channel_shear_centre.si(*shape),
    )


def _legs_shear_area(width: Any, height: Any, wall: Any) -> Any:
    """Area of a channel that resists shear along its legs, from the energy of the shear along the middle line of its wall."""
    web, leg = width - wall, height - wall / 2
    centroid = leg**2 / (web + 2 * leg)  # from the middle of the web, into the legs
    moment = 2 * leg**3 / 3 - leg**4 / (web + 2 * leg)  # over the wall
    far = leg - centroid
    energy = 2 * (far**2 * leg**3 / 3 - far * leg**4 / 4 + leg**5 / 20) + centroid**2 * web**3 / 12
    return wall * moment**2 / energy


def _two_round_bars(width: Any, height: Any, wall: Any, _: Any) -> Figures:
    spacing = possible(width - height >= height, width - height)
    area = 2 * s.tube_area.si(height, 0)
    bending = s.pair_of_bars_vertical_moment.si(height)
    shear = s.bar_shear_area.si(area)
    return _figures(area, bending, bending, s.pair_of_bars_torsion.si(height), shear, shear, height / 2, spacing)


def _two_flat_rails(width: Any, height: Any, wall: Any, _: Any) -> Figures:
    spacing = possible(width - wall >= wall, width - wall)
    area = 2 * s.plate_area.si(wall, height)
    shear = s.plate_shear_area.si(area)
    return _figures(
        area,
        s.pair_of_rails_vertical_moment.si(wall, height),
        2 * s.plate_lateral_moment.si(wall, height),
        s.pair_of_rails_torsion.si(s.plate_torsion.si(wall, height)),
        shear,
        shear,
        height / 2,
        spacing,
    )


def _bars_on_a_plate(width: Any, height: Any, wall: Any, _: Any) -> Figures:
    """The plate carries the bars; screws at intervals do not make one piece of them, so stiffness is added, not tied."""
    bars, plate = _two_round_bars(width, height, wall, _), _plate(width, wall, wall, _)
    both = {name: plate[name] + bars[name] for name in ("area", "vertical", "lateral", "torsion", "fill_area")}
    # no spacing of its own, or no figure at all where the bars have none
    return plate | both | {"shear_centre": height + wall / 2, "spacing": 0.0 * bars["spacing"]}


def _cross_ribs(width: Any, height: Any, wall: Any, _: Any) -> Figures:
    spacing, rib = width - wall, RIB_SHARE * wall
    return _ribbed(width, height, wall, 1.0, *ribs.cross_ribs(rib, height, spacing, wall))


def _diagonal_ribs(width: Any, height: Any, wall: Any, _: Any) -> Figures:
    return _ribbed(width, height, wall, np.sqrt(2), *ribs.diagonal_ribs(RIB_SHARE * wall, height, wall))


def _ribbed(width: Any, height: Any, wall: Any, length_factor: float, torsion: Any, shear: Any) -> Figures:
    """Two rails tied by ribs that add ``torsion`` and carry sideways ``shear``."""
    rails = _two_flat_rails(width, height, wall, None)
    spacing = rails["spacing"]
    return rails | {
        "area": rails["area"] + ribs.ribs_area.si(RIB_SHARE * wall, height, spacing, wall, length_factor),
        "lateral": s.pair_of_rails_tied_moment.si(wall, height, spacing),
        "own_lateral": rails["lateral"],
        "torsion": rails["torsion"] + torsion,
        "shear_lateral": shear,
    }


def _figures(
    area: Any,
    vertical: Any,
    lateral: Any,
    torsion: Any,
    shear_vertical: Any,
    shear_lateral: Any,
    shear_centre: Any,
    spacing: Any = 0.0,
) -> Figures:
    return {
        "area": area,
        "vertical": vertical,
        "lateral": lateral,
        "torsion": torsion,
        "shear_vertical": shear_vertical,
        "shear_lateral": shear_lateral,
        "shear_centre": shear_centre,
        "spacing": spacing,
        "fill_area": 0.0,
        "own_lateral": 0.0,
    }


_MAKERS: dict[str, Callable[..., Figures]] = {
    "plate": _plate,
    "channel": _channel,
    "closed box": _closed_box,
    "filled box": _filled_box,
    "two round bars": _two_round_bars,
    "round bars on a plate": _bars_on_a_plate,
    "two flat rails": _two_flat_rails,
    "rails with cross ribs": _cross_ribs,
    "rails with diagonal ribs": _diagonal_ribs,
    "profiled rails on a plate": _plate,
    "profiled rails on a box": _closed_box,
}
