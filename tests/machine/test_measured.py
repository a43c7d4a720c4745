"""A stiffness read off a machine: what is told from give, and what is refused with a sentence."""

import numpy as np
import pytest

from lathe_course.machine.measured import INSTRUMENTS, fit_give
from lathe_course.units import InputProblem

UP = np.array([0, 10, 20, 30, 40, 50, 60.0])
FORCE = np.concatenate([UP, UP[-2::-1]])
OFF = np.arange(13) > 6
GIVE = 0.15e-6


def readings(scatter=0.2e-6, friction=0.0, seed=3):
    return GIVE * FORCE + np.where(OFF, friction, 0.0) + np.random.default_rng(seed).normal(0, scatter, 13)


def fit(dial):
    return fit_give(FORCE, dial, OFF)


def test_a_clean_set_tells_its_give_and_nothing_else():
    found = fit(readings())
    assert abs(found.give - GIVE) < found.doubt < 0.1 * GIVE
    assert found.remarks() == () and found.used.all() and not found.turned and found.play == 0


def test_the_range_holds_what_balance_and_dial_may_add():
    low, likely, high = fit(readings(0.0)).range
    assert likely == pytest.approx(GIVE) and high / likely - 1 == pytest.approx(INSTRUMENTS) and low < likely


@pytest.mark.parametrize("seed", range(6))
def test_friction_is_told_from_give(seed):
    found = fit(readings(friction=3e-6, seed=seed))
    assert found.give == pytest.approx(GIVE, rel=0.06) and found.friction == pytest.approx(3e-6, rel=0.2)
    assert len(found.remarks()) == 1 and "higher than going up" in found.remarks()[0] and "friction" in found.remarks()[0]


@pytest.mark.parametrize("seed", range(6))
def test_play_is_told_from_give(seed):
    """The dial runs ahead by 8 µm between nothing and the first load."""
    dial = readings(seed=seed)
    dial[1:] += 8e-6
    found = fit(dial)
    assert found.play == pytest.approx(8e-6, rel=0.15) and found.give == pytest.approx(GIVE, rel=0.06)
    assert not found.used[0] and "play" in found.remarks()[0] and "row 1" in found.remarks()[0]


@pytest.mark.parametrize("seed", range(4))
def test_sticking_is_told_from_give(seed):
    """Nothing moves before 20 N; then it goes on as if from there."""
    dial = readings(seed=seed)
    dial[:2] += [8e-6, 6.5e-6]
    found = fit(dial)
    assert found.play < 0 and found.give == pytest.approx(GIVE, rel=0.06)
    assert "sticks" in found.remarks()[0]


@pytest.mark.parametrize("row", [2, 5, 9])
def test_an_outlier_is_told_by_its_row_and_left_out(row):
    dial = readings()
    dial[row] += 7e-6
    found = fit(dial)
    assert found.outliers == (row,) and found.give == pytest.approx(GIVE, rel=0.06)
    assert f"Row {row + 1} ({FORCE[row]:.0f} N)" in found.remarks()[0] and "off the line" in found.remarks()[0]


def test_a_dial_set_up_from_the_other_side_is_recognised():
    straight, turned = fit(readings(friction=3e-6)), fit(-readings(friction=3e-6))
    assert turned.turned and turned.give == pytest.approx(straight.give) and turned.friction == pytest.approx(straight.friction)
    assert "other side" in turned.remarks()[0]


def test_all_at_once():
    dial = -readings(friction=3e-6)
    dial[1:] -= 9e-6
    dial[10] += 9e-6
    found = fit(dial)
    assert found.turned and found.play > 0 and found.outliers == (10,) and found.friction > 0 and len(found.remarks()) == 4
    assert found.give == pytest.approx(GIVE, rel=0.06)


def test_one_way_only_leaves_friction_unknown():
    found = fit_give(UP, GIVE * UP + np.array([1, -1, 1, -1, 1, -1, 1]) * 0.1e-6)
    assert any("friction cannot be told" in said for said in found.remarks()) and found.friction == 0


@pytest.mark.parametrize(
    "force, dial, words",
    [
        ([], [], "no readings yet"),
        ([20], [3e-6], "one reading"),
        ([20, 20, 20, 20], [1e-6, 2e-6, 1e-6, 2e-6], "same load"),
        ([0, 20], [0, 3e-6], "too few"),
        ([0, 20, 0, 20], [0, 3e-6, 0, 3e-6], "a line through so few"),
        ([0, 10, 20], [0, 1e-6, 3e-6], "too few"),
        ([0, 10, 20, 30, 40], [4e-6, 0, 5e-6, 1e-6, 4e-6], "scatter more than the load moves them"),
    ],
)
def test_readings_that_tell_nothing_are_refused_with_what_would_mend_it(force, dial, words):
    with pytest.raises(InputProblem, match=words) as caught:
        fit_give(force, dial)
    assert len(caught.value.problems) == 1 and "read" in str(caught.value).lower()


def test_scatter_alone_is_not_called_play_friction_or_outlier():
    """A hundred sets with nothing in them but scatter: hardly any is told of something that is not there."""
    told = sum(bool(fit(readings(0.5e-6, seed=seed)).remarks()) for seed in range(100))
    assert told <= 8


def test_whatever_is_read_there_is_a_fit_or_a_sentence():
    """Few readings, repeated loads, one way or both, no order: never anything but a finite give or what is wrong."""
    rng, fitted = np.random.default_rng(11), 0
    for _ in range(400):
        count = int(rng.integers(0, 12))
        force = rng.choice([0.0, 10, 20, 30, 50, 80], count)
        dial = (
            rng.choice([-1, 1]) * GIVE * force
            + rng.normal(0, rng.choice([1e-9, 1e-6, 1e-5]), count)
            + rng.choice([0, 5e-6]) * (force > 0)
        )
        try:
            found = fit_give(force, np.round(dial, 7), rng.random(count) < rng.choice([0.0, 0.5, 1.0]))
        except InputProblem as problem:
            assert len(problem.problems) == 1 and str(problem).endswith(".")
            continue
        fitted += 1
        low, likely, high = found.range
        assert 0 < low < likely < high < np.inf and found.used.sum() >= 3 and all(said.endswith(".") for said in found.remarks())
    assert fitted > 100
