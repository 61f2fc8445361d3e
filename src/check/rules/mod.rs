//! The rules, one file and one page each. A new rule is named here once.

use super::registry::Rule;

macro_rules! rules {
    ($($module:ident),* $(,)?) => {
        $(pub(super) mod $module;)*

        /// Every rule, by code.
        pub static ALL: &[&Rule] = &[$(&$module::RULE),*];
    };
}

rules! {
    block_needs_name,
    block_takes_no_name,
    block_twice,
    decimal_comma,
    division_by_zero,
    fact_and_pin,
    format_newer,
    given_twice,
    inherited_nothing,
    key_needs_name,
    like_dropped,
    like_in_a_circle,
    limits_not_wanted,
    missing_fact,
    missing_unit,
    name_is_a_key,
    name_needs_quotes,
    name_of_other_kind,
    name_used_twice,
    needs_quotes,
    no_shop,
    no_such_day,
    not_finite,
    not_whole,
    operands_differ,
    out_of_range,
    range_reversed,
    rotor_made_of_itself,
    severity_without_reason,
    shop_not_at_root,
    shop_twice,
    unit_not_wanted,
    unit_of_other_dimension,
    unknown_channel,
    unknown_choice,
    unknown_code,
    unknown_control,
    unknown_instrument,
    unknown_key,
    unknown_name,
    unknown_plane,
    unknown_run,
    unknown_scale,
    unknown_unit,
    wrong_count,
    wrong_dimension,
    wrong_form,
}
