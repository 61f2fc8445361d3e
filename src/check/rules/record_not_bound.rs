use crate::book::{self, Binding, Day, EffectiveBlock, JudgedBy, SetupResults};
use crate::check::placing::{line_at_end, line_behind};
use crate::check::{Draft, FileEdit, ItemContext, Sink, proven_with};
use crate::syntax::Kind;
use crate::text::Edit;
use crate::vocabulary::setup::Status;
use crate::vocabulary::{Choice, machine, proof, record, setup};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(record) = context.record() else { return };
    let (Some(binding), Some(setup)) = (&record.binding, &record.setup) else { return };
    let Some(field) = context.effective().field(record::SETUP) else { return };
    // Without a day nothing later can be told from what was then.
    if binding.by != JudgedBy::Today
        || binding.day.is_none()
        || record.runs.is_empty()
        || context.block.field(record::PROOF).is_some()
    {
        return;
    }
    let message = format!(
        "the record does not state the proof or the limits it was run with, so it is judged by {}",
        binding.by.words()
    );
    let how = match has_proof(setup) {
        true => "name the proof of the setup, `proof: \"…\"`".to_owned(),
        false => format!("copy its facts, limits and influence coefficients into a block `{}`", Kind::AsRun),
    };
    let help = format!("{how}; a later tolerance or calibration then changes nothing in it");
    sink.report(with_fix(context, context.beside(field, message).help(help), binding, setup));
}

fn has_proof(setup: &SetupResults<'_>) -> bool {
    setup.block.inner(Kind::Proof).next().is_some()
}

/// The fix is offered where the day of the record tells that what is written now was so then.
fn with_fix<'b>(context: &ItemContext<'b, '_>, draft: Draft, binding: &Binding<'b>, setup: &SetupResults<'b>) -> Draft {
    let Some(day) = binding.day.filter(|_| context.is_read_whole()) else { return draft };
    if let Some(proof) = proof_of(setup, day) {
        if !runs_at_its_speed(context, setup, proof) {
            return draft;
        }
        let line = format!("{}: {}", record::PROOF, crate::check::quoted(proof.name_text()));
        let field = context.block.field(record::SETUP);
        return match field.and_then(|field| line_behind(context.source(), field, &line)) {
            Some(edit) => with_status(context, draft, setup, day, (format!("Write `{line}`"), edit)),
            None => draft,
        };
    }
    let is_as_then = setup.block.day(setup::DATE).is_some_and(|written| written <= day);
    let edit = (is_as_then && !has_proof(setup)).then(|| as_run(context, setup)).flatten();
    match edit {
        Some(edit) => with_status(context, draft, setup, day, ("Write down what it was run by".to_owned(), edit)),
        None => draft,
    }
}

/// The fix that binds the record. A sheet that is not released is said with it: from then on the record does not look at the
/// status of today. A sheet that was written after the record may have had another status on its day.
fn with_status(
    context: &ItemContext<'_, '_>,
    draft: Draft,
    setup: &SetupResults<'_>,
    day: Day,
    (title, edit): (String, Edit),
) -> Draft {
    let status = setup.block.choice(setup::STATUS).unwrap_or(Status::Draft);
    let is_as_then = setup.block.day(setup::DATE).is_none_or(|written| written <= day);
    let is_open = context.block.field(record::SHEET_STATUS).is_none();
    let line = format!("{}: {}", record::SHEET_STATUS, status.words());
    let status = (status == Status::Draft && is_as_then && is_open)
        .then(|| context.block.field(record::SETUP).and_then(|field| line_behind(context.source(), field, &line)))
        .flatten();
    let file = context.id.file;
    draft.fix_of(title, [edit].into_iter().chain(status).map(|edit| FileEdit { file, edit }).collect())
}

/// The latest proof with the limits of its day that the record may rest on.
fn proof_of<'e, 'b>(setup: &'e SetupResults<'b>, day: Day) -> Option<&'e EffectiveBlock<'b>> {
    let service = setup.machine.as_ref().and_then(|machine| machine.block.latest(machine::SERVICED, Some(day)));
    let may_hold = |made: Day| made <= day && service.as_ref().is_none_or(|(service, _)| *service <= made);
    let proofs = setup.block.inner(Kind::Proof).filter(|one| one.proven_with().is_some());
    let days = proofs.filter_map(|one| Some((one.day(proof::DATE)?, one)));
    days.filter(|(made, _)| may_hold(*made)).max_by_key(|(made, _)| *made).map(|(_, one)| one)
}

/// Whether no run was at another speed than the proof.
fn runs_at_its_speed(context: &ItemContext<'_, '_>, setup: &SetupResults<'_>, proof: &EffectiveBlock<'_>) -> bool {
    let proven = context.computing.setup_as_proven(setup.id, proof.name_text());
    let runs = context.record().map_or(&[][..], |record| &record.runs);
    proven.is_some_and(|proven| runs.iter().all(|run| book::in_band(&proven, &run.speed) != Some(false)))
}

/// The edit that writes facts, limits and influences down.
fn as_run<'b>(context: &ItemContext<'b, '_>, setup: &SetupResults<'b>) -> Option<Edit> {
    let kept = proven_with::of_today(context, setup).into_iter();
    let mut lines: Vec<String> = kept.map(|line| format!("  {}: {}", line.head, line.value)).collect();
    lines.extend(proven_with::influences(context, setup));
    if lines.is_empty() {
        return None;
    }
    line_at_end(context.source(), context.block, &format!("\n{} {{\n{}\n}}", Kind::AsRun, lines.join("\n")))
}
