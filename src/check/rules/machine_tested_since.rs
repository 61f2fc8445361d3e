use crate::book::Day;
use crate::check::machine_limits::machine_name;
use crate::check::{ItemContext, Sink};
use crate::vocabulary::machine;

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some((record, setup)) = context.record().and_then(|record| Some((record, record.setup.as_ref()?))) else {
        return;
    };
    // Only a traverse with ten times the smallest residual is a test of the machine.
    let Some(test) = record.traverses.iter().find(|traverse| traverse.passes.is_some()) else { return };
    let Some(machine) = &setup.machine else { return };
    let Some(tested) = machine.block.field(machine::TESTED) else { return };
    let day = record.binding.as_ref().and_then(|binding| binding.day);
    let Some((said, day)) = Day::of(&tested.field.value).zip(day).filter(|(said, day)| day > said) else { return };
    let name = machine_name(setup);
    let message = format!("this traverse of {day} tests machine \"{name}\", whose `tested` says {said}");
    sink.report(
        context
            .on_heading(&test.block, message)
            .help("state the day of the latest test in the machine, and the smallest residual that it showed")
            .related(tested.item.file, tested.field.value_span, "the test before"),
    );
}
