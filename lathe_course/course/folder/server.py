"""Starts the JupyterLab that its first word names, with the others as its options; ``serve`` and the class's place start it so."""

import runpy
import sys

from lathe_course.course.left_out import left_out

if __name__ == "__main__":
    with left_out():
        runpy.run_module(sys.argv.pop(1), run_name="__main__", alter_sys=True)
