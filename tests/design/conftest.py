"""For every test of designs."""

from pathlib import Path

import pytest
from held import demos_held
from small_chain import TEXT


@pytest.fixture(autouse=True, scope="session")
def _demos_worked_out_once():
    yield demos_held()


@pytest.fixture
def path(tmp_path) -> Path:
    """A design file of the small chain, alone in a folder."""
    path = tmp_path / "design.toml"
    path.write_bytes(TEXT.encode())
    return path
