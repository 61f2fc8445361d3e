//! Pinned results: compared with what is computed, to the digits that are written, and written again.

use super::context::ItemContext;
use super::factors::familiar;
use super::pin_text::{self, Written};
use crate::book::is_read_whole;
use crate::book::{self, Column, EffectiveBlock, Entry, FileId, Missing, Outcome};
use crate::sheet::{Pin, PinValue, Stated, nearest};
use crate::syntax::Kind;
use crate::text::Span;
use crate::units::{self, Amount, Dimension, Unit};
use crate::vocabulary::{self, result, setup};

/// How a pin stands to its result.
#[derive(Clone, PartialEq, Debug)]
pub enum PinState {
    Fresh,
    /// `computed` is what to tell people, in the pin's unit; `refreshed` is what to write at the pin's value; `remark`
    /// reads on after `computed` and may be empty.
    Stale {
        computed: String,
        refreshed: String,
        remark: String,
    },
    /// The block has no result of this name.
    Unknown {
        block: Kind,
        suggestion: Option<&'static str>,
    },
    /// The result is a hole, for this reason.
    NotComputed {
        why: String,
        /// The reason stands elsewhere as a diagnostic of its own.
        reported: bool,
    },
    /// The pin's own value could not be read, which is reported where it is.
    Hole,
    /// `?` stands there, to be replaced by this.
    Open {
        filled: String,
    },
    /// The pin is of another dimension or form than its result; `found` says what it is: `a mass`, `words`.
    WrongDimension {
        found: String,
        computed: String,
        refreshed: String,
    },
}

/// The pins of an item, in the order of its blocks, with how each stands. Facts and pins of other items, taken over
/// through `like`, are not among them.
pub fn pins<'b>(context: &ItemContext<'b, '_>) -> Vec<(&'b Pin, PinState)> {
    let mut found = Vec::new();
    collect(context, context.effective(), &mut found);
    found.sort_by_key(|(pin, _)| pin.head);
    found
}

fn collect<'b>(context: &ItemContext<'b, '_>, block: &EffectiveBlock<'b>, found: &mut Vec<(&'b Pin, PinState)>) {
    if let Some(own) = block.own {
        found.extend(own.pins.iter().map(|pin| (pin, state(context, block, pin))));
    }
    for inner in &block.blocks {
        collect(context, inner, found);
    }
}

fn state(context: &ItemContext<'_, '_>, block: &EffectiveBlock<'_>, pin: &Pin) -> PinState {
    let names = || vocabulary::results_of(block.kind).map(|result| result.name);
    if !vocabulary::results_of(block.kind).any(|result| result.answers_to(&pin.name)) {
        return PinState::Unknown { block: block.kind, suggestion: nearest(&pin.name, names()) };
    }
    let Some(entry) = entry_of(context, block, &pin.name) else {
        // A fact of the same name beside it is a diagnostic of its own.
        let stated = block.own.is_some_and(|own| own.fields.iter().any(|field| book::head_of(field) == *pin.name));
        let is_verdict = [&result::VERDICT, &result::VERDICT_AT].into_iter().any(|spec| spec.answers_to(&pin.name));
        let is_open = is_verdict && super::open_verdict::why(context).is_some();
        let (why, said) = why_not(context, block, &pin.name);
        let is_open = is_open || pin.value == PinValue::Unknown;
        return PinState::NotComputed { why, reported: stated || is_open || said || !context.is_read_whole() };
    };
    if pin.value == PinValue::Hole {
        return PinState::Hole;
    }
    let text = &context.book().file(context.id.file).text;
    let written = Written::of(text, pin.value_span);
    match &entry.outcome {
        Outcome::Missing(missing) => PinState::NotComputed {
            why: book::text_of(context.book(), entry).trim_start_matches("not computed: ").to_owned(),
            reported: pin.value == PinValue::Unknown || is_reported(context, missing),
        },
        // What is void is to be mended, not to be kept.
        Outcome::Void(why) if pin.value == PinValue::Unknown => {
            PinState::NotComputed { why: why.to_string(), reported: true }
        }
        outcome if pin.value == PinValue::Unknown => {
            let table = || super::pin_text::words(&book::text_of(context.book(), entry), true);
            PinState::Open { filled: pin_text::filled(outcome, step_of(context, entry)).unwrap_or_else(table) }
        }
        Outcome::Vector { base, angle, unit, standard, .. } => {
            let computed = Computed { base: *base, unit: *unit, standard: *standard, angle: Some(*angle) };
            compare(pin, &written, &computed)
        }
        Outcome::Direction { angle, standard, .. } => {
            let computed = Computed { base: *angle, unit: Unit::DEGREE, standard: *standard, angle: None };
            compare(pin, &written, &computed)
        }
        Outcome::ToSet { base, unit, decimals, .. } => {
            compare_to_set(pin, (*base, *unit), book::to_set_text(*base, *unit, *decimals))
        }
        Outcome::Count(count) => {
            let computed = Computed { base: f64::from(*count), unit: Unit::ONE, standard: 0.0, angle: None };
            compare(pin, &written, &computed)
        }
        Outcome::Words(words) | Outcome::Void(words) => {
            unless_open(context, block, pin, compare_words(text, pin, words))
        }
        Outcome::Table { columns, .. } => compare_table(context, pin, entry, columns),
        Outcome::Amount { base, unit, standard } => {
            let computed = Computed { base: *base, unit: *unit, standard: *standard, angle: None };
            compare(pin, &written, &computed)
        }
    }
}

/// The smallest difference that the readout shows, where the result is a reading on it.
fn step_of(context: &ItemContext<'_, '_>, entry: &Entry) -> Option<f64> {
    let is_reading = entry.is(&result::READING) || entry.is(&result::CHECK_READING);
    let readout = context.setup().filter(|_| is_reading)?.machine.as_ref()?.readout.as_ref()?;
    readout.smallest_step.get().map(Amount::raw)
}

/// What is pinned as a verdict, or as its reasons, stands where only a missing fact makes it another one.
fn unless_open(context: &ItemContext<'_, '_>, block: &EffectiveBlock<'_>, pin: &Pin, state: PinState) -> PinState {
    let is_judged = block.kind == Kind::Record
        && [&result::VERDICT, &result::REASONS].into_iter().any(|result| result.answers_to(&pin.name));
    match state {
        PinState::Stale { .. } if is_judged => match super::open_verdict::why(context) {
            // `verdict-not-known`, or the line that could not be read, says so where it is.
            Some(why) => PinState::NotComputed { why, reported: true },
            None => state,
        },
        state => state,
    }
}

/// Why a block has no result of this name, and whether a diagnostic of its own says so.
fn why_not(context: &ItemContext<'_, '_>, block: &EffectiveBlock<'_>, name: &str) -> (String, bool) {
    let same = || {
        let all = context.computed.not_computed().iter();
        all.filter(|one| one.path == block.path && one.answers_to(name))
    };
    let of_this_one = same().find(|one| is_inside(context, block, one.place) && one.of.is_some());
    let here = of_this_one.or_else(|| same().find(|one| is_inside(context, block, one.place)));
    match here.or_else(|| same().next()) {
        Some(one) => {
            let said = one.why.missing().is_some_and(|missing| is_reported(context, missing));
            (one.why.words(context.book()), said)
        }
        // The block has the result, of others.
        None => ("no plane, bearing, channel or control of this name has it here".to_owned(), false),
    }
}

fn is_reported(context: &ItemContext<'_, '_>, missing: &Missing) -> bool {
    missing.is_reported()
        || missing.origin.name == setup::TOLERANCE_READS.words()
        || !is_read_whole(context.book(), missing.origin.item)
}

/// Whether a place is in what the item itself writes of a block.
fn is_inside(context: &ItemContext<'_, '_>, block: &EffectiveBlock<'_>, (file, span): (FileId, Span)) -> bool {
    block.own.is_some_and(|own| file == context.id.file && own.span.start <= span.start && span.end <= own.span.end)
}

/// The entry of a result in this very block; an assembly may have two parts of one name.
fn entry_of<'c>(context: &ItemContext<'_, 'c>, block: &EffectiveBlock<'_>, name: &str) -> Option<&'c Entry> {
    let same = || context.computed.entries().iter().filter(|entry| entry.path == block.path && entry.name() == name);
    same().find(|entry| is_inside(context, block, entry.place)).or_else(|| same().next())
}

/// A computed amount, with an angle where the result is a vector. In base units of `unit`; the angle in radians.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Computed {
    pub base: f64,
    pub unit: Unit,
    /// Standard uncertainty.
    pub standard: f64,
    pub angle: Option<f64>,
}

/// Compares a pin with the amount that is computed.
pub fn compare(pin: &Pin, written: &Written<'_>, computed: &Computed) -> PinState {
    let (amount, angle) = match &pin.value {
        PinValue::Hole | PinValue::Unknown => return PinState::Hole,
        PinValue::Words(_) => return other_form("words".to_owned(), computed),
        PinValue::Amount(amount) => (amount, None),
        PinValue::Vector { amount, angle } => (amount, Some(angle)),
    };
    if amount.dimension() != computed.unit.dimension() {
        return other_form(super::wording::a_dimension(&[amount.dimension()]), computed);
    }
    match (angle, computed.angle) {
        (Some(_), None) => return other_form("an amount at an angle".to_owned(), computed),
        (None, Some(_)) => return other_form("an amount without its angle".to_owned(), computed),
        _ => {}
    }
    let angle = angle.zip(computed.angle);
    let fresh = amount_is_fresh(amount, computed)
        && written.limits().is_none_or(|limits| limits_are_fresh(limits, amount, computed))
        && angle.is_none_or(|(angle, computed_angle)| {
            rounds_to_zero(amount, computed.base) || angle_is_fresh(angle, computed_angle)
        });
    if fresh {
        return PinState::Fresh;
    }
    let refreshed = written.refreshed(amount.unit, computed);
    PinState::Stale { computed: in_unit_of(amount, computed), remark: remark(amount, computed, &refreshed), refreshed }
}

/// How a stale pin came about, where its number tells: it was cut off and not rounded, or it is off by a factor.
fn remark(written: &Stated, computed: &Computed, refreshed: &str) -> String {
    let apart = (computed.base - written.base).abs();
    if computed.angle.is_none() && apart > written.half_step && apart <= 2.0 * written.half_step * (1.0 + 1e-9) {
        return format!(", which rounds to {refreshed}");
    }
    let coarseness = written.half_step / written.base.abs();
    let unbalance = written.dimension() == Dimension::UNBALANCE && computed.angle.is_none();
    let factor = unbalance.then(|| familiar(written.base, computed.base, coarseness)).flatten();
    factor.map_or_else(String::new, |factor| {
        format!("; they differ by a factor of {}, as with {}", factor.written, factor.slip)
    })
}

/// What a control is set to stands as a whole number of its steps, whatever digits are written.
fn compare_to_set(pin: &Pin, (base, unit): (f64, Unit), text: String) -> PinState {
    let wrong = |found| PinState::WrongDimension { found, computed: text.clone(), refreshed: text.clone() };
    match &pin.value {
        PinValue::Hole | PinValue::Unknown => PinState::Hole,
        PinValue::Words(_) => wrong("words".to_owned()),
        PinValue::Vector { .. } => wrong("an amount at an angle".to_owned()),
        PinValue::Amount(amount) if amount.dimension() == Dimension::NONE => {
            wrong("a number without a unit".to_owned())
        }
        PinValue::Amount(amount) if amount.dimension() != unit.dimension() => {
            wrong(super::wording::a_dimension(&[amount.dimension()]))
        }
        PinValue::Amount(amount) if (amount.base - base).abs() <= 1e-9 * base.abs() => PinState::Fresh,
        PinValue::Amount(_) => PinState::Stale { computed: text.clone(), refreshed: text, remark: String::new() },
    }
}

/// Half a step of the last written decimal, and a billionth of the value for the noise of conversions.
fn amount_is_fresh(written: &Stated, computed: &Computed) -> bool {
    (computed.base - written.base).abs() <= written.half_step + 1e-9 * computed.base.abs().max(written.base.abs())
}

/// `± …` in a pin is the expanded uncertainty with k = 2: in a unit, or as a share of the value.
fn limits_are_fresh(limits: super::pin_text::LimitsText, amount: &Stated, computed: &Computed) -> bool {
    let expanded = limits.expanded(amount.unit, computed);
    if !expanded.is_finite() {
        return true;
    }
    (expanded - limits.value).abs() <= limits.half_step + 1e-9 * expanded.max(limits.value)
}

/// Compared modulo one turn.
fn angle_is_fresh(written: &Stated, computed: f64) -> bool {
    let turn = std::f64::consts::TAU;
    let apart = (written.base - computed).rem_euclid(turn);
    apart.min(turn - apart) <= written.half_step + 1e-9 * turn
}

/// An amount that reads zero has no angle.
fn rounds_to_zero(written: &Stated, computed: f64) -> bool {
    computed.abs() <= written.half_step
}

fn in_unit_of(amount: &Stated, computed: &Computed) -> String {
    let unit = amount.unit;
    let expanded = (computed.standard > 0.0).then(|| 2.0 * computed.standard / unit.factor());
    with_angle(units::quantity(unit.from_base(computed.base), &unit.to_string(), expanded), computed.angle)
}

fn with_angle(amount: String, angle: Option<f64>) -> String {
    match angle {
        Some(angle) => format!("{amount} @ {}", units::quantity(angle.to_degrees().rem_euclid(360.0), "deg", None)),
        None => amount,
    }
}

fn other_form(found: String, computed: &Computed) -> PinState {
    let unit = book::display_unit(computed.base, computed.unit);
    PinState::WrongDimension {
        found,
        computed: with_angle(book::display_value(computed.base, computed.unit, computed.standard), computed.angle),
        refreshed: with_angle(book::display_value(computed.base, unit, 0.0), computed.angle),
    }
}

/// Text and choices compare exactly, whether they are quoted or not.
fn compare_words(text: &str, pin: &Pin, words: &str) -> PinState {
    let written = match &pin.value {
        PinValue::Words(written) => written.to_string(),
        _ => pin.value_span.of(text).split_whitespace().collect::<Vec<_>>().join(" "),
    };
    if written == words {
        return PinState::Fresh;
    }
    let was_quoted = pin.value_span.of(text).starts_with('"');
    let refreshed = super::pin_text::words(words, was_quoted);
    PinState::Stale { computed: words.to_owned(), refreshed, remark: String::new() }
}

/// A whole table is compared as it is printed.
fn compare_table(context: &ItemContext<'_, '_>, pin: &Pin, entry: &Entry, columns: &[Column]) -> PinState {
    let table = book::text_of(context.book(), entry);
    match &pin.value {
        PinValue::Words(written) if **written == *table => PinState::Fresh,
        PinValue::Words(_) => {
            PinState::Stale { refreshed: super::pin_text::words(&table, true), computed: table, remark: String::new() }
        }
        PinValue::Amount(amount) | PinValue::Vector { amount, .. } => PinState::WrongDimension {
            found: found_beside(amount.dimension(), columns.len()),
            refreshed: super::pin_text::words(&table, true),
            computed: table,
        },
        PinValue::Hole | PinValue::Unknown => PinState::Hole,
    }
}

fn found_beside(dimension: Dimension, columns: usize) -> String {
    format!("{} where a table of {columns} columns stands", super::wording::a_dimension(&[dimension]))
}
