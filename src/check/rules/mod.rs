//! The rules, one file and one page each. A new rule is named here once.

use super::registry::Rule;

macro_rules! rules {
    ($($module:ident),* $(,)?) => {
        $(mod $module;)*

        /// Every rule, by code.
        pub static ALL: &[&Rule] = &[$(&$module::RULE),*];
    };
}

rules! {
    angle_on_a_readout_without_angles,
    arbor_unbalance_eats_tolerance,
    balancing_speed_above_safe,
    balancing_speed_near_critical,
    balancing_speed_near_resonance,
    calibrated_plane_not_read,
    calibration_missing,
    calibration_outside_shop_range,
    calibration_too_small,
    channels_missing,
    check_mass_band_too_narrow,
    control_needs_range_or_positions,
    control_not_set,
    control_out_of_range,
    control_unknown,
    decimal_comma,
    diameter_as_radius_in_calibration,
    facts_disagree,
    force_too_high,
    indicates_missing,
    journal_does_not_fit,
    mark_without_scale,
    marks_not_whole,
    mass_known_too_poorly,
    mass_not_in_set,
    motor_speed_not_on_machine,
    pin_names_no_result,
    pin_not_computed,
    pin_of_other_dimension,
    pinned_result_stale,
    plane_read_twice,
    planes_close_on_hard_supports,
    position_unknown,
    pre_balance_above_full_scale,
    radius_beyond_swing,
    radius_known_too_poorly,
    reading_of_other_dimension,
    reading_off_scale,
    reading_too_low,
    readout_unit_mismatch,
    released_with_a_hole,
    released_without_pins,
    released_without_proof,
    released_without_revision,
    residual_not_stated,
    residual_spoils_calibration,
    rotor_too_heavy,
    rotor_too_large,
    rotor_too_light,
    safe_speed_unknown,
    scale_unknown,
    settings_out_of_panel_order,
    speed_not_on_machine,
    supports_do_not_fit,
    supports_missing,
    tolerance_below_residual,
    tolerance_reads_missing,
    tolerance_reads_not_wanted,
    two_channels_expected,
    unknown_key,
    works_against_supports,
}
