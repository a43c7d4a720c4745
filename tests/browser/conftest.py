"""A browser for the tests of this folder, or a plain reason why there is none; it and one server are started once for those that follow each other."""

import functools
import os
import tempfile
from collections.abc import Callable, Iterator
from contextlib import ExitStack
from pathlib import Path

import pytest
from lab import FLAGS, Lab, chromium
from later import Later

sync_playwright = Later("playwright.sync_api", "sync_playwright")
#: what the tests of this folder share while one follows the other
_shared = ExitStack()


@functools.cache
def _chromium() -> object:
    """One Chromium; started once, for two of Playwright's own loops cannot run beside each other."""
    playwright = _shared.enter_context(sync_playwright())
    started = playwright.chromium.launch(executable_path=chromium(), args=FLAGS)
    _shared.callback(started.close)
    return started


@functools.cache
def _course() -> Lab:
    """One server, without a page: each test opens one of its own and leaves the folder as it was."""
    place = Path(_shared.enter_context(tempfile.TemporaryDirectory()))
    for name in ("shelf", "private"):
        (place / name).mkdir()
    return _shared.enter_context(Lab(place / "shelf" / "my-lathe", place / "private", _chromium(), opened=False))


@pytest.hookimpl(trylast=True)  # what a fixture of the test holds open is closed before
def pytest_runtest_teardown(item: pytest.Item, nextitem: pytest.Item | None) -> None:
    """The browser goes before a test that is none of this folder: as long as Playwright runs, nothing else may wait in asyncio."""
    if nextitem is None or not nextitem.path.is_relative_to(Path(__file__).parent):
        _shared.close()
        _chromium.cache_clear()
        _course.cache_clear()


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
def browser(installed_browser: str) -> object:
    """Playwright's browser."""
    return _chromium()


@pytest.fixture
def open_lab(tmp_path: Path, browser: object) -> Iterator[Callable[..., Lab]]:
    """``open_lab()`` starts the course in a fresh working folder and opens it; ``open_lab(folder)`` in that folder."""
    with ExitStack() as stack:
        yield lambda folder=tmp_path / "my-lathe": stack.enter_context(Lab(folder, tmp_path / "private", browser))


@pytest.fixture
def lab(browser: object) -> Iterator[Lab]:
    """The course on a page of its own with no notebook open, in a fresh working folder."""
    course = _course()
    course.empty_page()
    yield course
    course.begin_again()
