"""What falls together in the draws of a lathe, as a fitter would tell it."""

import numpy as np

from lathe_course.design.chain.luck import DRAWS, SHARED, fractions
from lathe_course.design.lathe import LATHE


def test_good_hands_make_everything_they_fit_stiffer():
    """A joint told by its give falls where a bearing or a seat told by its stiffness rises, where one pair of hands fits both."""
    better = {"compliance": -1, "stiffness": 1}
    fitted = {
        name: better[what] * fractions(name, DRAWS, shared)
        for name, shared in SHARED.items()
        if "hands" in dict(shared) and (what := LATHE.part(name).kind.what) in better
    }
    assert {"front_stiffness", "rear_stiffness", "cross_seat_stiffness", "saddle_link"} <= set(fitted)
    assert np.corrcoef(list(fitted.values())).min() > 0.15
