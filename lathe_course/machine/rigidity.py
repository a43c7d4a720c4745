"""Rigidity: the links between work and tool as a chain, and what the work itself gives.

Links one behind the other add their compliances: each gives way under the same force.  The
softest link rules, and making a stiff one stiffer changes little.

No ``from __future__ import annotations`` here: the decorator reads the annotations.
"""

from collections.abc import Mapping
from typing import Annotated, Any

import numpy as np

from ..formula import SI, formula, possible
from ..units import Compliance, Force, Length, Ratio, Stiffness, Stress
from .holding import CENTRES, CHUCK, CHUCK_AND_CENTRE, FACEPLATE
from .sections import tube_moment

Push = Annotated[SI, Force("N", "F", at_least=0)]
WorkLength = Annotated[SI, Length("mm", "l", above=0)]
Position = Annotated[SI, Length("mm", "x", at_least=0)]
Diameter = Annotated[SI, Length("mm", "d", above=0)]
ElasticModulus = Annotated[SI, Stress("GPa", "E", above=0)]
Deflection = Annotated[SI, Length("µm", "y")]
Overhang = Annotated[SI, Length("mm", "l", above=0)]
ShankWidth = Annotated[SI, Length("mm", "b", above=0)]
ShankHeight = Annotated[SI, Length("mm", "h", above=0)]

_WITHIN = {
    "The position must lie on the work, between 0 and its length.": lambda length, position: position <= length * (1 + 1e-9)
}
_BAR = "round bar of one diameter and one metal; bending alone"
_STUB = _BAR + ", so 6 % low at three diameters long and a third low at one; chuck rigid"
_HELD = _BAR + ", so 8 % low at five diameters long; chuck and centres rigid"


# --- links one behind the other --------------------------------------------------------------------
@formula(
    r"k = \frac{k_1 k_2}{k_1 + k_2}",
    source="shigley, springs in series",
    limits="both links carry the same force",
    rises_with=("first", "second"),
)
def series_stiffness(
    first: Annotated[SI, Stiffness("N/µm", "k_1", above=0)], second: Annotated[SI, Stiffness("N/µm", "k_2", above=0)]
) -> Annotated[SI, Stiffness("N/µm", "k")]:
    """Stiffness of two links one behind the other: less than the softer of them."""
    return 1 / (1 / first + 1 / second)


@formula(r"c = \frac{1}{k}", source="definition", limits="give in proportion to the force: no play", falls_with=("stiffness",))
def compliance_of(stiffness: Annotated[SI, Stiffness("N/µm", "k", above=0)]) -> Annotated[SI, Compliance("µm/kN", "c")]:
    """How far a link gives for each unit of force."""
    return 1 / stiffness


@formula(r"k = \frac{1}{c}", source="definition", limits="give in proportion to the force: no play", falls_with=("compliance",))
def stiffness_of(compliance: Annotated[SI, Compliance("µm/kN", "c", above=0)]) -> Annotated[SI, Stiffness("N/µm", "k")]:
    """Force it takes to move a link by each unit of length."""
    return 1 / compliance


def budget(links: Mapping[str, Any]) -> dict[str, Any]:
    """Share of each link in the give of the whole chain, 0 to 1, softest first.

    ``links`` holds compliances by name in any one unit, numbers or arrays; arrays are put in
    order by their means.  The whole is the sum of the links.
    """
    whole = sum(links.values())
    shares = {name: give / whole for name, give in links.items()}
    return dict(sorted(shares.items(), key=lambda item: -float(np.mean(item[1]))))


@formula(
    r"k = \frac{k_s}{r^2}",
    source="shigley, energy of a spring",
    limits="arm rigid",
    rises_with=("stiffness",),
    falls_with=("ratio",),
)
def lever_stiffness(
    stiffness: Annotated[SI, Stiffness("N/µm", "k_s", above=0)], ratio: Annotated[SI, Ratio("", "r", above=0)]
) -> Annotated[SI, Stiffness("N/µm", "k")]:
    """Stiffness felt at the end of an arm that is held by a spring nearer its pivot.

    ``ratio`` is the arm of the force over the arm of the spring.  The force on the spring
    grows with it, and so does what the end moves: hence the square.
    """
    return stiffness / ratio**2


# --- the work ----------------------------------------------------------------------------------------
@formula(
    r"y = \frac{64 F l^3}{3 \pi E d^4}",
    source="shigley, Table A-9",
    limits=_STUB,
    rises_with=("force", "length"),
    falls_with=("diameter", "elastic_modulus"),
)
def chuck_deflection(force: Push, length: WorkLength, diameter: Diameter, elastic_modulus: ElasticModulus) -> Deflection:
    """Deflection of a bar that stands out of a chuck, loaded at its free end."""
    return force * length**3 / (3 * elastic_modulus * tube_moment.si(diameter, 0))


@formula(
    r"y = \frac{64 F x^2 (l - x)^2}{3 \pi E d^4 l}",
    source="shigley, Table A-9",
    limits=_HELD,
    rises_with=("force",),
    falls_with=("diameter", "elastic_modulus"),
    requires=_WITHIN,
)
def centres_deflection(
    force: Push, length: WorkLength, position: Position, diameter: Diameter, elastic_modulus: ElasticModulus
) -> Deflection:
    """Deflection under the tool of a bar between centres; largest half way, so the bar turns out barrel-shaped."""
    rest = length - position
    return possible(
        rest >= -1e-9 * length, force * position**2 * rest**2 / (3 * elastic_modulus * tube_moment.si(diameter, 0) * length)
    )


@formula(
    r"y = \frac{16 F x^3 (l - x)^2 (4 l - x)}{3 \pi E d^4 l^3}",
    source=("roark, Table 8.1", "shigley, Table A-9"),
    limits=_HELD,
    rises_with=("force",),
    falls_with=("diameter", "elastic_modulus"),
    requires=_WITHIN,
)
def chuck_and_centre_deflection(
    force: Push, length: WorkLength, position: Position, diameter: Diameter, elastic_modulus: ElasticModulus
) -> Deflection:
    """Deflection under the tool of a bar held in a chuck and by a centre; ``position`` counts from the chuck."""
    rest = length - position
    shape = position**3 * rest**2 * (4 * length - position) / (12 * length**3)
    return possible(rest >= -1e-9 * length, force * shape / (elastic_modulus * tube_moment.si(diameter, 0)))


@formula(
    r"y = 0.628 \frac{F l^3}{\pi E d^4}",
    source="roark, Table 8.1",
    limits=_HELD + "; 0.586 of the length from the chuck",
    rises_with=("force", "length"),
    falls_with=("diameter", "elastic_modulus"),
)
def worst_chuck_and_centre_deflection(
    force: Push, length: WorkLength, diameter: Diameter, elastic_modulus: ElasticModulus
) -> Deflection:
    """Largest deflection under the tool of a bar held in a chuck and by a centre.

    The tool stands at 2 - √2 of the length from the chuck then.
    """
    return chuck_and_centre_deflection.si(force, length, (2 - np.sqrt(2)) * length, diameter, elastic_modulus)


@formula(
    r"c = \frac{1}{k_1}\left(1 - \frac{x}{l}\right)^2 + \frac{1}{k_2}\left(\frac{x}{l}\right)^2",
    source="definition",
    limits="bar rigid; add its own bending",
    falls_with=("headstock_stiffness", "tailstock_stiffness"),
    requires=_WITHIN,
)
def end_support_compliance(
    position: Position,
    length: WorkLength,
    headstock_stiffness: Annotated[SI, Stiffness("N/µm", "k_1", above=0)],
    tailstock_stiffness: Annotated[SI, Stiffness("N/µm", "k_2", above=0)],
) -> Annotated[SI, Compliance("µm/kN", "c")]:
    """Give under the tool of a rigid bar between a springy headstock and a springy tailstock.

    ``position`` counts from the headstock.
    """
    along = position / length
    return possible(along <= 1 + 1e-9, (1 - along) ** 2 / headstock_stiffness + along**2 / tailstock_stiffness)


def give_along_work(support: str, position: Any, head: Any, tail: Any, length: Any, diameter: Any, elastic_modulus: Any) -> Any:
    """Give under the tool of work and what holds it, m/N, at ``position`` metres from chuck or headstock centre; all in SI, arrays broadcast.

    ``head`` and ``tail`` are the gives of the headstock's side and of the tailstock's.
    """
    bar = (length, position, diameter, elastic_modulus)
    if support in (CHUCK, FACEPLATE):
        return head + chuck_deflection.si(1.0, position, diameter, elastic_modulus)
    bending = (chuck_and_centre_deflection if support == CHUCK_AND_CENTRE else centres_deflection).si(1.0, *bar)
    return end_support_compliance.si(position, length, 1 / head, 1 / tail) + bending


def bent_work(support: str, x: Any, force: Any, tool: Any, length: Any, diameter: Any, elastic_modulus: Any) -> Any:
    """How far the axis of the work moves, m, at ``x`` metres from the chuck or the headstock centre; all in SI, ``x`` an array.

    ``support`` is one of ``holding.HOLDINGS``; the force acts at
    ``tool``.  Holding and centre are rigid, the work is bent and not sheared.
    """
    bending = elastic_modulus * tube_moment.si(diameter, 0)
    if support == CENTRES:
        near, rest = np.minimum(x, tool), np.maximum(x, tool)  # Maxwell: force and place may change roles
        return force * near * (length - rest) * (length**2 - near**2 - (length - rest) ** 2) / (6 * bending * length)
    free = np.where(x < tool, x**2 * (3 * tool - x), tool**2 * (3 * x - tool)) * force / (6 * bending)
    if support in (CHUCK, FACEPLATE):
        return free
    prop = force * tool**2 * (3 * length - tool) / (2 * length**3)  # what the centre pushes back
    return free - prop * x**2 * (3 * length - x) / (6 * bending)


@formula(
    r"k = \frac{E b h^3}{4 l^3}",
    source="shigley, Table A-9",
    limits="square or flat shank held rigidly by the toolpost; bending alone",
    rises_with=("shank_width", "shank_height", "elastic_modulus"),
    falls_with=("overhang",),
)
def tool_overhang_stiffness(
    overhang: Overhang, shank_width: ShankWidth, shank_height: ShankHeight, elastic_modulus: ElasticModulus
) -> Annotated[SI, Stiffness("N/µm", "k")]:
    """Stiffness of a tool's shank up and down, at the tip."""
    return elastic_modulus * shank_width * shank_height**3 / (4 * overhang**3)


@formula(
    r"c = \frac{l}{E b h}",
    source="shigley, tension and compression",
    limits="push along the shank, as in turning; shank held rigidly by the toolpost",
    rises_with=("overhang",),
    falls_with=("shank_width", "shank_height", "elastic_modulus"),
)
def shank_push_compliance(
    overhang: Overhang, shank_width: ShankWidth, shank_height: ShankHeight, elastic_modulus: ElasticModulus
) -> Annotated[SI, Compliance("µm/kN", "c")]:
    """Give of a tool's shank along itself, which is along the radius of the work."""
    return overhang / (elastic_modulus * shank_width * shank_height)


@formula(
    r"c = \frac{3 l^2}{E b h^2}",
    source="shigley, Table A-9, slope at the end",
    limits="tip level with the top of the shank, shank held rigidly by the toolpost",
    rises_with=("overhang",),
    falls_with=("shank_width", "shank_height", "elastic_modulus"),
)
def shank_nod(
    overhang: Overhang, shank_width: ShankWidth, shank_height: ShankHeight, elastic_modulus: ElasticModulus
) -> Annotated[SI, Compliance("µm/kN", "c")]:
    """How far the tip moves into the work, for each unit of the downward force, because the shank nods.

    The slope at the end of a bent shank, over half its height up to the tip.
    """
    return 3 * overhang**2 / (elastic_modulus * shank_width * shank_height**2)


@formula(
    r"c = \frac{c_r}{s^n}",
    source="common_practice, scaling by size",
    limits="the same link at another size; 1 for solid parts of one shape, up to 2 for joints",
    rises_with=("reference_compliance",),
)
def link_compliance_at_size(
    reference_compliance: Annotated[SI, Compliance("µm/kN", "c_r", at_least=0)],
    size_ratio: Annotated[SI, Ratio("", "s", above=0, valid=(0.4, 2.5))],
    exponent: Annotated[SI, Ratio("", "n", at_least=0, at_most=2)],
) -> Annotated[SI, Compliance("µm/kN", "c")]:
    """Give of a link, carried over from the same link on a machine of another size."""
    return reference_compliance / size_ratio**exponent
