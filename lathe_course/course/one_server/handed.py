"""Hands the design of the working folder of the account it runs as to whoever asked, as text; changes nothing.

Only the standard library is loaded, since it runs once for each learner whenever the mentor looks.
"""

from __future__ import annotations

import base64
import json
import os
import re
import stat
import sys
from pathlib import Path

from lathe_course.course.folder import WORKING_FOLDER

#: what may be handed over: the design file, and the tables beside it
FILE = re.compile(r"design(?:\.[a-z_]{1,30})?\.(?:toml|csv)")
LARGEST = 4_000_000  # bytes of one file; ten times what a long log needs
_MOST = 40


def handed(folder: Path) -> dict[str, str]:
    """The design file of a working folder and the tables beside it, each in base64 by its name.

    Only plain files that this account may read: what else bears such a name is left out.
    """
    found = {}
    for path in sorted(folder.iterdir()):
        if len(found) < _MOST and FILE.fullmatch(path.name):
            try:
                # a pipe of that name would keep everybody waiting
                with os.fdopen(os.open(path, os.O_RDONLY | os.O_NONBLOCK | os.O_CLOEXEC), "rb") as file:
                    about = os.fstat(file.fileno())
                    if stat.S_ISREG(about.st_mode) and about.st_size <= LARGEST:
                        found[path.name] = base64.b64encode(file.read(LARGEST)).decode("ascii")
            except OSError:
                continue
    return found


if __name__ == "__main__":
    if "--nothing" not in sys.argv:
        mine = Path.home() / WORKING_FOLDER
        json.dump(handed(mine) if mine.is_dir() else {}, sys.stdout)
