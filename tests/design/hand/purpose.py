"""Purpose: results worked by hand, and what moves nothing or is only shown."""

_NO_BENEFITS = dict.fromkeys(("benefit_skills", "benefit_wellbeing", "benefit_people", "benefit_passed_on"), "0") | {
    "company_share": "100 %"
}
_REASONS = {
    "reason_learning": "3",
    "reason_making": "4",
    "reason_company": "3",
    "reason_parts": "4",
    "reason_saving": "1",
    "hour_price": "12 EUR/h",
}
#: name, inputs as text, the result in its workshop unit as a pocket calculator says it
HAND = [
    # reasons 10 for building, 5 for having: 12 (5 - 10) / 15
    (
        "hour_cost",
        {
            "reason_learning": "3",
            "reason_making": "4",
            "reason_company": "3",
            "reason_parts": "4",
            "reason_saving": "1",
            "hour_price": "12 EUR/h",
        }
        | _NO_BENEFITS,
        -4,
    ),
    (
        "hour_cost",
        {
            "reason_learning": "0",
            "reason_making": "0",
            "reason_company": "0",
            "reason_parts": "4",
            "reason_saving": "1",
            "hour_price": "12 EUR/h",
        }
        | _NO_BENEFITS,
        12,
    ),
    (
        "hour_cost",
        dict.fromkeys(("reason_learning", "reason_making", "reason_company", "reason_parts", "reason_saving"), "0")
        | {"hour_price": "12 EUR/h"}
        | _NO_BENEFITS,
        0,
    ),
    # skills found to weigh 5 where 3 had been hoped for, company less than hoped, 2 passed on: 5 + 4 + 3 + 2 against 5, 12 (5 - 14) / 19
    (
        "hour_cost",
        {
            "reason_learning": "3",
            "reason_making": "4",
            "reason_company": "3",
            "reason_parts": "4",
            "reason_saving": "1",
            "hour_price": "12 EUR/h",
            "benefit_skills": "5",
            "benefit_wellbeing": "0",
            "benefit_people": "1",
            "benefit_passed_on": "2",
            "company_share": "100 %",
        },
        -5.6842,
    ),
    # a third of the hours has company: 12 (5 - 7 - 1) / 15, and the club gives the other two thirds of it: 12 x 2 / 15
    ("hour_cost", _REASONS | _NO_BENEFITS | {"company_share": "0.33333333"}, -2.4),
    ("company_gain", _REASONS | _NO_BENEFITS | {"company_share": "0.33333333"}, 1.6),
    ("company_gain", _REASONS | _NO_BENEFITS, 0),
]
#: decisions that move no figure, each with the reason why it is kept all the same
MOVES_NOTHING = {
    "with_whom": "words for the brief",
    "place": "words for the brief",
    "at_hand": "machines told as ticks open ways; held with the twelve answers",
}
#: figures and results that reach no limit, and the chapter that shows them
ONLY_SHOWN = {"hour_cost": "02", "company_gain": "10"}
