//! A setup of one rotor like that of another.

use super::around::inner;
use super::draft::Draft;
use super::starts::{calibrate, of_channel};
use crate::book::{Book, EffectiveField, ItemId, effective};
use crate::sheet::{FieldValue, NameAt, quote};
use crate::syntax::{self, Kind};
use crate::vocabulary::Choice;
use crate::vocabulary::setup::{self, Status};

fn plane_of<'b>(channel: &'b NameAt, field: EffectiveField<'b>) -> Option<(&'b str, &'b str)> {
    match &field.field.value {
        FieldValue::Name(plane) => Some((&channel.text, &plane.text)),
        _ => None,
    }
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
    let lost: Vec<String> = idle.chain(lost).collect();
    let mut draft = Draft::named(Kind::Setup, called)
        .refers(setup::ROTOR, Some(book.item(rotor).name_text()))
        .refers(setup::LIKE, Some(book.item(like).name_text()))
        .takes_over(whole.fields.iter().map(|field| field.field.key.name));
    if !lost.is_empty() {
        draft = draft.holds(setup::LEAVE_OUT, lost.join(", "));
    }
    draft = draft.holds(setup::STATUS, Status::Draft.words()).open(setup::BALANCING_SPEED);
    for (channel, own) in &channels {
        if let Some(own) = own {
            let head = of_channel(Kind::Setup, setup::CHANNEL.words(), channel);
            draft = draft.holds(head, quote::as_value(own));
        }
    }
    let new = planes.iter().filter(|plane| !calibrated.contains(&plane.as_str()));
    draft.blocks(new.map(|plane| calibrate(plane)))
}
