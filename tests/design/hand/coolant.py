"""Coolant: results worked by hand, and what is only shown."""

#: name, inputs as text, the result in its workshop unit as a pocket calculator says it
HAND = [("cooled_speed", {"cutting_speed": "20 m/min", "cooling_gain": "1.25"}, 25)]
#: figures and results that reach no limit, and the chapter that shows them
ONLY_SHOWN = {"cooling_gain": "03", "cooled_speed": "03"}
