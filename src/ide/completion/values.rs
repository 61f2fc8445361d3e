//! What may come after a colon: choices, units, names, grades, masses of the set.

use super::context::Context;
use super::names::{self, Known};
use super::{Completion, CompletionKind, units};
use crate::book::{self, Computed, EffectiveBlock, SetupResults};
use crate::check;
use crate::ide::actions::masses_of;
use crate::ide::names::Owners;
use crate::ide::results::ByBlock;
use crate::ide::{explain, grades, results};
use crate::sheet::{Block, Expected, FieldValue, SettingValue, Stated, quote};
use crate::syntax::Kind;
use crate::text::Span;
use crate::units::{Amount, Length, Unit, plainly};
use crate::vocabulary::plane::{CorrectBy, Method};
use crate::vocabulary::{Choice, Choices, NameOf, ValueType, calibrate, control, plane, setup};

pub(super) fn at(context: &Context<'_, '_>, expected: &Expected, item: Span) -> Vec<Completion> {
    use ValueType as T;
    let word = context.name_from(item.start);
    let written = context.text(item);
    match expected.value {
        T::Reference(kind) => named(context, names::known(context, NameOf::Item(kind)), word),
        T::Name(of) | T::Names(of) => named(context, names::known(context, of), word),
        T::Positions if expected.key.is(plane::PLACES_USED) => places(context, word),
        T::LineHeads => named_in_quotes(context, line_heads(context), word),
        T::Setting => settings(context, expected, word, item),
        T::Text => Vec::new(),
        _ if context.in_string() => Vec::new(),
        T::Choice(choices) => words(context, choices, Span::new(item.start, context.end_of_word())),
        T::UnitName(dimensions) | T::UnitNames(dimensions) => {
            units::completions(context, expected.key, dimensions, Span::new(item.start, context.end_of_unit()))
        }
        T::Grade => all_grades(context, Span::new(item.start, context.end_of_unit())),
        T::Clock | T::ClockOrAngle if written.is_empty() => clock(item),
        T::Places if written.is_empty() => vec![value("8 from 0 deg", "eight places, the first at 0 deg", item)],
        _ => {
            let mut found = masses(context, expected, item);
            found.extend(amount(context, expected, item));
            found
        }
    }
}

fn value(text: &str, detail: &str, replace: Span) -> Completion {
    Completion { detail: Some(detail.to_owned()), ..Completion::new(text, CompletionKind::Value, replace, text) }
}

fn named(context: &Context<'_, '_>, known: Vec<Known>, replace: Span) -> Vec<Completion> {
    let write = |known: Known| {
        let written = match context.in_string() {
            true => check::quoted(&known.name),
            false => quote::as_value(&known.name),
        };
        names::completion(context, known, replace, written)
    };
    known.into_iter().map(write).collect()
}

/// The numbers of the places of the plane, which need no quotes.
fn places(context: &Context<'_, '_>, replace: Span) -> Vec<Completion> {
    let known = names::places_of_block(context).into_iter().filter(|_| !context.in_string());
    known
        .map(|known| {
            let written = known.name.clone();
            names::completion(context, known, replace, written)
        })
        .collect()
}

fn named_in_quotes(context: &Context<'_, '_>, known: Vec<Known>, replace: Span) -> Vec<Completion> {
    let write = |known: Known| {
        let written = check::quoted(&known.name);
        names::completion(context, known, replace, written)
    };
    known.into_iter().map(write).collect()
}

fn words(context: &Context<'_, '_>, choices: Choices, replace: Span) -> Vec<Completion> {
    // A choice of several words is replaced whole.
    let behind = context.text(Span::new(replace.end, context.place.line.span.end));
    let rest = behind.split('#').next().unwrap_or_default().trim_end();
    let whole = format!("{}{rest}", context.text(replace));
    let replace = match choices.words.contains(&&*whole) {
        true => Span::new(replace.start, replace.end + rest.len() as u32),
        false => replace,
    };
    let choice = |(words, meaning): (&str, &str)| Completion {
        detail: Some(meaning.to_owned()),
        rank: u8::from(is_against_sense(context, words)),
        ..Completion::new(words, CompletionKind::Choice, replace, words)
    };
    choices.explained().map(choice).collect()
}

/// Whether a method of correction does the contrary of what the plane is to be corrected by.
fn is_against_sense(context: &Context<'_, '_>, words: &str) -> bool {
    let plane = context.blocks.as_ref().map(|blocks| blocks.innermost()).filter(|block| block.kind == Kind::Plane);
    let correct = plane.and_then(|plane| plane.choice(plane::CORRECT));
    match (correct, Method::of(words).map(Method::does)) {
        (Some(CorrectBy::Add), Some(does)) => does == CorrectBy::Remove,
        (Some(CorrectBy::Remove), Some(does)) => does == CorrectBy::Add,
        _ => false,
    }
}

/// The grades that the book uses most often, then those that are usual in most shops.
fn all_grades(context: &Context<'_, '_>, replace: Span) -> Vec<Completion> {
    let used = grades::used(context.book);
    let mut all: Vec<_> = grades::all().collect();
    all.sort_by_key(|(grade, _)| {
        let count = used.iter().filter(|one| (*one / grade).ln().abs() < 1e-9).count();
        (std::cmp::Reverse(count), grades::commonness(*grade))
    });
    let grade = |(grade, rotors): (f64, &str)| {
        let text = format!("G {}", plainly(grade));
        let completion = Completion::new(text.clone(), CompletionKind::Grade, replace, text);
        let documentation = Some(format!("Usual for {rotors}\n\n*Source: {}*", grades::SOURCE));
        Completion { detail: Some(rotors.to_owned()), documentation, ..completion }
    };
    all.into_iter().map(grade).collect()
}

fn clock(replace: Span) -> Vec<Completion> {
    [12, 3, 6, 9].iter().map(|hour| value(&format!("{hour} o'clock"), "as seen", replace)).collect()
}

/// Heads of the lines of the other setup, which may be left out here.
fn line_heads(context: &Context<'_, '_>) -> Vec<Known> {
    let Some(id) = context.item() else { return Vec::new() };
    let like = context.book.item(id).field(setup::LIKE).map(|field| &field.value);
    let Some(FieldValue::Name(name)) = like else { return Vec::new() };
    let Ok(other) = context.book.find(Kind::Setup, &name.text) else { return Vec::new() };
    let (block, _) = book::effective(context.book, other);
    let facts = block.fields.iter().filter(|field| field.field.key.inherited).map(|field| book::head_of(field.field));
    let blocks = block.blocks.iter().map(|inner: &EffectiveBlock<'_>| book::heading(inner.written));
    let detail = format!("of {}", name.text);
    let known = |name| Known { name, detail: detail.clone(), about: None, is_obsolete: false };
    facts.chain(blocks).map(known).collect()
}

/// The control of the machine that a line sets.
fn control<'b>(context: &Context<'_, 'b>, expected: &Expected) -> Option<&'b Block> {
    let name = expected.name.as_ref()?;
    let machine = Owners::new(context.book, context.item()?).machine?;
    context.book.item(machine).inner(Kind::Control).find(|control| control.name_text() == &*name.text)
}

/// The positions of a switch, and `as found`.
fn settings(context: &Context<'_, '_>, expected: &Expected, word: Span, item: Span) -> Vec<Completion> {
    let control = control(context, expected);
    let positions = match control.and_then(|control| control.field(control::POSITIONS)).map(|field| &field.value) {
        Some(FieldValue::Names(names)) => names.iter().map(|name| &*name.text).collect(),
        _ => Vec::new(),
    };
    let mut found: Vec<Completion> = Vec::new();
    for position in positions {
        let written = match context.in_string() {
            true => check::quoted(position),
            false => position_as_written(position),
        };
        let filter = context.in_string().then(|| check::quoted(position));
        found.push(Completion { filter, ..Completion::new(position, CompletionKind::Choice, word, written) });
    }
    if !context.in_string() {
        let completion = Completion::new(
            SettingValue::AS_FOUND,
            CompletionKind::Choice,
            Span::new(item.start, word.end),
            SettingValue::AS_FOUND,
        );
        found.push(Completion { detail: Some("left as it is at the machine".to_owned()), ..completion });
        found.extend(amount(context, expected, item));
    }
    found
}

/// Positions and places may be plain numbers without quotes, as well as words.
fn position_as_written(position: &str) -> String {
    let number = position.chars().all(|c| c.is_ascii_digit());
    if number { position.to_owned() } else { quote::as_value(position) }
}

/// After a number its unit; after a unit what joins it to the next number.
fn amount(context: &Context<'_, '_>, expected: &Expected, item: Span) -> Vec<Completion> {
    let before = context.text(Span::new(item.start, context.offset));
    let unit = before.rfind([' ', '\t']).map_or(0, |at| at + 1);
    let (number, typed) = before.split_at(unit);
    let words = number.trim_end();
    let replace = Span::new(context.offset - typed.len() as u32, context.end_of_unit());
    if words.ends_with(|c: char| c.is_ascii_digit()) && !typed.starts_with(|c: char| c.is_ascii_digit()) {
        let range = control(context, expected).filter(|_| expected.value == ValueType::Setting);
        if let Some(units) = range.and_then(|control| units::of_range(&control.field(control::RANGE)?.value, replace)) {
            return units;
        }
        let limits = words.contains('±') || words.contains("+/-");
        let mut found = units::completions(context, expected.key, units::dimensions(expected.value, words), replace);
        if limits && found.iter().all(|unit| unit.label != "%") {
            found.extend(units::completions(context, expected.key, &[crate::units::Dimension::NONE], replace));
        }
        return found;
    }
    let last = words.rsplit([' ', '\t']).next().unwrap_or_default();
    if words.ends_with(" on") {
        let scales = names::scales(context);
        return named(context, scales, context.name_from(replace.start));
    }
    if Unit::parse(last).is_ok() && last.len() < words.len() {
        joiners(expected.value, words, replace)
    } else {
        Vec::new()
    }
}

/// The words that may follow an amount.
fn joiners(value: ValueType, before: &str, replace: Span) -> Vec<Completion> {
    use ValueType as T;
    let joiner = |text: &str, detail: &str| Completion {
        detail: Some(detail.to_owned()),
        goes_on: text == "on ",
        ..Completion::new(text.trim(), CompletionKind::Value, replace, text)
    };
    match value {
        T::Range(_) | T::QuantityOrRange(_) | T::Ranges(_) | T::DialRange if !before.contains(" to ") => {
            vec![joiner("to ", "the upper end")]
        }
        T::Weighing if !before.contains(" at ") => vec![joiner("at ", "its axial place")],
        T::Reading | T::Readings | T::ReadingOfDay if !before.contains('@') => {
            let on = before.ends_with(" mark").then(|| joiner("on ", "the scale that is read"));
            on.into_iter().chain([joiner("@ ", "its angle")]).collect()
        }
        T::UnbalanceVector | T::UnbalanceOrPercentage if !before.contains('@') => vec![joiner("@ ", "its angle")],
        _ => Vec::new(),
    }
}

/// The masses of the setup's set, each with what it would make of the calibration.
fn masses(context: &Context<'_, '_>, expected: &Expected, item: Span) -> Vec<Completion> {
    let takes_mass = expected.key.is(calibrate::MASS) && context.around.first() == Some(&Kind::Setup);
    if !takes_mass || !context.text(item).is_empty() {
        return Vec::new();
    }
    let Some(Computed::Setup(setup)) = context.computed() else { return Vec::new() };
    let Some(set) = setup.masses else { return Vec::new() };
    let source = context.book.file(set.file);
    let set = context.book.item(set);
    let Some((values, written)) = masses_of(set, &source.text) else { return Vec::new() };
    let mass = |(stated, written): (&Stated, &String)| {
        let times = times_tolerance(setup, context, stated);
        let detail = times.map(|times| format!("{} × tolerance", crate::units::number(times, None)));
        let detail = detail.unwrap_or_else(|| format!("of {}", set.name_text()));
        value(written, &detail, item)
    };
    values.iter().zip(&written).map(mass).collect()
}

/// What a mass at the radius of the calibration amounts to.
fn times_tolerance(setup: &SetupResults<'_>, context: &Context<'_, '_>, mass: &Stated) -> Option<f64> {
    let block = context.blocks.as_ref()?.innermost();
    if block.kind != Kind::Calibrate {
        return None;
    }
    let calibration = setup.calibration(block.name_text())?;
    let radius: Length = calibration.radius.get()?;
    let tolerance = calibration.tolerance.get()?;
    Some(mass.base * radius.raw() / tolerance.raw())
}

/// The value of a result whose pin is being written.
pub(super) fn pin(context: &Context<'_, '_>, name: &str, span: Span) -> Vec<Completion> {
    let (Some(id), Some(blocks)) = (context.item(), &context.blocks) else { return Vec::new() };
    let item = context.book.item(id);
    if !results::has_results(item.kind) || context.in_string() {
        return Vec::new();
    }
    let Some(computed) = context.computed() else { return Vec::new() };
    let by_block = ByBlock::of(id, item, computed);
    let mut entries = by_block.entries(blocks.innermost()).iter();
    let Some(entry) = entries.find(|entry| entry.name() == name) else { return Vec::new() };
    let Some(text) = results::pin_value(context.book, entry) else { return Vec::new() };
    let replace = Span::new(span.start.min(context.offset), span.end.max(context.offset));
    // Nothing is between the arrow and the cursor yet.
    let stuck = context.text(Span::new(replace.start.saturating_sub(1), replace.start)) == ">";
    let written = if stuck { format!(" {text}") } else { text.clone() };
    let documentation = explain::result(context.book, id, entry);
    vec![Completion { documentation, ..Completion::new(text, CompletionKind::Result, replace, written) }]
}
