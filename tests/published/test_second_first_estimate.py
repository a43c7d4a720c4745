"""A second program for building against buying: two ledgers held against each other."""

import pytest
from evidence import agrees, vouches
from later import Later

from lathe_course.planning import first_estimate as f

brentq = Later("scipy.optimize", "brentq")


@vouches(
    "price_of_learning", evidence="second program", source="definition, the price of an hour at which both ledgers close alike"
)
@pytest.mark.parametrize(("build", "used", "build_hours", "used_hours"), [(2296, 740, 479, 35), (700, 900, 300, 20)])
def test_price_at_which_building_and_buying_close_alike(build, used, build_hours, used_hours):
    """Charge each hour of pleasure as income: where the two sums meet stands the price."""
    price = brentq(lambda p: (build - p * build_hours) - (used - p * used_hours), -100, 100)
    agrees(f.price_of_learning.si(build, used, build_hours, used_hours), price, abs=1e-9)
