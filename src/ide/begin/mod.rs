//! Sheets begun from what the book knows: a setup of a rotor on a machine, a record of a setup, a setup like another.
//!
//! They are whole but for what only the bench can say, which is a `?`, in the order in which the bench gives it. What the
//! shop used last on the same machine is taken over.

mod plain;

pub use plain::{begin, beginnings_here, starts};

use std::fmt::Write as _;

use super::quote;
use crate::book::{Book, Computing, FileId, ItemId, effective};
use crate::check;
use crate::likeness::{self, Near};
use crate::sheet::{Block, FieldValue};
use crate::syntax::Kind;
use crate::text::Span;
use crate::vocabulary::setup::Status;
use crate::vocabulary::{Choice, Fact, calibrate, machine, plane, readout, record, rotor, run, setup};

/// Machines and rotors offered at a time.
const MOST: usize = 6;

/// A sheet that can be begun.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Beginning {
    /// `Set this rotor up on "soft bench"`
    pub title: String,
    /// Where it would lie, in the book; nothing lies there.
    pub path: String,
    pub text: String,
}

/// All that can be begun in a book, with the item that each is begun from.
pub fn all_beginnings(book: &Book) -> Vec<(String, Beginning)> {
    const ALL: usize = 500;
    let begun = book.items().flat_map(|id| {
        let item = book.item(id);
        let from = format!("{} {}", item.kind, check::quoted(item.name_text()));
        let begun = match item.kind {
            Kind::Rotor => on_machines(book, id),
            Kind::Setup => vec![recorded(book, id)],
            _ => Vec::new(),
        };
        begun.into_iter().map(move |one| (from.clone(), one))
    });
    begun.take(ALL).collect()
}

/// What can be begun at the heading of an item.
pub fn beginnings(book: &Book, file: FileId, range: Span) -> Vec<Beginning> {
    let items = &book.file(file).sheet.items;
    let Some(index) = items.iter().position(|item| item.heading.touches(range)) else { return Vec::new() };
    let id = ItemId { file, index: index as u32 };
    match items[index].kind {
        Kind::Rotor => like_nearest(book, id).into_iter().chain(on_machines(book, id)).collect(),
        Kind::Setup => std::iter::once(recorded(book, id)).chain(for_rotors(book, id)).collect(),
        _ => Vec::new(),
    }
}

fn on_machines(book: &Book, rotor: ItemId) -> Vec<Beginning> {
    let name = book.item(rotor).name_text();
    let on = |(machine, id): (&str, ItemId)| {
        let called = free_name(book, Kind::Setup, &format!("{name} on the {machine}"));
        Beginning {
            title: format!("Set this rotor up on \"{machine}\""),
            path: free_path(book, Kind::Setup, &called),
            text: set_up(book, &called, rotor, id),
        }
    };
    book.names_of(Kind::Machine).take(MOST).map(on).collect()
}

fn set_up(book: &Book, called: &str, rotor: ItemId, machine: ItemId) -> String {
    let (wheel, bench) = (book.item(rotor), book.item(machine));
    // The last setup on this machine says what the shop does there.
    let usual = book.users().setups(machine).last().map(|id| effective(book, *id).0);
    let usual = |fact: crate::vocabulary::AnyFact| {
        let field = usual.as_ref()?.field(fact)?;
        Some(field.field.value_span.of(&book.file(field.item.file).text).to_owned())
    };
    let mut text = heading(Kind::Setup, called);
    let mut line = |head: &str, value: &str| {
        let _ = writeln!(text, "  {head}: {value}");
    };
    line(setup::ROTOR.words(), &check::quoted(wheel.name_text()));
    line(setup::MACHINE.words(), &check::quoted(bench.name_text()));
    if let Some(masses) = usual(setup::MASSES.any()) {
        line(setup::MASSES.words(), &masses);
    }
    line(setup::STATUS.words(), Status::Draft.words());
    line(setup::BALANCING_SPEED.words(), "?");
    let bearings = wheel.field(rotor::BEARINGS).filter(|field| !field.value.is_hole());
    let bearings = bearings.map_or("?", |field| field.value_span.of(&book.file(rotor.file).text));
    line(setup::SUPPORTS_AT.words(), bearings);
    let (channels, planes) = (names(bench, machine::CHANNELS), planes(wheel));
    if channels.len() == planes.len() {
        for (channel, plane) in channels.iter().zip(&planes) {
            let head = format!("{} {}", setup::CHANNEL, quote::in_heading(channel));
            line(&head, &quote::as_value(plane.name_text()));
        }
    }
    if bench.inner(Kind::Readout).any(|readout| readout.field(readout::ANGLES).is_some()) {
        line(setup::INDICATES.words(), &usual(setup::INDICATES.any()).unwrap_or_else(|| "?".to_owned()));
    }
    line(setup::TOLERANCE_READS.words(), &usual(setup::TOLERANCE_READS.any()).unwrap_or_else(|| "?".to_owned()));
    let controls: Vec<&Block> = bench.inner(Kind::Control).collect();
    if !controls.is_empty() {
        let _ = write!(text, "\n  {} {{\n", Kind::Settings);
        for control in controls {
            let _ = writeln!(text, "    {}: ?", quote::as_head(Kind::Settings, control.name_text()));
        }
        text.push_str("  }\n");
    }
    planes.iter().for_each(|plane| text.push_str(&calibration(plane, &book.file(rotor.file).text)));
    text + "}\n"
}

/// What is set up in a plane, with the radius that the rotor states.
fn calibration(plane: &Block, source: &str) -> String {
    let radius = plane.field(plane::RADIUS).filter(|field| !field.value.is_hole());
    let radius = radius.map_or("?", |field| field.value_span.of(source));
    format!(
        "\n  {} {} {{\n    {}: ?\n    {}: {radius}\n    {}: 0 deg\n  }}\n",
        Kind::Calibrate,
        quote::in_heading(plane.name_text()),
        calibrate::MASS,
        calibrate::RADIUS,
        calibrate::ANGLE,
    )
}

fn recorded(book: &Book, id: ItemId) -> Beginning {
    let item = book.item(id);
    let whole = effective(book, id).0;
    let rotor = whole.field(setup::ROTOR).and_then(|field| match &field.field.value {
        FieldValue::Name(name) => Some(name.text.to_string()),
        _ => None,
    });
    let number = book.naming(Kind::Setup, item.name_text()).len() + 1;
    let called = format!("{}, no. {number}", rotor.as_deref().unwrap_or(item.name_text()));
    let called = free_name(book, Kind::Record, &called);
    let mut text = heading(Kind::Record, &called);
    let _ = writeln!(text, "  {}: {}", record::SETUP, check::quoted(item.name_text()));
    for fact in [record::SERIAL.words(), record::DATE.words(), record::BY.words()] {
        let _ = writeln!(text, "  {fact}: ?");
    }
    let _ = write!(text, "\n  {} \"as found\" {{\n    {}: ?\n", Kind::Run, run::SPEED);
    if whole.inner(Kind::Calibrate).next().is_some() {
        let _ = writeln!(text, "    {}: off", run::CALIBRATION_MASSES);
    }
    for (channel, _) in whole.named(setup::CHANNEL) {
        let _ = writeln!(text, "    {} {}: ?", run::READING, quote::in_heading(&channel.text));
    }
    text.push_str("  }\n}\n");
    Beginning { title: "Record a run of this setup".to_owned(), path: free_path(book, Kind::Record, &called), text }
}

/// Like the nearest sheet that is proven.
fn like_nearest(book: &Book, rotor: ItemId) -> Option<Beginning> {
    let computing = Computing::without_explanations(book);
    let found = likeness::nearest(&computing, rotor);
    like_proven(book, found.first().filter(|near| near.is_near())?, rotor, None)
}

/// A setup of a rotor like one that is proven, with what differs and why dials may not carry over. `None` where that names
/// no machine.
pub fn like_proven(book: &Book, near: &Near, rotor: ItemId, called: Option<&str>) -> Option<Beginning> {
    let begun = like(book, near.setup, rotor, called)?;
    let mut text = format!("# Nearest proven sheet: {}.\n", check::quoted(&near.name));
    for differs in &near.differs {
        let _ = writeln!(text, "# Differs: {differs}.");
    }
    let _ = writeln!(text, "# Dials: {}.", near.dials);
    let title = format!("Set this rotor up like \"{}\", the nearest proven sheet", near.name);
    Some(Beginning { title, text: text + &begun.text, ..begun })
}

fn for_rotors(book: &Book, id: ItemId) -> Vec<Beginning> {
    let whole = effective(book, id).0;
    let own = whole.field(setup::ROTOR).and_then(|field| match &field.field.value {
        FieldValue::Name(name) => book.find(Kind::Rotor, &name.text).ok(),
        _ => None,
    });
    // Rotors that nobody has set up yet come first: it is they that somebody has in hand.
    let mut rotors: Vec<(&str, ItemId)> = book.names_of(Kind::Rotor).filter(|(_, other)| Some(*other) != own).collect();
    rotors.sort_by_key(|(_, other)| !book.users().setups(*other).is_empty());
    rotors.into_iter().take(MOST).filter_map(|(_, other)| like(book, id, other, None)).collect()
}

/// A setup of another rotor that takes over what holds for both.
fn like(book: &Book, id: ItemId, other: ItemId, called: Option<&str>) -> Option<Beginning> {
    let whole = effective(book, id).0;
    let named = |fact: Fact<crate::vocabulary::To<machine::Block>>| match &whole.field(fact)?.field.value {
        FieldValue::Name(name) => Some(name.text.to_string()),
        _ => None,
    };
    let bench = named(setup::MACHINE)?;
    let calibrated: Vec<&str> = whole.inner(Kind::Calibrate).map(|block| block.name_text()).collect();
    let wheel = book.item(other);
    let name = wheel.name_text();
    let called = called.map_or_else(|| free_name(book, Kind::Setup, &format!("{name} on the {bench}")), str::to_owned);
    let planes = planes(wheel);
    let mut text = heading(Kind::Setup, &called);
    let _ = writeln!(text, "  {}: {}", setup::ROTOR, check::quoted(name));
    let _ = writeln!(text, "  {}: {}", setup::LIKE, check::quoted(book.item(id).name_text()));
    let has = |plane: &str| planes.iter().any(|block| block.name_text() == plane);
    let lost: Vec<String> =
        calibrated.iter().filter(|plane| !has(plane)).map(|plane| format!("\"{} {plane}\"", Kind::Calibrate)).collect();
    if !lost.is_empty() {
        let _ = writeln!(text, "  {}: {}", setup::LEAVE_OUT, lost.join(", "));
    }
    let _ = writeln!(text, "  {}: draft", setup::STATUS);
    let _ = writeln!(text, "  {}: ?", setup::BALANCING_SPEED);
    // Channels that read planes of other names read those of this rotor, in their order.
    for (n, (channel, field)) in whole.named(setup::CHANNEL).enumerate() {
        let FieldValue::Name(plane) = &field.field.value else { continue };
        if let Some(own) = planes.get(n).filter(|_| !has(&plane.text)) {
            let (channel, plane) = (quote::in_heading(&channel.text), quote::as_value(own.name_text()));
            let _ = writeln!(text, "  {} {channel}: {plane}", setup::CHANNEL);
        }
    }
    let new = planes.iter().filter(|plane| !calibrated.contains(&plane.name_text()));
    new.for_each(|plane| text.push_str(&calibration(plane, &book.file(other.file).text)));
    text.push_str("}\n");
    let path = free_path(book, Kind::Setup, &called);
    Some(Beginning { title: format!("Like this one for \"{name}\""), path, text })
}

fn heading(kind: Kind, name: &str) -> String {
    format!("{kind} {} {{\n", quote::in_heading(name))
}

fn names(item: &Block, fact: Fact<crate::vocabulary::AllNamed<crate::vocabulary::ChannelName>>) -> Vec<String> {
    match item.field(fact).map(|field| &field.value) {
        Some(FieldValue::Names(names)) => names.iter().map(|name| name.text.to_string()).collect(),
        _ => Vec::new(),
    }
}

fn planes(rotor: &Block) -> Vec<&Block> {
    rotor.inner(Kind::Plane).collect()
}

/// The name, or with a number where an item of the book has it.
fn free_name(book: &Book, kind: Kind, name: &str) -> String {
    let is_free = |name: &String| book.named(kind, name).is_empty();
    let numbered = (2..).map(|number| format!("{name} {number}"));
    std::iter::once(name.to_owned()).chain(numbered).find(is_free).unwrap_or_default()
}

/// A path for a sheet of this name, beside the others of its kind, at which nothing lies.
fn free_path(book: &Book, kind: Kind, name: &str) -> String {
    let beside = book.items().find(|id| book.item(*id).kind == kind);
    let folder = match beside.map(|id| &*book.file(id.file).path).and_then(|path| path.rsplit_once('/')) {
        Some((folder, _)) => folder.to_owned(),
        None => format!("{kind}s"),
    };
    let letters = name.chars().map(|letter| if letter.is_alphanumeric() { letter } else { ' ' });
    let letters: String = letters.flat_map(char::to_lowercase).collect();
    let stem = letters.split_whitespace().collect::<Vec<_>>().join("-");
    let numbered = (2..).map(|number| format!("{folder}/{stem}-{number}.rotor"));
    let is_free = |path: &String| book.file_at(path).is_none();
    std::iter::once(format!("{folder}/{stem}.rotor")).chain(numbered).find(is_free).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::book::SourceFile;
    use crate::check::Severity;
    use crate::ide::testing::{SETUP, SHOP, fixture};

    fn begun(text: &str, title: &str) -> (Book, Beginning) {
        let fixture = fixture(text);
        let all = beginnings(&fixture.book, fixture.file, fixture.range);
        let titles: Vec<&str> = all.iter().map(|one| &*one.title).collect();
        let one = all.iter().find(|one| one.title == title).unwrap_or_else(|| panic!("{title} in {titles:?}"));
        let files = fixture.book.files().map(|(id, _)| fixture.book.shared_file(id).clone());
        let new = Arc::new(SourceFile::read(one.path.as_str(), one.text.as_str()));
        (Book::new(files.chain([new]).collect()), one.clone())
    }

    /// What is begun reads as it is meant, and lacks nothing but what the bench must say.
    fn is_sound(book: &Book, begun: &Beginning) {
        let file = book.file_at(&begun.path).unwrap();
        assert!(book.file(file).errors.is_empty(), "{}", begun.text);
        let wrong = check::check(book).into_iter().filter(|said| said.place.file == file);
        let wrong: Vec<String> =
            wrong.filter(|said| said.severity == Severity::Error).map(|said| said.message).collect();
        assert_eq!(wrong, Vec::<String>::new(), "{}", begun.text);
        let laid_out = crate::format::format(&begun.text);
        assert_eq!(laid_out.unwrap(), begun.text);
    }

    #[test]
    fn a_rotor_is_set_up_on_a_machine() {
        let text = format!("{SHOP}{SETUP}}}\n").replace("rotor wheel {", "rotor wh$0eel {");
        let (book, begun) = begun(&text, "Set this rotor up on \"soft bench\"");
        assert_eq!(begun.path, "setups/wheel-on-the-soft-bench-2.rotor");
        assert!(
            begun.text.starts_with("setup \"wheel on the soft bench 2\" {\n  rotor: \"wheel\"\n"),
            "{}",
            begun.text
        );
        for line in
            ["supports at: 0 mm, 200 mm", "channel left: hub", "tolerance reads: 1 div", "dial: ?", "radius: 120 mm"]
        {
            assert!(begun.text.contains(line), "{line} in {}", begun.text);
        }
        is_sound(&book, &begun);
    }

    #[test]
    fn a_run_of_a_setup_is_recorded() {
        let text = format!("{SHOP}{SETUP}}}\n").replace("setup \"wheel", "setup \"wh$0eel");
        let (book, begun) = begun(&text, "Record a run of this setup");
        assert!(begun.path.starts_with("records/"), "{}", begun.path);
        assert!(begun.text.contains("    reading left: ?\n    reading right: ?\n"), "{}", begun.text);
        is_sound(&book, &begun);
    }

    #[test]
    fn a_rotor_is_set_up_like_the_nearest_proven_sheet() {
        let other = "#! rotors/wide.rotor\nrotor wi$0de {\n  mass: 5 kg\n  bearings: 0 mm, 210 mm\n  plane hub {\n    at: 40 mm\n    \
                     radius: 120 mm\n  }\n  plane rim {\n    at: 170 mm\n    radius: 120 mm\n  }\n}\n";
        let proven = format!("{SHOP}{other}{SETUP}  proof \"2026-03-02\" {{\n    date: 2026-03-02\n  }}\n}}\n");
        let title = "Set this rotor up like \"wheel on the soft bench\", the nearest proven sheet";
        let (book, begun) = begun(&proven, title);
        assert!(begun.text.starts_with("# Nearest proven sheet: \"wheel on the soft bench\".\n"), "{}", begun.text);
        assert!(
            begun.text.contains("\n# Dials: on soft supports strength and separation go by mass"),
            "{}",
            begun.text
        );
        assert!(begun.text.contains("  like: \"wheel on the soft bench\"\n"), "{}", begun.text);
        is_sound(&book, &begun);
    }

    #[test]
    fn another_rotor_is_set_up_like_one_that_is() {
        let other = "#! rotors/disc.rotor\nrotor disc {\n  mass: 3 kg\n  plane hub {\n    at: 50 mm\n    radius: 90 mm\n  }\n  \
                     plane face {\n    at: 80 mm\n    radius: 70 mm\n  }\n}\n";
        let setup = SETUP.replace("setup \"wheel", "setup \"wh$0eel");
        let calibrated = "  calibrate hub {\n    mass: 4 g\n    radius: 100 mm\n  }\n}\n";
        let (_, begun) = begun(&format!("{SHOP}{other}{setup}{calibrated}"), "Like this one for \"disc\"");
        assert!(begun.text.contains("  like: \"wheel on the soft bench\"\n"), "{}", begun.text);
        assert!(begun.text.contains("calibrate face {") && !begun.text.contains("calibrate hub {"), "{}", begun.text);
    }
}
