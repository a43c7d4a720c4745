"""What a mentor said of a decision: kept in the design file, shown beside it, never lost, never run, never worked out from."""

import re
import tomllib

import pytest

from lathe_course.course import chapter as chapter_module
from lathe_course.course.folder import workspace
from lathe_course.course.printed.brief_sections import decisions
from lathe_course.course.shown.views import decisions_page
from lathe_course.design.demos import demo
from lathe_course.design.evaluation import evaluate
from lathe_course.design.files.design_file import DesignFile, backup_of, load, new
from lathe_course.design.lathe import LATHE
from lathe_course.units import InputProblem

BAD = "<img src=x onerror=alert(1)> {spindle_bore} __import__('os').getcwd()"


@pytest.fixture
def path(tmp_path):
    return new(tmp_path / "design.toml")


def remarked(path, decision="spindle_bore", who="mentor", when="the second Tuesday", words="a bar of 20 mm lies in the rack"):
    return DesignFile(path, LATHE).save_change(lambda design: design.with_remark(decision, who, when, words))


def test_it_comes_back_from_the_file_with_who_and_when_as_given(path):
    remarked(path)
    design = remarked(path, who="the club's\nturner", when="", words="two lines\nof it")
    again = load(path, LATHE)
    assert [(one.who, one.when, one.words) for one in again.remarks_on("spindle_bore")] == [
        ("mentor", "the second Tuesday", "a bar of 20 mm lies in the rack"),
        ("the club's turner", "", "two lines\nof it"),
    ]
    assert again.remarks_on("centre_height") == ()
    assert again.written() == design.written()
    rows = tomllib.loads(path.read_text(encoding="utf-8"))["remarks"]
    assert rows[0] == {
        "decision": "spindle_bore",
        "who": "mentor",
        "when": "the second Tuesday",
        "words": "a bar of 20 mm lies in the rack",
    }
    assert "[[remarks]]" in path.read_text(encoding="utf-8")


def test_nothing_else_in_the_file_is_touched_and_no_figure_moves(path):
    before, unremarked = path.read_text(encoding="utf-8"), load(path, LATHE)
    design = remarked(path)
    after = path.read_text(encoding="utf-8")
    assert re.sub(r"\n*\[\[remarks\]\].*", "", after, flags=re.DOTALL).strip() == before.strip()
    assert backup_of(path).read_text(encoding="utf-8") == before
    assert design.changed_from(unremarked) == set()


def test_a_change_of_the_decision_a_draft_and_a_second_remark_lose_nothing(path):
    remarked(path)
    file = DesignFile(path, LATHE)
    file.save_change(lambda design: design.with_("no such bar", spindle_bore="16 mm"))
    file.save_change(lambda design: design.undecided(["spindle_bore"]))
    file.save_change(lambda design: design.drafted({"spindle_bore": "18 mm"}, {}))
    remarked(path, decision="centre_height", words="measured it again")
    assert [one.decision for one in load(path, LATHE).remarks] == ["spindle_bore", "centre_height"]


def test_comments_and_keys_of_ones_own_in_a_remark_survive(path):
    text = (
        path.read_text(encoding="utf-8")
        + '\n# as he said it\n[[remarks]]\ndecision = "spindle_bore"   # the bar\nmood = "good"\nwords = "look again"\n'
    )
    path.write_text(text, encoding="utf-8")
    file = DesignFile(path, LATHE)
    assert str(file.read().remarks[0]) == "Remark: look again"
    assert any("'mood'" in said for said in file.remarks)
    remarked(path)
    kept = path.read_text(encoding="utf-8")
    assert "# as he said it" in kept and "# the bar" in kept and 'mood = "good"' in kept
    assert len(load(path, LATHE).remarks) == 2


@pytest.mark.parametrize("decision", ["spindel_bore", "", ["spindle_bore"]])
def test_a_remark_on_no_decision_stays_and_is_told(path, decision):
    said = repr(decision).replace("'", '"')
    path.write_text(
        path.read_text(encoding="utf-8") + f'\n[[remarks]]\ndecision = {said}\nwho = "mentor"\nwords = "look"\n', encoding="utf-8"
    )
    file = DesignFile(path, LATHE)
    assert len(file.read().remarks) == 1
    assert any("which is no decision" in one and "stays in the file" in one for one in file.remarks)
    remarked(path)
    assert f"decision = {said}" in path.read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("given", "said"),
    [
        (("spindel_bore", "mentor", "", "x"), "did you mean 'spindle_bore'|spindle_bore"),
        (("spindle_bore", " ", "", "x"), "whose remark"),
        (("spindle_bore", "mentor", "", " \n"), "no words yet"),
    ],
)
def test_what_is_missing_is_asked_for(given, said):
    with pytest.raises(InputProblem, match=said):
        demo("boat_shed").with_remark(*given)


def test_a_list_that_is_none_is_told_with_the_line_to_write(path):
    path.write_text('remarks = "good"\n' + path.read_text(encoding="utf-8"), encoding="utf-8")
    with pytest.raises(InputProblem, match=r"remarks are a list; begin each with a line \[\[remarks\]\]"):
        load(path, LATHE)


# --- where it is shown ------------------------------------------------------------------------------
def test_it_stands_beside_the_decision_as_text(path):
    design = remarked(path, words=BAD)
    e = evaluate(design)
    page = decisions_page(e, ["spindle_bore", "centre_height"])
    line = next(line for line in page.plain.splitlines() if line.startswith(LATHE.decisions["spindle_bore"].label))
    assert f"Remark (mentor, the second Tuesday): {BAD}" in line
    assert page.plain.count("Remark") == 1
    listed = decisions(evaluate(design, 200), 500).markup
    for markup in (page.markup, listed):
        assert "&lt;img" in markup and "<img" not in markup


def test_it_stands_where_the_decision_is_settled_and_is_kept_by_a_button(tmp_path, monkeypatch):
    folder = workspace.prepare(tmp_path / "mine").folder
    monkeypatch.chdir(folder / "notebooks")
    chapter = chapter_module.open_chapter("06")
    chapter.decide("spindle_bore", "spindle_diameter")
    form = chapter.last_keep
    assert form.remarks.value == ""
    made = chapter.show("remarks").remarks
    made.decision.value, made.who.value, made.words.value = "spindle_bore", "mentor", BAD
    made.keep()
    assert "&lt;img" in form.remarks.value and "<img" not in form.remarks.value
    assert "<img" not in made.list.value and made.words.value == ""
    assert load(folder / workspace.DESIGN_FILE, LATHE).remarks[0].words == BAD
    made.keep()
    assert "no words yet" in made.reply.value
    assert BAD in repr(chapter.show("remarks"))
