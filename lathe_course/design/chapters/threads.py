"""Chapter 09, second part: threads and change gears."""

CHAPTER = "09"

DECISIONS = []
FIGURES = []
RESULTS = []
LIMITS = []
