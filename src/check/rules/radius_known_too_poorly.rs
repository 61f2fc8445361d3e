use crate::check::amounts::{limit, percent};
use crate::check::calibration::{self, stated, step_needed};
use crate::check::{ItemContext, Rule, Run, Severity, Sink};
use crate::syntax::Kind;
use crate::units::Amount;
use crate::vocabulary::calibrate;

pub static RULE: Rule = Rule {
    code: "radius-known-too-poorly",
    severity: Severity::Warning,
    title: "The radius of the calibration mass is measured too coarsely",
    page: include_str!("radius_known_too_poorly.md"),
    run: Run::Item(&[Kind::Setup], judge),
};

fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let accepted = calibration::accepted(context);
    for (calibration, block) in calibration::blocks(context) {
        let Some((field, written)) = stated(block, &[calibrate::RADIUS.any(), calibrate::DIAMETER.any()]) else {
            continue;
        };
        let Some(radius) = calibration.radius.get() else { continue };
        let share = calibration.radius.expanded_uncertainty() / radius.raw();
        if share <= accepted {
            continue;
        }
        let message = format!(
            "{} is known to ± {} (k = 2), and the reading of plane {} with it; the shop accepts ± {}",
            context.line(field),
            percent(share),
            calibration.plane,
            limit(accepted)
        );
        let help = format!("measure it to {}, to the centre of the mass", step_needed(written, accepted));
        sink.report(context.beside(field, message).help(help));
    }
}
