"""A formula shown as on a blackboard: symbols, numbers put in, result, source, limits."""

from __future__ import annotations

import html
import math
import re
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from .formula import FORMULAS, Formula
from .sources import cite
from .units import InputProblem, Kind, in_unit, number, shown, unit_text

# a symbol: a letter or a Greek command, with an optional subscript; or any other command, kept as it is
_TOKEN = re.compile(r"(?P<name>\\[A-Za-z]+|[A-Za-z])(?P<sub>_(?:\{[^{}]*\}|[A-Za-z0-9]))?")
#: a formula by its name within another: \operatorname{shear coefficient}(D, d)
_INSIDE = re.compile(r"\\operatorname\{([a-z ]+)\}\([^()]*\)")
_VERBATIM = re.compile(r"\\(?:mathrm|text|operatorname)\{[^{}]*\}")


def working(formula: Formula, *args: Any, system: str = "mm", names: dict[str, str] | None = None, **kwargs: Any) -> Working:
    """The working of one case, with inputs as text or quantities, as in calling the formula.

    Raises InputProblem for bad inputs, and for arrays: a blackboard shows one case.
    """
    bound = formula.bind(*args, **kwargs)
    return Working.of(formula, bound, system, names)


@dataclass(frozen=True)
class Working:
    """One case of one formula, ready to be shown in a notebook or as plain text."""

    formula: Formula
    values: dict[str, float]
    result: float
    system: str = "mm"
    names: dict[str, str] = field(default_factory=dict)
    doubts: tuple[str, ...] = ()
    remark: str = ""

    @classmethod
    def of(
        cls, formula: Formula, values: dict[str, Any], system: str = "mm", names: dict[str, str] | None = None, remark: str = ""
    ) -> Working:
        """A working of inputs that are SI numbers already; ``remark`` is a sentence on which case it is.

        Raises InputProblem for an array: a working shows one case.
        """
        arrays = [name for name, value in values.items() if np.ndim(value)]
        if arrays:
            raise InputProblem.about(
                arrays[0], f"{arrays[0].replace('_', ' ')} is a row of figures; a working shows one case, so give one."
            )
        values = {name: float(values[name]) for name in formula.inputs}
        return cls(
            formula, values, float(formula.si(**values)), system, names or {}, tuple(formula.doubts(values, system)), remark
        )

    @property
    def summary(self) -> str:
        """What the formula says, and which case this is."""
        return f"{self.formula.summary} {self.remark}".rstrip()

    # --- the three lines -------------------------------------------------------------------------
    @property
    def symbols(self) -> str:
        """The equation in symbols, LaTeX."""
        return self.formula.equation

    @property
    def numbers(self) -> str:
        """The equation with every symbol of the right side replaced by its figure, LaTeX."""
        left, _, right = self.symbols.partition("=")
        figures = {}
        for name, kind in self.formula.inputs.items():
            if kind.symbol:
                figures[_squeeze(kind.symbol)] = _latex(self.values[name], kind, self.system, self._digits(name))
        return f"{left.strip()} = {_put_in(_INSIDE.sub(self._worked_inside, right.strip()), figures)}"

    def _digits(self, name: str) -> int:
        """Digits that matter: three, and more where another input of its kind would read alike though their difference counts."""
        value, kind = self.values[name], self.formula.inputs[name]
        apart = [
            abs(value - other) / abs(value)
            for one, other in self.values.items()
            if value
            and self.formula.inputs[one].unit == kind.unit
            and shown(value, kind, self.system) == shown(other, kind, self.system)
        ]
        apart = [share for share in apart if share > 1e-9]
        return 2 - math.floor(math.log10(min(apart))) if apart else 3

    def _worked_inside(self, found: re.Match) -> str:
        """The figure of a formula that stands by its name within this one."""
        inner = FORMULAS.get(found[1].replace(" ", "_"))
        if inner is None:
            return found[0]
        return _latex(float(inner.si(**{name: self.values[name] for name in inner.inputs})), inner.output, self.system)

    @property
    def answer(self) -> str:
        """Symbol of the result and its figure, LaTeX."""
        left = self.symbols.partition("=")[0].strip()
        return f"{left} = {_latex(self.result, self.formula.output, self.system)}"

    def table(self) -> list[tuple[str, str, str]]:
        """(symbol, meaning, figure) for each input, then for the result."""
        rows = [
            (
                kind.symbol,
                self.names.get(name, name.replace("_", " ")),
                shown(self.values[name], kind, self.system, self._digits(name)),
            )
            for name, kind in self.formula.inputs.items()
        ]
        out = self.formula.output
        return [*rows, (out.symbol, self.names.get("result", self.formula.title), shown(self.result, out, self.system))]

    @property
    def blackboard(self) -> str:
        """Symbols, figures and answer below each other, LaTeX between dollars."""
        lines = "\\\\[4pt]\n".join(map(_aligned, (self.symbols, self.numbers, self.answer)))
        return f"$$\n\\begin{{aligned}}\n{lines}\n\\end{{aligned}}\n$$"

    # --- views -----------------------------------------------------------------------------------
    def _repr_markdown_(self) -> str:
        rows = "\n".join(
            f"| ${symbol}$ | {meaning} | {figure} |" if symbol else f"| | {meaning} | {figure} |"
            for symbol, meaning, figure in self.table()
        )
        lines = [f"**{self.summary}**", self.blackboard, f"| | | |\n|:-|:-|-:|\n{rows}"]
        lines += [f"*Mind:* {html.escape(doubt, quote=False)}" for doubt in self.doubts]
        if self.formula.limits:
            lines.append(f"*Holds for:* {self.formula.limits}.")
        lines.append(f"*Source:* {cite(self.formula.source)}.")
        return "\n\n".join(lines)

    def __str__(self) -> str:
        width = max(len(plain_equation(symbol)) for symbol, *_ in self.table())
        lines = [
            self.summary,
            *(f"  {plain_equation(line)}" for line in (self.symbols, self.numbers, self.answer)),
            *(f"    {plain_equation(symbol):{width}}  {meaning}: {figure}" for symbol, meaning, figure in self.table()),
            *(f"  Mind: {doubt}" for doubt in self.doubts),
        ]
        if self.formula.limits:
            lines.append(f"  Holds for: {self.formula.limits}.")
        lines.append(f"  Source: {cite(self.formula.source)}.")
        return "\n".join(lines)

    __repr__ = __str__


# --- LaTeX, just as much of it as our equations use ------------------------------------------------
def _squeeze(symbol: str) -> str:
    return re.sub(r"_\{([A-Za-z0-9])\}", r"_\1", symbol.replace(" ", ""))


def _latex(si: float, kind: Kind, system: str, digits: int = 3) -> str:
    unit = unit_text(kind, system)
    figure = re.sub(r"×10\^(-?\d+)", r"\\times 10^{\1}", number(in_unit(si, kind, system), digits))
    for sign, latex in (("µ", r"\mu "), ("·", r"\cdot "), ("²", "^2"), ("³", "^3"), ("⁴", "^4"), ("%", r"\%")):
        unit = unit.replace(sign, latex)
    return f"{figure}\\,\\mathrm{{{unit}}}" if unit else figure


def _put_in(text: str, figures: dict[str, str]) -> str:
    """Replace the symbols of an equation by figures, with a dot between neighbours."""
    out: list[str] = []
    position, after_factor = 0, False
    while position < len(text):
        kept = _VERBATIM.match(text, position)
        match = None if kept else _TOKEN.match(text, position)
        if kept:
            out.append(kept.group())
            position, after_factor = kept.end(), False
            continue
        if not match:
            character = text[position]
            # thin space, blank and a closing bracket keep the memory of a factor just written
            if text.startswith(r"\,", position):
                out.append(r"\,")
                position += 2
                continue
            if character.isdigit() or character in ")}":
                after_factor = character.isdigit() or after_factor or character == ")"
            elif character != " ":
                after_factor = False
            out.append(character)
            position += 1
            continue
        symbol = _squeeze(match.group())
        position = match.end()
        if symbol in figures:
            figure = figures[symbol]
            powered = text[position:].lstrip().startswith("^") or figure.startswith("-")
            piece = rf"\left({figure}\right)" if powered else f"{{{figure}}}"
            out.append((r"\cdot " if after_factor else "") + piece)
            after_factor = True
        elif match.group("name") in (r"\pi",) or match.group("name")[0] != "\\":
            out.append((r"\cdot " if after_factor else "") + match.group())
            after_factor = True
        else:
            out.append(match.group())
            after_factor = False
    return "".join(out)


_WIDE = 75  # letters of a line that still fit beside each other on a page


def _aligned(equation: str) -> str:
    """A line for an aligned block; a long one is broken before its plus signs, and set smaller if that does not do."""
    left, sign, right = equation.partition("=")
    if not sign:
        return equation
    terms = _terms(right.strip()) if len(plain_equation(equation)) > _WIDE else [right.strip()]
    lines = r"\\ &\quad ".join(terms)
    if max(len(plain_equation(term)) for term in terms) > 1.3 * _WIDE:
        lines = r"\\ &\quad ".join(rf"{{\scriptstyle {term}}}" for term in terms)
    return f"{left.strip()} &= {lines}"


def _terms(text: str) -> list[str]:
    """The terms of a sum, each but the first with its plus; what stands in brackets or braces stays whole."""
    terms, depth, start = [], 0, 0
    for position, character in enumerate(text):
        depth += (character in "{([") - (character in "})]")
        if character == "+" and depth == 0 and position:
            terms.append(text[start:position].strip())
            start = position
    return [*terms, text[start:].strip()]


_GREEK = {
    "pi": "π",
    "Phi": "Φ",
    "alpha": "α",
    "beta": "β",
    "gamma": "γ",
    "delta": "δ",
    "Delta": "Δ",
    "eta": "η",
    "zeta": "ζ",
    "kappa": "κ",
    "mu": "µ",
    "rho": "ρ",
    "sigma": "σ",
    "tau": "τ",
    "theta": "θ",
    "phi": "φ",
    "varphi": "φ",
    "omega": "ω",
    "lambda": "λ",
    "nu": "ν",
    "chi": "χ",
    "psi": "ψ",
    "xi": "ξ",
    "epsilon": "ε",
}
_FRACTION = re.compile(r"\\[dt]?frac")
_ROOT = re.compile(r"\\sqrt(?:\[(\d)\])?")
_POWER = re.compile(r"\^")
_POWERS = str.maketrans("0123456789-+", "⁰¹²³⁴⁵⁶⁷⁸⁹⁻⁺")


def plain_equation(latex: str) -> str:
    """An equation of ours as plain text, for terminals and for reading aloud."""
    # units first: there a space after a command only ends it, while between symbols it stays
    text = re.sub(
        r"\\(?:mathrm|text|operatorname)\{([^{}]*)\}", lambda m: m.group(1).replace("\\mu ", "µ").replace("\\cdot ", "·"), latex
    )
    for command, sign in (
        ("\\left", ""),
        ("\\right", ""),
        ("\\cdot", "·"),
        ("\\times", "×"),
        ("\\,", " "),
        ("\\;", " "),
        ("\\quad", "  "),
        ("\\le", "≤"),
        ("\\ge", "≥"),
        ("\\approx", "≈"),
        ("\\max", "max"),
        ("\\min", "min"),
        ("\\sin", "sin "),
        ("\\cos", "cos "),
        ("\\tan", "tan "),
        ("\\arctan", "arctan "),
        ("\\ln", "ln "),
        ("\\log", "log "),
        ("\\sum", "Σ"),
        ("\\%", "%"),
    ):
        text = re.sub(re.escape(command) + (r"(?![A-Za-z])" if command[-1].isalpha() else ""), sign, text)
    for name, sign in _GREEK.items():
        text = re.sub(rf"\\{name}(?![A-Za-z])", sign, text)
    # a power belongs to the function before it: cos² α, not cos ²α
    return re.sub(r"\b(sin|cos|tan) ([⁰¹²³⁴⁵⁶⁷⁸⁹]+)\s*", r"\1\2 ", re.sub(r"\s+", " ", _unfold(text))).strip()


def _unfold(text: str) -> str:
    """Fractions, roots, powers and grouping braces as plain text, from the outside inwards."""
    out, position = [], 0
    while position < len(text):
        fraction = _FRACTION.match(text, position)
        root = _ROOT.match(text, position)
        power = _POWER.match(text, position)
        if fraction:
            over, position = _argument(text, fraction.end())
            under, position = _argument(text, position)
            plain = f"{_group(_unfold(over))}/{_group(_unfold(under))}"
            # a factor behind it would read as part of what stands under the line
            out.append(plain if re.match(r"\s*(?:[-+=,)\]}]|$)", text[position:]) else f"({plain})")
        elif root:
            inside, position = _argument(text, root.end())
            out.append(f"root{root.group(1)}({_unfold(inside)})" if root.group(1) else f"√({_unfold(inside)})")
        elif power:
            exponent, position = _argument(text, power.end())
            exponent = _unfold(exponent)
            out.append(
                exponent.translate(_POWERS)
                if re.fullmatch(r"[-+0-9]+", exponent)
                else f"^{exponent}"
                if len(exponent) == 1
                else f"^({exponent})"
            )
        elif text[position] == "{":
            inside, position = _argument(text, position)
            out.append(_unfold(inside))
        else:
            out.append(text[position])
            position += 1
    return "".join(out)


def _argument(text: str, position: int) -> tuple[str, int]:
    """What stands in the braces at ``position``, or the single character there; and where it ends."""
    while text[position] == " ":
        position += 1
    if text[position] != "{":
        return text[position], position + 1
    depth = 0
    for end in range(position, len(text)):
        depth += {"{": 1, "}": -1}.get(text[end], 0)
        if depth == 0:
            return text[position + 1 : end], end + 1
    raise ValueError(f"a brace is not closed in the equation {text!r}")


def _group(part: str) -> str:
    part = part.strip()
    return part if re.fullmatch(r"[^\s+\-·/=]+", part) else f"({part})"
