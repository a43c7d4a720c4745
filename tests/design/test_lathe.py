"""The chain of the lathe: its words, its graph, its arithmetic against hand calculation, and sweeps against single cases."""

import ast
import dataclasses
import functools
import inspect
import re
import textwrap

import numpy as np
import pytest
from cases import every
from hand import HAND, MOVES_NOTHING, ONLY_SHOWN
from numpy.testing import assert_allclose
from tiers import many, short_of

from lathe_course import units
from lathe_course.design.chain.entries import Figure
from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.evaluation import Evaluation, evaluate
from lathe_course.design.jobs import Job, Jobs
from lathe_course.design.lathe import CHAPTERS, LATHE
from lathe_course.planning import scaling
from lathe_course.ranges import Range, likely, middling
from lathe_course.sources import cite
from lathe_course.tables import table

NUMBERS = [name for name, decision in LATHE.decisions.items() if decision.numeric]
CHOICES = [name for name, decision in LATHE.decisions.items() if decision.options]


@functools.cache
def in_system(system: str) -> Evaluation:
    """The first demo worked out once, for all who only look."""
    return evaluate(dataclasses.replace(demo(), system=system))


# --- words -------------------------------------------------------------------------------------------
PARTS = [part for group in (LATHE.decisions, LATHE.figures, LATHE.results, LATHE.limits) for part in group.values()]


def plain(text: str) -> bool:
    """No names or signs of the machine room, no gap, no stray blank."""
    return text == text.strip() and not re.search(r"_|  |[<>{}]|\bNone\b|\bnan\b|lambda", text)


@every("part", PARTS)
def test_every_label_reads_as_words_and_knows_its_chapter(part):
    assert part.label and plain(part.label) and part.label[-1] not in ".:;,"
    assert not part.label[0].isupper()
    assert part.chapter in CHAPTERS


def test_no_two_labels_are_alike():
    labels = [part.label for part in PARTS]
    assert sorted(set(labels)) == sorted(labels)


@every("decision", LATHE.decisions.values())
def test_every_decision_asks_a_question_and_offers_sensible_values(decision):
    assert re.fullmatch(r"[A-Z][^?]*\?( \(.+\))?", decision.question) and plain(decision.question)
    assert decision.numeric + bool(decision.options) + decision.free_text == 1
    if decision.numeric:
        values = decision.values()
        assert len(values) >= 4 and np.all(np.diff(values) > 0) and np.all(np.isfinite(values))
        assert all(units.out_of_range(value, decision.kind) == "" for value in values)
        assert decision.low * decision.kind.factor <= values[0] and values[-1] <= decision.high * decision.kind.factor * (
            1 + 1e-9
        )
    if decision.options:
        assert len(set(decision.options)) == len(decision.options) >= 2


def test_no_two_decisions_ask_the_same():
    questions = [decision.question for decision in LATHE.decisions.values()]
    assert len(set(questions)) == len(questions)


@every("result", LATHE.results.values())
def test_every_result_is_explained_and_has_a_source(result):
    assert re.fullmatch(r"[A-Z0-9+].*\.", result.explanation) and plain(result.explanation)
    assert result.source and cite(result.source)


@every("limit", LATHE.limits.values())
def test_every_limit_speaks_in_a_whole_sentence_and_has_a_source(limit):
    # where nothing at all is allowed, the limit need not be said
    assert set(re.findall(r"\{(\w+)\}", limit.says)) | ({"limit"} if limit.limit == 0 else set()) == {"value", "limit"}
    for sentence in (limit.says.format(value="9 mm", limit="9 mm"), limit.unasked, limit.caution):
        assert not sentence or (re.fullmatch(r"[A-Z0-9].*\.", sentence) and plain(sentence))
    assert cite(limit.source) and limit.comfort >= 0


@every("figure", LATHE.figures.values())
def test_every_figure_has_a_source_and_an_order(figure):
    value = in_system("mm").values_si[figure.name]
    assert cite(figure.source) and np.isfinite(value) and value >= 0
    assert units.out_of_range(value, figure.kind) == ""


@every("name", [part.name for part in PARTS if getattr(part, "kind", None)])
def test_every_figure_is_shown_with_its_unit_in_both_systems(name):
    for system in units.SYSTEMS:
        worked = in_system(system)
        unit = units.unit_text(worked.kind(name), system)
        assert re.fullmatch(rf"-?\d[\d.]*(×10\^-?\d+)?( {re.escape(unit)})?", worked.shown(name)), worked.shown(name)
        assert worked.shown(name).endswith(unit)


# --- graph ---------------------------------------------------------------------------------------------
@every("name", LATHE.decisions)
def test_every_decision_pushes_on_something_or_says_why_not(name):
    assert bool(LATHE.pushes_on(name)) != (name in MOVES_NOTHING)
    pushed = [other for names in LATHE.pushes_on(name).values() for other in names]
    assert set(pushed) == LATHE.downstream(name) and len(pushed) == len(set(pushed))


def test_every_figure_and_result_reaches_a_limit_or_is_shown_by_a_chapter():
    limits = set(LATHE.limits)
    reach_none = {name for name in (*LATHE.figures, *LATHE.results) if not LATHE.downstream(name) & limits}
    assert reach_none == set(ONLY_SHOWN)
    assert set(ONLY_SHOWN.values()) <= set(CHAPTERS)


def test_above_and_below_are_one_relation_seen_from_two_sides():
    names = [part.name for part in PARTS]
    below = {(upper, lower) for upper in names for lower in LATHE.downstream(upper)}
    above = {(upper, lower) for lower in names for upper in LATHE.upstream(lower) if upper not in LATHE.given}
    assert below == above and not any((lower, upper) in below for upper, lower in below)


@every("result", [result for result in LATHE.results.values() if result.formula])
def test_no_formula_stands_at_a_default_of_its_own_while_the_chain_knows_better(result):
    """Else a decision of the same name would be asked for and not heard."""
    known = {part.name for part in PARTS}
    assert not set(result.fixed) & known
    assert set(result.fixed) | set(result.renamed) == set(result.formula.inputs)


def test_no_input_stays_at_its_default_where_the_chain_knows_its_name():
    """An entering angle the learner moves must not be held at the 90 degrees a formula starts from."""
    known = {*LATHE.decisions, *LATHE.figures, *LATHE.results}
    held = {(name, parameter) for name, result in LATHE.results.items() for parameter in result.fixed}
    assert not {(name, parameter) for name, parameter in held if parameter in known}


# --- partly worked out again, swept, drawn -----------------------------------------------------------------
def others(decision, here) -> list:
    """A few other values of a decision, from its whole range."""
    if decision.free_text:
        return ["other words"]
    if not decision.numeric:
        return [option for option in decision.options if option != here]
    values = decision.values()
    return list(values[np.unique(np.linspace(0, len(values) - 1, 4).astype(int))])


def same(one, other) -> bool:
    """Alike to the last figure, whatever bundle of figures it is."""
    if one is other:
        return True
    if isinstance(one, dict):
        return one.keys() == other.keys() and all(same(one[key], other[key]) for key in one)
    if isinstance(one, tuple | list):
        return len(one) == len(other) and all(map(same, one, other))
    if dataclasses.is_dataclass(one):
        return all(same(getattr(one, field.name), getattr(other, field.name)) for field in dataclasses.fields(one))
    if isinstance(one, scaling.Columns):
        return one.ways == other.ways
    if isinstance(one, str | bytes | frozenset) or one is None:
        return one == other
    return bool(np.array_equal(one, other, equal_nan=True))


def whole_of(design, draws: int | None = None) -> dict:
    """All values anew, whatever is worked out already."""
    return LATHE.work_out(design.given(), design.replaced_figures(), draws)


@functools.cache
def drawn(draws: int | None) -> Evaluation:
    return evaluate(demo(), draws=draws)


#: looked at with draws as well, and at several values
CLOSER = [*LATHE.decisions][:: many(4, 1)]


@pytest.mark.parametrize("third", short_of(range(3), 0))
def test_what_is_partly_worked_out_again_equals_the_whole_and_leaves_the_rest_alone(third):
    """Each third decision in every run, the others on the long walk."""
    for name in [*LATHE.decisions][third::3]:
        for draws, values in ((None, many(2, 10)), (20, many(1, 10))) if name in CLOSER else ((None, 1),):
            before = drawn(draws)
            for value in others(LATHE.decisions[name], before.design[name])[-values:]:
                design = before.design.trying(**{name: value})
                partly, whole = evaluate(design, draws=draws, earlier=before), whole_of(design, draws)
                assert partly.keys() == whole.keys() and all(same(partly[one], whole[one]) for one in whole), name
                worked = {one for one in (*LATHE.figures, *LATHE.results) if partly[one] is not before[one]}
                assert worked <= LATHE.downstream(name), name


def test_another_list_of_jobs_is_worked_out_in_part_too():
    before = evaluate(demo())
    design = dataclasses.replace(before.design, jobs=demo("cabin").jobs)
    partly = evaluate(design, earlier=before)
    assert all(same(partly[one], value) for one, value in whole_of(design).items())
    assert partly["largest_disc"] == pytest.approx(0.06) and partly["nose_stiffness"] is before["nose_stiffness"]


def test_a_figure_of_the_learners_own_is_worked_out_in_part_and_taken_back_again():
    before = evaluate(demo())
    own = before.design.with_(damping="0.05")
    after = evaluate(own, earlier=before)
    assert after["damping"] == 0.05 and all(same(after[one], value) for one, value in whole_of(own).items())
    again = dataclasses.replace(before.design)
    back = evaluate(again, earlier=after)
    assert all(same(back[one], value) for one, value in whole_of(again).items())


SHAPES = [
    ("boat_shed", {}),
    ("cabin", {}),
    ("shared_barn", {}),
    *(("boat_shed", {"bed_form": form}) for form in ("plate", "channel", "two flat rails")),
    ("shared_barn", {"work_support": "chuck and centre"}),
]


@pytest.mark.parametrize(
    "shape", short_of(SHAPES, SHAPES[1], SHAPES[-1]), ids=lambda shape: " ".join((shape[0], *shape[1].values()))
)
def test_a_sweep_gives_what_single_cases_give(shape):
    """Every body takes arrays: levers, room and pictures lean on it.  What must be tried one by one is, see the levers."""
    start, changes = shape
    design = demo(start).trying(**changes)
    here = evaluate(design)
    for name in (name for name in NUMBERS if name not in LATHE.one_by_one and not LATHE.picked_by(name)):
        values = np.array(others(LATHE.decisions[name], None))
        swept = figures_and_margins(design.trying(**{name: values}))
        singles = [figures_and_margins(design.trying(**{name: value}), here) for value in values]
        assert not [one for one, found in swept.items() if np.shape(found) not in ((), values.shape)]
        together = np.array([np.broadcast_to(found, values.shape) for found in swept.values()])
        alone = np.array([[single[one] for single in singles] for one in swept])
        apart = ~np.isclose(together, alone, rtol=1e-9, atol=1e-15, equal_nan=True).all(axis=1)
        assert not apart.any(), (
            f"over {name}: {[(one, together[row], alone[row]) for row, one in enumerate(swept) if apart[row]]}"
        )


def figures_and_margins(design, earlier=None) -> dict:
    values = evaluate(design, earlier=earlier).values_si
    figures = {name: values[name] for name in (*LATHE.figures, *LATHE.results) if LATHE.part(name).kind is not None}
    return figures | LATHE.margins(values)


@every("name", NUMBERS[:: many(3, 1)])
def test_any_decision_may_be_a_range(name):
    design = demo()
    here = design[name]
    spread = design.trying(**{name: Range(here * 0.95, here, here * 1.05)})
    assert same(evaluate(spread, wanted=["size_error"])["size_error"], in_system("mm")["size_error"])
    cloud = evaluate(spread, draws=30)
    for one in LATHE.downstream(name) - set(LATHE.limits):
        if LATHE.part(one).kind is not None:
            assert np.shape(cloud[one]) in ((), (30,)), one
    assert all(finding.sure is not None for finding in cloud.findings.values() if finding.status != "open")


# --- arithmetic by hand ----------------------------------------------------------------------------------
def worked(name: str, **inputs):
    """One result of the chain in its workshop unit, from inputs as text."""
    result = LATHE.results[name]
    values = {
        key: units.read(value, LATHE.part(key).kind, key)
        if isinstance(value, str) and getattr(LATHE.part(key), "kind", None)
        else value
        for key, value in inputs.items()
    }
    return units.in_unit(result.body(*[values[one] for one in result.inputs]), result.kind)


@every("name, inputs, by_hand", HAND)
def test_a_result_is_what_a_pocket_calculator_says(name, inputs, by_hand):
    """Worked by hand in workshop units, to the figures shown: catches every slip of a unit in the glue between formulas."""
    assert worked(name, **inputs) == pytest.approx(by_hand, rel=5e-4, abs=1e-12)


def test_the_nose_itself_is_the_spindle_without_reach():
    """45 mm overhang, 110 mm span, 35 mm with a 19 mm bore: bending alone a²(a + L) / 3EI = 7.51 µm/kN, shear adds a quarter."""
    nose = evaluate(
        demo().trying(spindle_overhang=0.045, bearing_span=0.11, spindle_diameter=0.035, spindle_bore=0.019, cut_reach=0.06)
    )
    assert 7.51 < units.in_unit(nose["nose_shaft_compliance"], LATHE.part("nose_shaft_compliance").kind) < 1.35 * 7.51
    at_nose = evaluate(nose.design.trying(cut_reach=0.0))
    assert (
        at_nose["spindle_compliance"] == pytest.approx(nose["nose_compliance"])
        and at_nose["nose_compliance"] == nose["nose_compliance"]
    )
    assert "0 mm" in str(nose.workings("nose_shaft_compliance"))


def test_the_bed_of_one_piece_twists_and_does_not_tilt():
    """G J / (l h²) by hand."""
    e = evaluate(demo())
    by_hand = e["bed_shear_modulus"] * e["bed_torsion"] / (e["loop_length"] * e["twist_lever"] ** 2)
    assert e["bar_spacing"] == 0 and e["bed_turning_stiffness"] == pytest.approx(by_hand)


# --- what the jobs ask ----------------------------------------------------------------------------------
def jobs(*written: dict) -> Jobs:
    plain_job = {
        "name": "part",
        "material": "mild steel",
        "length": "50 mm",
        "tolerance": "50 µm",
        "roughness": "3.2 µm",
        "share": "0.5",
    }
    return Jobs(Job.read(plain_job | one) for one in written)


def asked(name: str, *written: dict, **inputs):
    return worked(name, jobs=jobs(*written), **inputs)


def test_the_largest_shaft_leaves_discs_out_and_may_be_missing():
    disc, shaft = {"diameter": "120 mm", "length": "20 mm"}, {"diameter": "30 mm", "length": "100 mm"}
    assert asked("largest_shaft", disc, shaft, hand_rest="none") == pytest.approx(30) and asked(
        "largest_disc", disc, shaft
    ) == pytest.approx(120)
    assert asked("largest_shaft", disc, hand_rest="none") == 0
    leg = {"diameter": "80 mm", "length": "100 mm", "material": "hardwood"}
    assert asked("largest_shaft", leg, shaft, hand_rest="in the toolpost") == pytest.approx(80)
    assert asked("largest_shaft", leg, shaft, hand_rest="on the bed") == pytest.approx(30)


def test_the_extremes_of_the_list_are_found():
    list_of = [
        {"diameter": "30 mm", "length": "140 mm", "bar": "12 mm", "pitch": "1.5 mm", "tolerance": "20 µm"},
        {"diameter": "30 mm", "length": "90 mm", "bar": "16 mm", "pitch": "2 mm"},
    ]
    for name, expected in (("longest_job", 140), ("thickest_bar", 16), ("coarsest_pitch", 2), ("tightest_tolerance", 20)):
        assert asked(name, *list_of) == pytest.approx(expected), name


def test_the_jobs_ask_for_speeds_by_material_and_diameter():
    """v / (π d), with the likely speed of the table for each job's own material."""
    bronze, brass = (likely(table("materials")[name]["speed_hss"]) * 60 for name in ("bronze", "brass"))
    list_of = [
        {"material": "bronze", "diameter": "120 mm", "smallest": "80 mm"},
        {"material": "brass", "diameter": "20 mm", "smallest": "10 mm"},
    ]
    assert asked("slowest_wanted", *list_of, tool_material="high-speed steel") == pytest.approx(bronze / (np.pi * 0.12))
    assert asked("fastest_wanted", *list_of, tool_material="high-speed steel") == pytest.approx(brass / (np.pi * 0.01))
    carbide = likely(table("materials")["brass"]["speed_carbide"]) * 60
    assert asked("fastest_wanted", *list_of, tool_material="carbide") == pytest.approx(carbide / (np.pi * 0.01))


def test_wood_is_turned_with_steel_tools_even_where_carbide_is_chosen():
    wood = {"material": "hardwood", "diameter": "60 mm"}
    assert (
        asked("fastest_wanted", wood, tool_material="carbide")
        == asked("fastest_wanted", wood, tool_material="high-speed steel")
        > 0
    )


def test_the_finish_is_asked_by_the_job_that_comes_out_worst_against_it():
    """Brass is held finer without trouble; mild steel from a slow tool is not, though it asks for less. Wood is finished with paper."""
    floor = {name: likely(table("finishes")[name]["hss"]) * 1e6 for name in ("mild steel", "brass")}
    list_of = [
        {"diameter": "20 mm", "material": material, "roughness": wish}
        for material, wish in (("mild steel", "1.6 µm"), ("brass", "0.8 µm"), ("hardwood", "0.1 µm"))
    ]
    given = {
        "work_material": "mild steel",
        "tool_material": "high-speed steel",
        "ideal_roughness": "0.1 µm",
        "roughness_rise": "1.25",
    }
    own = {**given, "roughness_floor": f"{floor['mild steel']} µm"}
    assert asked("roughness_asked", *list_of, **own) == pytest.approx(1.6) and asked(
        "finish_floor", *list_of, **own
    ) == pytest.approx(floor["mild steel"])
    finer = {"diameter": "20 mm", "material": "brass", "roughness": "0.1 µm"}
    assert asked("roughness_asked", *list_of, finer, **own) == pytest.approx(0.1)
    assert asked("finish_floor", *list_of, finer, **own) == pytest.approx(floor["brass"])
    assert asked("roughness_asked", list_of[2], **own) == pytest.approx(0.1), (
        "a list of wood alone is held against the hardest material"
    )


def test_what_moves_force_and_quiet_running_moves_them_as_a_turner_knows():
    """More than a reader would overlook, each by itself on the boat shed."""

    def change(name, **changed):
        return evaluate(demo("boat_shed").trying(**changed))[name] / evaluate(demo("boat_shed"))[name]

    assert change("cutting_force", edge_state="worn") > 1.08 and change("rough_radial_force", edge_state="worn") > 1.25
    assert (
        change("rough_radial_force", edge_state="freshly sharpened") < 0.75
        and change("drilling_thrust", edge_state="freshly sharpened") < 0.9
    )
    assert change("chatter_free_width", edge_state="freshly sharpened") > 1.5, "hone it first"
    assert change("chatter_free_width", nose_radius=0.2e-3) > 1.3 and change("finish_radial_force", nose_radius=3e-3) > 1.3, (
        "a round nose pushes and shakes"
    )
    assert change("rough_radial_force", entering_angle=np.radians(45)) > 1.2
    assert (
        change("chatter_free_width", work_support="chuck and centre") > 1.2
        and change("chatter_free_width", work_length=0.03) > 1.2
    )
    assert change("ideal_roughness", finish_feed=0.02e-3) < 0.3 and change("practical_roughness", finish_feed=0.02e-3) > 0.85, (
        "a fine feed does not go below what the metal tears"
    )
    assert change("practical_roughness", tool_material="carbide") < 0.8


def test_the_form_and_the_metal_of_the_bed_damp():
    """A fill quiets; grey iron a little; and the ranges overlap, for joints and slides give most of it."""
    box, filled, iron, bars = (
        LATHE.figures["damping"].standard(*bed)
        for bed in (
            ("closed box", "mild steel"),
            ("filled box", "mild steel"),
            ("closed box", "grey cast iron"),
            ("two round bars", "mild steel"),
        )
    )
    assert bars.likely < box.likely < iron.likely < filled.likely and bars.high > filled.low
    assert (
        evaluate(demo("boat_shed"))["chatter_free_width"]
        > 1.2 * evaluate(demo("boat_shed").trying(bed_form="closed box"))["chatter_free_width"]
    )


def test_torque_is_asked_by_the_job_that_needs_most_not_by_the_largest_piece_of_wood():
    wood, pin = {"material": "hardwood", "diameter": "110 mm"}, {"material": "mild steel", "diameter": "20 mm"}
    assert asked("torque_diameter", wood, pin, work_material="mild steel") == pytest.approx(20)
    assert asked("torque_diameter", wood, work_material="mild steel") == 0
    soft, hard = (likely(table("materials")[name]["kc11"]) for name in ("bronze", "mild steel"))
    bush = {"material": "bronze", "diameter": "90 mm"}
    assert asked("torque_diameter", bush, pin, work_material="mild steel") == pytest.approx(90 * soft / hard)


def test_the_share_that_fits_counts_swing_length_and_bore():
    size = {
        "hand_rest": "none",
        "swing_over_slide": "60 mm",
        "swing_over_bed": "100 mm",
        "between_centres": "150 mm",
        "spindle_bore": "10 mm",
        "disc_clearance": "3 mm",
    }
    fits, no_clearance = (
        {"diameter": "94 mm", "length": "10 mm", "share": "0.3"},
        {"diameter": "95 mm", "length": "10 mm", "share": "0.1"},
    )
    too_thick, too_long = (
        {"diameter": "61 mm", "length": "60 mm", "share": "0.1"},
        {"diameter": "20 mm", "length": "151 mm", "share": "0.1"},
    )
    no_bar, passes = {"diameter": "20 mm", "bar": "10 mm", "share": "0.2"}, {"diameter": "20 mm", "bar": "9.5 mm", "share": "0.2"}
    assert asked("share_that_fits", fits, no_clearance, too_thick, too_long, no_bar, passes, **size) == pytest.approx(50)
    assert asked("share_that_fits", passes, **size) == 100 and asked("share_that_fits", too_long, **size) == 0


# --- figures looked up --------------------------------------------------------------------------------------
def test_what_is_said_of_a_size_of_the_table_is_the_table():
    row = table("sizes")["middle"]
    e = evaluate(demo().trying(centre_height=row["centre_height"], between_centres=row["between_centres_likely"]))
    for name in ("used_price", "used_hours"):
        assert e[name] == pytest.approx(middling(row[name])), name
    for figure in ("mass", "hours", "money"):
        assert e["said_of_the_size"][figure] == pytest.approx(row[figure]), figure


def test_looked_up_figures_follow_their_decision():
    steel, iron = (evaluate(demo().trying(bed_material=one)) for one in ("mild steel", "grey cast iron"))
    assert steel["bed_modulus"] == table("materials")["mild steel"]["elastic_modulus"] != iron["bed_modulus"]
    balls, bronze = (table("bearings")[kind]["stiffness"].likely for kind in ("deep groove", "plain bronze"))
    assert (
        evaluate(demo().trying(bearing_kind="plain bronze"))["front_stiffness"] == pytest.approx(bronze, rel=0.35)
        and balls > bronze
    )
    whole = demo().trying(moved_as="whole")
    assert evaluate(whole.trying(top_of_slide="solid block"))["top_link"] == middling(
        table("links")["solid block"]["sideways"]
    ), "no way tells of a block"


def test_the_condition_of_the_cut_runs_from_a_sharp_tool_to_a_worn_one():
    rows = table("tool_conditions")
    for tool, sharp, worn in (
        ("carbide", "carbide, sharp, about 100 m/min", "carbide, worn"),
        ("high-speed steel", "high-speed steel, sharp, 15 to 50 m/min", "high-speed steel, worn, 15 to 50 m/min"),
    ):
        for figure, column in (("cut_condition", "factor"), ("thrust_share", "thrust"), ("process_damping", "process_damping")):
            honed, dull = rows[sharp][column], rows[worn][column]
            found = LATHE.figures[figure].standard(tool, "in use")
            assert (found.low, found.high) == (honed.low, dull.high) and honed.likely < found.likely < dull.likely
            assert (
                LATHE.figures[figure].standard(tool, "freshly sharpened") == honed
                and LATHE.figures[figure].standard(tool, "worn") == dull
            )
    assert LATHE.figures["drill_condition"].standard("worn") == rows["high-speed steel, worn, 15 to 50 m/min"]["drill"]


@every("figure", [f for f in LATHE.figures.values() if f.lookup is None])
def test_a_standing_figure_is_in_the_unit_of_its_kind(figure: Figure):
    value = figure.standard()
    assert units.in_unit(likely(value), figure.kind) == pytest.approx(likely(figure.value))
    if isinstance(value, Range):
        assert value.low <= value.likely <= value.high


def test_a_body_uses_all_that_it_is_given():
    """A name that a body asks for and does not use is one that stands where another is meant, and an arrow in the chain that leads nowhere."""
    idle = {}
    for name, result in LATHE.results.items():
        body = inspect.unwrap(result.body)
        if result.formula is None and inspect.isfunction(body):
            (told, *_) = (
                one for one in ast.walk(ast.parse(textwrap.dedent(inspect.getsource(body)))) if isinstance(one, ast.FunctionDef)
            )
            used = {one.id for one in ast.walk(told) if isinstance(one, ast.Name) and isinstance(one.ctx, ast.Load)}
            if lost := {one.arg for one in (*told.args.args, *told.args.kwonlyargs)} - used:
                idle[name] = lost
    assert not idle


# --- workings in place -------------------------------------------------------------------------------------
@pytest.mark.parametrize("start", DEMOS)
def test_every_formula_in_the_chain_has_a_working_that_comes_to_the_value_shown(start):
    e = evaluate(demo(start))
    for name, result in LATHE.results.items():
        if result.formula is None:
            continue
        (working,) = e.workings(name)
        assert_allclose(working.result, e[name], rtol=1e-12)
        assert working._repr_markdown_().count("$$") == 2 and "nan" not in working.numbers
        told = working.table()
        assert all(meaning and plain(meaning) for _, meaning, _ in told) and told[-1][1] == result.label
        for key, source in result.renamed.items():
            assert any(meaning == LATHE.part(source).label for _, meaning, _ in told), key
