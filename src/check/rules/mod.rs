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
    angles_undefined,
    barred_everywhere,
    bearing_shares_swapped,
    bearings_alike,
    correction_below_tolerance,
    couple_not_judged,
    datum_missing,
    decimal_comma,
    density_implausible,
    diameter_as_radius,
    fit_spends_tolerance,
    grade_unusual,
    half_key_missing,
    hole_breaks_the_edge,
    hole_deeper_than_axis,
    hole_deeper_than_wall,
    hole_direction_unsaid,
    holes_overlap,
    inertia_impossible,
    journal_loads_missing,
    key_convention_mixed,
    left_for_assembly_nothing,
    mass_centre_implausible,
    mass_centre_missing,
    mass_centre_outside_bearings,
    mass_of_parts_disagrees,
    material_missing,
    method_contradicts_correct,
    off_by_a_familiar_factor,
    part_place_missing,
    part_without_setup,
    part_without_tolerance,
    place_not_there,
    places_leave_a_gap,
    plane_beyond_rotor,
    plane_leverage,
    plane_tolerance_breaks_bearing,
    planes_alike,
    planes_close_together,
    planes_count_disagrees,
    planes_more_than_two,
    radius_missing_in_plane,
    rotation_without_view,
    rotor_without_tolerance,
    runout_needs_inertia,
    service_speed_above_safe,
    service_speed_missing,
    service_speed_near_critical,
    smallest_correction_above_tolerance,
    tolerance_incomplete,
    tolerance_loosened,
    tolerance_missing_bearings,
    tolerance_rules_disagree,
    tolerance_without_source,
    unknown_key,
    weighed_and_stated_mass_disagree,
    weighing_places_alike,
    wrong_key_too_much,
}
