"""The finish that feed and nose radius leave, before anything goes wrong, and what practice makes of it."""

from typing import Annotated

from ..formula import SI, formula, possible
from ..units import FeedPerTurn, Length, Ratio

_IDEAL = (
    "a round nose sharp and true, feed up to the nose radius, and never twice as much, for then its arcs no longer meet; "
    "the real surface is rougher, in steel at low speed often several times"
)
_MEET = {
    "The feed must be less than twice the nose radius: otherwise the arcs of two turns do not meet and a thread is left between them.": lambda feed, nose_radius: (
        feed < 2 * nose_radius
    )
}


@formula(
    r"R_{\max} = \frac{f^2}{8\, r}",
    source=("koenig, theoretical roughness", "kalpakjian, surface finish in turning"),
    limits=_IDEAL,
    rises_with=("feed",),
    falls_with=("nose_radius",),
    requires=_MEET,
)
def ideal_peak_height(
    feed: Annotated[SI, FeedPerTurn("mm/rev", "f", at_least=0, at_most=50)],
    nose_radius: Annotated[SI, Length("mm", "r", above=0, at_most=50)],
) -> Annotated[SI, Length("µm", r"R_{\max}")]:
    """Height from valley to peak that a round nose leaves.

    It is the parabola in place of the arc: 0.4 per cent low at a feed of a quarter of the
    nose radius, 7 per cent low where the feed equals the nose radius.
    """
    return possible(feed < 2 * nose_radius, feed**2 / (8 * nose_radius))


@formula(
    r"R_a = 0.0321\, \frac{f^2}{r}",
    source=("boothroyd_knight, ideal roughness",),
    limits=_IDEAL,
    rises_with=("feed",),
    falls_with=("nose_radius",),
    requires=_MEET,
)
def ideal_roughness(
    feed: Annotated[SI, FeedPerTurn("mm/rev", "f", at_least=0, at_most=50)],
    nose_radius: Annotated[SI, Length("mm", "r", above=0, at_most=50)],
) -> Annotated[SI, Length("µm", "R_a")]:
    """Mean roughness Ra that a round nose leaves.

    Some books write one thirty-second, which is 0.03125: the peak height over four, as if
    the valleys were notches with straight sides. The mean deviation of a row of parabolas is
    4 / (9 √3) of their height, 0.0321 in all, nearly 3 per cent more.
    """
    return possible(feed < 2 * nose_radius, 0.0321 * feed**2 / nose_radius)


@formula(
    r"R_a = q R_{a,i} + R_0",
    source=("groover, ratio of actual to ideal roughness", "common_practice, what a fine feed leaves all the same"),
    limits="turned dry or with a little oil on a small machine that does not chatter; a judgement, not a law",
    rises_with=("ideal_roughness", "rise", "floor"),
)
def practical_roughness(
    ideal_roughness: Annotated[SI, Length("µm", "R_{a,i}", at_least=0, at_most=1e4)],
    rise: Annotated[SI, Ratio("", "q", at_least=1, at_most=10)],
    floor: Annotated[SI, Length("µm", "R_0", at_least=0, at_most=100)],
) -> Annotated[SI, Length("µm", "R_a")]:
    """Mean roughness Ra to reckon with at a real machine.

    A coarse feed leaves its marks a little rougher than the ideal figure (``rise``).  A fine feed
    does not bring the roughness to nothing: notches of the edge, metal that builds up on
    it and is torn off again, and the machine's own tremble leave a ``floor``, high in soft steel at
    low speed and low in brass.
    """
    return rise * ideal_roughness + floor
