"""Which formulas stand behind the loads and ratings of each kind of bearing, with the figures put into them.

The chain hands out results; here is how they come about, for whoever wants to see it on a
blackboard.
"""
from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from ..formula import Formula
from . import bearings as b
from . import fits, workholding

__all__ = ["bearing_formulas", "chuck_formulas", "fit_formulas"]

Put = tuple[Formula, dict[str, float]]


def bearing_formulas(kind: str, given: Mapping[str, Any]) -> list[Put]:
    """Rating, thrust and equivalent load of the front bearing and the change of its play, with their inputs in SI.

    ``kind`` is a row of the table of bearings; ``given`` has the names of the chain.
    """
    front, rear = given["front_bearing_load"], given["rear_bearing_load"]
    if kind == "plain bronze":
        return [(b.bearing_pressure, {"load": front, "journal_diameter": given["spindle_diameter"], "width": given["bearing_width"]})]
    shape = {"element_diameter": given["element_diameter"], "mean_diameter": given["bearing_mean_diameter"], "contact_angle": given["contact_angle"]}
    count = given["element_count"]
    if kind == "taper roller":
        length = given["element_diameter"] * given["roller_length_ratio"]
        rolled = {"roller_count": count, "roller_length": length}
        put = [(b.roller_rating_factor, shape),
               (b.roller_dynamic_rating, {"rating_factor": b.roller_rating_factor.si(**shape), "contact_angle": shape["contact_angle"],
                                          "element_diameter": shape["element_diameter"]} | rolled),
               (b.roller_static_rating, shape | rolled)]
    else:
        rolled = {"ball_count": count, "rows": b.rows_of(kind)}
        put = [(b.ball_rating_factor, shape),
               (b.ball_dynamic_rating, {"rating_factor": b.ball_rating_factor.si(**shape), "contact_angle": shape["contact_angle"],
                                        "element_diameter": shape["element_diameter"]} | rolled),
               (b.ball_static_rating, shape | rolled)]
    x, y, *_ = b.load_factors(kind, given["contact_angle"], given["preload"] + given["cut_thrust"], given["static_rating"])
    along = given["preload"] + given["cut_thrust"]
    if kind == "taper roller":
        pair = {"front_load": front, "rear_load": rear, "thrust_factor": float(y), "preload": given["preload"], "thrust": given["cut_thrust"]}
        put.append((b.front_thrust, pair))
        along = b.front_thrust.si(**pair)
        rollers = {"roller_count": count, "roller_length": length, "contact_angle": shape["contact_angle"]}
        put += [(b.squeeze_load, {"approach": given["bearing_approach"]} | rollers), (b.preloaded_stiffness, {"preload": given["preload"]} | rollers),
                (b.loaded_stiffness, {"load": front, "zone": 4.08} | rollers),
                (b.preload_friction, {"friction_factor": given["roller_friction"], "thrust_factor": float(y), "preload": given["preload"],
                                      "mean_diameter": given["bearing_mean_diameter"], "spindle_speed": given["fastest_speed"]})]
    if kind == "angular contact pair" and front + b.pair_factors(given["contact_angle"])[0] * along > x * front + y * along:
        x, y = 1.0, b.pair_factors(given["contact_angle"])[0]
    put.append((b.combined_load, {"radial_load": front, "axial_load": along, "radial_factor": float(x), "axial_factor": float(y)}))
    if kind != "deep groove":
        put.append((b.warm_play_change, {"expansion": given["steel_expansion"], "temperature_difference": given["spindle_above_housing"],
                                         "sense": 1.0 if given["bearing_arrangement"] == "back to back" else -1.0,
                                         "span": b.adjusted_over(kind, given["bearing_span"], given["bearing_width"]),
                                         "mean_diameter": given["bearing_mean_diameter"], "contact_angle": given["contact_angle"]}))
    return put


def chuck_formulas(given: Mapping[str, Any]) -> list[Put]:
    """What a jaw loses to speed, and the stress in a grey iron faceplate of the chuck's size; inputs in SI."""
    return [(workholding.jaw_force_loss, {"jaw_mass": given["jaw_mass"], "jaw_radius": given["jaw_radius"], "spindle_speed": given["fastest_speed"]}),
            (workholding.disc_bore_stress, {"density": given["iron_density"], "poisson_ratio": 0.21, "diameter": given["chuck_diameter"],
                                            "bore": min(given["spindle_diameter"], 0.9 * given["chuck_diameter"]), "spindle_speed": given["fastest_speed"]})]


def fit_formulas(hole: fits.Field, shaft: fits.Field) -> list[Put]:
    """The loosest and the tightest a hole and a shaft can meet; inputs in SI."""
    return [(fits.greatest_play, {"hole_upper": hole.upper, "shaft_lower": shaft.lower}),
            (fits.least_play, {"hole_lower": hole.lower, "shaft_upper": shaft.upper})]
