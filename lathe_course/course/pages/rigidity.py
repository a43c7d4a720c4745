"""Chapter 08: the budget of give link by link, which to improve first, what each direction does, and the sums behind it."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any

import numpy as np

from ... import units
from ...design.evaluation import Evaluation, evaluate
from ...design.lathe import LATHE
from ...machine import chatter, errors, finish, rigidity
from ...ranges import Range
from ...tables import table
from ...units import Compliance, LabourTime, Length, Money
from ...working import Working, working
from ..pictures.give import LINKS
from ..shown.essentials import DRAWS
from ..shown.money import amount, money_name
from ..shown.panels import Page, paragraphs, tabled
from ..text.values import Fold, Worked, strong
from .register import page

__all__ = ["Saving", "give_budget_table", "savings", "sums_of_rigidity", "two_ways_of_giving", "which_link_first"]

_GIVE, _UM = Compliance(), Length("µm")
#: how each link's give is known, where it is not judged outright
_MODELLED = {
    "shaft_compliance": "worked out",
    "bed_compliance": "worked out, joints judged",
    "shank_compliance": "worked out",
    "bearing_compliance": "worked out on a judged stiffness",
    "holding_extra": "worked out",
}


def _between(evaluation: Evaluation, low: float, high: float, kind: Any) -> str:
    ends = [units.number(units.in_unit(value, kind, evaluation.design.system), 2) for value in (low, high)]
    return ends[0] if ends[0] == ends[1] else f"{ends[0]} to {ends[1]}"


def _impossible(evaluation: Evaluation, *also: str) -> str:
    """What cannot stand together, if there is no machine because of it, or no figure that is needed as well; else nothing."""
    return evaluation.central.cause("predicted_compliance", *also)


# --- the budget ------------------------------------------------------------------------------------------
@page
def give_budget_table(evaluation: Evaluation) -> Page:
    """Every link: its give with its range, its share, and whether it is worked out or judged; the three largest named."""
    if said := _impossible(evaluation):
        return paragraphs(said)
    drawn, sure = evaluate(evaluation.design, DRAWS), evaluation.central
    links = {name: words or evaluation["top_of_slide"] for name, (words, _) in LINKS.items() if name != "holding_extra"}
    whole = sum(drawn[name] for name in links)
    rows, told = [], []
    for name, words in sorted(links.items(), key=lambda link: -float(sure[link[0]])):
        low, _, high = drawn.spread(name)
        share = np.quantile(drawn[name] / whole, (0.1, 0.9))
        known = _MODELLED.get(name, "judged")
        ends = [f"{end * 100:.0f}" for end in share]
        shares = "under 1%" if ends[1] == "0" else f"{ends[0]}%" if ends[0] == ends[1] else f"{ends[0]} to {ends[1]}%"
        likely = units.number(units.in_unit(float(sure[name]), _GIVE, evaluation.design.system))
        rows.append((words, likely, _between(evaluation, low, high, _GIVE), shares, known))
        told.append((words, shares, known))
    unit = units.unit_text(_GIVE, evaluation.design.system)
    head = ("link", f"give [{unit}]", "four fifths of cases", "share of the machine", "how it is known")
    judged = sum(float(sure[name]) for name in links if name not in _MODELLED) / float(sure["predicted_compliance"])
    said = (
        "The three largest: "
        + "; ".join(f"{words}, {shares} of the machine ({known})" for words, shares, known in told[:3])
        + f". Of the machine's {sure.shown('predicted_compliance')}, without the work, {judged:.0%} is judged from practice."
    )
    return tabled(rows, head, (1, 2, 3), after=(said,))


# --- two directions ----------------------------------------------------------------------------------------
@page
def two_ways_of_giving(evaluation: Evaluation) -> Page:
    """Sideways, up and down, and along the push: how much the machine gives, how far the roughing cut moves it, what that does to the diameter."""
    if said := _impossible(evaluation):
        return paragraphs(said)
    e = evaluation.central
    rows = [
        (
            "sideways, along the radius",
            e.shown("machine_compliance"),
            e.shown("rough_radial_force"),
            e.shown("rough_move"),
            e.shown("rough_error"),
        ),
        (
            "up and down",
            e.shown("upright_compliance"),
            e.shown("cutting_force"),
            e.shown("upright_drop"),
            e.shown("upright_error"),
        ),
        (
            "the tip dips as the shank nods",
            e.shown("shank_nod"),
            e.shown("finish_force"),
            units.shown(e["nod_error"] / 2, _UM, e.design.system),
            "-" + e.shown("nod_error"),
        ),
    ]
    head = ("way", "give", "pushed by", "moves", "changes the diameter by")
    said = (
        f"Sideways counts twice over, for a diameter has two sides. Up and down the tip slides along the round of the work, and on "
        f"{e.shown('work_diameter')} almost nothing is left of it. Shaking is another matter: there the machine answers along the push of the cut, "
        f"{e.shown('force_angle')} from level, with {e.shown('give_along_push')}."
    )
    return tabled(rows, head, (1, 2, 3, 4), after=(said,))


# --- which link first ----------------------------------------------------------------------------------------
@dataclass(frozen=True)
class Saving:
    """One remedy on a design: the give it saves (m/N, low, likely, high), its price and hours, and how the saving is known."""

    remedy: str
    link: str
    saved: Range
    price: Range
    hours: Range
    what: str
    known: str

    @property
    def per_euro(self) -> float:
        """Give saved for each EUR at middling figures; infinite if it is free."""
        return self.saved.likely / self.price.likely if self.price.likely > 0 else np.inf


def savings(evaluation: Evaluation) -> list[Saving]:
    """The remedies that do something for a design; free ones first, then those that save most for each EUR."""
    drawn, found = evaluate(evaluation.design, DRAWS), []
    for remedy, row in table("remedies").items():
        if row["change"]:
            tried = _tried(drawn, row["change"])
            saved = None if tried is None else drawn["predicted_compliance"] - tried["predicted_compliance"]
            known = "worked out"
        else:
            left = row["left"]
            saved, known = drawn[row["link"]] * (1 - np.array([left.high, left.likely, left.low])[:, None]), "judged"
        if saved is None or not np.all(np.isfinite(saved)) or np.median(saved) < 1e-3 * np.median(drawn["predicted_compliance"]):
            continue
        # a judged share and the link's own range, one on the other
        low, likely, high = (
            (np.quantile(saved[0], 0.1), np.median(saved[1]), np.quantile(saved[2], 0.9))
            if np.ndim(saved) == 2
            else np.quantile(np.broadcast_to(saved, (DRAWS,)), (0.1, 0.5, 0.9))
        )
        link = (
            LATHE.part(row["link"]).label.removeprefix("give of ").removeprefix("the ")
            if row["link"] in LATHE.results
            else row["link"]
        )
        found.append(
            Saving(
                remedy + _by(row["change"], evaluation.design.system),
                link,
                Range(float(low), float(likely), float(high)),
                row["price"],
                row["hours"],
                row["what"],
                known,
            )
        )
    return sorted(found, key=lambda one: (-one.per_euro if np.isfinite(one.per_euro) else -np.inf, -one.saved.likely))


_CHANGE = re.compile(r"(?P<name>\w+) (?P<how>[-+x])?(?P<amount>.*)")


def _tried(evaluation: Evaluation, change: str) -> Evaluation | None:
    """The design with a change such as 'cut_reach -15 mm', 'bed_wall x2' or 'top_of_slide solid block'; None if it stands there already or cannot be."""
    found = _CHANGE.fullmatch(change)
    decision, here = LATHE.decisions[found["name"]], evaluation.design[found["name"]]
    if not decision.numeric:
        value = found["amount"]
        if value == here:
            return None
    else:
        here = float(np.median(np.asarray(here.likely if isinstance(here, Range) else here)))
        amount = float(found["amount"]) if found["how"] == "x" else units.read(found["amount"], decision.kind)
        value = here * amount if found["how"] == "x" else here + amount if found["how"] == "+" else here - amount
        if value < decision.low * decision.kind.factor * (1 - 1e-9):
            return None
    return evaluate(evaluation.design.trying(**{found["name"]: value}), evaluation.draws, earlier=evaluation)


def _by(change: str, system: str) -> str:
    """How far a decision is changed, in the reader's units: ', by 15 mm'."""
    found = _CHANGE.fullmatch(change)
    if not found or not found["how"]:
        return ""
    if found["how"] == "x":
        return f", {found['amount']} times as much"
    kind = LATHE.decisions[found["name"]].kind
    return f", by {units.shown(units.read(found['amount'], kind), kind, system, 2)}"


@page
def which_link_first(evaluation: Evaluation) -> Page:
    """What each remedy would take off the give of your machine, what it costs, and the order in which that is worth doing."""
    if said := _impossible(evaluation):
        return paragraphs(said)
    system = evaluation.design.system
    whole = float(evaluation.central["predicted_compliance"])
    rows = []
    for one in savings(evaluation):
        each = (
            "free"
            if not np.isfinite(one.per_euro)
            else units.number(units.in_unit(one.per_euro, _GIVE, system) / amount(evaluation, 1.0), 2)
        )
        rows.append(
            (
                one.remedy,
                _between(evaluation, one.saved.low, one.saved.high, _GIVE),
                _percent(one.saved.likely / whole),
                _span(one.price, Money(), system),
                _span(one.hours, LabourTime()),
                each,
                one.known,
            )
        )
    unit = units.unit_text(_GIVE, system)
    head = (
        "remedy",
        f"takes off [{unit}]",
        "share",
        money_name(evaluation),
        "hours",
        f"for each {money_name(evaluation)}",
        "how it is known",
    )
    said = (
        f"What is free comes first, then what likely saves most for each {money_name(evaluation)}; share is that of the whole give. The prices and hours are invented for this course and hold for a machine "
        f"of {units.shown(0.075, Length('mm'), system)} centre height; put in those of your neighbourhood. Savings do not simply add: look again after each."
    )
    return tabled(rows, head, (1, 2, 3, 4, 5), after=(said,))


def _percent(share: float) -> str:
    return f"{share:.0%}" if share >= 0.005 else "under 1%"


def _span(value: Range, kind: Any, system: str = "mm") -> str:
    ends = [units.number(units.in_unit(end, kind, system), 2) for end in (value.low, value.high)]
    return ends[0] if ends[0] == ends[1] else f"{ends[0]} to {ends[1]}"


# --- the sums behind it ----------------------------------------------------------------------------------------
@page
def sums_of_rigidity(evaluation: Evaluation) -> Page:
    """Small sums on your figures: springs in a row, what give does to the work, and when it sings."""
    if said := _impossible(evaluation, "tail_give", "loop_compliance"):
        return paragraphs(said)
    folds = []
    for heading, made in (
        ("Springs in a row", _spring_sums),
        ("What give does to the work", _work_sums),
        ("Chatter", _chatter_sums),
    ):
        sums = tuple(Worked(one, words) for words, one in made(evaluation.central))
        folds.append(Fold(strong(heading), sums, told=True))
    return Page(*folds)


Sums = list[tuple[str, Working]]


def _told(e: Evaluation, formula: Any, **si: float) -> Working:
    given = {name: units.quantity(value, formula.inputs[name]) for name, value in si.items()}
    return working(formula, system=e.design.system, **given)


def _spring_sums(e: Evaluation) -> Sums:
    spindle, rest = float(e["spindle_compliance"]), float(e["predicted_compliance"] - e["spindle_compliance"])
    # beside a needle of a spindle the rest is lost in the last digit, and there is no row to show
    in_a_row = (
        [
            (
                "The spindle in a row with all the rest: softer than the softer of the two.",
                _told(e, rigidity.series_stiffness, first=1 / spindle, second=1 / rest),
            )
        ]
        if rest > 0
        else []
    )
    return [
        (
            "Stiffness and give are one thing said twice: the machine at the tool.",
            _told(e, rigidity.compliance_of, stiffness=e["machine_stiffness"]),
        ),
        *in_a_row,
        (
            "A bearing felt at the end of an overhang twice as long as its own arm: a quarter is left.",
            _told(e, rigidity.lever_stiffness, stiffness=e["front_stiffness_at_size"], ratio=2.0),
        ),
    ]


def _work_sums(e: Evaluation) -> Sums:
    length, head, tail = float(e["work_length"]), 1 / e["head_give"], 1 / e["tail_give"]
    return [
        (
            "Each pass leaves a share of the stock's run-out: the roughing pass.",
            _told(e, errors.copying_factor, compliance=e["loop_compliance"], force_per_depth=e["rough_force_slope"]),
        ),
        (
            "What parts tool and work shows twice on the diameter.",
            _told(e, errors.diameter_error, deflection=e["finish_radial_force"] * e["work_compliance"]),
        ),
        (
            "A bed on four feet, twisted by its stand, rolls the saddle and moves the tool; on three it is left alone.",
            _told(e, errors.roll_error, arm=e["twist_lever"], twist_angle=abs(e["forced_twist"])),
        ),
        (
            "Between centres, half way along, headstock and tailstock share the push.",
            _told(
                e,
                rigidity.end_support_compliance,
                position=length / 2,
                length=length,
                headstock_stiffness=head,
                tailstock_stiffness=tail,
            ),
        ),
        *_nose_sums(e),
    ]


def _nose_sums(e: Evaluation) -> Sums:
    """What the nose leaves; nothing where the feed is so coarse that its arcs do not meet."""
    if not np.isfinite(e["ideal_roughness"]):
        return []
    return [
        (
            "From valley to peak the round nose leaves about four times Ra.",
            _told(e, finish.ideal_peak_height, feed=e["finish_feed"], nose_radius=e["nose_radius"]),
        ),
        (
            "What practice makes of it: a floor that no fine feed takes away.",
            _told(
                e,
                finish.practical_roughness,
                ideal_roughness=e["ideal_roughness"],
                rise=e["roughness_rise"],
                floor=e["finish_floor"],
            ),
        ),
    ]


def _chatter_sums(e: Evaluation) -> Sums:
    ratio = float(np.sqrt(1 + 2 * e["damping"]))
    own = float(e["sway_frequency"])
    return [
        (
            "How wide the peak is when you tap the tool tells the damping.",
            _told(e, chatter.half_power_damping, lower=own * (1 - e["damping"]), upper=own * (1 + e["damping"]), natural=own),
        ),
        (
            "What feeds it is how fast the force grows with the thickness of the chip: less than force over area, more with a worn edge.",
            _told(
                e,
                chatter.cutting_stiffness,
                specific_force=e["specific_cutting_force"],
                exponent=e["exponent"],
                condition=e["cut_condition"],
            ),
        ),
        (
            "The cut pushes the tool outwards and down. Swaying level it is only pushed out; along a line that falls outwards it springs off "
            "and chatter begins sooner, along one that rises it digs in.",
            _told(e, chatter.sway_direction_factor, radial_share=e["radial_share"], sway_angle=e["sway_angle"]),
        ),
        (
            "The widest chip that stays quiet at any speed, on the slimmest precise work.",
            _told(
                e,
                chatter.chatter_free_width,
                stiffness=e["loop_stiffness"],
                damping=e["damping"],
                cutting_stiffness=e["cutting_stiffness"],
                direction_factor=e["direction_factor"],
            ),
        ),
        (
            "Machine and work at their worst against a shaking force.",
            _told(e, chatter.worst_real_part, stiffness=e["loop_stiffness"], damping=e["damping"]),
        ),
        (
            "At the worst frequency, a little above its own, the narrowest chip already makes chatter.",
            _told(
                e,
                chatter.lobe_width,
                stiffness=e["loop_stiffness"],
                damping=e["damping"],
                cutting_stiffness=e["cutting_stiffness"],
                direction_factor=e["direction_factor"],
                chatter_ratio=ratio,
            ),
        ),
        (
            "It does so at this spindle speed, with four waves and a part of one round the work.",
            _told(e, chatter.lobe_speed, frequency=own, damping=e["damping"], chatter_ratio=ratio, lobe=4.0),
        ),
    ]
