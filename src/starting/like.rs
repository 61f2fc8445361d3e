//! A setup of one rotor like that of another.

use super::around::inner;
use super::draft::Draft;
use super::starts::{calibrate, of_channel};
use crate::book::{Book, EffectiveBlock, EffectiveField, ItemId, effective};
use crate::sheet::{FieldValue, NameAt, quote};
use crate::syntax::{self, Kind};
use crate::vocabulary::machine::{self, Supports};
use crate::vocabulary::setup::{self, Status};
use crate::vocabulary::{Choice, rotor as of_rotor};

fn plane_of<'b>(channel: &'b NameAt, field: EffectiveField<'b>) -> Option<(&'b str, &'b str)> {
    match &field.field.value {
        FieldValue::Name(plane) => Some((&channel.text, &plane.text)),
        _ => None,
    }
}

/// Whether the rotor of a setup lies on the supports of a machine, and not in bearings of its own in place.
fn lies_on_supports(book: &Book, like: &EffectiveBlock<'_>) -> bool {
    let Some(FieldValue::Name(name)) = like.field(setup::MACHINE).map(|field| &field.field.value) else { return false };
    let machine = book.find(Kind::Machine, &name.text).ok();
    let supports = machine.and_then(|machine| book.item(machine).choice(machine::SUPPORTS));
    supports.is_some_and(|supports| supports != Supports::InPlace)
}

/// A setup of `rotor` that takes over from another what holds for both.
pub fn setup_like(book: &Book, like: ItemId, rotor: ItemId, called: &str) -> Draft {
    let whole = effective(book, like).0;
    let planes = inner(book.item(rotor), Kind::Plane);
    let has = |plane: &str| planes.iter().any(|own| own == plane);
    let calibrated: Vec<&str> = whole.inner(Kind::Calibrate).map(|block| block.name_text()).collect();
    let read: Vec<(&str, &str)> =
        whole.named(setup::CHANNEL).filter_map(|(channel, field)| plane_of(channel, field)).collect();
    // Channels that read planes of other names read those of this rotor that no other reads, in their order.
    let mut free = planes.iter().filter(|own| !read.iter().any(|(_, plane)| plane == own));
    let channels: Vec<(&str, Option<&String>)> =
        read.iter().filter(|(_, plane)| !has(plane)).map(|(channel, _)| (*channel, free.next())).collect();
    let idle = channels.iter().filter(|(_, plane)| plane.is_none());
    let idle = idle.map(|(channel, _)| syntax::quote(&format!("{} {channel}", setup::CHANNEL)));
    let lost = calibrated.iter().filter(|plane| !has(plane));
    let lost = lost.map(|plane| syntax::quote(&format!("{} {plane}", Kind::Calibrate)));
    // A rotor with journals of its own does not sit on the other's arbor.
    let (has_journals, has_arbor) =
        (book.item(rotor).field(of_rotor::BEARINGS).is_some(), whole.field(setup::ARBOR).is_some());
    let arbor = (has_journals && has_arbor).then(|| syntax::quote(setup::ARBOR.words()));
    let lost: Vec<String> = arbor.into_iter().chain(idle).chain(lost).collect();
    let mut draft = Draft::named(Kind::Setup, called)
        .refers(setup::ROTOR, Some(book.item(rotor).name_text()))
        .refers(setup::LIKE, Some(book.item(like).name_text()))
        .takes_over(whole.fields.iter().map(|field| field.field.key.name));
    if !lost.is_empty() {
        draft = draft.holds(setup::LEAVE_OUT, lost.join(", "));
    }
    draft = draft.holds(setup::STATUS, Status::Draft.words()).open(setup::BALANCING_SPEED);
    if !has_journals && !has_arbor && lies_on_supports(book, &whole) {
        draft = draft.open(setup::ARBOR);
    }
    for (channel, own) in &channels {
        if let Some(own) = own {
            let head = of_channel(Kind::Setup, setup::CHANNEL.words(), channel);
            draft = draft.holds(head, quote::as_value(own));
        }
    }
    let new = planes.iter().filter(|plane| !calibrated.contains(&plane.as_str()));
    draft.blocks(new.map(|plane| calibrate(plane)))
}
