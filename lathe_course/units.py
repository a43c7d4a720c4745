"""The one door for units.

Everything a person writes or reads passes here: text such as ``"30 m/min"``, pint
quantities of any registry, and figures shown in millimetres or inches.  Inside
the package plain numbers in SI run, so nothing below this door knows pint.

Two traps are dealt with here and nowhere else:

* a rotational speed is held inside as rad/s.  ``"300 rpm"``, ``"300 1/min"`` and
  ``"5 Hz"`` all mean revolutions; only a unit that names an angle (``rad/s``,
  ``deg/s``) is taken as an angle.
* a feed per revolution is held inside as metres per revolution.  ``"0.1 mm"``
  and ``"0.1 mm/rev"`` are the same feed.

pint as it comes counts a radian as the number one and a revolution as 2π, so that
300 rpm would go to 31.4 Hz and 1.5 mm a turn to 0.239 mm.  In the registry here an angle
has a dimension of its own, and a context that is always on says what may stand for
what: see ``registry``.  The pitch of a thread may also be written as threads in an inch: ``"20 per inch"``.
"""

from __future__ import annotations

import functools
import math
import operator
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from importlib.resources import files
from typing import Any

import numpy as np
import pint

from . import unit_words
from .nearest import nearest_or_stop
from .problems import InputProblem
from .unit_limits import SLACK, bound, out_of_range
from .unit_words import COMMON, COUNTED, FACTORS, INCH, SPELLINGS, SYSTEMS, TURNING, WITHOUT_ANGLE, System  # noqa: F401  asked for here


@functools.cache
def registry() -> pint.UnitRegistry:
    """The only unit registry of the package, made at first use.

    Angles have a dimension.  What then needs a rule, in either direction: a rotational speed goes to a
    frequency, and a length per revolution to a length, by turns (300 rpm is 5 Hz, 1.5 mm/rev is
    1.5 mm); an angle goes to a plain number, torque times rotational speed to a power, and a
    radius times a rotational speed to a speed by radians, as physics has it.
    """
    # begun empty: what pint works out at once for its own definitions, or finds in a cache on the disk, would still count a radian as one
    made: pint.UnitRegistry = pint.UnitRegistry(None, autoconvert_offset_to_baseunit=False, on_redefinition="ignore")
    made.load_definitions(str(files("pint") / "default_en.txt"))
    made.default_system = "mks"
    made.define("radian = [angle] = rad")
    rules = pint.Context("turns")
    for turning, plain, one in WITHOUT_ANGLE:
        unit = made.Unit(one)
        rules.add_transformation(turning, plain, _transformed(operator.truediv, unit))
        rules.add_transformation(plain, turning, _transformed(operator.mul, unit))
    made.add_context(rules)
    made.enable_contexts("turns")
    made.define("EUR = [money] = euro")
    made.define("dBA = [sound_level]")
    made.define("@alias revolution = rev")
    made.define("fpm = foot / minute")
    made.define("tpi = 1 / inch")
    return made


# --- what people type ---------------------------------------------------------------------------
def _transformed(by: Callable[[Any, Any], Any], unit: pint.Unit) -> Any:
    """A rule as pint calls it."""
    return lambda _, value: by(value, unit)


class _Refused(Exception):
    """Carries the rest of a sentence out of the reader; never leaves this module."""


def _spell(text: str) -> str:
    for pattern, replacement in SPELLINGS:
        text = pattern.sub(replacement, text)
    return text


@functools.lru_cache(maxsize=4096)
def _parse(text: str, example: str) -> tuple[float, str]:
    """Number and unit text of something like '30 m/min', '3/4 in' or '1 1/2 in'; a refusal shows the example."""
    if unit_words.COMMA.match(text):
        point, none = (text.strip().replace(",", sign, 1).replace(",", "") for sign in (".", ""))
        if unit_words.THOUSANDS.match(text):
            raise _Refused(f"has a comma that can be read in two ways; write {none!r} or {point!r}")
        raise _Refused(f"has a comma in the number; write it with a point: {point!r}")
    spelled = _spell(text)
    if mixed := unit_words.MIXED.match(spelled):
        whole, top, bottom = map(float, mixed.groups())
        if bottom == 0:
            raise _Refused("divides by zero")
        return whole + top / bottom, spelled[mixed.end() :].strip()
    if not (lead := unit_words.LEADING.match(spelled)):
        raise _Refused(f"does not start with a number; write it as in {example!r}")
    figure, unit = lead.group(1), lead.group(2).strip()
    if unit.startswith("/"):
        unit = "1" + unit
    top, bottom = map(float, f"{figure}/1".split("/")[:2])
    if bottom == 0:
        raise _Refused("divides by zero")
    return top / bottom, unit


@functools.lru_cache(maxsize=4096)
def _known_unit(text: str) -> pint.Unit:
    if len(text) > 80 or unit_words.POWER_TOWER.search(_spell(text)):
        raise _Refused(f"has {text[:20]!r} where a unit was expected")
    try:
        return registry().Unit(_spell(text))
    except pint.UndefinedUnitError as problem:
        name = str(problem.args[0]) if problem.args and isinstance(problem.args[0], str) else text
        hint = nearest_or_stop(name, COMMON, most=3, cutoff=0.65).rstrip(".")
        raise _Refused(f"has the unit {name!r}, which is not known{hint}") from None
    except Exception:  # noqa: BLE001  what pint's parser raises on nonsense has no common ancestor
        raise _Refused(f"has {text!r} where a unit was expected") from None


# --- kinds of figure -----------------------------------------------------------------------------
@dataclass(frozen=True)
class Kind:
    """What sort of figure an argument or a result is.

    ``unit`` is the workshop unit (mm side); ``symbol`` the LaTeX symbol for workings.
    ``above``, ``at_least``, ``below``, ``at_most`` are physical limits: outside is an error.
    ``valid`` is the range a formula was made for: outside it warns.  All are in ``unit``.
    ``sort`` picks the way of reading: "" by dimension, "speed" for revolutions per time,
    "feed" for length per revolution, "angle", "plain" for pure numbers, "count" for money,
    hours of work and months, which are counted as they are, "pitch" for a length that may be
    written as threads in an inch.
    """

    what: str
    unit: str
    symbol: str = ""
    sort: str = ""
    example: str = ""
    above: float | None = None
    at_least: float | None = None
    below: float | None = None
    at_most: float | None = None
    valid: tuple[float, float] | None = None
    whole: bool = False

    @functools.cached_property
    def factor(self) -> float:
        """SI per workshop unit."""
        return si_factor(self.unit, self.sort)

    @property
    def unlimited(self) -> Kind:
        """The same kind without its physical limits: what cannot be is read all the same, to be told as wrong."""
        return replace(self, above=None, at_least=None, below=None, at_most=None, valid=None, whole=False)

    @functools.cached_property
    def limits_si(self) -> tuple[float | None, float | None, float | None, float | None]:
        """above, at_least, below, at_most in SI."""
        above, at_least, below, at_most = (
            None if b is None else b * self.factor for b in (self.above, self.at_least, self.below, self.at_most)
        )
        return above, at_least, below, at_most


#: every kind of figure there is, in its usual unit and without limits
KINDS: list[Kind] = []


def _kind(what: str, unit: str, example: str, sort: str = ""):
    def make(unit: str = unit, symbol: str = "", **limits: Any) -> Kind:
        return Kind(what, unit, symbol, sort, example, **limits)

    make.__doc__ = f"A {what}, in {unit or 'no unit'} unless said otherwise."
    KINDS.append(make())
    return make


Length = _kind("length", "mm", "75 mm")
Pitch = _kind("pitch", "mm", "1.5 mm", "pitch")
Area = _kind("area", "mm²", "300 mm²")
Volume = _kind("volume", "cm³", "530 cm³")
SecondMoment = _kind("second moment of area", "mm⁴", "65800 mm⁴")
Mass = _kind("mass", "kg", "40 kg")
MassPerLength = _kind("mass per length", "kg/m", "19 kg/m")
Density = _kind("density", "kg/m³", "7850 kg/m³")
Inertia = _kind("moment of inertia", "kg·m²", "0.011 kg·m²")
TemperatureRise = _kind("rise of temperature", "K", "15 K")
Slope = _kind("slope", "mm/m", "0.04 mm/m")
Expansion = _kind("expansion per kelvin", "µm/(m·K)", "11 µm/(m·K)")
Duration = _kind("time", "min", "5 min")
Speed = _kind("speed", "m/min", "30 m/min")
RotationalSpeed = _kind("rotational speed", "rpm", "400 rpm", "speed")
FeedPerTurn = _kind("feed per revolution", "mm/rev", "0.1 mm/rev", "feed")
Force = _kind("force", "N", "250 N")
Stress = _kind("stress", "N/mm²", "2000 N/mm²")
Torque = _kind("torque", "N·m", "7 N·m")
Power = _kind("power", "W", "370 W")
Stiffness = _kind("stiffness", "N/µm", "60 N/µm")
Compliance = _kind("compliance", "µm/kN", "20 µm/kN")
Current = _kind("current", "A", "3 A")
Voltage = _kind("voltage", "V", "230 V")
RemovalRate = _kind("volume per time", "cm³/min", "2 cm³/min")
Ratio = _kind("plain number", "", "0.7", "plain")
Count = _kind("whole number", "", "6", "plain")
Angle = _kind("angle", "deg", "90 deg", "angle")
Money = _kind("sum of money", "EUR", "1200 EUR", "count")
MoneyRate = _kind("sum of money a month", "EUR/month", "120 EUR/month", "count")
HourPrice = _kind("price of an hour", "EUR/h", "10 EUR/h", "count")
LabourTime = _kind("number of hours", "h", "400 h", "count")
HoursRate = _kind("number of hours a month", "h/month", "20 h/month", "count")
Months = _kind("number of months", "months", "18 months", "count")
SoundLevel = _kind("sound level", "dBA", "85 dBA", "count")


def _si(unit: pint.Unit, sort: str) -> float:
    """Factor from ``unit`` to SI; a speed's is rad/s, a feed's and a pitch's metres for each revolution."""
    one = registry().Quantity(1.0, unit)
    to = {"speed": "rad/s", "feed": "m/revolution", "pitch": "m"}.get(sort)
    return (one.to(to) if to else one.to_base_units()).magnitude


@functools.cache
def si_factor(unit: str, sort: str = "") -> float:
    """SI value of one ``unit``, written as people read it; 1 for counted units.  InputProblem for one that is not known."""
    if unit == "" or unit in COUNTED:
        return 1.0
    if unit in FACTORS and (sort in ("speed", "feed")) == (unit in TURNING):
        return FACTORS[unit]
    try:
        return _si(_known_unit(unit), sort)
    except _Refused as refused:
        raise InputProblem.about("unit", f"the unit {unit!r} {refused}.") from None


# --- reading --------------------------------------------------------------------------------------
def _is_quantity(value: Any) -> bool:
    return hasattr(value, "magnitude") and hasattr(value, "units")


def _wanted(kind: Kind) -> str:
    return f"but {_article(kind.what)} is needed, for example {kind.example!r}"


def _article(what: str) -> str:
    return f"a{'n' if what[0] in 'aeiou' else ''} {what}"


@functools.lru_cache(maxsize=8192)
def _factor_for(unit: pint.Unit, kind: Kind) -> float:
    """Factor from ``unit`` to SI for one kind of figure; _Refused if it does not fit."""
    if unit.dimensionality not in [
        _known_unit(text).dimensionality for text in (kind.unit or "dimensionless", *unit_words.ALSO.get(kind.sort, ()))
    ]:
        raise _Refused(f"is {_said(unit)}, {_wanted(kind)}")
    return _si(unit, kind.sort)


def _said(unit: pint.Unit) -> str:
    """A unit in words: 'a length (mm)', or 'in ...' if its dimension has no common name."""
    plain = f"{unit:~P}".replace("Δ", "")  # a rise of temperature is written by its degrees alone
    named = f"({plain})"
    for text, words in (("rad/s", "a rotational speed"), ("m/revolution", "a length per revolution"), ("radian", "an angle")):
        if unit.dimensionality == _known_unit(text).dimensionality:
            return f"{words} {named}"
    for make in (Length, Area, Mass, Speed, Force, Stress, Power, Torque, Stiffness, Current, Duration, Density, Voltage):
        kind = make()
        if unit.dimensionality == _known_unit(kind.unit).dimensionality:
            return f"{_article(kind.what)} {named}"
    return f"in {plain}" if str(unit) != "dimensionless" else "a plain number"


def read(value: Any, kind: Kind, name: str = "value") -> Any:
    """Turn text, a quantity (of any registry, also of arrays) or a list of these into plain SI, or raise InputProblem.

    Returns a float, or a float array of the same shape as the magnitude or the list.

    >>> round(read("950 rpm", RotationalSpeed()), 3), round(read('3/4"', Length()), 5)
    (99.484, 0.01905)
    """
    if isinstance(value, int) and abs(value) > 2**1000:
        raise InputProblem.about(name, f"{_plain(name)} has hundreds of digits, more than a figure can have.")
    try:
        found = _to_si(value, kind)
    except _Refused as refused:
        sentence = f"{_plain(name)} {_quoted(value)} {refused}"
        raise InputProblem.about(name, sentence if sentence.endswith("?") else sentence + ".") from None
    complaint = out_of_range(found, kind)
    if complaint:
        raise InputProblem.about(name, f"{_plain(name)} {_quoted(value)} {complaint}.")
    return found


def _to_si(value: Any, kind: Kind) -> Any:
    plain = kind.sort == "plain"
    if _is_quantity(value):
        unit = value.units if getattr(value, "_REGISTRY", None) is registry() else _known_unit(str(value.units))
        return _magnitude(value.magnitude) * _unit_factor(unit, kind)
    if isinstance(value, str):
        figure, unit = _parse(value, kind.example)
        if kind.sort == "pitch" and unit_words.PER_INCH.fullmatch(unit.lower()):
            if figure <= 0:
                raise _Refused("has no thread in the inch; write how many there are, for example '20 per inch'")
            return si_factor("in") / figure
        if unit:
            return figure * _unit_factor(unit, kind)
        if plain or figure == 0:  # nothing is nothing in any unit
            return figure
        raise _Refused(_ask_unit(value.strip(), kind))
    if isinstance(value, (list, tuple)) and any(isinstance(one, str) or _is_quantity(one) for one in value):
        return np.array([_to_si(one, kind) for one in value])
    if isinstance(value, (int, float, np.ndarray, np.number, list, tuple)) and not isinstance(value, (bool, np.bool_)):
        if plain:
            return _magnitude(value)
        if np.ndim(value):
            raise _Refused(f"has no unit; write each figure with its unit, for example {kind.example!r}")
        raise _Refused(_ask_unit(f"{value:g}", kind) if np.all(np.isfinite(value)) else "is not a finite number")
    raise _Refused(f"cannot be read as a figure; write it with its unit, for example {kind.example!r}")


def _unit_factor(unit: Any, kind: Kind) -> float:
    if kind.sort == "count":
        spelled = re.sub(r"\s*/\s*", "/", str(unit).replace("€", "EUR")).strip()
        if spelled in COUNTED[kind.unit]:
            return COUNTED[kind.unit][spelled]
        raise _Refused(f"is in {spelled}, {_wanted(kind)}")
    if unit == _as_read(kind.unit):  # what is mostly written needs no question to pint
        return kind.factor
    return _factor_for(unit if isinstance(unit, pint.Unit) else _known_unit(unit), kind)


@functools.cache
def _as_read(unit: str) -> str:
    """One of our own units as it comes out of a text."""
    return _parse(f"1 {unit}", "")[1]


def _ask_unit(figure: str, kind: Kind) -> str:
    other = "per inch" if kind.sort == "pitch" else unit_text(kind, "inch")
    also = f" (or '{figure} {other}')" if other and other != kind.unit else ""
    return f"has no unit; is it '{figure} {kind.unit}'{also}? Write the number with its unit"


def _magnitude(value: Any) -> Any:
    if isinstance(value, (int, float)):
        return float(value)
    array = np.asarray(value)
    if array.dtype.kind not in "iuf":
        raise _Refused("is not made of numbers")
    return float(array) if array.ndim == 0 else array.astype(float)


def outside_validity(si: Any, kind: Kind, system: str = "mm") -> str:
    """'' inside the range a formula was made for; else the rest of a sentence on the figure."""
    if kind.valid is None:
        return ""
    low, high = (b * kind.factor for b in kind.valid)
    if np.any(si < low - SLACK * abs(low)) or np.any(si > high + SLACK * abs(high)):
        ends = (
            (f"{kind.valid[0]:g}", bound(kind.valid[1], kind))
            if system == "mm"
            else (shown(low, kind, system), shown(high, kind, system))
        )
        figure = f"{shown(si, kind, system)}, " if np.ndim(si) == 0 else ""
        return f"is {figure}outside {ends[0]} to {ends[1]}, for which the formula was made"
    return ""


def _quoted(value: Any) -> str:
    if np.ndim(getattr(value, "magnitude", value)):
        return f"(a row of {np.size(getattr(value, 'magnitude', value))} figures)"
    if _is_quantity(value):
        return f"'{value:~P}'"
    return f"{value:g}" if isinstance(value, (float, np.number)) else repr(value)


def _plain(name: str) -> str:
    return name.replace("_", " ")


# --- showing ---------------------------------------------------------------------------------------
def unit_text(kind: Kind | str, system: str = "mm") -> str:
    """The unit a figure is shown in for 'mm' or 'inch' readers."""
    unit = kind if isinstance(kind, str) else kind.unit
    if _LISTS in unit:
        return unit.replace(_LISTS, getattr(system, "money", _LISTS))
    return INCH.get(unit, unit) if system == "inch" else unit


#: the money of the course's lists
_LISTS = "EUR"


def si_per_unit(kind: Kind, system: str = "mm") -> float:
    """SI value of one of the unit shown for ``system``; of money, in that of the course's lists."""
    if _LISTS in kind.unit:
        return kind.factor / getattr(system, "rate", 1.0)
    return si_factor(unit_text(kind, system), kind.sort)


def in_lists_money(given: Any, kind: Kind, system: str) -> Any:
    """What a reader wrote in their own money, as text in that of the course's lists; anything else as it is."""
    money = getattr(system, "money", _LISTS)
    if isinstance(given, Mapping):
        return {end: in_lists_money(value, kind, system) for end, value in given.items()}
    if _LISTS not in kind.unit or money == _LISTS or not isinstance(given, str) or money.lower() not in given.lower():
        return given
    told = re.sub(re.escape(money), _LISTS, given, flags=re.IGNORECASE)
    try:
        figure, unit = _parse(told, kind.example)
    except _Refused:
        return told
    return f"{figure / getattr(system, 'rate', 1.0)!r} {unit}"


def quantity(si: Any, kind: Kind) -> pint.Quantity:
    """A pint quantity in the workshop unit of ``kind``; how it converts further, ``registry`` says."""
    unit = "dimensionless" if kind.unit == "" else kind.unit
    return registry().Quantity(si / kind.factor, _known_unit(unit))


def in_unit(si: Any, kind: Kind, system: str = "mm") -> Any:
    """The bare number of ``si`` in the unit shown for ``system``."""
    return si / si_per_unit(kind, system)


#: what stands where there is no figure
NO_FIGURE = "–"


def number(value: float, digits: int = 3) -> str:
    """A number with sensible digits: three that matter, no exponent in the workshop range."""
    if value is None or not math.isfinite(value):
        return NO_FIGURE
    if value == 0:
        return "0"
    size = math.floor(math.log10(abs(value)))
    if size >= 7 or size < -5:
        mantissa, _, power = f"{value:.{digits - 1}e}".partition("e")
        return f"{mantissa}×10^{int(power)}"
    places = max(0, digits - 1 - size)
    text = f"{round(value, digits - 1 - size):.{places}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def shown(si: float, kind: Kind, system: str = "mm", digits: int = 3) -> str:
    """A figure as people read it.

    >>> shown(0.075, Length()), shown(0.075, Length(), "inch")
    ('75 mm', '2.95 in')
    """
    told = number(in_unit(si, kind, system), digits)
    return told if told == NO_FIGURE else f"{told} {unit_text(kind, system)}".rstrip()
