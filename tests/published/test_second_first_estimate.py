"""Second programs for the first estimate: months run through one by one, and two ledgers held against each other."""

import numpy as np
import pytest
from evidence import agrees, vouches
from later import Later

from lathe_course.build import first_estimate as f

brentq = Later("scipy.optimize", "brentq")


@vouches(
    "months_needed",
    evidence="second program",
    source="definition, a diary run through day by day",
    because="steps of a thousandth of a month",
)
@pytest.mark.parametrize(("hours", "an_hour", "money", "a_month"), [(575, 22, 3800, 110), (800, 10, 500, 100), (0, 5, 1200, 120)])
def test_a_diary_ends_when_both_hours_and_money_are_there(hours, an_hour, money, a_month):
    step, day, worked, saved = 1e-3, 0, 0.0, 0.0
    while worked < hours or saved < money:
        day, worked, saved = day + 1, worked + an_hour * step, saved + a_month * step
    agrees(f.months_needed.si(hours, an_hour, money, a_month), day * step, abs=2e-3)


@vouches(
    "price_of_learning", evidence="second program", source="definition, the price of an hour at which both ledgers close alike"
)
@pytest.mark.parametrize(("build", "used", "build_hours", "used_hours"), [(2296, 740, 479, 35), (700, 900, 300, 20)])
def test_price_at_which_building_and_buying_close_alike(build, used, build_hours, used_hours):
    """Charge each hour of pleasure as income: where the two sums meet stands the price."""
    price = brentq(lambda p: (build - p * build_hours) - (used - p * used_hours), -100, 100)
    agrees(f.price_of_learning.si(build, used, build_hours, used_hours), price, abs=1e-9)


def test_months_take_arrays():
    assert np.array_equal(f.months_needed.si(np.array([100.0, 100.0]), 10.0, np.array([50.0, 5000.0]), 100.0), [10.0, 50.0])
