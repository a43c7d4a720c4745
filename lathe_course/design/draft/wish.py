"""The twelve answers that a first draft is made from.

Most are decisions of the chain, asked here in plain words; they are not kept twice.  What no
decision holds, such as the machines at hand, stands in the design file under ``[wish]``, as the
learner wrote it.  What is not known yet is left out, and the draft takes what ``unknown`` says.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from types import MappingProxyType
from typing import Any

from ... import units
from ...nearest import nearest_or_all, nearest_or_stop
from ...tables import table
from ...units import InputProblem, Length
from ..at_hand import MACHINES, read_machines
from ..chain.entries import Decision
from ..demos import DEMOS, demo
from ..design import MONEY, Design
from ..jobs import Job, Jobs
from ..lathe import LATHE
from ..money import own_money
from ..origins import DRAFT, YOURS
from .starting import settle, with_jobs

#: the twelve answers, in the order in which they are asked
GROUPS = {
    "reasons": "Why build one",
    "jobs": "What it will make",
    "can": "Hours and money you can find",
    "should": "Hours and money you should spend, and what you give up for it",
    "place": "Where it stands and how it gets in",
    "home": "Settled, renting or moving",
    "company": "With whom, and whose it is",
    "practice": "How practised you are",
    "machines": "Machines at hand",
    "near": "What is near",
    "until": "Until when",
    "must": "What must not be left out",
}

#: ready characters: how five reasons weigh with somebody like that, 0 to 5
CHARACTERS = {
    "I want to learn how such a machine comes about": {
        "reason_learning": "5",
        "reason_making": "3",
        "reason_company": "1",
        "reason_parts": "2",
        "reason_saving": "0",
    },
    "I like the evenings in the workshop": {
        "reason_learning": "2",
        "reason_making": "5",
        "reason_company": "2",
        "reason_parts": "2",
        "reason_saving": "0",
    },
    "We want to do something together": {
        "reason_learning": "3",
        "reason_making": "3",
        "reason_company": "5",
        "reason_parts": "2",
        "reason_saving": "0",
    },
    "I need the parts": {
        "reason_learning": "1",
        "reason_making": "1",
        "reason_company": "0",
        "reason_parts": "5",
        "reason_saving": "2",
    },
    "I cannot pay for a good one": {
        "reason_learning": "1",
        "reason_making": "2",
        "reason_company": "0",
        "reason_parts": "3",
        "reason_saving": "5",
    },
}
_NEAR = (
    "a machine shop that takes single pieces",
    "a club with machines",
    "a firm that cuts plate by laser or water",
    "a foundry",
    "a scrap yard or a seller of used machines",
)


@dataclass(frozen=True)
class Answer:
    """One field of the twelve answers; ``decision`` if it is a decision of the chain of the same name."""

    name: str
    group: str
    question: str
    control: str  # "weight", "choice", "ticks", "figure", "text" or "jobs"
    example: str
    unknown: str  # what is taken when one does not know yet, as a sentence
    options: tuple[str, ...] = ()
    decision: bool = True
    stands_for: str = ""  # the value that is then taken, as written; empty: the draft finds one


@dataclass(frozen=True)
class CommonJob:
    """A part that small lathes are often built for; the learner gives its size."""

    name: str
    words: str
    material: str
    example: str


COMMON_JOBS = {
    name: CommonJob(name, row["what"], row["material"], f"{row['example'] * 1000:g} mm")
    for name, row in table("common_jobs").items()
}


def _question(name: str) -> str:
    return LATHE.decisions[name].question


def _of_decision(name: str, group: str, control: str, example: str, stands_for: str, unknown: str, question: str = "") -> Answer:
    part = LATHE.decisions[name]
    return Answer(name, group, question or part.question, control, example, unknown, part.options, True, stands_for)


def _weight(name: str) -> Answer:
    return _of_decision(name, "reasons", "weight", "3", "2", "All reasons are then taken to weigh alike.")


_ANSWERS = (
    Answer(
        "character",
        "reasons",
        "Which of these comes nearest to you?",
        "choice",
        "I need the parts",
        "All reasons are then taken to weigh alike.",
        tuple(CHARACTERS),
        False,
    ),
    *(_weight(name) for name in CHARACTERS["I need the parts"]),
    Answer(
        "jobs",
        "jobs",
        "Which parts shall it make? One is enough to begin with.",
        "jobs",
        "a bush of 40 mm",
        "Without a job there is no draft: a lathe is drawn round the parts it must make.",
        tuple(COMMON_JOBS),
        False,
    ),
    _of_decision(
        "hours_can", "can", "figure", "20 h/month", "16 h/month", "Four hours a week are taken until you have counted yours."
    ),
    _of_decision("money_can", "can", "figure", "100 EUR/month", "80 EUR/month", "80 a month are taken until you have looked."),
    _of_decision(
        "savings",
        "can",
        "figure",
        "200 EUR",
        "0 EUR",
        "Nothing is taken to lie ready.",
        "How much money lies ready for it at the start?",
    ),
    _of_decision("hours_should", "should", "figure", "15 h/month", "", "Four fifths of what you can find are taken."),
    _of_decision("money_should", "should", "figure", "80 EUR/month", "", "Four fifths of what you can find are taken."),
    Answer(
        "gives_way",
        "should",
        "What will you give up for it?",
        "text",
        "the evenings before the screen",
        "Nothing is written down.",
        (),
        False,
    ),
    _of_decision(
        "place",
        "place",
        "text",
        "a cellar with a concrete floor",
        "not settled yet",
        "The place is taken to be a bench on a sound floor.",
    ),
    _of_decision("space_length", "place", "figure", "1200 mm", "1500 mm", "A bench of one and a half metres is taken."),
    _of_decision("space_depth", "place", "figure", "600 mm", "700 mm", "A bench as deep as a kitchen's is taken."),
    _of_decision("door_width", "place", "figure", "800 mm", "800 mm", "A common door is taken."),
    _of_decision("mass_limit", "place", "figure", "100 kg", "200 kg", "A ground floor that bears 200 kg is taken."),
    _of_decision("home", "home", "choice", "renting", "settled", "You are taken to stay."),
    _of_decision("with_whom", "company", "text", "two friends", "alone", "You are taken to build alone."),
    _of_decision("builders", "company", "figure", "2", "1", "One builder is taken."),
    _of_decision("whose_lathe", "company", "text", "mine; friends may use it", "mine", "It is taken to be yours."),
    _of_decision("skill", "practice", "choice", "some practice", "first machine", "It is taken to be your first machine."),
    Answer(
        "machines",
        "machines",
        "Which machines and tools can you use, and how large are they?",
        "ticks",
        "hand tools + bench drill 13 mm",
        "Hand tools and a bench drill of 13 mm are taken.",
        tuple(name for name, one in MACHINES.items()),
        False,
        "hand tools + bench drill 13 mm",
    ),
    Answer(
        "near",
        "near",
        "What is near: a shop, a club, a firm that cuts plate?",
        "ticks",
        _NEAR[0],
        "A machine shop that takes single pieces is taken to be within reach by carrier.",
        _NEAR,
        False,
    ),
    _of_decision(
        "currency", "near", "text", "EUR: hour 55", "EUR", "The course's own prices are taken, in EUR, with their spread."
    ),
    _of_decision(
        "patience",
        "until",
        "figure",
        "36 months",
        "60 months",
        "Five years are taken.",
        "After how many months without a running lathe would you give up?",
    ),
    Answer("must_have", "must", "What must not be left out?", "text", "it must be quiet", "Nothing is written down.", (), False),
    _of_decision(
        "threading",
        "must",
        "choice",
        "yes",
        "",
        "Threads are cut with a leadscrew if a job on your list has one.",
        "Must it cut threads with a leadscrew and change gears?",
    ),
    _of_decision(
        "left_out",
        "must",
        "text",
        "bowls, taper attachment",
        "nothing yet",
        "Nothing is left out on purpose yet.",
        "And what may be left out?",
    ),
)
ANSWERS: dict[str, Answer] = {one.name: one for one in _ANSWERS}


@dataclass(frozen=True)
class Wish:
    """The answers that are known, as written, and the jobs."""

    answers: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    jobs: Jobs = Jobs()  # noqa: RUF009  a list that nothing changes

    def known(self, name: str) -> bool:
        return name in self.answers if name != "jobs" else bool(self.jobs)

    def with_(self, **written: str) -> Wish:
        """The wish with some answers given, as text, or taken back with nothing; InputProblem with all that is wrong."""
        return replace(
            self,
            answers=MappingProxyType(
                {
                    **{name: text for name, text in self.answers.items() if name not in written},
                    **_checked(written, self.answers.get(MONEY, "")),
                }
            ),
        )


# --- reading ------------------------------------------------------------------------------------------------
def _checked(written: Mapping[str, Any], currency: str = "") -> dict[str, str]:
    """Answers that are given, each read by what it means, sums also in the money that ``currency`` names; all that is wrong is raised together."""
    found, problems = {}, []
    currency = str(written.get(MONEY) or currency)
    for name, given in written.items():
        text = "" if given is None else str(given).strip()
        if name not in ANSWERS or name == "jobs":
            problems.append((name, f"there is no answer called {name!r}{nearest_or_stop(name, ANSWERS)}"))
            continue
        if not text:
            continue
        try:
            found[name] = _read(ANSWERS[name], text, currency)
        except InputProblem as problem:
            problems += problem.problems
    if problems:
        raise InputProblem(problems)
    return found


def _read(answer: Answer, text: str, currency: str) -> str:
    if answer.decision:
        part = LATHE.decisions[answer.name]
        if answer.name in _NOTHING and _is_nothing(text, part):
            raise InputProblem.about(answer.name, _NOTHING[answer.name])
        part.read(_in_lists_money(text, part, currency))
    elif answer.name == "machines":
        read_machines(text)
    elif answer.control == "choice" and text not in answer.options:
        raise InputProblem.about(answer.name, f"{text!r} is none of the answers; {nearest_or_all(text, answer.options)}")
    return text


def _in_lists_money(text: str, part: Decision, currency: str) -> str:
    """A sum in the learner's own money as the lists know it; anything else as it is."""
    try:
        system = units.System("mm", *own_money(LATHE.decisions[MONEY].read(currency))) if currency else units.System("mm")
    except InputProblem:  # told where the money itself is read
        return text
    return units.in_lists_money(text, part.kind, system) if part.kind else text


#: what is said to no hours and no money at all
_NOTHING = {
    "hours_can": "With no hours a month no lathe is built, by anybody: write the least you would find, such as 2 h/month, or look at buying a used one in chapter 10.",
    "hours_should": "With no hours a month that you should spend, the honest answer is not to build now: write the least, such as 2 h/month, or wait.",
    "money_can": "With no money a month even scrap and drills are out of reach: write the least you could find, such as 10 EUR/month, and what lies ready at the start.",
    "money_should": "With no money a month that you should spend, the honest answer is to wait: write the least, such as 10 EUR/month.",
    "builders": "Somebody must build it: write 1 if you are alone.",
    "patience": "A lathe in no time is one that is bought: write the months you would wait, such as 36 months.",
}


def _is_nothing(text: str, part: Any) -> bool:
    try:
        return float(units.read(text, replace(part.kind, at_least=None, above=None), part.name)) == 0
    except (InputProblem, TypeError):
        return False


def _jobs(written: Iterable[Mapping[str, Any]]) -> Jobs:
    found, problems = [], []
    for number, one in enumerate(written):
        try:
            found.append(Job.read({key: value for key, value in one.items() if str(value).strip()}))
        except InputProblem as problem:
            problems += [(f"jobs.{number}.{name}", sentence) for name, sentence in problem.problems]
    if problems:
        raise InputProblem(problems)
    return Jobs(found)


def common_job(name: str, size: str = "", material: str = "", share: str = "0.2") -> dict[str, str]:
    """A written job of a common part with this largest diameter; InputProblem for a part that is not known or a size that is none."""
    if name not in COMMON_JOBS:
        raise InputProblem.about("jobs", f"{name!r} is none of the common parts; {nearest_or_all(name, COMMON_JOBS)}")
    row = table("common_jobs")[name]
    diameter = units.read(size, Length("mm", above=0), f"size of the {name}") if size.strip() else row["example"]

    def mm(si: float) -> str:
        return f"{si * 1000:.3g} mm"

    made = {
        "name": name,
        "material": material or row["material"],
        "diameter": mm(diameter),
        "smallest": mm(diameter * row["smallest_share"]),
        "length": mm(diameter * row["length_share"]),
        "tolerance": f"{row['tolerance'] * 1e6:g} µm",
        "roughness": f"{row['roughness'] * 1e6:g} µm",
        "share": share,
    }
    if row["bar_share"]:
        made["bar"] = mm(diameter * row["bar_share"])
    if row["pitch"]:
        made["pitch"] = mm(_coarse_pitch(diameter))
    return made


def _coarse_pitch(diameter: float) -> float:
    """The pitch of the coarse thread next to a diameter [m], as the standard has it (ISO 261): an M6 has 1 mm, an M16 2 mm."""
    coarse = [row for row in table("threads").values() if row["series"] == "coarse"]
    return min(coarse, key=lambda row: abs(row["diameter"] - diameter))["pitch"]


# --- a wish and a design --------------------------------------------------------------------------------------
def wish_of(design: Design, borrowed: bool = False) -> Wish:
    """The answers that stand in a design: those that are the learner's own, and with ``borrowed`` those of its demo as well."""
    answers = {name: text for name, text in design.wish.items() if name in ANSWERS}
    if design.origin("at_hand") == YOURS and design.machines:
        answers["machines"] = design.machines
    for name, answer in ANSWERS.items():
        if answer.decision and (borrowed or design.origin(name) == YOURS):
            choice = design.choices[name]
            answers[name] = str(choice.written if not isinstance(choice.written, Mapping) else choice.written["likely"])
    if borrowed and "machines" not in answers and design.started_from in DEMOS:
        answers.pop("machines", None)
    jobs = design.jobs
    if not borrowed and design.started_from in DEMOS and jobs == demo(design.started_from).jobs:
        jobs = Jobs()
    return Wish(MappingProxyType({name: answers[name] for name in ANSWERS if name in answers}), jobs)


def answered(design: Design, answers: Mapping[str, Any], jobs: Iterable[Mapping[str, Any]] | None = None) -> Design:
    """The design with answers kept: as its own decisions, or under its wish; an empty one is taken back and free to be drafted again.

    A character sets the five reasons, and stays as a word until one of them is given by itself.  Raises InputProblem with all that is wrong, and for a wish at odds with itself.
    """
    found = _checked(answers, design.choices[MONEY].written)
    if "character" in found:
        found = CHARACTERS[found["character"]] | found
    made = design
    if jobs is not None:
        made = with_jobs(design, _jobs(jobs))
    decisions = {name: text for name, text in found.items() if ANSWERS[name].decision}
    if decisions:
        made = settle(made, "", decisions)
    taken_back = [name for name, given in answers.items() if name in ANSWERS and ANSWERS[name].decision and name not in found]
    made = made.undecided(taken_back)
    # weights of one's own are no longer those of the character
    gone = {*answers, *(("character",) if any(name.startswith("reason_") for name in answers) else ())}
    words = {name: text for name, text in design.wish.items() if name not in gone}
    words |= {name: text for name, text in found.items() if not ANSWERS[name].decision}
    if "machines" in found and made.origin("at_hand") in (DRAFT, YOURS):  # chapter 01 and the board tell the same machines
        if made.origin("at_hand") == YOURS:
            made = settle(made, "as you ticked it", {"at_hand": found["machines"]})
        else:
            made = made.drafted({"at_hand": found["machines"]}, {"at_hand": "as you ticked it"})
    return replace(made, wish=MappingProxyType(words))


def taken(wish: Wish) -> dict[str, tuple[str, str]]:
    """Every answer that is a decision, as it is taken: written value and reason; what is not known stands for itself."""
    found = {}
    for name, answer in ANSWERS.items():
        if answer.decision and name not in wish.answers and answer.stands_for:
            found[name] = (answer.stands_for, f"not known yet. {answer.unknown}")
    for name in ("hours", "money"):
        if not wish.known(f"{name}_should"):
            can = units.read(
                _in_lists_money(
                    wish.answers.get(f"{name}_can", ANSWERS[f"{name}_can"].stands_for),
                    LATHE.decisions[f"{name}_can"],
                    wish.answers.get(MONEY, ""),
                ),
                LATHE.decisions[f"{name}_can"].kind,
            )
            part = LATHE.decisions[f"{name}_should"]
            found[part.name] = (
                f"{float(f'{0.8 * can / part.kind.factor:.3g}'):g} {part.kind.unit}",
                f"not known yet. {ANSWERS[part.name].unknown}",
            )
    return found
