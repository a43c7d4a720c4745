"""What pictures draw, read back as data: curves by their labels, shapes by where they lie and which way they point."""

import numpy as np
import pytest

from lathe_course.course.pictures import PICTURES
from lathe_course.course.pictures.style import Canvas
from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.evaluation import evaluate
from lathe_course.design.files.survey import demo_builds


def drawn(name, design, **extra):
    """The axes of a picture of a design."""
    return Canvas().figure(PICTURES[name], evaluate(design), **extra).axes


def curve(axes, words):
    """The curve at whose end these words stand: its points, shape (2, points)."""
    (text,) = (text for text in axes.texts if text.get_text() == words)
    (found,) = (
        line
        for line in axes.lines
        if len(line.get_xdata()) > 2 and np.allclose([line.get_xdata()[-1], line.get_ydata()[-1]], text.xy)
    )
    return np.array(found.get_data(), float)


# --- spindle ------------------------------------------------------------------------------------------
@pytest.mark.parametrize("name", DEMOS)
def test_the_cut_stands_further_out_and_so_softer_than_the_nose(name):
    """Statics: the same force on a longer arm bends a shaft on two bearings more, at every span; both ends of each curve are the chain's."""
    design = demo(name)
    (axes,) = drawn("span_curve", design)
    nose, cut = curve(axes, "at the nose"), curve(axes, "at the cut")
    assert np.all(cut[1] < nose[1]) and np.array_equal(nose[0], cut[0])
    for place in (0, -1):
        there = evaluate(design.trying(bearing_span=nose[0][place] * 1e-3))
        assert [nose[1][place], cut[1][place]] == pytest.approx(
            [1e-6 / there["nose_compliance"], 1e-6 / there["spindle_compliance"]], rel=1e-6
        )


@pytest.mark.parametrize("name", DEMOS)
def test_the_spindle_bends_the_way_the_cut_pushes(name):
    """Statics: past the front bearing the spindle goes with the force, and the rear bearing is levered the other way.

    The body is drawn about its own middle line, and the line of the work goes on where that of the spindle ends.
    """
    e = evaluate(demo(name))
    axes = drawn("bent_spindle", e.design)[0]
    (arrow,) = (text for text in axes.texts if getattr(text, "arrowprops", None) and text.arrowprops.get("arrowstyle") == "-|>")
    (at, tip), push = arrow.xy, np.sign(arrow.xy[1] - arrow.xyann[1])
    (spindle,) = (np.array(line.get_data()) for line in axes.lines if len(line.get_xdata()) > 2)
    (work,) = (
        np.array(line.get_data())
        for line in axes.lines
        if line.get_linestyle() == "--"
        and len(line.get_xdata()) == 2
        and line.get_xdata()[1] == at
        and line.get_ydata()[1] == tip
    )
    nose = e["bearing_span"] + e["spindle_overhang"]
    assert at == pytest.approx(nose + e["cut_reach"]) and push != 0
    assert push * spindle[1][-1] > 0 and push * tip > push * spindle[1][-1]
    assert push * np.interp(e["bearing_span"], *spindle) > 0 > push * np.interp(0.0, *spindle)
    assert spindle[:, -1] == pytest.approx(work[:, 0]) and spindle[0][-1] == pytest.approx(nose)
    bodies = [
        patch.get_xy()[:-1]
        for patch in axes.patches
        if hasattr(patch, "get_xy") and np.ndim(patch.get_xy()) == 2 and len(patch.get_xy()) > 100
    ]
    (body,) = bodies
    half = len(body) // 2
    assert (body[:half, 1] + body[half:][::-1, 1]) / 2 == pytest.approx(spindle[1], abs=1e-9)


# --- builds of others ---------------------------------------------------------------------------------
@pytest.mark.parametrize("of", ["months", "hours", "money"])
def test_builds_that_took_longer_than_planned_stand_above_the_line(of):
    """Each mark of the second panel is a build: to the right what was planned, up what it came to."""
    _, by_plan, _ = drawn("builds_of_others", demo(), of=of)
    told = sorted((one.planned(of), one.came_to(of)) for one in demo_builds() if one.planned(of) and one.came_to(of))
    marks = sorted((line.get_xdata()[0], line.get_ydata()[0]) for line in by_plan.lines if line.get_marker() in ("o", "X", "^"))
    assert np.array(marks) == pytest.approx(np.array(told)) and sum(up > right for right, up in marks) > len(marks) / 2


# --- chip, partners -----------------------------------------------------------------------------------
@pytest.mark.parametrize("name", DEMOS)
def test_the_edge_of_the_tool_rises_from_its_deepest_point_to_the_depth_of_cut(name):
    axes = drawn("force_build_up", demo(name))[0]
    (edge,) = (np.array(line.get_data(), float) for line in axes.lines if len(line.get_xdata()) > 2)
    depth = evaluate(demo(name))["depth_of_cut"]
    assert edge[1, 0] == 0 and edge[1, -1] == pytest.approx(depth) and (np.diff(edge[1]) >= 0).all()
    assert edge[0, 0] == 0 and abs(edge[0, 1] - edge[0, 0]) > abs(edge[1, 1] - edge[1, 0]), "a nose begins along the feed"


def test_the_bars_of_partners_stand_end_to_end():
    (axes,) = drawn("partner_shares", demo("shared_barn"))
    rows = {}
    for bar in axes.patches:
        rows.setdefault(round(bar.get_y(), 3), []).append((bar.get_x(), bar.get_width()))
    assert len(rows) == 3 and all(len(bars) > 1 for bars in rows.values())
    for bars in rows.values():
        ends = [0.0, *np.cumsum([wide for _, wide in bars])]
        assert [left for left, _ in bars] == pytest.approx(ends[:-1]) and ends[-1] == pytest.approx(100)
