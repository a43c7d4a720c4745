"""The spindle: how far its nose gives, and where the give comes from.

A spindle stands on a front and a rear bearing, a ``span`` apart.  The nose overhangs the
front bearing; the cut may act further out still, a ``reach`` beyond the nose, through a
chuck taken as rigid.  All compliances are those of the point where the cut acts, and a
reach of 0 asks for the nose itself.

No ``from __future__ import annotations`` here: the decorator reads the annotations.
"""

from typing import Annotated, Any

import numpy as np

from ..formula import SI, formula, possible
from ..units import Angle, Compliance, Force, Length, Ratio, RotationalSpeed, Speed, Stiffness, Stress
from .sections import tube_area, tube_moment

Overhang = Annotated[SI, Length("mm", "a", above=0)]
Span = Annotated[SI, Length("mm", "L", above=0)]
Reach = Annotated[SI, Length("mm", "c", at_least=0)]
Diameter = Annotated[SI, Length("mm", "D", above=0)]
Bore = Annotated[SI, Length("mm", "d", at_least=0)]
ElasticModulus = Annotated[SI, Stress("GPa", "E", above=0)]
ShearModulus = Annotated[SI, Stress("GPa", "G", above=0)]
FrontStiffness = Annotated[SI, Stiffness("N/µm", "k_1", above=0)]
RearStiffness = Annotated[SI, Stiffness("N/µm", "k_2", above=0)]
Push = Annotated[SI, Force("N", "F", at_least=0)]
BeltPull = Annotated[SI, Force("N", "B", at_least=0)]
PulleyOverhang = Annotated[SI, Length("mm", "p", at_least=-1000)]

_BORE = {"The bore must be smaller than the diameter of the spindle.": lambda diameter, bore: bore < diameter}
_SHAFT = "one diameter and one bore from end to end; chuck rigid; bearings as points"
_BOOKS = ("koenigsberger, spindles", "slocum, spindle and bearing stiffness")


@formula(
    r"s = \frac{d^4}{D^4}",
    source="shigley, Table A-18",
    limits="bore in the middle",
    rises_with=("bore",),
    falls_with=("diameter",),
    requires=_BORE,
)
def bore_share(bore: Bore, diameter: Diameter) -> Annotated[SI, Ratio("%", "s")]:
    """Share of the bending stiffness of a solid shaft that its bore takes away."""
    return possible(bore < diameter, (bore / diameter) ** 4)


@formula(
    r"c_b = \frac{64 \left[(a + c)^3 - c^3 + (a + c)^2 L\right]}{3 \pi E (D^4 - d^4)}",
    source=_BOOKS,
    limits=_SHAFT,
    rises_with=("overhang", "span", "reach", "bore"),
    falls_with=("diameter", "elastic_modulus"),
    requires=_BORE,
)
def shaft_bending_compliance(
    overhang: Overhang, span: Span, reach: Reach, diameter: Diameter, bore: Bore, elastic_modulus: ElasticModulus
) -> Annotated[SI, Compliance("µm/kN", "c_b")]:
    """Give of the shaft by bending, on rigid bearings.

    The overhang bends under the moment of the cut, and so does the span, which tips the
    overhang.  Beyond the nose nothing bends, but the slope there is carried out by the reach.
    """
    arm = overhang + reach
    stiffness = elastic_modulus * tube_moment.si(diameter, bore)
    # (a + c)³ - c³ written out, so that a short overhang behind a long reach loses no figures
    return (overhang * (overhang**2 + 3 * overhang * reach + 3 * reach**2) + arm**2 * span) / (3 * stiffness)


@formula(
    r"\kappa = \frac{3 E (D^2 + d^2)^2}{(3 E + G)(D^2 + d^2)^2 + (6 E + 8 G) D^2 d^2}",
    source="cowper, hollow circular section",
    limits="round, bore in the middle, one material alike in all directions",
    falls_with=("bore",),
    rises_with=("diameter",),
    requires=_BORE,
)
def shear_coefficient(
    diameter: Diameter, bore: Bore, elastic_modulus: ElasticModulus, shear_modulus: ShearModulus
) -> Annotated[SI, Ratio("", r"\kappa")]:
    """Share of the area of a hollow round shaft that counts in shear: 0.89 for a solid, 0.53 for a thin tube, in steel.

    Cowper gives it by Poisson's ratio, which is written here as E / 2G - 1.
    """
    square, product = (diameter**2 + bore**2) ** 2, diameter**2 * bore**2
    share = (
        3
        * elastic_modulus
        * square
        / ((3 * elastic_modulus + shear_modulus) * square + (6 * elastic_modulus + 8 * shear_modulus) * product)
    )
    return possible(bore < diameter, share)


@formula(
    r"c_q = \frac{4 \left[a L + (a + c)^2\right]}{\operatorname{shear coefficient}(D, d, E, G)\,\pi G L (D^2 - d^2)}",
    source=("timoshenko, shear in beams", "cowper, hollow circular section"),
    limits=_SHAFT,
    rises_with=("overhang", "reach", "bore"),
    falls_with=("diameter", "elastic_modulus", "shear_modulus"),
    requires=_BORE,
)
def shaft_shear_compliance(
    overhang: Overhang,
    span: Span,
    reach: Reach,
    diameter: Diameter,
    bore: Bore,
    elastic_modulus: ElasticModulus,
    shear_modulus: ShearModulus,
) -> Annotated[SI, Compliance("µm/kN", "c_q")]:
    """Give of the shaft by shear, on rigid bearings: a quarter of the bending on a short stout spindle.

    The share of the area that counts in shear is Cowper's, see ``shear_coefficient``.
    """
    carrying = shear_coefficient.si(diameter, bore, elastic_modulus, shear_modulus) * shear_modulus * tube_area.si(diameter, bore)
    return (overhang + (overhang + reach) ** 2 / span) / carrying


@formula(
    r"c_s = \frac{64 \left[(a + c)^3 - c^3 + (a + c)^2 L\right]}{3 \pi E (D^4 - d^4)}"
    r" + \frac{4 \left[a L + (a + c)^2\right]}{\operatorname{shear coefficient}(D, d, E, G)\,\pi G L (D^2 - d^2)}",
    source=(*_BOOKS, "cowper, hollow circular section"),
    limits=_SHAFT,
    rises_with=("overhang", "reach", "bore"),
    falls_with=("diameter", "elastic_modulus", "shear_modulus"),
    requires=_BORE,
)
def shaft_compliance(
    overhang: Overhang,
    span: Span,
    reach: Reach,
    diameter: Diameter,
    bore: Bore,
    elastic_modulus: ElasticModulus,
    shear_modulus: ShearModulus,
) -> Annotated[SI, Compliance("µm/kN", "c_s")]:
    """Give of the spindle shaft where the cut acts, by bending and by shear, on rigid bearings."""
    return shaft_bending_compliance.si(overhang, span, reach, diameter, bore, elastic_modulus) + shaft_shear_compliance.si(
        overhang, span, reach, diameter, bore, elastic_modulus, shear_modulus
    )


@formula(
    r"c_l = \frac{1}{k_1}\left(1 + \frac{a + c}{L}\right)^2 + \frac{1}{k_2}\left(\frac{a + c}{L}\right)^2",
    source=_BOOKS,
    limits="bearings as two springs that hold no moment; radial stiffness taken at the preload they run at",
    rises_with=("overhang", "reach"),
    falls_with=("span", "front_stiffness", "rear_stiffness"),
)
def bearing_compliance(
    overhang: Overhang, span: Span, reach: Reach, front_stiffness: FrontStiffness, rear_stiffness: RearStiffness
) -> Annotated[SI, Compliance("µm/kN", "c_l")]:
    """Give of the bearings where the cut acts, with the shaft between them rigid."""
    lever = (overhang + reach) / span
    return (1 + lever) ** 2 / front_stiffness + lever**2 / rear_stiffness


@formula(
    r"c = c_s + c_l",
    source=_BOOKS,
    limits="shaft and bearings one behind the other, both elastic",
    rises_with=("shaft_compliance", "bearing_compliance"),
)
def spindle_compliance(
    shaft_compliance: Annotated[SI, Compliance("µm/kN", "c_s", at_least=0)],
    bearing_compliance: Annotated[SI, Compliance("µm/kN", "c_l", at_least=0)],
) -> Annotated[SI, Compliance("µm/kN", "c")]:
    """Give of the whole spindle where the cut acts: shaft and bearings added."""
    return shaft_compliance + bearing_compliance


@formula(
    r"k = \frac{1}{c}",
    source="definition",
    limits="give in proportion to the force: no play in the bearings",
    falls_with=("spindle_compliance",),
)
def spindle_stiffness(
    spindle_compliance: Annotated[SI, Compliance("µm/kN", "c", above=0)],
) -> Annotated[SI, Stiffness("N/µm", "k")]:
    """Stiffness of the spindle, for the same point as its compliance."""
    return 1 / spindle_compliance


@formula(
    r"y = F c",
    source="definition",
    limits="steady force; a spindle that has not begun to rattle in its bearings",
    rises_with=("force", "spindle_compliance"),
)
def nose_deflection(
    force: Push, spindle_compliance: Annotated[SI, Compliance("µm/kN", "c", at_least=0)]
) -> Annotated[SI, Length("µm", "y")]:
    """How far the spindle gives way under a steady force."""
    return force * spindle_compliance


def bent_line(
    x: Any,
    force: Any,
    overhang: Any,
    span: Any,
    reach: Any,
    diameter: Any,
    bore: Any,
    front_stiffness: Any,
    rear_stiffness: Any,
    elastic_modulus: Any,
    shear_modulus: Any,
) -> Any:
    """How far the axis of the spindle moves, m, at ``x`` metres from the rear bearing; all inputs in SI, ``x`` an array.

    The model of the compliances: two sprung bearings, bending and shear of the shaft, nothing
    bends beyond the nose.  At the cut, x = span + overhang + reach, it is force times
    ``spindle_compliance``.
    """
    arm = overhang + reach
    bending = elastic_modulus * tube_moment.si(diameter, bore)
    shearing = shear_coefficient.si(diameter, bore, elastic_modulus, shear_modulus) * shear_modulus * tube_area.si(diameter, bore)
    front = front_bearing_load.si(force, overhang, span, reach) / front_stiffness
    rear = -rear_bearing_load.si(force, overhang, span, reach) / rear_stiffness
    rigid = rear + (front - rear) * x / span
    between = -force * arm * x * (span**2 - x**2) / (6 * bending * span)
    beyond = x - span
    curved = np.minimum(beyond, overhang)
    tilt = force * arm * span / (3 * bending) + force * arm / span / shearing
    slope = force * (arm * overhang - overhang**2 / 2) / bending
    outside = (
        tilt * beyond
        + force * (arm * curved**2 / 2 - curved**3 / 6) / bending
        + force * curved / shearing
        + slope * np.maximum(beyond - overhang, 0)
    )
    return rigid + np.where(x <= span, between, outside)


@formula(
    r"L = \operatorname{root}\left[L^3 - \frac{3 \pi E (D^4 - d^4)}{32 a k_1} L"
    r" - \frac{3 \pi E (D^4 - d^4)(k_1 + k_2)}{32 k_1 k_2}\right]",
    source=_BOOKS,
    limits="give at the nose, bending and bearings only; "
    "near the best the curve is flat, a fifth either way costs two hundredths of the stiffness",
    rises_with=("diameter", "elastic_modulus"),
    falls_with=("overhang", "bore", "front_stiffness", "rear_stiffness"),
    requires=_BORE,
)
def best_span(
    overhang: Overhang,
    diameter: Diameter,
    bore: Bore,
    front_stiffness: FrontStiffness,
    rear_stiffness: RearStiffness,
    elastic_modulus: ElasticModulus,
) -> Annotated[SI, Length("mm", "L")]:
    """Span between the bearings at which the nose gives least.

    A longer span bends more, a shorter one levers the bearings harder.  Where the two balance
    stands a cubic L³ = pL + q with one positive root, written in closed form: with the cosine
    where the bearings are far stiffer than the shaft, the hyperbolic cosine otherwise.
    """
    six_ei = 6 * elastic_modulus * tube_moment.si(diameter, bore)
    p = six_ei / (overhang * front_stiffness)
    q = six_ei * (1 / front_stiffness + 1 / rear_stiffness)
    ratio = q / 2 / (p / 3) ** 1.5
    third = np.where(ratio < 1, np.cos(np.arccos(np.minimum(ratio, 1)) / 3), np.cosh(np.arccosh(np.maximum(ratio, 1)) / 3))
    return (2 * np.sqrt(p / 3) * third)[()]


@formula(
    r"R_1 = F \left(1 + \frac{a + c}{L}\right) + B \frac{\max(p, -p)}{L}",
    source="definition",
    limits="cut and belt pulling the worst way round; the weight of chuck and work comes on top; pulley behind the rear bearing, "
    "or between the two (p below zero)",
    rises_with=("force", "overhang", "reach", "belt_pull"),
    falls_with=("span",),
)
def front_bearing_load(
    force: Push, overhang: Overhang, span: Span, reach: Reach, belt_pull: BeltPull = 0.0, pulley_overhang: PulleyOverhang = 0.0
) -> Annotated[SI, Force("N", "R_1")]:
    """Load on the front bearing from a force at the cut, and the belt's share: more than the cut itself."""
    return force * (1 + (overhang + reach) / span) + belt_pull * np.abs(pulley_overhang) / span


@formula(
    r"R_2 = F \frac{a + c}{L} + B \max\left(1 + \frac{p}{L}, 0\right)",
    source="definition",
    limits="cut and belt pulling the worst way round; pulley behind the rear bearing, or between the two (p below zero)",
    rises_with=("force", "overhang", "reach", "belt_pull"),
)
def rear_bearing_load(
    force: Push, overhang: Overhang, span: Span, reach: Reach, belt_pull: BeltPull = 0.0, pulley_overhang: PulleyOverhang = 0.0
) -> Annotated[SI, Force("N", "R_2")]:
    """Load on the rear bearing from a force at the cut, which pulls the other way there, and from the belt."""
    return force * (overhang + reach) / span + belt_pull * np.maximum(1 + pulley_overhang / span, 0)


@formula(
    r"\theta = F \left[\frac{64 (a + c) L}{3 \pi E (D^4 - d^4)} + \frac{4 (a + c)}{\operatorname{shear coefficient}(D, d, E, G)\,\pi G L (D^2 - d^2)}"
    r" + \frac{1}{L k_1}\left(1 + \frac{a + c}{L}\right) + \frac{a + c}{L^2 k_2}\right]",
    source=(*_BOOKS, "cowper, hollow circular section"),
    limits=_SHAFT + "; cut alone, without the belt",
    rises_with=("force", "overhang", "reach", "bore"),
    falls_with=("diameter", "front_stiffness", "rear_stiffness", "elastic_modulus", "shear_modulus"),
    requires=_BORE,
)
def bearing_slope(
    force: Push,
    overhang: Overhang,
    span: Span,
    reach: Reach,
    diameter: Diameter,
    bore: Bore,
    front_stiffness: FrontStiffness,
    rear_stiffness: RearStiffness,
    elastic_modulus: ElasticModulus,
    shear_modulus: ShearModulus,
) -> Annotated[SI, Angle("mrad", r"\theta")]:
    """Slope of the shaft in the front bearing under the cut, which tips its rings against each other.

    The shaft bends between the bearings and shears, and the bearings give by different amounts.
    """
    arm = overhang + reach
    bending = elastic_modulus * tube_moment.si(diameter, bore)
    carrying = shear_coefficient.si(diameter, bore, elastic_modulus, shear_modulus) * shear_modulus * tube_area.si(diameter, bore)
    tipping = ((1 + arm / span) / front_stiffness + arm / span / rear_stiffness) / span
    return force * (arm * span / (3 * bending) + arm / span / carrying + tipping)


@formula(
    r"k = k_r \frac{B}{B_r}",
    source=("johnson, similarity of Hertz contacts", "common_practice, preload grown with the square of the size"),
    limits="same kind of bearing, preloaded to the same contact pressure",
    rises_with=("reference_stiffness", "seat_diameter"),
    falls_with=("reference_diameter",),
)
def bearing_stiffness_at_size(
    reference_stiffness: Annotated[SI, Stiffness("N/µm", "k_r", above=0)],
    reference_diameter: Annotated[SI, Length("mm", "B_r", above=0)],
    seat_diameter: Annotated[SI, Length("mm", "B", above=0)],
) -> Annotated[SI, Stiffness("N/µm", "k")]:
    """Radial stiffness of a bearing, carried over from the same kind at another size.

    All lengths grown alike and the load with their square leave every contact pressure as it
    was; the give then grows with the size and the stiffness with it.
    """
    return reference_stiffness * seat_diameter / reference_diameter


@formula(
    r"n = \frac{N}{d_m}",
    source="common_practice, speed number of a bearing",
    limits="d_m midway between bore and outside; for a plain bearing its journal",
    rises_with=("speed_number",),
    falls_with=("mean_diameter",),
)
def bearing_top_speed(
    speed_number: Annotated[SI, Speed("mm/min", "N", above=0)], mean_diameter: Annotated[SI, Length("mm", "d_m", above=0)]
) -> Annotated[SI, RotationalSpeed("rpm", "n")]:
    """Fastest steady speed of a bearing from its speed number, revolutions a minute times mean diameter in mm."""
    return 2 * np.pi * speed_number / mean_diameter
