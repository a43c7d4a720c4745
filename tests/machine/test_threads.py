"""Threads whose figures do not fit, tables of threads against the formulas, and what an error of pitch comes to."""

import numpy as np
import pytest
from cases import every

from lathe_course.machine import threads as t
from lathe_course.tables import table
from lathe_course.units import InputProblem

MM = 1e-3
#: ISO 261 and 262, coarse series, recalled from memory: a list of its own, not the table's
COARSE = dict(zip((3, 4, 5, 6, 8, 10, 12, 14, 16, 18, 20, 24, 30), (0.5, 0.7, 0.8, 1, 1.25, 1.5, 1.75, 2, 2, 2.5, 2.5, 3, 3.5)))


def test_a_pitch_that_leaves_no_core_is_refused_in_words():
    with pytest.raises(InputProblem, match="too coarse for the diameter"):
        t.root_diameter(diameter="3 mm", pitch="8 per inch")
    assert np.isnan(t.pitch_diameter.si(3 * MM, 3 * MM))


@every("diameter, pitch", COARSE.items())
def test_the_table_has_the_coarse_series(diameter, pitch):
    row = table("threads")[f"M{diameter}"]
    assert (
        row["diameter"] == pytest.approx(diameter * MM)
        and row["pitch"] == pytest.approx(pitch * MM)
        and row["series"] == "coarse"
    )


def test_fine_pitches_are_finer_than_coarse_ones_and_every_thread_has_a_core():
    coarse = {row["diameter"]: row["pitch"] for row in table("threads").values() if row["series"] == "coarse"}
    for name, row in table("threads").items():
        assert t.root_diameter.si(row["diameter"], row["pitch"]) > 0.6 * row["diameter"], name
        if row["series"] == "fine":
            assert row["pitch"] < coarse[row["diameter"]], name
    assert min(coarse) == pytest.approx(3 * MM) and max(coarse) == pytest.approx(30 * MM)


def test_inch_threads_have_a_core_and_their_form():
    for name, row in table("inch_threads").items():
        pitch = 25.4 * MM / row["per_inch"]
        depth = t.external_depth.si(pitch) if row["flank_angle"] > 1 else t.whitworth_depth.si(pitch)
        assert row["diameter"] - 2 * depth > 0.6 * row["diameter"], name
        assert np.degrees(row["flank_angle"]) == pytest.approx(60 if "unified" in name else 55)


def test_a_twentieth_of_a_per_cent_is_a_hundredth_of_a_millimetre_in_a_nut_of_twenty_five():
    misfit = t.nut_misfit.si(0.0005, 25 * MM)
    assert misfit == pytest.approx(12.5e-6)
    assert t.diameter_equivalent.si(misfit, np.radians(60)) == pytest.approx(21.65e-6, rel=1e-3)


def test_the_best_wire_stands_out_of_the_thread():
    """A micrometer must be able to reach it: over M3 to M30 the wires stand above the crest."""
    for row in table("threads").values():
        wire = t.measuring_wire.si(row["pitch"], np.radians(60))
        assert (
            t.over_wires.si(t.pitch_diameter.si(row["diameter"], row["pitch"]), wire, row["pitch"], np.radians(60))
            > row["diameter"]
        )
