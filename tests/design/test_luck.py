"""What falls together in the draws of a lathe, as a fitter would tell it."""
import numpy as np

from lathe_course.design.demos import demo
from lathe_course.design.evaluation import evaluate
from lathe_course.design.lathe import LATHE
from lathe_course.design.luck import DRAWS, SHARED


def test_good_hands_make_everything_they_fit_stiffer():
    """A joint told by its give falls where a bearing or a seat told by its stiffness rises: one pair of hands fitted both."""
    cloud = evaluate(demo(), DRAWS)
    fitted = {name: {"compliance": -1, "stiffness": 1}[LATHE.part(name).kind.what] * cloud[name] for name, shared in SHARED.items()
              if "hands" in dict(shared) and LATHE.part(name).kind.what in ("compliance", "stiffness") and np.ndim(cloud[name])}
    assert {"front_stiffness", "rear_stiffness", "cross_seat_stiffness", "saddle_link"} <= set(fitted)
    assert np.corrcoef(list(fitted.values())).min() > 0.15
