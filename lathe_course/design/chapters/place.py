"""Chapter 13, first part: where it lives, how it gets there, what carries it, and what moving house asks of it.

Vectors over the pieces (kind None) have shape (pieces,) or (draws, pieces).
"""

import functools

import numpy as np

from ...planning import place
from ...ranges import Range
from ...units import Area, Count, Force, LabourTime, Length, Mass, Ratio, SoundLevel, Stress
from ..chain.entries import Decision, Figure, Limit, node, result

CHAPTER = "13"
HOMES = ("settled", "renting", "moving about")
PIECES = WHOLE, ASSEMBLED, APART = ("whole", "in assemblies", "part by part")
LIFTERS = {"one person": 1.0, "two people": 2.0, "three people": 3.0, "a hoist": 0.0}
BENCH = "a wooden bench"
#: width of planed timber that is sold for beams, over its height
_BEARER_SHAPE = 0.37
#: assembly -> groups of the list of parts that are carried as one
ASSEMBLIES = {
    "bed": ("bed",),
    "headstock": ("headstock", "bearings"),
    "carriage": ("saddles", "carriage", "apron and feed"),
    "tailstock": ("tailstock", "tailstock feet"),
    "motor and drive": ("motors", "controllers", "drive", "screw-cutting", "guards", "assembly"),
}
_OF_GROUP = {group: name for name, groups in ASSEMBLIES.items() for group in groups}
_GRAVITY = 9.80665
_LIFTING = (
    "The limit protects most healthy people, not everyone, and no one whose back has complained before. Keep fingers out from under it, never stand below it on "
    "stairs or a ramp, and use a hoist with a rated strap where you can; local rules come first."
)

DECISIONS = [
    Decision(
        "material_prices",
        "local prices of material",
        "What do material and bought parts cost where you live, against the course's list?",
        CHAPTER,
        Ratio("%", above=0),
        50,
        250,
        5,
        movable=False,
    ),
    Decision(
        "labour_prices",
        "local prices of labour",
        "What does other people's work cost where you live, against the course's list?",
        CHAPTER,
        Ratio("%", above=0),
        30,
        300,
        5,
        movable=False,
    ),
    Decision(
        "home",
        "your home: settled, renting or moving about",
        "Does it stay where it is built, or will it move house with you?",
        CHAPTER,
        options=HOMES,
        movable=False,
    ),
    Decision(
        "moved_as", "pieces in which the lathe is carried", "In which pieces is it carried to its place?", CHAPTER, options=PIECES
    ),
    Decision(
        "lifted_by",
        "people or hoist that lift the lathe",
        "How many lift together, or is there a hoist?",
        CHAPTER,
        options=tuple(LIFTERS),
    ),
    Decision(
        "lift_from",
        "height at which the hands take hold",
        "How high above the floor are the hands when the lift begins?",
        CHAPTER,
        Length("mm", at_least=0, at_most=1750),
        0,
        1500,
        50,
    ),
    Decision(
        "door_width",
        "width of the narrowest door",
        "How wide is the narrowest door on the way?",
        CHAPTER,
        Length("mm", above=0),
        400,
        3000,
        20,
        movable=False,
    ),
    Decision(
        "passage_width",
        "width of the passage before the tightest corner",
        "How wide is the passage or the flight of stairs before the tightest corner?",
        CHAPTER,
        Length("mm", above=0),
        400,
        3000,
        20,
        movable=False,
    ),
    Decision(
        "landing_width",
        "width of the passage after the tightest corner",
        "How wide is the landing or passage after that corner?",
        CHAPTER,
        Length("mm", above=0),
        400,
        3000,
        20,
        movable=False,
    ),
    Decision(
        "space_depth",
        "free depth of bench or floor",
        "How deep is the free stretch of bench or floor?",
        CHAPTER,
        Length("mm", above=0),
        200,
        1500,
        10,
        movable=False,
    ),
    Decision(
        "floor_bears",
        "load the floor bears",
        "What load does the floor bear, spread evenly?",
        CHAPTER,
        Stress("kN/m²", above=0),
        1,
        15,
        0.5,
        movable=False,
    ),
    Decision(
        "stands_on",
        "what the lathe stands on",
        "Does it stand on a wooden bench, or on one of steel that hardly bends?",
        CHAPTER,
        options=(BENCH, "a steel bench or stand"),
    ),
    Decision(
        "bench_span",
        "span of the bench",
        "How far apart are the legs of the bench?",
        CHAPTER,
        Length("mm", above=0),
        300,
        2500,
        50,
    ),
    Decision(
        "bearers",
        "number of bearers under the bench",
        "How many bearers lie under the top and share the load?",
        CHAPTER,
        Count(at_least=1, at_most=12, whole=True),
        1,
        6,
        1,
    ),
    Decision(
        "bearer_height",
        "height of a bench bearer",
        "How high is one bearer, standing on edge?",
        CHAPTER,
        Length("mm", above=0),
        20,
        240,
        2,
    ),
    Decision(
        "grinding_hours",
        "grinding and hammering in a day",
        "How long in a day of work is there grinding or hammering?",
        CHAPTER,
        LabourTime("h", at_least=0),
        0,
        4,
        0.25,
    ),
]

#: hours to take apart and put together again, and to true anew, by the pieces it is carried in
_TAKING_APART = {WHOLE: Range(0.5, 1.0, 2.0), ASSEMBLED: Range(2.0, 4.0, 8.0), APART: Range(8.0, 16.0, 30.0)}
_TRUING = {WHOLE: Range(0.5, 1.0, 2.0), ASSEMBLED: Range(2.0, 5.0, 10.0), APART: Range(8.0, 16.0, 32.0)}
_FOUR_FEET_MORE = Range(1.0, 2.0, 4.0)
_MOVES = dict(zip(HOMES, (Range(0.0, 0.0, 0.0), Range(1.0, 3.0, 6.0), Range(5.0, 15.0, 40.0))))


def _truing_hours(moved_as, feet) -> Range:
    more = (0.0,) * 3 if feet == "three feet" else _FOUR_FEET_MORE
    return Range(*(hours + extra for hours, extra in zip(_TRUING[moved_as], more)))


FIGURES = [
    Figure("depth_factor", "depth of the machine over its centre height", Ratio(), CHAPTER, value=Range(4, 5, 6.5)),
    Figure("hand_room", "room for a hand beside what is carried", Length("mm"), CHAPTER, value=Range(40, 50, 70)),
    Figure("standing_depth", "depth of the place to stand at the machine", Length("mm"), CHAPTER, value=Range(500, 600, 800)),
    Figure(
        "floor_beside", "length of floor beyond its ends that helps to carry", Length("mm"), CHAPTER, value=Range(200, 400, 800)
    ),
    Figure("person_mass", "mass of whoever works there", Mass(), CHAPTER, value=Range(55, 80, 110)),
    Figure("stand_mass", "mass of bench or stand", Mass(), CHAPTER, value=Range(15, 35, 80)),
    Figure("bearer_modulus", "elastic modulus of a wooden bearer", Stress("GPa"), CHAPTER, value=Range(7, 9, 12)),
    Figure("bearer_strength", "stress a wooden bearer bears for years", Stress("N/mm²"), CHAPTER, value=Range(4, 6, 8)),
    Figure("sag_share", "sag a bench may have, over its span", Ratio("%"), CHAPTER, value=Range(0.1, 0.2, 0.33)),
    Figure(
        "drive_noise",
        "noise of the drive where you stand",
        SoundLevel("dBA"),
        CHAPTER,
        lookup=lambda drive_kind: Range(64.0, 70.0, 78.0) if drive_kind.startswith("direct current") else Range(55.0, 62.0, 70.0),
    ),
    Figure("cutting_noise", "noise of the cut where you stand", SoundLevel("dBA"), CHAPTER, value=Range(68, 76, 86)),
    Figure("grinding_noise", "noise of grinding and hammering", SoundLevel("dBA"), CHAPTER, value=Range(88, 94, 102)),
    Figure("moves_in_ten_years", "times it moves house in ten years", Count(), CHAPTER, lookup=lambda home: _MOVES[home]),
    Figure(
        "taking_apart_hours",
        "hours to take it apart and put it together at a move",
        LabourTime("h"),
        CHAPTER,
        lookup=lambda moved_as: _TAKING_APART[moved_as],
    ),
    Figure("truing_hours", "hours to level and true it after a move", LabourTime("h"), CHAPTER, lookup=_truing_hours),
]


# --- what is carried --------------------------------------------------------------------------------------------
@result(None, "masses of what is carried", CHAPTER, source="common_practice, table of parts, drivers and laws")
def carried_masses(part_masses, parts_list):
    """Mass of each piece by its name, of assemblies and of parts; a fill that is cast in goes with what holds it."""
    masses = part_masses["finished"]
    found = {}
    for kind, of in _carried(parts_list).items():
        found[kind] = dict(zip(of, np.moveaxis(masses @ np.array(list(of.values())).T, -1, 0)))
    return found


@functools.lru_cache(maxsize=64)
def _carried(parts_list) -> dict[str, dict[str, list[float]]]:
    """For assemblies and for parts: which parts are in each piece, 1 or 0, in the order of the list."""
    names = [part.name for part in parts_list]
    assemblies: dict[str, list[str]] = {}
    pieces = {name: [name] for name in names}
    for part in parts_list:
        assemblies.setdefault(_OF_GROUP.get(part.group, part.group), []).append(part.name)
        holder = next((one for one in part.after if one in pieces), None)
        if part.material == "mineral fill" and holder:
            pieces[holder] += pieces.pop(part.name)
    return {
        kind: {name: [float(one in inside) for one in names] for name, inside in of.items()}
        for kind, of in ((ASSEMBLED, assemblies), (APART, pieces))
    }


def _heaviest(masses: dict):
    return np.max(np.stack(np.broadcast_arrays(*masses.values())), axis=0)[()]


@result(
    Mass(),
    "heaviest piece to carry, the lathe taken apart to its parts",
    CHAPTER,
    source="common_practice, table of parts and of laws",
)
def heaviest_piece(carried_masses):
    """The heaviest part that does not come apart any further."""
    return _heaviest(carried_masses[APART])


@result(Mass(), "heaviest assembly", CHAPTER, source="common_practice, table of parts and of laws")
def heaviest_assembly(carried_masses):
    """The heaviest of bed, headstock, carriage, tailstock, and motor with drive."""
    return _heaviest(carried_masses[ASSEMBLED])


@result(Mass(), "heaviest lift", CHAPTER, source="common_practice, table of parts and of laws")
def heaviest_lift(moved_as, parts_mass, heaviest_assembly, heaviest_piece):
    """The heaviest piece as it is carried; the chuck goes by itself."""
    return {WHOLE: parts_mass, ASSEMBLED: heaviest_assembly, APART: heaviest_piece}[moved_as]


@result(Mass(), "heaviest lift by hand", CHAPTER)
def lift_by_hand(heaviest_lift, lifted_by):
    """Nothing where a hoist lifts."""
    return heaviest_lift if LIFTERS[lifted_by] else 0.0 * heaviest_lift


@result(
    Length("mm"), "depth of the machine, front to back", CHAPTER, source="common_practice, in proportion to the centre height"
)
def machine_depth(centre_height, depth_factor, bed_width):
    """Handles in front and motor behind; never less than the bed is wide."""
    return np.maximum(depth_factor * centre_height, bed_width)


@result(Length("mm"), "length of what is carried", CHAPTER)
def carried_length(moved_as, machine_length, bed_length):
    """The whole machine, or the bed as the longest of its pieces."""
    return machine_length if moved_as == WHOLE else bed_length


@result(Length("mm"), "width of what is carried", CHAPTER)
def carried_width(moved_as, machine_depth, bed_width):
    """The whole machine, or the bed."""
    return machine_depth if moved_as == WHOLE else bed_width


@result(
    Length("mm"), "reach from the ankles to the hands", CHAPTER, source="niosh_94_110, horizontal distance by the width of a load"
)
def lift_reach(carried_width):
    """A hand's breadth of belly and half the width of what is carried."""
    return 0.2 + carried_width / 2


def lifted_together(one_may_lift) -> dict[str, float]:
    """What so many people may lift together, kg."""
    return {words: float(place.team_limit.si(one_may_lift, count)) for words, count in LIFTERS.items() if count}


@result(Length("mm"), "height it is lifted by", CHAPTER)
def lift_travel(lift_from, bench_height):
    """From where the hands take hold to the top of bench or stand."""
    return np.abs(bench_height - lift_from)


@result(Mass(), "what one person may lift in this way", CHAPTER, source="niosh_94_110, the worse end of the lift counts")
def one_may_lift(limit_at_start, limit_at_end):
    """The lower of the limits at both ends of the lift."""
    return np.minimum(limit_at_start, limit_at_end)


@result(Count(), "people who lift together", CHAPTER)
def lifting_people(lifted_by):
    """How many; one stands by where a hoist lifts."""
    return max(LIFTERS[lifted_by], 1.0)


@result(Length("mm"), "door, less room for the hands", CHAPTER)
def door_room(door_width, hand_room):
    """What may pass while it is held on both sides."""
    return np.maximum(door_width - 2 * hand_room, 0.0)


# --- what carries it ----------------------------------------------------------------------------------------------
@result(Mass(), "mass on the floor", CHAPTER)
def standing_mass(parts_mass, chuck_mass, stand_mass, person_mass):
    """Machine, chuck, stand and whoever works there."""
    return parts_mass + chuck_mass + stand_mass + person_mass


@result(Area("m²"), "floor that carries machine and worker", CHAPTER)
def standing_area(machine_length, floor_beside, machine_depth, standing_depth):
    """As long as the machine and what its neighbours carry of it, as deep as machine and standing place."""
    return (machine_length + floor_beside) * (machine_depth + standing_depth)


@result(Force("N"), "weight on the wooden bench", CHAPTER)
def bench_load(stands_on, parts_mass, chuck_mass):
    """Machine and chuck; none where a stand passes it to the floor."""
    return (parts_mass + chuck_mass) * (_GRAVITY if stands_on == BENCH else 0.0)


@result(Length("mm"), "sag the bench may have", CHAPTER, source="common_practice, a share of the span")
def sag_allowed(bench_span, sag_share):
    """Beyond it drawers jam and the level wanders with every move of the carriage."""
    return bench_span * sag_share


# --- noise --------------------------------------------------------------------------------------------------------
@result(Ratio("%"), "noise dose of a day's work", CHAPTER, source="niosh_98_126, doses are added")
def day_dose(turning_dose, grinding_dose):
    """Turning through a whole session, and the grinding and hammering of that day."""
    return turning_dose + grinding_dose


# --- moving house -------------------------------------------------------------------------------------------------
@result(LabourTime("h"), "hours of one move", CHAPTER)
def move_hours(taking_apart_hours, truing_hours):
    """Taking apart, putting together, levelling and truing; carrying not counted."""
    return taking_apart_hours + truing_hours


@result(LabourTime("h"), "hours of moving it in ten years", CHAPTER)
def moving_hours(move_hours, moves_in_ten_years):
    """One move so many times."""
    return move_hours * moves_in_ten_years


@result(LabourTime("h"), "hours that moving may take in ten years", CHAPTER)
def moving_allowance(hours_should, builders):
    """What all builders should spend in one year of the ten."""
    return hours_should * builders * 12


@result(Length("mm"), "width of a bench bearer", CHAPTER, source="common_practice, timber as it is sold, on edge")
def bearer_width(bearer_height):
    """Between a third and two fifths of its height."""
    return _BEARER_SHAPE * bearer_height


_BEARER = {"span": "bench_span", "width": "bearer_width", "height": "bearer_height", "force": "bench_load"}
RESULTS = [
    bearer_width,
    carried_masses,
    heaviest_piece,
    heaviest_assembly,
    heaviest_lift,
    lift_by_hand,
    machine_depth,
    carried_length,
    carried_width,
    lift_reach,
    lift_travel,
    node(
        place.lifting_limit,
        CHAPTER,
        name="limit_at_start",
        label="lifting limit where the lift begins",
        reach="lift_reach",
        height="lift_from",
        travel="lift_travel",
    ),
    node(
        place.lifting_limit,
        CHAPTER,
        name="limit_at_end",
        label="lifting limit where the lift ends",
        reach="lift_reach",
        height="bench_height",
        travel="lift_travel",
    ),
    one_may_lift,
    lifting_people,
    node(
        place.team_limit,
        CHAPTER,
        name="lift_allowed",
        label="what may be lifted together",
        one="one_may_lift",
        people="lifting_people",
    ),
    node(place.lifting_index, CHAPTER, label="lift over what may be lifted", mass="lift_by_hand", limit="lift_allowed"),
    door_room,
    node(
        place.corner_length,
        CHAPTER,
        label="longest piece that goes round the corner",
        first_width="passage_width",
        second_width="landing_width",
        piece_width="carried_width",
    ),
    standing_mass,
    standing_area,
    node(place.floor_load, CHAPTER, label="load on the floor", mass="standing_mass", area="standing_area"),
    bench_load,
    sag_allowed,
    node(place.bench_sag, CHAPTER, label="sag of the bench", elastic_modulus="bearer_modulus", bearers="bearers", **_BEARER),
    node(place.bench_stress, CHAPTER, label="stress in the bearers", bearers="bearers", **_BEARER),
    node(
        place.level_together,
        CHAPTER,
        name="turning_noise",
        label="noise while turning",
        first="drive_noise",
        second="cutting_noise",
    ),
    node(
        place.allowed_hours,
        CHAPTER,
        name="turning_allowed",
        label="hours a day the noise of turning may be borne",
        level="turning_noise",
    ),
    node(
        place.allowed_hours,
        CHAPTER,
        name="grinding_allowed",
        label="hours a day the noise of grinding may be borne",
        level="grinding_noise",
    ),
    node(
        place.noise_dose,
        CHAPTER,
        name="turning_dose",
        label="noise dose of turning",
        hours="session_hours",
        allowed="turning_allowed",
    ),
    node(
        place.noise_dose,
        CHAPTER,
        name="grinding_dose",
        label="noise dose of grinding and hammering",
        hours="grinding_hours",
        allowed="grinding_allowed",
    ),
    day_dose,
    move_hours,
    moving_hours,
    moving_allowance,
]

_FLOOR = "Single feet press harder than an even load: lay boards across the beams. Old, wet or unknown floors are for a structural engineer, before anything heavy stands on them."
LIMITS = [
    Limit(
        "lift_within_guidance",
        "the heaviest lift stays within guidance",
        CHAPTER,
        "lift_by_hand",
        "at most",
        "lift_allowed",
        "The heaviest lift is {value}; so lifted, {limit} is the guidance.",
        comfort=0.2,
        source=("niosh_94_110, revised lifting equation", "hse_l23, team handling"),
        unasked="A hoist does the lifting.",
        opened_by="lifting by hand",
        caution=_LIFTING,
        told_in=("07",),
    ),
    Limit(
        "goes_through_door",
        "it goes through the door",
        CHAPTER,
        "carried_width",
        "at most",
        "door_room",
        "What is carried is {value} wide; the door leaves {limit} between the hands.",
        comfort=0.1,
        source="own_work, measured widths",
        caution="Crushed knuckles are the usual harm in doorways: gloves, and one who watches and speaks.",
    ),
    Limit(
        "goes_round_corner",
        "it goes round the corner",
        CHAPTER,
        "carried_length",
        "at most",
        "corner_length",
        "What is carried is {value} long; {limit} goes round the corner, carried level.",
        comfort=0.1,
        source="definition, plain geometry",
        caution="On stairs nobody stands below the load; a rope round something that holds takes its weight.",
    ),
    Limit(
        "place_bears_parts",
        "the place bears the mass",
        CHAPTER,
        "parts_mass",
        "at most",
        "mass_limit",
        "The parts add up to {value}; the place takes {limit}.",
        comfort=0.1,
        told_in=("02",),
    ),
    Limit(
        "place_is_deep_enough",
        "the place is deep enough",
        CHAPTER,
        "machine_depth",
        "at most",
        "space_depth",
        "It is about {value} deep; {limit} is free.",
        comfort=0.05,
    ),
    Limit(
        "floor_carries_it",
        "the floor carries it",
        CHAPTER,
        "floor_load",
        "at most",
        "floor_bears",
        "Machine, stand and worker load the floor with {value}; it bears {limit}.",
        comfort=0.3,
        source="definition, weight over area",
        caution=_FLOOR,
    ),
    Limit(
        "bench_stays_level",
        "the bench stays level",
        CHAPTER,
        "bench_sag",
        "at most",
        "sag_allowed",
        "The bench sags by {value}; {limit} is usual at most.",
        comfort=0.25,
        unasked="No wooden bench carries it.",
        opened_by="a bench of wood as the stand",
    ),
    Limit(
        "bench_bears_it",
        "the bench bears it",
        CHAPTER,
        "bench_stress",
        "at most",
        "bearer_strength",
        "The bearers are stressed with {value}; wood bears {limit} for years.",
        comfort=0.5,
        unasked="No wooden bench carries it.",
        opened_by="a bench of wood as the stand",
        caution="A bench that tips over is as dangerous as one that breaks: bolt it to wall or floor, and hang no weight on its edge.",
    ),
    Limit(
        "noise_within_dose",
        "the noise stays within a day's dose",
        CHAPTER,
        "day_dose",
        "at most",
        100.0,
        "A day's work makes {value} of the dose that unprotected ears bear; {limit} is the most.",
        comfort=0.5,
        source="niosh_98_126, daily dose",
        caution="Wear ear protection while grinding or hammering, however short, and eye protection with it. Lost hearing does not come back; local law may ask for more.",
    ),
    Limit(
        "moves_leave_time",
        "moving house leaves time to turn",
        CHAPTER,
        "moving_hours",
        "at most",
        "moving_allowance",
        "Moving it takes {value} in ten years; {limit} is a tenth of your hours.",
        comfort=0.5,
        source="own_work, a tenth at most for moving",
        unasked="It stays where it is built.",
        opened_by="a home that changes",
    ),
]
