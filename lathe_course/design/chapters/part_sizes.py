"""Chapter 10, ground floor: the sizes that drive the parts, from what was decided in chapters 02 to 09, and what the parts weigh.

Everything here rests on decisions and on figures that are certain, so that the same parts weigh the same in every
draw but for the judged powers.  Where a rule of proportion is needed it is that of the row of the list.
"""

import numpy as np

from ...formula import possible
from ...machine import bed
from ...planning import scaling
from ...planning.drivers import DRIVERS
from ...ranges import likely
from ...tables import table
from ...units import Area, Count, Current, Length, Mass, Ratio, Volume
from ..chain.entries import Result, result
from ..chain.wheel_set import wheels_of

CHAPTER = "10"
#: width of one step of a pulley by the kind of belt [m]: common practice, no source
_STEP_WIDTH = {"V-belt": 0.016, "ribbed belt": 0.020, "flat belt": 0.025, "round belt": 0.010}
#: work of fitting one kind of ways over that of flat ones; common practice, no source
_SLIDE_WORK = {"flat ways with gibs": 1.0, "V ways": 1.25, "dovetail": 1.2, "round bars with bushes": 1.0, "profiled rails": 1.0}
#: work and price of a feed nut over those of a plain bronze one; common practice, no source
_NUT_WORK = {"plain bronze": 1.0, "plain cast iron": 0.9, "split bronze": 1.4, "two bronze nuts": 1.8, "formed acetal": 0.7}
#: price of tools with their holders over that of high-speed steel; common practice, no source
_TOOL_COST = {"high-speed steel": 1.0, "carbide": 1.8}
#: work of the feet over that of three; common practice, no source
_FEET_WORK = {"three feet": 1.0, "four feet standing free": 1.3, "four feet bolted down": 1.6}
#: setting of the bearings over that with one nut; common practice, no source
_ARRANGEMENT_WORK = {"back to back": 1.0, "face to face": 1.5}
#: work of turning the nose into a spindle over that of a plain end for a flange; common practice, no source
_NOSE_WORK = {"thread": 1.1, "thread and lock": 1.12, "bolted flange": 1.0, "taper and drawbar": 0.95}
#: price of the tools by what is turned most, and of centres by how work is held, over those of the list; common practice, no source
_WORK_COST = {
    "free-cutting steel": 0.9,
    "alloy steel": 1.15,
    "austenitic stainless steel": 1.25,
    "brass": 0.8,
    "bronze": 0.85,
    "aluminium alloy": 0.85,
}
_CENTRE_COST = {"chuck alone": 0.8, "chuck and centre": 1.0, "between centres": 1.6, "faceplate": 0.8}
_QUARTER = np.pi / 4


# --- bed -------------------------------------------------------------------------------------------------
def _bar_mass(area, length, density):
    return bed.bed_mass.si(bed.bed_mass_per_length.si(area, density), length)


@result(Mass("kg"), "mass of the bare metal of the bed", CHAPTER)
def bed_metal_mass(bed_section, bed_density, bed_length):
    """Metal of the section over the length of the bed, without fill, profiled rails, plate on top, end plates and feet."""
    return _bar_mass(bed_section["area"], bed_length, bed_density)


@result(Mass("kg"), "mass of the fill of the bed", CHAPTER)
def bed_fill_mass(bed_section, fill_density, bed_length):
    """The hollow of the section over the length of the bed, full of mineral fill."""
    return _bar_mass(bed_section["fill_area"], bed_length, fill_density)


@result(Mass("kg"), "mass of the bar for the plate of the bed", CHAPTER, source="common_practice, thickness of a plate on a box")
def bed_plate_mass(bed_form, bed_width, bed_height, bed_wall, centre_height, bed_density, bed_length):
    """As thick as the bed is high where the plate is the bed, as the wall under round bars, and a third of the centre height on a box."""
    thick = (
        bed_height
        if bed_form in ("plate", "profiled rails on a plate")
        else bed_wall
        if bed_form == "round bars on a plate"
        else centre_height / 3
    )
    return _bar_mass(bed_width * thick, bed_length, bed_density)


@result(Mass("kg"), "mass of two round bars as high as the bed", CHAPTER)
def bed_bars_mass(bed_height, bed_density, bed_length):
    """Two bars as thick as the height, as long as the bed."""
    return _bar_mass(2 * _QUARTER * bed_height**2, bed_length, bed_density)


@result(Mass("kg"), "mass of two flat rails as high as the bed", CHAPTER)
def bed_rails_mass(bed_wall, bed_height, bed_density, bed_length):
    """Two bars on edge, as thick as the wall and as high as the bed."""
    return _bar_mass(2 * bed_wall * bed_height, bed_length, bed_density)


@result(Mass("kg"), "mass of the ribs between the rails", CHAPTER)
def bed_ribs_mass(bed_form, bed_metal_mass, bed_rails_mass):
    """What the section holds beyond its rails; nothing in a bed without ribs."""
    return bed_metal_mass - bed_rails_mass if bed_form.startswith("rails with") else 0.0 * bed_metal_mass


@result(Area("mm²"), "top of the bed, to be made flat", CHAPTER)
def bed_top_area(bed_width, bed_length):
    """Width and length over all."""
    return bed_width * bed_length


@result(Area("mm²"), "end of the bed", CHAPTER)
def bed_end_area(bed_width, bed_height):
    """What an end plate covers."""
    return bed_width * bed_height


# --- headstock and spindle -----------------------------------------------------------------------------------
@result(Length("mm"), "outside diameter of the bearings", CHAPTER, source="common_practice, table of bearings")
def bearing_outside(spindle_diameter, bearing_mean_ratio):
    """As far beyond the mean diameter as the seat lies within it; a bush has its wall instead."""
    return spindle_diameter * np.maximum(2 * bearing_mean_ratio - 1, 1.43)


@result(Length("mm"), "length of the headstock", CHAPTER, source="common_practice, proportions of the list")
def headstock_length(bearing_span, bearing_width, centre_height):
    """From the middle of one bearing to that of the other, one bearing's width, and walls beside them."""
    return bearing_span + bearing_width + 0.16 * centre_height


@result(Length("mm"), "width of the headstock", CHAPTER, source="common_practice, proportions of the list")
def headstock_width(centre_height, bearing_outside):
    """Front to back: the bearing and half a centre height."""
    return bearing_outside + 0.5 * centre_height


@result(Length("mm"), "height of the headstock", CHAPTER, source="common_practice, proportions of the list")
def headstock_height(centre_height, bearing_outside):
    """Up to the axis, half the bearing and a wall above it."""
    return 1.19 * centre_height + bearing_outside / 2


@result(Volume("cm³"), "block the headstock is cut from", CHAPTER, source="common_practice, proportions of the list")
def headstock_block(headstock_width, headstock_height, headstock_length):
    """Width, height and length of its outside."""
    return headstock_width * headstock_height * headstock_length


@result(Length("mm"), "length of the spindle over all", CHAPTER, source="common_practice, proportions of the list")
def spindle_length(spindle_overhang, bearing_span, pulley_overhang, centre_height):
    """Nose, span and tail, and as much more as pulley, gear and nuts take at its end."""
    return spindle_overhang + bearing_span + pulley_overhang + 1.2 * centre_height


@result(Length("mm"), "hole through the spindle, to be drilled", CHAPTER, source="common_practice, a hole for a drawbar at least")
def spindle_hole(spindle_bore):
    """The bore, or a quarter of an inch where no bar shall pass."""
    return np.maximum(spindle_bore, 6.35e-3)


@result(Volume("cm³"), "bar the spindle is turned from", CHAPTER)
def spindle_blank(spindle_diameter, spindle_length):
    """A bar ten sevenths as thick as the seats, for the shoulder of the nose."""
    return _QUARTER * (spindle_diameter / 0.7) ** 2 * spindle_length


@result(Volume("cm³"), "metal of a plain spindle", CHAPTER)
def spindle_metal(spindle_diameter, spindle_bore, spindle_length):
    """A tube as thick as the seats and as long as the spindle."""
    return possible(spindle_bore < spindle_diameter, _QUARTER * (spindle_diameter**2 - spindle_bore**2) * spindle_length)


@result(Ratio(), "work of the spindle over that of one with a flange", CHAPTER, source="common_practice, work by kind of nose")
def nose_work(nose_kind):
    """A thread with its register is cut and tried again and again; where the taper holds the chuck, the end stays plain."""
    return _NOSE_WORK[nose_kind]


# --- drive ---------------------------------------------------------------------------------------------------
@result(Count(), "steps of the belt pulleys", CHAPTER)
def belt_step_count(belt_steps):
    """As a number."""
    return float(belt_steps)


@result(Length("mm"), "width of all steps of a pulley", CHAPTER, source="common_practice, width by kind of belt")
def pulley_stack(belt_kind, belt_step_count):
    """One groove or face beside the other."""
    return _STEP_WIDTH[belt_kind] * belt_step_count


@result(Length("mm"), "largest step of the spindle pulley", CHAPTER)
def largest_driven(belt_pulleys):
    """Over all steps in use."""
    return np.fmax.reduce(belt_pulleys["driven"], axis=-1)


@result(Length("mm"), "largest driving pulley", CHAPTER)
def largest_driving(belt_pulleys):
    """Over all steps in use."""
    return np.fmax.reduce(belt_pulleys["driving"], axis=-1)


def _steps_metal(diameters, stack, count):
    return _QUARTER * np.nansum(diameters**2, axis=-1) * stack / count


@result(Volume("cm³"), "disc the spindle pulley is turned from", CHAPTER)
def spindle_pulley_blank(largest_driven, pulley_stack):
    """As thick as its largest step, as wide as all of them."""
    return _QUARTER * largest_driven**2 * pulley_stack


@result(Volume("cm³"), "steps of the spindle pulley", CHAPTER)
def spindle_pulley_metal(belt_pulleys, pulley_stack, belt_step_count):
    """Each step as a full disc."""
    return _steps_metal(belt_pulleys["driven"], pulley_stack, belt_step_count)


@result(Volume("cm³"), "steps of the driving pulley", CHAPTER)
def driving_pulley_metal(belt_pulleys, pulley_stack, belt_step_count):
    """Each step as a full disc."""
    return _steps_metal(belt_pulleys["driving"], pulley_stack, belt_step_count)


# --- carriage and tailstock ------------------------------------------------------------------------------------
@result(Volume("cm³"), "block of the saddle", CHAPTER)
def saddle_block(bed_width, saddle_length, slide_height):
    """Width of the bed, length of the guide and height of the slide."""
    return bed_width * saddle_length * slide_height


@result(Area("mm²"), "underside of the saddle", CHAPTER)
def saddle_area(bed_width, saddle_length):
    """Width of the bed and length of the guide."""
    return bed_width * saddle_length


@result(Area("mm²"), "faces of the saddle that slide", CHAPTER)
def saddle_ways(way_width, saddle_length):
    """Two faces along the saddle."""
    return 2 * way_width * saddle_length


@result(
    Ratio(),
    "work of fitting these slideways over that of flat ones",
    CHAPTER,
    source="common_practice, work by kind of slideways",
)
def slide_work(slide_kind):
    """V ways and dovetails have more faces, each to be fitted to the other."""
    return _SLIDE_WORK[slide_kind]


@result(Length("mm"), "length of the cross-slide with its travel", CHAPTER)
def cross_slide_reach(cross_slide_length, cross_slide_travel):
    """So long is the piece that guides it."""
    return cross_slide_length + cross_slide_travel


@result(Area("mm²"), "top of the cross-slide", CHAPTER)
def cross_slide_area(cross_slide_reach, saddle_length):
    """With its travel, as wide as the saddle is long."""
    return cross_slide_reach * saddle_length


@result(Length("mm"), "length of the cross screw", CHAPTER, source="common_practice, proportions of the list")
def cross_screw_length(cross_slide_travel, centre_height):
    """Travel, and two centre heights for nut, bearing and handle."""
    return cross_slide_travel + 2 * centre_height


@result(Volume("cm³"), "metal of the cross screw", CHAPTER)
def cross_screw_metal(cross_screw_diameter, cross_screw_length):
    """Square of the diameter times the length, in proportion to the bar."""
    return cross_screw_diameter**2 * cross_screw_length


@result(Ratio(), "work of the cross nut over that of a plain one", CHAPTER, source="common_practice, work by kind of nut")
def cross_nut_work(cross_nut):
    """A second or a slit nut takes longer, one formed of acetal is quick."""
    return _NUT_WORK[cross_nut]


@result(Ratio(), "work and stock of the half nuts over those of bronze", CHAPTER, source="common_practice, table of half nuts")
def leadscrew_nut_work(leadscrew_nut):
    """Iron is cheaper and cuts easily; acetal is formed and not cut."""
    return table("leadscrew_nuts")[leadscrew_nut]["work"]


@result(Ratio(), "work of the feet over that of three", CHAPTER, source="common_practice, work by kind of feet")
def feet_work(feet):
    """A fourth foot has its screw, and all four are set again and again; bolted down, the floor is drilled as well."""
    return _FEET_WORK[feet]


@result(Volume("cm³"), "metal of the leadscrew", CHAPTER)
def leadscrew_metal(leadscrew_diameter, bed_length):
    """Square of the diameter times the length of the bed, in proportion to the bar."""
    return leadscrew_diameter**2 * bed_length


@result(Volume("cm³"), "block of the tailstock", CHAPTER)
def tailstock_block(barrel_diameter, centre_height, tailstock_base):
    """Barrel, height of the axis and length of the base."""
    return barrel_diameter * centre_height * tailstock_base


@result(Area("mm²"), "foot of the tailstock", CHAPTER)
def tailstock_foot(bed_width, tailstock_base):
    """Width of the bed and length of the base."""
    return bed_width * tailstock_base


@result(Length("mm"), "length of the barrel", CHAPTER, source="common_practice, proportions of the list")
def barrel_length(barrel_overhang, centre_height):
    """What stands out, and nearly a centre height inside."""
    return barrel_overhang + 0.93333 * centre_height


@result(Volume("cm³"), "metal of the barrel", CHAPTER)
def barrel_metal(barrel_diameter, barrel_length):
    """Square of the diameter times the length, in proportion to the bar."""
    return barrel_diameter**2 * barrel_length


# --- wheels and tools --------------------------------------------------------------------------------------------
@result(Count(), "number of change gears in the set", CHAPTER)
def wheel_count(change_wheels):
    """How many there are."""
    return float(max(len(wheels_of(change_wheels)), 1))


@result(Count(), "teeth of a change gear on average", CHAPTER)
def wheel_teeth(change_wheels):
    """All teeth of the set over the number of wheels."""
    teeth = wheels_of(change_wheels)
    return sum(teeth) / max(len(teeth), 1) or 1.0


@result(Volume("cm³"), "discs of the change gears", CHAPTER, source="common_practice, faces ten modules wide")
def wheel_metal(change_wheels, wheel_module):
    """Each as wide over its teeth as it is, ten modules thick."""
    return sum(
        (_QUARTER * ((teeth + 2) * wheel_module) ** 2 * 10 * wheel_module for teeth in wheels_of(change_wheels)),
        start=0.0 * wheel_module,
    )


@result(Ratio(), "price of the tools over that of high-speed steel", CHAPTER, source="common_practice, prices of tools")
def tool_cost(tool_material, work_material):
    """Inserts and their holders beside ground bits, and what tough work eats beside what soft work does."""
    return _TOOL_COST[tool_material] * _WORK_COST.get(work_material, 1.0)


@result(Ratio(), "price of the centres over that of the list", CHAPTER, source="common_practice, prices of tools")
def centre_cost(work_support):
    """Between centres there are two of them, with a dog and a plate to drive it."""
    return _CENTRE_COST[work_support]


@result(Current("A"), "power of the motor over the voltage of the supply", CHAPTER)
def drive_current(motor_power, supply_voltage):
    """What switch, contactor and cable are chosen by."""
    return motor_power / supply_voltage


@result(Ratio(), "larger gear over smaller, from spindle to change gears", CHAPTER)
def gear_pair(spindle_gear_ratio):
    """Alike where both turn alike."""
    return np.maximum(spindle_gear_ratio, 1 / spindle_gear_ratio)


@result(
    Ratio(), "work of setting the bearings over that with one nut", CHAPTER, source="common_practice, setting by nut or by shims"
)
def arrangement_work(bearing_arrangement):
    """Face to face they are set by shims under their covers, a few tries for each."""
    return _ARRANGEMENT_WORK[bearing_arrangement]


# --- all together ------------------------------------------------------------------------------------------------
def _sizes(centre_height, between_centres, *sizes):
    """Logarithms of all measures that drive parts, shape (..., measures), ready for growth."""
    return scaling.logs_of({"between_centres": between_centres, **dict(zip(DRIVERS, sizes)), "centre_height": centre_height})


part_sizes = Result(
    "part_sizes",
    "sizes that drive the parts",
    None,
    CHAPTER,
    _sizes,
    ("centre_height", "between_centres", *DRIVERS),
    source=("definition",),
)


def told_sizes(values) -> dict[str, float]:
    """The same measures by name, for a list to be taken to them; of several values the middle one, and none of what there is nothing of."""
    found = {name: float(np.median(likely(values[name]))) for name in ("centre_height", "between_centres", *DRIVERS)}
    return {name: value for name, value in found.items() if value > 0}


@result(None, "masses of the parts", CHAPTER, source="common_practice, table of parts, drivers and laws")
def part_masses(parts_list, part_sizes, power_of_mass):
    """Mass of each part as stock and finished, shape (..., parts), and their names."""
    of = scaling.masses(parts_list)
    return {"names": of.names, **scaling.mass_growth(of, part_sizes, {"mass": power_of_mass})}


RESULTS = [
    bed_metal_mass,
    bed_fill_mass,
    bed_plate_mass,
    bed_bars_mass,
    bed_rails_mass,
    bed_ribs_mass,
    bed_top_area,
    bed_end_area,
    bearing_outside,
    headstock_length,
    headstock_width,
    headstock_height,
    headstock_block,
    spindle_length,
    spindle_hole,
    spindle_blank,
    spindle_metal,
    nose_work,
    belt_step_count,
    pulley_stack,
    largest_driven,
    largest_driving,
    spindle_pulley_blank,
    spindle_pulley_metal,
    driving_pulley_metal,
    saddle_block,
    saddle_area,
    saddle_ways,
    slide_work,
    cross_slide_reach,
    cross_slide_area,
    cross_screw_length,
    cross_screw_metal,
    leadscrew_nut_work,
    cross_nut_work,
    feet_work,
    leadscrew_metal,
    tailstock_block,
    tailstock_foot,
    barrel_length,
    barrel_metal,
    wheel_count,
    wheel_teeth,
    wheel_metal,
    tool_cost,
    centre_cost,
    drive_current,
    gear_pair,
    arrangement_work,
    part_sizes,
    part_masses,
]
