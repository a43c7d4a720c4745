"""Exercises: every question can be read and put, with numbers of its own for a name, and nothing gives its answer away."""

import collections
import json
import math
import re

import pytest
from put_questions import ALL, EACH, OTHER, figures, put_to, put_to_all, written

from lathe_course.course.folder import workspace
from lathe_course.course.teaching.questions import (
    LEVELS,
    answers_text,
    ask_of,
    asked,
    chapters,
    check,
    normalised,
    question,
    questions,
)
from lathe_course.course.teaching.questions.data import read_questions
from lathe_course.course.teaching.questions.draws import candidates, pick
from lathe_course.units import InputProblem, si_factor


# --- the file ---------------------------------------------------------------------------------------
def test_every_chapter_has_enough_of_each_level():
    assert chapters() == [f"{number:02}" for number in range(1, 18)]
    assert len(ALL) >= 140
    for chapter in chapters():
        found = questions(chapter).values()
        assert len(found) >= 8, chapter
        assert {one.level for one in found} == set(LEVELS), chapter
        assert sum(one.level == "judge" for one in found) >= 2, chapter
        assert any(one.sort in ("changes", "design") for one in found), f"{chapter}: a judgement through the chain"


@EACH
def test_a_computing_question_knows_five_wrong_ways(one):
    """With the numbers of every name; those of the question itself are at least two, the rest are gone everywhere."""
    for now in figures(one):
        if one.work and one.level != "recall":
            assert len(one.slips) >= 2, one.id
            assert len(one.slips) + len({slip.name for slip, _ in now.usual}) >= 5, now.text


@EACH
def test_the_text_asks_for_the_unit_in_a_way_that_can_be_answered(one):
    assert one.sort != "figure" or one.unit in OTHER, f"add a second unit for {one.unit} to this test"
    assert one.text.rstrip().endswith(("?", "right."))


BROKEN = {
    "unknown formula": ("spindle_speed", "spindel_speed", "no formula 'spindel_speed'"),
    "unknown level": ('"use"', '"easy"', "the level 'easy' is none of recall, use, judge"),
    "unknown place": ("{diameter}", "{size}", "the text has {size}, which is not drawn"),
    "unit of another kind": ('unit = "rpm"', 'unit = "mm"', "a rotational speed is needed"),
    "draw of another kind": ('to = "20 mm"', 'to = "20 kg"', "one unit"),
    "draw in the wrong unit": ("20 m/min", "20 mm", "but a speed is needed"),
    "no reason": ('reason = "π as 3.14"', "", "the tolerance has no reason"),
    "too wide": ("tolerance = 0.01", "tolerance = 0.2", "between 0 and 0.05"),
    "unknown transformation": ('do = "scale"', 'do = "eval"', "does 'eval', which is none of"),
    "parameter missing": (', by = "1/2"', "", "it takes input, by"),
    "factor that is code": ('by = "1/2"', "by = \"__import__('os')\"", "write a number, 'pi', or one over the other"),
    "slip on no figure": ('input = "diameter"', 'input = "radius"', "the figure 'radius', which the question does not have"),
    "unknown key": ("tolerance =", "tolerence =", "'tolerence' is not known here"),
    "missing input": ("[question.draws.diameter]", "[question.draws.length]", "needs 'diameter'"),
    "sum that is code": (
        'do = "scale", input = "diameter", by = "1/2"',
        'do = "reckon", sum = "open(1)"',
        "only numbers, figures",
    ),
    "sum of no figure": (
        'do = "scale", input = "diameter", by = "1/2"',
        'do = "reckon", sum = "radius * 2"',
        "the figure 'radius', which the question does not have",
    ),
    "further way on no figure": (
        "[question.draws.cutting_speed]",
        'also = [{ name = "x", help = "y", do = "quote", figure = "z" }]\n[question.draws.cutting_speed]',
        "the figure 'z', which the question does not have",
    ),
    "help missing": ('help = "Look."', "", "without a name or help"),
}


SOUND = """
[[question]]
id = "77.1"
level = "use"
text = "A bush of {diameter} at 20 m/min?"
formula = "spindle_speed"
unit = "rpm"
tolerance = 0.01
reason = "π as 3.14"
[question.draws.cutting_speed]
one_of = ["20 m/min"]
[question.draws.diameter]
from = "10 mm"
to = "20 mm"
step = "2 mm"
[[question.slips]]
name = "radius"
help = "Look."
steps = [{ do = "scale", input = "diameter", by = "1/2" }]
"""


def test_a_sound_file_is_read(tmp_path):
    path = tmp_path / "77_trial.toml"
    path.write_text(SOUND, encoding="utf-8")
    [one] = read_questions(path)
    assert check(ask_of(one, "learner"), written(ask_of(one, "learner"), ask_of(one, "learner").value().likely)).kind == "right"


@pytest.mark.parametrize("case", BROKEN, ids=str)
def test_a_faulty_file_is_refused_with_a_sentence(tmp_path, case):
    before, after, said = BROKEN[case]
    assert before in SOUND
    path = tmp_path / "77_trial.toml"
    path.write_text(SOUND.replace(before, after), encoding="utf-8")
    with pytest.raises(InputProblem) as refused:
        read_questions(path)
    assert said in str(refused.value)
    assert "Question 77.1" in str(refused.value)


def test_a_file_that_is_not_whole_is_told_by_its_line(tmp_path):
    path = tmp_path / "77_trial.toml"
    path.write_text(SOUND.replace('unit = "rpm"', 'unit = "rpm'), encoding="utf-8")
    line = SOUND[: SOUND.index('unit = "rpm"')].count("\n") + 1
    with pytest.raises(InputProblem, match=rf"77_trial.toml, line {line}\b.*a text is opened with a quote"):
        read_questions(path)


def test_all_faults_are_told_at_once(tmp_path):
    path = tmp_path / "77_trial.toml"
    path.write_text(SOUND.replace('"use"', '"easy"').replace("tolerance = 0.01", "tolerance = 0.2"), encoding="utf-8")
    with pytest.raises(InputProblem) as refused:
        read_questions(path)
    assert len(refused.value.problems) == 2


def test_questions_that_cannot_be_told_apart_are_refused(tmp_path):
    path = tmp_path / "77_trial.toml"
    path.write_text(SOUND.replace('by = "1/2"', 'by = "1.01"'), encoding="utf-8")
    [one] = read_questions(path)
    with pytest.raises(InputProblem, match="keep its answer and its slips apart"):
        ask_of(one, "learner")


def test_unknown_chapters_and_questions_get_a_sentence():
    with pytest.raises(InputProblem, match="no exercises for chapter '99'"):
        questions("99")
    with pytest.raises(InputProblem, match="no exercises"):
        questions("../03")
    with pytest.raises(InputProblem, match="no question '03.99'"):
        question("03.99")


# --- numbers from the name --------------------------------------------------------------------------
@pytest.mark.parametrize("spelling", ["learner one", " Learner  One ", "LEARNER\tONE", "Léarner One"])
def test_case_blanks_and_accents_make_no_difference(spelling):
    assert asked("03.3", spelling).text == asked("03.3", "Learner One").text


def test_the_order_of_a_name_makes_a_difference():
    assert [asked(id, "Learner One").text for id in questions("03")] != [asked(id, "one learner").text for id in questions("03")]


def test_an_empty_name_is_the_guest():
    assert normalised("  ") == normalised("Guest")


def test_draws_are_the_same_on_every_machine():
    """Held by figures written down once: a change here changes the numbers of every learner."""
    assert [pick(f"guest|03|03.3|0|{label}", 1000) for label in ("diameter", "cutting_speed")] == [735, 607]


@EACH
def test_names_mostly_have_numbers_of_their_own(one):
    """Of two learners one in twenty at most sees the other's numbers, and as few as can be where a question has few to give."""
    seen = collections.Counter((now.text, now.options) for now in put_to_all(one))
    possible = math.prod(len({json.dumps(dict(row), default=str) for row in rows}) for rows in one.draws.values())
    alike = sum(math.comb(number, 2) for number in seen.values()) / math.comb(seen.total(), 2)
    assert alike <= max(1 / 20, 1.5 / possible)


def test_numbers_fall_on_even_steps():
    assert [row["x"] for row in candidates("x", {"from": "0.05 mm", "to": "0.2 mm", "step": "0.05 mm"})] == [
        "0.05 mm",
        "0.1 mm",
        "0.15 mm",
        "0.2 mm",
    ]


@pytest.mark.parametrize(
    "told",
    [
        {"from": "1 mm", "to": "2 in", "step": "1 mm"},
        {"from": "2 mm", "to": "1 mm", "step": "1 mm"},
        {"from": "1 mm", "to": "2 mm", "step": "0 mm"},
        {"one_of": []},
        {},
        {"from": "a", "to": "b", "step": "c"},
        {"from": "1 mm", "to": "2 mm", "step": "0.3 mm"},
    ],
)
def test_a_faulty_draw_is_refused(told):
    with pytest.raises(InputProblem):
        candidates("x", told)


# --- nothing gives the answer away ------------------------------------------------------------------
@EACH
def test_no_repr_shows_the_answer(one):
    for now in put_to(one)[:5]:
        said = f"{one!r} {now!r}"
        assert not re.search(r"\d{2,}\.?\d", said.replace(one.id, "").replace(now.name, ""))


def notebook(chapter: str) -> str:
    [path] = workspace.material("exercises").glob(f"{chapter}_*.ipynb")
    return path.read_text(encoding="utf-8")


@pytest.mark.parametrize("chapter", chapters())
def test_the_notebook_holds_no_answer(chapter):
    ids = "|".join(re.escape(id) for id in sorted(questions(chapter), key=len, reverse=True))
    text = re.sub(rf'"(?:id|model_id)": "[^"]*"|\b(?:{ids})\b', "", notebook(chapter))
    numbers = {float(found) for found in re.findall(r"(?<![\w.])\d+(?:\.\d+)?(?![\w.])", text)}
    for one in questions(chapter).values():
        for now in figures(one):
            value = now.value().likely / (si_factor(one.unit, now.kind.sort) if one.unit else 1.0)
            given = {float(f"{value * scale:.{digits}g}") for digits in range(3, 8) for scale in (1, 100)}
            telling = {number for number in given if len(f"{number:g}".replace(".", "").strip("0")) >= 3}
            assert not telling & numbers, f"{one.id} for {now.name}"


@pytest.mark.parametrize("chapter", chapters())
def test_the_notebook_asks_every_level_once(chapter):
    cells = json.loads(notebook(chapter))["cells"]
    code = ["".join(cell["source"]) for cell in cells if cell["cell_type"] == "code"]
    assert [level for text in code for level in re.findall(r'level\("(\w+)"\)', text)] == list(LEVELS)
    assert {one.level for one in questions(chapter).values()} == set(LEVELS)


@pytest.mark.parametrize("chapter", chapters())
def test_the_mentor_s_task_begins_with_the_plug_where_hands_are_at_a_lathe(chapter):
    fold = "".join(json.loads(notebook(chapter))["cells"][-1]["source"])
    task = re.search(r"\n\*\*(?!For the mentor).+?\.\*\* (.*)", fold)[1]
    assert task.startswith("Plug drawn. ") or not re.search(
        r"\b(chuck|spindle|lathe|belt|bed|nose|cross-slide|headstock)\b", task
    ), task


# --- the mentor -------------------------------------------------------------------------------------
def test_the_mentor_gets_answers_workings_and_slips():
    text = answers_text("03", " Learner One ")
    for id, one in questions("03").items():
        now = asked(id, "learner one")
        assert f"--- {id} " in text
        assert now.text[:60] in text
        for slip in one.slips:
            assert slip.name in text
    now = asked("03.3", "learner one")
    assert f"answer: {written(now, now.value().likely, digits=4)}" in text
    assert "n = v_c/(π d)" in text
    assert text == answers_text("03", "LEARNER ONE").replace("LEARNER ONE", "Learner One")


def test_the_mentor_reads_shares_in_per_cent():
    """As the working has them, and as they are asked for; the slip of writing per cent as a plain number is one."""
    now = asked("03.2", "learner one")
    loss = now.value().likely
    text = answers_text("03", "learner one").partition("--- 03.2 ")[2].partition("--- 03.3 ")[0]
    assert f"answer: {loss * 100:.4g} %, taken" in text
    assert f"slip, per cent written as a plain number: {loss * 100:.4g}\n" in text


def test_the_mentor_is_told_of_a_chapter_without_exercises():
    with pytest.raises(InputProblem, match="no exercises"):
        answers_text("98", "learner")
