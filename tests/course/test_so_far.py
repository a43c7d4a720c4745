"""The brief's section on what was decided, changed and logged: what has happened stands in it, what has not does not, and it stays half a page."""

from dataclasses import replace
from datetime import date

import pytest

from lathe_course.course.printed.brief_front import front
from lathe_course.course.printed.brief_sections import ROOMS, so_far
from lathe_course.course.printed.brief_so_far import besides_decisions, so_far_lists
from lathe_course.design.demos import demo
from lathe_course.design.evaluation import evaluate
from lathe_course.design.files.progress_log import invented_log
from lathe_course.planning.log import BEGUN, CHANGED, HOURS, ORDERED, Entry, Log

BOAT = demo("boat_shed")


def lists(design):
    return dict(so_far_lists(evaluate(design)))


def test_where_nothing_has_happened_nothing_is_told():
    assert so_far(evaluate(BOAT), ROOMS[so_far]).markup == "" and besides_decisions(BOAT) == []


def test_what_was_decided_last_and_what_changed_is_told_with_what_stood_before():
    kept = (
        BOAT.with_("stiffer", "2026-01-03", centre_height="80 mm")
        .with_("lighter", "2026-02-01", centre_height="70 mm")
        .with_("", "2026-01-20", bed_width="110 mm")
    )
    said = lists(kept)
    assert [row[:10] for row in said["Decided last"]] == ["2026-02-01", "2026-01-20"] and "70 mm (lighter)" in said[
        "Decided last"
    ][0]
    assert len(said["Changed last"]) == 1 and "80 mm → 70 mm (lighter)" in said["Changed last"][0], (
        "a demo's value that gave way is no change of mind"
    )
    assert "The build so far" not in said


def test_what_finds_no_room_is_counted():
    """Seven decisions kept and then changed: five stand in each list, and two are counted."""
    names = [name for name, one in BOAT.chain.decisions.items() if one.numeric and one.kind.unit == "mm"][:7]
    kept = BOAT
    for day, more in (("2026-01-01", 1.05), ("2026-01-02", 1.1)):
        kept = kept.with_("", day, **{name: f"{1000 * BOAT[name] * more:.6g} mm" for name in names})
    said = lists(kept)
    for head in ("Decided last", "Changed last"):
        assert sum(row.startswith("2026") or "→" in row for row in said[head]) == 5 and "and 2 more before" in said[head], head


def test_tables_ways_and_log_count_though_no_decision_was_kept():
    """The notice on the first page said that nothing was decided, with tables, ways and a log of one's own beside it."""
    parts = replace(BOAT.building, machines=BOAT.building.machines[1:])
    own = replace(BOAT, sheets=parts, ways={**BOAT.ways, "bed plate": "bought"}).with_log(invented_log())
    told = "a table of their own (machines)", "the way of 1 part", f"a log of {len(own.log)} lines, the last of 2024-11-04"
    assert tuple(besides_decisions(own)) == told and all(
        words in lists(own)["Decided last"][-1] or words == told[2] for words in told
    )
    first = front(evaluate(own, 200))
    assert "Nothing here was decided yet" not in first and told[0] in first and "Last line of the log: 2024-11-04." in first
    assert "Nothing here was decided yet" in front(evaluate(BOAT, 200))


def test_the_log_is_told_as_it_stands():
    entries = (
        Entry(date(2024, 3, 1), BEGUN),
        Entry(date(2024, 3, 5), HOURS, 4.0, "bed box"),
        Entry(date(2024, 3, 6), CHANGED, words="a longer bed"),
        Entry(date(2024, 3, 7), ORDERED, 45.0, "bed plate", vendor="the merchant", due=date(2024, 4, 1)),
    )
    said = "\n".join(lists(BOAT.with_log(Log(entries, as_of=date(2024, 4, 11))))["The build so far"])
    for words in (
        "1 Mar 2024 to 11 Apr 2024",
        "45 EUR owed for orders",
        "Begun: bed box.",
        "On order: bed plate. Late: bed plate by 10 days.",
        "2024-03-06: specification changed, a longer bed",
    ):
        assert words in said
    assert not any(line.startswith("To order") and "bed plate" in line for line in said.splitlines())


@pytest.mark.parametrize("many", [1, 12])
def test_it_stays_half_a_page_whatever_has_happened(many):
    """Twenty rows of one line and three headings, none of them cut."""
    plain = [name for name, one in BOAT.chain.decisions.items() if one.numeric and one.kind.unit == "mm"][:many]
    kept, why = BOAT, "because of what was said at length on many a long evening about it, over and over again"
    for day, more in (("2026-01-01", 0.99), ("2026-01-02", 1.0)):
        kept = kept.with_(
            why,
            day,
            **{
                name: f"{BOAT[name] * more / BOAT.chain.decisions[name].kind.factor:.6g} {BOAT.chain.decisions[name].kind.unit}"
                for name in plain
            },
        )
    kept = kept.with_log(invented_log())
    said = lists(kept)
    assert (
        len(said) == 3 and sum(map(len, said.values())) <= 20 and max(len(row) for rows in said.values() for row in rows) <= 100
    )
    printed = so_far(evaluate(kept), ROOMS[so_far])
    assert printed.height <= ROOMS[so_far] < 135 and "more stand" not in printed.markup
