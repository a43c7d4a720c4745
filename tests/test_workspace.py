"""The working folder: what the learner wrote is never lost, whatever the course brings."""

import contextlib
import errno
import hashlib
import json
import os
import pathlib
import tempfile

import pytest

from lathe_course.course.folder import workspace
from lathe_course.design.files import design_file
from lathe_course.design.lathe import LATHE
from lathe_course.units import InputProblem


def notebook(*texts: str, output: str = "", counter: int | None = None, as_lines: bool = False, folded: bool = True) -> str:
    """A notebook file as text, its code folded as in a working folder; ``output`` and ``counter`` are what a run leaves behind."""
    cells = []
    for text in texts:
        source = text.splitlines(keepends=True) if as_lines else text
        outputs = [{"output_type": "stream", "name": "stdout", "text": output}] if output else []
        cells.append(
            {
                "cell_type": "code",
                "source": source,
                "metadata": {"jupyter": {"source_hidden": True}} if folded else {},
                "outputs": outputs,
                "execution_count": counter,
            }
        )
    return json.dumps({"cells": cells, "metadata": {}, "nbformat": 4, "nbformat_minor": 5})


class Course:
    """A small course in a folder, in the place of the real one."""

    def __init__(self, root: pathlib.Path):
        self.root = root
        for shelf in workspace.SHELVES:
            (root / shelf).mkdir(parents=True)
        self.put("notebooks/00_start_here.ipynb", notebook("first"))
        self.put("notebooks/03_cutting_speeds.ipynb", notebook("three", "lines\nof text"))
        self.put("exercises/03_cutting_speeds.ipynb", notebook("try"))
        self.put("exercises/03_cutting_speeds.toml", "[[question]]\n")  # stays with the course

    def put(self, name: str, text: str) -> None:
        (self.root / name).write_text(text)


@pytest.fixture
def course(tmp_path, monkeypatch):
    made = Course(tmp_path / "course")
    monkeypatch.setattr(workspace, "material", lambda shelf: made.root / shelf)
    return made


@pytest.fixture
def folder(tmp_path):
    return tmp_path / "my-lathe"


CHAPTER = "notebooks/03_cutting_speeds.ipynb"


def said(report: workspace.Report) -> str:
    return "\n".join(report.sentences())


# --- the first start --------------------------------------------------------------------------------
def test_first_start_lays_notebooks_exercises_and_a_design_file(course, folder):
    report = workspace.prepare(folder)
    for name in workspace.shipped():
        assert json.loads((folder / name).read_text()) == json.loads((course.root / name).read_text())
    assert not list(folder.rglob("*_speeds.toml"))
    assert (folder / "design.toml").is_file()
    assert said(report) == (
        f"Made your working folder: {folder}\n"
        "It holds 2 notebooks to read and do, 1 file of exercises, and your design file, design.toml.\n"
        "Begin with chapter 00, which opens first; it leads to the first round, 00b, and that to a draft of your own lathe."
    )
    assert not list(folder.rglob("*.part"))


def test_what_is_not_course_material_stays_behind(course, folder):
    for name in ("notebooks/.ipynb_checkpoints/00.ipynb", "exercises/__pycache__/x.pyc", "notebooks/.hidden"):
        (course.root / name).parent.mkdir(exist_ok=True)
        course.put(name, "x")
    workspace.prepare(folder)
    assert not list(folder.rglob("*checkpoints*")) and not list(folder.rglob("*pyc*"))
    assert not (folder / "notebooks/.hidden").exists()


def test_the_real_course_has_its_shelves():
    for shelf in workspace.SHELVES:
        assert workspace.material(shelf).is_dir()
    with pytest.raises(ValueError, match="'attic' is not one of notebooks, exercises"):
        workspace.material("attic")


def test_files_of_the_learners_own_are_not_touched(course, folder):
    (folder / "notebooks").mkdir(parents=True)
    (folder / CHAPTER).write_text("my own file that happens to have this name")
    (folder / "design.toml").write_text("name = 'mine'\n")
    (folder / "photo.jpg").write_bytes(b"x")
    report = workspace.prepare(folder)
    assert (folder / CHAPTER).read_text().startswith("my own")
    assert (folder / "design.toml").read_text() == "name = 'mine'\n"
    assert report.kept == [CHAPTER]


# --- starting again ---------------------------------------------------------------------------------
def test_nothing_to_do_says_nothing_and_writes_nothing(course, folder):
    workspace.prepare(folder)
    before = {path: path.stat().st_mtime_ns for path in folder.rglob("*") if path.is_file()}
    report = workspace.prepare(folder)
    assert report.sentences() == [f"Your working folder: {folder}"]
    assert {path: path.stat().st_mtime_ns for path in folder.rglob("*") if path.is_file()} == before


def test_a_changed_copy_is_never_overwritten(course, folder):
    workspace.prepare(folder)
    mine = notebook("three", "lines\nof text", "and a thought of mine")
    (folder / CHAPTER).write_text(mine)
    assert f"Left as you changed them: {CHAPTER}." in said(workspace.prepare(folder))
    course.put(CHAPTER, notebook("three, improved"))
    for _ in range(2):  # said at every start, not only at the first
        report = workspace.prepare(folder)
        assert (folder / CHAPTER).read_text() == mine
        assert report.kept_older == [CHAPTER]
        assert "newer version" in said(report) and f"--fresh-copy {CHAPTER}" in said(report)


def test_a_learner_gets_the_chapters_without_the_outputs_of_the_demo(course, folder):
    course.put(CHAPTER, notebook("three", output="as on the demo", counter=3, folded=False))
    workspace.prepare(folder)
    [cell] = json.loads((folder / CHAPTER).read_text())["cells"]
    assert cell["source"] == "three" and cell["outputs"] == [] and cell["execution_count"] is None
    assert cell["metadata"]["jupyter"]["source_hidden"], "its code is folded"


def test_cells_that_run_by_themselves_are_those_of_the_course(course, folder):
    course.put(CHAPTER, notebook("three", "fo\nur", as_lines=True))
    known = workspace.known_cells()
    assert {hashlib.sha256(text.encode()).hexdigest()[:32] for text in ("three", "fo\nur")} <= set(known)
    assert hashlib.sha256(b"three ").hexdigest()[:32] not in known


def test_an_untouched_copy_is_renewed(course, folder):
    workspace.prepare(folder)
    course.put(CHAPTER, notebook("three, improved"))
    course.put("exercises/03_cutting_speeds.ipynb", notebook("try again"))
    report = workspace.prepare(folder)
    assert report.renewed == [CHAPTER, "exercises/03_cutting_speeds.ipynb"]
    assert json.loads((folder / CHAPTER).read_text()) == json.loads((course.root / CHAPTER).read_text())
    assert f"Renewed, because you had not changed them: {CHAPTER}" in said(report)


@pytest.mark.parametrize(
    "run",
    [
        notebook("three", "lines\nof text", output="314 rpm", counter=7),
        notebook("three", "lines\nof text", as_lines=True),
        notebook("three", "lines\nof text", "", " \n"),
    ],
    ids=["with outputs", "source as lines", "with the empty cell that running adds"],
)
def test_a_notebook_that_was_only_run_counts_as_untouched(course, folder, run):
    workspace.prepare(folder)
    (folder / CHAPTER).write_text(run)
    report = workspace.prepare(folder)
    assert not report.kept and (folder / CHAPTER).read_text() == run  # its outputs stay while nothing is newer
    course.put(CHAPTER, notebook("three, improved"))
    assert workspace.prepare(folder).renewed == [CHAPTER]


@pytest.mark.parametrize(
    "changed",
    [
        notebook("three", "lines\nof Text"),
        notebook("lines\nof text", "three"),
        notebook("three"),
        "not a notebook",
        '{"cells": 3}',
        notebook("three", "lines\nof text").replace('"code"', '"markdown"'),
        notebook("three", "lines\nof text").replace('"outputs"', '"attachments": {"a.png": {"image/png": "AAAA"}}, "outputs"', 1),
    ],
    ids=["letter", "order", "deleted cell", "damaged", "damaged cells", "kind of cell", "pasted picture"],
)
def test_a_notebook_somebody_wrote_in_counts_as_changed(course, folder, changed):
    workspace.prepare(folder)
    (folder / CHAPTER).write_text(changed)
    course.put(CHAPTER, notebook("three, improved"))
    assert workspace.prepare(folder).kept_older == [CHAPTER]
    assert (folder / CHAPTER).read_text() == changed


def test_an_untouched_copy_of_any_older_course_is_renewed(course, folder):
    for text in ("one", "two", "three"):
        course.put(CHAPTER, notebook(text))
        workspace.prepare(folder)
    (folder / CHAPTER).write_text(notebook("one"))  # taken from a backup
    assert workspace.prepare(folder).renewed == [CHAPTER]


def test_new_files_are_added_and_deleted_ones_put_back(course, folder):
    workspace.prepare(folder)
    course.put("notebooks/04_forces.ipynb", notebook("four"))
    (folder / CHAPTER).unlink()
    report = workspace.prepare(folder)
    assert report.added == ["notebooks/04_forces.ipynb"] and report.put_back == [CHAPTER]
    assert "New in the course, added: notebooks/04_forces.ipynb." in said(report)
    assert f"Missing, so put back: {CHAPTER}." in said(report)
    assert (folder / CHAPTER).is_file()


def test_files_the_course_dropped_stay(course, folder):
    workspace.prepare(folder)
    (course.root / CHAPTER).unlink()
    assert f"No longer part of the course, left where they are: {CHAPTER}." in said(workspace.prepare(folder))
    assert (folder / CHAPTER).is_file()


@pytest.mark.parametrize("damage", ["", "{", "[]", '{"laid": 4}', '{"laid": {"a": 1}}', "\x00"])
def test_a_damaged_record_makes_the_course_careful(course, folder, damage):
    workspace.prepare(folder)
    (folder / CHAPTER).write_text(notebook("mine"))
    (folder / workspace.RECORD).write_text(damage)
    course.put(CHAPTER, notebook("newer"))
    report = workspace.prepare(folder)
    assert report.kept == [CHAPTER] and (folder / CHAPTER).read_text() == notebook("mine")
    assert "Made your working folder" not in said(report)
    assert workspace.prepare(folder).kept == [CHAPTER]  # and the record is whole again
    json.loads((folder / workspace.RECORD).read_text())


def test_cut_off_half_way_the_next_start_finishes(course, folder, monkeypatch):
    """Whatever write is the last one: afterwards each file is the old or the new one, and a start completes the rest."""
    workspace.prepare(folder)
    for name in workspace.shipped():
        course.put(name, notebook("newer"))
    whole = workspace.write_whole
    for writes in range(6):
        left = iter(range(writes))

        def cut_off(path, content, left=left):
            if next(left, None) is None:
                raise KeyboardInterrupt
            whole(path, content)

        monkeypatch.setattr(workspace, "write_whole", cut_off)
        with contextlib.suppress(KeyboardInterrupt):
            workspace.prepare(folder)
    monkeypatch.setattr(workspace, "write_whole", whole)
    report = workspace.prepare(folder)
    assert not report.kept and not report.kept_older
    for name in workspace.shipped():
        assert json.loads((folder / name).read_text()) == json.loads((course.root / name).read_text())


# --- the design file --------------------------------------------------------------------------------
def test_the_design_file_is_a_design_that_can_be_read(course, folder):
    workspace.prepare(folder)
    assert design_file.load(folder / "design.toml", LATHE).started_from == "boat_shed"


def test_a_missing_design_file_is_made_again_and_said(course, folder):
    workspace.prepare(folder)
    (folder / "design.toml").unlink()
    assert said(workspace.prepare(folder)).endswith("design.toml was missing, so a new one was made from the demo boat_shed.")
    assert (folder / "design.toml").is_file()


def test_a_missing_design_file_comes_back_from_its_last_good_copy(course, folder):
    workspace.prepare(folder)
    design_file.DesignFile(folder / "design.toml", LATHE).save_change(lambda design: design.note("mine", "first thought"))
    design_file.DesignFile(folder / "design.toml", LATHE).save_change(lambda design: design.note("mine", "second thought"))
    (folder / "design.toml").unlink()
    report = workspace.prepare(folder)
    assert design_file.load(folder / "design.toml", LATHE).notes["mine"] == "first thought"
    assert "design.toml was missing." in said(report) and "design.backup.toml" in said(report)


def test_a_damaged_last_good_copy_does_not_stop_the_course(course, folder):
    workspace.prepare(folder)
    (folder / "design.toml").unlink()
    (folder / "design.backup.toml").write_text("not [toml")
    report = workspace.prepare(folder)
    assert "the last good copy is damaged too" in said(report) and "a new one was made from the demo" in said(report)
    assert (folder / "design.backup.toml").read_text() == "not [toml"


def test_a_damaged_design_file_is_left_for_the_learner_to_mend(course, folder):
    workspace.prepare(folder)
    (folder / "design.toml").write_text("not [toml")
    workspace.prepare(folder)
    assert (folder / "design.toml").read_text() == "not [toml"


# --- a fresh copy -----------------------------------------------------------------------------------
@pytest.mark.parametrize(
    "name", ["00", "00_start_here", "00_start_here.ipynb", "notebooks/00_start_here.ipynb", "notebooks\\00_start_here.ipynb"]
)
def test_a_fresh_copy_lies_beside_the_learners(course, folder, name):
    workspace.prepare(folder)
    (folder / "notebooks/00_start_here.ipynb").write_text(notebook("mine"))
    first, second = (workspace.fresh_copy(folder, name) for _ in range(2))
    assert [path.name for path in (first, second)] == ["00_start_here-fresh.ipynb", "00_start_here-fresh-2.ipynb"]
    assert json.loads(first.read_text()) == json.loads(second.read_text()) == json.loads(notebook("first"))
    assert (folder / "notebooks/00_start_here.ipynb").read_text() == notebook("mine")


@pytest.mark.parametrize(
    "name, words",
    [
        ("00_start_hree", "The course has no file '00_start_hree'; did you mean 00_start_here?"),
        ("", "The course has no file ''."),
        ("../design.toml", "The course has no file '../design.toml'."),
    ],
)
def test_a_fresh_copy_of_nothing_we_know(course, folder, name, words):
    workspace.prepare(folder)
    with pytest.raises(InputProblem) as refused:
        workspace.fresh_copy(folder, name)
    assert str(refused.value) == words


def test_a_name_that_fits_several_prefers_the_chapter(course, folder):
    workspace.prepare(folder)
    assert workspace.fresh_copy(folder, "03") == folder / "notebooks/03_cutting_speeds-fresh.ipynb"


# --- finding the folder -----------------------------------------------------------------------------
def test_a_notebook_finds_its_working_folder(course, folder, monkeypatch):
    workspace.prepare(folder)
    monkeypatch.chdir(folder / "notebooks")
    assert workspace.find() == folder and workspace.design_path() == folder / "design.toml"
    assert workspace.find(folder.parent) is None and workspace.design_path(folder.parent) is None


# --- folders that cannot serve ----------------------------------------------------------------------
def refusal(folder) -> str:
    with pytest.raises(InputProblem) as refused:
        workspace.prepare(folder)
    return str(refused.value)


def test_a_file_in_the_place_of_the_folder(course, folder):
    folder.write_text("x")
    assert refusal(folder) == f"{folder} is a file, not a folder. Choose another name for your working folder."
    assert folder.read_text() == "x"


def test_a_file_on_the_way_to_the_folder(course, tmp_path):
    (tmp_path / "file").write_text("x")
    words = refusal(tmp_path / "file" / "my-lathe")
    assert "a part of that path is a file, not a folder" in words and "Choose another folder: lathe-course start FOLDER" in words


def test_a_folder_in_the_place_of_a_file(course, folder):
    (folder / CHAPTER).mkdir(parents=True)
    assert "there is a folder of that name" in refusal(folder) and CHAPTER in refusal(folder)


@pytest.mark.parametrize(
    "number, words",
    [
        (errno.EACCES, "you may not write there"),
        (errno.EROFS, "the disk can only be read"),
        (errno.ENOSPC, "the disk is full"),
        (errno.EDQUOT, "your share of the disk is full"),
        (errno.EIO, "the disk reports a fault"),
    ],
)
def test_a_folder_that_cannot_be_written(course, folder, monkeypatch, number, words):
    def refuse(path, content):
        raise OSError(number, os.strerror(number), str(path))

    monkeypatch.setattr(workspace, "write_whole", refuse)
    cure = (
        "Make room and start again; nothing you wrote was touched."
        if number in (errno.ENOSPC, errno.EDQUOT)
        else "Choose another folder: lathe-course start FOLDER"
    )
    assert refusal(folder) == f"The working folder {folder} cannot be made ready: {words} ({folder / workspace.RECORD}). {cure}"


@pytest.mark.skipif(os.name == "nt", reason="rights of folders are a matter of POSIX")
def test_a_read_only_folder(monkeypatch):
    """With the rights of a user who is not the administrator, to whom nothing is read-only."""
    with tempfile.TemporaryDirectory() as place:  # the folders of the test run are private to its user
        os.chmod(place, 0o755)
        made = Course(pathlib.Path(place) / "course")
        monkeypatch.setattr(workspace, "material", lambda shelf: made.root / shelf)
        folder = pathlib.Path(place) / "my-lathe"
        folder.mkdir(mode=0o555)
        root = os.geteuid() == 0
        if root:
            os.seteuid(65534)
        try:
            said = refusal(folder)
        finally:
            if root:
                os.seteuid(0)
        assert "you may not write there" in said and not os.listdir(folder)


def test_a_folder_inside_the_checkout(course, tmp_path):
    (tmp_path / "pyproject.toml").write_text('[project]\nname = "lathe-course"\n')
    words = refusal(tmp_path / "deep" / "my-lathe")
    assert "lies inside the source of the course" in words and "for example: lathe-course start ~/my-lathe" in words
    assert not (tmp_path / "deep").exists()


def test_another_project_of_the_learners_is_no_checkout(course, tmp_path):
    (tmp_path / "pyproject.toml").write_text('[project]\nname = "shed-tools"\n')
    workspace.prepare(tmp_path / "my-lathe")


def test_a_folder_inside_the_installed_course():
    package = pathlib.Path(workspace.__file__).parents[1]
    assert "lies inside the installed course" in refusal(package / "my-lathe")


def test_a_folder_inside_the_environment(course, tmp_path, monkeypatch):
    monkeypatch.setattr("sys.prefix", str(tmp_path))
    assert "lies inside the Python environment" in refusal(tmp_path / "my-lathe")


@pytest.mark.parametrize("name", ["~nobody-of-this-name/lathe", "a\0b"])
def test_a_name_that_is_no_folder(name):
    assert "Write the full path of the folder instead." in refusal(name)


def test_the_home_folder_is_filled_in(course, tmp_path, monkeypatch):
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("USERPROFILE", str(tmp_path))
    assert workspace.prepare("~/my-lathe").folder == tmp_path / "my-lathe"
