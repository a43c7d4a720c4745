"""Controls made from decisions: unit, range, step and plain label come from the chain."""
from __future__ import annotations

import math
from typing import Any, Callable

import ipywidgets as widgets

from .. import units
from ..design.design import Design
from ..design.parts_of_chain import Decision
from ..ranges import likely

__all__ = ["Control", "control"]

_WIDE = {"description_width": "18em"}


class Control:
    """One decision as a widget.  ``written`` is what the design file would hold, ``value`` is SI or the option."""

    def __init__(self, decision: Decision, design: Design):
        self.decision, self.system = decision, design.system
        self.widget = self._make(design[decision.name])
        self.widget.add_class(f"decision-{decision.name}")

    # --- making -----------------------------------------------------------------------------------
    def _make(self, value: Any) -> widgets.Widget:
        d = self.decision
        if d.free_text:
            return widgets.Textarea(value=str(value), description=d.label, style=_WIDE, layout=widgets.Layout(width="95%", height="4.5em"))
        if not d.numeric:
            return widgets.Dropdown(options=d.options, value=value, description=d.label, style=_WIDE, layout=widgets.Layout(width="32em"))
        self.unit = units.unit_text(d.kind, self.system)
        label = f"{d.label} [{self.unit}]" if self.unit else d.label
        layout = widgets.Layout(width="95%", max_width="60em")
        here = self._in_unit(likely(value))
        if d.preferred:
            values = sorted({*(self._in_unit(v * d.kind.factor) for v in d.preferred), here})
            options = [(units.number(v, 4), v) for v in values]
            return widgets.SelectionSlider(options=options, value=here, description=label, style=_WIDE, layout=layout)
        low, high, step = self._scale()
        # a value the learner typed may lie outside the sensible range: the slider reaches out to it
        low, high = min(low, here), max(high, here)
        places = max(0, -math.floor(math.log10(step) + 1e-9))
        return widgets.FloatSlider(value=here, min=low, max=high, step=step, description=label, readout_format=f".{places}f",
                                   style=_WIDE, layout=layout)

    def _scale(self) -> tuple[float, float, float]:
        """Low, high and step in the unit shown; inch steps are rounded to 1, 2 or 5."""
        d = self.decision
        if self.unit == d.kind.unit:
            return d.low, d.high, d.step
        step = _round_125(self._in_unit(d.step * d.kind.factor))
        low, high = (self._in_unit(v * d.kind.factor) for v in (d.low, d.high))
        return math.ceil(low / step - 1e-9) * step, math.ceil(high / step) * step, step

    def _in_unit(self, si: float) -> float:
        return float(f"{units.in_unit(si, self.decision.kind, self.system):.6g}")

    # --- reading ----------------------------------------------------------------------------------
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

    def show(self, design: Design) -> None:
        """Move the widget to the value of a design."""
        value = design[self.decision.name]
        if self.decision.numeric:
            value = self._in_unit(likely(value))
            if isinstance(self.widget, widgets.FloatSlider):
                self.widget.min, self.widget.max = min(self.widget.min, value), max(self.widget.max, value)
            elif value not in [v for _, v in self.widget.options]:
                self.widget.options = sorted([*self.widget.options, (units.number(value, 4), value)], key=lambda o: o[1])
        self.widget.value = value

    def when_moved(self, moved: Callable[[], None]) -> None:
        self.widget.observe(lambda _: moved(), names="value")


def control(design: Design, name: str) -> Control:
    """The control of one decision, at the value of ``design``."""
    return Control(design.chain.decisions[name], design)


def _round_125(step: float) -> float:
    power = 10.0 ** math.floor(math.log10(step))
    return next(m * power for m in (1, 2, 5, 10) if m * power >= step * 0.75)
