"""The bibliography and how it is cited."""

import pytest

from lathe_course.sources import KINDS, bibliography, citations, cite, source_of


def test_every_entry_is_complete():
    for key, source in bibliography().items():
        assert source.kind in KINDS, f"{key} is of no known kind"
        assert source.title.strip(), f"{key} has no title"
        assert key == key.lower() and " " not in key


def test_a_citation_says_how_far_it_can_be_leaned_on():
    assert cite("iso_3, Table 1") == "ISO 3:1973, Preferred numbers, Table 1 (standard, recalled from memory)"
    assert cite("common_practice") == "common practice, no source"
    assert cite("common_practice, rough share") == "common practice, no source (rough share)"
    assert cite("definition") == "definition or plain geometry (definition)"
    assert source_of("gere, oak").standing == "textbook"


def test_several_citations_in_a_text_or_a_tuple():
    assert citations("iso_3, Table 1; definition") == ("iso_3, Table 1", "definition")
    both = cite("iso_3") + "; " + cite("definition")
    assert cite("iso_3; definition") == both
    assert cite(("iso_3", "definition")) == both


def test_an_unknown_key_is_named():
    with pytest.raises(KeyError, match="source 'nobody' is not in sources.toml"):
        cite("nobody, page 1")
    with pytest.raises(KeyError, match="nobody"):
        cite("iso_3; nobody")
