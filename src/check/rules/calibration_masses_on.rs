use crate::book::DoesNotCount;
use crate::check::runs::not_counted;
use crate::check::{ItemContext, Rule, Run, Severity, Sink};
use crate::syntax::Kind;
use crate::vocabulary::run;

pub static RULE: Rule = Rule {
    code: "calibration-masses-on",
    severity: Severity::Warning,
    title: "Calibration masses were on in the run that counts",
    page: include_str!("calibration_masses_on.md"),
    run: Run::Item(&[Kind::Record], judge),
};

fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(record) = context.record() else { return };
    for run in not_counted(record, DoesNotCount::CalibrationMassesOn) {
        let message = format!("calibration masses were on in run \"{}\", on which the verdict rests", run.name);
        sink.report(
            context
                .beside_first(&run.block, &[run::CALIBRATION_MASSES.any()], message)
                .help("take them off, count them against what was put on, and run once more"),
        );
    }
}
