//! Words that many messages share.

use crate::sheet::schema::{NameOf, ValueType};
use crate::units::Dimension;

/// `a mass`, `an unbalance`, `a length or an angle`.
pub fn a_dimension(dimensions: &[Dimension]) -> String {
    let names: Vec<String> = dimensions.iter().map(|dimension| with_article(&dimension.name())).collect();
    or_list(&names)
}

/// `g, kg, oz or lb`
pub fn usual_units(dimensions: &[Dimension]) -> String {
    let units: Vec<&str> = dimensions.iter().flat_map(|dimension| dimension.usual_units().iter().copied()).collect();
    or_list(&units[..units.len().min(6)])
}

/// `a`, `a or b`, `a, b or c`
pub fn or_list<S: AsRef<str>>(words: &[S]) -> String {
    list(words, "or")
}

/// `a`, `a and b`, `a, b and c`
pub fn and_list<S: AsRef<str>>(words: &[S]) -> String {
    list(words, "and")
}

fn list<S: AsRef<str>>(words: &[S], last: &str) -> String {
    match words {
        [] => String::new(),
        [one] => one.as_ref().to_owned(),
        [most @ .., end] => {
            let most: Vec<&str> = most.iter().map(AsRef::as_ref).collect();
            format!("{} {last} {}", most.join(", "), end.as_ref())
        }
    }
}

pub fn with_article(noun: &str) -> String {
    let vowel = noun.starts_with(['a', 'e', 'i', 'o', 'u', 'A', 'E', 'I', 'O', 'U']) && !noun.starts_with("uni");
    format!("{} {noun}", if vowel { "an" } else { "a" })
}

/// A character that cannot be seen, by its name or else its number.
pub fn character(character: char) -> String {
    let name = match character {
        '\0' => "a null character",
        '\t' => "a tab",
        '\r' => "a carriage return",
        '\u{8}' => "a backspace",
        '\u{c}' => "a page break",
        '\u{1b}' => "an escape character",
        '\u{a0}' | '\u{202f}' => "a no-break space",
        '\u{ad}' => "a soft hyphen",
        '\u{2000}'..='\u{200a}' | '\u{205f}' => "a space of another width",
        '\u{3000}' => "an ideographic space",
        '\u{200b}' => "a space without width",
        '\u{2028}' | '\u{2029}' => "a line separator",
        '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{61c}' => {
            "a mark of writing direction"
        }
        '\u{feff}' => "a byte order mark",
        _ => "a hidden character",
    };
    format!("{name} (U+{:04X})", u32::from(character))
}

/// What a key wants, with an example: `a mass, such as 3.00 g`.
pub fn expected(value: ValueType) -> String {
    use ValueType as T;
    match value {
        T::Quantity(dimensions) => format!("{} with its unit", a_dimension(dimensions)),
        T::Range(dimensions) => format!("a range, such as `{}`", range_example(dimensions)),
        T::QuantityOrRange(dimensions) => {
            format!("{} or a range, such as `{}`", a_dimension(dimensions), range_example(dimensions))
        }
        T::Ranges(dimensions) => format!("one or several ranges, such as `{}`", range_example(dimensions)),
        T::Quantities(dimensions, Some(count)) => {
            format!("{count} values, each {} with its unit, separated by a comma and a space", a_dimension(dimensions))
        }
        T::Quantities(dimensions, None) => {
            format!("{} with its unit, or several separated by a comma and a space", a_dimension(dimensions))
        }
        T::Number => "a plain number".to_owned(),
        T::Count => "a whole number from 1".to_owned(),
        T::NumberRange => "a range of plain numbers, such as `5 to 20`".to_owned(),
        T::Percentage => "a percentage, such as `5 %`".to_owned(),
        T::PercentageOrAmount => "a percentage, such as `5 %`, or an amount on the readout".to_owned(),
        T::UnitName(dimensions) => format!("the name of a unit, such as {}", usual_units(dimensions)),
        T::Grade => "a balance quality grade, such as `G 6.3`".to_owned(),
        T::Text => "a text in quotes".to_owned(),
        T::Reference(kind) => format!("the name of {}", with_article(kind.words())),
        T::Name(of) => format!("the name of {}", name_of(of)),
        T::Names(of) => format!("the names of one or several of {}, separated by a comma and a space", plural(of)),
        T::Choice(choices) => or_list(choices),
        T::Reading => "a reading, such as `14.2 div @ 310 deg`, or an amount alone".to_owned(),
        T::Readings => "readings, separated by a comma and a space".to_owned(),
        T::UnbalanceVector => "an unbalance at an angle, such as `12 g·mm @ 65 deg`".to_owned(),
        T::ClockOrAngle => "a place of the clock, such as `4:30`, or an angle".to_owned(),
        T::Clock => "a place of the clock, such as `4:30`".to_owned(),
        T::Date => "a date, such as `2026-11-12`".to_owned(),
        T::Weighing => "two masses, each at its place, such as `10.1 kg at 30 mm, 8.5 kg at 590 mm`".to_owned(),
        T::Places => "a number of places and where they begin, such as `8 from 0 deg`".to_owned(),
        T::Setting => "a number, a quantity, a position of the control, or `as found`".to_owned(),
        T::Positions => "the positions, separated by a comma and a space".to_owned(),
        T::DialRange => "the range of the dial, such as `0 to 999`".to_owned(),
        T::LineHeads => "quoted heads of lines, such as `\"belt runs on\", \"calibrate rim\"`".to_owned(),
    }
}

fn range_example(dimensions: &[Dimension]) -> String {
    let unit = dimensions.first().and_then(|dimension| dimension.usual_units().first()).copied().unwrap_or("");
    format!("400 {unit} to 6000 {unit}")
}

pub fn name_of(name: NameOf) -> String {
    match name {
        NameOf::Item(kind) => with_article(kind.words()),
        NameOf::Own => "the item".to_owned(),
        NameOf::Plane => "a plane of the rotor".to_owned(),
        NameOf::Channel => "a channel of the machine".to_owned(),
        NameOf::Control => "a control of the machine".to_owned(),
        NameOf::Instrument => "an instrument of the shop".to_owned(),
        NameOf::Code => "a diagnostic".to_owned(),
        NameOf::Run => "a run of the record".to_owned(),
        NameOf::Place => "a place of the plane".to_owned(),
        NameOf::Listed(choices) => or_list(choices),
    }
}

fn plural(name: NameOf) -> &'static str {
    match name {
        NameOf::Plane => "the rotor's planes",
        NameOf::Channel => "the machine's channels",
        NameOf::Control => "the machine's controls",
        _ => "the names",
    }
}
