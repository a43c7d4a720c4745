"""How far a figure moved, in words, against plain division."""

from cases import every

from lathe_course.course.session import Session
from lathe_course.course.shown.play import Play
from lathe_course.course.shown.views import change_of
from lathe_course.design.demos import demo
from lathe_course.design.evaluation import evaluate


@every(
    "depth, said",
    [
        ("0.5 mm", ""),  # nothing moved
        ("1 mm", "+100%"),  # what is cut goes with depth
        ("0.25 mm", "-50%"),
        ("0.502 mm", "+0.4%"),  # below one per cent with a place more
        ("0.4995 mm", "-0.1%"),
        ("6 mm", "12 times"),
    ],
)
@every("draws", [None, 50])
def test_change_is_the_ratio_of_the_figures(depth, said, draws):
    before = evaluate(demo(), draws)
    assert change_of(evaluate(demo().with_(decided="", depth_of_cut=depth), draws), before, "removal_rate") == said


def test_a_figure_that_is_a_loss_or_cannot_be_worked_out_has_no_share():
    before = evaluate(demo())
    assert before["hour_cost"] < 0
    assert change_of(evaluate(demo().with_(decided="", reason_saving="5")), before, "hour_cost") == ""
    assert change_of(evaluate(demo().with_(decided="", spindle_bore="60 mm")), before, "nose_stiffness") == ""


def test_a_small_change_shows_beside_a_rounded_spread(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    play = Play(Session(), ["bed_wall"], None, ["machine_compliance"], (), 200)
    play.controls["bed_wall"].widget.value = 12
    assert "-3%" in play.figures.value or "-2%" in play.figures.value
