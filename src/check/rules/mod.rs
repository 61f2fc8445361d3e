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
    bad_block_name,
    bad_clock,
    bad_key,
    bad_limits,
    bad_range,
    bad_value,
    comma_without_space,
    conflict_markers,
    control_character,
    curly_quotes,
    date_spelling,
    decimal_comma,
    digit_grouping,
    exponent_out_of_range,
    fact_outside_a_block,
    grade_spelling,
    heading_shape,
    hidden_character,
    inch_mark,
    junk_line,
    letter_in_number,
    misplaced_block,
    missing_operand,
    missing_value,
    mixed_fraction,
    operator_spelling,
    operator_without_spaces,
    point_without_digits,
    point_without_zero,
    quote_inside_text,
    space_in_unit,
    stray_close,
    text_after_brace,
    text_after_value,
    text_around_close,
    too_deep,
    too_many_digits,
    unclosed_block,
    unclosed_parenthesis,
    unclosed_quote,
    unfinished_line,
    unit_spelling,
    unit_without_space,
    unknown_key,
    unknown_kind,
}
