"""Sections: area, bending and torsion of the shapes a home-built bed is made of.

The section lies across the bed: ``width`` is sideways, ``height`` is up and down.  A
*vertical* moment resists bending up and down, a *lateral* one bending sideways.  All corners
are taken as sharp.  A shape that cannot exist (a wall thicker than half the box, a bore
wider than the tube) gives NaN from the body and a sentence at the door.

No ``from __future__ import annotations`` here: the decorator reads the annotations.
"""

from typing import Annotated

import numpy as np

from ..formula import SI, formula, possible
from ..units import Area, Length, Ratio, SecondMoment

Width = Annotated[SI, Length("mm", "b", above=0)]
Height = Annotated[SI, Length("mm", "h", above=0)]
Wall = Annotated[SI, Length("mm", "t", above=0)]
Diameter = Annotated[SI, Length("mm", "d", above=0)]
Spacing = Annotated[SI, Length("mm", "s", above=0)]
Outer = Annotated[SI, Length("mm", "D", above=0)]
Bore = Annotated[SI, Length("mm", "d", at_least=0)]
FillRatio = Annotated[SI, Ratio("", "n", at_least=0, at_most=1)]
MetalArea = Annotated[SI, Area("mm²", "A")]
ShearArea = Annotated[SI, Area("mm²", "A_q")]
Vertical = Annotated[SI, SecondMoment("mm⁴", "I_v")]
Lateral = Annotated[SI, SecondMoment("mm⁴", "I_s")]
Torsion = Annotated[SI, SecondMoment("mm⁴", "J")]

_WALL = {
    "Twice the wall must be less than the width and less than the height.": lambda width, height, wall: (
        2 * wall < np.minimum(width, height)
    )
}
_CHANNEL = {
    "Twice the wall must be less than the width, and the wall less than the height.": lambda width, height, wall: (
        (2 * wall < width) & (wall < height)
    )
}
_BORE = {"The bore must be smaller than the outer diameter.": lambda outer, bore: bore < outer}
_APART = {"The bars must stand at least their own diameter apart.": lambda diameter, spacing: spacing >= diameter * (1 - 1e-9)}
_RAILS = {"The rails must stand at least their own width apart.": lambda rail_width, spacing: spacing >= rail_width * (1 - 1e-9)}

_SHARP = "sharp corners, all walls alike"
_SOLID = "solid, square corners, edges not taken off"
_THIN = "walls thin beside the box: about 3 % low at a tenth of the width, more for thicker walls"
_OPEN = "open section of thin walls, ends free to warp"


# --- closed rectangular box --------------------------------------------------------------------
@formula(r"A = 2 t (b + h - 2 t)", source="definition", limits=_SHARP, rises_with=("width", "height", "wall"), requires=_WALL)
def box_area(width: Width, height: Height, wall: Wall) -> MetalArea:
    """Area of the wall of a rectangular tube."""
    return possible(2 * wall < np.minimum(width, height), 2 * wall * (width + height - 2 * wall))


@formula(
    r"I_v = \frac{b h^3 - (b - 2 t)(h - 2 t)^3}{12}",
    source="shigley, Table A-18",
    limits=_SHARP,
    rises_with=("width", "height", "wall"),
    requires=_WALL,
)
def box_vertical_moment(width: Width, height: Height, wall: Wall) -> Vertical:
    """Second moment of a rectangular tube against bending up and down."""
    return possible(
        2 * wall < np.minimum(width, height), (width * height**3 - (width - 2 * wall) * (height - 2 * wall) ** 3) / 12
    )


@formula(
    r"I_s = \frac{h b^3 - (h - 2 t)(b - 2 t)^3}{12}",
    source="shigley, Table A-18",
    limits=_SHARP,
    rises_with=("width", "height", "wall"),
    requires=_WALL,
)
def box_lateral_moment(width: Width, height: Height, wall: Wall) -> Lateral:
    """Second moment of a rectangular tube against bending sideways."""
    return box_vertical_moment.si(height, width, wall)


@formula(
    r"A_m = (b - t)(h - t)",
    source="beer_johnston, thin-walled hollow shafts",
    limits=_SHARP,
    rises_with=("width", "height"),
    falls_with=("wall",),
    requires=_WALL,
)
def box_enclosed_area(width: Width, height: Height, wall: Wall) -> Annotated[SI, Area("mm²", "A_m")]:
    """Area enclosed by the middle line of the wall of a rectangular tube."""
    return possible(2 * wall < np.minimum(width, height), (width - wall) * (height - wall))


@formula(
    r"J = \frac{2 t (b - t)^2 (h - t)^2}{b + h - 2 t}",
    source=("roark, torsion of thin-walled tubes", "beer_johnston, thin-walled hollow shafts"),
    limits=_THIN,
    rises_with=("width", "height"),
    requires=_WALL,
)
def box_torsion(width: Width, height: Height, wall: Wall) -> Torsion:
    """Torsion constant of a closed rectangular tube, by Bredt on the middle line of the wall.

    Four times the enclosed area squared over the sum of length by thickness round the wall.
    """
    enclosed = box_enclosed_area.si(width, height, wall)
    return 2 * wall * enclosed**2 / (width + height - 2 * wall)


# --- box filled with something softer ------------------------------------------------------------
@formula(
    r"I_v = \frac{b h^3 - (1 - n)(b - 2 t)(h - 2 t)^3}{12}",
    source="shigley, Table A-18",
    limits="fill bonded to the wall everywhere; a gap or a void makes its share smaller",
    rises_with=("width", "height", "wall", "fill_ratio"),
    requires=_WALL,
)
def filled_box_vertical_moment(width: Width, height: Height, wall: Wall, fill_ratio: FillRatio) -> Vertical:
    """Second moment of a filled box against bending up and down, as if all were the metal of the wall.

    ``fill_ratio`` is the elastic modulus of the fill over that of the wall.
    """
    return box_vertical_moment.si(width, height, wall) + fill_ratio * (width - 2 * wall) * (height - 2 * wall) ** 3 / 12


@formula(
    r"I_s = \frac{h b^3 - (1 - n)(h - 2 t)(b - 2 t)^3}{12}",
    source="shigley, Table A-18",
    limits="fill bonded to the wall everywhere; a gap or a void makes its share smaller",
    rises_with=("width", "height", "wall", "fill_ratio"),
    requires=_WALL,
)
def filled_box_lateral_moment(width: Width, height: Height, wall: Wall, fill_ratio: FillRatio) -> Lateral:
    """Second moment of a filled box against bending sideways, as if all were the metal of the wall."""
    return filled_box_vertical_moment.si(height, width, wall, fill_ratio)


@formula(
    r"J = J_b + n J_f",
    source="roark, torsion of composite and thin-walled sections",
    limits="a fill much softer than the wall, bonded to it; Bredt for the wall and a solid rectangle for the fill are added",
    rises_with=("box_torsion", "fill_torsion", "fill_ratio"),
)
def filled_box_torsion(
    box_torsion: Annotated[SI, SecondMoment("mm⁴", "J_b", above=0)],
    fill_torsion: Annotated[SI, SecondMoment("mm⁴", "J_f", at_least=0)],
    fill_ratio: FillRatio,
) -> Torsion:
    """Torsion constant of a filled box, as if all were the metal of the wall.

    ``fill_torsion`` is that of the fill alone, a solid rectangle.  Adding the two is the least
    the pair can do: wall and fill twist together, and what they hand to each other only helps.
    """
    return box_torsion + fill_ratio * fill_torsion


# --- round tube or bar ----------------------------------------------------------------------------
@formula(
    r"A = \frac{\pi (D^2 - d^2)}{4}",
    source="definition",
    limits="bore in the middle",
    rises_with=("outer",),
    falls_with=("bore",),
    requires=_BORE,
)
def tube_area(outer: Outer, bore: Bore) -> MetalArea:
    """Area of a round tube; a solid bar has no bore."""
    return possible(bore < outer, np.pi * (outer**2 - bore**2) / 4)


@formula(
    r"I = \frac{\pi (D^4 - d^4)}{64}",
    source="shigley, Table A-18",
    limits="bore in the middle",
    rises_with=("outer",),
    falls_with=("bore",),
    requires=_BORE,
)
def tube_moment(outer: Outer, bore: Bore) -> Annotated[SI, SecondMoment("mm⁴", "I")]:
    """Second moment of a round tube or bar, the same in every direction."""
    return possible(bore < outer, np.pi * (outer**4 - bore**4) / 64)


@formula(
    r"J = \frac{\pi (D^4 - d^4)}{32}",
    source="shigley, Table A-18",
    limits="bore in the middle",
    rises_with=("outer",),
    falls_with=("bore",),
    requires=_BORE,
)
def tube_torsion(outer: Outer, bore: Bore) -> Torsion:
    """Torsion constant of a round tube or bar: twice its second moment."""
    return 2 * tube_moment.si(outer, bore)


# --- plate: a solid rectangle ---------------------------------------------------------------------
@formula(r"A = b h", source="definition", limits=_SOLID, rises_with=("width", "height"))
def plate_area(width: Width, height: Height) -> MetalArea:
    """Area of a solid rectangle."""
    return width * height


@formula(r"I_v = \frac{b h^3}{12}", source="shigley, Table A-18", limits=_SOLID, rises_with=("width", "height"))
def plate_vertical_moment(width: Width, height: Height) -> Vertical:
    """Second moment of a solid rectangle against bending up and down."""
    return width * height**3 / 12


@formula(r"I_s = \frac{h b^3}{12}", source="shigley, Table A-18", limits=_SOLID, rises_with=("width", "height"))
def plate_lateral_moment(width: Width, height: Height) -> Lateral:
    """Second moment of a solid rectangle against bending sideways."""
    return height * width**3 / 12


@formula(
    r"J = \frac{\max(b, h) \min(b, h)^3}{3}"
    r"\left[1 - 0.63\,\frac{\min(b, h)}{\max(b, h)}\left(1 - \frac{\min(b, h)^4}{12 \max(b, h)^4}\right)\right]",
    source="roark, torsion of a solid rectangle",
    limits="solid, ends free to warp; the fit is within 0.5 % of the exact series",
    rises_with=("width", "height"),
)
def plate_torsion(width: Width, height: Height) -> Torsion:
    """Torsion constant of a solid rectangle, either way up."""
    long, short = np.maximum(width, height), np.minimum(width, height)
    slenderness = short / long
    return long * short**3 / 3 * (1 - 0.63 * slenderness * (1 - slenderness**4 / 12))


# --- channel: web on top or below, two legs -------------------------------------------------------
@formula(r"A = t (b + 2 h - 2 t)", source="definition", limits=_SHARP, rises_with=("width", "height", "wall"), requires=_CHANNEL)
def channel_area(width: Width, height: Height, wall: Wall) -> MetalArea:
    """Area of a channel lying with its web level: a web as wide as the bed and two legs."""
    return possible((2 * wall < width) & (wall < height), wall * (width + 2 * height - 2 * wall))


@formula(
    r"I_v = \frac{2 t h^3 + (b - 2 t) t^3}{3} - \frac{\left[2 t h^2 + (b - 2 t) t^2\right]^2}{4 t (b + 2 h - 2 t)}",
    source="shigley, Table A-18",
    limits=_SHARP,
    rises_with=("width", "height"),
    requires=_CHANNEL,
)
def channel_vertical_moment(width: Width, height: Height, wall: Wall) -> Vertical:
    """Second moment of a channel lying with its web level, against bending up and down.

    About the outer face of the web first, then moved to the middle of the area.
    """
    area = channel_area.si(width, height, wall)
    about_face = (2 * wall * height**3 + (width - 2 * wall) * wall**3) / 3
    first = (2 * wall * height**2 + (width - 2 * wall) * wall**2) / 2
    return about_face - first**2 / area


@formula(
    r"I_s = \frac{h b^3 - (h - t)(b - 2 t)^3}{12}",
    source="shigley, Table A-18",
    limits=_SHARP,
    rises_with=("width", "height", "wall"),
    requires=_CHANNEL,
)
def channel_lateral_moment(width: Width, height: Height, wall: Wall) -> Lateral:
    """Second moment of a channel lying with its web level, against bending sideways."""
    return possible((2 * wall < width) & (wall < height), (height * width**3 - (height - wall) * (width - 2 * wall) ** 3) / 12)


@formula(
    r"J = \frac{t^3 (b + 2 h - 2 t)}{3}",
    source="roark, torsion of thin-walled open sections",
    limits=_OPEN,
    rises_with=("width", "height"),
    requires=_CHANNEL,
)
def channel_torsion(width: Width, height: Height, wall: Wall) -> Torsion:
    """Torsion constant of a channel: a third of length by thickness cubed along its middle line."""
    return channel_area.si(width, height, wall) * wall**2 / 3


@formula(
    r"e = \frac{3 (h - t / 2)^2}{b + 6 h - 4 t}",
    source="roark, shear centres of thin-walled sections",
    limits=_OPEN,
    rises_with=("height",),
    falls_with=("width",),
    requires=_CHANNEL,
)
def channel_shear_centre(width: Width, height: Height, wall: Wall) -> Annotated[SI, Length("mm", "e")]:
    """How far the shear centre of a channel lies outside the middle of its web, away from the legs.

    A channel lying open downwards twists about a line above its web.
    """
    return possible((2 * wall < width) & (wall < height), 3 * (height - wall / 2) ** 2 / (width + 6 * height - 4 * wall))


# --- two round bars, and two flat rails -----------------------------------------------------------
@formula(
    r"I_v = \frac{\pi d^4}{32}",
    source="shigley, Table A-18",
    limits="two equal solid bars side by side",
    rises_with=("diameter",),
)
def pair_of_bars_vertical_moment(diameter: Diameter) -> Vertical:
    """Second moment of two round bars side by side against bending up and down: twice that of one."""
    return 2 * tube_moment.si(diameter, 0)


@formula(
    r"I_s = \frac{\pi d^4}{32} + \frac{\pi d^2 s^2}{8}",
    source="shigley, Table A-18",
    limits="bars tied so well along their whole length that they bend as one; "
    "bars joined at their ends only have the vertical figure sideways too",
    rises_with=("diameter", "spacing"),
    requires=_APART,
)
def pair_of_bars_tied_moment(diameter: Diameter, spacing: Spacing) -> Lateral:
    """Second moment of two round bars against bending sideways, if they are tied along their length."""
    return possible(
        spacing >= diameter * (1 - 1e-9), 2 * tube_moment.si(diameter, 0) + tube_area.si(diameter, 0) * spacing**2 / 2
    )


@formula(
    r"J = \frac{\pi d^4}{16}",
    source="shigley, Table A-18",
    limits="the bars' own twist only; that one bar rises while the other sinks is reckoned apart, in the tilt of a pair",
    rises_with=("diameter",),
)
def pair_of_bars_torsion(diameter: Diameter) -> Torsion:
    """Torsion constant of two round bars, each twisting about its own axis."""
    return 2 * tube_torsion.si(diameter, 0)


@formula(
    r"I_v = \frac{b h^3}{6}",
    source="shigley, Table A-18",
    limits="two equal flat rails side by side",
    rises_with=("rail_width", "height"),
)
def pair_of_rails_vertical_moment(rail_width: Width, height: Height) -> Vertical:
    """Second moment of two flat rails side by side against bending up and down."""
    return 2 * plate_vertical_moment.si(rail_width, height)


@formula(
    r"I_s = \frac{h b^3}{6} + \frac{b h s^2}{2}",
    source="shigley, Table A-18",
    limits="rails tied by cross-ribs so well that they bend as one; without ribs only the first term is left",
    rises_with=("rail_width", "height", "spacing"),
    requires=_RAILS,
)
def pair_of_rails_tied_moment(rail_width: Width, height: Height, spacing: Spacing) -> Lateral:
    """Second moment of two flat rails against bending sideways, if they are tied along their length."""
    own = 2 * plate_lateral_moment.si(rail_width, height)
    return possible(spacing >= rail_width * (1 - 1e-9), own + rail_width * height * spacing**2 / 2)


@formula(
    r"J = 2 J_r",
    source="roark, torsion of a solid rectangle",
    limits="the rails' own twist only; that one rail rises while the other sinks is reckoned apart, in the tilt of a pair",
    rises_with=("rail_torsion",),
)
def pair_of_rails_torsion(rail_torsion: Annotated[SI, SecondMoment("mm⁴", "J_r", above=0)]) -> Torsion:
    """Torsion constant of two flat rails, each twisting about its own axis."""
    return 2 * rail_torsion


# --- what carries the shear ------------------------------------------------------------------------
@formula(
    r"A_q = \frac{10 t (h - t)^2 (h + 3 b - 4 t)^2}"
    r"{3 \left[2 (h - t)^3 + 10 (h - t)^2 (b - t) + 15 (h - t)(b - t)^2 + 5 (b - t)^3\right]}",
    source=("timoshenko, shear in beams", "cowper, thin-walled box"),
    limits=_SHARP + "; walls thin, loaded along its height",
    rises_with=("height",),
    requires=_WALL,
)
def box_shear_area(width: Width, height: Height, wall: Wall) -> ShearArea:
    """Area of a rectangular tube that resists shear up and down.

    From the energy of the shear that flows round the middle line of the wall: the two upright
    walls, less what is lost in carrying shear out into a wide top and bottom.
    """
    b, h = width - wall, height - wall
    return possible(
        2 * wall < np.minimum(width, height),
        10 * wall * h**2 * (h + 3 * b) ** 2 / (3 * (2 * h**3 + 10 * h**2 * b + 15 * h * b**2 + 5 * b**3)),
    )


@formula(
    r"A_q = \frac{5}{6} A", source="timoshenko, shear coefficient of a rectangle", limits="solid rectangle", rises_with=("area",)
)
def plate_shear_area(area: Annotated[SI, Area("mm²", "A", above=0)]) -> ShearArea:
    """Area that resists shear in a solid rectangle."""
    return 5 * area / 6


@formula(r"A_q = 0.9 A", source="timoshenko, shear coefficient of a circle", limits="solid round bar", rises_with=("area",))
def bar_shear_area(area: Annotated[SI, Area("mm²", "A", above=0)]) -> ShearArea:
    """Area that resists shear in a solid round bar."""
    return 0.9 * area
