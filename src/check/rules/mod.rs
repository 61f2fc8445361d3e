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
    balancing_speed_above_safe,
    balancing_speed_near_critical,
    balancing_speed_near_resonance,
    decimal_comma,
    facts_disagree,
    journal_does_not_fit,
    motor_speed_not_on_machine,
    pin_names_no_result,
    pin_not_computed,
    pin_of_other_dimension,
    pinned_result_stale,
    released_without_pins,
    released_without_proof,
    released_without_revision,
    residual_not_stated,
    rotor_too_heavy,
    rotor_too_large,
    rotor_too_light,
    safe_speed_unknown,
    speed_not_on_machine,
    supports_do_not_fit,
    tolerance_below_residual,
    unknown_key,
}
