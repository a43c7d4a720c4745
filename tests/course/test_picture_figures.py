"""The figures of pictures are the chain's, or follow from its formulas."""

import numpy as np
import pytest
from drawn_pictures import DESIGNS, covering

from lathe_course.course.pictures import PICTURES, cut, drive, give, purpose, speeds, spindle, tradeoff, work
from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.evaluation import evaluate
from lathe_course.machine import rigidity


# --- figures ----------------------------------------------------------------------------------------------
@pytest.mark.parametrize("name", DEMOS)
@pytest.mark.parametrize("changes", [{}, {"front_stiffness": "90 N/µm", "rear_stiffness": "20 N/µm"}], ids=["alike", "unlike"])
def test_the_bent_spindle_ends_where_the_chain_says(name, changes):
    e = evaluate(demo(name).with_("not alike", **changes))
    at = e["bearing_span"] + e["spindle_overhang"]
    cut_at = at + e["cut_reach"]
    assert spindle.deflected(e, np.array([cut_at]))[0] == pytest.approx(e["spindle_give"], rel=1e-9)
    front = e["cutting_force"] * (1 + (cut_at - e["bearing_span"]) / e["bearing_span"]) / e["front_stiffness_at_size"]
    assert spindle.deflected(e, np.array([e["bearing_span"]]))[0] == pytest.approx(front, rel=1e-9)
    near = np.array([e["bearing_span"] - 1e-9, e["bearing_span"] + 1e-9])
    assert np.ptp(spindle.deflected(e, near)) < 1e-12, "no step at the bearing"


@pytest.mark.parametrize("support", ["chuck alone", "chuck and centre", "between centres"])
def test_the_bent_work_gives_under_the_tool_what_the_formulas_say(support):
    e = evaluate(demo("boat_shed").trying(work_support=support))
    force, length, round_bar = e["finish_radial_force"], e["work_length"], (e["work_diameter"], e["work_modulus"])
    give = {
        "chuck alone": lambda at: rigidity.chuck_deflection.si(force, at, *round_bar),
        "chuck and centre": lambda at: rigidity.chuck_and_centre_deflection.si(force, length, at, *round_bar),
        "between centres": lambda at: rigidity.centres_deflection.si(force, length, at, *round_bar),
    }[support]
    for place in np.array([0.2, 0.5, 0.8]) * length:
        assert work.bent(e, place, np.array([place]))[0] == pytest.approx(give(place), rel=1e-9)
    ends = work.bent(e, 0.5 * e["work_length"], np.array([0.0, e["work_length"]]))
    assert abs(ends[0]) < 1e-15
    if support != "chuck alone":
        assert abs(ends[1]) < 1e-15


def test_the_budget_of_give_adds_up_to_the_loop(evaluations):
    e = evaluate(demo("boat_shed"))
    assert sum(value for *_, value in give._links(e)) == pytest.approx(e["loop_compliance"], rel=1e-9)


@pytest.mark.parametrize("name", DEMOS)
def test_misfits_are_those_the_chain_counts(name):
    for change in ({}, {"centre_height": 0.045}, {"between_centres": 0.1}, {"spindle_bore": 0.0}):
        e = evaluate(demo(name).trying(**change))
        fit = sum(job.share for job in e["jobs"] if not purpose.misfit(e, job))
        assert fit / sum(job.share for job in e["jobs"]) == pytest.approx(e["share_that_fits"])


def test_drivers_are_what_the_chain_takes_from_the_jobs():
    e = evaluate(demo("boat_shed"))
    found = {what: figure for what, (_, figure) in purpose.drivers(e).items()}
    wanted = {
        "over the bed": "largest_disc",
        "over the slide": "largest_shaft",
        "length": "longest_job",
        "bar": "thickest_bar",
        "slowest": "slowest_wanted",
        "fastest": "fastest_wanted",
        "tolerance": "tightest_tolerance",
        "thread pitch": "coarsest_pitch",
    }
    assert found == {what: e.shown(name) for what, name in wanted.items()}


def test_forces_by_tool_bracket_what_the_chain_counts():
    e = evaluate(demo("boat_shed"))
    rows = {name: mid for name, _, mid, _ in cut.tool_forces(e)}
    steel = sorted(force for name, force in rows.items() if name.startswith("high-speed steel"))
    assert steel[0] < e["cutting_force"] < steel[1] and list(rows.values())[-1] == e["drilling_thrust"]


def test_the_drive_is_drawn_as_the_chain_has_it():
    for name in DEMOS:
        e = evaluate(demo(name))
        rows = drive.offered(e)
        assert (
            rows[0][1] == e["drive_slowest"]
            and max(row[2] for row in rows) == e["drive_fastest"]
            and max(row[3] for row in rows) == e["largest_reduction"]
        )
        gap = drive._gap(rows)
        assert (gap[1] / gap[0] if gap else 1.0) == pytest.approx(e["widest_gap"])
        assert (
            max(want for *_, want in drive.asked(e)[:-1]) == pytest.approx(e["torque_needed"])
            and drive.asked(e)[-1][2] == e["drilling_torque"]
        )


def test_the_sawtooth_never_loses_more_than_the_steps_allow():
    e = evaluate(demo("boat_shed"))
    wished = speeds.cutting_speeds(e["work_material"], e["tool_material"]).likely
    between = np.geomspace(2 * wished / e["fastest_speed"] * 1.0001, 2 * wished / e["slowest_speed"] * 0.9999, 500)
    reached = speeds._reached(e, e["work_material"], between)
    assert reached.max() <= wished * (1 + 1e-9)
    assert reached.min() >= wished * (1 - e["speed_loss"]) * (1 - 1e-9)
    assert reached.min() == pytest.approx(wished * (1 - e["speed_loss"]), rel=0.03)


@pytest.mark.parametrize("name", DEMOS)
def test_the_field_of_two_decisions_agrees_with_the_findings(name):
    e = evaluate(demo(name))
    field = tradeoff._field(e, "spindle_diameter", "cut_reach")
    row, column = 2, -4
    there = evaluate(e.design.trying(spindle_diameter=field.x[column], cut_reach=field.y[row]))
    margins = [there.findings[one].margin for one in field.names]
    assert field.margins[:, row, column] == pytest.approx(margins, rel=1e-9)
    assert (
        field.names[field.first[row, column]]
        == min(there.findings.values(), key=lambda f: f.margin if f.name in field.names else np.inf).name
    )
    assert {f.label for f in e.findings.values() if f.status == "fails" and f.name not in field.names} == set(field.elsewhere)


@pytest.mark.parametrize(
    ("x", "y"), [("centre_height", "hours_should"), ("hours_should", "centre_height"), ("centre_height", "between_centres")]
)
def test_a_field_with_a_size_is_walked_through_value_by_value(x, y):
    e = evaluate(demo("boat_shed"))
    field = tradeoff._field(e, x, y, ["every_part_can_be_had", "finished_in_balance", "lift_within_guidance"])
    for row, column in ((1, 2), (-2, -3)):
        there = evaluate(e.design.trying(**{x: float(field.x[column]), y: float(field.y[row])}))
        assert field.margins[:, row, column] == pytest.approx([there.findings[one].margin for one in field.names], rel=1e-9)
    assert field.elsewhere == [] and set(field.names) <= {"every_part_can_be_had", "finished_in_balance", "lift_within_guidance"}


def test_the_lathe_is_drawn_to_one_scale(evaluations, canvas):
    for design in DESIGNS:
        for axes in canvas.figure(PICTURES["lathe_to_scale"], evaluations[design]).axes[:2]:
            x, y = axes.get_xlim(), axes.get_ylim()
            assert (x[1] - x[0]) / axes.bbox.width == pytest.approx((y[1] - y[0]) / axes.bbox.height)


# --- rigidity ---------------------------------------------------------------------------------------------
@pytest.mark.parametrize("support", ["chuck alone", "chuck and centre", "between centres"])
def test_the_error_along_the_work_is_the_chains(support):
    e = evaluate(demo("shared_barn").trying(work_support=support))
    assert work.too_thick(e, np.linspace(0, e["work_length"], 33)).max() == pytest.approx(e["shape_error"], rel=1e-9)


def test_the_border_of_the_lobes_rests_on_the_chains_widths():
    from lathe_course.course.pictures import lobes

    e = evaluate(demo("shared_barn"))
    speed, width, slow = lobes.border(e)
    assert width.min() == pytest.approx(e["chatter_free_width"], rel=5e-3) and np.all(
        slow >= e["chatter_free_width"] * (1 - 1e-9)
    )
    at = np.argmin(np.abs(speed * e["work_diameter"] / 2 - e["cutting_speed"]))
    assert slow[at] == pytest.approx(e["slow_speed_width"], rel=0.02)
    assert e.shown("chatter_free_width") in PICTURES["chatter_lobes"].describe(e)


@pytest.mark.parametrize("design", ["boat_shed mm", "cabin inch"])
def test_own_readings_are_drawn_or_asked_for(design, evaluations, canvas, written):
    from lathe_course.design.chapters.measured import INVENTED

    canvas.draw(PICTURES["give_fit"], evaluations[design], readings="yours")
    assert any("no readings yet" in words.replace("\n", " ") for words, _ in written)
    written.clear()
    own = evaluate(
        evaluations[design].design.with_readings("stiffness", [{**row, "dial": f"-{row['dial']}"} for row in INVENTED.written])
    )
    canvas.draw(PICTURES["give_fit"], own, readings="yours")
    assert not list(covering(written)) and any("your readings" in words for words, _ in written)
    assert "set up from the other side" in PICTURES["give_fit"].describe(own, readings="yours")
