//! What the rules on rotors share: facts as written, amounts as shown, the setups of a rotor, lines to put in.

use super::context::ItemContext;
use crate::book::{
    Book, EffectiveBlock, EffectiveField, ItemId, Method, PlaneResults, RotorResults, Val, display_value,
};
use crate::mechanics::correction::drilling::Drill;
use crate::mechanics::planes::Levers;
use crate::sheet::{Field, FieldValue, Stated};
use crate::text::Span;
use crate::units::{self, Amount, Length, Typed, Unit};
use crate::vocabulary::{AnyFact, Fact, KeySpec, OneQuantity, tolerance};

/// An amount in a unit: `81.7 g·mm`.
pub fn in_unit<T: Typed>(amount: T, unit: Unit) -> String {
    display_value(amount.base(), unit, 0.0)
}

/// An amount that was given rather than worked out: `30 mm`, without idle zeros.
pub fn given<T: Typed>(amount: T, unit: Unit) -> String {
    format!("{} {unit}", units::plainly(unit.from_base(amount.base())))
}

/// A value in its own unit; `None` while it is missing.
pub fn shown<T: Amount>(value: &Val<T>) -> Option<String> {
    value.get().map(|amount| display_value(amount.raw(), value.unit, 0.0))
}

/// A share as a percentage: `12.5 %`.
pub fn percent(share: f64) -> String {
    display_value(share, Unit::PERCENT, 0.0)
}

/// The quantity that a fact holds, with the fact.
pub fn quantity<'b, F: OneQuantity>(
    block: &EffectiveBlock<'b>,
    fact: Fact<F>,
) -> Option<(EffectiveField<'b>, &'b Stated)> {
    let field = block.field(fact)?;
    stated(field.field).map(|stated| (field, stated))
}

pub fn stated(field: &Field) -> Option<&Stated> {
    match &field.value {
        FieldValue::Quantity(stated) => Some(stated),
        _ => None,
    }
}

/// The value of the first of these facts that the block has, else its heading.
pub fn span_of(block: &EffectiveBlock<'_>, facts: &[AnyFact]) -> Span {
    let field = facts.iter().find_map(|fact| block.field(*fact));
    field.map_or(block.written.heading, |field| field.field.value_span)
}

/// A block as its heading is written: `plane hub`.
pub fn heading<'b>(context: &ItemContext<'b, '_>, block: &EffectiveBlock<'b>) -> &'b str {
    context.text(block.item.file, block.written.heading)
}

/// A fact's value as written.
pub fn written<'b>(context: &ItemContext<'b, '_>, field: EffectiveField<'b>) -> &'b str {
    context.text(field.item.file, field.field.value_span)
}

/// Whether every line of the item could be read under a name that its block knows. Where one could not, a fact that
/// seems to be missing may be in it, so its absence is not reported.
pub fn is_read_whole(context: &ItemContext<'_, '_>) -> bool {
    crate::book::is_read_whole(context.book(), context.id)
}

/// The setups of the book that set this rotor up, directly or through `like`.
pub fn setups_of(book: &Book, rotor: ItemId) -> Vec<ItemId> {
    book.users().setups(rotor)
}

/// The two planes that share the rotor's tolerance, when there are just two.
pub fn two_planes<'r, 'b>(rotor: &'r RotorResults<'b>) -> Option<[&'r PlaneResults<'b>; 2]> {
    let mut sharing = rotor.planes.iter().filter(|plane| plane.shares_tolerance);
    let two = [sharing.next()?, sharing.next()?];
    sharing.next().is_none().then_some(two)
}

/// How the two planes act at the bearings, where all four places are known.
pub fn levers(rotor: &RotorResults<'_>, planes: [&PlaneResults<'_>; 2]) -> Option<Levers> {
    let bearings = [rotor.bearings[0].get()?, rotor.bearings[1].get()?];
    Levers::new(bearings, [planes[0].at.get()?, planes[1].at.get()?]).ok()
}

/// How far a mass centre lies outside the stretch of everything else on the rotor.
pub struct Beyond {
    pub beyond: Length,
    pub low: Length,
    pub high: Length,
}

/// A mass centre farther outside the stretch of bearings and planes than that stretch is long.
pub fn centre_beyond_everything(rotor: &RotorResults<'_>) -> Option<Beyond> {
    let centre = rotor.mass_centre.get()?;
    let bearings = rotor.bearings.iter().filter_map(Val::get);
    let places: Vec<Length> = bearings.chain(rotor.planes.iter().filter_map(|plane| plane.at.get())).collect();
    let (low, high) = (places.iter().copied().reduce(Length::min)?, places.iter().copied().reduce(Length::max)?);
    let beyond = (low - centre).max(centre - high);
    (high > low && beyond > high - low).then_some(Beyond { beyond, low, high })
}

/// How much deeper than its full diameter a drilled hole goes; `None` for other methods.
pub fn tip(plane: &PlaneResults<'_>) -> Option<Length> {
    let geometry = &plane.geometry;
    let drill = Drill { diameter: geometry.hole_diameter.get()?, point_angle: geometry.point_angle.get()? };
    drill.tip_height().ok().filter(|_| plane.method == Some(Method::Drilling))
}

/// What is made in a plane by taking material off.
pub fn cut(plane: &PlaneResults<'_>) -> &'static str {
    if plane.method == Some(Method::Drilling) { "a hole" } else { "a cut" }
}

/// Whether a tolerance block says more than where its limits come from.
pub fn has_limits(rotor: &RotorResults<'_>) -> bool {
    let no_limits = [
        tolerance::EDITION.any(),
        tolerance::SOURCE.any(),
        tolerance::ACCEPTED_BY.any(),
        tolerance::NOTE.any(),
        tolerance::PLANES.any(),
    ];
    let is_limit = |key: &KeySpec| no_limits.iter().all(|fact| key.name != fact.words());
    let block = rotor.tolerance_block();
    block.is_some_and(|block| !block.blocks.is_empty() || block.fields.iter().any(|field| is_limit(field.field.key)))
}
