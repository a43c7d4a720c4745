"""CSV as spreadsheets of any country leave it."""

import pytest
from cases import every
from hypothesis import given, settings
from hypothesis.strategies import characters, just, lists, text, tuples

from lathe_course.design.files.csv_text import Unreadable, decode, figure, write

PLAIN = b"part,hours\nbed,12.5\n"
GERMAN = "part;hours\nbed;12,5\n"


@every(
    "raw",
    [
        PLAIN,
        b"\xef\xbb\xbf" + PLAIN,
        GERMAN.encode(),
        ("\ufeff" + GERMAN).encode(),
        GERMAN.encode("utf-16"),
        GERMAN.replace("\n", "\r\n").encode(),
        GERMAN.replace("\n", "\r").encode(),
        GERMAN.replace(";", "\t").encode(),
        b"sep=;\n" + GERMAN.encode(),
        b'"sep=;"\n' + GERMAN.encode(),
        b"\n\n# a remark; with, signs\npart,hours\n\n,\n;;\nbed,12.5\n,,\n".replace(b";;\n", b""),
        b'"part" ,"hours"\n bed , 12.5 \n',
    ],
)
def test_one_table_in_many_dresses(raw):
    text = decode(raw)
    assert text.headings == ("part", "hours")
    ((_, cells),) = text.rows
    assert cells[0] == "bed" and figure(cells[1], text.decimal_comma) == 12.5


@pytest.mark.parametrize("cell", ["12,5", "-12,5", "+12,5", "-0,5"])
def test_one_figure_with_a_comma_tells_that_all_have_one(cell):
    """In a table parted by semicolons, whatever the sign of the one figure that shows it."""
    text = decode(f"what;by;of\nshift;{cell};3\n".encode())
    assert text.decimal_comma and figure(text.rows[0][1][1], text.decimal_comma) == float(cell.replace(",", "."))
    assert not decode(b"what;by\nshift;-12.5\n").decimal_comma


def test_lines_are_those_of_the_file():
    text = decode(b'# a remark\n\npart,hours\n\nbed,1\n"a long\nname",2\n# another\nspindle,3\n')
    assert text.heading_line == 3 and [line for line, _ in text.rows] == [5, 6, 9]
    assert text.rows[1][1][0] == "a long\nname"


def test_a_semicolon_inside_a_quoted_heading_parts_nothing():
    assert decode(b'part,"hours; mine",money\na,1,2\n').headings == ("part", "hours; mine", "money")


def test_letters_of_an_old_code_page_are_read_and_told():
    text = decode("part;remark\nBett;größer\n".encode("cp1252"))
    assert text.rows[0][1] == ("Bett", "größer") and "not UTF-8" in text.remarks[0]


@pytest.mark.parametrize("raw", [b"", b"\n\n", b"# only a remark\n", b";;;\n,,\n", b"\xef\xbb\xbf"])
def test_a_file_without_a_row_is_told(raw):
    with pytest.raises(Unreadable, match="no row at all"):
        decode(raw)


def test_a_quotation_mark_that_is_never_closed_is_told_by_line():
    with pytest.raises(Unreadable, match="line 3: a quotation mark of this row is never closed"):
        decode(b'part,hours\nbed,1\n"saddle,2\nspindle,3\n')


def test_a_mark_that_swallows_a_whole_long_file_is_told_as_well():
    long = b"part,hours\n" + b'"saddle,2\n' + b"spindle,3\n" * 20_000
    with pytest.raises(Unreadable, match="line 2: a quotation mark of this row is never closed"):
        decode(long)
    with pytest.raises(Unreadable, match="line 2: a quotation mark"):
        decode(long.replace(b"part,", b'"part" ,'))


def test_a_file_that_is_no_table_at_all_ends_in_a_sentence():
    for raw in (bytes(range(256)), b"\x00" * 500, b"PK\x03\x04" + bytes(range(255)) * 40):
        try:
            decode(raw)
        except Unreadable as problem:
            assert str(problem)


@every(
    "cell, comma, value",
    [
        ("12.5", False, 12.5),
        ("12,5", False, 12.5),
        ("12,5", True, 12.5),
        ("0,125", True, 0.125),
        ("0.125", False, 0.125),
        ("-3", False, -3),
        ("−3,5", True, -3.5),
        ("1.234,5", True, 1234.5),
        ("1,234.5", False, 1234.5),
        ("1 234,5", True, 1234.5),
        ("1\u00a0234", False, 1234),
        ("1'234", False, 1234),
        ("1,234,567", False, 1234567),
        ("1.234.567", True, 1234567),
        ("1.200", False, 1.2),
        ("1,200", True, 1.2),
        ("2e3", False, 2000),
        (".5", False, 0.5),
    ],
)
def test_figures_of_many_countries(cell, comma, value):
    assert figure(cell, comma) == pytest.approx(value)


@pytest.mark.parametrize(
    ("cell", "comma", "words"),
    [
        ("1,200", False, "write 1200 or 1.2"),
        ("1.200", True, "write 1200 or 1.2"),
        ("12 mm", False, "not a figure"),
        ("", False, "not a figure"),
        ("1,2,3", False, "not a figure"),
        ("nan", False, "not a figure"),
        ("=A1*2", False, "not a figure"),
        ("#REF!", False, "not a figure"),
    ],
)
def test_what_is_no_figure_or_two_is_told(cell, comma, words):
    with pytest.raises(Unreadable, match=words):
        figure(cell, comma)


def test_what_is_written_reads_back():
    rows = [["bed, plate", '12"', "größer"], ["a;b", "", "line\nbreak"]]
    raw = write(["part", "size", "remark"], rows, ["A remark, with a comma."])
    assert raw.startswith(b"# A remark") and b"\r" not in raw
    text = decode(raw)
    assert [list(cells) for _, cells in text.rows] == rows and text.delimiter == ","


_CELL = text(characters(codec="utf-8", exclude_categories=("Cs",), exclude_characters="\r"), max_size=12).map(str.strip)


@settings(max_examples=150, deadline=None, derandomize=True)
@given(rows=lists(tuples(_CELL, _CELL, _CELL).filter(any), max_size=6), remarks=lists(just("A remark; with, signs"), max_size=2))
def test_whatever_is_written_reads_back(rows, remarks):
    found = decode(write(["part", "size", "remark"], rows, remarks))
    assert [cells for _, cells in found.rows] == rows and found.headings == ("part", "size", "remark")


def test_a_remark_that_a_spreadsheet_quoted_is_one_above_and_below_the_headings():
    rows = decode(b'"# told, at length",,\npart,size,remark\nbed,1,\n"# of these, two are lent",,\n"#3 taper",,"# mine"\n').rows
    assert [cells for _, cells in rows] == [("bed", "1", ""), ("#3 taper", "", "# mine")]


def test_a_text_that_begins_as_a_remark_does_survives_a_spreadsheet_that_takes_its_quotes_off():
    raw = write(["part", "size"], [("#3 taper", "")])
    assert b'"' not in raw and decode(raw).rows[0][1] == ("#3 taper", "")


def test_a_remark_sign_inside_a_text_is_part_of_it():
    rows = [("#3 taper", "", "first\n# second"), ("bed", "", "")]
    found = decode(write(["part", "size", "remark"], rows, ["told"]))
    assert [cells for _, cells in found.rows] == rows
