use crate::book::BuiltIn;
use crate::check::{Draft, ItemContext, Sink, rotors};
use crate::sheet::{Field, Stated};
use crate::syntax::Kind;
use crate::text::Edit;
use crate::units::Unit;
use crate::vocabulary::{material, plane};

/// From cork-like fillers to the heaviest metals, kg/m³.
const PLAUSIBLE: std::ops::RangeInclusive<f64> = 500.0..=23_000.0;
/// What a metal of a built-in name may differ by, beside the spread of published values. Common practice, no source.
const MARGIN: f64 = 0.05;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let fact = match context.block.kind {
        Kind::Material => material::DENSITY,
        _ => plane::CURED_DENSITY,
    };
    let blocks = match context.block.kind {
        Kind::Material => std::slice::from_ref(context.block),
        _ => &context.block.blocks,
    };
    for block in blocks.iter().filter(|block| matches!(block.kind, Kind::Material | Kind::Plane)) {
        let Some(field) = block.field(fact) else { continue };
        let Some(stated) = rotors::stated(field) else { continue };
        let metal = BuiltIn::named(block.name_text()).filter(|_| block.kind == Kind::Material);
        if let Some(message) = wrong(context, field, stated, metal) {
            sink.report(mended(context, field, stated, metal, context.draft(field.value_span, message)));
        }
    }
}

fn wrong(context: &ItemContext<'_, '_>, field: &Field, stated: &Stated, metal: Option<&BuiltIn>) -> Option<String> {
    let written = context.text(context.id.file, field.value_span);
    if !PLAUSIBLE.contains(&stated.base) {
        return Some(format!(
            "a density of {written} is not that of a solid: these have 500 kg/m³ to \
            23000 kg/m³"
        ));
    }
    let metal = metal?;
    let off = (stated.base - metal.density).abs();
    (off > metal.spread + MARGIN * metal.density).then(|| {
        let usual = crate::book::display_value(metal.density, stated.unit, 0.0);
        let name = metal.name;
        format!("{written} differs from the {usual} of {name} by {}", rotors::percent(off / metal.density))
    })
}

/// The same number in the other usual unit, where that would be right.
fn mended(
    context: &ItemContext<'_, '_>,
    field: &Field,
    stated: &Stated,
    metal: Option<&BuiltIn>,
    draft: Draft,
) -> Draft {
    let written = context.text(context.id.file, field.value_span);
    let number = stated.unit.from_base(stated.base);
    let right = |base: f64| match metal {
        Some(metal) => (base - metal.density).abs() <= metal.spread + MARGIN * metal.density,
        None => (1000.0..=23_000.0).contains(&base),
    };
    let units = [Unit::GRAM_PER_CUBIC_CENTIMETRE, Unit::KILOGRAM_PER_CUBIC_METRE];
    let meant = units.into_iter().find(|unit| *unit != stated.unit && right(unit.to_base(number)));
    match (meant, written.split_once(' ')) {
        (Some(unit), Some((digits, rest))) if !rest.contains(' ') => draft
            .help(format!("{digits} is a usual number in {unit}"))
            .fix(format!("Write {unit}"), Edit::replace(field.value_span, format!("{digits} {unit}"))),
        _ => draft.help("look it up again, or weigh the chips of one hole of known depth"),
    }
}
