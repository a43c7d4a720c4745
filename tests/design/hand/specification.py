"""Specification: results worked by hand, and what moves nothing or is only shown."""

#: name, inputs as text, the result in its workshop unit as a pocket calculator says it
HAND = [
    ("machine_length", {"bed_length": "640 mm", "centre_height": "75 mm", "beyond_bed": "3.5"}, 902.5),
    ("swing_over_bed", {"centre_height": "75 mm"}, 150),
    ("swing_over_slide", {"centre_height": "75 mm", "slide_height": "30 mm"}, 90),
    ("swing_over_slide", {"centre_height": "40 mm", "slide_height": "60 mm"}, 0),
    ("disc_swing", {"largest_disc": "120 mm", "disc_clearance": "3 mm"}, 126),
    ("bar_bore", {"thickest_bar": "18 mm"}, 19),
    ("bar_bore", {"thickest_bar": "0 mm"}, 0),
    ("used_total", {"used_price": "740 EUR", "used_hours": "35 h", "hour_price": "12 EUR/h"}, 1160),
]
#: decisions that move no figure, each with the reason why it is kept all the same
MOVES_NOTHING = {"left_out": "words for the brief"}
#: figures and results that reach no limit, and the chapter that shows them
ONLY_SHOWN = {"used_hours": "02", "used_total": "02", "price_of_learning": "02", "share_that_fits": "02"}
