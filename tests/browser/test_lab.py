"""JupyterLab as the learner's command opens it: a slider moved by keyboard moves picture and figures."""

import pytest

pytestmark = pytest.mark.browser

_CELL = """
import io
from pathlib import Path

import ipywidgets
from matplotlib.figure import Figure

figure = Figure(figsize=(3, 2))
axes = figure.subplots()
(line,) = axes.plot([0, 1], [0, 1])
axes.set_ylim(0, 100)
picture = ipywidgets.Image(format="png")
table = ipywidgets.HTML()
overhang = ipywidgets.IntSlider(value=40, min=0, max=90, description="overhang")
keep = ipywidgets.Button(description="keep")

def draw(change=None):
    line.set_ydata([0, overhang.value])
    png = io.BytesIO()
    figure.savefig(png, format="png")
    picture.value = png.getvalue()
    table.value = f"<table class='figures'><tr><td>{overhang.value} mm</td></tr></table>"

overhang.observe(draw, "value")
keep.on_click(lambda button: Path("kept.txt").write_text(str(overhang.value)))
draw()
ipywidgets.VBox([overhang, keep, table, picture])
"""


def test_a_slider_moved_by_keyboard_moves_picture_and_figures_and_a_cell_that_raises_is_seen(lab, tmp_path):
    lab.open_notebook(lab.own_notebook(_CELL))
    lab.run_all()

    slider = lab.slider("overhang")
    assert slider.get_attribute("aria-valuenow") == "40.0"
    figures = lab.text_of("table.figures")
    picture = lab.image_bytes()
    slider.press("ArrowRight")

    assert lab.changed(lambda: lab.text_of("table.figures"), figures) == "41 mm"
    assert lab.changed(lab.image_bytes, picture).startswith(b"\x89PNG")
    assert slider.get_attribute("aria-valuenow") == "41.0"
    lab.button("keep").click()
    kept = lab.folder / "notebooks" / "kept.txt"
    assert lab.changed(lambda: kept.exists() and kept.read_text(), False) == "41"

    lab.screenshot(tmp_path / "page.png")
    assert (tmp_path / "page.png").stat().st_size > 10_000

    lab.close_all()
    lab.open_notebook(lab.own_notebook("1 / 0"))
    with pytest.raises(AssertionError, match="ZeroDivisionError"):
        lab.run_all()
