//! A judged row as results and as words.

use super::budget::{Budget, Known, Line};
use super::judged::{Judged, word_of};
use super::rows::JudgedRow;
use crate::book::derive::Val;
use crate::book::results::rotor::limits::Acts;
use crate::book::results::values::entry::{Column, Outcome, Recorder, RowHead, Spot};
use crate::book::results::values::missing::why;
use crate::book::results::values::not_computed::WhyNot;
use crate::book::results::values::render::display_value;
use crate::mechanics::limits::{ARM, Acted, Acting};
use crate::mechanics::verdict::Verdict;
use crate::units::{Amount, Contributions, Typed, Unbalance, Unit};
use crate::vocabulary::{Of, ResultSpec, result};

/// What a record has one of at each limit.
pub(in crate::book::results) const AT_LIMITS: [&ResultSpec; 5] =
    [&result::MEASURED, &result::UNCERTAINTY, &result::BUDGET, &result::LIMIT_AT, &result::VERDICT_AT];

/// Records a row, its amounts in what its limit is of.
pub(super) fn keep_row(
    recorder: &mut Recorder<'_>,
    spot: &Spot,
    row: JudgedRow<'_>,
    budget: Budget,
    verdict: Option<Verdict>,
) -> Judged {
    let is_couple = matches!(row.limit.acts, Acts::About(_));
    let couple = is_couple.then(|| recorder.facts.shop.couple_unit());
    let shown = |value: &Val<Unbalance>| acted(value, couple);
    let (measured, limit) = (shown(&row.measured), shown(&row.limit.amount));
    keep_judged(recorder, spot, (row.limit.of.clone(), measured, limit), budget, verdict)
}

/// Records what acts at a limit, and the word for it.
pub(super) fn keep_judged(
    recorder: &mut Recorder<'_>,
    spot: &Spot,
    (of, measured, limit): (Of, Val<Acted>, Val<Acted>),
    budget: Budget,
    verdict: Option<Verdict>,
) -> Judged {
    let spot = spot.with(of.clone());
    let acting = if of == Of::Couple { Acting::About(ARM) } else { Acting::Sum };
    let uncertainty = budget.uncertainty.map(|amount| acting.acted(amount));
    recorder.keep(&spot, &result::MEASURED, &measured);
    recorder.keep(&spot, &result::LIMIT_AT, &limit);
    let lacking = [&measured, &limit].into_iter().find_map(|value| value.known.as_ref().err().cloned());
    match (uncertainty, &lacking) {
        (Some(amount), None) => {
            let base = amount.raw();
            recorder.push(
                &spot,
                &result::UNCERTAINTY,
                Outcome::Amount { base, unit: measured.unit, standard: 0.0 },
                None,
            );
            keep_lines(recorder, &spot, &budget, (acting, measured.unit));
        }
        (_, lacking) => {
            let why = lacking.clone().map_or_else(|| "nothing is measured here".into(), WhyNot::Lacks);
            recorder.not_asked(&spot, &[&result::UNCERTAINTY, &result::BUDGET], why);
        }
    }
    match (verdict, lacking) {
        (Some(verdict), _) => recorder.words(&spot, &result::VERDICT_AT, word_of(verdict)),
        (None, Some(missing)) => recorder.not_asked(&spot, &[&result::VERDICT_AT], WhyNot::Lacks(missing)),
        (None, None) => recorder.not_asked(&spot, &[&result::VERDICT_AT], "its limit is zero"),
    }
    Judged { of, measured, limit, uncertainty, budget, verdict }
}

/// One line a row, worst first, expanded by itself and as its standard uncertainty; what has no number has none. Last what they
/// make together.
fn keep_lines(recorder: &mut Recorder<'_>, spot: &Spot, budget: &Budget, (acting, unit): (Acting, Unit)) {
    let lines = &budget.lines;
    let of = |amount: Unbalance| acting.acted(amount).raw();
    let amounts = |line: &Line| {
        let has_number = !line.parts.is_empty();
        vec![has_number.then(|| of(line.amount())), has_number.then(|| of(line.standard()))]
    };
    let together = budget.coverage().zip(budget.uncertainty).map(|(factor, uncertainty)| {
        let about = format!("standard uncertainties by root of squares, × {factor:.2}");
        (
            RowHead { name: "together".into(), about: about.into() },
            vec![Some(of(uncertainty)), Some(of(budget.standard))],
        )
    });
    let rows: Vec<Vec<Option<f64>>> = lines.iter().map(amounts).collect();
    let about = |line: &Line| match line.known {
        Known::NotKnown => format!("{}: {}", line.known.words(), line.why),
        Known::Stated | Known::ByDefault if line.parts.is_empty() => format!("{}: {}", line.known.words(), line.why),
        _ => line.known.words().to_owned(),
    };
    let head = |line: &Line| RowHead { name: (&*line.name).into(), about: about(line).into() };
    let heads: Vec<RowHead> = lines.iter().map(head).collect();
    let (heads, rows) = match together {
        Some((head, row)) => (heads.into_iter().chain([head]).collect(), rows.into_iter().chain([row]).collect()),
        None => (heads, rows),
    };
    let columns = [result::UNCERTAINTY.name, "standard"].map(|name| Column { name, unit }).to_vec();
    recorder.push(spot, &result::BUDGET, Outcome::Table { heads, columns, rows }, None);
}

/// An unbalance as what its limit is of, a couple in its own unit.
fn acted(value: &Val<Unbalance>, couple: Option<Unit>) -> Val<Acted> {
    let (factor, unit) = couple.map_or((1.0, value.unit), |unit| (ARM.base(), unit));
    let mut contributions = Contributions::none();
    contributions.add(&value.contributions, factor);
    let known = value.known.clone().map(|amount| Acted::from_raw(amount.base() * factor));
    let (origin, derivation) = (value.origin.clone(), value.derivation.clone());
    Val { known, contributions, origin, unit, derivation }
}

/// `bearing a: 9.0 g·mm ± 6.7 g·mm of 46.3 g·mm, within`.
pub(super) fn say_row(recorder: &Recorder<'_>, one: &Judged, word: Option<&str>) -> String {
    let name = one.name();
    if let Some(missing) = one.lacks() {
        return format!("{name}: not known, as {}", why(recorder.facts.book, missing));
    }
    // All in one unit, in which they are compared.
    let shown = |value: &Val<Acted>| value.get().map(|known| display_value(known.raw(), one.measured.unit, 0.0));
    let known_to = one.uncertainty.map(|amount| display_value(amount.raw(), one.measured.unit, 0.0));
    match (word, shown(&one.measured), shown(&one.limit), known_to) {
        (Some(word), Some(measured), Some(limit), Some(known_to)) => {
            format!("{name}: {measured} ± {known_to} of {limit}, {word}")
        }
        _ => format!("{name}: not known"),
    }
}
