use crate::check::{ItemContext, Sink, proven_with};
use crate::syntax::Kind;

/// So many are named; of the rest it is said how many there are.
const NAMED: usize = 4;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(setup) = context.setup().filter(|setup| setup.is_released() && context.is_read_whole()) else { return };
    let Some(proof) = setup.block.newest_proof().and_then(|proof| proof.own) else { return };
    let missing = proven_with::missing(context, setup);
    let influences = proven_with::missing_influences(context, setup);
    let demanded: Vec<&proven_with::Line> = missing.iter().filter(|line| line.is_demanded).collect();
    if demanded.is_empty() && influences.is_empty() {
        return;
    }
    let mut heads: Vec<String> = demanded.iter().take(NAMED).map(|line| format!("`{}`", line.head)).collect();
    if !influences.is_empty() {
        heads.insert(0, format!("`{}`", Kind::Influence));
    }
    if demanded.len() > NAMED {
        heads.push(format!("{} more", demanded.len() - NAMED));
    }
    let message = match setup.block.latest_proof().filter(|_| setup.block.unfinished_proof().is_some()) {
        Some(latest) => format!(
            "proof \"{}\" is not finished: it does not say what it was made with; the sheet goes by proof \"{}\"",
            proof.name_text(),
            latest.name_text()
        ),
        None => format!("the sheet is released, but its proof does not say {}", heads.join(", ")),
    };
    let mut draft = context.draft(proof.heading, message).help(
        "take the facts over into `proven with` as they were when the proof was made; when one of them is changed \
         later, the sheet then says that its calibration is void",
    );
    if let Some(edit) = proven_with::written(context.source(), proof, &missing, &influences) {
        draft = draft.fix("Take the facts over into the proof", edit);
    }
    sink.report(draft);
}
