"""Pages of chapters 04 and 05: their figures are the formulas' and the chain's, and what cannot be is told in words."""

import re
from dataclasses import replace

import numpy as np
import pytest
from cases import every

from lathe_course.course.pages import PAGES
from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.evaluation import evaluate
from lathe_course.machine import belts
from lathe_course.units import InputProblem, Length, read


def told(name, design=None, **asked):
    return PAGES[name](evaluate(design or demo()), **asked).plain


@every("name", ["drive_kinds", "belt_kinds", "pulleys", "job_torque", "tool_conditions"])
@every("start", DEMOS)
@every("system", ["mm", "inch"])
def test_each_page_reads_well_for_every_demo(name, start, system):
    evaluation = evaluate(replace(demo(start), system=system), draws=30)
    page = PAGES[name](evaluation)
    assert page.plain and not re.search(r"\bnan\b|\binf\b|None|_|  $", page.plain)
    assert page.markup.count("<tr>") == page.markup.count("</tr>") > 2


def test_the_pulleys_are_those_that_share_the_belt():
    e = evaluate(demo("shared_barn"))
    rows = [line for line in told("pulleys", demo("shared_barn")).splitlines() if re.match(r"\d ", line)]
    assert len(rows) == 4
    for row, driving, driven in zip(rows, e["belt_pulleys"]["driving"], e["belt_pulleys"]["driven"]):
        assert [read(f"{one} mm", Length("mm")) for one in re.findall(r"([\d.]+) mm", row)] == pytest.approx(
            [driving, driven], rel=2e-3
        )
        assert belts.belt_length.si(driven, driving, e["belt_centres"]) == pytest.approx(e["belt_length"], rel=1e-9)


def test_a_belt_one_can_buy_sets_the_shafts():
    said = told("pulleys", belt="710 mm")
    assert "A belt of 710 mm sets the shafts 214.4 mm apart; you decided on 220 mm." in said


@pytest.mark.parametrize(
    ("belt", "complaint"),
    [("200 mm", "The belt is too short: it does not go round both pulleys"), ("710", "has no unit"), ("3 kg", "length")],
)
def test_a_belt_that_cannot_be_is_refused_in_words(belt, complaint):
    with pytest.raises(InputProblem, match=complaint):
        told("pulleys", belt=belt)


def test_pulleys_that_cannot_share_one_belt_are_told_by_step():
    said = told("pulleys", demo().trying(driving_pulley_2=0.3))
    assert "Step 2: The belt is too short: at these centres it does not even reach round the one pulley" in said
    assert "run into each other" in told("pulleys", demo().trying(belt_centres=0.08))
    assert evaluate(demo().trying(driving_pulley_2=0.3)).findings["pulleys_share_belt"].status == "fails"


def test_each_job_finds_the_torque_of_the_chain():
    e = evaluate(demo())
    lines = told("job_torque").splitlines()[1:]
    assert len(lines) == len(e["jobs"])
    ratios = e["job_turning"]["torque"] / np.maximum(e["job_turning"]["asked"], 1e-12)
    assert f"{ratios.min():.1f} times" in lines[int(np.argmin(ratios))] and e["pace_torque"] / e["pace_asked"] == pytest.approx(
        ratios.min()
    )
    assert sum("asks next to nothing" in line for line in lines) == 2  # acetal and wood
    weak = told("job_torque", demo().trying(motor_power=180.0))
    assert "%: slower, or a lighter cut" in weak


def test_the_tools_are_held_against_the_printed_constants():
    said = told("tool_conditions")
    assert "yours" in next(line for line in said.splitlines() if line.startswith("high-speed steel, sharp"))
    assert "not the 100 m/min of the printed constants" in said and "thinner than the 0.05 mm" not in said
    assert "thinner than the 0.05 mm" in told("tool_conditions", demo().trying(feed=0.03e-3))
    worn = told("tool_conditions", demo().trying(edge_state="worn"))
    assert [line.split(",")[1].strip() for line in worn.splitlines() if "yours" in line] == [
        "worn"
    ] and "high-speed steel, worn." in worn
