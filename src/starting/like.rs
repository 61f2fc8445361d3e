//! A setup of one rotor like that of another.

use super::around::inner;
use super::draft::Draft;
use super::starts::{calibrate, of_channel};
use crate::book::{Book, ItemId, effective};
use crate::sheet::{FieldValue, quote};
use crate::syntax::{self, Kind};
use crate::vocabulary::Choice;
use crate::vocabulary::setup::{self, Status};

/// A setup of `rotor` that takes over from another what holds for both.
pub fn setup_like(book: &Book, like: ItemId, rotor: ItemId, called: &str) -> Draft {
    let whole = effective(book, like).0;
    let planes = inner(book.item(rotor), Kind::Plane);
    let has = |plane: &str| planes.iter().any(|own| own == plane);
    let calibrated: Vec<&str> = whole.inner(Kind::Calibrate).map(|block| block.name_text()).collect();
    let lost = calibrated.iter().filter(|plane| !has(plane));
    let lost: Vec<String> = lost.map(|plane| syntax::quote(&format!("{} {plane}", Kind::Calibrate))).collect();
    let mut draft = Draft::named(Kind::Setup, called)
        .refers(setup::ROTOR, Some(book.item(rotor).name_text()))
        .refers(setup::LIKE, Some(book.item(like).name_text()));
    if !lost.is_empty() {
        draft = draft.holds(setup::LEAVE_OUT, lost.join(", "));
    }
    draft = draft.holds(setup::STATUS, Status::Draft.words()).open(setup::BALANCING_SPEED);
    // Channels that read planes of other names read those of this rotor, in their order.
    for (n, (channel, field)) in whole.named(setup::CHANNEL).enumerate() {
        let FieldValue::Name(plane) = &field.field.value else { continue };
        if let Some(own) = planes.get(n).filter(|_| !has(&plane.text)) {
            let head = of_channel(Kind::Setup, setup::CHANNEL.words(), &channel.text);
            draft = draft.holds(head, quote::as_value(own));
        }
    }
    let new = planes.iter().filter(|plane| !calibrated.contains(&plane.as_str()));
    draft.blocks(new.map(|plane| calibrate(plane)))
}
