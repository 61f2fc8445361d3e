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
    bearing_shares_swapped,
    bearings_alike,
    datum_missing,
    decimal_comma,
    grade_unusual,
    journal_loads_missing,
    mass_centre_disagrees,
    mass_centre_implausible,
    mass_centre_missing,
    mass_centre_outside_bearings,
    mass_missing,
    off_by_a_familiar_factor,
    rotation_without_view,
    rotor_without_tolerance,
    service_speed_above_safe,
    service_speed_missing,
    service_speed_near_critical,
    tolerance_incomplete,
    tolerance_loosened,
    tolerance_missing_bearings,
    tolerance_rules_disagree,
    tolerance_without_source,
    unknown_key,
    weighed_and_stated_mass_disagree,
    weighing_places_alike,
}
