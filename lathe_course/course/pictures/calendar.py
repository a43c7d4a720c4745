"""An axis of months from the start, with the months of the year under them."""

from __future__ import annotations

from matplotlib.axes import Axes

from ...design.chapters.timescale import MONTHS
from ...design.evaluation import Evaluation

#: draws for a picture that follows a slider: enough for its ends of a tenth, few enough to answer at once
FEW = 400
_MOST_TICKS = 8
_STEPS = (1, 2, 3, 6, 12, 24, 36, 60, 120, 240)


def short_name(e: Evaluation, months: float) -> str:
    """'Sep' and 'year 2' on two lines: the month of the year, and which year of the build."""
    since = e["calendar"].first - 1 + int(months + 1e-9)
    return f"{MONTHS[since % 12][:3]}\nyear {since // 12 + 1}"


def calendar_axis(e: Evaluation, axes: Axes, end: float) -> None:
    """Months from 0 to ``end`` across; under each tick its month of the year and the year, the year of the beginning being 1."""
    step = next((step for step in _STEPS if end / step <= _MOST_TICKS), _STEPS[-1])
    ticks = [float(tick) for tick in range(0, int(end) + 1, step) if tick <= 0.96 * end]
    axes.set_xlim(0, end)
    axes.set_xticks(ticks, [f"{tick:.0f}\n{short_name(e, tick)}" for tick in ticks], linespacing=1.1)
    axes.set_xlabel("months from the start; below it the calendar")
