"""What a learner tried: kept beside the design file, never lost, shown over all chapters, and what comes back."""

import datetime
import json
import re

import pytest

from lathe_course.course.folder import workspace
from lathe_course.course.teaching import questions_view
from lathe_course.course.teaching.questions import asked, questions, tries_text
from lathe_course.course.teaching.questions.asked import LETTERS
from lathe_course.course.teaching.questions.data import OWN_FILE
from lathe_course.course.teaching.questions.trial import LEAST_WAYS, template, trial
from lathe_course.course.teaching.questions.tries import FIRST_REST, Try, due, read_tries, standing, tries_path
from lathe_course.course.teaching.questions_view import question_sheet
from lathe_course.units import InputProblem, si_factor

DAY = datetime.date(2031, 3, 3)


@pytest.fixture
def folder(monkeypatch, tmp_path):
    made = workspace.prepare(tmp_path / "mine").folder
    monkeypatch.setattr(questions_view, "_TRIED", {})
    monkeypatch.chdir(made / "exercises")
    return made


def restarted(monkeypatch):
    monkeypatch.setattr(questions_view, "_TRIED", {})


def right(name: str, again: int = 0) -> str:
    return f"{asked('03.3', name, again).value().likely / si_factor('rpm', 'speed'):.4g} rpm"


def radius(name: str, again: int = 0) -> str:
    now = asked("03.3", name, again)
    return f"{now.value(now.question.slips[0]).likely / si_factor('rpm', 'speed'):.4g} rpm"


def words(widget) -> str:
    return " ".join(re.sub(r"<style>.*?</style>|<[^>]+>", " ", widget.value).split())


def on(days: int) -> datetime.date:
    return DAY + datetime.timedelta(days=days)


# --- kept -------------------------------------------------------------------------------------------
def test_a_restart_loses_nothing(folder, monkeypatch):
    sheet = question_sheet("03", "learner", DAY)
    sheet.ask("03.3").answer(radius("learner"))
    sheet.ask("03.3").answer(right("learner"))
    sheet.ask("03.4").answer("5 m/min")
    restarted(monkeypatch)
    again = question_sheet("03", "LEARNER", on(1))
    assert again.right() == ["03.3"]
    told = words(again.progress().widget)
    assert "03.3 ✓ right, tries: 2; slips: radius put in for the diameter" in told
    assert "03.4 not yet, tries: 1" in told
    assert again.ask("03.4")._field.value == "5 m/min"
    assert "2031-03-03" in words(again.ask("03.3")._reply)


def test_a_choice_that_was_right_shows_no_answer_after_a_restart(folder, monkeypatch):
    question_sheet("03", "learner", DAY).ask("03.10").answer(LETTERS[asked("03.10", "learner").chosen()])
    restarted(monkeypatch)
    again = question_sheet("03", "learner", DAY).ask("03.10")
    assert again._field.value is None
    assert "Right" in words(again._reply)


def test_no_answer_stands_in_the_file(folder):
    sheet = question_sheet("03", "learner", DAY)
    for answer in (radius("learner"), right("learner")):
        sheet.ask("03.3").answer(answer)
    text = tries_path(folder / workspace.DESIGN_FILE).read_text(encoding="utf-8")
    assert radius("learner").split()[0] in text
    assert right("learner").split()[0] not in text


def test_what_is_no_try_is_not_kept(folder):
    sheet = question_sheet("03", "learner", DAY)
    for text in ("", "12", "12 kg", "about right"):
        sheet.ask("03.3").answer(text)
    assert not tries_path(folder / workspace.DESIGN_FILE).exists()


def test_lines_are_only_added_whatever_stands_there(folder):
    path = tries_path(folder / workspace.DESIGN_FILE)
    question_sheet("03", "learner", DAY).ask("03.3").answer("5 rpm")
    before = path.read_bytes() + b"not a line of ours\n2031-99-99,learner,03.3,0,wrong,,7 rpm"
    path.write_bytes(before)
    question_sheet("03", "learner", DAY).ask("03.4").answer("5 m/min")
    assert path.read_bytes().startswith(before + b"\n")
    tries, said = read_tries(path)
    assert {one.question for one in tries} == {"03.3", "03.4"}
    assert len(said) == 2 and "line" in said[0]


def test_a_file_that_cannot_be_added_to_is_told_and_the_sheet_goes_on(folder):
    path = tries_path(folder / workspace.DESIGN_FILE)
    path.mkdir()
    exercise = question_sheet("03", "learner", DAY).ask("03.3")
    assert exercise.answer(right("learner")).kind == "right"
    assert "could not be kept" in words(exercise._reply)


def test_a_link_in_the_folder_is_not_written_through(folder, tmp_path):
    path, outside = tries_path(folder / workspace.DESIGN_FILE), tmp_path / "startup.py"
    path.symlink_to(outside)
    exercise = question_sheet("03", "learner", DAY).ask("03.3")
    exercise.answer("5 rpm")
    assert not outside.exists()
    assert "link" in words(exercise._reply)


# --- what comes back --------------------------------------------------------------------------------
def tried(*rows):
    return [
        Try(on(day), "learner", id, again, stands, ("a slip",) if stands == "slip" else ()) for day, id, again, stands in rows
    ]


def test_what_went_wrong_comes_back_after_some_days_and_rests_longer_each_time():
    first = tried((0, "03.3", 0, "slip"), (0, "03.3", 0, "right"))
    assert due(first, "learner", on(FIRST_REST - 1)) == []
    assert due(first, "learner", on(FIRST_REST)) == [("03.3", 1)]
    second = first + tried((FIRST_REST, "03.3", 1, "right"))
    assert due(second, "learner", on(FIRST_REST + 2 * FIRST_REST - 1)) == []
    assert due(second, "learner", on(FIRST_REST + 2 * FIRST_REST)) == [("03.3", 2)]


def test_what_was_right_at_once_or_is_still_wrong_does_not_come_back():
    assert due(tried((0, "03.3", 0, "right"), (0, "03.4", 0, "wrong")), "learner", on(400)) == []
    assert due(tried((0, "03.3", 0, "slip"), (0, "03.3", 0, "right")), "somebody else", on(400)) == []


def test_a_few_come_back_together_oldest_first():
    many = tried(*((9 - place, f"03.{place}", 0, stands) for place in range(1, 9) for stands in ("wrong", "right")))
    assert [id for id, _ in due(many, "learner", on(60))] == ["03.8", "03.7", "03.6", "03.5", "03.4"]


def test_a_question_comes_back_with_new_numbers_on_one_page(folder, monkeypatch):
    sheet = question_sheet("03", "learner", DAY)
    sheet.ask("03.3").answer(radius("learner"))
    sheet.ask("03.3").answer(right("learner"))
    restarted(monkeypatch)
    later = question_sheet("all", "learner", on(FIRST_REST))
    note, back = later.repeat().widget.children
    assert "come back" in words(note)
    assert asked("03.3", "learner", 1).text in words(back.children[0])
    assert asked("03.3", "learner", 1).text != asked("03.3", "learner").text
    later.ask("03.3", 1).answer(right("learner", 1))
    found = words(later.progress().widget)
    assert f"Right so far: 1 of {len(later.ids)}." in found
    assert re.search(r"03 1 of 12 0 ··✓", found)
    restarted(monkeypatch)
    assert len(question_sheet("all", "learner", on(FIRST_REST + 1)).repeat().widget.children) == 1


def test_stored_outputs_of_the_page_over_all_chapters_hang_on_no_day(folder):
    sheet = question_sheet("all", "learner", DAY)
    assert repr(sheet.progress()) == repr(question_sheet("all", "", on(9)).progress())
    assert "It stands here when the notebook runs" in repr(sheet.repeat())


def test_the_page_over_all_chapters_is_in_the_course():
    [path] = workspace.material("exercises").glob("00_how_far*.ipynb")
    code = "".join(
        "".join(cell["source"]) for cell in json.loads(path.read_text(encoding="utf-8"))["cells"] if cell["cell_type"] == "code"
    )
    assert 'question_sheet("all")' in code and "sheet.progress()" in code and "sheet.repeat()" in code


# --- the mentor -------------------------------------------------------------------------------------
def test_a_mentor_reads_what_was_handed_over(folder):
    for name in ("learner", "lärling två"):
        sheet = question_sheet("03", name, DAY)
        sheet.ask("03.3").answer(radius(name))
        sheet.ask("03.4").answer("0.01 m/min")
    sheet.ask("03.3").answer(right(name))
    told = tries_text(tries_path(folder / workspace.DESIGN_FILE))
    assert "learner: 0 of 2 tried are right" in told
    assert "lärling två: 1 of 2 tried are right" in told
    assert "radius put in for the diameter" in told
    assert "none known; wrote '0.01 m/min'" in told, "what no slip explains a mentor has to look at"
    with pytest.raises(InputProblem, match="no tries"):
        tries_text(folder / "nothing.csv")


def test_slips_are_counted_by_name():
    found = standing(tried((0, "03.3", 0, "slip"), (1, "03.3", 0, "slip"), (1, "03.3", 0, "right")), "LEARNER", ["03.3", "03.4"])
    assert found["03.3"].slips == ("a slip", "a slip")
    assert (found["03.3"].tries, found["03.3"].right, found["03.4"].tries) == (3, (on(1),), 0)


# --- questions of one's own -------------------------------------------------------------------------
def test_a_question_added_by_file_alone_is_put(folder):
    (folder / OWN_FILE).write_text(template(), encoding="utf-8")
    assert list(questions("05"))[-1] == "05.own1"
    sheet = question_sheet("05", "learner", DAY)
    assert any("05.own1" in words(one.children[0]) for one in sheet.level("use").widget.children)
    now = asked("05.own1", "learner")
    assert sheet.ask("05.own1").answer(f"{now.value().likely / si_factor('rpm', 'speed'):.5g} rpm").kind == "right"
    assert "05.own1" not in questions("03")


def test_a_faulty_file_of_ones_own_is_told_and_takes_nothing_away(folder):
    (folder / OWN_FILE).write_text(template().replace('"driven_speed"', '"drivn_speed"'), encoding="utf-8")
    sheet = question_sheet("05", "learner", DAY)
    assert "05.own1" not in sheet.ids
    first, *others = sheet.level("recall").widget.children
    assert "no formula 'drivn_speed'" in words(first) and "driven_speed" in words(first)
    assert others


HARMFUL = {
    "code for a factor": ('do = "swap"', 'do = "scale", by = "__import__(\'os\').getcwd()"'),
    "a draw without end": ('"30 to 60 by 5 mm"', '"0 to 9e9 by 0.001 mm"'),
    "not even a question": ("[[question]]", "question = 3\n[x]"),
    "a list for a text": ('text = "', 'text = [3]\nhint = "'),
    "a name of the course": ('"05.own1"', '"05.1"'),
    "a chapter there is not": ('"05.own1"', '"77.own1"'),
}


@pytest.mark.parametrize("case", HARMFUL)
def test_a_stranger_s_file_is_refused_with_a_sentence(folder, case):
    before, after = HARMFUL[case]
    assert before in template()
    (folder / OWN_FILE).write_text(template().replace(before, after, 1), encoding="utf-8")
    assert "05.own1" not in questions("05")
    assert questions_view.own_trouble()
    assert all(sentence for sentence in trial(folder / OWN_FILE))


def test_the_trial_tells_what_shows_only_with_numbers(tmp_path):
    path = tmp_path / OWN_FILE
    path.write_text(template(), encoding="utf-8")
    assert trial(path) == []
    close = template().replace(
        'do = "swap", input = "driving_diameter", other = "driven_diameter"', 'do = "scale result", by = "1.005"'
    )
    path.write_text(close, encoding="utf-8")
    assert any("lies too near the answer" in sentence for sentence in trial(path))
    outside = template().replace('"driven_speed"', '"chip_thickness"').replace("driving_diameter", "feed")
    path.write_text(outside, encoding="utf-8")
    assert trial(path)


def test_the_trial_tells_of_a_further_way_that_never_shows(tmp_path):
    path = tmp_path / OWN_FILE
    way = 'also = [{ name = "the same once more", help = "Look.", do = "reckon", sum = "SUM" }]\n'
    for sum, known in (("speed * 3", True), ("speed * driven_diameter / driving_diameter", False), ("speed / 0", False)):
        path.write_text(template() + way.replace("SUM", sum), encoding="utf-8")
        assert bool(trial(path)) != known
        assert known or "'the same once more' comes to the answer, to another slip or to nothing" in trial(path)[0]


def test_the_trial_tells_of_numbers_a_formula_was_not_made_for(tmp_path):
    path = tmp_path / OWN_FILE
    path.write_text(
        """
[[question]]
id = "04.own1"
level = "use"
text = "A chip {chip_thickness} thick: what does it take?"
formula = "specific_cutting_force"
unit = "N/mm²"
draws = { kc11 = ["1800 N/mm²"], exponent = ["0.2"], chip_thickness = ["4 mm", "5 mm", "6 mm"] }
slips = [ { name = "the table", help = "Look.", do = "quote", figure = "kc11" } ]
""",
        encoding="utf-8",
    )
    assert any("Narrow the draws" in sentence for sentence in trial(path))


def test_the_course_passes_its_own_trial():
    said = {path.name: trial(path) for path in sorted(workspace.material("exercises").glob("*.toml"))}
    assert not {name: sentences for name, sentences in said.items() if sentences}
    assert LEAST_WAYS == 5
