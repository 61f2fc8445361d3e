//! Words of the trade for which this format has another.

use super::words::nearest;
use crate::vocabulary::{self, BlockSpec, Choices, KeySpec};

/// The facts of the block that this word is used for elsewhere.
fn meant(word: &str, spec: &'static BlockSpec) -> Vec<&'static KeySpec> {
    let lower = word.to_lowercase();
    spec.keys.iter().filter(|key| vocabulary::others_of(key.name).any(|other| other == lower)).collect()
}

/// The facts between which only the writer can choose; empty where there is nothing to choose.
pub fn either(word: &str, spec: &'static BlockSpec) -> Vec<&'static KeySpec> {
    let meant = meant(word, spec);
    if meant.len() > 1 { meant } else { Vec::new() }
}

/// The key of the block that was most likely meant.
pub(super) fn key(word: &str, spec: &'static BlockSpec) -> Option<&'static str> {
    match &meant(word, spec)[..] {
        [] => nearest(word, spec.keys.iter().map(|key| key.name)),
        [one] => Some(one.name),
        _ => None,
    }
}

/// The choice that was most likely meant; `None` also when several could be.
pub(super) fn choice(word: &str, choices: Choices) -> Option<&'static str> {
    let lower = word.to_lowercase();
    let mut others = choices.words.iter().zip(choices.others);
    if let Some((synonym, _)) = others.find(|(_, others)| others.contains(&&*lower)) {
        return Some(synonym);
    }
    let choices = choices.words;
    let mut holding = choices.iter().filter(|choice| holds_words(choice, &lower));
    match (holding.next(), holding.next()) {
        (Some(one), None) => Some(one),
        (Some(_), Some(_)) => None,
        (None, _) => nearest(word, choices.iter().copied()).or_else(|| within(&lower, choices)),
    }
}

/// `by strobe` for `strobe`
fn holds_words(choice: &str, words: &str) -> bool {
    words.len() > 2 && words.split(' ').all(|word| choice.split(' ').any(|part| part == word))
}

/// The one choice that is in what was written or begins it: `belt` for `belt drive`, `div` for `divisions`.
fn within(word: &str, choices: &'static [&'static str]) -> Option<&'static str> {
    let mut found =
        choices.iter().filter(|choice| word.starts_with(**choice) || word.split(' ').any(|w| w == **choice));
    let first = found.next()?;
    found.next().is_none().then_some(*first)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::syntax::Kind;
    use crate::vocabulary::machine::{Drive, Works};
    use crate::vocabulary::readout::{AngleDisplay, Shown};
    use crate::vocabulary::rotor::Rotation;
    use crate::vocabulary::{Choice, rotor};

    #[test]
    fn words_of_the_trade_lead_to_keys() {
        assert_eq!(key("weight", vocabulary::block(Kind::Rotor)), Some("mass"));
        assert_eq!(key("RPM", vocabulary::block(Kind::Setup)), Some("balancing speed"));
        assert_eq!(key("raduis", vocabulary::block(Kind::Plane)), Some("radius"));
        assert_eq!(key("colour", vocabulary::block(Kind::Plane)), None);
    }

    #[test]
    fn between_two_speeds_the_writer_chooses() {
        let meant = |word: &str, kind| -> Vec<&str> {
            either(word, vocabulary::block(kind)).iter().map(|key| key.name).collect()
        };
        assert_eq!(meant("max rpm", Kind::Rotor), ["highest service speed", "highest safe speed"]);
        assert_eq!(key("max rpm", vocabulary::block(Kind::Rotor)), None);
        assert_eq!(meant("rpm", Kind::Rotor), Vec::<&str>::new());
    }

    #[test]
    fn a_choice_is_proposed_only_where_one_alone_can_be_meant() {
        fn choice<C: Choice>(word: &str) -> Option<&'static str> {
            super::choice(word, C::CHOICES)
        }
        assert_eq!(choice::<Works>("resonance"), None);
        assert_eq!(choice::<Works>("abov resonance"), Some("above resonance"));
        assert_eq!(choice::<AngleDisplay>("strobe"), Some("by strobe"));
        assert_eq!(choice::<Drive>("belt drive"), Some("belt"));
        assert_eq!(choice::<Shown>("divisions"), Some("div"));
        assert_eq!(choice::<Rotation>("ccw from tail end"), Some("anticlockwise seen from tail end"));
        assert_eq!(choice::<Rotation>("clockwise"), None);
    }

    #[test]
    fn synonyms_are_in_small_letters_and_lead_to_one_fact_but_for_those_two_speeds() {
        for kind in Kind::ALL {
            for key in vocabulary::block(kind).keys {
                for other in key.others {
                    assert_eq!(*other, other.to_lowercase(), "{}", key.name);
                    for block in Kind::ALL.map(vocabulary::block) {
                        let meant = either(other, block);
                        let speed =
                            |key: &&KeySpec| key.is(rotor::HIGHEST_SERVICE_SPEED) || key.is(rotor::HIGHEST_SAFE_SPEED);
                        assert!(meant.iter().all(speed), "{other} in {}", block.kind);
                    }
                }
            }
        }
    }
}
