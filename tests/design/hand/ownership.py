"""Running and keeping it: results worked by hand, and what is only shown."""

#: name, inputs as text, the result in its workshop unit as a pocket calculator says it
HAND = [
    # 0.8 m by 0.4 m of machine and 0.6 m to stand
    ("floor_taken", {"machine_length": "800 mm", "machine_depth": "400 mm", "standing_depth": "600 mm"}, 0.8),
    # 370 W, a fifth of it, over 0.74, is 100 W; 10 h make one kilowatt-hour
    (
        "power_money",
        {
            "turning_hours": "10 h/month",
            "motor_power": "370 W",
            "load_share": "20 %",
            "motor_efficiency": "74 %",
            "power_price": "0.3 EUR/h",
        },
        0.3,
    ),
    ("wear_money", {"turning_hours": "10 h/month", "wear_price": "0.6 EUR/h"}, 6),
    ("space_money", {"floor_taken": "0.8 m²", "space_price": "2 EUR/month"}, 1.6),
    ("use_money", {"power_money": "0.3 EUR/month", "wear_money": "6 EUR/month", "space_money": "1.6 EUR/month"}, 7.9),
    # 1200 EUR, 2 % a year, is 2 EUR a month
    ("running_money", {"use_money": "7.9 EUR/month", "charged_total": "1200 EUR", "repair_share": "2 %"}, 9.9),
    ("used_running_money", {"use_money": "7.9 EUR/month", "used_price": "600 EUR", "repair_share": "2 %"}, 8.9),
    # 120 a year, and three quarters of 1200 EUR over ten years
    (
        "keeping_a_year",
        {"running_money": "10 EUR/month", "charged_total": "1200 EUR", "resale_share": "25 %", "months_kept": "120 months"},
        210,
    ),
    (
        "used_keeping_a_year",
        {"used_running_money": "9 EUR/month", "used_price": "600 EUR", "used_resale_share": "75 %", "months_kept": "120 months"},
        123,
    ),
    ("turning_hour_cost", {"keeping_a_year": "210 EUR", "turning_hours": "7 h/month"}, 2.5),
    # 84 h at 45 EUR, a tenth cheaper here
    ("ordered_a_year", {"turning_hours": "7 h/month", "ordered_price": "45 EUR/h", "outside_local": "0.9"}, 3402),
    ("hours_of_use", {"turning_hours": "6 h/month", "months_kept": "120 months"}, 720),
    ("building_for_turning", {"own_hours": "360 h", "hours_of_use": "720 h"}, 0.5),
    ("building_by_parts", {"charged_total": "1200 EUR", "own_hours": "300 h", "hour_cost": "-2 EUR/h"}, 600),
    ("building_over_buying", {"building_by_parts": "600 EUR", "used_total": "850 EUR"}, -250),
]
#: figures and results that no finding rests on -> chapter that shows them
ONLY_SHOWN = dict.fromkeys(
    (
        "keeping_a_year",
        "used_running_money",
        "used_keeping_a_year",
        "turning_hour_cost",
        "building_for_turning",
        "building_by_parts",
        "building_over_buying",
        "resale_share",
        "ordered_price",
        "ordered_a_year",
        "used_resale_share",
    ),
    "15",
)
