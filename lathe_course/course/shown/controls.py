"""Controls made from decisions: unit, range, step and plain label come from the chain."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterable
from typing import Any

import ipywidgets as widgets

from ... import units
from ...design.chain.entries import Decision
from ...design.design import Design
from ...ranges import likely
from ...units import InputProblem
from .panels import Place

_BARE = re.compile(r"[-+−]?\s*(\d+[.,]?\d*|[.,]\d+)")
_HEIGHTS = {widgets.Textarea: "5.5em"}  # of a box for words, its label above it


class Control:
    """One decision as a widget.  ``written`` is what the design file would hold, ``value`` is SI or the option.

    ``place`` is what stands on the page; ``widget`` inside it is made anew when a value asks for another scale.
    Beside a slider stands its figure, to be typed as well: what lies beyond the slider is taken, with a word on it,
    and what cannot be is answered.
    """

    def __init__(self, decision: Decision, design: Design):
        self.decision = decision
        self.place = widgets.Box(layout=widgets.Layout(width="100%", flex_flow="column")).add_class("lc-control")
        self._told: list[Callable[[], None]] = []
        self._form: Any = None
        if decision.numeric:
            self.entry = (
                widgets.Text(description=decision.label, continuous_update=False, layout=widgets.Layout(width="6em"))
                .add_class("lc-entry")
                .add_class("lc-unseen")
            )
            self.said = Place(margin="0").add_class("lc-said")
            self.entry.observe(self._typed, names="value")
            self.place.add_class("lc-figure")
        self.show(design)

    # --- making -----------------------------------------------------------------------------------
    def _made_for(self, value: Any) -> tuple[type[widgets.Widget], dict[str, Any], Any]:
        """Sort of widget, its traits, and what it shows, for a value of the decision."""
        d = self.decision
        if d.free_text:
            return widgets.Textarea, {"description": d.label}, str(value)
        if not d.numeric:
            return widgets.Dropdown, {"description": d.label, "options": d.options}, value
        here = self._in_unit(likely(value))
        label = {"description": f"{d.label} [{self.unit}]" if self.unit else d.label}
        if d.preferred:
            return (
                widgets.SelectionSlider,
                {**label, "options": _named([self._in_unit(v * d.kind.factor) for v in d.preferred], here), "readout": False},
                here,
            )
        low, high, step = self._scale(here)
        stops = _stops(low, high, step)
        if not any(math.isclose(here, stop, rel_tol=1e-9) for stop in stops):
            # the browser pulls a plain slider to its steps, and would change what nobody moved
            return widgets.SelectionSlider, {**label, "options": _named(stops, here), "readout": False}, here
        places = max(_places(step), _places(low))
        return (
            widgets.FloatSlider,
            {**label, "min": low, "max": high, "step": step, "readout_format": f".{places}f", "readout": False},
            here,
        )

    def _scale(self, here: float) -> tuple[float, float, float]:
        """Low, high and step in the unit shown; where that is not the workshop's, steps are 1, 2 or 5 of something.

        A value beyond the sensible range is reached by whole steps, so that the figures stay round.
        """
        d = self.decision
        low, high, step = d.low, d.high, d.step
        if self.unit != d.kind.unit:
            step = _round_125(self._in_unit(step * d.kind.factor))
            low = step * math.ceil(self._in_unit(low * d.kind.factor) / step - 1e-9)
            high = step * math.ceil(self._in_unit(high * d.kind.factor) / step - 1e-9)
        low -= step * max(0, math.floor((low - here) / step + 1e-9))
        high += step * max(0, math.floor((here - high) / step + 1e-9))
        return _tidy(low), _tidy(high), step

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
        now, then = self.widget.value, self._left_at
        return not math.isclose(now, then, rel_tol=1e-9) if self.decision.numeric else now != then

    @property
    def value(self) -> Any:
        """SI number, option or text."""
        d = self.decision
        return self.widget.value * units.si_per_unit(d.kind, self.system) if d.numeric else self.widget.value

    @property
    def written(self) -> str:
        """As the learner would write it: '75 mm'."""
        if not self.decision.numeric:
            return str(self.widget.value)
        return f"{units.number(self.widget.value, 6)} {self.unit}".strip()

    # --- moving -----------------------------------------------------------------------------------
    def show(self, design: Design) -> None:
        """Move to the value of a design, in the units it is shown in."""
        self.system = design.system
        shown = self._stand_at(design[self.decision.name])
        self._left_at = shown
        source, _ = self.decision.asked_if
        if source:
            self.heed(design[source])

    def _stand_at(self, value: Any) -> Any:
        """Show a value of the decision, on a scale on which it has its place; gives it as the widget holds it."""
        sort, traits, shown = self._made_for(value)
        if (sort, traits) == self._form:
            self.widget.value = shown
        else:
            self._form = sort, traits
            self.widget = sort(value=shown, **traits, layout=widgets.Layout(width="100%", height=_HEIGHTS.get(sort)))
            self.widget.add_class(f"decision-{self.decision.name}")
            self.widget.observe(self._tell, names="value")
            self.place.children = (self.widget, self.entry, self.said) if self.decision.numeric else (self.widget,)
        self._figure()
        return shown

    def _figure(self) -> None:
        """The figure beside the slider, as the slider stands."""
        if self.decision.numeric:
            self.entry.value = units.number(self.widget.value, 6)
            self.said.say("")

    # --- typing -----------------------------------------------------------------------------------
    def _typed(self, _: Any) -> None:
        """A figure with or without its unit, in the place of a move of the slider."""
        text = self.entry.value.strip()
        if text == units.number(self.widget.value, 6):
            return
        d = self.decision
        try:
            si = d.read(
                f"{text} {self.unit}".strip() if _BARE.fullmatch(text) else units.in_lists_money(text, d.kind, self.system)
            )
        except InputProblem as problem:
            self.said.say(f"Not taken: {problem}")
            return
        before, form = self.widget.value, self._form
        self._stand_at(si)
        self.said.say(d.doubt(si, self.system))
        if form != self._form and not math.isclose(before, self.widget.value, rel_tol=1e-9):
            self._call()  # on a scale made anew nobody has seen it move

    def heed(self, choice: Any) -> None:
        """Stand still where the other decision that this one hangs on was settled so that this one does not count."""
        self.widget.disabled = choice not in self.decision.asked_if[1]
        if self.decision.numeric:
            self.entry.disabled = self.widget.disabled

    def _tell(self, _: Any) -> None:
        self._figure()
        self._call()

    def _call(self) -> None:
        for moved in self._told:
            moved()

    def when_moved(self, moved: Callable[[], None]) -> None:
        """Call ``moved`` after every move, by the learner or by ``show``."""
        self._told.append(moved)


def controls(design: Design, names: Iterable[str]) -> dict[str, Control]:
    """The controls of some decisions, at the values of ``design``; one that hangs on another of them heeds its moves."""
    made = {name: Control(design.chain.decisions[name], design) for name in names}
    for one in made.values():
        source = made.get(one.decision.asked_if[0])
        if source is not None:
            source.when_moved(lambda one=one, source=source: one.heed(source.value))
    return made


def _tidy(value: float) -> float:
    """Six digits that matter: what a slider shows is what it holds."""
    return float(f"{value:.6g}")


def _stops(low: float, high: float, step: float) -> list[float]:
    """Every value from low to high by steps; nought is nought, not the last digit of a sum."""
    stops = (low + step * count for count in range(round((high - low) / step) + 1))
    return [_tidy(stop) if abs(stop) > 1e-6 * step else 0.0 for stop in stops]


def _places(value: float) -> int:
    """Places after the point that ``value`` needs; at most five."""
    return next((places for places in range(5) if math.isclose(round(value, places), value, rel_tol=1e-9)), 5)


def _named(stops: list[float], here: float) -> list[tuple[str, float]]:
    """Stops of a slider with their names, and the value of the design among them."""
    return [(units.number(stop, 4), stop) for stop in sorted({*stops, here})]


def _round_125(step: float) -> float:
    """The nearest step of 1, 2 or 5 times a power of ten that is not much finer."""
    power = 10.0 ** math.floor(math.log10(step))
    return next(m * power for m in (1, 2, 5, 10) if m * power >= step * 0.75)
