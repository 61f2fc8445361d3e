//! What the machine's controls are set to, where they take what is worked out of the setup.

use super::machine::MachineFacts;
use super::supports::{Laid, Work, lacking};
use crate::book::derive::{Inputs, Val};
use crate::book::effective::EffectiveBlock;
use crate::book::formulas::{self as by, Formula};
use crate::book::origin::{Origin, Step};
use crate::book::results::values::entry::{Outcome, Recorder, Spot, origin};
use crate::book::results::values::not_computed::WhyNot;
use crate::mechanics::DomainError;
use crate::sheet::{FieldValue, Stated};
use crate::syntax::Kind;
use crate::units::{Amount, Length, Mass, Speed, Typed};
use crate::vocabulary::control::{self, Taken};
use crate::vocabulary::setup::Layout;
use crate::vocabulary::{Choice, Of, result};

/// What of a setup a control may take, but for what hangs on its planes.
pub(in crate::book::results) struct Worked<'a> {
    pub laid: &'a Laid,
    pub balancing_speed: &'a Val<Speed>,
    pub motor_speed: &'a Val<Speed>,
    pub mass_on_machine: &'a Val<Mass>,
}

/// Records what each control of the machine is set to, in panel order.
pub(in crate::book::results) fn of<'b>(recorder: &mut Recorder<'b>, work: &Work<'_, 'b>, worked: &Worked<'_>) {
    let settings = work.setup.inner(Kind::Settings).next();
    let spot = match settings {
        Some(settings) => Spot::heading(settings, work.id),
        None => Spot { path: work.setup.path.then(Step::new(Kind::Settings)), ..Spot::heading(work.setup, work.id) },
    };
    let Some(machine) = work.machine.filter(|machine| !machine.controls.is_empty()) else {
        if settings.is_some() {
            recorder.not_asked(&spot, &[&result::SET_TO], "no machine with controls is named");
        }
        return;
    };
    for control in &machine.controls {
        let spot = spot.with(Of::Control(control.name_text().into()));
        match control.choice(control::TAKES) {
            Some(taken) => Setting { work, worked, machine, control, spot: &spot }.keep(recorder, taken),
            None => recorder.not_asked(&spot, &[&result::SET_TO], "the control takes nothing that is worked out"),
        }
    }
}

/// The setting of one control.
struct Setting<'a, 'b> {
    work: &'a Work<'a, 'b>,
    worked: &'a Worked<'a>,
    machine: &'a MachineFacts<'b>,
    control: &'a EffectiveBlock<'b>,
    spot: &'a Spot,
}

impl<'b> Setting<'_, 'b> {
    fn keep(&self, recorder: &mut Recorder<'b>, taken: Taken) {
        let laid = self.worked.laid;
        let (d1, d, d2) = (&laid.left_support_to_left_plane, &laid.between_planes, &laid.right_plane_to_right_support);
        if let Some(why) = self.unread(recorder, taken) {
            return self.lacks(recorder, &why);
        }
        match taken {
            Taken::Layout => self.position(recorder),
            Taken::LeftSupportToLeftPlane => self.signed(recorder, [&by::SET_TO, &by::SET_TO_AMOUNT], (d1,), |(x,)| x),
            Taken::BetweenPlanes => self.signed(recorder, [&by::SET_TO, &by::SET_TO_AMOUNT], (d,), |(x,)| x),
            Taken::RightPlaneToRightSupport => {
                self.signed(recorder, [&by::SET_TO, &by::SET_TO_AMOUNT], (d2,), |(x,)| x);
            }
            Taken::LeftSupportToRightPlane => {
                let formulas = [&by::LEFT_SUPPORT_TO_RIGHT_PLANE, &by::LEFT_SUPPORT_TO_RIGHT_PLANE_AMOUNT];
                self.signed(recorder, formulas, (d1, d), |(d1, d)| d1 + d);
            }
            Taken::LeftPlaneToRightSupport => {
                let formulas = [&by::LEFT_PLANE_TO_RIGHT_SUPPORT, &by::LEFT_PLANE_TO_RIGHT_SUPPORT_AMOUNT];
                self.signed(recorder, formulas, (d, d2), |(d, d2)| d + d2);
            }
            Taken::BetweenSupports => match &laid.supports {
                Some([left, right]) => {
                    let f = |(left, right): (Length, Length)| Ok((right - left).abs());
                    self.amount(recorder, &by::BETWEEN_SUPPORTS_BY_PLACES, (left, right), f);
                }
                None => self.amount(recorder, &by::BETWEEN_SUPPORTS, (d1, d, d2), |(d1, d, d2)| Ok(d1 + d + d2)),
            },
            Taken::LeftRadius => self.as_it_is(recorder, &laid.left_radius),
            Taken::RightRadius => self.as_it_is(recorder, &laid.right_radius),
            Taken::LeftDiameter => self.twice(recorder, &laid.left_radius),
            Taken::RightDiameter => self.twice(recorder, &laid.right_radius),
            Taken::BalancingSpeed => self.as_it_is(recorder, self.worked.balancing_speed),
            Taken::MotorSpeed => self.as_it_is(recorder, self.worked.motor_speed),
            Taken::MassOnMachine => self.as_it_is(recorder, self.worked.mass_on_machine),
            Taken::ToleranceLeft => self.tolerance(recorder, 0),
            Taken::ToleranceRight => self.tolerance(recorder, 1),
        }
    }

    /// Why a plane that the control takes something of is not known by its channel.
    fn unread(&self, recorder: &Recorder<'b>, taken: Taken) -> Option<WhyNot> {
        let [left, right] = self.work.read_by_channels(recorder).map(Result::err);
        let [of_left, of_right] = taken.planes();
        left.filter(|_| of_left).or(right.filter(|_| of_right))
    }

    fn lacks(&self, recorder: &mut Recorder<'b>, why: &WhyNot) {
        let missing = lacking(recorder, self.work.setup, self.origin(), why);
        recorder.push(self.spot, &result::SET_TO, Outcome::Missing(missing), None);
    }

    fn origin(&self) -> Origin {
        origin(self.spot, &result::SET_TO)
    }

    /// A distance: signed, or an amount where the machine asks for the layout beside it.
    fn signed<I: Inputs>(
        &self,
        recorder: &mut Recorder<'b>,
        formulas: [&'static Formula; 2],
        inputs: I,
        f: impl Fn(I::Values) -> Length,
    ) {
        match self.machine.asks_for_layout() {
            true => self.amount(recorder, formulas[1], inputs, |values| Ok(f(values).abs())),
            false => self.amount(recorder, formulas[0], inputs, |values| Ok(f(values))),
        }
    }

    fn as_it_is<T: Typed>(&self, recorder: &mut Recorder<'b>, value: &Val<T>) {
        self.amount(recorder, &by::SET_TO, (value,), |(value,)| Ok(value));
    }

    fn twice(&self, recorder: &mut Recorder<'b>, radius: &Val<Length>) {
        self.amount(recorder, &by::SET_TO_TWICE, (radius,), |(radius,)| Ok(radius * 2.0));
    }

    fn tolerance(&self, recorder: &mut Recorder<'b>, side: usize) {
        let [left, right] = self.work.read_by_channels(recorder);
        match if side == 0 { left } else { right } {
            Ok(plane) => self.as_it_is(recorder, &plane.tolerance),
            Err(why) => self.lacks(recorder, &why),
        }
    }

    /// An amount as the control is set to it: in the unit of its step, and a whole number of steps.
    fn amount<I: Inputs, T: Typed>(
        &self,
        recorder: &mut Recorder<'b>,
        formula: &'static Formula,
        inputs: I,
        f: impl Fn(I::Values) -> Result<T, DomainError>,
    ) {
        let step = match self.control.field(control::STEP).map(|field| &field.field.value) {
            Some(FieldValue::Quantity(step)) => step,
            Some(FieldValue::Number(_)) => return self.lacks(recorder, &"the control's `step` has no unit".into()),
            Some(_) => return self.lacks(recorder, &"the control's `step` cannot be read".into()),
            None => return self.lacks(recorder, &"the control has no `step`".into()),
        };
        let value = recorder.on_the_way(self.spot, &result::SET_TO, step.unit, formula, inputs, f);
        let outcome = match &value.known {
            Err(missing) => Outcome::Missing(missing.clone()),
            Ok(value) => match T::DIMENSION == step.dimension() {
                true => to_set(value.raw(), step),
                false => return self.lacks(recorder, &"the control's `step` is in another kind of unit".into()),
            },
        };
        recorder.push(self.spot, &result::SET_TO, outcome, value.derivation.clone());
    }

    /// The position that means the layout.
    fn position(&self, recorder: &mut Recorder<'b>) {
        match &self.worked.laid.layout {
            Err(missing) => recorder.push(self.spot, &result::SET_TO, Outcome::Missing(missing.clone()), None),
            Ok(layout) => match position_of(self.control, *layout) {
                Some(position) => recorder.words(self.spot, &result::SET_TO, position.to_owned()),
                None => self.lacks(recorder, &WhyNot::Says(no_position(self.control, *layout).into())),
            },
        }
    }
}

/// The position of a control that means a layout.
fn position_of<'b>(control: &EffectiveBlock<'b>, layout: Layout) -> Option<&'b str> {
    let mut positions = control.named(control::POSITION);
    let (name, _) = positions.find(|(_, field)| match field.field.value {
        FieldValue::Choice(words) => Layout::of(words) == Some(layout),
        _ => false,
    })?;
    Some(&name.text)
}

fn no_position(control: &EffectiveBlock<'_>, layout: Layout) -> String {
    format!("no position of control \"{}\" means {layout}", control.name_text())
}

/// The whole number of steps nearest to a value.
fn to_set(base: f64, step: &Stated) -> Outcome {
    let steps = base / step.base;
    // Halves go away from zero, whatever the conversion of the unit adds after its last digit.
    let whole = (steps.abs() + 1e-9).round().copysign(steps);
    let base = if whole == 0.0 { 0.0 } else { whole * step.base };
    // The digits with which the step is written.
    let decimals = -(2.0 * step.half_step / step.unit.factor()).log10().round();
    Outcome::ToSet { base, step: step.base, unit: step.unit, decimals: decimals.clamp(0.0, 6.0) as i32 }
}
