//! Cautions, each where the work can hurt. They are printed on every card, whatever the sheet says.
//! Source of all of them: common practice, no source.

use super::values;
use super::words::Words;
use crate::book::{Book, Lifting, RotorResults, SetupResults};
use crate::sheet::FieldValue;
use crate::units::Amount;
use crate::vocabulary::machine::{Drive, Supports, Works};
use crate::vocabulary::plane::CorrectBy;
use crate::vocabulary::readout::AngleDisplay;
use crate::vocabulary::{machine, plane, readout, setup};

/// How the machine shows angles, where it says so.
pub(super) fn angle_display(setup: &SetupResults<'_>) -> Option<AngleDisplay> {
    setup.machine.as_ref()?.readout.as_ref()?.block.choice(readout::ANGLES)
}

/// What belongs to this machine and this rotor, once, before the work at the run card begins; the sheet's own first.
pub(super) fn at_work(book: &Book, setup: &SetupResults<'_>) -> Vec<Words> {
    let mut cautions: Vec<Words> = hold_down(book, setup).into_iter().chain(own(book, setup)).collect();
    match setup.supports() {
        Some(Supports::KnifeEdges | Supports::Rollers) => cautions.extend(said(&ON_A_STAND)),
        Some(Supports::InPlace) => cautions.extend(said(&IN_PLACE)),
        Some(Supports::Soft | Supports::Hard) | None => {
            cautions.extend(said(&[
                "Guard closed and eyes protected; nobody in the plane of rotation. Coast to a stop and lock out before \
                 anything is touched.",
            ]));
            let drive = drive(setup);
            if matches!(drive, Some(Drive::Belt) | None) {
                cautions.push("Hands and cloth stay clear of belt and drive.".into());
            }
            if drive == Some(Drive::End) {
                cautions.push(DRIVE_SHAFT.into());
            }
            if setup.supports() != Some(Supports::Hard) {
                cautions.push(LOCK.into());
            }
        }
    }
    cautions.extend(of_machine(setup));
    cautions.extend(extra_masses(setup));
    cautions.extend(setup.rotor.as_deref().map(removing).unwrap_or_default());
    cautions.push(REPLACES_NOTHING.into());
    cautions
}

fn drive(setup: &SetupResults<'_>) -> Option<Drive> {
    setup.machine.as_ref().and_then(|machine| machine.block.choice(machine::DRIVE))
}

/// The sheet's own, never cut.
pub(super) fn own(book: &Book, setup: &SetupResults<'_>) -> Vec<Words> {
    let stated = setup.block.fields.iter().filter(|field| field.field.key.is(setup::CAUTION));
    let texts = stated.filter_map(|field| values::text_of_fact(book, *field));
    texts.map(|caution| Words::whole(caution).say(".")).collect()
}

/// A rotor that lifts off a support tips out of the machine: first of all, on every card.
fn hold_down(book: &Book, setup: &SetupResults<'_>) -> Option<Words> {
    let by = setup.block.field(setup::HELD_DOWN_BY).and_then(|field| values::text_of_fact(book, field));
    let lifting = setup.lifts_off().filter(|_| setup.supports() != Some(Supports::InPlace));
    let Some(Lifting { side, load, is_without_arbor, .. }) = lifting else {
        // Nothing is known to lift; whoever wrote it down may know more.
        return by.map(|by| Words::whole("HOLD DOWN the rotor").say(": ").with(&Words::whole(by)).say("."));
    };
    let known = load.get()?.raw();
    let words = Words::whole(format!("HOLD DOWN the {}", ["left journal", "right journal"][side]));
    let words = match known < 0.0 {
        true if is_without_arbor => {
            words.say(": but for the arbor it lifts with ").stress(values::bare(-known, load.unit))
        }
        true => words.say(": it lifts with ").stress(values::bare(-known, load.unit)),
        false => words.say(": it carries no more than ").stress(values::bare(known, load.unit)),
    };
    Some(match by {
        Some(by) => words.say(": ").with(&Words::whole(by)).say("."),
        None => words.say("."),
    })
}

/// A rotor rolls, and falls.
const ON_A_STAND: [&str; 2] = [
    "Fingers stay clear of journals and edges. Nobody lets go of a rotor that may roll off.",
    "Stops at the ends of the edges, or of the rollers. Keep feet out from under the rotor.",
];

/// What turns is a plant of its own.
const IN_PLACE: [&str; 2] = [
    "Lock out with your own lock and wait for standstill before a cover comes off or anything is touched.",
    "Covers back on before the start; nobody in the plane of rotation. Sensors and cables clear of all that turns.",
];

const DRIVE_SHAFT: &str =
    "Drive shaft and its bolts tight, guarded over their whole length; no key or spanner left in the coupling.";

const LOCK: &str = "Lock soft supports before loading the rotor or lifting it out.";

fn said(cautions: &[&'static str]) -> Vec<Words> {
    cautions.iter().map(|caution| Words::said(*caution)).collect()
}

/// Before hands go near the rotor.
pub(super) fn mounting(book: &Book, setup: &SetupResults<'_>) -> Vec<Words> {
    let mut cautions: Vec<Words> = hold_down(book, setup).into_iter().collect();
    match setup.supports() {
        Some(Supports::KnifeEdges | Supports::Rollers) => {
            cautions.extend(said(&ON_A_STAND));
            return cautions;
        }
        Some(Supports::InPlace) => return said(&IN_PLACE[..1]),
        Some(Supports::Soft | Supports::Hard) | None => {}
    }
    cautions.push("Coast to a stop and lock out the drive before anything is touched.".into());
    cautions.extend(extra_masses(setup));
    if setup.supports() != Some(Supports::Hard) {
        cautions.push(LOCK.into());
    }
    cautions
}

/// Before the drive starts.
pub(super) fn running(setup: &SetupResults<'_>) -> Vec<Words> {
    match setup.supports() {
        Some(Supports::KnifeEdges | Supports::Rollers) => return Vec::new(),
        Some(Supports::InPlace) => {
            let mut cautions = said(&IN_PLACE[1..]);
            cautions.push("Never above the highest safe speed.".into());
            cautions.extend(of_machine(setup));
            return cautions;
        }
        Some(Supports::Soft | Supports::Hard) | None => {}
    }
    let mut cautions = said(&[
        "Guard closed and eyes protected before the drive starts. Nobody stands in the plane of rotation.",
        "Hands and cloth stay clear of belt and drive.",
        "Never above the highest safe speed.",
    ]);
    if drive(setup) == Some(Drive::End) {
        cautions.push(DRIVE_SHAFT.into());
    }
    cautions.extend(of_machine(setup));
    cautions
}

/// What is put on for the run turns with the rotor, and hangs on its own bolts alone.
fn extra_masses(setup: &SetupResults<'_>) -> Option<Words> {
    setup.extra_masses_to_put_on().next()?;
    Some(
        "Extra masses fly when they come loose: each in its place, bolts and clamps checked before every start.".into(),
    )
}

/// What this machine does.
fn of_machine(setup: &SetupResults<'_>) -> Vec<Words> {
    let mut cautions = Vec::new();
    if setup.is_on_stand() {
        return cautions;
    }
    match setup.machine.as_ref().and_then(|machine| machine.block.choice(machine::WORKS)) {
        Some(Works::BelowResonance | Works::AtResonance) => {}
        Some(Works::AboveResonance) | None => {
            cautions.push(Words::said("Do not linger at resonance."));
        }
    }
    match angle_display(setup) {
        Some(AngleDisplay::NotShown | AngleDisplay::Measured) => {}
        Some(AngleDisplay::ByStrobe) | None => {
            cautions.push(Words::said("A strobe makes a turning rotor look still."));
        }
    }
    cautions
}

/// Before masses are put on.
pub(super) fn masses() -> Vec<Words> {
    said(&[
        "Weigh each mass with the wax or tape that holds it. Use none whose pull at speed is more than the wax or tape can hold.",
        "All of them come off before the reading that counts, and before service.",
    ])
}

/// What dust and swarf of a material do, by a word in its name.
const MATERIALS: [(&[&str], &str); 7] = [
    (&["magnesium"], "Magnesium swarf burns and water feeds the fire: dry, no sparks, sand within reach."),
    (&["titanium"], "Fine titanium swarf burns: sharp tools, no heap of chips, no sparks."),
    (&["alumin"], "Fine aluminium dust burns: no sparks, kept apart from steel dust."),
    (&["lead"], "Lead dust is poisonous: extraction on, mask on, hands washed before eating."),
    (
        &["resin", "putty", "plastic", "epoxy", "filler"],
        "Resin dust harms lungs and skin: extraction on, mask and gloves on.",
    ),
    (&["iron", "steel"], "Swarf of iron and steel is hot and sharp: extraction on, glasses on, no bare hands."),
    (&["brass", "bronze", "copper", "zinc"], "Chips of copper alloys fly: glasses on, extraction on."),
];

const ANY_MATERIAL: &str = "Dust and swarf: extraction on, protect eyes and lungs as the material requires.";

/// Before anything is drilled, milled or ground.
pub(super) fn removing(rotor: &RotorResults<'_>) -> Vec<Words> {
    let mut cautions: Vec<&'static str> = Vec::new();
    for plane in &rotor.planes {
        let material = match plane.block.field(plane::MATERIAL).map(|field| &field.field.value) {
            Some(FieldValue::Name(name)) => name.text.to_lowercase(),
            _ => String::new(),
        };
        let known = MATERIALS.iter().find(|(words, _)| words.iter().any(|word| material.contains(word)));
        let caution = match (known, plane.block.choice(plane::CORRECT)) {
            (Some((_, caution)), _) => *caution,
            (None, Some(CorrectBy::Add)) => continue,
            (None, Some(CorrectBy::Remove | CorrectBy::Either) | None) => ANY_MATERIAL,
        };
        if !cautions.contains(&caution) {
            cautions.push(caution);
        }
    }
    if rotor.planes.iter().any(|plane| plane.block.choice(plane::CORRECT) != Some(CorrectBy::Remove)) {
        cautions.push("What stays on must hold at the highest service speed: check each mass by hand.");
    }
    said(&cautions)
}

/// What a card is not.
pub(super) const REPLACES_NOTHING: &str =
    "This sheet replaces no machine manual, no local rule and no licensed judgement.";
