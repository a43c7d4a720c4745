"""A real spreadsheet opens, changes and saves every table of a learner, and the course reads what it saved.

LibreOffice, without a window: it takes a table in as its own document, in which one figure is changed as a hand would,
and saves it as text again, in the ways people have it set.  ``.ci/run`` installs it; elsewhere the test is left out where it is not there.
"""

import os
import re
import shutil
import subprocess
from dataclasses import replace
from pathlib import Path

import pytest

from lathe_course.design.demos import demo
from lathe_course.design.evaluation import evaluate
from lathe_course.design.files.build_files import read_tables
from lathe_course.design.files.csv_text import decode, write
from lathe_course.design.files.design_file import DEMOS
from lathe_course.design.files.lists import lay_lists, read_lists
from lathe_course.design.files.progress_log import LogBook, log_path
from lathe_course.design.files.survey import read_survey, survey_path
from lathe_course.tables import __file__ as TABLES

pytestmark = pytest.mark.walk

#: how it is saved: the mark between cells, whether every text is quoted, the language, which sets the decimal sign
SAVED = {
    "commas": (44, "false", "en_US"),
    "semicolons and decimal commas": (59, "false", "de_DE"),
    "semicolons, decimal commas, all quoted": (59, "true", "de_DE"),
    "tabs": (9, "false", "en_US"),
    "commas, all quoted": (44, "true", "en_US"),
}


@pytest.fixture(scope="module")
def soffice() -> str:
    found = shutil.which("soffice")
    if found is None and os.environ.get("CI"):
        pytest.fail("LibreOffice is not installed")
    return found or pytest.skip("LibreOffice is not installed")


def run(soffice: str, profile: Path, language: str, *words: str) -> None:
    environment = {**os.environ, "LANG": f"{language}.UTF-8", "LC_ALL": f"{language}.UTF-8"}
    done = subprocess.run(
        [soffice, f"-env:UserInstallation={profile.as_uri()}", "--headless", *words],
        env=environment,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0 and "Error" not in done.stderr, done.stderr


def saved(soffice: str, tmp_path: Path, folder: Path, how: str, changes: dict[str, tuple[str, str]]) -> None:
    """Every table of the folder opened, changed where ``changes`` says it (name -> figure and what it becomes) and saved again."""
    mark, quoted, language = SAVED[how]
    tables = sorted(folder.glob("*.csv"))
    documents = tmp_path / "documents"
    run(
        soffice,
        tmp_path / "profile",
        "en_US",
        "--convert-to",
        "fods",
        "--infilter=CSV:44,34,76,1,,1033,false,true",
        "--outdir",
        str(documents),
        *map(str, tables),
    )
    for name, (figure, becomes) in changes.items():
        document = documents / f"design.{name}.fods"
        text, count = re.subn(
            rf'office:value="{re.escape(figure)}"([^>]*)>\s*<text:p>[^<]*</text:p>',
            rf'office:value="{becomes}"\1><text:p>{becomes}</text:p>',
            document.read_text("utf-8"),
            count=1,
        )
        assert count == 1, f"{name}: no {figure}"
        document.write_text(text, "utf-8")
    for table in tables:
        table.unlink()
    run(
        soffice,
        tmp_path / "profile",
        language,
        "--convert-to",
        f"csv:Text - txt - csv (StarCalc):{mark},34,76,1,,0,{quoted},true,false",
        "--outdir",
        str(folder),
        *map(str, sorted(documents.glob("*.fods"))),
    )


@pytest.mark.parametrize("how", SAVED)
def test_the_course_reads_every_table_a_spreadsheet_saved(soffice, tmp_path, how):
    folder = tmp_path / "my-lathe"
    folder.mkdir()
    beside = folder / "design.toml"
    design = demo()
    lay_lists(beside, design)
    log_path(beside).write_bytes((DEMOS / "boat_shed.log.csv").read_bytes())
    survey_path(beside).write_bytes((Path(TABLES).parent / "builds.csv").read_bytes())
    before, builds = read_tables(beside), read_survey(beside)[0]
    log = LogBook(log_path(beside)).read()
    assert len(log) > 30 and len(builds) >= 5 and not log.problems
    saved(soffice, tmp_path, folder, how, {"prices": ("1", "1.25"), "log": ("3.5", "4.5")})
    mark = {44: ",", 59: ";", 9: "\t"}[SAVED[how][0]]
    assert all(mark in path.read_text("utf-8-sig") for path in folder.glob("*.csv"))
    after = read_tables(beside)
    for name in ("machines", "equipment", "tasks"):
        assert [vars(one) for one in getattr(after, name)] == [vars(one) for one in getattr(before, name)], name
    assert [(part.name, part.references, part.stock_mass, part.after) for part in after.parts] == [
        (part.name, part.references, part.stock_mass, part.after) for part in before.parts
    ]
    assert [(way.how, way.hours, way.material, way.needs) for way in after.parts.ways] == [
        (way.how, way.hours, way.material, way.needs) for way in before.parts.ways
    ]
    assert 1.25 in [one for prices in vars(after.prices).values() for one in prices] and read_survey(beside)[0] == builds
    again = LogBook(log_path(beside)).read()
    assert not again.problems and len(again) == len(log)
    assert sum(entry.amount or 0 for entry in again.entries) == pytest.approx(sum(entry.amount or 0 for entry in log.entries) + 1)
    # and a line is added to it in the way it is written now
    assert len(LogBook(log_path(beside)).append("2024-12-01", "hours", "2.5", "", "after the spreadsheet")) == len(log) + 1
    evaluate(replace(design, sheets=read_lists(beside, design).building))


@pytest.mark.parametrize("how", SAVED)
def test_texts_that_a_spreadsheet_would_work_out_stay_texts(soffice, tmp_path, how):
    folder = tmp_path / "my-lathe"
    folder.mkdir()
    words = ["=1+1", "+49 spindle", "-5 mm too short", "@home", "'=1", '=HYPERLINK("x")', "-3", "+2,5", "plain, with comma"]
    (folder / "design.words.csv").write_bytes(
        write(("word", "number"), [(word, "7") for word in words], ("a remark, with a comma",))
    )
    saved(soffice, tmp_path, folder, how, {})
    found = decode((folder / "design.words.csv").read_bytes())
    read = [cells[0] for _, cells in found.rows]
    assert (
        read[:7] == words[:7] and read[8] == words[8] and read[7].lstrip("+").replace(",", ".") == "2.5"
    )  # a figure is one to the spreadsheet as well
