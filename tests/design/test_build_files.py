"""The tables of a build beside its design file: the course's own where there are none, the learner's where there are."""

import csv
import io
from dataclasses import replace

import pytest

from lathe_course.design.files.build_files import SHEETS, lay_tables, read_tables, sheet_path
from lathe_course.design.files.sheets import SheetProblem
from lathe_course.planning.capabilities import read_needs
from lathe_course.planning.costs import Prices
from lathe_course.planning.feasible import feasible
from lathe_course.planning.parts import BUY, course_parts
from lathe_course.planning.scaling import scaled
from lathe_course.planning.shops import demo_machines
from lathe_course.ranges import Range
from lathe_course.units import InputProblem

COURSE = read_tables()
CHOICES = {
    "bed_form": "plate",
    "bearing_kind": "plain bronze",
    "drive_kind": "single-phase motor",
    "top_of_slide": "topslide",
    "threading": "no",
    "countershaft": "yes",
    "back_gear": "no",
    "feed_drive": "by hand",
    "nose_kind": "thread",
    "toolpost_kind": "four-way block",
    "stop_gear": "emergency stop that brakes first",
    "chuck_guard": "shield locked until it stands",
    "controller_box": "bare beside the lathe",
    "leakage_device": "not asked yet",
    "coolant": "oil by brush",
    "parting_from": "in front",
    "dividing": "paper strip",
    "collets": "none",
    "hand_rest": "none",
}
WAY = "part,way,hours low,hours likely,hours high,material likely,needs\n"


@pytest.fixture
def design(tmp_path):
    return tmp_path / "lathe.toml"


def lay(design, name, text):
    sheet_path(design, name).write_text(text, encoding="utf-8")


def told(design):
    with pytest.raises(InputProblem) as caught:
        read_tables(design)
    return [sentence for _, sentence in caught.value.problems]


def edited(design, name, old, new):
    """Lay the course's own sheet with one change in it, as a learner would make it."""
    (path,) = lay_tables(design, COURSE, [name])
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")


def test_without_sheets_the_course_has_its_way(design):
    found = read_tables(design, demo="cabin")
    assert (
        found.parts is course_parts()
        and found.machines == demo_machines("cabin")
        and found.own == ()
        and found.prices == Prices()
    )
    assert found.shop.capabilities


def test_what_is_laid_comes_back_word_for_word(design):
    paths = lay_tables(design, COURSE)
    assert [path.name for path in paths] == [f"lathe.{name}.csv" for name in SHEETS]
    found = read_tables(design)
    assert found.own == tuple(SHEETS) and found.remarks == ()
    for name in ("parts", "machines", "equipment", "tasks", "prices"):
        assert getattr(found, name) == getattr(COURSE, name), name


def test_sheets_are_never_overwritten_and_none_is_laid_if_one_is_there(design):
    lay_tables(design, COURSE, ["ways"])
    before = sheet_path(design, "ways").read_bytes()
    with pytest.raises(SheetProblem, match=r"lathe.ways.csv: there already, and never overwritten"):
        lay_tables(design, COURSE)
    assert sheet_path(design, "ways").read_bytes() == before and not sheet_path(design, "parts").exists()


def test_a_price_an_hour_and_a_machine_of_ones_own(design):
    edited(design, "ways", "chip tray,bought,0.5,1,2,", "chip tray,bought,0.5,1,3,")
    lay(design, "machines", "machine;whose;can\nmy drill;own;drilling 13,5 mm\n")
    lay(design, "prices", "what,factor low,factor likely,factor high\noutside,1,1.25,1.5\n")
    found = read_tables(design)
    assert found.parts["chip tray"].way(BUY).hours == Range(0.5, 1, 3)
    assert found.shop.capabilities[0].size == pytest.approx((0.0135,))
    assert found.prices.outside == Range(1, 1.25, 1.5) and found.prices.material == Range(1, 1, 1)


def test_a_part_of_ones_own_with_its_way(design):
    edited(
        design,
        "parts",
        "\nchuck backplate,",
        "\nlamp,guards,guards,1,bought,,0.4,0.4,,electrics,,,,0,75,300,mine\nchuck backplate,",
    )
    edited(
        design,
        "ways",
        "chip tray,bought",
        "lamp,bought,0.5,1,2,10,20,30,0,0,0,0,1,2,1,1,2,drilling 5 mm,0,,mine\nchip tray,bought",
    )
    lamp = read_tables(design).parts["lamp"]
    assert (
        lamp.after == ("electrics",)
        and lamp.way(BUY).money == Range(10, 21, 32)
        and lamp.way(BUY).needs == read_needs("drilling 5 mm")
    )


def test_a_sheet_out_of_a_spreadsheet_of_another_country_reads_alike(design):
    lay_tables(design, COURSE)
    for name in SHEETS:
        path = sheet_path(design, name)
        lines = path.read_text(encoding="utf-8").splitlines()
        cells = list(csv.reader(line for line in lines if not line.startswith("#")))
        numeric = {
            place for place, heading in enumerate(cells[0]) if "[" in heading or heading.split()[-1] in ("low", "likely", "high")
        }
        turned = [[cell.replace(".", ",") if place in numeric else cell for place, cell in enumerate(row)] for row in cells[1:]]
        text = io.StringIO()
        csv.writer(text, delimiter=";", lineterminator="\r\n").writerows(
            [list(reversed(row)) for row in [cells[0], *turned]] + [[""] * len(cells[0])]
        )
        path.write_bytes(("\ufeff" + text.getvalue()).encode())
    found = read_tables(design)
    assert found.parts == COURSE.parts and found.equipment == COURSE.equipment and found.machines == COURSE.machines


# --- what is told -------------------------------------------------------------------------------------------
def test_faults_in_several_sheets_are_told_together(design):
    lay(design, "prices", "what,factor low,factor likely,factor high\noutsde,1,1,1\n")
    lay(design, "machines", "machine,whose,can\ndrill,own,drillng 13 mm\n")
    lay(design, "ways", WAY + "bed plate,make it here,3,2,1,10,\n")
    found = told(design)
    assert found == [
        "lathe.ways.csv, line 2: hours: low, likely and high must rise in this order; found 3 h, 2 h, 1 h.",
        "lathe.prices.csv, line 2: what is 'outsde'; did you mean outside?",
    ]
    lay(design, "prices", "what,factor low,factor likely,factor high\noutside,1,1,1\n")
    lay(design, "ways", WAY + "bed plate,make it here,1,2,3,10,miling 3 mm\n")
    found = told(design)
    assert any(sentence.startswith("lathe.ways.csv, line 2: 'miling' is no operation") for sentence in found)
    assert any(sentence.startswith("lathe.machines.csv, line 2: 'drillng' is no operation") for sentence in found)


@pytest.mark.parametrize(
    ("name", "old", "new", "meant"),
    [
        ("ways", ",needs,", ",operations,", "needs"),
        ("parts", ",after,", ",behind,", "after"),
        ("tasks", ",after,", ",behind,", "after"),
        ("parts", ",only if,", ",if,", "only if"),
        ("tasks", ",opens,", ",open,", "opens"),
        ("machines", ",brings,", ",bring,", "brings"),
    ],
)
def test_a_heading_that_was_changed_does_not_open_every_way_or_lose_the_order(design, name, old, new, meant):
    edited(design, name, old, new)
    (said,) = told(design)
    assert (
        said.startswith(f"lathe.{name}.csv, line ")
        and f"there is no column {meant!r}; " in said
        and ("is it meant?" in said or "the heading must stand there" in said)
    )


def test_a_way_for_a_part_that_is_not_there_and_a_part_without_a_way(design):
    lay(design, "ways", WAY + "bed plat,make it here,1,2,3,10,\n")
    found = told(design)
    assert found[0] == "lathe.ways.csv, line 2: there is no part called 'bed plat' in the table of parts."
    assert any("there is no way to get the bed plate" in sentence for sentence in found)


def test_a_circle_of_parts_is_told(design):
    edited(
        design,
        "parts",
        ",,turning in the chuck,,bed_form = filled box|closed box|*on a box,1",
        ",headstock body,turning in the chuck,,,1",
    )
    (said,) = told(design)
    assert (
        said.startswith("lathe.parts.csv: ")
        and "in a circle" in said
        and "“bed box” waits for “headstock body”" in said
        and "spindle" not in said
    )


def test_a_task_that_is_not_there_and_a_part_that_comes_after_nothing_known(design):
    edited(design, "parts", "spindle,headstock,spindle", "spindle,headstock,spindel")
    assert "belongs to the task 'spindel', which is no task; did you mean spindle" in told(design)[0]
    sheet_path(design, "parts").unlink()
    edited(design, "parts", "headstock body + spindle,turning with", "headstock bodi + spindle,turning with")
    (said,) = told(design)
    assert (
        said.startswith("lathe.parts.csv, line ")
        and "comes after 'tailstock feet'" not in said
        and "'headstock bodi', which is no part" in said
    )


def test_a_list_of_ones_own_can_be_built_with(design):
    lay_tables(design, COURSE)
    found = read_tables(design)
    chosen = found.parts.for_design(CHOICES)
    assert not feasible(chosen, found.shop, {}).of("spindle bushes")[0].open


#: sizes of a larger lathe; what else drives parts stays as in the list but for the spindle
LARGER = {"centre_height": 0.11, "between_centres": 0.5, "spindle_diameter": 0.05, "spindle_blank": 1.5e-3}


def test_the_list_of_one_design_at_its_own_size_can_be_laid(design):
    """Figures to six digits, as they stand in the file; nothing comes after a part that is not in the list."""
    chosen = scaled(course_parts().for_design({**CHOICES, "bed_form": "closed box", "threading": "no"}), LARGER)
    lay_tables(design, replace(COURSE, parts=chosen), ["parts", "ways"])
    found = read_tables(design).parts
    assert found.after == chosen.after and len(found) == len(chosen) < len(course_parts())
    for one, other in zip(found, chosen, strict=True):
        assert (one.centre_height, one.between_centres) == pytest.approx((0.11, 0.5))
        assert one.stock_mass == pytest.approx(other.stock_mass, rel=1e-5)
        for way, same in zip(one.ways, other.ways, strict=True):
            assert way.hours == pytest.approx(same.hours, rel=1e-5) and way.money == pytest.approx(same.money, rel=1e-5, abs=1e-5)
            assert [need.operation for need in way.needs] == [need.operation for need in same.needs]
    for one, other in zip(scaled(found, LARGER), found, strict=True):
        assert dict(one.references) == pytest.approx(dict(other.references), rel=1e-12)  # the last digit belongs to the rounding
        assert replace(one, references=other.references) == other
