"""One look for every picture, and the way from a figure to a page.

Colours are the eight of Okabe and Ito, told apart by all common kinds of colour blindness.
Still nothing is told by colour alone: lines differ in style, areas in hatch, points in
marker, and each is named where it stands.  Letters are 12 points on a picture 8 inches
wide, so a picture fills a wall and is read from the back.
"""

from __future__ import annotations

import functools
import hashlib
import html
import io
import re
from typing import TYPE_CHECKING, Any

from ..folder.apart import apart

with apart():  # matplotlib takes settings from the folder it is loaded in, and folders are handed round
    import matplotlib

from matplotlib.backends.backend_svg import FigureCanvasSVG
from matplotlib.figure import Figure
from matplotlib.font_manager import FontProperties
from matplotlib.textpath import text_to_path

from ..turns import in_turn

if TYPE_CHECKING:
    from ...design.evaluation import Evaluation
    from .register import Picture

#: width of every picture in inches, and points per inch: one unit of the drawing is one point
WIDTH, POINTS = 8.0, 72
FONT_SIZE = 12.0

PALETTE = {
    "black": "#000000",
    "orange": "#E69F00",
    "sky": "#56B4E9",
    "green": "#009E73",
    "yellow": "#F0E442",
    "blue": "#0072B2",
    "red": "#D55E00",
    "purple": "#CC79A7",
}
INK, MUTED, PALE = "#1a1a1a", "#5c5c5c", "#e4e4e4"
#: colours and line styles that go together, in the order of use
LINES = (
    (PALETTE["blue"], "-"),
    (PALETTE["red"], "--"),
    (PALETTE["green"], "-."),
    (PALETTE["purple"], ":"),
    (PALETTE["orange"], (0, (7, 2, 1, 2, 1, 2))),
    (PALETTE["black"], (0, (2, 2))),
)
MARKERS = ("o", "s", "^", "D", "v", "P")
HATCH = {"no": "xx", "judged": "//", "metal": "///"}
#: status of a finding -> its mark, colour and hatch
STATUS = {
    "holds": ("✓", PALETTE["green"], ""),
    "tight": ("≈", PALETTE["orange"], "//"),
    "fails": ("✗", PALETTE["red"], "xx"),
    "open": ("?", MUTED, ".."),
}


def pale(colour: str, share: float = 0.35) -> str:
    """A colour mixed with white; ``share`` of it is left.  Unlike a see-through colour it leaves a hatch visible."""
    parts = (int(colour[place : place + 2], 16) for place in (1, 3, 5))
    return "#" + "".join(f"{round(255 - share * (255 - part)):02x}" for part in parts)


def on_white(pad: float, alpha: float | None = None) -> dict[str, Any]:
    """The ground of words that stand over lines, as ``bbox`` of a text."""
    ground = {"facecolor": "white", "edgecolor": "none", "pad": pad}
    return ground if alpha is None else {**ground, "alpha": alpha}


def filled(colour: str, hatch: str = "") -> dict[str, str]:
    """Paint for a bar or an area: a pale face, and edge and hatch in the full colour."""
    return {"facecolor": pale(colour), "edgecolor": colour, "hatch": hatch}


STYLE: dict[str, Any] = {
    "font.family": "sans-serif",
    "font.sans-serif": ["DejaVu Sans", "Verdana", "Geneva", "sans-serif"],
    "font.size": FONT_SIZE,
    "axes.labelsize": FONT_SIZE,
    "axes.titlesize": FONT_SIZE,
    "xtick.labelsize": FONT_SIZE,
    "ytick.labelsize": FONT_SIZE,
    "figure.facecolor": "white",
    "axes.facecolor": "white",
    "savefig.facecolor": "white",
    "text.color": INK,
    "axes.labelcolor": INK,
    "axes.edgecolor": MUTED,
    "xtick.color": MUTED,
    "ytick.color": MUTED,
    "xtick.labelcolor": INK,
    "ytick.labelcolor": INK,
    "axes.spines.top": False,
    "axes.spines.right": False,
    "axes.linewidth": 1.0,
    "axes.titlelocation": "left",
    "axes.titley": 1.0,
    "axes.unicode_minus": True,
    "axes.axisbelow": True,
    "grid.color": PALE,
    "grid.linewidth": 1.0,
    "lines.linewidth": 2.2,
    "lines.markersize": 9,
    "patch.linewidth": 1.2,
    "hatch.linewidth": 0.8,
    # letters stay text: a third less time and a quarter of the size than their outlines.  Verdana is as wide as DejaVu Sans and
    # what else a reader's machine puts in its place is narrower, so nothing runs into its neighbour
    "svg.fonttype": "none",
    "svg.hashsalt": "lathe course",
    "path.simplify": True,
    "text.usetex": False,
    "text.parse_math": False,
}

_NO_METADATA = dict.fromkeys(("Creator", "Date", "Format", "Type"))
_REFERENCE = re.compile(r'(?:url\(#|href="#)([^)"]+)')
_ID = re.compile(r' id="([^"]+)"')
_ROOT = re.compile(r"<svg[^>]*>", re.DOTALL)
_EMPTY = re.compile(r"\n\s*(?=\n)")


def svg(figure: Figure, description: str, title: str = "", key: str = "") -> str:
    """A figure as an SVG element to stand in a page.

    The same figure always gives the same text.  It is as wide as its place, keeps its shape,
    and is read aloud as ``title`` and ``description``.  Names inside it are its own, so two
    pictures on a page do not borrow each other's parts; ``key`` tells apart two that are
    alike in every stroke.
    """
    buffer = io.StringIO()
    canvas = figure.canvas if isinstance(figure.canvas, FigureCanvasSVG) else FigureCanvasSVG(figure)
    canvas.print_svg(buffer, metadata=_NO_METADATA)
    drawn = buffer.getvalue()
    mark = "p" + hashlib.blake2b(f"{key}\n{title}\n{description}\n{drawn}".encode(), digest_size=6).hexdigest()
    width, height = (size * POINTS for size in figure.get_size_inches())
    root = (
        f'<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" viewBox="0 0 {width:g} {height:g}" '
        f'role="img" aria-labelledby="{mark}-t {mark}-d" preserveAspectRatio="xMinYMin meet" '
        f'style="display:block;width:100%;height:auto;aspect-ratio:{width:g}/{height:g};max-height:80vh;background:#fff">'
        f'<title id="{mark}-t">{html.escape(title or "Picture")}</title><desc id="{mark}-d">{html.escape(description)}</desc>'
    )
    body = drawn[_ROOT.search(drawn).end() :]
    return root + _EMPTY.sub("", _own_names(body, mark)).strip()


def _own_names(body: str, mark: str) -> str:
    """Names that are referred to get the mark of this picture; the others go."""
    used = set(_REFERENCE.findall(body))
    body = _ID.sub(lambda found: f' id="{mark}-{found[1]}"' if found[1] in used else "", body)
    return _REFERENCE.sub(lambda found: found[0][: -len(found[1])] + f"{mark}-{found[1]}", body)


@functools.lru_cache(maxsize=4096)
def text_size(text: str, size: float = FONT_SIZE, weight: str = "normal") -> tuple[float, float]:
    """Width and height in points of ``text`` as it will be drawn; lines are parted by a line break."""
    font = FontProperties(family="DejaVu Sans", size=size, weight=weight)
    lines = text.split("\n")
    widths = [text_to_path.get_text_width_height_descent(line, font, ismath=False)[0] if line else 0.0 for line in lines]
    return max(widths), 1.2 * size * len(lines)


class Canvas:
    """Draws pictures again and again, keeping one figure for each.

    No window, no global state: a slider asks for the next picture and gets its SVG.
    """

    def __init__(self, key: str = ""):
        self._key = key
        self._figures: dict[str, Figure] = {}

    def figure(self, picture: Picture, evaluation: Evaluation, **extra: Any) -> Figure:
        """The figure of ``picture``, drawn for ``evaluation``."""
        with matplotlib.rc_context(STYLE):
            figure = self._figures.get(picture.name)
            if figure is None:
                figure = self._figures[picture.name] = Figure(picture.size, dpi=POINTS)
                FigureCanvasSVG(figure)
            picture.draw_on(figure, evaluation, **extra)
        return figure

    @in_turn
    def draw(self, picture: Picture, evaluation: Evaluation, **extra: Any) -> str:
        """The SVG of ``picture`` for ``evaluation``; ``extra`` goes to the picture."""
        figure = self.figure(picture, evaluation, **extra)
        with matplotlib.rc_context(STYLE):
            return svg(figure, picture.describe(evaluation, **extra), picture.title, self._key)
