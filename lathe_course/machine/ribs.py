"""Two rails on edge with ribs between them: what the ribs add against twist and against racking.

The ribs are upright plates as high as the rails.  Cross ribs stand square to the rails, one
for every spacing of the rails; diagonal ribs run to and fro at 45 degrees.  The rails are
taken as thin beams that hold the ribs' ends stiffly, and the row of ribs as long.  Held
against a frame in space: a long row is right within a few hundredths; with the two or three
bays between headstock and tool the twist comes out a tenth too large, and the sideways give
of a ladder of cross ribs a fifth too small.

No ``from __future__ import annotations`` here: the decorator reads the annotations.
"""

from typing import Annotated

import numpy as np

from ..formula import SI, formula, possible
from ..units import Area, Length, Ratio, SecondMoment
from .sections import plate_area, plate_lateral_moment, plate_torsion, plate_vertical_moment

#: elastic over shear modulus of a metal of Poisson's ratio 0.3; for steel, iron and aluminium it runs from 2.4 to 2.7
ELASTIC_RATIO = 2.6

RibThickness = Annotated[SI, Length("mm", "t", above=0)]
Height = Annotated[SI, Length("mm", "h", above=0)]
Spacing = Annotated[SI, Length("mm", "s", above=0)]
RibPitch = Annotated[SI, Length("mm", "p", above=0)]
RailWidth = Annotated[SI, Length("mm", "b", above=0)]
Torsion = Annotated[SI, SecondMoment("mm⁴", "J_x")]
ShearArea = Annotated[SI, Area("mm²", "A_q")]
ElasticRatio = Annotated[SI, Ratio("", r"\nu", above=0)]

_APART = {"The rails must stand further apart than they are wide.": lambda spacing, rail_width: spacing > rail_width}
_ROUGH = "many ribs in a row, joined stiffly to the rails; with two or three bays right within a fifth"


@formula(
    r"A_r = t h \frac{s - b}{s} \lambda",
    source="definition",
    limits="one rib for every spacing of the rails; for diagonal ribs the length factor is 1.41",
    rises_with=("rib_thickness", "height", "length_factor"),
    falls_with=("rail_width",),
    requires=_APART,
)
def ribs_area(
    rib_thickness: RibThickness,
    height: Height,
    spacing: Spacing,
    rail_width: RailWidth,
    length_factor: Annotated[SI, Ratio("", r"\lambda", at_least=1)],
) -> Annotated[SI, Area("mm²", "A_r")]:
    """Metal of the ribs spread evenly along the bed, as an area to be weighed with that of the rails.

    ``length_factor`` is the length of a rib over the clear distance it bridges.
    """
    return possible(spacing > rail_width, rib_thickness * height * (spacing - rail_width) / spacing * length_factor)


@formula(
    r"J_x = J_r \frac{s}{p}",
    source="timoshenko_plates, a grid of crossing bars",
    limits=_ROUGH,
    rises_with=("rib_torsion", "spacing"),
    falls_with=("rib_pitch",),
)
def cross_ribs_torsion(
    rib_torsion: Annotated[SI, SecondMoment("mm⁴", "J_r", above=0)], spacing: Spacing, rib_pitch: RibPitch
) -> Torsion:
    """Torsion constant that cross ribs add to two rails.

    As the bed twists one rail slopes up and the other down, and each rib is wrung between
    them.  ``rib_torsion`` is the torsion constant of one rib, ``rib_pitch`` the distance from
    rib to rib along the bed.
    """
    return rib_torsion * spacing / rib_pitch


@formula(
    r"J_x = \frac{2 \nu}{\frac{\sqrt{2}}{I_d} + \frac{1}{3 I_r}}",
    source="own_work, energy of a zigzag of ribs at 45 degrees between two rails",
    limits=_ROUGH + "; shear in rails and ribs left out",
    rises_with=("rib_moment", "rail_moment", "elastic_ratio"),
)
def diagonal_ribs_torsion(
    rib_moment: Annotated[SI, SecondMoment("mm⁴", "I_d", above=0)],
    rail_moment: Annotated[SI, SecondMoment("mm⁴", "I_r", above=0)],
    elastic_ratio: ElasticRatio,
) -> Torsion:
    """Torsion constant that ribs running to and fro at 45 degrees add to two rails.

    A twisted surface is bent along its diagonals, so these ribs must bend on edge, where they
    are stiff.  ``rib_moment`` and ``rail_moment`` are second moments up and down of one rib
    and of one rail, ``elastic_ratio`` the elastic modulus over the shear modulus.
    """
    return 2 * elastic_ratio / (np.sqrt(2) / rib_moment + 1 / (3 * rail_moment))


@formula(
    r"A_q = \frac{\nu}{\frac{p s}{12 I_b} + \frac{p^2}{24 I_r}}",
    source="timoshenko_gere, columns with batten plates",
    limits=_ROUGH,
    rises_with=("rib_moment", "rail_moment", "elastic_ratio"),
    falls_with=("spacing", "rib_pitch"),
)
def cross_ribs_shear_area(
    rib_moment: Annotated[SI, SecondMoment("mm⁴", "I_b", above=0)],
    rail_moment: Annotated[SI, SecondMoment("mm⁴", "I_r", above=0)],
    spacing: Spacing,
    rib_pitch: RibPitch,
    elastic_ratio: ElasticRatio,
) -> ShearArea:
    """Area that resists sideways shear of two rails with cross ribs: small, for the ladder racks.

    Rails and ribs bend in S shapes between their joints.  Both second moments are about
    upright axes, of one rib and of one rail.
    """
    return elastic_ratio / (rib_pitch * spacing / (12 * rib_moment) + rib_pitch**2 / (24 * rail_moment))


@formula(
    r"A_q = \frac{\nu A_d}{2 \sqrt{2}}",
    source="timoshenko_gere, columns with lacing bars",
    limits=_ROUGH + "; the ribs pull and push along their length",
    rises_with=("rib_area", "elastic_ratio"),
)
def diagonal_ribs_shear_area(rib_area: Annotated[SI, Area("mm²", "A_d", above=0)], elastic_ratio: ElasticRatio) -> ShearArea:
    """Area that resists sideways shear of two rails with a zigzag of ribs at 45 degrees: a truss lying down."""
    return elastic_ratio * rib_area / (2 * np.sqrt(2))


def cross_ribs(rib_thickness, height, spacing, rail_width):
    """Torsion constant [m⁴] and shear area [m²] of cross ribs, one for every spacing; plain SI."""
    rib_upright = plate_lateral_moment.si(rib_thickness, height)
    rail = plate_lateral_moment.si(rail_width, height)
    return (
        cross_ribs_torsion.si(plate_torsion.si(rib_thickness, height), spacing, spacing),
        cross_ribs_shear_area.si(rib_upright, rail, spacing, spacing, ELASTIC_RATIO),
    )


def diagonal_ribs(rib_thickness, height, rail_width):
    """Torsion constant [m⁴] and shear area [m²] of diagonal ribs at 45 degrees; plain SI."""
    rib, rail = (plate_vertical_moment.si(width, height) for width in (rib_thickness, rail_width))
    return (
        diagonal_ribs_torsion.si(rib, rail, ELASTIC_RATIO),
        diagonal_ribs_shear_area.si(plate_area.si(rib_thickness, height), ELASTIC_RATIO),
    )
