"""Chapter 06, last part: how the chuck sits on the nose, and whether it stays there when the spindle is stopped or turned backwards."""

import numpy as np

from ...machine import drive, joints, motors, screws, tailstock, workholding
from ...ranges import Range
from ...tables import table
from ...units import Force, Inertia, Length, Ratio, Torque
from ..chain.entries import Column, Decision, Figure, Limit, result
from .parting import BACKWARDS

CHAPTER = "06"
NOSES = tuple(table("noses"))
#: pitch of the thread of a nose over its diameter, its pitch diameter by ISO 68, and half the angle between its flanks
_PITCH, _FLANK = 0.1, np.radians(30)
#: pitch of a coarse bolt over its diameter, M5 to M12
_BOLT_PITCH = 0.155
#: the thinnest flange before the cover, over the centre height; common practice, no source
_FLANGE = 0.03

DECISIONS = [
    Decision("nose_kind", "nose of the spindle", "How does the chuck sit on the nose of the spindle?", CHAPTER, options=NOSES)
]

FIGURES = [
    Figure(
        "nose_seat",
        "give of the joint at the nose over that of a bolted flange",
        Ratio(),
        CHAPTER,
        "common_practice, table of noses",
        lookup=Column("noses", "nose_kind", "seat"),
    ),
    Figure("nose_friction", "friction of dry steel on the nose", Ratio(), CHAPTER, value=Range(0.10, 0.15, 0.20)),
    Figure("hand_on_rim", "pull of a hand that screws a chuck home", Force("N"), CHAPTER, value=Range(40, 80, 160)),
]


@result(Length("mm"), "thickest bar that passes nose and bore", CHAPTER, source="definition")
def bar_room(spindle_bore, nose_kind):
    """The bore; nothing passes where a drawbar fills it."""
    return spindle_bore if table("noses")[nose_kind]["bar"] == "yes" else 0.0 * spindle_bore


@result(
    Length("mm"), "overhang that front bearing, cover and nose take", CHAPTER, source="common_practice, proportions of the list"
)
def nose_room(bearing_end, centre_height, nose_kind):
    """To the outside of the front cover, and a thin flange where the chuck is bolted to one; any other nose carries the chuck close before the cover."""
    return bearing_end + (_FLANGE if nose_kind == "bolted flange" else 0.0) * centre_height


@result(Inertia("kg·m²"), "largest inertia of the work", CHAPTER)
def work_inertia(jobs):
    """Of the jobs on the list, each a full cylinder of its material."""
    rows = table("materials")
    return max(motors.disc_inertia.si(job.diameter, 0.0, job.length, rows[job.material]["density"]) for job in jobs)


@result(Torque("N·m"), "torque with which a chuck is screwed home by hand", CHAPTER, source="common_practice, no source")
def nose_tightening(hand_on_rim, chuck_diameter):
    """One hand at the rim. A roughing cut tightens it further; a light cut after a change does not, and that is the case that counts."""
    return hand_on_rim * chuck_diameter / 2


@result(
    Torque("N·m"),
    "torque that the nose holds against unscrewing",
    CHAPTER,
    source=("shigley, power screws and their collar", "shigley, cone clutches, uniform wear", "iso_898, proof stress"),
)
def nose_hold(nose_kind, nose_tightening, nose_friction, spindle_diameter, bolt_proof, bolt_share, spindle_taper):
    """A tightened thread lets go at a little less than it was tightened with; screws hold by what they press together, a taper by its wedge.

    The thread is as thick as the spindle, its pitch a tenth of that, its shoulder rubs at 1.2 times that.
    """
    row, d, held = table("noses")[nose_kind], spindle_diameter, 0.0
    if row["threaded"] == "yes":
        pitch = _PITCH * d
        thread = (1.0, pitch, d - 0.6495 * pitch, nose_friction, _FLANK)
        shoulder = screws.collar_torque.si(1.0, nose_friction, 1.2 * d)
        held = nose_tightening * (screws.lowering_torque.si(*thread) + shoulder) / (screws.raising_torque.si(*thread) + shoulder)
    if row["screws"]:
        thick = row["screw"] * d
        pull = joints.bolt_preload.si(joints.bolt_stress_area.si(thick, _BOLT_PITCH * thick), bolt_proof, bolt_share)
        if row["tapered"] == "yes":
            cone = table("tapers")[spindle_taper]
            ends = (cone["large_diameter"], cone["small_diameter"], np.arctan(cone["rate"] / 2))
            return tailstock.taper_torque.si(nose_friction, row["screws"] * pull, *ends)
        held = held + screws.collar_torque.si(row["screws"] * pull, nose_friction, row["rubs_at"] * d)
    return held


@result(
    Torque("N·m"),
    "torque that turns the chuck off, in a stop, a start backwards or a cut backwards",
    CHAPTER,
    source="shigley, flywheels and reflected inertia",
)
def unscrewing_torque(
    drive_settings,
    plate_torque,
    start_torque_ratio,
    brake_ratio,
    idle_share,
    drive_efficiency,
    turning_inertia,
    rotor_at_spindle,
    rotor_inertia,
    chuck_inertia,
    work_inertia,
    parting_from,
    parting_torque,
):
    """On the setting where it is most: what chuck and largest work, which would turn on, ask of the nose that is stopped, or started the other way.

    Parting off backwards asks the nose for the torque of that cut.
    """
    rub = idle_share * (1 - drive_efficiency)
    ratio = drive_settings["reduction"]
    push = drive.beside(plate_torque * np.maximum(brake_ratio + rub, start_torque_ratio - rub)) * ratio
    rest = drive.beside(turning_inertia - rotor_at_spindle - chuck_inertia) + motors.referred_inertia.si(
        drive.beside(rotor_inertia), ratio
    )
    stopped = np.fmax.reduce(workholding.carried_torque.si(push, drive.beside(chuck_inertia + work_inertia), rest), axis=-1)

    return np.maximum(stopped, parting_torque) if parting_from == BACKWARDS else stopped


RESULTS = [bar_room, nose_room, work_inertia, nose_tightening, nose_hold, unscrewing_torque]

LIMITS = [
    Limit(
        "chuck_stays_on",
        "the chuck stays on when the spindle is stopped or turned backwards",
        CHAPTER,
        "nose_hold",
        "at least",
        "unscrewing_torque",
        "The nose holds the chuck against {value}; a stop, a start backwards or a cut backwards turns it off with up to {limit}.",
        comfort=0.5,
        caution="A chuck that a thread alone holds can run off when the spindle is braked or turns backwards, and then crosses the shop. "
        "Screw it home on clean faces, take no cut backwards, and draw the plug before any nose is opened.",
    ),
    Limit(
        "nose_clears_cover",
        "the nose stands out beyond the cover of the front bearing",
        CHAPTER,
        "spindle_overhang",
        "at least",
        "nose_room",
        "The nose stands {value} out from the middle of the front bearing; half the bearing, the wall, the cover and what carries the chuck take {limit}. "
        "With less the chuck or its flange rubs on the cover.",
        comfort=0.05,
        source="common_practice, proportions of the list",
    ),
]
