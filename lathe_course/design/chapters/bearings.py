"""Chapter 06, second part: loads, life, heat and fits of what the spindle runs in."""

CHAPTER = "06"

DECISIONS = []
FIGURES = []
RESULTS = []
LIMITS = []
