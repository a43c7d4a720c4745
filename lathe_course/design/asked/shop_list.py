"""What must be bought as stock for a design, stage by stage: each piece at the size of the design, and the bars it is sawn from."""

from __future__ import annotations

import functools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from ...planning.cutting import Bar, TooMany, cut
from ...planning.parts import BORROW, HARD, MAKE, STAGES, Part, course_parts
from ...planning.stock import Piece, for_form, read_stock, volume
from ...tables import table
from ..chain.wheel_set import wheels_of
from ..evaluation import Evaluation

#: after the stages in which the half-built lathe can do without a part
AFTER = "to finish the lathe"
#: ways for which one buys the stock oneself
OWN_STOCK = (MAKE, HARD, BORROW)
#: the part whose pieces are the wheels of the set, one by one
_WHEELS = "change gears"
_STEEL = 7850.0


@dataclass(frozen=True)
class Sawn:
    """Pieces of one part, alike: length to be sawn, with its allowance, and the length it is for, m; the width where it is sawn to size from a plate."""

    part: str
    sawn: float
    length: float
    count: int
    width: float = 0.0


@dataclass(frozen=True)
class Group:
    """One kind and section of stock: what is sawn from it, and the bars; no bars where it is ordered sawn to size."""

    material: str
    stock: Piece
    pieces: tuple[Sawn, ...]
    bars: tuple[Bar, ...] = ()
    kerf: float = 0.0
    why_not: str = ""


@dataclass(frozen=True)
class Ask:
    """Stock of which no size is known."""

    part: str
    words: str


@dataclass(frozen=True)
class StageStock:
    """All stock of one stage."""

    stage: str
    groups: tuple[Group, ...]
    asks: tuple[Ask, ...]


def stock_to_buy(e: Evaluation) -> tuple[StageStock, ...]:
    """Stock of the parts that are made from one's own stock, without what is accepted, ordered or paid for by the log."""
    e = e.central
    there = {*e.design.log.accepted, *(order.part for order in e.design.log.orders), *e.design.log.first_paid()}
    wanted = [part for part, one in zip(e["parts_list"], _in_order(e)) if one.way.how in OWN_STOCK and part.name not in there]
    return tuple(
        made
        for stage in (*STAGES, AFTER)
        if (made := _stage(e, stage, [part for part in wanted if (part.first_needed or AFTER) == stage]))
    )


def _in_order(e: Evaluation) -> list:
    by_part = {one.way.part: one for one in e["ways_chosen"]}
    return [by_part[part.name] for part in e["parts_list"]]


def _stage(e: Evaluation, stage: str, parts: Sequence[Part]) -> StageStock | None:
    groups: dict[tuple, tuple[Piece, list[Sawn]]] = {}
    asks = []
    for part in parts:
        for piece in pieces_at_size(e, part):
            if not piece.form:
                if piece.words != "bought":
                    asks.append(Ask(part.name, piece.words))
                continue
            bars = for_form(e["building"].bars, piece.form)
            material = e["bed_material"] if part.group == "bed" and part.material == "steel" else part.material
            if bars:
                stocked = {
                    name: bars.stocked(getattr(piece, name)) for name in piece.sizes if name != "length" and name != "wall"
                }
                section = replace(piece, **stocked, length=0.0, count=1)
                sawn = _up(piece.length) + bars.allowance
            else:
                section = replace(
                    piece,
                    thickness=_up(piece.thickness, 1e-3 if piece.thickness > 3e-3 else 0.5e-3),
                    length=0.0,
                    width=0.0,
                    count=1,
                )
                sawn, piece = _up(piece.length), replace(piece, width=_up(piece.width))
            key = (material, section.words, *(round(getattr(section, name), 6) for name in ("width", "thickness", "wall")))
            groups.setdefault(key, (section, []))[1].append(
                Sawn(part.name, sawn, piece.length, piece.count, 0.0 if bars else piece.width)
            )
    if not groups and not asks:
        return None
    return StageStock(
        stage, tuple(_group(e, key[0], section, tuple(sawn)) for key, (section, sawn) in groups.items()), tuple(asks)
    )


def _up(size: float, step: float = 1e-3) -> float:
    """Up to the next whole step, but for a tenth of one."""
    return float(np.ceil(size / step - 0.1)) * step


def _group(e: Evaluation, material: str, section: Piece, pieces: tuple[Sawn, ...]) -> Group:
    bars = for_form(e["building"].bars, section.form)
    if bars is None:
        return Group(material, section, pieces)
    try:
        found = fitted(tuple(one.sawn for one in pieces for _ in range(one.count)), bars.lengths, bars.kerf)
    except (ValueError, TooMany) as problem:
        return Group(material, section, pieces, (), bars.kerf, str(problem))
    return Group(material, section, pieces, found, bars.kerf)


@functools.lru_cache(512)
def fitted(pieces: tuple[float, ...], lengths: tuple[float, ...], kerf: float) -> tuple[Bar, ...]:
    """Pieces in bars; what was fitted once is not fitted again while other parts change."""
    return cut(pieces, lengths, kerf)


# --- sizes ------------------------------------------------------------------------------------------------
def pieces_at_size(e: Evaluation, part: Part) -> tuple[Piece, ...]:
    """The stock of a part at the sizes of the design: what follows a size of the design does, and the rest grows as the mass of the part does."""
    if part.name == _WHEELS and (wheels := _wheels(e)):
        return wheels
    pieces = read_stock(part.stock)
    course = course_parts().by_name.get(part.name)
    row = (
        course if course and course.stock == part.stock else part
    )  # words of the course hold for the size of its row, wherever the figures beside them were taken to
    if not any(piece.form for piece in pieces) or not row.stock_mass > 0:
        return pieces
    known = [dict(_followed(e, part.name, number)) if row is course else {} for number in range(1, len(pieces) + 1)]
    masses = e["part_masses"]
    mass = float(masses["stock"][masses["names"].index(part.name)])
    if not np.isfinite(mass) or any(not np.isfinite(factor) for of in known for factor in of.values()):
        return tuple(Piece(piece.words) for piece in pieces)  # a shape that cannot be has no size
    heavier = e["bed_density"] / _STEEL if part.group == "bed" and part.material == "steel" else 1.0
    wanted = sum(map(volume, pieces)) * mass / row.stock_mass / heavier

    def at(rest: float) -> tuple[Piece, ...]:
        return tuple(piece.grown({name: of.get(name, rest) for name in piece.sizes}) for piece, of in zip(pieces, known))

    low, high = 0.05, 20.0
    for _ in range(60):  # the metal grows with the sizes that are left, so halving finds them
        middle = (low * high) ** 0.5
        low, high = (middle, high) if sum(map(volume, at(middle))) < wanted else (low, middle)
    return at((low * high) ** 0.5)


def _followed(e: Evaluation, part: str, number: int) -> Iterator[tuple[str, float]]:
    for size in ("width", "thickness", "wall", "length"):
        name = f"{part}: {number} {size}"
        if name in table("stock_sizes"):
            row = table("stock_sizes")[name]
            yield size, float(e.middle(row["measure"])) / row["reference"]


def _wheels(e: Evaluation) -> tuple[Piece, ...]:
    """A disc for each change wheel, as wide over its teeth as it is and ten modules thick."""
    module = float(e.middle("wheel_module"))
    return tuple(
        Piece("round bar", "round bar", (teeth + 2) * module, length=10 * module)
        for teeth in sorted(wheels_of(e["change_wheels"]), reverse=True)
    )
