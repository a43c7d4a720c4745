"""Deliberate wrong changes of the package, one at a time: each must make its named test fail.

They stand in ``mutations.toml``.  Every run looks that each can still be made; the long run makes them, in a copy.
"""

import os
import re
import shutil
import subprocess
import sys
import tomllib
from dataclasses import dataclass
from pathlib import Path

import pytest
from tiers import LONG

_ROOT = Path(__file__).parents[1]
#: what the tests of the package need beside it
_COPIED = ("lathe_course", "tests", "notebooks", "exercises", "pyproject.toml", "README.md", "DEVELOPERS.md")
_PASSED, _FAILED = 0, 1  # what pytest ends with; anything else means that nothing was tried


@dataclass(frozen=True)
class Mutation:
    """One wrong change: ``text`` of ``file`` becomes ``becomes``, ``test`` catches it, and ``why`` it would matter."""

    name: str
    file: str
    text: str
    becomes: str
    test: str
    why: str


MUTATIONS = [
    Mutation(name, **row) for name, row in tomllib.loads((_ROOT / "tests/mutations.toml").read_text(encoding="utf-8")).items()
]


@pytest.mark.parametrize("one", MUTATIONS, ids=lambda one: one.name)
def test_the_change_can_be_made_and_its_test_is_there(one):
    assert (_ROOT / one.file).read_text(encoding="utf-8").count(one.text) == 1, (
        "the text to be changed must stand there exactly once"
    )
    assert one.becomes != one.text and one.why.endswith(".")
    file, _, function = one.test.partition("::")
    assert re.search(rf"^def {function.partition('[')[0]}\(", (_ROOT / file).read_text(encoding="utf-8"), re.MULTILINE), one.test


def test_every_room_has_its_changes():
    rooms = {one.file.removeprefix("lathe_course/").rpartition("/")[0] for one in MUTATIONS}
    assert len(MUTATIONS) >= 24 and rooms >= {
        "",
        "machine",
        "planning",
        "design/chain",
        "design/chapters",
        "design/asked",
        "course/shown",
        "course/pictures",
    }


@pytest.fixture(scope="module")
def copy(tmp_path_factory) -> Path:
    """The package and its tests in a folder of their own, in which every named test passes."""
    folder = tmp_path_factory.mktemp("mutated")
    for name in _COPIED:
        if (_ROOT / name).is_dir():
            shutil.copytree(_ROOT / name, folder / name, ignore=shutil.ignore_patterns("__pycache__", ".ipynb_checkpoints"))
        else:
            shutil.copy(_ROOT / name, folder)
    found = subprocess.run(
        [sys.executable, "-c", "import lathe_course; print(lathe_course.__file__)"],
        cwd=folder,
        env=_environment(folder),
        capture_output=True,
        text=True,
        check=True,
    )
    assert Path(found.stdout.strip()) == folder / "lathe_course/__init__.py", "the copy is not what is tested"
    ended, said = _run(folder, *dict.fromkeys(one.test for one in MUTATIONS))
    assert ended == _PASSED, said
    return folder


def _environment(folder: Path, **more: str) -> dict[str, str]:
    """Of a child that takes the package from the copy, and runs the short tier."""
    left_out = ("LATHE_COURSE_LONG", "PYTEST_ADDOPTS", "PYTEST_XDIST_WORKER")
    return {name: value for name, value in os.environ.items() if name not in left_out} | {"PYTHONPATH": str(folder)} | more


def _run(folder: Path, *tests: str, **more: str) -> tuple[int, str]:
    """How pytest ends on these tests, and what it said."""
    done = subprocess.run(
        [
            sys.executable,
            "-m",
            "pytest",
            "-o",
            "addopts=--strict-markers",
            "-q",
            "-x",
            "-p",
            "no:cacheprovider",
            "--tb=short",
            *tests,
        ],
        cwd=folder,
        env=_environment(folder, **more),
        capture_output=True,
        text=True,
        timeout=900,
        check=False,
    )
    return done.returncode, done.stdout[-4000:] + done.stderr[-2000:]


@pytest.mark.skipif(not LONG, reason="a child process for each change: only in the long run")
@pytest.mark.parametrize("one", MUTATIONS, ids=lambda one: one.name)
def test_the_change_is_caught(one, copy):
    file = copy / one.file
    as_it_was = file.read_bytes()
    # what Python compiled is taken for good while size and second of the file are alike
    for compiled in (file.parent / "__pycache__").glob(f"{file.stem}.*.pyc"):
        compiled.unlink()
    try:
        file.write_text(as_it_was.decode("utf-8").replace(one.text, one.becomes), encoding="utf-8")
        ended, said = _run(copy, one.test, PYTHONDONTWRITEBYTECODE="1")
    finally:
        file.write_bytes(as_it_was)
    assert ended == _FAILED, f"it lives ({one.why}):\n{said}" if ended == _PASSED else said
