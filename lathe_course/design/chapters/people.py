"""Chapter 13, second part: who builds it, whose it is, what parting costs, and what the building brings beside the lathe.

Vectors over the partners (kind None) have shape (partners,) or (draws, partners).
"""

import numpy as np

from ...planning import partners
from ...tables import table
from ...units import Count, HourPrice, HoursRate, Money, MoneyRate, Ratio
from ..chain.entries import Decision, Limit, node, result
from ..chain.readings import Field, Sheet

CHAPTER = "13"
#: months in which those who stay are to pay out one who leaves
_MONTHS_TO_PAY = 12

SHEETS = [
    Sheet(
        "partners",
        "partners",
        {
            "name": Field("who it is"),
            "hours": Field("hours a month that really come", HoursRate(at_least=0)),
            "money": Field("money a month", MoneyRate(at_least=0)),
            "skill": Field("practice in such work", options=tuple(table("skills")), optional=True),
            "brings": Field(
                "machines brought along: their names in your list of machines, or what they can do, such as turning 250 x 500 mm",
                optional=True,
            ),
        },
        "One row for each who builds, yourself included. Write down what came in the last three months, not what was hoped for.",
    )
]


def _benefit(name: str, label: str, question: str) -> Decision:
    return Decision(name, label, question, CHAPTER, Ratio("", at_least=0, at_most=5), 0, 5, 1, movable=False)


#: side benefit -> the reason of chapter 01 that it can raise, or nothing
BENEFITS = {
    "benefit_skills": "reason_learning",
    "benefit_wellbeing": "reason_making",
    "benefit_people": "reason_company",
    "benefit_passed_on": "",
}

DECISIONS = [
    _benefit(
        "benefit_skills",
        "benefit: skills gained",
        "What have you learnt on the way that you use elsewhere? (0 nothing yet, to 5)",
    ),
    _benefit(
        "benefit_wellbeing", "benefit: well-being", "How much better do you feel after an evening at it? (0 no better, to 5)"
    ),
    _benefit("benefit_people", "benefit: people met", "How much have the people met through it come to mean? (0 none yet, to 5)"),
    _benefit(
        "benefit_passed_on",
        "benefit: what is taught to others",
        "How much of it do you pass on to somebody who learns from you? (0 nothing yet, to 5)",
    ),
    Decision(
        "hour_rate",
        "agreed rate of an hour among partners",
        "What does an hour of any partner count, when hours and money are added up?",
        CHAPTER,
        HourPrice(at_least=0),
        0,
        40,
        1,
        movable=False,
    ),
    Decision(
        "leaving_discount",
        "discount on the share of a partner who leaves",
        "By how much less than their share is one paid who leaves?",
        CHAPTER,
        Ratio("%", at_least=0, at_most=100),
        0,
        60,
        5,
        movable=False,
    ),
    Decision(
        "whose_lathe",
        "whose the lathe is, where it stands, who may use it when",
        "Whose is it, where does it stand once it runs, and who may use it when?",
        CHAPTER,
        free_text=True,
    ),
]


@result(None, "what each partner puts in a month", CHAPTER, source="own_work, money plus hours at an agreed rate")
def put_in_monthly(partners_readings, hour_rate):
    """Money, and hours at the agreed rate, partner by partner."""
    hours, money = (partners_readings.column(name) for name in ("hours", "money"))
    return partners.put_in.si(money, hours, np.asarray(hour_rate, float)[..., None])


@result(None, "share of each partner", CHAPTER, source="own_work, share of what was put in")
def partner_shares(put_in_monthly):
    """Each one's part of the whole; alike while nobody puts in anything, for then nothing divides it."""
    count = put_in_monthly.shape[-1]
    if not count:
        return put_in_monthly
    total = put_in_monthly.sum(axis=-1, keepdims=True)
    return np.where(total > 0, partners.ownership_share.si(put_in_monthly, np.where(total > 0, total, np.inf)), 1 / count)


@result(Ratio("%"), "largest share of a partner", CHAPTER, source="own_work, share of what was put in")
def largest_share(partner_shares):
    """The share that is hardest to pay out; nothing where you build alone."""
    return partner_shares.max(axis=-1)[()] if partner_shares.shape[-1] > 1 else 0.0


@result(None, "what each partner is due on leaving", CHAPTER, source="own_work, share of what such a lathe fetches used")
def partner_dues(partner_shares, used_price, leaving_discount):
    """In EUR, in the order of the sheet, shape (..., partners): each one's share of the price, less what was agreed."""
    return partners.worth_on_leaving.si(
        partner_shares, np.asarray(used_price)[..., None], np.asarray(leaving_discount)[..., None]
    )


@result(Money(), "what those who stay can pay in a year", CHAPTER, source="own_work, money a month of the others")
def others_can_pay(partners_readings, partner_shares):
    """A year's money of all but the one with the largest share."""
    money = partners_readings.column("money")
    if len(money) < 2:
        return 0.0
    return _MONTHS_TO_PAY * (money.sum() - money[np.argmax(partner_shares, axis=-1)])


@result(HoursRate(), "hours a month the plan counts on", CHAPTER)
def hours_counted_on(hours_can, builders):
    """Hours each can find, times the people who build."""
    return hours_can * builders


def _joined(field: str, kind, name: str, label: str, planned: str):
    def body(partners_readings, planned):
        """The sum over the partners written down; what the plan says where none are."""
        return float(partners_readings.column(field).sum()) if partners_readings else planned

    return result(kind, label, CHAPTER, name=name, planned=planned)(body)


@result(Count(), "people the plan counts on beyond those written down", CHAPTER)
def people_missing(partners_readings, builders):
    """Builders of chapter 01 less the rows of the sheet; none while nobody is written down."""
    return np.maximum(builders - len(partners_readings), 0.0)[()] if partners_readings else 0.0 * builders


@result(Count(), "partners written down", CHAPTER, source="own_work, rows of the sheet")
def partners_written(partners_readings):
    """Rows of the sheet of partners."""
    return float(len(partners_readings))


RESULTS = [
    partners_written,
    put_in_monthly,
    partner_shares,
    partner_dues,
    largest_share,
    node(
        partners.worth_on_leaving,
        CHAPTER,
        name="parting_sum",
        label="what the partner with the largest share is due on leaving",
        share="largest_share",
        value="used_price",
        discount="leaving_discount",
    ),
    others_can_pay,
    hours_counted_on,
    _joined("hours", HoursRate(), "joined_hours", "hours a month of all partners", "hours_counted_on"),
    _joined("money", MoneyRate(), "joined_money", "money a month of all partners", "money_can"),
    people_missing,
]

LIMITS = [
    Limit(
        "partners_bring_hours",
        "the partners bring the hours",
        CHAPTER,
        "hours_counted_on",
        "at most",
        "joined_hours",
        "The plan counts on {value}; all who build bring {limit}.",
        comfort=0.0,
        asked="partners_written",
        unasked="No partners are written down.",
        opened_by="the sheet of partners (chapter 13)",
        source="own_work, sum over the partners",
    ),
    Limit(
        "partners_bring_money",
        "the partners bring the money",
        CHAPTER,
        "money_can",
        "at most",
        "joined_money",
        "The plan counts on {value}; all who build bring {limit}.",
        comfort=0.0,
        asked="partners_written",
        unasked="No partners are written down.",
        opened_by="the sheet of partners (chapter 13)",
        source="own_work, sum over the partners",
    ),
    Limit(
        "partners_counted",
        "every partner is written down",
        CHAPTER,
        "people_missing",
        "at most",
        0.0,
        "{value} of the people the plan counts on are not written down, where {limit} should be missing.",
        comfort=0.0,
        source="own_work, rows of the sheet",
        clear="Everyone the plan counts on is written down.",
        asked="partners_written",
        unasked="No partners are written down.",
        opened_by="the sheet of partners (chapter 13)",
    ),
    Limit(
        "parting_can_be_paid",
        "a partner who leaves can be paid",
        CHAPTER,
        "parting_sum",
        "at most",
        "others_can_pay",
        "If the partner with the largest share leaves, {value} is due; those who stay put in {limit} a year.",
        comfort=0.25,
        source="own_work, a year to pay",
        unasked="Nobody has to be paid out.",
        opened_by="partners who put in money (chapter 13)",
        caution="This is no legal advice: put who owns what, and how one leaves, on one signed page before the first hour, and ask where you live what holds.",
    ),
]
