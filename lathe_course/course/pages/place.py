"""Chapter 13: what is carried and how, what home does to that, and what local prices and near machines do to the best mix of ways."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from ... import units
from ...design.asked.mixes import both_wished, choices_here
from ...design.chapters.place import APART, ASSEMBLED, HOMES, PIECES, lifted_together
from ...design.design import Design
from ...design.evaluation import Evaluation, evaluate
from ...planning.capabilities import BORROWED
from ...planning.mix import Mix, Wish, best
from ...planning.parts import BUY, MAKE, OUT, USED
from ...planning.shops import Machine
from ...units import HourPrice, InputProblem, LabourTime, Length, Mass, Money
from ..pictures.axes import shown as _shown
from ..shown.panels import Page, paragraphs, tabled
from .register import page

_KG, _MM, _HOURS, _MONEY = Mass("kg"), Length("mm"), LabourTime("h"), Money()
_LABOUR = (0.6, 1.0, 2.0)
#: what a near machine could do, in the words of a list of machines; invented
_LENT = {
    "a colleague's lathe": "turning 250 x 500 mm + boring 60 x 150 mm + threading 4 mm + drilling 20 mm",
    "a colleague's mill": "milling 600 x 200 mm + boring 80 x 200 mm to 0.015 mm + drilling 20 mm",
}


# --- what is carried --------------------------------------------------------------------------------------------
@page
def what_is_carried(evaluation: Evaluation, parts: int = 4) -> Page:
    """Assemblies and the heaviest parts with their masses, and how many people each takes."""
    e = evaluation.central
    limits = lifted_together(e["one_may_lift"])

    def row(name: str, mass: float) -> tuple[str, str, str]:
        return (
            name,
            _shown(e, mass, _KG),
            next((words for words, most in limits.items() if mass <= most), "a hoist, or more pieces"),
        )

    heaviest = sorted(e["carried_masses"][APART].items(), key=lambda pair: -float(pair[1]))[:parts]
    rows = [
        row("the whole machine", float(e["parts_mass"])),
        *(row(name, float(mass)) for name, mass in e["carried_masses"][ASSEMBLED].items()),
        *(row(f"part: {name}", float(mass)) for name, mass in heaviest),
    ]
    head = ("what is carried", "mass", "may be lifted by")
    said = (
        f"Lifted from {e.shown('lift_from')} to {e.shown('bench_height')}, {e.shown('lift_reach')} in front of the ankles, one person may lift "
        f"{e.shown('one_may_lift')}. The chuck goes by itself. Guidance protects most healthy people and no sore back. "
        f"The bed of chapter 07, {e.shown('bed_mass')}, is its section and fill alone; here it goes with its plates and feet. A part goes as finished, with a fill that is cast into it; "
        "a slideway that is bedded on its box does not come off again without losing its truth, so from then on lift the bed as one assembly. Chapter 10 tells stock as well, before it is cut."
    )
    return tabled(rows, head, (1,), after=(said,))


@page
def home_and_pieces(evaluation: Evaluation) -> Page:
    """Whole, in assemblies or part by part: what is lifted, what goes through, and what ten years of moving ask, settled, renting and moving about."""
    e = evaluation.central
    rows = []
    for pieces in PIECES:
        tries = [evaluate(e.design.trying(moved_as=pieces, home=home), earlier=e) for home in HOMES]
        tried = tries[0]
        failing = [
            words
            for name, words in (
                ("lift_within_guidance", "too heavy"),
                ("goes_through_door", "too wide"),
                ("goes_round_corner", "too long"),
            )
            if tried.findings[name].status == "fails"
        ]
        rows.append(
            (
                f"{pieces} (yours)" if pieces == e["moved_as"] else pieces,
                tried.shown("heaviest_lift"),
                tried.shown("lift_allowed"),
                " and ".join(failing) or "it goes",
                tried.shown("move_hours"),
                *(one.shown("moving_hours") for one in tries),
            )
        )
    head = ("carried", "lift", "guidance", "on the way", "one move", *HOMES)
    feet = (
        "Three feet need no truing for a floor that leans."
        if e["feet"] == "three feet"
        else "On four feet every new floor twists the bed anew: three feet save hours at each move."
    )
    said = (
        "The heaviest lift beside the guidance; then the hours that one move takes, and ten years of moves where you are settled, renting or moving about. "
        f"Hours are judged, no source; carrying is not counted. {feet}"
    )
    numeric = (1, 2, 4, 5, 6, 7)
    return tabled(rows, head, numeric, after=(said,))


# --- the best mix where you live --------------------------------------------------------------------------------
def _best(design: Design, wish: Wish) -> tuple[Mix | None, str]:
    """The best mix for a wish, or why there is none."""
    try:
        return best(choices_here(evaluate(design)), wish), ""
    except InputProblem as problem:
        return None, str(problem)


def _counted(mix: Mix) -> tuple[str, ...]:
    """Parts made here, partly or wholly made by others, and bought, new or second-hand."""
    counts = mix.counts()
    here, outside = counts.get(MAKE, 0), counts.get(OUT, 0)
    bought = counts.get(BUY, 0) + counts.get(USED, 0)
    return str(here), str(outside), str(sum(counts.values()) - here - outside - bought), str(bought)


_WAYS = ("here", "outside", "shared", "bought")


def _percent(share: float) -> str:
    return f"{100 * share:.0f} %"


def _sums(e: Evaluation, mix: Mix) -> tuple[str, str]:
    return _shown(e, mix.money, _MONEY), _shown(e, mix.hours, _HOURS)


def _hour(e: Evaluation, value: float) -> str:
    return units.shown(value, HourPrice("EUR/h"), e.design.system)


@page
def prices_move_the_mix(evaluation: Evaluation) -> Page:
    """The best mix where other people's work costs little, as the list says, and double: at what an hour costs you, and at what an endured hour would."""
    e = evaluation.central
    rows, moved = [], []
    for wish, whose in ((both_wished(e), "to you"), (Wish(money=1.0, hours=float(e["hour_price"])), "not enjoyed")):
        hour = wish.hours
        found = {}
        for labour in _LABOUR:
            mix, why = _best(e.design.trying(labour_prices=labour), wish)
            if mix is None:
                return paragraphs(why)
            found[labour] = mix
            rows.append((f"{_hour(e, hour)} ({whose})", _percent(labour), *_counted(mix), *_sums(e, mix)))
        moved.append((hour, found))
    head = ("an hour costs", "work of others", *_WAYS, "money", "own hours")
    changes = [_changes(hour, found[_LABOUR[0]], found[_LABOUR[-1]], e) for hour, found in moved]
    said = " ".join(
        [
            "Parts made here, made outside, shared between both, and bought new or second-hand, in the best mix of money and hours together, proven.",
            *changes,
        ]
    )
    return tabled(rows, head, tuple(range(2, 8)), after=(said,))


def _changes(hour: float, cheap: Mix, dear: Mix, e: Evaluation) -> str:
    """Which parts go another way between the cheapest and the dearest place."""
    changed = cheap.changes(dear)
    where = f"At {_hour(e, hour)}, from {_percent(_LABOUR[0])} to {_percent(_LABOUR[-1])}"
    if not changed:
        return f"{where}, no part goes another way."
    few = "; ".join(f"{part}: {after}, in place of {before}" for part, (before, after) in list(changed.items())[:3])
    count = "1 part goes" if len(changed) == 1 else f"{len(changed)} parts go"
    return f"{where}, {count} another way{', such as' if len(changed) > 3 else ':'} {few}."


def _scenes(e: Evaluation) -> Mapping[str, Design]:
    """What may be near, each as a design by itself."""
    design, lists = e.design, e["building"]
    found = {
        "as it is": design,
        "a workshop nearby": design.with_(decided="", carriage_prices_own="0"),
        "half price outside": design.with_(decided="", outside_prices_own=f"{0.5 * float(e['outside_prices_own'])}"),
        "half price stock": design.trying(material_prices=0.5 * float(e["material_prices"])),
    }
    for name, can in _LENT.items():
        found[name] = replace(design, sheets=replace(lists, machines=(*lists.machines, Machine(name, BORROWED, can))))
    return found


@page
def near_by(evaluation: Evaluation) -> Page:
    """What a near workshop, a cheap process or a colleague's machine does to the best mix, each by itself."""
    e = evaluation.central
    hour, rows, first = float(e["hour_cost"]), [], None
    for name, design in _scenes(e).items():
        mix, why = _best(design, both_wished(e))
        if mix is None:
            if first is None:
                return paragraphs(why)
            continue
        first = first or mix
        rows.append((name, *_counted(mix), *_sums(e, mix), str(len(first.changes(mix)))))
    head = ("what is near", *_WAYS, "money", "own hours", "changed")
    said = (
        f"Each row is the best mix at {_hour(e, hour)}, what an hour costs you, proven, and how many parts change their way for it. Nearby: nothing to pay for delivery; "
        "outside: other people's work; stock: material and what is bought ready. A friend's machine is lent for friendship: "
        "ask what an evening is worth to the friend, and mind who pays for a broken tool."
    )
    return tabled(rows, head, tuple(range(1, 8)), after=(said,))
