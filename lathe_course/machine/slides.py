"""Slides: what guides the tool, when it jams, how it tilts, how hard it is pressed, and how finely it moves.

A slide of *guide length* l is pushed along its ways by a screw that stands a *push offset*
beside the line in which it resists.  What carries it are faces pressed on faces; the formulas
of pressure and tilt take them as an even bed of springs.

No ``from __future__ import annotations`` here: the decorator reads the annotations.
"""

from typing import Annotated

import numpy as np

from ..formula import SI, formula, possible
from ..units import Count, Force, Length, Ratio, Stiffness, Stress, Torque

GuideLength = Annotated[SI, Length("mm", "l", above=0)]
PushOffset = Annotated[SI, Length("mm", "e", at_least=0)]
Friction = Annotated[SI, Ratio("", r"\mu", at_least=0, at_most=1)]
Load = Annotated[SI, Force("N", "F", at_least=0)]

_FACE = "face even, slideways far stiffer than the joint, no oil film"


# --- pushing ---------------------------------------------------------------------------------------
@formula(
    r"l_0 = 2 \mu e",
    source=("meriam, friction", "common_practice, narrow guide"),
    limits="pushed from one side, steered by one guide that touches at its two ends; friction on the guide alone",
    rises_with=("friction", "push_offset"),
)
def jam_free_length(friction: Friction, push_offset: PushOffset) -> Annotated[SI, Length("mm", "l_0")]:
    """Length of a guide at which it jams: pushing harder only presses it tighter.

    Pushing beside the guide turns the slide until it touches at two opposite ends, each with the
    force P e / l.  Both rub, and when 2 µ e / l reaches 1 they hold back as much as one pushes.
    """
    return 2 * friction * push_offset


@formula(
    r"P = \frac{R}{1 - \dfrac{2 \mu e}{l}}",
    source=("meriam, friction", "common_practice, narrow guide"),
    limits="pushed from one side, steered by one guide that touches at its two ends; jams where the guide is no longer than 2µe",
    rises_with=("resistance", "friction", "push_offset"),
    falls_with=("guide_length",),
    requires={
        "The guide jams: it must be longer than twice the friction times the offset of the push.": (
            lambda friction, push_offset, guide_length: 2 * friction * push_offset < guide_length
        )
    },
)
def push_needed(
    resistance: Annotated[SI, Force("N", "R", at_least=0)], friction: Friction, push_offset: PushOffset, guide_length: GuideLength
) -> Annotated[SI, Force("N", "P")]:
    """Force that moves a slide which is pushed beside its guide: what resists, and what the crooked push adds."""
    lost = 2 * friction * push_offset / guide_length
    return possible(lost < 1, resistance / np.where(lost < 1, 1 - lost, 1.0))


@formula(
    r"t = 1 + 12 \left(\frac{e}{l}\right)^2",
    source=("definition, an even bed of springs", "slocum, carriages"),
    limits=_FACE + "; the whole face stays in touch",
    rises_with=("load_offset",),
    falls_with=("guide_length",),
)
def guide_tilt(
    load_offset: Annotated[SI, Length("mm", "e", at_least=0)], guide_length: GuideLength
) -> Annotated[SI, Ratio("", "t")]:
    """How many times as far a slide gives where the force acts as it would with the force over its middle.

    A force beside the middle presses the slide down and tips it as well; the tipping goes with the
    square of the offset.
    """
    return 1 + 12 * (load_offset / guide_length) ** 2


@formula(
    r"q = \frac{N s}{2 M}",
    source=("meriam, moments about the front way", "definition"),
    limits="two ways that press and cannot pull, weight half way between them; a V way or a dovetail holds somewhat more",
    rises_with=("load", "spacing"),
    falls_with=("couple",),
)
def hold_down(
    load: Annotated[SI, Force("N", "N", at_least=0)],
    spacing: Annotated[SI, Length("mm", "s", above=0)],
    couple: Annotated[SI, Torque("N·m", "M", above=0)],
) -> Annotated[SI, Ratio("", "q")]:
    """How many times as hard a saddle is held down as it is tipped across the bed: below one its rear lifts, and the keep plate holds it."""
    return load * spacing / (2 * couple)


# --- pressing --------------------------------------------------------------------------------------
@formula(
    r"p = \frac{F}{z b l} \operatorname{peak}\left(\frac{e}{l}\right)",
    source=("definition, an even bed of springs", "beer_johnston, eccentric load on a face that cannot pull"),
    limits=_FACE
    + "; peak(x) is 1 + 6x while x is at most a sixth, then one edge lifts and it is 4 / (3 - 6x); from a third on, where half the face has "
    "lifted, a keep plate holds the other end and it is 4 + 24 (x - 1/3) / 5",
    rises_with=("load", "load_offset"),
    falls_with=("faces", "face_width", "guide_length"),
)
def peak_way_pressure(
    load: Load,
    faces: Annotated[SI, Count("", "z", at_least=1, at_most=20, whole=True)],
    face_width: Annotated[SI, Length("mm", "b", above=0)],
    guide_length: GuideLength,
    load_offset: Annotated[SI, Length("mm", "e", at_least=0)],
) -> Annotated[SI, Stress("N/mm²", "p")]:
    """Highest pressure under a slide whose load acts beside its middle.

    The couple of feed and radial force counts as an offset of the load too: it may act beyond the
    end of the slide, and then the keep plate below the bed is all that holds the far end down.
    """
    share = load_offset / guide_length
    peak = np.where(
        share <= 1 / 6, 1 + 6 * share, 4 / (3 - 6 * np.minimum(share, 1 / 3)) + 24 / 5 * np.maximum(share - 1 / 3, 0.0)
    )
    return (load / (faces * face_width * guide_length) * peak)[()]


@formula(
    r"y = \frac{F s^3}{32 E b t^3}",
    source="shigley, Table A-9, fixed supports and uniform load",
    limits="load spread evenly between two screws; the strip runs on past both, so that it does not tip over them; an end bay gives up to five times as much",
    rises_with=("load", "spacing"),
    falls_with=("elastic_modulus", "gib_height", "gib_thickness"),
)
def gib_deflection(
    load: Load,
    spacing: Annotated[SI, Length("mm", "s", above=0)],
    gib_height: Annotated[SI, Length("mm", "b", above=0)],
    gib_thickness: Annotated[SI, Length("mm", "t", above=0)],
    elastic_modulus: Annotated[SI, Stress("GPa", "E", above=0)],
) -> Annotated[SI, Length("µm", "y")]:
    """How far a flat gib strip bends back between two of its screws."""
    return load * spacing**3 / (32 * elastic_modulus * gib_height * gib_thickness**3)


# --- creeping --------------------------------------------------------------------------------------
@formula(
    r"s = \frac{2 (F_s - F_k)}{k}",
    source="rabinowicz, stick-slip of a sprung slider",
    limits="slow push through a spring, no damping: an oil film makes the step smaller",
    rises_with=("starting_friction",),
    falls_with=("moving_friction", "drive_stiffness"),
    requires={
        "Starting must take at least the force that keeps it moving.": (
            lambda starting_friction, moving_friction: moving_friction <= starting_friction
        )
    },
)
def crawl_step(
    starting_friction: Annotated[SI, Force("N", "F_s", at_least=0)],
    moving_friction: Annotated[SI, Force("N", "F_k", at_least=0)],
    drive_stiffness: Annotated[SI, Stiffness("N/µm", "k", above=0)],
) -> Annotated[SI, Length("µm", "s")]:
    """Step in which a slide jumps ahead when it is wound very slowly: the smallest cut that can be put on at will.

    The screw winds up like a spring until the slide breaks loose; moving it rubs less, so it
    overshoots, to twice the difference.
    """
    return possible(moving_friction <= starting_friction, 2 * (starting_friction - moving_friction) / drive_stiffness)


# --- rails -----------------------------------------------------------------------------------------
@formula(
    r"L_{10} = L_C \left(\frac{C}{P}\right)^3",
    source="iso_14728, basic rating life, balls",
    limits="balls; load steady and less than half the rating; clean and oiled; nine carriages of ten reach it",
    rises_with=("rating", "rated_distance"),
    falls_with=("load",),
)
def rail_life(
    rating: Annotated[SI, Force("N", "C", above=0)],
    load: Annotated[SI, Force("N", "P", above=0)],
    rated_distance: Annotated[SI, Length("km", "L_C", above=0)],
) -> Annotated[SI, Length("km", "L_{10}")]:
    """Distance that nine of ten ball carriages run before the first flake comes out of a track.

    The rating stands on the paper that comes with the rail; so does the distance it was counted
    for, which is 100 km in the standard and 50 km with many.
    """
    return rated_distance * (rating / load) ** 3


@formula(
    r"C_2 = C \left(\frac{L_C}{L_2}\right)^{1/3}",
    source="iso_14728, basic rating life, balls",
    limits="balls",
    rises_with=("rating", "rated_distance"),
    falls_with=("other_distance",),
)
def rail_rating_at(
    rating: Annotated[SI, Force("N", "C", above=0)],
    rated_distance: Annotated[SI, Length("km", "L_C", above=0)],
    other_distance: Annotated[SI, Length("km", "L_2", above=0)],
) -> Annotated[SI, Force("N", "C_2")]:
    """A rating counted for one distance, told for another, so that two papers can be compared."""
    return rating * (rated_distance / other_distance) ** (1 / 3)
