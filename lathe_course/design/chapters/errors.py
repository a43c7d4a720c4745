"""Chapter 08: the finishing cut, and what give leaves on the work: errors of size, shape and roundness, and its finish.

The decisions on cut and work stand among those of ``rigidity``, in the order in which they are asked.
"""

import numpy as np

from ...machine import errors, finish, forces
from ...machine.holding import CENTRES, CHUCK, FACEPLATE
from ...ranges import Range
from ...tables import table
from ...units import Compliance, Force, Length, Ratio
from ..chain.entries import Figure, Limit, node, result
from ..chain.fitted import by_way
from .rigidity import CHAPTER

#: column of the table of finishes for each kind of tool
FINISH_COLUMNS = {"high-speed steel": "hss", "carbide": "carbide"}


def _unevenness(making, skill):
    return by_way("chuck_unevenness", Range(0.05, 0.15, 0.4), making, "chuck_unevenness", skill, spread_stays=True)


def _floor(work_material, tool_material):
    return table("finishes")[work_material][FINISH_COLUMNS[tool_material]]


FIGURES = [
    Figure("error_share", "share of the tolerance the machine may take", Ratio("%"), CHAPTER, value=30.0),
    Figure(
        "force_change",
        "share of the finishing cut's force that changes from piece to piece",
        Ratio("%"),
        CHAPTER,
        value=Range(20, 40, 80),
    ),
    Figure(
        "roughness_rise",
        "roughness that a feed leaves, over the ideal figure",
        Ratio(),
        CHAPTER,
        "groover, ratio of actual to ideal roughness",
        value=Range(1.0, 1.25, 2.0),
    ),
    Figure(
        "roughness_floor",
        "roughness that stays however fine the feed, in the hardest material",
        Length("µm"),
        CHAPTER,
        "common_practice, table of finishes",
        lookup=_floor,
    ),
    Figure("stock_runout", "run-out of the stock before it is turned", Length("mm"), CHAPTER, value=Range(0.05, 0.2, 0.6)),
    Figure("chuck_unevenness", "how unevenly a chuck of three jaws gives round a turn", Ratio("%"), CHAPTER, lookup=_unevenness),
]


# --- what it does to the diameter ---------------------------------------------------------------------
@result(
    Ratio("%"), "how unevenly this chuck gives round a turn", CHAPTER, source="common_practice, no source: more jaws even out"
)
def jaw_unevenness(chuck_unevenness, chuck_jaws):
    """Two jaws hold one way only; four leave less than three, six less again."""
    return chuck_unevenness * np.interp(chuck_jaws, (2, 3, 4, 6), (2.0, 1.0, 0.7, 0.4))


@result(
    Length("µm"),
    "scatter of a diameter when a tool is taken off and put back",
    CHAPTER,
    source="definition, twice along the radius",
)
def tool_scatter(post_back):
    """A tool that was changed is set anew by a trial cut; so much it would be out without."""
    return 2 * post_back


@result(
    Force(),
    "change of the radial force of the finishing cut",
    CHAPTER,
    source="common_practice, what uneven stock and a dulling tool change",
)
def changing_force(finish_radial_force, force_change):
    """A steady push can be dialled out; what changes from piece to piece cannot."""
    return finish_radial_force * force_change


@result(Length("µm"), "error the machine may leave", CHAPTER, source="common_practice, machine error against tolerance")
def allowed_error(tolerance, error_share):
    """The machine's share of the tolerance; the rest is for measuring, heat and the hand."""
    return tolerance * error_share


@result(Compliance(), "give that turns with the work and may be uneven", CHAPTER)
def uneven_give(work_support, chuck_give, centre_share, plate_share, give_scale):
    """Jaws, a plate with its clamps, or next to nothing: a centre that stands still gives alike all round."""
    return chuck_give * give_scale * {CENTRES: centre_share, FACEPLATE: plate_share}.get(work_support, 1.0)


@result(Length("µm"), "how far the roughing cut presses tool and work apart upright", CHAPTER)
def upright_drop(cutting_force, upright_compliance):
    """The downward force times the give up and down."""
    return cutting_force * upright_compliance


@result(Length("µm"), "how far the roughing cut presses tool and work apart sideways", CHAPTER)
def rough_move(rough_radial_force, machine_compliance):
    """The radial force times the give sideways, of the machine without the work."""
    return rough_radial_force * machine_compliance


@result(Length("µm"), "how much smaller the nodding shank turns the diameter", CHAPTER)
def nod_error(finish_force, shank_nod):
    """The tip dips towards the work, on both sides of the diameter: small, and the other way from all the rest."""
    return 2 * finish_force * shank_nod


@result(
    Length("µm"),
    "run-out of the stock that two passes leave",
    CHAPTER,
    source="koenigsberger_tlusty, copying of the stock's error",
)
def copied_error(stock_runout, copied_by_roughing, copied_by_finishing):
    """A roughing pass leaves its share of the run-out, and the last pass a share of that."""
    return stock_runout * copied_by_roughing * copied_by_finishing


@result(Length("µm"), "error of roundness", CHAPTER, source="own_work, copied run-out and an uneven chuck added")
def roundness_error(copied_error, uneven_error):
    """What is left of the stock's run-out, and what a chuck that gives unevenly turns in; a bearing's own wobble comes on top."""
    return copied_error + uneven_error


# --- the finish ---------------------------------------------------------------------------------------
def _job_finish(jobs, work_material, tool_material, ideal_roughness, roughness_rise, roughness_floor):
    """Floor and asked Ra of the job that comes out worst against what it asks for.

    The floor of a job goes by its own material, in proportion to that of the hardest.  Wood is not
    finished with the tool: a list of nothing else is held against the hardest material.
    """
    rows = table("finishes")
    column = FINISH_COLUMNS[tool_material]
    own = rows[work_material][column].likely
    turned = [job for job in jobs if job.material in rows]
    share = np.array([rows[job.material][column].likely / own for job in turned] or [1.0])
    asked = np.array([job.roughness for job in turned] or [jobs.column("roughness").min()])
    deep = max(np.ndim(one) for one in (ideal_roughness, roughness_rise, roughness_floor))
    each = share.reshape(-1, *[1] * deep)
    left = (roughness_rise * ideal_roughness + roughness_floor * each) / asked.reshape(each.shape)
    worst = np.argmax(left, axis=0)
    return roughness_floor * share[worst], asked[worst]


@result(
    Length("µm"),
    "roughness that stays however fine the feed, in the job hardest to finish",
    CHAPTER,
    source="common_practice, table of finishes",
)
def finish_floor(jobs, work_material, tool_material, ideal_roughness, roughness_rise, roughness_floor):
    """Of the job that comes out worst against the roughness it asks for, by its own material."""
    return _job_finish(jobs, work_material, tool_material, ideal_roughness, roughness_rise, roughness_floor)[0]


@result(Length("µm"), "roughness Ra asked by the job hardest to finish", CHAPTER)
def roughness_asked(jobs, work_material, tool_material, ideal_roughness, roughness_rise, roughness_floor):
    """Of the job that comes out worst against it."""
    return _job_finish(jobs, work_material, tool_material, ideal_roughness, roughness_rise, roughness_floor)[1]


# --- tool and work in their holding --------------------------------------------------------------------
@result(Ratio(), "overhang of the tool in shanks", CHAPTER)
def overhang_ratio(tool_overhang, tool_shank):
    """How many shank heights the tool stands out."""
    return tool_overhang / tool_shank


@result(Ratio(), "free length of the work in diameters", CHAPTER)
def work_slenderness(work_length, work_diameter):
    """Slender work bends before the machine does."""
    return work_length / work_diameter


@result(
    Ratio(), "free length that the way of holding bears, in diameters", CHAPTER, source="common_practice, free length of the work"
)
def slenderness_limit(work_support):
    """About 4 diameters from the chuck alone, 10 with a centre; beyond that a steady."""
    return 4.0 if work_support in (CHUCK, FACEPLATE) else 10.0


RESULTS = [
    jaw_unevenness,
    tool_scatter,
    node(forces.radial_force, CHAPTER, name="rough_radial_force", label="radial force of the roughing cut", share="radial_share"),
    node(
        forces.effective_entering_angle,
        CHAPTER,
        name="finish_angle",
        label="entering angle of edge and nose together in the finishing cut",
        depth_of_cut="finish_depth",
        entering_angle="entering_angle",
    ),
    node(
        forces.radial_share,
        CHAPTER,
        name="finish_radial_share",
        label="radial force over the cutting force in the finishing cut",
        entering_angle="finish_angle",
    ),
    node(
        forces.chip_thickness,
        CHAPTER,
        name="finish_chip_thickness",
        label="chip thickness of the finishing cut",
        feed="finish_feed",
        entering_angle="finish_angle",
    ),
    node(
        forces.chip_width,
        CHAPTER,
        name="finish_chip_width",
        label="chip width of the finishing cut",
        depth_of_cut="finish_depth",
        entering_angle="finish_angle",
    ),
    node(
        forces.specific_cutting_force,
        CHAPTER,
        name="finish_specific_force",
        label="specific cutting force of the finishing cut",
        chip_thickness="finish_chip_thickness",
    ),
    node(
        forces.cutting_force,
        CHAPTER,
        name="finish_force",
        label="cutting force of the finishing cut",
        specific_force="finish_specific_force",
        chip_width="finish_chip_width",
        chip_thickness="finish_chip_thickness",
        condition="cut_condition",
    ),
    node(
        forces.radial_force,
        CHAPTER,
        name="finish_radial_force",
        label="radial force of the finishing cut",
        cutting_force="finish_force",
        share="finish_radial_share",
    ),
    changing_force,
    allowed_error,
    node(
        errors.size_error,
        CHAPTER,
        name="size_error",
        label="error on the diameter that give leaves",
        force="changing_force",
        compliance="loop_compliance",
    ),
    # even a steady push shows along the work: it gives at its worst place and hardly at its holding
    node(
        errors.size_error,
        CHAPTER,
        name="shape_error",
        label="difference in diameter along the work",
        force="finish_radial_force",
        compliance="give_difference",
    ),
    rough_move,
    upright_drop,
    nod_error,
    node(
        errors.diameter_error,
        CHAPTER,
        name="rough_error",
        label="error on the diameter that sideways give leaves under the roughing cut",
        deflection="rough_move",
    ),
    node(
        errors.height_error,
        CHAPTER,
        name="upright_error",
        label="error on the diameter that upright give leaves",
        height="upright_drop",
        diameter="work_diameter",
    ),
    node(
        errors.force_per_depth,
        CHAPTER,
        name="rough_force_slope",
        label="radial force for each depth of cut, roughing",
        force="rough_radial_force",
        depth="depth_of_cut",
    ),
    node(
        errors.force_per_depth,
        CHAPTER,
        name="finish_force_slope",
        label="radial force for each depth of cut, finishing",
        force="finish_radial_force",
        depth="finish_depth",
    ),
    node(
        errors.copying_factor,
        CHAPTER,
        name="copied_by_roughing",
        label="share of the stock's run-out that the roughing pass leaves",
        compliance="loop_compliance",
        force_per_depth="rough_force_slope",
    ),
    node(
        errors.copying_factor,
        CHAPTER,
        name="copied_by_finishing",
        label="share of a run-out that the finishing pass leaves",
        compliance="loop_compliance",
        force_per_depth="finish_force_slope",
    ),
    node(
        errors.uneven_give_error,
        CHAPTER,
        name="uneven_error",
        label="error of roundness from an uneven chuck",
        force="finish_radial_force",
        compliance="uneven_give",
        unevenness="jaw_unevenness",
    ),
    uneven_give,
    copied_error,
    roundness_error,
    node(finish.ideal_roughness, CHAPTER, label="roughness Ra that feed and nose leave at best", feed="finish_feed"),
    finish_floor,
    roughness_asked,
    node(finish.practical_roughness, CHAPTER, label="roughness Ra to reckon with", rise="roughness_rise", floor="finish_floor"),
    overhang_ratio,
    work_slenderness,
    slenderness_limit,
]

LIMITS = [
    Limit(
        "size_held",
        "the lathe holds the size asked",
        CHAPTER,
        "size_error",
        "at most",
        "allowed_error",
        "Give leaves an error of {value} on the diameter; the tolerance leaves {limit} to the machine.",
        comfort=0.3,
    ),
    Limit(
        "shape_held",
        "the lathe holds the shape along the work",
        CHAPTER,
        "shape_error",
        "at most",
        "allowed_error",
        "Work and holding give more in one place than in another, which leaves {value} on the diameter; the tolerance leaves {limit} to the machine.",
        comfort=0.3,
    ),
    Limit(
        "round_enough",
        "the work comes out round enough",
        CHAPTER,
        "roundness_error",
        "at most",
        "allowed_error",
        "Stock and chuck leave the work {value} out of round; the tolerance leaves {limit} to the machine.",
        comfort=0.3,
    ),
    Limit(
        "finish_fine_enough",
        "surface finish fine enough",
        CHAPTER,
        "practical_roughness",
        "at most",
        "roughness_asked",
        "Feed, nose, edge and metal leave about Ra {value} on the job hardest to finish; it asks for {limit}.",
        comfort=0.2,
    ),
    Limit(
        "nose_meets_feed",
        "tool nose round enough for the feed",
        CHAPTER,
        "nose_radius",
        "at least",
        "finish_feed",
        "The nose is {value} round, and the last cut is fed {limit} a turn; a nose less round than its feed leaves a thread in place of a surface.",
        comfort=0.0,
        source="boothroyd_knight, ideal roughness",
    ),
    Limit(
        "tool_short_enough",
        "tool stands out little enough",
        CHAPTER,
        "overhang_ratio",
        "at most",
        1.5,
        "The tool stands out {value} shanks; up to {limit} is sound.",
        comfort=0.0,
    ),
    Limit(
        "work_stout_enough",
        "work stout enough for its holding",
        CHAPTER,
        "work_slenderness",
        "at most",
        "slenderness_limit",
        "The work stands out {value} diameters; held like this {limit} is the usual end.",
        comfort=0.1,
        caution="Long work can bend out of the chuck at speed: use a centre or a steady, and start slowly.",
    ),
    Limit(
        "tolerance_is_met",
        "the tolerance of the jobs is met",
        CHAPTER,
        "tolerance",
        "at most",
        "tightest_tolerance",
        "You plan to hold {value}; the tightest job asks for {limit}.",
        comfort=0.0,
    ),
]
