use crate::book::{KeywayResults, PartResults};
use crate::check::{ItemContext, Sink, rotors};
use crate::mechanics::keyway::{KeyConvention, unbalance_of_conventions};
use crate::units::{self, Length, Mass, Unbalance};
use crate::vocabulary::{Choice, keyway, keyway::KeyFitted};

/// A keyway of a part, with the part.
type Keyed<'p, 'b> = (&'p PartResults<'b>, &'p KeywayResults<'b>);

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(rotor) = context.rotor() else { return };
    let keyed: Vec<Keyed<'_, '_>> = rotor
        .parts
        .iter()
        .flat_map(|part| part.rotor.iter().flat_map(move |own| own.keyways.iter().map(move |keyway| (part, keyway))))
        .collect();
    for (n, first) in keyed.iter().enumerate() {
        let mates: Vec<_> = keyed[n + 1..].iter().filter(|second| go_together(&keyed, first, second)).collect();
        // Where a keyway could belong to several others, nobody can tell which key joins which.
        if let [second] = mates[..] {
            say(context, first, second, sink);
        }
    }
}

/// Whether one key joins two keyways: they belong to different parts, and they are the only two of the assembly or the
/// only two of their width.
fn go_together(all: &[Keyed<'_, '_>], first: &Keyed<'_, '_>, second: &Keyed<'_, '_>) -> bool {
    if first.0.name == second.0.name {
        return false;
    }
    let width = |keyed: &Keyed<'_, '_>| rotors::quantity(&keyed.1.block, keyway::WIDTH).map(|(_, stated)| stated.base);
    match (width(first), width(second)) {
        (Some(a), Some(b)) => {
            let as_wide = |other: &&Keyed<'_, '_>| width(other).is_some_and(|c| units::is_same(a, c));
            units::is_same(a, b) && all.iter().filter(as_wide).count() == 2
        }
        _ => all.len() == 2,
    }
}

fn say(context: &ItemContext<'_, '_>, first: &Keyed<'_, '_>, second: &Keyed<'_, '_>, sink: &mut Sink) {
    let (Some(one), Some(other)) = (convention(first.1), convention(second.1)) else { return };
    let puts_in = |half: Mass, radius: Length| unbalance_of_conventions(one, other, half, radius).ok();
    // One gram at one millimetre tells whether anything is put in at all.
    let any = puts_in(Mass::grams(1.0), Length::millimetres(1.0));
    if any.is_none_or(|unbalance| unbalance.abs() < Unbalance::gram_millimetres(1e-9)) {
        return;
    }
    let size = [first.1, second.1].into_iter().find_map(|keyway| {
        Some(rotors::in_unit(puts_in(keyway.half_key.get()?, keyway.radius.get()?)?.abs(), keyway.wrong.unit))
    });
    let together = match size {
        Some(size) => format!("together that puts {size} into the assembly"),
        None => "together the keyway is filled too much or too little".to_owned(),
    };
    let message = format!(
        "\"{}\" is balanced with {} and \"{}\" with {}; {together}",
        first.0.name,
        with(first.1),
        second.0.name,
        with(second.1),
    );
    let key = |keyed: &Keyed<'_, '_>| (keyed.1.block.item.file, rotors::span_of(&keyed.1.block, &[keyway::KEY.any()]));
    let (one, other) = (key(first), key(second));
    sink.report(
        context
            .draft(second.0.block.written.heading, message)
            .help("balance both with a half key, or one with the full key and the other with none")
            .related(one.0, one.1, "the key of one")
            .related(other.0, other.1, "the key of the other"),
    );
}

fn convention(keyway: &KeywayResults<'_>) -> Option<KeyConvention> {
    Some(match keyway.block.choice(keyway::KEY)? {
        KeyFitted::HalfKey => KeyConvention::Half,
        KeyFitted::FullKey => KeyConvention::Full,
        KeyFitted::NoKey => KeyConvention::None,
    })
}

fn with(keyway: &KeywayResults<'_>) -> String {
    match keyway.block.choice(keyway::KEY) {
        Some(KeyFitted::NoKey) => KeyFitted::NoKey.words().to_owned(),
        Some(key) => format!("a {}", key.words()),
        None => String::new(),
    }
}
