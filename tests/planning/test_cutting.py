"""Pieces fitted into bars: against every way there is, against examples worked elsewhere, and against what no plan can fall below."""

import itertools

import numpy as np
import pytest

from lathe_course.planning.cutting import TooMany, cut


def mm(*values):
    return [value * 1e-3 for value in values]


def every_way(pieces):
    """Every way to part some pieces into heaps."""
    if not pieces:
        yield []
        return
    first, rest = pieces[0], pieces[1:]
    for size in range(len(rest) + 1):
        for chosen in itertools.combinations(range(len(rest)), size):
            heap = [first, *(rest[place] for place in chosen)]
            for others in every_way([one for place, one in enumerate(rest) if place not in chosen]):
                yield [heap, *others]


def by_hand(pieces, lengths, kerf):
    """Length bought, bars and longest offcut, all in mm, by trying everything."""
    found = []
    for heaps in every_way(pieces):
        needs = [sum(heap) + kerf * (len(heap) - 1) for heap in heaps]
        if max(needs) <= max(lengths):
            for bars in itertools.product(*([one for one in lengths if one >= need] for need in needs)):
                found.append((sum(bars), len(bars), -max(max(bar - need - kerf, 0) for bar, need in zip(bars, needs))))
    return min(found)


@pytest.mark.parametrize("seed", range(12))
def test_it_finds_what_trying_everything_finds(seed):
    rng = np.random.default_rng(seed)
    lengths = sorted(rng.choice([300, 500, 750, 1000, 1500], rng.integers(1, 4), replace=False).tolist())
    pieces = rng.integers(40, max(lengths), rng.integers(2, 7)).tolist()
    kerf = int(rng.integers(0, 6))
    bars = cut(mm(*pieces), mm(*lengths), kerf * 1e-3)
    assert sorted(round(one * 1e3) for bar in bars for one in bar.pieces) == sorted(pieces), "every piece once"
    for bar in bars:
        assert sum(bar.pieces) + kerf * 1e-3 * (len(bar.pieces) - 1) <= bar.length + 1e-9
        assert bar.offcut == pytest.approx(max(bar.length - sum(bar.pieces) - kerf * 1e-3 * len(bar.pieces), 0), abs=1e-9)
    got = round(sum(bar.length for bar in bars) * 1e3), len(bars), -round(max(bar.offcut for bar in bars) * 1e3)
    assert got == by_hand(pieces, lengths, kerf)


@pytest.mark.parametrize(
    "bar, wanted, best",
    [
        # Chvatal, Linear Programming, 1983, chapter 13: rolls of 100 in; the relaxed optimum is 452.25 (recalled from memory)
        (100, {45: 97, 36: 610, 31: 395, 14: 211}, 453),
        # "Cutting stock problem", Wikipedia, the paper rolls of 5600 mm: 73 rolls (recalled from memory)
        (
            5600,
            {
                1380: 22,
                1520: 25,
                1560: 12,
                1710: 14,
                1820: 18,
                1880: 18,
                1930: 20,
                2000: 10,
                2050: 12,
                2100: 14,
                2140: 16,
                2150: 18,
                2200: 20,
            },
            73,
        ),
    ],
)
def test_examples_worked_elsewhere(bar, wanted, best):
    bars = cut([length * 1e-3 for length, count in wanted.items() for _ in range(count)], [bar * 1e-3], 0.0)
    assert len(bars) == best


def test_no_plan_falls_below_the_pieces_with_their_cuts():
    rng = np.random.default_rng(5)
    pieces = mm(*rng.integers(60, 400, 10))
    bars = cut(pieces, mm(1000), 0.003)
    least = sum(pieces) + 0.003 * (len(pieces) - 1)  # all pieces, and all cuts but one
    bound = int(np.ceil(least / (1.0 + 0.003)))
    assert bound <= len(bars) <= bound + 1


def test_cuts_count_and_a_piece_as_long_as_the_bar_needs_none():
    assert len(cut(mm(500, 500), mm(1000), 0.0)) == 1 and len(cut(mm(500, 500), mm(1000), 0.003)) == 2
    assert cut(mm(1000), mm(1000), 0.003)[0].offcut == 0
    assert cut(mm(998), mm(1000), 0.003)[0].offcut == 0, "what is left is sawdust"
    assert cut([], mm(1000), 0.003) == ()


def test_what_cannot_be_is_told():
    with pytest.raises(ValueError, match="a piece of 1200 mm is longer than any bar"):
        cut(mm(1200), mm(1000), 0.003)
    with pytest.raises(TooMany, match="different lengths"):
        cut(mm(*range(50, 90)), mm(1000), 0.003)
