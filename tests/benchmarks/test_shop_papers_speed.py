"""What a press waits for: the papers for the shop in half a second on a quiet machine, with every bar fitted anew.

Held as a ratio to the plain drawing of ``test_slider.py``, made in turns with it.
"""

import datetime

import pytest
from clock import best, told
from test_slider import QUIET, PlainDrawing

from lathe_course.course.printed.shop_papers import shop_papers_html
from lathe_course.design.asked.shop_list import fitted
from lathe_course.design.demos import DEMOS, demo

pytestmark = pytest.mark.benchmark

AIM = 0.5


@pytest.mark.parametrize("name", DEMOS)
def test_the_papers_are_written_before_anybody_wonders(capsys, name):
    design, day = demo(name), datetime.date(2026, 3, 30)

    def write():
        fitted.cache_clear()
        shop_papers_html(design, day)

    took, drawing = best(write, PlainDrawing().draw, rounds=3)
    told(capsys, f"papers for the shop, {name}: {took / drawing:.1f} plain drawings (at most {AIM / QUIET:.0f})")
    assert took / drawing < AIM / QUIET
