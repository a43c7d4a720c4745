"""The short check: the best is worked out from the chain, and the reply shows every figure."""

import re

import numpy as np
import pytest
from cases import every
from classroom import NOTEBOOKS, cells, run, words, working_folder
from tiers import short_of

from lathe_course import units
from lathe_course.course.chapter import open_chapter
from lathe_course.course.shown.relative import from_here
from lathe_course.design.demos import DEMOS
from lathe_course.design.evaluation import evaluate

OPTIONS = {
    "a spindle of 40 mm": {"spindle_diameter": "40 mm"},
    "a spindle of 22 mm": {"spindle_diameter": "22 mm"},
    "an overhang of 25 mm": {"spindle_overhang": "25 mm"},
}


def checking(chapter, options=OPTIONS, result="nose_stiffness", **more):
    chapter.check("Which of these makes the nose stiffest?", result, options, **more)
    return chapter.last_check


def worked_out(check):
    """The result of each option, from a whole design worked out anew."""
    design = check.session.design
    return {text: evaluate(design.with_(**from_here(design, changes)))[check.result] for text, changes in check.options.items()}


@pytest.mark.parametrize("demo_name", short_of(DEMOS, "boat_shed"))
@pytest.mark.parametrize("notebook", short_of(NOTEBOOKS, *NOTEBOOKS[::2]), ids=lambda path: path.stem)
def test_every_check_of_a_notebook_is_worked_out_on_the_design(notebook, demo_name, tmp_path, monkeypatch):
    path = working_folder(tmp_path / "my-lathe", demo_name)
    monkeypatch.chdir(path.parent)
    for check in run(notebook, monkeypatch, only="check").checks:
        found = worked_out(check)
        best = (max if check.most else min)(found, key=found.get)
        assert best in check.best()
        assert len(check.best()) < len(check.options), "a question that every answer answers is none"
        for text in check.options:
            check.choice.value = text
            reply = words(check.reply)
            assert ("✓ Yes." in reply) == (text in check.best()), text
            assert ("✗ Not quite." in reply) == (text not in check.best()), text
            for other, value in found.items():
                kind, system = check.session.evaluation.kind(check.result), check.session.design.system
                assert f"{other} {units.shown(value, kind, system)}" in reply


@every("notebook", NOTEBOOKS)
def test_no_notebook_holds_a_key(notebook):
    text = "\n".join(cells(notebook))
    assert not re.search(r"\b(answer|correct|right|solution|key)\b\s*=", text)
    stored = notebook.read_text(encoding="utf-8")
    assert "✓ Yes." not in stored and "✗ Not quite." not in stored


def test_the_best_follows_the_design(nowhere):
    chapter = open_chapter("06")
    check = checking(chapter)
    assert check.best() == {"an overhang of 25 mm"}
    check.choice.value = "a spindle of 40 mm"
    assert "✗ Not quite." in words(check.reply)
    chapter.keep(spindle_overhang="25 mm")  # now that change is made, and the next best is best
    assert check.best() == {"a spindle of 40 mm"}
    assert "✓ Yes." in words(check.reply), "the reply on the page follows"
    assert f"as it is {chapter.evaluation.shown('nose_stiffness')}" in words(check.reply)


def test_least_is_asked_as_well_as_most(nowhere):
    chapter = open_chapter("06")
    assert checking(chapter, most=False).best() == {"a spindle of 22 mm"}


def test_options_that_tie_are_all_right(nowhere):
    check = checking(open_chapter("06"), OPTIONS | {"25 mm again": {"spindle_overhang": "0.025 m"}})
    assert check.best() == {"an overhang of 25 mm", "25 mm again"}


def test_a_change_that_cannot_stand_is_never_best(nowhere):
    check = checking(open_chapter("06"), {"a bore as wide as the spindle": {"spindle_bore": "60 mm"}} | OPTIONS)
    assert np.isnan(check.outcomes()["a bore as wide as the spindle"])
    assert check.best() == {"an overhang of 25 mm"}
    check.choice.value = "a bore as wide as the spindle"
    reply = words(check.reply)
    assert "✗ Not quite." in reply and "a bore as wide as the spindle –" in reply
    assert reply.endswith("a bore as wide as the spindle –"), "and it stands last"


def test_an_answer_keeps_nothing(design_file):
    before = design_file.read_bytes()
    check = checking(open_chapter("06"))
    for text in OPTIONS:
        check.choice.value = text
    assert design_file.read_bytes() == before
