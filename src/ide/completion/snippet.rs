//! The value that a key asks for, as a snippet: numbers to be typed over, with a unit of the right dimension.

use super::context::Context;
use super::units::preferred;
use crate::units::{Dimension, Unit};
use crate::vocabulary::{KeySpec, ValueType};

/// What is to be typed after a colon.
pub(super) enum Sketch {
    /// A snippet with tab stops.
    Snippet(String),
    /// One of several words or names, which completion offers next.
    OneOf,
}

/// The sketch of a value that `key` asks for.
pub(super) fn sketch(context: &Context<'_, '_>, key: &KeySpec) -> Sketch {
    use ValueType as T;
    let value = key.value;
    let unit = |dimensions: &[Dimension]| {
        dimensions.first().map_or_else(String::new, |dimension| preferred(context, key, *dimension).to_string())
    };
    let of_readout = || match context.book.rules().unbalance_unit {
        unbalance if matches!(value, T::UnbalanceVector | T::UnbalanceOrPercentage) => unbalance.to_string(),
        _ => Unit::DIVISION.to_string(),
    };
    Sketch::Snippet(match value {
        T::Quantity(dimensions) | T::QuantityOrRange(dimensions) => format!("$1 {}", unit(dimensions)),
        T::Range(dimensions) | T::Ranges(dimensions) => format!("$1 {0} to $2 {0}", unit(dimensions)),
        T::Quantities(dimensions, Some(2)) => format!("$1 {0}, $2 {0}", unit(dimensions)),
        T::Quantities(dimensions, _) => format!("$1 {}", unit(dimensions)),
        T::Number | T::Count | T::DialStep => "$1".to_owned(),
        T::NumberRange | T::DialRange => "$1 to $2".to_owned(),
        T::Percentage | T::PercentageOrAmount => "$1 %".to_owned(),
        T::Text => "\"$1\"".to_owned(),
        T::LineHeads | T::Positions => return Sketch::OneOf,
        T::Reading | T::Readings | T::UnbalanceVector | T::UnbalanceOrPercentage => format!("$1 {}", of_readout()),
        T::ReadingOfDay => format!("${{1:2026}}-${{2:01}}-${{3:01}}, $4 {}", of_readout()),
        T::Date => "${1:2026}-${2:01}-${3:01}".to_owned(),
        T::Weighing => {
            let mass = preferred(context, key, Dimension::MASS);
            let length = preferred(context, key, Dimension::LENGTH);
            format!("$1 {mass} at $2 {length}, $3 {mass} at $4 {length}")
        }
        T::Places => "${1:8} from ${2:0} deg".to_owned(),
        T::Clock | T::ClockOrAngle => "$1".to_owned(),
        T::Grade
        | T::Reference(_)
        | T::Name(_)
        | T::Names(_)
        | T::Choice(_)
        | T::UnitName(_)
        | T::UnitNames(_)
        | T::Setting => return Sketch::OneOf,
    })
}

/// A snippet without its tab stops.
pub(super) fn plain(snippet: &str) -> String {
    let mut out = String::new();
    let mut rest = snippet;
    while let Some(at) = rest.find('$') {
        out.push_str(&rest[..at]);
        rest = &rest[at + 1..];
        if let Some(inside) = rest.strip_prefix('{') {
            let end = inside.find('}').unwrap_or(inside.len());
            out.push_str(inside[..end].split_once(':').map_or("", |(_, default)| default));
            rest = inside.get(end + 1..).unwrap_or_default();
        } else {
            rest = rest.trim_start_matches(|c: char| c.is_ascii_digit());
        }
    }
    out + rest
}

/// A text as a snippet that stops at each `?` which means a value; `None` where there is none.
pub fn with_stops(text: &str) -> Option<String> {
    stops_behind(String::new(), 0, text)
}

/// The same of a whole sheet, with its name as the first stop.
pub fn sheet_with_stops(text: &str) -> Option<String> {
    let Some((before, (name, after))) =
        text.split_once('"').and_then(|(before, rest)| Some((before, rest.split_once('"')?)))
    else {
        return with_stops(text);
    };
    stops_behind(format!("{}\"${{1:{}}}\"", escaped(before), escaped(name)), 1, after)
}

/// Stops of a text after a beginning that has some already.
fn stops_behind(mut snippet: String, mut stops: usize, text: &str) -> Option<String> {
    let mut rest = text;
    while let Some(at) = rest.find(" ?") {
        let (before, after) = (&rest[..at + 1], &rest[at + 2..]);
        snippet.push_str(&escaped(before));
        match after.starts_with(|letter: char| !matches!(letter, ' ' | ',' | '\n' | '\r')) {
            true => snippet.push('?'),
            false => {
                stops += 1;
                snippet.push_str(&format!("${{{stops}:?}}"));
            }
        }
        rest = after;
    }
    snippet.push_str(&escaped(rest));
    (stops > 0).then_some(snippet)
}

/// Text as it may be in a snippet.
pub fn escaped(text: &str) -> String {
    text.replace('\\', "\\\\").replace('$', "\\$").replace('}', "\\}")
}
