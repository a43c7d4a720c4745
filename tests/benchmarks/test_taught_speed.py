"""What a class waits for: an answer judged in 50 ms, a setback for six groups and a sheet of exercises each in 2 s, on a quiet machine.

Held as ratios to the plain drawing of ``test_slider.py``, made in turns with each.
"""

import pytest
from clock import best, seconds, told
from test_slider import QUIET, PlainDrawing

from lathe_course.course.teaching import questions_view
from lathe_course.course.teaching.questions import ask_of, check, questions
from lathe_course.course.teaching.questions.behind import behind_demo
from lathe_course.course.teaching.questions_view import question_sheet
from lathe_course.course.teaching.setbacks import struck_by
from lathe_course.design.demos import DEMOS, demo

pytestmark = pytest.mark.benchmark

CHAPTER = "06"


def _held(capsys, what, aim, *jobs, rounds=3):
    *taken, drawing = best(*jobs, PlainDrawing().draw, rounds=rounds)
    ratio = max(taken) / drawing
    told(capsys, f"{what}: {ratio:.1f} plain drawings (at most {aim / QUIET:.0f})")
    assert ratio < aim / QUIET


def test_an_answer_is_judged(capsys):
    """The first answer after a question was put, with nothing left from earlier ones."""
    drawing, slowest = best(PlainDrawing().draw)[0], 0.0
    for one in questions(CHAPTER).values():
        taken = []
        for _ in range(3):
            behind_demo.cache_clear()
            now = ask_of(one, "guest")
            answer = f"7.3 {one.unit}".rstrip() if one.sort == "figure" else "a"
            taken.append(seconds(lambda now=now, answer=answer: check(now, answer)))
        slowest = max(slowest, min(taken))
    told(capsys, f"an answer judged, the slowest: {slowest / drawing:.2f} plain drawings (at most {0.050 / QUIET:.0f})")
    assert slowest / drawing < 0.050 / QUIET


def test_a_setback_for_six_groups(capsys):
    """From the words to what is read aloud: dealt, passed over where a card moves nothing, and worked out."""
    designs = {f"{name} {group}": demo(name) for group in (1, 2) for name in DEMOS}
    _held(
        capsys, "a setback for six groups", 2.0, lambda: struck_by("club", designs), lambda: struck_by("club", designs, each=True)
    )


def test_a_sheet_is_opened(capsys, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)

    def opened():
        questions_view._TRIED.clear()
        sheet = question_sheet(CHAPTER, "guest")
        for id in sheet.ids:
            sheet.ask(id)
        sheet.progress()

    _held(capsys, "a sheet of exercises opened", 2.0, opened)
