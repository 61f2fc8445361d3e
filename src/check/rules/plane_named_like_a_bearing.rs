use crate::check::{ItemContext, Sink, wording};
use crate::syntax::Kind;
use crate::vocabulary::Bearing;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    for name in context.block.inner(Kind::Plane).filter_map(|plane| plane.name.as_ref()) {
        let Some(bearing) = Bearing::BOTH.into_iter().find(|bearing| *bearing.words() == *name.text) else { continue };
        let message = format!(
            "no plane may be called {}: results of that bearing have this name, and nothing would tell the two apart",
            wording::quoted(bearing.words())
        );
        let help = "call the plane after the part it lies in, such as `hub` or `rim`, here and wherever it is named";
        sink.report(context.draft(name.span, message).help(help));
    }
}
