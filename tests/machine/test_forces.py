"""A cut followed through the formulas, and what the ranges of the tables make of it."""

import pytest

from lathe_course.machine import cutting_speeds, forces
from lathe_course.ranges import Range
from lathe_course.tables import table
from lathe_course.units import registry


def force_of(kc11, exponent, condition, depth=1e-3, feed=1e-4):
    kc = forces.specific_cutting_force.si(kc11, feed, exponent)
    return forces.cutting_force.si(kc, depth, feed, condition)


def test_a_light_cut_in_medium_carbon_steel():
    """Half a millimetre deep at 0.1 mm a turn: 153 N and 77 W at 30 m/min (reworked on paper from the published constants)."""
    force = force_of(2220e6, 0.14, 1.0, depth=0.5e-3)
    assert force == pytest.approx(153.2, rel=2e-3)
    assert forces.cutting_power.si(force, 0.5) == pytest.approx(76.6, rel=2e-3)


def test_a_heavier_cut_in_the_same_steel():
    """Two millimetres deep at 0.2 mm a turn and 100 m/min: 2781 N/mm², 1112 N, 1.854 kW (reworked on paper)."""
    kc = forces.specific_cutting_force.si(2220e6, 0.2e-3, 0.14)
    assert kc / 1e6 == pytest.approx(2781, rel=1e-3)
    force = forces.cutting_force.si(kc, 2e-3, 0.2e-3, 1.0)
    assert force == pytest.approx(1112, rel=1e-3)
    assert forces.cutting_power.si(force, 100 / 60) == pytest.approx(1854, rel=1e-3)


def test_a_horsepower_a_cubic_inch_a_minute_is_a_cutting_force():
    """The unit power of the inch books is the specific cutting force in other clothes: 1 hp·min/in³ is 2.73 N·m per mm³."""
    unit_power = registry().Quantity(1.47, "hp*min/in**3")
    assert unit_power.to("N/mm**2").magnitude == pytest.approx(4013.5, rel=1e-4)
    force = forces.cutting_force(unit_power, "0.01 in", "0.02 in")
    assert force.to("lbf").magnitude == pytest.approx(116.4, abs=0.1)


def test_a_sloping_edge_thins_the_chip_and_raises_the_force():
    square = forces.chip_thickness("0.2 mm", "90 deg"), forces.chip_width("1 mm", "90 deg")
    slope = forces.chip_thickness("0.2 mm", "45 deg"), forces.chip_width("1 mm", "45 deg")
    assert (slope[0] * slope[1]).to("mm**2").magnitude == pytest.approx((square[0] * square[1]).to("mm**2").magnitude)
    force = [
        forces.cutting_force(forces.specific_cutting_force("2220 N/mm²", h, 0.14), b, h).magnitude for h, b in (square, slope)
    ]
    assert force[1] == pytest.approx(force[0] * 2 ** (0.14 / 2))


def test_high_speed_steel_asks_for_more_than_the_published_constants():
    row, conditions = table("materials")["mild steel"], table("tool_conditions")
    sharp, worn = (conditions[f"high-speed steel, {edge}, 15 to 50 m/min"]["factor"] for edge in ("sharp", "worn"))
    likely = [force_of(row["kc11"].likely, row["exponent"].likely, condition) for condition in (1.0, sharp.likely, worn.likely)]
    assert likely[0] < likely[1] < likely[2]
    spread = Range(
        *(
            force_of(getattr(row["kc11"], end), getattr(row["exponent"], end), getattr(sharp, end))
            for end in ("low", "likely", "high")
        )
    )
    assert spread.low < spread.likely < spread.high
    assert spread.low > 150 and spread.high < 600


def test_power_by_torque_is_power_by_force():
    speed = cutting_speeds.spindle_speed("28 m/min", "60 mm")
    torque = forces.cutting_torque("362 N", "60 mm")
    power = forces.cutting_power("362 N", "28 m/min")
    assert forces.torque(power, speed).to("N*m").magnitude == pytest.approx(torque.to("N*m").magnitude)
