"""Starts the kernel of a notebook; ``lab_settings`` tells JupyterLab to start it so."""

import os
import runpy

from lathe_course.course.folder.apart import apart

if __name__ == "__main__":
    # the kernel says so itself, but later than matplotlib is loaded here
    os.environ.setdefault("MPLBACKEND", "module://matplotlib_inline.backend_inline")
    with apart():
        import matplotlib  # noqa: F401   a learner's cell may load it before any chapter does
    runpy.run_module("ipykernel_launcher", run_name="__main__", alter_sys=True)
