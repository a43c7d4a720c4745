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
from . import sections as s

__all__ = ["FORMS", "section"]

Figures = dict[str, Any]

#: form by name: what width, height and wall mean
FORMS = {
    "closed box": "a rectangular tube; the wall is alike all round",
    "filled box": "a rectangular tube filled with a bonded mineral fill",
    "plate": "a solid flat bar; the wall is not used",
    "channel": "a web as wide as the bed on two legs, open downwards",
    "two round bars": "two solid bars as thick as the height, as wide apart over all as the width; the wall is not used",
    "two flat rails": "two solid rails on edge, each as wide as the wall, as wide apart over all as the width",
}


def section(form: str, width: Any, height: Any, wall: Any, fill_ratio: Any = 0.1) -> Figures:
    """Section figures of a bed in SI, for one of the ``FORMS``.

    ``width``, ``height``, ``wall`` in metres, numbers or arrays; ``fill_ratio`` is the elastic
    modulus of the fill over that of the wall (filled box only).  Returns

    - ``area`` [m²] of the metal and ``fill_area`` [m²] of the fill
    - ``vertical`` and ``lateral`` [m⁴] second moments, up and down and sideways; bars and
      rails joined at their ends only, so each bends for itself
    - ``torsion`` [m⁴] torsion constant
    - ``shear_vertical`` and ``shear_lateral`` [m²] areas that resist shear
    - ``shear_centre`` [m] depth below the top of the line about which the bed twists;
      negative above the top
    - ``spacing`` [m] between the middles of bars or rails, 0 for one piece

    A shape that cannot exist gives NaN.  Raises InputProblem for an unknown form.
    """
    try:
        make = _MAKERS[form]
    except (KeyError, TypeError):
        raise InputProblem([("form", f"{form!r} is not a form of bed known here; {nearest_or_all(form, FORMS)}")]) from None
    return make(width, height, wall, fill_ratio)


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
    }


_MAKERS: dict[str, Callable[..., Figures]] = {
    "closed box": _closed_box,
    "filled box": _filled_box,
    "plate": _plate,
    "channel": _channel,
    "two round bars": _two_round_bars,
    "two flat rails": _two_flat_rails,
}
