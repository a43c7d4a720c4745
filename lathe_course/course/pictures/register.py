"""The list of pictures, and what a picture is."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from ...design.evaluation import Evaluation
from .style import MUTED, WIDTH

#: share of the figure: left, bottom, width, height
Panel = tuple[float, float, float, float]


class NothingToDraw(Exception):
    """There is no such picture for this design; the sentence says why and stands in its place."""


@dataclass(frozen=True)
class Picture:
    """One picture: ``draw(evaluation, axes, **extra)`` on its panels, and the same told in words.

    With one panel ``axes`` is that Axes, with several a tuple of them.
    """

    name: str
    title: str
    size: tuple[float, float]
    panels: tuple[Panel, ...]
    draw: Callable[..., None]
    words: Callable[..., str]

    def draw_on(self, figure: Figure, evaluation: Evaluation, **extra: Any) -> None:
        """Draw on ``figure``, in place of what was there."""
        axes = tuple(figure.axes) if len(figure.axes) == len(self.panels) else self._set_up(figure)
        for one in axes:
            one.clear()
            one.set_visible(True)
        try:
            self.draw(evaluation, axes if len(axes) > 1 else axes[0], **extra)
        except NothingToDraw as reason:
            self._say(axes, str(reason))

    def _set_up(self, figure: Figure) -> tuple[Axes, ...]:
        figure.clear()
        return tuple(figure.add_axes(panel) for panel in self.panels)

    @staticmethod
    def _say(axes: tuple[Axes, ...], reason: str) -> None:
        for one in axes:
            one.clear()
            one.set_visible(one is axes[0])
        axes[0].set_axis_off()
        axes[0].text(0.5, 0.5, reason, transform=axes[0].transAxes, ha="center", va="center", wrap=True, color=MUTED)

    def describe(self, evaluation: Evaluation, **extra: Any) -> str:
        """What the picture shows, in words and figures, for those who cannot see it."""
        try:
            return self.words(evaluation, **extra)
        except NothingToDraw as reason:
            return str(reason)


#: every picture by name
PICTURES: dict[str, Picture] = {}


def picture(
    title: str, words: Callable[..., str], height: float = 4.5, panels: tuple[Panel, ...] = ((0.13, 0.16, 0.84, 0.80),)
) -> Callable[[Callable[..., None]], Picture]:
    """Put a drawing function into the list of pictures, under its own name."""

    def make(draw: Callable[..., None]) -> Picture:
        made = Picture(draw.__name__, title, (WIDTH, height), panels, draw, words)
        PICTURES[made.name] = made
        return made

    return make
