"""Chapter 17: is it true, and what is to be corrected."""

CHAPTER = "17"

DECISIONS = []
FIGURES = []
RESULTS = []
LIMITS = []
