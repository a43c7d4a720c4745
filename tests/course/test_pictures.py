"""Every picture, for every demo and at the ends of the sliders: it draws, it can be read, and it says its units."""

import functools
import re
from itertools import combinations
from typing import NamedTuple
from xml.etree import ElementTree

import numpy as np
import pytest
from cases import every
from drawn_pictures import DESIGNS, covering, noted
from tiers import short_of

from lathe_course.course.pictures import PICTURES
from lathe_course.course.pictures.style import Canvas
from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.evaluation import evaluate

_ALL = sorted(PICTURES)


class Drawn(NamedTuple):
    """A picture as it was drawn: its SVG, its texts with their boxes, ends of its axes, its size in points."""

    svg: str
    written: list
    ends: list[float]
    size: tuple[float, float]


@pytest.fixture(scope="module")
def drawn(evaluations, canvas):
    """A picture of a design by their names, drawn once for all who look at it."""

    @functools.cache
    def look(name: str, design: str) -> Drawn:
        with pytest.MonkeyPatch.context() as patch:
            found = noted(patch)
            svg = canvas.draw(PICTURES[name], evaluations[design])
        figure = canvas._figures[name]
        return Drawn(
            svg,
            found,
            [end for axes in figure.axes for end in (*axes.get_xlim(), *axes.get_ylim())],
            tuple(figure.get_size_inches() * 72),
        )

    return look


# --- drawing ------------------------------------------------------------------------------------------
@pytest.mark.parametrize("turn", short_of(range(16), 0))
@every("number, name", enumerate(_ALL))
@every("place, design", enumerate(DESIGNS))
def test_it_draws_and_can_be_read(number, name, place, design, turn, drawn):
    """Every picture with the boat shed and a sixteenth of the other designs by turns in every run, with all on the long walk."""
    if (place and (place + number) % 16 != turn) or (not place and turn):
        return
    svg, written, ends, (wide, tall) = drawn(name, design)
    ElementTree.fromstring(svg)
    assert np.all(np.isfinite(ends)), "limits"
    assert written, "a picture without a word"
    assert not list(covering(written)), "letters on top of each other"
    outside = [words for words, box in written if box.x0 < -1 or box.y0 < -1 or box.x1 > wide + 1 or box.y1 > tall + 1]
    assert not outside, "letters off the picture"
    assert not any("nan" in words.split() or "inf" in words.split() for words, _ in written)


@pytest.mark.parametrize("turn", short_of(range(4), 0))
@every("place, name", enumerate(_ALL))
def test_one_after_another_leaves_nothing_behind(place, name, turn, evaluations, canvas):
    """A canvas that drew other designs before gives the same as a fresh one, and the same again."""
    if place % 4 != turn:
        return
    picture = PICTURES[name]
    evaluation = evaluations["boat_shed mm"]
    fresh = Canvas().draw(picture, evaluation)
    canvas.draw(picture, evaluations["bore too wide"])
    canvas.draw(picture, evaluations["all high"])
    assert canvas.draw(picture, evaluation) == fresh
    assert canvas.draw(picture, evaluation) == fresh


def test_pictures_share_no_names(drawn):
    names = {
        (name, design): set(re.findall(r'\bid="([^"]+)"', drawn(name, design).svg))
        for name in _ALL
        for design in ("boat_shed mm", "cabin inch")
    }
    for one, other in combinations(names, 2):
        assert not names[one] & names[other], f"{one} and {other}"


@every("name", _ALL)
def test_without_draws_too(name, canvas, evaluations):
    evaluation = evaluations["boat_shed mm"].central
    ElementTree.fromstring(canvas.draw(PICTURES[name], evaluation))
    words = PICTURES[name].describe(evaluation)
    assert words.endswith(".")
    assert "draws" not in words or name == "what_blurs"


# --- units --------------------------------------------------------------------------------------------
_METRIC = re.compile(r"(?<![\w·/])(mm|µm|N|kN|kg|N·m|m/min|N/mm²|N/µm|µm/kN|mm²)(?![\w·/])")


#: axes that count something without a unit
_NO_UNIT = re.compile(r"months until|share of the limit|rank correlation")


@pytest.mark.parametrize("turn", short_of(range(3), 0))
@every("place, name", enumerate(_ALL))
def test_an_inch_reader_sees_no_metric_unit(place, name, turn, evaluations, drawn):
    """One demo for each picture in every run, the others on the long walk."""
    demo_name = [*DEMOS][(place + turn) % 3]
    told = [words for words, _ in drawn(name, f"{demo_name} inch").written] + [
        PICTURES[name].describe(evaluations[f"{demo_name} inch"])
    ]
    assert not [words for words in told if _METRIC.search(words)]


@every("name", _ALL)
def test_every_axis_with_figures_names_its_unit(name, evaluations, canvas):
    figure = canvas.figure(PICTURES[name], evaluations["boat_shed mm"])
    for axes in figure.axes:
        if not axes.axison:
            continue
        for axis in (axes.xaxis, axes.yaxis):
            numbered = [tick.get_text() for tick in axis.get_ticklabels() if re.fullmatch(r"[−\d.]+%?", tick.get_text())]
            if not numbered or not axis.get_tick_params().get("labelbottom", True):
                continue
            label = axis.get_label_text() or " ".join(text.get_text() for text in axes.texts)  # small multiples carry it on top
            assert re.search(r"\([^)]+\)|months", label) or _NO_UNIT.search(label), (
                f"{name}: an axis with {numbered} says {label!r}"
            )


# --- words ----------------------------------------------------------------------------------------------
@every("name", _ALL)
def test_it_is_told_in_words_with_the_figures_of_the_design(name, evaluations):
    told = {design: PICTURES[name].describe(evaluations[design]) for design in ("boat_shed mm", "boat_shed inch", "cabin mm")}
    for words in told.values():
        assert re.search(r"\d", words)
        assert words[0].isupper()
        assert words.endswith(".")
        assert "nan" not in words.split()
    assert told["boat_shed mm"] != told["cabin mm"]


@every("name", _ALL)
def test_title_is_one_line(name):
    picture = PICTURES[name]
    assert picture.title[0].isupper()
    assert not picture.title.endswith(".")
    assert len(picture.title) < 75
    assert picture.size[0] == 8
    assert picture.draw.__doc__


def test_what_cannot_be_drawn_says_why(evaluations, canvas, written):
    for name, design, reason in (
        ("bent_spindle", "bore too wide", "leaves nothing"),
        ("speed_chart", "speeds swapped", "must be less"),
        ("give_budget", "bore too wide", "no spindle shaft"),
    ):
        written.clear()
        canvas.draw(PICTURES[name], evaluations[design])
        assert reason in " ".join(words for words, _ in written).replace("\n", " ")
        assert reason in PICTURES[name].describe(evaluations[design])
    canvas.draw(PICTURES["what_blurs"], evaluate(demo("boat_shed")))
