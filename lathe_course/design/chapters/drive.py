"""Chapter 05: how speed and torque reach the spindle."""

CHAPTER = "05"

DECISIONS = []
FIGURES = []
RESULTS = []
LIMITS = []
