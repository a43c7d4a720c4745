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
    assert [line[:5] for line in lines[:len(PARTS) + 1]] == ["19:40", "19:45", "20:10", "20:30", "20:50", "21:05", "21:10"]
    assert sum(length for length, _ in PARTS) == 90
    assert all(any(line.startswith(role) for line in lines) for role in ROLES)
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
    told = repr(club_evening("red", "blue").setbacks("club", rounds=2, each=True))
    assert told.count("red: ") == 2 and told.count("blue: ") == 2
    assert "now" in told
    assert told == repr(club_evening("red", "blue").setbacks("club", rounds=2, each=True))
    assert before == [(groups / name / "design.toml").read_bytes() for name in ("red", "blue")]


def test_the_wall_shows_what_a_group_mended_and_why(groups):
    evening = club_evening("red", "blue")
    assert "decisions that differ" not in repr(evening.wall())
    DesignFile(groups / "blue" / "design.toml", LATHE).save_change(lambda design: design.with_("<b>lighter</b> to carry", between_centres="260 mm"))
    wall = evening.wall()
    assert re.search(r"between centres +300 mm +260 mm", repr(wall))
    assert "&lt;b&gt;lighter&lt;/b&gt; to carry" in wall.markup


def test_a_group_drafts_and_another_mends_each_in_its_own_file(groups):
    evening = club_evening("red", "blue", "cabin")
    path = evening.first_round()
    path.pick.value = "red"
    step = path.place.children[0].children[1]
    for number in range(len(STEPS)):
        step.value = number
    assert evening.session("red").path == groups / "red" / "design.toml"
    before = (groups / "red" / "design.toml").read_bytes()
    mending = Mending(evening.session("blue"))
    mending.decision.value = mending.decision.options[1][1]
    assert mending.place.children
    evening.session("blue").keep("lighter", between_centres="260 mm")
    assert "260 mm" in repr(evening.wall()) and "260 mm" in (groups / "blue" / "design.toml").read_text(encoding="utf-8")
    assert before == (groups / "red" / "design.toml").read_bytes()
    DesignFile(groups / "red" / "design.toml", LATHE).save_change(lambda design: design.with_("a setback", between_centres="250 mm"))
    path.pick.value = "cabin"
    path.pick.value = "red"
    assert evening.session("red").design["between_centres"] == pytest.approx(0.25), "what was kept elsewhere is taken when the group's turn comes"
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
    assert all(f"evening.{what}(" in code for what in ("run_sheet", "clock", "first_round", "setbacks", "mend", "wall", "paper"))
