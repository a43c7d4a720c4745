"""What the tests of the design file have in common: a change to make, and the problem that a damaged file is met with."""

from pathlib import Path

import pytest
from small_chain import SMALL

from lathe_course.design.design import Design
from lathe_course.design.files.design_file import DesignFile, DesignFileProblem, load


def complaint(path: Path, text: str | bytes) -> DesignFileProblem:
    """The problem that a file of this text is met with; it must leave the file as it was, whatever is tried."""
    raw = text.encode() if isinstance(text, str) else text
    path.write_bytes(raw)
    with pytest.raises(DesignFileProblem) as caught:
        load(path, SMALL)
    with pytest.raises(DesignFileProblem):
        DesignFile(path, SMALL).save_change(lambda design: design.note("a", "b"))
    assert path.read_bytes() == raw
    assert str(path) in str(caught.value)
    return caught.value


def higher(design: Design) -> Design:
    return design.with_(centre_height="85 mm", because="a larger disc", decided="2026-02-03")
