//! The one table of blocks and keys: what may be written where, of which dimension, and what it means.
//!
//! It feeds the reader, the checks, completion, hover and the language reference; nothing else lists keys.

mod library;
mod machine;
mod record;
mod rotor;
mod setup;
mod spec;

pub use spec::*;

use crate::syntax::Kind;

/// The specification of a kind of block.
pub fn block(kind: Kind) -> &'static BlockSpec {
    match kind {
        Kind::Shop => &library::SHOP,
        Kind::Instrument => &library::INSTRUMENT,
        Kind::Severity => &library::SEVERITY,
        Kind::Material => &library::MATERIAL,
        Kind::Masses => &library::MASSES,
        Kind::Arbor => &library::ARBOR,
        Kind::Machine => &machine::MACHINE,
        Kind::Readout => &machine::READOUT,
        Kind::Scale => &machine::SCALE,
        Kind::Control => &machine::CONTROL,
        Kind::Rotor => &rotor::ROTOR,
        Kind::Plane => &rotor::PLANE,
        Kind::Tolerance => &rotor::TOLERANCE,
        Kind::SimilarPart => &rotor::SIMILAR_PART,
        Kind::Keyway => &rotor::KEYWAY,
        Kind::MadeOf => &rotor::MADE_OF,
        Kind::Setup => &setup::SETUP,
        Kind::Settings => &setup::SETTINGS,
        Kind::Calibrate => &setup::CALIBRATE,
        Kind::Trial => &setup::TRIAL,
        Kind::Proof => &setup::PROOF,
        Kind::Separation => &setup::SEPARATION,
        Kind::Linearity => &setup::LINEARITY,
        Kind::CheckMass => &setup::CHECK_MASS,
        Kind::Record => &record::RECORD,
        Kind::Run => &record::RUN,
        Kind::Correction => &record::CORRECTION,
        Kind::Traverse => &record::TRAVERSE,
    }
}

/// The format this program writes and the newest it reads.
pub const FORMAT: u32 = 1;

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
                assert!(spec.keys[..n].iter().all(|other| other.name != key.name), "{kind}: {} stands twice", key.name);
            }
        }
    }

    #[test]
    fn no_choice_begins_with_a_digit() {
        for kind in Kind::ALL {
            for key in block(kind).keys {
                if let ValueType::Choice(choices) = key.value {
                    assert!(choices.iter().all(|choice| choice.starts_with(|c: char| c.is_alphabetic())));
                }
            }
        }
    }
}
