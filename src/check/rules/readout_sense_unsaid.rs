use crate::book::EffectiveBlock;
use crate::check::placing::line_at_end;
use crate::check::{ItemContext, Sink};
use crate::syntax::Kind;
use crate::vocabulary::readout::{self, AngleDisplay, StrobeShows};
use crate::vocabulary::{Choice, Sense};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    if !context.is_read_whole() {
        return;
    }
    let Some(readout) = context.effective().inner(Kind::Readout).next() else { return };
    match readout.choice(readout::ANGLES) {
        Some(AngleDisplay::Measured) if readout.field(readout::ANGLES_COUNT).is_none() => {
            let lines = [
                (Sense::WithRotation.words(), "They count with the rotation"),
                (Sense::AgainstRotation.words(), "They count against the rotation"),
            ];
            let message = "the readout measures angles, and does not say in which direction they count";
            let help = "turn a marked rotor by hand and watch the angle: `angles count: with rotation` when it grows the way \
                        the rotor runs, else `against rotation`";
            say(context, sink, readout, (message, help), (readout::ANGLES_COUNT.words(), lines));
        }
        Some(AngleDisplay::ByStrobe) if readout.field(readout::STROBE_SHOWS).is_none() => {
            let lines = [
                (StrobeShows::NumberAtPointer.words(), "A number at the pointer"),
                (StrobeShows::ClockPlaceOfMark.words(), "Where the mark is, as on a clock"),
            ];
            let message = "the readout shows angles by strobe, and does not say what is read under it";
            let help = format!(
                "`{0}: {1}` where numbers go round the rotor, `{0}: {2}` where one mark does",
                readout::STROBE_SHOWS,
                StrobeShows::NumberAtPointer,
                StrobeShows::ClockPlaceOfMark
            );
            say(context, sink, readout, (message, &help), (readout::STROBE_SHOWS.words(), lines));
        }
        _ => {}
    }
}

fn say<'b>(
    context: &ItemContext<'b, '_>,
    sink: &mut Sink,
    readout: &EffectiveBlock<'b>,
    (message, help): (&str, &str),
    (head, ways): (&str, [(&str, &str); 2]),
) {
    let mut draft = context.beside_first(readout, &[readout::ANGLES.any()], message).help(help);
    for (word, title) in ways {
        if let Some(edit) = readout.own.and_then(|own| line_at_end(context.source(), own, &format!("{head}: {word}"))) {
            draft = draft.fix(title, edit);
        }
    }
    sink.report(draft);
}
