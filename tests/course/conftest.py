"""Where a chapter is opened: in a working folder, or nowhere in particular."""
from pathlib import Path

import pytest
from classroom import working_folder


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
