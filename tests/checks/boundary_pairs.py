"""Where every claim is shown to pass and to trip: code to (file, test that passes, test that trips).

A claim without a row here fails tests/checks/test_claim_walk.py, which looks each test up by name and
asks that it holds what it is named for. The two may be one test, run on two inputs.
"""

from typing import NamedTuple


class Pair(NamedTuple):
    """A file below tests/, the test in it that shows a pass, and the one that shows a trip."""

    file: str
    passes: str
    trips: str


NUMBERS = "checks/test_number_claims.py"
LIMITS = "checks/test_link_limit_claims.py"
SOLIDS = "checks/test_solid_claims.py"
TORCH = "checks/test_torch_claims.py"
BENDS = "checks/test_bend_claims.py"
BRACKETS = "checks/test_bracket_claims.py"
CLEARANCE = "checks/test_clearance_claims.py"
STEEL = "checks/test_bracket_solid_claims.py"
CUTS = "checks/test_cut_claims.py"
LOCATORS = "checks/test_locator_claims.py"
GAUGES = "checks/test_gauge_claims.py"
TABS = "checks/test_joint_claims.py"
STRENGTH = "checks/test_strength_claims.py"
HOUSING = "checks/test_housing_claims.py"
PARTS = "checks/test_component_claims.py"
ACCESS = "checks/test_access_claims.py"
TRUSS_BRACKETS = "checks/test_truss_bracket_claims.py"
TRUSS = "checks/test_truss_claims.py"
TURNS = "test_the_claim_turns_at_the_limit_of_its_source"


def both(file: str, test: str) -> Pair:
    return Pair(file, test, test)


PAIRS = {
    "ACC-01": both(ACCESS, "test_acc_01_a_socket_wants_a_hair_of_air_and_no_steel"),
    "ACC-02": both(ACCESS, "test_acc_02_a_wall_ahead_of_the_cover_leaves_it_its_straight_pull_or_not"),
    "ACC-03": both(ACCESS, "test_acc_03_a_plug_screws_out_past_a_block_or_not_and_what_is_missing_is_told"),
    "ACC-04": both(ACCESS, "test_acc_04_a_third_member_comes_off_free_after_something_or_not_at_all"),
    "ACC-05": both(ACCESS, "test_acc_05_a_shaft_passes_beside_a_post_by_what_is_wanted_or_not"),
    "ACC-06": both(ACCESS, "test_acc_06_a_coil_is_loose_or_squeezed_or_goes_solid"),
    "ACC-07": both(ACCESS, "test_acc_07_a_bolt_is_drawn_to_one_side_and_what_shuts_both_is_named"),
    "ACC-08": both(ACCESS, "test_acc_08_a_bracket_that_shuts_something_in_is_held_and_one_beside_is_not"),
    "ANG-01": both(NUMBERS, TURNS),
    "ANG-02": both(NUMBERS, TURNS),
    "ANG-03": both(NUMBERS, "test_heights_have_no_say_only_when_the_screws_are_set_to_the_bar"),
    "ANG-04": both(NUMBERS, "test_a_finger_hole_out_of_its_place_is_refused"),
    "BAR-01": both(NUMBERS, "test_a_bar_a_tenth_of_an_inch_too_short_is_refused"),
    "BAR-02": both(NUMBERS, TURNS),
    "BAR-03": both(NUMBERS, TURNS),
    "BND-01": both(BENDS, "test_bnd_01_a_flange_that_falls_into_the_die_is_held_and_a_short_one_is_said"),
    "BND-02": both(BENDS, "test_bnd_02_a_hole_keeps_two_and_a_half_thicknesses_and_the_radius_from_the_line"),
    "BND-03": both(BENDS, "test_bnd_03_an_inside_radius_under_the_thickness_is_held"),
    "BND-04": both(BENDS, "test_bnd_04_a_bend_line_along_the_grain_is_said"),
    "BND-05": both(BENDS, "test_bnd_05_a_bend_nobody_measured_is_said_and_a_wrong_flat_is_held"),
    "BND-06": both(BENDS, "test_bnd_06_a_flange_as_high_as_the_web_is_wide_meets_a_straight_punch"),
    "BRK-01": both(BRACKETS, "test_brk_01_a_bracket_that_cannot_be_drawn_is_told_and_leaves_the_others_alone"),
    "BRK-02": both(STEEL, "test_brk_02_a_hole_a_tenth_off_its_hardpoint_is_held"),
    "BRK-03": both(STEEL, "test_brk_03_a_joint_wider_than_what_is_between_the_ears_is_named_with_what_lacks"),
    "BRK-04": both(BRACKETS, "test_brk_04_a_hole_nearer_to_the_edge_than_one_and_a_half_bolts_is_held"),
    "BRK-05": both(BRACKETS, "test_brk_05_half_an_inch_is_kept_from_a_hole_to_the_toe_of_a_weld"),
    "BRK-06": both(BRACKETS, "test_brk_06_a_bead_keeps_half_an_inch_from_the_weld_of_an_end"),
    "BRK-07": both(STEEL, "test_brk_07_a_tube_that_measures_more_or_less_than_it_was_cut_for_is_told"),
    "BRK-08": both(STEEL, "test_brk_08_two_brackets_in_one_place_are_both_named"),
    "BRK-09": both(STEEL, "test_brk_09_a_bracket_in_something_that_is_welded_on_already_is_told_by_how_much"),
    "BRK-10": both(STEEL, "test_brk_10_a_bracket_keeps_a_quarter_inch_from_a_brake"),
    "BRK-11": both(STEEL, "test_brk_11_a_link_too_thick_for_its_own_bracket_is_told_by_how_much"),
    "BRK-12": both(STEEL, "test_brk_12_a_shield_over_a_seam_shuts_what_it_covers"),
    "BUD-01": both(NUMBERS, TURNS),
    "BUD-02": both(NUMBERS, TURNS),
    "BUD-03": both(NUMBERS, TURNS),
    "CLR-01": both(CLEARANCE, "test_clr_01_what_rides_together_keeps_the_static_gap"),
    "CLR-02": both(CLEARANCE, "test_clr_02_what_comes_up_a_hair_too_far_is_named_with_its_pose"),
    "CLR-03": both(CLEARANCE, "test_clr_03_a_tyre_keeps_more"),
    "CLR-04": both(CLEARANCE, "test_clr_04_what_gives_on_its_mounts_keeps_most"),
    "CLR-05": both(CLEARANCE, "test_clr_05_a_bracket_that_is_run_into_is_held_and_one_that_is_only_near_is_not"),
    "CLR-06": both(
        CLEARANCE, "test_clr_06_a_mesh_that_is_farther_off_than_is_stated_is_found_out_and_the_lesser_gap_is_told"
    ),
    "FIT-01": both(SOLIDS, "test_fit_01_plates_may_touch_but_not_share"),
    "FIT-02": both(SOLIDS, "test_fit_02_a_plate_thicker_than_the_slot_was_cut_for_does_not_enter"),
    "FIT-03": both(SOLIDS, "test_fit_03_steel_over_the_tube_stops_the_axle"),
    "FIT-04": both(SOLIDS, "test_fit_04_steel_in_line_with_the_bar_stops_it"),
    "FIT-05": both(SOLIDS, "test_fit_05_steel_outboard_of_a_plate_keeps_it_on"),
    "FIT-06": both(SOLIDS, "test_fit_06_a_shield_over_the_joint_shuts_what_it_covers"),
    "FIT-07": both(SOLIDS, "test_fit_07_nothing_stands_within_two_inches_of_the_bead"),
    "FIT-08": both(SOLIDS, "test_fit_08_a_block_a_hair_off_a_stubs_way_lets_it_out"),
    "FIT-09": both(SOLIDS, "test_fit_09_a_part_inboard_of_the_knuckle_presses_it"),
    "FIT-10": both(SOLIDS, "test_fit_10_bases_must_lie_on_the_table"),
    "FIT-11": both(SOLIDS, "test_fit_11_steel_beyond_the_tie_at_a_side_hole_is_met"),
    "FIT-12": both(SOLIDS, "test_fit_12_a_tie_too_thin_for_its_keepers_lets_them_on_turned_over"),
    "FIT-13": both(SOLIDS, "test_fit_13_steel_in_line_with_the_tie_stops_it"),
    "FIT-14": both(SOLIDS, "test_fit_14_steel_over_the_pins_leaves_no_place_for_the_level"),
    "GAU-01": both(
        GAUGES, "test_gau_01_a_gauge_coarser_than_a_quarter_of_its_tolerance_is_told_with_what_makes_it_finer"
    ),
    "GAU-02": both(GAUGES, "test_gau_02_a_gauge_asked_for_by_name_that_cannot_be_made_is_told"),
    "GAU-03": both(GAUGES, "test_gau_03_a_hole_that_measures_is_a_mark_and_an_edge_has_steel_left"),
    "GAU-04": both(GAUGES, "test_gau_04_a_gauge_that_runs_into_the_knuckle_is_held"),
    "HOL-01": both(CUTS, "test_hol_01_a_cut_hole_is_one_and_a_half_thicknesses_or_what_the_coupon_showed"),
    "HOL-02": both(CUTS, "test_hol_02_a_hole_smaller_than_its_mark_is_held_unless_marked_by_hand"),
    "HOL-03": both(CUTS, "test_hol_03_clearance_finer_than_the_class_is_drilled"),
    "HOL-04": both(CUTS, "test_hol_04_a_joint_bolt_is_reamed_five_to_ten_thousandths_and_never_a_thirty_second"),
    "JNT-01": both(TABS, "test_jnt_01_one_tab_of_a_joint_is_tight"),
    "JNT-02": both(TABS, "test_jnt_02_tabs_end_from_flush_to_a_thirty_second_below"),
    "JNT-03": both(TABS, "test_jnt_03_a_tab_goes_into_relieved_corners_and_not_into_square_ones"),
    "LCT-01": both(LOCATORS, "test_lct_01_a_marked_hole_puts_the_dummy_bolt_further_out_than_a_bored_one"),
    "LCT-02": both(LOCATORS, "test_lct_02_a_block_in_the_way_of_a_dummy_bolt_or_a_post_is_met"),
    "LCT-03": both(LOCATORS, "test_lct_03_a_hole_off_the_grid_and_a_base_off_the_table_are_refused"),
    "LOC-01": both(NUMBERS, "test_a_drop_out_carried_by_its_bar_is_not_located"),
    "LNK-01": both("checks/test_link_claims.py", "test_lnk_01_points_that_reach_pass_and_travel_beyond_reach_is_named"),
    "LNK-02": both("checks/test_link_claims.py", "test_lnk_02_a_joint_a_hair_past_its_limit_is_named"),
    "LNK-03": both(
        "checks/test_link_claims.py",
        "test_lnk_03_a_shock_that_closes_before_bump_fails_and_a_hair_of_stroke_warns",
    ),
    "LNK-04": both("checks/test_link_claims.py", "test_lnk_04_a_shaft_that_pulls_out_by_a_hair_fails"),
    "LNK-05": both("checks/test_link_claims.py", "test_lnk_05_two_degrees_are_kept_beyond_the_knuckle_stop"),
    "LNK-06": both(LIMITS, "test_lnk_06_a_box_that_stops_a_hair_before_the_knuckle_is_named"),
    "LNK-07": both(LIMITS, "test_lnk_07_arms_that_turn_the_outer_wheel_more_are_named"),
    "LNK-08": both(LIMITS, "test_lnk_08_a_shock_that_closes_a_hair_before_the_stop_is_solid_fails"),
    "LNK-09": both(LIMITS, "test_lnk_09_a_shock_that_opens_a_hair_before_the_strap_is_taut_fails"),
    "LNK-10": both(LIMITS, "test_lnk_10_a_coil_pressed_solid_by_a_hair_fails_and_a_loose_one_warns"),
    "LNK-11": both(LIMITS, "test_lnk_11_a_hose_a_hair_too_short_at_droop_and_lock_fails"),
    "LNK-12": both(LIMITS, "test_lnk_12_a_drag_link_above_the_tie_rod_loses_steer"),
    "LNK-13": both(LIMITS, "test_lnk_13_a_drag_link_that_does_not_lie_as_the_track_bar_does_is_named"),
    "LOD-01": both(
        "checks/test_load_claims.py",
        "test_lod_01_springs_apart_carry_every_case_and_springs_in_the_middle_carry_none",
    ),
    "NST-01": both("checks/test_sheet_claims.py", "test_a_part_a_hair_larger_than_the_sheet_inside_its_edges_is_held"),
    "NST-02": Pair(
        "test_nest_flow.py",
        "test_parts_without_a_kept_layout_are_laid_out_steadily_and_it_is_told",
        "test_a_kept_layout_that_was_edited_into_an_overlap_is_not_used",
    ),
    "NST-03": Pair(
        "test_nest_flow.py",
        "test_a_kept_layout_is_used_until_something_it_hangs_on_changes",
        "test_parts_without_a_kept_layout_are_laid_out_steadily_and_it_is_told",
    ),
    "CUT-10": both(
        "write/test_sheet_dxf.py",
        "test_cut_10_a_hole_a_hundredth_out_of_place_and_a_part_that_is_missing_are_found",
    ),
    "DRW-01": both(
        "drawings/test_documents.py",
        "test_drw_01_drawings_of_true_sizes_are_handed_out_and_a_spoilt_one_is_withheld",
    ),
    "PDF-01": both(
        "pages/test_proving.py", "test_pdf_01_a_bar_off_by_a_twentieth_of_a_millimetre_passes_and_a_hair_more_fails"
    ),
    "PDF-02": both(
        "templates/test_blanks.py", "test_pdf_02_each_page_passes_its_proof_and_one_drawn_otherwise_does_not"
    ),
    "PDF-03": both(
        "templates/test_blanks.py", "test_pdf_03_a_part_larger_than_the_tiling_asked_for_is_told_and_keeps_its_svg"
    ),
    "RDG-01": both(NUMBERS, TURNS),
    "RDG-02": both(NUMBERS, TURNS),
    "STA-01": both(NUMBERS, TURNS),
    "STA-02": both(NUMBERS, TURNS),
    "STA-03": both(NUMBERS, "test_straps_that_do_not_hold_the_roll_ask_for_a_prop_and_none_at_all_is_refused"),
    "STA-04": both(NUMBERS, TURNS),
    "STA-05": both(NUMBERS, TURNS),
    "STA-06": both(NUMBERS, TURNS),
    "STR-01": both(NUMBERS, TURNS),
    "STR-02": both(STRENGTH, "test_str_02_two_planes_of_a_shank_shear_at_six_tenths_of_its_tensile_strength_over_two"),
    "STR-03": both(STRENGTH, "test_str_03_a_tight_joint_bends_its_bolt_over_tab_and_contact_and_shears_it_as_well"),
    "STR-04": both(STRENGTH, "test_str_04_a_bolt_crushes_its_tab_at_1_8_yield_over_two"),
    "STR-05": both(STRENGTH, "test_str_05_the_root_is_a_rectangle_under_pull_and_bending"),
    "STR-06": both(STRENGTH, "test_str_06_a_tight_gap_passes_an_ordinary_one_is_said_and_an_eighth_fails"),
    "STR-07": both(STRENGTH, "test_str_07_the_weld_is_held_at_its_throat_and_trips_a_hair_beyond"),
    "STR-08": both(STRENGTH, "test_str_08_the_wall_of_the_tube_is_held_by_its_limit_states"),
    "STR-09": both(STRENGTH, "test_str_09_a_link_buckles_as_johnson_says_over_23_twelfths"),
    "HSG-01": both(HOUSING, "test_hsg_01_plates_are_held_at_their_yield_over_1_67"),
    "HSG-02": both(HOUSING, "test_hsg_02_welds_are_held_at_the_throat_or_the_plate_beside_it"),
    "HSG-03": both(HOUSING, "test_hsg_03_an_end_that_is_too_high_is_a_step_and_says_what_to_do"),
    "HSG-04": both(HOUSING, "test_hsg_04_a_quarter_of_a_degree_of_bending_as_it_stands_is_said"),
    "HSG-05": both(
        HOUSING, "test_hsg_05_a_truss_whose_weld_is_shorter_than_it_is_high_counts_for_nothing_and_that_is_said"
    ),
    "STR-10": both(STRENGTH, "test_str_10_a_tube_bent_beyond_yield_over_1_67_is_said"),
    "TAB-01": both(NUMBERS, "test_a_table_an_inch_too_short_is_refused"),
    "TAB-02": both(NUMBERS, TURNS),
    "TAB-03": both(NUMBERS, TURNS),
    "MRK-01": both(TORCH, "test_mrk_01_marks_stand_a_millimetre_clear_of_what_is_cut"),
    "TCH-01": both(TORCH, "test_tch_01_a_slug_tips_when_its_edge_is_nearer_to_its_middle_than_the_pitch"),
    "TCH-02": both(TORCH, "test_tch_02_the_slope_is_the_thickness_times_its_tangent_against_the_room_of_a_tab"),
    "TCH-03": both(TORCH, "test_tch_03_the_bow_left_by_the_budget_must_be_one_the_feeler_shows"),
    "CUT-01": Pair(
        "write/test_readback.py",
        "test_a_true_file_passes_and_says_what_was_read",
        "test_gaps_and_moved_holes_trip_just_above_their_limit",
    ),
    "CUT-02": both("write/test_staging.py", "test_an_opening_narrower_than_the_kerf_fails_and_gets_no_file"),
    "CMP-01": both(PARTS, "test_cmp_01_a_whole_file_passes_an_open_one_warns_and_a_cut_off_one_fails"),
    "CMP-02": Pair(
        PARTS,
        "test_cmp_02_a_point_may_be_out_by_what_its_tolerance_allows",
        "test_cmp_02_points_measured_in_another_unit_are_told_by_how_much",
    ),
    "CMP-03": both(PARTS, "test_cmp_03_an_inch_file_taken_for_millimetres_is_told_with_the_ratio_and_the_unit"),
    "CMP-04": both(PARTS, "test_cmp_04_points_off_the_box_of_what_was_read_are_told"),
    "CMP-05": both(PARTS, "test_cmp_05_a_cover_reaches_what_was_measured_or_is_told"),
    "CUT-03": both(CUTS, "test_cut_03_a_slot_is_not_narrower_than_the_kerf_and_two_millimetres_are_asked_for"),
    "CUT-04": both(CUTS, "test_cut_04_a_web_is_one_and_a_half_thicknesses_or_what_was_measured"),
    "CUT-05": both(CUTS, "test_cut_05_a_square_corner_keeps_four_tenths_of_half_the_kerf"),
    "CUT-06": Pair(
        CUTS,
        "test_a_plain_line_passes_and_the_tip_of_a_notch_a_hair_off_the_edge_as_well",
        "test_cut_06_a_line_that_is_no_plain_closed_one_is_held",
    ),
    "CUT-07": both(CUTS, "test_cut_07_says_what_the_class_means_on_the_nominal_plate_and_what_the_table_leaves_out"),
    "CUT-08": both(CUTS, "test_cut_08_a_thickness_nobody_stocks_is_held_and_the_rest_released"),
    "CUT-09": both(CUTS, "test_cut_09_a_kerf_the_process_is_not_known_for_is_said_and_holds_nothing"),
    "GEO-01": both("write/test_staging.py", "test_a_hole_over_the_edge_of_its_plate_cannot_be_made"),
    "JSN-01": Pair("write/test_summary.py", "test_a_true_summary_passes", "test_each_fault_of_a_summary_is_found"),
    "STP-01": Pair(
        "write/test_step.py", "test_just_inside_the_limits_passes", "test_each_deviation_of_a_step_file_trips"
    ),
    "TRS-01": both(TRUSS, "test_trs_01_a_web_of_three_thicknesses_and_one_a_hair_less"),
    "TRS-02": both(TRUSS, "test_trs_02_half_an_inch_short_passes_and_less_is_held"),
    "TRS-03": both(TRUSS, "test_trs_03_a_truss_too_tall_for_the_oil_pan_is_refused_for_that"),
    "TRS-04": both(TRUSS, "test_trs_04_the_plate_as_cut_keeps_the_gap_and_one_set_too_high_does_not"),
    "TRS-05": both(TRUSS, "test_trs_05_plates_clear_what_comes_off_and_one_over_the_face_does_not"),
    "TRS-06": both(TRUSS, "test_trs_06_rooms_drain_and_a_breather_inside_is_refused"),
    "TRS-07": both(TRUSS, "test_trs_07_iron_is_bridged_or_held_and_steel_is_cautioned"),
    "TRS-08": both(TRUSS, "test_trs_08_beads_inside_the_top_pass_and_beyond_its_edge_are_held"),
    "TRS-09": both(TRUSS, "test_trs_09_tabs_enter_and_a_plate_thicker_than_measured_does_not"),
    "TRS-10": both(TRUSS, "test_trs_10_a_jack_pad_keeps_off_the_centre_section"),
    "TRS-11": both(TRUSS, "test_trs_11_a_plate_too_far_out_on_the_tube_is_no_fillet"),
    "TRS-12": both(TRUSS, "test_trs_12_parts_stand_apart_and_a_block_in_the_truss_is_found"),
    "TRS-13": both(
        TRUSS_BRACKETS, "test_trs_13_half_an_inch_of_tube_between_toes_passes_and_beads_in_one_place_are_held"
    ),
    "TRS-14": both(
        TRUSS_BRACKETS,
        "test_trs_14_a_bracket_on_a_truss_that_was_measured_is_told_and_one_on_the_sheet_s_own_passes",
    ),
    "WLD-01": both(BRACKETS, "test_wld_01_a_bracket_on_a_steering_part_is_held_and_one_on_the_tube_passes"),
}
