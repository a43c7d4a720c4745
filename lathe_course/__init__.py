"""A course in designing a small lathe, and the vetted formulas behind it.

Formulas stand in ``machine`` and ``planning``, a whole design in ``design``, what a learner sees in
``course``.  Nothing is imported here, so that whoever wants one formula pays for no more.
"""
