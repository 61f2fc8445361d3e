use crate::check::placing::line_at_end;
use crate::check::{ItemContext, Sink};
use crate::syntax::Kind;
use crate::vocabulary::{readout, readout::AngleDisplay};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    if !context.is_read_whole() {
        return;
    }
    let Some(readout) = context.effective().inner(Kind::Readout).next() else { return };
    if readout.choice(readout::ANGLES) != Some(AngleDisplay::Measured) || readout.field(readout::ANGLES_COUNT).is_some()
    {
        return;
    }
    let message = "the readout measures angles, and does not say in which direction they count";
    let mut draft = context.beside_first(readout, &[readout::ANGLES.any()], message).help(
        "turn a marked rotor by hand and watch the angle: `angles count: with rotation` when it grows the way the rotor \
         runs, else `against rotation`",
    );
    for (line, title) in [
        ("angles count: with rotation", "They count with the rotation"),
        ("angles count: against rotation", "They count against the rotation"),
    ] {
        if let Some(edit) = readout.own.and_then(|own| line_at_end(context.source(), own, line)) {
            draft = draft.fix(title, edit);
        }
    }
    sink.report(draft);
}
