use crate::book::{CorrectionResults, EffectiveField, Val, barred};
use crate::check::amounts::amount;
use crate::check::{Draft, ItemContext, Sink};
use crate::mechanics::correction::places::AngularRange;
use crate::sheet::{FieldValue, StatedRange};
use crate::units::{self, Angle, Unit};
use crate::vocabulary::{correction, plane};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(record) = context.record() else { return };
    let Some(rotor) = record.setup.as_ref().and_then(|setup| setup.rotor.as_ref()) else { return };
    for correction in &record.corrections {
        let Some(plane) = rotor.plane(correction.plane) else { continue };
        for place in &correction.places {
            let (why, fact) = match (place.barred, place.used) {
                (true, _) => ("is barred", plane::BARRED.any()),
                (false, true) => ("is taken by something else", plane::PLACES_USED.any()),
                (false, false) => continue,
            };
            let message = format!("place {} of plane {} {why}", place.name, plane.name);
            let draft = context.beside(place.field, message).help(HELP);
            sink.report(about(draft, plane.block.field(fact)));
        }
        if plane.block.field(plane::PLACES).is_none() {
            sink.drafts.extend(at_an_angle(
                context,
                correction,
                plane.block.field(plane::BARRED),
                &barred(&plane.block),
            ));
        }
    }
}

const HELP: &str = "take it off or put it on beside the barred range, shared to either side, or correct `barred` of the \
                    plane if it is not so";

/// The angle of a correction in a barred range, or so near that the cut reaches into it.
fn at_an_angle<'b>(
    context: &ItemContext<'b, '_>,
    correction: &CorrectionResults<'b>,
    field: Option<EffectiveField<'b>>,
    ranges: &[AngularRange],
) -> Option<Draft> {
    let stated: Val<Angle> = context.computing.facts().quantity(&correction.block, correction::ANGLE);
    let angle = stated.get()?;
    let (at, half) = (correction.block.field(correction::ANGLE)?, correction.half_width);
    let hair = Angle::degrees(1e-6);
    let range = ranges.iter().find(|range| range.widened(half - hair).contains(angle))?;
    let barred = field.map_or_else(String::new, |field| written(field, ranges, range));
    let message = if range.contains(angle) {
        format!(
            "the correction in plane {} at {} lies in the barred range {barred}",
            correction.plane,
            context.written(at)
        )
    } else {
        format!(
            "the cut in plane {} at {} reaches {} to either side, into the barred range {barred}",
            correction.plane,
            context.written(at),
            amount(half, Unit::DEGREE)
        )
    };
    Some(about(context.beside(at, message).help(HELP), field))
}

/// The range that is meant, as the plane states it.
fn written(field: EffectiveField<'_>, ranges: &[AngularRange], range: &AngularRange) -> String {
    let (FieldValue::Ranges(stated), Some(n)) = (&field.field.value, ranges.iter().position(|other| other == range))
    else {
        return String::new();
    };
    let end = |end: Option<&crate::sheet::Stated>| {
        end.map_or_else(String::new, |end| format!("{} {}", units::plainly(end.unit.from_base(end.base)), end.unit))
    };
    let whole = |range: &&StatedRange| range.low.is_some() && range.high.is_some();
    let stated = stated.iter().filter(whole).nth(n);
    stated.map_or_else(String::new, |range| format!("{} to {}", end(range.low.as_ref()), end(range.high.as_ref())))
}

fn about<'b>(draft: Draft, field: Option<EffectiveField<'b>>) -> Draft {
    match field {
        Some(field) => draft.about(field, "the plane says so here"),
        None => draft,
    }
}
