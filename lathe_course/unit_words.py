"""How units are written: spellings people use, partners in inches, and units that are only counted."""
from __future__ import annotations

import re
from typing import Self

#: pattern of a spelling, and how the registry of units has it
SPELLINGS = tuple((re.compile(pattern), replacement) for pattern, replacement in (
    ("[·⋅×∙]", "*"), ("µ|μ", "u"), ("²", "**2"), ("³", "**3"), ("⁴", "**4"), ("−", "-"), (r"\s*/\s*", "/"),
    (r"(?<=\d)\s*\*\s*10\s*(?:\^|\*\*)\s*([-+]?\d+)", r"e\1"),
    ("€", "EUR"), (r"^\s*EUR\s*([\d.]+)", r"\1 EUR"),
    (r"\bmin-1\b|\bmin\^-1\b", "1/min"), (r"\bRPM\b", "rpm"), (r"\bHP\b", "hp"), (r"\bipr\b", "in/revolution"), (r"\bsfm\b", "ft/min"),
    (r"\b(k?N)[\s*.-]*(mm|cm|m)\b", r"\1*\2"),
    # pound inches are a torque, so the pound is a force there; pound square feet are an inertia and stay
    (r"\blbf?[\s*.-]*(in|ft)\b(?!\s*(?:\*\*|\^))", r"lbf*\1"), (r"\b(in|ft)[\s*.-]+lbf?\b", r"lbf*\1"),
    (r'(?<=[\d.])\s*(?:"|″|”)', " in"), (r"(?<=/)r\b|\br(?=/)|\brevs?\b|\bturns?\b", "revolution"),
    (r"\b(mm|cm|dm|m|in|um|ft)([234])\b", r"\1**\2"), (r"(?<=[\d.])\s*%", " percent"),
    (r"\binch(es)?\b", "in"),
    # every temperature here is a rise, never a point on a scale: 15 °C is 15 K
    (r"°\s*C\b|℃|\bdegC\b", "delta_degC"), (r"°\s*F\b|℉|\bdegF\b", "delta_degF"),
))

#: the inch-mode partner of a workshop unit; a unit not listed is shown as it is
INCH = {"mm": "in", "µm": "thou", "m": "ft", "mm²": "in²", "mm⁴": "in⁴", "m²": "ft²", "m/min": "ft/min", "m/s": "ft/s",
        "mm/min": "in/min", "mm/s": "in/s", "mm/rev": "in/rev", "mm/m": "thou/ft", "N": "lbf", "kN": "lbf", "N·m": "lbf·in", "kW": "hp", "kg": "lb",
        "kg/m": "lb/ft", "kg/m³": "lb/in³", "kg·m²": "lb·ft²", "N/µm": "lbf/thou", "µm/N": "thou/lbf", "µm/kN": "thou/lbf",
        "N/mm²": "ksi", "cm³/min": "in³/min", "K": "°F", "µm/(m·K)": "µin/(in·°F)"}
#: ways of writing the counted units; the learner's currency is a label, so EUR stands for it
COUNTED = {"EUR": {"EUR": 1.0, "euro": 1.0, "euros": 1.0, "eur": 1.0},
           "h": {"h": 1.0, "hour": 1.0, "hours": 1.0, "min": 1 / 60, "minute": 1 / 60, "minutes": 1 / 60},
           "dBA": {"dBA": 1.0, "dB(A)": 1.0, "dB": 1.0},
           "months": {"months": 1.0, "month": 1.0, "years": 12.0, "year": 12.0},
           "h/month": {"h/month": 1.0, "hours/month": 1.0, "hour/month": 1.0, "h a month": 1.0, "hours a month": 1.0,
                       "h per month": 1.0, "hours per month": 1.0, "h/week": 52 / 12, "hours/week": 52 / 12, "hours a week": 52 / 12},
           "EUR/month": {"EUR/month": 1.0, "EUR a month": 1.0, "EUR per month": 1.0, "euro/month": 1.0},
           "EUR/h": {"EUR/h": 1.0, "EUR/hour": 1.0, "EUR an hour": 1.0, "EUR per hour": 1.0}}

COMMON = ["mm", "cm", "m", "um", "in", "thou", "ft", "m/min", "ft/min", "m/s", "rpm", "rev/min", "1/min", "Hz", "rad/s",
           "mm/rev", "in/rev", "N", "kN", "lbf", "N*m", "lbf*in", "W", "kW", "hp", "kg", "g", "lb", "N/um", "um/N", "N/mm",
           "lbf/in", "MPa", "GPa", "N/mm**2", "psi", "A", "V", "deg", "percent", "EUR", "h", "hours", "months", "month",
           "hour", "minutes", "EUR/month", "hours/month"]

#: a dimension with an angle in it, the one it may stand for, and the angle of which one is left out (or put in)
WITHOUT_ANGLE = (
    ("[angle] / [time]", "1 / [time]", "revolution"), ("[length] / [angle]", "[length]", "1 / revolution"), ("[angle]", "", "radian"),
    ("[length] * [angle] / [time]", "[length] / [time]", "radian"),
    ("[mass] * [length] ** 2 * [angle] / [time] ** 3", "[mass] * [length] ** 2 / [time] ** 3", "radian"))

SYSTEMS = ("mm", "inch")


class System(str):
    """What a reader counts in: 'mm' or 'inch', and the money, with how much of it one EUR of the course's lists is."""

    money: str
    rate: float

    def __new__(cls, system: str, money: str = "EUR", rate: float = 1.0) -> Self:
        made = super().__new__(cls, system)
        made.money, made.rate = money, rate
        return made
