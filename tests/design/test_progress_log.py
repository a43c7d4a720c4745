"""The log as a file: read as spreadsheets leave it, told line by line, and only ever added to."""

import datetime
from importlib.resources import files

import pytest
from cases import every

from lathe_course.design.demos import demo
from lathe_course.design.files.progress_log import LogBook, invented_log, log_path, read_log
from lathe_course.design.files.sheets import SheetProblem
from lathe_course.planning.log import ACCEPTED, HOURS, KINDS, MONEY
from lathe_course.units import InputProblem

KNOWN = ("bed", "spindle", "layout and sums")
HEAD = "date,what,amount,part,words\n"


def log(*lines, known=KNOWN, head=HEAD):
    return read_log((head + "\n".join(lines) + "\n").encode(), known)


def told(*lines, **more):
    found = log(*lines, **more)
    assert len(found.problems) == 1, found.problems
    return found.problems[0]


# --- reading ------------------------------------------------------------------------------------------
def test_a_plain_log_is_read():
    found = log(
        "2024-03-01,build begun,,,",
        "2024-03-02,hours,3,bed,scraped",
        "2024-03-03,Hours,90 min,Spindle,",
        "2024-03-04,money,12.50,,oil",
        "2024-03-05,part accepted,,bed,",
    )
    assert found.problems == () and [entry.amount for entry in found.entries] == [None, 3, 1.5, 12.5, None]
    assert found.entries[2].part == "spindle" and found.accepted.keys() == {"bed"}


def test_a_log_as_a_spreadsheet_leaves_it():
    raw = '\ufeffwords;part;amount;what;date\r\n;;;;\r\nslow;bed;2,5;hours;09.03.2024\r\n;bed;"1.234,5";money;13.3.2024\r\n# a remark\r\n'.encode()
    found = read_log(raw, KNOWN)
    assert found.problems == () and [(str(entry.date), entry.amount) for entry in found.entries] == [
        ("2024-03-09", 2.5),
        ("2024-03-13", 1234.5),
    ]


@pytest.mark.parametrize(
    "first, second, meant", [("3/13/2024", "3/9/2024", "2024-03-09"), ("13/3/2024", "9/3/2024", "2024-03-09")]
)
def test_dates_with_slashes_are_read_as_the_rest_of_the_file_shows(first, second, meant):
    found = log(f"{first},note,,,", f"{second},note,,,")
    assert str(found.begun) == meant


def test_the_lines_need_not_stand_in_order():
    found = log("2024-03-05,hours,1,bed,", "2024-03-01,build begun,,,", "2024-03-03,hours,2,bed,forgotten")
    assert [entry.date.day for entry in found.entries] == [1, 3, 5]


@every(
    "line, says",
    [
        ("2024-02-28,hours,3,bed,", "before the start of the build, 2024-03-01"),
        ("2034-03-09,hours,3,bed,", "more than two years after"),
        ("2024-03-09,hours,3,bad,", "no part or task called 'bad'"),
        ("2024-03-09,hors,3,bed,", "'hors' is nothing that the log knows"),
        ("2024-03-09,hours,,bed,", "needs its amount"),
        ("2024-03-09,hours,three,bed,", "three"),
        ('2024-03-09,money,"1,250",bed,', "can be read in two ways"),
        ("2024-03-09,hours,-3,bed,", "only 0 are booked"),
        ("3/9/2024,hours,3,bed,", "can be read in two ways"),
        ("2024-02-30,hours,3,bed,", "no such day"),
        ("soon,hours,3,bed,", "is no date"),
        ("2024-03-09,part accepted,,,", "needs its part"),
        ("2024-03-09,acceptance withdrawn,,bed,", "nothing to withdraw"),
        ("2024-03-09,build begun,,,", "began on line 2 already"),
        ("2024-03-09,move planned,-2,,", "amount -2"),
        ("2024-03-09,hours,0,bed,", "0 hours say nothing; write how long was worked, or a line “session missed”"),
        (
            "2024-03-09,delivered,,bed,",
            "was not on order by 2024-03-09, so nothing can have come; a line “ordered” with its day comes first. Is one of the two dates wrong?",
        ),
        ("2024-03-09,order cancelled,,bed,", "so nothing can be called off"),
        ("2024-03-09,ordered,40,,", "needs its part"),
        ("2024-03-09,ordered,-40,bed,", "amount -40"),
        ("2024-03-09,price asked,,bed,", "needs its amount"),
        ("2024-03-09,order of work,,,spindel; bed", "no part or task called 'spindel'"),
    ],
)
def test_a_line_that_cannot_be_is_told_with_its_number_and_left_out(line, says):
    said = told("2024-03-01,build begun,,,", line)
    assert "line 3: " in said and says in said and said[-1] in ".?"
    assert len(log("2024-03-01,build begun,,,", line)) == 1


# --- orders -------------------------------------------------------------------------------------------
WIDE = "date,what,amount,part,words,vendor,due,receipt\n"
BEGINS = "2024-03-01,build begun,,,,,,"


@every(
    "lines, says",
    [
        (
            ["2024-03-02,ordered,40,bed,,merchant,2024-03-20,", "2024-03-05,ordered,42,bed,,Merchant,2024-03-25,"],
            "line 4: “bed” is on order from Merchant already, since 2024-03-02; one order has one line",
        ),
        (
            ["2024-03-12,ordered,40,bed,,merchant,2024-03-20,", "2024-03-09,delivered,,bed,,,,"],
            "line 4: “bed” was not on order by 2024-03-09",
        ),
        (
            ["2024-03-12,ordered,40,bed,,merchant,2024-03-02,"],
            "line 3: it was ordered on 2024-03-12 and cannot be due before that, on 2024-03-02",
        ),
        (["2024-03-12,ordered,40,bed,,merchant,soon,"], "line 3: due: 'soon' is no date"),
        (
            ["2024-03-02,ordered,40,bed,,merchant,,", "2024-03-02,ordered,60,bed,,grinder,,", "2024-03-09,delivered,,bed,,,,"],
            "line 5: “bed” is on order from more than one vendor",
        ),
        (
            ["2024-03-02,ordered,40,bed,,merchant,,", "2024-03-09,delivered,,bed,,grinder,,"],
            "line 4: “bed” from grinder was not on order",
        ),
    ],
)
def test_lines_of_an_order_that_cannot_be_are_told_and_left_out(lines, says):
    assert says in told(BEGINS, *lines, head=WIDE) and len(log(BEGINS, *lines, head=WIDE)) == len(lines)


def test_an_order_called_off_may_be_given_again_and_a_second_vendor_is_another_order():
    found = log(
        BEGINS,
        "2024-03-02,ordered,40,bed,,merchant,,",
        "2024-03-03,order cancelled,,bed,,,,",
        "2024-03-04,ordered,42,bed,,merchant,,",
        "2024-03-05,ordered,90,bed,,grinder,2024-05-01,",
        head=WIDE,
    )
    assert found.problems == () and [(one.vendor, one.price) for one in found.orders] == [("merchant", 42), ("grinder", 90)]


def test_what_is_ordered_over_the_counter_may_be_due_the_same_day():
    found = log(BEGINS, "2024-03-02,ordered,40,bed,,merchant,2024-03-02,", head=WIDE)
    assert found.problems == () and found.orders[0].due == found.orders[0].ordered


def test_a_log_from_the_future_is_told_line_by_line_and_what_has_happened_counts():
    raw = (WIDE + BEGINS + "\n2024-03-09,hours,3,bed,,,,\n2031-03-10,hours,3,bed,,,,\n").encode()
    found = read_log(raw, KNOWN, today=datetime.date(2024, 4, 1))
    assert (
        len(found) == 2
        and len(found.problems) == 1
        and "line 4: 2031-03-10 is still to come, for today is 2024-04-01" in found.problems[0]
    )
    early = read_log(raw, KNOWN, today=datetime.date(2024, 2, 1))
    assert not early and len(early.problems) == 3 and early.months == 0


def test_today_is_the_day_that_is_given_and_without_one_that_of_the_last_line():
    raw = (HEAD + "2024-03-01,build begun,,,\n2024-04-01,hours,3,bed,\n").encode()
    assert str(read_log(raw, KNOWN).today) == "2024-04-01"
    asleep = read_log(raw, KNOWN, today=datetime.date(2024, 11, 1))
    assert (
        str(asleep.today) == "2024-11-01"
        and asleep.months == pytest.approx(8, abs=0.1)
        and str(asleep.until(2).today) == "2024-05-01"
    )


def test_a_receipt_that_is_not_there_is_told_and_its_line_counts(tmp_path):
    (tmp_path / "receipts").mkdir()
    (tmp_path / "receipts" / "bed.pdf").write_bytes(b"paid")
    lines = [
        f"2024-03-0{day},money,10,bed,,,,{name}"
        for day, name in enumerate(("receipts/bed.pdf", "lost.pdf", "../bed.pdf", "/etc/hostname"), 2)
    ]
    found = read_log((WIDE + "\n".join([BEGINS, *lines]) + "\n").encode(), KNOWN, folder=tmp_path)
    assert found.problems == () and found.total(MONEY) == 40 and len(found.remarks) == 3
    assert (
        "line 4: the receipt 'lost.pdf' does not lie beside the log; put the file there, or write the name it has."
        in found.remarks[0]
    )


def test_a_line_whose_receipt_is_not_there_is_not_written(book):
    book.append("2024-03-01", "build begun")
    held = book.path.read_bytes()
    with pytest.raises(InputProblem, match="the receipt 'bed.pdf' does not lie beside the log"):
        book.append("2024-03-02", MONEY, "10", "bed", receipt="bed.pdf")
    assert book.path.read_bytes() == held
    book.path.with_name("bed.pdf").write_bytes(b"paid")
    assert book.append("2024-03-02", MONEY, "10", "bed", receipt="bed.pdf").entries[-1].receipt == "bed.pdf"


def test_an_older_log_without_columns_for_orders_says_which_headings_it_needs(book):
    book.path.write_bytes(HEAD.encode() + b"2024-03-01,build begun,,,\n")
    with pytest.raises(
        InputProblem,
        match="no column 'vendor' or 'due', so that would be lost; in a spreadsheet write 'vendor' and 'due' at the end of its line of headings first",
    ):
        book.append("2024-03-02", "ordered", "40", "bed", vendor="merchant", due="2024-04-01")
    assert book.append("2024-03-02", "ordered", "40", "bed").orders[0].price == 40
    book.path.write_bytes(book.path.read_bytes().replace(HEAD.encode(), WIDE.encode()))
    found = book.append("2024-03-03", "ordered", "90", "spindle", vendor="turner", due="2024-04-01")
    assert [(one.part, str(one.due)) for one in found.orders] == [("bed", "None"), ("spindle", "2024-04-01")]


def test_what_is_accepted_twice_counts_once():
    said = told("2024-03-01,part accepted,,bed,", "2024-03-09,part accepted,,bed,")
    assert "accepted already, on 2024-03-01" in said and "acceptance withdrawn" in said


def test_a_slip_of_the_year_is_left_out_and_a_long_silence_can_be_told():
    lines = ["2024-03-01,build begun,,,", "2026-06-01,hours,3,bed,"]
    assert len(log(*lines)) == 1 and len(log(*lines, "2025-05-01,note,,,abroad")) == 3


def test_a_file_without_a_column_of_dates_is_told():
    with pytest.raises(SheetProblem, match="no column 'date'.*'day'"):
        log("2024-03-01,hours,3,bed,", head="day,what,amount,part,words\n")


def test_nothing_at_all_is_an_empty_log():
    assert not read_log(b"", KNOWN) and not read_log(b"\n\n", KNOWN) and not log()


@pytest.mark.parametrize("name, months", [("boat_shed", 14), ("cabin", 9)])
def test_an_invented_log_says_so_and_is_whole(name, months):
    found, names = invented_log(name), demo(name).building.names
    assert found.problems == () and {entry.part for entry in found.entries} - {""} <= set(names)
    assert months - 0.5 < found.months < months + 0.5
    assert (
        files("lathe_course.design.demos").joinpath(f"{name}.log.csv").read_text("utf-8").startswith("# Invented for this course")
    )


# --- adding -------------------------------------------------------------------------------------------
@pytest.fixture
def book(tmp_path):
    return LogBook(log_path(tmp_path / "design.toml"), KNOWN)


def test_the_first_line_lays_the_file(book):
    found = book.append("2024-03-01", "build begun")
    text = book.path.read_text(encoding="utf-8")
    assert (
        book.path.name == "design.log.csv"
        and text.splitlines()[-2:] == ["date,what,amount,part,words,vendor,due,receipt", "2024-03-01,build begun,,,,,,"]
        and len(found) == 1
    )


STARTS = {
    "plain": HEAD.encode() + b"2024-03-01,build begun,,,\n",
    "no line end": HEAD.encode() + b"2024-03-01,build begun,,,",
    "as a spreadsheet leaves it": "\ufeffsep=;\r\nwhat;date;part;amount [h];my own;Words\r\nbuild begun;01.03.2024;;;x;\r\nhours;02.03.2024;bed;2,5;;\r\n".encode(),
    "an old code page": "date;what;amount;part;words\r\n2024-03-01;note;;;schön\r\n".encode("cp1252"),
    "with a broken line": HEAD.encode() + b"2024-03-01,build begun,,,\n2024-03-02,hours,3,nothing,\n",
}


@pytest.mark.parametrize("start", STARTS.values(), ids=STARTS)
def test_what_stands_in_the_log_stands_there_still_byte_for_byte(book, start):
    book.path.write_bytes(start)
    before = len(book.read())
    for number, line in enumerate(
        (
            ("2024-03-09", HOURS, "2.5 h", "bed", "slow, but “good”"),
            ("2024-03-10", ACCEPTED, "", "bed"),
            ("2024-03-11", HOURS, "-1", "bed"),
            ("2024-03-12", MONEY, "7.25", "", "oil"),
        ),
        1,
    ):
        held = book.path.read_bytes()
        found = book.append(*line)
        assert book.path.read_bytes().startswith(held) and book.path.read_bytes().startswith(start)
        assert len(found) == before + number
    assert (
        found.entries[-4].amount == 2.5 and found.entries[-1].amount == 7.25 and found.entries[-4].words.startswith("slow, but")
    )


@pytest.mark.parametrize(
    "line, says",
    [
        (("2024-02-01", HOURS, "3", "bed"), "before the start"),
        (("2024-03-09", HOURS, "3", "bad"), "no part or task"),
        (("2024-03-09", ACCEPTED, "", "spindle"), "accepted already"),
        (("2024-05-01", HOURS, "3", "bed"), "still to come"),
        (("2024-03-09", "dance"), "nothing that the log knows"),
    ],
)
def test_a_line_that_cannot_be_is_refused_and_nothing_is_written(book, line, says):
    book.append("2024-03-01", "build begun")
    book.append("2024-03-02", ACCEPTED, "", "spindle")
    held = book.path.read_bytes()
    with pytest.raises(InputProblem, match=says):
        book.append(*line, latest=datetime.date(2024, 4, 1))
    assert book.path.read_bytes() == held


def test_nothing_is_lost_for_want_of_a_column(book):
    book.path.write_bytes(b"date,what,amount,part\n2024-03-01,build begun,,\n")
    with pytest.raises(InputProblem, match="no column 'words'"):
        book.append("2024-03-09", HOURS, "3", "bed", "slow")
    assert len(book.append("2024-03-09", HOURS, "3", "bed")) == 2


def test_sixteen_bit_letters_are_read_but_not_added_to(book):
    book.path.write_bytes((HEAD + "2024-03-01,build begun,,,\n").encode("utf-16"))
    held = book.path.read_bytes()
    with pytest.raises(InputProblem, match="16-bit"):
        book.append("2024-03-09", HOURS, "3", "bed")
    assert book.path.read_bytes() == held and len(book.read()) == 1


def test_a_log_that_may_not_be_written_is_told(book):
    book.path.mkdir()
    with pytest.raises(InputProblem):
        book.append("2024-03-01", "build begun")


def test_without_a_folder_the_log_lives_in_memory():
    book = LogBook(None, KNOWN)
    book.append("2024-03-01", "build begun")
    assert len(book.append("2024-03-02", HOURS, "3", "bed")) == 2


def test_every_kind_of_line_can_be_added():
    book = LogBook(None, KNOWN)
    for what in KINDS:
        if what in ("delivered", "order cancelled"):
            book.append("2024-03-01", "ordered", "", "spindle") if what != "delivered" else None
        of = "spindle" if "order" in what or what == "delivered" else "bed" if "accept" in what or what == "price asked" else ""
        book.append(
            "2024-03-01",
            what,
            "3" if what in (HOURS, MONEY, "price asked", "move planned") else "",
            "" if what == "order of work" else of,
            "spindle; bed" if what == "order of work" else "",
        )
    assert {entry.what for entry in book.read().entries} == set(KINDS)
