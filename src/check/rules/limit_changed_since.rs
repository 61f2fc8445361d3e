use crate::book::{self, Limit, RotorResults, Val};
use crate::check::amounts::shown;
use crate::check::{ItemContext, Sink};
use crate::mechanics::verdict::Verdict;
use crate::units::Unbalance;
use crate::vocabulary::{Of, record};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(record) = context.record() else { return };
    let Some((verdict, setup)) = record.verdict.as_ref().zip(record.setup.as_ref()) else { return };
    let Some(today) = context.computing.setup(setup.id) else { return };
    let Some(rotor) = &today.rotor else { return };
    for one in &verdict.judged {
        let that_day = setup.rotor.as_ref().and_then(|rotor| limit_of(rotor, &one.of));
        let Some((of_that_day, then)) = that_day.zip(one.verdict) else { continue };
        let word = format!("{}: {} by the limit of that day, {}", one.name(), book::word_of(then), shown(of_that_day));
        let message = match limit_of(rotor, &one.of) {
            Some(limit) => match one.by(limit) {
                Some(now) if now != then => {
                    let now = book::word_of(now);
                    format!("{word}; by today's limit of {} it would be {now}", shown(limit))
                }
                _ => continue,
            },
            None if is_good(then) => continue,
            None => format!("{word}; today's sheet sets no limit there"),
        };
        report(context, sink, message);
    }
    let is_judged = |limit: &Limit| verdict.judged.iter().any(|one| one.of == limit.of);
    if record.bound_to().is_none() || verdict.judged.is_empty() {
        return;
    }
    for limit in rotor.limits.iter().filter(|limit| limit.amount.is_known() && !is_judged(limit)) {
        let shown = shown(&limit.amount);
        report(context, sink, format!("{}: no limit of that day; today's limit there is {shown}", limit.of));
    }
}

fn report(context: &ItemContext<'_, '_>, sink: &mut Sink, message: String) {
    let draft = context.beside_first(context.effective(), &[record::PROOF.any(), record::SETUP.any()], message);
    sink.report(draft.help("the record keeps its verdict; where today's limit is asked for, measure again"));
}

fn is_good(verdict: Verdict) -> bool {
    matches!(verdict, Verdict::Within | Verdict::WithinAsRead)
}

fn limit_of<'r>(rotor: &'r RotorResults<'_>, of: &Of) -> Option<&'r Val<Unbalance>> {
    rotor.limits.iter().find(|limit| limit.of == *of).map(|limit| &limit.amount)
}
