"""The command ``lathe-course``: plain verbs, each a call of ``course`` or ``design``.

A verb is a ``Verb`` in ``VERBS``: its arguments and what it does.  Modules are imported
when a verb needs them, so that ``lathe-course --help`` answers at once.
"""
from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from lathe_course.units import InputProblem

WORKING_FOLDER = "my-lathe"
BAD_INPUT = 2           # the exit code argparse uses as well
INTERRUPTED = 130


@dataclass(frozen=True)
class Verb:
    """One verb of the command: ``arguments`` adds its options, ``act`` does it and returns an exit code."""

    name: str
    about: str
    arguments: Callable[[argparse.ArgumentParser], object]
    act: Callable[[argparse.Namespace], int]


# --- start ------------------------------------------------------------------------------------------
def _start_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("folder", nargs="?", default=WORKING_FOLDER, metavar="FOLDER",
                        help=f"your working folder; made if it is not there (default: {WORKING_FOLDER})")
    parser.add_argument("--port", type=int, help="where to listen on this machine (default: 8888, or the next free)")
    parser.add_argument("--no-browser", action="store_true", help="only print the address")
    parser.add_argument("--folder-only", action="store_true", help="make the folder ready, do not open the course")
    parser.add_argument("--fresh-copy", metavar="NAME", action="append", default=[],
                        help="also put the course's own copy of a notebook or exercise beside yours, such as 03")


def _start(options: argparse.Namespace) -> int:
    from lathe_course.course import serve, workspace

    report = workspace.prepare(options.folder)
    for sentence in report.sentences():
        print(sentence)
    for name in options.fresh_copy:
        print(f"A fresh copy lies beside yours: {workspace.fresh_copy(report.folder, name).relative_to(report.folder)}")
    if options.folder_only:
        return 0
    return serve.run(report.folder, options.port, serve.can_open_browser() and not options.no_browser, _say)


def _say(line: str) -> None:
    print(line, flush=True)         # seen at once, also through a pipe


# --- all verbs --------------------------------------------------------------------------------------
VERBS = (
    Verb("start", "make or renew a working folder and open the course there", _start_arguments, _start),
)


def parser() -> argparse.ArgumentParser:
    """The command's reader of arguments."""
    made = argparse.ArgumentParser(prog="lathe-course", description="A course in designing a small lathe of your own.")
    verbs = made.add_subparsers(dest="verb", required=True, metavar="VERB", title="verbs")
    for verb in VERBS:
        one = verbs.add_parser(verb.name, help=verb.about, description=verb.about[0].upper() + verb.about[1:] + ".")
        verb.arguments(one)
        one.set_defaults(act=verb.act)
    return made


def main(words: Sequence[str] | None = None) -> int:
    """Run one verb; return its exit code. Bad input prints its sentences to standard error and gives 2."""
    options = parser().parse_args(words)
    try:
        return options.act(options)
    except InputProblem as problem:
        print(problem, file=sys.stderr)
        return BAD_INPUT
    except KeyboardInterrupt:
        print(file=sys.stderr)
        return INTERRUPTED
    except BrokenPipeError:         # the reader of our output has gone, as with "| head"
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 1
