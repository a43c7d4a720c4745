"""A deck of setbacks for a club evening: dealt from a seed, worked out through the whole chain.

A setback is a change of decisions or figures told in data.  ``deal`` gives each group one, or all
the same; ``strike`` makes the design with it; ``struck`` says what it did.
"""
from __future__ import annotations

import functools
import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from importlib.resources import files

from ...design.design import Design
from ...design.evaluation import evaluate
from ...nearest import nearest_or_stop
from ...units import InputProblem, number, shown
from .questions.draws import pick

__all__ = ["RESULTS", "Setback", "Struck", "deal", "deck", "strike", "struck", "struck_text"]

#: what is told before and after, beside the findings
RESULTS = ("money_needed", "months_to_finish", "months_to_first_chips", "parts_mass", "building_over_buying")
_TIMES = "times "


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


def deal(seed: str, designs: Sequence[Design], rounds: int = 1, each: bool = False) -> list[list[Setback]]:
    """Setbacks for each design, ``rounds`` of them, the same for all or, with ``each``, one of its own for every design.

    The same seed deals the same cards on every machine.  A card that moves nothing where it would
    fall is passed over.
    """
    dealt: list[list[Setback]] = [[] for _ in designs]
    left = sorted(deck(), key=lambda card: pick(f"{seed}|{card.name}", 1 << 40))
    for _ in range(rounds):
        if each:
            for place, design in enumerate(designs):
                dealt[place].append(_take(left, [design]))
        else:
            card = _take(left, designs)
            for hand in dealt:
                hand.append(card)
    return dealt


def _take(left: list[Setback], designs: Sequence[Design]) -> Setback:
    """The next card that moves something in at least half of the designs it falls to, and can happen to all of them."""
    for card in left:
        try:
            moved = sum(struck(design, card).anything for design in designs)
        except InputProblem:
            continue
        if 2 * moved >= len(designs):
            left.remove(card)
            return card
    raise InputProblem([("rounds", "There are not enough cards in the deck that move something in these designs; deal fewer rounds.")])


def strike(design: Design, setback: Setback) -> Design:
    """The design with a setback; what stood before stays as history. InputProblem where it cannot be."""
    return design.with_(setback.story, **{name: _text(design, name, told) for name, told in setback.changes.items()})


def _text(design: Design, name: str, told: str) -> str:
    chain = design.chain
    if name not in chain.decisions and name not in chain.figures:
        raise InputProblem([("setback", f"there is no decision or figure {name!r}{nearest_or_stop(name, [*chain.decisions, *chain.figures])}")])
    if not told.startswith(_TIMES):
        return told
    kind = chain.part(name).kind
    value = float(evaluate(design).middle(name)) * float(told.removeprefix(_TIMES)) / kind.factor
    return f"{round(value) if kind.whole else number(value, 4)} {kind.unit}".rstrip()


def struck(design: Design, setback: Setback) -> Struck:
    """A design before and after a setback, through the whole chain."""
    after_design = strike(design, setback)
    before, after = evaluate(design), evaluate(after_design)
    was, now = before.findings, after.findings
    moved = []
    for name in RESULTS:
        texts = [shown(one.middle(name), before.kind(name), design.system) for one in (before, after)]
        if texts[0] != texts[1]:
            moved.append((design.chain.part(name).label, *texts))
    return Struck(setback, after_design,
                  tuple(now[name].sentence for name in now if now[name].status == "fails" and was[name].status != "fails"),
                  tuple(now[name].label for name in now if now[name].status != "fails" and was[name].status == "fails"), tuple(moved))


def struck_text(name: str, told: Struck) -> str:
    """What a setback did to one group's design, in lines to read aloud."""
    lines = [f"{name}: {told.setback.name}", f"  {told.setback.story}"]
    lines += [f"  fails now: {sentence}" for sentence in told.fails]
    lines += [f"  fails no longer: {label}" for label in told.mended]
    lines += [f"  {label}: {before}, now {after}" for label, before, after in told.moved]
    if not told.anything:
        lines.append("  Nothing that fails or is counted moves: your design has room for it.")
    return "\n".join([*lines, f"  {told.setback.ask}"])
