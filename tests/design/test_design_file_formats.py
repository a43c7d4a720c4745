"""Design files of an older and of a newer course, and new ones."""

import tomllib

import pytest
import tomlkit
from file_of_small import complaint, higher
from small_chain import FORMAT_LINE, SMALL, TEXT, WRITTEN

from lathe_course.design.demos import demo
from lathe_course.design.files import design_file, file_format
from lathe_course.design.files.design_file import DesignFile, DesignFileProblem, backup_of, load, new
from lathe_course.design.files.toml_edit import PlainWriter, TomlWriter
from lathe_course.design.lathe import LATHE
from lathe_course.units import InputProblem

# --- older and newer -------------------------------------------------------------------------------
OLD = """\
# from the first try-out
name = "Old"
started_from = "small"
[decisions]
centre_height = "75 mm"   # measured
bed_form = "two bars"
[reasons]
centre_height = "the disc"
wishes = "more"
""" + TEXT[TEXT.index("[[jobs]]") :]


@pytest.fixture
def small_demo(tmp_path, monkeypatch):
    folder = tmp_path / "demos"
    folder.mkdir()
    (folder / "small.toml").write_text(TEXT)
    monkeypatch.setattr(design_file, "DEMOS", folder)
    return folder


def test_an_older_format_is_read_and_brought_forward_at_the_next_save(path, small_demo):
    path.write_text(OLD)
    file = DesignFile(path, SMALL)
    design = file.read()
    assert design.choices["centre_height"].reason == "the disc" and path.read_text() == OLD
    assert design["motor_power"].likely == pytest.approx(370)
    assert any("motor_power was taken from the demo" in remark for remark in file.remarks)
    assert file.read_only_because == ""
    file.save_change(lambda d: d.note("a", "b"))
    plain = tomllib.loads(path.read_text())
    assert plain["format"] == file_format.FORMAT
    assert plain["decisions"]["centre_height"] == {"value": "75 mm", "reason": "the disc"}
    assert plain["decisions"]["bed_form"] == "two bars" and plain["reasons"] == {"wishes": "more"}
    assert "# measured" in path.read_text() and backup_of(path).read_text() == OLD
    assert load(path, SMALL).choices["motor_power"].reason.startswith("taken from the demo")


def test_what_was_said_of_the_place_of_a_demo_is_no_answer_for_ones_own(path):
    """The electrician of the boat shed has answered; nobody has asked one of this learner's."""
    written = demo("boat_shed").written()
    assert written["decisions"]["leakage_device"]["value"] == "another kind is needed"
    for name in ("leakage_device", "nose_kind", "stop_gear"):
        del written["decisions"][name]
    path.write_text(tomlkit.dumps(written | {"format": 4}))
    file = DesignFile(path, LATHE)
    design = file.read()
    assert design["leakage_device"] == "not asked yet" and design.origin("leakage_device") == "draft"
    assert design["nose_kind"] == demo("boat_shed")["nose_kind"] and design.origin("nose_kind") == "demo"
    told, open_still = file.remarks
    assert "stop_gear, nose_kind were taken from the demo" in told and "leakage_device" not in told
    assert "leakage_device stands at 'not asked yet'" in open_still
    file.save_change(lambda d: d.note("a", "b"))
    assert load(path, LATHE)["leakage_device"] == "not asked yet"


def test_an_answer_that_format_5_took_over_from_a_demo_is_opened_and_what_is_no_longer_asked_becomes_a_note(path):
    written = demo("boat_shed").written()
    written["decisions"] |= {"gib_screws": {"value": "6", "reason": "it rattled"}, "banjo_reach": {"value": "75 mm"}}
    for name in ("collets", "hand_rest", "leadscrew_nut"):
        del written["decisions"][name]
    path.write_text(tomlkit.dumps(written | {"format": 5}))
    file = DesignFile(path, LATHE)
    design = file.read()
    assert design["leakage_device"] == "not asked yet" and design["leadscrew_nut"] == "bronze"
    assert design.notes["gib_screws"].startswith("6, decided in an older version") and "banjo_reach" not in design.notes
    assert "hand_rest" in file.remarks[0] and "leakage_device stands at 'not asked yet'" in file.remarks[1]
    # whoever has asked keeps the answer, though the demo has the same
    own = written | {
        "format": 5,
        "decisions": written["decisions"] | {"leakage_device": {"value": "another kind is needed", "origin": "yours"}},
    }
    path.write_text(tomlkit.dumps(own))
    assert load(path, LATHE)["leakage_device"] == "another kind is needed"


@pytest.mark.parametrize(
    ("written", "said"),
    [
        (
            '[decisions.full_power_speed]\nvalue = "300 rpm"\nreason = "two belt steps"\n',
            "300 rpm, decided in an older version of the course, because: two belt steps",
        ),
        (
            '[decisions]\nfull_power_speed = { low = "200 rpm", likely = "300 rpm", high = "350 rpm" }\n',
            "low 200 rpm, likely 300 rpm, high 350 rpm, decided in an older version of the course",
        ),
        (
            '[decisions]\nfull_power_speed = "300 rpm"\n[notes]\nfloor = "earth"\n',
            "300 rpm, decided in an older version of the course",
        ),
    ],
)
def test_what_is_worked_out_today_and_was_decided_once_becomes_a_note(path, written, said):
    for read, writer in ((tomllib.loads, PlainWriter()), (tomlkit.parse, TomlWriter())):
        document = read("format = 1\n" + written)
        file_format.bring_forward(document, writer, SMALL, {})
        plain = tomllib.loads(tomlkit.dumps(document))
        assert plain["format"] == file_format.FORMAT and "full_power_speed" not in plain.get("decisions", {})
        assert plain["notes"]["full_power_speed"] == said and ("floor" in written) == ("floor" in plain["notes"])


def test_of_sizes_no_longer_asked_only_what_the_learner_wrote_becomes_a_note():
    document = tomllib.loads(
        'format = 4\n[decisions]\nfoot_share = { value = "70 %", reason = "the bench ends there" }\njoint_bolts = { value = "4" }\n'
        'nut_length = { value = "8 mm", reason = "a usual nut", origin = "draft of 8 mm" }\n'
        'dial_diameter = { value = "44 mm", decided = "2026-02-01" }\n'
    )
    file_format.bring_forward(document, PlainWriter(), SMALL, {})
    assert not set(document["decisions"]) & {"foot_share", "joint_bolts", "nut_length", "dial_diameter"}
    assert document["notes"] == {
        "foot_share": "70 %, decided in an older version of the course, because: the bench ends there",
        "dial_diameter": "44 mm, decided in an older version of the course",
    }


def test_a_misspelt_decision_of_an_older_file_is_not_replaced_by_the_demo(path, small_demo):
    said = str(complaint(path, OLD.replace('\ncentre_height = "75 mm"', '\ncenter_height = "75 mm"')))
    assert "centre_height is missing" in said and "did you mean centre_height" in said


def test_a_decision_missing_today_is_not_taken_from_the_demo(path, small_demo):
    complaint(path, TEXT.replace('[decisions.bed_form]\nvalue = "filled box"\n', ""))


def test_every_format_up_to_today_has_its_step():
    assert sorted(file_format._FORWARD) == list(range(file_format.FORMAT))


def test_a_newer_format_is_read_and_never_written(path):
    text = TEXT.replace(FORMAT_LINE, f"format = {file_format.FORMAT + 1}") + "[parts]\nbed = 1\n"
    path.write_text(text)
    file = DesignFile(path, SMALL)
    assert file.read().written() == WRITTEN
    assert "newer version" in file.read_only_because and "nothing will be saved" in file.read_only_because
    with pytest.raises(DesignFileProblem, match="newer version"):
        file.save_change(higher)
    assert path.read_text() == text and not backup_of(path).exists()
    assert "newer version" in str(complaint(path, text.replace('"75 mm"', "[1]")))


# --- beginning -------------------------------------------------------------------------------------
def test_a_new_file_is_the_demo_and_overwrites_nothing(tmp_path, small_demo):
    path = tmp_path / "mine.toml"
    assert new(path, SMALL, demo="small") == path
    assert path.read_text() == TEXT
    path.write_text("mine")
    with pytest.raises(DesignFileProblem, match="never overwritten"):
        new(path, SMALL, demo="small")
    assert path.read_text() == "mine"
    with pytest.raises(InputProblem, match="did you mean small"):
        new(tmp_path / "b.toml", SMALL, demo="smal")
    with pytest.raises(DesignFileProblem, match="make it first"):
        new(tmp_path / "none" / "b.toml", SMALL, demo="small")
    (small_demo / "small.toml").write_text("x = ")
    with pytest.raises(DesignFileProblem):
        new(tmp_path / "c.toml", SMALL, demo="small")
    assert not (tmp_path / "c.toml").exists()


def test_every_demo_is_a_whole_design_of_todays_format(tmp_path):
    from lathe_course.design.lathe import LATHE

    assert "boat_shed" in design_file.demos()
    for name in design_file.demos():
        path = new(tmp_path / f"{name}.toml", LATHE, demo=name)
        file = DesignFile(path, LATHE)
        design = file.read()
        assert file.remarks == () and design.started_from == name
        assert tomllib.loads(path.read_text(encoding="utf-8"))["format"] == file_format.FORMAT
        decision = next(n for n, d in LATHE.decisions.items() if d.options)
        other = next(option for option in LATHE.decisions[decision].options if option != design[decision])
        file.save_change(lambda d, decision=decision, other=other: d.with_(**{decision: other}))
        assert load(path, LATHE).changed_from(design) == {decision}
