"""Second programs for the costs of a way: many builds run one by one, and the price at which two ledgers close alike."""

import numpy as np
import pytest
from evidence import vouches
from later import Later

from lathe_course.planning import costs

brentq = Later("scipy.optimize", "brentq")


@vouches(
    "hours_with_rework",
    evidence="second program",
    source="definition, builds run one by one",
    because="four standard errors of forty thousand builds",
)
@pytest.mark.parametrize(("hours", "chance", "share"), [(36, 0.2, 0.6), (29, 0.25, 1.0), (4.5, 0.05, 0.3)])
def test_hours_with_rework_are_what_many_builds_come_to(hours, chance, share):
    rng = np.random.default_rng(7)
    spent = [hours + (hours * share if rng.random() < chance else 0.0) for _ in range(40_000)]
    allowed = 4 * np.std(spent) / np.sqrt(len(spent))
    assert costs.hours_with_rework.si(hours, chance, share) == pytest.approx(np.mean(spent), abs=allowed)


@vouches(
    "money_per_hour_saved",
    evidence="second program",
    source="definition, the value of an hour at which both ways cost the same",
    because="as close as the root is found",
)
@pytest.mark.parametrize(("outside", "here", "long", "short"), [(260, 85, 29, 9), (95, 38, 20, 0.5), (20, 60, 10, 3)])
def test_price_of_an_hour_is_where_both_ways_cost_the_same(outside, here, long, short):
    level = brentq(lambda value: costs.whole_cost.si(outside, short, value) - costs.whole_cost.si(here, long, value), -100, 100)
    assert costs.money_per_hour_saved.si(outside, here, long, short) == pytest.approx(level, abs=1e-9)
