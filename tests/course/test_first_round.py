"""The first round in a notebook: answers kept and taken back, jobs, the draft with its reasons, drafts side by side, one page."""

import re

import pytest
from classroom import press, words

from lathe_course.course.chapter import open_chapter
from lathe_course.course.pages.wish import Field, read_ticks
from lathe_course.design.draft.wish import ANSWERS, CHARACTERS, GROUPS, wish_of
from lathe_course.design.files import design_file as files
from lathe_course.design.lathe import LATHE
from lathe_course.design.origins import DRAFT, YOURS
from lathe_course.units import InputProblem


def now(path):
    return files.load(path, LATHE)


def form(of, chapter=None):
    return (chapter or open_chapter("00b")).show("answers", of=of).answers


def add_job(panel, part, size, name=""):
    panel.part.value, panel.size.value, panel.name.value = part, size, name
    press(panel.add)


def test_every_answer_is_asked_once_in_the_notebook():
    from classroom import NOTEBOOKS, cells

    path = next(path for path in NOTEBOOKS if path.stem.startswith("00b"))
    asked = [group.strip() for source in cells(path) for of in re.findall(r'of="([^"]+)"', source) for group in of.split(",")]
    asked += ["jobs"] if any("jobs_wished" in source for source in cells(path)) else []
    assert sorted(asked) == sorted(GROUPS) and len(GROUPS) == 12


def test_an_answer_is_kept_as_ones_own_and_may_be_taken_back(design_file):
    panel = form("can, should")
    assert panel.fields["hours_can"].written == "", "a demo's answer is not the learner's"
    panel.fields["hours_can"].control.value = "12 h/month"
    panel.fields["gives_way"].control.value = "the evenings before the screen"
    press(panel.button)
    kept = now(design_file)
    assert (
        kept.choices["hours_can"].written == "12 h/month"
        and kept.origin("hours_can") == YOURS
        and kept.wish["gives_way"] == "the evenings before the screen"
    )
    assert kept.origin("money_can") != YOURS, "what was not touched stays"
    assert "2 answers" in words(panel.reply)
    press(panel.button)
    assert "Nothing is changed" in words(panel.reply)
    panel.fields["hours_can"].control.value = ""
    press(panel.button)
    assert now(design_file).origin("hours_can") != YOURS and "hours_can" not in wish_of(now(design_file)).answers


def test_a_bad_answer_is_told_and_nothing_is_kept(design_file):
    before = design_file.read_bytes()
    panel = form("can, should")
    panel.fields["hours_can"].control.value = "0 h/month"
    panel.fields["money_can"].control.value = "much"
    press(panel.button)
    assert words(panel.reply).startswith("Not kept.") and design_file.read_bytes() == before
    assert panel.fields["money_can"].control.value == "much", "what was typed stays to be mended"


def test_a_character_sets_weights_that_may_be_moved(design_file):
    panel = form("reasons")
    name = next(iter(CHARACTERS))
    panel.fields["character"].control.value = name
    assert {one: panel.fields[one].written for one in CHARACTERS[name]} == CHARACTERS[name]
    panel.fields["reason_saving"].control.value = "4"
    press(panel.button)
    kept = now(design_file)
    assert {one: kept.choices[one].written for one in CHARACTERS[name]} == CHARACTERS[name] | {"reason_saving": "4"}


def test_ticks_are_written_and_read_with_their_sizes():
    answer = ANSWERS["machines"]
    field = Field(answer, "hand tools + bench drill 13 mm + mill 300 x 120 mm")
    assert (
        field.ticks["bench drill"][0].value
        and field.ticks["bench drill"][1].value == "13 mm"
        and not field.ticks["shaper"][0].value
    )
    field.ticks["mill"][0].value = False
    assert field.written == "hand tools + bench drill 13 mm"
    assert read_ticks(answer, "small lathe 160 x 300 mm + mill of a club 400 x 200 mm") == {
        "small lathe": "160 x 300 mm",
        "mill of a club": "400 x 200 mm",
    }


def test_what_is_kept_elsewhere_is_shown_and_what_is_typed_stays(design_file):
    chapter = open_chapter("00b")
    panel = form("can, should", chapter)
    panel.fields["money_can"].control.value = "90 EUR/month"
    chapter.keep("", hours_can="9 h/month")
    assert panel.fields["hours_can"].written == "9 h/month" and panel.fields["money_can"].written == "90 EUR/month"


def test_an_unknown_group_is_answered_with_the_nearest():
    with pytest.raises(InputProblem, match="did you mean machines"):
        form("machnes")


def test_jobs_of_ones_own_take_the_place_of_the_demos(design_file):
    panel = open_chapter("00b").show("jobs_wished").jobs
    assert "No job of your own yet" in words(panel.list)
    add_job(panel, "bush", "30 mm", "pump bush")
    assert [job.name for job in now(design_file).jobs] == ["pump bush"]
    add_job(panel, "bush", "many")
    assert words(panel.reply).startswith("Not kept.") and panel.size.value == "many"
    add_job(panel, "shaft", "20 mm")
    assert [job.name for job in now(design_file).jobs] == ["pump bush", "shaft"]
    panel.struck.value = "pump bush"
    press(panel.strike)
    assert [job.name for job in now(design_file).jobs] == ["shaft"]
    press(panel.strike)
    assert "this is the last job" in words(panel.reply)


def test_no_job_no_draft(design_file):
    before = design_file.read_bytes()
    panel = open_chapter("00b").show("first_draft").draft
    press(panel.button)
    assert "No draft yet." in words(panel.reply) and "no job" in words(panel.reply) and design_file.read_bytes() == before


def test_from_answers_to_a_draft_its_reasons_and_a_page(design_file):
    design_file.unlink()
    files.new(design_file)  # as a folder is really laid: what only the learner can ask is open in it
    chapter = open_chapter("00b")
    jobs = chapter.show("jobs_wished").jobs
    add_job(jobs, "bush", "40 mm")
    chapter.keep("a bar lay there", bench_height="830 mm")
    reasons = chapter.show("draft_reasons")
    assert "Nothing is drafted yet" in reasons.plain
    panel = chapter.show("first_draft").draft
    press(panel.button)
    kept = now(design_file)
    drafted = [name for name, choice in kept.choices.items() if choice.origin == DRAFT]
    assert f"{len(drafted)} decisions of it drafted" in words(panel.reply) and len(drafted) > 100
    assert (kept.choices["bench_height"].written, kept.choices["bench_height"].reason) == ("830 mm", "a bar lay there"), (
        "what is the learner's own stays"
    )
    for name in ("centre_height", "between_centres"):
        assert f"{LATHE.decisions[name].label}: {chapter.evaluation.shown(name)} – {kept.choices[name].reason}" in reasons.plain
    assert reasons.widget.value.count("<details") == len({LATHE.decisions[name].chapter for name in drafted})
    board = chapter.show("board").board
    assert f"{len(drafted)} drafted" in words(board.lines)

    # a second draft tells first what it would change
    before = design_file.read_bytes()
    press(panel.button)
    assert "A new draft would change" in words(panel.reply) and design_file.read_bytes() == before
    add_job(jobs, "flange or ring", "140 mm")
    before = design_file.read_bytes()
    press(panel.button)
    assert (
        "centre height" in words(panel.reply)
        and "nothing of your own is among them" in words(panel.reply)
        and design_file.read_bytes() == before
    )
    press(panel.take)
    assert now(design_file)["centre_height"] >= 0.07 and now(design_file).choices["bench_height"].written == "830 mm"

    # one page
    shown = chapter.show("board_to_print")
    press(shown.widget.children[0])
    page = (design_file.parent / "board.html").read_text(encoding="utf-8")
    assert page.count('<section class="sheet">') == 1 and page.count("<section") == 1 and "140 mm" in page
    assert 'href="/files/board.html"' in shown.widget.children[1].value


def test_the_first_answer_is_wider_than_the_draws_until_all_is_settled(nowhere):
    chapter = open_chapter("00b")
    panel = chapter.show("answer_so_far").answer
    press(panel.button)
    said = words(panel.told)
    e = chapter.session.drawn
    assert "Not settled by you yet" in said and e.shown_spread("cash_total") in said and e.shown_spread("used_price") in said
    rows = re.findall(r"<tr><td>([^<]*)</td><td class=\"n\">([^<]*)</td><td class=\"n\">([^<]*)</td></tr>", panel.told.value)
    assert [label for label, _, _ in rows] == [
        LATHE.part(name).label for name in ("cash_total", "own_hours", "months_forecast", "parts_mass")
    ]
    for _, draws, wide in rows:
        narrow, broad = ([float(one) for one in re.findall(r"\d[\d.]*", cell)] for cell in (draws, wide))
        assert broad[0] < narrow[0] and broad[-1] > narrow[-1]


def test_drafts_side_by_side_where_time_is_not_met(design_file):
    chapter = open_chapter("00b")
    add_job(chapter.show("jobs_wished").jobs, "bush", "40 mm")
    answer = form("until, must", chapter)
    answer.fields["patience"].control.value = "9 months"
    press(answer.button)
    press(chapter.show("first_draft").draft.button)
    panel = chapter.show("drafts_beside").beside
    press(panel.button)
    said = words(panel.told)
    assert "What this draft cannot meet" in said and "patience is 9 months" in said
    assert len(panel.takers.children) >= 1 and "what it gives up" in said
    # what was worked out for another design is not taken
    chapter.keep("", hours_can="30 h/month")
    press(panel.takers.children[0])
    assert "has changed since these were worked out" in words(panel.told)
    assert now(design_file).choices["hours_can"].written == "30 h/month"
    press(panel.button)
    press(panel.takers.children[0])
    assert "The board shows it" in words(panel.told) and now(design_file).choices["hours_can"].written == "30 h/month"
