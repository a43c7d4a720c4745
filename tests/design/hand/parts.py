"""Parts and ways: results worked by hand, and what moves nothing or is only shown."""

#: name, inputs as text, the result in its workshop unit as a pocket calculator says it
HAND = [
    # three of these hours are the trip's, the rest at the bench
    ("hours_on_parts", {"part_hours": [12.0, 3.5, 0.5]}, 16),
    ("material_money", {"part_material": [[10.0, 20.0], [1.0, 2.0]]}, [30, 3]),
    ("outside_money", {"part_outside": [110.0, 45.0]}, 155),
    ("carriage_money", {"part_carriage": [4.0, 6.0, 1.5]}, 11.5),
    # waits run side by side
    ("longest_wait", {"part_wait": [0.5, 1.75, 1.0], "thing_wait": [0.0, 1.5]}, 1.75),
    ("longest_wait", {"part_wait": [0.5, 1.75, 1.0], "thing_wait": [0.0, 2.5]}, 2.5),
    ("fees_money", {"part_fees": [0.0, 12.5, 7.5]}, 20),
    # 40 hours at a pace a fifth slower
    ("task_hours", {"task_draws": [30.0, 10.0], "own_pace": "1.2"}, 48),
    # a fifth dearer here, and an offer of one's own a tenth below the list
    ("material_local", {"material_prices": "120 %", "material_prices_own": "0.9", "currency": "crowns"}, 1.08),
    # a bar that costs half as much again as in the lists
    ("material_local", {"material_prices": "120 %", "material_prices_own": "0.9", "currency": "EUR: bar 30"}, 1.62),
    ("outside_local", {"labour_prices": "50 %", "outside_prices_own": "1", "currency": "EUR: hour 90"}, 1),
    ("carriage_local", {"labour_prices": "50 %", "carriage_prices_own": "3", "currency": "EUR"}, 1.5),
]
#: figures and results that reach no limit, and the chapter that shows them
ONLY_SHOWN = {
    "hours_on_parts": "10",
    "task_hours": "10",
    "own_hours": "10",
    "borrowed_hours": "10",
    "longest_wait": "10",
    "parts_on_the_lathe": "10",
    "heaviest_part": "10",
}
