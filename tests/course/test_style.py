"""The look of pictures: letters that can be read, colours that can be told apart, SVG that can stand in a page."""

import re
from itertools import combinations
from xml.etree import ElementTree

import matplotlib
import pytest
from matplotlib.backends.backend_agg import RendererAgg
from matplotlib.backends.backend_svg import FigureCanvasSVG
from matplotlib.figure import Figure

from lathe_course.course.pictures import PICTURES, style
from lathe_course.course.pictures.style import FONT_SIZE, LINES, PALETTE, STYLE, Canvas, filled, pale, svg, text_size
from lathe_course.design.demos import demo
from lathe_course.design.evaluation import evaluate


def figure(words="speed & feed <fast>"):
    with matplotlib.rc_context(STYLE):
        made = Figure((8, 4.5), dpi=72)
        FigureCanvasSVG(made)
        axes = made.add_axes((0.1, 0.1, 0.8, 0.8))
        axes.bar([1, 2], [3, 4], **filled(PALETTE["blue"], "//"))
        axes.plot([0, 3], [1, 2], "o-")
        axes.text(1, 2, words)
    return made


def drawn(**extra):
    with matplotlib.rc_context(STYLE):
        return svg(figure(), "Two bars & a line.", "Bars < lines", **extra)


def ids(text):
    return set(re.findall(r'\bid="([^"]+)"', text))


def test_svg_is_one_element_that_says_what_it_is():
    root = ElementTree.fromstring(drawn())
    name = "{http://www.w3.org/2000/svg}"
    assert root.tag == name + "svg"
    assert root.get("role") == "img"
    told = [root.find(name + "title"), root.find(name + "desc")]
    assert [one.text for one in told] == ["Bars < lines", "Two bars & a line."]
    assert root.get("aria-labelledby").split() == [one.get("id") for one in told]


def test_svg_keeps_its_shape_and_takes_the_width_it_is_given():
    root = ElementTree.fromstring(drawn())
    assert root.get("viewBox") == "0 0 576 324"
    assert root.get("width") is None
    assert root.get("height") is None
    assert "width:100%" in root.get("style")
    assert "aspect-ratio:576/324" in root.get("style")


def test_svg_is_the_same_every_time_and_names_no_date_or_program():
    assert drawn() == drawn()
    assert not re.search(r"<metadata|<\?xml|<!DOCTYPE|\d{4}-\d\d-\d\d|Matplotlib v", drawn())
    assert "http://" not in drawn().replace("http://www.w3.org/", "")


def test_every_name_that_is_used_is_there_once():
    text = drawn()
    used = set(re.findall(r'(?:url\(#|href="#)([^)"]+)', text))
    assert used
    assert used <= ids(text)
    assert len(re.findall(r'\bid="', text)) == len(ids(text))


def test_two_pictures_on_a_page_share_no_names():
    with matplotlib.rc_context(STYLE):
        others = [
            drawn(),
            drawn(key="other"),
            svg(figure("else"), "Two bars & a line.", "Bars < lines"),
            svg(figure(), "Told otherwise.", "Bars < lines"),
        ]
    for one, other in combinations(others, 2):
        assert not ids(one) & ids(other)


def test_letters_are_twelve_points_on_eight_inches():
    assert (style.WIDTH, FONT_SIZE) == (8, 12)
    assert all(value >= FONT_SIZE for name, value in STYLE.items() if name.endswith(("labelsize", "titlesize", "font.size")))


def test_a_look_does_not_leak():
    before = dict(matplotlib.rcParams)
    drawn()
    assert dict(matplotlib.rcParams) == before


def test_text_size_is_what_is_drawn():
    made = figure("austenitic stainless steel")
    with matplotlib.rc_context(STYLE):
        extent = made.axes[0].texts[0].get_window_extent(RendererAgg(576, 324, 72))
    assert text_size("austenitic stainless steel")[0] == pytest.approx(extent.width, rel=0.04)  # hinting moves letters a little
    assert text_size("a\nlonger line\nb")[0] == text_size("longer line")[0]
    assert text_size("a\nb")[1] == 2 * text_size("a")[1]


def _linear(channel):
    return channel / 12.92 if channel <= 0.04045 else ((channel + 0.055) / 1.055) ** 2.4


def _lightness(colour):
    """Relative luminance, WCAG 2.1."""
    return sum(
        weight * _linear(int(colour[place : place + 2], 16) / 255) for weight, place in zip((0.2126, 0.7152, 0.0722), (1, 3, 5))
    )


@pytest.mark.parametrize("colour", [style.INK, style.MUTED])
def test_letters_stand_out_from_white_and_from_pale_bars(colour):
    for ground in ("#ffffff", pale(PALETTE["blue"]), pale(PALETTE["orange"])):
        contrast = (_lightness(ground) + 0.05) / (_lightness(colour) + 0.05)
        # WCAG 2.1, 1.4.3: 4.5 for text; the muted grey is for notes on white
        assert contrast >= 4.5 or (colour == style.MUTED and ground != "#ffffff"), f"{colour} on {ground}"


def test_lines_differ_without_their_colour():
    assert len({str(line) for _, line in LINES}) == len(LINES)
    assert len({mark for mark, *_ in style.STATUS.values()}) == len({hatch for *_, hatch in style.STATUS.values()}) == 4


def test_a_filled_area_keeps_its_hatch_visible():
    paint = filled("#000000", "xx")
    assert paint == {"facecolor": "#a6a6a6", "edgecolor": "#000000", "hatch": "xx"}
    assert pale("#123456", 1) == "#123456"
    assert pale("#123456", 0) == "#ffffff"


def test_a_canvas_keeps_one_figure_for_each_picture():
    boat_shed, canvas = evaluate(demo("boat_shed")), Canvas()
    first = canvas.figure(PICTURES["span_curve"], boat_shed)
    assert canvas.figure(PICTURES["span_curve"], boat_shed) is first
    assert canvas.figure(PICTURES["give_budget"], boat_shed) is not first
