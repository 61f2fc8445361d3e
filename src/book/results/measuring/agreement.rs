//! Whether the trial runs of a setup agree with what its calibration says of the same channels.

use crate::book::derive::Val;
use crate::book::effective::EffectiveBlock;
use crate::book::results::bench::mode::Mode;
use crate::book::results::measuring::sheet::Sheet;
use crate::book::results::trials::TrialResults;
use crate::book::results::values::entry::{Recorder, Spot, origin};
use crate::book::results::values::render::display_value;
use crate::book::vectors::{Gathered, Produced, VectorVal};
use crate::units::{Angle, Indication, Ratio, Unbalance, Unit, Vector};
use crate::vocabulary::setup::TrialsMade;
use crate::vocabulary::{result, setup};

/// Trial runs and calibration that say different things of what a channel reads.
#[derive(Clone, Debug)]
pub struct Contradiction {
    pub channel: String,
    /// The plane that the channel is said to read.
    pub reads: String,
    /// The plane in which the trial mass was.
    pub plane: String,
    /// How far the trial's reading lies from what the calibration makes of it, as a share of that.
    pub apart: Val<Ratio>,
    /// Whether a calibration mass says so, or `tolerance reads` alone.
    pub is_calibrated: bool,
}

impl Contradiction {
    pub fn words(&self) -> String {
        let Self { channel, reads, plane, apart, .. } = self;
        let share = apart.get().map_or_else(String::new, |share| display_value(share.value(), Unit::PERCENT, 0.0));
        if plane == reads {
            return format!("channel {channel}: trial runs and calibration of plane {plane} disagree by {share}");
        }
        format!(
            "by the trial runs channel {channel} reads {share} of what is in plane {plane}, and by the calibration \
             plane {reads} alone"
        )
    }
}

/// Whether the trial runs were made before the machine was calibrated, and so say nothing of its readings since.
pub(in crate::book::results) fn are_of_before(setup: &EffectiveBlock<'_>) -> bool {
    setup.choice(setup::TRIALS_MADE) == Some(TrialsMade::BeforeCalibration)
}

/// Every channel and plane of which they differ by more than both are known to and the shop accepts.
pub(in crate::book::results) fn contradictions<'b>(
    recorder: &Recorder<'b>,
    sheet: &Sheet<'_, 'b>,
) -> Vec<Contradiction> {
    let Some(trials) = sheet.trials.filter(|_| !are_of_before(sheet.block)) else { return Vec::new() };
    let mut found = Vec::new();
    for (channel, reads) in sheet.channels {
        let is_calibrated = sheet.is_calibrated(reads);
        let says = match sheet.mode() {
            Some(Mode::Divisions) => true,
            Some(Mode::Unbalance | Mode::Mass) => is_calibrated,
            None => false,
        };
        if !says {
            continue;
        }
        let Some(row) = trials.channels.iter().position(|own| own == channel) else { continue };
        for (column, plane) in trials.planes.iter().enumerate() {
            let apart = apart(recorder, sheet, trials, (row, reads), (column, plane));
            let accepted = match plane == reads {
                true => recorder.facts.shop.calibration_uncertainty,
                false => recorder.facts.shop.interference,
            };
            // A demand alone says nothing of other planes.
            let says = is_calibrated || plane == reads;
            let Some(share) = apart.get().filter(|_| says) else { continue };
            if share.value() - apart.expanded_uncertainty() > accepted.value() {
                found.push(Contradiction {
                    channel: (*channel).to_owned(),
                    reads: (*reads).to_owned(),
                    plane: (*plane).to_owned(),
                    apart,
                    is_calibrated,
                });
            }
        }
    }
    found
}

/// `|α · U₁ − 1|` of a channel's own plane and `|α · U₁|` of another, with what the trials say it reads, α, and what one
/// unit of its readout is calibrated to stand for, U₁; amounts alone where the trials have no angles.
fn apart<'b>(
    recorder: &Recorder<'b>,
    sheet: &Sheet<'_, 'b>,
    trials: &TrialResults<'b>,
    (row, reads): (usize, &str),
    (column, plane): (usize, &str),
) -> Val<Ratio> {
    let spot = Spot::heading(sheet.block, sheet.id).of_plane(reads);
    let own = Vector { x: Ratio::new(if reads == plane { 1.0 } else { 0.0 }), y: Ratio::new(0.0) };
    let mut gathered = Gathered::new();
    let worth = sheet.worth(reads, recorder.facts.shop.unbalance_unit).gather(&mut gathered);
    let worth_of_one = |numbers: &crate::book::vectors::Numbers| worth.unbalance(numbers, Indication::new(1.0));
    let (here, unit) = (origin(&spot, &result::INFLUENCE), Unit::PERCENT);
    if let Some(coefficient) = trials.found.coefficients.get(row).and_then(|row| row.get(column)) {
        let (alpha, turn) = (gathered.vector(coefficient), gathered.value(&sheet.turn(recorder, &spot, reads)));
        let outputs = gathered.work_out(None, |numbers| {
            let alpha: Vector<crate::units::Sensitivity> = numbers.vector(alpha);
            let shown = alpha.map(|one| Ratio::new((one * worth_of_one(numbers)).value()));
            Ok(Produced::vector(shown.rotate(numbers.value::<Angle>(turn)) - own))
        });
        let apart: VectorVal<Ratio> = outputs.vector(0, here, unit);
        return apart.amount();
    }
    let Some(by_trials) = trials.found.worth_of_amount.as_ref().filter(|_| trials.planes.len() == 1) else {
        return Val::missing(here, crate::book::origin::Reason::NotGiven, unit);
    };
    let by_trials = gathered.value(by_trials);
    let outputs = gathered.work_out(None, |numbers| {
        Ok(Produced::amount((worth_of_one(numbers) / numbers.value::<Unbalance>(by_trials) - own.x).abs()))
    });
    outputs.value(0, here, unit)
}
