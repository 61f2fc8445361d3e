//! Facts and results as a card prints them: by the same printers as `show`, and a hole as a hole.

use super::document::{Row, Value};
use super::words::Words;
use crate::book::{self, Book, EffectiveBlock, EffectiveField, Entry, MadeCut, Outcome, Path, Val};
use crate::sheet::{FieldValue, SettingValue};
use crate::units::{Amount, Typed, Unit};
use crate::vocabulary::{Fact, Of, ResultSpec, extra_mass, result};

/// A fact as it is in the sheet; nothing when it is not given.
pub(super) fn fact<T: ?Sized>(book: &Book, block: &EffectiveBlock<'_>, fact: Fact<T>) -> Option<Value> {
    block.field(fact).map(|field| stated(book, field))
}

/// A fact that the card cannot do without.
pub(super) fn wanted<T: ?Sized>(book: &Book, block: &EffectiveBlock<'_>, fact: Fact<T>) -> Value {
    self::fact(book, block, fact).unwrap_or_else(|| missing(block, fact))
}

/// A row for a fact that is given.
pub(super) fn row<T: ?Sized>(
    book: &Book,
    block: &EffectiveBlock<'_>,
    fact: Fact<T>,
    label: &'static str,
) -> Option<Row> {
    self::fact(book, block, fact).map(|value| Row::new(label, value))
}

fn missing<T: ?Sized>(block: &EffectiveBlock<'_>, fact: Fact<T>) -> Value {
    let whose = match block.kind.is_item() {
        true => format!(" in {} ", block.kind),
        false => format!(" in {}", block.kind),
    };
    let words = Words::said(format!("`{fact}` is missing{whose}"));
    Value::Hole(match (block.kind.is_item(), block.name_text()) {
        (true, name) => words.state(quoted(name)),
        (false, "") => words,
        (false, name) => words.say(" ").state(name),
    })
}

pub(super) fn quoted(name: &str) -> String {
    format!("\"{name}\"")
}

pub(super) fn stated(book: &Book, field: EffectiveField<'_>) -> Value {
    match text_of_fact(book, field) {
        Some(text) => Value::text(text),
        None if field.field.value == FieldValue::Unknown => {
            Value::Hole(Words::said(format!("`{}` is not known yet", field.field.key.name)))
        }
        None => Value::Hole(Words::said(format!("`{}` cannot be read", field.field.key.name))),
    }
}

/// A fact as the sheet writes it, without quotes; arithmetic as what it comes to.
pub(super) fn text_of_fact(book: &Book, field: EffectiveField<'_>) -> Option<String> {
    let written = || field.field.value_span.of(&book.file(field.item.file).text).to_owned();
    Some(match &field.field.value {
        FieldValue::Hole | FieldValue::Unknown => return None,
        FieldValue::Text(text) | FieldValue::Setting(SettingValue::Position(text)) => text.to_string(),
        FieldValue::Name(name) => name.text.to_string(),
        FieldValue::Choice(choice) => (*choice).to_owned(),
        FieldValue::Names(names) => names.iter().map(|name| &*name.text).collect::<Vec<_>>().join(", "),
        FieldValue::Quantity(stated) if is_arithmetic(&written()) => {
            book::display_value(stated.base, stated.unit, stated.stated_uncertainty().unwrap_or(0.0))
        }
        _ => written(),
    })
}

/// `1460.0 g, radius 44 mm, at 0 deg, axially at 120 mm; tightened to 20 N·m`: what an extra mass is and where it sits.
pub(super) fn extra_mass(book: &Book, mass: &EffectiveBlock<'_>) -> Words {
    let facts = [
        (extra_mass::MASS.any(), ""),
        (extra_mass::RADIUS.any(), ", radius "),
        (extra_mass::DIAMETER.any(), ", diameter "),
        (extra_mass::ANGLE.any(), ", at "),
        (extra_mass::PLANE.any(), ", in plane "),
        (extra_mass::PLACE.any(), ", at place "),
        (extra_mass::AT.any(), ", axially at "),
        (extra_mass::NOTE.any(), "; "),
    ];
    let said = facts.into_iter().filter_map(|(fact, before)| Some((before, text_of_fact(book, mass.field(fact)?)?)));
    said.fold(Words::default(), |words, (before, text)| words.say(before).state(text))
}

fn is_worked_out(book: &Book, field: EffectiveField<'_>) -> bool {
    matches!(field.field.value, FieldValue::Quantity(_))
        && is_arithmetic(field.field.value_span.of(&book.file(field.item.file).text))
}

/// Spaces stand around the operators of arithmetic alone.
fn is_arithmetic(written: &str) -> bool {
    [" * ", " / ", " + ", " - ", "("].iter().any(|operator| written.contains(operator)) && !written.contains("(k=")
}

/// A quantity that may be stated or worked out: as the sheet writes it, else as the program prints it.
pub(super) fn amount<T: Amount>(
    book: &Book,
    block: Option<&EffectiveBlock<'_>>,
    fact: Fact<T>,
    value: &Val<T>,
) -> Value {
    let field = block.and_then(|block| block.field(fact));
    match field {
        // What arithmetic comes to has digits of its own.
        Some(field) if !field.field.value.is_hole() && !is_worked_out(book, field) => stated(book, field),
        _ => printed(book, value),
    }
}

/// A value as the program prints it, with its uncertainty.
pub(super) fn printed<T: Amount>(book: &Book, value: &Val<T>) -> Value {
    match &value.known {
        Ok(known) => Value::text(book::display_value(known.raw(), value.unit, value.contributions.standard())),
        Err(missing) => Value::Hole(Words::stated(book::why(book, missing))),
    }
}

/// An amount in a unit, without its uncertainty.
pub(super) fn in_unit<T: Amount>(amount: T, unit: Unit) -> String {
    book::display_value(amount.raw(), unit, 0.0)
}

/// A value as it is set or read at the machine: three significant digits, and nothing of how well it is known.
pub(super) fn bare(base: f64, unit: Unit) -> String {
    without_zeros(&book::display_value(base, unit, 0.0))
}

/// The depth of a cut as it is made; less than a step is said as that.
pub(super) fn made(cut: &MadeCut, unit: Unit) -> String {
    let depth = unit.from_base(cut.depth.base());
    match cut.step {
        Some(step) if depth < step * 0.5 => format!("<{step} {unit}"),
        Some(step) => {
            let decimals = (-step.log10()).ceil() as i32;
            without_zeros(&format!("{} {unit}", crate::units::with_decimals(depth, decimals)))
        }
        None => bare(cut.depth.base(), unit),
    }
}

/// The words that order a hole no deeper than the point of the drill.
pub const POINT_ONLY: &str = "the point only";

/// The same as it is ordered: `4.4 mm deep`, `the point only`.
pub(super) fn deep(cut: &MadeCut, unit: Unit) -> String {
    if cut.is_point() { POINT_ONLY.to_owned() } else { format!("{} deep", made(cut, unit)) }
}

/// The two ends of a band, each rounded into it: what is printed is within.
pub(super) fn within<T: Amount>([low, high]: [(T, Unit); 2]) -> [String; 2] {
    let end = |(end, unit): (T, Unit), to_whole: fn(f64) -> f64| {
        let end = unit.from_base(end.raw());
        let step = 10f64.powi(-crate::units::decimals(end, None));
        bare(unit.to_base(to_whole(end / step) * step), unit)
    };
    [end(low, |steps| (steps * (1.0 - 1e-9)).ceil()), end(high, |steps| (steps * (1.0 + 1e-9)).floor())]
}

/// `1 div` of `1.00 div`: nothing is claimed by zeros after the point.
fn without_zeros(text: &str) -> String {
    let (number, rest) = text.split_once(' ').map_or((text, ""), |(number, rest)| (number, rest));
    let short = if number.contains('.') { number.trim_end_matches('0').trim_end_matches('.') } else { number };
    format!("{short} {rest}").trim_end().to_owned()
}

/// The same of a value that may be missing.
pub(super) fn at_the_machine<T: Amount>(book: &Book, value: &Val<T>) -> Value {
    match &value.known {
        Ok(known) => Value::text(bare(known.raw(), value.unit)),
        Err(missing) => Value::Hole(Words::stated(book::why(book, missing))),
    }
}

/// The results of an item, found by where they stand and which they are.
#[derive(Clone, Copy)]
pub(super) struct Results<'a> {
    pub book: &'a Book,
    pub entries: &'a [Entry],
}

impl<'a> Results<'a> {
    pub fn entry(self, path: &Path, spec: &'static ResultSpec) -> Option<&'a Entry> {
        self.entries.iter().find(|entry| entry.is(spec) && entry.path == *path)
    }

    pub fn value(self, path: &Path, spec: &'static ResultSpec) -> Option<Value> {
        self.entry(path, spec).map(|entry| self.value_of(entry))
    }

    /// What is worked out for a control that takes something.
    pub fn to_set(self, control: &str) -> Option<Value> {
        let of = |entry: &&Entry| matches!(&entry.of, Some(Of::Control(name)) if **name == *control);
        let entry = self.entries.iter().filter(|entry| entry.is(&result::SET_TO)).find(of)?;
        Some(self.keyed_in(entry))
    }

    pub fn value_of(self, entry: &Entry) -> Value {
        match &entry.outcome {
            Outcome::Missing(missing) => Value::Hole(Words::stated(book::why(self.book, missing))),
            _ => Value::text(book::text_of(self.book, entry)),
        }
    }

    /// A result as it is set or read at the machine.
    pub fn at_the_machine(self, path: &Path, spec: &'static ResultSpec) -> Option<Value> {
        self.entry(path, spec).map(|entry| self.bare_of(entry))
    }

    pub fn bare_of(self, entry: &Entry) -> Value {
        match entry.outcome {
            Outcome::Amount { base, unit, .. } => Value::text(bare(base, unit)),
            _ => self.value_of(entry),
        }
    }

    /// With all its digits, but nothing of how well they are known.
    fn keyed_in(self, entry: &Entry) -> Value {
        match &entry.outcome {
            Outcome::Missing(_) => self.value_of(entry),
            _ => Value::text(book::printed(self.book, entry).without_uncertainties().to_string()),
        }
    }

    pub fn row(self, path: &Path, spec: &'static ResultSpec, label: &'static str) -> Option<Row> {
        self.value(path, spec).map(|value| Row::new(label, value))
    }
}
