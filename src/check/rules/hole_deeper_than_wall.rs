use crate::check::solving::{Bound, keeping};
use crate::check::{ItemContext, Sink, rotors};
use crate::units::{Length, Typed};
use crate::vocabulary::plane;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(rotor) = context.rotor() else { return };
    let facts = context.computing.facts();
    for plane in &rotor.planes {
        let wall = facts.quantity::<Length>(&plane.block, plane::WALL);
        let (Some(depth), Some(thick)) = (plane.geometry.depth.get(), wall.get()) else { continue };
        let rest = facts.quantity::<Length>(&plane.block, plane::WALL_AT_LEAST);
        let left = rest.get().unwrap_or(Length::ZERO);
        let tip = rotors::tip(plane).unwrap_or(Length::ZERO);
        let needed = depth + tip + left;
        if needed <= thick * (1.0 + 1e-9) {
            continue;
        }
        let unit = wall.unit;
        let mut parts = vec![format!("{} deep", rotors::given(depth, unit))];
        if tip > Length::ZERO {
            parts.push(format!("with a tip of {}", rotors::in_unit(tip, unit)));
        }
        if left > Length::ZERO {
            parts.push(format!("and {} of wall left behind it", rotors::given(left, unit)));
        }
        let message = format!(
            "{} {} needs {}, but the wall is {} thick",
            rotors::cut(plane),
            parts.join(" "),
            rotors::in_unit(needed, unit),
            rotors::given(thick, unit),
        );
        let most = thick - left - tip;
        let draft = context.draft(rotors::span_of(&plane.block, &[plane::DEPTH.any()]), message);
        let up_to = format!("up to {}", keeping(most.base(), Bound::AtMost, plane.geometry.depth.unit));
        sink.report(match plane.block.field(plane::DEPTH) {
            Some(field) if most > Length::ZERO => {
                draft.help(format!("allow `depth: {up_to}` at most")).offer_value(context, field, &up_to)
            }
            _ => draft.help("choose a smaller drill, or another way of correcting"),
        });
    }
}
