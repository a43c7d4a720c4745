"""Controls made from decisions: unit, range, step and plain label come from the chain."""
from __future__ import annotations

import contextlib
import math
from collections.abc import Callable
from typing import Any

import ipywidgets as widgets

from .. import units
from ..design.design import Design
from ..design.parts_of_chain import Decision
from ..ranges import likely

__all__ = ["Control", "control"]

_WIDE = {"description_width": "24em"}        # the longest label with its unit


class Control:
    """One decision as a widget.  ``written`` is what the design file would hold, ``value`` is SI or the option."""

    def __init__(self, decision: Decision, design: Design):
        self.decision, self.system = decision, design.system
        self.widget = self._make(design[decision.name])
        self.widget.add_class(f"decision-{decision.name}")
        self._left_at = self.widget.value

    # --- making -----------------------------------------------------------------------------------
    def _make(self, value: Any) -> widgets.Widget:
        d = self.decision
        if d.free_text:
            return widgets.Textarea(value=str(value), description=d.label, style=_WIDE, layout=widgets.Layout(width="95%", height="4.5em"))
        if not d.numeric:
            return widgets.Dropdown(options=d.options, value=value, description=d.label, style=_WIDE, layout=widgets.Layout(width="40em"))
        kind = widgets.SelectionSlider if d.preferred else widgets.FloatSlider
        return kind(**self._scale(value), style=_WIDE, layout=widgets.Layout(width="95%", max_width="60em"))

    def _scale(self, value: Any) -> dict[str, Any]:
        """What a slider shows and where it can go, in the unit of the reader.

        A value the learner typed may lie outside the sensible range: the slider reaches out to it.
        """
        d = self.decision
        here = self._in_unit(likely(value))
        label = {"description": f"{d.label} [{self.unit}]" if self.unit else d.label}
        if d.preferred:
            values = sorted({*(self._in_unit(v * d.kind.factor) for v in d.preferred), here})
            return {**label, "options": [(units.number(v, 4), v) for v in values], "value": here}
        low, high, step = d.low, d.high, d.step
        if self.unit != d.kind.unit:
            step = _round_125(self._in_unit(step * d.kind.factor))
            low = step * math.ceil(self._in_unit(low * d.kind.factor) / step - 1e-9)
            high = step * math.ceil(self._in_unit(high * d.kind.factor) / step - 1e-9)
        low -= step * max(0, math.ceil((low - here) / step - 1e-9))         # by whole steps, so that they stay round
        low = _tidy(low)
        places = max(_places(step, 1e-9), _places(low, 1e-9), _places(here, 5e-4))
        return {**label, "min": low, "max": _tidy(max(high, here)), "step": step, "value": here, "readout_format": f".{places}f"}

    @property
    def unit(self) -> str:
        """The unit of a numeric decision, as the reader has it."""
        return units.unit_text(self.decision.kind, self.system)

    def _in_unit(self, si: float) -> float:
        return _tidy(units.in_unit(si, self.decision.kind, self.system))

    # --- reading ----------------------------------------------------------------------------------
    @property
    def moved(self) -> bool:
        """Has the learner moved it since it last showed a design?  One left alone stands for what is
        written in the design, be it a range, another unit or finer than the steps."""
        return self.widget.value != self._left_at

    @property
    def value(self) -> Any:
        """SI number, option or text."""
        d = self.decision
        return self.widget.value * units.si_factor(self.unit, d.kind.sort) if d.numeric else self.widget.value

    @property
    def written(self) -> str:
        """As the learner would write it: '75 mm'."""
        if not self.decision.numeric:
            return str(self.widget.value)
        return f"{units.number(self.widget.value, 6)} {self.unit}".strip()

    # --- moving -----------------------------------------------------------------------------------
    def show(self, design: Design) -> None:
        """Move the widget to the value of a design, and to the units it is shown in."""
        self.system = design.system
        value = design[self.decision.name]
        shown = self._scale(value) if self.decision.numeric else {"value": value}
        # low, high and value of a slider change together; new options must be there before one of them is chosen
        with self.widget.hold_trait_notifications() if "min" in shown else contextlib.nullcontext():
            for name, set_to in shown.items():
                setattr(self.widget, name, set_to)
        self._left_at = self.widget.value

    def when_moved(self, moved: Callable[[], None]) -> None:
        """Call ``moved`` after every move, by the learner or by ``show``."""
        self.widget.observe(lambda _: moved(), names="value")


def control(design: Design, name: str) -> Control:
    """The control of one decision, at the value of ``design``."""
    return Control(design.chain.decisions[name], design)


def _tidy(value: float) -> float:
    """Six digits that matter: what a slider shows is what it holds."""
    return float(f"{value:.6g}")


def _places(value: float, error: float) -> int:
    """Places after the point that show ``value`` to within a share ``error``; at most five."""
    return next((places for places in range(5) if abs(round(value, places) - value) <= error * abs(value)), 5)


def _round_125(step: float) -> float:
    """The nearest step of 1, 2 or 5 times a power of ten that is not much finer."""
    power = 10.0 ** math.floor(math.log10(step))
    return next(m * power for m in (1, 2, 5, 10) if m * power >= step * 0.75)
