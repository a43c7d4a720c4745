"""Stock read from words: its sizes, and its mass by geometry against the mass that the table of parts says."""

import pytest

from lathe_course.planning.parts import course_parts
from lathe_course.planning.stock import Piece, bars_of, course_bars, for_form, read_stock, volume
from lathe_course.tables import table
from lathe_course.units import InputProblem

#: kg/m³, handbook figures recalled from memory
DENSITY = {"steel": 7850, "cast iron": 7200, "aluminium": 2700, "bronze": 8800, "brass": 8500}


@pytest.mark.parametrize(
    "text, pieces",
    [
        ("flat bar 120 x 25, 650 long, stress relieved", [("flat bar", 120, 25, 0, 650, 1)]),
        ("hollow section 120 x 80, wall 6.3, 650 long", [("hollow section", 120, 80, 6.3, 650, 1)]),
        ("bronze tube 50 over 30, 60 long, two", [("tube", 50, 0, 10, 60, 2)]),
        ("aluminium disc 80 x 16, three; 60 x 14, two", [("round bar", 80, 0, 0, 16, 3), ("round bar", 60, 0, 0, 14, 2)]),
        ("grey iron bar 100 x 120 x 140", [("iron bar", 120, 100, 0, 140, 1)]),
        ("round bar 16, 220 long; flat 40 x 40 x 16", [("round bar", 16, 0, 0, 220, 1), ("flat bar", 40, 16, 0, 40, 1)]),
        (
            "bright flat: 110 x 30 x 12, three; 180 x 12 x 4, two; 100 x 10 x 4",
            [("flat bar", 30, 12, 0, 110, 3), ("flat bar", 12, 4, 0, 180, 2), ("flat bar", 10, 4, 0, 100, 1)],
        ),
        ("square bar 10, 450 long", [("square bar", 10, 0, 0, 450, 1)]),
        ("aluminium disc 70 x 40, and a belt", [("round bar", 70, 0, 0, 40, 1)]),
        ("round bar 20, 250 long; two bearing blocks", [("round bar", 20, 0, 0, 250, 1), ("", 0, 0, 0, 0, 1)]),
        ("two rails 650 long with four carriages", [("", 0, 0, 0, 0, 1)]),
        ("plate 60 x 12, cut to the spacing of the rails", [("", 0, 0, 0, 0, 1)]),
        ("round bar 40", [("", 0, 0, 0, 0, 1)]),
        ("bought", [("", 0, 0, 0, 0, 1)]),
        ("", []),
    ],
)
def test_words_are_read(text, pieces):
    found = [
        (one.form, *(round(getattr(one, name) * 1e3, 6) for name in ("width", "thickness", "wall", "length")), one.count)
        for one in read_stock(text)
    ]
    assert found == pieces


def test_the_pieces_weigh_what_the_table_says():
    """Sizes against masses, which were written down apart: within a twentieth; within a quarter where the row says more, or less, than its pieces."""
    rough = {"spindle bushes", "cross-feed screw", "topslide screw", "back gear"}
    seen = 0
    for part in course_parts():
        pieces = read_stock(part.stock)
        if part.material in DENSITY and pieces and all(one.form for one in pieces):
            seen += 1
            mass = sum(map(volume, pieces)) * DENSITY[part.material]
            assert mass == pytest.approx(part.stock_mass, rel=0.25 if part.name in rough else 0.05, abs=0.03), (
                f"{part.name}: {part.stock}"
            )
    assert seen >= 45


def test_a_size_goes_up_to_the_next_that_is_stocked():
    bars = for_form(course_bars(), "round bar")
    assert [round(bars.stocked(size * 1e-3) * 1e3, 6) for size in (50, 50.2, 50.4, 13, 6)] == [50, 50, 55, 14, 6]
    assert bars.stocked(0.2125) == pytest.approx(0.212), "beyond the list the next whole millimetre"
    assert for_form(course_bars(), "plate") is None


def test_bars_that_cannot_be_are_told():
    row = dict(table("bars")["tube"])
    assert bars_of(row | {"lengths": "12 in + 1000"}, "tube").lengths == pytest.approx((0.3048, 1.0))
    for lengths, says in (("", "no length that can be bought"), ("long", "tube, lengths"), ("-3 mm", "tube, lengths")):
        with pytest.raises(InputProblem, match=says):
            bars_of(row | {"lengths": lengths}, "tube")


def test_a_form_without_metal_weighs_nothing():
    assert volume(Piece("two bearing blocks")) == 0
