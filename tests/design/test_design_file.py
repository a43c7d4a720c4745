"""The design file: what it says is what the design is, and a save touches nothing else."""

import dataclasses
import os
import re
import shutil
import tempfile
import threading
import tomllib
from pathlib import Path

import pytest
import tomlkit
from cases import every
from hypothesis import given, settings
from hypothesis import strategies as st
from small_chain import SMALL, TEXT, WRITTEN

from lathe_course.design.design import Design
from lathe_course.design.files import design_file, file_format, whole_file
from lathe_course.design.files.design_file import DesignFile, DesignFileProblem, backup_of, load, new, restore_last_good
from lathe_course.design.files.toml_edit import PlainWriter, TomlWriter
from lathe_course.design.files.toml_text import decode
from lathe_course.design.jobs import Job, Jobs
from lathe_course.units import InputProblem


@pytest.fixture
def path(tmp_path) -> Path:
    path = tmp_path / "design.toml"
    path.write_bytes(TEXT.encode())
    return path


def complaint(path: Path, text: str | bytes) -> DesignFileProblem:
    """The problem that a file of this text is met with; it must leave the file as it was, whatever is tried."""
    raw = text.encode() if isinstance(text, str) else text
    path.write_bytes(raw)
    with pytest.raises(DesignFileProblem) as caught:
        load(path, SMALL)
    with pytest.raises(DesignFileProblem):
        DesignFile(path, SMALL).save_change(lambda design: design.note("a", "b"))
    assert path.read_bytes() == raw
    assert str(path) in str(caught.value)
    return caught.value


def higher(design: Design) -> Design:
    return design.with_(centre_height="85 mm", because="a larger disc", decided="2026-02-03")


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
        (TEXT.replace("format = 5", 'format = "one"'), 2, "format", "whole number"),
        (TEXT.replace("format = 5", "format = true"), 2, "format", "whole number"),
        (TEXT.replace("format = 5", "format = -1"), 2, "format", "whole number"),
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


# --- saving ----------------------------------------------------------------------------------------
def test_a_save_changes_only_what_changed(path):
    file = DesignFile(path, SMALL)
    design = file.save_change(higher)
    assert design.written() == load(path, SMALL).written()
    assert path.read_text() == TEXT.replace(
        """\
value = "75 mm"          # measured twice
reason = "the largest disc"
decided = 2026-01-31
# older thoughts
earlier = [ { value = "80 mm", reason = "to be safe", decided = "2026-01-10" } ]
""",
        """\
value = "85 mm"          # measured twice
reason = "a larger disc"
decided = "2026-02-03"
# older thoughts
earlier = [
    { value = "80 mm", reason = "to be safe", decided = "2026-01-10" },
    {value = "75 mm", reason = "the largest disc", decided = "2026-01-31"},
]
""",
    )
    assert backup_of(path).read_text() == TEXT


def test_everything_a_design_can_change_comes_back(path):
    def change(design: Design) -> Design:
        design = design.with_(
            centre_height=("70 mm", "75 mm", "80 mm"), motor_power="1/2 hp", bed_form="two bars", efficiency="0.6"
        )
        return dataclasses.replace(
            design.guess("04", 'how "much"?', "plenty").note("floor", "earth\nand gravel"), name="Another", system="inch"
        )

    made = DesignFile(path, SMALL).save_change(change)
    found = load(path, SMALL)
    assert found.written() == made.written()
    assert found["efficiency"] == 0.6 and found.system == "inch" and found.notes["floor"] == "earth\nand gravel"
    assert found["centre_height"] == pytest.approx((0.07, 0.075, 0.08))
    assert "# my lathe; this line is mine" in path.read_text()
    DesignFile(path, SMALL).save_change(lambda design: dataclasses.replace(design, figures={}, notes={}))
    assert load(path, SMALL).figures == {} and load(path, SMALL).notes == {}


def test_jobs_are_changed_added_moved_and_taken_out_with_their_comments(path):
    file = DesignFile(path, SMALL)
    bush, pin = file.read().jobs
    longer = Job.read({**bush.written, "length": "55 mm"})
    knob = Job.read({**pin.written, "name": "knob"})
    for jobs in ([longer, pin], [longer, pin, knob], [knob, longer], [longer]):
        file.save_change(lambda design, jobs=jobs: dataclasses.replace(design, jobs=Jobs(jobs)))
        assert load(path, SMALL).jobs == Jobs(jobs)
        assert "# the first part" in path.read_text() and "# most of the time" in path.read_text()
    with pytest.raises(InputProblem, match="list of jobs is empty"):
        file.save_change(lambda design: dataclasses.replace(design, jobs=Jobs([])))
    assert load(path, SMALL).jobs == Jobs([longer])


def test_jobs_in_one_line_each(path):
    start, end = TEXT.index("[[jobs]]"), TEXT.index("[guesses")
    rows = [", ".join(f'{key} = "{value}"' for key, value in job.items()) for job in WRITTEN["jobs"]]
    path.write_text("jobs = [\n  { " + rows[0] + " }, # first\n  { " + rows[1] + " },\n]\n" + TEXT[:start] + TEXT[end:])
    file = DesignFile(path, SMALL)
    bush, pin = file.read().jobs
    for jobs in ([pin, bush], [Job.read({**pin.written, "length": "9 mm"}), bush], [bush]):
        file.save_change(lambda design, jobs=jobs: dataclasses.replace(design, jobs=Jobs(jobs)))
        assert load(path, SMALL).jobs == Jobs(jobs)


def test_without_a_change_nothing_is_written(path):
    DesignFile(path, SMALL).save_change(lambda design: design)
    assert path.read_text() == TEXT and not backup_of(path).exists()


def test_a_change_that_fails_leaves_the_file(path):
    with pytest.raises(InputProblem, match="no unit"):
        DesignFile(path, SMALL).save_change(lambda design: design.with_(centre_height="85"))
    with pytest.raises(InputProblem, match="centre height"):
        DesignFile(path, SMALL).save_change(lambda design: design.trying(centre_height=0.08))
    assert path.read_text() == TEXT and not backup_of(path).exists()


@pytest.mark.parametrize("before", [b"\xef\xbb\xbf", b""])
@pytest.mark.parametrize("newline", ["\n", "\r\n"])
def test_byte_order_mark_and_line_ends_survive(path, before, newline):
    path.write_bytes(before + TEXT.replace("\n", newline).encode())
    file = DesignFile(path, SMALL)
    assert file.read().written() == WRITTEN
    file.save_change(lambda design: higher(design).note("two lines", "one\r\nand two"))
    raw = path.read_bytes()
    assert raw.startswith(before + b"# my lathe")
    assert raw.count(b"\r\n") == (raw.count(b"\n") if newline == "\r\n" else 0) and raw.count(b"\r") == raw.count(b"\r\n")
    assert load(path, SMALL).notes["two lines"] == "one\nand two"


@settings(max_examples=60, deadline=None, derandomize=True)
@given(
    st.text(st.characters(exclude_categories=["Cs"]), max_size=40), st.text(st.characters(exclude_categories=["Cs"]), max_size=15)
)
def test_any_text_comes_back(text, key):
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "design.toml"
        path.write_text(TEXT, encoding="utf-8")
        file = DesignFile(path, SMALL)
        file.save_change(lambda d: d.with_(centre_height="85 mm", because=text).note(key, text).guess("04", key, text))
        design = load(path, SMALL)
        said = text.replace("\r\n", "\n").replace("\r", "\n")
        assert design.choices["centre_height"].reason == said == design.notes[key] == design.guesses["04"][key]
        file.save_change(lambda d: d.with_(centre_height="86 mm"))
        assert load(path, SMALL).choices["centre_height"].earlier[-1].reason == said


def test_a_text_that_no_file_can_hold_is_refused(path):
    with pytest.raises(DesignFileProblem, match="character that no file can hold"):
        DesignFile(path, SMALL).save_change(lambda design: design.note("a", "half a sign \ud800"))
    assert path.read_text() == TEXT


@pytest.mark.parametrize(
    "old, fresh",
    [
        (
            TEXT[TEXT.index("[decisions.centre_height]") : TEXT.index("[decisions.bed_form]")],
            '[decisions]\ncentre_height.value = "75 mm"\nmotor_power = { value = "0.4 kW", reason = "there" }\n',
        ),
        (
            TEXT[TEXT.index("[decisions.centre_height]") : TEXT.index("[[jobs]]")],
            'decisions.centre_height.value = "75 mm"\ndecisions.motor_power.value = "1 kW"\ndecisions.bed_form = "two bars"\n',
        ),
        (
            TEXT[TEXT.index("[decisions.centre_height]") : TEXT.index("[[jobs]]")],
            'decisions = { centre_height = "75 mm", motor_power = {value = "1 kW"}, bed_form = "two bars" }\n',
        ),
        ('[guesses.03]\nfastest = "400 rpm"\n\n[notes]\nfloor = "stone, level"\n', ""),
        ("[decisions.bed_form]", "[extra]\na = 1\n[decisions.bed_form]"),
        ('value = "75 mm" ', "value = '''75 mm''' "),
    ],
)
def test_other_layouts_are_saved_rightly_or_refused_whole(path, old, fresh):
    assert old in TEXT
    text = TEXT.replace(old, fresh)
    path.write_text(text)
    file = DesignFile(path, SMALL)
    file.read()

    def change(design: Design) -> Design:
        return higher(design).with_(motor_power="2 kW", efficiency=0.5).note("a", "b").guess("03", "c", "d")

    try:
        made = file.save_change(change)
    except DesignFileProblem as problem:
        assert "laid out in a way" in str(problem) and path.read_text() == text
    else:
        assert load(path, SMALL).written() == made.written() == change(Design.from_written(SMALL, decode_known(text))).written()


def decode_known(text: str) -> dict:
    return file_format.sift(decode(text.encode()).plain, SMALL).known


# --- many at once ----------------------------------------------------------------------------------
def test_two_notebooks_do_not_lose_each_others_decisions(path):
    """Each reads once, then both save; the second change is made to what the first left."""
    one, two = DesignFile(path, SMALL), DesignFile(path, SMALL)
    one.read(), two.read()
    one.save_change(lambda design: design.with_(centre_height="85 mm"))
    two.save_change(lambda design: design.with_(motor_power="0.5 kW"))
    assert load(path, SMALL)["centre_height"] == pytest.approx(0.085)
    assert load(path, SMALL)["motor_power"] == pytest.approx(500)


def test_many_writers_lose_nothing(path, monkeypatch):
    monkeypatch.setattr(whole_file, "PATIENCE", 300.0)  # that a busy machine has one wait is told elsewhere

    def keep(writer: int) -> None:
        for turn in range(8):
            DesignFile(path, SMALL).save_change(lambda design, turn=turn: design.note(f"{writer}-{turn}", "kept"))

    writers = [threading.Thread(target=keep, args=(n,)) for n in range(4)]
    for writer in writers:
        writer.start()
    for writer in writers:
        writer.join()
    assert set(load(path, SMALL).notes) == {"floor"} | {f"{w}-{t}" for w in range(4) for t in range(8)}


def test_a_change_made_in_an_editor_is_respected(path):
    file = DesignFile(path, SMALL)
    file.read()
    path.write_text(TEXT.replace('"filled box"', '"two bars"').replace("# what was settled", "# edited"))
    design = file.save_change(higher)
    assert design["bed_form"] == "two bars" and "# edited" in path.read_text()


def test_a_change_made_in_an_editor_during_a_save_is_respected(path, monkeypatch):
    edits = iter([TEXT.replace('"filled box"', '"two bars"')])
    fsync = os.fsync

    def edit_meanwhile(handle: int) -> None:
        fsync(handle)
        text = next(edits, None) if backup_of(path).exists() else None
        if text:
            path.write_text(text)

    monkeypatch.setattr(whole_file.os, "fsync", edit_meanwhile)
    design = DesignFile(path, SMALL).save_change(higher)
    assert design["bed_form"] == "two bars" and design["centre_height"] == pytest.approx(0.085)
    assert load(path, SMALL).written() == design.written()
    assert load(backup_of(path), SMALL)["bed_form"] == "two bars"


def test_a_busy_file_is_told(path, monkeypatch):
    monkeypatch.setattr(whole_file, "PATIENCE", 0.05)
    with whole_file.one_writer(path), pytest.raises(DesignFileProblem, match="another notebook has been writing"):
        DesignFile(path, SMALL).save_change(higher)
    assert path.read_text() == TEXT


@pytest.mark.skipif(os.name == "nt", reason="links need rights on Windows")
def test_a_link_stays_a_link_and_rights_stay(path, tmp_path):
    link = tmp_path / "elsewhere"
    link.mkdir()
    link /= "link.toml"
    link.symlink_to(path)
    path.chmod(0o640)
    DesignFile(link, SMALL).save_change(higher)
    assert link.is_symlink() and load(path, SMALL)["centre_height"] == pytest.approx(0.085)
    assert path.stat().st_mode & 0o777 == 0o640 and backup_of(path).exists()


# --- the last good copy ----------------------------------------------------------------------------
def test_the_last_good_copy_is_named_and_put_back(path):
    DesignFile(path, SMALL).save_change(higher)
    good = path.read_bytes()
    DesignFile(path, SMALL).save_change(lambda design: design.note("a", "b"))
    damaged = path.read_bytes()[:300]
    problem = complaint(path, damaged)
    assert f"The last good copy is {backup_of(path)}" in str(problem)
    said = restore_last_good(path)
    assert path.read_bytes() == good and "design.set-aside-1.toml" in said
    assert path.with_name("design.set-aside-1.toml").read_bytes() == damaged
    path.write_bytes(b"")
    restore_last_good(path)
    assert path.with_name("design.set-aside-2.toml").read_bytes() == b""
    path.unlink()
    assert "set-aside" not in restore_last_good(path)
    assert path.read_bytes() == good


def test_no_good_copy_is_not_offered(path):
    assert "last good copy" not in str(complaint(path, "x"))
    with pytest.raises(DesignFileProblem, match="no last good copy"):
        restore_last_good(path)
    backup_of(path).write_text(TEXT[:100])
    assert "last good copy" not in str(complaint(path, "x"))
    with pytest.raises(DesignFileProblem, match="damaged too"):
        restore_last_good(path)
    assert path.read_text() == "x"


def test_a_file_that_looks_cut_off_does_not_become_the_last_good_copy(path):
    file = DesignFile(path, SMALL)
    file.save_change(higher)
    path.write_text(path.read_text()[: path.read_text().index("[guesses") + 4 - 4].rstrip("\n"))
    assert any("cut off" in remark for remark in DesignFile(path, SMALL).remarks)
    file.save_change(lambda design: design.note("a", "b"))
    assert backup_of(path).read_text() == TEXT


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
    text = TEXT.replace("format = 5", f"format = {file_format.FORMAT + 1}") + "[parts]\nbed = 1\n"
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
