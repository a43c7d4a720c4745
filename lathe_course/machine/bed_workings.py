"""Which formulas stand behind the section figures of each form of bed, with the figures put into them.

``section`` in ``bed_forms`` hands out results; here is how they come about, for whoever wants
to see it on a blackboard.
"""

from __future__ import annotations

from typing import Any

from ..formula import Formula
from . import bed, ribs
from . import sections as s
from .bed_forms import RIB_SHARE, section

__all__ = ["section_formulas", "twist_formulas"]

Put = tuple[Formula, dict[str, float]]


def section_formulas(form: str, width: float, height: float, wall: float, fill_ratio: float) -> list[Put]:
    """The formulas of a form's section and their inputs in SI: area, bending, torsion, and what ribs or a fill add."""
    box = {"width": width, "height": height, "wall": wall}
    plate = {"width": width, "height": height}
    if form in ("closed box", "profiled rails on a box"):
        return [(f, box) for f in (s.box_area, s.box_vertical_moment, s.box_lateral_moment, s.box_enclosed_area, s.box_torsion, s.box_shear_area)]
    if form == "filled box":
        inside = s.plate_torsion.si(width - 2 * wall, height - 2 * wall)
        filled = box | {"fill_ratio": fill_ratio}
        both = {"box_torsion": s.box_torsion.si(**box), "fill_torsion": inside, "fill_ratio": fill_ratio}
        return [(s.box_area, box), (s.filled_box_vertical_moment, filled), (s.filled_box_lateral_moment, filled), (s.box_torsion, box),
                (s.filled_box_torsion, both), (s.box_shear_area, box)]
    if form in ("plate", "profiled rails on a plate"):
        return _plate(plate)
    if form == "channel":
        return [(f, box) for f in (s.channel_area, s.channel_vertical_moment, s.channel_lateral_moment, s.channel_torsion, s.channel_shear_centre)]
    if form in ("two round bars", "round bars on a plate"):
        one = {"outer": height, "bore": 0.0}
        bars = [(s.tube_area, one), (s.tube_moment, one), (s.tube_torsion, one), (s.pair_of_bars_vertical_moment, {"diameter": height}),
                (s.pair_of_bars_torsion, {"diameter": height}), (s.bar_shear_area, {"area": 2 * s.tube_area.si(**one)}),
                (s.pair_of_bars_tied_moment, {"diameter": height, "spacing": width - height})]
        return bars if form == "two round bars" else bars[:-1] + _plate({"width": width, "height": wall})
    return _rails(width, height, wall) + _ribs(form, width - wall, height, wall)


def _plate(shape: dict[str, float]) -> list[Put]:
    solid = [(f, shape) for f in (s.plate_area, s.plate_vertical_moment, s.plate_lateral_moment, s.plate_torsion)]
    return [*solid, (s.plate_shear_area, {"area": s.plate_area.si(**shape)})]


def _rails(width: float, height: float, wall: float) -> list[Put]:
    rail = {"rail_width": wall, "height": height}
    return [(s.plate_area, {"width": wall, "height": height}), (s.pair_of_rails_vertical_moment, rail),
            (s.pair_of_rails_tied_moment, rail | {"spacing": width - wall}),
            (s.pair_of_rails_torsion, {"rail_torsion": s.plate_torsion.si(wall, height)})]


def _ribs(form: str, spacing: float, height: float, wall: float) -> list[Put]:
    rib = RIB_SHARE * wall
    metal = {"rib_thickness": rib, "height": height, "spacing": spacing, "rail_width": wall}
    ratio = {"elastic_ratio": ribs.ELASTIC_RATIO}
    if form == "rails with cross ribs":
        upright = {"rib_moment": s.plate_lateral_moment.si(rib, height), "rail_moment": s.plate_lateral_moment.si(wall, height)}
        pitch = {"spacing": spacing, "rib_pitch": spacing}
        return [(ribs.ribs_area, metal | {"length_factor": 1.0}), (ribs.cross_ribs_torsion, pitch | {"rib_torsion": s.plate_torsion.si(rib, height)}),
                (ribs.cross_ribs_shear_area, upright | pitch | ratio)]
    if form == "rails with diagonal ribs":
        on_edge = {"rib_moment": s.plate_vertical_moment.si(rib, height), "rail_moment": s.plate_vertical_moment.si(wall, height)}
        return [(ribs.ribs_area, metal | {"length_factor": 2**0.5}), (ribs.diagonal_ribs_torsion, on_edge | ratio),
                (ribs.diagonal_ribs_shear_area, ratio | {"rib_area": s.plate_area.si(rib, height)})]
    return []


def twist_formulas(form: str, values: dict[str, Any]) -> list[Put]:
    """How a bed of one piece twists under a push at the tool, from ``values`` of a chain by name, SI; nothing for two bars or rails.

    ``values`` holds bed_shear_modulus, bed_torsion, loop_length, twist_lever and cutting_force.
    """
    if section(form, 0.2, 0.05, 0.01)["spacing"] > 0:
        return []
    bar = {"shear_modulus": values["bed_shear_modulus"], "torsion_constant": values["bed_torsion"]}
    return [(bed.twist_angle, bar | {"torque": values["cutting_force"] * values["twist_lever"], "length": values["loop_length"]}),
            (bed.bed_twist_stiffness, bar | {"loop_length": values["loop_length"], "lever": values["twist_lever"]})]
