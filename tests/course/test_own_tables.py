"""The learner's own tables: laid beside the design, read again after an edit, told by line where they are broken."""

import csv
import io

import pytest
from tiers import short_of

from lathe_course.command import main
from lathe_course.course.chapter import open_chapter
from lathe_course.course.folder.workspace import prepare
from lathe_course.course.pages.own_tables import OwnTables
from lathe_course.course.session import Session
from lathe_course.design.asked.mixes import mixes_here
from lathe_course.design.asked.ways_told import ways_told
from lathe_course.design.files.build_files import SHEETS, sheet_path
from lathe_course.planning.parts import BUY
from lathe_course.units import InputProblem


def edited(design_file, name, old, new):
    path = sheet_path(design_file, name)
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")


def test_without_a_folder_there_is_nowhere_to_lay_them(nowhere):
    panel = OwnTables(Session())
    panel.lay.click()
    assert "no working folder" in panel.reply.value and list(nowhere.iterdir()) == []
    assert "the course's, 3 rows" not in panel.page().plain and "the course's" in panel.page().plain


def test_laid_tables_change_nothing_until_they_are_edited(design_file):
    session = Session()
    before = session.evaluation
    laid = session.lay_lists()
    assert [path.name for path in laid] == [f"design.{name}.csv" for name in SHEETS]
    after = session.evaluation
    assert session.lists.own == tuple(SHEETS) and not session.lists_trouble
    for name in ("own_hours", "cash_total", "months_to_finish", "parts_mass"):
        assert after[name] == pytest.approx(before[name], rel=1e-4), name
    assert [one.way.name for one in after["ways_chosen"]] == [one.way.name for one in before["ways_chosen"]]


def test_nothing_is_laid_twice_or_over_what_is_there(design_file):
    session = Session()
    session.lay_lists("prices")
    edited(design_file, "prices", "outside,1,1,1", "outside,1,2,3")
    kept = sheet_path(design_file, "prices").read_bytes()
    assert {path.name for path in session.lay_lists()} == {f"design.{name}.csv" for name in SHEETS if name != "prices"}
    assert sheet_path(design_file, "prices").read_bytes() == kept
    with pytest.raises(InputProblem, match="all of them lie beside design.toml already"):
        session.lay_lists()
    with pytest.raises(InputProblem, match="there( is one)? already, and never overwritten"):
        session.lay_lists("prices")
    with pytest.raises(InputProblem, match="no table called 'prizes'"):
        session.lay_lists("prizes")
    said = prepare(design_file.parent).sentences()  # a new start of the course names them and leaves them alone
    assert said[-1].startswith("Your own tables are used: design.parts.csv, ")
    assert sheet_path(design_file, "prices").read_bytes() == kept


def test_an_edit_in_a_spreadsheet_is_read_again_and_moves_the_sums(design_file):
    session = Session()
    told = []
    session.when_changed(lambda: told.append(session.design))
    session.lay_lists("ways", "prices")
    before = session.evaluation["cash_total"]
    path = sheet_path(design_file, "prices")
    path.write_bytes(
        "\ufeffwhat;factor low;factor likely;factor high;remark\r\n\r\nmaterial;1,1;1,2;1,3;asked around\r\n".encode()
    )
    session.read_lists_again()
    assert not session.lists_trouble and session.evaluation["material_local"] == pytest.approx(1.2)
    assert session.evaluation["cash_total"] > 1.1 * before and len(told) == 2
    session.keep("the hinges are here already", centre_height="80 mm")
    assert session.evaluation["material_local"] == pytest.approx(1.2), "a kept decision leaves the tables in force"
    assert Session().evaluation["cash_total"] == pytest.approx(session.evaluation["cash_total"]), (
        "a chapter opened later reads them as well"
    )


def test_one_price_in_the_table_of_ways_moves_what_follows_from_it(design_file):
    """A way that is chosen costs 100 more: so much more is paid, the money comes together later, and the best mixes know it."""
    session = Session()
    session.lay_lists("ways")
    before = session.evaluation
    least = mixes_here(before)["least money"]
    way = next(one.way for one in before["ways_chosen"] if one.way.how == BUY and least.hows[one.way.part] == BUY)
    path = sheet_path(design_file, "ways")
    comments, rows = [], []
    for line in path.read_text(encoding="utf-8").splitlines():
        (comments if line.startswith("#") else rows).append(line)
    rows = list(csv.reader(rows))
    row = next(row for row in rows if row[:2] == [way.part, BUY])
    for place in (rows[0].index(f"material {end} [EUR]") for end in ("low", "likely", "high")):
        row[place] = f"{float(row[place]) + 100:g}"
    text = io.StringIO()
    csv.writer(text).writerows(rows)
    path.write_text("\n".join(comments) + "\n" + text.getvalue(), encoding="utf-8")
    session.read_lists_again()
    after = session.evaluation
    assert not session.lists_trouble and after["cash_total"] == pytest.approx(
        before["cash_total"] + 100 * before["price_level"], abs=0.5
    )
    assert after["months_of_money"] > before["months_of_money"] and after["money_needed"] > before["money_needed"] + 99
    assert least.money < mixes_here(after)["least money"].money <= least.money + 100.5 * before["price_level"]


def test_a_part_of_ones_own_is_built(design_file):
    session = Session()
    session.lay_lists("parts", "ways")
    edited(
        design_file,
        "parts",
        "\nchuck backplate,",
        "\nlamp,guards,guards,1,bought,,0.4,0.4,,electrics,,,,0,75,300,mine\nchuck backplate,",
    )
    edited(design_file, "ways", "chip tray,bought", "lamp,bought,0.5,1,2,10,20,30,0,0,0,0,1,2,1,1,2,,0,,mine\nchip tray,bought")
    parts = len(session.evaluation["parts_list"])
    session.read_lists_again()
    e = session.evaluation
    assert len(e["parts_list"]) == parts + 1 and e["parts_stuck"] == 0 and e["parts_list"]["lamp"].way(BUY).hours.likely == 1
    session.change(lambda design: design.with_ways(lamp=BUY))
    assert 'lamp = "bought"' in design_file.read_text(encoding="utf-8") and not Session().trouble


#: a table, what is written in place of what, and what is said of it
BROKEN = [
    ("ways", "part,way", "part,ways", "line 7: there is no column 'way'; 'ways' comes nearest, is it meant?"),
    ("ways", "chip tray,bought,0.5,1,2", "chip tray,bought,3,1,2", "hours: low, likely and high must rise in this order"),
    ("ways", "chip tray,bought,0.5,1,2", "chip tray,bought,,,", "hours is empty; it is needed"),
    (
        "parts",
        ",,turning in the chuck,,bed_form = filled box|closed box|*on a box,1",
        ",headstock body,turning in the chuck,,,1",
        "wait for each other in a circle: ",
    ),
    ("tasks", "layout and sums,purpose and specification,", "layout and sums,spindle,", "wait for each other in a circle: "),
    ("parts", "turning in the chuck,,bed_form =", "turning in the chuck,,bed_shape =", "'bed_shape' is no choice of a design; "),
    ("machines", "drilling 16 mm", "driling 16 mm", "line 8: 'driling' is no operation known here"),
]


@pytest.mark.parametrize("broken", short_of(BROKEN, BROKEN[0], BROKEN[4], BROKEN[6]))
def test_a_broken_table_is_told_by_line_and_the_last_good_lists_serve(design_file, broken):
    name, old, new, said = broken
    session = Session()
    session.lay_lists("parts", "ways", "machines", "prices", "tasks")
    edited(design_file, "prices", "material,1,1,1", "material,1,1.5,2")
    session.read_lists_again()
    good = session.evaluation["cash_total"]
    edited(design_file, name, old, new)
    panel = OwnTables(session)
    panel.read.click()
    assert said in session.lists_trouble and f"design.{name}.csv" in session.lists_trouble
    assert "as they were last read" in panel.reply.value and session.evaluation["cash_total"] == good
    fresh = Session()
    assert "the course's own" in fresh.lists_trouble and fresh.evaluation["material_local"] == 1, (
        "opened anew there is no last good one"
    )
    assert said.split(";")[0] in repr(open_chapter("10"))
    edited(design_file, name, new, old)
    panel.read.click()
    assert not session.lists_trouble and session.evaluation["cash_total"] == good


def test_a_part_no_way_can_make_is_a_finding_and_no_stop(design_file):
    session = Session()
    session.lay_lists("machines")
    path = sheet_path(design_file, "machines")
    path.write_text("machine;whose;can\nhand drill;own;drilling 6,5 mm\n", encoding="utf-8")
    session.read_lists_again()
    assert not session.lists_trouble and session.evaluation["parts_stuck"] > 0
    assert session.evaluation.findings["every_part_can_be_had"].status == "fails"
    assert any("the nearest is your hand drill with 6.5 mm" in said for said in ways_told(session.evaluation).told())


def test_a_table_without_rows_is_told(design_file):
    sheet_path(design_file, "parts").write_text(
        "part,group,task,after,first needed,only if,centre height [mm],between centres [mm]\n", encoding="utf-8"
    )
    assert "design.parts.csv holds no row below its headings" in Session().lists_trouble


def test_the_command_reads_them_too(design_file, capsys):
    Session().lay_lists("prices")
    edited(design_file, "prices", "outside,1,1,1", "outside,3,2,1")
    assert main(["findings", str(design_file)]) != 0
    assert "low, likely and high must rise" in "".join(capsys.readouterr())
