//! What each rule weighs and looks at, a line a rule.

use crate::check::diagnostic::Severity;
use crate::check::rule::{Rule, Run};
use crate::sheet::FactProblemOf;
use crate::syntax::{Kind, SyntaxErrorKind};

/// The version since which a code is known, where its line in the table does not say so.
const FIRST: &str = "0.1.0";

/// Makes each line of the table a rule: its code is the name of its file, its page stands beside that, and its title is
/// the heading of the page. `Item`, `Book`: what it judges. `Syntax`, `Fact`, `File`: what it says in words. `Versions`:
/// `diff` finds it. `HARMFUL`: what it finds can hurt somebody once the drive starts.
macro_rules! rules {
    ($($rule:ident: $severity:ident $($harmful:ident)?, $run:ident $(($of:ident))? $([$($kind:ident)+])? $(, since $since:literal)?;)+) => {
        /// Every rule, by code.
        pub static ALL: &[&Rule] = &[$({
            const NAME: &str = stringify!($rule);
            const CODE: [u8; NAME.len()] = code(NAME);
            const PAGE: &str = include_str!(concat!(stringify!($rule), ".md"));
            &Rule {
                code: words(&CODE),
                severity: Severity::$severity,
                is_harmful: is_said(&[$(stringify!($harmful))?]),
                title: heading(PAGE),
                page: PAGE,
                since: since(&[$($since)?]),
                run: run!($rule $run $($of)? $([$($kind)+])?),
            }
        }),+];
    };
}

macro_rules! run {
    ($rule:ident Item [$($kind:ident)+]) => { Run::Item(&[$(Kind::$kind),+], super::$rule::judge) };
    ($rule:ident Item ALL) => { Run::Item(&Kind::ITEMS, super::$rule::judge) };
    ($rule:ident Book) => { Run::Book(super::$rule::judge) };
    ($rule:ident Versions) => { Run::Versions };
    ($rule:ident File) => { Run::File(super::$rule::say) };
    ($rule:ident Syntax $of:ident) => { Run::Syntax(SyntaxErrorKind::$of, super::$rule::say) };
    ($rule:ident Fact $of:ident) => { Run::Fact(FactProblemOf::$of, super::$rule::say) };
}

rules! {
    amount_and_angle_swapped: Warning, Item[Setup Record];
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
    balancing_speed_above_safe: Error HARMFUL, Item[Setup];
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
    correction_against_its_plane: Warning, Item[Record];
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
    force_too_high: Warning HARMFUL, Item[Setup];
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
    holes_drilled_too_near: Warning, Item[Record];
    holes_overlap: Warning, Item[Rotor];
    inch_mark: Error, Syntax(InchMark);
    indicates_missing: Warning, Item[Setup];
    inertia_impossible: Error, Item[Rotor];
    inherited_nothing: Warning, Item[Setup];
    interference_too_high: Warning, Item[Setup];
    journal_does_not_fit: Error HARMFUL, Item[Setup];
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
    motor_speed_not_on_machine: Error HARMFUL, Item[Setup];
    name_is_a_key: Note, Item[Rotor Setup];
    name_needs_quotes: Error, Fact(NameNeedsQuotes);
    name_of_other_kind: Error, Item[Arbor Machine Rotor Setup Record];
    name_used_twice: Error, Book;
    needs_quotes: Error, Fact(NeedsQuotes);
    no_run_after_correction: Note, Item[Record];
    no_shop: Note, Book;
    no_such_day: Error, Fact(NoSuchDay);
    not_finite: Error, Fact(NotFinite);
    not_known: Note, Item(ALL);
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
    pin_names_no_result: Error, Item(ALL);
    pin_not_computed: Error, Item(ALL);
    pin_of_other_dimension: Error, Item(ALL);
    pinned_result_stale: Error, Item(ALL);
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
    radius_beyond_swing: Error HARMFUL, Item[Setup];
    radius_known_too_poorly: Warning, Item[Setup];
    radius_missing_in_plane: Note, Item[Rotor];
    range_reversed: Error, Fact(RangeReversed);
    reading_not_in_proportion: Warning, Item[Setup];
    reading_of_other_dimension: Error, Item[Setup Record];
    reading_off_scale: Error, Item[Setup Record];
    reading_too_low: Warning, Item[Setup];
    readings_copied: Warning, Book;
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
    revision_goes_back: Error, Versions;
    rotor_lifts_off_support: Error HARMFUL, Item[Setup];
    rotor_made_of_itself: Error, Item[Rotor];
    rotor_too_heavy: Error HARMFUL, Item[Setup];
    rotor_too_large: Error HARMFUL, Item[Setup];
    rotor_too_light: Warning, Item[Setup];
    rotor_without_tolerance: Warning, Item[Rotor];
    run_above_safe_speed: Error, Item[Setup Record];
    run_not_as_foretold: Warning, Item[Record];
    run_reads_like_a_mass: Warning, Item[Record];
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
    speed_not_on_machine: Error HARMFUL, Item[Setup];
    speed_out_of_band: Warning, Item[Setup Record];
    speed_with_three_decimals: Warning, Item[Machine Rotor Setup Record];
    start_not_regained: Warning, Item[Setup];
    stray_close: Error, Syntax(StrayClose);
    supports_do_not_fit: Error HARMFUL, Item[Setup];
    supports_missing: Warning, Item[Setup];
    text_after_brace: Error, Syntax(TextAfterBrace);
    text_after_value: Error, Syntax(TextAfterValue);
    text_around_close: Error, Syntax(TextAroundClose);
    tolerance_below_one_step: Warning, Item[Setup];
    tolerance_below_residual: Warning, Item[Setup];
    tolerance_incomplete: Warning, Item[Rotor Setup];
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
    weights_overlap: Warning, Item[Record];
    works_against_supports: Warning, Item[Machine];
    wrong_count: Error, Fact(WrongCount);
    wrong_dimension: Error, Fact(WrongDimension);
    wrong_form: Error, Fact(WrongForm);
    wrong_key_too_much: Note, Item[Rotor];
}

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

/// Whether a line of the table says a word that it may leave out.
const fn is_said(words: &[&str]) -> bool {
    !words.is_empty()
}

const fn since(said: &[&'static str]) -> &'static str {
    if said.is_empty() { FIRST } else { said[0] }
}
