use crate::book::{CalibrateResults, EffectiveBlock, SetupResults, Val, indication};
use crate::check::amounts::{amount, limit, percent, shown};
use crate::check::calibration;
use crate::check::{Draft, ItemContext, Severity, Sink};
use crate::mechanics::calibration::{TakenAs, error_from_residual};
use crate::sheet::FieldValue;
use crate::units::{Ratio, Unbalance};
use crate::vocabulary::{calibrate, setup};

pub(super) fn judge(context: &ItemContext<'_, '_>, sink: &mut Sink) {
    let Some(setup) = context.setup() else { return };
    for (calibration, block) in calibration::blocks(context) {
        sink.drafts.extend(judge_one(context, setup, calibration, block));
    }
}

fn judge_one<'b>(
    context: &ItemContext<'b, '_>,
    setup: &SetupResults<'b>,
    calibration: &CalibrateResults<'b>,
    block: &EffectiveBlock<'b>,
) -> Option<Draft> {
    if block.field(calibrate::TAKEN_AS).is_none() {
        return unsaid(context, setup, calibration, block);
    }
    let taken = match block.choice(calibrate::TAKEN_AS)? {
        calibrate::TakenAs::OnePosition => TakenAs::OnePosition,
        calibrate::TakenAs::MeanOfTwoOppositePositions => TakenAs::MeanOfTwoOppositePositions,
        calibrate::TakenAs::VectorDifference => return None,
    };
    let unbalance = calibration.unbalance.get()?;
    let (residual, of_what) = match calibration.residual.get() {
        Some(_) => (calibration.residual.clone(), format!("a residual unbalance of {}", shown(&calibration.residual))),
        None if !calibration.residual.is_left_out() => return None,
        // Before calibration the rotor only has to come below the reading for pre-balance.
        None => match pre_balanced(setup, calibration) {
            Some(below) => {
                let lets_pass = format!("the residual of up to {} that pre-balance lets pass", shown(&below));
                (below, lets_pass)
            }
            None => return unknown(context, calibration, block, taken),
        },
    };
    let error = error_from_residual(taken, residual.get()?, unbalance).map(Ratio::value).ok()?;
    let accepted = calibration::accepted(context);
    if error <= accepted * (1.0 + 1e-9) {
        return None;
    }
    let message = format!(
        "{of_what} falsifies the reading of plane {} by up to {} {}; the shop accepts {}",
        calibration.plane,
        percent(error),
        how(taken),
        limit(accepted)
    );
    let field = block.field(calibrate::RESIDUAL_AT_CALIBRATION).or_else(|| block.field(calibrate::TAKEN_AS))?;
    Some(context.beside(field, message).help(better(taken, &residual, unbalance, accepted)))
}

/// The most that the rotor may still have when calibration begins.
fn pre_balanced(setup: &SetupResults<'_>, calibration: &CalibrateResults<'_>) -> Option<Val<Unbalance>> {
    let field = setup.block.field(setup::PRE_BALANCE_TO)?;
    let FieldValue::Reading(reading) = &field.field.value else { return None };
    let (reading, _) = indication(reading, setup.machine.as_ref()?.readout.as_ref())?;
    let one = calibration.one_division.get()?;
    Some(Val { known: Ok(one * reading.value()), ..calibration.one_division.clone() })
}

/// One position without a word on the residual cannot be judged: worth knowing, no more.
fn unknown<'b>(
    context: &ItemContext<'b, '_>,
    calibration: &CalibrateResults<'b>,
    block: &EffectiveBlock<'b>,
    taken: TakenAs,
) -> Option<Draft> {
    if taken != TakenAs::OnePosition || !context.is_read_whole() {
        return None;
    }
    let tolerance = calibration.tolerance.get()?;
    let share = (tolerance / calibration.unbalance.get()?).value();
    let message = format!(
        "the reading of plane {} is taken in one position, and nothing says how large the rotor's own unbalance is \
         then: one tolerance of it would falsify the reading by {}",
        calibration.plane,
        percent(share)
    );
    let help = "state `residual at calibration` or `pre-balance to`, or take the mean of two opposite positions";
    Some(context.beside(block.field(calibrate::TAKEN_AS)?, message).help(help).weighing(Severity::Note))
}

/// A released sheet that does not say how the reading is taken, where the rotor's own unbalance may matter.
fn unsaid<'b>(
    context: &ItemContext<'b, '_>,
    setup: &SetupResults<'b>,
    calibration: &CalibrateResults<'b>,
    block: &EffectiveBlock<'b>,
) -> Option<Draft> {
    if !setup.is_released() || !context.is_read_whole() {
        return None;
    }
    let unbalance = calibration.unbalance.get()?;
    let (residual, of_what) = match (calibration.residual.get(), pre_balanced(setup, calibration)) {
        (Some(_), _) => (calibration.residual.clone(), "the residual unbalance"),
        (None, _) if !calibration.residual.is_left_out() => return None,
        (None, Some(below)) => (below, "what pre-balance lets pass"),
        (None, None) => (calibration.tolerance.clone(), "a residual of one tolerance"),
    };
    let error = error_from_residual(TakenAs::OnePosition, residual.get()?, unbalance).map(Ratio::value).ok()?;
    let accepted = calibration::accepted(context);
    if error <= accepted * (1.0 + 1e-9) {
        return None;
    }
    let message = format!(
        "nothing says how the reading of plane {} is taken: in one position {of_what}, {}, would falsify it by {}; \
         the shop accepts {}",
        calibration.plane,
        shown(&residual),
        percent(error),
        limit(accepted)
    );
    let help = "state `taken as: mean of two opposite positions`, or `vector difference`, as it is done at the machine";
    Some(context.on_heading(block, message).help(help).weighing(Severity::Note))
}

fn how(taken: TakenAs) -> &'static str {
    match taken {
        TakenAs::OnePosition => "when it is taken in one position",
        TakenAs::MeanOfTwoOppositePositions => "even as the mean of two opposite positions",
    }
}

fn better(taken: TakenAs, residual: &Val<Unbalance>, calibration: Unbalance, accepted: f64) -> String {
    let mean = residual.get().and_then(|residual| {
        error_from_residual(TakenAs::MeanOfTwoOppositePositions, residual, calibration).map(Ratio::value).ok()
    });
    match mean.filter(|mean| taken == TakenAs::OnePosition && *mean <= accepted) {
        Some(mean) => format!(
            "take it as the mean of two opposite positions ({} at most), or as a vector difference, which the \
             residual does not enter",
            percent(mean)
        ),
        None => format!(
            "take it as a vector difference, which the residual does not enter, or balance the rotor below {} first",
            amount(calibration * accepted, residual.unit)
        ),
    }
}
