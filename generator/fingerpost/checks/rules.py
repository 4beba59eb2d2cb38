"""All rules, in the order in which they are listed for people."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from fingerpost.checks import exceptions
from fingerpost.checks.course import gates, grips, loads, pace, stages, taping
from fingerpost.checks.entries import (
    audience,
    completeness,
    identity,
    lookalikes,
    movements,
    pictures,
    references,
    search,
    telling,
)
from fingerpost.checks.texts import briefs, figures, outside, reading, safety, status, urgency, wording
from fingerpost.model.library import Library
from fingerpost.problems import Problem

Rule = Callable[[Library], Iterator[Problem]]

RULES: tuple[Rule, ...] = (
    identity.find_misnamed_files,
    identity.find_names_that_windows_keeps,
    identity.find_ids_like_stages,
    identity.find_repeated_ids,
    identity.find_repeated_parts,
    identity.find_repeated_entries,
    identity.find_signs_in_two_lists,
    identity.find_retired_ids_in_use,
    references.find_unknown_ids,
    references.find_unknown_grades,
    audience.find_limits_to_others,
    audience.find_conditions_about_one_protocol,
    audience.find_conditions_that_leave_nobody_out,
    audience.find_texts_that_leave_somebody_without_words,
    references.find_unused_entries,
    references.find_unused_terms,
    references.find_one_sided_look_alikes,
    search.find_search_words_without_an_end,
    search.find_search_words_that_no_text_uses,
    search.find_search_words_that_stand_twice,
    completeness.find_empty_lists,
    completeness.find_empty_vocabularies,
    completeness.find_grades_out_of_order,
    completeness.find_missing_timelines,
    completeness.find_help_out_of_order,
    grips.find_missing_grips,
    grips.find_grips_that_stand_twice,
    grips.find_vague_limits,
    grips.find_half_crimps_behind_full_crimps,
    grips.find_grips_taken_away,
    grips.find_grips_left_to_the_end,
    grips.find_impossible_angles,
    grips.find_grips_that_load_a_pulley_more,
    grips.find_doses_in_a_grip_left_out,
    grips.find_pictures_of_a_grip_left_out,
    grips.find_right_angles_that_are_none,
    stages.find_missing_windows,
    stages.find_windows_of_skipped_stages,
    stages.find_windows_out_of_order,
    stages.find_windows_that_fall_back,
    stages.find_worse_grades_that_are_faster,
    stages.find_ways_back_that_begin_late,
    stages.find_misplaced_milestones,
    stages.find_skipped_milestones,
    stages.find_milestones_before_their_time,
    stages.find_timelines_out_of_order,
    stages.find_missing_gates,
    pace.find_stages_that_are_too_short,
    pace.find_usual_days_that_are_the_earliest,
    pace.find_steps_shorter_than_the_earliest,
    pace.find_latest_days_before_a_study,
    gates.find_gates_above_their_load,
    gates.find_maximal_tests_at_the_wrong_time,
    gates.find_maximal_tests_without_a_clinician,
    loads.find_impossible_loads,
    loads.find_loads_that_fall,
    loads.find_loaded_exercises_without_a_load,
    loads.find_loads_without_an_exercise,
    loads.find_incomplete_doses,
    loads.find_repeated_doses,
    loads.find_more_sessions_than_a_day_holds,
    taping.find_taping_that_ends_early,
    taping.find_taping_without_an_end,
    taping.find_gaps_in_taping,
    taping.find_glue_without_another_way,
    taping.find_side_taping_without_a_side,
    taping.find_second_devices_on_a_segment,
    taping.find_steps_that_cannot_be_drawn,
    taping.find_strips_that_are_cut_in_no_step,
    taping.find_tapings_that_a_leaf_cannot_show,
    lookalikes.find_conditions_like_themselves,
    lookalikes.find_signs_that_do_not_separate,
    lookalikes.find_look_alikes_without_a_clear_sign,
    lookalikes.find_conditions_that_nothing_separates,
    lookalikes.find_tests_that_nobody_does,
    pictures.find_parts_drawn_elsewhere,
    pictures.find_tears_that_are_not_drawn,
    pictures.find_looks_that_are_no_sign,
    pictures.find_looks_that_are_not_drawn,
    movements.find_exercises_without_a_picture,
    movements.find_frames_that_show_no_step,
    movements.find_frames_that_cannot_be_drawn,
    movements.find_impossible_poses,
    movements.find_presses_of_no_force,
    movements.find_holds_that_no_frame_shows,
    telling.find_spots_that_are_no_place,
    telling.find_conditions_that_nobody_can_point_at,
    telling.find_urgent_conditions_without_a_warning,
    telling.find_age_questions_that_nobody_asks,
    urgency.find_signs_with_two_urgencies,
    urgency.find_help_at_another_pace,
    urgency.find_warnings_told_without_their_name,
    urgency.find_tests_that_hurry_without_a_name,
    urgency.find_usual_warnings_without_help,
    urgency.find_emergencies_without_a_place,
    urgency.find_hurry_that_contradicts,
    urgency.find_notices_that_say_no_time,
    figures.find_figures_without_a_mark,
    figures.find_facts_without_a_mark,
    figures.find_codes_without_a_mark,
    figures.find_loads_called_a_habit,
    figures.find_marks_that_say_the_opposite,
    figures.find_brackets_that_are_no_marks,
    figures.find_unknown_sources,
    figures.find_figures_seen_too_far,
    safety.find_pain_above_five,
    safety.find_pain_where_something_is_torn,
    safety.find_pain_at_a_growth_plate,
    safety.find_drug_doses,
    safety.find_growing_joints_without_a_stop,
    safety.find_protocols_without_an_under_18_warning,
    safety.find_under_18_warnings_that_can_wait,
    safety.find_home_programmes_for_surgeons,
    safety.find_windows_in_a_stop_protocol,
    safety.find_loads_in_a_stop_protocol,
    safety.find_stops_that_do_not_stop,
    safety.find_stops_that_no_doctor_ends,
    status.find_impossible_dates,
    status.find_dates_out_of_order,
    status.find_reviews_too_far_off,
    status.find_approvals_without_a_reviewer,
    status.find_versions_that_say_too_much,
    wording.find_placeholder_text,
    wording.find_talk_about_the_patient,
    wording.find_exclamation_marks,
    wording.find_markup,
    wording.find_signs_that_no_font_has,
    wording.find_keys_out_of_order,
    wording.find_gaps_that_cannot_be_filled,
    reading.find_long_sentences,
    reading.find_hard_texts,
    briefs.find_briefs_without_room,
    briefs.find_names_too_long_for_a_row,
    briefs.find_verdicts_that_are_no_line,
    briefs.find_verdicts_against_their_stage,
    briefs.find_walls_that_are_none,
    briefs.find_stages_that_do_not_say_how,
    briefs.find_briefs_of_grips_left_out,
    briefs.find_briefs_that_forget_a_condition,
    briefs.find_briefs_that_forget_a_limit,
    briefs.find_grades_at_another_place,
    briefs.find_gaps_in_briefs,
    briefs.find_warnings_without_a_short_form,
    briefs.find_too_little_to_tell,
    briefs.find_climbing_for_the_newly_hurt,
    briefs.find_words_that_no_leaf_uses,
    outside.find_notices_without_three_things,
    outside.find_notices_too_long_to_read,
    outside.find_words_that_tell_a_coach_too_much,
    outside.find_long_words_to_coaches,
)


def name_rule(rule: Callable[..., object]) -> str:
    """The id of a rule, from the name of its function: find_missing_grips is 'missing-grips'."""
    return str(getattr(rule, "__name__", "")).removeprefix("find_").replace("_", "-")


NEVER_TOLERATED = frozenset(name_rule(rule) for rule in RULES if rule.__module__ == safety.__name__)


def list_rules() -> tuple[tuple[str, str], ...]:
    """Every rule as (id, sentence), for the docs: what stands below the sentence is for those who read the code.

    The last one is about the exceptions to the others.
    """
    rules: tuple[Callable[..., object], ...] = (*RULES, exceptions.find_exceptions_to_nothing)
    return tuple((name_rule(rule), (rule.__doc__ or "").split("\n\n")[0].strip()) for rule in rules)


def find_problems(library: Library) -> list[Problem]:
    """Everything that the rules find, except what is tolerated. Each finding names its rule."""
    found = [replace(problem, rule=name_rule(rule)) for rule in RULES for problem in rule(library)]
    name = name_rule(exceptions.find_exceptions_to_nothing)
    names = [name_rule(rule) for rule in RULES]
    needless = exceptions.find_exceptions_to_nothing(library, found, names, NEVER_TOLERATED)
    kept = exceptions.tolerate(library, found, NEVER_TOLERATED)
    return [*kept, *(replace(problem, rule=name) for problem in needless)]
