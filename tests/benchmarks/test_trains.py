"""All trains of a set of twenty wheels, ranked, against the same written as loops."""

import math

import pytest
from clock import seconds, told

from lathe_course.machine import change_gears as g

pytestmark = pytest.mark.benchmark

WHEELS = (20, 21, 24, 25, 28, 30, 32, 35, 38, 40, 44, 45, 48, 50, 55, 57, 60, 63, 66, 70)
PLACE = g.Place(1e-3, 0.065, 0.075, 0.016)
WANTED = 25.4 / 18 / 3


def loops(teeth, place, wanted):
    """Two- and four-wheel trains one by one: error, and whether each can be put on; best first."""
    m, shaft, found = place.module / 2, place.shaft / 2, []
    for i, a in enumerate(teeth):
        for j, b in enumerate(teeth):
            if j == i:
                continue
            tight = -math.inf
            for n, z in enumerate(teeth):
                if n not in (i, j):
                    upper, lower = m * (a + z), m * (z + b)
                    tight = max(
                        tight,
                        min(
                            upper + lower - place.centres,
                            place.centres - abs(upper - lower),
                            place.reach - lower,
                            place.centres - m * (a + b) - 2 * place.module,
                        ),
                    )
            found.append((abs(a / b / wanted - 1), tight < g.TOUCHING, False, -tight, (a, b, 0, 0)))
            for k, c in enumerate(teeth):
                if k in (i, j):
                    continue
                for n, d in enumerate(teeth):
                    if n in (i, j, k):
                        continue
                    upper, lower, tip = m * (a + b), m * (c + d), place.module + shaft
                    tight = min(
                        upper + lower - place.centres,
                        place.centres - abs(upper - lower),
                        place.reach - lower,
                        upper - m * c - tip,
                        lower - m * b - tip,
                        place.centres - m * a - tip,
                        place.centres - m * d - tip,
                    )
                    found.append((abs(a * c / (b * d) / wanted - 1), tight < g.TOUCHING, True, -tight, (a, b, c, d)))
    found.sort(key=lambda one: one[:4])
    return found


def timed(job):
    found = []
    return seconds(lambda: found.append(job())), found[0]


def anew():
    """With nothing remembered from an earlier search."""
    g._apart.cache_clear()
    g._by_ratio.cache_clear()
    g.mounted.cache_clear()
    return g.ranked(WHEELS, PLACE, WANTED)


def test_all_trains_of_twenty_wheels_are_ranked_twenty_times_as_fast_as_by_loops(capsys):
    slow, listed = timed(lambda: loops(WHEELS, PLACE, WANTED))
    fast, (wheels, errors, fits) = min((timed(anew) for _ in range(3)), key=lambda one: one[0])
    told(
        capsys,
        f"{len(wheels)} trains of {len(WHEELS)} wheels ranked in {fast * 1e3:.0f} ms, {slow / fast:.0f} times as fast as loops",
    )
    assert len(listed) == len(wheels) == 20 * 19 + 20 * 19 * 18 * 17
    assert abs(errors) == pytest.approx([one[0] for one in listed], abs=1e-12)
    assert fits[0] != listed[0][1] and fits.sum() == sum(not one[1] for one in listed)
    assert slow / fast >= 20


def test_a_slider_does_not_search_anew(capsys):
    """The nearest train for another pitch on the same set is looked up, a hundred times as quick as a search at the least."""
    g.ratio_errors(WHEELS, *_place(), WANTED)
    searched, _ = timed(anew)
    g.ratio_errors(WHEELS, *_place(), WANTED)
    again = min(timed(lambda: g.ratio_errors(WHEELS, *_place(), 0.3))[0] for _ in range(20))
    told(capsys, f"the nearest train again: {again * 1e6:.0f} µs, {searched / again:.0f} times as fast as a search")
    assert searched / again > 100


def _place():
    return PLACE.module, PLACE.centres, PLACE.reach, PLACE.shaft
