"""Workings shown beside the results: small sums on the figures of a design, which nothing in the chain rests on."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ...formula import Formula
from ...machine import chatter, errors, finish, lubrication, rigidity
from ...tables import table
from ...working import Working
from ..evaluation import Evaluation

#: what a working is of, in a sentence, and the working
Sums = list[tuple[str, Working]]


def _worked(e: Evaluation, formula: Formula, **si: float) -> Working:
    return Working.of(formula, si, e.design.system)


def springs_in_a_row(e: Evaluation) -> Sums:
    """The machine as springs: give and stiffness, the spindle in a row with the rest, a bearing behind a lever."""
    spindle, rest = float(e["spindle_compliance"]), float(e["predicted_compliance"] - e["spindle_compliance"])
    # beside a needle of a spindle the rest is lost in the last digit, and there is no row to show
    in_a_row = (
        [
            (
                "The spindle in a row with all the rest: softer than the softer of the two.",
                _worked(e, rigidity.series_stiffness, first=1 / spindle, second=1 / rest),
            )
        ]
        if rest > 0
        else []
    )
    return [
        (
            "Stiffness and give are one thing said twice: the machine at the tool.",
            _worked(e, rigidity.compliance_of, stiffness=e["machine_stiffness"]),
        ),
        *in_a_row,
        (
            "A bearing felt at the end of an overhang twice as long as its own arm: a quarter is left.",
            _worked(e, rigidity.lever_stiffness, stiffness=e["front_stiffness_at_size"], ratio=2.0),
        ),
    ]


def give_at_the_work(e: Evaluation) -> Sums:
    """What give, twist, centres and the nose of the tool leave on the work."""
    length, head, tail = float(e["work_length"]), 1 / e["head_give"], 1 / e["tail_give"]
    return [
        (
            "Each pass leaves a share of the stock's run-out: the roughing pass.",
            _worked(e, errors.copying_factor, compliance=e["loop_compliance"], force_per_depth=e["rough_force_slope"]),
        ),
        (
            "What parts tool and work shows twice on the diameter.",
            _worked(e, errors.diameter_error, deflection=e["finish_radial_force"] * e["work_compliance"]),
        ),
        (
            "A bed on four feet, twisted by its stand, rolls the saddle and moves the tool; on three it is left alone.",
            _worked(e, errors.roll_error, arm=e["twist_lever"], twist_angle=abs(e["forced_twist"])),
        ),
        (
            "Between centres, half way along, headstock and tailstock share the push.",
            _worked(
                e,
                rigidity.end_support_compliance,
                position=length / 2,
                length=length,
                headstock_stiffness=head,
                tailstock_stiffness=tail,
            ),
        ),
        *_nose_sums(e),
    ]


def _nose_sums(e: Evaluation) -> Sums:
    """What the nose leaves; nothing where the feed is so coarse that its arcs do not meet."""
    if not np.isfinite(e["ideal_roughness"]):
        return []
    return [
        (
            "From valley to peak the round nose leaves about four times Ra.",
            _worked(e, finish.ideal_peak_height, feed=e["finish_feed"], nose_radius=e["nose_radius"]),
        ),
        (
            "What practice makes of it: a floor that no fine feed takes away.",
            _worked(
                e,
                finish.practical_roughness,
                ideal_roughness=e["ideal_roughness"],
                rise=e["roughness_rise"],
                floor=e["finish_floor"],
            ),
        ),
    ]


def chattering(e: Evaluation) -> Sums:
    """When the cut chatters: damping, what feeds it, the widest quiet chip, and the speed at which the narrowest chatters."""
    ratio = float(np.sqrt(1 + 2 * e["damping"]))
    own = float(e["sway_frequency"])
    return [
        (
            "How wide the peak is when you tap the tool tells the damping.",
            _worked(e, chatter.half_power_damping, lower=own * (1 - e["damping"]), upper=own * (1 + e["damping"]), natural=own),
        ),
        (
            "What feeds it is how fast the force grows with the thickness of the chip: less than force over area, more with a worn edge.",
            _worked(
                e,
                chatter.cutting_stiffness,
                specific_force=e["specific_cutting_force"],
                exponent=e["exponent"],
                condition=e["cut_condition"],
            ),
        ),
        (
            "The cut pushes the tool outwards and down. Swaying level it is only pushed out; along a line that falls outwards it springs off "
            "and chatter begins sooner, along one that rises it digs in.",
            _worked(e, chatter.sway_direction_factor, radial_share=e["radial_share"], sway_angle=e["sway_angle"]),
        ),
        (
            "The widest chip that stays quiet at any speed, on the slimmest precise work.",
            _worked(
                e,
                chatter.chatter_free_width,
                stiffness=e["loop_stiffness"],
                damping=e["damping"],
                cutting_stiffness=e["cutting_stiffness"],
                direction_factor=e["direction_factor"],
            ),
        ),
        (
            "Machine and work at their worst against a shaking force.",
            _worked(e, chatter.worst_real_part, stiffness=e["loop_stiffness"], damping=e["damping"]),
        ),
        (
            "At the worst frequency, a little above its own, the narrowest chip already makes chatter.",
            _worked(
                e,
                chatter.lobe_width,
                stiffness=e["loop_stiffness"],
                damping=e["damping"],
                cutting_stiffness=e["cutting_stiffness"],
                direction_factor=e["direction_factor"],
                chatter_ratio=ratio,
            ),
        ),
        (
            "It does so at this spindle speed, with four waves and a part of one round the work.",
            _worked(e, chatter.lobe_speed, frequency=own, damping=e["damping"], chatter_ratio=ratio, lobe=4.0),
        ),
    ]


# --- oil and grease ---------------------------------------------------------------------------------------
#: a plain bearing as they are fitted in small headstocks: radial play over the diameter, and a thin oil when warm; common practice
_PLAY, _WARM_OIL = 0.0005, 15e-3
#: peaks of a well bored or reamed bush; common practice
_PEAKS = 5e-6


@dataclass(frozen=True)
class Journal:
    """The front journal of a plain spindle: its workings at top speed, radial play and film [m] there and at the slowest speed."""

    workings: tuple[Working, ...]
    play: float
    film: float
    slow_film: float

    @property
    def touches(self) -> bool:
        """Do the peaks of the bush stand through the film at the slowest speed?"""
        return self.slow_film < _PEAKS


def grease_to_renew(e: Evaluation) -> Working:
    """Grease for each rolling bearing of the spindle."""
    outside = 2 * e["bearing_mean_diameter"] - e["spindle_diameter"]
    fed = {"outside_diameter": outside, "width": e["bearing_width"], "share": 5.0}
    return Working.of(lubrication.grease_amount, fed, e.design.system)


def plain_journal(e: Evaluation) -> Journal:
    """The front journal under the roughing cut."""
    diameter, system = e["spindle_diameter"], e.design.system
    fed = {
        "viscosity": _WARM_OIL,
        "speed": e["fastest_speed"],
        "diameter": diameter,
        "length": e["bearing_width"],
        "clearance": _PLAY * diameter,
    }
    loaded = {"load": e["front_bearing_load"], **fed}
    shown = tuple(
        Working.of(one, loaded if "load" in one.inputs else fed, system)
        for one in (lubrication.sommerfeld_number, lubrication.least_film, lubrication.petroff_torque, lubrication.petroff_power)
    )
    slow = Working.of(lubrication.least_film, {**loaded, "speed": e["slowest_speed"]}, system)
    return Journal(shown, _PLAY * diameter, shown[1].result, slow.result)


# --- forces -------------------------------------------------------------------------------------------------
def forces_by_edge(e: Evaluation) -> dict[str, tuple[float, float]]:
    """Force of the roughing cut, N, at the two ends of what each tool and state of its edge makes of the printed constants."""
    printed = e["cutting_force"] / e["cut_condition"]
    return {name: (printed * row["factor"].low, printed * row["factor"].high) for name, row in table("tool_conditions").items()}
