"""What the bed stands on: where to put the feet, and what a foot that sinks does to the diameter turned.

A bed is symmetric here: feet as far from one end as from the other, weight spread evenly.
``foot_spacing`` runs along the bed, ``foot_width`` across it.  Angles are told in milliradians: one is
a millimetre in a metre, which is how a machinist's level is marked.

No ``from __future__ import annotations`` here: the decorator reads the annotations.
"""

from typing import Annotated

from ..formula import SI, formula
from ..units import Angle, Force, Length, Ratio, SecondMoment, Stress

#: spacing of the feet over the length at which ends and middle sag alike
LEAST_SAG = 0.553702

BedLength = Annotated[SI, Length("mm", "L", above=0)]
FootSpacing = Annotated[SI, Length("mm", "s", above=0)]
FootWidth = Annotated[SI, Length("mm", "b", above=0)]
Weight = Annotated[SI, Force("N", "W", at_least=0)]
Twist = Annotated[SI, Angle("mrad", r"\varphi", at_least=0)]

_EVEN = "weight spread evenly, feet as far from one end as from the other, bending alone"


# --- where to put the feet ---------------------------------------------------------------------------
@formula(r"s = 0.5537\,L", source="metrology, feet of least sag", limits=_EVEN, rises_with=("length",))
def least_sag_spacing(length: BedLength) -> Annotated[SI, Length("mm", "s")]:
    """Spacing of two feet at which the middle of a bar sags as much as its ends, and the whole least."""
    return LEAST_SAG * length


# --- a foot that sinks -------------------------------------------------------------------------------
@formula(
    r"\varphi = \frac{\delta}{b}",
    source="definition",
    limits="small angles; all four feet bolted down, so that the bed must follow",
    rises_with=("lift",),
    falls_with=("foot_width",),
)
def foot_twist(lift: Annotated[SI, Length("mm", r"\delta", at_least=0)], foot_width: FootWidth) -> Twist:
    """Twist of a bed between its two pairs of feet, if one foot of four is lifted and the bed is bolted down.

    Turned round it is the shim for a reading of the level: lift is angle times foot width.
    """
    return lift / foot_width


@formula(
    r"\varphi = \frac{W b s}{4 G J}",
    source=("definition, half the weight on one foot of each pair", "shigley, torsion of a bar"),
    limits="four feet standing free; weight spread evenly; two bars clamped in their end plates are stiffer than this",
    rises_with=("weight", "foot_width", "foot_spacing"),
    falls_with=("shear_modulus", "torsion_constant"),
)
def twist_by_weight(
    weight: Weight,
    foot_width: FootWidth,
    foot_spacing: FootSpacing,
    shear_modulus: Annotated[SI, Stress("GPa", "G", above=0)],
    torsion_constant: Annotated[SI, SecondMoment("mm⁴", "J", above=0)],
) -> Twist:
    """The most that a bed on four free feet can be twisted by its own weight; past this one foot stands in the air."""
    return weight * foot_width * foot_spacing / (4 * shear_modulus * torsion_constant)


@formula(
    r"\delta_d = 2 h \varphi q",
    source="definition",
    limits="small angles; the arm runs from the line about which the bed twists up to the tool, not from the slideways",
    rises_with=("arm", "twist", "reach"),
)
def twist_on_diameter(
    arm: Annotated[SI, Length("mm", "h", above=0)], twist: Twist, reach: Annotated[SI, Ratio("", "q", at_least=0, at_most=1)] = 1
) -> Annotated[SI, Length("µm", r"\delta_d")]:
    """Change of the diameter turned when the bed is twisted between headstock and tool.

    The tool moves sideways by arm times angle, and the radius shows twice on the diameter.
    ``reach`` says how much of that the work is held to feel: all of it in the chuck, a fifth with
    a centre at the far end, and between centres only what of the twist is uneven.
    """
    return 2 * arm * twist * reach


@formula(
    r"F = \frac{W}{H} \frac{b (1 - u)}{2}",
    source="definition, moments about the line between two feet",
    limits="feet in a triangle, a pair at the headstock; level ground; slow push straight across the bed, nothing slides",
    rises_with=("weight", "foot_width"),
    falls_with=("weight_place", "push_height"),
)
def three_feet_push(
    weight: Weight,
    foot_width: FootWidth,
    weight_place: Annotated[SI, Ratio("", "u", at_least=0, at_most=1)],
    push_height: Annotated[SI, Length("mm", "H", above=0)],
) -> Annotated[SI, Force("N", "F")]:
    """Sideways push that just tips a machine standing on three feet.

    ``weight_place`` is how far from the pair of feet towards the single one the centre of
    gravity lies, 0 to 1: there the triangle is narrower by as much.  Four feet would bear
    ``weight`` times half the width over the height.
    """
    return weight * foot_width * (1 - weight_place) / (2 * push_height)
