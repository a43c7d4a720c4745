"""The purse beside the bills, by hand and against paying bill by bill."""

import numpy as np
import pytest

from lathe_course.planning.cash import as_wanted, purse
from lathe_course.planning.network import Network
from lathe_course.planning.schedule import Means, Work, schedule


def test_by_hand():
    """300 saved, 100 a month; 350 in the first month, 200 in the third: 50 short in month 1.5, nothing short before."""
    found = purse([0.5, 1.5, 3.0], [300, 200, 100], saved=300, income=100)
    assert (found.empty, found.bill, found.lacking) == (1.5, 1, pytest.approx(50))
    assert found.deepest == pytest.approx(50)
    assert found.a_month == pytest.approx(200 / 1.5)  # 500 paid by month 1.5, 300 of it saved


def test_a_purse_that_is_never_empty():
    found = purse([1.0, 2.0], [100, 100], saved=150, income=100)
    assert np.isinf(found.empty) and found.bill == -1 and found.deepest == 0 and found.a_month == pytest.approx(25)


def test_what_is_due_on_the_first_day_no_month_can_bring():
    assert np.isinf(purse([0.0], [500], saved=100, income=50).a_month)


def test_things_that_cost_nothing_are_no_bills():
    found = purse([0.0, 2.0], [0.0, 100.0], saved=0, income=10)
    assert found.empty == 2 and found.bill == 1


def test_each_build_by_itself_as_a_bookkeeper_would():
    rng = np.random.default_rng(3)
    when, money = rng.uniform(0, 12, (40, 9)), np.where(rng.random((40, 9)) < 0.7, rng.uniform(10, 300, (40, 9)), 0.0)
    saved, income = rng.uniform(0, 400, 40), rng.uniform(20, 250, 40)
    found = purse(when, money, saved, income)
    for build in range(40):
        paid, empty, deepest = 0.0, np.inf, 0.0
        for place in np.argsort(when[build]):
            paid += money[build, place]
            missing = paid - saved[build] - income[build] * when[build, place]
            if money[build, place] > 0 and missing > 1e-9:
                empty, deepest = min(empty, when[build, place]), max(deepest, missing)
        assert found.empty[build] == pytest.approx(empty) and found.deepest[build] == pytest.approx(deepest)


def test_each_remedy_mends_it_and_a_little_less_does_not():
    rng = np.random.default_rng(5)
    when, money = rng.uniform(0.2, 12, 9), rng.uniform(50, 300, 9)
    short = purse(when, money, saved=100, income=60)
    assert np.isfinite(short.empty)
    for share, mended in ((1.0001, True), (0.99, False)):
        assert np.isinf(purse(when, money, 100 + share * short.deepest, 60).empty) == mended
        assert np.isinf(purse(when, money, 100, share * short.a_month).empty) == mended
        assert np.isinf(purse(when + share * short.deepest / 60, money, 100, 60).empty) == mended


def test_what_is_ordered_as_wanted_comes_the_moment_the_hands_take_it_up():
    network = Network.of({"bed": (), "rest": ("bed",)})
    work = Work(network, np.array([20.0, 10.0]), np.array([100.0, 50.0]), np.array([0.5, 2.0]), np.zeros(2), np.arange(2))
    hands = schedule(work, Means(hours=20, money=1e9, saved=1e9))
    assert hands.begun[0] == pytest.approx([0.5, 2.0]) and as_wanted(hands, work.lead)[0] == pytest.approx([0.0, 0.0])
    slower = schedule(work, Means(hours=5, money=1e9, saved=1e9))
    assert slower.begun[0] == pytest.approx([0.5, 4.5]) and as_wanted(slower, work.lead)[0] == pytest.approx([0.0, 2.5])
