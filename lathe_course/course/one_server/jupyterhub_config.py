"""What JupyterHub reads when ``lathe-course class`` starts it."""

import os
from pathlib import Path

from lathe_course.course.one_server.hub import CLASS, TheClass, configure_one_machine

configure_one_machine(get_config(), TheClass.of(os.environ[CLASS]), Path.cwd())  # noqa: F821   JupyterHub gives it
