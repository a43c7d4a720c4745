"""Every published case is met, and every formula is held by something outside the project."""

import evidence
import numpy as np
import pytest
from cases import every
from evidence import CHECKS, RUNGS, agrees, all_evidence, ceiling, marked, vouches

from lathe_course.evidence import EVIDENCE, SecondProgram, second_programs
from lathe_course.formula import FORMULAS
from lathe_course.sources import bibliography, citations, source_of
from lathe_course.units import in_unit, unit_text


@every("check", CHECKS)
def test_published_case_is_met(check):
    expected, found, allowed = check.compare()
    kind = FORMULAS[check.formula].output
    said = [
        f"{np.array2string(np.asarray(in_unit(si, kind)), precision=6)} {unit_text(kind)}" for si in (expected, found, allowed)
    ]
    assert np.shape(found) == np.shape(expected)
    assert np.all(np.abs(found - expected) <= allowed), (
        f"{check.formula}, {check.id}: {check.source} has {said[0]}, the formula gives {said[1]}, "
        f"further apart than {said[2]} ({check.because})"
    )


@every("check", CHECKS)
def test_published_case_is_complete(check):
    assert check.formula in FORMULAS, f"{check}: there is no formula {check.formula}"
    assert check.evidence in EVIDENCE
    assert (check.tolerance is None) != (check.tolerance_absolute is None), f"{check}: give one tolerance"
    assert check.tolerance is None or 0 <= check.tolerance < 0.5, f"{check}: a tolerance of a half or more holds nothing"
    assert check.because.strip(), f"{check}: the tolerance needs its reason"
    for citation in citations(check.source):
        source = source_of(citation)
        if check.evidence == "published and seen":
            assert source.seen, f"{check}: {source.key} was not before us, so this is recalled from memory"
        if check.evidence == "common practice":
            assert source.key == "common_practice", f"{check}: common practice has no source to cite"


def test_what_was_seen_has_its_place_and_there_is_much_of_it():
    """A figure that was read can be read again: a work with the page, example or table it stands in."""
    placed = {check.source for check in CHECKS if check.evidence == "published and seen" and "," in check.source}
    assert len(placed) >= 40
    assert sum(check.source in placed for check in CHECKS) >= 90


def test_ids_are_unique_in_a_file():
    names = [str(check) for check in CHECKS]
    assert len(names) == len(set(names))


def test_every_formula_is_held_from_outside():
    held = all_evidence()
    assert set(held) == set(FORMULAS), f"evidence for formulas that do not exist: {set(held) - set(FORMULAS)}"
    bare = [name for name, pieces in held.items() if not pieces]
    assert not bare, f"nothing from outside holds {', '.join(bare)}"


def test_second_programs_cite_the_bibliography():
    for pieces in all_evidence().values():
        for piece in pieces:
            for citation in citations(piece.source):
                assert source_of(citation).key in bibliography()


def test_what_the_course_tells_of_second_programs_is_what_the_tests_do():
    def told(one):
        return one.test, one.says, one.formulas, one.evidence, one.source, one.because

    assert sorted(map(told, second_programs())) == sorted(map(told, marked().values())), "run tests/store_evidence.py"


def test_a_difference_is_told_by_a_ceiling_that_another_processor_keeps():
    assert ceiling(0.0) == ceiling(2e-16) == ceiling(4e-13) == 1e-6  # round-off, whoever rounds
    assert ceiling(2.6e-6) == ceiling(4.9e-6) == 1e-5 and ceiling(0.004) == 0.01  # room to double
    assert ceiling(0.6e-5, held=1e-5) == ceiling(0.4e-6, held=1e-5) == 1e-5  # what is told stays while it holds ...
    assert ceiling(1.1e-5, held=1e-5) == 1e-4 and ceiling(2e-16, held=1e-4) == 1e-6  # ... and means something
    assert ceiling(0.03, held=0.0301) == 0.1  # only a rung is kept
    assert ceiling(0.9) == 1.0


def test_what_is_told_of_second_programs_is_a_ceiling_and_not_a_lax_one():
    for one in second_programs():
        assert one.within in RUNGS if one.allowed else one.within == 0, f"{one.test}: run tests/store_evidence.py"
        assert one.within <= ceiling(one.allowed), (
            f"{one.test}: {one.within:g} is told, and {one.allowed:g} is all that would pass"
        )


def test_a_difference_above_what_is_told_fails(monkeypatch):
    for kept in ("SECOND_PROGRAMS", "MEASURED"):
        monkeypatch.setattr(evidence, kept, {})
    monkeypatch.setattr(
        evidence,
        "_STORED",
        {"off_by_little": SecondProgram("off_by_little", "", (), "second program", "", within=1e-5, allowed=0.1)},
    )
    monkeypatch.setattr(evidence, "_STORING", False)
    apart = [4.9e-6]

    @vouches("spindle_speed", evidence="second program", source="definition")
    def off_by_little():
        agrees(1 + apart[0], 1.0, rel=0.1)

    off_by_little()
    apart[0] = 1.1e-5
    with pytest.raises(AssertionError, match="differs by 1.1e-05, and the stored evidence says within 1e-05"):
        off_by_little()


def test_only_rules_of_thumb_stand_on_common_practice_alone():
    """A formula that nothing but custom vouches for says so in its own source."""
    for name, pieces in all_evidence().items():
        if pieces and {piece.evidence for piece in pieces} == {"common practice"}:
            assert any(source_of(one).key == "common_practice" for one in FORMULAS[name].source), (
                f"{name} is held by common practice only, but cites {', '.join(FORMULAS[name].source)}"
            )
