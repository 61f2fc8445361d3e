//! Words that many messages share.

pub use crate::syntax::quote as quoted;
use crate::syntax::{self, Kind};
use crate::text::unreadable;
use crate::units::{Dimension, Unit};
use crate::vocabulary::{KeySpec, NameOf, ValueType};

/// `a mass`, `an unbalance (mass × length)`, `a length or an angle`.
pub fn a_dimension(dimensions: &[Dimension]) -> String {
    // What a readout or a dial may be graduated in is too long a list to be of help.
    match dimensions.len() {
        0..=3 => {}
        _ if dimensions.contains(&Dimension::NONE) && dimensions.contains(&Dimension::DIVISION) => {
            return "a percentage or an amount as the readout shows it".to_owned();
        }
        _ if dimensions.contains(&Dimension::DIVISION) => return "an amount as the readout shows it".to_owned(),
        _ => return "an amount that a dial is graduated in".to_owned(),
    }
    let names: Vec<String> = dimensions.iter().map(|dimension| one_dimension(*dimension)).collect();
    or_list(&names)
}

/// `a length`, `a mass`
pub fn one_dimension(dimension: Dimension) -> String {
    match dimension {
        Dimension::NONE => "a percentage".to_owned(),
        Dimension::DIVISION => "a number of divisions of the readout".to_owned(),
        Dimension::MARK => "a number of marks on a dial".to_owned(),
        Dimension::COUPLE => "a couple (mass × length²)".to_owned(),
        _ => match dimension.name().strip_prefix("1 per ") {
            Some(per) => format!("a number per {per}"),
            None => with_article(&dimension.name()),
        },
    }
}

/// A dimension without what it is a product of: `an unbalance`, `a couple`.
pub fn dimension_briefly(dimension: Dimension) -> String {
    match dimension {
        Dimension::UNBALANCE => "an unbalance".to_owned(),
        Dimension::COUPLE => "a couple".to_owned(),
        _ => one_dimension(dimension),
    }
}

/// The units of these dimensions in backticks, the most usual first: "`kg`, `g`, `oz` or `lb`".
pub fn usual_units(dimensions: &[Dimension]) -> String {
    let units: Vec<String> = few_units(dimensions).into_iter().map(|unit| format!("`{unit}`")).collect();
    or_list(&units)
}

/// The units that are named and offered for these dimensions.
pub fn few_units(dimensions: &[Dimension]) -> Vec<String> {
    if dimensions.len() > 3 && dimensions.contains(&Dimension::DIVISION) {
        let percent = dimensions.contains(&Dimension::NONE).then_some(Unit::PERCENT);
        let of_a_readout = [Unit::DIVISION, Unit::MARK].into_iter().map(|unit| unit.to_string());
        let percent = percent.map(|unit| unit.to_string());
        return percent.into_iter().chain(of_a_readout).chain(["g·mm", "g", "µm", "mm/s"].map(str::to_owned)).collect();
    }
    let most = if dimensions.len() > 1 { 2 } else { 4 };
    let units = dimensions.iter().flat_map(|dimension| dimension.usual_units().iter().take(most));
    units.take(6).map(|unit| (*unit).to_owned()).collect()
}

/// A piece of a sheet as a message shows it: in backticks, and cut where it is long.
pub fn shown(written: &str) -> String {
    const LONGEST: usize = 48;
    let mut characters = written.trim().chars();
    let short: String = characters.by_ref().take(LONGEST).collect();
    let more = if characters.next().is_some() { "…" } else { "" };
    format!("`{short}{more}`")
}

/// A name as it is written in a sheet: quoted unless it is one word.
pub fn name_as_written(name: &str) -> String {
    if syntax::is_word(name) { name.to_owned() } else { quoted(name) }
}

/// The name of a place, which may be a number.
pub fn place_as_written(name: &str) -> String {
    let is_number = !name.is_empty() && name.chars().all(|c| c.is_ascii_digit());
    if is_number { name.to_owned() } else { name_as_written(name) }
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
    let article = if vowel { "an " } else { "a " };
    article.to_owned() + noun
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

/// What a block of a kind is called: `a rotor`, `a set of masses`, "a `calibrate` block".
pub fn a_kind(kind: Kind) -> String {
    match kind {
        Kind::Masses => "a set of masses".to_owned(),
        Kind::Plane | Kind::Readout | Kind::Control | Kind::Keyway | Kind::Instrument | Kind::CheckMass => {
            with_article(kind.words())
        }
        _ if kind.is_item() => with_article(kind.words()),
        _ => format!("a `{kind}` block"),
    }
}

/// The same for one that the reader has before him: `this rotor`, "this `calibrate` block".
pub fn this_kind(kind: Kind) -> String {
    let noun = a_kind(kind);
    let noun = noun.split_once(' ').map_or(&*noun, |(_, noun)| noun);
    format!("this {noun}")
}

/// What a key wants, with an example: "a mass with its unit, such as `4.82 kg`".
pub fn expected_of(key: &KeySpec) -> String {
    expected_such_as(key.value, key.example())
}

/// What a type of value is, with an example: "a mass with its unit, such as `3.00 g`".
pub fn expected(value: ValueType) -> String {
    expected_such_as(value, value.example())
}

/// The same in few words, without an example and without what may be instead: "a mass with its unit".
pub fn expected_briefly(value: ValueType) -> String {
    form_of(value).0
}

fn expected_such_as(value: ValueType, example: Option<&str>) -> String {
    use ValueType as T;
    let (form, or) = form_of(value);
    let such_as = match value {
        T::UnitName(dimensions) => Some(usual_units(dimensions)),
        T::Number | T::Count | T::Text | T::Reference(_) | T::Name(_) | T::Choice(_) | T::Setting => None,
        _ => example.map(|example| format!("`{example}`")),
    };
    such_as.map_or_else(|| format!("{form}{or}"), |such_as| format!("{form}, such as {such_as}{or}"))
}

/// What a type of value is, and what may be instead of it.
fn form_of(value: ValueType) -> (String, &'static str) {
    use ValueType as T;
    let form = match value {
        T::Quantity(dimensions) => format!("{} with its unit", a_dimension(dimensions)),
        T::Range(_) => "a range".to_owned(),
        T::QuantityOrRange(dimensions) => {
            return (format!("{} with its unit", a_dimension(dimensions)), ", or a range");
        }
        T::Ranges(_) => "a range, or several".to_owned(),
        T::Quantities(dimensions, Some(count)) => {
            let each = a_dimension(dimensions);
            format!("{count} values, each {each} with its unit, separated by a comma and a space")
        }
        T::Quantities(dimensions, None) => {
            format!("{} with its unit, or several, separated by a comma and a space", a_dimension(dimensions))
        }
        T::Number => "a plain number".to_owned(),
        T::Count => "a whole number from 1".to_owned(),
        T::NumberRange => "a range of plain numbers".to_owned(),
        T::Percentage => "a percentage".to_owned(),
        T::PercentageOrAmount => return ("a percentage".to_owned(), ", or an amount on the readout"),
        T::UnitName(_) => "a unit alone".to_owned(),
        T::UnitNames(_) => "units alone, one a dimension".to_owned(),
        T::Grade => "a balance quality grade".to_owned(),
        T::Text => "a text in quotes".to_owned(),
        T::Reference(kind) => format!("the name of {}", a_kind(kind)),
        T::Name(of) => format!("the name of {}", name_of(of)),
        T::Names(of) => format!("{}, separated by a comma and a space", plural(of)),
        T::Choice(choices) => choice_list(choices.words),
        T::Reading => return ("a reading".to_owned(), ", or an amount alone"),
        T::Readings => "readings, separated by a comma and a space".to_owned(),
        T::ReadingOfDay => "a date and what was read that day".to_owned(),
        T::UnbalanceVector => "an unbalance at an angle".to_owned(),
        T::UnbalanceOrPercentage => return ("an unbalance".to_owned(), ", or a percentage"),
        T::ClockOrAngle => return ("a place of the clock".to_owned(), ", or an angle, such as `45 deg`"),
        T::Clock => return ("a place of the clock".to_owned(), " or `6 o'clock`"),
        T::Date => "a date".to_owned(),
        T::Weighing => "two masses, each at its place".to_owned(),
        T::Places => "a number of places and the angle of the first".to_owned(),
        T::Setting => "a number, a quantity, a position of the control, or `as found`".to_owned(),
        T::Positions => "positions, separated by a comma and a space".to_owned(),
        T::DialRange => "the range of the dial".to_owned(),
        T::DialStep => "what the dial moves by".to_owned(),
        T::LineHeads => "heads of lines in quotes".to_owned(),
    };
    (form, "")
}

/// The same in the few words that a list has room for: an example, said to be one, where there is one.
pub fn expected_at_a_glance(key: &KeySpec) -> String {
    key.example().map_or_else(|| expected_of(key).replace('`', ""), |example| format!("such as {example}"))
}

/// "`soft` or `hard`"
pub fn choice_list(choices: &[&str]) -> String {
    let choices: Vec<String> = choices.iter().map(|choice| format!("`{choice}`")).collect();
    or_list(&choices)
}

pub fn name_of(name: NameOf) -> String {
    match name {
        NameOf::Item(kind) => a_kind(kind),
        NameOf::Own => "the item".to_owned(),
        NameOf::Plane => "a plane of the rotor".to_owned(),
        NameOf::PlaneOfPart => "a plane of the part".to_owned(),
        NameOf::Channel => "a channel of the machine".to_owned(),
        NameOf::Control => "a control of the machine".to_owned(),
        NameOf::Instrument => "an instrument of the shop".to_owned(),
        NameOf::Code => "a diagnostic".to_owned(),
        NameOf::Run => "a run of the record".to_owned(),
        NameOf::ExtraMass => "an extra mass of the rotor".to_owned(),
        NameOf::Proof => "a proof of the setup".to_owned(),
        NameOf::Place => "a place of the plane".to_owned(),
        NameOf::Position => "a position of the switch".to_owned(),
        NameOf::Listed(choices) => choice_list(choices.words),
    }
}

fn plural(name: NameOf) -> &'static str {
    match name {
        NameOf::Plane => "names of the rotor's planes",
        NameOf::Channel => "names of the machine's channels",
        NameOf::Control => "names of the machine's controls",
        NameOf::ExtraMass => "names of extra masses",
        NameOf::Listed(_) => "lines of the budget",
        _ => "names",
    }
}

/// Why no item can have a name; `None` where one can.
pub fn fault_of_name(name: &str) -> Option<String> {
    if name.trim().is_empty() {
        return Some("an item needs a name that can be read".to_owned());
    }
    if let Some(character) = unreadable(name) {
        return Some(format!("no name can hold the character U+{:04X}", u32::from(character)));
    }
    let heading = format!("{} {} {{\n}}", Kind::Rotor, quoted(name));
    let is_read = syntax::parse(&heading).errors.is_empty();
    (!is_read).then(|| "a name holds no characters that cannot be seen".to_owned())
}
