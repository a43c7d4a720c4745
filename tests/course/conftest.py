"""Where a chapter is opened: in a working folder, or nowhere in particular."""

import gc
from pathlib import Path

import pytest
from classroom import working_folder
from comm import get_comm_manager
from drawn_pictures import Evaluations, noted
from held import demos_held
from ipywidgets.widgets.widget import _instances

from lathe_course.course.pictures.style import Canvas


@pytest.fixture(autouse=True, scope="session")
def _demos_worked_out_once():
    yield demos_held()


@pytest.fixture(autouse=True)
def _widgets_put_away():
    """Every widget is kept by its library until it is closed, and with it the session and draws that it shows: some gigabytes in the end."""
    yield
    _instances.clear()
    for comm in list(get_comm_manager().comms.values()):
        comm.on_msg(None)


@pytest.fixture(autouse=True, scope="module")
def _room_made():
    """What the panels of a file held goes at its end: panel and session name each other, and wait for the collector."""
    yield
    gc.collect()


@pytest.fixture
def nowhere(tmp_path, monkeypatch) -> Path:
    """A folder that is no working folder: a chapter opens on the demo."""
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.fixture
def design_file(tmp_path, monkeypatch) -> Path:
    """The design file of a fresh working folder; chapters open there."""
    path = working_folder(tmp_path / "my-lathe")
    monkeypatch.chdir(path.parent / "notebooks")
    return path


@pytest.fixture(scope="module")
def evaluations() -> Evaluations:
    """The designs that pictures are drawn of, by their names."""
    return Evaluations()


@pytest.fixture(scope="module")
def canvas() -> Canvas:
    return Canvas()


@pytest.fixture
def written(monkeypatch) -> list:
    """The texts of what is drawn in a test, with their boxes."""
    return noted(monkeypatch)
