"""The sheet of exercises: its widgets, what it remembers, and the learner's name."""

import re

import pytest

from lathe_course.course.folder import workspace
from lathe_course.course.teaching import questions_view
from lathe_course.course.teaching.questions import asked
from lathe_course.course.teaching.questions.asked import LETTERS
from lathe_course.course.teaching.questions_view import question_sheet
from lathe_course.units import InputProblem, si_factor


@pytest.fixture(autouse=True)
def _fresh(monkeypatch, tmp_path):
    monkeypatch.setattr(questions_view, "_TRIED", {})
    monkeypatch.chdir(tmp_path)


def right(name: str = "learner", id: str = "03.3") -> str:
    return f"{asked(id, name).value().likely / si_factor('rpm', 'speed'):.4g} rpm"


def words(widget) -> str:
    return re.sub(r"<style>.*?</style>|<[^>]+>", " ", widget.value)


def test_an_answer_by_function_call():
    exercise = question_sheet("03", "learner").ask("03.3")
    verdict = exercise.answer(right())
    assert verdict.kind == "right"
    assert str(verdict).startswith("✓ Right.")
    assert "✓" in exercise._reply.value


def test_the_button_checks_what_stands_in_the_field():
    exercise = question_sheet("03", "learner").ask("03.3")
    exercise._field.value = "12 kg"
    exercise._button.click()
    assert "but a rotational speed is needed" in words(exercise._reply)
    exercise._field.value = right()
    exercise._button.click()
    assert "Right" in words(exercise._reply)
    assert "12 kg ?" in words(exercise._reply)


def test_enter_checks_too():
    exercise = question_sheet("03", "learner").ask("03.3")
    exercise._field.value = right()
    exercise._field._handle_custom_msg({"event": "submit"}, [])
    assert "Right" in words(exercise._reply)


def test_a_choice_is_checked():
    exercise = question_sheet("03", "learner").ask("03.10")
    exercise._button.click()
    assert "Nothing is written yet" in words(exercise._reply)
    exercise._field.value = asked("03.10", "learner").chosen()
    exercise._button.click()
    assert "Right" in words(exercise._reply)


def test_a_cell_run_again_loses_nothing():
    sheet = question_sheet("03", "learner")
    sheet.ask("03.3").answer("5 rpm")
    sheet.ask("03.10").answer(LETTERS[asked("03.10", "learner").chosen()])
    for again in (sheet, question_sheet("03", "LEARNER")):
        assert again.ask("03.3")._field.value == "5 rpm"
        assert "Not yet" in words(again.ask("03.3")._reply)
        assert again.ask("03.10")._field.value == asked("03.10", "learner").chosen()
        assert again.right() == ["03.10"]


def test_hints_go_on_with_each_new_wrong_answer_only():
    exercise = question_sheet("03", "learner").ask("03.3")
    first = exercise.answer("5 rpm")
    assert first.hint
    assert not first.workings
    assert exercise.answer("5 rpm") == first
    assert not exercise.answer("12 kg").workings
    second = exercise.answer("6 rpm")
    assert "rises with" in second.hint and not second.workings
    assert exercise.answer("7 rpm").workings
    assert "<details><summary>A hint</summary>" in exercise._reply.value


def test_what_is_typed_is_shown_as_text():
    exercise = question_sheet("03", "learner").ask("03.3")
    exercise.answer("<img src=x onerror=alert(1)>")
    exercise.answer("5 rpm")
    assert "<img" not in exercise._reply.value


def test_progress_counts_and_stays_true():
    sheet = question_sheet("03", "learner")
    panel = sheet.progress()
    assert repr(panel) == f"Right so far: 0 of {len(sheet.ids)}."
    sheet.ask("03.3").answer(right())
    sheet.ask("03.4").answer("5000 m/min")
    sheet.ask("03.5").answer("12 kg")
    assert f"Right so far: 1 of {len(sheet.ids)}." in words(panel.widget)
    assert re.search(r"03\.3\s+✓ right, tries: 1", words(panel.widget).replace("  ", " "))
    assert "03.4 not yet, tries: 1" in words(panel.widget)
    assert "03.5 open" in words(panel.widget)


def test_a_new_name_changes_the_questions_shown():
    sheet = question_sheet("03")
    exercise, panel, learner = sheet.ask("03.3"), sheet.progress(), sheet.learner()
    exercise.answer(right("guest"))
    before = exercise._text.value
    learner.widget.children[0].value = "  Learner   One "
    assert sheet.name == "Learner One"
    assert "Learner One" in words(learner.widget.children[1])
    assert exercise._text.value != before
    assert "Right so far: 0" in words(panel.widget)
    assert exercise._reply.value == ""
    sheet.call("")
    assert exercise._text.value == before
    assert "Right" in words(exercise._reply)


def test_a_name_that_is_not_written_is_asked_for(nowhere):
    sheet = question_sheet("03", "")
    field, reply = sheet.learner().widget.children
    assert "Write your name" in words(reply)
    field.value = "learner two"
    assert "for learner two" in words(reply) and "Write your name" not in words(reply)
    field.value = "  "
    assert "Write your name" in words(reply)


def test_the_name_is_kept_with_the_design(tmp_path, monkeypatch):
    folder = workspace.prepare(tmp_path / "mine").folder
    monkeypatch.chdir(folder / "exercises")
    sheet = question_sheet("03")
    assert sheet.name == ""
    sheet.call("lärling två")
    assert question_sheet("03").name == "lärling två"
    assert "lärling två" in (folder / workspace.DESIGN_FILE).read_text(encoding="utf-8")


def test_a_damaged_design_file_does_not_stop_the_exercises(tmp_path, monkeypatch):
    folder = workspace.prepare(tmp_path / "mine").folder
    (folder / workspace.DESIGN_FILE).write_text("decisions = [", encoding="utf-8")
    monkeypatch.chdir(folder)
    sheet = question_sheet("03")
    assert "could not be kept" in sheet.call("learner")
    assert sheet.ask("03.3").answer(right()).kind == "right"
    assert (folder / workspace.DESIGN_FILE).read_text(encoding="utf-8") == "decisions = ["


def test_stored_outputs_are_short_and_the_same_for_everybody():
    for name in ("", "learner"):
        exercise = question_sheet("03", name).ask("03.3")
        bundle = exercise._repr_mimebundle_()
        assert bundle["text/plain"] == "[question 03.3: use a formula] It stands here when the notebook runs."
        assert "application/vnd.jupyter.widget-view+json" in bundle


def test_an_unknown_question_gets_a_sentence():
    with pytest.raises(InputProblem, match=r"no question '03\.77' here"):
        question_sheet("03", "learner").ask("03.77")
