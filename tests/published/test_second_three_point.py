"""Three-point estimates and their sums against a general library of distributions."""

import numpy as np
import pytest
from evidence import agrees, vouches
from later import Later

from lathe_course.planning import three_point as t

stats = Later("scipy.stats")

ITEMS = np.array([(80, 100, 150), (200, 220, 300), (50, 60, 120), (30, 35, 50)], float)


@vouches("triangular_mean", "triangular_spread", evidence="second program", source="scipy_stats, triang")
@pytest.mark.parametrize("low, likely, high", [(3, 5, 13), (0, 0, 4), (2, 9, 9), (20, 32, 56)])
def test_a_triangle_has_the_mean_and_spread_of_its_distribution(low, likely, high):
    triangle = stats.triang((likely - low) / (high - low), low, high - low)
    agrees(float(t.triangular_mean.si(low, likely, high)), triangle.mean(), rel=1e-12)
    agrees(float(t.triangular_spread.si(low, likely, high)), triangle.std(), rel=1e-12)


@vouches(
    "money_at",
    evidence="second program",
    source="scipy_stats, a hundred thousand sums of four triangular items",
    because="a sum of four is not quite normal",
)
def test_the_money_that_suffices_in_four_cases_of_five():
    """Four triangular items of cost added up a hundred thousand times over."""
    low, likely, high = ITEMS.T
    draws = stats.triang((likely - low) / (high - low), low, high - low).rvs((100_000, 4), random_state=7)
    mean = t.triangular_mean.si(low, likely, high).sum()
    spread = np.sqrt((t.triangular_spread.si(low, likely, high) ** 2).sum())
    agrees(t.money_at.si(mean, spread, 0.8), np.quantile(draws.sum(axis=1), 0.8), rel=0.01)
    # on top of the likely figures, 415, that is a contingency of 76; a pocket calculator has 465, 30.66 and 490.8
    assert (mean, spread, t.money_at.si(mean, spread, 0.8)) == pytest.approx((465, 30.66, 490.81), rel=1e-3)
    assert t.money_at.si(mean, spread, 0.8) - likely.sum() == pytest.approx(75.81, rel=1e-3)


@vouches(
    "sum_spread",
    evidence="second program",
    source="scipy_stats, items drawn with a common part",
    because="a finite number of draws",
)
@pytest.mark.parametrize("shared", [0.0, 0.5, 1.0])
def test_shared_luck_spreads_a_sum(shared):
    """Normal items of which every pair is tied alike, drawn and added up."""
    sds = np.array([3.0, 5.0, 2.0, 7.0])
    covariance = np.outer(sds, sds) * (shared + (1 - shared) * np.eye(4))
    draws = stats.multivariate_normal(np.zeros(4), covariance, allow_singular=True).rvs(200_000, random_state=3)
    agrees(float(t.sum_spread.si(np.sqrt((sds**2).sum()), sds.sum(), shared)), draws.sum(axis=1).std(), rel=0.01)


@vouches("odds_by", "months_at", evidence="second program", source="scipy_stats, norm")
def test_odds_and_dates_are_those_of_the_normal_distribution():
    dates = np.array([8.0, 18.0, 20.0, 31.0])
    agrees(t.odds_by.si(dates, 20.0, 4.0), stats.norm(20, 4).cdf(dates), rel=1e-9)
    shares = np.array([0.05, 0.5, 0.8, 0.99])
    agrees(t.months_at.si(20.0, 4.0, shares), stats.norm(20, 4).ppf(shares), rel=1e-9)
