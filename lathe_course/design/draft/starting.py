"""Starting a design from a demo, and editing its list of jobs: both give a new design."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from types import MappingProxyType
from typing import Any

from ...units import SYSTEMS, InputProblem
from ..demos import DEMOS, demo
from ..design import Design
from ..jobs import Job, Jobs
from ..origins import NOT_OF_A_DEMO, YOURS


def start_from(design: Design, name: str) -> Design:
    """The design on the figures of a demo, but with all that the learner decided left as it is, and open what is ``NOT_OF_A_DEMO``.

    Jobs, ways, readings and name are the demo's unless the learner changed them; once something is
    the learner's own, no readings of a demo are taken over.  Raises InputProblem for an unknown demo.
    """
    base, before = demo(name), demo(design.started_from) if design.started_from in DEMOS else None
    choices = {key: design.choices[key] if design.origin(key) == YOURS else base.choices[key] for key in base.choices}
    jobs = base.jobs if before and design.jobs == before.jobs else design.jobs
    ways = base.ways if before and design.ways == before.ways else design.ways
    named = base.name if before and design.name == before.name else design.name
    readings = {
        sheet: base.readings[sheet] if before and rows == before.readings[sheet] else rows
        for sheet, rows in design.readings.items()
    }
    started = replace(
        design,
        name=named,
        choices=MappingProxyType(choices),
        jobs=jobs,
        started_from=name,
        ways=ways,
        readings=MappingProxyType(readings),
    )
    open_still = {name: said for name, said in NOT_OF_A_DEMO.items() if choices[name].origin != YOURS}
    started = started.drafted(
        {name: value for name, (value, _) in open_still.items()}, {name: reason for name, (_, reason) in open_still.items()}
    )
    own = jobs is not base.jobs or any(choice.origin == YOURS for choice in choices.values())
    return _without_borrowed_readings(started) if own else started


def settle(design: Design, because: str, changes: Mapping[str, Any], left_alone: Iterable[str] = ()) -> Design:
    """The design with decisions (or figures of the learner's own) settled.

    ``changes`` maps names to what was written; ``left_alone`` are decisions that become the
    learner's as they stand.  The reason goes to what was changed, or to all if nothing was.
    Raises InputProblem with all that is wrong.
    """
    left_alone = tuple(left_alone)
    design = _without_borrowed_readings(_without_borrowed_reasons(design, (*changes, *left_alone)))
    alone = {name: design.choices[name].written for name in left_alone}
    return design.with_(because, **changes).with_("" if changes else because, **alone)


def _without_borrowed_reasons(design: Design, names: Iterable[str]) -> Design:
    """The design with the reasons of demo and draft taken off these decisions, where they are not yet the learner's.

    Who keeps a decision as it stands makes the figure theirs, but not another's words.
    """
    choices = dict(design.choices)
    for name in names:
        if name in choices and choices[name].origin != YOURS:
            choices[name] = replace(choices[name], reason="")
    return replace(design, choices=MappingProxyType(choices))


def _without_borrowed_readings(design: Design) -> Design:
    """The design without readings and partners that are still the demo's: they were never taken at, or written for, a lathe of the learner's own."""
    if design.started_from not in DEMOS:
        return design
    base = demo(design.started_from).readings
    own = {
        sheet: design.chain.sheets[sheet].empty if rows == base.get(sheet) else rows for sheet, rows in design.readings.items()
    }
    return replace(design, readings=MappingProxyType(own))


def in_system(design: Design, system: str) -> Design:
    """The design shown in 'mm' or 'inch'; what was written stays as written."""
    if system not in SYSTEMS:
        raise InputProblem.about("system", f"the system {system!r} is not known; write 'mm' or 'inch'.")
    return replace(design, system=system)


def with_job(design: Design, written: Mapping[str, Any]) -> Design:
    """The design with one job added, or changed if one of that name is there."""
    design = _without_borrowed_readings(design)
    job = Job.read({key: value for key, value in written.items() if str(value).strip()})
    names = [one.name for one in design.jobs]
    jobs = [job if one.name == job.name else one for one in design.jobs] if job.name in names else [*design.jobs, job]
    return replace(design, jobs=Jobs(jobs))


def without_job(design: Design, name: str) -> Design:
    """The design without the job of this name; at least one must stay."""
    jobs = [one for one in design.jobs if one.name != name]
    if len(jobs) == len(design.jobs):
        raise InputProblem.about(
            "jobs", f"there is no job called {name!r}; the list holds {', '.join(one.name for one in design.jobs)}."
        )
    return with_jobs(design, Jobs(jobs))


def with_jobs(design: Design, jobs: Jobs) -> Design:
    """The design with these jobs in the place of its own; InputProblem where there is none."""
    if not jobs:
        raise InputProblem.about(
            "jobs", "this is the last job; a lathe is drawn round the parts it must make, so at least one stays."
        )
    return replace(design, jobs=jobs)
