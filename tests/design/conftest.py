"""For every test of designs."""

import pytest
from held import demos_held


@pytest.fixture(autouse=True, scope="session")
def _demos_worked_out_once():
    yield demos_held()
