use crate::book::{CorrectionResults, PlaneResults};
use crate::check::{ItemContext, Sink};
use crate::vocabulary::correction;
use crate::vocabulary::plane::CorrectBy;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(record) = context.record() else { return };
    let Some(rotor) = record.setup.as_ref().and_then(|setup| setup.rotor.as_ref()) else { return };
    for one in &record.corrections {
        let Some(plane) = rotor.plane(one.plane).filter(|_| one.carried.not_known.is_none()) else { continue };
        let Some((message, help)) = against(plane, one) else { continue };
        let facts = [
            correction::ADD.any(),
            correction::REMOVE.any(),
            correction::ADD_PLACE.any(),
            correction::REMOVE_PLACE.any(),
        ];
        sink.report(context.beside_first(&one.block, &facts, message).help(help));
    }
}

/// What was done the other way than the plane is corrected, where nothing was done there before that it takes back.
fn against(plane: &PlaneResults<'_>, one: &CorrectionResults<'_>) -> Option<(String, &'static str)> {
    match plane.correct()? {
        CorrectBy::Add if one.then.cuts.len() > one.carried.cuts.len() => Some((
            format!(
                "material comes off plane {}, where nothing was put on, and the plane is corrected by adding",
                plane.name
            ),
            "look at `add` and `remove`; if this was done all the same, look at `correct` of the plane",
        )),
        CorrectBy::Remove if one.then.masses.len() > one.carried.masses.len() && one.carried.cuts.is_empty() => Some((
            format!("mass is put on plane {}, and the plane is corrected by removing", plane.name),
            "look at `add` and `remove`; if this was done all the same, look at `correct` of the plane",
        )),
        _ => None,
    }
}
