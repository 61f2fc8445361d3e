//! The rules, one file and one page each. A new rule is named here twice: as a module, and in the table with what it
//! weighs and looks at; the compiler misses either.

use super::diagnostic::Severity;
use super::pins::ITEMS_WITH_PINS;
use super::rule::{Rule, Run};

use crate::sheet::FactProblemOf;
use crate::syntax::{Kind, SyntaxErrorKind};
use crate::vocabulary::Former;

mod angle_on_a_readout_without_angles;
mod angles_from_unsaid;
mod angles_undefined;
mod arbor_not_as_stated;
mod arbor_unbalance_eats_tolerance;
mod bad_block_name;
mod bad_clock;
mod bad_key;
mod bad_limits;
mod bad_range;
mod bad_value;
mod balance_error_incomplete;
mod balancing_speed_above_safe;
mod balancing_speed_near_critical;
mod balancing_speed_near_resonance;
mod barred_everywhere;
mod bearing_shares_swapped;
mod bearings_alike;
mod block_needs_name;
mod block_takes_no_name;
mod block_twice;
mod calibrated_plane_not_read;
mod calibration_beyond_rotor;
mod calibration_masses_on;
mod calibration_missing;
mod calibration_outside_shop_range;
mod calibration_too_small;
mod calibration_void;
mod cannot_read;
mod card_has_a_gap;
mod channels_crossed;
mod channels_missing;
mod check_mass_band_too_narrow;
mod check_mass_drifted;
mod comma_without_space;
mod conflict_markers;
mod continues_in_a_circle;
mod control_character;
mod control_needs_channels;
mod control_needs_range_or_positions;
mod control_not_set;
mod control_out_of_range;
mod control_step_missing;
mod control_taken_twice;
mod correction_below_tolerance;
mod correction_beyond_capacity;
mod correction_in_the_wrong_sense;
mod correction_not_as_called_for;
mod correction_of_another_run;
mod correction_where_barred;
mod curly_quotes;
mod date_spelling;
mod datum_missing;
mod decimal_comma;
mod density_implausible;
mod depth_and_mass_disagree;
mod diameter_as_radius;
mod diameter_as_radius_in_calibration;
mod digit_grouping;
mod division_by_zero;
mod error_spends_tolerance;
mod exponent_out_of_range;
mod fact_and_pin;
mod fact_outside_a_block;
mod facts_disagree;
mod fit_spends_tolerance;
mod force_too_high;
pub(super) mod format_newer;
mod four_runs_disagree;
mod full_width_character;
mod given_twice;
mod grade_far_from_others;
mod grade_spelling;
mod grade_unusual;
mod half_key_missing;
mod heading_shape;
mod heavy_spot_contradicted;
mod hidden_character;
mod hole_breaks_the_edge;
mod hole_deeper_than_axis;
mod hole_deeper_than_wall;
mod hole_direction_unsaid;
mod holes_overlap;
mod inch_mark;
mod indicates_missing;
mod inertia_impossible;
mod inherited_nothing;
mod interference_too_high;
mod journal_does_not_fit;
mod journal_loads_missing;
mod junk_line;
mod key_convention_mixed;
mod key_needs_name;
mod layout_named_twice;
mod layout_without_position;
mod left_for_assembly_nothing;
mod letter_in_number;
mod like_dropped;
mod like_in_a_circle;
mod limit_changed_since;
mod limits_not_wanted;
mod machine_tested_since;
mod mark_without_scale;
mod marks_not_whole;
mod mass_centre_implausible;
mod mass_centre_missing;
mod mass_centre_outside_bearings;
mod mass_known_too_poorly;
mod mass_not_in_set;
mod mass_of_parts_disagrees;
mod material_missing;
mod method_contradicts_correct;
mod misplaced_block;
mod missing_fact;
mod missing_operand;
mod missing_unit;
mod missing_value;
mod mixed_fraction;
mod motor_speed_not_on_machine;
mod name_is_a_key;
mod name_needs_quotes;
mod name_of_other_kind;
mod name_used_twice;
mod needs_quotes;
mod no_run_after_correction;
mod no_shop;
mod no_such_day;
mod not_finite;
mod not_known;
mod not_pre_balanced;
mod not_utf_8;
mod not_whole;
mod off_by_a_familiar_factor;
mod operands_differ;
mod operator_spelling;
mod operator_without_spaces;
mod out_of_range;
mod part_not_within;
mod part_place_missing;
mod part_without_setup;
mod part_without_tolerance;
mod pin_names_no_result;
mod pin_not_computed;
mod pin_of_other_dimension;
mod pinned_result_stale;
mod place_not_there;
mod places_leave_a_gap;
mod plane_beyond_rotor;
mod plane_left_unread;
mod plane_leverage;
mod plane_named_like_a_bearing;
mod plane_read_twice;
mod plane_tolerance_breaks_bearing;
mod planes_act_alike;
mod planes_alike;
mod planes_close_on_hard_supports;
mod planes_close_together;
mod planes_count_disagrees;
mod planes_more_than_two;
mod point_without_digits;
mod point_without_zero;
mod position_unknown;
mod pre_balance_above_full_scale;
mod proof_and_as_run;
mod proof_leaves_facts_out;
mod proof_mass_misread;
pub(super) mod proof_rewritten;
mod quote_inside_text;
mod radius_beyond_swing;
mod radius_known_too_poorly;
mod radius_missing_in_plane;
mod range_reversed;
mod reading_not_in_proportion;
mod reading_of_other_dimension;
mod reading_off_scale;
mod reading_too_low;
mod readout_sense_unsaid;
mod readout_unit_mismatch;
mod record_after_service;
mod record_before_proof;
mod record_not_bound;
mod record_of_another_part;
mod record_of_other_revision;
mod released_with_a_hole;
mod released_without_pins;
mod released_without_proof;
mod released_without_revision;
mod remounting_spends_tolerance;
mod residual_not_stated;
mod residual_spoils_calibration;
mod rotor_made_of_itself;
mod rotor_too_heavy;
mod rotor_too_large;
mod rotor_too_light;
mod rotor_without_tolerance;
mod run_not_as_foretold;
mod run_speed_unsaid;
mod runout_needs_inertia;
mod runs_disagree;
mod safe_speed_unknown;
mod seat_on_arbor_unsaid;
mod service_on_the_day_of_proof;
mod service_speed_above_safe;
mod service_speed_implausible;
mod service_speed_missing;
mod service_speed_near_critical;
mod settings_out_of_panel_order;
mod severity_without_reason;
mod shop_not_at_root;
mod shop_twice;
mod smallest_correction_above_tolerance;
mod space_in_unit;
mod specific_unbalance_implausible;
mod speed_not_on_machine;
mod speed_out_of_band;
mod speed_with_three_decimals;
mod start_not_regained;
mod stray_close;
mod supports_do_not_fit;
mod supports_missing;
mod text_after_brace;
mod text_after_value;
mod text_around_close;
mod tolerance_below_one_step;
mod tolerance_below_residual;
mod tolerance_incomplete;
mod tolerance_loosened;
mod tolerance_missing_bearings;
mod tolerance_off_its_mark;
mod tolerance_reads_missing;
mod tolerance_reads_not_wanted;
mod tolerance_rules_disagree;
mod tolerance_without_source;
mod too_deep;
mod too_many_digits;
mod traverse_beyond_band;
mod traverse_contradicts_run;
mod traverse_mass_too_small;
mod traverse_readings_and_places;
mod trial_angle_missing;
mod trial_mass_left_unsaid;
mod trial_too_weak;
mod trials_contradict_calibration;
mod trials_leave_two_answers;
mod two_channels_expected;
mod unclosed_block;
mod unclosed_parenthesis;
mod unclosed_quote;
mod unfinished_line;
mod unit_not_wanted;
mod unit_of_other_dimension;
mod unit_spelling;
mod unit_without_space;
mod units_of_one_dimension;
mod unknown_channel;
mod unknown_choice;
mod unknown_code;
mod unknown_control;
mod unknown_extra_mass;
mod unknown_instrument;
mod unknown_key;
mod unknown_kind;
mod unknown_name;
mod unknown_plane;
mod unknown_proof;
mod unknown_run;
mod unknown_scale;
mod unknown_unit;
mod verdict_not_known;
mod verdict_not_shown;
mod verdict_over;
mod weighed_and_stated_mass_disagree;
mod weighing_places_alike;
mod works_against_supports;
mod wrong_count;
mod wrong_dimension;
mod wrong_form;
mod wrong_key_too_much;

/// The version since which a code is known, where its line in the table does not say so.
const FIRST: &str = "0.1.0";

/// Makes each line of the table a rule: its code is the name of its file, its page stands beside that, and its title is
/// the heading of the page. `Item`, `Book`: what it judges. `Syntax`, `Fact`, `File`: what it says in words. `Versions`:
/// `diff` finds it.
macro_rules! rules {
    ($($rule:ident: $severity:ident, $run:ident $(($of:ident))? $([$($kind:ident)+])? $(, since $since:literal)?;)+) => {
        /// Every rule, by code.
        pub static ALL: &[&Rule] = &[$({
            const NAME: &str = stringify!($rule);
            const CODE: [u8; NAME.len()] = code(NAME);
            const PAGE: &str = include_str!(concat!(stringify!($rule), ".md"));
            &Rule {
                code: words(&CODE),
                severity: Severity::$severity,
                title: heading(PAGE),
                page: PAGE,
                since: since(&[$($since)?]),
                run: run!($rule $run $($of)? $([$($kind)+])?),
            }
        }),+];
    };
}

macro_rules! run {
    ($rule:ident Item [$($kind:ident)+]) => { Run::Item(&[$(Kind::$kind),+], $rule::judge) };
    ($rule:ident Item $kinds:ident) => { Run::Item($kinds, $rule::judge) };
    ($rule:ident Book) => { Run::Book($rule::judge) };
    ($rule:ident Versions) => { Run::Versions };
    ($rule:ident File) => { Run::File($rule::say) };
    ($rule:ident Syntax $of:ident) => { Run::Syntax(SyntaxErrorKind::$of, $rule::say) };
    ($rule:ident Fact $of:ident) => { Run::Fact(FactProblemOf::$of, $rule::say) };
}

rules! {
    angle_on_a_readout_without_angles: Warning, Item[Setup Record];
    angles_from_unsaid: Warning, Item[Record];
    angles_undefined: Warning, Item[Rotor];
    arbor_not_as_stated: Warning, Item[Record];
    arbor_unbalance_eats_tolerance: Warning, Item[Setup];
    bad_block_name: Error, Syntax(BadBlockName);
    bad_clock: Error, Syntax(BadClock);
    bad_key: Error, Syntax(BadKey);
    bad_limits: Error, Syntax(BadLimits);
    bad_range: Error, Syntax(BadRange);
    bad_value: Error, Syntax(BadValue);
    balance_error_incomplete: Error, Item[Machine Arbor Setup];
    balancing_speed_above_safe: Error, Item[Setup];
    balancing_speed_near_critical: Warning, Item[Setup];
    balancing_speed_near_resonance: Warning, Item[Setup];
    barred_everywhere: Error, Item[Rotor];
    bearing_shares_swapped: Warning, Item[Rotor];
    bearings_alike: Error, Item[Rotor];
    block_needs_name: Error, Fact(BlockNeedsName);
    block_takes_no_name: Error, Fact(BlockTakesNoName);
    block_twice: Error, Fact(BlockTwice);
    calibrated_plane_not_read: Warning, Item[Setup];
    calibration_beyond_rotor: Warning, Item[Setup];
    calibration_masses_on: Warning, Item[Record];
    calibration_missing: Warning, Item[Setup];
    calibration_outside_shop_range: Note, Item[Setup];
    calibration_too_small: Warning, Item[Setup];
    calibration_void: Warning, Item[Setup];
    cannot_read: Error, File;
    card_has_a_gap: Note, Item[Rotor Setup];
    channels_crossed: Warning, Item[Setup];
    channels_missing: Warning, Item[Setup];
    check_mass_band_too_narrow: Warning, Item[Setup];
    check_mass_drifted: Warning, Item[Setup];
    comma_without_space: Error, Syntax(CommaWithoutSpace);
    conflict_markers: Error, Syntax(ConflictMarkers);
    continues_in_a_circle: Error, Item[Record];
    control_character: Error, Syntax(ControlCharacter);
    control_needs_channels: Warning, Item[Setup];
    control_needs_range_or_positions: Warning, Item[Machine];
    control_not_set: Warning, Item[Setup];
    control_out_of_range: Error, Item[Setup];
    control_step_missing: Error, Item[Machine];
    control_taken_twice: Error, Item[Machine];
    correction_below_tolerance: Note, Item[Rotor];
    correction_beyond_capacity: Warning, Item[Setup Record];
    correction_in_the_wrong_sense: Warning, Item[Record];
    correction_not_as_called_for: Warning, Item[Record];
    correction_of_another_run: Warning, Item[Record];
    correction_where_barred: Warning, Item[Record];
    curly_quotes: Error, Syntax(CurlyQuotes);
    date_spelling: Error, Syntax(DateSpelling);
    datum_missing: Note, Item[Rotor];
    decimal_comma: Error, Syntax(DecimalComma);
    density_implausible: Warning, Item[Material Rotor];
    depth_and_mass_disagree: Warning, Item[Record];
    diameter_as_radius: Warning, Item[Rotor];
    diameter_as_radius_in_calibration: Warning, Item[Setup];
    digit_grouping: Error, Syntax(DigitGrouping);
    division_by_zero: Error, Fact(DivisionByZero);
    error_spends_tolerance: Warning, Item[Record];
    exponent_out_of_range: Error, Syntax(ExponentOutOfRange);
    fact_and_pin: Error, Fact(FactAndPin);
    fact_outside_a_block: Error, Syntax(FactOutsideBlock);
    facts_disagree: Error, Item[Setup Rotor Record];
    fit_spends_tolerance: Error, Item[Rotor];
    force_too_high: Warning, Item[Setup];
    format_newer: Error, Book;
    four_runs_disagree: Warning, Item[Setup];
    full_width_character: Error, Syntax(FullWidthCharacter);
    given_twice: Error, Fact(GivenTwice);
    grade_far_from_others: Note, Book;
    grade_spelling: Error, Syntax(GradeSpelling);
    grade_unusual: Note, Item[Rotor];
    half_key_missing: Warning, Item[Rotor];
    heading_shape: Error, Syntax(HeadingShape);
    heavy_spot_contradicted: Error, Item[Setup];
    hidden_character: Error, Syntax(HiddenCharacter);
    hole_breaks_the_edge: Warning, Item[Rotor];
    hole_deeper_than_axis: Error, Item[Rotor];
    hole_deeper_than_wall: Error, Item[Rotor];
    hole_direction_unsaid: Warning, Item[Rotor];
    holes_overlap: Warning, Item[Rotor];
    inch_mark: Error, Syntax(InchMark);
    indicates_missing: Warning, Item[Setup];
    inertia_impossible: Error, Item[Rotor];
    inherited_nothing: Warning, Item[Setup];
    interference_too_high: Warning, Item[Setup];
    journal_does_not_fit: Error, Item[Setup];
    journal_loads_missing: Error, Item[Rotor];
    junk_line: Error, Syntax(JunkLine);
    key_convention_mixed: Warning, Item[Rotor];
    key_needs_name: Error, Fact(KeyNeedsName);
    layout_named_twice: Error, Item[Machine];
    layout_without_position: Warning, Item[Setup];
    left_for_assembly_nothing: Warning, Item[Rotor];
    letter_in_number: Error, Syntax(LetterInNumber);
    like_dropped: Note, Item[Setup];
    like_in_a_circle: Error, Item[Setup];
    limit_changed_since: Note, Item[Record];
    limits_not_wanted: Error, Fact(LimitsNotWanted);
    machine_tested_since: Note, Item[Record];
    mark_without_scale: Error, Item[Setup Record];
    marks_not_whole: Warning, Item[Machine];
    mass_centre_implausible: Warning, Item[Rotor];
    mass_centre_missing: Note, Item[Rotor];
    mass_centre_outside_bearings: Warning, Item[Rotor];
    mass_known_too_poorly: Warning, Item[Setup];
    mass_not_in_set: Note, Item[Setup];
    mass_of_parts_disagrees: Warning, Item[Rotor];
    material_missing: Warning, Item[Rotor];
    method_contradicts_correct: Error, Item[Rotor];
    misplaced_block: Error, Syntax(MisplacedBlock);
    missing_fact: Error, Item[Shop Material Masses Machine Arbor Rotor Setup Record];
    missing_operand: Error, Syntax(MissingOperand);
    missing_unit: Error, Fact(MissingUnit);
    missing_value: Error, Syntax(MissingValue);
    mixed_fraction: Error, Syntax(MixedFraction);
    motor_speed_not_on_machine: Error, Item[Setup];
    name_is_a_key: Note, Item[Rotor Setup];
    name_needs_quotes: Error, Fact(NameNeedsQuotes);
    name_of_other_kind: Error, Item[Arbor Machine Rotor Setup Record];
    name_used_twice: Error, Book;
    needs_quotes: Error, Fact(NeedsQuotes);
    no_run_after_correction: Note, Item[Record];
    no_shop: Note, Book;
    no_such_day: Error, Fact(NoSuchDay);
    not_finite: Error, Fact(NotFinite);
    not_known: Note, Item(ITEMS_WITH_PINS);
    not_pre_balanced: Warning, Item[Setup];
    not_utf_8: Error, File;
    not_whole: Error, Fact(NotWhole);
    off_by_a_familiar_factor: Warning, Item[Rotor];
    operands_differ: Error, Fact(OperandsDiffer);
    operator_spelling: Error, Syntax(OperatorSpelling);
    operator_without_spaces: Error, Syntax(OperatorWithoutSpaces);
    out_of_range: Error, Fact(OutOfRange);
    part_not_within: Warning, Item[Rotor];
    part_place_missing: Note, Item[Rotor];
    part_without_setup: Note, Item[Rotor];
    part_without_tolerance: Warning, Item[Rotor];
    pin_names_no_result: Error, Item(ITEMS_WITH_PINS);
    pin_not_computed: Error, Item(ITEMS_WITH_PINS);
    pin_of_other_dimension: Error, Item(ITEMS_WITH_PINS);
    pinned_result_stale: Error, Item(ITEMS_WITH_PINS);
    place_not_there: Error, Item[Rotor Record];
    places_leave_a_gap: Warning, Item[Rotor];
    plane_beyond_rotor: Warning, Item[Rotor];
    plane_left_unread: Warning, Item[Record];
    plane_leverage: Warning, Item[Rotor];
    plane_named_like_a_bearing: Error, Item[Rotor];
    plane_read_twice: Error, Item[Setup];
    plane_tolerance_breaks_bearing: Warning, Item[Rotor];
    planes_act_alike: Warning, Item[Setup];
    planes_alike: Error, Item[Rotor];
    planes_close_on_hard_supports: Note, Item[Setup];
    planes_close_together: Note, Item[Rotor];
    planes_count_disagrees: Warning, Item[Rotor];
    planes_more_than_two: Warning, Item[Rotor];
    point_without_digits: Error, Syntax(PointWithoutDigits);
    point_without_zero: Error, Syntax(PointWithoutZero);
    position_unknown: Error, Item[Setup];
    pre_balance_above_full_scale: Warning, Item[Setup];
    proof_and_as_run: Error, Item[Record];
    proof_leaves_facts_out: Warning, Item[Setup];
    proof_mass_misread: Warning, Item[Setup];
    proof_rewritten: Error, Versions;
    quote_inside_text: Error, Syntax(EscapedQuote);
    radius_beyond_swing: Error, Item[Setup];
    radius_known_too_poorly: Warning, Item[Setup];
    radius_missing_in_plane: Note, Item[Rotor];
    range_reversed: Error, Fact(RangeReversed);
    reading_not_in_proportion: Warning, Item[Setup];
    reading_of_other_dimension: Error, Item[Setup Record];
    reading_off_scale: Error, Item[Setup Record];
    reading_too_low: Warning, Item[Setup];
    readout_sense_unsaid: Warning, Item[Machine];
    readout_unit_mismatch: Error, Item[Machine];
    record_after_service: Error, Item[Record];
    record_before_proof: Warning, Item[Record];
    record_not_bound: Note, Item[Record];
    record_of_another_part: Error, Item[Rotor];
    record_of_other_revision: Warning, Item[Record];
    released_with_a_hole: Error, Item[Setup];
    released_without_pins: Warning, Item[Setup];
    released_without_proof: Error, Item[Setup];
    released_without_revision: Warning, Item[Setup];
    remounting_spends_tolerance: Warning, Item[Setup];
    residual_not_stated: Note, Item[Setup];
    residual_spoils_calibration: Warning, Item[Setup];
    rotor_made_of_itself: Error, Item[Rotor];
    rotor_too_heavy: Error, Item[Setup];
    rotor_too_large: Error, Item[Setup];
    rotor_too_light: Warning, Item[Setup];
    rotor_without_tolerance: Warning, Item[Rotor];
    run_not_as_foretold: Warning, Item[Record];
    run_speed_unsaid: Warning, Item[Setup Record];
    runout_needs_inertia: Note, Item[Rotor];
    runs_disagree: Warning, Item[Record];
    safe_speed_unknown: Warning, Item[Setup];
    seat_on_arbor_unsaid: Warning, Item[Record];
    service_on_the_day_of_proof: Note, Item[Setup];
    service_speed_above_safe: Error, Item[Rotor];
    service_speed_implausible: Warning, Item[Rotor];
    service_speed_missing: Error, Item[Rotor];
    service_speed_near_critical: Warning, Item[Rotor];
    settings_out_of_panel_order: Note, Item[Setup];
    severity_without_reason: Error, Item[Shop];
    shop_not_at_root: Warning, Book;
    shop_twice: Error, Book;
    smallest_correction_above_tolerance: Note, Item[Rotor];
    space_in_unit: Error, Syntax(SpaceInUnit);
    specific_unbalance_implausible: Warning, Item[Rotor];
    speed_not_on_machine: Error, Item[Setup];
    speed_out_of_band: Warning, Item[Setup Record];
    speed_with_three_decimals: Warning, Item[Machine Rotor Setup Record];
    start_not_regained: Warning, Item[Setup];
    stray_close: Error, Syntax(StrayClose);
    supports_do_not_fit: Error, Item[Setup];
    supports_missing: Warning, Item[Setup];
    text_after_brace: Error, Syntax(TextAfterBrace);
    text_after_value: Error, Syntax(TextAfterValue);
    text_around_close: Error, Syntax(TextAroundClose);
    tolerance_below_one_step: Warning, Item[Setup];
    tolerance_below_residual: Warning, Item[Setup];
    tolerance_incomplete: Warning, Item[Rotor];
    tolerance_loosened: Error, Item[Rotor];
    tolerance_missing_bearings: Note, Item[Rotor];
    tolerance_off_its_mark: Warning, Item[Setup];
    tolerance_reads_missing: Error, Item[Setup];
    tolerance_reads_not_wanted: Warning, Item[Setup];
    tolerance_rules_disagree: Note, Item[Rotor];
    tolerance_without_source: Warning, Item[Rotor];
    too_deep: Error, Syntax(TooDeep);
    too_many_digits: Error, Syntax(TooManyDigits);
    traverse_beyond_band: Warning, Item[Record];
    traverse_contradicts_run: Warning, Item[Record];
    traverse_mass_too_small: Warning, Item[Record];
    traverse_readings_and_places: Error, Item[Record];
    trial_angle_missing: Error, Item[Setup];
    trial_mass_left_unsaid: Warning, Item[Setup];
    trial_too_weak: Warning, Item[Setup];
    trials_contradict_calibration: Warning, Item[Setup];
    trials_leave_two_answers: Warning, Item[Setup];
    two_channels_expected: Error, Item[Machine];
    unclosed_block: Error, Syntax(UnclosedBlock);
    unclosed_parenthesis: Error, Syntax(UnclosedParenthesis);
    unclosed_quote: Error, Syntax(UnclosedQuote);
    unfinished_line: Error, Syntax(UnfinishedLine);
    unit_not_wanted: Error, Fact(UnitNotWanted);
    unit_of_other_dimension: Error, Fact(UnitOfOtherDimension);
    unit_spelling: Error, Syntax(UnitSpelling);
    unit_without_space: Error, Syntax(UnitWithoutSpace);
    units_of_one_dimension: Error, Fact(UnitsOfOneDimension);
    unknown_channel: Error, Item[Setup Record];
    unknown_choice: Error, Fact(UnknownChoice);
    unknown_code: Warning, Item[Shop];
    unknown_control: Warning, Item[Setup];
    unknown_extra_mass: Error, Item[Record];
    unknown_instrument: Error, Item[Setup Record];
    unknown_key: Error, Fact(UnknownKey);
    unknown_kind: Error, Syntax(UnknownKind);
    unknown_name: Error, Item[Arbor Machine Rotor Setup Record];
    unknown_plane: Error, Item[Rotor Setup Record];
    unknown_proof: Error, Item[Record];
    unknown_run: Error, Item[Record];
    unknown_scale: Error, Item[Setup Record];
    unknown_unit: Error, Fact(UnknownUnit);
    verdict_not_known: Warning, Item[Record];
    verdict_not_shown: Warning, Item[Record];
    verdict_over: Warning, Item[Record];
    weighed_and_stated_mass_disagree: Warning, Item[Rotor];
    weighing_places_alike: Error, Item[Rotor];
    works_against_supports: Warning, Item[Machine];
    wrong_count: Error, Fact(WrongCount);
    wrong_dimension: Error, Fact(WrongDimension);
    wrong_form: Error, Fact(WrongForm);
    wrong_key_too_much: Note, Item[Rotor];
}

/// The codes that were. A rank that a shop gives one of them holds for what it is called now.
pub const FORMER: &[Former] = &[
    Former {
        name: "couple-not-judged",
        became: crate::vocabulary::Became::Retired("every stated limit is judged, and no other"),
        since: "0.1.0",
    },
    Former {
        name: "rotation-without-view",
        became: crate::vocabulary::Became::Retired("`rotation` itself names the end it is seen from"),
        since: "0.1.0",
    },
    #[cfg(test)]
    Former { name: "two-planes-alike", became: crate::vocabulary::Became::Renamed("planes-alike"), since: "0.1.0" },
    #[cfg(test)]
    Former {
        name: "sheet-too-long",
        became: crate::vocabulary::Became::Retired("no sheet is too long"),
        since: "0.1.0",
    },
];

/// The name of a file as a code: `unknown-plane` for `unknown_plane`.
const fn code<const N: usize>(name: &str) -> [u8; N] {
    let (name, mut code) = (name.as_bytes(), [b'-'; N]);
    let mut at = 0;
    while at < N {
        if name[at] != b'_' {
            code[at] = name[at];
        }
        at += 1;
    }
    code
}

const fn words(code: &'static [u8]) -> &'static str {
    match std::str::from_utf8(code) {
        Ok(words) => words,
        Err(_) => panic!("the name of a rule is ASCII"),
    }
}

/// The first line of a page, without its `# `.
const fn heading(page: &'static str) -> &'static str {
    let mut end = 0;
    while page.as_bytes()[end] != b'\n' {
        end += 1;
    }
    page.split_at(end).0.split_at("# ".len()).1
}

const fn since(said: &[&'static str]) -> &'static str {
    if said.is_empty() { FIRST } else { said[0] }
}

/// What became of a code that is no longer in use.
pub fn former_code(code: &str) -> Option<&'static Former> {
    FORMER.iter().find(|former| former.name == code)
}
