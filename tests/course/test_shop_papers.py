"""Papers for the shop: stock at the size of the design, weighed by geometry against the chain; sheets, orders, ticks and days told from design and log."""

import re
import subprocess
import sys
from dataclasses import replace
from datetime import date
from html.parser import HTMLParser

import numpy as np
import pytest
from cases import every

from lathe_course.command import main
from lathe_course.course.chapter import open_chapter
from lathe_course.course.pages.progress_log import ShopPapers
from lathe_course.course.printed.shop_papers import SHOP_PAPERS, falls_in, shop_papers_html
from lathe_course.course.session import Session
from lathe_course.design.asked.shop_list import OWN_STOCK, pieces_at_size, stock_to_buy
from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.evaluation import evaluate
from lathe_course.design.files.build_files import sheet_path
from lathe_course.design.files.progress_log import invented_log
from lathe_course.planning.log import ACCEPTED, BEGUN, MONEY, ORDERED, Entry, Log
from lathe_course.planning.stock import volume

BOAT, DAY = demo("boat_shed"), date(2026, 3, 30)
#: kg/m³, handbook figures recalled from memory
DENSITY = {"steel": 7850, "cast iron": 7200, "aluminium": 2700, "bronze": 8800, "brass": 8500}


class Read(HTMLParser):
    def __init__(self, page):
        super().__init__()
        self.tags, self.words = [], []
        self.feed(page)

    def handle_starttag(self, tag, attributes):
        self.tags.append((tag, dict(attributes)))

    def handle_data(self, data):
        self.words.append(data)


def words(design, day=DAY):
    return " ".join(" ".join(Read(shop_papers_html(design, day)).words).split()).replace("\u00a0", " ")


def pieces(design, part):
    e = evaluate(design)
    return pieces_at_size(e, e["parts_list"][part])


# --- stock -------------------------------------------------------------------------------------------------
@pytest.mark.parametrize("name", DEMOS)
def test_pieces_at_the_size_of_a_design_weigh_what_the_chain_says(name):
    """The same parts weigh the same in the machine's chapters and at the saw: sizes times density against the mass of the stock, within 6 %."""
    rough = (
        "spindle bushes",
        "cross-feed screw",
        "topslide screw",
        "back gear",  # their rows say more, or less, than their pieces (test_stock)
        "bed box",
        "change gears",
    )  # by sections of its own; discs as thick as the list has them, not as their faces
    e, seen = evaluate(demo(name)), 0
    masses = dict(zip(e["part_masses"]["names"], e["part_masses"]["stock"]))
    for part in e["parts_list"]:
        found = pieces_at_size(e, part)
        if part.material in DENSITY and found and all(one.form for one in found) and part.name not in rough:
            seen += 1
            assert sum(map(volume, found)) * DENSITY[part.material] == pytest.approx(masses[part.name], rel=0.06, abs=0.05), (
                part.name
            )
    assert seen >= 20


def test_sizes_the_design_has_are_those_of_the_stock():
    wide = BOAT.with_(bed_width="150 mm", spindle_overhang="60 mm")
    plate, before = pieces(wide, "bed plate")[0], pieces(BOAT, "bed plate")[0]
    e, longer = evaluate(wide), evaluate(wide)["spindle_length"] - evaluate(BOAT)["spindle_length"]
    assert (
        plate.width == pytest.approx(0.150)
        and before.width == pytest.approx(0.120)
        and plate.length / before.length == pytest.approx(e["bed_length"] / evaluate(BOAT)["bed_length"])
    )
    assert before.thickness == pytest.approx(0.025, rel=0.01), "a third of the centre height"
    assert pieces(wide, "spindle")[0].length == pytest.approx(pieces(BOAT, "spindle")[0].length + longer) and longer > 0.01
    assert pieces(wide, "spindle")[0].width == pytest.approx(e["spindle_diameter"] / 0.7, rel=0.01)


def test_a_disc_for_each_change_wheel():
    found = pieces(BOAT.with_(change_wheels="20, 30, 60", wheel_module="1.25 mm"), "change gears")
    assert [(round(one.width * 1e3, 3), round(one.length * 1e3, 3)) for one in found] == [(77.5, 12.5), (40, 12.5), (27.5, 12.5)]


def test_stock_is_bought_for_what_is_made_of_it_and_never_twice():
    def parts(design):
        return {one.part for stage in stock_to_buy(evaluate(design)) for group in stage.groups for one in group.pieces}

    everything, hows = parts(BOAT), {one.way.part: one.way.how for one in evaluate(BOAT)["ways_chosen"]}
    assert (
        everything
        and all(hows[part] in OWN_STOCK for part in everything)
        and "spindle" not in everything
        and hows["spindle"] == "bought"
    )
    lines = (
        Entry(date(2026, 1, 1), BEGUN),
        Entry(date(2026, 1, 2), ACCEPTED, part="bed plate"),
        Entry(date(2026, 1, 3), ORDERED, part="bed box"),
        Entry(date(2026, 1, 4), MONEY, 30.0, "saddle"),
    )
    assert everything - parts(BOAT.with_log(Log(lines))) == {"bed plate", "bed box", "saddle"}


@pytest.mark.parametrize("name", DEMOS)
def test_every_piece_is_sawn_from_a_bar_and_bars_hold_them_with_their_cuts(name):
    e = evaluate(demo(name))
    bars = {one.form: one for one in e["building"].bars}
    for stage in stock_to_buy(e):
        for group in stage.groups:
            if group.stock.form not in bars:
                assert not group.bars
                continue
            rule = bars[group.stock.form]
            sawn = sorted(round(one, 6) for bar in group.bars for one in bar.pieces)
            assert sawn == sorted(round(one.sawn, 6) for one in group.pieces for _ in range(one.count))
            assert all(
                one.length + rule.allowance - 1e-4 <= one.sawn < one.length + rule.allowance + 1.1e-3 for one in group.pieces
            )
            for bar in group.bars:
                assert bar.length in rule.lengths and sum(bar.pieces) + rule.kerf * (len(bar.pieces) - 1) <= bar.length + 1e-9


def test_bars_of_ones_own_take_the_place_of_the_course(design_file):
    sheet_path(design_file, "bars").write_text(
        "stock,lengths,sizes,kerf [mm],allowance [mm]\nflat bar,700 mm + 1400 mm,,1,2\n", encoding="utf-8"
    )
    e = Session().evaluation
    groups = {group.pieces[0].part: group for stage in stock_to_buy(e) for group in stage.groups}
    assert [(bar.length, bar.pieces) for bar in groups["bed plate"].bars] == [(pytest.approx(0.7), (pytest.approx(0.652),))]
    assert not groups["bed box"].bars, "a form without a row is ordered sawn to size"
    sheet_path(design_file, "bars").write_text("stock,lengths,sizes,kerf [mm],allowance [mm]\nflat bar,,,1,2\n", encoding="utf-8")
    assert "lengths" in Session().lists_trouble


def test_words_of_ones_own_keep_their_sizes_and_what_has_none_is_asked_for():
    parts = [
        replace(
            part,
            stock={"bed plate": "flat bar 100 x 20, 500 long", "bed box": "whatever lies in the yard"}.get(part.name, part.stock),
        )
        for part in BOAT.building.parts
    ]
    own = replace(BOAT, sheets=replace(BOAT.building, parts=type(BOAT.building.parts)(parts)))
    one = pieces(own, "bed plate")[0]
    ratio = evaluate(own)["part_masses"]["stock"][0] / own.building.parts[0].stock_mass
    assert volume(one) == pytest.approx(0.1 * 0.02 * 0.5 * ratio) and "whatever lies in the yard bed box ask" in words(own)


def test_a_shape_that_cannot_be_and_a_piece_longer_than_any_bar_are_told():
    long = words(BOAT.with_(between_centres="3000 mm"))
    assert "is longer than any bar" in long
    hollow = BOAT.with_(bed_wall="70 mm")
    assert not np.isnan(sum(map(volume, pieces(hollow, "bed box")))) and "nan" not in words(hollow)


# --- the sheets ----------------------------------------------------------------------------------------------
@every("design", [*(demo(name) for name in DEMOS), replace(demo("cabin"), system="inch"), BOAT.with_log(invented_log())])
def test_four_sheets_that_fetch_nothing(design):
    page = shop_papers_html(design, DAY)
    read = Read(page)
    assert [tag for tag, _ in read.tags].count("section") == 4 and [tag for tag, _ in read.tags].count("h1") == 4
    assert not any(
        tag in ("script", "link", "img") or name in ("src", "href") for tag, attributes in read.tags for name in (*attributes, "")
    )
    assert (
        "size: A4;" in page
        and shop_papers_html(design, DAY) == page
        and not re.search(r"\bnan\b|\binf\b|task: ", " ".join(read.words))
    )
    if design.system == "inch":
        assert "Lengths in in." in " ".join(read.words) or "in. Each piece" in " ".join(read.words)


def test_what_a_learner_wrote_stays_text():
    page = shop_papers_html(replace(BOAT, name='<script>alert("1")</script>'), DAY)
    assert "<script>" not in page and "&lt;script&gt;" in page


def test_orders_tell_what_is_on_order_first_and_what_is_paid_no_longer():
    lines = (
        Entry(date(2026, 1, 1), BEGUN),
        Entry(date(2026, 3, 3), ORDERED, 45.0, "spindle", vendor="the merchant", due=date(2026, 4, 10)),
        Entry(date(2026, 3, 4), MONEY, 90.0, "reamers"),
    )
    said = words(BOAT.with_log(Log(lines, as_of=DAY)))
    orders = said[said.index("Orders") : said.index("Parts to tick off")]
    assert orders.index("spindle on order 10 Apr 2026 45 EUR the merchant 3 Mar 2026") < orders.index(
        "bed box stock: make it here"
    )
    assert "reamers" not in orders and "surface plate" in orders and orders.count("spindle ") == 3, (
        "once on order, once each in the names of its pulley and its flange"
    )


def test_ticks_follow_the_log():
    said = words(BOAT.with_log(invented_log()))
    ticks = said[said.index("Parts to tick off") : said.index("The coming two months")]
    assert (
        "bed plate make it here ☑ ☑ ☑ 12 Sep 2024" in ticks
        and "headstock body hard faces outside, the rest here ☑ ☐ ☐" in ticks
        and "topslide 2 bought ☐ ☐ ☐" in ticks
    )


def test_two_months_hold_what_falls_in_them():
    lines = (
        Entry(date(2026, 3, 1), BEGUN),
        Entry(date(2026, 3, 3), ORDERED, 45.0, "spindle", vendor="the merchant", due=date(2026, 3, 20)),
        Entry(date(2026, 3, 3), ORDERED, 20.0, "bed box", due=date(2026, 4, 30)),
        Entry(date(2026, 3, 3), ORDERED, 20.0, "saddle", due=date(2026, 5, 1)),
    )
    e = evaluate(BOAT.with_log(Log(lines, as_of=DAY)))
    falls = falls_in(e, DAY)
    assert (
        (DAY, "spindle due from the merchant, 10 days late") in falls
        and (date(2026, 4, 30), "bed box due") in falls
        and not any("saddle due" in one for _, one in falls)
    )
    assert (
        falls == sorted(falls)
        and all(DAY <= day < date(2026, 5, 1) for day, _ in falls)
        and any(one.startswith("begin: ") for _, one in falls)
    )
    said = words(BOAT.with_log(Log(lines, as_of=DAY)))
    said = said[said.index("The coming two months") :]
    assert "March 2026" in said and "April 2026" in said and "May 2026" not in said and "30 Mar: spindle due" in said
    december = words(BOAT, date(2026, 12, 31))
    assert "December 2026" in december and "January 2027" in december and "Half the usual work in this month." in december


# --- written -------------------------------------------------------------------------------------------------
def test_the_button_writes_them_beside_the_design_file(design_file):
    button = ShopPapers(Session(today=DAY))
    button.write.click()
    lies = design_file.parent / SHOP_PAPERS
    assert lies.exists() and SHOP_PAPERS in button.reply.value and "30\u00a0Mar\u00a02026" in lies.read_text(encoding="utf-8")
    lies.unlink()
    lies.mkdir()
    button.write.click()
    assert "The papers were not written" in button.reply.value


def test_without_a_working_folder_nothing_is_written(nowhere):
    shown = open_chapter("16").show("shop_papers")
    assert "no papers are written" in repr(shown)


def test_the_command_writes_them(tmp_path, capsys):
    """In a process of its own, where nothing else was imported before."""
    out = tmp_path / "papers.html"
    made = subprocess.run(
        [sys.executable, "-m", "lathe_course", "shop", "--demo", "cabin", "--to", str(out)],
        capture_output=True,
        text=True,
        check=False,
    )
    assert made.returncode == 0 and out.exists() and "Wrote the papers" in made.stdout, made.stderr
    assert (
        main(["shop", "--demo", "cabin", "--to", str(tmp_path / "papers.txt")]) == 2
        and "must end in .html" in capsys.readouterr().err
    )
