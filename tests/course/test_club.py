"""A club evening: the run sheet, the clock, setbacks for groups in folders, and the wall."""

import json
import re

import pytest

from lathe_course.course.folder import workspace
from lathe_course.course.teaching.club import PARTS, ROLES, club_evening
from lathe_course.course.teaching.club_panels import STEPS, Mending
from lathe_course.design.files import design_file
from lathe_course.design.files.design_file import DesignFile
from lathe_course.design.lathe import LATHE
from lathe_course.units import InputProblem


@pytest.fixture
def groups(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    for name in ("red", "blue"):
        (tmp_path / name).mkdir()
        design_file.new(tmp_path / name / "design.toml")
    return tmp_path


def test_the_run_sheet_is_right_to_the_minute():
    lines = repr(club_evening().run_sheet("19:40")).splitlines()
    assert [line[:5] for line in lines[1 : len(PARTS) + 2]] == ["19:40", "19:45", "20:10", "20:30", "20:50", "21:05", "21:10"]
    assert sum(length for length, _ in PARTS) == 90
    assert all(any(line.startswith(f"  - {role}") for line in lines) for role in ROLES)
    for wrong in ("24:00", "seven", "7"):
        with pytest.raises(InputProblem, match="no time of day"):
            club_evening().run_sheet(wrong)


def test_the_clock_tells_the_part_and_what_is_left():
    evening = club_evening()
    assert evening.at(0).startswith("5:00") and PARTS[0][1] in evening.at(0)
    assert evening.at(299).startswith("0:01")
    assert evening.at(300).startswith("25:00") and PARTS[1][1] in evening.at(300)
    assert evening.at(90 * 60) == "0:00  End."
    ticks, view = evening.clock().widget.children
    ticks.value = 31 * 60
    assert "19:00" in view.value and "First setback" in view.value


def test_setbacks_fall_on_the_groups_and_nothing_is_written(groups):
    before = [(groups / name / "design.toml").read_bytes() for name in ("red", "blue")]
    turn, view, happens, _ = club_evening("red", "blue").setbacks("club", rounds=2, each=True).widget.children
    assert not view.value and happens.disabled, "nobody sees the card before it is turned over"
    turn.click()
    assert view.value.count("<b>red: ") == 2 and view.value.count("<b>blue: ") == 2 and ", now " in view.value
    told = view.value
    turn.click()
    assert told == view.value and not happens.disabled
    assert before == [(groups / name / "design.toml").read_bytes() for name in ("red", "blue")]


@pytest.mark.parametrize("names", [("red",), ("red", "blue")])
def test_a_card_that_falls_on_several_says_whose_lines_are_whose(groups, names):
    turn, view, _, _ = club_evening(*names).setbacks("club").widget.children
    turn.click()
    assert [f"<b>{name}</b><br>" in view.value for name in names] == [len(names) > 1] * len(names)


def test_a_setback_that_happens_is_in_each_design_once_and_is_mended_there(groups):
    evening = club_evening("red", "blue", "cabin")
    mending = evening.mend()
    mending.pick.value = "red"
    turn, view, happens, reply = evening.setbacks("club").widget.children
    turn.click()
    happens.click()
    assert reply.value.count("is in the design now") == 3, reply.value
    kept = [(groups / name / "design.toml").read_text(encoding="utf-8") for name in ("red", "blue")]
    assert all("setback 1: club" in text for text in kept)
    assert evening.session("red").design.notes == evening.session("cabin").design.notes
    happens.click()
    assert reply.value.count("had happened already") == 3
    assert kept == [(groups / name / "design.toml").read_text(encoding="utf-8") for name in ("red", "blue")]
    turn.click()
    assert view.value.count("This has happened already") == 3
    (groups / "red" / "design.toml").write_text("decisions = [", encoding="utf-8")
    turn.click()
    assert "red: " in view.value, "told, and by name"


def test_the_wall_shows_what_a_group_mended_and_why(groups):
    evening = club_evening("red", "blue")
    button, view = evening.wall().widget.children
    assert "decided, and why" not in view.value
    DesignFile(groups / "blue" / "design.toml", LATHE).save_change(
        lambda design: design.with_("<b>lighter</b> to carry", between_centres="260 mm")
    )
    wall = repr(evening.wall())
    assert re.search(r"between centres +300 mm +260 mm", wall) and "between centres, blue: <b>lighter</b> to carry" in wall
    button.click()
    assert "&lt;b&gt;lighter&lt;/b&gt; to carry" in view.value, "as the designs stand now"


def test_the_wall_shows_first_what_fails_money_date_and_reasons_and_folds_the_rest():
    """Three lathes of the demos differ in well over a hundred places; what is shown at once fits a screen or two."""
    wall = club_evening().wall()
    shown, *folded = wall.widget.children[1].value.split("<details>")
    assert re.findall("<h2>(.*?)</h2>", shown) == ["what fails", "money and date"], "a demo's reasons are nobody's"
    assert (failing := re.findall('<tr><th scope="row">.*?</tr>', shown.partition("money and date")[0]))
    assert all("✗" in row for row in failing)
    assert "<details open" not in wall.widget.children[1].value
    counts = [int(re.match(r"<summary>and (\d+) ", part)[1]) for part in folded]
    assert counts == [part.count('<th scope="row">') for part in folded] and counts[-1] > 50
    assert shown.count("<tr>") < 30 and len(repr(wall).splitlines()) < 45
    assert f"and {counts[-1]} further decisions that differ" in repr(wall)


def test_a_group_drafts_and_another_mends_each_in_its_own_file(groups):
    evening = club_evening("red", "blue", "cabin")
    path = evening.first_round()
    path.pick.value = "red"
    where, panel = path.place.children[0].children
    assert "<b>red</b> works on red/design.toml" in where.value
    step = panel.children[0]
    for number in range(len(STEPS)):
        step.value = number
    assert evening.session("red").path == groups / "red" / "design.toml"
    before = (groups / "red" / "design.toml").read_bytes()
    mending = Mending(evening.session("blue"))
    mending.decision.value = mending.decision.options[1][1]
    assert mending.place.children
    evening.session("blue").keep("lighter", between_centres="260 mm")
    assert "between centres, blue: lighter" in repr(evening.wall()) and "260 mm" in (groups / "blue" / "design.toml").read_text(
        encoding="utf-8"
    )
    assert before == (groups / "red" / "design.toml").read_bytes()
    DesignFile(groups / "red" / "design.toml", LATHE).save_change(
        lambda design: design.with_("a setback", between_centres="250 mm")
    )
    path.pick.value = "cabin"
    path.pick.value = "red"
    assert evening.session("red").design["between_centres"] == pytest.approx(0.25), (
        "what was kept elsewhere is taken when the group's turn comes"
    )
    assert evening.session("cabin").path is None


def test_a_file_handed_in_is_mended_where_it_lies(groups):
    (groups / "blue" / "design.toml").rename(groups / "theirs.toml")
    evening = club_evening("theirs.toml")
    evening.session("theirs.toml").keep("", between_centres="260 mm")
    assert "260 mm" in (groups / "theirs.toml").read_text(encoding="utf-8")


def test_paper_is_written_beside_the_own_design(groups, monkeypatch):
    monkeypatch.chdir(workspace.prepare(groups / "mine").folder / "exercises")
    *buttons, reply = club_evening("red", "blue").paper("19:30").widget.children
    for button in buttons:
        button.click()
        assert "Written" in reply.value, reply.value
    written = {path.name for path in (groups / "mine").glob("club_*.html")}
    assert written == {"club_hand_out.html", "club_wall.html", "club_take_home_red.html", "club_take_home_blue.html"}
    told = (groups / "mine" / "club_hand_out.html").read_text(encoding="utf-8")
    assert "19:30" in told and all(role in told for role in ROLES)
    assert "<h1>red</h1>" in (groups / "mine" / "club_take_home_red.html").read_text(encoding="utf-8"), (
        "under the group's own name"
    )


def test_folders_beside_the_working_folder_are_found_by_name_alone(groups, monkeypatch):
    monkeypatch.chdir(workspace.prepare(groups / "mine").folder / "exercises")
    assert "red" in repr(club_evening("red", "blue").wall()).splitlines()[0]


def test_a_group_that_cannot_be_read_is_told_by_name(groups):
    (groups / "red" / "design.toml").write_text("decisions = [", encoding="utf-8")
    with pytest.raises(InputProblem, match="red: "):
        club_evening("red", "blue").wall()
    with pytest.raises(InputProblem, match="no demo called 'gren'"):
        club_evening("gren").wall()


def test_the_evening_is_in_the_course():
    [path] = workspace.material("exercises").glob("00_club*.ipynb")
    cells = json.loads(path.read_text(encoding="utf-8"))["cells"]
    code = "".join("".join(cell["source"]) for cell in cells if cell["cell_type"] == "code")
    assert all(
        f"evening.{what}(" in code
        for what in ("projector", "run_sheet", "clock", "first_round", "setbacks", "mend", "wall", "paper")
    )
