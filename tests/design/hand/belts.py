"""The belt: results worked by hand, and what is only shown."""

#: name, inputs as text, the result in its workshop unit as a pocket calculator says it
HAND = [
    # √(220² - 55²)
    ("belt_strand", {"belt_centres": "220 mm", "driving_pulley_1": "30 mm", "driven_pulley_1": "140 mm"}, 213.01),
    # 761.5 - (440 + 314.159 + 7.2727)
    (
        "belt_rule_short",
        {"belt_length": "761.5 mm", "driven_pulley_1": "140 mm", "driving_pulley_1": "60 mm", "belt_centres": "220 mm"},
        0.0680,
    ),
]
#: figures and results that reach no limit, and the chapter that shows them
ONLY_SHOWN = {"belt_strand": "05", "belt_rule_short": "05", "belt_give": "05"}
