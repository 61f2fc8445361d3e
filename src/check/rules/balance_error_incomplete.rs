use crate::check::diagnostic::FileEdit;
use crate::check::placing::{lines_in, without_line};
use crate::check::{ItemContext, Sink};
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::units::Dimension;
use crate::vocabulary::Choice;
use crate::vocabulary::balance_error::{self, ErrorOf};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    for block in context.block.inner(Kind::BalanceError) {
        let Some(field) = block.field(balance_error::AMOUNT) else { continue };
        let FieldValue::Reading(amount) = &field.value else { continue };
        let of = block.field(balance_error::OF);
        let is_share = amount.amount.dimension() != Dimension::UNBALANCE;
        if is_share && of.is_none() {
            let draft = context
                .draft(field.value_span, "a percentage needs `of`, to say what it is a percentage of")
                .help("add `of: own reading` for a share of the plane's own reading, or `of: other planes` for what it reads of the others");
            let file = context.id.file;
            sink.report(ErrorOf::WORDS.iter().fold(draft, |draft, of| {
                let line = format!("{}: {of}", balance_error::OF);
                let edit = lines_in(context.source(), block, &[&line]);
                draft.choice(format!("Write `{line}`"), vec![FileEdit { file, edit }])
            }));
        }
        if let Some(of) = of.filter(|_| !is_share) {
            let draft = context
                .draft(of.value_span, "an unbalance is an amount by itself, and not a share of something")
                .help("take this line out, or write the amount as a percentage")
                .fix("Take the line out", without_line(context.source(), of.value_span));
            sink.report(draft);
        }
        if is_share
            && let Some(angle) = &amount.angle
            && angle.base.is_finite()
        {
            let draft = context
                .draft(field.value_span, "a share has no angle")
                .help("write the percentage alone; a vector that is taken out is an unbalance, `12 g·mm @ 65 deg`");
            sink.report(draft);
        }
        let places = [block.field(balance_error::PLANE), block.field(balance_error::AT)];
        if context.block.kind != Kind::Setup
            && let Some(place) = places.into_iter().flatten().next()
        {
            let draft = context
                .draft(place.value_span, "what a machine or an arbor puts in has no place on one rotor")
                .help("take this line out, or state the error in the setups")
                .fix("Take the line out", without_line(context.source(), place.value_span));
            sink.report(draft);
        }
    }
}
