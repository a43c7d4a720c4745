"""How much a page tells at once, and what it tells first."""

import re

import pytest
from classroom import press, words

from lathe_course.course import open_chapter
from lathe_course.course.shown.few import moved_first, pressing_first
from lathe_course.course.shown.play import steps_of
from lathe_course.course.shown.views import findings_page, ripple_page
from lathe_course.design.asked.ripple import WHOLE, ripple
from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.evaluation import evaluate
from lathe_course.design.lathe import LATHE

#: a change that turns verdicts in every demo
SMALLER = {"centre_height": "45 mm"}
RAILS = {"life of a rail carriage", "load on the busiest rail carriage", "travel a rail carriage is asked for"}


@pytest.fixture(scope="module", params=DEMOS)
def moved(request):
    before = evaluate(demo(request.param))
    return before, evaluate(before.design.with_(decided="", **SMALLER), earlier=before)


def rows(page, kind):
    """Rows of a table before the fold."""
    return re.findall(kind, page.markup.split("<details>")[0])


def test_a_ripple_tells_turned_verdicts_first_and_seven_rows_of_each(moved):
    before, after = moved
    page, change = ripple_page(before, after), ripple(before, after)
    assert len(change.findings) and len(change.results) > 100
    figures = page.plain.split("what moved")[1].splitlines()[1:]
    assert page.plain.index("Findings that changed") < page.plain.index("what moved")
    assert len(figures) == 8 and re.fullmatch(r"and \d+ more", figures[-1]), "seven rows and a count"
    assert page.markup.count("<details>") == 1 + (len(change.findings) > 7)
    unfolded = words(page.markup)
    assert all(one.label in unfolded for one in moved_first(change, before, after)), "nothing is lost in the fold"
    turned = {one.rule.value for _, one in change.findings} & {one.name for one in change.results}
    first = [one.name for one in moved_first(change, before, after)][: len(turned)]
    assert set(first) == turned, "figures whose verdict turned come first"


def test_no_row_tells_of_rails_where_there_are_none_and_one_does_where_there_are(moved):
    before, after = moved
    assert before["slide_kind"] not in rails(), "a demo without rails"
    assert not RAILS & {one.label for one in moved_first(ripple(before, after), before, after)}
    with_rails = before.design.with_(decided="", slide_kind=rails()[0])
    first = evaluate(with_rails)
    second = evaluate(with_rails.with_(decided="", **SMALLER), earlier=first)
    assert RAILS & {one.label for one in moved_first(ripple(first, second), first, second)}


def rails():
    return [kind for kind in LATHE.decisions["slide_kind"].options if "rail" in kind]


def test_what_keeps_ample_room_is_told_after_the_rest():
    before = evaluate(demo("boat_shed"))
    after = evaluate(before.design.with_(decided="", depth_of_cut="0.3 mm"), earlier=before)
    change = ripple(before, after)
    order = moved_first(change, before, after)
    assert order[7:] and "life of the harder worked bearing" in [one.label for one in order[7:]], (
        "it moves most, and matters least"
    )
    turned = {one.rule.value for _, one in change.findings}
    calm = [
        all(min(first.margin, second.margin) >= 1 for first, second in pairs)
        for one in order
        if one.name not in turned
        and one.name not in WHOLE
        and (pairs := [(first, after.findings[name]) for name, first in before.findings.items() if first.rule.value == one.name])
    ]
    assert calm == sorted(calm) and True in calm and False in calm


def test_what_is_of_the_build_is_never_taken_for_a_part_the_design_has_not(moved):
    before, after = moved
    change = ripple(before, after)
    dropped = {one.name for one in change.results} - {one.name for one in moved_first(change, before, after)}
    assert all(LATHE.results[name].chapter < "10" for name in dropped)


def test_findings_that_press_are_told_seven_at_once_and_what_holds_lies_in_the_fold(moved):
    for evaluation in moved:
        findings = evaluation.findings_of("09")
        assert len(findings) > 20
        page, order = findings_page(findings, evaluation), pressing_first(findings, evaluation)
        rank = ["fails", "tight", "holds", "open"]
        told = [rank.index(one.status) for one in order]
        assert told == sorted(told)
        open_ = [one for one in order if one.status in ("fails", "tight")][:7]
        assert [re.search(r"<b>(.*?)\.</b>", row)[1] for row in rows(page, "<tr>.*?</tr>")] == [one.label for one in open_]
        counted = re.search(r"(?:and )?(\d+) (?:more|findings): (.*)", page.plain)
        assert int(counted[1]) == len(findings) - len(open_) == sum(int(one) for one in re.findall(r"\d+", counted[2]))
        unfolded = words(page.markup)
        assert all(one.sentence in unfolded and one.caution in unfolded for one in findings), "nothing is lost in the fold"


def test_where_all_hold_a_count_alone_stands_open_and_two_are_told_as_they_are():
    findings = [one for one in evaluate(demo("boat_shed")).findings.values() if one.status == "holds"]
    assert findings_page(findings[:5]).plain == "✓ All 5 findings hold"
    assert rows(findings_page(findings[:2]), "<tr>") == ["<tr>"] * 2 and "findings" not in findings_page(findings[:2]).plain


def test_of_two_that_fail_what_rests_on_the_reader_s_own_decision_comes_first():
    design = demo("boat_shed")
    failing = [one for one in evaluate(design).findings.values() if one.status == "fails"]
    order = [one.name for one in pressing_first(failing, evaluate(design))]
    first, last, own = next(
        (first, last, own)
        for last in reversed(order)
        for first in order[: order.index(last)]
        for own in LATHE.decisions
        if last in LATHE.downstream(own) and first not in LATHE.downstream(own)
    )
    settled = design.with_(**{own: design.choices[own].written})
    order = [
        one.name
        for one in pressing_first(
            [one for one in evaluate(settled).findings.values() if one.status == "fails"], evaluate(settled)
        )
    ]
    assert order.index(last) < order.index(first)


# --- forms in steps ---------------------------------------------------------------------------------------
def test_many_decisions_are_shared_out_in_steps_of_a_few():
    assert steps_of("abc") == [("a", "b", "c")]
    assert [len(step) for step in steps_of("abcdefghijk")] == [6, 5] or [len(step) for step in steps_of("abcdefghijk")] == [5, 6]
    assert steps_of([["a", "b"], ["c"]]) == [("a", "b"), ("c",)]
    for count in range(1, 40):
        letters = [f"n{number}" for number in range(count)]
        steps = steps_of(letters)
        assert [name for step in steps for name in step] == letters and max(map(len, steps)) <= 6


def test_a_form_of_many_shows_one_step_and_keeps_that_step_alone(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    chapter = open_chapter("06")
    names = [name for name, part in LATHE.decisions.items() if part.chapter == "06"]
    form = chapter.decide(*names)
    assert len(chapter.last_keeps) > 1 and sum(len(keep.controls) for keep in chapter.last_keeps) == len(names)
    step = form.widget.children[1]
    assert step.children == (chapter.last_keeps[0].widget,)
    forward = form.widget.children[0].children[1]
    press(forward)
    assert step.children == (chapter.last_keeps[1].widget,)
    press(chapter.last_keeps[1].button)
    settled = [name for name in names if chapter.session.design.choices[name].decided]
    assert settled == list(chapter.last_keeps[1].controls), "the other steps are not settled by it"
    assert form.plain.count("\n  step ") == len(chapter.last_keeps) - 1


def test_no_notebook_asks_for_more_than_seven_decisions_at_once():
    import ast

    from classroom import NOTEBOOKS, cells

    for path in NOTEBOOKS:
        for source in cells(path):
            if source.startswith("chapter.decide("):
                steps = steps_of(ast.literal_eval(f"[{source.removeprefix('chapter.decide(').rstrip().removesuffix(')')}]"))
                assert max(map(len, steps)) <= 7, f"{path.name}: {source}"


# --- levers for what fails in the chapter -------------------------------------------------------------------
@pytest.mark.parametrize("number", ["03", "05", "09"])
def test_levers_are_offered_for_what_fails_in_the_chapter_and_follow_it(number, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    chapter = open_chapter(number)
    page = chapter.levers()
    for _ in range(2):
        findings = chapter.evaluation.findings_of(number)
        pressing = [one for one in findings if one.status == "fails"] or [one for one in findings if one.status == "tight"]
        named = re.findall(r"To mend “(.*?)”", page.plain)
        assert len(named) == min(len(pressing), 3) and set(named) <= {one.label for one in pressing}
        chapter.keep(fastest_speed="400 rpm", speed_steps="3")  # other things fail from now on


def test_a_job_that_asks_too_much_is_named_among_the_levers(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    chapter = open_chapter("03")
    chapter.keep(fastest_speed="1500 rpm")
    page = chapter.levers(next(name for name, one in LATHE.limits.items() if one.label == "fastest speed fast enough"))
    struck = re.findall(r"the job “(.*?)” struck off", page.plain)
    assert struck, page.plain
    from lathe_course.design.draft.starting import without_job

    for name in struck:
        after = evaluate(without_job(chapter.session.design, name)).findings
        assert next(one for one in after.values() if one.label == "fastest speed fast enough").status != "fails"
