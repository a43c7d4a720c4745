"""Setbacks for a club evening: a deck told in data, dealt from a seed, and worked out through the whole chain."""

import pytest

from lathe_course import command
from lathe_course.course.teaching.questions.draws import pick
from lathe_course.course.teaching.setbacks import deal, dealt_text, deck, happen, keep, strike, struck, struck_by
from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.evaluation import evaluate
from lathe_course.design.files import design_file
from lathe_course.design.files.design_file import DesignFile
from lathe_course.design.lathe import LATHE
from lathe_course.units import InputProblem

SHED = demo("boat_shed")


def card(name):
    return next(one for one in deck() if one.name == name)


def test_the_deck_is_large_enough_and_each_card_is_told_and_asks():
    assert len(deck()) >= 24
    assert (
        len({one.name for one in deck()})
        == len(deck())
        == len({tuple(one.changes) + tuple(one.changes.values()) for one in deck()})
    )
    for one in deck():
        assert one.story.endswith(".") and one.ask.rstrip().endswith(("?", ".", "alone.")) and one.changes


def test_every_card_can_happen_to_every_demo_and_moves_something_in_one():
    """What is dealt must matter: a finding, money, months, mass, or whether to build at all."""
    for one in deck():
        assert any(struck(demo(name), one).anything for name in DEMOS), one.name


def test_what_hurts_is_told_with_its_caution():
    for name, words in {
        "a weak fuse": "licensed electrician",
        "an old floor": "engineer",
        "a stamp on the chuck": "never",
        "a whole day of grinding": "Ear protectors",
        "the strong friend is away": "Nobody lifts alone",
    }.items():
        assert words in card(name).ask


def test_night_shifts_by_hand():
    """20 h a month become 12: the boat shed takes nearly 20/12 as long: hours hold it up, and money almost as much. Own arithmetic; absences blur it."""
    told = struck(SHED, card("night shifts"))
    e = evaluate(SHED)
    before, after = e.middle("months_to_finish"), evaluate(told.design).middle("months_to_finish")
    assert told.design.choices["hours_can"].written == "12 h/month"
    assert after / before == pytest.approx(20 / 12, rel=0.1)
    assert any("patience" in sentence for sentence in told.fails)
    assert any(e.shown("months_to_finish") in text and now != text for _, text, now in told.moved)


def test_a_setback_keeps_what_stood_before_and_why():
    after = strike(SHED, card("the belt has stretched"))
    assert after.choices["belt_tension"].written == "108 N"
    assert after.choices["belt_tension"].reason == card("the belt has stretched").story
    assert SHED.choices["belt_tension"].written == "180 N"


def test_the_same_words_deal_the_same_cards():
    designs = [demo(name) for name in DEMOS]
    first = deal("spring evening", designs, 2)
    assert first == deal("spring evening", designs, 2)
    assert first[0] == first[1] == first[2] and len({one.name for one in first[0]}) == 2
    each = deal("spring evening", designs, 2, each=True)
    assert len({one.name for hand in each for one in hand}) == 6
    for design, hand in zip(designs, each):
        assert all(struck(design, one).anything for one in hand)
    assert any(deal(f"evening {number}", designs[:1]) != first[:1] for number in range(5))


def test_what_has_happened_does_not_happen_again():
    """The same words, once more, deal the card that fell, whatever was mended since; other words never deal it; nothing doubles."""
    [[first]] = deal("spring", [SHED])
    once = happen(SHED, first, "spring")
    assert happen(once, first, "spring") is once and once.notes != SHED.notes
    mended = once.with_("we live with it", **{name: SHED.choices[name].written for name in first.changes if name in SHED.choices})
    assert deal("spring", [mended]) == deal("spring", [mended, SHED])[:1] == [[first]]
    assert deal("spring", [mended, SHED])[1] == [first], "who came late gets the card of the others"
    [told] = struck_by("spring", {"red": mended, "blue": SHED})
    assert told.groups["red"] is None and told.groups["blue"].anything
    assert "This has happened already, and does not happen again." in dealt_text([told])
    others = next(
        words
        for words in map("autumn {}".format, range(500))
        if min(deck(), key=lambda card: pick(f"{words}|{card.name}", 1 << 40)) == first
    )
    assert deal(others, [SHED]) == [[first]] != deal(others, [once])


def test_two_rounds_fall_one_upon_the_other():
    """What the second card does is told for the design as the first has left it."""
    first, second = struck_by("club", {"red": SHED}, rounds=2)
    assert [dict(first.groups)["red"].design, second.round] == [strike(SHED, first.setback), 2]
    moved = {label: before for label, before, _ in second.groups["red"].moved}
    assert all(now == moved[label] for label, _, now in first.groups["red"].moved if label in moved)


def test_a_group_that_cannot_be_written_to_keeps_no_other_from_it():
    def closed(change):
        raise InputProblem([("file", "it is closed.")])

    kept = []
    told = struck_by("club", {"red": SHED, "blue": SHED})
    with pytest.raises(InputProblem, match="(?s)blue: .*is in the design now.* red: it is closed"):
        keep("club", told, {"red": closed, "blue": lambda change: kept.append(change(SHED))})
    assert kept[0].notes


def test_more_rounds_than_cards_is_told():
    with pytest.raises(InputProblem, match="deal fewer rounds"):
        deal("x", [SHED], 40)


# --- the verb ---------------------------------------------------------------------------------------
@pytest.fixture
def groups(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    for name in ("red", "blue", "green"):
        (tmp_path / name).mkdir()
        design_file.new(tmp_path / name / "design.toml")
    return tmp_path


def test_three_groups_two_setbacks_and_the_wall(groups, capsys):
    assert command.main(["setback", "red", "blue", "green", "--seed", "club", "--rounds", "2", "--each", "--keep"]) == 0
    told = capsys.readouterr().out
    assert [told.count(f"\n{name}: “") for name in ("red", "blue", "green")] == [2, 2, 2], told
    hands = deal("club", [demo("boat_shed")] * 3, 2, each=True)
    for name, hand in zip(("red", "blue", "green"), hands):
        kept = DesignFile(groups / name / "design.toml", LATHE).read()
        for one in hand:
            assert one.name in told
            assert all(kept.choices[changed].reason == one.story for changed in one.changes if changed in kept.choices)
    before = [(groups / name / "design.toml").read_bytes() for name in ("red", "blue", "green")]
    assert command.main(["setback", "red", "blue", "green", "--seed", "club", "--rounds", "2", "--each", "--keep"]) == 0
    told = capsys.readouterr().out
    assert told.count("had happened already, and is not written again") == 6 and "is in the design now" not in told
    assert before == [(groups / name / "design.toml").read_bytes() for name in ("red", "blue", "green")], "twice is once"
    assert command.main(["compare", "red", "blue", "green", "--to", "wall.html"]) == 0
    page = (groups / "wall.html").read_text(encoding="utf-8")
    assert all(name in page for name in ("red", "blue", "green")) and hands[0][0].story.replace("'", "&#x27;") in page


def test_nothing_is_written_without_being_asked_or_into_a_demo(groups, capsys):
    before = (groups / "red" / "design.toml").read_bytes()
    assert command.main(["setback", "red", "cabin", "--seed", "club"]) == 0
    assert (groups / "red" / "design.toml").read_bytes() == before
    assert command.main(["setback", "red", "cabin", "--seed", "club", "--keep"]) == 2
    assert "cabin is a demo" in capsys.readouterr().err
    assert command.main(["setback", "red", "--seed", "club", "--rounds", "0"]) == 2
