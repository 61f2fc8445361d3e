use crate::check::calibration::{self, stated};
use crate::check::{ItemContext, Rule, Run, Severity, Sink};
use crate::sheet::{FieldValue, Stated};
use crate::syntax::Kind;

pub static RULE: Rule = Rule {
    code: "mass-not-in-set",
    severity: Severity::Note,
    title: "The calibration mass cannot be put together from the set",
    page: include_str!("mass_not_in_set.md"),
    run: Run::Item(&[Kind::Setup], judge),
};

fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(set) = context.setup().and_then(|setup| setup.masses) else { return };
    let set = context.book().item(set);
    let Some(FieldValue::Quantities(values)) = set.field("values").map(|field| &field.value) else { return };
    for (calibration, block) in calibration::blocks(context) {
        let Some((field, mass)) = stated(block, &["mass"]) else { continue };
        if can_be_put_together(values, mass.base, mass.half_step, most_pieces(values.len())) {
            continue;
        }
        let message = format!(
            "the calibration mass of plane {}, {}, is neither a mass of the set \"{}\" nor two or three of them \
             together",
            calibration.plane,
            context.written(field),
            set.name_text()
        );
        let help = calibration::better_mass(calibration).unwrap_or_else(|| "take masses of the set".to_owned());
        sink.report(context.beside(field, message).help(help));
    }
}

/// Nobody stacks more than three on one clamp; from a long list nobody tries every three.
fn most_pieces(of: usize) -> u32 {
    match of {
        0..=64 => 3,
        65..=1000 => 2,
        _ => 1,
    }
}

/// Whether up to `pieces` masses of the set, each once, make this mass within half a step.
fn can_be_put_together(values: &[Stated], mass: f64, half_step: f64, pieces: u32) -> bool {
    if mass.abs() <= half_step + 1e-9 * mass.abs() {
        return true;
    }
    if pieces == 0 || mass < 0.0 {
        return false;
    }
    (0..values.len()).any(|n| can_be_put_together(&values[n + 1..], mass - values[n].base, half_step, pieces - 1))
}
