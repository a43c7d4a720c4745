"""Chapter 01: why build, for which jobs, and what there is to build with."""

import numpy as np

from ...tables import table
from ...units import Count, HourPrice, HoursRate, Length, Mass, MoneyRate, Months, Ratio, RotationalSpeed
from ..chain.entries import Decision, Limit, result
from .hand_rest import clears_bed_only

CHAPTER = "01"
#: begins the label of each reason, and is left out where the reasons stand under a heading of their own
REASON_TO_BUILD = "reason to build: "


def _weight(name: str, label: str, question: str) -> Decision:
    return Decision(name, REASON_TO_BUILD + label, question, CHAPTER, Ratio("", at_least=0, at_most=5), 0, 5, 1, movable=False)


DECISIONS = [
    _weight("reason_learning", "learning", "How much of the wish is to learn how such a machine comes about? (0 to 5)"),
    _weight("reason_making", "the pleasure of making", "How much is for the evenings in the workshop themselves? (0 to 5)"),
    _weight("reason_company", "company", "How much is for doing it with others? (0 to 5)"),
    _weight("reason_parts", "the parts it will make", "How much is for the parts you need? (0 to 5)"),
    _weight("reason_saving", "saving money", "How much is to come off cheaper than buying? (0 to 5)"),
    Decision(
        "hour_price",
        "price of an hour of building you do not enjoy",
        "What would you pay to be spared one hour of work that you do not enjoy?",
        CHAPTER,
        HourPrice(at_least=0),
        0,
        40,
        1,
        movable=False,
    ),
    Decision(
        "hours_can",
        "hours a month you can find",
        "How many hours a month can each builder find, looking at the last three months?",
        CHAPTER,
        HoursRate(above=0),
        2,
        60,
        1,
    ),
    Decision(
        "hours_should",
        "hours a month you should spend",
        "How many of them should each spend, with the rest of life in mind?",
        CHAPTER,
        HoursRate(above=0),
        2,
        60,
        1,
    ),
    Decision(
        "money_can",
        "money a month you can spend",
        "How much money a month can you spend, all builders together?",
        CHAPTER,
        MoneyRate(above=0),
        10,
        400,
        5,
    ),
    Decision(
        "money_should",
        "money a month you should spend",
        "How much of it should you spend?",
        CHAPTER,
        MoneyRate(above=0),
        10,
        400,
        5,
    ),
    Decision(
        "builders",
        "number of builders",
        "How many people build it?",
        CHAPTER,
        Count(at_least=1, at_most=8, whole=True),
        1,
        6,
        1,
        movable=False,
    ),
    Decision(
        "company_share",
        "share of the hours with company",
        "In how many of your hours at the bench is somebody with you, building along or keeping company?",
        CHAPTER,
        Ratio("%", at_least=0, at_most=100),
        0,
        100,
        10,
        movable=False,
    ),
    Decision("with_whom", "builders and what they bring", "Alone or with whom, and what do they bring?", CHAPTER, free_text=True),
    Decision("place", "place where the lathe stands", "Where will it stand?", CHAPTER, free_text=True),
    Decision(
        "space_length",
        "free length of bench or floor",
        "How long a free stretch of bench or floor is there?",
        CHAPTER,
        Length("mm", above=0),
        400,
        2500,
        50,
        movable=False,
    ),
    Decision(
        "mass_limit",
        "heaviest machine the place takes",
        "How heavy may the whole machine be, with stairs, floor and bench in mind?",
        CHAPTER,
        Mass("kg", above=0),
        10,
        400,
        5,
        movable=False,
    ),
    Decision(
        "at_hand",
        "machines and tools at hand",
        "Which machines and tools can you use, your own and borrowed?",
        CHAPTER,
        free_text=True,
    ),
    Decision(
        "patience",
        "patience for the build",
        "After how many months without a running lathe would you give up?",
        CHAPTER,
        Months(above=0),
        6,
        84,
        3,
        movable=False,
    ),
]


# --- what the jobs demand; columns of ``jobs`` are arrays over the jobs, in SI ---------------------
@result(Length("mm"), "largest shaft among the jobs", CHAPTER)
def largest_shaft(jobs, hand_rest):
    """The largest diameter among jobs long enough to reach over the cross-slide; wood does not, where a rest on the bed lets the saddle stand aside."""
    shafts = jobs.column("diameter")[~clears_bed_only(jobs, hand_rest)]
    return float(shafts.max()) if shafts.size else 0.0


@result(Length("mm"), "largest disc among the jobs", CHAPTER)
def largest_disc(jobs):
    """The largest diameter of all jobs; a disc must clear the bed, not the slide."""
    return float(jobs.column("diameter").max())


@result(Length("mm"), "longest of the jobs", CHAPTER)
def longest_job(jobs):
    """The longest job."""
    return float(jobs.column("length").max())


@result(Length("mm"), "thickest bar among the jobs", CHAPTER)
def thickest_bar(jobs):
    """The thickest bar that must pass through the spindle."""
    return float(jobs.column("bar").max())


@result(Length("µm"), "tightest tolerance among the jobs", CHAPTER)
def tightest_tolerance(jobs):
    """The smallest total tolerance of any job."""
    return float(jobs.column("tolerance").min())


@result(Length("mm"), "coarsest thread among the jobs", CHAPTER)
def coarsest_pitch(jobs):
    """The coarsest pitch cut with a single point; 0 if no thread is cut so."""
    return float(jobs.column("pitch").max())


def job_speeds(jobs, tool_material: str, diameter: str) -> np.ndarray:
    """Likely spindle speed of each job, rad/s, shape (jobs,); ``diameter`` names the column it is wished at."""
    column = {"high-speed steel": "speed_hss", "carbide": "speed_carbide"}[tool_material]
    rows = [table("materials")[job.material] for job in jobs]
    speeds = np.array([(row.get(column) or row["speed_hss"]).likely for row in rows])  # wood is turned with steel tools
    return 2 * speeds / jobs.column(diameter)


@result(RotationalSpeed("rpm"), "slowest speed the jobs ask for", CHAPTER)
def slowest_wanted(jobs, tool_material):
    """The lowest spindle speed any job asks for, at its largest diameter."""
    return float(job_speeds(jobs, tool_material, "diameter").min())


@result(RotationalSpeed("rpm"), "fastest speed the jobs ask for", CHAPTER)
def fastest_wanted(jobs, tool_material):
    """The highest spindle speed any job asks for, at its smallest diameter."""
    return float(job_speeds(jobs, tool_material, "smallest").max())


@result(HourPrice(), "what an hour of building costs you", CHAPTER, source="own_work, weights of the reasons")
def hour_cost(
    reason_learning,
    reason_making,
    reason_company,
    reason_parts,
    reason_saving,
    hour_price,
    benefit_skills,
    benefit_wellbeing,
    benefit_people,
    benefit_passed_on,
    company_share,
):
    """An hour at your own bench is a cost as far as you want the lathe, and a gain as far as you want the building.

    +hour_price if all reasons lie in having it, -hour_price if all lie in building it.  A side
    benefit that was found (chapter 13) stands in for the reason of its kind where it weighs
    more, and is not counted twice; what is passed on is a reason by itself.  Company counts for
    the share of the hours that have it.
    """
    alone = np.maximum(reason_learning, benefit_skills) + np.maximum(reason_making, benefit_wellbeing) + benefit_passed_on
    company = np.maximum(reason_company, benefit_people)
    having = reason_parts + reason_saving
    total = alone + company + having
    return hour_price * np.where(total > 0, (having - alone - company * company_share) / np.where(total > 0, total, 1), 0.0)


@result(HourPrice(), "what company adds to an hour on a borrowed machine", CHAPTER, source="own_work, weights of the reasons")
def company_gain(
    reason_learning,
    reason_making,
    reason_company,
    reason_parts,
    reason_saving,
    hour_price,
    benefit_skills,
    benefit_wellbeing,
    benefit_people,
    benefit_passed_on,
    company_share,
):
    """A borrowed machine stands where others are: what that makes an hour there worth beyond one at your own bench."""
    company = np.maximum(reason_company, benefit_people)
    total = (
        np.maximum(reason_learning, benefit_skills)
        + np.maximum(reason_making, benefit_wellbeing)
        + benefit_passed_on
        + company
        + reason_parts
        + reason_saving
    )
    return hour_price * np.where(total > 0, company * (1 - company_share) / np.where(total > 0, total, 1), 0.0)


RESULTS = [
    largest_shaft,
    largest_disc,
    longest_job,
    thickest_bar,
    tightest_tolerance,
    coarsest_pitch,
    slowest_wanted,
    fastest_wanted,
    hour_cost,
    company_gain,
]

LIMITS = [
    Limit(
        "hours_in_balance",
        "hours in balance with the rest of life",
        CHAPTER,
        "hours_should",
        "at most",
        "hours_can",
        "You mean to spend {value}; you can find {limit}.",
        comfort=0.0,
        source="own_work, balance of can and should",
    ),
    Limit(
        "money_in_balance",
        "money in balance with the rest of life",
        CHAPTER,
        "money_should",
        "at most",
        "money_can",
        "You mean to spend {value}; you can spend {limit}.",
        comfort=0.0,
        source="own_work, balance of can and should",
    ),
]
