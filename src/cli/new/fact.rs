//! Facts as the command line names them: `balancing speed`, `calibrate hub / mass`, `proof 2026-04-14 / separation hub / mass`.

use crate::cli::Failure;
use crate::sheet::{nearest, quote};
use crate::starting::{BlockName, Draft};
use crate::syntax::Kind;
use crate::vocabulary::{self, KeySpec};

/// A fact of an item or of a block in it.
#[derive(Clone)]
pub(super) struct FactAt {
    /// The blocks that lead to it, the outermost first.
    pub path: Vec<BlockName>,
    /// As its line begins.
    pub head: String,
    pub key: &'static KeySpec,
}

pub(super) fn fact_at(item: Kind, fact: &str) -> Result<FactAt, Failure> {
    let (blocks, head) = match fact.rsplit_once(" / ") {
        Some((blocks, head)) => (blocks.split(" / ").collect(), head),
        None => (Vec::new(), fact),
    };
    let mut path: Vec<BlockName> = Vec::new();
    for block in blocks {
        let within = path.last().map_or(item, |(kind, _)| *kind);
        let found = inner(within, block.trim()).ok_or_else(|| {
            Failure::new(format!("a {within} has no block `{block}`"))
                .help("write it as in a sheet, then ` / ` and the fact: `calibrate hub / mass`")
        })?;
        path.push(found);
    }
    let kind = path.last().map_or(item, |(kind, _)| *kind);
    let head = head.trim();
    let named = vocabulary::block(kind).named_facts.as_ref().map(|named| &named.spec);
    let own = Draft::new(kind).key(head);
    let key = own.or(named).ok_or_else(|| unknown(kind, head))?;
    // A control or a plane is named as a sheet names it.
    let head = if own.is_some() { head.to_owned() } else { quote::as_head(kind, head.trim_matches('"')) };
    Ok(FactAt { path, head, key })
}

fn unknown(kind: Kind, fact: &str) -> Failure {
    let keys = vocabulary::block(kind).keys.iter().map(|key| key.name);
    let failure = Failure::new(format!("a {kind} has no `{fact}`"));
    match nearest(fact, keys.clone()) {
        Some(near) => failure.help(format!("did you mean `{near}`?")),
        None => failure.help(format!("it may have {}", keys.collect::<Vec<_>>().join(", "))),
    }
}

/// `calibrate hub`: a kind of block that such a block holds, and its name.
fn inner(within: Kind, block: &str) -> Option<BlockName> {
    let kinds = Kind::all_in(Some(within));
    let matching = kinds.filter_map(|kind| {
        let rest = block.strip_prefix(kind.words())?;
        match rest.strip_prefix(' ').map(str::trim) {
            Some(name) if !name.is_empty() => Some((kind, Some(name.trim_matches('"').to_owned()))),
            _ if rest.is_empty() => Some((kind, None)),
            _ => None,
        }
    });
    matching.max_by_key(|(kind, _)| kind.words().len())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn blocks_of_an_item() {
        assert_eq!(inner(Kind::Setup, "calibrate hub"), Some((Kind::Calibrate, Some("hub".to_owned()))));
        assert_eq!(inner(Kind::Setup, "check mass"), Some((Kind::CheckMass, None)));
        assert_eq!(inner(Kind::Rotor, "tolerance"), Some((Kind::Tolerance, None)));
        assert_eq!(inner(Kind::Setup, "plane hub"), None);
    }
}
