"""Fits: the tables against figures read in reprints of ISO 286 and ISO 492, and the sentences for what is not there."""

import pytest
from cases import every

from lathe_course.machine import fits
from lathe_course.units import InputProblem


def um(pair):
    return tuple(round(end * 1e6, 6) for end in pair)


# read in public reprints of the standard's tables, deviations in µm: field, size in mm, lower, upper
READ = [
    ("k5", 3, 0, 4),
    ("k5", 6, 1, 6),
    ("k5", 10, 1, 7),
    ("k5", 18, 1, 9),
    ("k5", 25, 2, 11),
    ("k5", 35, 2, 13),
    ("k5", 60, 2, 15),
    ("k6", 25, 2, 15),
    ("k6", 35, 2, 18),
    ("m5", 25, 8, 17),
    ("m5", 35, 9, 20),
    ("m6", 35, 9, 25),
    ("m6", 60, 11, 30),
    ("h5", 8, -6, 0),
    ("h5", 25, -9, 0),
    ("h5", 35, -11, 0),
    ("h5", 60, -13, 0),
    ("h5", 100, -15, 0),
    ("h5", 150, -18, 0),
    ("h6", 25, -13, 0),
    ("h6", 35, -16, 0),
    ("h6", 60, -19, 0),
    ("h6", 100, -22, 0),
    ("h6", 150, -25, 0),
    ("h7", 28, -21, 0),
    ("g5", 25, -16, -7),
    ("g5", 35, -20, -9),
    ("g6", 25, -20, -7),
    ("g6", 35, -25, -9),
    ("g6", 60, -29, -10),
    ("g6", 150, -39, -14),
    ("js5", 25, -4.5, 4.5),
    ("js5", 35, -5.5, 5.5),
    ("js6", 25, -6.5, 6.5),
    ("js6", 60, -9.5, 9.5),
    ("H7", 5, 0, 12),
    ("H7", 28, 0, 21),
    ("H7", 40, 0, 25),
    ("H7", 62, 0, 30),
    ("J6", 25, -5, 8),
    ("J6", 40, -6, 10),
    ("J6", 62, -6, 13),
    ("J6", 100, -6, 16),
    ("J7", 25, -9, 12),
    ("J7", 40, -11, 14),
    ("J7", 62, -12, 18),
    ("J7", 100, -13, 22),
    ("J7", 150, -14, 26),
    ("K6", 25, -11, 2),
    ("K6", 40, -13, 3),
    ("K6", 62, -15, 4),
    ("K7", 25, -15, 6),
    ("K7", 40, -18, 7),
    ("K7", 62, -21, 9),
    ("K7", 100, -25, 10),
    ("K7", 150, -28, 12),
    ("M7", 25, -21, 0),
    ("M7", 62, -30, 0),
    ("JS7", 62, -15, 15),
    ("JS6", 100, -11, 11),
]


@every("name, size, lower, upper", READ)
def test_a_field_is_what_the_standard_prints(name, size, lower, upper):
    assert um(fits.field(name, size * 1e-3)) == (lower, upper)


@pytest.mark.parametrize(("size", "under"), [(3, 8), (18, 8), (25, 10), (35, 12), (60, 15), (100, 20), (150, 25)])
def test_bores_of_ordinary_rings(size, under):
    assert um(fits.ring_field("bore", size * 1e-3)) == (-under, 0)


@pytest.mark.parametrize(
    ("size", "under"), [(6, 8), (18, 8), (25, 9), (40, 11), (62, 13), (100, 15), (125, 18), (150, 18), (151, 25), (180, 25)]
)
def test_outsides_of_ordinary_rings(size, under):
    """ISO 492, ordinary class: the outside has a step at 150 mm that the bore has not."""
    assert um(fits.ring_field("outside", size * 1e-3)) == (-under, 0)


def test_tolerance_grades_follow_the_formula_of_the_standard():
    """i = 0.45 ∛D + 0.001 D at the mean of the range; IT5 7 i, IT6 10 i, IT7 16 i, IT8 25 i, rounded by the standard."""
    for name, row in fits.table("tolerance_grades").items():
        if row["over"] < 3e-3:
            continue
        size = (row["over"] * row["to"]) ** 0.5 * 1e3
        unit = 0.45 * size ** (1 / 3) + 0.001 * size
        for grade, units_of in ((5, 7), (6, 10), (7, 16), (8, 25), (9, 40)):
            assert row[f"it{grade}"] * 1e6 == pytest.approx(units_of * unit, rel=0.1), name


def test_the_edge_of_a_range_belongs_to_the_smaller_sizes():
    assert um(fits.field("k5", 30e-3)) == (2, 11) and um(fits.field("k5", 30.1e-3)) == (2, 13)


@pytest.mark.parametrize(
    ("name", "size", "says"),
    [
        ("k5", 0.4, "fits are known here .* up to 180 mm; 400 mm lies outside"),
        ("tight", 0.03, "'tight' is no field of sizes; write a letter and a grade"),
        ("k12", 0.03, "grade 12 is not in the table"),
        ("r6", 0.03, "the field 'r6' is not in the table"),
    ],
)
def test_what_is_not_in_the_tables_is_told_in_words(name, size, says):
    with pytest.raises(InputProblem, match=says):
        fits.field(name, size)


def test_a_ring_on_its_seat_is_always_tight_and_one_that_must_slide_may_be_either():
    seat, ring = fits.field("k5", 35e-3), fits.ring_field("bore", 35e-3)
    assert fits.greatest_play.si(ring.upper, seat.lower) < 0 and fits.least_play.si(ring.lower, seat.upper) < 0
    seat = fits.field("h5", 35e-3)
    assert fits.least_play.si(ring.lower, seat.upper) < 0 < fits.greatest_play.si(ring.upper, seat.lower)
