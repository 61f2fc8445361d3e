use crate::book::Voiding;
use crate::check::placing::line_at_end;
use crate::check::{ItemContext, Sink};
use crate::syntax::Kind;

/// So many are named; of the rest it is said how many there are.
const NAMED: usize = 4;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(setup) = context.setup().filter(|setup| setup.is_released() && context.is_read_whole()) else { return };
    let Some(proof) = context.block.inner(Kind::Proof).next().filter(|proof| !proof.fields.is_empty()) else { return };
    let missing = setup.not_proven();
    if missing.is_empty() {
        return;
    }
    let mut heads: Vec<String> = missing.iter().take(NAMED).map(|fact| format!("`{}`", fact.head())).collect();
    if missing.len() > NAMED {
        heads.push(format!("{} more", missing.len() - NAMED));
    }
    let message = format!("the sheet is released, but its proof does not say {}", heads.join(", "));
    let mut draft = context.draft(proof.heading, message).help(
        "take the facts over into the proof as they were when it was made; when one of them is changed later, the sheet \
         then says that its calibration is void",
    );
    let lines: Vec<String> =
        missing.iter().map(|fact: &Voiding<'_>| format!("{}: {}", fact.head(), context.written(fact.now))).collect();
    if let Some(edit) = line_at_end(context.source(), proof, &lines.join("\n")) {
        draft = draft.fix("Take the facts over into the proof", edit);
    }
    sink.report(draft);
}
