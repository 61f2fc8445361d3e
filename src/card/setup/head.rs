//! What the card is of, whether it may be used, and what is not to be passed.

use super::Sheet;
use crate::card::checked::Checked;
use crate::card::document::{BARRED, Stamp, Value};
use crate::card::words::Words;
use crate::card::{foot, values};
use crate::check::check_mass_outside;
use crate::vocabulary::setup::Status;
use crate::vocabulary::{rotor, setup};

pub(super) fn name(sheet: &Sheet<'_, '_>) -> Words {
    Words::stated(sheet.book.item(sheet.setup.id).name_text())
}

/// Drawing, revision, proof, and the text that it was printed from.
pub(super) fn under(sheet: &Sheet<'_, '_>, checked: &Checked<'_>) -> Vec<Words> {
    let book = sheet.book;
    let rotor = sheet.setup.rotor.as_deref();
    let machine = sheet.setup.machine.as_ref().map(|machine| book.item(machine.id).name_text());
    let mut what = Words::said("Rotor ").state(rotor.map_or("________", |rotor| book.item(rotor.id).name_text()));
    let drawing = rotor.and_then(|rotor| values::fact(book, &rotor.block, rotor::DRAWING));
    if let Some(Value::Text(drawing)) = drawing {
        what = what.say(", drawing ").with(&drawing);
    }
    let what = what.say("; machine ").state(machine.unwrap_or("________"));
    vec![what, state(sheet).say("; ").with(&checked.summary())]
}

fn text(value: Option<Value>) -> Option<Words> {
    match value? {
        Value::Text(words) => Some(words),
        _ => None,
    }
}

fn state(sheet: &Sheet<'_, '_>) -> Words {
    let words = Words::said("Sheet revision ").with(&revision(sheet).unwrap_or_else(|| "–".into()));
    let by = [setup::DATE.any(), setup::BY.any()].into_iter().filter_map(|fact| text(sheet.fact(fact)));
    let words = by.fold(words, |words, part| words.say(", ").with(&part));
    words.say("; ").say(sheet.setup.proof_in_words(sheet.book.rules()))
}

fn revision(sheet: &Sheet<'_, '_>) -> Option<Words> {
    text(sheet.fact(setup::REVISION))
}

/// The sheet's own word, unless nobody may work by it: an error weighs more than a calibration that is void, that more
/// than a text that is not saved, and that more than one that is not committed.
pub(super) fn stamp(sheet: &Sheet<'_, '_>, checked: &Checked<'_>) -> Stamp {
    let status = sheet.setup.block.choice(setup::STATUS);
    if status == Some(Status::Withdrawn) {
        return Stamp::loose(BARRED, "the sheet is withdrawn");
    }
    if checked.has_errors() {
        return Stamp::loose(BARRED, "the sheet has errors");
    }
    if !sheet.setup.void_causes.is_empty() {
        return Stamp::loose(BARRED, "calibration void");
    }
    if sheet.printed.preview {
        return Stamp::loose("PREVIEW", "may hold unsaved changes: do not work from it");
    }
    match (status, sheet.printed.committed) {
        (Some(Status::Released), true) => {
            let word =
                revision(sheet).map_or_else(|| "RELEASED".to_owned(), |word| format!("RELEASED {}", word.plain()));
            Stamp::firm(word, "for work at the machine")
        }
        (Some(Status::Released), false) => Stamp::loose("DRAFT", "uncommitted changes: do not work from this card"),
        _ => Stamp::loose("DRAFT", "not released: numbers may change"),
    }
}

pub(super) fn alarms(sheet: &Sheet<'_, '_>, checked: &Checked<'_>) -> Vec<Words> {
    let mut alarms = checked.alarms(sheet.book);
    let void = &sheet.setup.void_causes;
    if !void.is_empty() {
        let causes: Vec<&str> = void.iter().map(|cause| &*cause.what).collect();
        alarms.push(Words::strong("CALIBRATION VOID: ").state(causes.join("; ")).say(". Prove the sheet again first."));
    }
    if let Some(outside) = sheet.setup.check_mass.as_ref().and_then(check_mass_outside) {
        let words = Words::strong("CHECK MASS OUTSIDE ITS BAND: ").state(outside);
        alarms.push(words.say(". Find out what has moved, calibrate and prove the sheet again first."));
    }
    alarms
}

/// What tells loose sides apart.
pub(super) fn every(sheet: &Sheet<'_, '_>) -> Words {
    let words = name(sheet).say(", revision ").with(&revision(sheet).unwrap_or_else(|| "–".into()));
    let words = match sheet.code {
        "" => words,
        code => words.say(", code ").state(code),
    };
    words.say(", ").with(&foot::printed(sheet.printed))
}
