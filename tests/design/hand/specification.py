"""Specification: results worked by hand, and what moves nothing or is only shown."""

#: name, inputs as text, the result in its workshop unit as a pocket calculator says it
HAND = [
    # 20 h x 3 people x 0.75 x 0.875 x (1 - 2 x 0.1)
    ("useful_hours", {"hours_can": "20 h/month", "builders": "3", "hours_kept": "0.75", "months_worked": "0.875", "talk_loss": "0.1"}, 31.5),
    ("useful_hours_should", {"hours_should": "10 h/month", "builders": "3", "hours_kept": "0.75", "months_worked": "0.875", "talk_loss": "0.1"}, 15.75),
    # eight people at a fifth lost each: a fifth of the hours is left, not less
    ("useful_hours", {"hours_can": "20 h/month", "builders": "8", "hours_kept": "0.75", "months_worked": "0.875", "talk_loss": "0.2"}, 21),
    ("machine_length", {"between_centres": "300 mm", "centre_height": "75 mm", "length_factor": "8"}, 900),
    ("swing_over_bed", {"centre_height": "75 mm"}, 150),
    ("swing_over_slide", {"centre_height": "75 mm", "slide_height": "30 mm"}, 90),
    ("swing_over_slide", {"centre_height": "40 mm", "slide_height": "60 mm"}, 0),
    ("disc_swing", {"largest_disc": "120 mm", "disc_clearance": "3 mm"}, 126),
    ("bar_bore", {"thickest_bar": "18 mm"}, 19),
    ("bar_bore", {"thickest_bar": "0 mm"}, 0),
    ("building_total", {"estimated_money": "1900 EUR", "estimated_hours": "575 h", "hour_cost": "-4 EUR/h"}, -400),
    ("used_total", {"used_price": "740 EUR", "used_hours": "35 h", "hour_price": "12 EUR/h"}, 1160),
    # the money lasts 20 months, the hours 50
    ("months_can", {"estimated_hours": "500 h", "useful_hours": "10 h/month", "estimated_money": "2000 EUR", "money_can": "100 EUR/month"}, 50),
]
#: decisions that move no figure, each with the reason why it is kept all the same
MOVES_NOTHING = {"left_out": "words for the brief"}
#: figures and results that reach no limit, and the chapter that shows them
ONLY_SHOWN = {
    "used_hours": "02",
    "building_total": "02",
    "used_total": "02",
    "price_of_learning": "02",
    "share_that_fits": "02",
}
