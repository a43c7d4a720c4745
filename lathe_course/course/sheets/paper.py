"""Paper, pens and letters of a drawing: one unit is one millimetre of paper.

Widths and kinds of line are those of ISO 128-2, scales those of ISO 5455, heights of letters those of ISO 3098; all recalled from memory.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from matplotlib.axes import Axes
from matplotlib.collections import LineCollection, PolyCollection
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Polygon

from ..pictures.style import text_size

#: points of print in a millimetre
MM = 72 / 25.4
#: usual scales: one to so many
SCALES = (1, 2, 5, 10, 20, 50)
#: long and short side of each paper, mm, lying on its long side
PAPERS = {"A4": (297.0, 210.0), "A3": (420.0, 297.0)}
#: capitals are this share of the size of a letter, as of DejaVu Sans
_CAPITALS = 0.73
_DASHES = {"hidden": (6, 2), "centre": (14, 2, 1, 2), "phantom": (14, 2, 1, 2, 1, 2)}


def scale_for(wide: float, high: float, room: tuple[float, float]) -> int:
    """The largest usual scale at which ``wide`` by ``high`` metres fits ``room`` in mm; the smallest of all where none does."""
    return next((n for n in SCALES if 1000 * wide / n <= room[0] and 1000 * high / n <= room[1]), SCALES[-1])


@dataclass
class Paper:
    """A sheet to draw on.  Lines are wide for what is seen and known, narrow for all else."""

    name: str
    figure: Figure
    axes: Axes
    #: widths of wide and narrow lines and height of capitals, mm
    wide: float
    narrow: float
    capitals: float
    lines: dict[tuple[str, float, str], list[np.ndarray]] = field(default_factory=dict)

    @classmethod
    def blank(cls, name: str, figure: Figure | None = None) -> Paper:
        """An empty sheet with its frame."""
        across, up = PAPERS[name]
        figure = figure or Figure((across / 25.4, up / 25.4), dpi=72)
        figure.clear()
        axes = figure.add_axes((0, 0, 1, 1))
        axes.set_axis_off()
        axes.set_xlim(0, across)
        axes.set_ylim(0, up)
        wide, capitals = (0.35, 1.8) if name == "A4" else (0.5, 2.5)
        paper = cls(name, figure, axes, wide, wide / 2, capitals)
        left, bottom, right, top = paper.frame
        paper.line([(left, bottom), (right, bottom), (right, top), (left, top), (left, bottom)], width=0.7)
        return paper

    @property
    def frame(self) -> tuple[float, float, float, float]:
        """Left, bottom, right and top of the frame: 20 mm to the left for filing, 10 mm elsewhere (ISO 5457, recalled from memory)."""
        across, up = PAPERS[self.name]
        return 20.0, 10.0, across - 10.0, up - 10.0

    def line(
        self,
        points: Sequence[tuple[float, float]] | np.ndarray,
        kind: str = "",
        width: float | None = None,
        name: str = "",
        colour: str = "black",
    ) -> None:
        """A line through points; ``kind`` hidden, centre or phantom, else unbroken.  ``name`` becomes its id in the file."""
        width = self.narrow if width is None else width
        if name:
            drawn = self.axes.add_line(
                Line2D(*np.asarray(points, float).T, color=colour, lw=width * MM, solid_capstyle="butt", zorder=4)
            )
            drawn.set_gid(name)
            if kind:
                drawn.set_dashes(_DASHES[kind])
        else:
            self.lines.setdefault((kind, width, colour), []).append(np.asarray(points, float))

    def done(self) -> None:
        """Put all lines without a name on the sheet, those of one kind together."""
        for (kind, width, colour), lines in self.lines.items():
            dashes = [one * self.narrow / width for one in _DASHES[kind]] if kind else None
            self.axes.add_collection(
                LineCollection(
                    lines,
                    linewidths=width * MM,
                    colors=colour,
                    linestyles=[(0, dashes)] if kind else "solid",
                    capstyle="butt",
                    joinstyle="miter",
                    zorder=4,
                ),
                autolim=False,
            )
        self.lines.clear()

    def circle(
        self, middle: tuple[float, float], diameter: float, kind: str = "", width: float | None = None, name: str = ""
    ) -> None:
        """A circle as a line of many corners."""
        around = np.linspace(0, 2 * np.pi, 97)
        self.line(np.asarray(middle) + diameter / 2 * np.column_stack([np.cos(around), np.sin(around)]), kind, width, name)

    def areas(self, outlines: Sequence[np.ndarray], widths: Sequence[float], fills: Sequence[str], name: str = "") -> None:
        """Filled outlines, the later over the earlier."""
        drawn = PolyCollection(
            outlines, linewidths=np.asarray(widths) * MM, facecolors=fills, edgecolors="black", zorder=3, joinstyle="miter"
        )
        if name:
            drawn.set_gid(name)
        self.axes.add_collection(drawn, autolim=False)

    def text(
        self,
        x: float,
        y: float,
        words: str,
        ha: str = "left",
        va: str = "center",
        size: float = 1.0,
        weight: str = "normal",
        turned: float = 0.0,
        ground: bool = False,
    ) -> None:
        """Words with capitals ``size`` times the usual height; ``ground`` leaves what is behind them white."""
        box = {"facecolor": "white", "edgecolor": "none", "pad": 0.2} if ground else None
        self.axes.text(
            x,
            y,
            words,
            ha=ha,
            va=va,
            size=self.points(size),
            weight=weight,
            rotation=turned,
            rotation_mode="anchor" if turned else None,
            bbox=box,
            zorder=5,
        )

    def points(self, size: float = 1.0) -> float:
        """Size of letters in points."""
        return size * self.capitals * MM / _CAPITALS

    def width_of(self, words: str, size: float = 1.0, weight: str = "normal") -> float:
        """How wide words come out, mm."""
        return text_size(words, round(self.points(size), 3), weight)[0] / MM

    @property
    def row(self) -> float:
        """From one row of letters to the next, mm."""
        return 1.9 * self.capitals

    # --- dimensions ---------------------------------------------------------------------------------
    def dimension(
        self, start: tuple[float, float], end: tuple[float, float], words: str, away: tuple[float, float], name: str = ""
    ) -> None:
        """A dimension between two points, its line ``away`` from them (mm), with extension lines, arrows and words along it."""
        a, b, shift = (np.asarray(one, float) for one in (start, end, away))
        p, q = a + shift, b + shift
        along = q - p
        length = np.hypot(*along)
        if not length > 0:
            return
        unit = along / length
        across = np.array([-unit[1], unit[0]])
        # the extension lines end a little past the dimension line; what of the shift lies along it is left out
        out = across * np.sign(shift @ across) if abs(shift @ across) > 1e-9 else 0 * across
        p, q = a + out * abs(shift @ across), b + out * abs(shift @ across)
        for near, far in ((a, p), (b, q)):
            if np.hypot(*(far - near)) > 1.0:
                self.line([near + out * 0.8, far + out * 1.2])
        self.line([p, q], name=name)
        arrow, room = 1.5 * self.capitals, self.width_of(words) + 2
        inside = length > 2.6 * arrow
        for point, way in ((p, unit), (q, -unit)):
            way = way if inside else -way
            self.axes.add_patch(
                Polygon(
                    [point, point + arrow * way + 0.14 * arrow * across, point + arrow * way - 0.14 * arrow * across],
                    color="black",
                    lw=0,
                    zorder=5,
                )
            )
            if not inside:
                self.line([point, point + 2.2 * arrow * way])
        turn = np.degrees(np.arctan2(unit[1], unit[0]))
        turn = turn + 180 if turn <= -89.9 or turn > 90.1 else turn  # read from below or from the right
        normal = np.array([-np.sin(np.radians(turn)), np.cos(np.radians(turn))])
        middle = (p + q) / 2
        if room > length and abs(abs(turn) - 90) < 0.1:  # beside an upright one, level
            self.text(middle[0] + self.capitals * (1.2 if inside else 0.8), middle[1], words, ground=True)
            return
        if room > length:  # beside it, past its end
            middle = (q if turn == np.degrees(np.arctan2(unit[1], unit[0])) else p) + np.array(
                [np.cos(np.radians(turn)), np.sin(np.radians(turn))]
            ) * (room / 2 + (1.0 if inside else 2.3 * arrow))
        at = middle + normal * 0.45 * self.capitals
        self.text(
            *at,
            words,
            ha="center",
            va="bottom" if abs(turn) < 0.1 else "baseline",
            turned=0.0 if abs(turn) < 0.1 else turn,
            ground=True,
        )
