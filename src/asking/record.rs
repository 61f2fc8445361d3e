//! The record of a rotor, from its serial number to its verdict.

use super::question::{Question, Step, Wanted};
use super::{arbor, check_mass, corrections, runs, trials};
use crate::book::{Book, Computing, ItemId, RecordResults, SetupResults, effective};
use crate::card;
use crate::check;
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::vocabulary::{record, setup};

/// A rotor that is put on the machine: what its record begins with.
pub struct Rotor<'b> {
    pub setup: &'b str,
    pub rotor: Option<&'b str>,
    pub revision: Option<String>,
    pub date: String,
    pub by: Option<String>,
    pub customer: Option<String>,
    pub order: Option<String>,
}

/// A record that has begun.
pub struct Begun<'b, 'c> {
    pub computing: &'c Computing<'b>,
    pub record: ItemId,
    pub results: &'c RecordResults<'b>,
    pub setup: &'c SetupResults<'b>,
    /// The planes in which nothing was done after the last run.
    pub left_out: &'c [String],
    /// What was put on the rotor since the work began, and is not said to be off.
    pub put_on: &'c [PutOn],
}

/// A mass that is put on the rotor, and comes off before the next run.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum PutOn {
    Trial,
    Check,
}

impl<'b> Begun<'b, '_> {
    pub fn book(&self) -> &'b Book {
        self.computing.book()
    }
}

/// What is asked before there is a record: what the trial runs of the setup still lack, what the check mass reads where it is
/// due, then the serial number.
pub fn first<'b>(setup: &SetupResults<'b>, book: &'b Book, rotor: Rotor<'b>, left_out: &[String]) -> Question<'b> {
    let check = || check_mass::due(book, setup, &rotor.date).filter(|question| !question.is_left_out(left_out));
    trials::open(book, setup, left_out).or_else(check).unwrap_or_else(|| Question {
        about: match begun_today(book, &rotor) {
            begun if begun.is_empty() => String::new(),
            begun => {
                let serials: Vec<String> = begun.into_iter().map(|(_, serial)| serial).collect();
                format!("Begun today: {}. To continue one, give its serial number", serials.join(", "))
            }
        },
        asks: "Serial number".to_owned(),
        example: "26-0419".to_owned(),
        usual: None,
        head: record::SERIAL.to_string(),
        wanted: Wanted::Serial(Box::new(rotor)),
    })
}

/// The next question of a record; the last one is how to go on.
pub fn next_of_record<'b>(begun: &Begun<'b, '_>) -> Option<Question<'b>> {
    // Nothing more is tried once the rotor is no longer as the trials found it.
    if let Some(question) = trials::open(begun.book(), begun.setup, begun.left_out)
        && (begun.results.corrections.is_empty() || !question.opens_a_run())
    {
        return Some(question);
    }
    let record = begun.book().item(begun.record);
    if begun.results.corrections.is_empty()
        && let Some(question) = trials::of_this_rotor(begun)
    {
        return Some(question);
    }
    let Some(block) = record.inner(Kind::Run).last() else {
        return runs::new_run(begun, "as found", Vec::new());
    };
    if let Some(question) = runs::open_line(begun, block) {
        return Some(question);
    }
    let last = begun.results.runs.last()?;
    if let Some(question) = arbor::in_doubt(begun, last) {
        return Some(question);
    }
    if let Some(question) = runs::mass_in_doubt(begun) {
        return Some(question);
    }
    if card::half_turn(begun.results).is_some() {
        return Some(runs::then(begun, last));
    }
    if let Some(question) = corrections::next(begun, last) {
        return Some(question);
    }
    // The corrections are written, and no run follows them.
    if begun.results.last_state.is_empty() {
        return runs::new_run(begun, "corrected", arbor::like_before(begun));
    }
    Some(runs::then(begun, last))
}

/// The records that were begun today by the same setup, and of which serial number each is.
fn begun_today(book: &Book, rotor: &Rotor<'_>) -> Vec<(ItemId, String)> {
    let records = book.naming(Kind::Setup, rotor.setup).iter().filter(|id| book.item(**id).kind == Kind::Record);
    let of_today = |id: &ItemId| {
        let (block, _) = effective(book, *id);
        block.day(record::DATE).filter(|day| day.to_string() == rotor.date)?;
        match block.field(record::SERIAL).map(|field| &field.field.value) {
            Some(FieldValue::Text(serial)) => Some((*id, serial.to_string())),
            _ => None,
        }
    };
    records.filter_map(of_today).collect()
}

/// The record as it begins.
pub(super) fn begin(book: &Book, rotor: &Rotor<'_>, serial: &str) -> Step {
    let serial = serial.trim_matches('"');
    // Nobody tells serial numbers apart by their capitals.
    let is_it = |own: &str| own.to_lowercase() == serial.to_lowercase();
    if let Some((id, _)) = begun_today(book, rotor).into_iter().find(|(_, own)| is_it(own)) {
        return Step::GoesOn(book.item(id).name_text().to_owned());
    }
    let name = format!("{}, {serial}", rotor.rotor.unwrap_or(rotor.setup));
    let is_free = |name: &String| book.named(Kind::Record, name).is_empty();
    let numbered = (2..).map(|n: u32| format!("{name}, {}, {n}", rotor.date));
    let names = [name.clone(), format!("{name}, {}", rotor.date)].into_iter().chain(numbered);
    let name = names.into_iter().find(is_free).unwrap_or(name);
    let mut text = format!("{} {} {{\n", Kind::Record, check::quoted(&name));
    let lines = [
        (record::SETUP.words(), Some(rotor.setup)),
        (record::REVISION.words(), rotor.revision.as_deref()),
        (record::SERIAL.words(), Some(serial)),
        (record::CUSTOMER.words(), rotor.customer.as_deref()),
        (record::ORDER.words(), rotor.order.as_deref()),
    ];
    for (head, value) in lines {
        if let Some(value) = value {
            text.push_str(&format!("  {head}: {}\n", check::quoted(value)));
        }
    }
    text.push_str(&format!("  {}: {}\n", record::DATE, rotor.date));
    if let Some(by) = &rotor.by {
        text.push_str(&format!("  {}: {}\n", record::BY, check::quoted(by)));
    }
    text.push_str("}\n");
    Step::Begins { name, text }
}

impl<'b> Rotor<'b> {
    /// What the next rotor by a setup begins with.
    pub fn of(setup: &SetupResults<'b>, book: &'b Book, date: &str) -> Self {
        let revision = setup.block.field(setup::REVISION).and_then(|field| match &field.field.value {
            FieldValue::Text(text) => Some(text.to_string()),
            _ => None,
        });
        Self {
            setup: book.item(setup.id).name_text(),
            rotor: setup.rotor.as_deref().map(|rotor| book.item(rotor.id).name_text()),
            revision,
            date: date.to_owned(),
            by: None,
            customer: None,
            order: None,
        }
    }
}
