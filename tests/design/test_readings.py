"""Readings: rows of what was measured, in SI for the chain and as written in the design file; nothing of them is lost."""

import threading
import tomllib

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from small_chain import SAG, SMALL, TEXT, WRITTEN

from lathe_course.design.chain.readings import joined, tidied
from lathe_course.design.design import Design
from lathe_course.design.files import whole_file
from lathe_course.design.files.design_file import DesignFile, DesignFileProblem, load
from lathe_course.design.files.toml_edit import PlainWriter, merge
from lathe_course.units import InputProblem

ZERO, FIFTY = WRITTEN["readings"]["sag"]
EIGHTY = {"force": "80 N", "dial": "0.016 mm"}


@pytest.fixture
def path(tmp_path):
    path = tmp_path / "design.toml"
    path.write_text(TEXT, encoding="utf-8")
    return path


def keep(path, rows, shown=None):
    return DesignFile(path, SMALL).save_change(lambda design: design.with_readings("sag", rows, shown))


def _line(text: str, words: str) -> int:
    """Number of the line that holds these words."""
    return text[: text.index(words)].count("\n") + 1


def kept(path) -> list:
    return tomllib.loads(path.read_text(encoding="utf-8"))["readings"]["sag"]


# --- a sheet ---------------------------------------------------------------------------------------
def test_rows_are_read_into_si():
    rows = SAG.read([ZERO, FIFTY, {**EIGHTY, "remark": " the door slammed "}])
    np.testing.assert_allclose(rows.column("force"), [0, 50, 80])
    np.testing.assert_allclose(rows.column("dial"), [0, 10.16e-6, 16e-6])
    assert list(rows.column("going")) == [None, "up", None] and rows[2]["remark"] == "the door slammed"
    assert rows.written[1] == FIFTY


def test_an_empty_sheet_has_empty_columns():
    assert SAG.read([]) == SAG.empty and SAG.empty.column("force").shape == (0,)


def test_all_that_is_wrong_is_told_at_once_with_its_row():
    with pytest.raises(InputProblem) as caught:
        SAG.read([{"force": "50", "dial": "5 µm"}, FIFTY, {"force": "3 µm", "going": "upp", "colour": "red"}])
    said = dict(caught.value.problems)
    assert list(said) == ["0.force", "2.colour", "2.force", "2.dial", "2.going"]
    assert "row 1" in said["0.force"] and "no unit" in said["0.force"]
    assert "row 3" in said["2.dial"] and "missing (what the dial showed)" in said["2.dial"] and "µm" in said["2.dial"]
    assert "did you mean up?" in said["2.going"] and "fields are force, dial" in said["2.colour"]


def test_a_field_of_blanks_is_an_empty_one():
    """As a spreadsheet or a hand leaves it: no figure where one may be missing, and told as missing where one must be."""
    (row,) = SAG.read([{**FIFTY, "going": "  ", "remark": "\t"}])
    assert row["going"] is None and row["remark"] is None
    with pytest.raises(InputProblem, match="row 1: dial is missing"):
        SAG.read([{"force": "50 N", "dial": " "}])


def test_one_figure_is_not_a_list():
    with pytest.raises(InputProblem, match="one figure is needed"):
        SAG.read([{"force": ["5 N", "6 N"], "dial": "1 µm"}])


def test_blanks_and_empty_rows_are_left_out():
    assert tidied([{"force": " 5 N ", "dial": "", "remark": None}, {"force": "", "dial": "  "}]) == [{"force": "5 N"}]


# --- in a design -----------------------------------------------------------------------------------
def test_the_chain_is_given_every_sheet():
    design = Design.from_written(SMALL, WRITTEN)
    assert len(design.given()["sag_readings"]) == 2
    bare = Design.from_written(SMALL, {key: value for key, value in WRITTEN.items() if key != "readings"})
    assert bare.given()["sag_readings"] == () and bare.written()["readings"] == {}
    assert bare.changed_from(design) == {"sag_readings"} and design.changed_from(design) == set()


def test_wrong_readings_are_told_beside_all_else_that_is_wrong():
    written = {**WRITTEN, "system": "ell", "readings": {"sag": [{"force": "1 N"}], "sagg": []}}
    with pytest.raises(InputProblem) as caught:
        Design.from_written(SMALL, written)
    assert [name for name, _ in caught.value.problems] == ["readings.sagg", "readings.sag.0.dial", "system"]
    assert "did you mean sag?" in caught.value.problems[0][1]


def test_keeping_rows_makes_a_new_design():
    design = Design.from_written(SMALL, WRITTEN)
    more = design.with_readings("sag", [ZERO, FIFTY, EIGHTY, {"force": " "}])
    assert len(more.readings["sag"]) == 3 and len(design.readings["sag"]) == 2
    assert more.with_readings("sag", []).written()["readings"] == {}
    with pytest.raises(InputProblem, match="did you mean sag"):
        design.with_readings("sga", [])
    with pytest.raises(InputProblem, match="row 2: dial is missing"):
        design.with_readings("sag", [ZERO, {"force": "3 N"}])


def test_what_another_notebook_did_meanwhile_is_kept():
    shown = [ZERO, FIFTY]
    assert joined([ZERO, FIFTY, EIGHTY], shown, [ZERO]) == [ZERO, EIGHTY]  # one taken away here, one added there
    assert joined([FIFTY], shown, [ZERO, FIFTY, EIGHTY]) == [FIFTY, EIGHTY]  # one taken away there, one added here
    assert joined([ZERO, FIFTY, FIFTY], shown, [ZERO, FIFTY]) == [ZERO, FIFTY, FIFTY]  # the same reading twice is two readings
    assert joined([ZERO, FIFTY], [ZERO, FIFTY, FIFTY], [ZERO, FIFTY, FIFTY, EIGHTY]) == [
        ZERO,
        FIFTY,
        EIGHTY,
    ]  # and one taken away there leaves the other
    assert joined(shown, shown, [EIGHTY]) == [EIGHTY]


# --- in the file -----------------------------------------------------------------------------------
def test_comments_unknown_fields_and_unknown_sheets_survive(path):
    path.write_text(
        TEXT.replace('dial = "0.4 thou"', 'dial = "0.4 thou"   # read twice\nweather = "warm"')
        + '[[readings.humidity]]\nvalue = "60 %"\n',
        encoding="utf-8",
    )
    file = DesignFile(path, SMALL)
    assert file.read().written() == WRITTEN
    line = _line(path.read_text(encoding="utf-8"), "weather")
    assert any("humidity" in remark for remark in file.remarks) and any(
        f"line {line}, weather" in remark for remark in file.remarks
    )
    file.save_change(lambda design: design.with_readings("sag", [EIGHTY, FIFTY, ZERO]))
    text = path.read_text(encoding="utf-8")
    for words in ("# read twice", 'weather = "warm"', "[[readings.humidity]]", "# the second", "# measured twice"):
        assert words in text
    assert [row.get("weather") for row in kept(path)] == [None, "warm", None]
    file.save_change(lambda design: design.with_readings("sag", []))
    assert tomllib.loads(path.read_text(encoding="utf-8"))["readings"] == {"humidity": [{"value": "60 %"}]}


def test_the_first_rows_make_the_list(path):
    path.write_text(TEXT[: TEXT.index("\n[[readings.sag]]")], encoding="utf-8")
    keep(path, [ZERO, FIFTY])
    assert "[[readings.sag]]" in path.read_text(encoding="utf-8") and kept(path) == [ZERO, FIFTY]
    assert load(path, SMALL).written() == WRITTEN
    keep(path, [])
    assert "readings" not in tomllib.loads(path.read_text(encoding="utf-8"))


def test_sheets_may_stand_apart_in_the_file(path):
    """Rows of an unknown sheet above, the known one below, something else between."""
    path.write_text(TEXT.replace("[guesses.03]", "[[readings.humidity]]\nvalue = 1\n\n[guesses.03]"), encoding="utf-8")
    keep(path, [ZERO, FIFTY, EIGHTY])
    assert kept(path) == [ZERO, FIFTY, EIGHTY]
    assert tomllib.loads(path.read_text(encoding="utf-8"))["readings"]["humidity"] == [{"value": 1}]


def test_misshapen_readings_are_told_by_line(path):
    for text, words in (
        ('readings = "none"\n' + TEXT[: TEXT.index("\n[[readings.sag]]")], "this is a table"),
        (TEXT.replace('"50 N"', '"50"'), f"line {_line(TEXT, '50 N')}, force: sag under load, row 2: force '50' has no unit"),
        (TEXT[: TEXT.index("\n[[readings.sag]]")] + '[readings]\nsag = "no"\n', "begin each with a line [[readings.sag]]"),
        (TEXT[: TEXT.index("\n[[readings.sag]]")] + "[readings]\nsag = [3]\n", "a reading is a table of its own"),
    ):
        path.write_text(text, encoding="utf-8")
        with pytest.raises(DesignFileProblem) as caught:
            load(path, SMALL)
        assert words in str(caught.value) and len(str(caught.value).splitlines()) == 1, str(caught.value)


def test_two_notebooks_at_once_lose_nothing(path, monkeypatch):
    monkeypatch.setattr(whole_file, "PATIENCE", 300.0)  # that a busy machine has one wait is told elsewhere

    def add(number):
        file = DesignFile(path, SMALL)
        shown = [ZERO, FIFTY]
        file.save_change(lambda design: design.with_readings("sag", [*shown, {"force": f"{number} N", "dial": "1 µm"}], shown))

    threads = [threading.Thread(target=add, args=(100 + number,)) for number in range(6)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sorted(row["force"] for row in kept(path)) == sorted(["0 N", "50 N", *(f"{100 + n} N" for n in range(6))])


_ROWS = st.lists(
    st.fixed_dictionaries(
        {"force": st.sampled_from(["1 N", "2 N", "3 N"]), "dial": st.sampled_from(["1 µm", "2 µm"])},
        optional={"remark": st.sampled_from(["a", "b"])},
    ),
    max_size=6,
)


@settings(max_examples=150, deadline=None, derandomize=True)
@given(_ROWS, _ROWS)
def test_any_change_of_rows_comes_out_as_wished(before, after):
    target = {"readings": {"sag": [{**row, "mine": index} for index, row in enumerate(before)], "other": [1]}}
    merge(target, {"readings": {"sag": before} if before else {}}, {"readings": {"sag": after} if after else {}}, PlainWriter())
    rows = target["readings"].get("sag", [])
    assert [{key: value for key, value in row.items() if key != "mine"} for row in rows] == after
    assert target["readings"]["other"] == [1]
    mine = [row["mine"] for row in rows if "mine" in row]
    assert len(mine) == len(set(mine))  # nobody's remark twice
    for row in before:  # a row that is still there has its remark still
        left = min(before.count(row), after.count(row))
        assert sum(before[index] == row for index in mine) >= left
