"""How each job is held, and what of the machine's errors reaches it: twist of the bed (07), give along the work (08), axis and tailstock (17).

Results over the jobs have the jobs as their last axis.
"""

import numpy as np

from ...machine import alignment, holding, rigidity, spindle, supports
from ...machine.drive import beside
from ...ranges import Range
from ...tables import table
from ...units import Compliance, Length, Ratio
from ..chain.entries import Figure, Limit, node, result
from ..measured.acceptance import TESTS
from .collets import held_in_collets
from .forces import job_shares

#: places along a job at which its give is looked at, as shares of its length
_PLACES = np.linspace(0, 1, 9)
#: of wood and plastics the table tells no elastic modulus; they are not held to a micrometre either
_STEEL = "mild steel"
_PRACTICE = "common_practice"


FIGURES = [
    Figure("twist_unevenness", "share of a bed's twist that is uneven along it", Ratio("%"), "07", value=Range(5, 10, 30)),
    Figure("centre_share", "give of a centre in the spindle over that of the chuck", Ratio(), "08", value=Range(0.2, 0.35, 0.6)),
    Figure("plate_share", "give of a faceplate and its clamps over that of the chuck", Ratio(), "08", value=Range(0.4, 0.7, 1.0)),
]


# --- twist of the bed, chapter 07 ------------------------------------------------------------------------
@result(None, "change of diameter along each job that the stand puts in", "07", source=("definition", "shigley, Table A-9"))
def job_twists(jobs, stand_twist, foot_spacing, twist_lever, twist_unevenness):
    """In m: what of the bed's twist lies along the job, at the lever of the line of twist, as far as its holding lets it through."""
    length, apart = jobs.column("length"), beside(foot_spacing)
    even = holding.even_share.si(apart, length, beside(twist_unevenness))
    reach = np.stack(
        np.broadcast_arrays(*(holding.twist_reach(job.holding, even[..., at]) for at, job in enumerate(jobs))), axis=-1
    )
    return supports.twist_on_diameter.si(beside(twist_lever), beside(stand_twist) * np.minimum(length / apart, 1.0), reach)


@result(
    None,
    "change of diameter along each job from the axis at the limit of its class",
    "17",
    source="definition, an axis that does not lie along the bed",
)
def job_leans(jobs, acceptance_class):
    """In m: the axis sideways as far out as its class allows, over the job's length, as far as its holding lets it through."""
    test = TESTS["axis sideways"]
    return np.array(
        [
            alignment.taper_from_axis.si(test.limits[acceptance_class], test.over, job.length, holding.side_reach(job.holding))
            for job in jobs
        ]
    )


@result(
    None,
    "change of diameter along each job from the tailstock at the limit of its class",
    "17",
    source="definition, a taper over its length",
)
def job_tapers(jobs, acceptance_class):
    """In m: what a bar between centres may differ over its length, of the job's length, as far as its holding leans on the tailstock."""
    test = TESTS["bar between centres"]
    return np.array([holding.offset_reach(job.holding) * test.limits[acceptance_class] * job.length / test.over for job in jobs])


def _worst(of_jobs, jobs):
    """The figure of the job that it costs the largest share of its tolerance."""
    at = np.argmax(of_jobs / jobs.column("tolerance"), axis=-1)
    return np.take_along_axis(np.asarray(of_jobs), np.expand_dims(at, -1), axis=-1)[..., 0][()]


@result(Length("µm"), "change of diameter that the stand puts in, on the job it hurts most", "07")
def twist_error(job_twists, jobs):
    """Of all jobs the one to which the twist costs the largest share of its tolerance."""
    return _worst(job_twists, jobs)


@result(Ratio("%"), "share of a job's tolerance that the stand takes, at worst", "07")
def twist_share(job_twists, jobs):
    """The change of diameter over the job's own tolerance."""
    return (job_twists / jobs.column("tolerance")).max(axis=-1)


# --- the side of the headstock, chapter 08 ---------------------------------------------------------------
@result(
    Length("mm"),
    "reach of a centre or a faceplate from the nose",
    "08",
    source="common_practice, a centre stands out about as far as the spindle is thick",
)
def near_reach(spindle_diameter, cut_reach):
    """Both bring the work nearer to the bearings than a chuck does."""
    return np.minimum(spindle_diameter, cut_reach)


@result(Compliance(), "give of the headstock's side under a centre", "08", source="definition, links in a row add their give")
def centre_side_give(near_spindle_compliance, chuck_give, centre_share, headstock_give, give_scale):
    """Spindle, centre in its taper, and headstock: no chuck and no jaws."""
    return (near_spindle_compliance + chuck_give * centre_share + headstock_give) * give_scale


@result(Compliance(), "give of the headstock's side under a faceplate", "08", source="definition, links in a row add their give")
def plate_side_give(near_spindle_compliance, chuck_give, plate_share, headstock_give, give_scale):
    """Spindle, the plate on its nose with its clamps, and headstock."""
    return (near_spindle_compliance + chuck_give * plate_share + headstock_give) * give_scale


@result(
    None,
    "difference in diameter along each job that give leaves",
    "08",
    source=("shigley, Table A-9", "definition, a bar on two springs"),
)
def job_shapes(
    jobs,
    work_material,
    finish_radial_force,
    chuck_side_give,
    centre_side_give,
    plate_side_give,
    tail_give,
    near_reach,
    chuck_length,
    spindle_overhang,
    bearing_span,
    front_stiffness_at_size,
    rear_stiffness_at_size,
    spindle_diameter,
    spindle_bore,
    steel_modulus,
    steel_shear_modulus,
    cut_reach,
    give_scale,
    collets,
    collet_room,
    collet_bar,
):
    """In m: the steady push of the last cut on each job as it is held, in its own metal, softest place less stiffest, on both sides."""
    sides = {
        holding.CHUCK: chuck_side_give,
        holding.CHUCK_AND_CENTRE: chuck_side_give,
        holding.CENTRES: centre_side_give,
        holding.FACEPLATE: plate_side_give,
    }
    push = job_shares(jobs, work_material)
    shaft = {
        "diameter": beside(spindle_diameter),
        "bore": beside(spindle_bore),
        "elastic_modulus": beside(steel_modulus),
        "shear_modulus": beside(steel_shear_modulus),
    }
    held = {"overhang": beside(spindle_overhang), "span": beside(bearing_span)}
    bearings = {"front_stiffness": beside(front_stiffness_at_size), "rear_stiffness": beside(rear_stiffness_at_size)}

    def spindle_at(reach):
        return spindle.bearing_compliance.si(**held, reach=reach, **bearings) + spindle.shaft_compliance.si(
            **held, reach=reach, **shaft
        )

    # a collet in the taper holds as close to the bearings as a centre does, and as firmly
    close = np.asarray(held_in_collets(jobs, collet_room, collet_bar) & (table("collets")[collets]["close"] == "yes"))
    found = []
    for at, job in enumerate(jobs):
        place = _PLACES * job.length
        collet = close[..., at]
        head = beside(np.where(collet, centre_side_give, sides[job.holding]))
        if holding.offset_reach(job.holding) == 0:  # held at one end: the spindle is felt with the arm out to the cut
            near = beside(near_reach if job.holding == holding.FACEPLATE else np.where(collet, near_reach, chuck_length))
            first = beside(near_reach if job.holding == holding.FACEPLATE else np.where(collet, near_reach, cut_reach))
            head = head + (spindle_at(near + place) - spindle_at(first)) * beside(give_scale)
        modulus = table("materials")[job.material].get("elastic_modulus") or table("materials")[_STEEL]["elastic_modulus"]
        give = rigidity.give_along_work(job.holding, place, head, beside(tail_give), job.length, job.mean_diameter, modulus)
        found.append(2 * finish_radial_force * push[at] * np.ptp(give, axis=-1))
    return np.stack(np.broadcast_arrays(*found), axis=-1)


@result(Ratio("%"), "share of a job's tolerance that give takes along it, at worst", "08")
def shape_share(job_shapes, jobs):
    """The difference in diameter over the job's own tolerance."""
    return (job_shapes / jobs.column("tolerance")).max(axis=-1)


_NEAR = {"overhang": "spindle_overhang", "span": "bearing_span", "reach": "near_reach"}
RESULTS = [
    job_twists,
    job_leans,
    job_tapers,
    twist_error,
    twist_share,
    near_reach,
    node(
        spindle.shaft_compliance,
        "08",
        name="near_shaft_compliance",
        label="give of the shaft at a centre or a faceplate",
        diameter="spindle_diameter",
        bore="spindle_bore",
        elastic_modulus="steel_modulus",
        shear_modulus="steel_shear_modulus",
        **_NEAR,
    ),
    node(
        spindle.bearing_compliance,
        "08",
        name="near_bearing_compliance",
        label="give of the bearings at a centre or a faceplate",
        front_stiffness="front_stiffness_at_size",
        rear_stiffness="rear_stiffness_at_size",
        **_NEAR,
    ),
    node(
        spindle.spindle_compliance,
        "08",
        name="near_spindle_compliance",
        label="give of the spindle at a centre or a faceplate",
        shaft_compliance="near_shaft_compliance",
        bearing_compliance="near_bearing_compliance",
    ),
    centre_side_give,
    plate_side_give,
    job_shapes,
    shape_share,
]

LIMITS = [
    Limit(
        "bed_stays_true",
        "the bed stays true on its feet",
        "07",
        "twist_share",
        "at most",
        "error_share",
        "A foot that moves after levelling takes {value} of the tolerance of the job it hurts most; {limit} of it is the machine's.",
        comfort=0.3,
        clear="On three feet the stand cannot twist the bed.",
        caution="Three feet tip sooner than four: set them wide, the pair under the headstock, and fasten the stand.",
    ),
    Limit(
        "jobs_keep_shape",
        "every job keeps its shape as it is held",
        "08",
        "shape_share",
        "at most",
        "error_share",
        "Held as it is, the job that give hurts most comes out uneven along its length by {value} of its tolerance; {limit} of it is the machine's.",
        comfort=0.3,
        caution="Long work can bend out of the chuck at speed: use a centre or a steady, and start slowly.",
    ),
]
