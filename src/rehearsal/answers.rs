//! What the channels of a machine read of unbalances in the planes: as the proof found it, else as calibrated.

use num_complex::Complex64;

use super::given::{Answer, Bend, Cannot, Channel, Mounting, Plane};
use super::reading::Readout;
use crate::book::{CalibrateResults, Computing, EffectiveBlock, Facts, KeptInfluence, ReadoutFacts, SetupResults};
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::units::{Amount, Length, Mass, Typed};
use crate::vocabulary::readout::Shown;
use crate::vocabulary::setup::Indicates;
use crate::vocabulary::{arbor, calibrate, linearity, proof, separation, setup};

/// What one channel reads of the other plane, as a share of its own, where nobody has measured it. Source: common practice,
/// no source.
const INTERFERENCE: f64 = 0.05;

/// How far a machine that is told where all is reads off, as a share. Source: common practice, no source.
const GAIN_OFF: f64 = 0.045;

/// How far a reading is out of proportion at the calibration mass, as a share. Source: common practice, no source.
const NOT_PROVEN: Bend = Bend { middle: 0.0, off: 0.02 };

/// Readings that lie closer together than this share of a full one do not show how readings grow. Source: common practice, no
/// source.
const LEAST_APART: f64 = 0.2;

/// No channel is out of proportion by more than this share at a full reading. Source: common practice, no source.
const MOST_BEND: f64 = 0.1;

/// How far off trial runs tell what a channel reads, as a share. Source: common practice, no source.
const TRIALS_OFF: f64 = 0.03;

type Say<'s> = &'s mut dyn FnMut(&'static str, String, bool);

fn readout_of<'s, 'b>(setup: &'s SetupResults<'b>) -> Option<&'s ReadoutFacts<'b>> {
    setup.machine.as_ref()?.readout.as_ref()
}

/// A step of the readout where it states none: a twentieth of what the tolerance reads, in base units.
pub fn usual_step(setup: &SetupResults<'_>, tolerance: f64) -> f64 {
    let shows = readout_of(setup).and_then(|readout| readout.shows);
    match shows {
        Some(Shown::Unbalance) => tolerance / 20.0,
        Some(Shown::MassAtSetRadius) => tolerance / 20.0 / 0.1,
        _ => setup.reading_at_tolerance.get().map_or(0.1, |reading| reading.value() / 20.0),
    }
}

/// All channels with what they answer to each plane.
pub fn of(
    computing: &Computing<'_>,
    setup: &SetupResults<'_>,
    planes: &[Plane],
    readout: &Readout,
    say: Say<'_>,
) -> Result<Vec<Channel>, Cannot> {
    let facts = readout_of(setup).ok_or_else(|| Cannot("the machine has no readout".into()))?;
    if setup.rests_on_trials() || setup.channels.is_empty() {
        return by_trials(&setup.influences(computing.facts()), planes, say);
    }
    let proven = setup.block.latest_proof();
    let mut channels = Vec::new();
    let (mut is_proven, mut is_assumed, mut is_bend_proven) = (false, false, false);
    for (name, own) in &setup.channels {
        let own = planes.iter().position(|plane| plane.name == *own);
        let own = own.ok_or_else(|| Cannot(format!("channel {name} reads no plane of the rotor")))?;
        let calibrated = as_calibrated(setup, &planes[own], readout, facts);
        let mut answers = vec![Answer::default(); planes.len()];
        for (n, plane) in planes.iter().enumerate() {
            let found = proven.and_then(|proof| as_proven(proof, &plane.name, name, readout, facts));
            answers[n] = match (found, n == own) {
                (Some(found), _) => {
                    is_proven = true;
                    found
                }
                (None, true) => {
                    is_assumed = true;
                    calibrated.ok_or_else(|| Cannot(format!("nothing says what channel {name} reads of a mass")))?
                }
                (None, false) => {
                    is_assumed = true;
                    let size = calibrated.map_or(0.0, |one| one.middle.norm());
                    Answer { middle: Complex64::ZERO, off: INTERFERENCE * size }
                }
            };
        }
        let full =
            full_of(setup, &planes[own].name).unwrap_or(planes[own].tolerance * 10.0) * answers[own].middle.norm();
        let bend = proven.and_then(|proof| bend(proof, &planes[own].name, name, readout, facts, full));
        is_bend_proven |= bend.is_some();
        let bend = bend.unwrap_or(NOT_PROVEN);
        channels.push(Channel { name: (*name).to_owned(), answers, bend, full });
    }
    if is_proven {
        say("gain, angle and interference", "as the masses of the proof read, within their steps".into(), true);
    }
    if is_assumed {
        let from = format!(
            "as calibrated, the dial within half a step; {} % of it for the other plane at most",
            INTERFERENCE * 100.0
        );
        say("gain and interference not proven", from, false);
    }
    let from = match is_bend_proven {
        true => "as two masses of the proof show it, else ± 2 % at the calibration mass; in proportion beyond",
        false => "± 2 % at the calibration mass; in proportion beyond",
    };
    say("readings out of proportion", from.into(), is_bend_proven);
    Ok(channels)
}

fn by_trials(found: &[KeptInfluence<'_>], planes: &[Plane], say: Say<'_>) -> Result<Vec<Channel>, Cannot> {
    if found.is_empty() {
        return Err(Cannot("neither a calibration nor trial runs say what the channels read".into()));
    }
    let mut channels = Vec::new();
    for one in found {
        if !one.with_angles {
            return Err(Cannot("trial runs by amounts alone cannot be rehearsed".into()));
        }
        let answer = |plane: &Plane| {
            let (_, answer) = one.in_planes.iter().find(|(name, _)| *name == plane.name)?;
            let answer = answer.get()?;
            let middle = Complex64::new(answer.x.raw(), answer.y.raw());
            Some(Answer { middle, off: TRIALS_OFF * middle.norm() })
        };
        let answers: Option<Vec<Answer>> = planes.iter().map(answer).collect();
        let answers = answers.ok_or_else(|| Cannot("the trial runs do not tell every plane".into()))?;
        let size =
            answers.iter().zip(planes).map(|(one, plane)| one.middle.norm() * plane.tolerance).fold(0.0, f64::max);
        channels.push(Channel { name: one.channel.to_owned(), answers, bend: NOT_PROVEN, full: 10.0 * size });
    }
    let from = format!("as the trial runs of the sheet tell, ± {} %", TRIALS_OFF * 100.0);
    say("what the channels read", from, false);
    Ok(channels)
}

fn quantity<T: Amount>(block: &EffectiveBlock<'_>, key: &str) -> Option<T> {
    let field = block.fields.iter().find(|field| field.key.name == key)?;
    match &field.field.value {
        FieldValue::Quantity(stated) => Some(stated.typed()),
        _ => None,
    }
}

/// What a block of the proof puts on, in kg·m at an angle.
fn put_on(block: &EffectiveBlock<'_>) -> Option<Complex64> {
    let mass: Mass = quantity(block, separation::MASS.words())?;
    let radius: Option<Length> = quantity(block, separation::RADIUS.words());
    let radius = match radius {
        Some(radius) => radius,
        None => quantity::<Length>(block, separation::DIAMETER.words())? * 0.5,
    };
    let angle: Option<crate::units::Angle> = quantity(block, separation::ANGLE.words());
    Some(Complex64::from_polar(mass.base() * radius.base(), angle.map_or(0.0, Typed::base)))
}

/// What the mass of the proof in a plane reads on a channel.
fn as_proven(
    proof: &EffectiveBlock<'_>,
    plane: &str,
    channel: &str,
    readout: &Readout,
    facts: &ReadoutFacts<'_>,
) -> Option<Answer> {
    let block = proof.inner(Kind::Separation).find(|block| block.name_text() == plane)?;
    let put = put_on(block)?;
    let with = readout.read(block, separation::READING, channel, Some(facts))?;
    let start = readout.read(proof, proof::START_READING, channel, Some(facts)).unwrap_or_default();
    let off = readout.off(with.norm()).hypot(readout.off(start.norm()));
    Some(Answer { middle: (with - start) / put, off: off / put.norm() })
}

/// How two masses that differ read out of proportion to each other; `full` is what is read at the calibration mass.
fn bend(
    proof: &EffectiveBlock<'_>,
    plane: &str,
    channel: &str,
    readout: &Readout,
    facts: &ReadoutFacts<'_>,
    full: f64,
) -> Option<Bend> {
    let block = proof.inner(Kind::Linearity).find(|block| block.name_text() == plane)?;
    let put = put_on(block)?;
    let with = readout.read(block, linearity::READING, channel, Some(facts))?;
    let start = readout.read(proof, proof::START_READING, channel, Some(facts)).unwrap_or_default();
    let first = as_proven(proof, plane, channel, readout, facts)?;
    let other = proof.inner(Kind::Separation).find(|block| block.name_text() == plane)?;
    let (first_read, read) = (first.middle.norm() * put_on(other)?.norm(), (with - start).norm());
    let apart = (read - first_read) / full;
    if apart.abs() < LEAST_APART {
        return None;
    }
    let share = (read / put.norm()) / first.middle.norm() - 1.0;
    let off = (readout.amount_off(read) / read).hypot(readout.amount_off(first_read) / first_read);
    Some(Bend { middle: (share / apart).clamp(-MOST_BEND, MOST_BEND), off: (off / apart.abs()).min(MOST_BEND) })
}

/// What was set up with a calibration mass, or what a machine shows that is told where all is.
fn as_calibrated(
    setup: &SetupResults<'_>,
    plane: &Plane,
    readout: &Readout,
    facts: &ReadoutFacts<'_>,
) -> Option<Answer> {
    let calibration = setup.calibration(&plane.name).filter(|one| one.block.is_some());
    let turn = turn(setup, calibration, readout, facts)?;
    let (amount, off) = match (facts.shows?, calibration) {
        (_, Some(one)) if one.set_to.is_some() => {
            let set = one.set_to.as_ref()?.reading.get()?.value();
            let put = one.mass.get()?.base() * one.radius.get()?.base();
            let masses = (one.unbalance.standard_uncertainty() / put).min(1.0);
            (set / put, readout.set_off(set).hypot(masses))
        }
        (Shown::Unbalance, _) => (1.0, GAIN_OFF),
        (Shown::MassAtSetRadius, _) => (1.0 / plane.radius, GAIN_OFF),
        _ => return None,
    };
    Some(Answer { middle: Complex64::from_polar(amount, -turn), off: amount * off })
}

/// From the angle of a reading to that of the heavy spot.
fn turn(
    setup: &SetupResults<'_>,
    calibration: Option<&CalibrateResults<'_>>,
    readout: &Readout,
    facts: &ReadoutFacts<'_>,
) -> Option<f64> {
    let block = calibration.and_then(|one| one.block.as_ref());
    let calibrated = block.and_then(|block| {
        let mass: crate::units::Angle = quantity(block, calibrate::ANGLE.words())?;
        let shown = readout.angle(&block.field(calibrate::SHOWS)?.field.value)?;
        Some(mass.base() - shown)
    });
    calibrated.or_else(|| {
        let half = match setup.block.choice(setup::INDICATES)? {
            Indicates::HeavySpot => 0.0,
            Indicates::LightSpot => std::f64::consts::PI,
        };
        Some(readout.pointer(facts)? + half)
    })
}

fn full_of(setup: &SetupResults<'_>, plane: &str) -> Option<f64> {
    setup.calibration(plane)?.unbalance.get().map(Typed::base)
}

/// The calibration mass that may be left on: plane and what it puts in; ten tolerances of the first plane where the sheet has
/// none.
pub fn left_on(facts: &Facts<'_>, setup: &SetupResults<'_>, planes: &[Plane]) -> (usize, Complex64) {
    let usual = || (0, Complex64::new(10.0 * planes.first().map_or(0.0, |plane| plane.tolerance), 0.0));
    of_calibration(facts, setup, planes).unwrap_or_else(usual)
}

fn of_calibration(facts: &Facts<'_>, setup: &SetupResults<'_>, planes: &[Plane]) -> Option<(usize, Complex64)> {
    let one = setup.calibrations.iter().find(|one| one.block.is_some())?;
    let plane = planes.iter().position(|plane| plane.name == one.plane)?;
    let put = one.mass.get()?.base() * one.radius.get()?.base();
    let angle = facts.quantity(one.block.as_ref()?, calibrate::ANGLE).get().map_or(0.0, Typed::base);
    Some((plane, Complex64::from_polar(put, angle)))
}

/// What the mass of the rotor adds, in kg·m, where the arbor centres it that far off.
fn of_centring(setup: &SetupResults<'_>) -> Option<f64> {
    let off: Length = quantity(setup.arbor.as_ref()?, arbor::CENTRING_REPEATABILITY.words())?;
    Some(setup.rotor.as_ref()?.mass.get()?.base() * off.base())
}

/// How far mountings move the readings: by those of the proof, else by the arbor.
pub fn mounting(setup: &SetupResults<'_>, channels: &[Channel], readout: &Readout, say: Say<'_>) -> Mounting {
    let facts = readout_of(setup);
    let found = setup.block.latest_proof().and_then(|proof| {
        let (mut squares, mut freedom) = (0.0, 0);
        for channel in channels {
            let field = proof.named(proof::REMOUNTED).find(|(name, _)| *name.text == *channel.name);
            let Some((_, field)) = field else { continue };
            let FieldValue::Readings(readings) = &field.field.value else { continue };
            let all: Option<Vec<Complex64>> = readings.iter().map(|reading| readout.vector(reading, facts)).collect();
            let own = channel.answers.iter().map(|answer| answer.middle.norm()).fold(0.0, f64::max);
            let Some(all) = all.filter(|all| all.len() > 1 && own > 0.0) else { continue };
            let mean = all.iter().sum::<Complex64>() / all.len() as f64;
            let apart: f64 = all.iter().map(|one| (one - mean).norm_sqr()).sum();
            squares += apart / (own * own);
            freedom += 2 * (all.len() - 1);
        }
        (freedom > 0).then(|| (squares / freedom as f64).sqrt())
    });
    match found {
        Some(standard) => {
            say("mounting", "as the remounted runs of the proof scatter".into(), true);
            Mounting::Found(standard)
        }
        None => match of_centring(setup) {
            Some(moment) => {
                let from = format!("as far as the arbor's `{}` moves the rotor's mass", arbor::CENTRING_REPEATABILITY);
                say("mounting", from, true);
                Mounting::Centring(moment)
            }
            None => {
                say("mounting", "0.3 to 6 % of the tolerance, standard".into(), false);
                Mounting::Between(0.003, 0.06)
            }
        },
    }
}
