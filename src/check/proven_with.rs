//! The lines by which a proof or the record of a run keeps what it was made with, as tools write them.

use super::context::ItemContext;
use super::placing::line_at_end;
use super::wording::name_as_written;
use crate::book::{Computing, EffectiveBlock, ItemId, KeptInfluence, KeptLimit, SetupResults, VectorVal, Voiding};
use crate::sheet::Block;
use crate::syntax::Kind;
use crate::text::Edit;
use crate::units::{self, Amount, Sensitivity};
use crate::vocabulary::as_run::{self, LIMITS_HALVED};
use crate::vocabulary::{Choice, YesNo, influence, setup};

/// A line that a proof has not yet.
pub struct Line {
    pub head: String,
    pub value: String,
    /// Whether a proof must have it.
    pub is_demanded: bool,
}

/// What of the facts and limits of today the newest proof does not say.
pub fn missing<'b>(context: &ItemContext<'b, '_>, setup: &SetupResults<'b>) -> Vec<Line> {
    let with = setup.block.newest_proof().and_then(EffectiveBlock::proven_with);
    let mut lines: Vec<Line> = setup.not_proven().iter().map(|fact| Line::of_fact(context, fact)).collect();
    let is_open = |limit: &KeptLimit<'_>| limit.amount.is_some() && !with.is_some_and(|with| says(with, limit));
    let limits = setup.limits().into_iter().filter(is_open);
    lines.extend(limits.map(Line::of));
    lines.extend(halved(setup).filter(|_| with.is_none_or(|with| with.field(LIMITS_HALVED).is_none())));
    lines
}

impl Line {
    fn of_fact<'b>(context: &ItemContext<'b, '_>, fact: &Voiding<'b>) -> Self {
        let value = context.written(fact.now).to_owned();
        Self { head: fact.head(), value, is_demanded: fact.is_demanded() }
    }

    fn of(limit: KeptLimit<'_>) -> Self {
        // What stands and is not known may not look as if nothing had stood there.
        let value = limit.amount.map_or("?".to_owned(), |(base, standard)| kept(base, limit.unit, standard));
        Self { head: limit.head(), value, is_demanded: true }
    }
}

/// The edit by which the newest proof of a setup takes over what it does not say yet; `None` when it says all.
pub fn facts_of_proof(computing: &Computing<'_>, setup: ItemId) -> Option<Edit> {
    let computed = computing.item(setup);
    let context = ItemContext { computing, id: setup, block: computing.book().item(setup), computed: &computed };
    let results = context.setup()?;
    let proof = results.block.newest_proof().and_then(|proof| proof.own)?;
    let (lines, influences) = (missing(&context, results), missing_influences(&context, results));
    let says_all = lines.is_empty() && influences.is_empty();
    if says_all { None } else { written(context.source(), proof, &lines, &influences) }
}

/// The facts and limits of today, for the record of a run. What its dials are set to is in the influences.
pub fn of_today<'b>(context: &ItemContext<'b, '_>, setup: &SetupResults<'b>) -> Vec<Line> {
    let facts = setup.facts_to_keep();
    let facts = facts.iter().filter(|fact| fact.proven_as != as_run::SETTING);
    let limits = setup.limits().into_iter().map(Line::of);
    facts.map(|fact| Line::of_fact(context, fact)).chain(limits).chain(halved(setup)).collect()
}

/// That half of the whole was taken, where it was.
fn halved(setup: &SetupResults<'_>) -> Option<Line> {
    let head = LIMITS_HALVED.words().to_owned();
    setup.halves_limits().then(|| Line { head, value: YesNo::Yes.words().to_owned(), is_demanded: false })
}

/// The lines of a block a channel with what it reads for an unbalance in each plane.
pub fn influences<'b>(context: &ItemContext<'b, '_>, setup: &SetupResults<'b>) -> Vec<String> {
    let Some(speed) = setup.block.field(setup::BALANCING_SPEED) else { return Vec::new() };
    let speed = context.written(speed);
    let per = context.book().rules().unbalance_unit;
    let mut lines = Vec::new();
    for one in setup.influences(context.computing.facts()) {
        lines.push(String::new());
        lines.push(format!("  {} {} {{", Kind::Influence, name_as_written(one.channel)));
        lines.push(format!("    {}: {speed}", influence::SPEED));
        lines.push(format!("    {}: 1 {per}", influence::PER));
        lines.extend(one.in_planes.iter().map(|(plane, answer)| answer_line(plane, answer, &one, per)));
        lines.push("  }".to_owned());
    }
    lines
}

fn answer_line(plane: &str, answer: &VectorVal<Sensitivity>, of: &KeptInfluence<'_>, per: units::Unit) -> String {
    let (amount, angle) = (answer.amount(), answer.angle());
    let raw = amount.get().map_or(0.0, Amount::raw) * per.factor();
    let shown = kept(raw, of.unit, amount.standard_uncertainty() * per.factor());
    if !of.with_angles {
        return format!("    {}: {shown}", name_as_written(plane));
    }
    let turned = angle.get().map_or(0.0, |angle| angle.within_one_turn().in_radians());
    let ahead = kept(turned, units::Unit::DEGREE, angle.standard_uncertainty());
    format!("    {}: {shown} @ {ahead}", name_as_written(plane))
}

fn says(with: &EffectiveBlock<'_>, limit: &KeptLimit<'_>) -> bool {
    match limit.of {
        Some(of) => with.named(limit.fact).any(|(name, _)| name.text == of.text),
        None => with.field(limit.fact).is_some(),
    }
}

/// An amount with the digits to be judged by again, and with what it is known to.
pub fn kept(base: f64, unit: units::Unit, standard: f64) -> String {
    let amount = format!("{} {unit}", units::plainly(unit.from_base(base)));
    match standard > 0.0 {
        true => {
            format!("{amount} ± {} (k=2)", units::quantity(2.0 * standard / unit.factor(), &unit.to_string(), None))
        }
        false => amount,
    }
}

/// The influences that the newest proof has not kept, where readings are understood by trial runs: those may change.
pub fn missing_influences<'b>(context: &ItemContext<'b, '_>, setup: &SetupResults<'b>) -> Vec<String> {
    let with = setup.block.newest_proof().and_then(EffectiveBlock::proven_with);
    let has_some = with.is_some_and(|with| with.inner(Kind::Influence).next().is_some());
    if has_some || !setup.rests_on_trials() { Vec::new() } else { influences(context, setup) }
}

/// The edit that writes the lines, and after them those of influences, into a proof.
pub fn written(text: &str, proof: &Block, lines: &[Line], influences: &[String]) -> Option<Edit> {
    let line = |line: &Line| format!("{}: {}", line.head, line.value);
    match proof.inner(Kind::ProvenWith).next() {
        Some(with) => {
            let influences = influences.iter().map(|line| line.strip_prefix("  ").unwrap_or(line).to_owned());
            line_at_end(text, with, &lines.iter().map(line).chain(influences).collect::<Vec<_>>().join("\n"))
        }
        None => {
            let own = lines.iter().map(|one| format!("  {}", line(one)));
            let lines: Vec<String> = own.chain(influences.iter().cloned()).collect();
            line_at_end(text, proof, &format!("\n{} {{\n{}\n}}", Kind::ProvenWith, lines.join("\n")))
        }
    }
}
