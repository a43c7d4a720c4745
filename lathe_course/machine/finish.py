"""The finish that feed and nose radius leave, before anything goes wrong."""
from ..formula import formula
from ..units import FeedPerTurn, Length

__all__ = ["ideal_peak_height", "ideal_roughness"]

_IDEAL = ("a round nose sharp and true, feed less than the nose radius; the real surface is rougher, in steel at low "
          "speed often two to three times")


@formula(r"R_{\max} = \frac{f^2}{8\, r}", source=("koenig, theoretical roughness", "kalpakjian, surface finish in turning"), limits=_IDEAL,
         rises_with=("feed",), falls_with=("nose_radius",))
def ideal_peak_height(feed: FeedPerTurn("mm/rev", "f", at_least=0, at_most=50),
                      nose_radius: Length("mm", "r", above=0, at_most=50)) -> Length("µm", r"R_{\max}"):
    """Height from valley to peak that a round nose leaves.

    It is the parabola in place of the arc: 0.4 per cent low at a feed of a quarter of the
    nose radius, 7 per cent low where the feed equals the nose radius.
    """
    return feed**2 / (8 * nose_radius)


@formula(r"R_a = 0.0321\, \frac{f^2}{r}", source=("boothroyd_knight, ideal roughness",), limits=_IDEAL,
         rises_with=("feed",), falls_with=("nose_radius",))
def ideal_roughness(feed: FeedPerTurn("mm/rev", "f", at_least=0, at_most=50),
                    nose_radius: Length("mm", "r", above=0, at_most=50)) -> Length("µm", "R_a"):
    """Mean roughness Ra that a round nose leaves.

    Some books write one thirty-second, which is 0.03125: the peak height over four, as if
    the valleys were notches with straight sides. The mean deviation of a row of parabolas is
    4 / (9 √3) of their height, 0.0321 in all, nearly 3 per cent more.
    """
    return 0.0321 * feed**2 / nose_radius
