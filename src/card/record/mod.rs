//! The card of a record: what is to be done first and largest, then what the runs showed and the verdict.

pub(super) mod certificate;
mod left;
mod others;
mod plots;
mod runs;
mod stop;
mod verdict;
mod work;

pub use left::{left_by_corrections, off_the_places};
pub use stop::{HalfTurn, half_turn, like_mass, seat_in_doubt, stop};
pub use work::{CalledFor, angles_of_places, called_for, turn_weights, weights_called_for};

use super::checked::Checked;
use super::document::{BARRED, Card, Column, Part, Row, Section, Side, Stamp, Standing, Value};
use super::values::{self, Results};
use super::words::Words;
use super::{Printed, foot};
use crate::book::{self, Book, RecordResults};
use crate::mechanics::verdict::Verdict;
use crate::syntax::Kind;
use crate::vocabulary::{AnyFact, Of, record, result, setup};

/// A record with what its card is made from.
pub(super) struct Sheet<'a, 'b> {
    pub book: &'b Book,
    pub record: &'a RecordResults<'b>,
    pub printed: &'a Printed,
}

impl<'a> Sheet<'a, '_> {
    fn results(&self) -> Results<'a> {
        Results { book: self.book, entries: &self.record.entries }
    }

    fn text(&self, fact: AnyFact) -> Option<String> {
        match values::fact(self.book, &self.record.block, fact)? {
            Value::Text(words) => Some(words.plain()),
            _ => None,
        }
    }
}

pub(super) fn card(book: &Book, record: &RecordResults<'_>, checked: &Checked<'_>, printed: &Printed) -> Card {
    let sheet = Sheet { book, record, printed };
    let sections = vec![
        work::section(&sheet),
        Some(judged(&sheet)),
        runs::table(&sheet),
        runs::corrections(&sheet),
        drawn(plots::section(&sheet), others::section(&sheet)),
        Some(signed()),
    ];
    let rotor = record.setup.as_deref().and_then(|setup| setup.rotor.as_deref());
    let name = Words::stated(book.item(record.id).name_text());
    let side = Side {
        what: "Record",
        under: under(&sheet, checked),
        stamp: stamp(&sheet, checked),
        alarms: alarms(&sheet, checked),
        sections: sections.into_iter().flatten().collect(),
        foot: foot::of(rotor),
        every: name.clone().say(", ").with(&foot::printed(printed)),
        name,
    };
    Card {
        kind: Kind::Record,
        name: book.item(record.id).name_text().to_owned(),
        sides: vec![side],
        preview: printed.preview,
    }
}

/// The verdict, and what would make a clean word of it.
fn judged(sheet: &Sheet<'_, '_>) -> Section {
    let way = verdict::told(sheet, &result::CHEAPEST_WAY, "Least work to show it within");
    verdict::section(sheet).rows(way.into_iter().collect())
}

/// What is to be done after the last run, and the verdict with what it rests on, as on its card.
pub(super) fn summary(book: &Book, record: &RecordResults<'_>) -> Vec<Section> {
    let printed = Printed { on: String::new(), state: String::new(), committed: false, preview: false };
    let sheet = Sheet { book, record, printed: &printed };
    work::section(&sheet).into_iter().chain([with_its_word(&sheet)]).collect()
}

/// The same, for a screen, which has no stamp.
fn with_its_word(sheet: &Sheet<'_, '_>) -> Section {
    let mut section = judged(sheet);
    let word = sheet.record.verdict.as_ref().map_or("not computed", |verdict| book::word_of(verdict.verdict));
    section.title = Words::said("Verdict: ").say(word);
    section
}

/// The same with what the runs showed and what was done.
pub(super) fn on_a_screen(book: &Book, record: &RecordResults<'_>) -> Vec<Section> {
    let printed = Printed { on: String::new(), state: String::new(), committed: false, preview: false };
    let sheet = Sheet { book, record, printed: &printed };
    let work = work::section(&sheet);
    work.into_iter().chain([with_its_word(&sheet)]).chain(runs::on_a_screen(&sheet)).collect()
}

/// What a verdict is on: itself, where not all was assessed, where it is not shown.
const OF_ROTOR: [&str; 3] = ["its tolerance", "its tolerance; not all was assessed", "to be within its tolerance"];
const OF_CHANNELS: [&str; 3] =
    ["its vibration limits", "its vibration limits; not all was assessed", "to be within its vibration limits"];

/// What is stamped on its card, or goes for it in a list.
pub(super) fn standing(
    book: &Book,
    record: &RecordResults<'_>,
    checked: &Checked<'_>,
    printed: &Printed,
) -> Option<Standing> {
    let sheet = Sheet { book, record, printed };
    let verdict = || record.verdict.as_ref().map(|verdict| Standing::Judged(verdict.verdict));
    weightier(&sheet, checked).map(Standing::Stamped).or_else(verdict)
}

/// What is wrong with the sheets, or nothing but a look at them, weighs more than the verdict.
fn weightier(sheet: &Sheet<'_, '_>, checked: &Checked<'_>) -> Option<Stamp> {
    if checked.has_errors() {
        return Some(Stamp::loose(BARRED, "the sheets have errors"));
    }
    if sheet.printed.preview {
        return Some(Stamp::loose("PREVIEW", "of a text that may not be saved"));
    }
    // The test was of the machine; the verdict on its rotor is not the result.
    if sheet.record.traverses.iter().any(|traverse| traverse.passes == Some(false)) {
        return Some(Stamp::loose("TEST FAILED", "the machine does not reach its smallest residual"));
    }
    None
}

fn stamp(sheet: &Sheet<'_, '_>, checked: &Checked<'_>) -> Option<Stamp> {
    weightier(sheet, checked).or_else(|| verdict_stamp(sheet))
}

fn verdict_stamp(sheet: &Sheet<'_, '_>) -> Option<Stamp> {
    let verdict = sheet.record.verdict.as_ref()?;
    let by_channels = !verdict.judged.is_empty() && verdict.judged.iter().all(|one| matches!(one.of, Of::Channel(_)));
    let [its, not_all, to_be] = if by_channels { OF_CHANNELS } else { OF_ROTOR };
    Some(match verdict.verdict {
        Verdict::Within => Stamp::firm("WITHIN", its),
        Verdict::WithinAsRead => Stamp::loose("WITHIN AS READ", not_all),
        Verdict::NotShown => Stamp::loose("NOT SHOWN", to_be),
        Verdict::OverAsRead => Stamp::loose("OVER AS READ", not_all),
        Verdict::Over => Stamp::loose("OVER", its),
    })
}

fn alarms(sheet: &Sheet<'_, '_>, checked: &Checked<'_>) -> Vec<Words> {
    let mut alarms = checked.alarms(sheet.book);
    if !sheet.printed.committed {
        alarms.push(Words::strong("DRAFT: ").say("the record, or a sheet that it depends on, is not committed."));
    }
    // What becomes of the sheet later is nothing that the record was run by; what it says itself is.
    let is_bound = sheet.record.bound_to().is_some() && sheet.record.block.field(record::DESPITE).is_none();
    let causes = sheet.record.setup.as_deref().filter(|_| !is_bound).map_or(&[][..], |setup| &setup.void_causes);
    if !causes.is_empty() {
        let causes: Vec<&str> = causes.iter().map(|cause| &*cause.what).collect();
        let words = Words::strong("DRAFT: ").say("the calibration of its sheet is void: ");
        alarms.push(words.state(causes.join("; ")).say("."));
    } else if sheet.record.run_before_release().is_some() {
        alarms.push(Words::strong("DRAFT: ").say(match sheet.record.block.field(record::SHEET_STATUS) {
            Some(_) => "its sheet was not released when the rotor was run.",
            None => "its sheet is not released.",
        }));
    }
    alarms
}

/// The revision of the sheet that a record was run by: its own word, or what is kept of that day. What today's sheet says is
/// no word for a record that is bound to another day.
fn revision(sheet: &Sheet<'_, '_>) -> Option<Value> {
    let record = sheet.record;
    if let Some(own) = values::fact(sheet.book, &record.block, record::REVISION) {
        return Some(own);
    }
    let field = record.setup.as_deref()?.block.field(setup::REVISION)?;
    let is_kept = !std::ptr::eq(field.key, field.field.key);
    (is_kept || record.bound_to().is_none()).then(|| values::stated(sheet.book, field))
}

fn under(sheet: &Sheet<'_, '_>, checked: &Checked<'_>) -> Vec<Words> {
    let record = sheet.record;
    let setup = record.setup.as_deref();
    let rotor = setup.and_then(|setup| setup.rotor.as_deref());
    let name = |item| sheet.book.item(item).name_text();
    let of = Words::said("Rotor ").state(rotor.map_or("________", |rotor| name(rotor.id)));
    let of = match sheet.text(record::SERIAL.any()) {
        Some(serial) => of.say(", serial number ").stress(serial),
        None => of,
    };
    let revision = revision(sheet);
    let by = Words::said("Setup sheet ").state(setup.map_or("________", |setup| name(setup.id)));
    let by = match revision {
        Some(Value::Text(revision)) => by.say(", revision ").with(&revision),
        _ if record.bound_to().is_some() => by.say(", revision not stated"),
        _ => by.say(", without a revision"),
    };
    let by = by.say("; ").with(&checked.summary());
    let facts: [(AnyFact, &'static str); 4] = [
        (record::CUSTOMER.any(), "customer "),
        (record::ORDER.any(), "order "),
        (record::DATE.any(), ""),
        (record::BY.any(), "by "),
    ];
    let stated = facts.into_iter().filter_map(|(fact, label)| Some((label, sheet.text(fact)?)));
    let rest = stated.fold(Words::default(), |words, (label, text)| {
        let words = if words.is_empty() { words } else { words.say("; ") };
        words.say(label).state(text)
    });
    let mut lines = vec![of, by, rest];
    lines.extend(record.before.as_ref().map(|before| {
        let words = Words::said("Goes on with ").state(name(before.id));
        words.say(": what was done there is in the rotor, and no hole or mass is called for where it is taken.")
    }));
    lines.extend(notes(sheet));
    lines.retain(|words| !words.is_empty());
    lines
}

fn notes<'s>(sheet: &'s Sheet<'_, '_>) -> impl Iterator<Item = Words> + 's {
    let notes = sheet.record.block.fields.iter().filter(|field| field.field.key.is(record::NOTE));
    notes.filter_map(|field| Some(Words::said("Note: ").state(values::text_of_fact(sheet.book, *field)?)))
}

/// The plots, and beside them what else there is.
fn drawn(plots: Option<Section>, others: Option<Section>) -> Option<Section> {
    match (plots, others) {
        (Some(plots), Some(others)) if is_short(&others) => {
            let column = |share: f64, section: Section| Column { share, sections: vec![section] };
            Some(Section::new("").part(Part::Columns(vec![column(2.2, plots), column(1.0, others)])))
        }
        (Some(mut plots), Some(others)) => {
            let below = Column { share: 1.0, sections: vec![others] };
            plots.parts.push(Part::Columns(vec![below]));
            Some(plots)
        }
        (plots, others) => plots.or(others),
    }
}

/// Whether it has room beside the plots.
fn is_short(others: &Section) -> bool {
    others.parts.iter().all(|part| matches!(part, Part::Rows(rows) if rows.len() < 7))
}

fn signed() -> Section {
    let rows = vec![Row::new("Date", Value::Blank("")), Row::new("Signature", Value::Blank(""))];
    Section::new("").part(Part::Fields(rows)).following()
}
