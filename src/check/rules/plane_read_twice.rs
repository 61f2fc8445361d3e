use crate::check::{ItemContext, Sink};
use crate::sheet::FieldValue;
use crate::vocabulary::setup;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(setup) = context.setup() else { return };
    let channels: Vec<_> = setup
        .block
        .named(setup::CHANNEL)
        .filter_map(|(channel, field)| match &field.field.value {
            FieldValue::Name(plane) => Some((channel, field, &*plane.text)),
            _ => None,
        })
        .collect();
    for (n, (channel, field, plane)) in channels.iter().enumerate() {
        let Some((other, first, _)) = channels[..n].iter().find(|(_, _, before)| before == plane) else { continue };
        let message = format!("channel {} reads plane {plane}, and so does channel {}", channel.text, other.text);
        sink.report(
            context
                .beside(*field, message)
                .help("once the planes are separated, each channel reads one of them: name the other plane")
                .about(*first, "the other channel"),
        );
    }
}
