"""The design a notebook works on: the file as it is, a stand-in when it cannot be read, and nobody's work lost."""

import os
from dataclasses import replace
from datetime import date

import pytest

from lathe_course.course.chapter import open_chapter
from lathe_course.course.session import Session
from lathe_course.design.demos import demo
from lathe_course.design.files import design_file as files
from lathe_course.design.files.file_format import FORMAT
from lathe_course.design.lathe import LATHE
from lathe_course.units import InputProblem


def kept(path, name):
    """A decision as the file has it."""
    return files.load(path, LATHE).choices[name]


def halved(path):
    whole = path.read_bytes()
    path.write_bytes(whole[: len(whole) // 2])
    return whole


# --- what it works on -------------------------------------------------------------------------------
def test_outside_of_a_working_folder_it_is_the_demo(nowhere):
    session = Session()
    assert session.design == demo("boat_shed")
    assert "demo" in session.where and "no working folder" in session.where
    session.keep("bigger work", centre_height="80 mm")
    assert session.design.choices["centre_height"].written == "80 mm"
    assert list(nowhere.iterdir()) == []


def test_a_design_without_a_name_is_told_without_empty_quotes(design_file):
    session = Session()
    session.design = replace(session.design, name="mine")
    assert session.where == "“mine”, in design.toml"
    session.design = replace(session.design, name="")
    assert session.where == "your design, in design.toml"


def test_another_demo_can_be_asked_for(nowhere):
    assert Session(demo_name="cabin").design == demo("cabin")
    with pytest.raises(InputProblem, match="no demo called 'cabbin'"):
        Session(demo_name="cabbin")


def test_in_a_working_folder_it_is_the_file(design_file):
    session = Session()
    assert session.path == design_file
    session.keep("a stouter job came", centre_height="80 mm")
    choice = kept(design_file, "centre_height")
    assert (choice.written, choice.reason) == ("80 mm", "a stouter job came")
    assert choice.earlier[0].written == "75 mm"
    assert "[decisions.centre_height]" in design_file.read_text()


def test_the_evaluation_follows_the_design(nowhere):
    session = Session()
    before = session.evaluation
    assert session.evaluation is before, "worked out once"
    session.keep(centre_height="80 mm")
    assert session.evaluation["swing_over_bed"] == pytest.approx(0.160)
    assert before["swing_over_bed"] == pytest.approx(0.150)


def test_listeners_hear_of_a_kept_change_only(nowhere):
    session, heard = Session(), []
    session.when_changed(lambda: heard.append(session.design["centre_height"]))
    with pytest.raises(InputProblem):
        session.keep(centre_height="80 kg")
    assert heard == []
    session.keep(centre_height="80 mm")
    assert heard == [pytest.approx(0.080)]


# --- two at once ------------------------------------------------------------------------------------
def test_two_notebooks_open_at_once_lose_nothing(design_file):
    first, second = Session(), Session()
    first.keep("first", centre_height="80 mm")
    second.keep("second", between_centres="350 mm")
    assert kept(design_file, "centre_height").reason == "first"
    assert kept(design_file, "between_centres").reason == "second"
    assert second.design["centre_height"] == pytest.approx(0.080), "and the second sees what the first kept"
    second.change(lambda design: design.guess("06", "give", "20 µm"))
    first.change(lambda design: design.guess("06", "other", "30 µm"))
    assert files.load(design_file, LATHE).guesses["06"] == {"give": "20 µm", "other": "30 µm"}


def test_a_change_made_in_an_editor_is_respected(design_file):
    session = Session()
    text = design_file.read_text().replace('value = "300 mm"', 'value = "310 mm"   # by hand', 1)
    design_file.write_text(text)
    session.keep(centre_height="80 mm")
    assert "# by hand" in design_file.read_text()
    assert session.design["between_centres"] == pytest.approx(0.310)


# --- a file in trouble ------------------------------------------------------------------------------
def test_a_damaged_file_without_a_copy_runs_on_the_demo_and_keeps_nothing(design_file):
    whole = halved(design_file)
    broken = design_file.read_bytes()
    session = Session()
    assert session.design == demo("boat_shed")
    assert "design.toml" in session.trouble and "line" in session.trouble
    assert "runs on the demo, and nothing is kept" in session.trouble
    assert session.where.startswith("the demo") and "cannot be read" in session.where
    with pytest.raises(InputProblem, match="Nothing was kept"):
        session.keep(centre_height="80 mm")
    assert design_file.read_bytes() == broken
    assert session.design == demo("boat_shed")
    design_file.write_bytes(whole)  # mended, with the notebook still open
    session.keep("mended", centre_height="80 mm")
    assert kept(design_file, "centre_height").reason == "mended"
    assert session.trouble == session.stand_in == ""


def test_a_damaged_file_with_a_copy_runs_on_the_last_good_one(design_file):
    Session().keep(between_centres="333 mm")
    Session().keep(centre_height="80 mm")  # the copy holds 333 mm and the old height
    halved(design_file)
    session = Session()
    assert session.design["between_centres"] == pytest.approx(0.333)
    assert "your last good copy" in session.where
    assert "design.backup.toml" in session.trouble
    with pytest.raises(InputProblem, match="Nothing was kept"):
        session.keep(centre_height="90 mm")
    files.restore_last_good(design_file)
    session.keep(centre_height="90 mm")
    assert kept(design_file, "between_centres").written == "333 mm"


def test_a_mended_file_is_shown_even_where_the_change_is_refused(design_file):
    whole = halved(design_file)
    session, heard = Session(), []
    session.when_changed(lambda: heard.append(session.design["between_centres"]))
    design_file.write_bytes(whole.replace(b'value = "300 mm"', b'value = "320 mm"'))
    with pytest.raises(InputProblem, match="but a length is needed"):
        session.keep(centre_height="80 kg")
    assert heard == [pytest.approx(0.320)]


def test_a_file_of_a_newer_course_can_be_looked_at_and_is_left_alone(design_file):
    text = design_file.read_text().replace(f"format = {FORMAT}", "format = 99", 1).replace('"300 mm"', '"320 mm"', 1)
    design_file.write_text(text)
    session = Session()
    assert session.design["between_centres"] == pytest.approx(0.320)
    assert "newer version of the course" in session.trouble
    with pytest.raises(InputProblem, match="newer version"):
        session.keep(centre_height="80 mm")
    assert design_file.read_text() == text


def test_a_file_marked_read_only(design_file, monkeypatch):
    usual, before = os.access, design_file.read_bytes()
    with monkeypatch.context() as closed:
        closed.setattr(os, "access", lambda path, mode, **more: mode != os.W_OK and usual(path, mode, **more))
        session = Session()
        assert "read-only" in session.trouble
        with pytest.raises(InputProblem, match="read-only"):
            session.keep(centre_height="80 mm")
        assert design_file.read_bytes() == before
    session.keep(centre_height="80 mm")
    assert kept(design_file, "centre_height").written == "80 mm"


def test_a_file_that_vanishes_while_the_notebook_is_open(design_file):
    session = Session()
    text = design_file.read_text()
    design_file.unlink()
    with pytest.raises(InputProblem, match="there is no such file"):
        session.keep(centre_height="80 mm")
    assert session.design["centre_height"] == pytest.approx(0.075)
    assert not design_file.exists()
    assert "runs on the demo" in Session().trouble  # a notebook opened meanwhile says so too
    design_file.write_text(text)
    session.keep(centre_height="80 mm")
    assert kept(design_file, "centre_height").written == "80 mm"


@pytest.mark.parametrize(
    "rubbish", [b"", b"\x00\x00\x00", b"\xff\xfe\x00", b"[decisions\n", b"centre_height = 75 mm\n"], ids=repr
)
def test_rubbish_in_the_place_of_the_file(design_file, rubbish):
    design_file.write_bytes(rubbish)
    chapter = open_chapter("06")
    assert "Mind:" in repr(chapter) and "nothing is kept" in repr(chapter)
    chapter.your_design("nose_stiffness")  # and the chapter runs
    assert design_file.read_bytes() == rubbish


def test_a_bad_value_in_the_file_is_named_with_its_line(design_file):
    text = design_file.read_text().replace('value = "75 mm"', 'value = "75 kg"', 1)
    design_file.write_text(text)
    line = text[: text.index('"75 kg"')].count("\n") + 1
    said = Session().trouble
    assert f"line {line}" in said and "centre_height" in said and "but a length is needed" in said


def test_a_key_nobody_knows_is_remarked_and_kept(design_file):
    design_file.write_text('colour = "green"\n' + design_file.read_text())
    chapter = open_chapter("02")
    assert "colour" in repr(chapter)
    chapter.keep(centre_height="80 mm")
    assert 'colour = "green"' in design_file.read_text()


def test_a_cell_that_is_run_again_leaves_no_old_panel_listening(monkeypatch):
    told = []
    session, run = Session(), iter([("a", 1), ("a", 1), ("b", 2), ("a", 3), None])
    monkeypatch.setattr("lathe_course.course.session._cell_run", lambda: next(run))
    for name in ("first", "also first", "other cell", "first again", "not in a cell"):
        session.when_changed(lambda name=name: told.append(name))
    session.keep(centre_height="80 mm")
    assert told == ["other cell", "first again", "not in a cell"]


# --- the log of the build ----------------------------------------------------------------------------
def test_a_line_added_to_the_log_is_told_to_all_and_stands_beside_the_design_file(design_file):
    session, told = Session(), []
    session.when_changed(lambda: told.append(session.evaluation["hours_worked"]))
    session.add_to_log("2024-03-01", "build begun")
    session.add_to_log("2024-03-05", "hours", "3", "bed box")
    assert told == [0.0, 3.0] and (design_file.parent / "design.log.csv").read_text(encoding="utf-8").endswith(
        "2024-03-05,hours,3,bed box,,,,\n"
    )
    session.keep(centre_height="80 mm")
    assert session.evaluation["hours_worked"] == 3.0 and Session().evaluation["hours_worked"] == 3.0


def test_a_log_beside_a_design_is_read_on_the_day_it_is(design_file):
    """Asleep since April and looked at in November: the last line is no excuse."""
    session = Session(today=date(2024, 4, 10))
    session.add_to_log("2024-03-01", "build begun")
    session.add_to_log("2024-04-05", "hours", "3", "bed box")
    assert session.evaluation.findings["parts_keep_coming"].status == "holds" and session.evaluation[
        "log_months"
    ] == pytest.approx(40 / 30.4375)
    later = Session(today=date(2024, 11, 10))
    assert later.evaluation.findings["parts_keep_coming"].status == "fails" and later.evaluation["log_months"] == pytest.approx(
        254 / 30.4375
    )
    assert (
        later.evaluation["hours_a_month"] < session.evaluation["hours_a_month"]
        and later.evaluation["months_forecast"] > session.evaluation["months_forecast"] + 5
    )
    with pytest.raises(InputProblem, match="2024-11-11 is still to come, for today is 2024-11-10"):
        later.add_to_log("2024-11-11", "hours", "3", "bed box")


def test_a_line_from_another_chapter_is_noticed_at_the_next_touch(design_file):
    here, there, told = Session(), Session(), []
    here.when_changed(lambda: told.append(here.evaluation["hours_worked"]))
    there.add_to_log("2024-03-05", "hours", "3", "bed box")
    assert here.look() == "The log has 1 line more than when this page looked last." and told == [3.0] and here.look() == ""
    assert there.look() == "", "its own line is no news"


def test_two_chapters_that_keep_the_same_decision_at_once_are_told_by_both_values(design_file):
    here, there = Session(), Session()
    there.keep(spindle_diameter="40 mm")
    here.keep(spindle_diameter="45 mm")
    assert (
        "But spindle diameter you have kept at once with the other: yours, 45 mm, stands now in place of 40 mm. Agree on one."
        in here.noticed
    )
    assert there.look().startswith("Kept elsewhere meanwhile") and there.design["spindle_diameter"] == pytest.approx(0.045)
    there.keep(centre_height="80 mm")
    assert "at once" not in there.noticed


def test_a_line_that_cannot_be_is_not_added(design_file):
    session = Session()
    with pytest.raises(InputProblem, match="no part or task called"):
        session.add_to_log("2024-03-05", "hours", "3", "bet box")
    with pytest.raises(InputProblem, match="still to come"):
        session.add_to_log("2999-03-05", "hours", "3", "bed box")
    assert not (design_file.parent / "design.log.csv").exists() and not session.log


def test_a_broken_log_is_told_and_the_chapter_goes_on(design_file):
    path = design_file.parent / "design.log.csv"
    path.write_text("nonsense\n1\n", encoding="utf-8")
    session = Session()
    assert "design.log.csv" in session.log_trouble and "left out" in session.log_trouble and session.evaluation["log_months"] == 0
    path.write_text("date,what,amount,part,words\n2024-03-05,hours,3,bed box,\n", encoding="utf-8")
    session.read_log_again()
    assert session.log_trouble == "" and session.evaluation["hours_worked"] == 3.0
    path.write_text("nonsense\n1\n", encoding="utf-8")
    session.read_log_again()
    assert "as it was last read" in session.log_trouble and session.evaluation["hours_worked"] == 3.0


def test_without_a_folder_the_log_lives_in_the_notebook(nowhere):
    session = Session()
    session.add_to_log("2024-03-05", "hours", "3", "bed box")
    assert session.evaluation["hours_worked"] == 3.0 and list(nowhere.iterdir()) == []
