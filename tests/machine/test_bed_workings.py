"""What is shown on the blackboard is what the section hands out."""

import pytest
from cases import every

from lathe_course.machine import bed
from lathe_course.machine.bed_forms import FORMS, section
from lathe_course.machine.bed_workings import section_formulas, twist_formulas

SHAPE = 0.12, 0.04, 0.012, 0.1


@every("form", FORMS)
def test_every_figure_worked_is_a_figure_of_the_section_or_a_part_of_it(form):
    figures = section(form, *SHAPE)
    worked = {formula.name: formula.si(**values) for formula, values in section_formulas(form, *SHAPE)}
    for formula, values in section_formulas(form, *SHAPE):
        assert not formula.broken(values) and set(values) == set(formula.inputs)
    parts = [value for name, value in worked.items() if "torsion" in name and name not in ("tube_torsion", "box_torsion" if form == "filled box" else "")]
    assert sum(parts) == pytest.approx(figures["torsion"])
    vertical = [value for name, value in worked.items() if "vertical_moment" in name]
    assert sum(vertical) == pytest.approx(figures["vertical"])


def test_only_a_bed_of_one_piece_twists_as_one():
    values = {"bed_shear_modulus": 79.3e9, "bed_torsion": 5e-6, "loop_length": 0.16, "twist_lever": 0.115, "cutting_force": 250.0}
    (angle, put), (stiffness, more) = twist_formulas("closed box", values)
    assert (angle, stiffness) == (bed.twist_angle, bed.bed_twist_stiffness)
    # push over stiffness is lever times angle
    assert 250.0 / stiffness.si(**more) == pytest.approx(0.115 * angle.si(**put))
    assert twist_formulas("two round bars", values) == [] == twist_formulas("rails with cross ribs", values)
