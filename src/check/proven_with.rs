//! The lines by which a proof says what it was made with, as tools write them.

use super::context::ItemContext;
use super::placing::line_at_end;
use crate::book::{EffectiveBlock, Limit, SetupResults};
use crate::sheet::Block;
use crate::syntax::Kind;
use crate::text::Edit;
use crate::units;
use crate::vocabulary::{proven_with, setup};

/// A line that a proof has not yet.
pub struct Line {
    pub head: String,
    pub value: String,
}

/// What of the facts and limits of today the latest proof does not say.
pub fn missing<'b>(context: &ItemContext<'b, '_>, setup: &SetupResults<'b>) -> Vec<Line> {
    let with = setup.block.latest_proof().and_then(EffectiveBlock::proven_with);
    let mut lines = Vec::new();
    if with.is_none_or(|with| with.field(proven_with::REVISION).is_none())
        && let Some(revision) = setup.block.field(setup::REVISION)
    {
        let head = proven_with::REVISION.words().to_owned();
        lines.push(Line { head, value: context.written(revision).to_owned() });
    }
    let facts = setup.not_proven().into_iter();
    lines.extend(facts.map(|fact| Line { head: fact.head(), value: context.written(fact.now).to_owned() }));
    let limits = setup.limits().into_iter().filter(|limit| !with.is_some_and(|with| says(with, limit)));
    lines.extend(limits.map(|limit| Line { head: limit.head(), value: kept(limit.base, limit.unit, limit.standard) }));
    lines
}

fn says(with: &EffectiveBlock<'_>, limit: &Limit<'_>) -> bool {
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

/// The edit that writes the lines into a proof.
pub fn written(text: &str, proof: &Block, lines: &[Line]) -> Option<Edit> {
    let line = |line: &Line| format!("{}: {}", line.head, line.value);
    match proof.inner(Kind::ProvenWith).next() {
        Some(with) => line_at_end(text, with, &lines.iter().map(line).collect::<Vec<_>>().join("\n")),
        None => {
            let lines: Vec<String> = lines.iter().map(|one| format!("  {}", line(one))).collect();
            line_at_end(text, proof, &format!("\n{} {{\n{}\n}}", Kind::ProvenWith, lines.join("\n")))
        }
    }
}
