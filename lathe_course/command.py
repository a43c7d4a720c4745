"""The command ``lathe-course``: plain verbs, each a call of ``course`` or ``design``.

A verb is a ``Verb`` in ``VERBS``: its arguments and what it does.  Modules are imported
when a verb needs them, so that ``lathe-course --help`` answers at once.
"""

from __future__ import annotations

import argparse
import contextlib
import os
import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, TextIO

from lathe_course.course.folder import WORKING_FOLDER
from lathe_course.problems import InputProblem, visible

if TYPE_CHECKING:
    from lathe_course.course.teaching.questions.behind import Behind
    from lathe_course.design.design import Design

BAD_INPUT = 2  # the exit code argparse uses as well
INTERRUPTED = 130


#: what adds one argument, or some that shut each other out, to the reader of a verb
Argument = Callable[[argparse.ArgumentParser], object]


def _argument(*names: str, **how: Any) -> Argument:
    return lambda parser: parser.add_argument(*names, **how)


@dataclass(frozen=True)
class Verb:
    """One verb of the command: each of ``arguments`` adds itself to a reader, ``act`` does it and returns an exit code."""

    name: str
    about: str
    arguments: tuple[Argument, ...]
    act: Callable[[argparse.Namespace], int]


# --- start ------------------------------------------------------------------------------------------
def _start(options: argparse.Namespace) -> int:
    from lathe_course.course.folder import serve, workspace

    report = workspace.prepare(options.folder)
    for sentence in report.sentences():
        print(sentence)
    for name in options.fresh_copy:
        print(f"A fresh copy lies beside yours: {workspace.fresh_copy(report.folder, name).relative_to(report.folder)}")
    if options.folder_only:
        return 0
    return serve.run(report.folder, options.port, serve.can_open_browser() and not options.no_browser, _say)


def _class(options: argparse.Namespace) -> int:
    from lathe_course.course.one_server import server

    return server.run(options.learners, options.mentor, options.address, options.port, options.certificate, options.key, _say)


def _say(line: str) -> None:
    print(line, flush=True)  # seen at once, also through a pipe


# --- a design, held and shown -----------------------------------------------------------------------
_FILE_HELP = f"a design file or a working folder (default: the working folder you stand in, or {WORKING_FOLDER})"


def _which_design(parser: argparse.ArgumentParser) -> None:
    which = parser.add_mutually_exclusive_group()
    which.add_argument("file", nargs="?", metavar="FILE", help=_FILE_HELP)
    which.add_argument("--demo", metavar="NAME", help="a demo design that comes with the course, such as boat_shed")


def _which(options: argparse.Namespace) -> Design:
    from lathe_course.design.demos import demo

    return demo(options.demo) if options.demo is not None else _load(_design_file(options.file))


def _findings(options: argparse.Namespace) -> int:
    from lathe_course.course.shown.plain_text import findings_text
    from lathe_course.design.files.design_file import DesignFile
    from lathe_course.design.lathe import LATHE

    print(findings_text(_which(options)))
    for remark in DesignFile(_design_file(options.file), LATHE).remarks if options.demo is None else ():
        print(f"Mind: {remark}")
    return 0


def _compare(options: argparse.Namespace) -> int:
    from lathe_course.course.teaching.side_by_side import compare_text, own_names, write_compare

    if len(options.files) < 2:
        raise InputProblem.about("files", f"Name at least two designs to compare, for example: {WORKING_FOLDER} boat_shed")
    designs = [_file_or_demo(name) for name in options.files]
    names = own_names(designs, options.files)
    if options.to is not None:
        print(f"Wrote the page: {write_compare(designs, names, options.to)}")
    else:
        print(compare_text(designs, names))
    return 0


def _file_or_demo(name: str) -> Design:
    """A design by its file or folder, or a demo by its name where there is no such file."""
    from lathe_course.design.demos import demo

    path = Path(name).expanduser()
    if os.path.exists(path) or path.suffix or len(path.parts) > 1:
        return _load(_design_file(name))
    try:
        return demo(name)
    except InputProblem as problem:
        raise InputProblem([("file", f"There is no file or folder called {name!r}."), *problem.problems]) from None


def _setback(options: argparse.Namespace) -> int:
    from lathe_course.course.teaching.setbacks import dealt_text, keep, struck_by
    from lathe_course.course.teaching.side_by_side import own_names
    from lathe_course.design.files.design_file import DesignFile
    from lathe_course.design.lathe import LATHE

    if options.rounds < 1:
        raise InputProblem.about("rounds", f"{options.rounds} rounds cannot be dealt; deal one or more.")
    designs = [_file_or_demo(name) for name in options.files]
    names = own_names(designs, options.files)
    if options.keep and (demos := [name for name in options.files if not os.path.exists(Path(name).expanduser())]):
        raise InputProblem.about("keep", f"{demos[0]} is a demo, and nothing is written into it; name the groups' own files.")
    dealt = struck_by(options.seed, dict(zip(names, designs)), options.rounds, options.each)
    print(dealt_text(dealt))
    if options.keep:
        files = {name: DesignFile(_design_file(given), LATHE) for name, given in zip(names, options.files)}
        print(f"\n{keep(options.seed, dealt, {name: file.save_change for name, file in files.items()})}")
    return 0


def _brief(options: argparse.Namespace) -> int:
    from lathe_course.course.printed.brief import write_brief

    out = Path(options.to).expanduser()
    write_brief(_which(options), out, whole=options.all)
    print(f"Wrote the brief: {out}")
    return 0


def _handout(options: argparse.Namespace) -> int:
    from lathe_course.course.folder.workspace import design_path
    from lathe_course.course.printed.handout import chapter_path, write_handout
    from lathe_course.course.session import Session

    path = chapter_path(options.chapter)
    if options.demo is not None:
        session = Session(demo_name=options.demo, alone=True)
    else:
        beside = None if options.file is not None else design_path(path.parent)  # one's own copy lies beside one's own design
        design = beside or _design_file(options.file)
        _load(design)  # a design that cannot be read is told here, and nothing stands in for it
        session = Session(design)
    out, failed = write_handout(path, session, options.to, options.mentor)
    for sentence in failed:
        print(sentence, file=sys.stderr)
    print(f"Wrote the hand-out: {out}")
    return 0


def _shop(options: argparse.Namespace) -> int:
    from datetime import date

    from lathe_course.course.printed.document import web_page
    from lathe_course.course.printed.shop_papers import write_shop_papers

    print(
        f"Wrote the papers: {write_shop_papers(_which(options), web_page(options.to, 'shop', 'papers for the shop', 'shop_papers'), date.today())}"
    )
    return 0


def _words(options: argparse.Namespace) -> int:
    from lathe_course.course.shown.glossary import told

    if options.word:
        print(told(options.word))
        return 0
    from lathe_course.course.shown.words import all_words

    print(all_words().plain)
    return 0


def _drawing(options: argparse.Namespace) -> int:
    from lathe_course.course.sheets.written import write_drawing

    print(f"Wrote the drawing: {write_drawing(_which(options), options.to, options.paper, options.projection)}")
    return 0


def _answers(options: argparse.Namespace) -> int:
    from lathe_course.course.teaching.questions import answers_table, answers_text

    names = _named(options.name)
    behind = _behind(options)
    print(
        answers_table(options.chapter, names, behind=behind)
        if options.short
        else "\n\n\n".join(answers_text(options.chapter, name, own) for name, own in zip(names, behind))
    )
    return 0


def _behind(options: argparse.Namespace) -> list[Behind | None]:
    """The learners' own designs, one for each name; None for each where no design was named."""
    from lathe_course.course.teaching.questions.behind import Behind

    given, names = options.design, options.name
    if given and len(given) != len(names):
        raise InputProblem.about(
            "design",
            f"There are {len(names)} names and {len(given)} designs; give --design once for each --name, in the same order, or not at all.",
        )
    return [Behind(_file_or_demo(one)) for one in given] or [None] * len(names)


def _evening(options: argparse.Namespace) -> int:
    from lathe_course.course.teaching.evening import write_evening

    print(
        f"Wrote the sheet: {write_evening(options.chapter, _named(options.name), options.minutes, options.to, _behind(options))}"
    )
    return 0


def _named(names: Sequence[str]) -> Sequence[str]:
    """The names as given, or InputProblem for a blank one."""
    if blank := [name for name in names if not name.strip()]:
        raise InputProblem.about(
            "name",
            f"{blank[0]!r} is no name, so it is not known whose answers are meant; "
            "write the name as the learner did, or 'guest' for one who wrote none.",
        )
    return names


def _tries(options: argparse.Namespace) -> int:
    from lathe_course.course.teaching.questions import tries_text
    from lathe_course.course.teaching.questions.tries import tries_path

    given = Path(options.file).expanduser() if options.file is not None else None
    print(tries_text(given if given is not None and os.path.isfile(given) else tries_path(_design_file(options.file))))
    return 0


def _questions(options: argparse.Namespace) -> int:
    from lathe_course.course.teaching.questions import own_path
    from lathe_course.course.teaching.questions.trial import template, trial

    if options.template:
        print(template(), end="")
        return 0
    path = Path(options.file).expanduser() if options.file is not None else own_path()
    if path is None:
        raise InputProblem.about(
            "file",
            "You do not stand in a working folder, so say which file of questions is meant; "
            "'lathe-course questions --template > my_questions.toml' makes one to begin with.",
        )
    said = trial(path)
    if said:
        raise InputProblem([("file", sentence) for sentence in said])
    print(f"{path.name}: every question can be put, and its slips are told apart.")
    return 0


def _design_file(given: str | None) -> Path:
    """The design file that was meant: named, in a named working folder, or in the one we stand in."""
    from lathe_course.course.folder.workspace import DESIGN_FILE, design_path

    if given is None:
        path = design_path() or Path(WORKING_FOLDER) / DESIGN_FILE
        if not os.path.exists(path):
            raise InputProblem.about(
                "file",
                "You do not stand in a working folder, so say which design is meant, "
                f"for example: ~/{WORKING_FOLDER}/{DESIGN_FILE}",
            )
        return path
    path = Path(given).expanduser()
    return path / DESIGN_FILE if os.path.isdir(path) else path


def _load(path: Path) -> Design:
    from datetime import date

    from lathe_course.design.files.lists import load_with_lists
    from lathe_course.design.lathe import LATHE

    return load_with_lists(path, LATHE, date.today())


# --- all verbs --------------------------------------------------------------------------------------
_TO_PAGE = _argument("--to", metavar="OUT.html", required=True, help="the page to write")
_DESIGNS = _argument(
    "--design",
    action="append",
    default=[],
    metavar="FILE",
    help="the learner's own design file or working folder, from which some questions take figures; once for each --name, in the same order",
)

VERBS = (
    Verb(
        "start",
        "make or renew a working folder and open the course there",
        (
            _argument(
                "folder",
                nargs="?",
                default=WORKING_FOLDER,
                metavar="FOLDER",
                help=f"your working folder; made if it is not there (default: {WORKING_FOLDER})",
            ),
            _argument("--port", type=int, help="where to listen on this machine (default: 8888, or the next free)"),
            _argument("--no-browser", action="store_true", help="only print the address"),
            _argument("--folder-only", action="store_true", help="make the folder ready, do not open the course"),
            _argument(
                "--fresh-copy",
                metavar="NAME",
                action="append",
                default=[],
                help="also put the course's own copy of a notebook or exercise beside yours, such as 03",
            ),
        ),
        _start,
    ),
    Verb(
        "class",
        "open the course for a class on this machine, each with a folder of their own",
        (
            _argument("learners", nargs="+", metavar="LEARNER", help="accounts of this machine, one for each learner"),
            _argument(
                "--mentor", required=True, metavar="NAME", help="the mentor's account, which sees all folders and changes none"
            ),
            _argument(
                "--address",
                default="127.0.0.1",
                metavar="ADDRESS",
                help="this machine's address in the room, such as 192.168.1.5 (default: this machine alone)",
            ),
            _argument("--port", type=int, help="where to listen (default: 8888, or the next free)"),
            _argument("--certificate", default="", metavar="FILE", help="certificate, so that nobody in the room can listen in"),
            _argument("--key", default="", metavar="FILE", help="the certificate's private key"),
        ),
        _class,
    ),
    Verb("findings", "hold a design against all its limits", (_which_design,), _findings),
    Verb(
        "brief",
        "write the brief of a design as one page to print",
        (
            _which_design,
            _TO_PAGE,
            _argument(
                "--all",
                action="store_true",
                help="the whole brief: every decision, what holds, and the pages of the chapters; without it eight sheets",
            ),
        ),
        _brief,
    ),
    Verb(
        "words",
        "tell what a word of the trade means, or all of them",
        (
            _argument(
                "word",
                metavar="WORD",
                nargs="?",
                default="",
                help="a word of the trade, or another name for it; without one, all of them",
            ),
        ),
        _words,
    ),
    Verb(
        "handout",
        "write a chapter as one page to print, with the pictures of a design, without code",
        (
            _argument("chapter", metavar="CHAPTER", help="number of a chapter, such as 06, or the file of your own copy of it"),
            _which_design,
            _TO_PAGE,
            _argument("--mentor", action="store_true", help="with the note for the mentor"),
        ),
        _handout,
    ),
    Verb(
        "drawing",
        "draw the lathe of a design on paper, in three views with sizes and names",
        (
            _which_design,
            _argument("--to", metavar="OUT.pdf", required=True, help="the drawing to write, as .pdf or .svg"),
            _argument("--paper", default="A4", metavar="SIZE", help="A4 or A3 (default: A4)"),
            _argument(
                "--projection",
                default="",
                metavar="ANGLE",
                help="first or third (default: first angle for a design in mm, third for one in inches)",
            ),
        ),
        _drawing,
    ),
    Verb(
        "shop",
        "write the papers for the shop: stock and cutting, orders, parts to tick off, the coming two months",
        (_which_design, _TO_PAGE),
        _shop,
    ),
    Verb(
        "answers",
        "print the answers to a learner's exercises, for the mentor",
        (
            _argument("chapter", metavar="CHAPTER", help="number of a chapter, such as 03"),
            _argument(
                "--name",
                required=True,
                action="append",
                metavar="NAME",
                help="the learner whose numbers these are, written as in their exercises; may stand several times",
            ),
            _DESIGNS,
            _argument("--short", action="store_true", help="the answers alone, as one table with a column for each name"),
        ),
        _answers,
    ),
    Verb(
        "evening",
        "write a mentor's sheet for an evening on a chapter, as one page to print",
        (
            _argument("chapter", metavar="CHAPTER", help="number of a chapter, such as 07"),
            _argument(
                "--name",
                required=True,
                action="append",
                metavar="NAME",
                help="an apprentice, as written in their exercises; may stand several times",
            ),
            _DESIGNS,
            _argument("--minutes", type=int, default=90, help="length of the lesson, 45 or 90 (default: 90)"),
            _TO_PAGE,
        ),
        _evening,
    ),
    Verb(
        "tries",
        "show what was tried in the exercises, and by which slips it went wrong",
        (
            _argument(
                "file",
                nargs="?",
                metavar="FILE",
                help="a file of tries that was handed over, or a working folder (default: the one you stand in)",
            ),
        ),
        _tries,
    ),
    Verb(
        "questions",
        "say what is wrong with questions of your own, or print one to begin with",
        (
            _argument(
                "file",
                nargs="?",
                metavar="FILE",
                help="a file of questions (default: my_questions.toml of the working folder you stand in)",
            ),
            _argument("--template", action="store_true", help="print a file with one question to begin with, and check nothing"),
        ),
        _questions,
    ),
    Verb(
        "setback",
        "deal setbacks to the groups of a club evening, and say what each does to their designs",
        (
            _argument("files", nargs="+", metavar="FILE", help="the groups' design files or working folders, or names of demos"),
            _argument("--seed", required=True, metavar="WORDS", help="any words; the same words deal the same cards"),
            _argument("--rounds", type=int, default=1, metavar="NUMBER", help="so many setbacks (default: 1)"),
            _argument("--each", action="store_true", help="deal each group a setback of its own, not all the same one"),
            _argument(
                "--keep",
                action="store_true",
                help="write the setbacks into the groups' design files, with what stood before as history",
            ),
        ),
        _setback,
    ),
    Verb(
        "compare",
        "show designs side by side",
        (
            _argument("files", nargs="+", metavar="FILE", help="design files, working folders, or names of demos such as cabin"),
            _argument("--to", metavar="OUT.html", help="write them as one page in large type instead, to hang up or to project"),
        ),
        _compare,
    ),
)


def parser() -> argparse.ArgumentParser:
    """The command's reader of arguments."""
    made = argparse.ArgumentParser(prog="lathe-course", description="A course in designing a small lathe of your own.")
    verbs = made.add_subparsers(dest="verb", required=True, metavar="VERB", title="verbs")
    for verb in VERBS:
        one = verbs.add_parser(verb.name, help=verb.about, description=verb.about[0].upper() + verb.about[1:] + ".")
        for add_to in verb.arguments:
            add_to(one)
        one.set_defaults(act=verb.act)
    return made


class _Shown:
    """A stream on which words of designs and files are seen and not obeyed: a name may hold what a terminal takes for a command."""

    def __init__(self, stream: TextIO):
        self._stream = stream

    def write(self, text: str) -> int:
        self._stream.write(visible(text))
        return len(text)

    def __getattr__(self, name: str) -> Any:
        return getattr(self._stream, name)


def main(words: Sequence[str] | None = None) -> int:
    """Run one verb; return its exit code. Bad input prints its sentences to standard error and gives 2."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")  # a terminal without our signs shows '?' rather than fails
    with contextlib.redirect_stdout(_Shown(sys.stdout)), contextlib.redirect_stderr(_Shown(sys.stderr)):
        return _acted(parser().parse_args(words))


def _acted(options: argparse.Namespace) -> int:
    try:
        return options.act(options)
    except InputProblem as problem:
        print(problem, file=sys.stderr)
        return BAD_INPUT
    except KeyboardInterrupt:
        print(file=sys.stderr)
        return INTERRUPTED
    except BrokenPipeError:  # the reader of our output has gone, as with "| head"
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 1
