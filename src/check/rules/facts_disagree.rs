use crate::book::{self, CalibrateResults, CheckMassResults, EffectiveBlock, Outcome, SetupResults, Val};
use crate::check::agreement::Reckoned;
use crate::check::amounts::{amount, shown};
use crate::check::settings::{self, Setting};
use crate::check::{Draft, ItemContext, Sink, rotors};
use crate::sheet::{FieldValue, SettingValue};
use crate::text::{Edit, Span};
use crate::units::{Amount, Indication, Length, Speed, Unit};
use crate::vocabulary::{self, Fact, ResultSpec, calibrate, control, plane, result, rotor, setup};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    sink.drafts.extend(mass_centre(context));
    radii(context, context.effective(), sink);
    let Some(setup) = context.setup() else { return };
    for calibration in &setup.calibrations {
        sink.drafts.extend(calibration_reading(context, calibration));
    }
    sink.drafts.extend(setup.check_mass.as_ref().and_then(|check| check_reading(context, check)));
    sink.drafts.extend(motor_speed(context, setup));
    sink.drafts.extend(layout(context, setup));
    for (fact, result) in [
        (setup::LEFT_SUPPORT_TO_LEFT_PLANE, &result::LEFT_SUPPORT_TO_LEFT_PLANE),
        (setup::BETWEEN_PLANES, &result::BETWEEN_PLANES),
        (setup::RIGHT_PLANE_TO_RIGHT_SUPPORT, &result::RIGHT_PLANE_TO_RIGHT_SUPPORT),
        (setup::LEFT_RADIUS, &result::LEFT_RADIUS),
        (setup::RIGHT_RADIUS, &result::RIGHT_RADIUS),
    ] {
        sink.drafts.extend(dimension(context, setup, fact, result));
    }
    for setting in settings::all(context) {
        sink.drafts.extend(set_otherwise(context, &setting));
    }
}

/// A control that takes something, set to a fact that is another.
fn set_otherwise<'b>(context: &ItemContext<'b, '_>, setting: &Setting<'b>) -> Option<Draft> {
    let entry = settings::worked_out(context, &setting.name.text)?;
    let control = settings::control_of(context, setting)?;
    let takes = control.field(control::TAKES)?;
    let disagrees = match (&entry.outcome, setting.value()?) {
        (Outcome::ToSet { base, step, .. }, SettingValue::Quantity(stated)) => {
            (stated.base - base).abs() > 0.5 * step + 1e-9 * base.abs()
        }
        // A number alone says nothing of an amount.
        (Outcome::ToSet { .. }, SettingValue::Number(_)) => true,
        (Outcome::Words(position), SettingValue::Position(stated)) => *position != **stated,
        (Outcome::Words(position), SettingValue::Number(_)) => *position != context.written(setting.field),
        _ => false,
    };
    if !disagrees {
        return None;
    }
    let worked_out = book::text_of(context.book(), entry);
    let message = format!(
        "\"{}\" is set to {}, but takes `{}`, and {worked_out} is worked out for it",
        setting.name.text,
        context.written(setting.field),
        context.written(takes)
    );
    let draft = context.beside(setting.field, message).about(takes, "what it takes");
    let field = setting.field.field;
    let pinned = Edit::replace(Span::new(field.head.end, field.value_span.end), format!(" => {worked_out}"));
    Some(match setting.field.item == context.id {
        true => draft
            .help("pin what is worked out, or put right what it follows from")
            .fix("Pin what is worked out", pinned),
        false => draft.help("pin what is worked out here"),
    })
}

/// A radius and a diameter of one thing, in this block and those in it.
fn radii<'b>(context: &ItemContext<'b, '_>, block: &EffectiveBlock<'b>, sink: &mut Sink) {
    let has = |fact: &Fact<Length>| vocabulary::block(block.kind).key(fact.words()).is_some();
    for (radius, diameter) in [(plane::RADIUS, plane::DIAMETER), (plane::SURFACE_RADIUS, plane::SURFACE_DIAMETER)]
        .into_iter()
        .filter(|(radius, diameter)| has(radius) && has(diameter))
    {
        let (Some((radius, half)), Some((across, whole))) =
            (rotors::quantity(block, radius), rotors::quantity(block, diameter))
        else {
            continue;
        };
        if radius.item != context.id && across.item != context.id {
            continue;
        }
        let slack = half.half_step + whole.half_step / 2.0;
        if (half.base - whole.base / 2.0).abs() <= slack.max(1e-9 * half.base.abs()) {
            continue;
        }
        let message =
            format!("{} and {} do not agree: a radius is half a diameter", context.line(radius), context.line(across));
        let draft = context.beside(radius, message);
        let draft = draft.help("measure again, and write only one of the two").about(across, "the diameter");
        sink.report(draft.offer_without(context, radius).offer_without(context, across));
    }
    block.blocks.iter().for_each(|inner| radii(context, inner, sink));
}

fn calibration_reading<'b>(context: &ItemContext<'b, '_>, calibration: &CalibrateResults<'b>) -> Option<Draft> {
    let block = calibration.block.as_ref()?;
    reading(context, block, &calibration.should_read, calibration.stated_reading.as_ref()?)
}

fn check_reading<'b>(context: &ItemContext<'b, '_>, check: &CheckMassResults<'b>) -> Option<Draft> {
    reading(context, &check.block, &check.reading, check.stated_reading.as_ref()?)
}

/// Mass, radius and reading, all given.
fn reading<'b>(
    context: &ItemContext<'b, '_>,
    block: &EffectiveBlock<'b>,
    computed: &Val<Indication>,
    stated: &Val<Indication>,
) -> Option<Draft> {
    let field = block.field(calibrate::READING)?;
    let FieldValue::Reading(written) = &field.field.value else { return None };
    let (mass, radius) =
        (block.field(calibrate::MASS)?, block.field(calibrate::RADIUS).or_else(|| block.field(calibrate::DIAMETER))?);
    let reckoned = Reckoned::of(computed)?;
    let base = stated.get()?.raw();
    // Marks on a scale stand for more or less than one of the readout's own units.
    let half_step = written.amount.half_step * base / written.amount.base;
    if !reckoned.disagrees_with(base, half_step) {
        return None;
    }
    let (mass_line, radius_line) = (context.line(mass), context.line(radius));
    let message = format!(
        "the reading is stated as {}, but {mass_line} and {radius_line} give {}{}",
        context.written(field),
        reckoned.shown(),
        reckoned.familiar(base)
    );
    Some(
        context
            .beside(field, message)
            .help("put right what was misread, or leave one of the three out: it is worked out from the others")
            .about(mass, "the mass")
            .about(radius, "the radius")
            .offer_without(context, field)
            .offer_without(context, mass)
            .offer_without(context, radius),
    )
}

/// A motor runs a few turns off its plate: the band of equal speed is what counts.
fn motor_speed(context: &ItemContext<'_, '_>, setup: &SetupResults<'_>) -> Option<Draft> {
    let field = context.setup()?.block.field(setup::MOTOR_SPEED)?;
    let FieldValue::Quantity(stated) = &field.field.value else { return None };
    let by_belt = setup.motor_speed_by_belt.as_ref()?;
    let computed = by_belt.get()?;
    let stated = Speed::from_raw(stated.base);
    let band = setup.same_speed_within.get()?.value();
    if (stated.raw() - computed.raw()).abs() <= band * computed.raw() * (1.0 + 1e-9) {
        return None;
    }
    let rotor_speed = setup.balancing_speed.get()?;
    // With the two diameters exchanged the belt would turn n · (n ÷ n_motor) instead of n_motor.
    let exchanged =
        (stated.raw() - rotor_speed.raw() * rotor_speed.raw() / computed.raw()).abs() <= band * stated.raw();
    let turned = if exchanged { "; that is the ratio of belt and pulley the other way round" } else { "" };
    let belt = context.setup()?.block.field(setup::BELT_RUNS_ON)?;
    let message = format!(
        "the motor speed is stated as {}, but {} on the machine's pulley asks for {} to reach {}{turned}",
        context.written(field),
        context.line(belt),
        amount(computed, by_belt.unit),
        shown(&setup.balancing_speed)
    );
    Some(
        context
            .beside(field, message)
            .help("put right the diameter, the pulley or the speed; or leave the motor speed out")
            .about(belt, "the belt")
            .offer_without(context, field),
    )
}

fn layout(context: &ItemContext<'_, '_>, setup: &SetupResults<'_>) -> Option<Draft> {
    let field = context.setup()?.block.field(setup::LAYOUT)?;
    let FieldValue::Choice(stated) = field.field.value else { return None };
    let entry = setup.entries.iter().find(|entry| entry.is(&result::LAYOUT))?;
    let Outcome::Words(computed) = &entry.outcome else { return None };
    let supports = context.setup()?.block.field(setup::SUPPORTS_AT)?;
    (**computed != *stated).then(|| {
        let message = format!("the layout is stated as {stated}, but {} makes it {computed}", context.line(supports));
        context
            .beside(field, message)
            .help("leave it out, or put right where supports and planes are")
            .about(supports, "the supports")
            .offer_without(context, field)
    })
}

/// A distance of supports and planes, or a correction radius.
fn dimension(
    context: &ItemContext<'_, '_>,
    setup: &SetupResults<'_>,
    fact: Fact<Length>,
    result: &'static ResultSpec,
) -> Option<Draft> {
    let field = context.setup()?.block.field(fact)?;
    let FieldValue::Quantity(stated) = &field.field.value else { return None };
    let reckoned = Reckoned::entry(&setup.entries, result)?;
    let base = stated.base;
    let is_radius = fact == setup::LEFT_RADIUS || fact == setup::RIGHT_RADIUS;
    // Where the centre of mass of a correction comes to lie depends on its size.
    let slack = if is_radius { 0.01 * reckoned.base.abs() } else { 0.0 };
    if !reckoned.disagrees_with(base, stated.half_step + slack) {
        return None;
    }
    let from = if is_radius { "the plane gives" } else { "supports and planes give" };
    let unit: Unit = stated.unit;
    let computed = Reckoned { unit, ..reckoned }.shown();
    let (written, familiar) = (context.written(field), reckoned.familiar_length(base, is_radius));
    let message = format!("`{fact}` is stated as {written}, but {from} {computed}{familiar}");
    let draft = context.beside(field, message).help(format!("leave `{fact}` out: it is worked out"));
    Some(draft.offer_without(context, field))
}

/// A stated mass centre against the one that weighing gives.
fn mass_centre(context: &ItemContext<'_, '_>) -> Option<Draft> {
    let rotor = context.rotor()?;
    let field = rotor.block.field(rotor::MASS_CENTRE)?;
    let weighed = rotor.block.field(rotor::WEIGHED)?;
    let FieldValue::Quantity(stated) = &field.field.value else { return None };
    let reckoned = Reckoned::entry(&rotor.entries, &result::MASS_CENTRE)?;
    reckoned.disagrees_with(stated.base, stated.half_step).then(|| {
        let written = context.written(field);
        let message =
            format!("the mass centre is stated at {written}, but the weighing puts it at {}", reckoned.shown());
        context
            .beside(field, message)
            .help("leave it out, or see whether the two scales were exchanged")
            .about(weighed, "the weighing")
            .offer_without(context, field)
    })
}
