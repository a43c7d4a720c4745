"""Chapter 13: where it lives, and with whom."""
from ...units import Ratio
from ..parts_of_chain import Decision

CHAPTER = "13"

DECISIONS = [
    Decision("material_prices", "local prices of material", "What do material and bought parts cost where you live, against the course's list?", CHAPTER,
             Ratio("%", above=0), 50, 250, 5, movable=False),
    Decision("labour_prices", "local prices of labour", "What does other people's work cost where you live, against the course's list?", CHAPTER,
             Ratio("%", above=0), 30, 300, 5, movable=False),
]
FIGURES = []
RESULTS = []
LIMITS = []
