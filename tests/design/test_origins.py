"""Where a decision comes from, in memory and in the file."""

import shutil

import pytest

from lathe_course.design.asked.why import why
from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.design import Design
from lathe_course.design.draft.starting import settle, start_from
from lathe_course.design.evaluation import evaluate
from lathe_course.design.files import design_file
from lathe_course.design.files.file_format import FORMAT
from lathe_course.design.lathe import LATHE

DRAFTED = {"centre_height": "80 mm", "bed_form": "closed box"}
REASONS = {"centre_height": "the smallest over which the flange ring turns"}


def back(design):
    """The same design written and read."""
    return Design.from_written(LATHE, design.written())


def origins(design):
    return {name: design.origin(name) for name in design.choices}


def test_a_demo_is_a_demos_throughout():
    for name in DEMOS:
        assert set(origins(demo(name)).values()) == {"demo"} and origins(back(demo(name))) == origins(demo(name))


def test_each_origin_is_told_and_comes_back_from_the_file():
    design = demo().drafted(DRAFTED, REASONS).with_("for the big bush", decided="2026-01-31", bed_width="130 mm")
    for one in (design, back(design)):
        assert [one.origin(name) for name in ("centre_height", "bed_form", "bed_width", "bed_height")] == [
            "draft",
            "draft",
            "yours",
            "demo",
        ]
        assert one.choices["centre_height"].reason == REASONS["centre_height"] and not one.choices["centre_height"].decided
    assert design.written()["decisions"]["centre_height"]["origin"] == "draft of 80 mm"


def test_what_is_yours_is_never_drafted_over():
    mine = demo().with_("the bush", decided="2026-01-31", centre_height="90 mm")
    assert mine.drafted(DRAFTED, REASONS).choices["centre_height"] == mine.choices["centre_height"]


def test_a_figure_changed_by_hand_under_the_line_of_the_draft_is_yours():
    written = demo().drafted(DRAFTED, REASONS).written()
    written["decisions"]["centre_height"]["value"] = "85 mm"
    assert Design.from_written(LATHE, written).origin("centre_height") == "yours"


@pytest.mark.parametrize(
    "change, origin",
    [
        ({}, "demo"),
        ({"value": "76 mm"}, "yours"),
        ({"reason": "our own words"}, "yours"),
        ({"reason": ""}, "demo"),
        ({"decided": "2026-01-31"}, "yours"),
        ({"origin": "yours"}, "yours"),
        ({"origin": "draft"}, "draft"),
    ],
)
def test_without_a_line_the_demo_is_looked_at(change, origin):
    written = demo().written()
    written["decisions"]["centre_height"].update(change)
    assert Design.from_written(LATHE, written).origin("centre_height") == origin


def test_keeping_a_drafted_figure_makes_it_yours_without_the_drafts_words():
    kept = settle(demo().drafted(DRAFTED, REASONS), "", {}, ["centre_height"])
    assert (
        kept.origin("centre_height") == "yours" and kept.choices["centre_height"].reason == "" and kept["centre_height"] == 0.08
    )
    assert origins(back(kept)) == origins(kept)


def test_another_demo_takes_the_place_of_what_is_not_yours():
    design = start_from(
        demo().drafted(DRAFTED, REASONS).with_("the bush", decided="2026-01-31", between_centres="325 mm"), "cabin"
    )
    assert (design.origin("between_centres"), design.origin("centre_height")) == ("yours", "demo")
    assert design["centre_height"] == demo("cabin")["centre_height"]


@pytest.mark.parametrize("form", (3, FORMAT))
def test_a_file_keeps_origins_through_saves_and_older_ones_are_read(tmp_path, form):
    path = tmp_path / "design.toml"
    shutil.copy(design_file.DEMOS / "boat_shed.toml", path)
    text = (
        path.read_text("utf-8")
        .replace(f"format = {FORMAT}", f"format = {form}", 1)
        .replace('value = "300 mm"', 'value = "320 mm"', 1)
    )
    path.write_text(text, "utf-8")
    file = design_file.DesignFile(path, LATHE)
    assert (file.read().origin("between_centres"), file.read().origin("slide_height")) == ("yours", "demo")
    file.save_change(lambda now: now.drafted({**DRAFTED, "between_centres": "400 mm"}, REASONS))
    read = design_file.load(path, LATHE)
    assert [read.origin(name) for name in ("between_centres", "centre_height", "slide_height")] == ["yours", "draft", "demo"]
    assert read["between_centres"] == 0.32
    file.save_change(lambda now: start_from(now, "cabin"))  # a change of demo, against which undated figures would read otherwise
    assert design_file.load(path, LATHE).origin("between_centres") == "yours"


def test_why_says_who_settled_it():
    design = demo().drafted(DRAFTED, REASONS)
    said = str(why(evaluate(design), "swing_over_bed"))
    assert "drafted: the smallest over which the flange ring turns" in said
    assert "from the demo" in str(why(evaluate(demo()), "swing_over_bed"))
