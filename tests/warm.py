"""A process that has loaded what the package takes from others, and runs pytest in a child of itself for each line it is given.

A line is a JSON list of what pytest is told; the answer is a line ``[what pytest ended with, the end of what it said]``.
Of the package itself nothing is loaded before the fork, so each child takes it as it lies in the folder then.
"""

import contextlib
import importlib
import json
import os
import resource
import sys
import tempfile

import pytest

#: what takes long to load; a missing one is loaded, or missed, by the test that wants it
_OF_OTHERS = (
    "numpy",
    "scipy.optimize",
    "pint",
    "tomlkit",
    "filelock",
    "ipywidgets",
    "nbformat",
    "nbclient",
    "hypothesis",
    "matplotlib.figure",
    "matplotlib.backends.backend_svg",
    "matplotlib.backends.backend_agg",
)
#: processor time of one run, s: a change that makes a body run for ever is ended whatever else the machine does
_PATIENCE = 900


def main() -> None:
    for name in _OF_OTHERS:
        with contextlib.suppress(ImportError):
            importlib.import_module(name)
    sys.path[:0] = [os.getcwd(), os.path.join(os.getcwd(), "tests")]
    for line in sys.stdin:
        print(json.dumps(_run(json.loads(line))), flush=True)


def _run(told: list[str]) -> tuple[int, str]:
    with tempfile.TemporaryFile() as said:
        child = os.fork()
        if not child:
            resource.setrlimit(resource.RLIMIT_CPU, (_PATIENCE, _PATIENCE))
            os.dup2(os.open(os.devnull, os.O_RDONLY), 0)
            os.dup2(said.fileno(), 1)
            os.dup2(said.fileno(), 2)
            ended = 70
            try:
                ended = int(pytest.main(told))
            finally:
                sys.stdout.flush()
                os._exit(ended)
        ended = os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
        said.seek(0)
        return ended, said.read()[-6000:].decode(errors="replace")


if __name__ == "__main__":
    main()
