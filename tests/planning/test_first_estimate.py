"""The first estimate reproduces its three sizes, grows with size and doubts itself outside them."""

import numpy as np
import pytest

from lathe_course.planning import first_estimate as f
from lathe_course.tables import table
from lathe_course.units import InputProblem

ROWS = list(table("sizes").values())


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["size"])
@pytest.mark.parametrize("figure", f.FIGURES)
def test_the_sizes_of_the_table_come_back(row, figure):
    found = f.first_estimate(row["centre_height"], row["between_centres"].likely)[figure]
    assert found == pytest.approx(row[figure], rel=1e-9)


@pytest.mark.parametrize("figure", f.FIGURES)
@pytest.mark.parametrize("end", ["low", "likely", "high"])
def test_larger_is_never_less(figure, end):
    heights = np.linspace(0.03, 0.16, 80)
    figures = getattr(f.first_estimate(heights, f.usual_length(heights))[figure], end)
    assert figures.shape == heights.shape and np.all(np.diff(figures) > 0)


def test_low_likely_high_stay_in_order_beyond_the_table():
    heights = np.linspace(0.03, 0.16, 50)
    for low, likely, high in f.first_estimate(heights, f.usual_length(heights)).values():
        assert np.all(low < likely) and np.all(likely < high)


def test_longer_between_centres_is_heavier_but_not_in_proportion():
    short, long = (f.first_estimate(0.075, length)["mass"].likely for length in (0.25, 0.5))
    assert short < long < 2 * short


def test_sizes_outside_the_table_are_doubted():
    assert f.estimate_doubts(0.075, 0.3) == []
    assert f.estimate_doubts(0.040, 0.16) == [] and f.estimate_doubts(0.130, 0.6) == []
    assert "centre height is 35 mm, outside 40 to 130 mm" in f.estimate_doubts(0.035, 0.14)[0]
    assert "centre height is 150 mm, outside 40 to 130 mm" in f.estimate_doubts(0.15, 0.7)[0]
    assert "between centres is less than half or more than twice" in f.estimate_doubts(0.075, 1.0)[0]


def test_a_build_shorter_than_buying_is_refused():
    with pytest.raises(InputProblem, match="Building must take more hours than buying"):
        f.price_of_learning(build_money="1000 EUR", used_price="700 EUR", build_hours="20 h", used_hours="30 h")
    assert np.isnan(f.price_of_learning.si(1000, 700, 20.0, 30.0))


def test_building_cheaper_than_buying_has_a_negative_price():
    assert f.price_of_learning.si(500, 900, 420, 20) == pytest.approx(-1.0)
