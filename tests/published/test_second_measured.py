"""Second programs for a measured give: certified data, scipy's line and scipy's Student."""

import numpy as np
import pytest
from evidence import agrees, vouches
from later import Later

from lathe_course.machine import measured as m

stats = Later("scipy.stats")

#: calibration of ozone monitors, reading over reading: a reference set with certified results
_X = [
    0.2,
    337.4,
    118.2,
    884.6,
    10.1,
    226.5,
    666.3,
    996.3,
    448.6,
    777.0,
    558.2,
    0.4,
    0.6,
    775.5,
    666.9,
    338.0,
    447.5,
    11.6,
    556.0,
    228.1,
    995.8,
    887.6,
    120.2,
    0.3,
    0.3,
    556.8,
    339.1,
    887.2,
    999.0,
    779.0,
    11.1,
    118.3,
    229.2,
    669.1,
    448.9,
    0.5,
]
_Y = [
    0.1,
    338.8,
    118.1,
    888.0,
    9.2,
    228.1,
    668.5,
    998.5,
    449.1,
    778.9,
    559.2,
    0.3,
    0.1,
    778.1,
    668.8,
    339.3,
    448.9,
    10.8,
    557.7,
    228.3,
    998.0,
    888.8,
    119.6,
    0.3,
    0.6,
    557.6,
    339.3,
    888.0,
    998.5,
    778.9,
    10.2,
    117.6,
    228.9,
    668.4,
    449.2,
    0.2,
]
LOADS = np.array([0, 10, 20, 30, 40, 50, 60.0])


def test_certified_line():
    """A line fitted to the reference set, against the certified slope, its standard error and the scatter."""
    slope, heights, scatter, freedom, spread = m.straight_line(np.array(_X), np.array(_Y), np.zeros(36, bool))
    assert slope == pytest.approx(1.00211681802045, rel=1e-12)
    assert heights[0] == pytest.approx(-0.262323073774029, rel=1e-9)
    assert scatter == pytest.approx(0.884796396144373, rel=1e-10) and freedom == 34
    assert scatter / spread == pytest.approx(0.429796848199937e-3, rel=1e-10)


@vouches(
    "give_uncertainty",
    evidence="published and seen",
    source="nist_norris",
    because="the certified standard error, for a factor of one",
)
def test_certified_standard_error():
    _, _, scatter, _, spread = m.straight_line(np.array(_X), np.array(_Y), np.zeros(36, bool))
    agrees(m.give_uncertainty.si(scatter, spread, 1.0), 0.429796848199937e-3, rel=1e-10)


@vouches(
    "give_uncertainty",
    evidence="second program",
    source="scipy_stats, linregress and Student's t",
    because="the printed factor has four figures",
)
@pytest.mark.parametrize("seed", range(4))
def test_the_doubt_is_that_of_linregress(seed):
    dial = 0.15e-6 * LOADS + np.random.default_rng(seed).normal(0, 0.3e-6, len(LOADS))
    fit = m.fit_give(LOADS, dial)
    line = stats.linregress(LOADS, dial)
    assert fit.give == pytest.approx(line.slope, rel=1e-10)
    agrees(fit.doubt, stats.t.ppf(0.975, len(LOADS) - 2) * line.stderr, rel=3e-4)


@pytest.mark.parametrize("freedom", [1, 2, 3, 5, 8, 10, 12, 15, 20, 30, 60])
def test_students_factor_is_scipys(freedom):
    assert m.student_factor(freedom) == pytest.approx(stats.t.ppf(0.975, freedom), rel=3e-4)


def test_between_two_rows_the_careful_one_is_taken():
    assert m.student_factor(14) == m.student_factor(12) >= stats.t.ppf(0.975, 14)
    assert m.student_factor(1000) >= stats.t.ppf(0.975, 1000)


def test_the_true_give_lies_inside_nineteen_times_in_twenty():
    rng, inside = np.random.default_rng(5), 0
    for _ in range(600):
        dial = 0.15e-6 * LOADS + rng.normal(0, 0.4e-6, len(LOADS))
        line = m.straight_line(LOADS, dial, np.zeros(len(LOADS), bool))
        doubt = m.give_uncertainty.si(line[2], line[4], m.student_factor(line[3]))
        inside += abs(line[0] - 0.15e-6) <= doubt
    assert 0.93 < inside / 600 < 0.97


def test_two_ways_share_one_slope():
    """A common slope with a height for each way, against scipy's least squares on the full matrix."""
    off = np.arange(13) > 6
    force = np.concatenate([LOADS, LOADS[-2::-1]])
    dial = 0.15e-6 * force + np.where(off, 2e-6, 0) + np.random.default_rng(1).normal(0, 0.2e-6, 13)
    columns = np.stack([force, ~off, off], axis=1).astype(float)
    found, rest, *_ = np.linalg.lstsq(columns, dial, rcond=None)
    slope, heights, scatter, freedom, _ = m.straight_line(force, dial, off)
    assert [slope, *heights] == pytest.approx(found, rel=1e-8) and freedom == 10
    assert scatter == pytest.approx(np.sqrt(rest[0] / 10), rel=1e-8)
