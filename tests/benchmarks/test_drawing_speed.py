"""The whole sheet of a drawing: under two seconds on the quiet machine of ``test_slider``, held as a ratio to its plain drawing."""

import functools
import statistics

import pytest
from clock import seconds, told
from test_slider import QUIET, PlainDrawing

from lathe_course.course.sheets.written import drawing_written
from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.evaluation import evaluate

pytestmark = pytest.mark.benchmark

MOST = 2.0 / QUIET


@pytest.mark.parametrize("name", DEMOS)
def test_a_sheet_is_there_in_two_seconds(name, capsys):
    """From a changed decision to the file, as SVG and as PDF."""
    e, plain = evaluate(demo(name)), PlainDrawing()
    for ending in (".svg", ".pdf"):

        def sheet(change, ending=ending):
            drawing_written(evaluate(e.design.trying(chuck_diameter=0.05 + 0.001 * change), earlier=e), ending, "A3")

        sheet(0)
        found, measure = zip(*((seconds(functools.partial(sheet, change)), seconds(plain.draw)) for change in range(1, 8)))
        sheet_takes, drawing_takes = statistics.median(found), statistics.median(measure)
        told(
            capsys,
            f"{name} {ending}: {1000 * sheet_takes:.0f} ms, {sheet_takes / drawing_takes:.0f} times a plain drawing of {1000 * drawing_takes:.0f} ms (at most {MOST:.0f})",
        )
        assert sheet_takes < MOST * drawing_takes
