"""The list of jobs: the parts the lathe is for."""

from __future__ import annotations

import functools
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from ..machine.holding import HOLDINGS, holding_for
from ..nearest import nearest_or_all
from ..tables import table
from ..units import InputProblem, Kind, Length, Pitch, Ratio
from ..written import read_written

#: field -> (kind, what it means); text fields have no kind
JOB_FIELDS: dict[str, tuple[Kind | None, str]] = {
    "name": (None, "what it is"),
    "material": (None, "a name from the table of materials"),
    "diameter": (Length("mm", above=0), "largest diameter that must turn"),
    "smallest": (Length("mm", above=0), "smallest diameter turned to size on it"),
    "length": (Length("mm", above=0), "length, or thickness of a disc"),
    "bar": (Length("mm", at_least=0), "diameter of bar that must pass through the spindle, 0 if none"),
    "tolerance": (Length("µm", above=0), "total tolerance of the tightest diameter"),
    "roughness": (Length("µm", above=0), "roughness Ra wanted"),
    "pitch": (Pitch("mm", at_least=0), "pitch of a thread cut with a single point, 0 if none"),
    "share": (Ratio("", at_least=0, at_most=1), "share of the turning hours"),
    "holding": (
        None,
        f"how it is held, {', '.join(HOLDINGS[:-1])} or {HOLDINGS[-1]}; left empty, proposed by length over diameter",
    ),
}
#: what is turned with a tool held by hand
_WOODS = ("hardwood",)
_OPTIONAL = {"bar": 0.0, "pitch": 0.0, "smallest": None, "holding": ""}


@dataclass(frozen=True)
class Job:
    """One part.  ``written`` is what the learner wrote; the other fields are SI."""

    written: Mapping[str, str]
    name: str
    material: str
    diameter: float
    smallest: float
    length: float
    bar: float
    tolerance: float
    roughness: float
    pitch: float
    share: float
    holding: str

    @property
    def holding_proposed(self) -> bool:
        """Whether the holding is the course's own proposal."""
        return not str(self.written.get("holding") or "").strip()

    @property
    def is_wood(self) -> bool:
        """Wood is turned with a tool held by hand, on a rest."""
        return self.material in _WOODS

    @property
    def mean_diameter(self) -> float:
        """Half way between the largest and the smallest diameter turned on it."""
        return (self.diameter + self.smallest) / 2

    @property
    def is_disc(self) -> bool:
        """A disc is thinner than it is wide: it is held in chuck or on faceplate, clear of the slide."""
        return self.length < 0.5 * self.diameter

    @classmethod
    def read(cls, written: Mapping[str, Any]) -> Job:
        """A job from text; all that is wrong is reported together. Raises InputProblem."""
        problems, values = [], {}
        name = str(written.get("name", "")).strip() or "a job without a name"
        for key in written:
            if key not in JOB_FIELDS:
                problems.append((key, f"job {name!r}: {key!r} is not known; the fields are {', '.join(JOB_FIELDS)}."))
        for key, (kind, meaning) in JOB_FIELDS.items():
            given = written.get(key)
            if kind is None and isinstance(given, (Mapping, list)):
                problems.append((key, f"job {name!r}: {key} is a list or table; write {meaning} as one text in quotes."))
            elif kind is None:
                values[key] = str(given or "").strip()
                if not values[key] and key not in _OPTIONAL:
                    problems.append((key, f"job {name!r}: {key} is missing ({meaning})."))
            elif given is None or (isinstance(given, str) and not given.strip()):
                if key not in _OPTIONAL:
                    problems.append((key, f"job {name!r}: {key} is missing ({meaning}); for example {kind.example!r}."))
                values[key] = _OPTIONAL.get(key)
            else:
                try:
                    found = read_written(given, kind, key)
                    if np.ndim(found):
                        raise InputProblem.about(key, f"{key} is a list; one figure is needed, for example {kind.example!r}.")
                    values[key] = found
                except InputProblem as problem:
                    problems += [(key, f"job {name!r}: {sentence}") for _, sentence in problem.problems]
        if values.get("material") and values["material"] not in table("materials"):
            try:
                table("materials")[values["material"]]
            except InputProblem as problem:
                problems += [("material", f"job {name!r}: {sentence}") for _, sentence in problem.problems]
        if values.get("holding") and values["holding"] not in HOLDINGS:
            problems.append(
                (
                    "holding",
                    f"job {name!r}: it cannot be held {values['holding']!r}; {nearest_or_all(values['holding'], HOLDINGS)}",
                )
            )
        if values.get("smallest") and values.get("diameter") and values["smallest"] > values["diameter"] * (1 + 1e-9):
            problems.append(
                (
                    "smallest",
                    f"job {name!r}: the smallest diameter {written['smallest']!r} is larger than the largest, "
                    f"{written['diameter']!r}; was one written in the place of the other?",
                )
            )
        if values.get("bar") and values.get("diameter") and values["bar"] > values["diameter"] * (1 + 1e-9):
            problems.append(
                (
                    "bar",
                    f"job {name!r}: the bar of {written['bar']!r} is thicker than the largest diameter that must turn, {written['diameter']!r}, "
                    "and the bar turns as well; write its thickness as the largest diameter, or take a thinner bar.",
                )
            )
        if problems:
            raise InputProblem(problems)
        if values["smallest"] is None:
            values["smallest"] = values["diameter"]
        values["holding"] = values["holding"] or holding_for(values["length"], values["diameter"])
        return cls(dict(written), **values)


class Jobs(tuple):
    """All jobs of a design; columns are arrays of shape (jobs,), in SI."""

    def __new__(cls, jobs: Iterable[Job] = ()):
        return super().__new__(cls, jobs)

    def column(self, name: str) -> np.ndarray:
        return self._columns[name]

    @functools.cached_property
    def _columns(self) -> dict[str, np.ndarray]:
        numeric = [field for field, (kind, _) in JOB_FIELDS.items() if kind is not None]
        return {field: np.array([getattr(job, field) for job in self], float) for field in numeric}

    @functools.cached_property
    def discs(self) -> np.ndarray:
        return np.array([job.is_disc for job in self], bool)

    @functools.cached_property
    def wood(self) -> np.ndarray:
        return np.array([job.is_wood for job in self], bool)

    @property
    def materials(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(job.material for job in self))
