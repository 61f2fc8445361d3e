//! Every word of the format: kinds of blocks, their facts, choices and results, one file a kind.
//!
//! A declaration is the only place that spells a name. From it come the typed facts, the table below for the reader,
//! checks, completion, hover and language reference, and the results. `DEVELOPERS.md` says how to add one.

mod alert;
mod choices;
mod define;
mod fact;
mod form;
mod former;
mod hint;
mod kept;
mod of;
mod result_spec;
mod spec;
mod value;
mod value_type;

pub mod arbor;
pub mod as_run;
pub mod balance_error;
pub mod calibrate;
pub mod check_mass;
pub mod control;
pub mod correction;
pub mod extra_mass;
pub mod influence;
pub mod instrument;
pub mod keyway;
pub mod linearity;
pub mod machine;
pub mod made_of;
pub mod masses;
pub mod material;
pub mod plane;
pub mod proof;
pub mod proven_with;
pub mod readout;
pub mod record;
pub mod rotor;
pub mod run;
pub mod scale;
pub mod separation;
pub mod settings;
pub mod setup;
pub mod severity;
pub mod shop;
pub mod similar_part;
pub mod tolerance;
pub mod traverse;
pub mod trial;

pub use alert::*;
pub use choices::*;
pub use fact::*;
pub use form::*;
pub use former::*;
pub use hint::*;
pub use kept::Keeps;
pub use of::*;
pub use result_spec::*;
pub use spec::*;
pub use value_type::*;

use std::sync::LazyLock;

use crate::syntax::Kind;

/// Every result there is, by its name in Rust.
pub mod result {
    pub use super::calibrate::result::*;
    pub use super::check_mass::result::*;
    pub use super::correction::result::*;
    pub use super::keyway::result::*;
    pub use super::linearity::result::*;
    pub use super::made_of::result::*;
    pub use super::plane::result::*;
    pub use super::proof::result::*;
    pub use super::record::result::*;
    pub use super::rotor::result::*;
    pub use super::run::result::*;
    pub use super::separation::result::*;
    pub use super::settings::result::*;
    pub use super::setup::result::*;
    pub use super::tolerance::result::*;
    pub use super::traverse::result::*;
    pub use super::trial::result::*;
}

/// The declaration of a kind of block.
pub fn block(kind: Kind) -> &'static BlockSpec {
    match kind {
        Kind::Shop => &shop::BLOCK,
        Kind::Instrument => &instrument::BLOCK,
        Kind::Severity => &severity::BLOCK,
        Kind::Material => &material::BLOCK,
        Kind::Masses => &masses::BLOCK,
        Kind::Arbor => &arbor::BLOCK,
        Kind::Machine => &machine::BLOCK,
        Kind::Readout => &readout::BLOCK,
        Kind::Scale => &scale::BLOCK,
        Kind::Control => &control::BLOCK,
        Kind::Rotor => &rotor::BLOCK,
        Kind::Plane => &plane::BLOCK,
        Kind::Tolerance => &tolerance::BLOCK,
        Kind::SimilarPart => &similar_part::BLOCK,
        Kind::Keyway => &keyway::BLOCK,
        Kind::MadeOf => &made_of::BLOCK,
        Kind::ExtraMass => &extra_mass::BLOCK,
        Kind::BalanceError => &balance_error::BLOCK,
        Kind::Setup => &setup::BLOCK,
        Kind::Settings => &settings::BLOCK,
        Kind::Calibrate => &calibrate::BLOCK,
        Kind::Trial => &trial::BLOCK,
        Kind::Proof => &proof::BLOCK,
        Kind::ProvenWith => &proven_with::BLOCK,
        Kind::Separation => &separation::BLOCK,
        Kind::Linearity => &linearity::BLOCK,
        Kind::CheckMass => &check_mass::BLOCK,
        Kind::Record => &record::BLOCK,
        Kind::AsRun => &as_run::BLOCK,
        Kind::Influence => &influence::BLOCK,
        Kind::Run => &run::BLOCK,
        Kind::Correction => &correction::BLOCK,
        Kind::Traverse => &traverse::BLOCK,
    }
}

/// Every result there is, in the order of the kinds.
pub fn results() -> impl Iterator<Item = &'static ResultSpec> {
    Kind::ALL.into_iter().flat_map(results_of)
}

/// The results that belong to a kind of block.
pub fn results_of(kind: Kind) -> impl Iterator<Item = &'static ResultSpec> {
    block(kind).results.iter().copied()
}

/// What people elsewhere write for facts of these words, in whichever block they are declared.
pub fn others_of(fact: &str) -> impl Iterator<Item = &'static str> {
    let same = Kind::ALL.into_iter().flat_map(|kind| block(kind).keys).filter(move |key| key.name == fact);
    same.flat_map(|key| key.others).copied()
}

/// The format this program writes and the newest it reads.
pub const FORMAT: u32 = 1;

/// Which program this is: its version, the newest format that it reads and, of a shipped one, the commit it was built from.
pub fn version() -> &'static str {
    static VERSION: LazyLock<String> = LazyLock::new(|| {
        let commit = option_env!("ROTORBOOK_COMMIT").map(|commit| format!(", commit {commit}"));
        format!("{} (format {FORMAT}{})", env!("CARGO_PKG_VERSION"), commit.unwrap_or_default())
    });
    &VERSION
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_kind_has_its_own_table_and_no_key_twice() {
        for kind in Kind::ALL {
            let spec = block(kind);
            assert_eq!(spec.kind, kind);
            for (n, key) in spec.keys.iter().enumerate() {
                assert!(!key.meaning.is_empty(), "{kind}: {} has no meaning", key.name);
                assert!(key.meaning.ends_with('.'), "{kind}: {}: the meaning is a sentence", key.name);
                assert!(
                    spec.keys[..n].iter().all(|other| other.name != key.name),
                    "{kind}: {} appears twice",
                    key.name
                );
            }
        }
    }

    #[test]
    fn every_word_of_a_choice_says_what_it_means() {
        for kind in Kind::ALL {
            for key in block(kind).keys {
                let (ValueType::Choice(choices) | ValueType::Names(NameOf::Listed(choices))) = key.value else {
                    continue;
                };
                assert_eq!(choices.words.len(), choices.meanings.len(), "{kind}: {}", key.name);
                for (words, meaning) in choices.explained() {
                    assert!(meaning.ends_with('.') && meaning.len() < 90, "{kind}: {words}: {meaning}");
                }
            }
        }
    }

    #[test]
    fn no_choice_begins_with_a_digit() {
        for kind in Kind::ALL {
            for key in block(kind).keys {
                if let ValueType::Choice(choices) = key.value {
                    assert!(choices.words.iter().all(|choice| choice.starts_with(|c: char| c.is_alphabetic())));
                }
            }
        }
    }
}
