"""Place and people: results worked by hand, and what moves nothing or is only shown."""

import numpy as np

from lathe_course.design.chapters.people import SHEETS

_TWO = SHEETS[0].read(
    [
        {"name": "one", "hours": "10 h/month", "money": "50 EUR/month"},
        {"name": "other", "hours": "20 h/month", "money": "40 EUR/month"},
    ]
)
_NOBODY = SHEETS[0].empty

#: name, inputs as text, the result in its workshop unit as a pocket calculator says it
HAND = [
    ("heaviest_assembly", {"carried_masses": {"in assemblies": {"bed": 40.0, "headstock": 17.5}}}, 40),
    (
        "heaviest_piece",
        {"carried_masses": {"part by part": {"bed box": np.array([21.0, 9.0]), "bed plate": np.array([14.0, 14.0])}}},
        [21, 14],
    ),
    ("heaviest_lift", {"moved_as": "whole", "parts_mass": "94 kg", "heaviest_assembly": "40 kg", "heaviest_piece": "21 kg"}, 94),
    (
        "heaviest_lift",
        {"moved_as": "part by part", "parts_mass": "94 kg", "heaviest_assembly": "40 kg", "heaviest_piece": "21 kg"},
        21,
    ),
    ("lift_by_hand", {"heaviest_lift": "94 kg", "lifted_by": "a hoist"}, 0),
    ("lift_by_hand", {"heaviest_lift": "94 kg", "lifted_by": "two people"}, 94),
    ("machine_depth", {"centre_height": "75 mm", "depth_factor": "5", "bed_width": "120 mm"}, 375),
    ("carried_length", {"moved_as": "whole", "machine_length": "780 mm", "bed_length": "640 mm"}, 780),
    ("carried_length", {"moved_as": "in assemblies", "machine_length": "780 mm", "bed_length": "640 mm"}, 640),
    ("carried_width", {"moved_as": "whole", "machine_depth": "375 mm", "bed_width": "120 mm"}, 375),
    # 20 cm and half of 12 cm
    ("lift_reach", {"carried_width": "120 mm"}, 260),
    ("lift_travel", {"lift_from": "500 mm", "bench_height": "850 mm"}, 350),
    ("lift_travel", {"lift_from": "1000 mm", "bench_height": "850 mm"}, 150),
    ("one_may_lift", {"limit_at_start": "17.5 kg", "limit_at_end": "18.3 kg"}, 17.5),
    ("lifting_people", {"lifted_by": "three people"}, 3),
    ("door_room", {"door_width": "760 mm", "hand_room": "50 mm"}, 660),
    ("standing_mass", {"parts_mass": "94 kg", "chuck_mass": "4 kg", "stand_mass": "35 kg", "person_mass": "80 kg"}, 213),
    # 1.2 m by 1.0 m
    (
        "standing_area",
        {"machine_length": "800 mm", "floor_beside": "400 mm", "machine_depth": "400 mm", "standing_depth": "600 mm"},
        1.2,
    ),
    ("bench_load", {"stands_on": "a wooden bench", "parts_mass": "18 kg", "chuck_mass": "2 kg"}, 196.133),
    ("bench_load", {"stands_on": "a steel bench or stand", "parts_mass": "18 kg", "chuck_mass": "2 kg"}, 0),
    ("sag_allowed", {"bench_span": "1200 mm", "sag_share": "0.2 %"}, 2.4),
    ("day_dose", {"turning_dose": "5 %", "grinding_dose": "56 %"}, 61),
    ("move_hours", {"taking_apart_hours": "4 h", "truing_hours": "5 h"}, 9),
    ("moving_hours", {"move_hours": "9 h", "moves_in_ten_years": "3"}, 27),
    ("moving_allowance", {"hours_should": "12 h/month", "builders": "3"}, 432),
    ("largest_share", {"partner_shares": np.array([0.4, 0.25, 0.35])}, 40),
    ("largest_share", {"partner_shares": np.array([1.0])}, 0),
    # the other one's 40 EUR, twelve times; the share of the first is larger here
    ("others_can_pay", {"partners_readings": _TWO, "partner_shares": np.array([0.6, 0.4])}, 480),
    ("others_can_pay", {"partners_readings": _TWO, "partner_shares": np.array([[0.6, 0.4], [0.4, 0.6]])}, [480, 600]),
    ("others_can_pay", {"partners_readings": _NOBODY, "partner_shares": np.zeros(0)}, 0),
    ("hours_counted_on", {"hours_can": "14 h/month", "builders": "3"}, 42),
    ("joined_hours", {"partners_readings": _TWO, "hours_counted_on": "42 h/month"}, 30),
    ("joined_hours", {"partners_readings": _NOBODY, "hours_counted_on": "42 h/month"}, 42),
    ("joined_money", {"partners_readings": _TWO, "money_can": "150 EUR/month"}, 90),
    ("people_missing", {"partners_readings": _TWO, "builders": "3"}, 1),
    ("people_missing", {"partners_readings": _NOBODY, "builders": "3"}, 0),
]
#: decisions that move no figure, each with the reason why it is kept all the same
MOVES_NOTHING = {"whose_lathe": "words for the brief, and for the page on partners"}
#: figures and results that reach no limit, and the chapter that shows them
ONLY_SHOWN = {"lifting_index": "13", "partner_dues": "13"}
