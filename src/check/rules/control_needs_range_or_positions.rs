use crate::check::wording::one_dimension;
use crate::check::{ItemContext, Sink};
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::units::Dimension;
use crate::vocabulary::AnyFact;
use crate::vocabulary::control::{self, Taken};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    if !context.is_read_whole() {
        return;
    }
    for control in context.effective().inner(Kind::Control) {
        const VALUES: [AnyFact; 3] = [control::RANGE.any(), control::POSITIONS.any(), control::POSITION.any()];
        if control.choice(control::TAKES) == Some(Taken::Layout) && control.field(control::POSITION).is_none() {
            let message = format!("control \"{}\" takes the layout, but has no position for any", control.name_text());
            let help = "write a line for each of its positions, such as `position 1: planes between supports`";
            let draft = context.on_heading(control, message).help(help);
            sink.report(draft.offer_in(context.book(), control.place(), &["position 1: ?"]));
            continue;
        }
        let amount = control.choice(control::TAKES).and_then(Taken::dimension);
        let with_unit = |dimension: Dimension| {
            let unit = dimension.usual_units().first().copied().unwrap_or_default();
            format!("write its range with its unit, such as `range: 0 {unit} to 500 {unit}`")
        };
        if let (Some(dimension), Some(range)) = (amount, control.field(control::RANGE)) {
            let is_plain = matches!(range.field.value, FieldValue::NumberRange(..));
            let unit = dimension.usual_units().first().copied().unwrap_or_default();
            let with_units = context.written(range).split(" to ").map(|end| format!("{end} {unit}"));
            let with_units = with_units.collect::<Vec<_>>().join(" to ");
            let said = format!("the range of control \"{}\" has no unit", control.name_text());
            let message = format!("{said}, but the control takes {}", one_dimension(dimension));
            sink.drafts.extend(is_plain.then(|| {
                let draft = context.beside(range, message).help(with_unit(dimension));
                draft.offer_value(context, range, &with_units)
            }));
        }
        if VALUES.iter().any(|fact| control.field(*fact).is_some()) {
            continue;
        }
        let message = format!("control \"{}\" has neither a range nor positions", control.name_text());
        let help = "write `range: 0 to 100` for a dial, `positions: off, on` for a switch: then a setting that it \
                    does not have is found";
        let help = amount.map_or_else(|| help.to_owned(), with_unit);
        let draft = context.on_heading(control, message).help(help);
        let draft = draft.offer_in(context.book(), control.place(), &["range: ?"]);
        sink.report(match amount {
            Some(_) => draft,
            None => draft.offer_in(context.book(), control.place(), &["positions: off, on"]),
        });
    }
}
