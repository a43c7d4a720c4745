"""Chapter 09, first part: how the tool is carried and moved."""

CHAPTER = "09"

DECISIONS = []
FIGURES = []
RESULTS = []
LIMITS = []
