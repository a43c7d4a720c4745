"""Chapter 17, second part: what the tests will read as the parts are made, before and after setting; and what carries the machine, for chapter 07.

Errors of different causes are added in squares.  Readings are expected ones: an error may lie either way, and is told by its size.
"""

import numpy as np

from ...machine import chatter, holding, supports
from ...planning.place import bench_sag
from ...ranges import Range
from ...units import Length, Ratio, RotationalSpeed, Slope
from ..chain.entries import Figure, Limit, result
from ..chain.fitted import error_by_way, set_by_hand
from ..measured.acceptance import TESTS
from .place import BENCH, WHOLE
from .slides import GRAVITY

CHAPTER = "17"
_TABLE = "common_practice, table of making"
#: height of the spindle for which the rocking of a stand is judged [m]
_STAND_OF = 1.1


def _over(length: float, low: float, likely: float, high: float) -> Range:
    """Millimetres over a length in mm, as a slope."""
    return Range(low / length, likely / length, high / length)


def _mm(low: float, likely: float, high: float) -> Range:
    return Range(low * 1e-3, likely * 1e-3, high * 1e-3)


def _by_bed(name, moves, label, kind, usual):
    return Figure(
        name,
        label,
        kind,
        CHAPTER,
        _TABLE,
        lookup=lambda making, skill, bed_form: error_by_way(name, usual, making, moves, skill, bed_form=bed_form),
    )


def _by_bearing(name, moves, label, kind, usual):
    return Figure(
        name,
        label,
        kind,
        CHAPTER,
        _TABLE,
        lookup=lambda making, skill, bearing_kind: error_by_way(name, usual, making, moves, skill, bearing_kind=bearing_kind),
    )


def _by_itself(name, moves, label, kind, usual):
    return Figure(
        name, label, kind, CHAPTER, _TABLE, lookup=lambda making, skill: error_by_way(name, usual, making, moves, skill)
    )


#: what is left of a test's limit by one who sets until it holds, and no longer: share of the limit
_STOPPED = Range(0.3, 0.6, 1.0)
_SETTING = ("common_practice, whoever sets stops when the limit holds", "common_practice, table of practice")


def _set(name, test, label):
    """What setting leaves: by the limit of the class one sets by, and in these hands."""

    def lookup(acceptance_class, skill):
        limit = TESTS[test].limits[acceptance_class] / TESTS[test].over
        return set_by_hand(Range(*(limit * share for share in _STOPPED)), skill)

    return Figure(name, label, Slope(), CHAPTER, _SETTING, lookup=lookup)


FIGURES = [
    _by_bed(
        "way_crook",
        "bed straight",
        "how far the slideway is from straight, as it is made",
        Slope(),
        _over(300, 0.005, 0.02, 0.06),
    ),
    _by_bed("way_plane", "level across", "how far two slideways are out of one plane, as they are made", Slope(), 0.0),
    _by_bearing("nose_as_made", "nose run-out", "run-out of the nose, as it is made", Length("mm"), _mm(0.004, 0.01, 0.03)),
    _by_itself("taper_as_made", "taper run-out", "run-out of the taper, as it is made", Length("mm"), _mm(0.005, 0.015, 0.05)),
    _by_itself("slip_as_made", "axial slip", "axial slip of the spindle, as it is made", Length("mm"), _mm(0.003, 0.007, 0.02)),
    _by_itself(
        "axis_as_made",
        "axis sideways",
        "sideways error of the spindle axis before setting",
        Slope(),
        _over(100, 0.005, 0.015, 0.05),
    ),
    _by_itself(
        "rise_as_made", "axis rises", "upward tilt of the spindle axis before setting", Slope(), _over(100, 0.005, 0.015, 0.05)
    ),
    _by_itself("seats_as_made", "seats out of line", "seats of the bearings out of line", Length("mm"), _mm(0.004, 0.015, 0.05)),
    _by_itself(
        "chuck_off_centre",
        "chuck out of centre",
        "middle of the chuck's body beside the axis",
        Length("mm"),
        _mm(0.01, 0.04, 0.12),
    ),
    _by_bed("square_as_made", "cross-slide square", "cross-slide off square", Slope(), _over(50, 0.004, 0.015, 0.05)),
    _by_itself(
        "lead_of_cross_screw", "cross screw lead", "error of lead of the cross screw", Slope(), _over(100, 0.008, 0.03, 0.1)
    ),
    _by_itself(
        "height_as_made", "tailstock height", "tailstock high or low against the spindle", Length("mm"), _mm(0.01, 0.04, 0.15)
    ),
    _by_bed(
        "barrel_rise_as_made",
        "barrel rises",
        "upward tilt of the tailstock barrel, as it is made",
        Slope(),
        _over(80, 0.006, 0.02, 0.06),
    ),
    _by_bed(
        "barrel_side_as_made",
        "barrel sideways",
        "sideways tilt of the tailstock barrel, as it is made",
        Slope(),
        _over(80, 0.006, 0.02, 0.06),
    ),
    _set("level_setting", "level across", "twist left after levelling"),
    _set("axis_setting", "axis sideways", "sideways error of the spindle axis after setting"),
    Figure(
        "offset_setting",
        "taper that setting the tailstock by a turned bar leaves",
        Length("mm"),
        CHAPTER,
        _SETTING,
        lookup=lambda acceptance_class, skill: set_by_hand(
            Range(*(TESTS["bar between centres"].limits[acceptance_class] * share for share in _STOPPED)), skill
        ),
    ),
    Figure(
        "shim_left",
        "what shims or a scraper leave at one fixing",
        Length("µm"),
        CHAPTER,
        "common_practice, foils go by hundredths of a millimetre",
        value=Range(0.5, 2, 5),
    ),
    Figure(
        "crook_sideways", "share of a slideway's crookedness that lies sideways", Ratio("%"), CHAPTER, value=Range(20, 40, 80)
    ),
    Figure(
        "axis_moved",
        "sideways error of the spindle axis after the headstock was off and on again",
        Slope(),
        CHAPTER,
        "common_practice, dowels reamed in place",
        lookup=lambda moved_as: 0.0 if moved_as == WHOLE else _over(100, 0.003, 0.008, 0.02),
    ),
    Figure(
        "bench_unrest",
        "share of a wooden bench's sag by which one foot of four moves in a week",
        Ratio("%"),
        "07",
        value=Range(1, 3, 8),
    ),
    Figure(
        "stand_rocking",
        "spindle speed at which a machine rocks on its stand, at usual height",
        RotationalSpeed(),
        "07",
        "common_practice, 8 to 40 Hz",
        lookup=lambda stands_on: Range(*(2 * np.pi * end for end in ((8, 14, 22) if stands_on == BENCH else (14, 24, 40)))),
    ),
    Figure("floor_sag", "sag of a suspended floor under the load it bears", Length("mm"), "07", value=Range(2, 5, 10)),
    Figure(
        "rocking_damping",
        "share of critical damping of a machine that rocks on its stand",
        Ratio(),
        "07",
        value=Range(0.02, 0.05, 0.1),
    ),
]


# --- what carries it, chapter 07 ------------------------------------------------------------------------------
@result(Length("mm"), "sag of a wooden bench under the machine alone", "07", source="shigley, Table A-9")
def machine_sag(stands_on, machine_weight, bench_span, bearers, bearer_width, bearer_height, bearer_modulus):
    """Nothing where a stand of steel carries it."""
    if stands_on != BENCH:
        return 0.0 * machine_weight
    return bench_sag.si(
        force=machine_weight,
        span=bench_span,
        bearers=bearers,
        width=bearer_width,
        height=bearer_height,
        elastic_modulus=bearer_modulus,
    )


@result(
    Length("mm"),
    "how far one foot of four rises or sinks, with what the bench sags",
    "07",
    source="definition, causes added in squares",
)
def foot_change(stand_change, bench_unrest, machine_sag):
    """What wood, steel and screws do by themselves, and a bench that creeps under its load, one bearer more than the other."""
    return np.hypot(stand_change, bench_unrest * machine_sag)


@result(
    RotationalSpeed(),
    "spindle speed at which an unbalance rocks the machine",
    "07",
    source=("definition, slowest of springs in a row", "common_practice, 8 to 40 Hz"),
)
def rocking_speed(
    stand_rocking, spindle_height, machine_sag, floor_sag, floor_bears, machine_weight, stand_mass, person_mass, standing_area
):
    """Stand, bench and floor are springs in a row; a taller stand rocks slower, and so does what sags more under its load."""
    floor = floor_sag * (machine_weight + (stand_mass + person_mass) * GRAVITY) / standing_area / floor_bears
    sag = machine_sag + floor
    bounce = chatter.natural_frequency.si(machine_weight / np.maximum(sag, 1e-9), machine_weight / GRAVITY)
    own = stand_rocking * _STAND_OF / spindle_height
    return 1 / np.sqrt(1 / own**2 + 1 / bounce**2)


@result(
    Length("µm"),
    "how far an unbalanced chuck shakes the machine while it rocks",
    "07",
    source="definition, forced vibration at resonance",
)
def rocking_shake(chuck_mass, chuck_off_centre, machine_weight, stand_mass, rocking_damping):
    """Mass of the chuck times how far it is off the axis, over twice the damping and the mass that rocks with it."""
    return chuck_mass * chuck_off_centre / (2 * rocking_damping * (machine_weight / GRAVITY + stand_mass))


# --- what the tests will read ------------------------------------------------------------------------------------------
def _length(name, figure, test, label):
    over = TESTS[test].over

    def body(error):
        """Over the length of the test, as the parts are made."""
        return error * over

    return result(Length("µm"), label, CHAPTER, name=name, source=_TABLE, error=figure)(body)


@result(Slope(), "level across the bed to expect once it is levelled", CHAPTER, source="definition, causes added in squares")
def expected_level(level_setting, way_plane, stand_twist):
    """What levelling leaves, two ways that do not lie in one plane, and what the stand twists afterwards."""
    return np.sqrt(level_setting**2 + way_plane**2 + stand_twist**2)


@result(
    Length("µm"), "sideways error of the axis to expect before setting", CHAPTER, source="definition, causes added in squares"
)
def expected_axis(axis_as_made, axis_moved):
    """As the headstock is made, and what taking it off for carrying loses."""
    return np.hypot(axis_as_made, axis_moved) * TESTS["axis sideways"].over


@result(Length("µm"), "sideways error of the axis to expect after setting", CHAPTER, source="definition, causes added in squares")
def expected_axis_set(axis_setting, shim_left, fixing_spacing, expected_axis):
    """How closely it was measured, and what is left of a shim under one of its fixings: the wider they stand the finer; what is better as it is stays as it is."""
    return np.minimum(np.hypot(axis_setting, shim_left / fixing_spacing) * TESTS["axis sideways"].over, expected_axis)


@result(Length("µm"), "lead error of the cross screw to expect", CHAPTER, source=_TABLE)
def expected_lead(leadscrew_error, threading):
    """Over the length of the test; nothing where no leadscrew is wished."""
    return leadscrew_error * TESTS["lead of the screw"].over * (threading == "yes")


def _plain(name, figure, label):
    def body(error):
        """As the parts are made."""
        return 1.0 * error

    return result(Length("µm"), label, CHAPTER, name=name, source=_TABLE, error=figure)(body)


@result(
    Length("µm"), "difference of two collars to expect once all is set", CHAPTER, source="definition, causes added in squares"
)
def expected_collars(expected_axis_set, expected_level, twist_lever, between_centres):
    """Axis and twist, both twice on the diameter, over the length of the test."""
    over = TESTS["collars"].over
    axis = 2 * expected_axis_set * over / TESTS["axis sideways"].over
    twist = supports.twist_on_diameter.si(twist_lever, expected_level * np.minimum(over / between_centres, 1.0), 1.0)
    return np.hypot(axis, twist)


# --- what is left on the work ---------------------------------------------------------------------------------------------
@result(
    Length("µm"),
    "taper left on the slimmest work once all is set",
    CHAPTER,
    source=("definition, causes added in squares", "shigley, Table A-9"),
)
def set_taper(
    expected_axis_set,
    level_setting,
    way_plane,
    stand_twist,
    way_crook,
    crook_sideways,
    offset_setting,
    twist_lever,
    between_centres,
    foot_spacing,
    twist_unevenness,
    work_support,
    work_length,
):
    """Axis, twist and tailstock as far as the holding lets them through, and a crooked way: each twice on the diameter."""
    axis = 2 * holding.side_reach(work_support) * expected_axis_set * work_length / TESTS["axis sideways"].over
    even = holding.even_share.si(foot_spacing, work_length, twist_unevenness)
    along = np.hypot(
        np.hypot(level_setting, way_plane) * np.minimum(work_length / between_centres, 1.0),
        stand_twist * np.minimum(work_length / foot_spacing, 1.0),
    )
    twist = supports.twist_on_diameter.si(twist_lever, along, holding.twist_reach(work_support, even))
    # what is crooked upright moves the tool along the skin of the work, and hardly its diameter; setting takes up the mean slope of the stretch that is worked; of a bow only its own height over that stretch is left
    crook = 2 * way_crook * crook_sideways * work_length * np.minimum(work_length / TESTS["bed straight"].over, 1.0)
    offset = holding.offset_reach(work_support) * offset_setting  # set by a bar as long as the work, whatever its length
    return np.sqrt(axis**2 + twist**2 + crook**2 + offset**2)


@result(Length("µm"), "error on the diameter that the cross screw's lead leaves over 10 mm of infeed", "09", source=_TABLE)
def infeed_error(lead_of_cross_screw):
    """The dial tells what the lead should be; both sides of the diameter feel what it is."""
    return 2 * lead_of_cross_screw * 10e-3


#: test -> the reading to expect as the parts are made; axis and level as far as the making and setting go
EXPECTED = {
    "level across": "expected_level",
    "bed straight": "expected_straight",
    "nose run-out": "expected_nose",
    "axial slip": "expected_slip",
    "taper run-out": "expected_taper",
    "axis rises": "expected_rise",
    "axis sideways": "expected_axis",
    "cross-slide square": "expected_square",
    "barrel rises": "expected_barrel_rise",
    "barrel sideways": "expected_barrel_side",
    "tailstock height": "expected_height",
    "lead of the screw": "expected_lead",
    "collars": "expected_collars",
    "faced disc": "expected_disc",
}

RESULTS = [
    machine_sag,
    foot_change,
    rocking_speed,
    rocking_shake,
    expected_level,
    _length("expected_straight", "way_crook", "bed straight", "straightness of the bed to expect"),
    _plain("expected_nose", "nose_as_made", "run-out of the spindle nose to expect"),
    _plain("expected_slip", "slip_as_made", "axial slip of the spindle to expect"),
    _plain("expected_taper", "taper_as_made", "run-out of the spindle taper to expect"),
    _length("expected_rise", "rise_as_made", "axis rises", "upward tilt of the axis to expect before setting"),
    expected_axis,
    expected_axis_set,
    _length("expected_square", "square_as_made", "cross-slide square", "cross-slide off square to expect"),
    _length("expected_barrel_rise", "barrel_rise_as_made", "barrel rises", "upward tilt of the tailstock barrel to expect"),
    _length("expected_barrel_side", "barrel_side_as_made", "barrel sideways", "sideways tilt of the tailstock barrel to expect"),
    _plain("expected_height", "height_as_made", "height of the tailstock to expect before it is fitted"),
    expected_lead,
    expected_collars,
    _length("expected_disc", "square_as_made", "faced disc", "hollow or hump of a faced disc to expect"),
    set_taper,
    infeed_error,
]

LIMITS = [
    Limit(
        "set_true_enough",
        "work comes out true once all is set",
        CHAPTER,
        "set_taper",
        "at most",
        "allowed_error",
        "As it is made, and set in your hands, axis, twist, way and tailstock leave {value} along the slimmest work; the tolerance leaves {limit} to the machine.",
        comfort=0.3,
        source=("definition, causes added in squares", _TABLE),
    )
]
