"""A browser for the tests of this folder, or a plain reason why there is none."""

import os
from collections.abc import Callable, Iterator
from contextlib import ExitStack
from pathlib import Path

import pytest
from lab import Lab, chromium


@pytest.fixture(scope="session")
def installed_browser() -> str:
    """Path of the machine's Chromium; without one the test is skipped here, and fails where all tests must run."""
    found = chromium()
    if found is None:
        reason = "Chromium is not installed, so the course cannot be tried in a real browser"
        if os.environ.get("CI"):
            pytest.fail(reason)
        pytest.skip(reason)
    return found


@pytest.fixture
def open_lab(tmp_path: Path, installed_browser: str) -> Iterator[Callable[..., Lab]]:
    """``open_lab()`` starts the course in a fresh working folder and opens it; ``open_lab(folder)`` in that folder."""
    with ExitStack() as stack:
        yield lambda folder=tmp_path / "my-lathe": stack.enter_context(Lab(folder, tmp_path / "private"))
