"""A deck of setbacks for a club evening: dealt from a seed, worked out through the whole chain.

A setback is a change of decisions or figures told in data.  ``deal`` gives each group one, or all
the same; ``strike`` makes the design with it; ``struck`` says what it did.  A design that has had a
setback keeps its name under the words and the round that dealt it, so that nothing falls twice.
"""

from __future__ import annotations

import functools
import tomllib
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from importlib.resources import files

from ...design.design import Design
from ...design.evaluation import Evaluation, evaluate
from ...nearest import nearest_or_stop
from ...units import InputProblem, number, shown
from .questions.draws import pick

#: what is told before and after, beside the findings
RESULTS = ("money_needed", "months_to_finish", "months_to_first_chips", "parts_mass", "building_over_buying")
_TIMES = "times "
_NOTE = "setback "


@dataclass(frozen=True)
class Setback:
    """A card: what happened, what it changes, and what the group is asked."""

    name: str
    story: str
    changes: Mapping[str, str]
    ask: str


@dataclass(frozen=True)
class Struck:
    """A design after a setback: findings that fail now and did not, those that no longer do, and results that moved."""

    setback: Setback
    design: Design
    fails: tuple[str, ...]
    mended: tuple[str, ...]
    moved: tuple[tuple[str, str, str], ...]

    @property
    def anything(self) -> bool:
        return bool(self.fails or self.mended or self.moved)


@functools.cache
def deck() -> tuple[Setback, ...]:
    """All cards, in the order of the file."""
    told = tomllib.loads(files(__package__).joinpath("setbacks.toml").read_text("utf-8"))
    return tuple(Setback(one["name"], one["story"], one["changes"], one["ask"]) for one in told["setback"])


def _mark(seed: str, round: int) -> str:
    """Under which key of its notes a design keeps the name of the setback that the words ``seed`` dealt it."""
    return f"{_NOTE}{round}: {' '.join(seed.split())}"


def _had(design: Design, mark: str = "") -> list[Setback]:
    """Setbacks a design has had, of those that are in the deck; with ``mark`` the one that was dealt so."""
    had = [text for key, text in design.notes.items() if (key == mark if mark else key.startswith(_NOTE))]
    return [card for card in deck() if card.name in had]


def deal(seed: str, designs: Sequence[Design], rounds: int = 1, each: bool = False) -> list[list[Setback]]:
    """Setbacks for each design, ``rounds`` of them, the same for all or, with ``each``, one of its own for every design.

    The same seed deals the same cards on every machine.  A card that moves nothing where it would
    fall is passed over, and so is one that other words have dealt already.  What these words have
    dealt a design, it is dealt again, whatever was mended since.
    """
    return _deal(seed, [evaluate(design) for design in designs], rounds, each)


def _deal(seed: str, worked: Sequence[Evaluation], rounds: int, each: bool) -> list[list[Setback]]:
    designs = [one.design for one in worked]
    dealt: list[list[Setback]] = [[] for _ in designs]
    had = [_had(design) for design in designs]
    left = [
        card
        for card in sorted(deck(), key=lambda card: pick(f"{seed}|{card.name}", 1 << 40))
        if not any(card in one for one in had)
    ]
    for round in range(1, rounds + 1):
        again = [_had(design, _mark(seed, round)) for design in designs]
        if each:
            for place, one in enumerate(worked):
                dealt[place] += again[place] or [_take(left, [one])]
        else:
            [card, *_] = [*(card for one in again for card in one)] or [_take(left, worked)]
            for hand in dealt:
                hand.append(card)
    return dealt


def _take(left: list[Setback], worked: Sequence[Evaluation]) -> Setback:
    """The next card that moves something in at least half of the designs it falls to, and can happen to all of them."""
    for card in left:
        try:
            moved = sum(_struck(one, card).anything for one in worked)
        except InputProblem:
            continue
        if 2 * moved >= len(worked):
            left.remove(card)
            return card
    raise InputProblem.about(
        "rounds", "There are not enough cards left in the deck that move something in these designs; deal fewer rounds."
    )


def happen(design: Design, setback: Setback, seed: str, round: int = 1) -> Design:
    """The design with a setback that ``seed`` dealt it in this round, to be kept; the same design if it has had one of them."""
    mark = _mark(seed, round)
    return design if mark in design.notes else strike(design, setback).note(mark, setback.name)


def strike(design: Design, setback: Setback) -> Design:
    """The design with a setback; what stood before stays as history. InputProblem where it cannot be."""
    return _strike(evaluate(design), setback)


def _strike(worked: Evaluation, setback: Setback) -> Design:
    return worked.design.with_(setback.story, **{name: _text(worked, name, told) for name, told in setback.changes.items()})


def _text(worked: Evaluation, name: str, told: str) -> str:
    chain = worked.chain
    if name not in chain.decisions and name not in chain.figures:
        raise InputProblem.about(
            "setback", f"there is no decision or figure {name!r}{nearest_or_stop(name, [*chain.decisions, *chain.figures])}"
        )
    if not told.startswith(_TIMES):
        return told
    kind = chain.part(name).kind
    value = float(worked.middle(name)) * float(told.removeprefix(_TIMES)) / kind.factor
    return f"{round(value) if kind.whole else number(value, 4)} {kind.unit}".rstrip()


def struck(design: Design, setback: Setback) -> Struck:
    """A design before and after a setback, through the whole chain."""
    return _struck(evaluate(design), setback)


def _struck(before: Evaluation, setback: Setback) -> Struck:
    after = evaluate(_strike(before, setback), earlier=before)
    was, now = before.findings, after.findings
    moved = []
    for name in RESULTS:
        texts = [shown(one.middle(name), before.kind(name), before.design.system) for one in (before, after)]
        if texts[0] != texts[1]:
            moved.append((before.chain.part(name).label, *texts))
    return Struck(
        setback,
        after.design,
        tuple(now[name].sentence for name in now if now[name].status == "fails" and was[name].status != "fails"),
        tuple(now[name].label for name in now if now[name].status != "fails" and was[name].status == "fails"),
        tuple(moved),
    )


@dataclass(frozen=True)
class Dealt:
    """A card with what it does, by name, to each group it falls to; None where the group has had it."""

    setback: Setback
    round: int
    groups: Mapping[str, Struck | None]

    @property
    def title(self) -> str:
        return f"{', '.join(self.groups)}: {self.setback.name}"

    def effects(self) -> list[tuple[str, list[str]]]:
        """What it does to each group, in sentences to read aloud."""
        return [(name, _effects(told)) for name, told in self.groups.items()]


def struck_by(seed: str, designs: Mapping[str, Design], rounds: int = 1, each: bool = False) -> list[Dealt]:
    """The cards dealt by ``seed`` in the order they fall, one after the other, with what each does to the designs by name."""
    now = {name: evaluate(design) for name, design in designs.items()}
    hands, found = dict(zip(now, _deal(seed, list(now.values()), rounds, each))), []
    for round in range(rounds):
        told: dict[str, Struck | None] = {}
        for name, hand in hands.items():
            one = told[name] = None if _mark(seed, round + 1) in now[name].design.notes else _struck(now[name], hand[round])
            if one is not None and round + 1 < rounds:
                now[name] = evaluate(one.design, earlier=now[name])
        found += (
            [Dealt(hands[name][round], round + 1, {name: one}) for name, one in told.items()]
            if each
            else [Dealt(next(iter(hands.values()))[round], round + 1, told)]
        )
    return found


def keep(seed: str, dealt: Sequence[Dealt], change: Mapping[str, Callable[[Callable[[Design], Design]], object]]) -> str:
    """Let the cards happen in the groups' designs: ``change`` of each keeps what a function makes of its design. Returns who got which, in a sentence each.

    A design that has had a card is left alone. InputProblem with all that could not be kept, once the others are.
    """
    said, problems = [], []
    for card in dealt:
        for name in card.groups:
            kept: list[bool] = []

            def once(design: Design, card: Dealt = card, kept: list[bool] = kept) -> Design:
                made = happen(design, card.setback, seed, card.round)
                kept.append(made is not design)
                return made

            try:
                change[name](once)
            except InputProblem as problem:
                problems += [("group", f"{name}: {sentence}") for _, sentence in problem.problems]
            else:
                said.append(
                    f"{name}: “{card.setback.name}” {'is in the design now.' if kept[-1] else 'had happened already, and is not written again.'}"
                )
    if problems:
        raise InputProblem(problems, heading=" ".join([*said, "Not written:"]))
    return "\n".join(said)


def _effects(told: Struck | None) -> list[str]:
    if told is None:
        return ["This has happened already, and does not happen again."]
    lines = [f"fails now: {sentence}" for sentence in told.fails] + [f"fails no longer: {label}" for label in told.mended]
    lines += [f"{label}: {before}, now {after}" for label, before, after in told.moved]
    return lines or ["Nothing that fails or is counted moves: this design has room for it."]


def dealt_text(dealt: Sequence[Dealt]) -> str:
    """Cards in lines to read aloud: what happened, what it does to each group, and what is asked."""
    told = []
    for card in dealt:
        lines = [card.title, f"  {card.setback.story}"]
        for name, effects in card.effects():
            lines += [*([f"  {name}"] if len(card.groups) > 1 else []), *(f"    {line}" for line in effects)]
        told.append("\n".join([*lines, f"  {card.setback.ask}"]))
    return "\n\n".join(told)
