"""The board in a notebook: controls, what lights up, what is kept; and the head of every chapter."""

import re

import pytest
from classroom import press, words

from lathe_course.course.chapter import open_chapter
from lathe_course.course.shown.board_view import board_plain
from lathe_course.design.asked.board import LINES, board
from lathe_course.design.chain.luck import DRAWS
from lathe_course.design.evaluation import evaluate
from lathe_course.design.files import design_file as files
from lathe_course.design.lathe import CHAPTERS, LATHE


def opened():
    return open_chapter("01").show("board").board


def lit(panel):
    return re.findall(r'class="lcb-line lit" data-line="(\w+)"', panel.lines.value)


def test_the_board_shows_each_line_with_its_figures(nowhere):
    panel = opened()
    e = evaluate(panel.session.design, DRAWS)
    said = words(panel.lines)
    for one in board(e).lines:
        assert one.rule.title in said and one.says in said
        assert all(f"{figure.label} {figure.shown}" in said for figure in one.figures), one.rule.key
        assert one.worst is None or one.worst.label in said
    assert panel.lines.value.count("<svg") == 1 and "The next evening is best spent on chapter" in said
    assert board_plain(board(e)) in panel.plain


def test_a_moved_answer_lights_lines_with_before_and_after_and_keeps_nothing(design_file):
    before = design_file.read_bytes()
    panel = opened()
    assert lit(panel) == []
    panel.pick.value = "hours_can"
    panel.controls["hours_can"].widget.value += 10
    assert "calendar" in lit(panel) and "size" not in lit(panel)
    assert "20 h/month → 30 h/month" in words(panel.lines)
    panel.pick.value = "centre_height"
    panel.controls["centre_height"].widget.value = 90
    assert {"size", "calendar", "purse"} <= set(lit(panel)), "moves add up"
    assert f"{len(lit(panel))} of {len(LINES)} lines move" in words(panel.lines)
    assert design_file.read_bytes() == before
    press(panel.back)
    assert lit(panel) == [] and panel.controls["centre_height"].widget.value == 75


def test_what_was_moved_is_kept_in_one(design_file):
    panel = opened()
    panel.pick.value = "centre_height"
    panel.controls["centre_height"].widget.value = 80
    panel.pick.value = panel.pick.options[-1][1]
    panel.struck.value = "locker knob"
    panel.reason.value = "knobs are bought"
    press(panel.keep_button)
    now = files.load(design_file, LATHE)
    assert (now.choices["centre_height"].written, now.choices["centre_height"].reason) == ("80 mm", "knobs are bought")
    assert "locker knob" not in [job.name for job in now.jobs]
    assert lit(panel) == [] and "Kept in design.toml." in words(panel.reply)
    press(panel.keep_button)
    assert "Nothing is moved" in words(panel.reply)


def test_words_of_a_learner_stay_words(design_file):
    chapter = open_chapter("01")
    chapter.keep("", with_whom="<script>alert(1)</script>")
    assert "<script" not in chapter.show("board").board.lines.value


@pytest.mark.parametrize("number", CHAPTERS)
def test_the_head_of_a_chapter_tells_where_one_stands(nowhere, number):
    chapter = open_chapter(number)
    said = repr(chapter)
    own = [name for name, one in LATHE.decisions.items() if one.chapter == number]
    assert "The next evening is best spent" in said
    if own:
        assert f"Decisions of this chapter: {len(own)} still the demo’s." in said
        assert "why it matters here" in said
    markup = chapter._repr_mimebundle_()["text/html"]
    assert markup.count("<details>") >= 1 and "Where you stand" in markup


def test_the_head_follows_what_is_kept(design_file):
    chapter = open_chapter("06")
    assert "1 yours" not in repr(chapter)
    chapter.keep("ours", spindle_diameter="40 mm")
    others = sum(one.chapter == "06" for one in LATHE.decisions.values()) - 1
    assert f"Decisions of this chapter: 1 yours, {others} still the demo’s." in repr(chapter)


def test_who_has_nothing_of_their_own_is_led_to_the_first_round(design_file):
    assert "The first round, 00b_first_round" in repr(open_chapter("05")) and "The first round, 00b_first_round" not in repr(
        open_chapter("00b")
    )
    open_chapter("05").keep("", motor_power="250 W")
    assert "The first round, 00b_first_round" not in repr(open_chapter("05"))


def test_what_is_settled_drafted_and_open_is_counted(nowhere):
    e = evaluate(open_chapter("01").session.design, DRAWS)
    said = board_plain(board(e)).splitlines()[0]
    assert f"Of {len(LATHE.decisions)} decisions {len(LATHE.decisions)} still the demo’s." in said
    for status, word in (("holds", "hold"), ("fails", "fail"), ("open", "open")):
        assert f"{sum(one.status == status for one in e.findings.values())} {word}" in said
