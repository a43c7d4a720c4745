"""Chapter 09, last part: threads, and the wheels that drive the leadscrew."""

import numpy as np

from ...machine import change_gears as gears
from ...machine import threads
from ...ranges import Range
from ...tables import table
from ...units import Count, Duration, FeedPerTurn, Length, Pitch, Ratio
from ..chain.entries import Column, Decision, Figure, Limit, node, result
from ..chain.fitted import error_by_way
from ..chain.wheel_set import EXAMPLE, FEWEST_WHEELS, read_wheels, wheels_of
from .screws import BY_HAND

CHAPTER = "09"
THREADS = tuple(table("threads"))
WHEEL_SIZES = tuple(table("wheel_sizes"))
#: leadscrews one can have, in mm: metric ones, and 10, 8 and 6 threads to the inch
LEADSCREWS = (1, 1.5, 2, 2.54, 3, 3.175, 4, 25.4 / 6, 5, 6)
#: flanks of metric and unified threads; swing of the topslide half a degree short of a flank, so that the other is not rubbed
FLANKS, SWING = {"flank_angle": 60}, {"slide_angle": 29.5}

#: how much further than the shaft of the first change gear the stud of the banjo can be set
_BANJO_MORE = 10e-3

#: what moves the carriage along in a plain cut
FEED_DRIVES = (BY_HAND, "change wheels", "change wheels and a second stud", "separate shaft or motor")

DECISIONS = [
    Decision("feed_drive", "drive of the feed", "What moves the carriage along in a plain cut?", CHAPTER, options=FEED_DRIVES),
    Decision(
        "leadscrew_pitch",
        "pitch of the leadscrew",
        "Which pitch has the leadscrew? (in mm, or as threads to the inch)",
        CHAPTER,
        Pitch("mm", "P_l", above=0, at_most=25),
        1,
        6,
        0.5,
        preferred=LEADSCREWS,
    ),
    Decision(
        "change_wheels",
        "set of change gears",
        "Which change gears do you have? (the teeth of each, with commas between)",
        CHAPTER,
        free_text=True,
        reader=read_wheels,
        example=EXAMPLE,
        movable=False,
    ),
    Decision(
        "wheel_size",
        "size of the change gears' teeth",
        "How large are the teeth of the change gears?",
        CHAPTER,
        options=WHEEL_SIZES,
        movable=False,
    ),
    Decision(
        "spindle_gear_ratio",
        "turns of the first change gear for one of the spindle",
        "How often does the shaft of the first change gear turn while the spindle turns once?",
        CHAPTER,
        Ratio("", above=0, at_most=10),
        0.25,
        2,
        0.25,
        preferred=(0.25, 0.5, 1, 2),
    ),
    Decision(
        "gear_centres",
        "distance from the first change gear to the leadscrew",
        "How far is the leadscrew from the shaft of the first change gear?",
        CHAPTER,
        Length("mm", above=0),
        40,
        150,
        1,
    ),
    Decision(
        "practice_thread",
        "practice thread, cut first",
        "Which thread will you cut first?",
        CHAPTER,
        options=THREADS,
        movable=False,
    ),
]


def _leadscrew(making, skill, feed_drive, threading):
    """As screw and brackets are made; without one of its own, that of a screw as it is sold."""
    return error_by_way(
        "leadscrew_error",
        Range(0.008e-2, 0.017e-2, 0.07e-2),
        making,
        "leadscrew_error",
        skill,
        feed_drive=feed_drive,
        threading=threading,
    )


FIGURES = [
    Figure(
        "wheel_module",
        "module of the change gears",
        Length("mm"),
        CHAPTER,
        "iso_54",
        lookup=Column("wheel_sizes", "wheel_size", "module"),
    ),
    Figure("gear_shaft", "room a gear shaft needs with collar and nut", Length("mm"), CHAPTER, value=16.0),
    Figure(
        "practice_diameter",
        "diameter of the practice thread",
        Length("mm"),
        CHAPTER,
        "iso_261",
        lookup=Column("threads", "practice_thread", "diameter"),
    ),
    Figure(
        "practice_pitch",
        "pitch of the practice thread",
        Pitch("mm"),
        CHAPTER,
        "iso_261",
        lookup=Column("threads", "practice_thread", "pitch"),
    ),
    # from a ground screw to a plain rolled one: 23, 52 and 210 µm over 300 mm
    Figure(
        "leadscrew_error",
        "error of the leadscrew's own pitch",
        Ratio("%"),
        CHAPTER,
        (
            "iso_3408_3, classes 5, 7 and 10",
            "common_practice, trapezoidal screws are sold alike",
            "common_practice, table of making",
        ),
        lookup=_leadscrew,
    ),
    Figure("reaction_time", "time to see the mark and open the nut", Duration("s"), CHAPTER, value=Range(0.3, 0.5, 0.8)),
]

_GEARS = ("machinerys_handbook, change gears for thread cutting", "own_work, all trains that can be put on")


@result(
    Length("mm"),
    "reach of the banjo that carries the change gears",
    CHAPTER,
    source="common_practice, a finger's width beyond the first change gear",
)
def banjo_reach(gear_centres):
    """How far from the leadscrew the stud can be set: a slot as long as the way to the first gear, and a little."""
    return gear_centres + _BANJO_MORE


# --- the threads of the list ---------------------------------------------------------------------------
def listed_pitches(jobs) -> np.ndarray:
    """The pitches cut with a single point, each once, rising."""
    pitches = jobs.column("pitch")
    return np.unique(pitches[pitches > 0])


@result(None, "pitch errors of the jobs' threads", CHAPTER, source=_GEARS)
def thread_errors(jobs, leadscrew_pitch, spindle_gear_ratio, change_wheels, wheel_module, gear_centres, banjo_reach, gear_shaft):
    """Pitches on the list, and how far the nearest train that can be put on is from each.

    ``pitch`` has the shape (threads,), ``error`` (threads, ...).
    """
    pitches, teeth = listed_pitches(jobs), wheels_of(change_wheels)
    wanted = [gears.wanted_ratio.si(pitch, spindle_gear_ratio, leadscrew_pitch) for pitch in pitches]
    return {
        "pitch": pitches,
        "error": np.array(
            [gears.ratio_errors(teeth, wheel_module, gear_centres, banjo_reach, gear_shaft, one) for one in wanted]
        ),
    }


@result(Ratio("%"), "pitch error of the worst thread among the jobs", CHAPTER, source=_GEARS)
def worst_pitch_error(thread_errors, threading):
    """How far the wheels miss the pitch they come least near to; all of it where no train can be put on, or the lathe cuts no threads with a leadscrew."""
    worst = np.abs(thread_errors["error"]).max(axis=0, initial=0.0)
    return worst if threading == "yes" or not thread_errors["pitch"].size else np.ones_like(worst)[()]


@result(Count(), "number of threads among the jobs", CHAPTER)
def threads_asked(thread_errors):
    """How many threads the jobs ask for."""
    return float(len(np.asarray(thread_errors["error"])))


@result(Count(), "number of leadscrews that cut threads", CHAPTER, source="definition")
def threads_cut(threading):
    """One or none, as you decide in chapter 10."""
    return float(threading == "yes")


# --- the thread to begin with --------------------------------------------------------------------------
@result(Ratio(), "nearest ratio the change gears give", CHAPTER, source=_GEARS)
def nearest_ratio(wanted_ratio, change_wheels, wheel_module, gear_centres, banjo_reach, gear_shaft):
    """The ratio of the train that comes nearest to what the thread asks for."""
    return wanted_ratio * (
        1 + gears.ratio_errors(wheels_of(change_wheels), wheel_module, gear_centres, banjo_reach, gear_shaft, wanted_ratio)
    )


@result(Ratio("%"), "pitch error of the practice thread, gears and leadscrew together", CHAPTER, source="definition")
def whole_pitch_error(practice_error, leadscrew_error):
    """Both in the same direction, which is the worst that can happen."""
    return np.abs(practice_error) + leadscrew_error


@result(
    Length("mm"),
    "length of the practice thread in its nut",
    CHAPTER,
    source="common_practice, a nut eight tenths as high as its thread is thick",
)
def nut_length(practice_diameter):
    """As high as a common nut of that thread."""
    return 0.8 * practice_diameter


# --- feed, shoulder, wheels ----------------------------------------------------------------------------
@result(FeedPerTurn(), "finest feed the change gears give", CHAPTER, source=_GEARS)
def finest_gear_feed(change_wheels, wheel_module, gear_centres, banjo_reach, gear_shaft, spindle_gear_ratio, leadscrew_pitch):
    """What the tool moves for one turn of the spindle with the slowest train that can be put on."""
    slowest = gears.finest_ratio(wheels_of(change_wheels), wheel_module, gear_centres, banjo_reach, gear_shaft)
    return gears.cut_pitch.si(slowest, spindle_gear_ratio, leadscrew_pitch)


def _reduced(teeth: tuple[int, ...]) -> tuple[float, tuple[int, ...]]:
    """What the smallest and the largest wheel on a second stud make of the speed, and the wheels that are left for the first."""
    return (teeth[0] / teeth[-1], teeth[1:-1]) if len(teeth) >= FEWEST_WHEELS + 2 else (1.0, teeth)


def _nearest_feed(wish: str, name: str, label: str):
    def body(
        wish, feed_drive, change_wheels, wheel_module, gear_centres, banjo_reach, gear_shaft, spindle_gear_ratio, leadscrew_pitch
    ):
        """The one nearest to the feed you decided on that the drive of the feed gives."""
        if feed_drive not in FEED_DRIVES[1:3]:
            return wish  # no wheels drive it
        place, teeth = (wheel_module, gear_centres, banjo_reach, gear_shaft), wheels_of(change_wheels)
        ratio = gears.wanted_ratio.si(wish, spindle_gear_ratio, leadscrew_pitch)
        error = gears.ratio_errors(teeth, *place, ratio)
        if feed_drive == FEED_DRIVES[2]:
            slower, rest = _reduced(teeth)
            other = gears.ratio_errors(rest, *place, ratio / slower)
            error = np.where(np.abs(other) < np.abs(error), other, error)[()]
        return wish * (1 + error)  # nothing where no train can be put on

    return result(FeedPerTurn(), label, CHAPTER, name=name, source=_GEARS, wish=wish)(body)


@result(FeedPerTurn(), "finest feed of the drive of the feed", CHAPTER, source=_GEARS)
def finest_feed(
    finest_gear_feed,
    feed_drive,
    change_wheels,
    wheel_module,
    gear_centres,
    banjo_reach,
    gear_shaft,
    spindle_gear_ratio,
    leadscrew_pitch,
):
    """With a second stud the smallest wheel drives the largest before the rest; a hand, or a shaft or motor of its own, has no finest feed."""
    if feed_drive not in FEED_DRIVES[1:3]:
        return 0.0 * finest_gear_feed
    if feed_drive == FEED_DRIVES[1]:
        return finest_gear_feed
    slower, rest = _reduced(wheels_of(change_wheels))
    found = slower * gears.cut_pitch.si(
        gears.finest_ratio(rest, wheel_module, gear_centres, banjo_reach, gear_shaft), spindle_gear_ratio, leadscrew_pitch
    )
    return np.where(found > 0, found, finest_gear_feed)[()]


@result(Length("mm"), "how far the tool runs on past the mark", CHAPTER, source="definition")
def shoulder_overrun(shoulder_speed, reaction_time):
    """At the slowest speed and on the coarsest thread, until the hand has opened the nut: the least width of a groove to run out into."""
    return shoulder_speed * reaction_time


@result(Count(), "teeth of the largest change gear", CHAPTER)
def largest_wheel(change_wheels):
    """The largest wheel of the set, 0 where there is none."""
    return float(max(wheels_of(change_wheels), default=0))


_PRACTICE = {"diameter": "practice_diameter", "pitch": "practice_pitch"}

RESULTS = [
    banjo_reach,
    thread_errors,
    worst_pitch_error,
    threads_asked,
    threads_cut,
    nearest_ratio,
    whole_pitch_error,
    nut_length,
    finest_gear_feed,
    finest_feed,
    _nearest_feed("feed", "rough_feed_had", "roughing feed that can be had"),
    _nearest_feed("finish_feed", "finish_feed_had", "feed of the finishing cut that can be had"),
    shoulder_overrun,
    largest_wheel,
    node(
        threads.triangle_height,
        CHAPTER,
        label="height of the sharp triangle of the practice thread",
        pitch="practice_pitch",
        fixed=FLANKS,
    ),
    node(threads.external_depth, CHAPTER, label="depth of the practice thread on the screw", pitch="practice_pitch"),
    node(threads.internal_depth, CHAPTER, label="depth of the practice thread in the nut", pitch="practice_pitch"),
    node(threads.pitch_diameter, CHAPTER, label="pitch diameter of the practice thread", **_PRACTICE),
    node(threads.minor_diameter, CHAPTER, label="bore of the nut for the practice thread", **_PRACTICE),
    node(threads.root_diameter, CHAPTER, label="root diameter of the practice thread", **_PRACTICE),
    node(threads.stress_area, CHAPTER, label="stress area of the practice thread"),
    node(
        threads.flank_infeed,
        CHAPTER,
        label="travel of the swung topslide to the practice thread's full depth",
        depth="external_depth",
        fixed=SWING,
    ),
    node(
        threads.measuring_wire, CHAPTER, label="best measuring wire for the practice thread", pitch="practice_pitch", fixed=FLANKS
    ),
    node(
        threads.over_wires,
        CHAPTER,
        label="size of the practice thread over three wires",
        wire="measuring_wire",
        pitch="practice_pitch",
        fixed=FLANKS,
    ),
    node(threads.pitch_tolerance, CHAPTER, label="tolerance on the practice thread's pitch diameter", **_PRACTICE),
    node(threads.play_allowance, CHAPTER, label="play between the practice thread and its nut", pitch="practice_pitch"),
    node(
        gears.wanted_ratio,
        CHAPTER,
        label="gear ratio the practice thread asks for",
        pitch="practice_pitch",
        spindle_ratio="spindle_gear_ratio",
    ),
    node(
        gears.cut_pitch,
        CHAPTER,
        label="pitch cut for the practice thread",
        train_ratio="nearest_ratio",
        spindle_ratio="spindle_gear_ratio",
    ),
    node(gears.pitch_error, CHAPTER, name="practice_error", label="pitch error of the practice thread", pitch="practice_pitch"),
    node(
        threads.nut_misfit,
        CHAPTER,
        label="pitch misfit over the length of the nut",
        pitch_error="whole_pitch_error",
        length="nut_length",
    ),
    node(threads.diameter_equivalent, CHAPTER, label="play that the pitch misfit uses up", misfit="nut_misfit", fixed=FLANKS),
    node(
        gears.tip_diameter,
        CHAPTER,
        label="outside diameter of the largest change gear",
        module="wheel_module",
        wheel="largest_wheel",
    ),
]

LIMITS = [
    Limit(
        "feeds_can_be_had",
        "the feed of the finishing cut can be had",
        CHAPTER,
        "finest_feed",
        "at most",
        "finish_feed",
        "The finest feed the wheels give is {value}; the last cut asks {limit}. A coarse feed leaves a thread on the work: wind it by hand, add a second stud, "
        "or give the feed a shaft or motor of its own.",
        comfort=0.0,
        unasked="The feed is wound by hand, or has a shaft or motor of its own: no wheel limits it.",
        opened_by="change gears that drive the feed",
    ),
    Limit(
        "threads_can_be_cut",
        "the change gears cut the threads of the jobs",
        CHAPTER,
        "worst_pitch_error",
        "at most",
        0.2,
        "The worst thread on the list misses its pitch by {value}; beyond {limit} not even a short nut goes on.",
        comfort=3.0,
        clear="Your wheels meet the pitch of every thread on the list.",
        asked="threads_asked",
        unasked="No thread is on the list.",
        opened_by="a thread on the list of jobs",
        caution="Change wheels draw fingers in where they meet: stop the motor and wait until all stands still before you touch one, "
        "and run only with the cover on.",
    ),
    Limit(
        "thread_enters_nut",
        "the practice thread goes into its nut",
        CHAPTER,
        "diameter_equivalent",
        "at most",
        "play_allowance",
        "Over the nut the error of pitch uses up {value} of play; a usual fit has {limit}.",
        comfort=0.5,
        source="iso_965_1, class 6g in 6H",
        asked="threads_cut",
        unasked="The lathe cuts no threads with a leadscrew.",
        opened_by="threads with a leadscrew",
    ),
]
