"""Deliberate wrong changes of the package, one at a time: each must make its named test fail.

They stand in ``mutations.toml``.  Every run looks that each can still be made; the long run makes them, in a copy.
"""

import compileall
import json
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


class Copy:
    """The package and its tests in a folder of their own, with a warm process (``warm.py``) that runs tests there."""

    def __init__(self, folder: Path):
        self.folder = folder
        for name in _COPIED:
            if (_ROOT / name).is_dir():
                shutil.copytree(_ROOT / name, folder / name, ignore=shutil.ignore_patterns("__pycache__", ".ipynb_checkpoints"))
            else:
                shutil.copy(_ROOT / name, folder)
        left_out = ("LATHE_COURSE_LONG", "PYTEST_ADDOPTS", "PYTEST_XDIST_WORKER", "PYTEST_CURRENT_TEST")
        environment = {name: value for name, value in os.environ.items() if name not in left_out}
        # what Python compiled is taken for good while size and second of the file are alike: nothing is compiled but by us
        environment |= {"PYTHONPATH": str(folder), "PYTHONDONTWRITEBYTECODE": "1", "OPENBLAS_NUM_THREADS": "1"}
        compileall.compile_dir(folder / "lathe_course", quiet=2)
        self.warm = subprocess.Popen(
            [sys.executable, "tests/warm.py"],
            cwd=folder,
            env=environment,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )

    def run(self, *tests: str) -> tuple[int, str]:
        """How pytest ends on these tests, and what it said."""
        usual = ("-o", "addopts=--strict-markers", "-q", "-x", "-p", "no:cacheprovider", "--tb=short")
        self.warm.stdin.write(json.dumps([*usual, *tests]) + "\n")
        self.warm.stdin.flush()
        return tuple(json.loads(self.warm.stdout.readline()))

    def changed(self, one: Mutation) -> tuple[int, str]:
        """The same of the test of a wrong change, with the change made."""
        file = self.folder / one.file
        as_it_was = file.read_bytes()
        for compiled in (file.parent / "__pycache__").glob(f"{file.stem}.*.pyc"):
            compiled.unlink()
        try:
            file.write_text(as_it_was.decode("utf-8").replace(one.text, one.becomes), encoding="utf-8")
            return self.run(one.test)
        finally:
            file.write_bytes(as_it_was)
            compileall.compile_file(file, quiet=2)


@pytest.fixture(scope="module")
def copy(tmp_path_factory):
    """A copy in which every named test passes."""
    made = Copy(tmp_path_factory.mktemp("mutated"))
    with made.warm:
        ended, said = made.run(*dict.fromkeys(one.test for one in MUTATIONS))
        assert ended == _PASSED, said
        yield made
        made.warm.stdin.close()


@pytest.mark.skipif(not LONG, reason="a child process for each change: only in the long run")
@pytest.mark.parametrize("one", MUTATIONS, ids=lambda one: one.name)
def test_the_change_is_caught(one, copy):
    ended, said = copy.changed(one)
    assert ended == _FAILED, f"it lives ({one.why}):\n{said}" if ended == _PASSED else said
