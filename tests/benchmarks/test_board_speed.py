"""An answer moved on the board, and the head of a chapter: what a reader waits for in the kernel.

The aims on a quiet machine of two cores are 150 ms for a move, figures and lines that light up, and 300 ms for what the head of
a chapter adds to its opening once the draws are there.  Both are held against a plain drawing made right after, as in test_slider.
"""

import asyncio
import functools
import statistics
from dataclasses import replace

import pytest
from clock import seconds, told
from test_slider import QUIET, PlainDrawing

from lathe_course.course.chapter import open_chapter
from lathe_course.design.asked.way_through import way_through
from lathe_course.design.evaluation import evaluate
from lathe_course.design.lathe import CHAPTERS

pytestmark = pytest.mark.benchmark

MOVE, HEAD = 0.150 / QUIET, 0.300 / QUIET


class _Never:
    """A loop in which a finger never rests."""

    def call_later(self, *_):
        return self

    def cancel(self):
        pass


def moves(panel):
    """Calls that move one answer after the other, two of its values each."""
    for _, name in panel.pick.options[:-1]:
        panel.pick.value = name
        widget = panel.controls[name].widget
        options = [one[1] if isinstance(one, tuple) else one for one in getattr(widget, "options", ())]
        values = [one for one in options if one != widget.value][:2] or [widget.value + widget.step, widget.value - widget.step]
        yield from (functools.partial(setattr, widget, "value", value) for value in values)
    panel.pick.value = panel.pick.options[-1][1]
    yield from (functools.partial(setattr, panel.struck, "value", name) for _, name in panel.struck.options[1:])


def test_lines_light_up_under_the_hand(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    panel = open_chapter("00b").show("board").board
    monkeypatch.setattr(asyncio, "get_running_loop", _Never)
    plain = PlainDrawing()
    found, drawings = zip(*((seconds(move), seconds(plain.draw)) for move in moves(panel)))
    median, worst, measure = statistics.median(found), max(found), statistics.median(drawings)
    told(
        capsys,
        f"board: {len(found)} moves, median {1000 * median:.0f} ms, slowest {1000 * worst:.0f} ms; {median / measure:.1f} and {worst / measure:.1f} times a plain drawing",
    )
    assert worst < MOVE * measure


def test_the_head_of_a_chapter_does_not_hold_it_up(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    plain = PlainDrawing()
    drawn = open_chapter("01").session.drawn
    ratios = {}
    for chapter in CHAPTERS:
        fresh = evaluate(replace(drawn.design), drawn.draws, drawn)
        _ = fresh.findings, fresh.central.findings
        took, measure = (
            seconds(functools.partial(way_through, fresh, chapter)),
            statistics.median(seconds(plain.draw) for _ in range(5)),
        )
        ratios[chapter] = took / measure
        told(capsys, f"way through {chapter}: {1000 * took:.0f} ms, {took / measure:.1f} times a plain drawing")
    assert max(ratios.values()) < HEAD, ratios
