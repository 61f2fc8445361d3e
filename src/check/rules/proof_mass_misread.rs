use crate::check::{ItemContext, Sink};
use crate::vocabulary::separation;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(proof) = context.setup().and_then(|setup| setup.proof.as_ref()) else { return };
    for separation in &proof.separations {
        // A mass on the other side altogether is an error of its own.
        let message = match separation.shows_the_other_spot() {
            true => separation.amount_misread(context.book().rules()),
            false => separation.misread(context.book().rules()),
        };
        let Some(message) = message else { continue };
        sink.report(context.beside_first(&separation.block, &[separation::MASS.any()], message).help(
            "calibrate the plane again with a mass that is known, look whether `indicates` and the angles are right, and \
             prove again",
        ));
    }
}
