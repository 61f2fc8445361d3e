use crate::book::{self, Judged, RotorResults, Val};
use crate::check::amounts::shown;
use crate::check::{ItemContext, Sink};
use crate::units::Unbalance;
use crate::vocabulary::record;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(record) = context.record() else { return };
    let Some((verdict, setup)) = record.verdict.as_ref().zip(record.setup.as_ref()) else { return };
    let Some(today) = context.computing.setup(setup.id) else { return };
    let Some(rotor) = &today.rotor else { return };
    for one in &verdict.judged {
        let that_day = setup.rotor.as_ref().and_then(|rotor| limit_of(rotor, one));
        let Some((of_that_day, limit)) = that_day.zip(limit_of(rotor, one)) else { continue };
        let (Some(then), Some(now)) = (one.verdict, one.by(limit)) else { continue };
        if then == now {
            continue;
        }
        let message = format!(
            "{}: {} by the limit of that day, {}; by today's limit of {} it would be {}",
            one.name(),
            book::word_of(then),
            shown(of_that_day),
            shown(limit),
            book::word_of(now)
        );
        let draft = context.beside_first(context.effective(), &[record::PROOF.any(), record::SETUP.any()], message);
        sink.report(draft.help("the record keeps its verdict; where today's limit is asked for, measure again"));
    }
}

fn limit_of<'r>(rotor: &'r RotorResults<'_>, one: &Judged) -> Option<&'r Val<Unbalance>> {
    rotor.limits.iter().find(|limit| limit.of == one.of).map(|limit| &limit.amount)
}
