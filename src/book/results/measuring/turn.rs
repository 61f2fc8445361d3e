//! Where the heavy spot stands against the angle that the machine shows. Records, proofs and cards go by this alone.

use std::sync::Arc;

use super::agreement::are_of_before;
use super::sheet::Sheet;
use crate::book::derive::{Val, derive};
use crate::book::origin::{Missing, Origin, Reason};
use crate::book::results::bench::angles::{AngleRead, Shown};
use crate::book::results::values::entry::{Recorder, Spot, origin};
use crate::mechanics::proof::MAY_TURN;
use crate::syntax::Kind;
use crate::units::{Angle, Contributions, Part, Source, Typed, Unit};
use crate::vocabulary::calibrate::TakenAs;
use crate::vocabulary::readout::AngleDisplay;
use crate::vocabulary::setup::Indicates;
use crate::vocabulary::{calibrate, readout, result, setup};

/// What a setup says of where the heavy spot of a plane stands.
#[derive(Clone, Debug)]
pub struct HeavySpot<'b> {
    pub plane: &'b str,
    pub stands: Stands,
    /// How far apart `indicates` and the calibration put it, where that is more than can be read.
    pub apart: Option<Angle>,
}

/// Where a heavy spot stands.
#[derive(Clone, Debug)]
pub enum Stands {
    /// The readout shows no angle.
    NoAngle,
    /// So far on from where the machine points, in the sense in which the rotor's angles count.
    /// What is read of the pointer is an angle of the rotor, or not.
    FromPointer(Val<Angle>, AngleRead),
    /// So far on from the rotor's angle at twelve of the clock: where the pointer stands is not said.
    FromTwelve(Val<Angle>),
    /// Only the trial runs tell.
    ByTrials,
    /// What the sheet says in two places does not agree.
    Contradicted,
    /// The proof shows it half a turn from where the sheet puts it.
    Disproved,
    /// Neither `indicates` nor the calibration says.
    Unsaid,
    /// The calibration says, in what cannot be worked out.
    Missing(Arc<Missing>),
}

/// Within half a turn to either side.
pub(in crate::book::results) fn within_half_a_turn(angle: Angle) -> Angle {
    (angle + Angle::degrees(180.0)).within_one_turn() - Angle::degrees(180.0)
}

/// One turn less another, within half a turn; a step over half a turn is no part of what it is known to.
fn less(one: &Val<Angle>, other: &Val<Angle>) -> Val<Angle> {
    let less = |(one, other): (Angle, Angle)| Ok(one - other);
    let off = derive(one.origin.clone(), Unit::DEGREE, None, (one, other), less);
    Val { known: off.known.clone().map(within_half_a_turn), ..off }
}

impl<'b> Sheet<'_, 'b> {
    /// What has to be added to the angle that a channel shows, to come to the heavy spot.
    ///
    /// As the calibration says, with the angle at which its mass stood and what was then shown; else as the setup
    /// indicates. Missing where the two do not agree.
    pub fn turn(&self, recorder: &Recorder<'b>, spot: &Spot, plane: &str) -> Val<Angle> {
        let here = turn_origin(spot);
        match (self.turn_as_calibrated(recorder, &here, plane), self.turn_as_indicated(recorder, &here)) {
            (Some(calibrated), Some(indicated)) => match self.apart(recorder, &calibrated, &indicated) {
                Some(_) => {
                    let why = format!(
                        "`indicates` and the calibration of plane {plane} do not agree on where the heavy spot is"
                    );
                    Val::missing(here, Reason::Impossible(why.into()), Unit::DEGREE)
                }
                None => calibrated,
            },
            (Some(one), None) | (None, Some(one)) => one,
            (None, None) => {
                let origin = recorder.facts.origin(self.block, setup::INDICATES, None);
                let missing = Missing { origin, reason: Reason::NotGiven };
                Val { known: Err(Arc::new(missing)), ..Val::missing(here, Reason::NotGiven, Unit::DEGREE) }
            }
        }
    }

    /// `None` where the calibration does not say both.
    fn turn_as_calibrated(&self, recorder: &Recorder<'b>, here: &Origin, plane: &str) -> Option<Val<Angle>> {
        let (facts, angles) = (&recorder.facts, self.angles());
        let block = self.calibration(plane)?.block.as_ref()?;
        block.field(calibrate::ANGLE)?;
        let field = block.field(calibrate::SHOWS)?;
        let shows = facts.origin(block, calibrate::SHOWS, Some(field));
        let mass_at: Val<Angle> = facts.quantity(block, calibrate::ANGLE);
        let shown = match Shown::of(&field.field.value) {
            Some(shown) => angles.shown(facts, field, shown, shows),
            None => Val::missing(shows, Reason::Unreadable, Unit::DEGREE),
        };
        let turn = |(mass, shown): (Angle, Angle)| Ok(mass - shown);
        let mut turn = derive(here.clone(), Unit::DEGREE, None, (&mass_at, &shown), turn);
        if let Some(by) = self.turned_by_residual(plane) {
            let place = field.item.file.place(field.field.value_span);
            let source = Source::Written { at: place, nth: 0, part: Part::Residual };
            turn.contributions.add(&Contributions::of(source, by.in_radians() / 3f64.sqrt()), 1.0);
        }
        Some(turn)
    }

    /// How far the rotor's own unbalance may turn what is shown of a calibration mass in one position: by the angle whose
    /// sine is its share of the calibration unbalance. Source: plain geometry.
    fn turned_by_residual(&self, plane: &str) -> Option<Angle> {
        let calibration = self.calibration(plane)?;
        let in_one_position = calibration.block.as_ref()?.choice(calibrate::TAKEN_AS) == Some(TakenAs::OnePosition);
        let share = calibration.residual.get().filter(|_| in_one_position)? / calibration.unbalance.get()?;
        Some(Angle::radians(share.value().clamp(0.0, 1.0).asin()))
    }

    /// `None` where the setup does not say.
    fn turn_as_indicated(&self, recorder: &Recorder<'b>, here: &Origin) -> Option<Val<Angle>> {
        self.block.field(setup::INDICATES)?;
        let pointer = self.angles().at_pointer(&recorder.facts);
        Some(match self.indicated() {
            Ok(half) => {
                derive(here.clone(), Unit::DEGREE, None, (&pointer,), |(pointer,): (Angle,)| Ok(pointer + half))
            }
            Err(missing) => Val { known: Err(missing), ..pointer },
        })
    }

    /// The heavy spot from the pointer, as the setup indicates.
    fn indicated(&self) -> Result<Angle, Arc<Missing>> {
        self.block.stated_choice(setup::INDICATES).map(|indicates| match indicates {
            Indicates::LightSpot => Angle::degrees(180.0),
            Indicates::HeavySpot => Angle::ZERO,
        })
    }

    /// How far apart two turns lie, where that is more than a step of the readout and than they are known to. A readout
    /// without a step is taken to tell as much as a proof must. Source: common practice, no source.
    fn apart(&self, recorder: &Recorder<'b>, one: &Val<Angle>, other: &Val<Angle>) -> Option<Angle> {
        let apart = less(one, other);
        let accepted = self.angles().step(&recorder.facts).unwrap_or(Angle::degrees(MAY_TURN));
        let off = Angle::radians(apart.get()?.in_radians().abs());
        (off.base() > accepted.base().max(apart.expanded_uncertainty()) + 1e-9).then_some(off)
    }

    /// The heavy spot of a plane, for people; `disproved` where the proof shows it half a turn away.
    pub fn heavy_spot(&self, recorder: &Recorder<'b>, plane: &'b str, disproved: bool) -> HeavySpot<'b> {
        let here = turn_origin(&Spot::heading(self.block, self.id));
        let calibrated = self.turn_as_calibrated(recorder, &here, plane);
        let apart = calibrated
            .as_ref()
            .and_then(|calibrated| self.apart(recorder, calibrated, &self.turn_as_indicated(recorder, &here)?));
        let readout = self.machine.and_then(|machine| machine.readout.as_ref());
        let stands =
            if readout.and_then(|readout| readout.block.choice(readout::ANGLES)) == Some(AngleDisplay::NotShown) {
                Stands::NoAngle
            } else if apart.is_some() {
                Stands::Contradicted
            } else if disproved {
                Stands::Disproved
            } else {
                self.stands(recorder, &here, calibrated)
            };
        HeavySpot { plane, stands, apart }
    }

    fn stands(&self, recorder: &Recorder<'b>, here: &Origin, calibrated: Option<Val<Angle>>) -> Stands {
        if let Some(turn) = calibrated {
            let pointer = self.angles().at_pointer(&recorder.facts);
            return match (&turn.known, &pointer.known) {
                (Err(missing), _) => Stands::Missing(missing.clone()),
                (Ok(_), Ok(_)) => self.off_the_pointer(recorder, less(&turn, &pointer)),
                (Ok(_), Err(_)) => Stands::FromTwelve(turn),
            };
        }
        match (self.block.field(setup::INDICATES), self.indicated()) {
            (Some(_), Ok(half)) => self.off_the_pointer(recorder, Val::exact(half, here.clone(), Unit::DEGREE)),
            (Some(_), Err(missing)) => Stands::Missing(missing),
            (None, _) if self.block.inner(Kind::Trial).next().is_some() && !are_of_before(self.block) => {
                Stands::ByTrials
            }
            (None, _) => Stands::Unsaid,
        }
    }

    fn off_the_pointer(&self, recorder: &Recorder<'b>, turn: Val<Angle>) -> Stands {
        match self.angles().read_as(&recorder.facts) {
            Ok(read) => Stands::FromPointer(turn, read),
            Err(missing) => Stands::Missing(missing),
        }
    }
}

fn turn_origin(spot: &Spot) -> Origin {
    Origin { name: calibrate::ANGLE.words().into(), ..origin(spot, &result::RUN_UNBALANCE) }
}
