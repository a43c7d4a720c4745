"""The forms of a bed as one set of figures for the chain."""

import numpy as np
import pytest
from cases import every

from lathe_course.machine.bed_forms import FORMS, THICKENED, section
from lathe_course.units import InputProblem

SHAPE = {"width": 0.12, "height": 0.03, "wall": 0.006}


@every("form", FORMS)
def test_every_form_gives_every_figure(form):
    figures = section(form, **SHAPE)
    assert set(figures) == {
        "area",
        "vertical",
        "lateral",
        "torsion",
        "shear_vertical",
        "shear_lateral",
        "shear_centre",
        "spacing",
        "fill_area",
        "own_lateral",
    }
    assert all(np.isfinite(value) for value in figures.values())
    assert all(figures[name] > 0 for name in ("area", "vertical", "lateral", "torsion", "shear_vertical", "shear_lateral"))
    assert figures["shear_vertical"] < figures["area"] and figures["shear_lateral"] < figures["area"]


@every("form", FORMS)
def test_arrays_give_what_numbers_give(form):
    widths, heights = np.array([0.10, 0.12, 0.15]), np.array([[0.03], [0.04]])
    together = section(form, widths, heights, 0.006)
    for i, height in enumerate(heights[:, 0]):
        for j, width in enumerate(widths):
            alone = section(form, width, height, 0.006)
            for name, value in alone.items():
                assert np.broadcast_to(together[name], (2, 3))[i, j] == pytest.approx(value, rel=1e-12), name


@pytest.mark.parametrize(
    ("form", "shape"),
    [
        ("closed box", (0.02, 0.05, 0.012)),
        ("filled box", (0.02, 0.05, 0.012)),
        ("channel", (0.02, 0.05, 0.012)),
        ("two round bars", (0.04, 0.03, 0)),
        ("two flat rails", (0.04, 0.05, 0.03)),
        ("round bars on a plate", (0.04, 0.03, 0.01)),
        ("rails with cross ribs", (0.04, 0.05, 0.03)),
        ("rails with diagonal ribs", (0.04, 0.05, 0.03)),
    ],
)
def test_a_shape_that_cannot_exist_has_no_figures(form, shape):
    figures = section(form, *shape)
    assert np.isnan(list(figures.values())).all(), "half a bed is no bed"


def test_a_wrong_name_is_answered_with_the_nearest():
    with pytest.raises(InputProblem, match="'closed boxx' is not a form of bed known here; did you mean closed box"):
        section("closed boxx", **SHAPE)
    with pytest.raises(InputProblem, match="choose one of plate, channel, closed box"):
        section(None, **SHAPE)


def test_a_closed_box_beats_everything_of_its_weight_in_twist():
    box = section("closed box", 0.12, 0.08, 0.0063)
    for form, shape in (
        ("plate", (0.12, box["area"] / 0.12, 0)),
        ("channel", (0.12, 0.08, 0.0089)),
        ("two flat rails", (0.12, 0.08, box["area"] / 0.16)),
    ):
        other = section(form, *shape)
        assert other["area"] == pytest.approx(box["area"], rel=0.02)
        assert other["torsion"] < box["torsion"] / 15


def test_ribs_tie_rails_and_diagonal_ones_stop_the_twist():
    plain, cross, diagonal = (
        section(form, 0.12, 0.08, 0.016) for form in ("two flat rails", "rails with cross ribs", "rails with diagonal ribs")
    )
    assert plain["area"] < cross["area"] < diagonal["area"] < 1.4 * plain["area"]
    assert cross["torsion"] < 1.2 * plain["torsion"] and diagonal["torsion"] > 5 * plain["torsion"]
    assert cross["lateral"] == diagonal["lateral"] > 20 * plain["lateral"]
    assert cross["own_lateral"] == plain["lateral"] and plain["own_lateral"] == 0
    assert diagonal["shear_lateral"] > 20 * cross["shear_lateral"]
    assert plain["vertical"] == cross["vertical"] == diagonal["vertical"]


def test_a_plate_carries_bars_that_are_screwed_to_it():
    on_plate, bars, plate = (
        section("round bars on a plate", 0.12, 0.02, 0.016),
        section("two round bars", 0.12, 0.02, 0),
        section("plate", 0.12, 0.016, 0),
    )
    for name in ("area", "vertical", "lateral", "torsion"):
        assert on_plate[name] == pytest.approx(bars[name] + plate[name])
    assert on_plate["shear_centre"] == pytest.approx(0.02 + 0.008) and on_plate["spacing"] == 0


@pytest.mark.parametrize(("form", "base"), [("profiled rails on a plate", "plate"), ("profiled rails on a box", "closed box")])
def test_profiled_rails_leave_the_stiffness_to_their_base(form, base):
    assert section(form, **SHAPE) == section(base, **SHAPE)


@every("form", FORMS)
def test_a_form_is_made_heavier_by_the_measure_said(form):
    thicker = SHAPE | {THICKENED[form]: SHAPE[THICKENED[form]] * 1.2}
    assert section(form, **thicker)["area"] > section(form, **SHAPE)["area"]


def test_shear_centres():
    assert section("closed box", 0.12, 0.08, 0.006)["shear_centre"] == pytest.approx(0.04)
    assert section("channel", 0.12, 0.08, 0.006)["shear_centre"] < 0  # above the web
