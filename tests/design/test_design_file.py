"""The design file read: what it says is what the design is, and damage is told by its line."""

import os
import re
import shutil
import tempfile
import tomllib
from pathlib import Path

import pytest
from cases import every
from file_of_small import complaint, higher
from small_chain import FORMAT_LINE, SMALL, TEXT, WRITTEN

from lathe_course.design.files import design_file
from lathe_course.design.files.design_file import DesignFile, DesignFileProblem, load
from lathe_course.units import InputProblem


# --- reading ---------------------------------------------------------------------------------------
def test_says_what_was_written(path):
    design = load(path, SMALL)
    assert design["centre_height"] == pytest.approx(0.075)
    assert tuple(design["motor_power"]) == pytest.approx((300, 370, 400))
    assert design["bed_form"] == "filled box"
    assert design.choices["centre_height"].decided == "2026-01-31"
    assert [old.written for old in design.choices["centre_height"].earlier] == ["80 mm"]
    assert [job.share for job in design.jobs] == [0.75, 0.25]
    assert design.written() == WRITTEN
    assert DesignFile(path, SMALL).remarks == ()


def test_flat_decisions_are_read(path):
    path.write_text(
        'format = 2\n[decisions]\ncentre_height = "3 in"\nbed_form = "two bars"\n'
        'motor_power = { low = "0.3 kW", likely = "0.37 kW", high = "0.4 kW" }\n' + TEXT[TEXT.index("[[jobs]]") :]
    )
    design = load(path, SMALL)
    assert design["centre_height"] == pytest.approx(0.0762)
    assert design["motor_power"].likely == pytest.approx(370)
    DesignFile(path, SMALL).save_change(lambda d: d.with_(centre_height="80 mm", motor_power="0.5 kW"))
    design = load(path, SMALL)
    assert design["centre_height"] == pytest.approx(0.08) and design["motor_power"] == pytest.approx(500)
    assert [old.written for old in design.choices["centre_height"].earlier] == ["3 in"]
    assert tomllib.loads(path.read_text())["decisions"]["bed_form"] == "two bars"


def test_all_wrong_values_are_told_at_once_with_line_and_key(path):
    text = TEXT.replace('"75 mm" ', '"75"').replace('high = "0.4 kW"', 'high = "0.1 kW"').replace('"filled box"', '"sand"')
    text = text.replace('"12 mm"', '"12 kg"').replace('"bronze"', '"bronce"').replace('system = "mm"', 'system = "ell"')
    said = str(complaint(path, text)).splitlines()
    for line, key, words in [
        (4, "system", "'ell'"),
        (9, "centre_height", "no unit"),
        (16, "motor_power", "must rise"),
        (19, "bed_form", "choose one of: filled box, two bars"),
        (24, "material", "bronze"),
        (34, "diameter", "mass"),
    ]:
        assert any(f"design.toml, line {line}, {key}: " in sentence and words in sentence for sentence in said), (line, key, said)
    assert len(said) == 7  # heading and six


def test_a_missing_decision_is_told_with_its_question(path):
    said = str(complaint(path, TEXT.replace('[decisions.bed_form]\nvalue = "filled box"\n', "")))
    assert "bed_form" in said and "Which form has the bed?" in said and "centre_height" not in said


def test_a_decision_without_value_says_what_to_add(path):
    said = str(complaint(path, TEXT.replace('value = "75 mm" ', 'valeu = "75 mm" ')))
    assert 'line 8, centre_height: the decision has no value; add a line value = "75 mm"' in said
    assert "line 9" in said and "did you mean value?" in said
    assert "missing" not in said


def test_unknown_keys_are_remarked_on_kept_and_do_nothing(path):
    text = (
        TEXT.replace('system = "mm"', 'system = "mm"\ncolour = "green"')
        .replace("decided = 2026-01-31", 'decided = 2026-01-31\nresaon = "typing"')
        .replace('material = "bronze"', 'material = "bronze"\ndiametre = "1 mm"')
        + '[decisions.center_hight]\nvalue = "1 mm"\n[figures.eficiency]\nvalue = 0.1\n[strange]\nlist = [1, nan]\n'
    )
    path.write_text(text)
    file = DesignFile(path, SMALL)
    assert file.read().written() == WRITTEN
    remarks = "\n".join(file.remarks)
    for words in (
        "line 5, colour",
        "line 13, centre_height.resaon: the key 'resaon' is not known; did you mean reason?",
        "line 27, diametre",
        "did you mean diameter",
        "center_hight",
        "did you mean centre_height?",
        "efficiency",
        "strange",
    ):
        assert words in remarks
    assert len(file.remarks) == 6
    file.save_change(higher)
    kept = path.read_text()
    for line in (
        'colour = "green"',
        'resaon = "typing"',
        'diametre = "1 mm"',
        "[decisions.center_hight]",
        "[strange]",
        "list = [1, nan]",
    ):
        assert line in kept
    assert len(file.remarks) == 6


def test_a_misspelt_decision_explains_the_missing_one(path):
    said = str(complaint(path, TEXT.replace("decisions.centre_height", "decisions.center_height")))
    assert "centre_height is missing" in said and "line 8, center_height" in said and "did you mean centre_height" in said


@every(
    "text, line, key, words",
    [
        (TEXT.replace('"75 mm"', "75 mm"), 9, "decisions.centre_height.value", "in quotes"),
        (TEXT.replace('"75 mm"', '"75 mm'), 9, "decisions.centre_height.value", "not closed on its line"),
        (TEXT.replace('"75 mm"', "mm"), 9, "decisions.centre_height.value", "in quotes"),
        (TEXT.replace('value = "75 mm"', 'value "75 mm"'), 9, "", "equals sign"),
        (
            TEXT.replace('value = "75 mm"', 'value = "75 mm"\nvalue = "76 mm"'),
            10,
            "decisions.centre_height.value",
            "twice (first in line 9)",
        ),
        (TEXT.replace("decisions.bed_form", "decisions.centre_height"), 18, "decisions.centre_height", "twice (first in line 8)"),
        (TEXT.replace("[decisions.bed_form]", "[decisions.bed_form"), 18, "decisions.bed_form", "between [ and ]"),
        (TEXT.replace('"to be safe"', '"C:\\dir"'), 13, "earlier", "twice, \\\\"),
        (TEXT.replace('10" } ]', '10" }'), 13, "earlier", "[ and not closed"),
        ("", 1, "", "empty"),
        (" \n\n", 1, "", "empty"),
        (TEXT.encode().replace(b"stone", b"st\0\0ne"), 45, "", "zero bytes"),
        (TEXT.encode().replace(b"stone", b"st\xf6ne"), 45, "", "0xf6 is not UTF-8"),
        (TEXT.encode("utf-16"), 1, "", "UTF-16"),
        (b"x = " + b"[" * 5000 + b"]" * 5000, 1, "", "too deeply"),
        (TEXT.replace(FORMAT_LINE, 'format = "one"'), 2, "format", "whole number"),
        (TEXT.replace(FORMAT_LINE, "format = true"), 2, "format", "whole number"),
        (TEXT.replace(FORMAT_LINE, "format = -1"), 2, "format", "whole number"),
    ],
)
def test_damage_is_told_by_line_and_key(path, text, line, key, words):
    problem = complaint(path, text)
    assert f"line {line}" in str(problem) and key in str(problem) and words in str(problem)
    assert len(problem.problems) == 1


@every(
    "old, fresh, words",
    [
        ("[[jobs]]", "[jobs]", "twice"),
        (TEXT[TEXT.index("[decisions") :], 'jobs = "a bush"', "begin each with a line [[jobs]]"),
        (TEXT[TEXT.index("[decisions") :], "jobs = [1, 2]", "line [[jobs]]"),
        (TEXT[TEXT.index("[[jobs]]") : TEXT.index("[guesses")], "", "list of jobs is empty"),
        ('name = "A small lathe"', "name = 3", "text in quotes"),
        ("[notes]\nfloor", "[notes.floor]\nfloor", "text in quotes"),
        ("[guesses.03]", "[guesses]", "[guesses.03]"),
        ('reason = "the largest disc"', "reason = [1]", "the reason is a text"),
        ("earlier = [", "earlier = 3 # [", "earlier values are a list"),
        ('"75 mm"', "[75, 76]", "cannot be read"),
        ('"75 mm"', "true", "cannot be read"),
        ('"75 mm"', "2026-01-31", "cannot be read"),
        ('"75 mm"', "75", "no unit"),
        ('"75 mm"', "nan", "not a finite number"),
        ('"75 mm"', '"-75 mm"', "more than zero"),
        ('"filled box"', "{ a = 1 }", "is a list or table; one text is needed, one of: filled box, two bars."),
        ("share = 0.75", "share = inf", "not a finite number"),
        ("share = 0.75", "share = []", "job 'bush'"),
    ],
)
def test_values_of_the_wrong_shape_are_told(path, old, fresh, words):
    assert old in TEXT
    problem = complaint(path, TEXT.replace(old, fresh))
    assert words in str(problem)
    assert re.search(r"line \d+", str(problem)) or "empty" in words


def test_sections_that_are_no_tables_are_told(path):
    for section in ("decisions", "figures", "guesses", "notes"):
        rest = "\n".join(line for line in TEXT.split("\n"))
        cut = re.sub(rf"\[{section}[^\]]*\](\n(?!\[).*)*", "", rest)
        said = str(complaint(path, f"{section} = 3\n{cut}"))
        assert f"line 1, {section}: this is a table" in said


def test_broken_history_is_no_fault_and_survives(path):
    path.write_text(
        TEXT.replace('earlier = [ { value = "80 mm"', 'earlier = [ 3, {}, "x", { value = "80 kg" }, { value = "80 mm"')
    )
    file = DesignFile(path, SMALL)
    assert [old.written for old in file.read().choices["centre_height"].earlier] == ["80 mm"]
    file.save_change(higher)
    history = tomllib.loads(path.read_text())["decisions"]["centre_height"]["earlier"]
    assert history[:4] == [3, {}, "x", {"value": "80 kg"}]
    assert [old["value"] for old in history[4:]] == ["80 mm", "75 mm"]


def test_a_file_cut_anywhere_is_never_taken_for_another_design(path):
    """Whole decisions or a sentence; and where the cut cannot be seen, it is remarked on or the last line is whole."""
    raw = TEXT.encode()
    whole = load(path, SMALL)
    for end in range(len(raw)):
        path.write_bytes(raw[:end])
        file = DesignFile(path, SMALL)
        try:
            design = file.read()
        except DesignFileProblem as problem:
            assert "design.toml" in str(problem)
            continue
        assert {n: c.value for n, c in design.choices.items()} == {n: c.value for n, c in whole.choices.items()}
        lines_whole = raw[:end].endswith(b"\n")
        assert lines_whole or any("look whether the file was cut off" in remark for remark in file.remarks)
        if lines_whole:
            assert tuple(design.jobs) == tuple(whole.jobs)[: len(design.jobs)]


def test_nothing_in_the_file_is_run(path, monkeypatch):
    path.write_text(TEXT.replace('"75 mm"', "\"__import__('os').abort() mm\""))
    with pytest.raises(InputProblem):
        load(path, SMALL)


# --- files that are not there, or not files --------------------------------------------------------
def test_missing_file_folder_and_file_in_the_way(tmp_path, path):
    for wrong, words in (
        (tmp_path / "none.toml", "no such file"),
        (tmp_path / "none" / "design.toml", "no such file"),
        (tmp_path, "this is a folder"),
        (path / "design.toml", "a part of that path is a file"),
    ):
        file = DesignFile(wrong, SMALL)
        with pytest.raises(DesignFileProblem, match=words):
            file.read()
        with pytest.raises(DesignFileProblem, match=words):
            file.save_change(higher)
    assert sorted(os.listdir(tmp_path)) == ["design.toml"]


def test_a_file_that_vanished_is_told_with_its_last_good_copy(path):
    file = DesignFile(path, SMALL)
    file.save_change(higher)
    path.unlink()
    with pytest.raises(DesignFileProblem, match="no such file.*\n.*last good copy is .*design.backup.toml"):
        file.save_change(higher)
    assert not path.exists()


@pytest.mark.skipif(os.name == "nt", reason="rights of folders are a matter of POSIX")
def test_a_read_only_folder_and_file(monkeypatch):
    """With the rights of a user who is not the administrator, to whom nothing is read-only."""
    with tempfile.TemporaryDirectory() as folder, tempfile.TemporaryDirectory() as installed:
        os.chmod(folder, 0o755)
        # that user may have no right to read where the course is installed, so the demo lies where all may read
        os.chmod(installed, 0o755)
        demo = Path(shutil.copy(design_file.DEMOS / f"{design_file.demos()[0]}.toml", installed))
        os.chmod(demo, 0o644)
        monkeypatch.setattr(design_file, "DEMOS", Path(installed))
        path = Path(folder) / "design.toml"
        path.write_text(TEXT)
        os.chmod(path, 0o644)  # whatever the mask of whoever runs this
        os.chmod(folder, 0o555)
        root = os.geteuid() == 0
        if root:
            os.seteuid(65534)
        try:
            if os.access(folder, os.W_OK, effective_ids=True) and not root:
                pytest.skip("this file system does not keep rights")
            file = DesignFile(path, SMALL)
            assert file.read().written() == WRITTEN
            # os.access asks for the real user; the lock and the writing are refused in earnest
            with pytest.raises(DesignFileProblem, match="was not changed.*[Yy]ou may not write"):
                file.save_change(higher)
            with pytest.raises(DesignFileProblem, match="was not made.*you may not write"):
                new_here = Path(folder) / "other.toml"
                design_file.new(new_here, demo=demo.stem)
        finally:
            if root:
                os.seteuid(0)
            os.chmod(folder, 0o755)
        assert path.read_text() == TEXT and os.listdir(folder) == ["design.toml"]


def test_a_place_that_cannot_be_written_is_told_beforehand(path, monkeypatch):
    file = DesignFile(path, SMALL)
    assert file.read_only_because == ""
    monkeypatch.setattr(design_file.os, "access", lambda place, mode: Path(place) != path)
    assert "marked as read-only" in file.read_only_because
    with pytest.raises(DesignFileProblem, match="marked as read-only"):
        file.save_change(higher)
    monkeypatch.setattr(design_file.os, "access", lambda place, mode: Path(place) != path.parent)
    assert "may not write in the folder" in file.read_only_because
    with pytest.raises(DesignFileProblem, match="may not write in the folder"):
        file.save_change(higher)
    assert path.read_text() == TEXT
