"""How units are written: spellings people use, partners in inches, and units that are only counted."""

from __future__ import annotations

import math
import re
from typing import Self

#: pattern of a spelling, and how the registry of units has it
SPELLINGS = tuple(
    (re.compile(pattern), replacement)
    for pattern, replacement in (
        ("[·⋅×∙]", "*"),
        ("µ|μ", "u"),
        ("²", "**2"),
        ("³", "**3"),
        ("⁴", "**4"),
        ("−", "-"),
        (r"\s*/\s*", "/"),
        (r"(?<=\d)\s*\*\s*10\s*(?:\^|\*\*)\s*([-+]?\d+)", r"e\1"),
        ("€", "EUR"),
        (r"^\s*EUR\s*([\d.]+)", r"\1 EUR"),
        (r"\bmin-1\b|\bmin\^-1\b", "1/min"),
        (r"\bRPM\b", "rpm"),
        (r"\bHP\b", "hp"),
        (r"\bipr\b", "in/revolution"),
        (r"\bsfm\b", "ft/min"),
        (r"\b(k?N)[\s*.-]*(mm|cm|m)\b", r"\1*\2"),
        # pound inches are a torque, so the pound is a force there; pound square feet are an inertia and stay
        (r"\blbf?[\s*.-]*(in|ft)\b(?!\s*(?:\*\*|\^))", r"lbf*\1"),
        (r"\b(in|ft)[\s*.-]+lbf?\b", r"lbf*\1"),
        (r'(?<=[\d.])\s*(?:"|″|”)', " in"),
        (r"(?<=/)r\b|\br(?=/)|\brevs?\b|\bturns?\b", "revolution"),
        (r"\b(mm|cm|dm|m|in|um|ft)([234])\b", r"\1**\2"),
        (r"(?<=[\d.])\s*%", " percent"),
        (r"\binch(es)?\b", "in"),
        # every temperature here is a rise, never a point on a scale: 15 °C is 15 K
        (r"°\s*C\b|℃|\bdegC\b", "delta_degC"),
        (r"°\s*F\b|℉|\bdegF\b", "delta_degF"),
    )
)

#: the inch-mode partner of a workshop unit; a unit not listed is shown as it is
INCH = {
    "mm": "in",
    "µm": "thou",
    "m": "ft",
    "mm²": "in²",
    "mm⁴": "in⁴",
    "m²": "ft²",
    "m/min": "ft/min",
    "m/s": "ft/s",
    "mm/min": "in/min",
    "mm/s": "in/s",
    "mm/rev": "in/rev",
    "mm/m": "thou/ft",
    "N": "lbf",
    "kN": "lbf",
    "N·m": "lbf·in",
    "kW": "hp",
    "kg": "lb",
    "kg/m": "lb/ft",
    "kg/m³": "lb/in³",
    "kg·m²": "lb·ft²",
    "N/µm": "lbf/thou",
    "µm/N": "thou/lbf",
    "µm/kN": "thou/lbf",
    "N/mm²": "ksi",
    "cm³/min": "in³/min",
    "K": "°F",
    "µm/(m·K)": "µin/(in·°F)",
}
#: ways of writing the counted units; the learner's currency is a label, so EUR stands for it
COUNTED = {
    "EUR": {"EUR": 1.0, "euro": 1.0, "euros": 1.0, "eur": 1.0},
    "h": {"h": 1.0, "hour": 1.0, "hours": 1.0, "min": 1 / 60, "minute": 1 / 60, "minutes": 1 / 60},
    "dBA": {"dBA": 1.0, "dB(A)": 1.0, "dB": 1.0},
    "months": {"months": 1.0, "month": 1.0, "years": 12.0, "year": 12.0},
    "h/month": {
        "h/month": 1.0,
        "hours/month": 1.0,
        "hour/month": 1.0,
        "h a month": 1.0,
        "hours a month": 1.0,
        "h per month": 1.0,
        "hours per month": 1.0,
        "h/week": 52 / 12,
        "hours/week": 52 / 12,
        "hours a week": 52 / 12,
    },
    "EUR/month": {"EUR/month": 1.0, "EUR a month": 1.0, "EUR per month": 1.0, "euro/month": 1.0},
    "EUR/h": {"EUR/h": 1.0, "EUR/hour": 1.0, "EUR an hour": 1.0, "EUR per hour": 1.0},
}

COMMON = [
    "mm",
    "cm",
    "m",
    "um",
    "in",
    "thou",
    "ft",
    "m/min",
    "ft/min",
    "m/s",
    "rpm",
    "rev/min",
    "1/min",
    "Hz",
    "rad/s",
    "mm/rev",
    "in/rev",
    "N",
    "kN",
    "lbf",
    "N*m",
    "lbf*in",
    "W",
    "kW",
    "hp",
    "kg",
    "g",
    "lb",
    "N/um",
    "um/N",
    "N/mm",
    "lbf/in",
    "MPa",
    "GPa",
    "N/mm**2",
    "psi",
    "A",
    "V",
    "deg",
    "percent",
    "EUR",
    "h",
    "hours",
    "months",
    "month",
    "hour",
    "minutes",
    "EUR/month",
    "hours/month",
]

#: a dimension with an angle in it, the one it may stand for, and the angle of which one is left out (or put in)
WITHOUT_ANGLE = (
    ("[angle] / [time]", "1 / [time]", "revolution"),
    ("[length] / [angle]", "[length]", "1 / revolution"),
    ("[angle]", "", "radian"),
    ("[length] * [angle] / [time]", "[length] / [time]", "radian"),
    ("[mass] * [length] ** 2 * [angle] / [time] ** 3", "[mass] * [length] ** 2 / [time] ** 3", "radian"),
)

SYSTEMS = ("mm", "inch")


class System(str):
    """What a reader counts in: 'mm' or 'inch', and the money, with how much of it one EUR of the course's lists is."""

    money: str
    rate: float

    def __new__(cls, system: str, money: str = "EUR", rate: float = 1.0) -> Self:
        made = super().__new__(cls, system)
        made.money, made.rate = money, rate
        return made


#: SI value of the units the course itself writes, in its tables and beside its figures; what people type is asked of pint.
#: A rotational speed is radians a second, a feed metres a turn.
FACTORS = {
    "%": 0.01,
    "EUR/kg": 1.0,
    "EUR/m": 1.0,
    "kg": 1.0,
    "g": 1e-3,
    "K": 1.0,
    "1/K": 1.0,
    "A": 1.0,
    "V": 1.0,
    "W": 1.0,
    "W/(m²·K)": 1.0,
    "kW": 1e3,
    "m": 1.0,
    "mm": 1e-3,
    "cm": 1e-2,
    "in": 0.0254,
    "km": 1e3,
    "µm": 1e-6,
    "m²": 1.0,
    "mm²": 1e-6,
    "cm³": 1e-6,
    "mm⁴": 1e-12,
    "s": 1.0,
    "min": 60.0,
    "hours": 3600.0,
    "m/s": 1.0,
    "m/min": 1 / 60,
    "mm/s": 1e-3,
    "mm/min": 1e-3 / 60,
    "m/s²": 1.0,
    "cm³/min": 1e-6 / 60,
    "N": 1.0,
    "kN": 1e3,
    "N·m": 1.0,
    "N/mm²": 1e6,
    "N/mm²·m/s": 1e6,
    "GPa": 1e9,
    "kN/m²": 1e3,
    "mPa·s": 1e-3,
    "mm²/s": 1e-6,
    "N/mm": 1e3,
    "N/µm": 1e6,
    "µm/kN": 1e-9,
    "kg/m": 1.0,
    "kg/m³": 1.0,
    "kg·m²": 1.0,
    "g/mm²": 1e3,
    "mm/m": 1e-3,
    "µm/(m·K)": 1e-6,
    "mrad": 1e-3,
    "deg": math.pi / 180,
    "rpm": math.pi / 30,
    "mm/rev": 1e-3,
}
#: those of a rotational speed and of a feed, which no other figure is told in
TURNING = ("rpm", "mm/rev")

# what people type: two numbers, a comma, figures in thousands, threads in an inch, a number and what follows it
MIXED = re.compile(r"^\s*(\d+)[\s-]+(\d+)\s*/\s*(\d+)\s*(?=[^\d\s])")
COMMA = re.compile(r"^\s*[-+]?\d+,\d+")
THOUSANDS = re.compile(r"^\s*[-+]?[1-9]\d{0,2}(,\d{3})+(?![\d,])")
# a power of a power, or one of three digits: no unit, and pint would work it out for minutes
POWER_TOWER = re.compile(r"(\*\*|\^)[-\d().\s]*(\*\*|\^)|(\*\*|\^)[-(\s]*\d{3}")
PER_INCH = re.compile(r"tpi|1/in|(?:threads?\s+)?(?:per|to the|to an?|in an?|an?)\s+in")
LEADING = re.compile(r"^\s*([-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?(?:\s*/\s*\d+)?)\s*(.*)$", re.DOTALL)

#: what other dimension a kind of figure is read from: 5 Hz as a rotational speed, 0.1 mm as a feed, 1.5 mm/rev as a pitch
ALSO = {"speed": ("1/s", "rad/s"), "feed": ("m", "m/revolution"), "pitch": ("m", "m/revolution")}
