"""What holds for the files of the project as a whole."""

import ast
import fnmatch
import json
import re
import tomllib
from pathlib import Path

import pytest
from cases import every

from lathe_course import command

PROJECT = Path(__file__).parents[1]
TOP = {"README.md", "DEVELOPERS.md", "pyproject.toml", "lathe_course", "notebooks", "tests", "exercises"}
LONGEST_MODULE = 330  # statements; lines are the formatter's affair
LARGEST_NOTEBOOK = 500_000  # bytes; pictures are redrawn, so a chapter has no reason to be heavy
LARGEST_OF_ALL = 700_000  # the one that holds the evidence of every formula

_IGNORED = [
    line.strip().rstrip("/") for line in (PROJECT / ".gitignore").read_text(encoding="utf-8").splitlines() if line.strip()
]


_DOT_FILES = (".ci", ".gitignore")  # ours; any other is a tool's own


def ignored(path: Path) -> bool:
    parts = path.relative_to(PROJECT).parts
    return any(fnmatch.fnmatch(part, pattern) for part in parts for pattern in _IGNORED) or (
        parts[0].startswith(".") and parts[0] not in _DOT_FILES
    )


FILES = [path for path in sorted(PROJECT.rglob("*")) if path.is_file() and not ignored(path)]
NOTEBOOKS = [path for path in FILES if path.suffix == ".ipynb"]
DOCUMENTS = [path for path in FILES if path.suffix == ".md"]


def name_of(path: Path) -> str:
    return path.relative_to(PROJECT).as_posix()


def text_of(path: Path) -> str:
    return path.read_text(encoding="utf-8")


def cells_of(path: Path, kind: str) -> list[dict]:
    return [cell for cell in json.loads(text_of(path))["cells"] if cell["cell_type"] == kind]


# --- the top of the project -------------------------------------------------------------------------
def test_the_top_level_holds_what_belongs_there():
    found = {path.name for path in PROJECT.iterdir() if not path.name.startswith(".") and not ignored(path)}
    assert found <= TOP, f"not at the top level: {sorted(found - TOP)}"
    assert TOP - {"DEVELOPERS.md"} <= found, f"missing at the top level: {sorted(TOP - found)}"


# --- every file -------------------------------------------------------------------------------------
_MACHINE_PATH = re.compile(r"(?<![\w.~>}/-])(?:/(?:home|root|Users|opt|work|tmp|mnt)/\w|[A-Z]:\\\\?Users)")
_UNFINISHED = re.compile(r"\b(?:[T]ODO|[F]IXME|[X]XX)\b|^(?:<{7}|>{7})", re.MULTILINE)  # in brackets, not to find itself
_PICTOGRAM = re.compile("[\U0001f000-\U0001faff\u2b50\u2705\u274c\ufe0f]")


@every("path", FILES, ids=name_of)
def test_a_file_is_text_without_traces_of_one_machine(path):
    text = text_of(path)
    for wrong, what in ((_MACHINE_PATH, "a path of one machine"), (_UNFINISHED, "unfinished work"), (_PICTOGRAM, "a pictogram")):
        found = wrong.search(text)
        assert not found, f"{what}: ...{text[max(0, found.start() - 40) : found.end() + 40]}..."


@pytest.mark.parametrize(
    "text, wrong",
    [
        ("saved in /{}/someone/x".format("home"), _MACHINE_PATH),
        ('"C:\\\\{}\\\\someone"'.format("Users"), _MACHINE_PATH),
        ("# {}DO later".format("TO"), _UNFINISHED),
        ("done \U0001f600", _PICTOGRAM),
    ],
)
def test_such_traces_are_seen(text, wrong):
    assert wrong.search(text)


def test_what_only_looks_like_a_trace_passes():
    assert not _MACHINE_PATH.search("~/my-lathe, N·mm/mm, tests/tmp/x, https://example.org/home/x, work/hour")


@every("path", [path for path in FILES if path.suffix == ".py" and PROJECT / "lathe_course" in path.parents], ids=name_of)
def test_a_module_is_short_enough_to_read(path):
    statements = sum(isinstance(node, ast.stmt) for node in ast.walk(ast.parse(text_of(path))))
    assert statements <= LONGEST_MODULE


# --- what people read -------------------------------------------------------------------------------
_EXCLAMATION = re.compile(r"\w!(?:\s|$)")


@every("path", [*DOCUMENTS, *NOTEBOOKS], ids=name_of)
def test_prose_does_not_shout(path):
    texts = [text_of(path)] if path.suffix == ".md" else ["".join(cell["source"]) for cell in cells_of(path, "markdown")]
    for text in texts:
        found = _EXCLAMATION.search(text)
        assert not found, f"...{text[max(0, found.start() - 40) : found.end()]}"


def readme_commands() -> list[str]:
    """The ``sh`` blocks of the README, in order."""
    return re.findall(r"^```sh\n(.*?)^```", text_of(PROJECT / "README.md"), re.MULTILINE | re.DOTALL)


def test_the_readme_sets_up_in_one_line_and_tests_in_another():
    blocks = readme_commands()
    assert len(blocks) == 3 and all(block.count("\n") == 1 for block in blocks)
    assert "venv" in blocks[0] and "pip install" in blocks[0] and "lathe-course start" in blocks[0]
    assert "'.[test]'" in blocks[1] and "pytest" in blocks[1]
    assert "lathe-course brief" in blocks[2]


@pytest.mark.parametrize("line", [line for block in readme_commands() for line in re.findall("lathe-course (.*)", block)])
def test_the_readme_uses_words_the_command_knows(line):
    command.parser().parse_args(line.split())


def test_the_tests_named_by_the_readme_are_all_of_them():
    options = tomllib.loads(text_of(PROJECT / "pyproject.toml"))["tool"]["pytest"]["ini_options"]
    assert options["testpaths"] == ["tests"] and "loadfile" in options["addopts"].split()
    further = text_of(PROJECT / ".ci" / "run")
    assert "pytest -q -m walk tests\n" in further
    assert re.search(r"pytest -q -p nbval --nbval --nbval-current-env .*notebooks exercises\n", further)


# --- notebooks --------------------------------------------------------------------------------------
def test_the_course_begins_where_the_command_opens_it():
    assert (PROJECT / "notebooks" / "00_start_here.ipynb").is_file()


@every("path", NOTEBOOKS, ids=name_of)
def test_a_notebook_is_stored_as_it_ran(path):
    """With outputs, or the comparison of stored outputs would compare nothing."""
    notebook = json.loads(text_of(path))
    assert notebook["nbformat"] == 4
    assert notebook["metadata"]["kernelspec"]["name"] == "python3"
    assert path.stat().st_size < (LARGEST_OF_ALL if path.stem == "what_vouches_for_it" else LARGEST_NOTEBOOK)
    cells = cells_of(path, "code")
    assert any(cell["outputs"] for cell in cells)
    for cell in cells:
        source = "".join(cell["source"])
        assert cell["execution_count"] is not None, f"this cell was not run: {source}"
        if "raises-exception" not in cell["metadata"].get("tags", []):
            assert all(output["output_type"] != "error" for output in cell["outputs"]), f"this cell failed: {source}"


@every("path", NOTEBOOKS, ids=name_of)
def test_outputs_of_a_notebook_do_not_change_from_run_to_run(path):
    for cell in cells_of(path, "code"):
        for output in cell["outputs"]:
            plain = "".join(output.get("data", {}).get("text/plain", output.get("text", "")))
            assert not re.search(r"\bat 0x[0-9a-f]{6,}", plain), f"an address of memory: {plain[:200]}"
