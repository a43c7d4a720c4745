"""Trains of change wheels against exact fractions and drawn circles, and what happens at the edges of a set."""

import itertools
from fractions import Fraction

import numpy as np
import pytest
from later import Later

from lathe_course.machine import change_gears as g

Point = Later("shapely", "Point")

MM = 1e-3
PLACE = g.Place(module=1 * MM, centres=65 * MM, reach=75 * MM, shaft=16 * MM)
SET = (20, 25, 30, 35, 40, 45, 50, 55, 60, 63)
SMALL = (20, 30, 40, 40, 63)


def drawn(wheels, idler, place):
    """Can this train be put on?  Found by drawing discs; every other way than sums of teeth."""
    radius = [place.module / 2 * z for z in wheels]
    lead, spindle = Point(0, 0), Point(0, place.centres)
    two = len(wheels) == 2
    middle = place.module / 2 * idler if two else None
    upper, lower = (radius[0] + middle, middle + radius[1]) if two else (radius[0] + radius[1], radius[2] + radius[3])
    rings = spindle.buffer(upper, 400).boundary.intersection(lead.buffer(lower, 400).boundary)
    if rings.is_empty or lower > place.reach:
        return False
    stud = Point(np.asarray([(p.x, p.y) for p in getattr(rings, "geoms", [rings])])[0])
    tip, shaft = place.module, place.shaft / 2

    def hits(one, at_one, other, at_other):
        return at_one.buffer(one, 400).intersects(at_other.buffer(other, 400))

    if two:
        return not hits(radius[0] + tip, spindle, radius[1] + tip, lead)
    return not (
        hits(radius[1] + tip, stud, shaft, lead)
        or hits(radius[2] + tip, stud, shaft, spindle)
        or hits(radius[0] + tip, spindle, shaft, lead)
        or hits(radius[3] + tip, lead, shaft, spindle)
    )


def test_every_train_of_a_set_is_found_once():
    wheels, ratios, pairs = g.all_trains(SMALL)
    assert np.all(wheels[:pairs, 2] == 0) and np.all(wheels[pairs:] > 0)
    by_hand = {(*pair, 0, 0) for pair in itertools.permutations(SMALL, 2)} | set(itertools.permutations(SMALL, 4))
    assert {tuple(row) for row in wheels.tolist()} == by_hand and len(wheels) == len(by_hand)
    for (a, b, c, d), ratio in zip(wheels.tolist(), ratios):
        assert ratio == float(Fraction(a * (c or 1), b * (d or 1)))


@pytest.mark.parametrize("centres, reach, shaft", [(65, 75, 16), (90, 60, 20), (50, 75, 16)])
def test_what_can_be_put_on_is_what_drawn_circles_allow(centres, reach, shaft):
    place = g.Place(1 * MM, centres * MM, reach * MM, shaft * MM)
    wheels, _, _ = g.all_trains(SET)
    picked = np.random.default_rng(1).choice(len(wheels), 150, replace=False)
    seen = set()
    for row in wheels[picked]:
        four = tuple(int(z) for z in row if z)
        idlers = [z for z in SET if z not in four] if len(four) == 2 else [0]
        room = [
            min(
                place.room_for_two(*map(place.radius, (*four, idler))) if idler else place.room_for_four(*map(place.radius, four))
            )
            for idler in idlers
        ]
        if min(abs(one) for one in room) < 0.02 * MM:
            continue  # too near to call for circles of four hundred corners a quarter
        assert any(one > 0 for one in room) == any(drawn(four, idler, place) for idler in idlers), four
        seen.add(any(one > 0 for one in room))
    assert seen == {True, False}


@pytest.mark.parametrize("module", [0.5, 1.0, 1.5])
@pytest.mark.parametrize("first, second", [(40, 63), (63, 40), (55, 55)])
def test_two_wheels_past_the_idler_need_room_for_the_teeth_of_both(module, first, second):
    """By the drawing: each wheel is a disc of z + 2 modules across (ISO 53), and two discs touch where their shafts stand half of both apart."""
    touching = module * MM * (first + 2 + second + 2) / 2
    for more, clear in ((0.01 * MM, True), (-0.01 * MM, False)):
        place = g.Place(module * MM, touching + more, 1.0, 16 * MM)
        *stud, past = place.room_for_two(*(place.radius(z) for z in (first, second, 60)))
        assert min(stud) > 0 and (past > 0) is clear and past == pytest.approx(more)
        train = next(one for one in g.trains_for((first, second, 60), place, first / second) if one.wheels == (first, second))
        assert train.mounts is clear


@pytest.mark.parametrize("centres", [50, 65, 90])
def test_what_can_be_put_on_is_looked_up_as_it_is_ranked(centres):
    """Every ratio with a train that mounts, each once, rising; and the train taken for it is the best of that ratio."""
    place = g.Place(1 * MM, centres * MM, 75 * MM, 16 * MM)
    wheels, errors, fits = g.ranked(SET, place, 1.0)
    there = g.mounted(SET, place)
    assert np.all(np.diff(there) > 0) and np.unique(np.round(errors[fits], 12)) == pytest.approx(there - 1, abs=1e-11)
    for ratio in there[:: max(1, len(there) // 40)]:
        train = g.best_train(SET, place, float(ratio))
        alike = fits & (np.abs(errors - (ratio - 1)) < 1e-11)
        assert train.error == 0 and train.mounts and train.ratio == ratio
        assert len(train.wheels) == min(np.count_nonzero(wheels[alike], axis=1))
        assert bool(train.idler) == (len(train.wheels) == 2) and train.idler not in train.wheels


@pytest.mark.parametrize("wanted", [Fraction(5, 12), Fraction(254, 330), Fraction(254, 540), Fraction(1, 30), Fraction(9)])
def test_the_best_train_is_the_best_of_all_tried_one_by_one(wanted):
    wheels, errors, fits = g.ranked(SET, PLACE, float(wanted))
    assert np.all(np.diff(np.abs(errors)) >= -1e-12)
    exact = min(abs(Fraction(int(a) * int(c or 1), int(b) * int(d or 1)) / wanted - 1) for a, b, c, d in wheels)
    assert abs(errors[0]) == pytest.approx(float(exact), abs=1e-12)
    best = np.abs(errors[fits]).min()
    assert abs(g.ratio_errors(SET, *_place(PLACE), float(wanted))) == pytest.approx(best, abs=1e-12)


def _place(place):
    return place.module, place.centres, place.reach, place.shaft


def test_eleven_and_eighteen_to_the_inch_err_as_the_printed_set_must():
    """Wheels 20 to 60 in fives and 63 on a leadscrew of 3 mm: 0.22 and 0.34 per cent, and 0.0125 where 63 stands for 127."""
    errors = {n: g.ratio_errors(SET, *_place(PLACE), 25.4 / n / 3) for n in (8, 10, 11, 12, 18, 20)}
    assert abs(errors[11]) == pytest.approx(0.00225, abs=5e-5) and abs(errors[18]) == pytest.approx(0.00344, abs=5e-5)
    assert all(abs(errors[n]) == pytest.approx(1.25e-4, abs=1e-6) for n in (8, 10, 12, 20))


def test_the_list_for_a_pitch_has_each_ratio_once_and_says_why_a_train_cannot_be_put_on():
    trains = g.trains_for(SET, PLACE, 1.25 / 3, most=8)
    assert len(trains) == 8 and trains[0].error == 0 and trains[0].written == "25/60 with 45 between"
    assert len({round(train.error, 12) for train in trains}) == 8
    far = g.Place(1 * MM, 120 * MM, 75 * MM, 16 * MM)
    trains = g.trains_for(SET, far, 1.25 / 3)
    assert all(train.obstacle == "the wheels are too small to span from shaft to shaft" for train in trains[:-1])
    assert trains[-1].mounts == bool(g.mounted(SET, far).size)


def test_sets_too_small_for_a_train():
    assert g.trains_for((), PLACE, 0.5) == [] == g.trains_for((40,), PLACE, 0.5)
    (only, _) = g.trains_for((20, 40), PLACE, 0.5)
    assert only.obstacle == "no wheel is left to be the idler" and not only.mounts
    assert g.ratio_errors((), *_place(PLACE), 0.5) == -1 and g.finest_ratio((20, 40), *_place(PLACE)) == 0
    assert np.all(g.ratio_errors((20, 40), *_place(PLACE), np.array([0.5, 0.6])) == -1)


def test_places_in_a_sweep_are_as_those_one_by_one():
    centres, wanted = np.array([50, 65, 90, 90, 200]) * MM, np.array([[0.3], [0.42], [25.4 / 33]])
    swept = g.ratio_errors(SET, 1 * MM, centres, 75 * MM, 16 * MM, wanted)
    assert swept.shape == (3, 5)
    for (row, column), found in np.ndenumerate(swept):
        assert found == g.ratio_errors(SET, 1 * MM, float(centres[column]), 75 * MM, 16 * MM, float(wanted[row, 0]))
    finest = g.finest_ratio(SET, 1 * MM, centres, 75 * MM, 16 * MM)
    assert finest.shape == (5,) and finest[0] == pytest.approx(20 * 25 / (60 * 63)) and finest[-1] == 0


def test_one_wheel_more_helps_as_much_as_a_whole_search_with_it():
    wanted = 25.4 / np.array([11, 13, 18, 19, 28]) / 3
    found = dict(g.helpful_wheels(SET, PLACE, wanted, 5e-4))
    assert set(found) == set(range(20, 128))
    for wheel in (24, 40, 67, 127):
        whole = g.ratio_errors((*SET, wheel), *_place(PLACE), wanted)
        assert np.abs(found[wheel]) == pytest.approx(np.abs(whole), abs=1e-12)
    first = next(iter(found))
    assert sum(np.abs(found[first]) > 5e-4) == min(sum(np.abs(errors) > 5e-4) for errors in found.values())


def test_the_stud_stands_where_both_distances_meet():
    for train in g.trains_for(SET, PLACE, 1.75 / 3):
        if train.mounts:
            x, y = train.stud(PLACE)
            a, b = train.wheels[:2]
            upper, lower = (a + train.idler, train.idler + b) if train.idler else (a + b, sum(train.wheels[2:]))
            assert np.hypot(x, y) == pytest.approx(lower / 2 * MM) and np.hypot(x, y - PLACE.centres) == pytest.approx(
                upper / 2 * MM
            )
