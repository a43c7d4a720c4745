"""What is judged and not worked out, held in one table that was gone through: the comfort of each finding, and thresholds that are a number.

A wrong digit there makes no formula wrong, so nothing else would notice it.  Whoever changes or adds one changes or
adds it here too, in the group whose reason it shares.  Where there is something outside to hold it against, a test below does.
"""

import numpy as np
import pytest
from cases import every

from lathe_course.design.chain.luck import DRAWS
from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.evaluation import evaluate
from lathe_course.design.lathe import LATHE

#: room as a share of the limit from which a finding holds, and those that are given it; by what they share
COMFORTS = {
    "met is met: counted, stamped on, decided, or the bound has its own room in it": (
        0.0,
        """
        hours_in_balance money_in_balance bar_passes bore_spares_taper slow_enough fast_enough drive_slow_enough drive_fast_enough drive_within_bounds
        belt_bends numbers_divide blade_stout_enough chuck_not_overrun cut_beyond_chuck nose_meets_feed tool_short_enough tolerance_is_met bed_offers_ways tool_not_above_centre packing_thin
        collets_have_work wood_has_a_rest
        stays_off stop_within_reach controller_kept_clean leakage_settled
        dial_reads_round barrel_short_enough feeds_can_be_had every_part_can_be_had partners_bring_hours partners_bring_money partners_counted""",
    ),
    "measured with a rule, and a finger's width is enough; or held against the log, which is exact": (
        0.05,
        """
        disc_clears_bed length_suffices nose_clears_cover saddle_finds_room saddle_out_of_way rear_post_fits place_is_deep_enough log_within_budget""",
    ),
    "geometry with somewhat more to go wrong: a tenth": (
        0.1,
        """
        shaft_clears_slide length_is_there belt_lies_round wall_left not_loose_cold base_broad_enough work_stout_enough cross_slide_reaches
        finished_in_balance goes_through_door goes_round_corner place_bears_parts""",
    ),
    "near the flat top of a curve": (0.15, "span_near_best"),
    "a force, a speed or a surface that is known to about a fifth": (
        0.2,
        """
        thread_can_stop collets_run_truer belt_slow_enough not_loose_warm rim_slow_enough finish_fine_enough parts_within_measured cross_slide_guided lift_within_guidance""",
    ),
    "torque, current and time, which differ from day to day by a quarter": (
        0.25,
        """
        supply_suffices gaps_small_enough torque_suffices torque_parts parting_stays_quiet pace_held drill_turns supply_bears_start starts_soon stops_soon emergency_stop_soon dial_legible finished_in_time
        bench_stays_level parting_can_be_paid money_keeps_step specification_stands_still few_parts_open bed_before_a_move""",
    ),
    "cutting, give and fits, which are known to about a third": (
        0.3,
        """
        power_suffices low_voltage_borne hand_kept_out controller_cool lines_even teeth_even belt_holds bearings_fast_enough journal_bears journal_keeps_cool not_tight_warm not_tight_cold bearings_spare_motor bed_stays_true size_held shape_held
        round_enough jobs_keep_shape set_true_enough cut_stays_quiet cross_screw_locks dial_fine_enough milestones_often floor_carries_it""",
    ),
    "a third of the gap between two speeds": (0.33, "steps_close_enough"),
    "what is good stands two fifths above what is the least": (0.4, "prediction_agrees saddle_stands_firm"),
    "half as much again: what breaks, wears out, flies off or hurts, and walls too thin to see": (
        0.5,
        """
        taper_fits bearings_have_room bearings_stay_straight spindle_does_not_whirl bearings_last bearings_bear_knocks heat_leaves_size grip_survives_speed
        work_held chuck_stays_on measured_give_stands guide_long_enough saddle_stays_down leadscrew_quiet barrel_has_wall tailstock_holds rest_stays_put clamping_screw_bears thread_enters_nut worn_screw_cuts_true
        bench_bears_it noise_within_dose moves_leave_time sessions_are_kept spindle_at_elbow""",
    ),
    "twice over: cheap to have, or a share of the whole that is to be small": (
        1.0,
        """
        pulleys_share_belt nose_stiff_enough ways_bear gib_stiff_enough rails_last nut_lasts half_nuts_last slide_moves_finely
        taper_holds_drill keeping_is_affordable parts_keep_coming""",
    ),
    "a tenth of a turn is a good screw": (1.5, "little_backlash"),
    "three times what jams or buckles": (2.0, "saddle_slides_freely leadscrew_straight"),
    "a tenth of the whole give where a third is the most": (7 / 3, "bed_stiff_enough"),
    "a twentieth of a per cent is a good thread": (3.0, "threads_can_be_cut"),
}

#: thresholds that are a number, in the unit of what is held against them
THRESHOLDS = {
    # lengths, walls and clearances in millimetres, or in diameters and shanks
    "taper_fits": 3,
    "barrel_has_wall": 3,
    "tool_short_enough": 1.5,
    "barrel_short_enough": 2.5,
    "pulleys_share_belt": 5,
    "dial_legible": 0.8,
    "teeth_even": 0.1,
    # micrometres
    "not_loose_warm": 5,
    "not_loose_cold": 20,
    "not_tight_warm": 10,
    "not_tight_cold": 10,
    "gib_stiff_enough": 5,
    # shares in per cent
    "wall_left": 70,
    "lines_even": 10,
    "cross_slide_guided": 50,
    "steps_close_enough": 50,
    "bearings_spare_motor": 20,
    "bed_stiff_enough": 100 / 3,
    "noise_within_dose": 100,
    "threads_can_be_cut": 0.2,
    "grip_survives_speed": 33.3,
    # so many times as much, or turns
    "span_near_best": 1.6,
    "gaps_small_enough": 2,
    "prediction_agrees": 2,
    "saddle_stands_firm": 1,
    "guide_long_enough": 1,
    "saddle_slides_freely": 1,
    "saddle_stays_down": 1,
    "spindle_does_not_whirl": 2,
    "work_held": 2,
    "collets_run_truer": 2,
    "blade_stout_enough": 8,
    "base_broad_enough": 2,
    "money_keeps_step": 2,
    "little_backlash": 0.25,
    "dial_reads_round": 0.1,
    # N/µm; degrees; m/min; millimetres at the elbow
    "nose_stiff_enough": 25,
    "belt_lies_round": 120,
    "rim_slow_enough": 1200,
    "spindle_at_elbow": 100,
    # amperes
    "low_voltage_borne": 20,
    # counted, and months
    "bed_offers_ways": 0,
    "numbers_divide": 0,
    "stays_off": 0,
    "stop_within_reach": 0,
    "controller_kept_clean": 0,
    "leakage_settled": 0,
    "wood_has_a_rest": 1,
    "every_part_can_be_had": 0,
    "partners_counted": 0,
    "milestones_often": 6,
    "specification_stands_still": 1,
    "few_parts_open": 5,
    "sessions_are_kept": 2,
    "parts_keep_coming": 4,
}

#: what the finding itself calls good, in the unit of its threshold
CALLED_GOOD = {
    "saddle_stands_firm": 1.4,
    "guide_long_enough": 1.5,
    "saddle_slides_freely": 3,
    "cross_slide_guided": 60,
    "bed_stiff_enough": 10,
    "parts_keep_coming": 2,
}


def test_each_comfort_is_the_one_that_was_judged():
    judged = {name: comfort for comfort, names in COMFORTS.values() for name in names.split()}
    assert {name: one.comfort for name, one in LATHE.limits.items()} == pytest.approx(judged)
    assert sum(len(names.split()) for _, names in COMFORTS.values()) == len(judged), "in two groups"


def test_each_threshold_that_is_a_number_is_the_one_that_was_judged():
    assert {name: one.limit for name, one in LATHE.limits.items() if not isinstance(one.limit, str)} == pytest.approx(THRESHOLDS)


@every("name", CALLED_GOOD)
def test_what_is_called_good_is_where_a_finding_begins_to_hold(name):
    """The words promise it: at that value it holds, and a hair short of it is tight."""
    rule, good = LATHE.limits[name], CALLED_GOOD[name]
    short = good * (0.999 if rule.sense == "at least" else 1.001)
    assert [rule.status(rule.margin(value, rule.limit)) for value in (good, short)] == ["holds", "tight"]
    words = {0.1: "a tenth", 3: "three times", 2: "two months", 10: "a tenth"}.get(good, f"{good:g}")
    assert words in rule.says


@pytest.mark.parametrize("name", DEMOS)
def test_a_cut_that_is_said_to_stay_quiet_does_so_in_two_draws_of_three(name):
    """Damping, direction and give are known as ranges: with the comfort to spare in the middle, luck must be bad before it sings."""
    rule = LATHE.limits["cut_stays_quiet"]
    widths = evaluate(demo(name), DRAWS)[rule.value]
    assert 2 / 3 < np.mean(widths / np.median(widths) * (1 + rule.comfort) >= 1) < 0.9
