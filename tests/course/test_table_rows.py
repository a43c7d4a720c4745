"""The tables as a learner sees them: ranges, how sure, what they stand on."""

import pytest
from cases import every

from lathe_course.course.pages.table_rows import table_rows
from lathe_course.tables import TABLES, table
from lathe_course.units import InputProblem


@every("name", TABLES)
def test_every_row_says_how_sure_it_is_and_what_it_stands_on(name):
    lines = table_rows(None, name).plain.splitlines()
    assert len(lines) == len(table(name)) + 1
    for line, key in zip(lines[1:], table(name)):
        assert line.startswith(key) and (
            "confidence" in line or "common practice" in line or "recalled" in line or "seen" in line
        )
    for key in table(name):
        assert table(name).source(key) in table_rows(None, name, key).plain


def test_figures_stand_as_the_file_has_them():
    said = table_rows(None, "materials", "bronze").plain
    assert "speed hss [m/min]" in said and "25 to 45 (32)" in said and "_" not in said.split("Stands on")[0]
    assert table("materials").written("bronze", "speed_hss").likely == pytest.approx(32)
    assert table("threads").written("M8", "pitch") == pytest.approx(1.25) and table("threads").written("M8", "series") == "coarse"


def test_a_table_or_row_that_is_not_there_is_told_with_the_nearest():
    with pytest.raises(InputProblem, match="no table called 'material'.*materials"):
        table_rows(None, "material")
    with pytest.raises(InputProblem, match="'bronce' is not in the table"):
        table_rows(None, "materials", "bronce")
