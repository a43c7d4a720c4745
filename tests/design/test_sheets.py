"""Sheets beside the design file: tolerant of how they are written, strict on what they say, never overwritten."""

import pytest
from cases import every

from lathe_course.design.files.sheets import Column, Sheet, SheetProblem, lay_sheet, read_rows, read_sheet
from lathe_course.ranges import Range
from lathe_course.units import LabourTime, Length, Money, Ratio

SHEET = Sheet(
    "works",
    ("What it is for.",),
    (
        Column("part", needed=True),
        Column("hours", LabourTime(at_least=0), ranged=True, needed=True),
        Column("money", Money(at_least=0), default=0.0),
        Column("stock_length", Length("mm", above=0), default=None),
        Column("chance", Ratio(at_least=0, at_most=1), default=0.0),
        Column("way", options=("bought", "make it here")),
        Column("needs", figures_in_text=True),
    ),
    ("part",),
)
HEAD = "part,hours low [h],hours likely [h],hours high [h],money [EUR],stock length [mm],chance,way,needs\n"


def rows(text, encoding="utf-8"):
    return read_rows(text.encode(encoding), SHEET, "works.csv").rows


def problems(text):
    with pytest.raises(SheetProblem) as caught:
        rows(text)
    return [sentence for _, sentence in caught.value.problems]


def test_figures_come_in_si_and_what_is_empty_takes_its_default():
    (row,) = rows(HEAD + "bed,1,2,4,30,650,0.2,Bought,x\n")
    assert row.values == {
        "part": "bed",
        "hours": Range(1, 2, 4),
        "money": 30,
        "stock_length": 0.65,
        "chance": 0.2,
        "way": "bought",
        "needs": "x",
    }
    (row,) = rows(HEAD + "bed,1,2,4,,,,,\n")
    assert row.values["money"] == 0 and row.values["stock_length"] is None and row.values["way"] == "" and row.line == 2


def test_headings_may_stand_in_any_order_and_spelling():
    (row,) = rows("Hours_high;chance;PART;hours  likely (h);hours-low\n4;0,2;bed;2;1,5\n")
    assert row.values["hours"] == Range(1.5, 2, 4) and row.values["part"] == "bed" and row.values["chance"] == 0.2


def test_a_unit_in_a_heading_is_honoured():
    (row,) = rows(
        "part,hours likely [minutes],stock length [in],chance [%],money [€]\nbed,90,10,20,5\n".replace(
            "hours likely [minutes]", "hours low [minutes],hours likely [minutes],hours high [minutes]"
        ).replace("90", "60,90,120")
    )
    assert row.values["hours"] == Range(1, 1.5, 2) and row.values["stock_length"] == pytest.approx(0.254)
    assert row.values["chance"] == pytest.approx(0.2) and row.values["money"] == 5
    assert (
        "the unit of 'stock length [kg]' '1 kg' is a mass"
        in problems("part,hours low,hours likely,hours high,stock length [kg]\nbed,1,2,3,4\n")[0]
    )


def test_a_unit_beside_a_figure_is_read_as_well():
    (row,) = rows(HEAD + "bed,30 min,2 h,4,30 EUR,25.4 in,20%,,\n")
    assert (
        row.values["hours"] == Range(0.5, 2, 4)
        and row.values["stock_length"] == pytest.approx(0.64516)
        and row.values["chance"] == pytest.approx(0.2)
    )


def test_a_figure_known_well_may_stand_alone():
    (row,) = rows(HEAD + "bed,,2,,,,,,\n")
    assert row.values["hours"] == Range(2, 2, 2)


def test_decimal_commas_inside_a_text_are_set_right():
    (row,) = rows((HEAD + "bed,1,2,4,,,,,milling 140§5 x 120 mm to 0§05 mm\n").replace(",", ";").replace("§", ","))
    assert row.values["needs"] == "milling 140.5 x 120 mm to 0.05 mm"


def test_columns_nobody_knows_are_kept_and_told():
    read = read_rows((HEAD.strip() + ",colour\nbed,1,2,4,,,,,,green\n").encode(), SHEET, "works.csv")
    assert read.rows[0].extra == {"colour": "green"}
    assert read.remarks == ("works.csv: the column 'colour' is not known and stays unused.",)


# --- what is told -----------------------------------------------------------------------------------------
def test_a_changed_heading_is_told_with_the_nearest():
    assert problems(HEAD.replace("hours likely [h]", "hours likly [h]") + "bed,1,2,4,,,,,\n") == [
        "line 1: there is no column 'hours likely [h]'; 'hours likly [h]' comes nearest, is it meant?"
    ]
    assert problems("teil,stunden\nbett,2\n")[0].startswith(
        "line 1: none of its headings is known; the first row must name the columns: part, hours low [h]"
    )
    assert "stands twice" in problems(HEAD.strip() + ",part\nbed,1,2,4,,,,,,bed\n")[0]


def test_a_heading_that_was_only_misspelt_is_never_lost():
    """Where a column may be left out, one that is nearly there is asked about; else all that stands below it would be dropped."""
    for heading in HEAD.strip().split(","):
        name = heading.split(" [")[0]
        changed = HEAD.replace(heading, heading.replace(name, name + "s"), 1)
        assert any("comes nearest, is it meant?" in sentence for sentence in problems(changed + "bed,1,2,4,,,,,\n")), heading


@every(
    "row, sentence",
    [
        ("bed,4,2,1,,,,,", "line 2: hours: low, likely and high must rise in this order; found 4 h, 2 h, 1 h."),
        ("bed,1,,4,,,,,", "line 2: hours has no likely figure; write it between low and high."),
        (",1,2,4,,,,,", "line 2: part is empty; it is needed."),
        ("bed,,,,,,,,", "line 2: hours is empty; it is needed."),
        ("bed,1,two,4,,,,,", "line 2: hours 'two' does not start with a number; write it as in '400 h'."),
        ("bed,-1,2,4,,,,,", "line 2: hours -1 must be at least zero."),
        ("bed,1,2,4,,,1.5,,", "line 2: chance 1.5 must be at most 1."),
        ("bed,1,2,4,,,,bougt,", "line 2: way is 'bougt'; did you mean bought?"),
        (
            "bed,1,2,4,,,,,,,more",
            "line 2: there are 11 cells where 9 were expected; a text with a comma in it must stand in quotation marks.",
        ),
        ('bed,1,2,4,"1,200",,,,', "line 2: money: '1,200' can be read in two ways; write 1200 or 1.2."),
    ],
)
def test_a_wrong_row_is_told_by_line(row, sentence):
    assert problems(HEAD + row + "\n") == [sentence]


def test_all_that_is_wrong_is_told_at_once_with_its_line():
    found = problems(HEAD + "bed,4,2,1,x1,,,,\n\nsaddle,1,2,4,,,7,,\nbed,1,2,3,,,,,\n")
    assert [sentence.split(":")[0] for sentence in found] == ["line 2", "line 2", "line 4", "line 5"]
    assert "bed stands on line 2 already" in found[-1]


def test_a_file_that_cannot_be_read_is_told(tmp_path):
    with pytest.raises(SheetProblem, match="cannot be read: .*gone"):
        read_sheet(tmp_path / "none.csv", SHEET)
    with pytest.raises(SheetProblem, match="it holds no row at all"):
        read_rows(b"", SHEET, "works.csv")
    with pytest.raises(SheetProblem, match="line 2: a quotation mark of this row is never closed"):
        read_rows(HEAD.encode() + b'"bed,1\n', SHEET, "works.csv")


# --- laying -----------------------------------------------------------------------------------------------
def test_what_is_laid_reads_back(tmp_path):
    row = {
        "part": "bed, plate",
        "hours": Range(1.25, 2, 4),
        "money": 1234.5,
        "stock_length": 0.65,
        "chance": 0.2,
        "way": "bought",
        "needs": "drilling 11 mm",
    }
    path = lay_sheet(tmp_path / "works.csv", SHEET, [row])
    assert read_sheet(path, SHEET).rows[0].values == row
    assert path.read_text(encoding="utf-8").startswith("# What it is for.\npart,hours low [h]")


def test_what_is_there_is_never_overwritten(tmp_path):
    path = tmp_path / "works.csv"
    path.write_bytes(b"mine")
    with pytest.raises(SheetProblem, match="was not laid: there is one already"):
        lay_sheet(path, SHEET, [])
    assert path.read_bytes() == b"mine"


def test_a_folder_that_is_not_there_is_told(tmp_path):
    with pytest.raises(SheetProblem, match="was not laid: there is no folder .*no; make it first"):
        lay_sheet(tmp_path / "no" / "works.csv", SHEET, [])
    assert not (tmp_path / "no").exists()
