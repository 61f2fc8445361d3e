use crate::check::placing::lines_in;
use crate::check::{ItemContext, Sink, rotors};
use crate::sheet::FieldValue;
use crate::text::Edit;
use crate::vocabulary::{Choice, rotor, rotor::BearingArrangement};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(rotor) = context.rotor() else { return };
    let (Some(centre), Some(a), Some(b)) = (rotor.mass_centre.get(), rotor.bearings[0].get(), rotor.bearings[1].get())
    else {
        return;
    };
    let arrangement = rotor.block.field(rotor::BEARING_ARRANGEMENT);
    let said = arrangement.map(|field| &field.field.value);
    let outside = centre < a.min(b) || centre > a.max(b);
    let overhung = rotor.block.choice(rotor::BEARING_ARRANGEMENT) == Some(BearingArrangement::Overhung);
    if outside == overhung || said.is_some_and(FieldValue::is_hole) || rotors::centre_beyond_everything(rotor).is_some()
    {
        return;
    }
    let unit = rotor.mass_centre.unit;
    let centre = match rotor.block.field(rotor::MASS_CENTRE) {
        Some(_) => rotors::given(centre, unit),
        None => rotors::in_unit(centre, unit),
    };
    let (a, b) = (rotors::given(a, unit), rotors::given(b, unit));
    let (message, right) = match (outside, said) {
        (true, None) => (
            format!(
                "the mass centre at {centre} lies outside the bearings at {a} and {b}, and nothing says \
                that the rotor is overhung"
            ),
            BearingArrangement::Overhung,
        ),
        (true, _) => (
            format!(
                "the mass centre at {centre} lies outside the bearings at {a} and {b}, though the rotor is \
                called inboard"
            ),
            BearingArrangement::Overhung,
        ),
        _ => (
            format!(
                "the mass centre at {centre} lies between the bearings at {a} and {b}, though the rotor is \
                called overhung"
            ),
            BearingArrangement::Inboard,
        ),
    };
    let line = format!("{}: {}", rotor::BEARING_ARRANGEMENT, right.words());
    let edit = match arrangement {
        Some(field) => Edit::replace(field.field.value_span, right.words()),
        None => lines_in(context.source(), context.block, &[&line]),
    };
    let help = format!("look at the datum of all three places; if they are right, write `{line}`");
    let span = rotors::span_of(&rotor.block, &[rotor::MASS_CENTRE.any(), rotor::WEIGHED.any()]);
    sink.report(context.draft(span, message).help(help).fix(format!("Write `{line}`"), edit));
}
