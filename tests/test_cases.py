"""The loop that stands for many tests: no case is left out, and a failing one is named."""

import pytest
from cases import TOLD, every
from tiers import many


def test_every_case_runs_and_those_that_fail_are_named():
    tried = []

    @every("number", range(5))
    def odd_ones(number):
        tried.append(number)
        assert number % 2, "even"

    with pytest.raises(AssertionError) as caught:
        odd_ones()
    assert tried == [0, 1, 2, 3, 4]
    said = str(caught.value)
    assert (
        "3 of 5 cases fail" in said
        and all(f"[{number}] AssertionError: even" in said for number in (0, 2, 4))
        and "[1]" not in said
    )


def test_one_above_the_other_gives_every_pair_beside_a_fixture(request):
    tried = []

    @every("letter", "ab")
    @every("number, double", lambda: [(1, 2), (2, 4)])
    def both(request, letter, number, double):
        tried.append((letter, number, double))

    both(request=request)
    assert tried == [("a", 1, 2), ("a", 2, 4), ("b", 1, 2), ("b", 2, 4)]


@pytest.mark.parametrize("outer", [3])
@every("inner", [1, 2])
def test_it_stands_beside_fixtures_and_other_marks(tmp_path, outer, inner):
    assert tmp_path.is_dir() and inner < outer


def test_any_error_is_a_failing_case_and_the_rest_are_only_named():
    @every("number", range(TOLD + 3))
    def wrong(number):
        pytest.fail("no") if number == 1 else {}[number]

    with pytest.raises(AssertionError) as caught:
        wrong()
    said = str(caught.value)
    assert "[1] Failed: no" in said and "[0] KeyError: 0" in said and said.endswith(f"and also {TOLD}, {TOLD + 1}, {TOLD + 2}")


def test_a_loop_without_a_case_is_no_test():
    @every("number", [])
    def nothing(number): ...

    with pytest.raises(AssertionError, match="has no case"):
        nothing()


def test_many_is_few_unless_the_long_run_is_asked_for(monkeypatch):
    monkeypatch.setattr("tiers.LONG", False)
    assert many(3, 300) == 3
    monkeypatch.setattr("tiers.LONG", True)
    assert many(3, 300) == 300
