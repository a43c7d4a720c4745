"""Questions that take their givens from the learner's own design: which do, when they do not, and that they are judged as any other."""

import dataclasses
import functools
import re
from types import MappingProxyType

import pytest
from cases import every

from lathe_course import command
from lathe_course.course.folder import workspace
from lathe_course.course.teaching import questions_view
from lathe_course.course.teaching.questions import (
    AskedChanges,
    AskedFigure,
    answers_table,
    answers_text,
    ask_of,
    asked,
    chapters,
    check,
    questions,
)
from lathe_course.course.teaching.questions.asked import LETTERS
from lathe_course.course.teaching.questions.behind import Behind
from lathe_course.course.teaching.questions.data import read_questions
from lathe_course.course.teaching.questions_view import question_sheet
from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.files.design_file import DesignFile
from lathe_course.design.lathe import LATHE
from lathe_course.design.origins import YOURS
from lathe_course.units import InputProblem, read, shown, si_factor

OWN = [one for chapter in chapters() for one in questions(chapter).values() if one.own]
EACH = every("one", OWN)
NAMES = ("guest", "learner one", "pupil 7")


@functools.cache
def settled(name: str) -> Behind:
    """A demo as if a learner had settled all of it."""
    design = demo(name)
    return Behind(
        dataclasses.replace(
            design,
            choices=MappingProxyType({one: dataclasses.replace(choice, origin=YOURS) for one, choice in design.choices.items()}),
        )
    )


def put(one, name="guest", of="boat_shed"):
    return ask_of(one, name, behind=settled(of))


def written(now, si):
    return f"{si / (si_factor(now.question.unit, now.kind.sort) if now.question.unit else 1.0):.3g} {now.question.unit}".rstrip()


# --- which, and what ----------------------------------------------------------------------------------
def test_questions_of_many_chapters_take_figures_from_the_design():
    assert len({one.chapter for one in OWN}) >= 9 and len(OWN) >= 15
    assert sum(one.sort == "changes" for one in OWN) >= 4


@EACH
def test_the_main_demo_settled_by_a_learner_gives_each_its_figures(one):
    for name in NAMES:
        now = put(one, name)
        assert "your own design" in now.note and "made up" not in now.note, now.note
        if one.sort == "figure":
            for figure, source in one.own.items():
                kind = one.kinds[figure]
                assert now.words[figure] == shown(settled("boat_shed").evaluation.middle(source), kind)
                assert now.figures[figure] == pytest.approx(read(now.words[figure], kind)), (
                    "what is asked is what is read, to the last digit"
                )
        else:
            assert now.text == one.own_text


def test_by_hand_from_the_design():
    """The boat shed's cross-screw has 2 mm and its dial 100 divisions: 2 × 2 / 100 = 0.04 mm on the diameter.  Geometry."""
    now = put(next(one for one in OWN if one.id == "09.2"))
    assert now.value().likely == pytest.approx(0.04e-3)
    assert check(now, "0.04 mm").kind == "right"
    assert check(now, "0.02 mm").kind == "slip"


@EACH
@every("of", DEMOS)
def test_whatever_the_design_right_is_right_and_slips_are_known(of, one):
    now = put(one, of=of)
    if isinstance(now, AskedFigure):
        assert check(now, written(now, now.value().likely)).kind == "right"
        for slip in one.slips:
            assert check(now, written(now, now.value(slip).likely)).slip == slip.name
        assert len(one.slips) + len({slip.name for slip, _ in now.usual}) >= 5
    else:
        kinds = [check(now, letter).kind for letter in LETTERS[: len(now.options)]]
        assert kinds.count("right") == 1 and kinds.count("slip") == len(kinds) - 1


def test_the_right_change_is_the_one_that_moves_the_own_design_most():
    """Worked out anew with each change kept, which is another way than the question's own."""
    from lathe_course.design.evaluation import evaluate

    for one in OWN:
        if one.sort == "changes":
            now = put(one)
            values = [evaluate(settled("boat_shed").design.with_(**change)).middle(one.result) for change in now.changes]
            assert now.chosen() == values.index((min if one.picks == "smallest" else max)(values)), one.id


# --- when it cannot ------------------------------------------------------------------------------------
@EACH
def test_nothing_of_ones_own_means_drawn_numbers_and_a_word(one):
    now = ask_of(one, "guest", behind=Behind(demo("boat_shed")))
    assert "nothing behind it is yours yet" in now.note and "made up" in now.note
    assert (now.text, now.options) == (ask_of(one, "guest").text, ask_of(one, "guest").options)


def test_one_decision_of_ones_own_is_enough():
    one = next(one for one in OWN if one.id == "06.4")
    now = ask_of(one, "guest", behind=Behind(demo("boat_shed").with_(spindle_bore="17 mm")))
    assert now.words == {"bore": "17 mm", "diameter": "35 mm"}


@pytest.mark.parametrize(
    ("id", "changes", "said"),
    [("06.4", {"spindle_bore": "2 mm"}, "too near each other"), ("09.2", {"dial_divisions": "1"}, "too near each other")],
)
def test_a_design_that_would_make_a_question_unfair_gives_none(id, changes, said):
    one = next(one for one in OWN if one.id == id)
    now = ask_of(one, "guest", behind=Behind(demo("boat_shed").with_(**changes)))
    assert said in now.note and "made up" in now.note
    assert now.sound()


def test_a_result_without_a_figure_is_told_by_its_name():
    class Empty(Behind):
        def __init__(self):
            super().__init__(settled("boat_shed").design)
            self.evaluation = type("E", (), {"middle": lambda self, name: float("nan")})()

    for one in OWN:
        if one.sort == "figure":
            now = ask_of(one, "guest", behind=Empty())
            assert "has no figure in it" in now.note and LATHE.part(next(iter(one.own.values()))).label in now.note


@EACH
def test_what_comes_back_and_the_worked_example_have_drawn_numbers(one):
    now = put(one)
    assert ask_of(one, "guest", again=1, behind=settled("boat_shed")).note == ""
    assert not ask_of(one, "guest", unlike=now).note


@EACH
def test_no_repr_or_note_shows_the_answer(one):
    now = put(one)
    value = now.value().likely if isinstance(now, AskedFigure) else 0
    said = f"{now!r} {now.note}".replace(one.id, "")
    assert not re.search(r"\d{2,}\.?\d", said), (said, value)


# --- on the sheet, and for the mentor --------------------------------------------------------------------
@pytest.fixture
def folder(monkeypatch, tmp_path):
    made = workspace.prepare(tmp_path / "mine").folder
    monkeypatch.setattr(questions_view, "_TRIED", {})
    monkeypatch.chdir(made / "exercises")
    DesignFile(made / workspace.DESIGN_FILE, LATHE).save_change(lambda design: design.with_(spindle_bore="17 mm"))
    return made


def test_the_sheet_shows_figures_of_the_design_and_says_so(folder):
    exercise = question_sheet("06", "learner").ask("06.4")
    assert "a bore of 17 mm" in exercise._text.value and "of your own design" in exercise._text.value
    share = (17 / 35) ** 4
    assert exercise.answer(f"{100 * share:.2f} %").kind == "right"
    assert "17 mm" not in (folder / "design.exercises.csv").read_text(encoding="utf-8")
    assert "nothing behind it is yours" in question_sheet("09", "learner").ask("09.2")._text.value


def test_numbers_do_not_move_while_the_sheet_is_open(folder):
    sheet = question_sheet("06", "learner")
    before = sheet.ask("06.4")._text.value
    DesignFile(folder / workspace.DESIGN_FILE, LATHE).save_change(lambda design: design.with_(spindle_bore="21 mm"))
    assert sheet.ask("06.4")._text.value == before
    assert "21 mm" in question_sheet("06", "learner").ask("06.4")._text.value


def test_the_mentor_names_the_design(folder, capsys, monkeypatch):
    behind = Behind(DesignFile(folder / workspace.DESIGN_FILE, LATHE).read())
    assert "a bore of 17 mm" in " ".join(answers_text("06", "learner", behind).split())
    assert "--design" in answers_text("06", "learner") and "--design" in answers_table("06", ["learner"])
    monkeypatch.chdir(folder.parent)
    assert command.main(["answers", "06", "--name", "learner", "--design", "mine", "--short"]) == 0
    told = capsys.readouterr().out
    assert f"{100 * (17 / 35) ** 4:.2f} %" in told and "--design" not in told
    assert command.main(["answers", "06", "--name", "a", "--name", "b", "--design", "mine"]) == 2
    assert "2 names and 1 designs" in capsys.readouterr().err


def test_the_evening_s_sheet_takes_them_too_with_what_was_said_of_decisions(folder, monkeypatch):
    monkeypatch.chdir(folder.parent)
    DesignFile(folder / workspace.DESIGN_FILE, LATHE).save_change(
        lambda design: design.with_remark("spindle_diameter", "<b>mentor</b>", "", "a bar of 20 mm lies there")
    )
    assert command.main(["evening", "06", "--name", "learner", "--design", "mine", "--to", "evening.html"]) == 0
    page = (folder.parent / "evening.html").read_text(encoding="utf-8")
    assert "Said of their decisions so far" in page and "a bar of 20 mm lies there" in page and "<b>mentor" not in page
    assert command.main(["evening", "06", "--name", "learner", "--to", "evening.html"]) == 0
    assert "Said of their decisions so far" not in (folder.parent / "evening.html").read_text(encoding="utf-8")


# --- as an entry -----------------------------------------------------------------------------------------
ENTRY = """
[[question]]
id = "06.own1"
level = "use"
text = "A bore of {bore} in {diameter}?"
formula = "bore_share"
draws = { bore = "14 to 24 by 1 mm", diameter = "28 to 46 by 1 mm" }
own = { bore = "spindle_bore" }
"""


@pytest.mark.parametrize(
    ("before", "after", "said"),
    [
        ('"spindle_bore"', '"spindel_bore"', "no decision, figure or result 'spindel_bore'"),
        ("{ bore = ", "{ bor = ", "'bor', which is no figure that is drawn"),
        ('"spindle_bore"', '"motor_power"', "not of the same kind"),
        ('{ bore = "spindle_bore" }', '"x"', "'own' must be a table"),
        ('{ bore = "spindle_bore" }', '[{ bore = "spindle_bore" }]', "'own' is a table"),
        ('"spindle_bore"', '"bearing_kind"', "not of the same kind"),
    ],
)
def test_a_faulty_entry_is_told(tmp_path, before, after, said):
    path = tmp_path / "my_questions.toml"
    path.write_text(ENTRY, encoding="utf-8")
    assert read_questions(path)[0].own == {"bore": "spindle_bore"}
    path.write_text(ENTRY[:-40] + ENTRY[-40:].replace(before, after), encoding="utf-8")
    with pytest.raises(InputProblem, match=said):
        read_questions(path)


def test_changes_of_ones_own_need_their_text(tmp_path):
    path = tmp_path / "my_questions.toml"
    path.write_text(
        """
[[question]]
id = "06.own1"
level = "judge"
text = "Which?"
design = "boat_shed"
result = "nose_stiffness"
changes = [{ spindle_diameter = "38 mm" }, { bearing_span = "80 mm" }]
own = [{ spindle_diameter = "{x}" }, { bearing_spam = "1.2 times" }]
picks = "largest"
draws = {}
""",
        encoding="utf-8",
    )
    with pytest.raises(InputProblem) as refused:
        read_questions(path)
    for said in ("belong together", "no decision 'bearing_spam'", "'own' has {x}, which is not drawn"):
        assert said in str(refused.value)


def test_changes_are_asked_of_the_demo_where_there_is_no_design():
    one = next(one for one in OWN if one.sort == "changes")
    assert isinstance(ask_of(one, "guest"), AskedChanges) and ask_of(one, "guest").text == one.text
    assert asked(one.id, "guest").note == ""
