"""The network of tasks against a textbook project and against counting every path."""

import itertools

import numpy as np
import pytest

from lathe_course.planning import three_point
from lathe_course.planning.network import Network
from lathe_course.units import InputProblem

#: Hillier and Lieberman, the construction project: low, likely, high weeks, and what each activity waits for (recalled from memory)
PROJECT = {
    "A": (1, 2, 3, ""),
    "B": (2, 3.5, 8, "A"),
    "C": (6, 9, 18, "B"),
    "D": (4, 5.5, 10, "C"),
    "E": (1, 4.5, 5, "C"),
    "F": (4, 4, 10, "E"),
    "G": (5, 6.5, 11, "D"),
    "H": (5, 8, 17, "EG"),
    "I": (3, 7.5, 9, "C"),
    "J": (3, 9, 9, "FI"),
    "K": (4, 4, 4, "J"),
    "L": (1, 5.5, 7, "J"),
    "M": (1, 2, 3, "H"),
    "N": (5, 5.5, 9, "KL"),
}
MEANS = dict(zip(PROJECT, (2, 4, 10, 6, 4, 5, 7, 9, 7, 8, 4, 5, 2, 6)))


@pytest.fixture(scope="module")
def network():
    return Network.of({name: tuple(waits) for name, (*_, waits) in PROJECT.items()})


def test_the_means_of_the_book(network):
    for name, (low, likely, high, _) in PROJECT.items():
        assert three_point.beta_mean.si(low, likely, high) == pytest.approx(MEANS[name])


def test_the_longest_chain_and_the_slack_of_the_book(network):
    found = network.passes([MEANS[name] for name in network.names])
    slack = dict(zip(network.names, found.slack))
    assert found.end == pytest.approx(44) and network.longest_chain([MEANS[name] for name in network.names]) == tuple("ABCEFJLN")
    assert [slack[name] for name in "DIK"] == pytest.approx([4, 2, 1])
    assert {name for name, spare in slack.items() if spare < 1e-9} == set("ABCEFJLN")


def test_the_spread_of_the_longest_chain_and_the_odds_of_the_book(network):
    variance = sum(three_point.beta_spread.si(PROJECT[name][0], PROJECT[name][2]) ** 2 for name in "ABCEFJLN")
    assert variance == pytest.approx(9)
    assert three_point.odds_by.si(47, 44, np.sqrt(variance)) == pytest.approx(0.8413, abs=1e-4)


def test_triangular_weeks_run_past_the_odds_of_the_chain(network):
    """The book's simulation has 0.588 for 47 weeks; one chain alone promised 0.84."""
    rng = np.random.default_rng(5)
    weeks = np.stack(
        [
            rng.triangular(*PROJECT[name][:3], 40_000)
            if PROJECT[name][0] < PROJECT[name][2]
            else np.full(40_000, PROJECT[name][0])
            for name in network.names
        ],
        axis=-1,
    )
    assert (network.passes(weeks).end <= 47).mean() == pytest.approx(0.588, rel=0.02)


def test_beta_weeks_come_a_little_later_than_the_chain(network):
    """Where chains meet the later one counts: 44.33 weeks give or take 2.935, and 0.817 for 47, against 44, 3 and 0.841 of the chain alone."""
    rng, weeks = np.random.default_rng(11), []
    for name in network.names:
        low, likely, high = PROJECT[name][:3]
        first, second = (1 + 4 * (one / (high - low) if high > low else 0.5) for one in (likely - low, high - likely))
        weeks.append(low + (high - low) * rng.beta(first, second, 60_000))
    ends = network.passes(np.stack(weeks, axis=-1)).end
    assert ends.mean() == pytest.approx(44.33, rel=0.002) and ends.std() == pytest.approx(2.935, rel=0.01)
    assert (ends <= 47).mean() == pytest.approx(0.817, rel=0.01)


def test_every_path_counted_gives_the_same_end():
    rng = np.random.default_rng(2)
    for _ in range(20):
        waits = {f"t{i}": [f"t{j}" for j in range(i) if rng.random() < 0.4] for i in range(7)}
        network, weeks = Network.of(waits), rng.uniform(1, 9, 7)
        length = dict(zip(network.names, weeks))
        paths = (
            path
            for size in range(1, 8)
            for path in itertools.combinations(waits, size)
            if all(before in waits[after] for before, after in itertools.pairwise(path))
        )
        assert network.passes(weeks).end == pytest.approx(max(sum(length[name] for name in path) for path in paths))


def test_slack_is_what_a_task_may_slip():
    network = Network.of({"a": (), "b": "a", "c": "a", "d": ("b", "c")})
    weeks = np.array([{"a": 1, "b": 5, "c": 2, "d": 1}[name] for name in network.names], float)
    spare = dict(zip(network.names, network.passes(weeks).slack))["c"]
    for more, moves in ((spare, False), (spare + 0.1, True)):
        slipped = weeks + more * (np.array(network.names) == "c")
        assert (network.passes(slipped).end > network.passes(weeks).end + 1e-9) == moves


def test_a_circle_is_told_by_the_names_in_it():
    with pytest.raises(
        InputProblem,
        match="wait for each other in a circle: “bed” waits for “fill” waits for “bed”|“fill” waits for “bed” waits for “fill”",
    ):
        Network.of({"bed": ("fill",), "fill": ("bed",), "motor": ()})


def test_what_is_waited_for_must_be_there():
    with pytest.raises(InputProblem, match="“spindle” waits for “bearing”, which is not among the tasks.*bearings"):
        Network.of({"spindle": ("bearing",), "bearings": ()})


def test_the_order_given_is_kept_where_it_can_be():
    assert Network.of({"late": ("early",), "first": (), "early": ()}).names == ("first", "early", "late")
