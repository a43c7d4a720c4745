"""Pictures with other choices than they open with, with more than finds room, and the letters in them."""

import re
from dataclasses import replace

import numpy as np
import pytest
from cases import every
from drawn_pictures import covering
from matplotlib.figure import Figure
from tiers import many

from lathe_course.course.pictures import PICTURES, NothingToDraw, closing, decision_map, tradeoff
from lathe_course.course.pictures.axes import Places, parted, shortened, text_box, wrapped
from lathe_course.course.pictures.style import text_size
from lathe_course.design.demos import demo
from lathe_course.design.evaluation import evaluate

# --- other choices --------------------------------------------------------------------------------------------
OTHERS = [
    ("map_of_decisions", {"selected": "motor_power"}),
    ("map_of_decisions", {"selected": ""}),
    ("map_of_decisions", {"selected": "hours_can"}),
    ("map_of_decisions", {"selected": "work_support"}),
    ("map_of_decisions", {"selected": "no such thing"}),
    ("tradeoff", {"x": "centre_height", "y": "between_centres"}),
    ("tradeoff", {"x": "speed_steps", "y": "motor_power"}),
    ("tradeoff", {"x": "tolerance", "y": "tolerance"}),
    ("tradeoff", {"x": "bed_form", "y": "tolerance"}),
    ("tradeoff", {"x": "feed", "y": "depth_of_cut"}),
    ("tradeoff", {"x": "reason_learning", "y": "hour_price"}),
    ("what_blurs", {"result": "own_hours"}),
    ("what_blurs", {"result": "chatter_free_width"}),
    ("what_blurs", {"result": "bore_ratio"}),
    ("what_blurs", {"result": "machine_compliance"}),
    ("speed_steps", {"material": "bronze"}),
    ("speed_steps", {"material": "hardwood"}),
]


@every("turn, name, extra", [(turn, *other) for turn, other in enumerate(OTHERS)])
@every("place, design", enumerate(["boat_shed mm", "cabin inch"]))
def test_other_choices_draw_as_well(turn, name, extra, place, design, evaluations, canvas, written):
    if (turn + place) % many(2, 1):
        return
    written.clear()
    evaluation = evaluations[design]
    canvas.draw(PICTURES[name], evaluation, **extra)
    assert not list(covering(written))
    assert PICTURES[name].describe(evaluation, **extra).endswith((".", "another."))


def test_the_map_names_what_the_chain_pushes(evaluations):
    e = evaluations["boat_shed mm"]
    words = PICTURES["map_of_decisions"].describe(e, selected="spindle_bore")
    pushed = [name for name in e.chain.limits if name in e.chain.downstream("spindle_bore")]
    assert f"pushes on {len(pushed)} of {len(e.chain.limits)}" in words
    assert all(e.findings[name].label in words for name in pushed)


def test_more_findings_than_fit_are_grouped(evaluations, canvas, written, monkeypatch):
    e = evaluations["boat_shed mm"]
    pressing = [f for f in e.findings.values() if f.presses]
    held = [f for f in e.findings.values() if f.status == "holds"]
    broken = {f.name: wrapped(f.label, closing._LABEL_WIDE) for f in e.findings.values()}
    lines = {name: 1 + label.count("\n") for name, label in broken.items()}
    monkeypatch.setattr(closing, "_MOST_LINES", sum(lines[f.name] for f in pressing) + 3)
    pushed = [e.findings[name] for name in e.chain.limits if name in e.chain.downstream("centre_height")]
    for most in (20, 31):
        monkeypatch.setattr(decision_map, "_MOST", most)
        written.clear()
        canvas.draw(PICTURES["map_of_decisions"], e)
        words = [text.replace("\n", " ") for text, _ in written]
        assert not any("…" in text for text in words), "a label reads whole"
        alone = [f for f in e.findings.values() if any(text == f"{f.mark} {f.label}" for text in words)]
        rows = [found for text in words if (found := re.search(r": (?:(\d+) of )?(\d+)$", text))]
        assert 0 < len(alone) < len(pushed) and all(f in pushed for f in alone)
        order = ("fails", "tight", "holds", "open")
        assert max(order.index(f.status) for f in alone) <= min(order.index(f.status) for f in pushed if f not in alone)
        assert sum(int(found[2]) for found in rows) == len(e.findings) - len(alone)
        assert sum(int(found[1] or 0) for found in rows) == len(pushed) - len(alone)
        assert (
            sum(1 + text.count("\n") for text, box in written if text[0] in "✓≈✗?" or re.search(r": (\d+ of )?\d+$", text))
            <= most
        )
        assert not list(covering(written))
    written.clear()
    canvas.draw(PICTURES["margins"], e)
    words = [text for text, _ in written]
    assert all(broken[f.name] in words for f in pressing)
    shown = sorted((f for f in held if broken[f.name] in words), key=lambda f: f.margin)
    assert shown and sum(lines[f.name] for f in shown) <= 3
    assert shown == sorted(held, key=lambda f: f.margin)[: len(shown)]
    assert any(f"{len(held) - len(shown)} more hold with room" in text for text in words)
    assert not list(covering(written))


def test_a_crowd_of_jobs_stays_readable(canvas, written):
    base = demo("boat_shed")
    jobs = type(base.jobs)(
        [
            replace(job, name=f"{job.name} {number}", diameter=job.diameter * (0.8 + 0.05 * number), share=job.share / 4)
            for number in range(4)
            for job in base.jobs
        ]
    )
    e = evaluate(replace(base, jobs=jobs))
    for name in ("demands", "lathe_to_scale", "speed_chart", "jobs_against_size"):
        written.clear()
        canvas.draw(PICTURES[name], e)
        assert len(list(covering(written))) <= (0 if name in ("demands", "lathe_to_scale") else 4), (
            name
        )  # 24 names on 24 close points
        if name == "demands":
            assert "13 more jobs drive nothing" in " ".join(words for words, _ in written)


# --- letters ------------------------------------------------------------------------------------------------
def test_parted_labels_keep_order_room_and_place():
    assert parted([], 10).size == 0
    assert list(parted([10, 50, 90], 20)) == [10, 50, 90], "room enough: nothing moves"
    found = parted([50, 52, 51, 90], [10, 20, 10, 10], low=0, high=95)
    assert list(np.argsort(found)) == [0, 2, 1, 3]
    low, high = found - np.array([5, 10, 5, 5]), found + np.array([5, 10, 5, 5])
    order = np.argsort(found)
    assert np.all(low[order][1:] >= high[order][:-1] - 1e-9)
    assert low.min() >= 0
    assert high.max() <= 95
    pushed = parted([-100, -90, 300], 10, low=0, high=100)
    assert list(pushed) == [5, 15, 95]


def test_parted_labels_of_several_sizes_touch_and_do_not_cover_in_whatever_order_they_come():
    wanted, sizes = np.array([60.0, 50.0, 55.0, 52.0]), np.array([4.0, 30.0, 10.0, 20.0])
    found = parted(wanted, sizes)
    order = np.argsort(wanted)
    assert list(np.argsort(found)) == list(order)
    gaps = np.diff(found[order]) - (sizes[order][1:] + sizes[order][:-1]) / 2
    assert gaps == pytest.approx(0, abs=1e-9), "as near to each other as they may be"


@pytest.mark.parametrize("left", range(8))
def test_a_label_finds_the_one_side_of_its_point_that_is_left(left):
    """Seven of the eight sides are taken: it stands wholly on the eighth, beside its point and not over it."""
    axes = Figure((4, 3), dpi=72).add_axes((0, 0, 1, 1))
    axes.set_xlim(0, 288)
    axes.set_ylim(0, 216)
    words, gap, (x, y) = "words of a label", 9.0, (144, 108)
    wide, high = text_size(words)
    sides = [(1, 0), (-1, 0), (0, 1), (0, -1), (1, 1), (-1, 1), (1, -1), (-1, -1)]
    where = {side: (x + side[0] * (wide / 2 + gap), y + side[1] * (high / 2 + gap)) for side in sides}
    taken = [(cx - 2, cy - 2, cx + 2, cy + 2) for side, (cx, cy) in where.items() if side != sides[left]]
    places = Places(axes, taken)
    places.put(x, y, words, gap=gap)
    (note,) = axes.texts
    assert note.get_bbox_patch() is None and places.taken[-1] is not taken[-1]
    box = text_box(*note.xyann, words, note.get_ha(), note.get_va())
    assert box == pytest.approx(places.taken[-1])
    middle = (box[0] + box[2]) / 2 - x, (box[1] + box[3]) / 2 - y
    reach = wide / 2 + gap, high / 2 + gap
    assert [round(one / whole) for one, whole in zip(middle, reach)] == list(sides[left])
    assert not (box[0] < x < box[2] and box[1] < y < box[3])
    assert all(
        min(box[2], other[2]) <= max(box[0], other[0]) or min(box[3], other[3]) <= max(box[1], other[1]) for other in taken
    )


def test_wrapped_and_shortened_text_fits():
    text = "share of the finishing cut's force that changes from piece to piece"
    assert text_size(wrapped(text, 200))[0] <= 200
    assert wrapped(text, 200).replace("\n", " ") == text
    short = shortened(text, 120)
    assert text_size(short)[0] <= 120
    assert short.endswith("…")
    assert shortened("bed", 120) == "bed"


def test_nothing_to_draw_is_a_reason():
    with pytest.raises(NothingToDraw, match="not a decision with a number"):
        tradeoff._field(evaluate(demo("boat_shed")), "bed_form", "tolerance")
