"""The mentor's sheet for an evening: every chapter, both lengths, and nothing at a machine without the plug or the stop."""

import re

import pytest
from cases import every

from lathe_course import command
from lathe_course.course.teaching.evening import LESSONS, evening_html, tasks_at_a_machine
from lathe_course.course.teaching.questions import asked, chapters
from lathe_course.units import InputProblem

#: chapters in whose note no hand is at a machine
AT_THE_BENCH = {"11", "12"}
EACH = every("chapter", chapters())


@EACH
def test_a_sheet_has_all_a_mentor_needs(chapter):
    page = evening_html(chapter, ["learner one"], 90)
    for heading in (
        "Goal.",
        "Bring.",
        "How it goes",
        "Three questions",
        "With the hands",
        "What to listen for",
        "For the young",
        "Caution",
        "Answers, to fold away",
    ):
        assert page.split(heading, 1)[1][:400].strip("</bph2> \n"), heading
    assert page.count("<li>") == len(LESSONS[90]) + 3
    assert "Only the adult: " in page and "local rules" in page
    ids = re.findall(rf"(?m)^({chapter}\.\d+) ", page)
    assert len(ids) == 3 and all(asked(id, "learner one").text.split("'")[0][:40] in page for id in ids)
    assert not re.search(r"[*`]|\]\(|\$", page.partition("</style>")[2].partition("<h2>Answers")[0]), (
        "no sign of a notebook's markup is left on paper"
    )
    assert "<script" not in page and "http" not in page.replace("http-equiv", "")


@EACH
def test_a_task_at_a_machine_begins_with_the_plug_or_the_stop(chapter):
    tasks = tasks_at_a_machine(chapter)
    assert tasks
    for _, words in tasks:
        assert re.match(r"Plug drawn|Running: glasses on, guard shut", words) or chapter in AT_THE_BENCH, (
            f"{chapter}: {words[:60]}"
        )
        if words.startswith("Running"):
            assert "who stands at the stop" in words[:90]


def test_a_short_lesson_has_one_task_and_its_minutes_add_up():
    assert {minutes: sum(part for _, part in plan) for minutes, plan in LESSONS.items()} == {45: 45, 90: 90}
    assert evening_html("06", ["a"], 45).count("Plug drawn") < evening_html("06", ["a"], 90).count("Plug drawn")
    with pytest.raises(InputProblem, match="45 or 90"):
        evening_html("06", ["a"], 60)


def test_the_verb_writes_it_for_several(tmp_path, capsys):
    out = tmp_path / "evening.html"
    assert (
        command.main(["evening", "07", "--name", "learner one", "--name", "<b>two</b>", "--minutes", "45", "--to", str(out)]) == 0
    )
    page = out.read_text(encoding="utf-8")
    assert "&lt;b&gt;two&lt;/b&gt;" in page and "<b>two</b>" not in page
    assert command.main(["evening", "07", "--name", "", "--to", str(out)]) == 2
    assert command.main(["evening", "77", "--name", "a", "--to", str(out)]) == 2
    said = capsys.readouterr().err
    assert "is no name" in said and "no exercises for chapter '77'" in said
