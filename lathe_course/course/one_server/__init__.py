"""A class on one server: each signs in with an account of the machine and works in a folder of their own; the mentor looks on.

``server`` runs JupyterHub for the command; ``hub`` says how it is set, on one machine or, with a
spawner of its own, on many; ``place`` lays a learner's folder and opens the course there, as that
learner; ``mentor`` is the mentor's page.  What acts for everybody reads nothing of a learner's:
``handed`` reads a folder as the learner, and ``seen`` works a page out of it as the mentor.
"""
